//! The short mark engraved on a part: a letter for its kind and three signs made from its dimensions.

use serde::Serialize;
use serde_json::Value;
use sha2::{Digest, Sha256};

/// Signs that are not taken for one another when engraved small: no 0, O, 1, I.
const SIGNS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
/// Signs after the letter.
const LENGTH: usize = 3;
/// Most signs: all that the hash gives.
const MOST: usize = 32;
/// Dimensions are rounded to this many parts of a millimetre before they are hashed.
const PARTS: f64 = 1e4;

/// The mark of a design: equal dimensions give equal marks.
///
/// Three signs tell 32,768 designs apart; within one kit two different parts of one letter share a mark with a
/// chance below one in a thousand: see [`distinct`].
pub fn mark<D: Serialize>(letter: char, design: &D) -> String {
    signed(letter, design, LENGTH)
}

/// Marks of the different designs of one letter: where two would be alike, the later gets more signs.
pub fn distinct<'a, D: Serialize + 'a>(letter: char, designs: impl Iterator<Item = &'a D>) -> Vec<String> {
    let mut marks: Vec<String> = Vec::new();
    for design in designs {
        let mut longer = (LENGTH..=MOST).map(|n| signed(letter, design, n));
        let free = longer.find(|mark| !marks.contains(mark));
        marks.push(free.unwrap_or_else(|| format!("{letter}{}", marks.len())));
    }
    marks
}

fn signed<D: Serialize>(letter: char, design: &D, length: usize) -> String {
    let mut value = serde_json::to_value(design).unwrap_or_default();
    round(&mut value);
    let hash = Sha256::digest(value.to_string().as_bytes());
    let signs = hash.iter().take(length).map(|byte| char::from(SIGNS[usize::from(byte % 32)]));
    std::iter::once(letter).chain(signs).collect()
}

fn round(value: &mut Value) {
    match value {
        Value::Number(n) => {
            if let Some(v) = n.as_f64() {
                *value = Value::from((v * PARTS).round() as i64);
            }
        }
        Value::Array(items) => items.iter_mut().for_each(round),
        Value::Object(fields) => fields.iter_mut().for_each(|(_, v)| round(v)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_follows_the_dimensions_and_not_the_rounding_noise() {
        assert_eq!(mark('B', &[1.0, 2.0]), mark('B', &[1.0 + 1e-9, 2.0]));
        assert_ne!(mark('B', &[1.0, 2.0]), mark('B', &[1.001, 2.0]));
        assert_eq!(mark('T', &[1.0]).len(), 4);
    }

    #[test]
    fn marks_within_one_kit_differ() {
        let designs: Vec<f64> = (0..2000).map(f64::from).collect();
        let marks = distinct('B', designs.iter());
        let short = marks.iter().filter(|m| m.len() == 1 + LENGTH).count();
        assert!(short > 1800 && short < 2000, "some of 2000 fall together: {short}");
        let set: std::collections::BTreeSet<_> = marks.iter().collect();
        assert_eq!(set.len(), marks.len());
    }
}

//! Marks and names of distinct parts.

use super::{Kind, mark};

/// Gives each kind its mark and name.
pub(super) fn finish<D: serde::Serialize>(kinds: &mut Vec<Kind<D>>, letter: char, name: &str, legs: usize) {
    let marks = mark::distinct(letter, kinds.iter().map(|kind| &kind.design));
    kinds.iter_mut().zip(marks).for_each(|(kind, mark)| kind.mark = mark);
    let named = std::mem::take(kinds).named(name, legs);
    *kinds = named;
}

/// Naming of a list of kinds.
trait Named {
    /// The plain name where there is one kind; else with the legs, and a letter where the legs are the same.
    fn named(self, name: &str, legs: usize) -> Self;
}

impl<D> Named for Vec<Kind<D>> {
    fn named(mut self, name: &str, legs: usize) -> Self {
        let several = self.len() > 1;
        let mut names: Vec<String> = Vec::new();
        for kind in &mut self {
            let numbers: Vec<String> = kind.legs.iter().map(ToString::to_string).collect();
            let whose = if !several {
                String::new()
            } else if kind.legs.len() == legs {
                " all legs".into()
            } else {
                format!(" {} {}", if numbers.len() == 1 { "leg" } else { "legs" }, numbers.join(" "))
            };
            kind.name = format!("{name}{whose}");
            let same = names.iter().filter(|n| **n == kind.name).count();
            names.push(kind.name.clone());
            if same > 0 {
                kind.name = format!("{} {}", kind.name, char::from(b'a' + same as u8));
            }
        }
        self
    }
}

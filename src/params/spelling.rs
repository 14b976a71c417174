//! Nearest spelling, and words quoted in messages.

use crate::problem::visible;

/// Longest text repeated in a message, characters.
const SHOWN: usize = 60;

/// Letters from which on the beginning of a word is taken for it.
const BEGUN: usize = 3;

/// The candidate that was probably meant: the one with the fewest slips of the finger, at most one
/// in three letters, else the first that begins with the word or contains it.
pub(super) fn nearest<'a>(word: &str, candidates: &[&'a str]) -> Option<&'a str> {
    let word = plain(word);
    if word.chars().count() > SHOWN {
        return None;
    }
    let slips = |candidate: &str| strsim::damerau_levenshtein(&word, &plain(candidate));
    let best = candidates.iter().min_by_key(|candidate| slips(candidate))?;
    let allowed = (word.chars().count() / 3).max(1);
    if slips(best) <= allowed {
        return Some(best);
    }
    let part = |candidate: &str| {
        let candidate = plain(candidate);
        candidate.split(' ').any(|part| part == word) || (word.chars().count() >= BEGUN && candidate.starts_with(&word))
    };
    candidates.iter().copied().find(|candidate| part(candidate))
}

/// Lower case, single blanks.
pub(super) fn plain(word: &str) -> String {
    word.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text in quotes, shortened where it is long, control characters made visible.
pub(super) fn quoted(text: &str) -> String {
    format!("\"{}\"", shortened(text))
}

/// The text, shortened where it is long, control characters made visible.
pub(super) fn shortened(text: &str) -> String {
    let mut shown = visible(&text.chars().take(SHOWN).collect::<String>());
    if text.chars().count() > SHOWN {
        shown.push_str("...");
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_finger_find_the_word() {
        assert_eq!(nearest("PEGT", &["ABS", "PETG", "PLA"]), Some("PETG"));
        assert_eq!(nearest("tubs", &["count", "tubes", "tube"]), Some("tubes"));
        assert_eq!(nearest("ash", &["beech", "white ash"]), Some("white ash"));
        assert_eq!(nearest("bond", &["ribs", "bonded"]), Some("bonded"));
        assert_eq!(nearest("granite", &["beech", "white ash"]), None);
        assert_eq!(nearest(&"x".repeat(1_000_000), &["beech"]), None);
    }

    #[test]
    fn long_and_odd_texts_are_shown_short() {
        assert_eq!(quoted("a\tb"), "\"a\u{fffd}b\"");
        assert_eq!(shortened(&"x".repeat(100)).len(), SHOWN + 3);
    }
}

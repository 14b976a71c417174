//! The verdict in words: one place for what the terminal, the sheets and the lists say.

use super::{Check, Checked, Verdict, making};

/// Utilisations above this are told as more than it (judgement: a hundred times the limit or a thousand, nobody acts
/// otherwise).
const MOST: f64 = 100.0;
/// From here on a utilisation within the limit reads 1.00.
const FULL: f64 = 0.995;

/// A utilisation for people, with two decimals.
#[must_use]
pub fn used(utilisation: f64) -> String {
    if utilisation <= MOST { format!("{utilisation:.2}") } else { format!("more than {MOST}") }
}

/// Whether a utilisation passes and reads 1.00: nothing is left.
pub(super) fn is_full(utilisation: f64) -> bool {
    (FULL..=1.0).contains(&utilisation)
}

/// What a worst check of this utilisation leaves, where it passes and leaves little; else empty.
#[must_use]
pub fn reserve(utilisation: f64) -> &'static str {
    match Verdict::of(utilisation) {
        Verdict::Tight if is_full(utilisation) => ", nothing left in reserve",
        Verdict::Tight => ", less than a fifth in reserve",
        Verdict::Adequate | Verdict::NotAdequate => "",
    }
}

impl Check {
    /// Where air is too hot for the plastic: which plastic, and its limit.
    #[must_use]
    pub fn too_hot(&self) -> Option<&str> {
        (self.name == making::HEAT && self.verdict() == Verdict::NotAdequate).then_some(self.case.as_str())
    }
}

impl Checked {
    /// The verdict with what governs it: `NOT ADEQUATE: worst check at 1.20 of its limit: ...`.
    #[must_use]
    pub fn headline(&self) -> String {
        let words = self.verdict().words().to_uppercase();
        let Some(c) = self.governing() else { return words };
        if let Some(why) = c.too_hot() {
            return format!("{words}: {why}");
        }
        let (used, when) = (used(c.utilisation()), c.when.word());
        format!("{words}: worst check at {used} of its limit: {}, {}, {when}", c.name, c.place)
    }

    /// What stands on every sheet and in every list of a table that is not adequate; empty for others.
    #[must_use]
    pub fn warning(&self) -> &'static str {
        match self.verdict() {
            Verdict::NotAdequate => "NOT ADEQUATE: read the report before you print, cut or drill.",
            Verdict::Adequate | Verdict::Tight => "",
        }
    }

    /// The verdict as the last column of a list.
    #[must_use]
    pub fn listed(&self) -> &'static str {
        if self.warning().is_empty() { self.verdict().words() } else { self.warning() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_figure_is_told_that_nobody_can_read() {
        let told = [0.5, 1.234, 100.0, 100.1, 1e9, f64::INFINITY, f64::NAN].map(used);
        let most = "more than 100";
        assert_eq!(told, ["0.50", "1.23", "100.00", most, most, most, most]);
    }

    #[test]
    fn a_cure_that_leaves_nothing_says_so() {
        assert_eq!(reserve(0.996), ", nothing left in reserve");
        assert_eq!(reserve(0.9), ", less than a fifth in reserve");
        assert_eq!((reserve(0.8), reserve(1.2)), ("", ""));
    }
}

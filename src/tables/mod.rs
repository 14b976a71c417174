//! Woods, tubes, filaments, fasteners: sorted constants, each row with its source.
//!
//! Everything is in N, mm, MPa, kg/m3 and degrees Celsius. Numbers printed in inches or pounds in their source are
//! converted in the constant itself, so the printed number stays readable.

pub mod bolt;
pub mod drill;
pub mod filament;
pub mod fractile;
mod metal;
pub mod moisture;
pub mod screw;
mod section;
mod text;
pub mod tube;
pub mod wood;

pub use section::Section;

use crate::units::{INCH, LBF, PSI};

/// Writes a table as plain text, at most 100 characters wide.
pub type Text = fn() -> String;

/// Tables that can be shown as plain text: name and what writes it.
pub const TABLES: &[(&str, Text)] = &[
    ("bolts", bolt::text),
    ("drills", drill::text),
    ("filaments", filament::text),
    ("metals", metal::text),
    ("moisture", moisture::text),
    ("screws", screw::text),
    ("tubes", tube::text),
    ("woods", wood::text),
];

/// Inches to mm.
pub(crate) const fn inch(x: f64) -> f64 {
    x * INCH
}

/// Pounds force to N.
pub(crate) const fn lbf(x: f64) -> f64 {
    x * LBF
}

/// Pounds per square inch to MPa.
pub(crate) const fn psi(x: f64) -> f64 {
    x * PSI
}

/// A name as it is compared: lower case, single blanks, hyphens as blanks.
pub(crate) fn key(name: &str) -> String {
    let plain = name.replace('-', " ").to_lowercase();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The row whose name equals `name` after [`key`].
fn find_in<T>(rows: &'static [T], name: &str, of: fn(&T) -> &str) -> Option<&'static T> {
    let wanted = key(name);
    rows.iter().find(|row| key(of(row)) == wanted)
}

/// `1.5`, `5/8`, `1 1/4`, with `mm` or `in` behind; none when it is no number.
fn number(text: &str) -> Option<f64> {
    let bare = text.trim_end_matches("mm").trim_end_matches("in").trim();
    let part = |word: &str| match word.split_once('/') {
        Some((n, d)) => Some(n.parse::<f64>().ok()? / d.parse::<f64>().ok()?),
        None => word.parse().ok(),
    };
    let parts = bare.split(' ').map(part).collect::<Option<Vec<f64>>>()?;
    Some(parts.iter().sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn psi_agrees_with_the_exact_definition() {
        // 1 psi = 6894.757293168 Pa (pound 0.45359237 kg, inch 25.4 mm, g 9.80665 m/s2); half of the last digit.
        assert!((psi(1e6) - 6_894.757_293_168).abs() < 5e-10 * 1e3);
    }

    #[test]
    fn names_are_compared_without_case_blanks_or_hyphens() {
        assert_eq!(key("  Yellow-Poplar "), "yellow poplar");
    }

    #[test]
    fn numbers_are_read_with_fractions() {
        let read = [("1.5", 1.5), ("5/8", 0.625), ("1 1/4 in", 1.25), (".065", 0.065), ("12 mm", 12.0)];
        assert!(read.iter().all(|(text, value)| number(text) == Some(*value)));
        assert!(["", "x", "1/", "1 /4", "in"].iter().all(|text| number(text).is_none()));
    }

    #[test]
    fn every_table_fits_the_page_and_lists_its_sources() {
        for (name, text) in TABLES {
            let shown = text();
            let widest = shown.lines().map(|line| line.chars().count()).max();
            assert!(widest <= Some(100), "{name} is {widest:?} wide");
            assert!(shown.contains("\n [1] "), "{name} lists no source");
            assert_eq!(shown, text(), "{name} is written the same each time");
        }
        assert!(TABLES.is_sorted_by_key(|(name, _)| *name));
    }
}

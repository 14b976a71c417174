//! Twist drills sold everywhere, in millimetres and in fractions of an inch.

use super::text::{Page, num};
use crate::source::{Clause, Source};

/// A stock twist drill.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drill {
    /// As stamped on the shank: `3.3 mm`, `7/64 in`.
    pub name: &'static str,
    /// Diameter, mm.
    pub diameter: f64,
}

/// Where the list of drills comes from.
pub const SOURCE: Clause =
    Source { title: "twist drills in shop sets", edition: "", standing: crate::source::Standing::CommonPractice }
        .at("0.5 mm steps with the tap drills of M3 to M10; 1/64 in steps");

const fn mm(name: &'static str, diameter: f64) -> Drill {
    Drill { name, diameter }
}

const fn sixty_fourths(name: &'static str, n: u32) -> Drill {
    Drill { name, diameter: n as f64 / 64.0 * crate::units::INCH }
}

/// Metric drills by diameter: half millimetre steps and the tap drills between them.
#[rustfmt::skip]
pub const METRIC: &[Drill] = &[
    mm("1 mm", 1.0), mm("1.5 mm", 1.5), mm("2 mm", 2.0), mm("2.5 mm", 2.5), mm("3 mm", 3.0), mm("3.2 mm", 3.2),
    mm("3.3 mm", 3.3), mm("3.5 mm", 3.5), mm("4 mm", 4.0), mm("4.2 mm", 4.2), mm("4.5 mm", 4.5), mm("5 mm", 5.0),
    mm("5.5 mm", 5.5), mm("6 mm", 6.0), mm("6.5 mm", 6.5), mm("6.8 mm", 6.8), mm("7 mm", 7.0), mm("7.5 mm", 7.5),
    mm("8 mm", 8.0), mm("8.5 mm", 8.5), mm("9 mm", 9.0), mm("9.5 mm", 9.5), mm("10 mm", 10.0), mm("10.5 mm", 10.5),
    mm("11 mm", 11.0), mm("11.5 mm", 11.5), mm("12 mm", 12.0), mm("12.5 mm", 12.5), mm("13 mm", 13.0),
];

/// Inch drills by diameter, 1/16 to 1/2 in.
#[rustfmt::skip]
pub const FRACTIONS: &[Drill] = &[
    sixty_fourths("1/16 in", 4), sixty_fourths("5/64 in", 5), sixty_fourths("3/32 in", 6), sixty_fourths("7/64 in", 7),
    sixty_fourths("1/8 in", 8), sixty_fourths("9/64 in", 9), sixty_fourths("5/32 in", 10), sixty_fourths("11/64 in",
        11),
    sixty_fourths("3/16 in", 12), sixty_fourths("13/64 in", 13), sixty_fourths("7/32 in", 14),
        sixty_fourths("15/64 in", 15),
    sixty_fourths("1/4 in", 16), sixty_fourths("17/64 in", 17), sixty_fourths("9/32 in", 18), sixty_fourths("19/64 in",
        19),
    sixty_fourths("5/16 in", 20), sixty_fourths("21/64 in", 21), sixty_fourths("11/32 in", 22),
        sixty_fourths("23/64 in", 23),
    sixty_fourths("3/8 in", 24), sixty_fourths("25/64 in", 25), sixty_fourths("13/32 in", 26),
        sixty_fourths("27/64 in", 27),
    sixty_fourths("7/16 in", 28), sixty_fourths("29/64 in", 29), sixty_fourths("15/32 in", 30),
        sixty_fourths("31/64 in", 31),
    sixty_fourths("1/2 in", 32),
];

/// The metric drill nearest to `diameter` mm; of two equally near the smaller.
#[must_use]
pub fn nearest_mm(diameter: f64) -> &'static Drill {
    nearest(METRIC, diameter)
}

/// The inch drill nearest to `diameter` mm; of two equally near the smaller.
#[must_use]
pub fn nearest_inch(diameter: f64) -> &'static Drill {
    nearest(FRACTIONS, diameter)
}

fn nearest(drills: &'static [Drill], diameter: f64) -> &'static Drill {
    let off = |drill: &Drill| (drill.diameter - diameter).abs();
    drills.iter().fold(&drills[0], |best, drill| if off(drill) < off(best) { drill } else { best })
}

/// The table for reading.
pub(super) fn text() -> String {
    let mut page = Page::new("Twist drills", &["metric", "nearest\ninch", "diameter\nmm"]);
    for drill in METRIC {
        let inch = nearest_inch(drill.diameter);
        page.row(vec![drill.name.into(), inch.name.into(), num(inch.diameter, 3)]);
    }
    page.cite(&[SOURCE]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drills_are_in_order_of_diameter() {
        for drills in [METRIC, FRACTIONS] {
            assert!(drills.is_sorted_by(|a, b| a.diameter < b.diameter));
        }
    }

    #[test]
    fn names_say_the_diameter() {
        for drill in METRIC {
            assert_eq!(drill.name, format!("{} mm", drill.diameter));
        }
        for drill in FRACTIONS {
            let (n, d) = drill.name.trim_end_matches(" in").split_once('/').expect("a fraction");
            let value: f64 = n.parse::<f64>().expect("digits") / d.parse::<f64>().expect("digits") * 25.4;
            assert!((value - drill.diameter).abs() < 1e-12, "{}", drill.name);
        }
    }

    #[test]
    fn the_nearest_is_found() {
        assert_eq!(nearest_mm(3.26).name, "3.3 mm");
        assert_eq!(nearest_mm(2.25).name, "2 mm", "equally near: the smaller");
        assert_eq!(nearest_mm(0.2).name, "1 mm");
        assert_eq!(nearest_inch(2.9).name, "7/64 in");
    }
}

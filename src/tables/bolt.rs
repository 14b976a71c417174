//! Metric bolts with their nuts, washers and clearance holes.

use super::text::{Page, num};
use super::{find_in, key};
use crate::source::{Clause, Source};

/// A metric thread with what belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bolt {
    /// `M8`.
    pub name: &'static str,
    /// Nominal diameter, mm.
    pub diameter: f64,
    /// Pitch of the coarse thread, mm.
    pub pitch: f64,
    /// Tensile stress area, mm2.
    pub stress_area: f64,
    /// Close clearance hole, mm.
    pub hole_close: f64,
    /// Medium clearance hole, mm.
    pub hole_medium: f64,
    /// Tap drill, mm.
    pub tap: f64,
    /// Width across flats of the hexagon head, mm.
    pub head_flats: f64,
    /// Height of the hexagon head, mm.
    pub head_height: f64,
    /// Nut: width across flats, largest, mm.
    pub nut_flats: f64,
    /// Nut: height, largest, mm.
    pub nut_height: f64,
    /// Nut: width across corners, smallest, mm.
    pub nut_corners: f64,
    /// Washer: outside diameter, mm.
    pub washer_outside: f64,
    /// Washer: thickness, mm.
    pub washer_thickness: f64,
    /// Lengths sold, mm.
    pub lengths: &'static [f64],
}

impl Bolt {
    /// The shortest length sold that is at least `least` mm.
    #[must_use]
    pub fn length_at_least(&self, least: f64) -> Option<f64> {
        self.lengths.iter().copied().find(|&length| length >= least)
    }
}

/// Where the clearance holes come from.
pub const HOLES: Clause = Source::from_memory("ISO 273", "1979").at("close and medium series");
/// Where pitch and stress area come from.
pub const THREADS: Clause =
    Source::from_memory("ISO 898-1", "2013").at("Table 4: stress area A_s = pi/4 (d - 0.9382 P)^2");
/// Where the heads come from.
pub const HEADS: Clause = Source::from_memory("ISO 4017", "2014").at("hexagon head");
/// Where the nuts come from.
pub const NUTS: Clause = Source::read("ISO 4032", "BS EN ISO 4032:2001").at("Table 1");
/// Where the washers come from.
pub const WASHERS: Clause = Source::from_memory("ISO 7089", "2000").at("Table 1");
/// Where the lengths come from.
pub const LENGTHS: Clause =
    Source { title: "bolts on shop shelves", edition: "", standing: crate::source::Standing::CommonPractice }
        .at("lengths");

/// A strength class of bolts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Class {
    /// `8.8`, `A2-70`.
    pub name: &'static str,
    /// Tensile strength f_ub, MPa.
    pub tensile: f64,
    /// Yield strength f_yb, MPa.
    pub yield_strength: f64,
    /// Where the strengths come from.
    pub source: Clause,
}

const CLASS_SOURCE: Clause =
    Source::from_memory("ISO 898-1", "2013").at("property class: digits give strength and yield ratio");
const STAINLESS: Clause = Source::from_memory("ISO 3506-1", "2009").at("A2-70");

/// Strength classes, sorted by name.
pub const CLASSES: &[Class] = &[
    Class { name: "4.6", tensile: 400.0, yield_strength: 240.0, source: CLASS_SOURCE },
    Class { name: "5.8", tensile: 500.0, yield_strength: 400.0, source: CLASS_SOURCE },
    Class { name: "8.8", tensile: 800.0, yield_strength: 640.0, source: CLASS_SOURCE },
    Class { name: "A2-70", tensile: 700.0, yield_strength: 450.0, source: STAINLESS },
];

/// The class called `name`.
#[must_use]
pub fn class(name: &str) -> Option<&'static Class> {
    find_in(CLASSES, name, |class| class.name)
}

/// The thread called `name`: `M8`, `m8`, `8`.
#[must_use]
pub fn find(name: &str) -> Option<&'static Bolt> {
    let text = key(name);
    let number = text.strip_prefix('m').unwrap_or(&text).trim();
    ALL.iter().find(|bolt| bolt.name[1..] == *number)
}

/// All rows, by diameter.
#[rustfmt::skip]
pub const ALL: &[Bolt] = &[
    Bolt { name: "M3", diameter: 3.0, pitch: 0.5, stress_area: 5.03, hole_close: 3.2, hole_medium: 3.4, tap: 2.5,
        head_flats: 5.5, head_height: 2.0,
        nut_flats: 5.5, nut_height: 2.4, nut_corners: 6.01, washer_outside: 7.0, washer_thickness: 0.5,
        lengths: &[6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0] },
    Bolt { name: "M4", diameter: 4.0, pitch: 0.7, stress_area: 8.78, hole_close: 4.3, hole_medium: 4.5, tap: 3.3,
        head_flats: 7.0, head_height: 2.8,
        nut_flats: 7.0, nut_height: 3.2, nut_corners: 7.66, washer_outside: 9.0, washer_thickness: 0.8,
        lengths: &[8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0] },
    Bolt { name: "M5", diameter: 5.0, pitch: 0.8, stress_area: 14.2, hole_close: 5.3, hole_medium: 5.5, tap: 4.2,
        head_flats: 8.0, head_height: 3.5,
        nut_flats: 8.0, nut_height: 4.7, nut_corners: 8.79, washer_outside: 10.0, washer_thickness: 1.0,
        lengths: &[10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0] },
    Bolt { name: "M6", diameter: 6.0, pitch: 1.0, stress_area: 20.1, hole_close: 6.4, hole_medium: 6.6, tap: 5.0,
        head_flats: 10.0, head_height: 4.0,
        nut_flats: 10.0, nut_height: 5.2, nut_corners: 11.05, washer_outside: 12.0, washer_thickness: 1.6,
        lengths: &[10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0] },
    Bolt { name: "M8", diameter: 8.0, pitch: 1.25, stress_area: 36.6, hole_close: 8.4, hole_medium: 9.0, tap: 6.8,
        head_flats: 13.0, head_height: 5.3,
        nut_flats: 13.0, nut_height: 6.8, nut_corners: 14.38, washer_outside: 16.0, washer_thickness: 1.6,
        lengths: &[16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0] },
    Bolt { name: "M10", diameter: 10.0, pitch: 1.5, stress_area: 58.0, hole_close: 10.5, hole_medium: 11.0, tap: 8.5,
        head_flats: 16.0, head_height: 6.4,
        nut_flats: 16.0, nut_height: 8.4, nut_corners: 17.77, washer_outside: 20.0, washer_thickness: 2.0,
        lengths: &[20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 120.0] },
    Bolt { name: "M12", diameter: 12.0, pitch: 1.75, stress_area: 84.3, hole_close: 13.0, hole_medium: 13.5, tap: 10.2,
        head_flats: 18.0, head_height: 7.5,
        nut_flats: 18.0, nut_height: 10.8, nut_corners: 20.03, washer_outside: 24.0, washer_thickness: 2.5,
        lengths: &[25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 120.0] },
];

/// The table for reading.
pub(super) fn text() -> String {
    let heads = [
        "bolt",
        "pitch\nmm",
        "A_s\nmm2",
        "hole\nclose",
        "hole\nmedium",
        "tap\nmm",
        "head\nflats",
        "head\nheight",
        "nut\nflats",
        "nut\nheight",
        "washer\nmm",
        "lengths\nmm",
    ];
    let mut page = Page::new("Metric bolts, nuts and washers, mm", &heads);
    for b in ALL {
        let numbers = [b.hole_close, b.hole_medium, b.tap, b.head_flats, b.head_height, b.nut_flats, b.nut_height];
        let mut cells = vec![b.name.to_owned(), num(b.pitch, 2), num(b.stress_area, 2)];
        cells.extend(numbers.map(|x| num(x, 1)));
        cells.push(format!("{}x{}", b.washer_outside, b.washer_thickness));
        cells.push(b.lengths.first().zip(b.lengths.last()).map(|(a, z)| format!("{a}-{z}")).unwrap_or_default());
        page.row(cells);
    }
    page.note("Strength classes, MPa (tensile / yield): 4.6 400 / 240, 5.8 500 / 400, 8.8 800 / 640, A2-70 700 / 450.");
    page.cite(&[THREADS, HOLES, HEADS, NUTS, WASHERS, LENGTHS, CLASS_SOURCE, STAINLESS]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str) -> &'static Bolt {
        find(name).unwrap_or_else(|| panic!("{name} is missing"))
    }

    #[test]
    fn rows_are_in_order_and_found_by_name() {
        assert!(ALL.is_sorted_by(|a, b| a.diameter < b.diameter));
        assert!(ALL.iter().all(|b| find(b.name) == Some(b) && find(&b.name[1..]) == Some(b)));
        assert_eq!(find("M7"), None);
        assert_eq!(find(""), None);
        assert!(CLASSES.is_sorted_by(|a, b| a.name < b.name));
        assert_eq!(class("a2-70").map(|c| c.tensile), Some(700.0));
    }

    #[test]
    fn every_row_is_physically_sensible() {
        for b in ALL {
            assert!(b.diameter < b.hole_close && b.hole_close < b.hole_medium, "{}", b.name);
            assert!((b.tap - (b.diameter - b.pitch)).abs() <= 0.05 + 1e-9, "{}", b.name);
            let corners = b.nut_flats * 2.0 / 3.0_f64.sqrt();
            assert!(b.nut_corners < corners && b.nut_corners > 0.94 * corners, "{}", b.name);
            assert!(b.washer_outside > b.nut_flats && b.head_flats == b.nut_flats, "{}", b.name);
            assert!(b.lengths.is_sorted_by(|a, z| a < z), "{}", b.name);
        }
        assert!(CLASSES.iter().all(|c| c.yield_strength < c.tensile));
    }

    #[test]
    fn stress_areas_follow_the_formula() {
        // ISO 898-1: A_s = pi/4 (d - 0.9382 P)^2, printed to three significant digits.
        for b in ALL {
            let area = std::f64::consts::FRAC_PI_4 * (b.diameter - 0.9382 * b.pitch).powi(2);
            let half = if b.stress_area < 10.0 { 0.005 } else { 0.05 };
            assert!((area - b.stress_area).abs() <= half, "{}: {area}", b.name);
        }
    }

    #[test]
    fn nuts_have_the_heights_of_the_standard_and_not_the_older_ones() {
        // ISO 4032 Table 1, m max; the withdrawn DIN 934 had 4.0, 5.0, 6.5, 8.0, 10.0 for M5 to M12.
        let printed = [("M3", 2.4), ("M4", 3.2), ("M5", 4.7), ("M6", 5.2), ("M8", 6.8), ("M10", 8.4), ("M12", 10.8)];
        for (name, height) in printed {
            assert_eq!(row(name).nut_height, height, "{name}");
        }
    }

    #[test]
    fn lengths_are_chosen_upwards() {
        assert_eq!(row("M4").length_at_least(26.0), Some(30.0));
        assert_eq!(row("M4").length_at_least(61.0), None);
    }
}

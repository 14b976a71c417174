//! Tubes: the sizes sold, what a measured diameter may be, and the next size up.

use super::text::{Page, num};
use super::{inch, key, number};
use crate::source::{Clause, Source, Standing};
use crate::units::INCH;

pub use super::metal::{METALS, Metal, find, names};
pub use super::section::{SECTION_SOURCE, Section};

/// A family of tubes sold under one rule of sizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum System {
    /// Metric precision steel tube.
    Precision,
    /// Structural hollow section on the pipe diameters.
    Structural,
    /// Tube sold by outside diameter in inches.
    Inch,
    /// Electrical metallic tubing, sold by a trade size that is none of its diameters.
    Emt,
}

impl System {
    /// The words shown after a size.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Precision => "precision tube",
            Self::Structural => "hollow section",
            Self::Inch => "inch tube",
            Self::Emt => "electrical tubing",
        }
    }

    /// Where the sizes of this family come from.
    #[must_use]
    pub const fn source(self) -> Clause {
        match self {
            Self::Precision => {
                Source::from_memory("EN 10305-1", "2016").at("preferred sizes; outside diameter within 0.08 to 0.15 mm")
            }
            Self::Structural => {
                Source::read("EN 10219-2", "2006").at("outside diameters and walls, as a maker's table reprints them")
            }
            Self::Inch => {
                Source { title: "tube sold by fractions of an inch", edition: "", standing: Standing::CommonPractice }
                    .at("Birmingham gauge walls")
            }
            Self::Emt => Source::read("ANSI C80.3 and UL 797", "")
                .at("outside diameter and wall by trade size, as sellers' pages reprint them"),
        }
    }
}

/// A tube sold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Family.
    pub system: System,
    /// Diameter as the trade writes it: `16`, `1 1/4`; a trade size for electrical tubing.
    pub trade: &'static str,
    /// Outside diameter, mm.
    pub outside: f64,
    /// Wall thickness, mm.
    pub wall: f64,
}

impl Size {
    /// How to ask for it: `16 x 1.5 mm`, `5/8 x 0.065 in`, `1/2 EMT`.
    #[must_use]
    pub fn designation(&self) -> String {
        match self.system {
            System::Precision | System::Structural => format!("{} x {} mm", self.trade, self.wall),
            System::Inch => format!("{} x {:.3} in", self.trade, self.wall / INCH),
            System::Emt => format!("{} EMT", self.trade),
        }
    }

    /// The section.
    #[must_use]
    pub const fn section(&self) -> Section {
        Section { outside: self.outside, wall: self.wall }
    }
}

/// A diameter with the walls it is sold in.
struct Series(System, &'static str, f64, &'static [f64]);

const THIN: &[f64] = &[1.0, 1.5, 2.0];
const SMALL: &[f64] = &[1.0, 1.5, 2.0, 2.5];
const FULL: &[f64] = &[1.0, 1.5, 2.0, 2.5, 3.0];
const INCH_SMALL: &[f64] = &[inch(0.035), inch(0.049), inch(0.065), inch(0.083)];
const INCH_FULL: &[f64] = &[inch(0.035), inch(0.049), inch(0.065), inch(0.083), inch(0.120)];

/// Diameters by system, then by size.
#[rustfmt::skip]
const SERIES: &[Series] = &[
    Series(System::Precision, "10", 10.0, THIN), Series(System::Precision, "12", 12.0, SMALL),
        Series(System::Precision, "14", 14.0, SMALL),
    Series(System::Precision, "15", 15.0, FULL), Series(System::Precision, "16", 16.0, FULL), Series(System::Precision,
        "18", 18.0, FULL),
    Series(System::Precision, "20", 20.0, FULL), Series(System::Precision, "22", 22.0, FULL), Series(System::Precision,
        "25", 25.0, FULL),
    Series(System::Precision, "28", 28.0, FULL), Series(System::Precision, "30", 30.0, FULL), Series(System::Precision,
        "32", 32.0, FULL),
    Series(System::Precision, "35", 35.0, FULL), Series(System::Precision, "38", 38.0, FULL), Series(System::Precision,
        "40", 40.0, FULL),
    Series(System::Structural, "21.3", 21.3, &[2.0, 2.3, 2.6, 3.2]),
    Series(System::Structural, "26.9", 26.9, &[2.0, 2.3, 2.5, 2.6, 3.2]),
    Series(System::Structural, "33.7", 33.7, &[2.0, 2.5, 2.6, 3.2, 4.0]),
    Series(System::Structural, "42.4", 42.4, &[2.0, 2.5, 2.6, 3.0, 3.2, 4.0]),
    Series(System::Structural, "48.3", 48.3, &[2.5, 2.6, 3.0, 3.2, 4.0]),
    Series(System::Structural, "60.3", 60.3, &[2.6, 3.0, 3.2, 4.0]),
    Series(System::Inch, "1/2", inch(0.5), INCH_SMALL), Series(System::Inch, "5/8", inch(0.625), INCH_SMALL),
    Series(System::Inch, "3/4", inch(0.75), INCH_FULL), Series(System::Inch, "7/8", inch(0.875), INCH_FULL),
    Series(System::Inch, "1", inch(1.0), INCH_FULL), Series(System::Inch, "1 1/4", inch(1.25), INCH_FULL),
    Series(System::Inch, "1 1/2", inch(1.5), INCH_FULL),
    Series(System::Emt, "1/2", inch(0.706), &[inch(0.042)]), Series(System::Emt, "3/4", inch(0.922), &[inch(0.049)]),
    Series(System::Emt, "1", inch(1.163), &[inch(0.057)]), Series(System::Emt, "1 1/4", inch(1.510), &[inch(0.065)]),
    Series(System::Emt, "1 1/2", inch(1.740), &[inch(0.065)]), Series(System::Emt, "2", inch(2.197), &[inch(0.065)]),
];

/// Birmingham gauge walls: gauge number and wall in inches.
#[rustfmt::skip]
const GAUGES: &[(u32, f64)] = &[
    (10, 0.134), (11, 0.120), (12, 0.109), (13, 0.095), (14, 0.083), (15, 0.072), (16, 0.065), (17, 0.058), (18, 0.049),
    (19, 0.042), (20, 0.035),
];
/// Where the gauge walls come from.
pub const GAUGE_SOURCE: Clause =
    Source::from_memory("Birmingham wire gauge", "").at("10 to 20 gauge, as used for tube walls");

/// Wall of a tube of `gauge`, mm, by the Birmingham gauge that tube uses; 10 to 20 only. Sheet gauges differ.
#[must_use]
pub fn gauge_wall(gauge: u32) -> Option<f64> {
    GAUGES.iter().find(|(number, _)| *number == gauge).map(|(_, wall)| inch(*wall))
}

/// Every size sold: by system, outside diameter, wall.
pub fn sizes() -> impl Iterator<Item = Size> {
    let one = |&Series(system, trade, outside, walls): &'static Series| {
        walls.iter().map(move |&wall| Size { system, trade, outside, wall })
    };
    SERIES.iter().flat_map(one)
}

/// Two diameters or walls are the same size when they are this close, mm: a third of the finest step between walls
/// sold.
const SAME: f64 = 0.03;

/// The size called `designation`: `16 x 1.5 mm`, `16x1.5`, `1/2" x .065"`, `5/8 x 16 ga`, `1/2 EMT`.
#[must_use]
pub fn find_size(designation: &str) -> Option<Size> {
    let text = designation.trim().to_lowercase();
    let words = |s: &str| key(&s.replace('"', " "));
    if let Some(trade) = text.strip_prefix("emt").or_else(|| text.strip_suffix("emt")) {
        let trade = words(trade).trim_end_matches(" in").to_owned();
        return sizes().find(|size| size.system == System::Emt && size.trade == trade);
    }
    let (outside, wall) = text.split_once('x')?;
    if [outside, wall].iter().any(|part| part.trim_start().starts_with('-')) {
        return None;
    }
    let inches = text.contains(['"', '/']) || text.contains("in") || text.contains("ga");
    let unit = if inches { INCH } else { 1.0 };
    let outside = number(&words(outside))? * unit;
    let wall = wall_in(&words(wall), unit)?;
    let fits = |size: &Size| {
        (size.system == System::Inch) == inches
            && (size.outside - outside).abs() < SAME
            && (size.wall - wall).abs() < SAME
    };
    sizes().filter(|size| size.system != System::Emt).find(fits)
}

/// A wall such as `1.5 mm`, `.065 in`, `16 ga`, mm.
fn wall_in(text: &str, unit: f64) -> Option<f64> {
    match text.split_once("ga") {
        Some((gauge, _)) => gauge.trim().parse().ok().and_then(gauge_wall),
        None => number(text).map(|x| x * unit),
    }
}

/// Sizes by how near their outside diameter is to `outside` mm, nearest first; one per system and diameter, with the
/// thinnest wall sold.
#[must_use]
pub fn nearest_sizes(outside: f64) -> Vec<Size> {
    let mut list: Vec<Size> = sizes().collect();
    list.dedup_by(|b, a| a.system == b.system && a.trade == b.trade);
    list.sort_by(|a, b| (a.outside - outside).abs().total_cmp(&(b.outside - outside).abs()));
    list
}

/// A measured diameter is taken for a size when it is this close, mm: tolerance on the diameter (0.15 mm), a coat of
/// paint or zinc (0.1 mm on the diameter) and a caliper held a little askew.
pub const LOOKS_LIKE: f64 = 0.35;

/// What a measured outside diameter may be: sizes within [`LOOKS_LIKE`], nearest first. `17.9` gives `1/2 EMT`, then
/// 18 mm precision tube.
#[must_use]
pub fn systems_near(outside: f64) -> Vec<Size> {
    let mut list = nearest_sizes(outside);
    list.retain(|size| (size.outside - outside).abs() <= LOOKS_LIKE);
    list
}

/// The same diameter in the next thicker wall sold.
#[must_use]
pub fn thicker(size: &Size) -> Option<Size> {
    sizes().find(|s| s.system == size.system && (s.outside - size.outside).abs() < SAME && s.wall > size.wall + SAME)
}

/// The next larger diameter of the same system, in the thinnest wall sold that is not thinner.
#[must_use]
pub fn larger(size: &Size) -> Option<Size> {
    let bigger = |s: &Size| s.system == size.system && s.outside > size.outside + SAME;
    sizes().find(|s| bigger(s) && s.wall >= size.wall - SAME)
}

/// Density of steel, for the column of masses, kg/m3.
const STEEL_DENSITY: f64 = 7_850.0;

/// The sizes for reading, with the section of each.
pub(super) fn text() -> String {
    let heads = [
        "tube",
        "outside\nmm",
        "wall\nmm",
        "A\nmm2",
        "I\nmm4",
        "W_el\nmm3",
        "W_pl\nmm3",
        "steel\nkg/m",
        "family",
        "source",
    ];
    let mut page = Page::new("Tubes sold", &heads);
    for size in sizes() {
        let (s, source) = (size.section(), page.cite(&[size.system.source()]));
        let mut cells = vec![size.designation(), num(size.outside, 2), num(size.wall, 2), num(s.area(), 1)];
        cells.extend([s.inertia(), s.elastic_modulus(), s.plastic_modulus()].map(|x| num(x, 0)));
        cells.extend([num(s.mass_per_metre(STEEL_DENSITY), 2), size.system.words().to_owned(), source]);
        page.row(cells);
    }
    page.note(
        "Gauge walls of tube (Birmingham), in: 10 .134, 11 .120, 12 .109, 13 .095, 14 .083, 15 .072, 16 .065, \
               17 .058, 18 .049, 19 .042, 20 .035.",
    );
    page.cite(&[GAUGE_SOURCE, SECTION_SOURCE]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(designation: &str) -> Size {
        find_size(designation).unwrap_or_else(|| panic!("{designation} is missing"))
    }

    #[test]
    fn electrical_tubing_has_the_derived_sections() {
        // D values evaluated by a separate script (cm2, cm4); half of the last digit.
        let rows = [("1/2 EMT", 0.565, 0.202), ("3/4 EMT", 0.867, 0.535), ("1 EMT", 1.278, 1.264)];
        for (name, area, inertia) in rows {
            let s = size(name).section();
            assert!((s.area() / 1e2 - area).abs() <= 0.000_5, "{name}");
            assert!((s.inertia() / 1e4 - inertia).abs() <= 0.000_5, "{name}");
        }
        // 3/4: inside diameter 0.824 in.
        assert!((size("3/4 EMT").section().inside() / INCH - 0.824).abs() < 0.000_5);
    }

    #[test]
    fn sizes_are_sorted_and_each_is_found_by_its_designation() {
        let all: Vec<Size> = sizes().collect();
        assert!(all.is_sorted_by(|a, b| {
            (a.system, a.outside)
                .partial_cmp(&(b.system, b.outside))
                .is_some_and(|o| o.then(a.wall.total_cmp(&b.wall)).is_lt())
        }));
        for s in all {
            assert_eq!(find_size(&s.designation()), Some(s), "{}", s.designation());
            assert!(s.wall * 2.0 < s.outside * 0.55, "{} is nearly solid", s.designation());
        }
    }

    #[test]
    fn designations_are_read_as_people_write_them() {
        assert_eq!(size("16x1.5").designation(), "16 x 1.5 mm");
        assert_eq!(size("5/8\" x .065\"").designation(), "5/8 x 0.065 in");
        assert_eq!(size("1-1/4 in x 16 ga").designation(), "1 1/4 x 0.065 in");
        assert_eq!(size("3/4\" EMT").outside, inch(0.922));
        for wrong in ["", "16", "16 x", "17 x 1.5", "16 x 9", "16 x -1.5", "9/16 EMT", "x", "1/0 x 1/0"] {
            assert_eq!(find_size(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn a_measured_diameter_names_what_it_may_be() {
        let near: Vec<String> = systems_near(17.9).iter().map(Size::designation).collect();
        assert_eq!(near, ["1/2 EMT", "18 x 1 mm"]);
        let near: Vec<String> = systems_near(25.3).iter().map(Size::designation).collect();
        assert_eq!(near, ["1 x 0.035 in", "25 x 1 mm"]);
        assert!(systems_near(36.5).is_empty());
        assert_eq!(nearest_sizes(36.5).len(), SERIES.len());
        assert_eq!(nearest_sizes(36.5)[0].trade, "35");
    }

    #[test]
    fn gauges_fall_as_numbers_rise() {
        assert!(GAUGES.is_sorted_by(|a, b| a.0 < b.0 && a.1 > b.1));
        assert_eq!(gauge_wall(16), Some(inch(0.065)));
        assert_eq!(gauge_wall(9), None);
    }
}

//! Tubes: the metals, the sizes sold, and the properties of a round hollow section.

use std::f64::consts::PI;

use super::text::{Page, num};
use super::{INCH, find_in, inch, key, number};
use crate::source::{Clause, Source, Standing};

/// A tube metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metal {
    /// Name as written in the parameter file.
    pub name: &'static str,
    /// Modulus of elasticity, MPa.
    pub e: f64,
    /// Shear modulus, MPa.
    pub g: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Density, kg/m3.
    pub density: f64,
    /// Yield strength or 0.2 % proof strength, MPa, for walls up to 5 mm.
    pub yield_strength: f64,
    /// Tensile strength, MPa.
    pub ultimate: f64,
    /// Imperfection factor alpha of the column curve.
    pub imperfection: f64,
    /// Slenderness up to which a column does not buckle.
    pub plateau: f64,
    /// What to know before relying on the row; empty when nothing.
    pub note: &'static str,
    /// Where the elastic constants and strength come from.
    pub source: Clause,
    /// Where the column curve comes from.
    pub curve_source: Clause,
}

impl Metal {
    /// Reduction for buckling at relative slenderness `slenderness = sqrt(A f_y / N_cr)`, 0 to 1.
    ///
    /// phi = (1 + alpha (l - l_0) + l^2) / 2; chi = 1 / (phi + sqrt(phi^2 - l^2)) <= 1.
    /// Source: EN 1993-1-1 6.3.1.2, eq. 6.49; EN 1993-1-4 and EN 1999-1-1 use the same form with their own constants.
    #[must_use]
    pub fn buckling_reduction(&self, slenderness: f64) -> f64 {
        reduction(self.imperfection, self.plateau, slenderness)
    }
}

/// The column curve with its two constants.
fn reduction(alpha: f64, plateau: f64, slenderness: f64) -> f64 {
    if slenderness <= plateau {
        return 1.0;
    }
    let phi = 0.5 * (1.0 + alpha * (slenderness - plateau) + slenderness * slenderness);
    (1.0 / (phi + (phi * phi - slenderness * slenderness).sqrt())).min(1.0)
}

const EC3: Source = Source::read("EN 1993-1-1", "2005");
const EC3_MEMORY: Source = Source::from_memory("EN 1993-1-1", "2005");
const CURVE_C: Clause = EC3_MEMORY.at("Tables 6.1 and 6.2: cold formed hollow section, curve c, alpha 0.49");
const EC9: Source = Source::from_memory("EN 1999-1-1", "2007");
const CLASS_A: Clause = EC9.at("Table 6.6: buckling class A without welds, alpha 0.20, plateau 0.10");
const STAINLESS: Source = Source::from_memory("EN 1993-1-4", "2006");

const STEEL: Metal = Metal {
    name: "",
    e: 210_000.0,
    g: 81_000.0,
    poisson: 0.3,
    density: 7_850.0,
    yield_strength: 0.0,
    ultimate: 0.0,
    imperfection: 0.49,
    plateau: 0.2,
    note: "",
    source: EC3.at("3.2.6 and Table 3.1"),
    curve_source: CURVE_C,
};

const ALUMINIUM: Metal = Metal {
    e: 70_000.0,
    g: 27_000.0,
    density: 2_700.0,
    imperfection: 0.20,
    plateau: 0.10,
    source: EC9.at("3.2.5 and Table 3.2b"),
    curve_source: CLASS_A,
    ..STEEL
};

/// Metals, sorted by name.
#[rustfmt::skip]
pub const METALS: &[Metal] = &[
    Metal { name: "aluminium 6060-T6", yield_strength: 140.0, ultimate: 170.0,
        note: "Heat of welding or baking takes about half of the strength; no endurance limit.", ..ALUMINIUM },
    Metal { name: "aluminium 6061-T6", yield_strength: 240.0, ultimate: 260.0,
        note: "Heat of welding or baking takes about half of the strength; no endurance limit.", ..ALUMINIUM },
    Metal { name: "EMT steel", yield_strength: 207.0, ultimate: 310.0,
        note: "Electrical tubing has no specified yield strength: 30,000 psi is what such strip usually has.",
        source: Source::from_memory("usual properties of thin electrical metallic tubing", "").at("yield not specified, typically 30,000 psi or more"), ..STEEL },
    Metal { name: "mild steel", yield_strength: 205.0, ultimate: 310.0,
        note: "Tube of unknown grade: counted as low as welded low-carbon tube is sold.",
        source: Source::JUDGEMENT.at("tube of unknown grade: low end of welded low-carbon tube; elastic constants as EN 1993-1-1 3.2.6"), ..STEEL },
    Metal { name: "stainless 1.4301", e: 200_000.0, g: 76_900.0, density: 7_900.0, yield_strength: 210.0, ultimate: 520.0, plateau: 0.40,
        note: "No sharp yield: stiffness already falls below the proof strength.",
        source: STAINLESS.at("2.1.3 and Table 2.1"), curve_source: STAINLESS.at("Table 5.3: cold formed hollow section, alpha 0.49, plateau 0.40"), ..STEEL },
    Metal { name: "steel E235", yield_strength: 235.0, ultimate: 340.0,
        note: "Delivery +N; drawn tube (+C, +SR) is stronger.",
        source: Source::from_memory("EN 10305-1", "2016").at("mechanical properties, E235+N; elastic constants EN 1993-1-1 3.2.6"), ..STEEL },
    Metal { name: "steel S235", yield_strength: 235.0, ultimate: 360.0, ..STEEL },
    Metal { name: "steel S355", yield_strength: 355.0, ultimate: 470.0, ..STEEL },
];

/// The metal called `name`; case, blanks at the ends and hyphens do not matter.
#[must_use]
pub fn find(name: &str) -> Option<&'static Metal> {
    find_in(METALS, name, |metal| metal.name)
}

/// Names of the metals, sorted.
#[must_use]
pub fn names() -> Vec<&'static str> {
    METALS.iter().map(|metal| metal.name).collect()
}

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
                Source::read("EN 10219-2 (sizes as listed by makers)", "2006").at("outside diameters and walls")
            }
            Self::Inch => {
                Source { title: "tube sold by fractions of an inch", edition: "", standing: Standing::CommonPractice }
                    .at("Birmingham gauge walls")
            }
            Self::Emt => Source::read("ANSI C80.3 / UL 797 (sizes as reprinted)", "")
                .at("outside diameter and wall by trade size"),
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
    Series(System::Precision, "10", 10.0, THIN), Series(System::Precision, "12", 12.0, SMALL), Series(System::Precision, "14", 14.0, SMALL),
    Series(System::Precision, "15", 15.0, FULL), Series(System::Precision, "16", 16.0, FULL), Series(System::Precision, "18", 18.0, FULL),
    Series(System::Precision, "20", 20.0, FULL), Series(System::Precision, "22", 22.0, FULL), Series(System::Precision, "25", 25.0, FULL),
    Series(System::Precision, "28", 28.0, FULL), Series(System::Precision, "30", 30.0, FULL), Series(System::Precision, "32", 32.0, FULL),
    Series(System::Precision, "35", 35.0, FULL), Series(System::Precision, "38", 38.0, FULL), Series(System::Precision, "40", 40.0, FULL),
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

/// Two diameters or walls are the same size when they are this close, mm: a third of the finest step between walls sold.
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

/// What to buy instead when `size` is too weak: thicker wall, then larger diameter; fewer where none is sold.
#[must_use]
pub fn next_up(size: &Size) -> Vec<Size> {
    [thicker(size), larger(size)].into_iter().flatten().collect()
}

/// A round hollow section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Outside diameter, mm.
    pub outside: f64,
    /// Wall thickness, mm; at most half of the outside diameter.
    pub wall: f64,
}

/// Source of every property of [`Section`].
pub const SECTION_SOURCE: Clause = Source::STATICS.at("round hollow section");

impl Section {
    /// Inside diameter, mm.
    #[must_use]
    pub fn inside(&self) -> f64 {
        self.outside - 2.0 * self.wall
    }

    /// Area A = pi (D^2 - d^2) / 4, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        PI / 4.0 * (self.outside.powi(2) - self.inside().powi(2))
    }

    /// Second moment of area I = pi (D^4 - d^4) / 64, mm4.
    #[must_use]
    pub fn inertia(&self) -> f64 {
        PI / 64.0 * (self.outside.powi(4) - self.inside().powi(4))
    }

    /// Torsion constant J = 2 I, mm4.
    #[must_use]
    pub fn torsion(&self) -> f64 {
        2.0 * self.inertia()
    }

    /// Elastic section modulus W_el = 2 I / D, mm3.
    #[must_use]
    pub fn elastic_modulus(&self) -> f64 {
        2.0 * self.inertia() / self.outside
    }

    /// Plastic section modulus W_pl = (D^3 - d^3) / 6, mm3.
    #[must_use]
    pub fn plastic_modulus(&self) -> f64 {
        (self.outside.powi(3) - self.inside().powi(3)) / 6.0
    }

    /// Radius of gyration i = sqrt(D^2 + d^2) / 4, mm.
    #[must_use]
    pub fn gyration(&self) -> f64 {
        self.outside.hypot(self.inside()) / 4.0
    }

    /// Shear area A_v = 2 A / pi, mm2. Source: EN 1993-1-1 6.2.6 (3) g.
    #[must_use]
    pub fn shear_area(&self) -> f64 {
        2.0 * self.area() / PI
    }

    /// Mass of a metre, kg, of metal of `density` kg/m3.
    #[must_use]
    pub fn mass_per_metre(&self, density: f64) -> f64 {
        self.area() * density * 1e-6
    }
}

/// The metals for reading.
pub(super) fn metals_text() -> String {
    let heads = [
        "metal",
        "E\nMPa",
        "G\nMPa",
        "nu",
        "density\nkg/m3",
        "yield\nMPa",
        "tensile\nMPa",
        "alpha",
        "plateau",
        "source",
    ];
    let mut page = Page::new("Tube metals", &heads);
    for m in METALS {
        let sources = page.cite(&[m.source, m.curve_source]);
        let mut cells = vec![m.name.to_owned(), num(m.e, 0), num(m.g, 0), num(m.poisson, 2)];
        cells.extend([m.density, m.yield_strength, m.ultimate].map(|x| num(x, 0)));
        cells.extend([num(m.imperfection, 2), num(m.plateau, 2), sources]);
        page.row(cells);
    }
    page.note("alpha and plateau: imperfection factor and first slenderness of the column curve.");
    page.finish()
}

/// The sizes for reading, with the section of each.
pub(super) fn sizes_text() -> String {
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
        cells.extend([num(s.mass_per_metre(STEEL.density), 2), size.system.words().to_owned(), source]);
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
    fn metals_are_sorted_and_sensible() {
        assert!(METALS.is_sorted_by(|a, b| a.name.to_lowercase() < b.name.to_lowercase()));
        for m in METALS {
            assert_eq!(find(&m.name.to_uppercase()), Some(m));
            let isotropic = m.e / (2.0 * (1.0 + m.poisson));
            assert!((m.g / isotropic - 1.0).abs() < 0.01, "{}: G {} is not {isotropic}", m.name, m.g);
            assert!(m.yield_strength < m.ultimate && m.yield_strength > 100.0, "{}", m.name);
            assert!((2_600.0..8_100.0).contains(&m.density), "{}", m.name);
        }
        assert_eq!(names().len(), METALS.len());
    }

    #[test]
    fn sections_agree_with_a_makers_table() {
        // Cold formed circular hollow sections, maker's table (kg/m, A cm2, I cm4, i cm, W_el cm3, W_pl cm3) as
        // printed; half of the last printed digit.
        let rows: [(f64, f64, [&str; 6]); 12] = [
            (21.3, 2.0, ["0.95", "1.21", "0.571", "0.7", "0.54", "0.748"]),
            (26.9, 2.0, ["1.23", "1.56", "1.22", "0.9", "0.91", "1.24"]),
            (26.9, 2.5, ["1.50", "1.92", "1.44", "0.9", "1.07", "1.49"]),
            (33.7, 2.0, ["1.56", "1.99", "2.51", "1.1", "1.49", "2.01"]),
            (33.7, 2.5, ["1.92", "2.45", "3.00", "1.1", "1.78", "2.44"]),
            (42.4, 2.5, ["2.46", "3.13", "6.26", "1.4", "2.95", "3.99"]),
            (42.4, 3.0, ["2.91", "3.71", "7.25", "1.4", "3.42", "4.67"]),
            (48.3, 2.5, ["2.82", "3.60", "9.46", "1.6", "3.92", "5.25"]),
            (48.3, 3.0, ["3.35", "4.27", "11.0", "1.6", "4.55", "6.17"]),
            (48.3, 3.2, ["3.56", "4.53", "11.6", "1.60", "4.80", "6.52"]),
            (60.3, 3.0, ["4.24", "5.40", "22.2", "2.0", "7.37", "9.86"]),
            (244.5, 10.0, ["57.8", "73.7", "5073", "8.30", "415", "550"]),
        ];
        for (outside, wall, printed) in rows {
            let s = Section { outside, wall };
            let got = [
                s.mass_per_metre(7_850.0),
                s.area() / 1e2,
                s.inertia() / 1e4,
                s.gyration() / 10.0,
                s.elastic_modulus() / 1e3,
                s.plastic_modulus() / 1e3,
            ];
            for (value, text) in got.iter().zip(printed) {
                let digits = text.split_once('.').map_or(0, |(_, d)| d.len());
                let half = 0.5 * 0.1_f64.powi(i32::try_from(digits).expect("few digits"));
                let want: f64 = text.parse().expect("a number");
                assert!((value - want).abs() <= half * 1.000_001, "{outside} x {wall}: {value} is not {text}");
            }
        }
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
    fn a_solid_bar_is_the_limit_of_a_thick_wall() {
        let bar = Section { outside: 10.0, wall: 5.0 };
        assert!((bar.elastic_modulus() - PI * 1000.0 / 32.0).abs() < 1e-9);
        assert!((bar.plastic_modulus() - 1000.0 / 6.0).abs() < 1e-9);
        assert!((bar.torsion() - PI * 1e4 / 32.0).abs() < 1e-9);
        assert!((bar.inertia() / bar.area() - bar.gyration().powi(2)).abs() < 1e-12);
        assert!((bar.shear_area() - 50.0).abs() < 1e-12);
    }

    #[test]
    fn column_curves_give_the_published_reductions() {
        // EN 1993-1-1 Figure 6.4 as tabulated to three decimals; half of the last digit.
        let slenderness = [0.2, 0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0];
        let curves = [
            (0.21, [1.0, 0.924, 0.796, 0.666, 0.530, 0.372, 0.223, 0.147, 0.104]),
            (0.34, [1.0, 0.884, 0.724, 0.597, 0.478, 0.342, 0.209, 0.140, 0.099]),
            (0.49, [1.0, 0.843, 0.662, 0.540, 0.434, 0.315, 0.196, 0.132, 0.095]),
        ];
        for (alpha, printed) in curves {
            for (l, chi) in slenderness.iter().zip(printed) {
                assert!((reduction(alpha, 0.2, *l) - chi).abs() <= 0.000_5, "alpha {alpha}, {l}");
            }
        }
        assert_eq!(STEEL.buckling_reduction(0.1), 1.0);
    }

    #[test]
    fn a_column_of_the_designers_guide() {
        // Designers' Guide to EN 1993-1-1, Example 6.7: CHS 244.5 x 10 of S355, 4 m, curve a, A 7370 mm2:
        // N_b,Rd 2296.8 kN; half of the last digit.
        let section = Section { outside: 244.5, wall: 10.0 };
        let critical = PI.powi(2) * STEEL.e * section.inertia() / 4000.0_f64.powi(2);
        let squash = 7370.0 * 355.0;
        let resistance = squash * reduction(0.21, 0.2, (squash / critical).sqrt());
        assert!((resistance / 1e3 - 2296.8).abs() <= 0.05, "{resistance}");
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
    fn next_up_is_thicker_then_larger() {
        let names = |text: &str| next_up(&size(text)).iter().map(Size::designation).collect::<Vec<_>>();
        assert_eq!(names("16 x 1.5"), ["16 x 2 mm", "18 x 1.5 mm"]);
        assert_eq!(names("40 x 3"), Vec::<String>::new());
        assert_eq!(names("1/2 EMT"), ["3/4 EMT"]);
        assert_eq!(names("5/8 x 0.083 in"), ["3/4 x 0.083 in"]);
        let stiffer = |s: Size| next_up(&s).iter().all(|up| up.section().inertia() > s.section().inertia());
        assert!(sizes().all(stiffer));
    }

    #[test]
    fn gauges_fall_as_numbers_rise() {
        assert!(GAUGES.is_sorted_by(|a, b| a.0 < b.0 && a.1 > b.1));
        assert_eq!(gauge_wall(16), Some(inch(0.065)));
        assert_eq!(gauge_wall(9), None);
    }
}

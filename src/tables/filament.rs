//! Filaments: strength in the layers and across them, stiffness, heat, and what remains after years.

use super::find_in;
use super::text::{Page, num};
use crate::source::{Clause, Source};

/// How the plastic gives way to heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Structure {
    /// Softens at the glass transition.
    Amorphous,
    /// Softens in part at the glass transition and carries on to near its melting point.
    SemiCrystalline,
    /// Rubbery at room temperature.
    Elastomer,
}

/// A filament, printed solid. Strengths are the ends of the range that tests of prints report at 23 C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filament {
    /// Name as written in the parameter file.
    pub name: &'static str,
    /// How it gives way to heat.
    pub structure: Structure,
    /// Density, kg/m3.
    pub density: f64,
    /// Modulus of elasticity in the layer plane, low end, MPa; polyamides dry.
    pub e: f64,
    /// Modulus of elasticity across the layers, low end, MPa.
    pub e_z: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Tensile strength in the layer plane, low and high end, MPa.
    pub strength_xy: (f64, f64),
    /// Tensile strength across the layers, low and high end, MPa.
    pub strength_z: (f64, f64),
    /// Yield strength in compression, low end, MPa: what a screw head or a tube's edge presses against.
    pub compressive_yield: f64,
    /// Glass transition, C.
    pub tg: f64,
    /// Deflection temperature under 0.45 MPa, C.
    pub hdt_045: f64,
    /// Share of the short-term strength that stays usable under a load of years.
    pub sustained_factor: f64,
    /// Tension across layers never counted on for years above this, MPa.
    pub sustained_z_limit: f64,
    /// Modulus at once over the modulus that stands for years of load (and, for polyamides, of moisture).
    pub creep_divisor: f64,
    /// How its layers hold, and what ages it.
    pub note: &'static str,
    /// Where strengths, moduli and density come from.
    pub strength_source: Clause,
    /// Where the temperatures come from.
    pub heat_source: Clause,
}

/// Clause of [`Filament::strength_xy_short`].
pub const SHORT_XY: Clause =
    Source::JUDGEMENT.at("0.8 of the low end of reported strengths: printers and spools differ");
/// Clause of [`Filament::strength_z_short`].
pub const SHORT_Z: Clause = Source::JUDGEMENT
    .at("0.8 of the low end across layers, and never above half of the strength in the layers: adhesion is the least \
        repeatable property");
/// Clause of [`Filament::strength_xy_sustained`].
pub const SUSTAINED_XY: Clause =
    Source::JUDGEMENT.at("plastics under load for years are commonly kept to 20 to 30 % of their short-term strength");
/// Clause of [`Filament::strength_z_sustained`].
pub const SUSTAINED_Z: Clause =
    Source::JUDGEMENT.at("the sustained share across layers, capped: slow cracks start at voids between layers");
/// Clause of [`Filament::e_sustained`].
pub const CREEP: Clause =
    Source::JUDGEMENT.at("creep modulus after 1 to 10 years: a third to a fifth of the short-term modulus");
/// Clause of [`Filament::service_temperature`].
pub const SERVICE: Clause = Source::JUDGEMENT
    .at("15 K below the lower of glass transition and deflection temperature; semi-crystalline plastics: below the \
        deflection temperature, at most 80 C");

/// Clause of [`Filament::time_factor`] and [`Filament::creep_after`].
pub const TIME: Clause = Source::JUDGEMENT
    .at("creep and creep rupture of plastics run about straight over the logarithm of time: from full at one hour to \
        the lasting value at a year");
/// Time up to which a load counts as short, hours.
const SHORT_HOURS: f64 = 1.0;
/// Time from which a load counts as lasting, hours: a year.
const LASTING_HOURS: f64 = 8_760.0;

/// How far along the logarithm of time from a short load (0) to a lasting one (1).
fn aged(hours: f64) -> f64 {
    ((hours.max(SHORT_HOURS) / SHORT_HOURS).ln() / (LASTING_HOURS / SHORT_HOURS).ln()).min(1.0)
}

/// Share of the low end of a range that is used.
const OF_LOW_END: f64 = 0.8;
/// Highest strength across layers as a share of that in the layers; tests give 0.4 to 0.8.
const Z_OF_XY: f64 = 0.5;
/// Distance kept from softening, K: indoor sun and thermometer error lie within it.
const HEAT_MARGIN: f64 = 15.0;
/// Highest service temperature of semi-crystalline plastics, C: above it creep data of prints is missing.
const SEMI_CRYSTALLINE_LIMIT: f64 = 80.0;
/// Highest service temperature of elastomers, C: they have no deflection temperature to start from.
const ELASTOMER_LIMIT: f64 = 50.0;

impl Filament {
    /// Tensile strength in the layers for minutes, MPa.
    #[must_use]
    pub fn strength_xy_short(&self) -> f64 {
        OF_LOW_END * self.strength_xy.0
    }

    /// Tensile strength across the layers for minutes, MPa.
    #[must_use]
    pub fn strength_z_short(&self) -> f64 {
        (OF_LOW_END * self.strength_z.0).min(Z_OF_XY * self.strength_xy_short())
    }

    /// Tensile strength in the layers for years, MPa.
    #[must_use]
    pub fn strength_xy_sustained(&self) -> f64 {
        self.sustained_factor * self.strength_xy_short()
    }

    /// Tensile strength across the layers for years, MPa.
    #[must_use]
    pub fn strength_z_sustained(&self) -> f64 {
        (self.sustained_factor * self.strength_z_short()).min(self.sustained_z_limit)
    }

    /// Share of the short-term strength that stays usable under a load that lasts `hours`: 1 up to an hour,
    /// `sustained_factor` from a year on, a straight line over the logarithm of time between. Clause: [`TIME`].
    #[must_use]
    pub fn time_factor(&self, hours: f64) -> f64 {
        1.0 - (1.0 - self.sustained_factor) * aged(hours)
    }

    /// Modulus at once over the modulus under a load that lasts `hours`: 1 to `creep_divisor` as in
    /// [`Self::time_factor`].
    #[must_use]
    pub fn creep_after(&self, hours: f64) -> f64 {
        1.0 + (self.creep_divisor - 1.0) * aged(hours)
    }

    /// Bearing strength for minutes, MPa.
    #[must_use]
    pub fn bearing_short(&self) -> f64 {
        OF_LOW_END * self.compressive_yield
    }

    /// Bearing strength for years, MPa.
    #[must_use]
    pub fn bearing_sustained(&self) -> f64 {
        self.sustained_factor * self.bearing_short()
    }

    /// Modulus in the layers that stands for years of load, MPa.
    #[must_use]
    pub fn e_sustained(&self) -> f64 {
        self.e / self.creep_divisor
    }

    /// Modulus across the layers that stands for years of load, MPa.
    #[must_use]
    pub fn e_z_sustained(&self) -> f64 {
        self.e_z / self.creep_divisor
    }

    /// Highest temperature at which the part may carry its load, C.
    #[must_use]
    pub fn service_temperature(&self) -> f64 {
        match self.structure {
            Structure::Amorphous => self.tg.min(self.hdt_045) - HEAT_MARGIN,
            Structure::SemiCrystalline => (self.hdt_045 - HEAT_MARGIN).min(SEMI_CRYSTALLINE_LIMIT),
            Structure::Elastomer => ELASTOMER_LIMIT,
        }
    }

    /// The clauses behind the row and its design values.
    #[must_use]
    pub fn clauses(&self) -> [Clause; 8] {
        [self.strength_source, self.heat_source, SHORT_XY, SHORT_Z, SUSTAINED_XY, SUSTAINED_Z, CREEP, SERVICE]
    }
}

/// The filament called `name`; case, blanks at the ends and hyphens do not matter.
#[must_use]
pub fn find(name: &str) -> Option<&'static Filament> {
    find_in(ALL, name, |filament| filament.name)
}

/// All names, sorted.
#[must_use]
pub fn names() -> Vec<&'static str> {
    ALL.iter().map(|filament| filament.name).collect()
}

const REPORTED: Clause = Source::read("additive.tools, material pages", "")
    .at("ranges of reported tests: tensile strength, modulus, density, glass transition");
const REMEMBERED: Clause = Source::JUDGEMENT
    .at("tensile strength, modulus and density of this plastic: the range that its data sheets give, from memory");
const HEAT_REMEMBERED: Clause = Source::JUDGEMENT
    .at("softening of this plastic: the usual value of its data sheets (ISO 75-2 method B, ISO 11357-2), from memory");

/// What the rows share: an unfilled amorphous plastic.
const BASE: Filament = Filament {
    name: "",
    structure: Structure::Amorphous,
    density: 0.0,
    e: 0.0,
    e_z: 0.0,
    // Glassy plastics lie between 0.35 and 0.40.
    poisson: 0.38,
    strength_xy: (0.0, 0.0),
    strength_z: (0.0, 0.0),
    compressive_yield: 0.0,
    tg: 0.0,
    hdt_045: 0.0,
    sustained_factor: 0.25,
    sustained_z_limit: 2.0,
    creep_divisor: 4.0,
    note: "",
    strength_source: REMEMBERED,
    heat_source: HEAT_REMEMBERED,
};

const POLYAMIDE: Filament = Filament {
    structure: Structure::SemiCrystalline,
    sustained_factor: 0.20,
    sustained_z_limit: 3.0,
    creep_divisor: 5.0,
    note: "Layers bond well when dry. Takes up water: softer, tougher, grows 0.5 to 1.5 % in length.",
    ..BASE
};

/// All rows, sorted by name.
#[rustfmt::skip]
pub const ALL: &[Filament] = &[
    Filament { name: "ABS", density: 1_040.0, e: 1_600.0, e_z: 1_400.0, strength_xy: (28.0, 40.0), strength_z: (15.0,
        28.0),
        compressive_yield: 28.0, tg: 102.0, hdt_045: 90.0,
        note: "Layers part when printed in a draught; needs a closed, warm printer. Sunlight embrittles it.", ..BASE },
    Filament { name: "ASA", density: 1_070.0, e: 1_700.0, e_z: 1_500.0, strength_xy: (35.0, 48.0), strength_z: (18.0,
        30.0),
        compressive_yield: 35.0, tg: 102.0, hdt_045: 93.0,
        note: "As ABS, but stands sunlight. Needs a closed, warm printer.", ..BASE },
    Filament { name: "PA-CF", density: 1_150.0, e: 5_000.0, e_z: 2_000.0, strength_xy: (80.0, 140.0),
        strength_z: (30.0, 55.0),
        compressive_yield: 55.0, tg: 55.0, hdt_045: 150.0,
        note: "Fibres stiffen the layers, not the bond between them. Takes up water.", ..POLYAMIDE },
    Filament { name: "PA12", density: 1_010.0, e: 1_000.0, e_z: 900.0, strength_xy: (40.0, 55.0), strength_z: (25.0,
        38.0),
        compressive_yield: 40.0, tg: 45.0, hdt_045: 80.0, ..POLYAMIDE },
    Filament { name: "PA6", density: 1_130.0, e: 1_400.0, e_z: 1_200.0, strength_xy: (45.0, 60.0), strength_z: (25.0,
        40.0),
        compressive_yield: 45.0, tg: 48.0, hdt_045: 65.0, ..POLYAMIDE },
    Filament { name: "PC", density: 1_200.0, e: 2_000.0, e_z: 1_800.0, strength_xy: (55.0, 68.0), strength_z: (30.0,
        45.0),
        compressive_yield: 55.0, tg: 145.0, hdt_045: 115.0, sustained_factor: 0.30, sustained_z_limit: 4.0,
            creep_divisor: 3.0,
        note: "Layers part unless the printer is hot and closed. Cracks under load when oil, glue or cleaner touches \
            it.", ..BASE },
    Filament { name: "PCTG", density: 1_230.0, e: 1_600.0, e_z: 1_400.0, strength_xy: (42.0, 52.0), strength_z: (28.0,
        40.0),
        compressive_yield: 42.0, tg: 76.0, hdt_045: 68.0,
        note: "Layers bond better than those of PETG; tough.", ..BASE },
    Filament { name: "PETG", density: 1_270.0, e: 2_000.0, e_z: 1_700.0, strength_xy: (44.0, 56.0), strength_z: (25.0,
        38.0),
        compressive_yield: 44.0, tg: 80.0, hdt_045: 70.0,
        note: "Upright prints are the weakest; a hotter nozzle and less fan bond better. Grows brittle in a year or \
            more at room temperature.",
        strength_source: REPORTED, ..BASE },
    Filament { name: "PETG-CF", density: 1_290.0, e: 3_500.0, e_z: 1_800.0, strength_xy: (45.0, 60.0),
        strength_z: (22.0, 35.0),
        compressive_yield: 45.0, tg: 78.0, hdt_045: 72.0,
        note: "Fibres stiffen the layers and weaken the bond between them.", ..BASE },
    Filament { name: "PLA", density: 1_240.0, e: 3_000.0, e_z: 2_300.0, strength_xy: (50.0, 65.0), strength_z: (35.0,
        45.0),
        compressive_yield: 50.0, tg: 60.0, hdt_045: 55.0, creep_divisor: 3.0,
        note: "Stiff but creeps far below its softening point and grows brittle; one study found half of the \
            filament's strength across layers.",
        strength_source: REPORTED, ..BASE },
    Filament { name: "PLA+", density: 1_230.0, e: 2_400.0, e_z: 2_000.0, strength_xy: (45.0, 60.0), strength_z: (28.0,
        40.0),
        compressive_yield: 45.0, tg: 58.0, hdt_045: 53.0,
        note: "No fixed recipe: a PLA made tougher, which creeps more.", ..BASE },
    Filament { name: "TPU 95A", structure: Structure::Elastomer, density: 1_210.0, e: 20.0, e_z: 18.0, poisson: 0.48,
        strength_xy: (30.0, 50.0), strength_z: (20.0, 35.0), compressive_yield: 3.0, tg: -30.0, hdt_045: 40.0,
        sustained_factor: 0.10, sustained_z_limit: 1.0,
        note: "For pads under feet only: far too soft for a bracket. Modulus at 10 % strain; compression at that \
            strain.", ..BASE },
];

/// The table for reading.
pub(super) fn text() -> String {
    let heads = [
        "filament",
        "density\nkg/m3",
        "E\nMPa",
        "E_z\nMPa",
        "xy\nMPa",
        "z\nMPa",
        "short xy\nMPa",
        "short z\nMPa",
        "years xy\nMPa",
        "years z\nMPa",
        "service\nC",
        "source",
    ];
    let mut page = Page::new("Filaments, printed solid, 23 C", &heads);
    for f in ALL {
        let sources = page.cite(&[f.strength_source, f.heat_source]);
        let range = |(low, high): (f64, f64)| format!("{low}-{high}");
        let mut cells = vec![f.name.to_owned(), num(f.density, 0), num(f.e, 0), num(f.e_z, 0)];
        cells.extend([range(f.strength_xy), range(f.strength_z)]);
        let short = [f.strength_xy_short(), f.strength_z_short()];
        let years = [f.strength_xy_sustained(), f.strength_z_sustained()];
        cells.extend(short.into_iter().chain(years).map(|x| num(x, 1)));
        cells.extend([num(f.service_temperature(), 0), sources]);
        page.row(cells);
    }
    page.note(
        "xy: in the layers; z: across them; \"short\" and \"years\" are the values used, from the low end of \
        the range.",
    );
    page.cite(&[SHORT_XY, SHORT_Z, SUSTAINED_XY, SUSTAINED_Z, CREEP, TIME, SERVICE]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str) -> &'static Filament {
        find(name).unwrap_or_else(|| panic!("{name} is missing"))
    }

    #[test]
    fn rows_are_sorted_by_name_and_found_by_it() {
        assert!(ALL.is_sorted_by(|a, b| a.name < b.name));
        assert!(ALL.len() >= 9);
        assert!(ALL.iter().all(|f| find(&f.name.to_lowercase()) == Some(f)));
        assert_eq!(find("petg cf"), Some(row("PETG-CF")));
        assert_eq!(find("PLA2"), None);
        assert_eq!(names()[0], "ABS");
    }

    #[test]
    fn every_row_is_physically_sensible() {
        for f in ALL {
            assert!((1_000.0..1_400.0).contains(&f.density), "{}", f.name);
            assert!(f.e_z <= f.e && f.e_sustained() < f.e && f.e_z_sustained() < f.e_z, "{}", f.name);
            assert!(f.strength_xy.0 < f.strength_xy.1 && f.strength_z.0 < f.strength_z.1, "{}", f.name);
            assert!(f.strength_z.0 < f.strength_xy.0, "{}", f.name);
            assert!(f.strength_z_short() < f.strength_xy_short(), "{}", f.name);
            assert!(f.strength_z_sustained() < f.strength_z_short(), "{}", f.name);
            assert!(f.strength_z_sustained() <= f.strength_xy_sustained(), "{}", f.name);
            assert!(f.compressive_yield <= f.strength_xy.1 && f.bearing_sustained() < f.bearing_short(), "{}", f.name);
            assert!((35.0..=100.0).contains(&f.service_temperature()), "{}", f.name);
            assert!((0.3..0.5).contains(&f.poisson) && !f.note.is_empty(), "{}", f.name);
        }
    }

    #[test]
    fn petg_design_values() {
        // Worked by hand: 0.8 x 44 = 35.2; min(0.8 x 25, 0.5 x 35.2) = 17.6; 0.25 x 35.2 = 8.8; min(4.4, 2) = 2;
        // 2000/4.
        let f = row("PETG");
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(near(f.strength_xy_short(), 35.2) && near(f.strength_z_short(), 17.6));
        assert!(near(f.strength_xy_sustained(), 8.8) && near(f.strength_z_sustained(), 2.0));
        assert!(near(f.e_sustained(), 500.0) && near(f.service_temperature(), 55.0));
    }

    #[test]
    fn time_runs_from_full_to_lasting() {
        let f = row("PETG");
        assert_eq!((f.time_factor(0.0), f.time_factor(1.0), f.time_factor(1e6)), (1.0, 1.0, 0.25));
        assert_eq!((f.creep_after(0.5), f.creep_after(8_760.0)), (1.0, 4.0));
        // Half-way over the logarithm: sqrt(8760) hours.
        assert!((f.time_factor(8_760.0_f64.sqrt()) - 0.625).abs() < 1e-12);
    }

    #[test]
    fn service_temperatures_rank_as_expected() {
        // Design limits proposed: PLA 40, PETG 55, ABS and ASA 75 to 80, PC 100 C.
        assert_eq!(row("PLA").service_temperature(), 40.0);
        assert!((75.0..=80.0).contains(&row("ABS").service_temperature()));
        assert!((75.0..=80.0).contains(&row("ASA").service_temperature()));
        assert_eq!(row("PC").service_temperature(), 100.0);
        assert_eq!(row("PA-CF").service_temperature(), 80.0, "capped");
    }
}

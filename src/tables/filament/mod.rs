//! Filaments: strength in the layers, across them and in bearing, stiffness, heat, and what remains after years.

mod rows;

use super::find_in;
use super::fractile;
use super::text::{Page, num};
use crate::source::{Clause, Source};

pub use rows::ALL;
use rows::{PRESSED, RANGE, TRIALS};

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

/// How well a figure is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// Read where it was first published.
    A,
    /// Read at second hand.
    B,
    /// Remembered.
    C,
    /// Judgement.
    J,
    /// The user's own figure.
    Own,
}

impl Grade {
    /// As shown beside a figure.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::A => "grade A: read where it was first published",
            Self::B => "grade B: read at second hand",
            Self::C => "grade C: from memory",
            Self::J => "grade J: judgement",
            Self::Own => "your own figure",
        }
    }
}

/// What the characteristic value rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    /// The 5 % value of the trials, and never more than this, MPa.
    Trials(f64),
    /// This value, MPa: the trials are none, or say little about another printer.
    Stated(f64),
}

/// Strength in one direction as tests of solid prints found it at 23 C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strength {
    /// Mean of the trials; without trials the middle of the range that is remembered, MPa.
    pub mean: f64,
    /// Coefficient of variation over all batches; without trials the range taken as 5 to 95 %.
    pub cov: f64,
    /// Number of trials; 0 for a range.
    pub trials: u32,
    /// Number of batches they came from.
    pub batches: u32,
    /// Where mean and scatter come from.
    pub source: Clause,
    /// How well they are known.
    pub grade: Grade,
    /// What the characteristic value rests on.
    pub basis: Basis,
    /// Why that value or that bound.
    pub why: Clause,
    /// How well it is known.
    pub why_grade: Grade,
}

impl Strength {
    /// What 95 of 100 such prints reach, as far as it is known, MPa.
    #[must_use]
    pub fn characteristic(&self) -> f64 {
        match self.basis {
            Basis::Stated(value) => value,
            Basis::Trials(most) => self.fractile().map_or(most, |found| found.min(most)),
        }
    }

    /// The 5 % value of the trials; none for a range. [`fractile::LOGNORMAL`].
    #[must_use]
    pub fn fractile(&self) -> Option<f64> {
        fractile::lognormal(self.mean, self.cov, self.trials)
    }

    /// The user's own characteristic value, MPa.
    #[must_use]
    pub const fn own(value: f64, source: Clause) -> Self {
        Self {
            mean: value,
            cov: 0.0,
            trials: 0,
            batches: 0,
            source,
            grade: Grade::Own,
            basis: Basis::Stated(value),
            why: source,
            why_grade: Grade::Own,
        }
    }
}

/// A filament, printed solid.
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
    /// Tensile strength in the layer plane; polyamides dry.
    pub in_layers: Strength,
    /// Tensile strength across the layers, of prints that nobody tore coupons of; polyamides dry.
    pub across: Strength,
    /// Strength under what presses on a small area: a screw head, a tube's edge.
    pub bearing: Strength,
    /// Most that own coupons can make of the strength across the layers, MPa.
    pub coupon_cap: f64,
    /// Share of the dry strength left when the plastic has taken up the water of the air.
    pub wet: f64,
    /// Glass transition, C.
    pub tg: f64,
    /// Deflection temperature under 0.45 MPa, C.
    pub hdt_045: f64,
    /// Share of the short-term strength left after five years under load.
    pub lasting: Lasting,
    /// Where that share comes from, if not from the clause of each kind of stress.
    pub lasting_source: Option<Clause>,
    /// Tension across layers never counted on for years above this, MPa.
    pub sustained_z_limit: f64,
    /// Modulus at once over the modulus that stands for years of load (and, for polyamides, of moisture).
    pub creep_divisor: f64,
    /// How its layers hold, and what ages it.
    pub note: &'static str,
    /// Where moduli and density come from.
    pub stiffness_source: Clause,
    /// Where the temperatures come from.
    pub heat_source: Clause,
}

/// Shares of the short-term strength left after five years under load, by kind of stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lasting {
    /// Bearing and compression.
    pub bearing: f64,
    /// Tension and bending within the layers.
    pub in_layers: f64,
    /// Tension and shear across the layers.
    pub across: f64,
}

impl Lasting {
    /// The same for every kind of stress.
    #[must_use]
    pub const fn all(share: f64) -> Self {
        Self { bearing: share, in_layers: share, across: share }
    }
}

/// Clause of [`Lasting`] in bearing.
pub const LASTING_BEARING: Clause = Source::read("Moser, Buried Pipe Design, table of hydrostatic design bases", "")
    .at("PVC 27.6 MPa and ABS 22.1 MPa at 11 years (grade A) over yields of 50 and 43 MPa (from memory): 0.55 and 0.51, \
        taken as 0.50 at five years; bulk plastic, used for prints");

/// Clause of [`Lasting`] in tension within the layers.
pub const LASTING_IN_LAYERS: Clause = Source::JUDGEMENT
    .at("0.40 at five years: the 0.50 of bulk PVC and ABS pipes less a fifth, because notched plastic crazes in air \
        (acrylic: 0.15 of its strength, grade A); used for prints");

/// Clause of [`Lasting`] across the layers.
pub const LASTING_ACROSS: Clause = Source::JUDGEMENT
    .at("0.25 at five years across the layers: crazing leaves bulk acrylic 0.075 to 0.15; no data for printed seams");

/// Clause of [`Lasting`] of polylactide.
pub const LASTING_PLA: Clause = Source::read("Engels et al., J. Mater. Sci.: Mater. Med. 21:89 (abstract)", "2010")
    .at("bulk PLA fails under a steady load well below yield within hours to days; 0.25 at five years is a judgement");

/// Clause of [`Lasting`] of elastomers.
const LASTING_RUBBER: Clause = Source::JUDGEMENT.at("elastomers flow under any steady load: a tenth is left");

/// Clause of [`Filament::wet`].
pub const WET: Clause = Source::read("moisture absorption of 3D printed short-carbon-fibre polyamide (abstract)", "")
    .at("yield falls by 39 to 59 % when wet: 0.45 left; PA12 0.85 (grade B)");

/// Clause of [`Filament::coupon_cap`].
pub const COUPON_CAP: Clause = Source::JUDGEMENT.at(
    "half of the strength in the layers, PETG 17.6 MPa: makers' sheets give 17 to 19 MPa as their 5 % value across \
        the layers (grade B), and five coupons say little about the next spool",
);

/// Clause of [`Filament::sustained_z_limit`].
pub const SUSTAINED_Z: Clause =
    Source::JUDGEMENT.at("the sustained share across layers, capped: slow cracks start at voids between layers");

/// Clause of [`Filament::e_sustained`].
pub const CREEP: Clause =
    Source::JUDGEMENT.at("creep modulus after 1 to 10 years: a third to a fifth of the short-term modulus");

/// Clause of [`Filament::service_temperature`].
pub const SERVICE: Clause = Source::JUDGEMENT
    .at("15 K below the lower of glass transition and deflection temperature; semi-crystalline plastics: below the \
        deflection temperature, at most 80 C");

/// Clause of [`Filament::creep_after`].
pub const TIME: Clause = Source::JUDGEMENT
    .at("creep of plastics runs about straight over the logarithm of time: from nothing at one hour to the lasting \
        value at a year");

/// Time up to which a load counts as short, hours.
const SHORT_HOURS: f64 = 1.0;

/// Time from which creep counts as lasting, hours: a year.
const LASTING_HOURS: f64 = 8_760.0;

/// How far along the logarithm of time from a short load (0) to a lasting one (1).
fn aged(hours: f64) -> f64 {
    ((hours.max(SHORT_HOURS) / SHORT_HOURS).ln() / (LASTING_HOURS / SHORT_HOURS).ln()).min(1.0)
}

/// Distance kept from softening, K: indoor sun and thermometer error lie within it.
const HEAT_MARGIN: f64 = 15.0;

/// Highest service temperature of semi-crystalline plastics, C: above it creep data of prints is missing.
const SEMI_CRYSTALLINE_LIMIT: f64 = 80.0;

/// Highest service temperature of elastomers, C: they have no deflection temperature to start from.
const ELASTOMER_LIMIT: f64 = 50.0;

impl Filament {
    /// Modulus at once over the modulus under a load that lasts `hours`: 1 up to an hour, `creep_divisor` from a year on,
    /// a straight line over the logarithm of time between. Clause: [`TIME`].
    #[must_use]
    pub fn creep_after(&self, hours: f64) -> f64 {
        1.0 + (self.creep_divisor - 1.0) * aged(hours)
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
    pub fn clauses(&self) -> Vec<Clause> {
        let each = [self.in_layers, self.across, self.bearing];
        let strengths = each.iter().flat_map(|s| [s.source, s.why]);
        strengths.chain([self.stiffness_source, self.heat_source, SUSTAINED_Z, CREEP, TIME, SERVICE]).collect()
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

/// The table for reading.
pub(super) fn text() -> String {
    let heads = [
        "filament",
        "E\nMPa",
        "E_z\nMPa",
        "xy\nmean",
        "COV\n",
        "n/b\n",
        "used\nMPa",
        "z\nmean",
        "COV\n",
        "n/b\n",
        "used\nMPa",
        "press\nMPa",
        "limit\nC",
        "source",
    ];
    let mut page = Page::new("Filaments, printed solid, 23 C", &heads);
    for f in ALL {
        let sources = page.cite(&[f.stiffness_source, f.heat_source, f.in_layers.why, f.across.why]);
        let mut cells = vec![f.name.to_owned(), num(f.e, 0), num(f.e_z, 0)];
        for s in [f.in_layers, f.across] {
            cells.extend([num(s.mean, 0), num(s.cov, 2), format!("{}/{}", s.trials, s.batches)]);
            cells.push(num(s.characteristic(), 0));
        }
        cells.push(num(f.bearing.characteristic(), 0));
        cells.extend([num(f.service_temperature(), 0), sources]);
        page.row(cells);
    }
    page.note(
        "xy: in the layers; z: across them, without coupons of your own; press: under screw heads and tube ends. n/b: \
        trials and batches; 0/0 a remembered range taken as 5 to 95 %. used: the characteristic value. Five years \
        under load leave 0.50 of it where it presses, 0.40 in the layers, 0.25 across them; of PLA 0.25, of TPU 0.10.",
    );
    page.cite(&[TRIALS, RANGE, PRESSED, fractile::SMALL_SAMPLE, fractile::LOGNORMAL, COUPON_CAP, LASTING_ACROSS]);
    page.cite(&[LASTING_IN_LAYERS, LASTING_BEARING, LASTING_PLA, WET, SUSTAINED_Z, CREEP, TIME, SERVICE]);
    page.finish()
}

#[cfg(test)]
mod tests;

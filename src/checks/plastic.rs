//! What the printed plastic bears: the table's strength times factors for time, heat, age and walls, over a safety factor.

use super::When;
use crate::mechanics::creep::{self, Factor};
use crate::mechanics::working::{figures, step};
use crate::model::Model;
use crate::params::Duration;
use crate::source::{Clause, Source};
use crate::tables::filament;

/// Safety factor on printed plastic (judgement: on low-end test figures already taken at 0.8).
const SAFETY: f64 = 1.5;
/// Why.
pub const SAFETY_CLAUSE: Clause = Source::JUDGEMENT
    .at("prints differ from one another by a third; low-end figures are taken at 0.8 and divided by 1.5");
/// Share left after ageing in air at room temperature.
const AGED: f64 = 0.85;
/// Why.
pub const AGE_CLAUSE: Clause = Source::JUDGEMENT
    .at("printed plastics grow brittle within years in air; a seventh is taken off after the stated life");
/// Hours in a year.
const YEAR: f64 = 8766.0;
/// Longest time under load that counts as now, hours: a day.
const NOW: f64 = 24.0;

/// Which strength.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Tension or bending within the layers.
    InLayers,
    /// Tension across the layers.
    AcrossLayers,
    /// Compression on a small area.
    Bearing,
    /// Shear across the wall round a head, within the layers' plane turned upright.
    Shear,
}

/// An allowable stress and how it came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowable {
    /// MPa.
    pub stress: f64,
    /// Working.
    pub steps: Vec<String>,
    /// Sources.
    pub sources: Vec<Clause>,
}

/// Hours a load of this duration acts until the given time.
#[must_use]
pub fn hours(model: &Model, lasts: Duration, when: When) -> f64 {
    let all = match lasts {
        Duration::Seconds => 0.01,
        Duration::Minutes => 0.5,
        Duration::Hours => 24.0,
        Duration::Days => 168.0,
        Duration::Months => 4.0 * 730.0,
        Duration::Years => YEAR * model.params.life.max(1.0),
    };
    if when == When::Now { all.min(NOW) } else { all }
}

/// Allowable stress of the file's filament. `wall` is the thickness of the printed wall there, mm.
#[must_use]
pub fn allowable(model: &Model, kind: Kind, lasts: Duration, when: When, wall: f64) -> Allowable {
    let f = &model.params.printing.filament;
    let (short, name, clause) = match kind {
        Kind::InLayers => (f.strength_xy_short(), "short-term strength within the layers", filament::SHORT_XY),
        Kind::AcrossLayers => (f.strength_z_short(), "short-term strength across the layers", filament::SHORT_Z),
        Kind::Bearing => (f.bearing_short(), "short-term bearing strength", filament::SHORT_XY),
        Kind::Shear => {
            (f.strength_z_short() * SHEAR, "short-term shear strength, 0.58 of that across the layers", SHEAR_CLAUSE)
        }
    };
    let factors = factors(model, lasts, when, wall);
    let product = creep::product(&factors);
    let mut stress = short * product / SAFETY;
    let mut steps = vec![format!("{name} of {} = {} MPa", f.name, figures(short))];
    steps.extend(factors.iter().map(|f| format!("factor for {} = {}", f.name, figures(f.value))));
    steps.push(step(
        "allowable = strength x factors / safety",
        &format!("{} x {} / {SAFETY}", figures(short), figures(product)),
        stress,
        "MPa",
    ));
    let mut sources = vec![clause, f.strength_source, SAFETY_CLAUSE];
    sources.extend(factors.iter().map(|f| f.clause));
    let sustained = kind == Kind::AcrossLayers && lasts >= Duration::Months && when == When::AfterLife;
    if sustained && f.sustained_z_limit < stress {
        stress = f.sustained_z_limit;
        steps.push(format!("no more than {} MPa across the layers under a load that stays", figures(stress)));
        sources.push(filament::SUSTAINED_Z);
    }
    Allowable { stress: stress.max(LEAST), steps, sources }
}

/// Shear strength over tensile strength (von Mises).
const SHEAR: f64 = 0.577;
/// Why.
const SHEAR_CLAUSE: Clause = Source::JUDGEMENT.at("von Mises' 0.577 of the tensile strength, taken across the layers");
/// Allowable stress never counts below this, MPa, so that a filament above its heat limit gives a finite utilisation.
const LEAST: f64 = 1e-3;

fn factors(model: &Model, lasts: Duration, when: When, wall: f64) -> Vec<Factor> {
    let p = &model.params;
    let f = &p.printing.filament;
    let [cold, warm] = p.place.temperature;
    let celsius = if when == When::Now { (cold + warm) / 2.0 } else { warm };
    let time = hours(model, lasts, when);
    let mut all = vec![
        Factor { name: "time under load", value: f.time_factor(time), clause: filament::TIME },
        creep::plastic_heat(celsius, f.service_temperature()),
        creep::plastic_solid(wall, p.printing.walls as u32, p.printing.nozzle),
    ];
    let infill = p.printing.infill;
    if let Some(solid) = all.last_mut().filter(|s| s.value < 1.0) {
        solid.value += (1.0 - solid.value) * infill * INFILL;
    }
    if when == When::AfterLife {
        all.push(Factor { name: "age", value: AGED, clause: AGE_CLAUSE });
    }
    all
}

/// How much of its share of solid plastic infill carries (judgement: its lines lie across the stress half of the time).
const INFILL: f64 = 0.5;

//! What the printed plastic bears: the table's strength times factors for time, heat, age and walls, over a safety factor.

use super::When;
use crate::clauses::creep::{self, Factor};
use crate::clauses::working::{figures, step};
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

/// An allowable stress and what it came about from.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowable {
    /// MPa.
    pub stress: f64,
    /// Short-term strength, MPa, its name and its source.
    short: (f64, &'static str, Clause),
    /// Name of the filament and source of its strength.
    filament: (&'static str, Clause),
    factors: Vec<Factor>,
    /// The filament's limit under a load that stays, MPa, where it governs.
    sustained: Option<f64>,
}

impl Allowable {
    /// Short-term strength times the factors over the safety factor, MPa.
    fn reduced(&self) -> f64 {
        self.short.0 * creep::product(&self.factors) / SAFETY
    }

    /// Working.
    #[must_use]
    pub fn steps(&self) -> Vec<String> {
        let (short, name, _) = self.short;
        let mut steps = vec![format!("{name} of {} = {} MPa", self.filament.0, figures(short))];
        steps.extend(self.factors.iter().map(|f| format!("factor for {} = {}", f.name, figures(f.value))));
        let numbers = format!("{} x {} / {SAFETY}", figures(short), figures(creep::product(&self.factors)));
        steps.push(step("allowable = strength x factors / safety", &numbers, self.reduced(), "MPa"));
        let limit = |l| format!("no more than {} MPa across the layers under a load that stays", figures(l));
        steps.extend(self.sustained.map(limit));
        steps
    }

    /// Sources.
    #[must_use]
    pub fn sources(&self) -> Vec<Clause> {
        let mut sources = vec![self.short.2, self.filament.1, SAFETY_CLAUSE];
        sources.extend(self.factors.iter().map(|f| f.clause));
        sources.extend(self.sustained.map(|_| filament::SUSTAINED_Z));
        sources
    }
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

/// The printed section that carries, which decides how much of it is solid and how much infill. Behind every upright face
/// stand as many lines as there are walls, behind every level face as many solid layers as are printed; infill fills what
/// they enclose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// A wall of this thickness under even stress, mm.
    Wall(f64),
    /// A plate of this thickness that lies as it is printed and bends, mm: its solid layers count by the third power.
    Bent(f64),
    /// A solid round of this diameter that bends, mm: its rim counts by the fourth power.
    Round(f64),
    /// A ring of this width round a hole, mm: the hole's own walls.
    Ring(f64),
    /// A level floor under the end of a tube: its solid layers spread the pressure over the infill below.
    Floor {
        /// Thickness, mm.
        thickness: f64,
        /// Width of the ring that presses, mm.
        ring: f64,
    },
}

impl Section {
    /// Share of the full section's strength that the solid shell has.
    fn shell(self, model: &Model) -> f64 {
        let (wall, skin) = (model.params.printing.wall(), model.params.printing.skin());
        match self {
            Self::Wall(t) => 1.0 - hollow(t, wall),
            Self::Bent(t) => 1.0 - hollow(t, skin).powi(3),
            Self::Round(d) => 1.0 - hollow(d, wall).powi(4),
            Self::Ring(w) => (wall / w).min(1.0),
            Self::Floor { thickness, .. } => 1.0 - hollow(thickness, skin).ceil(),
        }
    }

    /// Area of infill that bears under this section, over the section itself: below a floor's solid layers, through which
    /// pressure spreads at 45 degrees (judgement, as under a washer); elsewhere it has no more.
    fn spread(self, model: &Model) -> f64 {
        match self {
            Self::Floor { ring, .. } => 1.0 + 2.0 * model.params.printing.skin() / ring,
            _ => 1.0,
        }
    }

    /// Solid share with what infill adds.
    fn factor(self, model: &Model) -> Factor {
        let shell = self.shell(model);
        let infill = model.params.printing.infill.powi(INFILL_POWER) * self.spread(model);
        let value = shell + (1.0 - shell) * infill.min(1.0);
        Factor { name: "solid share of the section", value, clause: SOLID }
    }
}

/// Share of a thickness that solid plastic on both sides leaves to the infill.
fn hollow(size: f64, solid: f64) -> f64 {
    (1.0 - 2.0 * solid / size).max(0.0)
}

/// Where the share comes from.
const SOLID: Clause = Source::JUDGEMENT.at(
    "walls and solid layers solid, their share by section modulus where it bends; infill counts by the square of its density, as cellular solids do",
);
/// Strength of a cellular solid goes with its density to a power between 1.5 and 2 (Gibson and Ashby, Cellular Solids,
/// from memory); the larger is the safer one.
const INFILL_POWER: i32 = 2;

/// Allowable stress of the file's filament in a printed section.
#[must_use]
pub fn allowable(model: &Model, kind: Kind, lasts: Duration, when: When, section: Section) -> Allowable {
    let f = &model.params.printing.filament;
    let short = match kind {
        Kind::InLayers => (f.strength_xy_short(), "short-term strength within the layers", filament::SHORT_XY),
        Kind::AcrossLayers => (f.strength_z_short(), "short-term strength across the layers", filament::SHORT_Z),
        Kind::Bearing => (f.bearing_short(), "short-term bearing strength", filament::SHORT_XY),
        Kind::Shear => {
            (f.strength_z_short() * SHEAR, "short-term shear strength, 0.58 of that across the layers", SHEAR_CLAUSE)
        }
    };
    let factors = factors(model, lasts, when, section);
    let mut own = Allowable { stress: 0.0, short, filament: (f.name, f.strength_source), factors, sustained: None };
    let (reduced, limit) = (own.reduced(), f.sustained_z_limit);
    let stays = kind == Kind::AcrossLayers && lasts >= Duration::Months && when == When::AfterLife;
    own.sustained = (stays && limit < reduced).then_some(limit);
    own.stress = own.sustained.unwrap_or(reduced).max(LEAST);
    own
}

/// Shear strength over tensile strength (von Mises).
const SHEAR: f64 = 0.577;
/// Why.
const SHEAR_CLAUSE: Clause = Source::JUDGEMENT.at("von Mises' 0.577 of the tensile strength, taken across the layers");
/// Allowable stress never counts below this, MPa, so that a filament above its heat limit gives a finite utilisation.
const LEAST: f64 = 1e-3;

fn factors(model: &Model, lasts: Duration, when: When, section: Section) -> Vec<Factor> {
    let p = &model.params;
    let f = &p.printing.filament;
    let [cold, warm] = p.place.temperature;
    let celsius = if when == When::Now { (cold + warm) / 2.0 } else { warm };
    let time = hours(model, lasts, when);
    let mut all = vec![
        Factor { name: "time under load", value: f.time_factor(time), clause: filament::TIME },
        creep::plastic_heat(celsius, f.service_temperature()),
        section.factor(model),
    ];
    if when == When::AfterLife {
        all.push(Factor { name: "age", value: AGED, clause: AGE_CLAUSE });
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model(printing: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "printing": {printing}}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    #[test]
    fn full_infill_is_solid_everywhere() {
        let full = model(r#"{"infill": "100 %", "walls": 2}"#);
        let floor = Section::Floor { thickness: 20.0, ring: 2.0 };
        for section in [Section::Wall(20.0), Section::Bent(20.0), Section::Round(40.0), Section::Ring(9.0), floor] {
            assert!((section.factor(&full).value - 1.0).abs() < 1e-12, "{section:?}");
        }
    }

    #[test]
    fn shells_count_by_section_modulus() {
        // Five walls of 0.4 mm: 2 mm; infill 0.4 squared.
        let usual = model("{}");
        let with = |shell: f64| shell + (1.0 - shell) * 0.16;
        assert!((Section::Wall(5.0).factor(&usual).value - with(0.8)).abs() < 1e-12);
        assert!((Section::Bent(8.0).factor(&usual).value - with(1.0 - 0.5_f64.powi(3))).abs() < 1e-12);
        assert!((Section::Round(40.0).factor(&usual).value - with(1.0 - 0.9_f64.powi(4))).abs() < 1e-12);
        assert!((Section::Ring(2.0).factor(&usual).value - 1.0).abs() < 1e-12);
    }

    /// Walls stand behind upright faces only: what lies level is as solid as its layers make it.
    #[test]
    fn walls_do_not_make_a_plate_solid_that_has_few_solid_layers() {
        let thin = model(r#"{"walls": 10, "solid_layers": 3, "layer": "0.2 mm", "infill": "20 %"}"#);
        let with = |shell: f64| shell + (1.0 - shell) * 0.04;
        assert!((Section::Bent(8.0).factor(&thin).value - with(1.0 - 0.85_f64.powi(3))).abs() < 1e-12);
        assert!((Section::Wall(8.0).factor(&thin).value - 1.0).abs() < 1e-12);
        // Under a tube's end of 2 mm wall 0.6 mm of solid layers spread the pressure over 3.2 mm of infill.
        let floor = |thickness| Section::Floor { thickness, ring: 2.0 }.factor(&thin).value;
        assert!((floor(8.0) - 0.04 * 1.6).abs() < 1e-12);
        assert!((floor(1.2) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn time_heat_and_age_only_take() {
        let m = model("{}");
        for kind in [Kind::InLayers, Kind::AcrossLayers, Kind::Bearing, Kind::Shear] {
            let of = |lasts, when| allowable(&m, kind, lasts, when, Section::Wall(5.0)).stress;
            let (short, long) = (of(Duration::Minutes, When::Now), of(Duration::Years, When::AfterLife));
            assert!(of(Duration::Minutes, When::AfterLife) < short && long < 0.4 * short && long > 0.0, "{kind:?}");
        }
    }
}

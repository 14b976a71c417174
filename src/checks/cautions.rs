//! Cautions: what is dangerous at which step of the work. They show where they apply.

use super::stability::{self, Tip};
use super::{Verdict, making, plastic};
use crate::mechanics::Forces;
use crate::model::Model;
use crate::params::{Duration, Load};
use crate::tables::wood;
use crate::units::GRAVITY;

/// Mass above which a top is lifted by two, kg (judgement: 25 kg a person).
const TWO_PEOPLE: f64 = 25.0;
/// Load above which floors are to be thought of, kg (judgement: a grown person and more on a few square centimetres).
const HEAVY: f64 = 100.0;
/// Words in a load's name that mean water.
const WATER: [&str; 7] = ["tank", "water", "aquarium", "vivarium", "barrel", "butt", "cistern"];

/// A danger that applies to a table. What it is called, what it says and what is to be done stand in `output/cautions.rs`.
#[derive(Clone, Debug, PartialEq)]
pub enum Caution {
    /// Nothing that was tried brings every check within its limit.
    NoCure {
        /// Changes tried.
        tried: usize,
        /// Of the table as it is: tight or not adequate.
        verdict: Verdict,
        /// Whether it holds, so that what is not adequate is its firmness alone.
        holds: bool,
    },
    /// Fumes of the printer.
    Fumes,
    /// A printer that catches fire.
    Fire,
    /// Nobody tore coupons of this print.
    LayerBond {
        /// Strength that is taken across the layers, MPa.
        strength: f64,
    },
    /// Burrs of tubes.
    TubeEnds,
    /// Nails in old wood.
    HiddenMetal,
    /// Lead in old paint.
    OldPaint,
    /// Dust of the top's wood.
    Dust(wood::Kind),
    /// Preservative in old wood.
    TreatedWood,
    /// Screws driven too far.
    Screws,
    /// A heavy top.
    Lifting {
        /// Mass of the top, kg.
        mass: f64,
    },
    /// Holes through tubes.
    DrillingThroughTubes,
    /// Uncured epoxy.
    Epoxy,
    /// The first load.
    Collapse,
    /// Plastic that grows old.
    Age {
        /// Years between two looks at it.
        years: f64,
    },
    /// Warm plastic.
    Heat {
        /// Filament, as the user calls it.
        filament: String,
        /// Its service limit, C.
        limit: f64,
    },
    /// Live metal legs.
    MainsEquipment,
    /// Things and people at the edge.
    Tipping {
        /// What tips the empty table, where that is less than a child who hangs on it.
        child: Option<Tip>,
        /// Whether the file says that children are about.
        children: bool,
    },
    /// Somebody sits or steps on it.
    SeatOrStep,
    /// Heavy loads and water.
    TanksAndFloors {
        /// Mass of all that is put on top, kg.
        mass: f64,
        /// Feet that it stands on.
        feet: usize,
    },
    /// What the figures are worth.
    Estimates,
}

/// A step of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// Before anything is made.
    Design,
    /// Printing the parts.
    Printing,
    /// Cutting the tubes.
    Cutting,
    /// Drilling the top.
    Drilling,
    /// Screwing the brackets on.
    Assembly,
    /// Setting the legs into the brackets.
    SettingLegs,
    /// The proof load.
    FirstLoad,
    /// From then on.
    Use,
}

impl Caution {
    /// The step of the work that it belongs to.
    #[must_use]
    pub const fn work(&self) -> Work {
        match self {
            Self::NoCure { .. } => Work::Design,
            Self::Fumes | Self::Fire | Self::LayerBond { .. } => Work::Printing,
            Self::TubeEnds => Work::Cutting,
            Self::HiddenMetal | Self::OldPaint | Self::Dust(_) | Self::TreatedWood => Work::Drilling,
            Self::Screws | Self::Lifting { .. } => Work::Assembly,
            Self::DrillingThroughTubes | Self::Epoxy => Work::SettingLegs,
            Self::Collapse => Work::FirstLoad,
            Self::Age { .. } | Self::Heat { .. } | Self::MainsEquipment | Self::Tipping { .. } => Work::Use,
            Self::SeatOrStep | Self::TanksAndFloors { .. } | Self::Estimates => Work::Use,
        }
    }
}

/// All that apply, in the order of the work.
#[must_use]
pub fn cautions(m: &Model, f: &Forces) -> Vec<Caution> {
    let mut all = printing(m);
    all.push(Caution::TubeEnds);
    all.extend(drilling(m));
    all.extend(assembly(m));
    all.extend(setting_legs(m));
    all.push(Caution::Collapse);
    all.extend(in_use(m, f));
    all
}

fn printing(m: &Model) -> Vec<Caution> {
    let mut all = vec![Caution::Fumes, Caution::Fire];
    if m.params.printing.coupons.is_empty() {
        let strength = plastic::characteristic(m, plastic::Kind::AcrossLayers).value;
        all.push(Caution::LayerBond { strength });
    }
    all
}

fn drilling(m: &Model) -> Vec<Caution> {
    let kind = m.params.top.wood.kind;
    let mut all = vec![Caution::HiddenMetal, Caution::OldPaint, Caution::Dust(kind)];
    all.extend(matches!(kind, wood::Kind::Hardwood | wood::Kind::Softwood).then_some(Caution::TreatedWood));
    all
}

fn assembly(m: &Model) -> Vec<Caution> {
    let mass = m.top_mass();
    let mut all = vec![Caution::Screws];
    all.extend((mass > TWO_PEOPLE).then_some(Caution::Lifting { mass }));
    all
}

fn setting_legs(m: &Model) -> Vec<Caution> {
    let hold = &m.params.bracket.hold;
    let bolted = hold.cross_bolt.is_some() || m.ties.iter().any(|t| !t.design.bolts.is_empty());
    let mut all = Vec::new();
    all.extend(bolted.then_some(Caution::DrillingThroughTubes));
    all.extend(hold.bonded.then_some(Caution::Epoxy));
    all
}

fn in_use(m: &Model, f: &Forces) -> Vec<Caution> {
    let p = &m.params;
    let limit = p.printing.filament.service_temperature();
    let child = stability::tips(m, f).empty.filter(Tip::below_child);
    let mut all = vec![
        Caution::Age { years: making::inspection_years(m) },
        Caution::Heat { filament: p.filament_name().to_owned(), limit },
        Caution::MainsEquipment,
        Caution::Tipping { child, children: p.place.children },
    ];
    all.extend(p.place.sat_on.then_some(Caution::SeatOrStep));
    all.extend(heavy(m));
    all.push(Caution::Estimates);
    all
}

/// Mass of all that is put on top, kg, however long it stays, and whether water is among it.
fn put_on(m: &Model) -> (f64, bool) {
    let stands = |l: &&Load| l.direction[2] < -0.5 && (l.mass > 0.0 || l.lasts >= Duration::Hours);
    let water = |l: &Load| {
        let name = l.name.to_lowercase();
        WATER
            .iter()
            .any(|word| name.split(|c: char| !c.is_alphanumeric()).any(|part| part.trim_end_matches('s') == *word))
    };
    let loads = m.params.loads.iter().filter(stands);
    loads.fold((0.0, false), |(mass, wet), l| (mass + l.force / GRAVITY, wet || water(l)))
}

fn heavy(m: &Model) -> Option<Caution> {
    let (mass, water) = put_on(m);
    (mass > HEAVY || water).then_some(Caution::TanksAndFloors { mass, feet: m.legs.len() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics;

    /// A low table of one load, with keys put in.
    fn found(load: &str, more: &str) -> Vec<Caution> {
        let text = format!(
            r#"{{"top": {{"length": "900 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "400 mm",
                "legs": {{"tube": "25 x 2 mm", "count": 3}}, "loads": [{load}] {more}}}"#
        );
        let model = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
        cautions(
            &model,
            &mechanics::solve(&model, mechanics::Detail::Full, &mechanics::Cache::default()).expect("solved"),
        )
    }

    fn floors(load: &str) -> Option<(f64, usize)> {
        found(load, "").into_iter().find_map(|c| match c {
            Caution::TanksAndFloors { mass, feet } => Some((mass, feet)),
            _ => None,
        })
    }

    const PLAIN: &str = r#"{"mass": "40 kg"}"#;

    #[test]
    fn a_tank_is_cautioned_of_for_any_time_and_on_the_feet_it_has() {
        for lasts in ["minutes", "days", "years"] {
            let load = format!(r#"{{"name": "rain barrel, full", "mass": "60 kg", "lasts": "{lasts}"}}"#);
            let (mass, feet) = floors(&load).expect("cautioned");
            assert!((mass - 60.0).abs() < 1e-9 && feet == 3, "{lasts}: {mass} kg on {feet}");
        }
        assert!(floors(r#"{"mass": "101 kg", "lasts": "hours"}"#).is_some());
        for name in ["buttons", "books"] {
            assert_eq!(floors(&format!(r#"{{"name": "{name}", "mass": "40 kg"}}"#)), None, "{name}");
        }
    }

    #[test]
    fn a_child_s_weight_that_tips_is_said_whoever_is_about() {
        let tipping = |more: &str| {
            found(PLAIN, more).into_iter().find_map(|c| match c {
                Caution::Tipping { child, children } => Some((child.is_some(), children)),
                _ => None,
            })
        };
        assert_eq!(tipping(""), Some((true, false)));
        assert_eq!(tipping(r#", "place": {"children": true}"#), Some((true, true)));
    }

    #[test]
    fn cautions_of_what_is_not_there_are_left_out() {
        let (plain, bonded) = (found(PLAIN, ""), found(PLAIN, r#", "bracket": {"hold": "bonded"}"#));
        assert!(!plain.contains(&Caution::Epoxy) && bonded.contains(&Caution::Epoxy));
        let drilled = |all: &[Caution]| all.contains(&Caution::DrillingThroughTubes);
        assert!(drilled(&plain) && !drilled(&bonded));
        assert!(!plain.contains(&Caution::SeatOrStep));
        assert!(found(PLAIN, r#", "place": {"sat_on": true}"#).contains(&Caution::SeatOrStep));
        for all in [plain, bonded] {
            let mut kinds: Vec<_> = all.iter().map(|c| format!("{:?}", std::mem::discriminant(c))).collect();
            kinds.sort_unstable();
            kinds.dedup();
            assert_eq!(kinds.len(), all.len(), "each once");
        }
    }

    #[test]
    fn reclaimed_boards_may_be_treated_and_sheets_are_not() {
        let of = |wood: &str| {
            let text = format!(
                r#"{{"top": {{"length": "900 mm", "width": "600 mm", "thickness": "30 mm", "wood": "{wood}"}}, "height": "400 mm",
                    "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}]}}"#
            );
            drilling(&Model::new(&crate::params::read(&text).expect("read")).expect("a model"))
        };
        let oak = of("European oak");
        assert!(oak.contains(&Caution::Dust(wood::Kind::Hardwood)) && oak.contains(&Caution::TreatedWood));
        assert!(of("Scots pine").contains(&Caution::Dust(wood::Kind::Softwood)));
    }
}

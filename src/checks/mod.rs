//! Model and forces to checks: each a demand against a capacity, with its clause and its working.

mod bracket;
mod cautions;
mod changes;
mod foot;
mod govern;
mod leg;
mod making;
mod plastic;
mod remedies;
mod screws;
mod stability;
mod top;
mod variation;

use crate::clauses::working::{figures, step};
use crate::mechanics::Forces;
use crate::mechanics::estimate::Plates;
use crate::model::Model;
use crate::source::Clause;

pub use cautions::NO_CURE;
pub use making::inspection_years;
pub use plastic::{Allowable, Kind, Section, allowable};
pub use remedies::{Found, apply, remedies};
pub use stability::tip_loads;
pub use variation::{Variation, variation};

type Subject = fn(&Model, &Forces) -> Vec<Check>;

/// Every check, by subject.
pub(crate) const CHECKS: &[Subject] = &[
    top::bending_along,
    top::bending_across,
    top::sag,
    top::crushing,
    leg::stress,
    leg::buckling,
    leg::critical_load,
    leg::play,
    leg::socket_bearing,
    leg::socket_splitting,
    leg::pull_out,
    leg::ties,
    bracket::boss_root,
    bracket::gusset_toe,
    bracket::plate_bending,
    bracket::head_pull_through,
    bracket::head_bearing,
    screws::pull,
    screws::lateral,
    screws::combined,
    screws::one_lost,
    foot::end_bearing,
    leg::foot_bearing,
    foot::floor,
    foot::levelling_bolt,
    stability::child,
    stability::loads,
    stability::tilt,
    stability::sway_x,
    stability::sway_y,
    stability::frequency,
    stability::shaking,
    making::heat,
    making::movement_in_bracket,
    making::movement_on_rails,
    making::above_tip,
    making::bed,
    making::walls,
    making::overhang,
    making::driver,
];

/// All checks of a model, the highest utilisation first; equal ones in the order of [`CHECKS`].
#[must_use]
pub fn all(model: &Model, forces: &Forces) -> Vec<Check> {
    let mut checks: Vec<Check> = CHECKS.iter().flat_map(|check| check(model, forces)).collect();
    checks.sort_by(|a, b| b.utilisation().total_cmp(&a.utilisation()));
    checks
}

/// Checks and cautions, without remedies.
#[must_use]
pub fn checked(model: &Model, forces: &Forces) -> Checked {
    Checked { checks: all(model, forces), remedies: Vec::new(), cautions: cautions::cautions(model) }
}

/// Adds what would cure what fails or is tight, or the caution that nothing was found. `text` is the parameter file,
/// `plates` the plate models of its brackets.
pub fn advise(text: &str, model: &Model, plates: &Plates, checked: &mut Checked) {
    let Ok(file) = serde_json::from_str(text) else { return };
    let found = remedies(&file, model, &checked.checks, plates);
    let verdict = checked.verdict();
    checked.cautions.extend((!found.all).then(|| cautions::no_cure(found.tried, verdict)));
    checked.remedies = found.remedies;
}

/// Last line of every working.
fn utilisation_step(demand: f64, capacity: f64, unit: &str) -> String {
    step(
        "utilisation = demand / capacity",
        &format!("{} {unit} / {} {unit}", figures(demand), figures(capacity)),
        demand / capacity,
        "",
    )
}

/// Utilisation up to which a check is adequate.
pub const ADEQUATE: f64 = 0.80;

/// One demand against one capacity.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What is checked, such as `screws: withdrawal`.
    pub name: &'static str,
    /// Where, such as `leg 2, screw 5`.
    pub place: String,
    /// The governing load case, with the joint estimate: `push 200 N along x (soft joints)`.
    pub case: String,
    /// Now, or after the stated life.
    pub when: When,
    /// What is asked of it, in `unit`.
    pub demand: f64,
    /// What it bears, in `unit`; above zero.
    pub capacity: f64,
    /// Unit of demand and capacity.
    pub unit: &'static str,
    /// Where the rule comes from.
    pub clause: Clause,
    /// Working: formula, numbers put in, result; one line each.
    pub steps: Vec<String>,
    /// Every source the working draws on.
    pub sources: Vec<Clause>,
}

/// When a check holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// New.
    Now,
    /// After the stated life: long loads, heat, moisture.
    AfterLife,
}

impl When {
    /// As the report shows it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Now => "now",
            Self::AfterLife => "after the stated life",
        }
    }
}

impl Check {
    /// Demand over capacity; 1.00 is the limit.
    #[must_use]
    pub fn utilisation(&self) -> f64 {
        self.demand / self.capacity
    }

    /// What this check alone would say.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        Verdict::of(self.utilisation())
    }
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Every utilisation up to 0.80.
    Adequate,
    /// Every utilisation up to 1.00.
    Tight,
    /// Something above 1.00.
    NotAdequate,
}

impl Verdict {
    /// For a utilisation.
    #[must_use]
    pub fn of(utilisation: f64) -> Self {
        if utilisation <= ADEQUATE {
            Self::Adequate
        } else if utilisation <= 1.0 {
            Self::Tight
        } else {
            Self::NotAdequate
        }
    }

    /// As shown and as `report.json` has it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Adequate => "adequate",
            Self::Tight => "tight",
            Self::NotAdequate => "not adequate",
        }
    }
}

/// Checks with the governing one first, and the verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// Highest utilisation first.
    pub checks: Vec<Check>,
    /// What would cure what fails or is tight.
    pub remedies: Vec<Remedy>,
    /// Cautions that apply: heading, text, the step they belong to.
    pub cautions: Vec<Caution>,
}

/// A change that cures a check.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// The change or pair of changes in words: `rails along the width`.
    pub change: String,
    /// The changes as JSON pointers and values of the parameter file, so that they can be tried.
    pub edits: Vec<(String, serde_json::Value)>,
    /// The checks it cures, or `every check`.
    pub cures: String,
    /// Highest utilisation of all checks after the change.
    pub utilisation: f64,
}

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The step it belongs to: `printing`, `cutting`, `drilling`, `assembly`, `first load`, `use`.
    pub step: &'static str,
    /// Short heading.
    pub heading: &'static str,
    /// What is dangerous and what to do next.
    pub text: String,
}

impl Checked {
    /// Of all checks together.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.checks.iter().map(Check::verdict).max().unwrap_or(Verdict::Adequate)
    }

    /// The check with the highest utilisation.
    #[must_use]
    pub fn governing(&self) -> Option<&Check> {
        self.checks.first()
    }
}

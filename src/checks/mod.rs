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
mod words;

use crate::clauses::working::{figures, step};
use crate::mechanics::Forces;
use crate::mechanics::estimate::Plates;
use crate::model::Model;
use crate::source::Clause;

pub use cautions::{FIGURES, NO_CURE};
pub use making::inspection_years;
pub use plastic::{Allowable, Kind, Section, allowable};
pub use remedies::{Found, apply, remedies};
pub use stability::{Tip, Tips, tip_loads, tipping_push, tips};
pub use variation::{Variation, variation};
pub use words::{reserve, used};

type Subject = fn(&Model, &Forces) -> Vec<Check>;

/// A kind of check.
pub(crate) struct Kept {
    /// Its function, for the message where it could not be done.
    name: &'static str,
    /// Whether a table has what it checks; then it must give at least one check.
    applies: fn(&Model, &Forces) -> bool,
    check: Subject,
}

fn always(_: &Model, _: &Forces) -> bool {
    true
}

/// Lines `subject::check;`, or `subject::check if subject::applies;` for what not every table has.
macro_rules! kept {
    ($($subject:ident::$check:ident $(if $where:ident::$applies:ident)?;)*) => {
        &[$(Kept {
            name: concat!(stringify!($subject), "::", stringify!($check)),
            applies: kept!(@ $($where::$applies)?),
            check: $subject::$check,
        }),*]
    };
    (@) => { always };
    (@ $where:ident::$applies:ident) => { $where::$applies };
}

/// Every check, by subject.
pub(crate) const CHECKS: &[Kept] = kept! {
    top::bending_along;
    top::bending_across;
    top::sag;
    top::crushing;
    leg::stress;
    leg::buckling;
    leg::critical_load;
    leg::play;
    leg::socket_bearing;
    leg::socket_splitting;
    leg::pull_out;
    leg::ties if leg::tied;
    leg::tie_bolts if leg::tied;
    bracket::boss_root;
    bracket::gusset_toe if bracket::has_gussets;
    bracket::plate_bending;
    bracket::head_pull_through;
    bracket::head_bearing;
    screws::pull;
    screws::lateral;
    screws::combined;
    screws::one_lost;
    foot::end_bearing;
    leg::foot_bearing;
    foot::floor;
    foot::levelling_bolt if foot::levels;
    stability::child if stability::children_reach;
    stability::loads if stability::loads_tip;
    stability::tilt;
    stability::sway_x;
    stability::sway_y;
    stability::frequency;
    stability::shaking if stability::shakes;
    making::heat;
    making::movement_in_bracket;
    making::movement_on_rails if making::rails_across;
    making::above_tip;
    making::bed;
    making::walls;
    making::overhang;
    making::driver;
};

/// Checks that could not be done on a table that has what they check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undone(Vec<&'static str>);

impl std::fmt::Display for Undone {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "not checked: {}", self.0.join(", "))
    }
}

impl std::error::Error for Undone {}

/// All checks of a model: plastic in air too hot for it first, then the highest utilisation; equal ones in the order of
/// [`CHECKS`].
///
/// # Errors
/// Checks that the table needs and that gave nothing.
pub fn all(model: &Model, forces: &Forces) -> Result<Vec<Check>, Undone> {
    let due: Vec<&Kept> = CHECKS.iter().filter(|kept| (kept.applies)(model, forces)).collect();
    let done: Vec<Vec<Check>> = due.iter().map(|kept| (kept.check)(model, forces)).collect();
    let undone = due.iter().zip(&done).filter(|(_, checks)| checks.is_empty()).map(|(kept, _)| kept.name);
    let undone: Vec<&'static str> = undone.collect();
    if !undone.is_empty() {
        return Err(Undone(undone));
    }
    let mut checks: Vec<Check> = done.into_iter().flatten().collect();
    checks.sort_by(Check::before);
    Ok(checks)
}

/// Checks and cautions, without remedies.
///
/// # Errors
/// As [`all`].
pub fn checked(model: &Model, forces: &Forces) -> Result<Checked, Undone> {
    let (checks, cautions) = (all(model, forces)?, cautions::cautions(model, forces));
    Ok(Checked { checks, remedies: Vec::new(), cautions, notes: notes(model, forces) })
}

/// What is said with the verdict, whatever it is.
fn notes(model: &Model, forces: &Forces) -> Vec<String> {
    let mut all = vec![stability::tips(model, forces).words()];
    let outside = &forces.outside_studied;
    all.extend((!outside.is_empty()).then(|| {
        format!("Outside the studied range ({}): the joints' two estimates lie further apart.", outside.join(", "))
    }));
    all
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
    /// Demand, in `unit`.
    pub demand: f64,
    /// Capacity, in `unit`; above zero.
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

    /// Order of telling: too hot for the plastic first, then the highest utilisation.
    #[must_use]
    pub fn before(&self, other: &Self) -> std::cmp::Ordering {
        let rank = |c: &Self| (c.too_hot().is_some(), c.utilisation());
        let ((hot, used), (other_hot, other_used)) = (rank(self), rank(other));
        other_hot.cmp(&hot).then(other_used.total_cmp(&used))
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
    /// What is said with the verdict, whatever it is: what tips the table, what lies outside the studied range.
    pub notes: Vec<String>,
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
    /// The step it belongs to: `design`, `printing`, `cutting`, `drilling`, `assembly`, `setting legs`, `first load`, `use`.
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

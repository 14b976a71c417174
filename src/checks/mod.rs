//! Model and forces to checks: each a demand against a capacity, with its clause and its working.

mod bracket;
mod cautions;
mod foot;
mod govern;
mod id;
mod leg;
mod making;
mod measure;
mod notes;
mod plastic;
mod screws;
mod stability;
mod subject;
mod tie;
mod top;
mod under;
mod working;

use crate::mechanics::Forces;
use crate::model::Model;
use crate::params::{Coupons, Edit};
use crate::source::Clause;

pub use cautions::{Caution, Work};
pub use id::{CheckId, Concern};
pub use making::inspection_years;
pub use measure::{Counted, Edges, Length, Measure};
pub use notes::Note;
pub use plastic::{Allowable, Kind, Section, allowable, characteristic, of_equal_coupons};
pub use stability::{EdgePlace, Tip, Tips, tip_loads, tipping_push, tips};
pub use subject::{Component, Subject};
pub use under::Under;
pub use working::{Fact, FrameFact, ScrewFact, Step, StrengthFact};

type Do = fn(&Model, &Forces) -> Vec<Check>;

/// A kind of check.
pub(crate) struct Kept {
    /// Which one, for the message where it could not be done.
    id: CheckId,
    /// Whether a table has what it checks; then it must give at least one check.
    applies: fn(&Model, &Forces) -> bool,
    check: Do,
}

fn always(_: &Model, _: &Forces) -> bool {
    true
}

/// Lines `Id: file::check;`, or `Id: file::check if file::applies;` for what not every table has.
macro_rules! kept {
    ($($id:ident: $file:ident::$check:ident $(if $where:ident::$applies:ident)?;)*) => {
        &[$(Kept {
            id: CheckId::$id,
            applies: kept!(@ $($where::$applies)?),
            check: $file::$check,
        }),*]
    };
    (@) => { always };
    (@ $where:ident::$applies:ident) => { $where::$applies };
}

/// Every check, by subject.
pub(crate) const CHECKS: &[Kept] = kept! {
    TopAlong: top::bending_along;
    TopAcross: top::bending_across;
    TopSag: top::sag;
    TopCrushing: top::crushing;
    TubeStress: leg::stress;
    TubeBuckling: leg::buckling;
    CriticalLoad: leg::critical_load;
    Play: leg::play;
    TubesSlide: leg::sliding if leg::may_slide;
    BracketSocket: leg::socket_bearing;
    SocketSplit: leg::socket_splitting;
    TubePulledOut: leg::pull_out;
    TieCollar: tie::collars if tie::tied;
    TieBolt: tie::bolts if tie::tied;
    BossRoot: bracket::boss_root;
    GussetToe: bracket::gusset_toe if bracket::has_gussets;
    PlateBending: bracket::plate_bending;
    HeadPullThrough: bracket::head_pull_through;
    HeadPressure: bracket::head_bearing;
    ScrewWithdrawal: screws::pull;
    ScrewLateral: screws::lateral;
    ScrewCombined: screws::combined;
    ScrewLost: screws::one_lost;
    TubeEnd: foot::end_bearing;
    FootSocket: leg::foot_bearing;
    FloorPressure: foot::floor;
    LevellingBolt: foot::levelling_bolt if foot::levels;
    TippingChild: stability::child if stability::children_reach;
    TippingLoad: stability::loads if stability::loads_tip;
    TippingEdge: stability::edge_load if stability::edge_is_loaded;
    TippingTilt: stability::tilt;
    SwayLength: stability::sway_x;
    SwayWidth: stability::sway_y;
    Frequency: stability::frequency;
    Shaking: stability::shaking if stability::shakes;
    Heat: making::heat;
    MovementUnderBracket: making::movement_in_bracket;
    MovementOnRail: making::movement_on_rails if making::rails_across;
    WoodAboveTips: making::above_tip;
    Bed: making::bed;
    BossWall: making::walls;
    Overhang: making::overhang;
    DriverRoom: making::driver;
};

/// Checks that could not be done on a table that has what they check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undone(pub Vec<CheckId>);

impl std::error::Error for Undone {}

/// All checks of a model: plastic in air too hot for it first, then the highest utilisation; equal ones in the order of
/// [`CHECKS`].
///
/// # Errors
/// Checks that the table needs and that gave nothing.
pub fn all(model: &Model, forces: &Forces) -> Result<Vec<Check>, Undone> {
    let due: Vec<&Kept> = CHECKS.iter().filter(|kept| (kept.applies)(model, forces)).collect();
    let done: Vec<Vec<Check>> = due.iter().map(|kept| (kept.check)(model, forces)).collect();
    let undone = due.iter().zip(&done).filter(|(_, checks)| checks.is_empty()).map(|(kept, _)| kept.id);
    let undone: Vec<CheckId> = undone.collect();
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
    Ok(Checked { checks, tear: None, remedies: Vec::new(), cautions, notes: notes::notes(model, forces) })
}

/// Last step of every working.
const fn utilisation_step(demand: f64, capacity: f64, unit: &'static str) -> Step {
    Step::Utilisation { demand, capacity, unit }
}

/// Utilisation up to which a check is adequate.
pub const ADEQUATE: f64 = 0.80;

/// From here on a utilisation within the limit reads 1.00.
const FULL: f64 = 0.995;

/// Whether a utilisation passes and reads 1.00: nothing is left.
#[must_use]
pub fn is_full(utilisation: f64) -> bool {
    (FULL..=1.0).contains(&utilisation)
}

/// One demand against one capacity.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What is checked.
    pub id: CheckId,
    /// What is checked on: the part or place.
    pub subject: Subject,
    /// The governing load case, with the joint estimate.
    pub case: Under,
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
    /// Working; the utilisation last.
    pub working: Vec<Step>,
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

impl Check {
    /// Demand over capacity; 1.00 is the limit.
    #[must_use]
    pub fn utilisation(&self) -> f64 {
        self.demand / self.capacity
    }

    /// Order of telling: too hot for the plastic first, then strength before firmness, then the highest utilisation.
    #[must_use]
    pub fn before(&self, other: &Self) -> std::cmp::Ordering {
        let hot = other.is_too_hot().cmp(&self.is_too_hot());
        let concern = self.id.concern().cmp(&other.id.concern());
        hot.then(concern).then(other.utilisation().total_cmp(&self.utilisation()))
    }

    /// Whether air is too hot for the plastic.
    #[must_use]
    pub const fn is_too_hot(&self) -> bool {
        matches!(self.case, Under::TooHot { .. })
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
}

/// Checks with the governing one first, and the verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// Strength before firmness, the highest utilisation of each first.
    pub checks: Vec<Check>,
    /// Coupons that would let pass what fails or is tight across the layers; told before all else that would help.
    pub tear: Option<Tear>,
    /// What would cure what fails or is tight.
    pub remedies: Vec<Remedy>,
    /// Cautions that apply, in the order of the work.
    pub cautions: Vec<Caution>,
    /// What is said with the verdict, whatever it is: what tips the table, what lies outside the studied range.
    pub notes: Vec<Note>,
}

/// What coupons would have to give.
#[derive(Clone, Debug, PartialEq)]
pub struct Tear {
    /// Their 5 % value, MPa.
    pub strength: f64,
    /// What passes by it; not empty.
    pub cured: Vec<CheckId>,
}

impl Tear {
    /// Mean of as many coupons as are printed, where they scatter little, MPa.
    #[must_use]
    pub fn mean(&self) -> f64 {
        match of_equal_coupons(self.strength) {
            Coupons::Strengths(all) | Coupons::Loads(all) => all[0],
        }
    }
}

/// A change that cures a check.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// The changes; not empty.
    pub measures: Vec<Measure>,
    /// The changes as values of keys, so that they can be tried.
    pub edits: Vec<Edit>,
    /// What it cures.
    pub cures: Cures,
    /// Highest utilisation of all checks after the change.
    pub utilisation: f64,
}

/// What a change cures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cures {
    /// Every check.
    Every,
    /// These; not empty.
    These(Vec<CheckId>),
}

impl Cures {
    /// Whether a check is among them.
    #[must_use]
    pub fn has(&self, id: CheckId) -> bool {
        match self {
            Self::Every => true,
            Self::These(ids) => ids.contains(&id),
        }
    }
}

impl Checked {
    /// Of all checks together.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.checks.iter().map(Check::verdict).max().unwrap_or(Verdict::Adequate)
    }

    /// Of the checks of one concern: a table that holds may still feel loose.
    #[must_use]
    pub fn verdict_on(&self, concern: Concern) -> Verdict {
        self.governing(concern).map_or(Verdict::Adequate, Check::verdict)
    }

    /// The check that governs a concern: too hot for the plastic, else the highest utilisation.
    #[must_use]
    pub fn governing(&self, concern: Concern) -> Option<&Check> {
        self.checks.iter().filter(|c| c.id.concern() == concern).min_by(|a, b| a.before(b))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::evaluate;
    use crate::mechanics::{Cache, Detail};
    use std::collections::BTreeSet;

    #[test]
    fn every_check_is_made_once_under_its_own_id() {
        let mut made: Vec<CheckId> = CHECKS.iter().map(|kept| kept.id).collect();
        made.sort_unstable();
        assert_eq!(made, CheckId::ALL);
        let params = crate::params::read(crate::params::built_in()).expect("the built-in bench");
        let found = evaluate(&params, Detail::Sketch, &Cache::default()).expect("solved");
        let of =
            |kept: &Kept| (kept.check)(&found.model, &found.forces).into_iter().map(|c| c.id).collect::<BTreeSet<_>>();
        for kept in CHECKS.iter().filter(|kept| (kept.applies)(&found.model, &found.forces)) {
            assert_eq!(of(kept), BTreeSet::from([kept.id]));
        }
    }
}

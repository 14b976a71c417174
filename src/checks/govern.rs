//! Finding the load case, joint estimate and subject that govern a check.

use super::{Check, CheckId, Step, Subject, Under, When};
use crate::mechanics::{CaseForces, Forces, Solution, exceeds};
use crate::model::{Case, Model, Purpose};
use crate::params::Duration;
use crate::source::Clause;

/// What is tried: one load case with one estimate of the joints, at one time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trial<'a> {
    pub model: &'a Model,
    pub case: &'a Case,
    pub forces: &'a CaseForces,
    pub solution: &'a Solution,
    pub when: When,
}

impl Trial<'_> {
    /// The case with the estimate that governs.
    fn under(&self) -> Under {
        Under::Case { name: self.case.name.clone(), joints: self.solution.estimate }
    }
}

/// Demand and capacity of one subject in one trial.
#[derive(Clone, Debug)]
pub(super) struct Outcome<W> {
    pub subject: Subject,
    pub demand: f64,
    pub capacity: f64,
    /// What the demand was worked out from, for the working of this very outcome.
    pub from: W,
}

/// The fixed side of a check.
pub(super) struct Rule {
    pub id: CheckId,
    pub unit: &'static str,
    pub clause: Clause,
}

/// Load-duration factor of wood.
fn duration_factor(lasts: Duration) -> f64 {
    use crate::clauses::withdrawal::Duration as Nds;
    match lasts {
        Duration::Seconds | Duration::Minutes | Duration::Repeated => Nds::TenMinutes.factor(),
        Duration::Hours | Duration::Days => Nds::SevenDays.factor(),
        Duration::Months => Nds::TwoMonths.factor(),
        Duration::Years => Nds::Permanent.factor(),
    }
}

/// Load-duration factor at a time: what stays counts as a week when new.
pub(super) fn duration_at(lasts: Duration, when: When) -> f64 {
    duration_factor(if when == When::Now { lasts.min(Duration::Days) } else { lasts })
}

const BOTH: [When; 2] = [When::Now, When::AfterLife];

/// Tries every strength case with every estimate, now and after the stated life, and keeps the worst of each time.
/// `judge` gives the outcomes of a trial; `explain` the working and sources of the worst.
pub(super) fn over_cases<W>(
    model: &Model,
    forces: &Forces,
    rule: &Rule,
    judge: impl Fn(&Trial) -> Vec<Outcome<W>>,
    explain: impl Fn(&Trial, &Outcome<W>) -> (Vec<Step>, Vec<Clause>),
) -> Vec<Check> {
    let all = BOTH.iter().filter_map(|when| worst(model, forces, rule, *when, &judge, &explain));
    let mut all: Vec<Check> = all.collect();
    // What neither creeps nor ages is said once.
    all.dedup_by(|later, now| (later.demand, later.capacity) == (now.demand, now.capacity));
    all
}

/// Stands for a demand without bound (a plate that tears off, a tube beyond its Euler load), so that every utilisation
/// can be compared and written.
const UNBOUNDED: f64 = 1e9;
/// Least capacity, in any unit, for the same reason.
const LEAST: f64 = 1e-6;

impl<W> Outcome<W> {
    fn bounded(self) -> Self {
        let demand = if self.demand.is_finite() { self.demand.clamp(0.0, UNBOUNDED) } else { UNBOUNDED };
        let capacity = if self.capacity.is_nan() { LEAST } else { self.capacity.clamp(LEAST, UNBOUNDED) };
        Self { demand, capacity, ..self }
    }
}

fn worst<W>(
    model: &Model,
    forces: &Forces,
    rule: &Rule,
    when: When,
    judge: &impl Fn(&Trial) -> Vec<Outcome<W>>,
    explain: &impl Fn(&Trial, &Outcome<W>) -> (Vec<Step>, Vec<Clause>),
) -> Option<Check> {
    let mut best: Option<(Trial, Outcome<W>)> = None;
    for solution in &forces.solutions {
        let cases = model.cases.iter().zip(&solution.cases).filter(|(c, _)| c.purpose == Purpose::Strength);
        for (case, case_forces) in cases {
            let trial = Trial { model, case, forces: case_forces, solution, when };
            for outcome in judge(&trial).into_iter().map(Outcome::bounded) {
                let used = outcome.demand / outcome.capacity;
                if best.as_ref().is_none_or(|(_, b)| exceeds(used, b.demand / b.capacity)) {
                    best = Some((trial, outcome));
                }
            }
        }
    }
    let (trial, outcome) = best?;
    let (mut working, sources) = explain(&trial, &outcome);
    working.push(super::utilisation_step(outcome.demand, outcome.capacity, rule.unit));
    Some(Check {
        id: rule.id,
        subject: outcome.subject,
        case: trial.under(),
        when,
        demand: outcome.demand,
        capacity: outcome.capacity,
        unit: rule.unit,
        clause: rule.clause,
        working,
        sources,
    })
}

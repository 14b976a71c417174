//! The checks as rows: what, where, how much, and the working.

use serde::Serialize;

use super::figures::figure;
use crate::checks::{Check, CheckId, Checked, Component, Concern, Note, Step, Verdict};
use crate::output::words::{reserve, used};
use crate::units::System;

/// The bodies that a check is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    component: Component,
    /// Leg number; none: all of the kind.
    leg: Option<usize>,
}

impl Mark {
    /// Of a check; none for the table as a whole.
    #[must_use]
    pub fn of(check: &Check) -> Option<Self> {
        let component = check.subject.component()?;
        let one = !matches!(component, Component::Top | Component::Rail);
        Some(Self { component, leg: check.subject.leg().filter(|_| one).map(|leg| leg + 1) })
    }

    /// Whether a body is it.
    #[must_use]
    pub fn is(self, component: Component, leg: usize) -> bool {
        self.component == component && self.leg.is_none_or(|l| l == leg)
    }

    /// For the line under the view.
    #[must_use]
    pub fn words(self) -> String {
        match self.leg {
            Some(leg) => format!("{}, leg {leg}", self.component.word()),
            None => self.component.word().to_owned(),
        }
    }
}

/// One check as the page shows it.
#[derive(Clone, Debug, Serialize)]
pub struct Row {
    name: &'static str,
    place: String,
    case: String,
    when: &'static str,
    later: bool,
    demand: String,
    capacity: String,
    unit: &'static str,
    utilisation: String,
    /// Length of the bar, per cent; 100 is the limit.
    bar: String,
    level: &'static str,
    verdict: &'static str,
    clause: String,
    steps: Vec<String>,
    sources: Vec<String>,
}

impl Row {
    /// Of one check.
    #[must_use]
    pub fn new(check: &Check) -> Self {
        let utilisation = check.utilisation();
        let mut sources: Vec<String> = check.sources.iter().map(ToString::to_string).collect();
        let clause = check.clause.to_string();
        sources.retain(|s| *s != clause);
        Self {
            name: check.id.words(),
            place: check.subject.words(),
            case: check.case.words(),
            when: check.when.word(),
            later: check.when == crate::checks::When::AfterLife,
            demand: figure(check.demand),
            capacity: figure(check.capacity),
            unit: if check.unit == "-" { "" } else { check.unit },
            utilisation: used(utilisation),
            bar: figure(100.0 * if utilisation.is_finite() { utilisation.clamp(0.0, 1.25) } else { 1.25 }),
            level: level(check.verdict()),
            verdict: check.verdict().words(),
            clause,
            steps: check.working.iter().map(Step::text).collect(),
            sources,
        }
    }
}

/// Class of a verdict on the page.
#[must_use]
pub const fn level(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Adequate => "good",
        Verdict::Tight => "near",
        Verdict::NotAdequate => "over",
    }
}

/// All checks, the governing one first.
#[must_use]
pub fn rows(checked: &Checked) -> Vec<Row> {
    let mut checks: Vec<&Check> = checked.checks.iter().collect();
    checks.sort_by(|a, b| a.before(b));
    checks.into_iter().map(Row::new).collect()
}

/// The first lines of the page.
#[derive(Clone, Debug, Serialize)]
pub struct Answer {
    word: &'static str,
    level: &'static str,
    utilisation: String,
    check: String,
    case: String,
    when: &'static str,
    sentence: String,
    /// Stands on every sheet; empty where the table holds.
    warning: &'static str,
    notes: Vec<String>,
    /// What coupons would do, before all else.
    tear: String,
    remedies: Vec<Cure>,
    counts: [usize; 3],
    over: Vec<Over>,
    firmness: Firmness,
}

/// The second line of the verdict: whether it feels as its user wants it to.
#[derive(Clone, Debug, Serialize)]
struct Firmness {
    word: &'static str,
    level: &'static str,
    sentence: String,
    over: Vec<Over>,
}

impl Firmness {
    fn new(checked: &Checked) -> Self {
        let verdict = checked.verdict_on(Concern::Firmness);
        let sentence = checked.governing(Concern::Firmness).map_or_else(String::new, |check| {
            let used = used(check.utilisation());
            format!("{} is at {used} of the limit that the file sets or leaves as it is.", check.id.words())
        });
        let word = Concern::Firmness.verdict(verdict);
        Self { word, level: level(verdict), sentence, over: over(checked, Concern::Firmness) }
    }
}

/// A sort of check that is not adequate, at its worst.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Over {
    name: &'static str,
    utilisation: String,
}

/// Each sort of check above the limit once, the worst first.
fn over(checked: &Checked, concern: Concern) -> Vec<Over> {
    let fails = |c: &&Check| c.id.concern() == concern && c.verdict() == Verdict::NotAdequate;
    let mut checks: Vec<&Check> = checked.checks.iter().filter(fails).collect();
    checks.sort_by(|a, b| a.before(b));
    let all = checks.into_iter().fold(Vec::new(), |mut all: Vec<(CheckId, Over)>, c| {
        if all.iter().all(|(id, _)| *id != c.id) {
            all.push((c.id, Over { name: c.id.words(), utilisation: used(c.utilisation()) }));
        }
        all
    });
    all.into_iter().map(|(_, over)| over).collect()
}

#[derive(Clone, Debug, Serialize)]
struct Cure {
    change: String,
    cures: String,
    utilisation: String,
    /// What little is left after it.
    reserve: &'static str,
    level: &'static str,
    /// `bracket.screws.count: 10` for each edit of the file.
    edits: Vec<String>,
}

impl Answer {
    /// Verdict, governing check, remedies.
    #[must_use]
    pub fn new(checked: &Checked, units: System) -> Self {
        let verdict = checked.verdict_on(Concern::Strength);
        let governing = checked.governing(Concern::Strength);
        let count = |v| checked.checks.iter().filter(|c| c.verdict() == v).count();
        let cure = |r: &crate::checks::Remedy| Cure {
            change: r.words(),
            cures: r.cures.words(),
            utilisation: used(r.utilisation),
            reserve: reserve(r.utilisation),
            level: level(Verdict::of(r.utilisation)),
            edits: r.edits.iter().map(|edit| format!("{}: {}", edit.key, edit.json(units))).collect(),
        };
        Self {
            word: verdict.words(),
            level: level(verdict),
            utilisation: governing.map_or_else(String::new, |c| used(c.utilisation())),
            check: governing.map_or_else(String::new, |c| format!("{}, {}", c.id.words(), c.subject.words())),
            case: governing.map_or_else(String::new, |c| c.case.words()),
            when: governing.map_or("", |c| c.when.word()),
            sentence: sentence(verdict, governing),
            warning: checked.warning(),
            notes: checked.notes.iter().map(Note::text).collect(),
            tear: checked.tear.as_ref().map_or_else(String::new, crate::checks::Tear::words),
            remedies: checked.remedies.iter().map(cure).collect(),
            counts: [Verdict::Adequate, Verdict::Tight, Verdict::NotAdequate].map(count),
            over: over(checked, Concern::Strength),
            firmness: Firmness::new(checked),
        }
    }
}

fn sentence(verdict: Verdict, governing: Option<&Check>) -> String {
    let Some(check) = governing else { return "Nothing was checked.".into() };
    let percent = figure((100.0 * check.utilisation()).round());
    match (verdict, check.too_hot()) {
        (Verdict::Adequate, _) => {
            format!("The governing check uses {percent} % of its limit; every other check uses less.")
        }
        (Verdict::Tight, _) => format!(
            "It holds by these figures, but the governing check uses {percent} % of its limit: less than a fifth is \
             left in reserve. Strengthen it before you build, if you can."
        ),
        (Verdict::NotAdequate, Some(why)) => {
            format!("Do not build it as it stands: {why}. The other checks count the plastic as at that limit.")
        }
        (Verdict::NotAdequate, None) => {
            format!(
                "Do not build or load it as it stands: the governing check is at {} of its limit.",
                used(check.utilisation())
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::Sample;
    use super::*;
    use crate::checks::Subject;

    #[test]
    fn each_sort_of_failure_is_named_once_at_its_worst() {
        let mut sample = Sample::new("x");
        sample.checked.checks.iter_mut().take(2).for_each(|c| c.capacity = 100.0);
        let found = over(&sample.checked, Concern::Strength);
        assert_eq!(found, [Over { name: "screws: withdrawal", utilisation: "1.84".into() }]);
    }

    #[test]
    fn the_part_is_marked_that_the_check_is_about() {
        let sample = Sample::new("x");
        let marks: Vec<_> = sample.checked.checks.iter().map(Mark::of).collect();
        let at = |component, leg| Some(Mark { component, leg });
        assert_eq!(marks[0], at(Component::Bracket, Some(2)));
        assert_eq!(marks[2], at(Component::Tube, Some(1)));
        assert_eq!(marks[3], at(Component::Top, None));
        assert!(marks[0].is_some_and(|s| s.is(Component::Bracket, 2) && !s.is(Component::Bracket, 1)));
    }

    /// Guessed from words, `buckling between ties` was about ties, the stress of a rail about every tube, and tipping over a
    /// line between legs about tubes.
    #[test]
    fn the_part_of_a_check_was_guessed_from_its_name() {
        let first = Sample::new("x").checked.checks.remove(0);
        let marked = |id, subject| Mark::of(&Check { id, subject, ..first.clone() }).map(|m| (m.component, m.leg));
        let buckles = marked(CheckId::TubeBuckling, Subject::Tube { leg: 1, tube: 0 });
        assert_eq!(buckles, Some((Component::Tube, Some(2))));
        let rail = Subject::Rail { run: crate::params::Run::AlongWidth, legs: [0, 1] };
        assert_eq!(marked(CheckId::TubeStress, rail), Some((Component::Rail, None)));
        assert_eq!(marked(CheckId::TippingChild, Subject::Edge([Some(0), Some(1)])), None);
        assert_eq!(marked(CheckId::WoodAboveTips, Subject::TopOver(0)), Some((Component::Top, None)));
    }
}

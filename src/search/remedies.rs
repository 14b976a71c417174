//! The smallest single change, or the few together, that cure what fails or is tight: found by trying.
//!
//! A change puts typed values at keys of the design, and the whole pipeline up to the checks runs on it; one that the file's
//! own rules refuse is passed over. Most changes are only sketched, each check set right by what full and sketched say of the
//! table as it is; what is told was solved in full. Trials are counted, not timed, so that the same file always gets the
//! same advice.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::changes::{self, Change, Family};
use crate::checks::{ADEQUATE, Check, CheckId, Cures, Remedy, Verdict, is_full};
use crate::evaluate::{Evaluation, evaluate};
use crate::mechanics::{Cache, Detail};
use crate::model::Model;
use crate::parallel;
use crate::params::{Design, Edit};

/// Sketched trials in all (judgement: a second or two; what helps is found within the first half).
const TRIALS: usize = 40;
/// Trials kept for changes together.
const KEPT: usize = 14;
/// Most helpful changes of which pairs are tried.
const HELPFUL: usize = 4;
/// Most changes together: more is another design, and is not told.
const TOGETHER: usize = 4;
/// Cures told for everything at once, and for one check.
const TOLD: usize = 3;
/// Excess that a sketch may show where there is none in full, so that it is worth a proof (judgement: a tenth; a sketch is
/// mostly nearer).
const DOUBT: f64 = 0.1;
/// Rounding that does not count as getting worse.
const SLACK: f64 = 1e-6;

/// Highest utilisation by check, over both times.
type Standing = BTreeMap<CheckId, f64>;

/// What was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Those that cure everything first, then the best single change for each check.
    pub remedies: Vec<Remedy>,
    /// Whether one of them cures everything.
    pub all: bool,
    /// How many changes were tried.
    pub tried: usize,
}

/// Tries changes of the file until everything is within its limit, or trials run out.
#[must_use]
pub fn remedies(design: &Design, model: &Model, checks: &[Check], cache: &Cache) -> Found {
    let now = standing(checks);
    let highest = now.values().copied().fold(0.0, f64::max);
    if highest <= ADEQUATE {
        return Found { all: true, ..Found::default() };
    }
    let limit = if Verdict::of(highest) == Verdict::NotAdequate { 1.0 } else { ADEQUATE };
    let Some(mut search) = Search::new(design, model, cache, now, limit) else { return Found::default() };
    let families: Vec<Family> = changes::families(design, model).into_iter().filter(|f| search.concerns(f)).collect();
    let singles = search.singles(&families);
    let mut whole: Vec<Tried> = singles.iter().filter(|t| search.nearly(t)).cloned().collect();
    whole.sort_by(|a, b| search.nearer(a, b));
    whole.truncate(TOLD);
    let proved = search.proved(&whole).into_iter().flatten().filter(|t| search.excess(&t.after) == 0.0);
    let mut found: Vec<Remedy> = proved.map(|t| search.describe(&t, Cures::Every)).collect();
    let mut all = !found.is_empty();
    if !all {
        found.extend(search.together(&singles).map(|t| search.describe(&t, Cures::Every)));
        all = !found.is_empty();
        found.extend(search.each(&singles, if all { 1 } else { TOLD }));
    }
    found.sort_by_key(rank);
    Found { remedies: found, all, tried: TRIALS - search.left }
}

/// Cures of everything first; of equals those that leave some reserve.
fn rank(remedy: &Remedy) -> (bool, bool) {
    (remedy.cures != Cures::Every, is_full(remedy.utilisation))
}

fn standing(checks: &[Check]) -> Standing {
    let mut all = Standing::new();
    for check in checks {
        let entry = all.entry(check.id).or_insert(0.0);
        *entry = entry.max(check.utilisation());
    }
    all
}

/// A changed design's table, evaluated; none where it is refused.
pub(super) fn changed(design: &Design, edits: &[Edit], detail: Detail, cache: &Cache) -> Option<Evaluation> {
    evaluate(&design.edited(edits).ok()?.resolve().ok()?, detail, cache).ok()
}

/// Where a changed table stands.
fn tried(design: &Design, change: &Change, detail: Detail, cache: &Cache) -> Option<Standing> {
    Some(standing(&changed(design, &change.edits, detail, cache)?.checked.checks))
}

/// A change that was tried, and the next larger step of its kind.
#[derive(Clone, Debug)]
struct Tried {
    change: Change,
    after: Standing,
    larger: Option<Change>,
}

/// The largest step of a family, where one is not refused, and how many trials it took to find it.
type Largest = (Option<Tried>, usize);

struct Search<'a> {
    design: &'a Design,
    cache: &'a Cache,
    now: Standing,
    /// Utilisation of each check in full over the sketched one.
    scale: Standing,
    /// What counts as cured: 1.0 where something fails, else adequate.
    limit: f64,
    left: usize,
}

impl<'a> Search<'a> {
    /// None where the table cannot be sketched.
    fn new(design: &'a Design, model: &Model, cache: &'a Cache, now: Standing, limit: f64) -> Option<Self> {
        let sketched = standing(&evaluate(&model.params, Detail::Sketch, cache).ok()?.checked.checks);
        let both = now.iter().filter_map(|(id, u)| Some((*id, u / sketched.get(id)?)));
        let scale = both.filter(|(_, scale)| scale.is_normal()).collect();
        Some(Self { design, cache, now, scale, limit, left: TRIALS })
    }

    fn bad(&self) -> impl Iterator<Item = CheckId> + '_ {
        self.now.iter().filter(|(_, u)| **u > self.limit).map(|(id, _)| *id)
    }

    fn concerns(&self, family: &Family) -> bool {
        self.bad().any(|id| family.may_help(id))
    }

    /// How far a utilisation is beyond the limit, as a logarithm; 0: within.
    fn beyond(&self, utilisation: f64) -> f64 {
        (utilisation / self.limit).max(1.0).ln()
    }

    /// How far everything is beyond the limit, as a sum; 0: all within.
    fn excess(&self, after: &Standing) -> f64 {
        after.values().map(|u| self.beyond(*u)).sum()
    }

    /// The one that leaves less beyond the limit first.
    fn nearer(&self, a: &Tried, b: &Tried) -> Ordering {
        self.excess(&a.after).total_cmp(&self.excess(&b.after))
    }

    /// Everything is within the limit, or so near to it that the sketch may be what is off: each check that was beyond it has
    /// come at least half the way.
    fn nearly(&self, tried: &Tried) -> bool {
        let left = |id: CheckId| tried.after.get(&id).map_or(0.0, |u| self.beyond(*u));
        self.excess(&tried.after) <= DOUBT && self.bad().all(|id| left(id) <= self.beyond(self.now[&id]) / 2.0)
    }

    /// Nothing that is not the check itself got worse beyond its limit.
    fn harmless(&self, after: &Standing) -> bool {
        let before = |id: &CheckId| self.now.get(id).copied().unwrap_or(0.0).max(self.limit);
        after.iter().all(|(id, u)| *u <= before(id) + SLACK)
    }

    /// Checks beyond the limit now that a harmless change brings within it.
    fn cured(&self, after: &Standing) -> Vec<CheckId> {
        if !self.harmless(after) {
            return Vec::new();
        }
        self.bad().filter(|id| after.get(id).copied().unwrap_or(0.0) <= self.limit).collect()
    }

    /// Sketches changes side by side, in order, as far as trials are left.
    fn run(&mut self, changes: &[Change]) -> Vec<Option<Standing>> {
        let taken = changes.len().min(self.left);
        self.left -= taken;
        let mut out = parallel::map(&changes[..taken], |change| self.sketched(change));
        out.resize(changes.len(), None);
        out
    }

    fn sketched(&self, change: &Change) -> Option<Standing> {
        let mut after = tried(self.design, change, Detail::Sketch, self.cache)?;
        after.iter_mut().for_each(|(id, u)| *u *= self.scale.get(id).copied().unwrap_or(1.0));
        Some(after)
    }

    /// Solves in full what was sketched, side by side; the next larger step where the sketch promised too much, none where
    /// that does no better.
    fn proved(&self, sketched: &[Tried]) -> Vec<Option<Tried>> {
        let keeps = |after: &Standing, promised: &[CheckId]| {
            let cured = self.cured(after);
            !cured.is_empty() && promised.iter().all(|id| cured.contains(id))
        };
        let prove = |t: &Tried| {
            let promised = self.cured(&t.after);
            let steps = [Some(&t.change), t.larger.as_ref()].into_iter().flatten();
            let mut full =
                steps.filter_map(|change| Some((change, tried(self.design, change, Detail::Full, self.cache)?)));
            let (change, after) = full.find(|(_, after)| keeps(after, &promised))?;
            Some(Tried { change: change.clone(), after, larger: None })
        };
        parallel::map(sketched, prove)
    }

    /// The largest step of every family, then the smallest that cures as much as it; in the order of the families, until
    /// enough of them cure everything.
    fn singles(&mut self, families: &[Family]) -> Vec<Tried> {
        let (kept, left) = (self.left.min(KEPT), self.left.saturating_sub(KEPT));
        let used = |found: &[Largest]| found.iter().map(|(_, used)| used).sum::<usize>();
        let cures = |(tried, _): &Largest| tried.as_ref().is_some_and(|t| self.excess(&t.after) == 0.0);
        let enough = |found: &[Largest]| found.iter().filter(|f| cures(f)).count() >= TOLD || used(found) >= left;
        let found = parallel::until(families, |family| self.largest(family), enough);
        self.left = left.saturating_sub(used(&found));
        let tried = families.iter().zip(found).filter_map(|(family, (tried, _))| Some((family, tried?)));
        let out = self.smallest(&tried.collect::<Vec<_>>());
        self.left += kept;
        out
    }

    /// The smallest step of each family that cures what its largest does, side by side; each may take the trials that halving
    /// its steps needs, in order, while they last.
    fn smallest(&mut self, largest: &[(&Family, Tried)]) -> Vec<Tried> {
        let mut left = self.left;
        let mut share = |family: &Family, best: &Tried| {
            let halvings = usize::BITS - place(family, &best.change).leading_zeros();
            let trials = if self.cured(&best.after).is_empty() { 0 } else { left.min(halvings as usize) };
            left -= trials;
            trials
        };
        let shares: Vec<_> = largest.iter().map(|(family, best)| (*family, best, share(family, best))).collect();
        let found = parallel::map(&shares, |(family, best, trials)| self.smaller(family, best, *trials));
        self.left -= found.iter().map(|(_, used)| used).sum::<usize>();
        found.into_iter().map(|(tried, _)| tried).collect()
    }

    /// The largest step of a family that is not refused, of the last two, and how many trials that took.
    fn largest(&self, family: &Family) -> Largest {
        let mut used = 0;
        let tried = family.steps.iter().rev().take(2).find_map(|change| {
            used += 1;
            Some(Tried { change: change.clone(), after: self.sketched(change)?, larger: None })
        });
        (tried, used)
    }

    fn once(&mut self, change: &Change) -> Option<Tried> {
        let after = self.run(std::slice::from_ref(change)).pop().flatten()?;
        Some(Tried { change: change.clone(), after, larger: None })
    }

    /// The smallest step that cures what the given one does, and how many trials that took.
    fn smaller(&self, family: &Family, largest: &Tried, trials: usize) -> (Tried, usize) {
        let (cured, end) = (self.cured(&largest.after), place(family, &largest.change));
        let (mut best, mut used) = (largest.clone(), 0);
        let (mut low, mut high) = (0, end);
        while low < high && used < trials {
            let middle = usize::midpoint(low, high);
            let change = &family.steps[middle];
            used += 1;
            match self.sketched(change).filter(|after| self.cured(after) == cured) {
                Some(after) => (best, high) = (Tried { change: change.clone(), after, larger: None }, middle),
                None => low = middle + 1,
            }
        }
        best.larger = family.steps.get(high + 1).filter(|_| high < end).cloned();
        (best, used)
    }

    /// Pairs of the most helpful changes, then more of them on the best pair, until everything is within the limit.
    fn together(&mut self, singles: &[Tried]) -> Option<Tried> {
        let start = self.excess(&self.now);
        let mut helpful: Vec<&Tried> = singles.iter().filter(|t| self.excess(&t.after) < start).collect();
        helpful.sort_by(|a, b| self.nearer(a, b));
        let few = &helpful[..helpful.len().min(HELPFUL)];
        let mut pairs = Vec::new();
        for (i, a) in few.iter().enumerate() {
            pairs.extend(few[i + 1..].iter().filter_map(|b| joined(&a.change, &b.change)));
        }
        let results = self.run(&pairs);
        let tried = pairs.into_iter().zip(results);
        let mut tried: Vec<Tried> =
            tried.filter_map(|(change, after)| Some(Tried { change, after: after?, larger: None })).collect();
        tried.sort_by(|a, b| self.nearer(a, b));
        let mut short = None;
        for pair in tried.iter().take_while(|t| self.nearly(t)).take(TOLD) {
            let full = self.in_full(pair.clone())?;
            if self.excess(&full.after) == 0.0 {
                return Some(full);
            }
            short.get_or_insert(full);
        }
        let best = short.or_else(|| tried.into_iter().next())?;
        self.one_on_another(best, helpful)
    }

    /// Adds changes to a pair that falls short, as long as each helps, until everything is within the limit.
    fn one_on_another(&mut self, pair: Tried, changes: Vec<&Tried>) -> Option<Tried> {
        let (mut best, mut changes) = (pair, changes.into_iter());
        loop {
            let next = changes.next().filter(|_| best.change.measures.len() < TOGETHER && self.left > 0)?;
            let better = joined(&best.change, &next.change).and_then(|change| self.once(&change));
            if let Some(better) = better.filter(|t| self.excess(&t.after) < self.excess(&best.after) - SLACK) {
                best = better;
            }
            if self.excess(&best.after) == 0.0 {
                best = self.in_full(best)?;
            }
            if self.excess(&best.after) == 0.0 {
                return Some(best);
            }
        }
    }

    fn in_full(&self, sketched: Tried) -> Option<Tried> {
        let after = tried(self.design, &sketched.change, Detail::Full, self.cache)?;
        Some(Tried { after, ..sketched })
    }

    /// The few best single changes for each check beyond its limit, each change once with all that it cures.
    fn each(&self, singles: &[Tried], few: usize) -> Vec<Remedy> {
        let mut chosen: Vec<&Tried> = Vec::new();
        for id in self.bad() {
            let mut cures: Vec<&Tried> = singles.iter().filter(|t| self.cured(&t.after).contains(&id)).collect();
            cures.sort_by(|a, b| self.nearer(a, b));
            cures.truncate(few);
            cures.retain(|t| chosen.iter().all(|c| c.change != t.change));
            chosen.extend(cures);
        }
        chosen.sort_by(|a, b| self.nearer(a, b));
        let chosen: Vec<Tried> = chosen.into_iter().cloned().collect();
        let proved = self.proved(&chosen).into_iter().flatten();
        proved.map(|t| self.describe(&t, Cures::These(self.cured(&t.after)))).collect()
    }

    fn describe(&self, tried: &Tried, cures: Cures) -> Remedy {
        Remedy {
            measures: tried.change.measures.clone(),
            edits: tried.change.edits.clone(),
            cures,
            utilisation: tried.after.values().copied().fold(0.0, f64::max),
        }
    }
}

/// Which step of its family a change is.
fn place(family: &Family, change: &Change) -> usize {
    family.steps.iter().position(|step| step == change).unwrap_or(0)
}

/// Two changes together; none where one would undo the other, or where they are more than are told.
fn joined(a: &Change, b: &Change) -> Option<Change> {
    let meet = |p: &str, q: &str| p == q || p.starts_with(&format!("{q}.")) || q.starts_with(&format!("{p}."));
    if a.measures.len() + b.measures.len() > TOGETHER
        || a.edits.iter().any(|p| b.edits.iter().any(|q| meet(&p.key, &q.key)))
    {
        return None;
    }
    let edits = a.edits.iter().chain(&b.edits).cloned().collect();
    Some(Change { measures: [&a.measures[..], &b.measures].concat(), edits })
}

#[cfg(test)]
mod tests {
    use super::super::changes::one;
    use super::*;
    use crate::checks::Measure;
    use crate::params::Value;

    #[test]
    fn more_than_four_changes_are_another_design() {
        let change = |key: &str| one(Measure::Solid, key, Value::Count(1));
        let pair = |a: &str, b: &str| joined(&change(a), &change(b)).expect("two");
        let four = joined(&pair("a", "b"), &pair("c", "d")).expect("four");
        assert_eq!((four.measures.len(), joined(&four, &change("e"))), (TOGETHER, None));
    }

    #[test]
    fn a_cure_without_reserve_comes_after_one_that_leaves_some() {
        let remedy = |cures: Cures, utilisation| Remedy { measures: vec![], edits: vec![], cures, utilisation };
        let mut found = [
            remedy(Cures::These(vec![CheckId::ScrewLateral]), 0.7),
            remedy(Cures::Every, 1.0),
            remedy(Cures::Every, 0.93),
            remedy(Cures::Every, 0.996),
        ];
        found.sort_by_key(rank);
        assert_eq!(found.map(|r| r.utilisation), [0.93, 1.0, 0.996, 0.7]);
    }

    #[test]
    fn changes_of_one_key_do_not_join() {
        let change = |key: &str| one(Measure::Solid, key, Value::Count(1));
        assert_eq!(joined(&change("foot"), &change("foot.bolt")), None);
        assert_eq!(joined(&change("legs.tube"), &change("legs.tubes")).map(|c| c.edits.len()), Some(2));
    }
}

//! Which changed key is the reason that a thing is another one: found by laying the table out again.

use std::collections::BTreeSet;

use serde_json::Value;

use super::change::{Change, Way, applied};
use super::planned;
use super::things::{self, Role, Things};
use crate::output::record::Record;

/// What each change does.
#[derive(Debug)]
pub(super) struct Causes {
    /// Changes that can be told apart, by index, and what each makes another one.
    effects: Vec<(Vec<usize>, BTreeSet<Role>)>,
    /// Things that the program draws otherwise than when the kit was made, from the same file.
    redrawn: BTreeSet<Role>,
    keys: Vec<String>,
    made_by: String,
}

impl Causes {
    /// Tries every change: alone in the old file, and alone taken back in the new one.
    pub(super) fn new(old: &Record, new: &Record, changes: &[Change]) -> Self {
        let keys = changes.iter().map(|c| c.key.clone()).collect();
        let mut causes = Self { effects: Vec::new(), redrawn: BTreeSet::new(), keys, made_by: old.made_by.clone() };
        let Ok(again) = planned(old.text.as_bytes()) else { return causes };
        let trial = Trial { before: things::of(&again), after: things::of(new), old: &again, new, changes };
        causes.redrawn = others(&things::of(old), &trial.before);
        causes.effects = trial.effects();
        causes
    }

    /// Reasons for these things, for people.
    pub(super) fn of<'a>(&self, roles: impl IntoIterator<Item = &'a Role> + Clone) -> Vec<String> {
        let touches = |set: &BTreeSet<Role>| roles.clone().into_iter().any(|role| set.contains(role));
        let together =
            |group: &Vec<usize>| group.iter().map(|i| self.keys[*i].as_str()).collect::<Vec<_>>().join(" with ");
        let mut reasons: Vec<String> =
            self.effects.iter().filter(|(_, set)| touches(set)).map(|(group, _)| together(group)).collect();
        if touches(&self.redrawn) {
            reasons.push(format!("drawn otherwise since {}", self.made_by));
        }
        if reasons.is_empty() && self.keys.len() > 1 {
            reasons.push("the changes together".to_owned());
        }
        reasons
    }

    /// Marks the changes that make nothing another one.
    pub(super) fn mark_idle(&self, changes: &mut [Change]) {
        for (group, set) in &self.effects {
            group.iter().for_each(|i| changes[*i].idle = set.is_empty());
        }
    }
}

/// The two files between which trials lie.
struct Trial<'a> {
    before: Things,
    after: Things,
    old: &'a Record,
    new: &'a Record,
    changes: &'a [Change],
}

impl Trial<'_> {
    fn effects(&self) -> Vec<(Vec<usize>, BTreeSet<Role>)> {
        let (mut apart, mut together) = (Vec::new(), Vec::new());
        for i in 0..self.changes.len() {
            match self.effect(&[i]) {
                Some(set) => apart.push((vec![i], set)),
                None => together.push(i),
            }
        }
        if !together.is_empty() {
            let set = self.effect(&together).unwrap_or_else(|| others(&self.before, &self.after));
            apart.push((together, set));
        }
        apart
    }

    /// What these changes make another one; none where neither file can be used without the other changes.
    fn effect(&self, group: &[usize]) -> Option<BTreeSet<Role>> {
        let chosen = || group.iter().map(|i| &self.changes[*i]);
        let alone = laid(&applied(&self.old.parameters, chosen(), Way::Forth)).map(|t| others(&self.before, &t));
        let without = laid(&applied(&self.new.parameters, chosen(), Way::Back)).map(|t| others(&t, &self.after));
        match (alone, without) {
            (None, None) => None,
            (a, b) => Some(a.into_iter().chain(b).flatten().collect()),
        }
    }
}

fn laid(file: &Value) -> Option<Things> {
    planned(file.to_string().as_bytes()).ok().map(|record| things::of(&record))
}

/// Roles that are only in one of the two, or taken by another thing.
fn others(a: &Things, b: &Things) -> BTreeSet<Role> {
    let differs = |role: &&Role| match (a.get(*role), b.get(*role)) {
        (Some(a), Some(b)) => !a.same(b),
        _ => true,
    };
    a.keys().chain(b.keys()).filter(differs).cloned().collect()
}

//! Groups and lists of groups, and keys that nobody knows.

use std::collections::BTreeSet;

use super::{Found, Group, Reader};
use crate::params::accept::{Accept, Default, KEYS, Shape, span};
use crate::params::family::NOTE;
use crate::params::spelling::{nearest, shortened};
use crate::params::text::{Entry, Node, Value};
use crate::problem::Problem;

/// Groups.
impl Reader {
    /// The object of a key; empty where the file has none.
    pub(in crate::params) fn group<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Group<'a> {
        let broken = group.broken || matches!(accept.without, Default::Required(_));
        let empty = Group { path: group.path(accept), pattern: accept.key, place: group.place, entries: &[], broken };
        let Some(found) = self.value(group, accept) else { return empty };
        let Node::Object(entries) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Group { place: found.value.place, broken: true, ..empty };
        };
        self.open(found, accept.key, entries)
    }

    /// The same for an object already at hand; `pattern` is the path its keys stand under in [`KEYS`].
    pub(in crate::params) fn open<'a>(
        &mut self,
        found: Found<'a>,
        pattern: &'static str,
        entries: &'a [Entry],
    ) -> Group<'a> {
        let group = Group { path: found.path, pattern, place: found.value.place, entries, broken: false };
        self.check_keys(&group);
        group
    }

    /// The objects of a list.
    pub(in crate::params) fn groups<'a>(
        &mut self,
        group: &Group<'a>,
        accept: &Accept,
        pattern: &'static str,
    ) -> Vec<Group<'a>> {
        let Some(found) = self.value(group, accept) else { return Vec::new() };
        let Shape::Groups(least, most) = accept.what else { return Vec::new() };
        let Node::List(items) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Vec::new();
        };
        self.check_count(&found, items.len(), least, most);
        items.iter().take(most).enumerate().filter_map(|(i, item)| self.item_group(&found, i, item, pattern)).collect()
    }

    fn item_group<'a>(
        &mut self,
        list: &Found<'a>,
        index: usize,
        value: &'a Value,
        pattern: &'static str,
    ) -> Option<Group<'a>> {
        let found = self.item(list, index, value);
        if let Node::Object(entries) = &value.node {
            return Some(self.open(found, pattern, entries));
        }
        self.mistyped(&found, &Shape::Group);
        None
    }

    /// One item of a list, its place noted.
    pub(in crate::params) fn item<'a>(&mut self, list: &Found<'_>, index: usize, value: &'a Value) -> Found<'a> {
        let path = format!("{}[{index}]", list.path);
        self.places.insert(path.clone(), value.place);
        Found { path, value }
    }

    pub(super) fn check_count(&mut self, found: &Found<'_>, count: usize, least: usize, most: usize) {
        if !(least..=most).contains(&count) {
            let entries = if count == 1 { "entry" } else { "entries" };
            self.wrong(found, format!("has {count} {entries}")).accepted = Some(span(least, most));
        }
    }

    /// Unknown keys of a group, with the nearest spelling.
    pub(super) fn check_keys(&mut self, group: &Group<'_>) {
        let mut known: Vec<_> = KEYS.iter().filter(|key| key.parent() == group.pattern).map(Accept::name).collect();
        known.push(NOTE);
        let mut seen = BTreeSet::new();
        for entry in group.entries {
            if known.contains(&entry.name.as_str()) || !seen.insert(&entry.name) {
                continue;
            }
            let path = if group.path.is_empty() { String::new() } else { format!("{}.", group.path) };
            let problem = Problem::new(entry.place, format!("{path}{}", shortened(&entry.name)), "is not a key");
            self.problems.push(meant(problem, &entry.name, &known));
        }
    }
}

/// A problem of an unknown key with what was probably meant.
fn meant(problem: Problem, name: &str, known: &[&str]) -> Problem {
    if let Some(near) = nearest(name, known) {
        return problem.hint(format!("did you mean \"{near}\"?"));
    }
    if let Some(elsewhere) = KEYS.iter().find(|key| key.name() == name) {
        return problem.hint(format!("did you mean \"{}\"?", elsewhere.key));
    }
    let list = known.iter().map(|key| format!("\"{key}\"")).collect::<Vec<_>>().join(", ");
    problem.hint(format!("keys here: {list}"))
}

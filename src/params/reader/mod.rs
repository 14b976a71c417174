//! Takes typed values by their [`Accept`], and keeps what is wrong and what is assumed.
//!
//! A value that is wrong leaves a problem and stands for the least accepted one, so that reading goes on and every
//! problem is found at once; nothing of it is used once there is a problem.

mod values;

use std::collections::BTreeMap;

use super::accept::{Accept, Default};
use super::spelling::quoted;
use super::value::{Entries, Value};
use super::{Assumed, family};
use crate::problem::{Place, Problem};
use crate::units::{self, System};
pub(super) use values::chosen;

/// What has been found so far.
#[derive(Default)]
pub(super) struct Reader {
    pub problems: Vec<Problem>,
    pub assumed: Vec<Assumed>,
    pub places: BTreeMap<String, Place>,
    pub names: BTreeMap<String, String>,
    /// Texts and numbers as the user wrote them, by key path.
    pub words: BTreeMap<String, String>,
    /// Units of most quantities of the file: messages answer in them.
    pub units: Option<System>,
    /// Size of the top along x and y, mm, where it could be read.
    pub top: Option<[f64; 2]>,
}

/// An object of the file, or the place where it is missing.
#[derive(Clone)]
pub(super) struct Group<'a> {
    path: String,
    place: Place,
    entries: &'a [(&'static str, Value)],
    /// The group itself is a problem already: what it lacks is not told again.
    broken: bool,
}

/// A value with its key path.
#[derive(Clone)]
pub(super) struct Found<'a> {
    pub path: String,
    pub value: &'a Value,
}

impl<'a> Group<'a> {
    /// Path of a key in this group.
    pub(super) fn path(&self, accept: &Accept) -> String {
        let name = accept.name();
        if self.path.is_empty() { name.into() } else { format!("{}.{name}", self.path) }
    }

    /// Path of the group itself.
    pub(super) fn own_path(&self) -> &str {
        &self.path
    }

    /// A group below that the file does not have.
    pub(super) fn below(&self, accept: &Accept) -> Group<'static> {
        Group { path: self.path(accept), place: self.place, entries: &[], broken: true }
    }

    /// Whether the file has the key.
    pub(super) fn has(&self, accept: &Accept) -> bool {
        self.get(accept.name()).is_some()
    }

    fn get(&self, name: &str) -> Option<&'a Value> {
        self.entries.iter().find(|entry| entry.0 == name).map(|entry| &entry.1)
    }
}

impl Reader {
    /// Units of most quantities of the file.
    pub(super) fn units(&self) -> System {
        self.units.unwrap_or(System::Metric)
    }

    /// A length in mm as messages show it, in the units of the file.
    pub(super) fn length(&self, mm: f64) -> String {
        units::show_length(mm, self.units())
    }

    /// The file itself; none of it where it is no object.
    pub(super) fn root<'a>(&self, file: Option<&'a Entries>, place: Place) -> Group<'a> {
        let entries = file.map_or(&[][..], Vec::as_slice);
        Group { path: String::new(), place, entries, broken: file.is_none() }
    }

    /// The object of a key; empty where the file has none.
    pub(super) fn group<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Group<'a> {
        let broken = group.broken || matches!(accept.without, Default::Required(_));
        let empty = Group { path: group.path(accept), place: group.place, entries: &[], broken };
        let Some(found) = self.value(group, accept) else { return empty };
        self.open(&found)
    }

    /// The same for an object already at hand.
    pub(super) fn open<'a>(&self, found: &Found<'a>) -> Group<'a> {
        let (entries, broken) = match found.value {
            Value::Group(entries) => (entries.as_slice(), false),
            _ => (&[][..], true),
        };
        Group { path: found.path.clone(), place: self.place(&found.path), entries, broken }
    }

    /// The objects of a list.
    pub(super) fn groups<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Vec<Group<'a>> {
        let Some(found) = self.value(group, accept) else { return Vec::new() };
        let Value::List(items) = found.value else { return Vec::new() };
        let items = items.iter().enumerate().map(|(index, value)| found.item(index, value));
        items.filter(|item| matches!(item.value, Value::Group(_))).map(|item| self.open(&item)).collect()
    }

    /// The value of a key; a missing one that is required is a problem.
    pub(super) fn value<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Option<Found<'a>> {
        let path = group.path(accept);
        let Some(value) = group.get(accept.name()) else {
            if let (Default::Required(example), false) = (accept.without, group.broken) {
                let problem =
                    Problem::new(group.place, path, "is missing").accepted(accept.what.describe(self.units()));
                let example = family::example(example, self.units());
                self.problems.push(problem.hint(format!("add {example}")));
            }
            return None;
        };
        Some(Found { path, value })
    }

    /// Whether nothing is wrong with a key, nor with one below it.
    pub(super) fn is_sound(&self, path: &str) -> bool {
        let below =
            |key: &str| key.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']));
        !self.problems.iter().any(|problem| below(&problem.key))
    }

    /// Notes that a default is used.
    pub(super) fn assume(&mut self, group: &Group<'_>, accept: &Accept, value: impl Into<String>) {
        self.assumed.push(Assumed { key: group.path(accept), value: value.into(), why: accept.why().into() });
    }

    /// Where a value stands.
    fn place(&self, path: &str) -> Place {
        self.places.get(path).copied().unwrap_or_default()
    }

    /// A text or a number without its quotes, as it was written.
    pub(super) fn written(&self, path: &str) -> &str {
        self.words.get(path).map_or("", String::as_str)
    }

    /// The same in quotes.
    pub(super) fn quoted(&self, path: &str) -> String {
        quoted(self.written(path))
    }

    /// Adds a problem at a value.
    pub(super) fn wrong(&mut self, path: &str, message: impl Into<String>) -> &mut Problem {
        self.problem_at(self.place(path), path.into(), message)
    }

    /// Adds a problem of a whole group.
    pub(super) fn wrong_group(&mut self, group: &Group<'_>, message: impl Into<String>) -> &mut Problem {
        self.problem_at(group.place, group.path.clone(), message)
    }

    fn problem_at(&mut self, place: Place, key: String, message: impl Into<String>) -> &mut Problem {
        self.problems.push(Problem::new(place, key, message));
        let last = self.problems.len() - 1;
        &mut self.problems[last]
    }
}

impl<'a> Found<'a> {
    /// One item of a list.
    fn item(&self, index: usize, value: &'a Value) -> Found<'a> {
        Found { path: format!("{}[{index}]", self.path), value }
    }
}

//! Takes values out of the tree by their [`Accept`], and keeps what is wrong, assumed and where it stood.
//!
//! A value that is wrong leaves a problem and stands for the least accepted one, so that reading goes on and every
//! problem is found at once; nothing of it is used once there is a problem.

mod groups;
mod quantities;
mod words;

use std::collections::BTreeMap;

use super::Assumed;
use super::accept::{Accept, Default, Shape, either, span};
use super::family;
use super::spelling::{quoted, shortened};
use super::text::{Entry, Node, Value};
use crate::problem::{Place, Problem};
use crate::units::{self, System};
pub(super) use words::{LONGEST_TEXT, chosen};

/// Most words a message lists.
const LISTED: usize = 12;

/// Shape has been found so far.
#[derive(Default)]
pub(super) struct Reader {
    pub problems: Vec<Problem>,
    pub assumed: Vec<Assumed>,
    pub places: BTreeMap<String, Place>,
    pub names: BTreeMap<String, String>,
    /// Units of most quantities of the file: messages answer in them.
    pub units: Option<System>,
}

/// An object of the file, or the place where it is missing.
#[derive(Clone)]
pub(super) struct Group<'a> {
    path: String,
    pattern: &'static str,
    place: Place,
    entries: &'a [Entry],
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
    pub(super) fn below(&self, accept: &Accept, pattern: &'static str) -> Group<'static> {
        Group { path: self.path(accept), pattern, place: self.place, entries: &[], broken: true }
    }

    /// Whether the file has the key.
    pub(super) fn has(&self, accept: &Accept) -> bool {
        self.entries.iter().any(|entry| entry.name == accept.name())
    }

    fn get(&self, name: &str) -> Option<&'a Entry> {
        self.entries.iter().find(|entry| entry.name == name)
    }
}

impl Found<'_> {
    /// The text as it was written, for messages.
    pub(super) fn text(&self) -> String {
        describe(&self.value.node)
    }

    /// Shape a suggestion puts elsewhere to move this value there: a text without its quotes.
    pub(super) fn words(&self) -> String {
        match &self.value.node {
            Node::Text(text) => text.clone(),
            other => describe(other),
        }
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

    /// The file itself.
    pub(super) fn root<'a>(&mut self, value: &'a Value) -> Group<'a> {
        self.units = Some(family::of(value));
        let Node::Object(entries) = &value.node else {
            self.problems.push(Problem::new(value.place, "", "the file must be one object { ... }"));
            return Group { path: String::new(), pattern: "", place: value.place, entries: &[], broken: true };
        };
        let group = Group { path: String::new(), pattern: "", place: value.place, entries, broken: false };
        self.check_keys(&group);
        group
    }

    /// The value of a key; a missing one that is required is a problem.
    pub(super) fn value<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Option<Found<'a>> {
        let path = group.path(accept);
        let Some(entry) = group.get(accept.name()) else {
            if let (Default::Required(example), false) = (accept.without, group.broken) {
                let problem =
                    Problem::new(group.place, path, "is missing").accepted(accept.what.describe(self.units()));
                let example = family::example(example, self.units());
                self.problems.push(problem.hint(format!("add {example}")));
            }
            return None;
        };
        self.places.insert(path.clone(), entry.value.place);
        Some(Found { path, value: &entry.value })
    }

    /// Notes that a default is used.
    pub(super) fn assume(&mut self, group: &Group<'_>, accept: &Accept, value: impl Into<String>) {
        self.assumed.push(Assumed { key: group.path(accept), value: value.into(), why: accept.why().into() });
    }

    /// Adds a problem at a value.
    pub(super) fn wrong(&mut self, found: &Found<'_>, message: impl Into<String>) -> &mut Problem {
        self.problem_at(found.value.place, found.path.clone(), message)
    }

    fn problem_at(&mut self, place: Place, key: String, message: impl Into<String>) -> &mut Problem {
        self.problems.push(Problem::new(place, key, message));
        let last = self.problems.len() - 1;
        &mut self.problems[last]
    }

    /// Adds a problem of a whole group.
    pub(super) fn wrong_group(&mut self, group: &Group<'_>, message: impl Into<String>) -> &mut Problem {
        self.problem_at(group.place, group.path.clone(), message)
    }

    /// Adds a problem of a value of the wrong shape.
    pub(super) fn mistyped(&mut self, found: &Found<'_>, what: &Shape) {
        let shape = wanted(what);
        let node = describe(&found.value.node);
        let message = format!("must be {shape}, not {node}");
        let null = matches!(found.value.node, Node::Null);
        let accepted = what.describe(self.units());
        let problem = self.wrong(found, message);
        problem.accepted = (accepted != shape).then_some(accepted);
        if null {
            problem.hint = Some("write a value; a key that has a default can be left out".into());
        }
    }
}

/// Shape a shape is called where something else was found.
fn wanted(what: &Shape) -> String {
    match what {
        Shape::Quantity(range) => format!("{} in quotes", range.kind.noun()),
        Shape::Band(range) => format!("{} or a range of them in quotes", range.kind.noun()),
        Shape::Quantities(range, least, most) => {
            format!("a list of {} quantities, each {}", span(*least, *most), range.kind.noun())
        }
        Shape::Text | Shape::Words(_) | Shape::TubeSize | Shape::ScrewSize | Shape::Span(..) => {
            "a text in quotes".into()
        }
        Shape::WordList(_) => "a list of texts".into(),
        Shape::Row(_) => "a name in quotes, or an object".into(),
        Shape::Count(..) | Shape::CountOf(_) => "a whole number without quotes".into(),
        Shape::Number(..) => "a number without quotes".into(),
        Shape::Flag => "true or false, without quotes".into(),
        Shape::Point => "a list of two quantities".into(),
        Shape::Rectangle => "a list of two corners".into(),
        Shape::Group => "an object { ... }".into(),
        Shape::Groups(..) => "a list of objects [ { ... } ]".into(),
        Shape::Either(shapes) => either(shapes.iter().map(wanted)),
    }
}

fn describe(node: &Node) -> String {
    match node {
        Node::Text(text) => quoted(text),
        Node::Number(number) => shortened(number),
        Node::Flag(flag) => flag.to_string(),
        Node::Null => "null".into(),
        Node::List(_) => "a list".into(),
        Node::Object(_) => "an object".into(),
    }
}

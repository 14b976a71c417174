//! The tree of a file to typed values: shapes, units, ranges and words, each wrong one told where it stands.

mod quantities;
mod words;

use std::collections::BTreeSet;

use super::accept::{Accept, KEYS, Shape, TOP, either, find, span};
use super::family::NOTE;
use super::reader::Reader;
use super::spelling::{nearest, shortened};
use super::text::{self, Entry, Node, Written};
use super::value::{Entries, Value};
use super::{family, loads, screws, support, tube};
use crate::problem::{Place, Problem, Put, Suggestion};
use crate::units::{self, Kind};
pub(super) use words::{LONGEST_TEXT, is_line};

/// Most words a message lists.
const LISTED: usize = 12;

/// What a suggestion puts at its key, typed; none where the key does not accept it.
pub(crate) fn suggested(change: &Suggestion) -> Option<Option<Value>> {
    let place = Place::default();
    let text = |text: &String| text::Value { place, node: Node::Text(text.clone()) };
    let node = match &change.put {
        Put::Nothing => return Some(None),
        Put::Text(one) => Node::Text(one.clone()),
        Put::Count(count) => Node::Number(count.to_string()),
        Put::List(list) => Node::List(list.iter().map(text).collect()),
    };
    let (key, _) = find(&change.key)?;
    let mut reader = Reader::default();
    let value = text::Value { place, node };
    let value = reader.value_in(&Written { path: change.key.clone(), value: &value }, &key.what, key);
    reader.problems.is_empty().then_some(Some(value))
}

impl Reader {
    /// The file, typed; none where it is no object.
    pub(super) fn typed(&mut self, file: &text::Value) -> Option<Entries> {
        self.units = Some(family::of(file));
        let Node::Object(entries) = &file.node else {
            self.problems.push(Problem::new(file.place, "", "the file must be one object { ... }"));
            return None;
        };
        Some(self.entries_in("", "", entries))
    }

    /// Keys of an object; `pattern` is the path that they stand under in [`KEYS`].
    fn entries_in(&mut self, path: &str, pattern: &str, entries: &[Entry]) -> Entries {
        self.check_keys(path, pattern, entries);
        let mut typed = Entries::new();
        for key in KEYS.iter().filter(|key| key.parent() == pattern) {
            let Some(entry) = entries.iter().find(|entry| entry.name == key.name()) else { continue };
            let path = if path.is_empty() { key.name().into() } else { format!("{path}.{}", key.name()) };
            let found = Written { path, value: &entry.value };
            self.note(&found);
            let value = self.value_in(&found, &key.what, key);
            if key.key == TOP.key {
                self.top = self.is_sound(key.key).then(|| top_size(&value)).flatten();
            }
            typed.push((key.name(), value));
        }
        typed
    }

    /// Where a value stands, and how it is written.
    fn note(&mut self, found: &Written<'_>) {
        self.places.insert(found.path.clone(), found.value.place);
        if let Node::Text(text) | Node::Number(text) = &found.value.node {
            self.words.insert(found.path.clone(), text.clone());
        }
    }

    /// One item of a list.
    pub(super) fn item<'a>(&mut self, list: &Written<'_>, index: usize, value: &'a text::Value) -> Written<'a> {
        let item = Written { path: format!("{}[{index}]", list.path), value };
        self.note(&item);
        item
    }

    /// A value of a key in a shape.
    fn value_in(&mut self, found: &Written<'_>, what: &Shape, key: &Accept) -> Value {
        let node = &found.value.node;
        match (what, node) {
            (Shape::Text, _) => self.text_in(found),
            (Shape::Flag, Node::Flag(flag)) => Value::Flag(*flag),
            (Shape::Count(..) | Shape::CountOf(_), _) => Value::Count(self.count_in(found, what)),
            (Shape::Number(least, most), _) => Value::Number(self.number_in(found, what, *least, *most)),
            (Shape::Quantity(range), _) => Value::Quantity(range.kind, self.quantity_in(found, *range)),
            (Shape::Band(range), _) => Value::Band(range.kind, self.band_in(found, *range)),
            (Shape::Quantities(range, least, most), Node::List(items)) => {
                self.quantities_in(found, items, (*range, *least, *most))
            }
            (Shape::Words(_), _) => Value::Word(self.word_in(found, what)),
            (Shape::WordList(words), Node::List(items)) => self.words_in(found, items, words),
            (Shape::Row(_), Node::Object(entries)) => self.group_in(found, key, entries),
            (Shape::Row(table), _) => self.row_in(found, *table).map_or(Value::Unread, Value::Row),
            (Shape::TubeSize, Node::Text(text)) => tube::size_in(self, found, text),
            (Shape::ScrewSize, Node::Text(text)) => screws::size_in(self, found, text),
            (Shape::Span(least, most), Node::Text(text)) => support::span_in(self, found, text, *least, *most),
            (Shape::Point, _) => loads::point_in(self, found).map_or(Value::Unread, Value::Point),
            (Shape::Rectangle, Node::List(items)) => loads::rectangle_in(self, found, items),
            (Shape::Group, Node::Object(entries)) => self.group_in(found, key, entries),
            (Shape::Groups(least, most), Node::List(items)) => self.groups_in(found, items, (*least, *most), key),
            (Shape::Either(shapes), _) => self.either_in(found, what, shapes, key),
            _ => self.mistyped(found, what),
        }
    }

    /// A value in the shape that it looks like.
    fn either_in(&mut self, found: &Written<'_>, what: &Shape, shapes: &[Shape], key: &Accept) -> Value {
        let node = &found.value.node;
        let words = shapes.iter().find(|shape| matches!(shape, Shape::Words(_)));
        let digits = |text: &str| text.chars().any(|c| c.is_ascii_digit());
        if let (Some(list), Node::List(items)) = (of_kind(shapes, node), node)
            && let Shape::Quantities(range, least, most) = list
        {
            return self.quantities_in(found, items, (*range, *least, *most));
        }
        let looks = |shape: &&Shape| match (shape, node) {
            (Shape::Quantities(..) | Shape::WordList(_) | Shape::Rectangle, Node::List(_))
            | (Shape::Group, Node::Object(_))
            | (Shape::TubeSize | Shape::ScrewSize, Node::Text(_))
            | (Shape::Count(..), Node::Number(_)) => true,
            (Shape::Quantity(_), Node::Text(text)) => words.is_none() || digits(text),
            (Shape::Quantity(_), Node::Number(_)) => words.is_none(),
            _ => false,
        };
        match (shapes.iter().find(looks), words) {
            (Some(Shape::Count(..)), _) => Value::Count(self.count_in(found, what)),
            (Some(shape), _) => self.value_in(found, shape, key),
            (None, Some(_)) => Value::Word(self.word_in(found, what)),
            (None, None) => self.mistyped(found, what),
        }
    }

    fn group_in(&mut self, found: &Written<'_>, key: &Accept, entries: &[Entry]) -> Value {
        Value::Group(self.entries_in(&found.path, key.pattern(), entries))
    }

    fn groups_in(
        &mut self,
        found: &Written<'_>,
        items: &[text::Value],
        (least, most): (usize, usize),
        key: &Accept,
    ) -> Value {
        self.check_count(found, items.len(), least, most);
        let pattern = format!("{}[]", key.key);
        let mut typed = Vec::new();
        for (index, item) in items.iter().take(most).enumerate() {
            let found = self.item(found, index, item);
            typed.push(match &item.node {
                Node::Object(entries) => Value::Group(self.entries_in(&found.path, &pattern, entries)),
                _ => self.mistyped(&found, &Shape::Group),
            });
        }
        Value::List(typed)
    }

    /// Adds a problem of a value of the wrong shape.
    pub(super) fn mistyped(&mut self, found: &Written<'_>, what: &Shape) -> Value {
        let shape = wanted(what);
        let node = found.value.node.describe();
        let message = format!("must be {shape}, not {node}");
        let null = matches!(found.value.node, Node::Null);
        let accepted = what.describe(self.units());
        let problem = self.wrong(&found.path, message);
        problem.accepted = (accepted != shape).then_some(accepted);
        if null {
            problem.hint = Some("write a value; a key that has a default can be left out".into());
        }
        Value::Unread
    }

    fn check_count(&mut self, found: &Written<'_>, count: usize, least: usize, most: usize) {
        if !(least..=most).contains(&count) {
            let entries = if count == 1 { "entry" } else { "entries" };
            self.wrong(&found.path, format!("has {count} {entries}")).accepted = Some(span(least, most));
        }
    }

    /// Unknown keys of a group, with the nearest spelling.
    fn check_keys(&mut self, path: &str, pattern: &str, entries: &[Entry]) {
        let mut known: Vec<_> = KEYS.iter().filter(|key| key.parent() == pattern).map(Accept::name).collect();
        known.push(NOTE);
        let mut seen = BTreeSet::new();
        for entry in entries {
            if known.contains(&entry.name.as_str()) || !seen.insert(&entry.name) {
                continue;
            }
            let before = if path.is_empty() { String::new() } else { format!("{path}.") };
            let problem = Problem::new(entry.place, format!("{before}{}", shortened(&entry.name)), "is not a key");
            self.problems.push(meant(problem, &entry.name, &known));
        }
    }
}

/// Of lists of two kinds of quantities the one that some item is of.
fn of_kind<'a>(shapes: &'a [Shape], node: &Node) -> Option<&'a Shape> {
    let Node::List(items) = node else { return None };
    let is = |kind: Kind| items.iter().any(|i| matches!(&i.node, Node::Text(text) if units::read(kind, text).is_ok()));
    let [Shape::Quantities(..), Shape::Quantities(..)] = shapes else { return None };
    shapes.iter().find(|shape| shape.range().is_some_and(|range| is(range.kind)))
}

/// Size of the top along x and y, mm.
fn top_size(top: &Value) -> Option<[f64; 2]> {
    let Value::Group(entries) = top else { return None };
    let side = |name: &str| match entries.iter().find(|entry| entry.0 == name)?.1 {
        Value::Quantity(_, side) => Some(side),
        _ => None,
    };
    Some([side("length")?, side("width")?])
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

/// What a shape is called where something else was found.
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

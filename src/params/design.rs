//! A table as typed values: what its file says, without what follows from it.

use std::collections::BTreeMap;

use super::accept::{Accept, KEYS, SCREW_LENGTH, SCREW_SIZE, Shape, find};
use super::table::Table;
use super::typing::is_line;
use super::value::{Coordinate, Entries, ScrewSize, TubeSize, Value};
use crate::problem::Place;
use crate::units::{Kind, System};

/// What a parameter file says, key by key, in the order of the table of keys.
#[derive(Clone, Debug)]
pub struct Design {
    pub(super) entries: Entries,
    /// Where the file begins.
    pub(super) place: Place,
    /// Where each key stands in the file, by key path.
    pub(super) places: BTreeMap<String, Place>,
    /// Texts and numbers as the user wrote them, by key path.
    pub(super) words: BTreeMap<String, String>,
    /// Units that most quantities of the file have.
    pub(super) units: System,
}

/// A value put at a key, or the key left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// Path of the key, such as `rails[0].above_floor`; groups on the way are made.
    pub key: String,
    /// Its new value; none to leave the key out.
    pub value: Option<Value>,
}

impl Edit {
    /// A value at a key.
    pub fn put(key: impl Into<String>, value: Value) -> Self {
        Self { key: key.into(), value: Some(value) }
    }

    /// A key left out.
    pub fn without(key: impl Into<String>) -> Self {
        Self { key: key.into(), value: None }
    }
}

/// Why an edit cannot be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// There is no such key, or its list has no such item.
    Key,
    /// The key does not accept the value.
    Value,
}

/// One step of a key path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step<'a> {
    Key(&'a str),
    Item(usize),
}

/// Steps of a key path: `rails[0].run` is `rails`, 0, `run`.
pub(super) fn steps(path: &str) -> Vec<Step<'_>> {
    let parts = path.split(['.', '[']).map(|part| part.strip_suffix(']').unwrap_or(part));
    parts.map(|part| part.parse().map_or(Step::Key(part), Step::Item)).collect()
}

/// The key path of steps.
pub(super) fn path_of(steps: &[Step<'_>]) -> String {
    let mut path = String::new();
    steps.iter().for_each(|step| push(&mut path, step));
    path
}

impl Design {
    /// What the file says at a key; none where it does not have it.
    #[must_use]
    pub fn value(&self, path: &str) -> Option<&Value> {
        let mut steps = steps(path).into_iter();
        let Step::Key(first) = steps.next()? else { return None };
        let mut at = &self.entries.iter().find(|entry| entry.0 == first)?.1;
        for step in steps {
            at = match (at, step) {
                (Value::Group(entries), Step::Key(name)) => &entries.iter().find(|entry| entry.0 == name)?.1,
                (Value::List(items), Step::Item(item)) => items.get(item)?,
                _ => return None,
            };
        }
        Some(at)
    }

    /// The same with edits made, one after another.
    ///
    /// # Errors
    /// A key that there is not, or a value that it does not accept.
    pub fn edited(&self, edits: &[Edit]) -> Result<Self, Refused> {
        let mut design = self.clone();
        for edit in edits {
            for edit in design.spread(edit) {
                match &edit.value {
                    Some(value) => design.set(&edit.key, value)?,
                    None => design.remove(&edit.key)?,
                }
            }
        }
        Ok(design)
    }

    /// An edit, and before it those by which a screw said with its length becomes an object beside its length, where the edit is
    /// below it.
    pub(super) fn spread(&self, edit: &Edit) -> Vec<Edit> {
        let mut all = Vec::new();
        if let Some(Value::Screw(ScrewSize { row, length: Some(length) })) = self.value(SCREW_SIZE.key)
            && edit.value.is_some()
            && edit.key.strip_prefix(SCREW_SIZE.key).is_some_and(|below| below.starts_with('.'))
        {
            all.push(Edit::put(SCREW_SIZE.key, Value::Screw(ScrewSize { row, length: None })));
            all.push(Edit::put(SCREW_LENGTH.key, Value::Quantity(Kind::Length, *length)));
        }
        all.push(edit.clone());
        all
    }

    fn set(&mut self, path: &str, value: &Value) -> Result<(), Refused> {
        let (accept, _) = find(path).ok_or(Refused::Key)?;
        let value = accept.admitted(value).ok_or(Refused::Value)?;
        let steps = steps(path);
        put(&mut self.entries, "", &steps, value.clone())?;
        self.forget(path);
        let mut above = String::new();
        for step in &steps[..steps.len() - 1] {
            push(&mut above, step);
            self.places.entry(above.clone()).or_default();
            // A name or a size that became an object stands at a key of it.
            if let Some(Value::Group(entries)) = self.value(&above) {
                let inside: Vec<String> = entries.iter().map(|(name, _)| format!("{above}.{name}")).collect();
                for path in inside {
                    self.places.entry(path).or_default();
                }
            }
        }
        self.note(path.to_owned(), &value);
        Ok(())
    }

    fn remove(&mut self, path: &str) -> Result<(), Refused> {
        find(path).ok_or(Refused::Key)?;
        take(&mut self.entries, &steps(path));
        self.forget(path);
        Ok(())
    }

    /// Nothing is written any longer at a key and below it.
    fn forget(&mut self, path: &str) {
        let other =
            |key: &str| key.strip_prefix(path).is_none_or(|rest| !rest.is_empty() && !rest.starts_with(['.', '[']));
        self.places.retain(|key, _| other(key));
        self.words.retain(|key, _| other(key));
    }

    /// Notes what stands at a key now.
    fn note(&mut self, path: String, value: &Value) {
        for (part, inner) in parts(value) {
            let mut below = path.clone();
            push(&mut below, &part);
            self.note(below, &inner);
        }
        if let Some(text) = value.text(self.units) {
            self.words.insert(path.clone(), text);
        }
        self.places.insert(path, Place::default());
    }
}

fn push(path: &mut String, step: &Step<'_>) {
    match step {
        Step::Key(name) if path.is_empty() => path.push_str(name),
        Step::Key(name) => path.push_str(&format!(".{name}")),
        Step::Item(item) => path.push_str(&format!("[{item}]")),
    }
}

/// Values inside a value.
pub(super) fn parts(value: &Value) -> Vec<(Step<'static>, Value)> {
    let items = |list: Vec<Value>| list.into_iter().enumerate().map(|(i, value)| (Step::Item(i), value)).collect();
    match value {
        Value::Group(entries) => entries.iter().map(|(name, value)| (Step::Key(name), value.clone())).collect(),
        Value::List(list) => items(list.clone()),
        Value::Quantities(kind, list) => items(list.iter().map(|one| Value::Quantity(*kind, *one)).collect()),
        Value::Words(list) => items(list.iter().map(|one| Value::Word(one)).collect()),
        Value::Point(point) => items(point.iter().map(|one| one.value()).collect()),
        Value::Rectangle(corners) => items(corners.iter().map(|one| Value::Point(*one)).collect()),
        _ => Vec::new(),
    }
}

/// Puts a value below entries; `above` is the pattern that they stand under in the table of keys.
fn put(entries: &mut Entries, above: &str, steps: &[Step<'_>], value: Value) -> Result<(), Refused> {
    let [Step::Key(name), rest @ ..] = steps else { return Err(Refused::Key) };
    let key = KEYS.iter().find(|key| key.parent() == above && key.name() == *name).ok_or(Refused::Key)?;
    let at = match entries.iter().position(|entry| entry.0 == *name) {
        Some(at) => at,
        None => {
            let order = |name: &str| KEYS.iter().position(|key| key.parent() == above && key.name() == name);
            let at = entries.partition_point(|entry| order(entry.0) < order(name));
            entries.insert(at, (key.name(), Value::Group(Entries::new())));
            at
        }
    };
    let slot = &mut entries[at].1;
    match rest {
        [] => *slot = value,
        [Step::Key(_), ..] => put(as_group(slot)?, key.pattern(), rest, value)?,
        [Step::Item(item), rest @ ..] => {
            let Value::List(items) = slot else { return Err(Refused::Key) };
            let Some(Value::Group(entries)) = items.get_mut(*item) else { return Err(Refused::Key) };
            put(entries, &format!("{}[]", key.key), rest, value)?;
        }
    }
    Ok(())
}

/// A value as the group that says the same.
pub(super) fn opened(value: &Value) -> Result<Entries, Refused> {
    match value {
        Value::Group(entries) => Ok(entries.clone()),
        Value::Tube(size) => Ok(vec![("size", Value::Tube(size.clone()))]),
        Value::Row(row) | Value::Screw(ScrewSize { row, length: None }) => Ok(vec![("like", Value::Row(row))]),
        _ => Err(Refused::Key),
    }
}

fn as_group(slot: &mut Value) -> Result<&mut Entries, Refused> {
    if !matches!(slot, Value::Group(_)) {
        *slot = Value::Group(opened(slot)?);
    }
    if let Value::Group(entries) = slot { Ok(entries) } else { Err(Refused::Key) }
}

/// Takes a key away; one that is not there stays so.
fn take(entries: &mut Entries, steps: &[Step<'_>]) {
    let [Step::Key(name), rest @ ..] = steps else { return };
    let Some(at) = entries.iter().position(|entry| entry.0 == *name) else { return };
    match (rest, &mut entries[at].1) {
        ([], _) => drop(entries.remove(at)),
        ([Step::Item(item), rest @ ..], Value::List(items)) => {
            if let Some(Value::Group(entries)) = items.get_mut(*item) {
                take(entries, rest);
            }
        }
        (rest, Value::Group(entries)) => take(entries, rest),
        _ => {}
    }
}

impl Accept {
    /// A value as it is kept where this key accepts it.
    fn admitted(&self, value: &Value) -> Option<Value> {
        self.admitted_in(&self.what, value)
    }

    fn admitted_in(&self, what: &Shape, value: &Value) -> Option<Value> {
        let fits = match (what, value) {
            (Shape::Either(shapes), _) => return shapes.iter().find_map(|shape| self.admitted_in(shape, value)),
            (Shape::Quantity(range), Value::Quantity(kind, one)) if *kind == range.kind && range.holds(*one) => {
                return Some(Value::Quantity(*kind, one.clamp(range.least, range.most)));
            }
            (Shape::Band(range), Value::Band(kind, ends)) => {
                *kind == range.kind && ends.iter().all(|end| range.holds(*end)) && ends[0] <= ends[1]
            }
            (Shape::Quantities(range, fewest, most), Value::Quantities(kind, list)) => {
                *kind == range.kind
                    && (*fewest..=*most).contains(&list.len())
                    && list.iter().all(|one| range.holds(*one))
            }
            (Shape::Text, Value::Text(text)) if is_line(text.trim()) => return Some(Value::Text(text.trim().into())),
            (Shape::Flag, Value::Flag(_)) => true,
            (Shape::Count(..) | Shape::CountOf(_), Value::Count(count)) => what.counts().0(*count),
            (Shape::Number(least, most), Value::Number(number)) | (Shape::Span(least, most), Value::Span(number)) => {
                (*least..=*most).contains(number)
            }
            (Shape::Words(words), Value::Word(word)) => words.contains(word),
            (Shape::WordList(words), Value::Words(list)) => list.iter().all(|word| words.contains(word)),
            (Shape::Row(table), Value::Row(name)) => table.find(name) == Some(name),
            (Shape::TubeSize, Value::Tube(size)) => TubeSize::read(&size.name).as_ref() == Some(size),
            (Shape::ScrewSize, Value::Screw(ScrewSize { row, length })) => {
                let range = SCREW_LENGTH.what.range();
                let holds = |length: &f64| range.is_some_and(|range| range.holds(*length));
                Table::Screws.find(row) == Some(row) && length.as_ref().is_none_or(holds)
            }
            (Shape::Point, Value::Point(point)) => point.iter().all(Coordinate::is_some_place),
            (Shape::Rectangle, Value::Rectangle(corners)) => {
                corners.as_flattened().iter().all(Coordinate::is_some_place)
            }
            (Shape::Group | Shape::Row(_), Value::Group(entries)) => {
                return Some(Value::Group(admitted_entries(self.pattern(), entries)?));
            }
            (Shape::Groups(fewest, most), Value::List(items)) if (*fewest..=*most).contains(&items.len()) => {
                let pattern = format!("{}[]", self.key);
                let item = |item: &Value| match item {
                    Value::Group(entries) => Some(Value::Group(admitted_entries(&pattern, entries)?)),
                    _ => None,
                };
                return Some(Value::List(items.iter().map(item).collect::<Option<_>>()?));
            }
            _ => false,
        };
        fits.then(|| value.clone())
    }
}

/// Entries of a group in the order of the table of keys, where each key accepts its value.
fn admitted_entries(pattern: &str, entries: &Entries) -> Option<Entries> {
    let mut admitted = Entries::new();
    for key in KEYS.iter().filter(|key| key.parent() == pattern) {
        if let Some((_, value)) = entries.iter().find(|entry| entry.0 == key.name()) {
            admitted.push((key.name(), key.admitted(value)?));
        }
    }
    (admitted.len() == entries.len()).then_some(admitted)
}

impl Coordinate {
    /// Whether it may lie on a top.
    fn is_some_place(&self) -> bool {
        match self {
            Self::Share(share) => (0.0..=1.0).contains(share),
            Self::Length(length) => *length >= 0.0 && length.is_finite(),
        }
    }

    /// The quantity that it is.
    pub(super) fn value(self) -> Value {
        match self {
            Self::Share(share) => Value::Quantity(Kind::Share, share),
            Self::Length(length) => Value::Quantity(Kind::Length, length),
        }
    }
}

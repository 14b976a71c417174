//! Edits in the text of a parameter file: the user's own words, order, notes and indentation stay where nothing changes.

use jsonc_parser::ast;
use jsonc_parser::common::{Range, Ranged};

use super::accept::KEYS;
use super::design::{Design, Edit, Refused, Step, opened, path_of, steps};
use super::family::NOTE;
use super::read::typed;
use super::text::parse;
use super::value::Value;
use crate::units::System;

/// Mark at the beginning of some files of UTF-8.
const MARK: char = '\u{feff}';

/// The text of a file with edits made, one after another. Read back, it gives the values that [`Design::edited`] gives.
///
/// # Errors
/// A text that cannot be read, a key that there is not, or a value that it does not accept.
pub fn edited(text: &str, edits: &[Edit]) -> Result<String, Refused> {
    let (mark, text) = text.strip_prefix(MARK).map_or(("", text), |rest| ("\u{feff}", rest));
    let mut text = text.to_owned();
    let design = |text: &str| typed(text.as_bytes()).ok_or(Refused::Key);
    for edit in edits {
        for edit in design(&text)?.spread(edit) {
            text = once_edited(design(&text)?, text, &edit)?;
        }
    }
    Ok(format!("{mark}{text}"))
}

/// The text of a design with one edit made.
fn once_edited(design: Design, text: String, edit: &Edit) -> Result<String, Refused> {
    let after = design.edited(std::slice::from_ref(edit))?;
    let units = design.units;
    let mut file = File { text, design, units };
    let steps = steps(&edit.key);
    match (&edit.value, after.value(&edit.key)) {
        (Some(_), Some(value)) => file.put(&steps, value)?,
        _ => file.remove(&steps)?,
    }
    Ok(file.text)
}

/// A file that is written anew in places.
struct File {
    text: String,
    /// What the text said before the edit.
    design: Design,
    units: System,
}

/// What stands at a key path.
enum Stands {
    Nothing,
    Object,
    List,
    Other(Range),
}

impl File {
    /// A value at a path; groups on the way are made.
    fn put(&mut self, steps: &[Step<'_>], value: &Value) -> Result<(), Refused> {
        for until in 1..steps.len() {
            let (above, below) = steps.split_at(until);
            match self.stands(above)? {
                Stands::Nothing => {
                    let nested = below.iter().rev().try_fold(written(value, self.units), |inner, step| match step {
                        Step::Key(name) => Ok(format!("{{ \"{name}\": {inner} }}")),
                        Step::Item(_) => Err(Refused::Key),
                    });
                    return self.insert(above, &nested?);
                }
                Stands::Other(range) => self.open(above, range)?,
                Stands::Object | Stands::List => {}
            }
        }
        self.place(steps, value)
    }

    /// A value at a path whose groups there are.
    fn place(&mut self, steps: &[Step<'_>], value: &Value) -> Result<(), Refused> {
        let old = self.design.value(&path_of(steps)).cloned();
        if old.as_ref() == Some(value) {
            return Ok(());
        }
        match (self.stands(steps)?, value, old) {
            (Stands::Nothing, ..) => self.insert(steps, &written(value, self.units)),
            (Stands::Object, Value::Group(new), Some(Value::Group(old))) => {
                for (name, _) in old.iter().filter(|(name, _)| new.iter().all(|new| new.0 != *name)) {
                    self.remove(&[steps, &[Step::Key(name)]].concat())?;
                }
                new.iter().try_for_each(|(name, value)| self.place(&[steps, &[Step::Key(name)]].concat(), value))
            }
            (Stands::List, Value::List(new), Some(Value::List(old))) => self.items(steps, &old, new),
            (..) => {
                let range = self.range(steps)?;
                self.splice(range, &written(value, self.units));
                Ok(())
            }
        }
    }

    /// Other objects in a list: those that stay are left alone.
    fn items(&mut self, steps: &[Step<'_>], old: &[Value], new: &[Value]) -> Result<(), Refused> {
        let item = |index: usize| [steps, &[Step::Item(index)]].concat();
        let mut left = new.iter().peekable();
        let gone: Vec<usize> = (0..old.len()).filter(|i| left.next_if(|new| **new == old[*i]).is_none()).collect();
        if left.peek().is_none() {
            return gone.iter().rev().try_for_each(|index| self.remove(&item(*index)));
        }
        for (index, value) in new.iter().enumerate() {
            if index < old.len() {
                self.place(&item(index), value)?;
            } else {
                self.insert(&item(index), &written(value, self.units))?;
            }
        }
        (new.len()..old.len()).rev().try_for_each(|index| self.remove(&item(index)))
    }

    /// A name or a size as the object that says the same, in the user's words.
    fn open(&mut self, steps: &[Step<'_>], range: Range) -> Result<(), Refused> {
        let value = self.design.value(&path_of(steps)).ok_or(Refused::Key)?;
        let (name, _) = opened(value)?.into_iter().next().ok_or(Refused::Key)?;
        let object = format!("{{ \"{name}\": {} }}", &self.text[range.start..range.end]);
        self.splice(range, &object);
        Ok(())
    }

    /// A new key or item, behind those that come before it in the table of keys.
    fn insert(&mut self, steps: &[Step<'_>], value: &str) -> Result<(), Refused> {
        let (last, above) = steps.split_last().ok_or(Refused::Key)?;
        let Inside { whole, parts } = self.inside(above)?;
        let (entry, at) = match last {
            Step::Item(_) => (value.to_owned(), parts.len()),
            Step::Key(name) => (format!("\"{name}\": {value}"), behind(above, name, &parts)),
        };
        match (at, parts.get(at).or(parts.last())) {
            (_, None) if matches!(last, Step::Item(_)) => self.splice(whole, &format!("[{entry}]")),
            (_, None) => self.splice(whole, &format!("{{ {entry} }}")),
            (0, Some(next)) => {
                let gap = self.gap(next.range.start);
                self.splice(Range::new(next.range.start, next.range.start), &format!("{entry},{gap}"));
            }
            (_, Some(neighbour)) => {
                let (gap, end) = (self.gap(neighbour.range.start), parts[at - 1].range.end);
                self.splice(Range::new(end, end), &format!(",{gap}{entry}"));
            }
        }
        Ok(())
    }

    /// A key or an item less.
    fn remove(&mut self, steps: &[Step<'_>]) -> Result<(), Refused> {
        let (last, above) = steps.split_last().ok_or(Refused::Key)?;
        let Ok(Inside { whole, parts }) = self.inside(above) else { return Ok(()) };
        let Some(at) = parts.iter().position(|part| part.step() == *last) else { return Ok(()) };
        let gone = parts[at].range;
        match (at, parts.get(at + 1)) {
            (0, Some(next)) => self.splice(Range::new(gone.start, next.range.start), ""),
            (0, None) if matches!(last, Step::Item(_)) => self.splice(whole, "[]"),
            (0, None) => self.splice(whole, "{}"),
            _ => self.splice(Range::new(parts[at - 1].range.end, gone.end), ""),
        }
        Ok(())
    }

    fn splice(&mut self, range: Range, with: &str) {
        self.text.replace_range(range.start..range.end, with);
    }

    /// The blank before a part: its line break and indentation, or what stands between two on one line.
    fn gap(&self, start: usize) -> String {
        let before = &self.text[..start];
        let blank = &before[before.trim_end().len()..];
        let line = blank.rfind('\n').map(|at| if blank[..at].ends_with('\r') { at - 1 } else { at });
        blank[line.unwrap_or(0)..].to_owned()
    }

    fn stands(&self, steps: &[Step<'_>]) -> Result<Stands, Refused> {
        self.look(|root| {
            Ok(match find(root, steps) {
                None => Stands::Nothing,
                Some(ast::Value::Object(_)) => Stands::Object,
                Some(ast::Value::Array(_)) => Stands::List,
                Some(other) => Stands::Other(other.range()),
            })
        })
    }

    fn inside(&self, steps: &[Step<'_>]) -> Result<Inside, Refused> {
        self.look(|root| match find(root, steps) {
            Some(ast::Value::Object(object)) => {
                let part = |one: &ast::ObjectProp<'_>| Part {
                    name: Some(one.name.as_str().into()),
                    item: 0,
                    range: one.range,
                };
                Ok(Inside { whole: object.range, parts: object.properties.iter().map(part).collect() })
            }
            Some(ast::Value::Array(list)) => {
                let part = |(item, one): (usize, &ast::Value<'_>)| Part { name: None, item, range: one.range() };
                Ok(Inside { whole: list.range, parts: list.elements.iter().enumerate().map(part).collect() })
            }
            _ => Err(Refused::Key),
        })
    }

    fn range(&self, steps: &[Step<'_>]) -> Result<Range, Refused> {
        self.look(|root| find(root, steps).map(Ranged::range).ok_or(Refused::Key))
    }

    /// Looks at the text as it is now.
    fn look<T>(&self, at: impl FnOnce(&ast::Value<'_>) -> Result<T, Refused>) -> Result<T, Refused> {
        at(&parse(&self.text).map_err(|_| Refused::Key)?)
    }
}

/// An object or a list in the text.
struct Inside {
    whole: Range,
    parts: Vec<Part>,
}

/// A key with its value, or an item.
struct Part {
    name: Option<String>,
    item: usize,
    range: Range,
}

impl Part {
    fn step(&self) -> Step<'_> {
        self.name.as_deref().map_or(Step::Item(self.item), Step::Key)
    }
}

fn find<'a>(value: &'a ast::Value<'a>, steps: &[Step<'_>]) -> Option<&'a ast::Value<'a>> {
    steps.iter().try_fold(value, |at, step| match (at, step) {
        (ast::Value::Object(object), Step::Key(name)) => {
            object.properties.iter().find(|one| one.name.as_str() == *name).map(|one| &one.value)
        }
        (ast::Value::Array(list), Step::Item(item)) => list.elements.get(*item),
        _ => None,
    })
}

/// Where a new key stands among the others of its object: behind the last that comes before it in the table of keys, and
/// behind a note at the beginning.
fn behind(above: &[Step<'_>], name: &str, parts: &[Part]) -> usize {
    let pattern = above.iter().fold(String::new(), |pattern, step| match step {
        Step::Key(name) => {
            let key = KEYS.iter().find(|key| key.parent() == pattern && key.name() == *name);
            key.map_or(pattern, |key| key.pattern().to_owned())
        }
        Step::Item(_) => format!("{pattern}[]"),
    });
    let order = |name: &str| KEYS.iter().position(|key| key.parent() == pattern && key.name() == name);
    let before = |part: &Part| part.name.as_deref().and_then(order).is_some_and(|at| Some(at) < order(name));
    let note = parts.first().is_some_and(|part| part.name.as_deref() == Some(NOTE));
    parts.iter().rposition(before).map_or(usize::from(note), |at| at + 1)
}

/// A value on one line, as it stands in a file.
fn written(value: &Value, units: System) -> String {
    let list = |items: Vec<String>| format!("[{}]", items.join(", "));
    match value {
        Value::Group(entries) if entries.is_empty() => "{}".into(),
        Value::Group(entries) => {
            let entries = entries.iter().map(|(name, value)| format!("\"{name}\": {}", written(value, units)));
            format!("{{ {} }}", entries.collect::<Vec<_>>().join(", "))
        }
        Value::List(items) => list(items.iter().map(|item| written(item, units)).collect()),
        value => match value.json(units) {
            serde_json::Value::Array(items) => list(items.iter().map(spaced).collect()),
            other => other.to_string(),
        },
    }
}

/// A list in a list: the corners of a rectangle.
fn spaced(json: &serde_json::Value) -> String {
    match json {
        serde_json::Value::Array(items) => format!("[{}]", items.iter().map(spaced).collect::<Vec<_>>().join(", ")),
        other => other.to_string(),
    }
}

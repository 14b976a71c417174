//! Changed keys of a parameter file.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::units::{self, Kind};

/// A key whose value is another one.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Key path: `top.thickness_at_legs[2]`.
    pub key: String,
    /// Old value; none: the key is new.
    pub from: Option<Value>,
    /// New value; none: the key is gone.
    pub to: Option<Value>,
    /// It changes no part, tube or hole.
    pub idle: bool,
    path: Vec<Step>,
}

/// One step down into a file.
#[derive(Clone, Debug, PartialEq)]
enum Step {
    Field(String),
    Item(usize),
}

/// Which way a change is applied.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// Old value to new.
    Forth,
    /// New value to old.
    Back,
}

/// Every change, keys sorted; lists of equal length are compared entry by entry, others as a whole.
pub(super) fn between(old: &Value, new: &Value) -> Vec<Change> {
    let mut changes = Vec::new();
    walk(Some(old), Some(new), &mut Vec::new(), &mut changes);
    changes
}

fn walk(old: Option<&Value>, new: Option<&Value>, path: &mut Vec<Step>, found: &mut Vec<Change>) {
    match (old, new) {
        (Some(Value::Object(a)), Some(Value::Object(b))) => {
            let keys: BTreeSet<&String> = a.keys().chain(b.keys()).collect();
            for key in keys {
                path.push(Step::Field(key.clone()));
                walk(a.get(key), b.get(key), path, found);
                path.pop();
            }
        }
        (Some(Value::Array(a)), Some(Value::Array(b))) if a.len() == b.len() => {
            for (i, (a, b)) in a.iter().zip(b).enumerate() {
                path.push(Step::Item(i));
                walk(Some(a), Some(b), path, found);
                path.pop();
            }
        }
        _ if same(old, new) => {}
        _ => {
            found.push(Change { key: key(path), from: old.cloned(), to: new.cloned(), idle: false, path: path.clone() })
        }
    }
}

fn key(path: &[Step]) -> String {
    let mut key = String::new();
    for step in path {
        match step {
            Step::Field(name) => {
                key.push_str(if key.is_empty() { "" } else { "." });
                key.push_str(name);
            }
            Step::Item(i) => key.push_str(&format!("[{i}]")),
        }
    }
    key
}

/// Equal, or the same quantity written otherwise: `1 in` and `25.4 mm`.
fn same(a: Option<&Value>, b: Option<&Value>) -> bool {
    match (a, b) {
        (Some(Value::String(a)), Some(Value::String(b))) => {
            a == b || Kind::ALL.into_iter().any(|kind| equal(kind, a, b))
        }
        _ => a == b,
    }
}

fn equal(kind: Kind, a: &str, b: &str) -> bool {
    match (units::read(kind, a), units::read(kind, b)) {
        (Ok(a), Ok(b)) => (a.value - b.value).abs() <= 1e-9 * a.value.abs(),
        _ => false,
    }
}

/// The file with these changes applied.
pub(super) fn applied<'a>(file: &Value, changes: impl IntoIterator<Item = &'a Change>, way: Way) -> Value {
    let mut file = file.clone();
    for change in changes {
        let value = if way == Way::Forth { &change.to } else { &change.from };
        put(&mut file, &change.path, value.as_ref());
    }
    file
}

fn put(file: &mut Value, path: &[Step], value: Option<&Value>) {
    match (path, file) {
        ([], file) => *file = value.cloned().unwrap_or_default(),
        ([Step::Field(name)], Value::Object(fields)) => match value {
            Some(value) => drop(fields.insert(name.clone(), value.clone())),
            None => drop(fields.remove(name)),
        },
        ([Step::Field(name), rest @ ..], Value::Object(fields)) => {
            if let Some(inner) = fields.get_mut(name) {
                put(inner, rest, value);
            }
        }
        ([Step::Item(i), rest @ ..], Value::Array(items)) => {
            if let Some(inner) = items.get_mut(*i) {
                put(inner, rest, value);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn keys(old: &Value, new: &Value) -> Vec<String> {
        between(old, new).into_iter().map(|c| c.key).collect()
    }

    #[test]
    fn changes_are_told_by_their_key() {
        let old = json!({ "a": { "b": "1 mm", "gone": true }, "list": ["1 mm", "2 mm"], "grown": [1] });
        let new = json!({ "a": { "b": "2 mm", "new": 1 }, "list": ["1 mm", "3 mm"], "grown": [1, 2] });
        assert_eq!(keys(&old, &new), ["a.b", "a.gone", "a.new", "grown", "list[1]"]);
    }

    #[test]
    fn the_same_quantity_in_another_unit_is_no_change() {
        assert!(keys(&json!({ "a": "1 in", "b": "30 C" }), &json!({ "a": "25.4 mm", "b": "86 F" })).is_empty());
        assert_eq!(keys(&json!({ "a": "0 mm" }), &json!({ "a": "1 mm" })), ["a"]);
    }

    #[test]
    fn applied_changes_give_the_other_file() {
        let old = json!({ "a": { "b": "1 mm", "gone": true }, "list": ["1 mm", { "x": 1 }], "grown": [1] });
        let new = json!({ "a": { "b": "2 mm", "new": 1 }, "list": ["1 mm", { "x": 2 }], "grown": [1, 2] });
        let changes = between(&old, &new);
        assert_eq!(applied(&old, &changes, Way::Forth), new);
        assert_eq!(applied(&new, &changes, Way::Back), old);
    }
}

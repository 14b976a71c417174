use super::*;
use crate::params::read;
use crate::problem::Problem;
use crate::units::{self, System};
use serde_json::{Value, json};

/// A file that has every list and group once.
fn file() -> Value {
    json!({
        "top": { "length": "4000 mm", "width": "2000 mm", "thickness": "38 mm" },
        "height": "860 mm",
        "legs": { "tube": { "outside": "16 mm", "wall": "1.5 mm" } },
        "rails": [{ "run": "along width", "above_floor": "180 mm" }],
        "loads": [{ "mass": "60 kg" }],
    })
}

/// The file with one key put in, and the path of that key.
fn with(key: &str, value: Value) -> (String, String) {
    let mut file = file();
    let mut at = &mut file;
    let parts: Vec<_> = key.split('.').collect();
    for part in &parts[..parts.len() - 1] {
        let name = part.trim_end_matches("[]");
        let inner = at.as_object_mut().expect("an object").entry(name).or_insert(json!({}));
        at = if part.ends_with("[]") { &mut inner[0] } else { inner };
    }
    if ["foot.bolt", "foot.stand_off"].contains(&key) {
        at["kind"] = json!("levelling");
    }
    if key == "tie.wall" {
        // On a thin tube less of its range is left.
        file["legs"]["tube"]["outside"] = json!("40 mm");
        at = &mut file["tie"];
    }
    at[parts[parts.len() - 1]] = value;
    (file.to_string(), key.replace("[]", "[0]"))
}

fn problems_at(key: &str, value: Value) -> Vec<Problem> {
    let (text, path) = with(key, value);
    let mut list = read(&text).err().unwrap_or_default();
    list.retain(|problem| problem.key.starts_with(&path));
    list
}

fn quantity_as_written(range: Range, value: f64) -> String {
    units::show(range.kind, value, System::Metric)
}

#[test]
fn every_range_holds_at_its_ends_and_ends_there() {
    for key in KEYS {
        let Shape::Quantity(range) = key.what else { continue };
        let told = Some(range.describe(System::Metric));
        let refused = |value: f64| {
            let list = problems_at(key.key, json!(quantity_as_written(range, value)));
            list.iter().any(|problem| problem.accepted == told)
        };
        let step = 0.01 * (range.most - range.least);
        assert!(!refused(range.least) && !refused(range.most), "{}", key.key);
        assert!(refused(range.least - step) && refused(range.most + step), "{}", key.key);
    }
}

#[test]
fn every_count_and_number_holds_at_its_ends_and_ends_there() {
    for key in KEYS {
        let (inside, outside) = match key.what {
            Shape::Count(least, most) => (vec![json!(least), json!(most)], vec![json!(-1), json!(most + 1)]),
            Shape::Number(least, most) => {
                (vec![json!(least), json!(most)], vec![json!(least - 0.01), json!(most + 1.0)])
            }
            _ => continue,
        };
        assert!(inside.into_iter().all(|value| problems_at(key.key, value).is_empty()), "{}", key.key);
        assert!(outside.into_iter().all(|value| !problems_at(key.key, value).is_empty()), "{}", key.key);
    }
}

#[test]
fn every_word_is_taken_and_no_other() {
    for key in KEYS {
        // A mass has one direction only.
        for word in key.what.words().iter().filter(|_| key.key != "loads[].direction") {
            assert_eq!(problems_at(key.key, json!(word)), [], "{}: {word}", key.key);
        }
        if !key.what.words().is_empty() {
            assert!(!problems_at(key.key, json!("something else")).is_empty(), "{}", key.key);
        }
    }
}

/// A word that falls through to another's meaning would be accepted and not followed.
#[test]
fn every_word_says_something_of_its_own() {
    for key in KEYS.iter().filter(|key| !key.what.words().is_empty()) {
        let mut said = std::collections::BTreeMap::new();
        // A cross bolt without its size is an M4.
        for word in key.what.words().iter().filter(|word| **word != "cross bolt") {
            let (mut text, _) = with(key.key, json!(word));
            if key.key == "loads[].direction" {
                text = text.replace("\"mass\":\"60 kg\"", "\"force\":\"60 N\"");
            }
            let mut read = read(&text).unwrap_or_else(|list| panic!("{}: {word}: {list:?}", key.key));
            read.assumed.clear();
            read.places.clear();
            let other = said.insert(format!("{read:?}"), word);
            assert_eq!(other, None, "{}: {word} means the same", key.key);
        }
    }
}

#[test]
fn every_bolt_is_a_row_of_the_table() {
    let named = BOLTS
        .iter()
        .chain(HOLDS)
        .filter_map(|word| word.strip_prefix("cross bolt ").or(word.strip_prefix("M").map(|_| *word)));
    let sizes: Vec<_> = named.map(|name| (name, crate::tables::bolt::find(name))).collect();
    assert_eq!(sizes.len(), BOLTS.len() + 4);
    assert!(sizes.iter().all(|(_, row)| row.is_some()), "{sizes:?}");
}

#[test]
fn every_default_may_be_written_and_then_changes_nothing() {
    let plain = read(&file().to_string()).expect("a file");
    for key in KEYS {
        let Default::Value(text, why) = key.without else { continue };
        let value: Value = serde_json::from_str(text).unwrap_or_else(|_| json!(text));
        assert!(!why.is_empty() && !key.doc.is_empty());
        let (text, path) = with(key.key, value);
        if text.contains("levelling") || key.key.ends_with(".like") || key.key == "rails" {
            assert_eq!(read(&text).err(), None, "{path}");
            continue;
        }
        let mut written = read(&text).unwrap_or_else(|list| panic!("{}: {list:?}", key.key));
        assert!(written.assumed.iter().all(|one| one.key != path), "{path}");
        written.assumed.clone_from(&plain.assumed);
        written.places.clone_from(&plain.places);
        assert!(format!("{written:?}") == format!("{plain:?}"), "{path} {text} is not what is assumed");
    }
}

#[test]
fn every_key_has_a_group_above_it_and_stands_once() {
    for (index, key) in KEYS.iter().enumerate() {
        let parent = key.parent();
        let known = parent.is_empty() || KEYS[..index].iter().any(|one| one.key == parent.trim_end_matches("[]"));
        assert!(known && KEYS[..index].iter().all(|one| one.key != key.key), "{}", key.key);
    }
}

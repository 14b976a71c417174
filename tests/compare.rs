//! What a change of the file makes obsolete, and why. Expected: what a maker would do with the parts in hand.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use underframe::compare::{Difference, Line, Verb, compare};
use underframe::output::record::Record;
use underframe::{params, parts, plan};

/// The built-in bench with values replaced, by JSON pointer.
fn bench(edits: &[(&str, Value)]) -> String {
    let mut file: Value = serde_json::from_str(params::built_in()).expect("JSON");
    for (pointer, value) in edits {
        *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer}")) = value.clone();
    }
    file.to_string()
}

/// The record of the kit of a text.
fn record(text: &str) -> Record {
    let model = plan(text.as_bytes()).unwrap_or_else(|list| panic!("{list:?}"));
    Record::plan(&model, &parts::all(&model).expect("parts"), text)
}

fn difference(edits: &[(&str, Value)]) -> Difference {
    compare(&record(params::built_in()), bench(edits).as_bytes()).unwrap_or_else(|list| panic!("{list:?}"))
}

/// First words of the lines with a verb: `bracket`, `tie`, `drill`.
fn sorts(lines: &[Line], verb: Verb) -> Vec<&str> {
    let all: BTreeSet<&str> =
        lines.iter().filter(|l| l.verb == verb).filter_map(|l| l.what.split(' ').next()).collect();
    all.into_iter().collect()
}

/// Every reason given for lines that are not kept.
fn reasons(lines: &[Line]) -> Vec<&str> {
    let all: BTreeSet<&str> =
        lines.iter().filter(|l| l.verb != Verb::Keep).flat_map(|l| l.why.iter().map(String::as_str)).collect();
    all.into_iter().collect()
}

#[test]
fn nothing_changed() {
    let found = difference(&[]);
    assert!(found.nothing_to_do() && found.changes.is_empty());
    assert_eq!(found.to_string(), "nothing changed: nothing to do\n");
}

#[test]
fn the_same_values_in_other_units_are_no_change() {
    let found = difference(&[("/top/length", json!("1.5 m")), ("/place/temperature", json!(["35.6 F", "38 C"]))]);
    assert!(found.nothing_to_do() && found.changes.is_empty(), "{found}");
}

#[test]
fn a_measured_tube_reprints_only_what_holds_the_tube() {
    let found = difference(&[("/legs/tube/measured", json!("15.93 mm"))]);
    assert_eq!(sorts(&found.parts, Verb::Print), ["bracket", "fit", "foot", "tie"]);
    assert_eq!(sorts(&found.parts, Verb::Keep), ["coupon", "drill"]);
    assert_eq!(reasons(&found.parts), ["legs.tube.measured"]);
    assert!(found.tubes.iter().chain(&found.holes).all(|line| line.verb == Verb::Keep), "{found}");
}

#[test]
fn a_thicker_tube_is_cut_anew_with_everything_that_holds_it() {
    let found = difference(&[("/legs/tube/outside", json!("18 mm")), ("/legs/tube/measured", json!("17.95 mm"))]);
    // Thicker bosses push the ring of screws outward: the guide is printed again too, and holes are drilled anew.
    assert_eq!(sorts(&found.parts, Verb::Print), ["bracket", "drill", "fit", "foot", "tie"]);
    assert!(found.holes.iter().any(|line| line.verb != Verb::Keep), "{found}");
    assert!(!found.tubes.iter().any(|line| line.verb == Verb::Keep), "{found}");
    let reasons = reasons(&found.tubes);
    assert!(!reasons.is_empty() && reasons.iter().all(|why| why.contains("legs.tube.outside")), "{found}");
}

#[test]
fn a_top_thicker_at_one_leg_shortens_that_legs_tubes_only() {
    let found = difference(&[("/top/thickness_at_legs/2", json!("39.4 mm"))]);
    let changed: Vec<&Line> = found.tubes.iter().filter(|line| line.verb != Verb::Keep).collect();
    assert_eq!(changed.len(), 1, "{found}");
    let line = changed[0];
    assert_eq!((line.verb, line.count, line.legs.as_slice()), (Verb::Shorten, 3, &[3][..]));
    assert_eq!(line.why, ["top.thickness_at_legs[2]"]);
    // 1 mm of height along a leg that leans by 4 degrees both ways: 1 mm / cos = 1.005 mm, cut to a tenth.
    assert!(line.how.starts_with("by 1.0 mm"), "{}", line.how);
    assert!(found.parts.iter().chain(&found.holes).all(|line| line.verb == Verb::Keep), "{found}");
}

#[test]
fn a_thinner_place_asks_for_longer_tubes() {
    let found = difference(&[("/top/thickness_at_legs/0", json!("36 mm"))]);
    let changed: Vec<&Line> = found.tubes.iter().filter(|line| line.verb != Verb::Keep).collect();
    assert_eq!(
        changed.iter().map(|l| (l.verb, l.count, l.legs.clone())).collect::<Vec<_>>(),
        [(Verb::Cut, 3, vec![1])]
    );
}

#[test]
fn another_filament_reprints_what_carries_and_keeps_the_drill_guide() {
    let found = difference(&[("/printing/filament", json!("ASA"))]);
    assert_eq!(sorts(&found.parts, Verb::Print), ["bracket", "coupon", "fit", "foot", "tie"]);
    assert_eq!(sorts(&found.parts, Verb::Keep), ["drill"]);
    assert_eq!(reasons(&found.parts), ["printing.filament"]);
    assert!(found.tubes.iter().chain(&found.holes).all(|line| line.verb == Verb::Keep), "{found}");
}

#[test]
fn fewer_screws_change_brackets_guide_and_holes_only() {
    let found = difference(&[("/bracket/screws/count", json!(6))]);
    assert_eq!(sorts(&found.parts, Verb::Print), ["bracket", "drill"]);
    assert_eq!(sorts(&found.parts, Verb::Keep), ["coupon", "fit", "foot", "tie"]);
    assert!(found.tubes.iter().all(|line| line.verb == Verb::Keep), "{found}");
    assert!(found.holes.iter().any(|line| line.verb == Verb::Plug), "{found}");
    assert_eq!(reasons(&found.holes), ["bracket.screws.count"]);
    let drilled: usize = found.holes.iter().filter(|l| l.verb != Verb::Plug).map(|l| l.count).sum();
    assert_eq!(drilled, 6 * 4);
}

#[test]
fn another_wood_changes_pilots_and_no_tube() {
    let found = difference(&[("/top/wood", json!("Scots pine"))]);
    assert!(sorts(&found.parts, Verb::Print).contains(&"drill"), "{found}");
    assert_eq!(sorts(&found.parts, Verb::Keep), ["coupon", "fit", "foot", "tie"]);
    assert!(found.tubes.iter().all(|line| line.verb == Verb::Keep), "{found}");
    assert_eq!(reasons(&found.holes), ["top.wood"]);
    assert!(found.notes.iter().any(|note| note.contains("another one")), "{found}");
}

#[test]
fn every_reason_is_told_apart() {
    let found = difference(&[("/bracket/screws/count", json!(6)), ("/legs/tube/measured", json!("15.93 mm"))]);
    let why = |what: &str| {
        let line = found.parts.iter().find(|l| l.verb == Verb::Print && l.what.starts_with(what));
        line.unwrap_or_else(|| panic!("{what}: {found}")).why.clone()
    };
    assert_eq!(why("bracket"), ["bracket.screws.count", "legs.tube.measured"]);
    assert_eq!(why("drill"), ["bracket.screws.count"]);
    assert_eq!(why("foot"), ["legs.tube.measured"]);
}

#[test]
fn loads_change_nothing_that_is_made() {
    let found = difference(&[("/loads/0/mass", json!("70 kg")), ("/title", json!("Another"))]);
    assert!(found.nothing_to_do() && found.changes.len() == 2 && found.changes.iter().all(|c| c.idle), "{found}");
}

#[test]
fn a_kit_drawn_by_another_version_is_told() {
    let mut old = record(params::built_in());
    old.made_by = "underframe 0.0.1".into();
    for part in old.parts.iter_mut().filter(|p| p.sort == "foot") {
        part.mark = "F222".into();
    }
    let found = compare(&old, params::built_in().as_bytes()).expect("no problems");
    assert_eq!(sorts(&found.parts, Verb::Print), ["foot"]);
    assert_eq!(reasons(&found.parts), ["drawn otherwise since underframe 0.0.1"]);
}

#[test]
fn lines_fit_the_terminal() {
    let found = difference(&[("/legs/tube/outside", json!("18 mm")), ("/legs/tube/measured", json!("17.95 mm"))]);
    let text = found.to_string();
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
}

//! Tables that fail in one way only (`tests/verdicts`), the verdicts of the examples, and remedies that cure.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::Value;
use underframe::checks::{self, ADEQUATE, Check, Verdict, When};
use underframe::mechanics;
use underframe::mechanics::estimate::Plates;
use underframe::model::Model;
use underframe::params;

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn file(path: &Path) -> Value {
    serde_json::from_str(&std::fs::read_to_string(path).expect("a file")).expect("JSON")
}

fn fixture(name: &str) -> Value {
    file(&folder("tests/verdicts").join(name))
}

fn laid_out(file: &Value) -> Model {
    let params = params::read(&file.to_string()).unwrap_or_else(|list| panic!("{list:#?}"));
    Model::new(&params).unwrap_or_else(|list| panic!("{list:#?}"))
}

fn judged(file: &Value) -> Vec<Check> {
    let model = laid_out(file);
    checks::all(&model, &mechanics::solve(&model).expect("solved"))
}

fn highest(checks: &[Check]) -> f64 {
    checks.iter().map(Check::utilisation).fold(0.0, f64::max)
}

/// Names of what fails, and when.
fn failing(name: &str) -> BTreeSet<(&'static str, &'static str)> {
    let checks = judged(&fixture(name));
    checks.iter().filter(|c| c.utilisation() > 1.0).map(|c| (c.name, c.when.word())).collect()
}

fn only(name: &str, beginning: &str) {
    let failing = failing(name);
    assert!(!failing.is_empty(), "{name} does not fail");
    assert!(failing.iter().all(|(check, _)| check.starts_with(beginning)), "{name}: {failing:?}");
}

#[test]
fn one_table_fails_only_by_creep() {
    let failing = failing("creep.json");
    assert!(!failing.is_empty(), "it does not fail");
    assert!(failing.iter().all(|(_, when)| *when == When::AfterLife.word()), "{failing:?}");
    let creeps = |check: &str| ["bracket:", "tie:", "foot: socket", "top: sag"].iter().any(|b| check.starts_with(b));
    assert!(failing.iter().all(|(check, _)| creeps(check)), "{failing:?}");
}

#[test]
fn one_table_fails_only_by_sway() {
    only("sway.json", "sway:");
}

#[test]
fn one_table_fails_only_by_its_screws() {
    only("screws.json", "screws:");
}

#[test]
fn one_table_fails_only_by_tipping() {
    only("tipping.json", "tipping:");
}

#[test]
fn every_verdict_occurs_among_the_examples() {
    let mut seen = BTreeSet::new();
    for entry in folder("params").read_dir().expect("params") {
        let path = entry.expect("entry").path();
        seen.insert(Verdict::of(highest(&judged(&file(&path)))));
    }
    assert_eq!(seen.into_iter().collect::<Vec<_>>(), [Verdict::Adequate, Verdict::Tight, Verdict::NotAdequate]);
    let bench: Value = serde_json::from_str(params::built_in()).expect("JSON");
    assert!(highest(&judged(&bench)) <= 1.0, "the built-in bench can be built");
}

/// Applies every remedy of a fixture and judges it anew.
fn every_remedy_cures(name: &str) {
    let text = fixture(name);
    let model = laid_out(&text);
    let before = judged(&text);
    let limit = if highest(&before) > 1.0 { 1.0 } else { ADEQUATE };
    let found = checks::remedies(&text, &model, &before, &Plates::new(&model).expect("plates"));
    assert!(!found.remedies.is_empty() && found.tried <= 40, "{name}: {found:?}");
    for remedy in found.remedies {
        let after = judged(&checks::apply(&text, &remedy.edits));
        let names: Vec<&str> = remedy.cures.split(", ").collect();
        let cured = |c: &&Check| remedy.cures == "every check" || names.contains(&c.name);
        for check in after.iter().filter(cured) {
            assert!(check.utilisation() <= limit, "{name}, {}: {} {}", remedy.change, check.name, check.utilisation());
        }
        assert!((highest(&after) - remedy.utilisation).abs() < 1e-9, "{name}: {}", remedy.change);
    }
}

#[test]
fn remedies_of_creep_cure() {
    every_remedy_cures("creep.json");
}

#[test]
fn remedies_of_sway_cure() {
    every_remedy_cures("sway.json");
}

#[test]
fn remedies_of_screws_cure() {
    every_remedy_cures("screws.json");
}

#[test]
fn remedies_of_tipping_cure() {
    every_remedy_cures("tipping.json");
}

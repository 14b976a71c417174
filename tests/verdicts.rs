//! Tables that fail in one way only (`tests/verdicts`), the verdicts of the examples, and remedies that cure.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::Value;
use underframe::checks::{self, ADEQUATE, Check, CheckId, Verdict, When};
use underframe::mechanics::{self, Cache, Detail};
use underframe::model::Model;
use underframe::params;
use underframe::search;

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
    checks::all(&model, &mechanics::solve(&model, Detail::Full, &Cache::default()).expect("solved"))
        .expect("every check done")
}

fn highest(checks: &[Check]) -> f64 {
    checks.iter().map(Check::utilisation).fold(0.0, f64::max)
}

/// Names of what fails, and when.
fn failing(name: &str) -> BTreeSet<(&'static str, &'static str)> {
    let checks = judged(&fixture(name));
    checks.iter().filter(|c| c.utilisation() > 1.0).map(|c| (c.id.words(), c.when.word())).collect()
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
    let written = text.to_string();
    let (design, _) = params::read_design(written.as_bytes()).expect("read");
    let found = search::remedies(&design, &model, &before, &Cache::default());
    assert!(!found.remedies.is_empty() && found.tried <= 40, "{name}: {found:?}");
    for remedy in found.remedies {
        let after =
            judged(&serde_json::from_str(&params::edited(&written, &remedy.edits).expect("edited")).expect("JSON"));
        for check in after.iter().filter(|c| remedy.cures.has(c.id)) {
            assert!(
                check.utilisation() <= limit,
                "{name}, {}: {} {}",
                remedy.words(),
                check.id.words(),
                check.utilisation()
            );
        }
        assert!((highest(&after) - remedy.utilisation).abs() < 1e-9, "{name}: {}", remedy.words());
    }
}

/// A plain table with keys of its own put in.
fn plain(keys: &Value) -> Value {
    let mut file = serde_json::json!({
        "top": { "length": "900 mm", "width": "600 mm", "thickness": "30 mm" },
        "height": "500 mm",
        "legs": { "tube": "25 x 2 mm" },
        "loads": [{ "mass": "20 kg" }],
    });
    for (key, value) in keys.as_object().expect("keys") {
        file[key] = value.clone();
    }
    file
}

/// PLA bears 40 C. Above it the verdict is that, first and once; no other check suffers from a strength that vanishes.
#[test]
fn too_hot_is_the_verdict_and_no_strength_vanishes() {
    let at = |filament: &str, warm: &str| {
        let place = serde_json::json!({ "temperature": ["10 C", warm] });
        judged(&plain(&serde_json::json!({ "printing": { "filament": filament }, "place": place })))
    };
    let (at_limit, above) = (at("PLA", "40 C"), at("PLA", "41 C"));
    assert!(at_limit.iter().all(|c| c.too_hot().is_none()));
    assert_eq!(above[0].too_hot(), Some("too hot for PLA: service limit 40 C, air up to 41 C".to_owned()));
    assert_eq!(above.iter().filter(|c| c.too_hot().is_some()).count(), 1);
    let others = |checks: &[Check]| {
        highest(&checks.iter().filter(|c| c.id.words().starts_with("bracket:")).cloned().collect::<Vec<_>>())
    };
    assert!((others(&above) / others(&at_limit) - 1.0).abs() < 0.02, "{} {}", others(&above), others(&at_limit));
    // What the table of filaments tells is what is used: to 80 C, and air of 80 C may be written.
    assert!(at("PA-CF", "80 C").iter().all(|c| c.too_hot().is_none()));
    assert!(at("PA12", "80 C")[0].too_hot().is_some_and(|why| why.starts_with("too hot for PA12: service limit")));
}

/// Every bolt that may be written is checked and bought.
#[test]
fn every_levelling_bolt_is_checked_and_listed() {
    for bolt in ["M6", "M8", "M10", "M12"] {
        let text = plain(&serde_json::json!({ "foot": { "kind": "levelling", "bolt": bolt } }));
        let checks = judged(&text);
        assert!(checks.iter().any(|c| c.id == CheckId::LevellingBolt && c.demand > 0.0), "{bolt}");
        let rows = underframe::output::hardware::bought(&laid_out(&text));
        assert!(rows.iter().any(|r| r.item.starts_with("hexagon bolt, full") && r.size.starts_with(bolt)), "{bolt}");
        assert!(rows.iter().any(|r| r.item == "hexagon nut" && r.size == bolt), "{bolt}");
    }
}

/// Every cross bolt that may be written holds a tube, is bought, and weighs on what the socket holds.
#[test]
fn every_cross_bolt_is_checked_and_listed() {
    for (bolt, tube) in [("M3", "16 x 1.5 mm"), ("M4", "25 x 2 mm"), ("M5", "25 x 2 mm"), ("M6", "25 x 2 mm")] {
        let mut text = plain(&serde_json::json!({ "bracket": { "hold": format!("cross bolt {bolt}") } }));
        text["legs"]["tube"] = tube.into();
        let pull = judged(&text).into_iter().find(|c| c.id == CheckId::TubePulledOut).expect("a check");
        assert!(
            pull.working.iter().any(|step| step.text().starts_with(&format!("cross bolt {bolt}:"))),
            "{bolt}: {:?}",
            pull.working
        );
        let rows = underframe::output::hardware::bought(&laid_out(&text));
        assert!(rows.iter().any(|r| r.item == "hexagon bolt" && r.size.starts_with(bolt)), "{bolt}");
    }
}

/// What tips the table is told in kilograms, empty and loaded, also where nobody is said to be about.
#[test]
fn what_tips_the_table_is_always_told() {
    let model = laid_out(&plain(&serde_json::json!({})));
    let forces = mechanics::solve(&model, Detail::Full, &Cache::default()).expect("solved");
    let checked = checks::checked(&model, &forces).expect("every check done");
    let tips = checks::tips(&model, &forces);
    let (empty, loaded) = (tips.empty.expect("tips"), tips.loaded.expect("tips"));
    assert!(empty.load < loaded.load);
    for tip in [empty, loaded] {
        assert!(
            checked.notes[0].text().contains(&format!("{} kg at the {}", tip.mass(), tip.place.words())),
            "{:?}",
            checked.notes
        );
    }
    // By hand: the feet stand 120 mm in from the ends and 100 mm from the sides; a corner of the empty table.
    let (mass, _) = forces.empty;
    let corner = mass * 9.80665 * (200.0_f64 / 100.0).min(330.0 / 120.0);
    assert!((empty.load - corner).abs() < 1e-6 * corner, "{} {corner}", empty.load);
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

/// The first file with changes of its answers.
fn first(change: impl Fn(&mut params::Answers)) -> f64 {
    let mut answers = params::Answers::default();
    change(&mut answers);
    let file: Value = serde_json::from_str(&params::template(&answers)).expect("JSON");
    highest(&judged(&file))
}

#[test]
fn the_first_file_was_a_table_that_did_not_hold() {
    let usual = first(|_| ());
    assert!(usual <= ADEQUATE, "{usual}");
    let changed = [
        ("length", first(|a| a.length = "1400 mm".into())),
        ("width", first(|a| a.width = "700 mm".into())),
        ("thickness", first(|a| a.thickness = "38 mm".into())),
        ("tube", first(|a| a.tube = "20 x 2 mm".into())),
        ("children and mass", first(|a| (a.children, a.mass) = ("yes".into(), "60 kg".into()))),
        ("wood", first(|a| a.wood = "Scots pine".into())),
    ];
    for (name, worst) in changed {
        assert!(worst <= 1.0, "{name}: {worst}");
    }
}

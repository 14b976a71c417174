//! Wrong parameter files and the exact messages they bring: `tests/errors/name.json` with `name.txt`.
//!
//! `REWRITE=1 cargo test --test errors` writes the messages anew; the difference is read in review.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use underframe::model::Model;
use underframe::params::{built_in, read_bytes};

/// Files of each kind of problem, at least; the kind is the name up to the first `-`.
const LEAST: usize = 3;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/errors")
}

fn files() -> Vec<PathBuf> {
    let entries = folder().read_dir().expect("tests/errors").map(|entry| entry.expect("entry").path());
    let mut files: Vec<_> = entries.filter(|path| path.extension().is_some_and(|end| end == "json")).collect();
    files.sort();
    files
}

fn stem(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

/// What the program would say about a file; empty when it finds nothing wrong.
fn describe(path: &Path) -> String {
    let bytes = std::fs::read(path).expect("a file");
    let problems = read_bytes(&bytes).and_then(|params| Model::new(&params)).err().unwrap_or_default();
    problems.iter().map(|problem| format!("{}\n", problem.show(&format!("{}.json", stem(path))))).collect()
}

#[test]
fn every_wrong_file_brings_its_exact_message() {
    let bless = std::env::var_os("REWRITE").is_some();
    let mut wrong = Vec::new();
    for path in files() {
        let told = describe(&path);
        assert!(!told.is_empty(), "{} is not wrong", path.display());
        let expected = path.with_extension("txt");
        if bless {
            std::fs::write(&expected, &told).expect("written");
        }
        let expected = std::fs::read_to_string(&expected).unwrap_or_default();
        if told != expected {
            wrong.push(format!("{}\n--- expected\n{expected}--- told\n{told}", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_kind_of_problem_has_several_files() {
    let mut kinds = BTreeMap::new();
    for path in files() {
        *kinds.entry(stem(&path).split('-').next().unwrap_or_default().to_owned()).or_insert(0) += 1;
    }
    assert!(kinds.len() >= 10, "{kinds:?}");
    assert!(kinds.values().all(|count| *count >= LEAST), "{kinds:?}");
}

#[test]
fn no_message_is_left_without_its_file() {
    for entry in folder().read_dir().expect("tests/errors") {
        let path = entry.expect("entry").path();
        assert!(path.with_extension("json").exists(), "{} has no json", path.display());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, ..ProptestConfig::default() })]

    #[test]
    fn no_damage_to_a_good_file_makes_the_reader_panic(
        at in any::<proptest::sample::Index>(),
        length in 0_usize..12,
        put in "[-0-9 .,:{}\\[\\]\"/xme½%\\\\\u{0}n]{0,8}",
    ) {
        let mut bytes = built_in().as_bytes().to_vec();
        let from = at.index(bytes.len());
        let to = (from + length).min(bytes.len());
        bytes.splice(from..to, put.into_bytes());
        if let Err(problems) = read_bytes(&bytes) {
            prop_assert!(!problems.is_empty());
            prop_assert!(problems.iter().all(|problem| problem.place.line > 0 && problem.place.column > 0));
        }
    }
}

#[test]
fn a_file_full_of_nonsense_is_read_to_its_end() {
    let keys: Vec<_> = (0..50_000).map(|index| format!("\"k{index}\":[{index}]")).collect();
    let unknown = read_bytes(format!("{{{}}}", keys.join(",")).as_bytes()).expect_err("nonsense");
    assert_eq!(unknown.len(), 50_000 + 4, "each key once, and what is missing");
    let list = vec!["{\"mas\":1}"; 60_000].join(",");
    let loads = read_bytes(format!("{{\"loads\":[{list}]}}").as_bytes()).expect_err("nonsense");
    assert!(loads.iter().any(|problem| problem.message == "has 60000 entries"));
}

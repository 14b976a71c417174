//! One work, one title: what is cited in two places is called the same in both.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Strings in quotes that follow `Source::read(` or `Source::from_memory(`: title and edition.
fn works(text: &str) -> Vec<[String; 2]> {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    let calls = ["Source::read(", "Source::from_memory(", "Self::read(", "Self::from_memory("];
    let found = calls.iter().flat_map(|call| code.split(call).skip(1));
    let quoted: Vec<Vec<&str>> = found.map(|rest| rest.split('"').take(4).collect()).collect();
    quoted.into_iter().filter(|q| q.len() == 4).map(|q| [q[1].to_owned(), q[3].to_owned()]).collect()
}

/// Words that tell a work: its standard's number, or the first two of its title.
fn core(title: &str) -> String {
    let words: Vec<&str> = title.split([' ', ',', '/', ';', '(']).filter(|w| !w.is_empty()).collect();
    let number = words
        .windows(2)
        .find(|w| w[1].starts_with(|c: char| c.is_ascii_digit()) && w[0].chars().all(char::is_uppercase));
    number.map_or_else(|| words.iter().take(2).copied().collect::<Vec<_>>().join(" "), |w| w.join(" "))
}

fn all(folder: &Path, found: &mut BTreeMap<String, BTreeSet<[String; 2]>>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            all(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            for work in works(&fs::read_to_string(&path).expect("a file")) {
                found.entry(core(&work[0])).or_default().insert(work);
            }
        }
    }
}

#[test]
fn one_work_went_by_several_titles() {
    let mut found = BTreeMap::new();
    all(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert!(found.len() >= 20, "only {} works found", found.len());
    let double: Vec<_> = found.values().filter(|titles| titles.len() > 1).collect();
    assert!(double.is_empty(), "{double:#?}");
}

#[test]
fn titles_of_one_work_have_one_core() {
    assert_eq!(core("EN 1995-1-1"), core("EN 1995-1-1 (timber)"));
    assert_eq!(core("Wood Handbook, FPL"), core("Wood Handbook (as reprinted)"));
    assert_ne!(core("EN 10305-1"), core("EN 10219-2"));
    assert_eq!(works("Source::read(\n  \"A\",\n \"2\")"), [["A".to_owned(), "2".to_owned()]]);
}

#[test]
fn files_of_reference_figures_were_not_listed() {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let listed = fs::read_to_string(data.join("README.md")).expect("README.md");
    let rows: Vec<&str> = listed.lines().filter(|line| line.starts_with('|')).collect();
    for folder in ["", "scripts/"] {
        for entry in fs::read_dir(data.join(folder)).expect("a folder") {
            let entry = entry.expect("an entry");
            let name = format!("{folder}{}", entry.file_name().to_string_lossy());
            let is_file = entry.path().is_file() && name != "README.md";
            assert!(!is_file || rows.iter().any(|row| row.split(['|', ',']).any(|cell| cell.trim() == name)), "{name}");
        }
    }
}

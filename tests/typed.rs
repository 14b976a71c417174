//! Words are for people: nothing of the program reads them back. Which check it is, what it is about and what a change cures
//! are typed values.

use std::fs;
use std::path::Path;

/// What takes a text apart or looks into it.
const PARSERS: [&str; 12] = [
    "starts_with",
    "ends_with",
    "strip_prefix",
    "strip_suffix",
    "trim_start_matches",
    "trim_end_matches",
    "split",
    "split_once",
    "find",
    "contains",
    "matches",
    "parse",
];
/// What holds words of a check.
const WORDED: [&str; 8] = ["name", "place", "words", "case", "cures", "check", "id", "subject"];
/// Names that are no check's: file and text read there, and what is done with it.
const OTHERS: [(&str, &str); 9] = [
    ("src/cli/input.rs", "name.trim_start_matches"),
    ("src/cli/input.rs", "trim_end_matches"),
    ("src/cli/write/old.rs", "name.strip_prefix"),
    ("src/cli/judge.rs", "c.id.words().to_lowercase().contains"),
    ("src/checks/cautions.rs", "name.split"),
    ("src/search/changes.rs", "row.name.trim_end_matches"),
    ("src/model/cases.rs", "c.name.starts_with"),
    ("src/output/hardware.rs", "name.strip_suffix"),
    ("src/output/report/sample.rs", "case.name.ends_with"),
];

/// The code of a file without comments and tests, chains of calls on one line.
fn code(text: &str) -> String {
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    let lines = code.lines().map(|line| line.split("//").next().unwrap_or_default().trim());
    lines.fold(String::new(), |all, line| if line.starts_with('.') { all + line } else { all + "\n" + line })
}

/// The chain of names and calls that ends where this text ends.
fn receiver(before: &str) -> &str {
    let (mut depth, mut start) = (0_i32, before.len());
    for (i, c) in before.char_indices().rev() {
        match c {
            ')' | ']' => depth += 1,
            '(' | '[' => depth -= 1,
            _ => {}
        }
        let goes_on = c.is_alphanumeric() || matches!(c, '_' | '.' | ')' | ']' | '(' | '[') || depth > 0;
        if depth < 0 || !goes_on {
            break;
        }
        start = i;
    }
    &before[start..]
}

/// Calls that take words of a check apart: receiver and method.
fn parsed(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for parser in PARSERS {
        for (at, _) in code.match_indices(&format!(".{parser}(")) {
            let receiver = receiver(&code[..at]);
            let mut steps = receiver.split('.').map(|step| step.split(['(', '[']).next().unwrap_or_default());
            if steps.any(|step| WORDED.contains(&step)) {
                found.push(format!("{receiver}.{parser}"));
            }
        }
    }
    found
}

fn all(folder: &Path, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            all(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("tests.rs") {
            let name = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).expect("inside").display().to_string();
            let calls = parsed(&code(&fs::read_to_string(&path).expect("a file")));
            found.extend(calls.into_iter().map(|call| (name.clone(), call)));
        }
    }
}

#[test]
fn calls_that_read_words_back_are_found() {
    for fault in [
        r#"let leg: usize = o.place.trim_start_matches("leg ").split(',').next();"#,
        "self.bad().any(|name| family.helps.iter().any(|start| name.starts_with(start)))",
        r#"let rest = &place[place.find("leg ")? + 4..];"#,
        "let leg = check.subject\n    .words()\n    .split_once(\"leg \");",
        r#"remedy.cures.contains("screws")"#,
    ] {
        assert!(!parsed(&code(fault)).is_empty(), "{fault}");
    }
    for right in
        [r#"text.split('/')"#, "// name.split(' ')", "ids.contains(&id)", "families.iter().find(|f| f.name == name)"]
    {
        assert!(parsed(&code(right)).is_empty(), "{right}");
    }
}

#[test]
fn the_leg_of_a_check_was_read_from_its_place_and_its_part_guessed_from_its_name() {
    let mut found = Vec::new();
    for folder in ["src/checks", "src/cli", "src/mechanics", "src/model", "src/output", "src/search"] {
        all(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut found);
    }
    let others = |file: &str, call: &str| OTHERS.iter().any(|(f, c)| file == *f && call.ends_with(c));
    let wrong: Vec<_> = found.iter().filter(|(file, call)| !others(file, call)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    let stale = OTHERS.iter().filter(|(f, c)| !found.iter().any(|(file, call)| file == f && call.ends_with(c)));
    assert_eq!(stale.collect::<Vec<_>>(), Vec::<&(&str, &str)>::new());
}

//! Words are for people: they are made in `output/` alone, and nothing of the program reads them back. Which check it is,
//! what it is about, how it was worked out and what a change cures are typed values.

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

/// What puts a text together.
const WRITERS: [&str; 7] = ["format!(", "write!(", "writeln!(", ".push_str(", "fn words(", "fn word(", "fn text("];
/// Words of a sentence; a name has fewer.
const SENTENCE: usize = 3;
/// What stands before a text that is no prose of the program: a work and a place in it, and what is said of a fault of its own.
const CITED: [&str; 6] = ["at(", "read(", "from_memory(", "title:", "expect(", "unreachable!("];
/// Files that word something all the same.
const WORDS: [(&str, &str); 10] = [
    ("src/mechanics/bracket_shape.rs", "why a shape cannot be analysed"),
    ("src/mechanics/joint.rs", "why a shape cannot be analysed"),
    ("src/mechanics/solid_bracket.rs", "why a part cannot be analysed"),
    ("src/model/assumed.rs", "why a value is assumed: the reason of a default stands where it is chosen"),
    ("src/model/cases.rs", "names of load cases, of which the file gives some"),
    ("src/model/layout.rs", "names of printed parts"),
    ("src/model/mark.rs", "marks engraved in parts"),
    ("src/model/mend.rs", "values offered for the file"),
    ("src/model/named.rs", "names of printed parts"),
    ("src/model/rail.rs", "names of tubes"),
];

/// Texts between quotation marks, each with where it begins.
fn literals(code: &str) -> Vec<(usize, &str)> {
    let (mut all, mut from, mut escaped) = (Vec::new(), None, false);
    for (at, c) in code.char_indices() {
        match (from, c) {
            (None, '"') => from = Some(at + 1),
            (Some(start), '"') if !escaped => {
                all.push((start, &code[start..at]));
                from = None;
            }
            _ => {}
        }
        escaped = c == '\\' && !escaped;
    }
    all
}

/// Where a file makes prose: what puts texts together, and sentences that are no citation and no part of a formula.
fn prose(code: &str) -> Vec<String> {
    let written = WRITERS.iter().filter(|writer| code.contains(*writer)).map(|writer| (*writer).to_owned());
    let all = literals(code);
    let is_word =
        |w: &&str| w.len() > 1 && w.chars().all(|c| c.is_alphabetic() || matches!(c, ',' | '.' | ':' | ';' | '\''));
    let sentence = |text: &str| text.split_whitespace().filter(is_word).count() >= SENTENCE;
    let cited = |start: usize| {
        let before = code[..start - 1].trim_end();
        CITED.iter().any(|call| before.ends_with(call))
    };
    let formula = |text: &str| all.iter().any(|(_, other)| other.contains(" = ") && other.contains(text));
    let said = all.iter().filter(|(start, text)| sentence(text) && !cited(*start) && !formula(text));
    written.chain(said.map(|(_, text)| (*text).to_owned())).collect()
}

/// The code of every file below a folder, without comments and tests, and the file's name.
fn files(folder: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    all(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut found);
    found
}

fn all(folder: &Path, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            all(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("tests.rs") {
            let name = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).expect("inside").display().to_string();
            found.push((name, code(&fs::read_to_string(&path).expect("a file"))));
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
    let folders = ["src/checks", "src/cli", "src/mechanics", "src/model", "src/output", "src/search"];
    let calls = |(name, code): (String, String)| parsed(&code).into_iter().map(move |call| (name.clone(), call));
    let found: Vec<(String, String)> = folders.into_iter().flat_map(files).flat_map(calls).collect();
    let others = |file: &str, call: &str| OTHERS.iter().any(|(f, c)| file == *f && call.ends_with(c));
    let wrong: Vec<_> = found.iter().filter(|(file, call)| !others(file, call)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    let stale = OTHERS.iter().filter(|(f, c)| !found.iter().any(|(file, call)| file == f && call.ends_with(c)));
    assert_eq!(stale.collect::<Vec<_>>(), Vec::<&(&str, &str)>::new());
}

#[test]
fn prose_is_found() {
    for fault in [
        r#"let note = format!("{held} slide");"#,
        r#"    pub fn words(&self) -> &'static str {"#,
        r#"all.push("nothing but friction holds it".to_owned());"#,
        "Self::Unheld =>\n    \"only friction and weight hold it\",",
        r#"equation("sigma = 6 m / t^2", [("m", m, "N")], s, "MPa"); let why = "bent by the load";"#,
    ] {
        assert!(!prose(&code(fault)).is_empty(), "{fault}");
    }
    for right in [
        r#"Source::JUDGEMENT.at("what people call wobble; set it in limits.play")"#,
        "const WHY: Clause =\n    Source::from_memory(\"a book on wood and glue\", \"\").at(\n \"its second chapter on glue\",\n);",
        r#"equation("left = thickness - length in the wood", [("length in the wood", l, "mm")], left, "mm")"#,
        "// a comment of many words with format!(",
        r#"unit: "N mm","#,
    ] {
        assert_eq!(prose(&code(right)), Vec::<String>::new(), "{right}");
    }
}

#[test]
fn checks_clauses_mechanics_and_model_say_nothing() {
    let folders = ["src/checks", "src/clauses", "src/mechanics", "src/model"];
    let files = folders.into_iter().flat_map(files).filter(|(name, _)| !name.starts_with("src/model/problems"));
    let found: Vec<(String, Vec<String>)> = files.map(|(name, code)| (name, prose(&code))).collect();
    let wrong = found.iter().filter(|(name, said)| !said.is_empty() && WORDS.iter().all(|(file, _)| file != name));
    let wrong: Vec<_> = wrong.collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    let stale = WORDS.iter().filter(|(file, _)| !found.iter().any(|(name, said)| name == file && !said.is_empty()));
    assert_eq!(stale.collect::<Vec<_>>(), Vec::<&(&str, &str)>::new());
}

//! Exit status and files of every command.

mod common;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;

use common::{describe, names, place, program, run, small, whole};
use serde_json::Value;

/// Runs it with text on standard input.
fn run_with(place: &Path, arguments: &[&str], text: &str) -> (i32, String, String) {
    let mut command = program(place, arguments);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("runs");
    // A program that refuses at once ends before it has read everything.
    let written = child.stdin.take().expect("stdin").write_all(text.as_bytes());
    assert!(written.as_ref().err().is_none_or(|e| e.kind() == std::io::ErrorKind::BrokenPipe), "{written:?}");
    describe(child.wait_with_output().expect("ends"))
}

/// The built-in bench: adequate, so that nothing has to be advised.
fn bench() -> &'static str {
    underframe::params::built_in()
}

/// Nothing below a place but these.
fn only(place: &Path, wanted: &[&str]) {
    assert_eq!(names(place), wanted);
}

#[test]
fn make_again_compare_and_find() {
    let place = place("make");
    fs::write(place.join("my table.json"), bench()).expect("file");
    let (status, _, stderr) = run(&place, &["make", "my table.json"]);
    assert_eq!(status, 0, "{stderr}");
    only(&place.join("out"), &["my_table"]);
    let kit = place.join("out/my_table");
    let first = whole(&kit).expect("a whole kit");
    for path in ["report.html", "report.json", "cut_list.csv", "hardware.csv", "drilling_a4.pdf", "beds/bed_1.3mf"] {
        assert!(first.files.contains_key(path), "{path}");
    }
    for part in &first.parts {
        assert!(first.files.contains_key(&part.file) && first.files.contains_key(&part.file.replace(".stl", ".step")));
    }
    let report: Value = serde_json::from_slice(&fs::read(kit.join("report.json")).expect("figures")).expect("JSON");
    assert_ne!(report["verdict"], "not adequate");

    // The same file again gives the same bytes, wherever they are written.
    assert_eq!(run(&place, &["make", "my table.json", "--out", "elsewhere"]).0, status);
    assert_eq!(
        fs::read(place.join("elsewhere/my_table/record.json")).expect("record"),
        fs::read(kit.join("record.json")).expect("record")
    );

    let (same, stdout, _) = run(&place, &["compare", "my table.json"]);
    assert!(same == 0 && stdout.contains("nothing to do"), "{stdout}");
    fs::write(place.join("my table.json"), bench().replace("860 mm", "850 mm")).expect("file");
    let (changed, stdout, _) = run(&place, &["compare", "my table.json"]);
    assert!(changed == 0 && stdout.contains("shorten") && stdout.contains("because of height"), "{stdout}");
    assert_eq!(whole(&kit).as_ref(), Ok(&first), "compare writes nothing");

    let mark = first.parts[0].mark.to_lowercase();
    let (found, stdout, _) = run(&place, &["find", &mark]);
    assert!(found == 0 && stdout.contains(&first.parts[0].file), "{stdout}");
    assert_eq!(run(&place, &["find", "XXXX"]).0, 1);
    assert_eq!(run(&place, &["find", &mark, "--out", "missing"]).0, 2);

    fs::write(kit.join("notes.txt"), "mine").expect("file");
    assert_eq!(run(&place, &["make", "my table.json"]).0, 0);
    assert!(whole(&kit).is_ok() && kit.join("record_1.json").exists() && kit.join("notes.txt").exists());
}

#[test]
fn a_file_with_problems_writes_nothing() {
    let place = place("problems");
    let wrong = small().replace("\"30 mm\"", "\"8 mm\"").replace("\"tubes\"", "\"tubs\"");
    fs::write(place.join("wrong.json"), wrong).expect("file");
    for command in ["make", "check", "gauge", "compare"] {
        let (status, stdout, stderr) = run(&place, &[command, "wrong.json"]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{command}");
        if command != "compare" {
            assert!(stderr.contains("wrong.json:") && stderr.contains("2 problems in wrong.json"), "{stderr}");
        }
    }
    only(&place, &["wrong.json"]);
}

#[test]
fn files_that_cannot_be_read_are_told() {
    let place = place("unread");
    fs::write(place.join("latin.json"), b"{\"title\": \"\xe4\"}").expect("file");
    fs::create_dir(place.join("folder.json")).expect("folder");
    for file in ["missing.json", "folder.json", "latin.json", "..", "/"] {
        assert_eq!(run(&place, &["check", file]).0, 2, "{file}");
        assert_eq!(run(&place, &["make", file]).0, 2, "{file}");
    }
    only(&place, &["folder.json", "latin.json"]);
    only(&place.join("folder.json"), &[]);
}

#[test]
fn a_folder_was_no_name_of_a_parameter_file() {
    let place = place("folder");
    let (status, _, stderr) = run(&place, &["check", "."]);
    assert!(
        status == 2 && stderr.contains("is a folder") && stderr.contains("there is none (*.json) in it"),
        "{stderr}"
    );
    fs::write(place.join("bench.json"), bench()).expect("file");
    fs::create_dir(place.join("old.json")).expect("folder");
    let (status, _, stderr) = run(&place, &["make", "."]);
    assert!(status == 2 && stderr.contains("bench.json") && !stderr.contains("old.json"), "{stderr}");
    only(&place, &["bench.json", "old.json"]);
}

#[test]
fn working_of_a_file_alone_took_it_for_a_check_of_the_built_in_bench() {
    let place = place("governing");
    fs::write(place.join("small.json"), small()).expect("file");
    let (status, stdout, stderr) = run(&place, &["working", "small.json"]);
    let (_, checked, _) = run(&place, &["check", "small.json", "--json"]);
    let checked: Value = serde_json::from_str(&checked).expect("JSON");
    let first = checked["checks"][0]["name"].as_str().expect("a name");
    assert!(status == 0 && stdout.contains(&format!("{first}, ")), "{stderr}{stdout}");
    for check in checked["checks"].as_array().expect("checks") {
        assert!(stdout.contains(&format!("    {}\n", check["name"].as_str().expect("a name"))), "{stdout}");
    }
    let (status, _, stderr) = run(&place, &["working", "none.json"]);
    assert!(status == 2 && stderr.contains("none.json"), "{stderr}");
}

#[test]
fn an_empty_mark_was_searched_for() {
    let place = place("empty-mark");
    let (status, _, stderr) = run(&place, &["find", "  "]);
    assert!(status == 2 && stderr.contains("the mark is empty"), "{stderr}");
    let (status, _, stderr) = run(&place, &["working", ""]);
    assert!(status == 2 && stderr.contains("is empty") && stderr.contains("top: sag"), "{stderr}");
}

#[test]
fn check_says_for_programs_what_it_says_for_people() {
    let place = place("check");
    fs::write(place.join("table.json"), bench()).expect("file");
    let (status, stdout, _) = run(&place, &["check", "table.json", "--json"]);
    let data: Value = serde_json::from_str(&stdout).expect("JSON");
    assert_eq!((status, data["verdict"] == "not adequate"), (0, false));
    let first = &data["checks"][0];
    assert!(
        first["utilisation"].as_f64() == Some(first["demand"].as_f64().unwrap() / first["capacity"].as_f64().unwrap())
    );
    let (again, table, _) = run_with(&place, &["check", "-"], bench());
    assert_eq!(again, status);
    assert!(table.to_lowercase().starts_with(data["verdict"].as_str().expect("a verdict")), "{table}");
    assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
    let name = first["name"].as_str().expect("a name");
    assert_eq!(run(&place, &["working", name, "table.json"]).0, 0);
    assert_eq!(run(&place, &["working", "no such check", "table.json"]).0, 2);
    only(&place, &["table.json"]);
}

#[test]
fn what_is_not_adequate_ends_with_status_one() {
    let place = place("overloaded");
    let heavy = bench().replace("\"60 kg\"", "\"900 kg\"");
    let (status, stdout, _) = run_with(&place, &["check", "-", "--json"], &heavy);
    let data: Value = serde_json::from_str(&stdout).expect("JSON");
    assert_eq!((status, &data["verdict"]), (1, &"not adequate".into()));
    assert!(data["checks"][0]["utilisation"].as_f64() > Some(1.0));
    only(&place, &[]);
}

/// The bench with bosses that are too thin.
fn weak() -> String {
    bench().replace("\"boss_wall\": \"15 mm\"", "\"boss_wall\": \"10 mm\"")
}

#[test]
fn what_would_help_is_told_last() {
    let (_, text, _) = run_with(&place("help"), &["check", "-"], &weak());
    let (checks, help) = text.split_once("\n\nWhat would help:\n").expect("help");
    let help = help.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(checks.starts_with("NOT ADEQUATE") && help.contains("every check passes"), "{text}");
}

#[test]
fn a_change_that_helps_is_written_into_a_new_file() {
    let place = place("with");
    let file = &weak();
    let with = |number: &str| run_with(&place, &["check", "-", "--with", number, "--out", "better.json"], file);
    let (status, _, stderr) = with("99");
    assert!(
        status == 2 && stderr.contains("there is no change 99") && stderr.contains("nothing was written"),
        "{stderr}"
    );
    only(&place, &[]);
    let (status, told, _) = with("1");
    assert!(status == 1 && told.contains("   1. ") && told.contains("Then: underframe check better.json"), "{told}");
    let better = fs::read_to_string(place.join("better.json")).expect("file");
    let kept = file
        .lines()
        .filter(|line| better.lines().any(|other| other.trim_end_matches(',') == line.trim_end_matches(',')));
    assert!(&better != file && kept.count() + 3 >= file.lines().count(), "{better}");
    assert_eq!(run(&place, &["check", "better.json"]).0, 0, "{better}");
    let (status, stdout, stderr) = with("1");
    assert!(status == 2 && stdout.is_empty() && stderr.contains("is not overwritten"), "{stderr}");
    assert_eq!(fs::read_to_string(place.join("better.json")).expect("file"), better);
    assert_eq!(run(&place, &["check", "--with", "1"]).0, 2);
}

#[test]
fn gauge_leaves_the_kit_alone() {
    let place = place("gauge");
    assert_eq!(run_with(&place, &["gauge", "-"], &small()).0, 0);
    only(&place.join("out"), &["stdin.gauge"]);
    let record = whole(&place.join("out/stdin.gauge")).expect("whole");
    assert_eq!(record.parts.iter().map(|p| p.sort.as_str()).collect::<Vec<_>>(), ["fit gauge", "coupon"]);
    assert!(record.tubes.is_empty() && record.holes.is_empty());
}

#[test]
fn compare_without_a_kit_says_what_to_do() {
    let place = place("no_kit");
    fs::write(place.join("table.json"), small()).expect("file");
    let (status, _, stderr) = run(&place, &["compare", "table.json"]);
    assert!(status == 2 && stderr.contains("underframe make table.json"), "{stderr}");
    only(&place, &["table.json"]);
    fs::create_dir_all(place.join("out/table")).expect("folder");
    fs::write(place.join("out/table/record.json"), "{}").expect("file");
    assert_eq!(run(&place, &["compare", "table.json"]).0, 2);
}

/// Flags that say what only the user knows.
const ENOUGH: [&str; 12] = [
    "--length",
    "59 in",
    "--width",
    "600 mm",
    "--thickness",
    "30 mm",
    "--height",
    "740 mm",
    "--tube",
    "20 x 2 mm",
    "--mass",
    "90 lb",
];

#[test]
fn start_writes_a_file_that_can_be_used_and_never_overwrites() {
    let place = place("start");
    let start = |file: &str, more: &[&str]| run(&place, &[&["start", file], &ENOUGH[..], more].concat());
    let (status, stdout, _) = start("new.json", &["--children"]);
    assert!(status == 0 && !stdout.contains("Before it can be used"), "{stdout}");
    assert_eq!(run(&place, &["gauge", "new.json"]).0, 0);
    let before = fs::read_to_string(place.join("new.json")).expect("file");
    let file: Value = serde_json::from_str(&before).expect("JSON");
    assert_eq!((&file["top"]["length"], &file["place"]["children"]), (&"59 in".into(), &true.into()));
    assert_eq!(start("new.json", &[]).0, 2);
    assert_eq!(fs::read_to_string(place.join("new.json")).expect("file"), before);
    let bad = ["--tubes", "nine", "--children", "perhaps"];
    let (status, _, stderr) = start("bad.json", &bad);
    assert!(status == 2 && stderr.contains("--tubes: \"nine\" is not accepted"), "{stderr}");
    assert!(stderr.contains("--children: \"perhaps\" is not accepted\n    accepted: yes or no"), "{stderr}");
    assert_eq!(start("no/such/folder.json", &[]).0, 2);
    let (status, stdout, _) = start("-", &["--children", "no"]);
    assert!(status == 0 && underframe::params::read(&stdout).is_ok_and(|p| !p.place.children));
    only(&place, &["new.json", "out"]);
}

#[test]
fn start_without_a_terminal_took_what_nobody_said() {
    let place = place("start_flags");
    for given in 0..ENOUGH.len() / 2 {
        let (said, missing) = ENOUGH.split_at(2 * given);
        let (status, stdout, stderr) = run(&place, &[&["start", "new.json"], said].concat());
        assert_eq!((status, stdout.as_str()), (2, ""), "{stderr}");
        let first = stderr.lines().next().unwrap_or_default();
        let flags: Vec<&str> = missing.iter().copied().step_by(2).collect();
        assert_eq!(first, format!("flags missing: {}", flags.join(", ")));
        assert!(stderr.contains("nothing was written"), "{stderr}");
    }
    assert_eq!(run(&place, &["start", "-"]).0, 2);
    let (_, _, stderr) = run(&place, &["start", "new.json", "--thickness", "8 mm", "--wood", "oaken"]);
    assert!(stderr.contains("--thickness: \"8 mm\" is too thin") && stderr.contains("--wood"), "{stderr}");
    only(&place, &[]);
}

#[test]
fn tables_schema_and_completions_are_shown() {
    let place = place("shown");
    let shown = |arguments: &[&str]| {
        let (status, stdout, stderr) = run(&place, arguments);
        assert_eq!((status, stderr.as_str()), (0, ""), "{arguments:?}");
        stdout
    };
    let list = shown(&["tables"]);
    for line in list.lines() {
        let name = line.split(' ').next().expect("a name");
        assert!(shown(&["tables", name]).len() > 200, "{name}");
    }
    assert!(serde_json::from_str::<Value>(&shown(&["schema"])).is_ok());
    for shell in ["bash", "zsh", "fish"] {
        assert!(shown(&["completions", shell]).contains("compare"), "{shell}");
    }
    assert_eq!(run(&place, &["tables", "stones"]).0, 2);
    assert_eq!(run(&place, &["polish"]).0, 2);
    assert_eq!(run(&place, &["--help"]).0, 0);
    only(&place, &[]);
}

#[test]
fn a_tampered_record_wrote_to_the_terminal() {
    let place = place("tampered");
    assert_eq!(run_with(&place, &["gauge", "-"], &small()).0, 0);
    let path = place.join("out/stdin.gauge/record.json");
    let mut record: Value = serde_json::from_slice(&fs::read(&path).expect("record")).expect("JSON");
    let mark = record["parts"][0]["mark"].as_str().expect("a mark").to_owned();
    let evil = "\u{1b}]0;taken\u{7}\u{9b}31m\nfoo";
    record["title"] = evil.into();
    for key in ["name", "file", "material"] {
        record["parts"][0][key] = evil.into();
    }
    fs::write(&path, record.to_string()).expect("record");
    let folder = place.join("out/\u{1b}[2J");
    fs::create_dir(&folder).expect("folder");
    fs::write(folder.join("record.json"), format!("{{\"made_by\": {}", Value::from(evil))).expect("record");
    for (wanted, status) in [(mark.as_str(), 0), ("\u{1b}[2J", 1)] {
        let (found, stdout, stderr) = run(&place, &["find", wanted]);
        assert_eq!(found, status, "{stderr}");
        let told = stdout + &stderr;
        assert!(told.chars().all(|c| c == '\n' || !c.is_control()), "{told:?}");
        assert!(!told.contains("\nfoo"), "{told:?}");
    }
}

/// A longer screw comes out through the show face: whoever stripped a hole is never sent to one.
#[test]
fn nobody_with_a_stripped_hole_is_sent_to_a_longer_screw() {
    let place = place("longer-screw");
    fs::write(place.join("t.json"), bench()).expect("file");
    assert_eq!(run(&place, &["make", "t.json"]).0, 0);
    let report = fs::read_to_string(place.join("out/t/report.html")).expect("a report").to_lowercase();
    let words = report.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("use a spare hole or a fresh part"), "what to do instead");
    for (at, _) in words.match_indices("longer screw") {
        assert!(words[..at].ends_with("never a "), "...{}", &words[at.saturating_sub(60)..at + 12]);
    }
}

/// What widens the band of the joints is said with the verdict, not in the report alone.
#[test]
fn check_tells_what_lies_outside_the_studied_range() {
    let place = place("outside-studied");
    fs::write(place.join("t.json"), bench()).expect("file");
    let (_, stdout, _) = run(&place, &["check", "t.json"]);
    let words = stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("Outside the studied range (") && words.contains("lean of the legs deg"), "{stdout}");
}

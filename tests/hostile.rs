//! Files made to do harm: endless, deep, in the wrong encoding, with names that lead elsewhere or are commands.
#![cfg(unix)]

mod common;

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::time::{Duration, Instant};

use common::{names, place, run, small, whole};
use serde_json::{Value, json};
use underframe::params::read_bytes;

/// No file may keep the reader longer than this, in a release build on a slow machine.
const PATIENCE: Duration = Duration::from_secs(10);

/// What is told of a file: one line for each problem, hints left out.
fn problems(bytes: &[u8]) -> Vec<String> {
    let start = Instant::now();
    let found = read_bytes(bytes).expect_err("a hostile file");
    assert!(start.elapsed() < PATIENCE, "{:?}", start.elapsed());
    found.iter().map(|p| p.to_string().lines().next().unwrap_or_default().to_owned()).collect()
}

/// The one problem of a file.
fn only_problem(bytes: &[u8]) -> String {
    let mut all = problems(bytes);
    assert_eq!(all.len(), 1, "{all:?}");
    all.remove(0)
}

/// The small table with one thing replaced.
fn with(old: &str, new: &str) -> String {
    let text = small();
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

#[test]
fn endless_numbers_are_refused_at_once() {
    let digits = |count: usize| with("\"count\": 4", &format!("\"count\": {}", "9".repeat(count)));
    assert_eq!(only_problem(digits(50_000_000).as_bytes()), "1:1 the file is larger than 1000 kB");
    let told = only_problem(digits(900_000).as_bytes());
    assert!(told.contains("legs.count: 999") && told.ends_with("9... is not accepted") && told.len() < 120, "{told}");
    let told = only_problem(with("\"750 mm\"", &format!("\"{} mm\"", "9".repeat(900_000))).as_bytes());
    assert!(told.contains("height: \"999") && told.ends_with("9...\" is too long for a quantity"), "{told}");
}

#[test]
fn deep_nesting_is_refused_before_it_is_parsed() {
    for open in ["[", "{\"a\":"] {
        for depth in [33, 10_000, 199_000] {
            let told = only_problem(open.repeat(depth).as_bytes());
            assert!(told.ends_with("this is nested more than 32 deep"), "{told}");
        }
        assert!(only_problem(open.repeat(1_000_001).as_bytes()).ends_with("larger than 1000 kB"));
    }
    let inside = with("\"title\"", &format!("\"note\": {}, \"title\"", "[".repeat(500_000)));
    assert!(only_problem(inside.as_bytes()).ends_with("this is nested more than 32 deep"));
}

#[test]
fn no_number_leaves_the_range_of_numbers() {
    let endless = format!("1{} mm", "0".repeat(1000));
    for (text, told) in [
        ("1e400 mm", "is too large to be read as a number"),
        ("-1e400 mm", "is too large to be read as a number"),
        ("1e308 m", "is too large to be read as a number"),
        ("1e308 mm", "is too large"),
        ("1e-400 mm", "is too small"),
        ("1/0 mm", "divides by zero"),
        ("NaN", "is not a length"),
        ("NaN mm", "is not a length"),
        ("Infinity mm", "is not a length"),
        ("inf in", "is not a length"),
        (&endless, "is too long for a quantity"),
    ] {
        let found = only_problem(with("\"750 mm\"", &format!("\"{text}\"")).as_bytes());
        assert!(found.contains(" height: \"") && found.ends_with(told), "{text}: {found}");
    }
    for word in ["NaN", "Infinity", "-Infinity", "1e", ".5", "0x10"] {
        only_problem(with("\"750 mm\"", word).as_bytes());
    }
    let found = only_problem(with("\"count\": 4", "\"count\": 1e400").as_bytes());
    assert!(found.ends_with("legs.count: 1e400 is not accepted"), "{found}");
}

#[test]
fn a_place_that_is_not_a_number_is_not_offered_a_unit() {
    let found = read_bytes(with("[\"50 %\", \"0 %\"]", "[\"nan\", \"inf\"]").as_bytes()).expect_err("no numbers");
    assert_eq!(found.len(), 2, "{found:?}");
    for problem in found {
        let shown = problem.to_string();
        assert!(shown.contains("is not a length") && !shown.contains("nan mm") && !shown.contains("inf %"), "{shown}");
    }
}

#[test]
fn every_encoding_is_read_or_named() {
    let wide = |order: fn(u16) -> [u8; 2]| small().encode_utf16().flat_map(order).collect::<Vec<u8>>();
    let utf16 = "1:1 the file is saved as UTF-16";
    for order in [u16::to_le_bytes, u16::to_be_bytes] {
        assert_eq!(only_problem(&[&order(0xfeff)[..], &wide(order)].concat()), utf16);
        assert_eq!(only_problem(&wide(order)), utf16);
    }
    assert_eq!(only_problem(b"{\r\n\"title\": \"\xfc\"}"), "2:11 the byte 0xFC is not UTF-8 text");
    assert_eq!(only_problem(b"{\r\"title\": \"\xc3"), "2:11 the byte 0xC3 is not UTF-8 text");
    for empty in ["", " ", "\r\n\t \n", "\u{feff}", "\u{feff} \n"] {
        assert_eq!(only_problem(empty.as_bytes()), "1:1 the file is empty", "{empty:?}");
    }
    assert!(read_bytes(format!("\u{feff}{}", small()).as_bytes()).is_ok());
    assert!(only_problem(format!("\u{feff}\u{feff}{}", small()).as_bytes()).contains("U+FEFF"));
}

#[test]
fn every_kind_of_line_end_counts() {
    let wrong = with("\"750 mm\"", "\"750 mn\"");
    let first = only_problem(wrong.as_bytes());
    let line = 1 + wrong.lines().position(|line| line.contains("750 mn")).expect("a line");
    assert!(first.starts_with(&format!("{line}:13 height")), "{first}");
    for end in ["\r\n", "\r"] {
        assert_eq!(only_problem(wrong.replace('\n', end).as_bytes()), first, "{end:?}");
    }
}

#[test]
fn texts_that_cannot_be_printed_are_refused() {
    let long = "x".repeat(10_000);
    for text in ["\\u0000", "a\\nb", "a\\u001b[2Jb", "a\\u2028b", "a\\u202eb", "a\\uffffb", "\\ufeff\\ufeff", &long] {
        let found = only_problem(with("\"My table\"", &format!("\"{text}\"")).as_bytes());
        assert!(found.starts_with("3:12 title: \"") && found.ends_with("cannot be printed"), "{text}: {found}");
        let named = format!("\"wood\": {{ \"name\": \"{text}\" }}");
        let found = only_problem(with("\"wood\": \"Scots pine\"", &named).as_bytes());
        assert!(found.contains("top.wood.name: \"") && found.ends_with("cannot be printed"), "{text}: {found}");
    }
    for raw in ["\0", "\n", "\u{1b}"] {
        only_problem(with("My table", &format!("My{raw}table")).as_bytes());
    }
}

/// Texts that are commands somewhere: to a spreadsheet, a browser, a shell, a file system.
const COMMANDS: [&str; 4] = [
    "=HYPERLINK(1)",
    "@SUM(1)</title><script>alert(1)</script>",
    "../../../etc/passwd",
    "-1+2 ]]> & \\\" {{ 7*7 }} %s",
];

/// The small table with a command wherever a text of one's own may stand.
fn commanding(command: &str) -> String {
    let own = |key: &str, more: &str| format!("\"{key}\": {{ \"name\": \"{command}\"{more} }}");
    let text = with("My table", command)
        .replace("\"wood\": \"Scots pine\"", &own("wood", ", \"like\": \"Scots pine\""))
        .replace("\"filament\": \"PETG\"", &own("filament", ", \"like\": \"PETG\""))
        .replace("\"size\": \"25 x 2 mm\"", &format!("\"size\": \"+25 x 2 mm\", {}", own("metal", "")))
        .replace("what stands on it", command)
        .replace("\"cross bolt M4\"]", &format!("\"cross bolt M4\"], \"screws\": {{ {}}}", own("size", "")));
    assert_eq!(text.matches(command).count(), 6);
    text
}

#[test]
fn nothing_in_a_kit_obeys_a_text_of_the_file() {
    let plain = underframe::make(small().as_bytes(), &|_| ()).expect("a kit").files;
    let stem = |path: &str| path.split_once('/').map_or(path, |(folder, _)| folder).to_owned();
    let kinds: std::collections::BTreeSet<String> = plain.keys().map(|path| stem(path)).collect();
    for command in COMMANDS {
        let files = underframe::make(commanding(command).as_bytes(), &|_| ()).expect("a kit").files;
        assert!(files.keys().all(|path| kinds.contains(&stem(path))), "{:?}", files.keys());
        let tame = |c: char| c.is_ascii_alphanumeric() || "._-/".contains(c);
        assert!(files.keys().all(|path| path.chars().all(tame) && !path.contains("..")), "{:?}", files.keys());
        let html = String::from_utf8(files["report.html"].clone()).expect("UTF-8");
        assert!(!html.contains("<script>alert") && !html.contains("{{ 49") && !html.contains(" & \""), "{command}");
        let mut seen = 0;
        for (path, bytes) in files.iter().filter(|(path, _)| path.ends_with(".csv")) {
            let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(&bytes[..]);
            for row in reader.records() {
                for cell in row.expect("a row").iter() {
                    let number = cell.parse::<f64>().is_ok();
                    assert!(number || !cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{path}: {cell}");
                    seen += usize::from(cell.contains(&command.replace("\\\"", "\"")) || cell.contains("+25 x 2 mm"));
                }
            }
        }
        assert!(seen > 0, "no list holds a text of the file");
    }
}

#[test]
fn a_bad_file_ends_with_status_two_and_writes_nothing() {
    let place = place("hostile_bad");
    let bad: Vec<(&str, Vec<u8>)> = vec![
        ("empty", Vec::new()),
        ("blank", b" \r\n".to_vec()),
        ("utf16", b"\xff\xfe{\0}\0".to_vec()),
        ("latin", b"{\"title\": \"\xe4\"}".to_vec()),
        ("deep", "[".repeat(900_000).into_bytes()),
        ("nul", b"{\"title\": \"a\0b\"}".to_vec()),
        ("huge", with("\"750 mm\"", "\"1e400 mm\"").into_bytes()),
        ("nan", with("\"750 mm\"", "NaN").into_bytes()),
    ];
    for (name, bytes) in &bad {
        let file = format!("{name}.json");
        fs::write(place.join(&file), bytes).expect("file");
        let (status, stdout, stderr) = run(&place, &["make", &file]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{name}: {stderr}");
        assert!(stderr.contains(&format!("1 problem in {file}; nothing was written")), "{name}: {stderr}");
    }
    assert!(names(&place).iter().all(|name| name.ends_with(".json")), "{:?}", names(&place));
}

/// A file of 1 GB, read by a program that may use 300 MB.
#[cfg(target_os = "linux")]
#[test]
fn an_endless_file_is_not_read_to_its_end() {
    let place = place("hostile_endless");
    fs::write(place.join("big.json"), "{\"legs\": {\"count\": 9").expect("file");
    let file = fs::OpenOptions::new().write(true).open(place.join("big.json")).expect("file");
    file.set_len(1 << 30).expect("a sparse file");
    for input in ["big.json", "/dev/zero"] {
        let script = format!("ulimit -v 300000; exec '{}' check {input}", common::PROGRAM);
        let mut shell = std::process::Command::new("sh");
        let output = shell.current_dir(&place).args(["-c", &script]).output().expect("runs");
        let (status, _, stderr) = common::describe(output);
        assert!(status == 2 && stderr.contains("1:1 the file is larger than 1000 kB"), "{input}: {status} {stderr}");
    }
    fs::remove_file(place.join("big.json")).expect("gone");
}

#[test]
fn files_that_cannot_be_read_say_why() {
    let place = place("hostile_unread");
    fs::create_dir(place.join("folder.json")).expect("folder");
    symlink("nowhere", place.join("dangling.json")).expect("link");
    symlink("round.json", place.join("round.json")).expect("link");
    let mut files = vec!["missing.json", "dangling.json", "round.json", "folder.json/x.json"];
    if cfg!(target_os = "linux") {
        files.push("/proc/self/mem"); // opens, and cannot be read at its start
    }
    for file in files {
        let (status, stdout, stderr) = run(&place, &["make", file]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{file}");
        assert!(stderr.starts_with(&format!("could not read {file}: ")) && stderr.lines().count() == 1, "{stderr}");
    }
    let (status, stdout, stderr) = run(&place, &["make", "folder.json"]);
    assert_eq!((status, stdout.as_str()), (2, ""));
    assert!(stderr.starts_with("folder.json is a folder, and a parameter file is needed\n"), "{stderr}");
    assert_eq!(names(&place), ["dangling.json", "folder.json", "round.json"]);
}

#[test]
fn kits_of_oddly_named_files_stay_in_the_folder() {
    let place = place("hostile_names");
    let long = format!("{}.json", "n".repeat(250));
    let cases = [
        ("my garden table.json", "my_garden_table"),
        ("Küchentisch 餐桌.json", "Küchentisch_餐桌"),
        ("..\\..\\evil.json", "_.._evil"),
        ("...x.json", "x"),
        ("-rf.json", "-rf"),
        ("a\nb\u{1b}[2J.json", "a_b__2J"),
        (&long, &"n".repeat(200)),
    ];
    for (file, kit) in cases {
        fs::write(place.join(file), small()).expect("file");
        let (status, stdout, stderr) = run(&place, &["gauge", "--", file]);
        assert_eq!(status, 0, "{file}: {stderr}");
        assert!(!stdout.contains('\u{1b}'), "{stdout}");
        assert!(whole(&place.join(format!("out/{kit}.gauge"))).is_ok(), "{file}: {:?}", names(&place.join("out")));
    }
    assert_eq!(names(&place.join("out")).len(), cases.len());
    assert!(!place.parent().is_some_and(|above| above.join("evil.gauge").exists()));
    for file in ["..", ".", "/", "...json"] {
        assert_eq!(run(&place, &["gauge", "--", file]).0, 2, "{file}");
    }
    let (status, _, stderr) = run(&place, &["check", "no\u{1b}[2J.json"]);
    assert!(status == 2 && !stderr.contains('\u{1b}'), "{stderr:?}");
}

/// A kit named like a gauge would take the place of the gauge.
#[test]
fn a_file_called_like_a_gauge_keeps_its_kit_apart() {
    let place = place("hostile_gauge");
    for file in ["bench.json", "bench.gauge.json"] {
        fs::write(place.join(file), small()).expect("file");
        assert_eq!(run(&place, &["gauge", file]).0, 0, "{file}");
    }
    assert_eq!(names(&place.join("out")), ["bench.gauge", "bench_gauge.gauge"]);
}

#[test]
fn the_folder_for_kits_may_be_a_link_but_not_a_file() {
    let place = place("hostile_out");
    fs::write(place.join("table.json"), small()).expect("file");
    fs::create_dir(place.join("real")).expect("folder");
    symlink("real", place.join("out")).expect("link");
    assert_eq!(run(&place, &["gauge", "table.json"]).0, 0);
    assert!(place.join("out").is_symlink() && whole(&place.join("real/table.gauge")).is_ok());
    fs::write(place.join("file"), "mine").expect("file");
    symlink("nowhere", place.join("dangling")).expect("link");
    for out in ["file", "file/below", "dangling", "dangling/below"] {
        let (status, stdout, stderr) = run(&place, &["gauge", "table.json", "--out", out]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{out}: {stderr}");
        assert!(stderr.contains("nothing was written"), "{out}: {stderr}");
    }
    assert_eq!(fs::read(place.join("file")).expect("file"), b"mine");
    assert_eq!(names(&place), ["dangling", "file", "out", "real", "table.json"]);
    assert!(!Path::new(&place.join("nowhere")).exists());
}

/// Keys of own rows that take a number, each with the least and the most that the table of keys says.
fn own_numbers() -> Vec<(String, [Value; 2])> {
    let table = underframe::params::keys_table();
    let cells = |line: &str| line.split(" | ").map(|c| c.trim_matches(['|', ' ', '`']).to_owned()).collect::<Vec<_>>();
    let own = |cells: &Vec<String>| cells.last().is_some_and(|c| c.starts_with("as in the row named by"));
    let ends = |cells: Vec<String>| {
        let (least, most) = cells[2].split_once(" to ").expect("a range");
        let number = |text: &str| text.parse::<f64>().map_or_else(|_| Value::from(text), Value::from);
        (cells[0].clone(), [number(least.trim_start_matches("a number, ")), number(most)])
    };
    table.lines().map(cells).filter(own).map(ends).collect()
}

/// The small table with a value at a key of an own row, which is like the row that the file names.
fn with_own(file: &mut Value, path: &str, value: &Value) {
    let mut group = file;
    let (above, name) = path.rsplit_once('.').expect("a group");
    for part in above.split('.') {
        group = &mut group[part];
        if let Value::String(row) = &*group {
            let key = if part == "tube" { "size" } else { "like" };
            *group = json!({ key: row });
        }
    }
    group[name] = value.clone();
}

/// A verdict with figures, or problems with places; says which.
fn judged_or_told(what: &str, file: &Value) -> bool {
    match underframe::judge(file.to_string().as_bytes(), &|_| ()) {
        Ok(judged) => {
            for check in &judged.checked.checks {
                let figures = check.demand.is_finite() && check.capacity.is_finite() && check.capacity > 0.0;
                assert!(figures, "{what}: {} {} / {}", check.id.words(), check.demand, check.capacity);
            }
            true
        }
        Err(underframe::Failure::Problems(all)) => {
            assert!(all.iter().all(|p| p.place.line > 0 && !p.key.is_empty()), "{what}: {all:?}");
            assert!(all.iter().all(|p| p.accepted.is_some() || p.hint.is_some()), "{what}: {all:?}");
            false
        }
        Err(underframe::Failure::Defect(why)) => panic!("{what}: {why}"),
    }
}

#[test]
fn an_own_wood_stiffer_across_the_grain_was_our_mistake() {
    let small: Value = serde_json::from_str(&small()).expect("JSON");
    let all = own_numbers();
    assert!(all.len() >= 32, "{}", all.len());
    let mut judged = 0;
    for (key, ends) in &all {
        let heads: &[&str] = if key.contains("screws") { &["pan", "washer", "countersunk"] } else { &["pan"] };
        for value in ends {
            for head in heads {
                let mut file = small.clone();
                file["bracket"]["screws"]["head"] = json!(head);
                with_own(&mut file, key, value);
                judged += usize::from(judged_or_told(&format!("{key} {value} {head}"), &file));
            }
        }
    }
    assert!(judged >= 2 * all.len() - 8, "{judged} of {} have a verdict", 2 * all.len());
    let mut file = small;
    with_own(&mut file, "top.wood.e_along", &json!("1000 MPa"));
    with_own(&mut file, "top.wood.e_across", &json!("15000 MPa"));
    assert!(!judged_or_told("soft along, stiff across", &file));
}

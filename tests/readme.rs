//! The manual says what the program does: its table of keys is the program's own.
//!
//! `REWRITE=1 cargo test --release --test readme` rewrites the table, and the manual's drawings from the report of the
//! built-in bench. Of the drawings only the words are compared: they may lag behind a change of shape without misleading
//! anybody. `tests/browser/picture.mjs` takes the picture of the report.

use std::path::{Path, PathBuf};

use underframe::params;

const BEGIN: &str = "<!-- keys: written by tests/readme.rs -->\n";
const END: &str = "<!-- end of keys -->\n";
/// Pictures of the manual: file, and the heading or caption that stands next to it in the report.
const PICTURES: [(&str, &str); 2] = [("table.svg", "<h2>Pictures</h2>"), ("bracket.svg", "<article class=\"part\">")];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

/// Text before the table, the table, text after it.
fn split(manual: &str) -> Option<[&str; 3]> {
    let (before, rest) = manual.split_once(BEGIN)?;
    let (table, after) = rest.split_once(END)?;
    Some([before, table, after])
}

fn rewrite() -> bool {
    std::env::var_os("REWRITE").is_some()
}

#[test]
fn the_table_of_keys_is_the_programs_own() {
    let path = root().join("docs/keys.md");
    let manual = std::fs::read_to_string(&path).expect("docs/keys.md");
    let [before, table, after] = split(&manual).expect("the two marks round the table");
    let own = params::keys_table();
    if rewrite() {
        std::fs::write(&path, format!("{before}{BEGIN}{own}{END}{after}")).expect("docs/keys.md can be written");
    } else {
        assert_eq!(table, own, "REWRITE=1 rewrites the table");
    }
}

#[test]
fn the_manual_is_short_and_names_only_files_that_are_there() {
    let manual = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    assert!(manual.lines().count() < 150, "{} lines", manual.lines().count());
    let links: Vec<&str> = manual.split("](").skip(1).filter_map(|rest| rest.split(')').next()).collect();
    for needed in ["docs/keys.md", "docs/limits.md", "docs/pictures/report.png", "THIRD-PARTY.md"] {
        assert!(links.contains(&needed), "{needed}");
    }
    let missing: Vec<&&str> = links.iter().filter(|l| !l.starts_with('#') && !root().join(l).exists()).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// What is written in a picture, in its order.
fn words(svg: &str) -> Vec<&str> {
    let texts = svg.split("<text").skip(1).filter_map(|rest| rest.split_once('>')?.1.split_once("</text>"));
    texts.map(|(words, _)| words).collect()
}

/// Black lines need a pale ground where the reader's page is dark.
fn on_white(svg: &str) -> String {
    let (head, body) = svg.split_once('>').expect("a tag");
    format!("{head}><rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>{body}\n")
}

#[test]
fn the_pictures_of_the_manual_say_what_the_report_says() {
    let made = underframe::make(params::built_in().as_bytes(), &|_| {}).expect("the built-in bench is sound");
    let report = String::from_utf8_lossy(&made.files["report.html"]);
    for (name, near) in PICTURES {
        let from = report.find(near).expect("the place of the picture");
        let svg = report[from..].find("<svg").map(|i| from + i).expect("a picture");
        let end = report[svg..].find("</svg>").map(|i| svg + i + 6).expect("its end");
        assert!(end - svg > 5_000, "{name}: {} bytes show nothing", end - svg);
        let path = root().join("docs/pictures").join(name);
        if rewrite() {
            std::fs::write(&path, on_white(&report[svg..end])).expect("the picture can be written");
        }
        let kept = std::fs::read_to_string(path).expect("the picture");
        assert_eq!(words(&kept), words(&report[svg..end]), "{name}: REWRITE=1 draws it again");
    }
}

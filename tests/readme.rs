//! The manual says what the program does: its table of keys is the program's own.
//!
//! `REWRITE=1 cargo test --release --test readme` rewrites the table, and the manual's pictures from the report of the
//! built-in bench. The pictures are not compared: they may lag behind a change of shape without misleading anybody.

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

fn blessed() -> bool {
    std::env::var_os("REWRITE").is_some()
}

#[test]
fn the_manual_has_the_programs_own_table_of_keys() {
    let path = root().join("README.md");
    let manual = std::fs::read_to_string(&path).expect("README.md");
    let [before, table, after] = split(&manual).expect("the two marks round the table");
    let own = params::keys_table();
    if blessed() {
        std::fs::write(&path, format!("{before}{BEGIN}{own}{END}{after}")).expect("README.md can be written");
    } else {
        assert_eq!(table, own, "REWRITE=1 rewrites the table");
    }
}

#[test]
fn the_manual_names_only_files_that_are_there() {
    let manual = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let links = manual.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let missing: Vec<&str> = links.filter(|l| !l.starts_with('#') && !root().join(l).exists()).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// Black lines need a pale ground where the reader's page is dark.
fn on_white(svg: &str) -> String {
    let (head, body) = svg.split_once('>').expect("a tag");
    format!("{head}><rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>{body}\n")
}

#[test]
fn the_pictures_of_the_manual_can_be_taken_from_the_report() {
    let made = underframe::make(params::built_in().as_bytes(), &|_| {}).expect("the built-in bench is sound");
    let report = String::from_utf8_lossy(&made.files["report.html"]);
    for (name, near) in PICTURES {
        let from = report.find(near).expect("the place of the picture");
        let svg = report[from..].find("<svg").map(|i| from + i).expect("a picture");
        let end = report[svg..].find("</svg>").map(|i| svg + i + 6).expect("its end");
        assert!(end - svg > 5_000, "{name}: {} bytes show nothing", end - svg);
        if blessed() {
            let path = root().join("docs/pictures").join(name);
            std::fs::write(path, on_white(&report[svg..end])).expect("the picture can be written");
        }
    }
}

//! Every example against a small text: what is printed, cut and drilled. `REWRITE=1` writes the texts anew; the difference
//! is read in review.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use underframe::model::Model;
use underframe::output::{VerifiedMesh, kit, solids};
use underframe::{params, parts};

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn names() -> Vec<String> {
    let entries = folder("params").read_dir().expect("params").map(|entry| entry.expect("entry").path());
    let mut names: Vec<_> =
        entries.map(|path| path.file_stem().unwrap_or_default().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// One line per part, tube and hole.
fn summary(model: &Model, printed: &[VerifiedMesh]) -> String {
    let density = model.params.printing.filament.density;
    let mut out = String::from("parts: name, mark, count, volume mm3, mass of the solid g, box mm, step\n");
    for p in printed {
        let part = &p.part;
        let [x, y, z] = p.size;
        let grams = p.volume * 1e-9 * density * 1e3;
        let step = solids::kind(p).word();
        let _ = writeln!(
            out,
            "{}, {}, {}, {:.0}, {grams:.1}, {x:.1} x {y:.1} x {z:.1}, {step}",
            part.name, part.mark, part.count, p.volume
        );
    }
    out.push_str("tubes: name, size, count, length mm\n");
    for t in model.cut_tubes() {
        let _ = writeln!(out, "{}, {}, {}, {:.1}", t.name, t.designation, t.count, t.length);
    }
    out.push_str("holes: leg, x mm, y mm, pilot mm, depth mm, left above the tip mm\n");
    for h in model.holes() {
        let spare = if h.spare { ", spare" } else { "" };
        let [x, y] = h.at;
        let _ =
            writeln!(out, "{}, {x:.1}, {y:.1}, {:.2}, {:.1}, {:.1}{spare}", h.leg, h.pilot, h.depth, h.left_above_tip);
    }
    out
}

fn describe(name: &str) -> String {
    let text = std::fs::read_to_string(folder("params").join(format!("{name}.json"))).expect("a file");
    let params = params::read(&text).unwrap_or_else(|p| panic!("{name}: {p:?}"));
    let model = Model::new(&params).unwrap_or_else(|p| panic!("{name}: {p:?}"));
    let printed = kit::mesh_all(parts::all(&model).expect("parts"), &|_| ()).unwrap_or_else(|u| panic!("{name}: {u}"));
    summary(&model, &printed)
}

#[test]
fn every_example_gives_what_it_gave() {
    let bless = std::env::var_os("REWRITE").is_some();
    let mut wrong = Vec::new();
    for name in names() {
        let told = describe(&name);
        let path = folder("tests/reference").join(format!("{name}.txt"));
        if bless {
            std::fs::create_dir_all(folder("tests/reference")).expect("a folder");
            std::fs::write(&path, &told).expect("written");
        }
        let expected = std::fs::read_to_string(&path).unwrap_or_default();
        if told != expected {
            let lines = told.lines().zip(expected.lines().chain(std::iter::repeat("")));
            let first = lines.filter(|(a, b)| a != b).take(5).map(|(a, b)| format!("  is  {a}\n  was {b}\n"));
            wrong.push(format!("{name}\n{}", first.collect::<String>()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_text_is_left_without_its_example() {
    let names = names();
    for entry in folder("tests/reference").read_dir().expect("texts") {
        let path = entry.expect("entry").path();
        let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        assert!(names.contains(&stem), "{stem} has no example");
    }
}

#[test]
fn guides_and_some_bracket_and_foot_are_exact() {
    let all: Vec<String> = names().iter().map(|n| describe(n)).collect();
    let lines = || all.iter().flat_map(|t| t.lines());
    let exact = |what: &str| lines().any(|l| l.starts_with(what) && l.ends_with(", exact"));
    assert!(exact("bracket") && exact("foot") && exact("drill guide"));
    assert!(lines().filter(|l| l.starts_with("drill guide")).all(|l| l.ends_with(", exact")));
}

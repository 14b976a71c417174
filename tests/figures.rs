//! Every figure of the mechanics and the checks, for every example and for tables that take the other branches
//! (`tests/figures/*.json`), against a text. Where the figures come from is proved elsewhere (`handbook.rs`, `frame.rs`,
//! `joint.rs`); here is seen which of them a change of the program moves. `REWRITE=1` writes the texts anew; the difference is
//! read in review.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use underframe::checks::{self, Check};
use underframe::mechanics::{self, Cache, CaseForces, Detail, Forces, Solution, TubeForces};
use underframe::model::Model;
use underframe::{parallel, params};

/// Figures nearer than this, relative, are the same: above the rounding of the last of five digits and of the four in a
/// working.
const SAME: f64 = 1e-3;
/// Figures smaller than this are rounding, in any of the units.
const NOTHING: f64 = 1e-6;
/// Tables whose workings and load cases are in the texts too; among them they take every branch.
const WORKED: [&str; 3] = ["potting-bench", "three-legs", "water-tank-stand"];

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn files() -> Vec<PathBuf> {
    let all = ["params", "tests/figures"].into_iter().flat_map(|place| folder(place).read_dir().expect("a folder"));
    let mut all: Vec<PathBuf> = all.map(|entry| entry.expect("entry").path()).collect();
    all.retain(|path| path.extension().is_some_and(|e| e == "json"));
    all.sort();
    all
}

fn name(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

fn line(out: &mut String, what: &str, values: &[f64]) {
    let _ = write!(out, "{what}:");
    values.iter().for_each(|v| {
        let _ = write!(out, " {v:.4e}");
    });
    out.push('\n');
}

/// Sums over tubes, so that each counts.
fn tubes<'a>(all: impl Iterator<Item = &'a TubeForces>) -> Vec<f64> {
    let mut sums = vec![0.0; 14];
    for t in all {
        let figures = [t.axial, t.tension, t.moment, t.shear, t.torque];
        let tie = t.ties.iter().fold([0.0; 3], |most: [f64; 3], tie| [0, 1, 2].map(|k| most[k].max(tie[k])));
        let all = figures.into_iter().chain(t.upper).chain(t.lower).chain(tie);
        sums.iter_mut().zip(all).for_each(|(sum, figure)| *sum += figure);
    }
    sums
}

fn case(out: &mut String, name: &str, c: &CaseForces) {
    let _ = writeln!(out, "case {name}");
    line(
        out,
        "sway mm, first order, twist mrad, sag mm",
        &[&c.sway[..], &c.sway_first_order, &[c.twist, c.sag]].concat(),
    );
    line(out, "reactions N", &c.reactions.concat());
    let joints = c.joints.iter().map(|j| j.iter().map(|v| v * v).sum::<f64>().sqrt());
    let faces = c.faces.iter().map(|l| [l.fx, l.fy, l.fz, l.mx, l.my, l.mz].iter().map(|v| v * v).sum::<f64>().sqrt());
    line(out, "joints, at the bore", &joints.chain(faces).collect::<Vec<_>>());
    line(out, "tubes", &tubes(c.tubes.iter().flatten()));
    if !c.rails.is_empty() {
        line(out, "rails", &tubes(c.rails.iter()));
    }
    line(out, "top MPa", &[c.top.along, c.top.across, c.top.shear]);
    let borne = c.bracket_demands.iter().flatten().flat_map(|b| {
        let toe = b.gusset_toe.as_ref().map_or(0.0, |t| t.upper);
        [b.worst_screw.upper, b.plate.upper, b.boss_root.upper, toe, b.bearing]
    });
    line(out, "borne", &borne.collect::<Vec<_>>());
}

fn solution(out: &mut String, model: &Model, s: &Solution, worked: bool) {
    let _ = writeln!(out, "\njoints {}", s.estimate.word());
    line(out, "rotational N mm/rad", &s.joints.rotational.concat());
    line(out, "along N/mm", &s.joints.axial);
    line(out, "across N/mm", &s.joints.lateral);
    line(out, "along the bore", &s.joints.bore);
    line(out, "collar", &s.joints.collar.concat().concat());
    line(out, "foot", &s.joints.foot);
    line(out, "rail", &s.joints.rail.concat());
    line(out, "critical factor", &[s.critical_factor.unwrap_or_default()]);
    for mode in &s.modes {
        line(out, &format!("Hz, {}", mode.motion.words()), &[mode.hertz]);
    }
    line(out, "shaking mm", &s.shaking.iter().map(|s| s.amplitude).collect::<Vec<_>>());
    for (c, forces) in model.cases.iter().zip(&s.cases).filter(|_| worked) {
        case(out, &c.name, forces);
    }
}

fn check(out: &mut String, c: &Check, worked: bool) {
    let _ = writeln!(out, "{}: {}; {}; {}", c.id.words(), c.subject.words(), c.case.words(), c.when.word());
    line(out, &format!("  demand and capacity {}, utilisation", c.unit), &[c.demand, c.capacity, c.utilisation()]);
    c.working.iter().filter(|_| worked).for_each(|step| {
        let _ = writeln!(out, "    {}", step.text());
    });
}

fn describe(path: &Path) -> String {
    let text = std::fs::read_to_string(path).expect("a file");
    let params = params::read(&text).unwrap_or_else(|p| panic!("{}: {p:?}", path.display()));
    let model = Model::new(&params).unwrap_or_else(|p| panic!("{}: {p:?}", path.display()));
    let forces = mechanics::solve(&model, Detail::Full, &Cache::default())
        .unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    let worked = WORKED.contains(&name(path).as_str());
    let mut out = String::new();
    let checked = checks::checked(&model, &forces).expect("every check done");
    let mut checks: Vec<&Check> = checked.checks.iter().collect();
    checks.sort_by_key(|c| (c.id, c.when));
    checks.iter().for_each(|c| check(&mut out, c, worked));
    for c in &checked.cautions {
        let _ = writeln!(out, "caution: {}: {}", c.work().word(), c.heading());
    }
    frame(&mut out, &model, &forces, worked);
    out
}

fn frame(out: &mut String, model: &Model, f: &Forces, worked: bool) {
    out.push('\n');
    line(out, "critical factor after years", &[f.critical_after_life.unwrap_or_default()]);
    line(out, "play mm", &f.play);
    line(out, "mass kg and its centre mm", &[&[f.mass], &f.centre[..], &[f.empty.0], &f.empty.1].concat());
    line(out, "feet mm", &f.feet.concat());
    f.outside_studied.iter().for_each(|why| {
        let _ = writeln!(out, "outside: {}", why.words());
    });
    f.solutions.iter().for_each(|s| solution(out, model, s, worked));
}

/// A text in words and the numbers between them.
fn split(line: &str) -> (String, Vec<f64>) {
    let (mut words, mut numbers) = (String::new(), Vec::new());
    let mut rest = line;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let sign = usize::from(rest[..start].ends_with('-'));
        words.push_str(&rest[..start - sign]);
        let number = &rest[start - sign..];
        let end = (1..=number.len()).rev().filter(|i| number.is_char_boundary(*i)).find_map(|end| {
            let ends_in_digit = number[..end].ends_with(|c: char| c.is_ascii_digit());
            number[..end].parse::<f64>().ok().filter(|_| ends_in_digit).map(|value| (end, value))
        });
        let (end, value) = end.expect("a digit is a number");
        numbers.push(value);
        words.push('#');
        rest = &number[end..];
    }
    (words + rest, numbers)
}

fn same(a: &str, b: &str) -> bool {
    let ((words, numbers), (other, others)) = (split(a), split(b));
    let near = |(a, b): (&f64, &f64)| (a - b).abs() <= SAME * a.abs().max(b.abs()).max(NOTHING / SAME);
    words == other && numbers.len() == others.len() && numbers.iter().zip(&others).all(near)
}

#[test]
fn figures_that_are_nearly_the_same_are_the_same() {
    assert!(same("a 1.2340e2 N, -5", "a 1.2341e2 N, -5") && same("x: 1e-9", "x: -3e-9"));
    assert!(!same("a 1.234e2 N", "a 1.24e2 N") && !same("a -1", "a 1") && !same("a 1", "b 1") && !same("a 1", "a 1 1"));
}

#[test]
fn every_table_gives_the_figures_it_gave() {
    let bless = std::env::var_os("REWRITE").is_some();
    let files = files();
    let told = parallel::map(&files, |path| describe(path));
    let mut wrong = Vec::new();
    for (path, told) in files.iter().zip(told) {
        let path = folder("tests/figures").join(format!("{}.txt", name(path)));
        if bless {
            std::fs::write(&path, &told).expect("written");
        }
        let expected = std::fs::read_to_string(&path).unwrap_or_default();
        let lines = || told.lines().zip(expected.lines().chain(std::iter::repeat("")));
        let differ: Vec<_> = lines().filter(|(a, b)| !same(a, b)).take(8).collect();
        if !differ.is_empty() || told.lines().count() != expected.lines().count() {
            let each = differ.iter().map(|(a, b)| format!("  is  {a}\n  was {b}\n"));
            wrong.push(format!("{}\n{}", name(&path), each.collect::<String>()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_text_is_left_without_its_table() {
    let tables: Vec<String> = files().iter().map(|path| name(path)).collect();
    for entry in folder("tests/figures").read_dir().expect("texts") {
        let path = entry.expect("entry").path();
        assert!(tables.contains(&name(&path)), "{} has no table", path.display());
    }
}

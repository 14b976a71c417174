//! Times our own side of `tests/bench/peers.py`: the first bracket of an example, and the frame of its table.
//!
//! `cargo bench --bench peers -- FILE REPEATS` prints one JSON object: seconds of every repeat. `cargo bench --bench peers --
//! growth` prints how our times grow, as a Markdown table.

use std::hint::black_box;
use std::time::Instant;

use nalgebra::Isometry3;
use underframe::fem::{Axes, BeamSection, Case, Frame, Mesh, PlateSection};
use underframe::formats::stl;
use underframe::geometry::{self, Axis, Feature, Outline, Round, Solid};
use underframe::mechanics::{Cache, Detail};
use underframe::model::Model;
use underframe::{mechanics, params, parts};

/// Repeats of each line of the growth table; the median counts.
const REPEATS: usize = 7;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with("--")).collect();
    match &words[..] {
        [word] if word == "growth" => growth(),
        [file, repeats] => {
            let model = model(&std::fs::read_to_string(file).expect("the file"));
            let repeats = repeats.parse().expect("a number");
            let bracket = times(repeats, || bracket(&model));
            let frame = times(repeats, || mechanics::solve(&model, Detail::Full, &Cache::default()).expect("a frame"));
            write(&serde_json::json!({ "bracket": bracket, "frame": frame }).to_string());
        }
        _ => {}
    }
}

fn model(text: &str) -> Model {
    Model::new(&params::read(text).expect("a right file")).expect("a layout")
}

/// Drawn (with its mirror image, which cannot be left out), joined, written, read back and judged.
fn bracket(model: &Model) -> usize {
    let part = parts::PARTS[0](model).expect("brackets").swap_remove(0);
    judged(&part.solid)
}

fn judged(solid: &Solid) -> usize {
    let bytes = stl::write(&solid.mesh().expect("a mesh"));
    geometry::judge(&bytes).expect("a sound mesh").mesh.triangles.len()
}

fn times<T>(repeats: usize, mut work: impl FnMut() -> T) -> Vec<f64> {
    let once = |_| {
        let began = Instant::now();
        black_box(work());
        began.elapsed().as_secs_f64()
    };
    (0..repeats).map(once).collect()
}

/// Median of some runs after one that does not count, ms.
fn median<T>(mut work: impl FnMut() -> T) -> f64 {
    black_box(work());
    let mut all = times(REPEATS, work);
    all.sort_by(f64::total_cmp);
    1e3 * all[REPEATS / 2]
}

fn growth() {
    write("| what grows | size | ms |\n|---|---|---|");
    let line = |what: &str, size: String, ms: f64| write(&format!("| {what} | {size} | {ms:.0} |"));
    for chord in [0.2, 0.1, 0.05, 0.025] {
        let triangles = judged(&three_bosses(chord));
        let size = format!("{chord} mm, {triangles} triangles");
        line("chord error: plate with three bosses, drawn and judged", size, median(|| judged(&three_bosses(chord))));
    }
    for count in [3, 4, 6] {
        let model = model(&table(count, 1, 1));
        line(
            "legs: frame and brackets solved",
            format!("{count}"),
            median(|| mechanics::solve(&model, Detail::Full, &Cache::default())),
        );
    }
    for tubes in 1..=4 {
        let model = model(&table(4, tubes, 1));
        line(
            "tubes in each leg: the same",
            format!("{tubes}"),
            median(|| mechanics::solve(&model, Detail::Full, &Cache::default())),
        );
    }
    for loads in [1, 2, 4, 8] {
        let model = model(&table(4, 1, loads));
        line(
            "loads: the same",
            format!("{loads}"),
            median(|| mechanics::solve(&model, Detail::Full, &Cache::default())),
        );
    }
    for cells in [10, 20, 40] {
        let size = format!("{cells} cells along 1,500 mm");
        line("mesh of the plate: frame alone, one load", size, median(|| plain_frame(cells)));
    }
}

/// A plate of 120 mm with three bosses and blind bores.
fn three_bosses(chord: f64) -> Solid {
    let mut solid = Solid {
        adds: vec![Feature::prism(
            &Outline::rounded_rectangle(120.0, 120.0, 0.0, 1.0),
            -5.0,
            5.0,
            &Isometry3::identity(),
        )],
        ..Solid::default()
    };
    for k in 0..3 {
        let (s, c) = (f64::from(k) * std::f64::consts::TAU / 3.0).sin_cos();
        let axis = Axis::new([30.0 * c, 30.0 * s, 0.0], [0.05, 0.05, 1.0]);
        let round = |from: f64, to: f64, r: f64, side| Feature::revolved(&axis, &[(from, r), (to, r)], side, chord);
        solid.adds.push(round(2.0, 50.0, 14.0, Round::Inside));
        solid.cuts.push(round(12.0, 51.0, 8.0, Round::Outside));
    }
    solid
}

fn table(legs: usize, tubes: usize, loads: usize) -> String {
    let load = |i: usize| serde_json::json!({ "name": format!("load {i}"), "mass": "10 kg" });
    serde_json::json!({
        "top": { "length": "1800 mm", "width": "800 mm", "thickness": "38 mm", "wood": "white ash" }, "height": "860 mm",
        "legs": { "count": legs, "tubes": tubes, "tube": "20 x 1.5 mm" },
        "loads": (0..loads).map(load).collect::<Vec<_>>(),
    })
    .to_string()
}

/// A plate on four built-in posts: assembly, factorisation, one load, the critical factor and four modes.
fn plain_frame(cells: usize) -> f64 {
    let mut frame = Frame::new();
    let (xs, ys) = ([100.0, 1400.0], [100.0, 600.0]);
    let mesh = Mesh::rectangle([0.0, 1500.0], [0.0, 700.0], &xs, &ys, 1500.0 / cells as f64).expect("a mesh");
    let section = PlateSection {
        thickness: 38.0,
        young_along: 12_000.0,
        young_across: 12_000.0,
        poisson: 0.3,
        shear: 12_000.0 / 2.6,
        grain: 0.0,
        density: 6e-10,
        carried: 0.0,
    };
    let (plate, nodes) = frame.level_plate(&mesh, 860.0, section, 19.0).expect("a plate");
    let tube = BeamSection::tube(25.0, 2.0, 210_000.0, 81_000.0, 7.85e-9);
    for [x, y] in xs.iter().flat_map(|x| ys.iter().map(|y| [*x, *y])) {
        let head = nodes[mesh.nearest([x, y]).expect("a node")];
        let (top, foot) = (frame.node([x, y, 860.0]), frame.node([x, y, 0.0]));
        frame.spring(head, top, Axes::global(), [1e9, 1e9, 1e9, 2e6, 2e6, 2e6]).expect("a joint");
        frame.fix(foot, [true, true, true, false, false, true]);
        frame.member(top, foot, tube, [1.0, 0.0, 0.0], 8).expect("a post");
    }
    let mut case = Case::new();
    case.pressure(&frame, plate, [1e-5, 0.0, -5e-4]);
    let solver = frame.prepare().expect("a frame");
    let state = solver.statics(&[case]).remove(0);
    let critical = solver.buckling(&state).expect("settled").expect("it buckles").factor;
    critical + solver.modes(4).expect("settled")[0].frequency
}

#[expect(clippy::print_stdout, reason = "a bench has no other way to tell")]
fn write(line: &str) {
    println!("{line}");
}

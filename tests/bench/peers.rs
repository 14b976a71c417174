//! Times our own side of `tests/bench/peers.py`: the first bracket of an example, and the frame of its table.
//!
//! `cargo bench --bench peers -- FILE REPEATS` prints one JSON object: seconds of every repeat.

use std::hint::black_box;
use std::time::Instant;

use underframe::geometry;
use underframe::model::Model;
use underframe::output::stl;
use underframe::{mechanics, params, parts};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with("--")).collect();
    let [file, repeats] = &words[..] else { return };
    let (text, repeats) = (std::fs::read_to_string(file).expect("the file"), repeats.parse().expect("a number"));
    let model = Model::new(&params::read(&text).expect("a right file")).expect("a layout");
    let bracket = times(repeats, || bracket(&model));
    let frame = times(repeats, || mechanics::solve(&model).expect("a frame"));
    write(&serde_json::json!({ "bracket": bracket, "frame": frame }));
}

/// Drawn, joined, written, read back and judged.
fn bracket(model: &Model) -> usize {
    let part = parts::all(model).expect("parts").swap_remove(0);
    let bytes = stl::write(&part.solid.mesh().expect("a mesh"));
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

#[expect(clippy::print_stdout, reason = "a bench has no other way to tell")]
fn write(found: &serde_json::Value) {
    println!("{found}");
}

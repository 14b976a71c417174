//! Time and memory of meshes and gate: `cargo bench --bench kit [FILE ...]`, all examples when no file is named.
//!
//! Aimed at on two quiet cores: 0.6 s for the built-in potting bench, 0.1 s for one bracket, 300 MB.
#![allow(clippy::print_stdout, reason = "a bench is read on the terminal")]

use std::path::{Path, PathBuf};
use std::time::Instant;

use underframe::model::Model;
use underframe::output::kit;
use underframe::{params, parts};

/// Runs of each kit; the shortest counts, since other work on the machine only makes them longer.
const RUNS: usize = 5;

fn main() {
    let named: Vec<PathBuf> = std::env::args().skip(1).filter(|a| !a.starts_with("--")).map(Into::into).collect();
    let files = if named.is_empty() { examples() } else { named };
    for file in files {
        let text = std::fs::read_to_string(&file).expect("a file");
        let params = params::read(&text).expect("a good file");
        let model = Model::new(&params).expect("a good model");
        println!("{}", file.display());
        println!("  kit, all cores: {:.0} ms", shortest(|| print(&model, 0)));
        println!("  kit, one core: {:.0} ms", shortest(|| print(&model, 1)));
        for part in parts::all(&model).expect("parts") {
            let name = part.name.clone();
            let one = shortest(|| with_threads(1, || drop(kit::mesh_all(vec![part.clone()], &|_| ()).expect("sound"))));
            println!("  {name}: {one:.0} ms");
        }
    }
    println!("peak memory: {}", peak());
}

/// 0 cores: all of them.
fn print(model: &Model, cores: usize) {
    with_threads(cores, || kit::mesh_all(parts::all(model).expect("parts"), &|_| ()).expect("sound parts"));
}

/// 0 threads: as many as there are cores.
fn with_threads<R: Send>(threads: usize, work: impl FnOnce() -> R + Send) -> R {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads").install(work)
}

/// Milliseconds of the shortest of some runs.
fn shortest(run: impl Fn()) -> f64 {
    let timed = |_| {
        let start = Instant::now();
        run();
        start.elapsed().as_secs_f64() * 1e3
    };
    (0..RUNS).map(timed).fold(f64::INFINITY, f64::min)
}

fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let mut all: Vec<_> = folder.read_dir().expect("params").map(|entry| entry.expect("entry").path()).collect();
    all.sort();
    all
}

/// Largest resident size so far, where the system tells it.
fn peak() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.map_or_else(|| "not told".into(), |l| l.trim().to_owned())
}

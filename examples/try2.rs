//! scratch
#![allow(clippy::print_stdout)]
use std::time::Instant;
use underframe::*;
fn main() {
    for f in std::env::args().skip(1) {
        let params = params::read_bytes(&std::fs::read(&f).unwrap()).unwrap();
        let t = Instant::now();
        let m = model::Model::new(&params).unwrap();
        let a = t.elapsed();
        let t = Instant::now();
        let parts = parts::all(&m).unwrap();
        println!("{f}: model {a:?} parts {:?}", t.elapsed());
        for p in &parts {
            let t = Instant::now();
            let mesh = p.solid.mesh().unwrap();
            let a = t.elapsed();
            let s = output::stl::write(&mesh);
            let t = Instant::now();
            geometry::judge(&s).unwrap();
            println!(
                "  {:20} mesh {a:?} judge {:?} tri {} adds {} cuts {} ridges {}",
                p.name,
                t.elapsed(),
                mesh.triangles.len(),
                p.solid.adds.len(),
                p.solid.cuts.len(),
                p.solid.ridges.len()
            );
        }
    }
}

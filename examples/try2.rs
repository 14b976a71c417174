//! scratch
#![allow(clippy::print_stdout)]
use underframe::*;
fn main() {
    let f = std::env::args().nth(1).unwrap();
    let params = params::read_bytes(&std::fs::read(&f).unwrap()).unwrap();
    let m = model::Model::new(&params).unwrap();
    println!("rails {}", m.rails.len());
    for t in &m.legs[0].ties {
        println!("{} {:?} {}", t.height, m.ties[t.part.kind].design.rails, t.part.pose.rotation);
    }
    for p in parts::all(&m).unwrap() {
        println!("{} adds {} cuts {} ridges {}", p.name, p.solid.adds.len(), p.solid.cuts.len(), p.solid.ridges.len());
        for list in [&p.solid.adds, &p.solid.cuts, &p.solid.ridges] {
            for feat in list {
                let s = geometry::Solid::of(vec![feat.clone()]);
                if let Err(e) = s.mesh() {
                    println!("  {} {e} {:?}", feat.kind, feat.aabb());
                } else {
                    let b = output::stl::write(&s.mesh().unwrap());
                    if let Err(e) = geometry::judge(&b) {
                        println!("  judge {} {:?} {:?}", feat.kind, e, feat.aabb());
                    }
                }
            }
        }
        // incremental
        let mut s = geometry::Solid::of(p.solid.adds.clone());
        for (i, c) in p.solid.cuts.iter().enumerate() {
            s.cuts.push(c.clone());
            match s.mesh() {
                Err(e) => {
                    println!("  cut {i} {} {e}", c.kind);
                    break;
                }
                Ok(mesh) => {
                    if let Err(e) = geometry::judge(&output::stl::write(&mesh)) {
                        println!("  after cut {i} {}: {:?}", c.kind, e);
                        break;
                    }
                }
            }
        }
        s.ridges = p.solid.ridges.clone();
        match s.mesh() {
            Err(e) => println!("  ridges {e}"),
            Ok(mesh) => {
                if let Err(e) = geometry::judge(&output::stl::write(&mesh)) {
                    println!("  ridged: {:?}", e)
                }
            }
        }
    }
}

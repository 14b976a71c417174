//! scratch
#![allow(clippy::print_stdout)]
use underframe::*;
fn main() {
    for f in std::env::args().skip(1) {
        let text = std::fs::read(&f).unwrap();
        let params = match params::read_bytes(&text) {
            Ok(p) => p,
            Err(e) => {
                for p in e {
                    println!("{}", p.show(&f));
                }
                continue;
            }
        };
        let m = match model::Model::new(&params) {
            Ok(m) => m,
            Err(e) => {
                for p in e {
                    println!("{}", p.show(&f));
                }
                continue;
            }
        };
        println!(
            "{f}: brackets {:?} ties {:?} feet {:?}",
            m.brackets.iter().map(|k| (&k.name, &k.mark, k.count, k.design.length, k.design.width)).collect::<Vec<_>>(),
            m.ties.iter().map(|k| (&k.name, k.count)).collect::<Vec<_>>(),
            m.feet.iter().map(|k| (&k.name, k.count, k.design.length)).collect::<Vec<_>>()
        );
        println!("{:?}", m.brackets[0].design.screws);
        println!("{:?}", m.cut_tubes());
        println!("ties at {:?}", m.legs[0].ties.iter().map(|t| t.height).collect::<Vec<_>>());
        println!("cases {:?}", m.cases.iter().map(|c| &c.name).collect::<Vec<_>>());
        let t = std::time::Instant::now();
        let parts = parts::all(&m).unwrap();
        match output::kit::print(parts, &|_| ()) {
            Ok(made) => {
                for p in &made {
                    println!(
                        "{} {} x{} vol {:.0} size {:?} tri {}",
                        p.part.name,
                        p.part.mark,
                        p.part.count,
                        p.volume,
                        p.size,
                        p.mesh.triangles.len()
                    );
                    let d = std::path::Path::new("/tmp/try").join(std::path::Path::new(&f).file_stem().unwrap());
                    std::fs::create_dir_all(&d).unwrap();
                    std::fs::write(d.join(format!("{}.stl", p.part.name.replace(' ', "_"))), &p.stl).unwrap();
                }
            }
            Err(e) => println!("UNSOUND {e}"),
        }
        println!("{:?}", t.elapsed());
    }
}

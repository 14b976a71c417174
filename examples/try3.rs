//! scratch
#![allow(clippy::print_stdout)]
use underframe::*;
fn main() {
    let f = std::env::args().nth(1).unwrap();
    let params = match params::read_bytes(&std::fs::read(&f).unwrap()) {
        Ok(p) => p,
        Err(e) => {
            for p in e {
                println!("{}", p.show(&f));
            }
            return;
        }
    };
    let m = match model::Model::new(&params) {
        Ok(m) => m,
        Err(e) => {
            for p in e {
                println!("{}", p.show(&f));
            }
            return;
        }
    };
    show(&m);
}
#[allow(dead_code)]
fn show(m: &model::Model) {
    let t = std::time::Instant::now();
    let f = mechanics::solve(m).unwrap();
    println!("solve {:?}", t.elapsed());
    println!(
        "k {:?} outside {:?} play {:?} mass {} centre {:?} aged {:?}",
        f.joint_stiffness, f.outside_studied, f.play, f.mass, f.centre, f.critical_after_life
    );
    for s in &f.solutions {
        println!("{} crit {:?} modes {:?} imb {:.1e}", s.name, s.critical_factor, s.modes, s.imbalance);
        for (c, r) in m.cases.iter().zip(&s.cases) {
            println!(
                "  {:45} sway {:.2?} ({:.2?}) tw {:.2} sag {:.2} joint {:.0?} top {:.1} {:.2} N {:.0} M {:.0}",
                c.name,
                r.sway,
                r.sway_first_order,
                r.twist,
                r.sag,
                r.joints[0],
                r.top.along,
                r.top.across,
                r.tubes[0][0].axial,
                r.tubes[0][0].moment
            );
        }
    }
}

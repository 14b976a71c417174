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
    let t = std::time::Instant::now();
    let c = checks::checked(m, &f);
    println!("checks {:?} verdict {}", t.elapsed(), c.verdict().words());
    for s in &f.solutions {
        println!(
            "{} crit {:?} modes {:?}",
            s.name,
            s.critical_factor,
            s.modes.iter().map(|m| m.hertz).collect::<Vec<_>>()
        );
    }
    for k in &c.checks {
        println!(
            "  {:.2} {:38} {:28} {:10} {:.3}/{:.3} {} {}",
            k.utilisation(),
            k.name,
            k.place,
            k.when.word(),
            k.demand,
            k.capacity,
            k.unit,
            k.case
        );
    }
}

//! Closed forms that the solid must meet.

use faer::Mat;

use super::*;

fn block(half: [f64; 3]) -> impl Fn([f64; 3]) -> f64 + Sync {
    move |p| (0..3).map(|k| p[k].abs() - half[k]).fold(f64::NEG_INFINITY, f64::max)
}

/// A face of a box at a height along an axis, in patches of about 1 mm.
fn face(axis: usize, at: f64, low: [f64; 2], high: [f64; 2], inward: f64) -> Vec<Patch> {
    let n = [0, 1].map(|k| ((high[k] - low[k]) * 2.0).ceil().max(2.0) as usize);
    let d = [0, 1].map(|k| (high[k] - low[k]) / n[k] as f64);
    let patch = |i: usize| {
        let (mut p, mut way) = ([0.0; 3], [0.0; 3]);
        (p[axis], way[axis]) = (at, inward);
        p[(axis + 1) % 3] = low[0] + (0.5 + (i % n[0]) as f64) * d[0];
        p[(axis + 2) % 3] = low[1] + (0.5 + (i / n[0]) as f64) * d[1];
        Patch { at: p, inward: way, area: d[0] * d[1] }
    };
    (0..n[0] * n[1]).map(patch).collect()
}

/// Motion of the body whose first kept unknown is `loaded` under a load there, the six before it at `held` kept still.
fn pulled(condensed: &Condensed, loaded: usize, load: [f64; 6]) -> [f64; 6] {
    let s = condensed.stiffness();
    let k = nalgebra::Matrix6::from_fn(|i, j| s[(loaded + i, loaded + j)]);
    (k.try_inverse().expect("held") * nalgebra::Vector6::from(load)).into()
}

/// A bar along an axis, ends on stiff films, the far end loaded.
fn bar(material: &Material, size: [f64; 3], step: f64, axis: usize, load: [f64; 6]) -> [f64; 6] {
    let half = size.map(|s| s / 2.0);
    let grid = Grid::new(&block(half), half.map(|h| -h), half, [step; 3]);
    let mut model = Model::new(grid, material);
    let across = [half[(axis + 1) % 3], half[(axis + 2) % 3]];
    let end = |way: f64| face(axis, way * half[axis], across.map(|h| -h), across, -way);
    let mut centre = [0.0; 3];
    model.body(&end(-1.0), centre, 1e4 * material.e);
    centre[axis] = half[axis];
    let loaded = model.body(&end(1.0), centre, 1e4 * material.e);
    pulled(&model.condense().expect("held"), loaded, load)
}

#[test]
fn rigid_motions_and_even_strain_pass_through_cut_cells() {
    let n = [0.6, 0.48, 0.64];
    let slanted = move |p: [f64; 3]| {
        let ball = (p[0] * p[0] + p[1] * p[1] + p[2] * p[2]).sqrt() - 9.3;
        ball.max(n[0] * p[0] + n[1] * p[1] + n[2] * p[2] - 3.7)
    };
    let material = Material { e: 2000.0, e_z: 1400.0, nu: 0.38, nu_z: 0.266, g_z: 606.3 };
    let model = Model::new(Grid::new(&slanted, [-10.0; 3], [10.0; 3], [2.1; 3]), &material);
    let field = |u: &dyn Fn([f64; 3]) -> [f64; 3]| -> Vec<f64> {
        (0..model.grid.nodes.len()).flat_map(|i| u(model.grid.node(i))).collect()
    };
    let largest = |v: &[f64]| v.iter().fold(0.0f64, |a, x| a.max(x.abs()));
    let rigid: [fn([f64; 3]) -> [f64; 3]; 6] = [
        |_| [1.0, 0.0, 0.0],
        |_| [0.0, 1.0, 0.0],
        |_| [0.0, 0.0, 1.0],
        |p| [0.0, -p[2], p[1]],
        |p| [p[2], 0.0, -p[0]],
        |p| [-p[1], p[0], 0.0],
    ];
    for u in rigid {
        assert!(largest(&model.multiply(&field(&u))) < 1e-9, "{}", largest(&model.multiply(&field(&u))));
    }
    // Under even strain the work is that of the filled volume and nothing else: the modes are silent in cut cells.
    let strained = field(&|p| [1e-3 * p[0] + 4e-4 * p[1], 2e-4 * p[1], -5e-4 * p[2] + 3e-4 * p[0]]);
    let strain = Voigt::from_column_slice(&[1e-3, 2e-4, -5e-4, 4e-4, 0.0, 3e-4]);
    let volume: f64 = (0..model.grid.cells.len()).map(|c| model.grid.filled(c)).sum::<f64>() * 2.1f64.powi(3);
    let work: f64 = model.multiply(&strained).iter().zip(&strained).map(|(f, u)| f * u).sum();
    let even = volume * strain.dot(&(material.stiffness() * strain));
    assert!((work / even - 1.0).abs() < 1e-12, "{work} {even}");
    // And forces on corners inside cancel: whole cells all round.
    let inner = model.multiply(&strained);
    for i in (0..model.grid.nodes.len()).filter(|i| slanted(model.grid.node(*i)) < -4.0) {
        (0..3).for_each(|k| assert!(inner[3 * i + k].abs() < 1e-9, "{}", inner[3 * i + k]));
    }
}

#[test]
fn a_cantilever_bends_as_the_closed_form() {
    // 100 x 10 x 10 mm, cells of 2 mm; F L^3 / 3 E I + F L / (5/6) G A = 2.000 + 0.0166 mm. Two of them back to back, so
    // that the root stays plane by symmetry and nothing hinders it across.
    let half = [100.0, 5.0, 5.0];
    let grid = Grid::new(&block(half), half.map(|h| -h), half, [2.0; 3]);
    let mut model = Model::new(grid, &Material::even(2000.0, 0.38));
    let section = |at: f64, inward: f64| face(0, at, [-5.0; 2], [5.0; 2], inward);
    model.body(&section(0.0, 1.0), [0.0; 3], 1e-4);
    let pads = [(-100.0, 1.0), (0.0, 1.0), (100.0, -1.0)]
        .map(|(at, inward)| model.pad(&section(at, inward), |_| [0.0, 0.0, 1.0]).expect("found").0);
    let condensed = model.condense().expect("held");
    let s = condensed.stiffness();
    let sunk = |pad: usize| -10.0 * (s[(pad, pads[0])] - 2.0 * s[(pad, pads[1])] + s[(pad, pads[2])]);
    let found = f64::midpoint(sunk(pads[0]), sunk(pads[2])) - sunk(pads[1]);
    assert!((found / 2.0166 - 1.0).abs() < 0.01, "{found}");
}

#[test]
fn a_square_bar_twists_as_saint_venant() {
    let (e, nu, a) = (2000.0, 0.38, 12.0f64);
    let u = bar(&Material::even(e, nu), [120.0, a, a], 1.5, 0, [0.0, 0.0, 0.0, 1000.0, 0.0, 0.0]);
    let closed = 1000.0 * 120.0 / (e / 2.0 / (1.0 + nu) * 0.1406 * a.powi(4));
    // Stiff ends keep the section from warping over about a side each.
    assert!((u[3] / closed - 1.0).abs() < 0.03, "{} {closed}", u[3]);
}

#[test]
fn a_bar_across_slanted_layers_has_their_modulus() {
    // The grid is of the layers, so the bar slants: 45 degrees about y, cells cut all along. Cells of 1.5 mm.
    let material = Material { e: 2000.0, e_z: 1400.0, nu: 0.38, nu_z: 0.266, g_z: 606.3 };
    let c = std::f64::consts::FRAC_1_SQRT_2;
    let along = move |p: [f64; 3]| c * (p[0] + p[2]);
    let (half, side) = (50.0, 6.0);
    let body = move |p: [f64; 3]| (along(p).abs() - half).max((c * (p[2] - p[0])).abs() - side).max(p[1].abs() - side);
    let reach = c * (half + side);
    let grid = Grid::new(&body, [-reach, -side, -reach], [reach, side, reach], [1.5; 3]);
    let mut model = Model::new(grid, &material);
    let end = |way: f64, at: f64| -> Vec<Patch> {
        let steps = 24;
        let place = |i: usize| side * (2.0 * (i as f64 + 0.5) / f64::from(steps) - 1.0);
        let all = (0..steps * steps).map(|i| (place((i % steps) as usize), place((i / steps) as usize)));
        let patch = |(v, w): (f64, f64)| Patch {
            at: [c * at - c * v, w, c * at + c * v],
            inward: [-way * c, 0.0, -way * c],
            area: (2.0 * side / f64::from(steps)).powi(2),
        };
        all.map(patch).collect()
    };
    let axis = |_: &Patch| [c, 0.0, c];
    // Held weakly as a whole; equal and opposite forces at the ends; the stretch is read between two inner sections.
    model.body(&end(1.0, half), [0.0; 3], 1e-4);
    let ends = [-1.0, 1.0].map(|w| model.pad(&end(w, w * half), axis).expect("found").0);
    let inner = [-1.0, 1.0].map(|w| model.pad(&end(w, w * 30.0), axis).expect("found").0);
    let condensed = model.condense().expect("held");
    let s = condensed.stiffness();
    let stretch = |pad: usize| (s[(pad, ends[0])] - s[(pad, ends[1])]) * 1000.0;
    let found = 1000.0 / (4.0 * side * side) / ((stretch(inner[1]) - stretch(inner[0])) / 60.0);
    assert!((found / 1610.5 - 1.0).abs() < 0.01, "{found}");
}

#[test]
fn a_thick_ring_widens_as_lame() {
    // a 12.6, b 22.5, p 10 MPa; plane stress: u_r 0.14451 mm. Cells of 1 mm, 4 high.
    let (a, b, high) = (12.6, 22.5, 4.0);
    let ring = move |p: [f64; 3]| {
        let r = p[0].hypot(p[1]);
        (r - b).max(a - r).max(p[2].abs() - high / 2.0)
    };
    let grid = Grid::new(&ring, [-b, -b, -high / 2.0], [b, b, high / 2.0], [1.0; 3]);
    let mut model = Model::new(grid, &Material::even(2000.0, 0.38));
    let wall: Vec<Patch> = (0..720 * 16)
        .map(|i| {
            let (angle, z) = (f64::from(i % 720).to_radians() / 2.0, high * (f64::from(i / 720) + 0.5) / 16.0 - 2.0);
            let out = [angle.cos(), angle.sin(), 0.0];
            let area = std::f64::consts::TAU * a / 720.0 * high / 16.0;
            Patch { at: [a * out[0], a * out[1], z], inward: out, area }
        })
        .collect();
    model.body(&wall, [0.0; 3], 1e-4);
    let (pad, area) = model.pad(&wall, |p| p.inward).expect("found");
    let condensed = model.condense().expect("held");
    let widened = -condensed.stiffness()[(pad, pad)] * 10.0 * area;
    assert!((widened / 0.14451 - 1.0).abs() < 0.02, "{widened}");
    let kept = Mat::from_fn(7, 1, |i, _| if i == 6 { -10.0 * area } else { 0.0 });
    let motions = condensed.motions(kept.as_ref());
    let column: Vec<f64> = (0..motions.nrows()).map(|i| motions[(i, 0)]).collect();
    let hoop = condensed.stress(&column).into_iter().find(|(p, _)| p[0].abs() < 1.0 && (p[1] - 15.0).abs() < 0.5);
    let (p, s) = hoop.expect("a cell there");
    let closed = 10.0 * a * a / (b * b - a * a) * (1.0 + b * b / (p[0] * p[0] + p[1] * p[1]));
    assert!((s[0] / closed - 1.0).abs() < 0.02, "{} {closed}", s[0]);
}

#[test]
fn contact_presses_and_never_pulls() {
    let d = |i: usize, j: usize| 1.0 / (1.0 + (i as f64 - j as f64).abs()) + if i == j { 0.3 } else { 0.0 };
    let c = Mat::from_fn(40, 40, d);
    let gaps: Vec<f64> = (0..40).map(|i| ((i * i) as f64 * 0.7).sin()).collect();
    let found = complementarity(&c.as_ref(), &gaps, vec![false; 40]).expect("positive definite");
    for i in 0..40 {
        let open = gaps[i] + (0..40).map(|j| c[(i, j)] * found.forces[j]).sum::<f64>();
        assert!(found.forces[i] >= -1e-9 && open > -1e-9 && (open * found.forces[i]).abs() < 1e-9, "{i}");
    }
    assert_eq!(complementarity(&c.as_ref(), &gaps, vec![true; 40]).map(|f| f.touching), Some(found.touching));
}

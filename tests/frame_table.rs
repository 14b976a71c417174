//! The table as the program builds it against a reference table solved by two general-purpose frame programs.
//!
//! The reference: 1500 x 700 x 38 mm plate of 12 GPa in both directions, four upright legs 25 x 2 mm of steel, 780 mm
//! from the floor to the underside, 90 mm inside the edges, feet pinned, joints of a given stiffness. Figures: PyNite 3.2 (plate model,
//! which agrees with OpenSees 3.7 within 1 %). It has no sockets, no bracket and no offset of the plate, so the
//! program's table is given the shallowest sockets that its keys accept: some 15 mm of each leg are stiff that bend in the
//! reference. That shortens sway by bending by up to 6 %, hence the tolerances; the frame itself is held to 1e-6 elsewhere.

use serde_json::json;
use underframe::mechanics::{self, Cache, Detail, Forces, Motion};
use underframe::model::{Action, Model, Purpose};
use underframe::params;

/// The reference table, its joints and its load spread over the top.
fn solved(stiffness: &str, load: &str) -> (Model, Forces) {
    let file = json!({
        "top": {
            "length": "1500 mm", "width": "700 mm", "thickness": "38 mm",
            "wood": { "e_along": "12000 MPa", "e_across": "12000 MPa", "shear_modulus": "4615 MPa", "density": "690 kg/m3" }
        },
        "height": "818 mm",
        "legs": { "inset_from_ends": "90 mm", "inset_from_sides": "90 mm", "tube": "25 x 2 mm" },
        "bracket": { "plate": "3 mm", "socket_depth": "10 mm", "floor": "2 mm", "chamfer": "0 mm", "hold": "bonded",
                     "gussets": { "count": 0 }, "screws": { "size": "3.5 x 25 mm", "count": 4 } },
        "foot": { "plate": "2 mm", "socket_depth": "6 mm", "pad_thickness": "0 mm" },
        "joints": { "stiffness": stiffness },
        "loads": [{ "mass": load }]
    });
    let params = params::read(&file.to_string()).unwrap_or_else(|list| panic!("{list:#?}"));
    let model = Model::new(&params).unwrap_or_else(|list| panic!("{list:#?}"));
    let forces = mechanics::solve(&model, Detail::Full, &Cache::default()).expect("solved");
    (model, forces)
}

/// First-order sway under 200 N along x and along y, mm: the case for sway pushes by 50 N.
fn sway(model: &Model, forces: &Forces) -> [f64; 2] {
    let cases: Vec<usize> = (0..model.cases.len()).filter(|i| model.cases[*i].purpose == Purpose::Sway).collect();
    [0, 1].map(|axis| 4.0 * forces.solutions[0].cases[cases[axis]].sway_first_order[axis].abs())
}

fn near(what: &str, got: f64, want: f64, tolerance: f64) {
    assert!((got / want - 1.0).abs() <= tolerance, "{what}: {got} is not {want} within {tolerance}");
}

#[test]
fn sway_with_given_joints_is_that_of_the_reference() {
    // Stiffness in N m/rad; sway along x and y, mm; tolerance: the share of bending in the leg grows with the stiffness.
    let rows = [
        ("500 N m/rad", [65.276, 65.072], 0.02),
        ("2000 N m/rad", [19.646, 19.442], 0.03),
        ("10000 N m/rad", [7.4776, 7.2736], 0.05),
    ];
    for (stiffness, want, tolerance) in rows {
        let (model, forces) = solved(stiffness, "40 kg");
        let got = sway(&model, &forces);
        (0..2).for_each(|k| near(stiffness, got[k], want[k], tolerance));
    }
}

#[test]
fn frequencies_with_forty_kilograms_are_those_of_the_reference() {
    let (_, forces) = solved("2000 N m/rad", "40 kg");
    let modes = &forces.solutions[0].modes;
    // The reference lumps the legs' mass and has no mass of printed parts: a few tenths of a per cent.
    near("first", modes[0].hertz, 1.93578, 0.02);
    near("second", modes[1].hertz, 1.94589, 0.02);
    assert_eq!([modes[0].motion, modes[1].motion], [Motion::SwayX, Motion::SwayY]);
}

#[test]
fn the_critical_load_of_150_kilograms_is_that_of_the_reference() {
    for (stiffness, want) in [("500 N m/rad", 1.35767), ("2000 N m/rad", 4.47099)] {
        let (_, forces) = solved(stiffness, "150 kg");
        near(stiffness, forces.solutions[0].critical_factor.expect("it buckles"), want, 0.03);
    }
}

#[test]
fn feet_carry_a_quarter_each_and_lean_against_the_push() {
    let (model, forces) = solved("2000 N m/rad", "40 kg");
    let pushed = |c: &underframe::model::Case| c.name.starts_with("push") && c.name.ends_with("N along x");
    let index = model.cases.iter().position(pushed).expect("the push");
    let push = model.cases[index].actions.iter().find_map(|a| match a {
        Action::Push { force, .. } => Some(force[0]),
        _ => None,
    });
    let push = push.expect("a force");
    let reactions = &forces.solutions[0].cases[index].reactions;
    // Statics: a quarter of the push at each foot; the push turns about the feet 818 mm below it and 1320 mm apart.
    // Second order: the weight has moved with the top.
    let case = &forces.solutions[0].cases[index];
    let weight: f64 = case.reactions.iter().map(|r| r[2]).sum();
    let turned = (push * 818.0 + weight * case.sway[0].abs()) / 1320.0 / 2.0;
    let mean = reactions.iter().map(|r| r[2]).sum::<f64>() / 4.0;
    for (leg, r) in model.legs.iter().zip(reactions) {
        // Second order: a leg that carries more pushes back more, by N u / h, here up to 124 N x 20 mm / 780 mm = 3.2 N.
        near("along x", r[0], -push / 4.0, 0.07);
        near("up", r[2] - mean, turned * leg.side()[0], 0.05);
    }
}

/// Sway of the built-in bench under 50 N along x and y, mm, first order: a frame whose brackets, ties and feet were condensed
/// from solids of the printed parts (hexahedra on voxels), screws and wood giving, collars as hinges with their bolt, tubes
/// hanging on their cross bolts with 5,000 N/mm each. Source: solved for this check in November 2026 with a program not kept
/// here, on the bench's parts as they were then.
const SOLIDS: [f64; 2] = [0.958, 0.879];

/// The soft end is not stiffer than what solids say by more than a tenth, and not softer by more than a quarter.
#[test]
fn the_soft_end_sways_as_a_frame_of_solids_does() {
    let text = include_str!("data/potting-bench-2026-11-27.json");
    let model = Model::new(&params::read(text).expect("read")).expect("a model");
    let forces = mechanics::solve(&model, Detail::Full, &Cache::default()).expect("solved");
    let sway: Vec<_> = model.cases.iter().enumerate().filter(|(_, c)| c.purpose == Purpose::Sway).collect();
    for (axis, solid) in SOLIDS.into_iter().enumerate() {
        let found = forces.solutions[0].cases[sway[axis].0].sway_first_order[axis].abs();
        assert!((0.9..1.25).contains(&(found / solid)), "axis {axis}: {found} mm, solids {solid} mm");
    }
}

//! The table as the program builds it against a reference table solved by two general-purpose frame programs.
//!
//! The reference: 1500 x 700 x 38 mm plate of 12 GPa in both directions, four upright legs 25 x 2 mm of steel, 780 mm
//! from the floor to the underside, 90 mm inside the edges, feet pinned, joints of a given stiffness. Figures: PyNite 3.2 (plate model,
//! which agrees with OpenSees 3.7 within 1 %). It has no sockets, no bracket and no offset of the plate, so the
//! program's table is given the shallowest sockets that its keys accept: some 15 mm of each leg are stiff that bend in the
//! reference. That shortens sway by bending by up to 6 %, hence the tolerances; the frame itself is held to 1e-6 elsewhere.

use std::f64::consts::FRAC_PI_2;

use serde_json::json;
use underframe::fem::RIGID;
use underframe::mechanics::bracket_plate::Seat;
use underframe::mechanics::bracket_shape::BracketShape;
use underframe::mechanics::estimate::{self, Joints};
use underframe::mechanics::fill::Fill;
use underframe::mechanics::joint::Bracket;
use underframe::mechanics::{self, Cache, Detail, End, Ends, Estimate, Forces, Motion, Origin, PartModels};
use underframe::model::{Action, Model, Purpose};
use underframe::{params, parts};

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

/// A bench as it was on one day, whose printed parts were analysed as solids.
fn bench() -> Model {
    let text = include_bytes!("data/potting-bench-2026-11-26.json");
    Model::new(&params::read(std::str::from_utf8(text).expect("text")).expect("read")).expect("a model")
}

/// Stiffness about x and y, N mm/rad, of a bracket of the bench on a seat, as the standing load of the table presses it: its moment is
/// about y, so that the wood under the stiffer sense about y is pressed, and under the softer one about x.
fn pressed(model: &Model, kind: usize, seat: Seat) -> [f64; 2] {
    let part = parts::blank_bracket(model, kind);
    let printing = &model.params.printing;
    let shape = BracketShape::of(&part, &printing.filament, Fill::of(printing)).expect("a bracket");
    let bracket = Bracket::new(&shape).expect("a bracket");
    let [x, y] = [0.0, FRAC_PI_2].map(|way| bracket.turning(way, seat));
    [x[0].min(x[1]), y[0].max(y[1])]
}

/// Sway of the bench under 50 N along x and y, mm, first order, with more and more of what gives. Source: a frame rebuilt in November 2026
/// with a program not kept here, brackets, ties and feet condensed from solids of the printed parts (hexahedra on voxels); screws
/// 4,000 N/mm along their axis on a bed of 30 N/mm3, collars as hinges, tubes on cross bolts of 5,000 N/mm each. Tolerance:
/// 12 %, always on the soft side where it is above 7: here the plates turn as under the push alone, there the wood stayed pressed
/// by what stands on the table, which is stiffer.
#[test]
fn each_joint_of_a_bench_gives_as_solids_of_it_do() {
    let model = bench();
    let plates = PartModels::new(&model, Detail::Full, &Cache::default()).expect("plates");
    let soft = estimate::joints(&model, &plates, Estimate::Soft, Ends::SOFT);
    let stiff = estimate::joints(&model, &plates, Estimate::Stiff, Ends::STIFF);
    let tied = |of: &Joints| (of.collar.clone(), of.rail.clone());
    let n = model.legs.len();
    let rigid = Joints {
        rotational: vec![[RIGID; 3]; n],
        axial: vec![RIGID; n],
        collar: stiff.collar.iter().map(|ties| vec![[RIGID; 2]; ties.len()]).collect(),
        foot: vec![RIGID; n],
        rail: vec![[RIGID; 2]; model.rails.len()],
        ..stiff.clone()
    };
    let turning = |joints: &Joints, seat: Seat| {
        let about = |leg: usize| {
            let [x, y] = pressed(&model, model.legs[leg].bracket.kind, seat);
            [x, y, stiff.rotational[leg][2]]
        };
        Joints { rotational: (0..n).map(about).collect(), axial: stiff.axial.clone(), ..joints.clone() }
    };
    let (collar, rail) = tied(&stiff);
    let ties = Joints { collar, rail, ..rigid.clone() };
    let feet = Joints { foot: stiff.foot.clone(), ..rigid.clone() };
    let bodies = Joints { foot: stiff.foot.clone(), ..ties.clone() };
    let screws = Seat { screw: 4000.0, bed: 30.0 };
    let give = Joints { lateral: soft.lateral.clone(), ..turning(&bodies, screws) };
    let hinges = Joints { collar: soft.collar.clone(), ..give.clone() };
    let bolts = Joints { bore: vec![5000.0; n], ..hinges.clone() };
    let states = [
        ("all rigid", rigid.clone(), [0.247, 0.329]),
        ("brackets alone", turning(&rigid, Seat::FIRM), [0.340, 0.361]),
        ("ties alone", ties, [0.326, 0.444]),
        ("feet alone", feet, [0.258, 0.343]),
        ("all of them, tubes tied", turning(&bodies, Seat::FIRM), [0.447, 0.511]),
        ("screws and wood give", give, [0.543, 0.547]),
        ("collars are hinges", hinges, [0.793, 0.821]),
        ("tubes hang on bolts", bolts, [0.958, 0.879]),
    ];
    for (name, joints, solids) in states {
        let (found, _) = mechanics::sway(&model, &joints, Detail::Full).expect("stands");
        (0..2).for_each(|k| near(name, found[k], solids[k], 0.12));
    }
}

/// What is realistic for that bench is 0.54 to 0.96 mm along x and 0.55 to 0.88 along y (the same frame). The soft end lies up to two
/// fifths beyond, since it has what these have not: rail sockets with play, tubes on ribs, layers, screws by the smaller of two
/// published figures and the plate model's error. The stiff end lies below by a sixth: screws that hold as if clamped, when new.
#[test]
fn the_band_of_a_bench_encloses_what_is_realistic() {
    let model = bench();
    let forces = mechanics::solve(&model, Detail::Full, &Cache::default()).expect("solved");
    let sway: Vec<_> = model.cases.iter().enumerate().filter(|(_, c)| c.purpose == Purpose::Sway).collect();
    for (axis, realistic) in [[0.543, 0.958], [0.547, 0.879]].into_iter().enumerate() {
        let of = |solution: usize| forces.solutions[solution].cases[sway[axis].0].sway_first_order[axis].abs();
        let (soft, stiff) = (of(0), of(1));
        assert!((0.8..1.0).contains(&(stiff / realistic[0])), "axis {axis}: {stiff} mm");
        assert!((1.0..1.42).contains(&(soft / realistic[1])), "axis {axis}: {soft} mm");
    }
}

/// Two ways: each origin's share against the soft table with that origin alone stiff, on the finer top.
#[test]
fn shares_of_the_band_are_what_each_origin_does_alone() {
    let model = bench();
    let cache = Cache::default();
    let plates = PartModels::new(&model, Detail::Full, &cache).expect("plates");
    let band = mechanics::band(&model, &plates).expect("stands").expect("estimated");
    assert_eq!(band.shares.iter().map(|s| s.origin).collect::<Vec<_>>(), Origin::ALL);
    let of = |ends| mechanics::sway(&model, &estimate::joints(&model, &plates, Estimate::Soft, ends), Detail::Full);
    let (soft, low) = of(Ends::SOFT).expect("stands");
    for share in &band.shares {
        let (moved, hertz) = of(Ends::SOFT.with(share.origin, End::Stiff)).expect("stands");
        (0..2).for_each(|k| {
            assert!((share.sway[k] - (soft[k] - moved[k])).abs() < 0.05, "{share:?} {}", soft[k] - moved[k])
        });
        assert!((share.hertz - (hertz - low)).abs() < 0.05, "{share:?} {}", hertz - low);
    }
}

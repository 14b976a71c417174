//! The frame library against closed forms, published plate coefficients and two general-purpose programs.
//!
//! Every test names its source and tolerance. Units N, mm, MPa, t.

use std::f64::consts::PI;

use underframe::mechanics::{Axes, BeamSection, Case, FREE, Frame, FrameError, Mesh, NodeId, PlateSection, RIGID};

/// A held node.
const ALL: [bool; 6] = [true; 6];
/// Held against translation only.
const PIN: [bool; 6] = [true, true, true, false, false, false];
/// Members here run along x or z; their local z lies towards this.
const UP: [f64; 3] = [0.0, 1.0, 0.0];

const STEEL: f64 = 210_000.0;
const STEEL_SHEAR: f64 = 81_000.0;

/// The tube of the reference table: 25 x 2 mm.
fn tube() -> BeamSection {
    BeamSection::tube(25.0, 2.0, STEEL, STEEL_SHEAR, 7.85e-9)
}

/// The same without shear deformation, for Euler-Bernoulli closed forms.
fn slender() -> BeamSection {
    BeamSection { shear_y: f64::INFINITY, shear_z: f64::INFINITY, ..tube() }
}

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got / want - 1.0).abs() <= tolerance, "{got} is not {want} within {tolerance}: {}", got / want - 1.0);
}

/// A cantilever along x with `parts` elements; its tip.
fn cantilever(frame: &mut Frame, section: BeamSection, length: f64, parts: usize) -> NodeId {
    let (root, tip) = (frame.node([0.0; 3]), frame.node([length, 0.0, 0.0]));
    frame.fix(root, ALL);
    frame.member(root, tip, section, UP, parts).unwrap();
    tip
}

/// Elastic beam theory: P L3 / 3EI + P L / G As at the tip, rotation P L2 / 2EI, twist T L / GJ, stretch N L / EA.
#[test]
fn cantilever_tip() {
    for parts in [1, 5] {
        let mut frame = Frame::new();
        let (s, l) = (tube(), 300.0);
        let tip = cantilever(&mut frame, s, l, parts);
        let mut case = Case::new();
        case.force(tip, [7.0, 0.0, -5.0]);
        case.moment(tip, [11.0, 0.0, 0.0]);
        let state = frame.prepare().unwrap().statics(&[case]).remove(0);
        let u = state.displacement(tip);
        near(u[2], -5.0 * (l.powi(3) / (3.0 * STEEL * s.iy) + l / (STEEL_SHEAR * s.shear_z)), 1e-10);
        near(u[4], 5.0 * l * l / (2.0 * STEEL * s.iy), 1e-10);
        near(u[3], 11.0 * l / (STEEL_SHEAR * s.torsion), 1e-10);
        near(u[0], 7.0 * l / (STEEL * s.area), 1e-10);
        let want = [-7.0, 0.0, 5.0, -11.0, -5.0 * l, 0.0];
        (0..6).for_each(|d| assert!((state.reaction(NodeId(0))[d] - want[d]).abs() < 1e-9));
    }
}

/// Elastic beam theory: own weight of a cantilever, w L4 / 8EI and end moment w L2 / 2, for any subdivision.
#[test]
fn cantilever_under_its_weight() {
    for parts in [1, 4] {
        let mut frame = Frame::new();
        let (s, l, g) = (slender(), 800.0, 9806.65);
        let tip = cantilever(&mut frame, s, l, parts);
        let mut case = Case::new();
        case.gravity([0.0, 0.0, -g]);
        let state = frame.prepare().unwrap().statics(&[case]).remove(0);
        let w = s.density * s.area * g;
        near(state.displacement(tip)[2], -w * l.powi(4) / (8.0 * STEEL * s.iy), 1e-9);
        near(state.reaction(NodeId(0))[2], w * l, 1e-9);
        near(state.reaction(NodeId(0))[4], -w * l * l / 2.0, 1e-9);
        near(state.beam_ends(underframe::mechanics::BeamId(0))[0][5].abs(), w * l * l / 2.0, 1e-9);
    }
}

/// A column along z: bottom held as `foot` says, top as `head` says, pushed down by 1 N; critical load.
fn critical(foot: [bool; 6], head: [bool; 6], length: f64) -> f64 {
    let mut frame = Frame::new();
    let (a, b) = (frame.node([0.0; 3]), frame.node([0.0, 0.0, length]));
    frame.fix(a, foot);
    frame.fix(b, head);
    frame.member(a, b, slender(), UP, 24).unwrap();
    let mut case = Case::new();
    case.force(b, [0.0, 0.0, -1.0]);
    let solver = frame.prepare().unwrap();
    let state = solver.statics(&[case]).remove(0);
    solver.buckling(&state).unwrap().unwrap().factor
}

/// Euler: pi2 EI / (beta L)2 for beta 2, 1, 0.699157, 0.5 and sway-fixed 1; 24 elements, whose own error is (pi / 12)^4 / 720 = 7e-6.
#[test]
fn euler_columns() {
    let l = 780.0;
    let euler = PI * PI * STEEL * tube().iy / (l * l);
    let no_twist = [true, true, true, false, false, true];
    let head_pin = [true, true, false, false, false, true];
    let head_fixed = [true, true, false, true, true, true];
    let head_slides = [false, false, false, true, true, true];
    near(critical(ALL, [false; 6], l), euler / 4.0, 1e-5);
    near(critical(no_twist, head_pin, l), euler, 1e-5);
    near(critical(ALL, head_pin, l), euler / 0.699_156_558_f64.powi(2), 1e-5);
    near(critical(ALL, head_fixed, l), euler * 4.0, 1e-5);
    near(critical(ALL, head_slides, l), euler, 1e-5);
}

/// Statics: a frame that is only pulled never buckles.
#[test]
fn tension_does_not_buckle() {
    let mut frame = Frame::new();
    let tip = cantilever(&mut frame, tube(), 500.0, 6);
    let mut case = Case::new();
    case.force(tip, [100.0, 0.0, 0.0]);
    let solver = frame.prepare().unwrap();
    let state = solver.statics(&[case]).remove(0);
    assert!(solver.buckling(&state).unwrap().is_none());
}

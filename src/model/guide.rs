//! Dimensions of the drill guide, the fit gauge and the sample beside it.

use serde::Serialize;

use super::bracket::{BracketDesign, HoleForm};
use super::socket::{self, CrossBolt};
use crate::params::Params;

/// Room of the bit in a guide bore, mm on the diameter (judgement).
pub const BIT_FIT: f64 = 0.2;
/// Wall of a guide bush, mm (judgement: ten lines of a 0.4 mm nozzle).
const BUSH_WALL: f64 = 4.0;
/// Plate of the guide, mm (judgement).
const GUIDE_PLATE: f64 = 4.0;
/// Height of a guide over the least where the drill's length is free, mm (judgement).
const OVER_LEAST: f64 = 4.0;
/// Height of a gauge slice, mm (judgement: enough to feel a fit, little to print).
const SLICE: f64 = 12.0;
/// Height of a slice that holds a nut trap, as a multiple of the nut's flats (judgement).
const NUT_SLICE: f64 = 1.6;
/// Steps of the gauge's clearances about the file's clearance, mm on the diameter (judgement).
const STEPS: [f64; 5] = [-0.2, -0.1, 0.0, 0.1, 0.2];

/// A jig that sits where the bracket goes and stops the drill at depth.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GuideDesign {
    /// Plate along x, mm: the bracket's.
    pub length: f64,
    /// Plate along y, mm: the bracket's.
    pub width: f64,
    /// Radius of the plate's corners, mm.
    pub corner_radius: f64,
    /// Plate thickness, mm.
    pub plate: f64,
    /// Middles of the bores, mm.
    pub bores: Vec<[f64; 2]>,
    /// Bore, mm: the pilot bit with room.
    pub bore: f64,
    /// Outer diameter of the bushes, mm.
    pub bush: f64,
    /// Height of the bushes over the wood, mm: bit stick-out less drilling depth.
    pub height: f64,
    /// What the height is for, mm: bit stick-out and drilling depth.
    pub stick_out: f64,
    /// Drilling depth, mm.
    pub depth: f64,
}

impl GuideDesign {
    /// A guide for the holes of a bracket drilled to `depth` with a bit of diameter `pilot`, mm.
    #[must_use]
    pub fn new(params: &Params, bracket: &BracketDesign, pilot: f64, depth: f64) -> Self {
        let (bore, stick_out) = (pilot + BIT_FIT, stick_out(params, depth));
        let holes = bracket.screws.iter().chain(&bracket.spare);
        Self {
            length: bracket.length,
            width: bracket.width,
            corner_radius: bracket.corner_radius,
            plate: GUIDE_PLATE,
            bores: holes.map(|h| h.at).collect(),
            bore,
            bush: bore + 2.0 * BUSH_WALL,
            height: stick_out - depth,
            stick_out,
            depth,
        }
    }

    /// Least height at which a guide still steers the bit, mm: twice the plate (judgement).
    #[must_use]
    pub fn least_height() -> f64 {
        2.0 * GUIDE_PLATE
    }
}

/// From the chuck to the drill's tip, mm: as the file says; an assumed one is made long enough for a guide.
fn stick_out(params: &Params, depth: f64) -> f64 {
    let assumed = !params.places.contains_key("drilling.stick_out");
    let least = if assumed { (depth + GuideDesign::least_height() + OVER_LEAST).ceil() } else { 0.0 };
    params.drilling.stick_out.max(least)
}

/// Slices of the real socket at stepped clearances, and samples of the screw hole and the nut trap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GaugeDesign {
    /// Clearance of each slice, mm on the diameter.
    pub clearances: Vec<f64>,
    /// Bore of each slice, mm.
    pub bores: Vec<f64>,
    /// Direction of the slices' axes: the bracket's boss.
    pub axis: [f64; 3],
    /// Outer diameter of the slices, mm: the bracket's boss.
    pub outer: f64,
    /// Height of the slices, mm.
    pub slice: f64,
    /// Mouth chamfer, mm.
    pub chamfer: f64,
    /// Thickness of the strip and of the screw sample, mm: the bracket's plate.
    pub plate: f64,
    /// Form of the screw hole.
    pub hole: HoleForm,
    /// Bolt of the nut-trap sample.
    pub bolt: Option<CrossBolt>,
}

impl GaugeDesign {
    /// The gauge for the file's tube, clearance and screws.
    #[must_use]
    pub fn new(params: &Params, bracket: &BracketDesign) -> Self {
        let tube = params.legs.tube.measured;
        let clearances: Vec<f64> = STEPS
            .iter()
            .map(|s| ((params.printing.clearance + s) * 100.0).round() / 100.0)
            .filter(|c| *c >= 0.0)
            .collect();
        let outer = bracket.sockets[0].outer;
        let own = bracket.sockets[0].bolt;
        let slice = SLICE.max(own.map_or(0.0, |b| (b.nut_flats * NUT_SLICE).ceil()));
        let bolt =
            own.and_then(|b| socket::cross_bolt(b.size, slice / 2.0, b.direction, outer, bracket.sockets[0].bore));
        Self {
            bores: clearances.iter().map(|c| tube + c).collect(),
            clearances,
            axis: bracket.sockets[0].axis,
            outer,
            slice,
            chamfer: params.bracket.chamfer,
            plate: bracket.plate,
            hole: bracket.hole,
            bolt,
        }
    }
}

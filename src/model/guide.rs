//! Dimensions of the drill guide.

use serde::Serialize;

use super::bracket::BracketDesign;
use crate::params::Params;

/// Room of the bit in a guide bore, mm on the diameter (judgement).
pub const BIT_FIT: f64 = 0.2;
/// Wall of a guide bush, mm (judgement: ten lines of a 0.4 mm nozzle).
const BUSH_WALL: f64 = 4.0;
/// Plate of the guide, mm (judgement).
const GUIDE_PLATE: f64 = 4.0;
/// Height of a guide over the least where the drill's length is free, mm (judgement).
const OVER_LEAST: f64 = 4.0;

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

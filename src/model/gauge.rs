//! Dimensions of the fit gauge: as many pieces as the bed asks for.

use serde::Serialize;

use super::bracket::{BracketDesign, HoleForm};
use super::socket::{self, CrossBolt};
use crate::params::Params;

/// Height of a ring below its chamfer, mm (judgement: ten layers, enough to feel a fit, little to print).
const SLICE: f64 = 2.0;
/// Steps of the gauge's clearances about the file's clearance, mm on the diameter (judgement: half a step is felt between
/// two rings; a bore is seldom farther off).
const STEPS: [f64; 3] = [-0.15, 0.0, 0.15];
/// Gap between rings, mm (judgement).
const GAP: f64 = 3.0;
/// Strip in front of the rings for their labels, mm: the letters' 4 mm and 1.2 mm on both sides.
const STRIP: f64 = 6.4;
/// Room for the mark, mm (judgement: six letters of 4 mm).
const MARK: f64 = 20.0;
/// Plastic round the head of the screw sample and below its sink, mm (judgement).
const ROUND_HEAD: [f64; 2] = [3.0, 2.0];
/// Plastic round the nut sample and below its seat, mm (judgement: four and five lines of a 0.4 mm nozzle).
const ROUND_NUT: [f64; 2] = [1.6, 2.0];
/// Room that the bed keeps beside a piece, mm on both sides together (judgement: more than any part keeps to the edge).
const BESIDE: f64 = 8.0;

/// One piece of the gauge: rings of the real socket at stepped clearances; the first has samples of screw hole and nut trap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GaugeDesign {
    /// Clearance of each ring, mm on the diameter.
    pub clearances: Vec<f64>,
    /// Bore of each ring, mm.
    pub bores: Vec<f64>,
    /// Direction of the rings' axes: the bracket's boss.
    pub axis: [f64; 3],
    /// Outer diameter of the rings, mm: the bracket's boss.
    pub outer: f64,
    /// Height of the rings, mm.
    pub slice: f64,
    /// Mouth chamfer, mm.
    pub chamfer: f64,
    /// Form of the screw hole, if the piece has it.
    pub hole: Option<HoleForm>,
    /// The nut-trap sample, if the piece has it.
    pub nut: Option<NutSample>,
}

/// A block with the nut trap of a cross bolt.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NutSample {
    /// The bolt, from head to nut; distances from its middle.
    pub bolt: CrossBolt,
    /// How deep the nut is let in, mm.
    pub depth: f64,
    /// Along the bolt, across it and upright, mm.
    pub block: [f64; 3],
}

impl GaugeDesign {
    /// Width of the strip for labels, mm.
    pub const LABELS: f64 = STRIP;

    /// The gauge for the file's tube, clearance and screws, in pieces that lie on the bed.
    #[must_use]
    pub fn pieces(params: &Params, bracket: &BracketDesign) -> Vec<Self> {
        let clearances = STEPS.map(|s| ((params.printing.clearance + s) * 100.0).round() / 100.0);
        let first = Self {
            hole: Some(bracket.hole),
            nut: bracket.sockets[0].bolt.and_then(|b| nut(b.size)),
            ..Self::bare(params, bracket)
        };
        let bed = params.printing.bed[0].max(params.printing.bed[1]) - BESIDE;
        let mut pieces = vec![first];
        for clearance in clearances.into_iter().filter(|c| *c >= 0.0) {
            let full = |d: &Self| !d.bores.is_empty() && d.cells().iter().sum::<f64>() + d.ring() > bed;
            if pieces.last().is_some_and(full) {
                pieces.push(Self::bare(params, bracket));
            }
            if let Some(piece) = pieces.last_mut() {
                piece.clearances.push(clearance);
                piece.bores.push(params.legs.tube.measured + clearance);
            }
        }
        pieces
    }

    fn bare(params: &Params, bracket: &BracketDesign) -> Self {
        let (s, chamfer) = (&bracket.sockets[0], params.bracket.chamfer);
        Self {
            clearances: Vec::new(),
            bores: Vec::new(),
            axis: s.axis,
            outer: s.outer,
            slice: SLICE + chamfer,
            chamfer,
            hole: None,
            nut: None,
        }
    }

    /// Widths of the cells along the strip, mm: each ring, then mark and screw sample, then the nut sample.
    #[must_use]
    pub fn cells(&self) -> Vec<f64> {
        let mark = self.hole.as_ref().map_or(MARK, |hole| Self::screw_side(hole).max(MARK));
        let nut = self.nut.map(|nut| nut.block[1] + GAP);
        std::iter::repeat_n(self.ring(), self.bores.len()).chain([mark]).chain(nut).collect()
    }

    /// Width of a ring's cell, mm: it leans.
    fn ring(&self) -> f64 {
        let lean = self.axis[0].hypot(self.axis[1]) / self.axis[2];
        self.outer / self.axis[2] + 2.0 * self.slice * lean + GAP
    }

    /// Side of the screw sample, mm.
    #[must_use]
    pub fn screw_side(hole: &HoleForm) -> f64 {
        hole.head + 2.0 * ROUND_HEAD[0]
    }

    /// Height of the screw sample, mm.
    #[must_use]
    pub fn screw_height(hole: &HoleForm) -> f64 {
        hole.sink + ROUND_HEAD[1]
    }
}

/// The sample of a metric nut.
fn nut(size: f64) -> Option<NutSample> {
    let row = socket::metric(size)?;
    let [round, under] = ROUND_NUT;
    let depth = row.nut_height;
    // Through the middle of the seat's plastic; the head's seat lies outside the block.
    let seat = under / 2.0;
    let bolt = socket::cross_bolt(size, 0.0, [0.0, 1.0, 0.0], 2.0 * (seat + depth), 0.0)?;
    let bolt = CrossBolt { nut_seat: seat, head_seat: seat + 1.0, ..bolt };
    let corners = 2.0 * bolt.nut_flats / 3f64.sqrt();
    Some(NutSample { bolt, depth, block: [under + depth, corners + 2.0 * round, bolt.nut_flats + 2.0 * round] })
}

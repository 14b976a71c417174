//! How a screw's head sits in its plate, and how far the screw then reaches into the wood.

use super::{Head, Screws};
use crate::tables::screw::{Head as Size, Screw};

/// Room of a screw in its hole, mm on the diameter (common practice, no source).
pub const HOLE_FIT: f64 = 0.5;
/// Room round a screw head, mm on the diameter (judgement).
pub const HEAD_FIT: f64 = 0.8;
/// Plastic that must stay under a head, mm and as a share of the plate (judgement).
const UNDER_HEAD: f64 = 3.0;
/// See [`UNDER_HEAD`].
const UNDER_HEAD_SHARE: f64 = 0.35;
/// Least length of a wood screw in the wood, tip included, in diameters; a head is sunk deeper to reach it. Below it the
/// clauses give a screw no resistance, so that such a file is refused; from there on checks judge the screw by its
/// length. Source: NDS 2018, 12.1.5.6 for shear; EN 1995-1-1, 8.7.2(3) for pull (from memory). The Wood Handbook names
/// no least length.
pub const LEAST_PENETRATION: f64 = 6.0;

/// The hole that a head needs, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Clear diameter for the shank.
    pub clear: f64,
    /// Diameter of the head's sink.
    pub head: f64,
    /// Depth of the sink from the side of the head; a cone's own depth.
    pub sink: f64,
    /// The sink is a cone.
    pub cone: bool,
    /// Plastic between the head's seat and the wood; the whole plate under a cone.
    pub grip: f64,
}

impl Seat {
    /// For a screw of a length in a plate, both mm.
    #[must_use]
    pub fn new(screw: &Screw, head: Head, length: f64, plate: f64) -> Self {
        let row = head_size(screw, head);
        let (clear, wide) = (screw.diameter + HOLE_FIT, row.diameter + HEAD_FIT);
        let cone = head == Head::Countersunk;
        let reach = plate - (length - LEAST_PENETRATION * screw.diameter);
        let deepest = plate - UNDER_HEAD.max(UNDER_HEAD_SHARE * plate);
        let sink = if cone { (wide - clear) / 2.0 } else { row.height.max(reach).min(deepest) };
        Self { clear, head: wide, sink, cone, grip: if cone { plate } else { plate - sink } }
    }
}

impl Screws {
    /// The seat of these screws in a plate, mm.
    #[must_use]
    pub fn seat(&self, plate: f64) -> Seat {
        Seat::new(&self.screw, self.head, self.length, plate)
    }
}

fn head_size(screw: &Screw, head: Head) -> Size {
    match head {
        Head::Pan => screw.pan,
        Head::Washer => screw.washer,
        Head::Countersunk => screw.countersunk,
    }
}

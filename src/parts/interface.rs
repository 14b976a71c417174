//! Where a part meets what is not printed: tubes, screws, nuts, wood and floor.

use crate::geometry::Axis;
use crate::model::{CrossBolt, HoleForm, Ribs, ScrewHole, Socket};

/// A patch of a part, in its printing frame, by which it meets something else.
#[derive(Clone, Debug, PartialEq)]
pub enum Interface {
    /// A bore that takes a tube of the leg.
    Bore(Bore),
    /// A bore that takes a rail.
    RailSocket(Bore),
    /// The hole and seat of a wood screw.
    ScrewSeat(ScrewSeat),
    /// The face that lies on the wood, at z = 0; along x and y, mm.
    WoodFace([f64; 2]),
    /// The face that stands on the floor or on its pad, at z = 0; along x and y, mm.
    FloorFace([f64; 2]),
    /// The captive nut of a levelling bolt.
    NutTrap {
        /// The bolt's axis, out of the floor face.
        axis: Axis,
        /// Across flats, mm.
        flats: f64,
        /// Depth of the nut's pocket, mm.
        depth: f64,
    },
}

/// A bore that takes a tube.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    /// Axis, zero at the part's reference face.
    pub axis: Axis,
    /// Where the tube's end stands and where its mouth is, mm along the axis; a tube goes through a tie from end to end.
    pub between: [f64; 2],
    /// Within that, without the chamfers of its mouths: where the tube is held, mm along the axis.
    pub held: [f64; 2],
    /// A stretch of it without ribs, chamfers or cross holes, mm along the axis, by which it is measured.
    pub stretch: [f64; 2],
    /// Diameter it must have, mm.
    pub diameter: f64,
    /// What keeps the tube.
    pub hold: BoreHold,
}

/// What keeps a tube in its bore.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BoreHold {
    /// Crush ribs.
    pub ribs: Option<Ribs>,
    /// Glue.
    pub glued: bool,
    /// A bolt across.
    pub bolt: Option<CrossBolt>,
}

impl BoreHold {
    /// Of a socket.
    pub(super) fn of(socket: &Socket) -> Self {
        Self { ribs: socket.ribs, glued: !socket.grooves.is_empty(), bolt: socket.bolt }
    }
}

impl Bore {
    /// Engaged length, mm.
    #[must_use]
    pub fn depth(&self) -> f64 {
        self.between[1] - self.between[0]
    }
}

/// The hole and seat of a wood screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScrewSeat {
    /// Place and slot.
    pub hole: ScrewHole,
    /// Form.
    pub form: HoleForm,
    /// Height of the face on which the form's depths count, mm.
    pub face: f64,
    /// For a repair only.
    pub spare: bool,
}

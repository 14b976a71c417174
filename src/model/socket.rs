//! A bore that takes a tube, the boss round it and what holds the tube in it.

use nalgebra::Vector3;
use serde::Serialize;

use crate::params::{Hold, Printing, Tube};
use crate::tables::bolt;

/// Plate beside the root of a boss or the toe of a web at a rounded corner, mm: a line of a 0.4 mm nozzle (judgement).
pub(super) const BESIDE_ROOT: f64 = 0.4;
/// Thickness of plastic kept between a nut trap's floor and the bore, mm: five lines of a 0.4 mm nozzle (judgement).
const UNDER_NUT: f64 = 2.0;
/// Share of the bore that the wall of a boss takes: wide bosses pay most in stiffness (judgement from the solid models).
const WALL_SHARE: f64 = 0.34;
/// Smallest wall of a boss, mm (judgement: ten lines of a 0.4 mm nozzle, solid without infill).
const WALL_MIN: f64 = 4.0;
/// Width of a crush rib at its foot, mm: two lines of a 0.4 mm nozzle (judgement).
const RIB_WIDTH: f64 = 0.8;
/// Crush ribs per bore: enough to centre the tube (judgement).
const RIB_COUNT: usize = 6;
/// Free stretch between mouth chamfer and ribs, where the tube finds its way, mm (judgement).
const RIB_LEAD: f64 = 5.0;
/// Depth and width of a glue groove, mm (judgement: an epoxy line of about half a millimetre).
pub const GROOVE: [f64; 2] = [0.4, 1.2];
/// Distance from groove to groove along the bore, mm (judgement).
const GROOVE_PITCH: f64 = 8.0;

/// A bore and its boss in the printing frame of the part (z up from the bed).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Socket {
    /// Where the axis meets the top face of the plate, mm.
    pub base: [f64; 2],
    /// Unit vector of the axis, out of the plate: z > 0.
    pub axis: [f64; 3],
    /// Outer diameter of the boss, mm.
    pub outer: f64,
    /// Bore diameter, mm: the measured tube plus the clearance.
    pub bore: f64,
    /// Solid plastic along the axis between the plate's top face and the bore's floor, mm.
    pub floor: f64,
    /// Engaged length, mm.
    pub depth: f64,
    /// Mouth chamfer, mm on the radius; within the engaged length.
    pub chamfer: f64,
    /// Skirt at the root, mm; 0: none.
    pub skirt: f64,
    /// Crush ribs.
    pub ribs: Option<Ribs>,
    /// Heights of glue grooves above the bore's floor, mm.
    pub grooves: Vec<f64>,
    /// Bolt through boss and tube.
    pub bolt: Option<CrossBolt>,
}

impl Socket {
    /// Height of the boss above the plate's top face along its axis, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.floor + self.depth
    }

    /// Radius of a circle round the boss's root and skirt on the plate, mm.
    #[must_use]
    pub fn root(&self) -> f64 {
        self.outer / 2.0 / self.axis[2] + self.skirt
    }

    /// The axis as a vector.
    #[must_use]
    pub fn direction(&self) -> Vector3<f64> {
        Vector3::from(self.axis)
    }

    /// Horizontal shift of the axis per millimetre of height.
    #[must_use]
    pub fn lean(&self) -> [f64; 2] {
        [self.axis[0] / self.axis[2], self.axis[1] / self.axis[2]]
    }

    /// Wall round the bore, mm.
    #[must_use]
    pub fn wall(&self) -> f64 {
        (self.outer - self.bore) / 2.0
    }
}

/// Thin axial ridges that the tube crushes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ribs {
    /// How many, evenly round the bore.
    pub count: usize,
    /// Width at the foot, mm.
    pub width: f64,
    /// Diameter of the circle that touches them all, mm.
    pub inscribed: f64,
    /// From the bore's floor to their upper end, mm.
    pub length: f64,
}

/// A bolt across the tube, with a captive nut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CrossBolt {
    /// Metric size, mm: 4 for M4.
    pub size: f64,
    /// Along the socket's axis from the plate's top face (a tie: from its lower face), mm.
    pub at: f64,
    /// Unit vector from head to nut, across the axis.
    pub direction: [f64; 3],
    /// Clearance hole, mm.
    pub hole: f64,
    /// Nut across flats with fit, mm.
    pub nut_flats: f64,
    /// Distance of the nut's seat from the tube's axis, mm.
    pub nut_seat: f64,
    /// Distance of the head's seat from the tube's axis, mm.
    pub head_seat: f64,
    /// Diameter of the head's spot face, mm.
    pub head_face: f64,
    /// Bolt length as sold, mm.
    pub length: f64,
}

/// The row of a metric bolt size.
#[must_use]
pub fn metric(size: f64) -> Option<&'static bolt::Bolt> {
    bolt::ALL.iter().find(|row| (row.diameter - size).abs() < 1e-6)
}

impl CrossBolt {
    /// How far its hole, nut and head reach along the tube from its axis, mm.
    #[must_use]
    pub fn reach(&self) -> f64 {
        (self.head_face / 2.0).max(self.nut_flats / 3f64.sqrt()).max(self.hole / 2f64.sqrt())
    }

    /// How deep the nut is let into a boss of this outer diameter, mm.
    #[must_use]
    pub fn sunk(&self, outer: f64) -> f64 {
        outer / 2.0 - self.nut_seat
    }
}

/// Fit of a nut in its trap, mm on the flats (judgement: half a printing clearance).
const NUT_FIT: f64 = 0.2;
/// Room round a bolt head or washer, mm on the diameter (judgement).
const HEAD_FIT: f64 = 1.0;

/// A cross bolt of a metric size for a boss of this outer diameter and bore; `None` when the table has no such size.
#[must_use]
pub fn cross_bolt(size: f64, at: f64, direction: [f64; 3], outer: f64, bore: f64) -> Option<CrossBolt> {
    let row = metric(size)?;
    let nut_seat = (outer / 2.0 - row.nut_height).max(bore / 2.0 + UNDER_NUT);
    let head_seat = outer / 2.0 - (outer / 2.0 - bore / 2.0 - UNDER_NUT).clamp(0.0, 1.0);
    let reach = nut_seat + row.nut_height + head_seat;
    Some(CrossBolt {
        size,
        at,
        direction,
        hole: row.hole_medium,
        nut_flats: row.nut_flats + NUT_FIT,
        nut_seat,
        head_seat,
        head_face: row.washer_outside + HEAD_FIT,
        length: row.length_at_least(reach)?,
    })
}

/// Wall of a boss when the file does not say, mm: whole lines of the nozzle, room for the captive nut.
#[must_use]
pub fn default_wall(printing: &Printing, tube: &Tube, hold: &Hold) -> f64 {
    let nut = hold.cross_bolt.and_then(metric).map_or(0.0, |row| row.nut_height + UNDER_NUT);
    let lines = (2 * printing.walls) as f64 * printing.nozzle;
    let wanted = WALL_MIN.max(WALL_SHARE * tube.outside).max(nut).max(lines.min(WALL_MIN * 2.0));
    (wanted / printing.nozzle - 1e-9).ceil() * printing.nozzle
}

/// Room of bores over the nominal tube that lengths and plates reckon with, mm on the diameter (judgement: more than any
/// measured tube and printer need), so that a new measurement or clearance changes bores only.
const LARGEST_FIT: f64 = 1.0;

/// Largest bore that lengths reckon with for a tube, mm.
#[must_use]
pub fn nominal_bore(tube: &Tube) -> f64 {
    tube.outside + LARGEST_FIT
}

/// Solid plastic along the axis of a leaning socket so that `least` stays under the lowest point of its bore, mm.
#[must_use]
pub fn floor(tube: &Tube, least: f64, tilt: f64) -> f64 {
    least + nominal_bore(tube) / 2.0 * tilt.tan()
}

/// Outer diameter of a boss, mm: from the tube as sold, so that a new measurement changes the bore only.
#[must_use]
pub fn boss_outer(tube: &Tube, wall: f64) -> f64 {
    ((tube.outside + 2.0 * wall) * 2.0 - 1e-9).ceil() / 2.0
}

/// Crush ribs for a bore of this engaged length.
#[must_use]
pub fn ribs(hold: &Hold, tube: &Tube, depth: f64) -> Option<Ribs> {
    let length = depth - RIB_LEAD;
    (hold.ribs && length > RIB_LEAD).then_some(Ribs {
        count: RIB_COUNT,
        width: RIB_WIDTH,
        inscribed: tube.measured - hold.rib_interference,
        length,
    })
}

/// Heights of the glue grooves above the bore's floor, mm.
#[must_use]
pub fn grooves(hold: &Hold, depth: f64) -> Vec<f64> {
    if !hold.bonded {
        return Vec::new();
    }
    let count = ((depth - GROOVE_PITCH) / GROOVE_PITCH).floor().max(1.0) as usize;
    (0..count).map(|i| GROOVE_PITCH * (i as f64 + 0.75)).filter(|z| *z < depth - GROOVE_PITCH / 2.0).collect()
}

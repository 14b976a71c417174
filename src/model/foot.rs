//! Dimensions of the foot: sockets on a plate whose lower face is horizontal whatever the splay.

use serde::Serialize;

use super::leg::Frame;
use super::pattern::largest_corner;
use super::socket::{self, Socket};
use crate::geometry::LABEL_DEPTH;
use crate::params::{FootKind, Params};

/// Plate of a flat foot below the sockets, mm (judgement: thirty layers, and the marks of the pad).
const FLAT_PLATE: f64 = 6.0;
/// Solid plastic above a levelling bolt's nut, mm (judgement: it carries the leg).
const ABOVE_NUT: f64 = 8.0;
/// Room for the bolt's end above its nut, mm (judgement).
const BOLT_ROOM: f64 = 6.0;
/// Plate beyond the bosses, mm (judgement: spreads the load and steadies the foot).
const MARGIN: f64 = 4.0;
/// Radius of the plate's corners as a share of its half size (judgement).
const CORNER: f64 = 0.6;
/// Strip beside a nut or a small pad for the engraved mark, mm, with [`MARGIN`] beyond it (judgement).
const BESIDE: f64 = 3.5;
/// Smallest pad under which the mark has room, mm (judgement).
const MARK_UNDER_PAD: f64 = 20.0;
/// Solid plastic under a tube's end, mm (judgement).
const FLOOR: f64 = 3.0;

/// A foot in its printing frame: the floor face lies on z = 0, the bosses point up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootDesign {
    /// Plate along x, mm.
    pub length: f64,
    /// Plate along y, mm.
    pub width: f64,
    /// Plate thickness, mm.
    pub plate: f64,
    /// Radius of the plate's corners, mm.
    pub corner_radius: f64,
    /// One per tube.
    pub sockets: Vec<Socket>,
    /// What stands on the floor.
    pub sole: Sole,
}

/// What stands on the floor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Sole {
    /// A flat face with engraved marks round the place of a pad, which is stuck on: a recess would be bridged from rim to rim.
    Pad {
        /// Diameter of the circle of marks, mm.
        diameter: f64,
        /// Their depth, mm; 0: no pad.
        depth: f64,
    },
    /// A captive nut and a blind hole for the bolt, from below.
    Levelling {
        /// Metric size, mm.
        bolt: f64,
        /// Clearance hole, mm.
        hole: f64,
        /// Nut across flats with fit, mm.
        nut_flats: f64,
        /// Depth of the nut's pocket, mm.
        nut_depth: f64,
        /// Depth of the bolt's hole from the floor face, mm.
        hole_depth: f64,
    },
}

/// Fit of a nut pressed into its pocket, mm on the flats (judgement).
const NUT_FIT: f64 = 0.2;
/// Room of a pad within its marks, mm on the diameter (judgement).
const PAD_FIT: f64 = 0.5;

impl FootDesign {
    /// Lays a foot out for one leg.
    #[must_use]
    pub fn new(params: &Params, frame: &Frame) -> Self {
        let sole = sole(params);
        let plate = params.foot.plate.unwrap_or_else(|| default_plate(&sole));
        let z = face_height(params) + plate;
        let (bases, tube) = (frame.bases_at(z), &params.legs.tube);
        let wall = params
            .bracket
            .boss_wall
            .unwrap_or_else(|| socket::default_wall(&params.printing, tube, &params.bracket.hold));
        let outer = socket::boss_outer(tube, wall);
        let bore = tube.measured + params.printing.clearance;
        let floor = socket::floor(tube, FLOOR, frame.tilt());
        let depth = params.foot.socket_depth;
        let axis = frame.axis_in_foot();
        let sockets: Vec<Socket> = bases
            .into_iter()
            .map(|base| Socket {
                base,
                axis,
                outer,
                bore,
                floor,
                depth,
                chamfer: params.bracket.chamfer,
                skirt: params.bracket.skirt,
                ribs: socket::ribs(&params.bracket.hold, tube, depth),
                grooves: socket::grooves(&params.bracket.hold, depth),
                bolt: None,
            })
            .collect();
        let half = half(&sockets, &sole);
        let roots: Vec<_> = sockets.iter().map(|s| (s.base, s.root() + socket::BESIDE_ROOT)).collect();
        Self {
            length: 2.0 * half[0],
            width: 2.0 * half[1],
            plate,
            corner_radius: largest_corner(half, (CORNER * half[0].min(half[1])).round(), &roots),
            sockets,
            sole,
        }
    }

    /// Smallest box in the printing pose, mm.
    #[must_use]
    pub fn box_mm(&self) -> [f64; 3] {
        super::boxed([self.length, self.width], self.plate, &self.sockets)
    }
}

/// Height of the foot's lower face above the floor, mm: the pad or the levelling bolt.
#[must_use]
pub fn face_height(params: &Params) -> f64 {
    match params.foot.kind {
        FootKind::Flat { pad_thickness, .. } => pad_thickness,
        FootKind::Levelling { stand_off, .. } => stand_off,
    }
}

fn sole(params: &Params) -> Sole {
    match params.foot.kind {
        FootKind::Flat { pad_diameter, pad_thickness } => {
            Sole::Pad { diameter: pad_diameter + PAD_FIT, depth: if pad_thickness > 0.0 { LABEL_DEPTH } else { 0.0 } }
        }
        FootKind::Levelling { bolt, .. } => {
            let nut_depth = bolt.nut_height + 1.0;
            Sole::Levelling {
                bolt: bolt.diameter,
                hole: bolt.hole_medium,
                nut_flats: bolt.nut_flats + NUT_FIT,
                nut_depth,
                hole_depth: nut_depth + BOLT_ROOM,
            }
        }
    }
}

fn default_plate(sole: &Sole) -> f64 {
    match sole {
        Sole::Pad { depth, .. } => FLAT_PLATE + depth,
        Sole::Levelling { hole_depth, nut_depth, .. } => (hole_depth + 2.0).max(nut_depth + ABOVE_NUT),
    }
}

/// Half sizes of the plate: under every boss and round the sole, square.
fn half(sockets: &[Socket], sole: &Sole) -> [f64; 2] {
    let sole = match sole {
        Sole::Pad { diameter, .. } if *diameter < MARK_UNDER_PAD => diameter / 2.0 + BESIDE,
        Sole::Pad { diameter, .. } => diameter / 2.0,
        Sole::Levelling { nut_flats, .. } => nut_flats / 3f64.sqrt() + BESIDE,
    };
    let reach = |k: usize| sockets.iter().map(|s| s.base[k].abs() + s.root()).fold(sole, f64::max);
    let half = [0, 1].map(|k| (reach(k) + MARGIN).ceil());
    let larger = half[0].max(half[1]);
    if larger / half[0].min(half[1]) < 1.15 { [larger; 2] } else { half }
}

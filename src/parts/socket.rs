//! A socket's features: boss, bore, ribs, grooves, cross bolt.

use nalgebra::Vector3;

use super::{Bore, BoreHold, CHORD};
use crate::geometry::{Axis, Boss, Feature, Round, SPAN, Solid};
use crate::model::{BEFORE_BOLT, CrossBolt, GROOVE, Socket};

/// How deep bosses and webs reach into their plate, mm: they must overlap to join.
pub(super) const EMBED: f64 = 1.0;
/// How far cutters stand out of the faces they break through, mm.
pub(super) const OVERSHOOT: f64 = 0.5;
/// How deep ribs reach into the wall, mm: they must overlap to join, beyond the floor of glue grooves.
const RIB_ROOT: f64 = 0.6;
/// How much wider than a nut's trap or a head's face the way to it is, mm: their sides must not fall together.
pub(super) const ENTRY: f64 = 0.1;
/// Least stretch of a bore that is measured, mm.
const MEASURED: f64 = 1.0;

/// Axis of a socket; distances along it count from the plate's top face.
pub(super) fn axis(s: &Socket, plate: f64) -> Axis {
    Axis::new([s.base[0], s.base[1], plate], s.axis)
}

/// Adds a socket on a plate to a solid.
pub(super) fn add(solid: &mut Solid, s: &Socket, plate: f64) {
    let axis = axis(s, plate);
    let embed = EMBED.min(plate / 2.0);
    let boss = Boss { axis, radius: s.outer / 2.0, root: plate, embed, top: s.height(), flare: s.skirt };
    solid.adds.push(Feature::boss(&boss, CHORD));
}

/// (distance along the axis, radius) from the bore's floor over its glue grooves to the mouth.
fn bored(s: &Socket) -> Vec<(f64, f64)> {
    let (r, top, [deep, wide]) = (s.bore / 2.0, s.height(), GROOVE);
    let groove = |z: &f64| {
        let from = s.floor + z;
        [(from, r), (from + deep, r + deep), (from + wide - deep, r + deep), (from + wide, r)]
    };
    let mut all = vec![(s.floor, r)];
    all.extend(s.grooves.iter().flat_map(groove));
    if s.chamfer > 0.0 {
        all.push((top - s.chamfer, r));
    }
    all.push((top, r + s.chamfer));
    all
}

/// Cuts the bore and what belongs to it; after everything that adds.
pub(super) fn cut(solid: &mut Solid, s: &Socket, plate: f64) {
    let (axis, r) = (axis(s, plate), s.bore / 2.0);
    let mut profile = bored(s);
    if let Some((end, mouth)) = profile.last().copied() {
        profile.push((end + OVERSHOOT, mouth + if s.chamfer > 0.0 { OVERSHOOT } else { 0.0 }));
    }
    solid.cuts.push(Feature::revolved(&axis, &profile, Round::Outside, CHORD));
    if let Some(bolt) = &s.bolt {
        let at = axis.at(bolt.at);
        let (axis, up) = cut_bolt(solid, [at.x, at.y, at.z], bolt, s.outer);
        open_bolt(solid, &axis, up, bolt, s.outer);
    }
    if let Some(ribs) = &s.ribs {
        let height = (s.bore - ribs.inscribed) / 2.0;
        for k in 0..ribs.count {
            let angle = std::f64::consts::TAU * k as f64 / ribs.count as f64;
            let stretch = [s.floor - RIB_ROOT, s.floor + ribs.length];
            solid.ridges.push(Feature::rib(&axis, angle, r, [height, RIB_ROOT, ribs.width], stretch));
        }
    }
}

/// Cuts a cross bolt's hole, its captive-nut trap and the spot face of its head; `at` is on the tube's axis.
pub(super) fn cut_bolt(solid: &mut Solid, at: [f64; 3], bolt: &CrossBolt, outer: f64) -> (Axis, [f64; 3]) {
    let (axis, up) = cut_nut(solid, at, bolt, outer);
    let face = bolt.head_face / 2.0;
    let roof = face.max(face * 2f64.sqrt() - (SPAN - 0.5) / 2.0);
    let stretch = [-outer / 2.0 - BEFORE_BOLT, -bolt.head_seat];
    solid.cuts.push(Feature::teardrop_bore(&axis, up, face, Some(roof), stretch, CHORD));
    (axis, up)
}

/// Steep roofs over nut and head where something may stand beside them, which is cut back too: one side of a bridge would
/// end in the air there.
pub(super) fn open_bolt(solid: &mut Solid, axis: &Axis, up: [f64; 3], bolt: &CrossBolt, outer: f64) {
    let far = outer / 2.0 + BEFORE_BOLT + OVERSHOOT;
    let [nut, head] = [bolt.nut_seat, bolt.head_seat].map(|seat| seat + ENTRY);
    solid.cuts.push(Feature::nut_entry(axis, up, bolt.nut_flats + ENTRY, [nut, far]));
    solid.cuts.push(Feature::teardrop_bore(axis, up, (bolt.head_face + ENTRY) / 2.0, None, [-far, -head], CHORD));
}

/// Cuts a cross bolt's hole and its captive-nut trap; gives the bolt's axis and what is up across it.
pub(super) fn cut_nut(solid: &mut Solid, at: [f64; 3], bolt: &CrossBolt, outer: f64) -> (Axis, [f64; 3]) {
    let axis = Axis::new(at, bolt.direction);
    let up = Vector3::z() - axis.dir.into_inner() * axis.dir.z;
    let up = [up.x, up.y, up.z];
    let reach = outer / 2.0 + 1.0;
    solid.cuts.push(Feature::teardrop_bore(&axis, up, bolt.hole / 2.0, None, [-reach, reach], CHORD));
    // A flat of the nut lies on top: its roof is a short bridge, its sides are steep.
    let level = axis.dir.cross(&Vector3::from(up)).into();
    solid.cuts.push(Feature::nut_trap(&axis, level, bolt.nut_flats, 0.0, [bolt.nut_seat, outer / 2.0 + BEFORE_BOLT]));
    (axis, up)
}

/// The bore; it can be measured between ribs or floor and the mouth chamfer, clear of the bolt.
pub(super) fn bore(s: &Socket, plate: f64) -> Bore {
    let top = s.floor + s.depth - s.chamfer - 0.2;
    let low = s.floor + s.ribs.as_ref().map_or(s.depth / 2.0, |r| r.length + 0.2);
    let grooves = s.grooves.last().map_or(0.0, |z| s.floor + z + GROOVE[1] + 0.6);
    let bolt = s.bolt.as_ref().map_or(0.0, |b| b.at + b.head_face.max(b.nut_flats * 1.2) * 0.75);
    let low = low.max(grooves).max(bolt).min(top - MEASURED);
    Bore {
        axis: axis(s, plate),
        between: [s.floor, s.height()],
        held: [s.floor, s.height() - s.chamfer],
        stretch: [low, top],
        diameter: s.bore,
        hold: BoreHold::of(s),
    }
}

//! The foot: sockets on a plate that lies flat on the floor, with marks for a pad or a levelling bolt's nut.

use std::f64::consts::TAU;

use nalgebra::{Isometry3, Vector3};

use super::bracket::label_below;
use super::place::Face;
use super::socket::{self, OVERSHOOT};
use super::{CHORD, Interface, MARK_HEIGHT, Part, PartKind, places};
use crate::geometry::{Axis, Fault, Feature, LABEL_OVERSHOOT, Label, Outline, Round, Solid};
use crate::model::{FootDesign, Kind, Model, Sole};

/// Marks round the place of a pad: how many; across and along the circle, mm (judgement: enough to centre a pad by eye).
const DASHES: usize = 8;
const DASH: [f64; 2] = [0.8, 4.0];
/// Radius of what is left flat over a bolt's end, mm: well under half the longest bridge.
const WIDEST_END: f64 = 4.0;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let kinds = model.feet.iter().enumerate();
    let part = |(i, kind): (usize, &Kind<FootDesign>)| {
        Ok(Part {
            interfaces: interfaces(&kind.design),
            places: places(model, i, |leg| vec![&leg.foot]),
            ..Part::new(PartKind::Foot, kind, solid(&kind.design, &kind.mark)?)
        })
    };
    kinds.map(part).collect()
}

fn interfaces(d: &FootDesign) -> Vec<Interface> {
    let bores = d.sockets.iter().map(|s| Interface::Bore(socket::bore(s, d.plate)));
    let nut = match d.sole {
        Sole::Levelling { nut_flats: flats, nut_depth: depth, .. } => {
            Some(Interface::NutTrap { axis: Axis::upright(0.0, 0.0), flats, depth })
        }
        Sole::Pad { .. } => None,
    };
    bores.chain([Interface::FloorFace([d.length, d.width])]).chain(nut).collect()
}

fn solid(d: &FootDesign, mark: &str) -> Result<Solid, Fault> {
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.plate, &Isometry3::identity())]);
    d.sockets.iter().for_each(|s| socket::add(&mut solid, s, d.plate));
    d.sockets.iter().for_each(|s| socket::cut(&mut solid, s, d.plate));
    solid.cuts.extend(sole(&d.sole));
    solid.cuts.extend(engraving(d, mark)?);
    Ok(solid)
}

fn sole(sole: &Sole) -> Vec<Feature> {
    match *sole {
        Sole::Pad { depth, .. } if depth <= 0.0 => Vec::new(),
        Sole::Pad { diameter, depth } => (0..DASHES).map(|k| dash(diameter / 2.0, depth, k)).collect(),
        Sole::Levelling { hole, nut_flats, nut_depth, hole_depth, .. } => {
            let (axis, r) = (Axis::upright(0.0, 0.0), hole / 2.0);
            // The hole ends in a cone, so that no more than a short bridge is left of its ceiling.
            let cone = (r - WIDEST_END).max(0.0);
            let hole = [(-OVERSHOOT, r), (hole_depth - cone, r), (hole_depth, r - cone)];
            vec![
                Feature::revolved(&axis, &hole, Round::Outside, CHORD),
                Feature::nut_pocket(&axis, [1.0, 0.0, 0.0], nut_flats, [-OVERSHOOT, nut_depth], r),
            ]
        }
    }
}

/// One of the marks round the place of the pad: the pad's edge comes to their middle.
fn dash(radius: f64, depth: f64, k: usize) -> Feature {
    let angle = TAU * k as f64 / DASHES as f64;
    let at = Isometry3::new(Vector3::new(radius * angle.cos(), radius * angle.sin(), 0.0), Vector3::z() * angle);
    let outline = Outline::rounded_rectangle(DASH[0], DASH[1].min(radius / 2.0), 0.0, CHORD);
    Feature::prism(&outline, -LABEL_OVERSHOOT, depth, &at).engraved()
}

/// The mark: under the pad where it has room, else on the floor face beside what is in the middle.
fn engraving(d: &FootDesign, mark: &str) -> Result<Vec<Feature>, Fault> {
    let label = Label::new(mark, MARK_HEIGHT)?;
    let size = [label.width(), label.height()];
    let round = |radius: f64| Face { half: [radius; 2], corner: radius, busy: Vec::new() }.place(size, [0.0; 2]);
    let beside = |radius: f64| {
        let half = [d.length / 2.0, d.width / 2.0];
        let face = Face { half, corner: d.corner_radius, busy: vec![([0.0; 2], radius)] };
        face.place(size, [0.0, -(radius + half[1]) / 2.0])
    };
    let place = match d.sole {
        Sole::Pad { depth, .. } if depth <= 0.0 => beside(0.0),
        Sole::Pad { diameter, .. } => {
            let half = DASH[0] / 2.0;
            round(diameter / 2.0 - half).or_else(|| beside(diameter / 2.0 + half))
        }
        Sole::Levelling { nut_flats, .. } => beside(nut_flats / 3f64.sqrt()),
    };
    place.map_or(Ok(Vec::new()), |at| label_below(mark, at, 0.0))
}

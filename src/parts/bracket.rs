//! The bracket: plate on the wood, one boss per tube, webs, screw holes.

use nalgebra::{Isometry3, Translation3, UnitQuaternion, Vector3};

use super::place::Face;
use super::socket::{self, EMBED, OVERSHOOT};
use super::{CHORD, Interface, MARK_HEIGHT, Part, PartKind, ScrewSeat, places};
use crate::geometry::{Axis, Fault, Feature, Gusset, LABEL_DEPTH, Label, Outline, Round, Solid, Web};
use crate::model::{BracketDesign, HoleForm, Model, ScrewHole};

/// Height of a web's blunt toe, mm: an eased end that still prints (judgement).
const TOE: f64 = 1.0;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    (0..model.brackets.len()).map(|kind| part(model, kind)).collect()
}

pub(super) fn part(model: &Model, kind: usize) -> Result<Part, Fault> {
    let (own, mut part) = (&model.brackets[kind], blank(model, kind));
    part.solid.cuts.extend(engraving(&own.design, &own.mark)?);
    Ok(part)
}

/// Without its engraving.
pub(super) fn blank(model: &Model, kind: usize) -> Part {
    let own = &model.brackets[kind];
    Part {
        interfaces: interfaces(&own.design),
        places: places(model, kind, |leg| vec![&leg.bracket]),
        ..Part::new(PartKind::Bracket, own, solid(&own.design))
    }
}

fn interfaces(d: &BracketDesign) -> Vec<Interface> {
    let bores = d.sockets.iter().map(|s| Interface::Bore(socket::bore(s, d.plate)));
    let seat = |spare: bool| {
        move |hole: &ScrewHole| Interface::ScrewSeat(ScrewSeat { hole: *hole, form: d.hole, face: d.plate, spare })
    };
    let screws = d.screws.iter().map(seat(false)).chain(d.spare.iter().map(seat(true)));
    bores.chain(screws).chain([Interface::WoodFace([d.length, d.width])]).collect()
}

/// The bracket without its engraving.
fn solid(d: &BracketDesign) -> Solid {
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.plate, &Isometry3::identity())]);
    d.sockets.iter().for_each(|s| socket::add(&mut solid, s, d.plate));
    solid.adds.extend(d.gussets.iter().map(|g| gusset(d, g)));
    solid.adds.extend(d.webs.iter().map(|w| web(d, w)));
    solid.cuts.extend(d.screws.iter().chain(&d.spare).map(|h| screw_hole(h, &d.hole, d.plate)));
    d.sockets.iter().for_each(|s| socket::cut(&mut solid, s, d.plate));
    solid
}

/// Height of a gusset on its boss, mm: on the side to which the boss leans it is never lower than its toe.
fn rise(d: &BracketDesign, g: &crate::model::Gusset) -> f64 {
    let axis = socket::axis(&d.sockets[g.boss], d.plate);
    let [u, v] = axis.across();
    let down = -(u.z * g.angle.cos() + v.z * g.angle.sin()) / axis.dir.z;
    g.rise.max(2.0 * TOE + d.sockets[g.boss].outer / 2.0 * down)
}

fn gusset(d: &BracketDesign, g: &crate::model::Gusset) -> Feature {
    let s = &d.sockets[g.boss];
    Feature::gusset(&Gusset {
        axis: socket::axis(s, d.plate),
        toward: g.angle,
        radius: s.outer / 2.0,
        inner: (s.outer + s.bore) / 4.0,
        run: g.run,
        rise: rise(d, g),
        toe: TOE,
        thickness: g.thickness,
        embed: EMBED.min(d.plate / 2.0),
    })
}

fn web(d: &BracketDesign, w: &crate::model::Web) -> Feature {
    let between = [w.from, w.to].map(|boss| socket::axis(&d.sockets[boss], d.plate));
    Feature::web(&Web { between, height: w.height, thickness: w.thickness, embed: EMBED.min(d.plate / 2.0) })
}

/// One cutter for a screw hole: relief cone on the wood side, clear hole, sink for the head.
pub(super) fn screw_hole(hole: &ScrewHole, form: &HoleForm, plate: f64) -> Feature {
    let axis = Axis::upright(hole.at[0], hole.at[1]);
    let profile = profile(form, plate);
    if hole.slot > 0.0 {
        let slide = if hole.along_x { [1.0, 0.0, 0.0] } else { [0.0, 1.0, 0.0] };
        return Feature::slotted(&axis, slide, hole.slot, &profile, Round::Outside, CHORD);
    }
    Feature::revolved(&axis, &profile, Round::Outside, CHORD)
}

/// (height, radius) pairs from below the wood face to above the plate's upper face.
fn profile(form: &HoleForm, plate: f64) -> Vec<(f64, f64)> {
    let (clear, head, relief) = (form.clear / 2.0, form.head / 2.0, form.relief_diameter / 2.0);
    let mut pairs = if form.relief > 0.0 {
        let flare = (form.relief_diameter - form.clear) / 2.0 * OVERSHOOT / form.relief;
        vec![(-OVERSHOOT, relief + flare), (form.relief, clear)]
    } else {
        vec![(-OVERSHOOT, clear), (0.0, clear)]
    };
    pairs.push((plate - form.sink, clear));
    if form.cone {
        pairs.extend([(plate, head), (plate + 1.0, head + 1.0)]);
    } else {
        pairs.extend([(plate - form.sink, head), (plate + 1.0, head)]);
    }
    pairs
}

/// The mark on the wood face, where no hole is.
fn engraving(d: &BracketDesign, mark: &str) -> Result<Vec<Feature>, Fault> {
    let radius =
        |h: &ScrewHole| d.hole.clear.max(d.hole.relief_diameter * f64::from(d.hole.relief > 0.0)) / 2.0 + h.slot / 2.0;
    let busy = d.screws.iter().chain(&d.spare).map(|h| (h.at, radius(h))).collect();
    let face = Face { half: [d.length / 2.0, d.width / 2.0], corner: d.corner_radius, busy };
    let label = Label::new(mark, MARK_HEIGHT)?;
    face.place([label.width(), label.height()], [0.0, 0.0]).map_or(Ok(Vec::new()), |at| label_below(mark, at, 0.0))
}

/// Engraves a text into a face that looks down at height `z`, centred on `at`.
pub(super) fn label_below(text: &str, at: [f64; 2], z: f64) -> Result<Vec<Feature>, Fault> {
    let label = Label::new(text, MARK_HEIGHT)?;
    let turn = UnitQuaternion::from_axis_angle(&Vector3::x_axis(), std::f64::consts::PI);
    let corner = Translation3::new(at[0] - label.width() / 2.0, at[1] + label.height() / 2.0, z);
    label.cuts(&Isometry3::from_parts(corner, turn), LABEL_DEPTH)
}

/// Engraves a text into a face that looks up at height `z`, centred on `at`.
pub(super) fn label_above(text: &str, at: [f64; 2], z: f64) -> Result<Vec<Feature>, Fault> {
    let label = Label::new(text, MARK_HEIGHT)?;
    let corner = Isometry3::translation(at[0] - label.width() / 2.0, at[1] - label.height() / 2.0, z);
    label.cuts(&corner, LABEL_DEPTH)
}

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
    let own = &model.brackets[kind];
    Ok(Part {
        interfaces: interfaces(&own.design),
        places: places(model, kind, |leg| vec![&leg.bracket]),
        ..Part::new(PartKind::Bracket, own, solid(&own.design, &own.mark)?)
    })
}

fn interfaces(d: &BracketDesign) -> Vec<Interface> {
    let bores = d.sockets.iter().map(|s| Interface::Bore(socket::bore(s, d.plate)));
    let seat = |spare: bool| {
        move |hole: &ScrewHole| Interface::ScrewSeat(ScrewSeat { hole: *hole, form: d.hole, face: d.plate, spare })
    };
    let screws = d.screws.iter().map(seat(false)).chain(d.spare.iter().map(seat(true)));
    bores.chain(screws).chain([Interface::WoodFace([d.length, d.width])]).collect()
}

/// The bracket as it is drawn.
fn solid(d: &BracketDesign, mark: &str) -> Result<Solid, Fault> {
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.plate, &Isometry3::identity())]);
    d.sockets.iter().for_each(|s| socket::add(&mut solid, s, d.plate));
    solid.adds.extend(d.gussets.iter().map(|g| gusset(d, g)));
    solid.adds.extend(d.webs.iter().map(|w| web(d, w)));
    solid.cuts.extend(d.screws.iter().chain(&d.spare).map(|h| screw_hole(h, &d.hole, d.plate)));
    d.sockets.iter().for_each(|s| socket::cut(&mut solid, s, d.plate));
    solid.cuts.extend(engraving(d, mark)?);
    Ok(solid)
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

/// (height, radius) pairs from the wood face to the plate's upper face.
fn through(form: &HoleForm, plate: f64) -> Vec<(f64, f64)> {
    let (clear, head) = (form.clear / 2.0, form.head / 2.0);
    let mut pairs = if form.relief > 0.0 {
        vec![(0.0, form.relief_diameter / 2.0), (form.relief, clear)]
    } else {
        vec![(0.0, clear)]
    };
    pairs.push((plate - form.sink, clear));
    if !form.cone {
        pairs.push((plate - form.sink, head));
    }
    pairs.push((plate, head));
    pairs
}

/// The same carried on below the plate and above it.
fn profile(form: &HoleForm, plate: f64) -> Vec<(f64, f64)> {
    let mut pairs = through(form, plate);
    let (low, wider) = (pairs[0], (form.relief_diameter - form.clear) / 2.0);
    let flare = if form.relief > 0.0 { wider * OVERSHOOT / form.relief } else { 0.0 };
    let first = (-OVERSHOOT, low.1 + flare);
    if form.relief > 0.0 {
        pairs[0] = first;
    } else {
        pairs.insert(0, first);
    }
    let head = form.head / 2.0;
    if form.cone {
        pairs.push((plate + 1.0, head + 1.0));
    } else if let Some(last) = pairs.last_mut() {
        *last = (plate + 1.0, head);
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

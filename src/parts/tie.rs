//! The tie: collars for every tube of a leg, webs between them, blocks with sockets for rails.

use std::f64::consts::{FRAC_PI_4, PI};

use nalgebra::{Isometry3, UnitQuaternion, Vector3};

use super::bracket::label_above;
use super::place::Face;
use super::socket::{ENTRY, OVERSHOOT, cut_bolt, open_bolt};
use super::{Bore, BoreHold, CHORD, Interface, MARK_HEIGHT, Part, PartKind, places};
use crate::geometry::{Axis, Fault, Feature, LABEL_DEPTH, Label, Outline, Round, Solid, upright_plane};
use crate::model::{BEFORE_BOLT, CrossBolt, Kind, Model, RailSocket, TieDesign};

/// How far out of a collar the way to its bolt opens to the top, mm: they must not touch along a line.
const BEYOND_COLLAR: f64 = 0.05;
/// Tab that carries the mark where no face has room, thickness and margin round the text, mm (judgement).
const TAB: [f64; 2] = [3.0, 1.5];
/// Room about a mark between two bores, mm (judgement).
const MARK_ROOM: f64 = 2.0;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let kinds = model.ties.iter().enumerate();
    let part = |(i, kind): (usize, &Kind<TieDesign>)| {
        Ok(Part {
            interfaces: interfaces(&kind.design),
            places: places(model, i, |leg| leg.ties.iter().map(|t| &t.part).collect()),
            ..Part::new(PartKind::Tie, kind, solid(&kind.design, &kind.mark)?)
        })
    };
    kinds.map(part).collect()
}

fn interfaces(d: &TieDesign) -> Vec<Interface> {
    let clear = d.bolts.first().map_or(0.0, |b| b.head_face.max(1.2 * b.nut_flats) / 2.0);
    let collar = |(i, b): (usize, &[f64; 2])| Bore {
        axis: Axis::upright(b[0], b[1]),
        between: [0.0, d.height],
        held: [d.chamfer, d.height - d.chamfer],
        stretch: [d.chamfer + 0.2, (d.height / 2.0 - clear - 0.5).max(d.chamfer + 1.2)],
        diameter: d.bore,
        hold: BoreHold { bolt: d.bolts.get(i).copied(), ..BoreHold::default() },
    };
    let rail = |r: &RailSocket| {
        let mouth = r.floor + r.depth;
        Bore {
            axis: rail_axis(r),
            between: [r.floor, mouth],
            held: [r.floor, mouth - mouth_length(r, d.chamfer)],
            stretch: [r.floor + 0.5, mouth - mouth_length(r, d.chamfer) - 0.5],
            diameter: r.bore,
            hold: BoreHold::default(),
        }
    };
    let collars = d.bores.iter().enumerate().map(|b| Interface::Bore(collar(b)));
    collars.chain(d.rails.iter().map(|r| Interface::RailSocket(rail(r)))).collect()
}

fn rail_axis(r: &RailSocket) -> Axis {
    Axis::new([0.0, 0.0, r.height], r.direction)
}

fn solid(d: &TieDesign, mark: &str) -> Result<Solid, Fault> {
    let circle = Outline::circle(d.outer / 2.0, Round::Inside, CHORD);
    let collar = |b: &[f64; 2]| Feature::prism(&circle, 0.0, d.height, &Isometry3::translation(b[0], b[1], 0.0));
    let mut solid = Solid::of(d.bores.iter().map(collar).collect());
    if d.bores.len() > 1 {
        solid.adds.extend(d.bores.iter().map(|b| bar([0.0; 2], *b, d.web, d.height - 0.5)));
    }
    solid.adds.extend(d.rails.iter().map(|r| rail_block(d, r)));
    let (r, c) = (d.bore / 2.0, d.chamfer);
    let mouths =
        [(-OVERSHOOT, r + c + OVERSHOOT), (c, r), (d.height - c, r), (d.height + OVERSHOOT, r + c + OVERSHOOT)];
    for b in &d.bores {
        solid.cuts.push(Feature::revolved(&Axis::upright(b[0], b[1]), &mouths, Round::Outside, CHORD));
    }
    for (b, bolt) in d.bores.iter().zip(&d.bolts) {
        let (axis, up) = cut_bolt(&mut solid, [b[0], b[1], bolt.at], bolt, d.outer);
        if !d.rails.is_empty() {
            open_bolt(&mut solid, &axis, up, bolt, d.outer);
            solid.cuts.extend(ways(&axis, d, bolt));
        }
    }
    d.rails.iter().for_each(|rail| cut_rail(&mut solid, rail, d.chamfer));
    engrave(&mut solid, d, mark)?;
    Ok(solid)
}

/// The ways to a bolt's nut and head beyond their collar, open to the top: where one cuts a block's corner, a roof over it would
/// begin in the air.
fn ways(axis: &Axis, d: &TieDesign, bolt: &CrossBolt) -> [Feature; 2] {
    let halves = [bolt.nut_flats / 3f64.sqrt(), bolt.head_face / 2.0].map(|half| half + ENTRY);
    let far = d.outer / 2.0 + BEFORE_BOLT + OVERSHOOT;
    [0.0, PI].map(|turn| {
        let half = halves[usize::from(turn > 0.0)];
        let near = d.outer / 2.0 + BEYOND_COLLAR;
        let outline = Outline::polygon(vec![[near, -half], [far, -half], [far, half], [near, half]]);
        let heading = axis.dir.y.atan2(axis.dir.x) + turn;
        let turned = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), heading);
        let at = Isometry3::from_parts([axis.point.x, axis.point.y, 0.0].into(), turned);
        Feature::prism(&outline, bolt.at, d.height + OVERSHOOT, &at)
    })
}

/// A bar on the bed between two points of the plane, its ends at the points.
fn bar(from: [f64; 2], to: [f64; 2], width: f64, height: f64) -> Feature {
    let (v, half) = ([to[0] - from[0], to[1] - from[1]], width / 2.0);
    let length = v[0].hypot(v[1]);
    let outline = Outline::polygon(vec![[-half, -half], [length, -half], [length, half], [-half, half]]);
    let turn = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), v[1].atan2(v[0]));
    Feature::prism(&outline, 0.0, height, &Isometry3::from_parts([from[0], from[1], 0.0].into(), turn))
}

/// From the leg's axis to the rail socket's mouth; a little lower than the collars, so that no two tops fall together.
fn rail_block(d: &TieDesign, r: &RailSocket) -> Feature {
    let flat = r.direction[0].hypot(r.direction[1]);
    let reach = (r.floor + r.depth) * flat;
    let unit = [r.direction[0] / flat, r.direction[1] / flat];
    bar([0.0; 2], [unit[0] * reach, unit[1] * reach], r.block, d.height - 0.25)
}

/// Length of a rail's mouth chamfer, mm: as much steeper than 45 degrees as the rail falls, so that its roof is not flatter.
fn mouth_length(r: &RailSocket, chamfer: f64) -> f64 {
    chamfer / (FRAC_PI_4 + (-r.direction[2]).max(0.0).asin()).tan()
}

fn cut_rail(solid: &mut Solid, r: &RailSocket, chamfer: f64) {
    let (axis, radius, end) = (rail_axis(r), r.bore / 2.0, r.floor + r.depth);
    let d = axis.dir.into_inner();
    let up = Vector3::z() - d * d.z;
    solid.cuts.push(Feature::teardrop_bore(
        &axis,
        [up.x, up.y, up.z],
        radius,
        Some(r.crown()),
        [r.floor, end + 8.0],
        CHORD,
    ));
    if chamfer <= 0.0 {
        return;
    }
    let long = mouth_length(r, chamfer);
    let (slope, inside) = (chamfer / long, 0.05);
    let places = [end - long - inside / slope, end + OVERSHOOT, end + 8.0];
    let wider = chamfer + inside + OVERSHOOT * slope;
    let sizes = [radius - inside, wider];
    let crown = [r.crown() - inside, RailSocket::least_crown(radius - inside + wider)];
    solid.cuts.push(Feature::teardrop_mouth(&axis, [up.x, up.y, up.z], sizes, crown, places, CHORD));
}

/// The mark: on a rail's block, between the bores, else on a tab at the collar's side.
fn engrave(solid: &mut Solid, d: &TieDesign, mark: &str) -> Result<(), Fault> {
    let label = Label::new(mark, MARK_HEIGHT)?;
    if let Some(r) = d.rails.first() {
        solid.cuts.extend(on_block(d, r, &label)?);
        return Ok(());
    }
    let gap = d.bores.iter().map(|b| b[0].hypot(b[1]) - d.bore / 2.0).fold(f64::MAX, f64::min);
    if d.bores.len() > 1 && 2.0 * gap >= label.width() + MARK_ROOM {
        solid.cuts.extend(label_above(mark, [0.0, 0.0], d.height - 0.5)?);
        return Ok(());
    }
    tab(solid, d, &label)
}

/// Across the block over a rail's socket, or along it where it is longer than wide; nothing where neither has room.
fn on_block(d: &TieDesign, r: &RailSocket, label: &Label) -> Result<Vec<Feature>, Fault> {
    let flat = r.direction[0].hypot(r.direction[1]);
    let face = Face { half: [r.depth * flat / 2.0, r.block / 2.0], corner: 0.0, busy: Vec::new() };
    let along = [label.width(), label.height()];
    let turns = [(along, 0.0), ([along[1], along[0]], std::f64::consts::FRAC_PI_2)];
    let Some((at, turn)) = turns.iter().find_map(|(size, turn)| Some((face.place(*size, [0.0; 2])?, turn))) else {
        return Ok(Vec::new());
    };
    let heading = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), r.direction[1].atan2(r.direction[0]));
    let middle = heading * Vector3::new((r.floor + r.depth / 2.0) * flat + at[0], at[1], 0.0);
    let text = heading * UnitQuaternion::from_axis_angle(&Vector3::z_axis(), *turn);
    let corner = middle - text * Vector3::new(label.width() / 2.0, label.height() / 2.0, 0.0);
    let at = Isometry3::from_parts([corner.x, corner.y, d.height - 0.25].into(), text);
    label.cuts(&at, LABEL_DEPTH)
}

/// A flat tab beside the first collar, away from its bolt and the other bores.
fn tab(solid: &mut Solid, d: &TieDesign, label: &Label) -> Result<(), Fault> {
    let b = d.bores[0];
    let along = d.bolts.first().map_or(0.0, |bolt| bolt.direction[1].atan2(bolt.direction[0]));
    let outward = [1.0, -1.0].map(|s| along + s * std::f64::consts::FRAC_PI_2).into_iter().max_by(|a, c| {
        let far = |angle: &f64| b[0] * angle.cos() + b[1] * angle.sin();
        far(a).total_cmp(&far(c))
    });
    let angle = outward.unwrap_or_default();
    let face = d.outer / 2.0 + TAB[0];
    let width = label.width() + 2.0 * TAB[1];
    let half = MARK_HEIGHT / 2.0 + TAB[1];
    let middle = d.height / 2.0;
    let outline =
        Outline::polygon(vec![[0.0, -width / 2.0], [face, -width / 2.0], [face, width / 2.0], [0.0, width / 2.0]]);
    let turn = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), angle);
    let at = Isometry3::from_parts([b[0], b[1], 0.0].into(), turn);
    // From the bed up, so that nothing hangs in the air.
    solid.adds.push(Feature::prism(&outline, 0.0, middle + half, &at));
    // The text runs along the tab, seen from outside: its x is the tangent, its normal points outward.
    let start = at * nalgebra::Point3::new(face, -label.width() / 2.0, middle - label.height() / 2.0);
    let plane = upright_plane([start.x, start.y, start.z], angle + std::f64::consts::FRAC_PI_2);
    solid.cuts.extend(label.cuts(&plane, LABEL_DEPTH)?);
    Ok(())
}

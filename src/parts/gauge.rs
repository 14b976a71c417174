//! The fit gauge: low rings of the bracket's own socket at stepped clearances on a strip that names them, with a screw's
//! head and a nut to try.

use nalgebra::Isometry3;

use super::bracket::{label_above, screw_hole};
use super::socket::{OVERSHOOT, cut_nut};
use super::{Bore, BoreHold, CHORD, Interface, Part, PartKind};
use crate::geometry::{Axis, Fault, Feature, Outline, Round, Solid};
use crate::model::{GaugeDesign, HoleForm, Model, NutSample, ScrewHole};

/// Thickness of the strip that joins the pieces, mm (judgement: seven layers, and half of it is left under the labels).
const STRIP: f64 = 1.4;
/// How far a mouth's cutter begins within the bore, mm.
const INSIDE: f64 = 0.1;
/// How far the strip reaches under what stands on it, mm (judgement: three lines of a 0.4 mm nozzle).
const UNDER: f64 = 1.2;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let piece = |kind: &crate::model::Kind<GaugeDesign>| {
        let d = &kind.design;
        let labels = d.clearances.iter().enumerate().map(|(i, c)| (label(*c), Some(i)));
        Ok(Part {
            interfaces: (0..d.bores.len()).map(|i| Interface::Bore(bore(d, i))).collect(),
            labels: std::iter::once((kind.mark.clone(), None)).chain(labels).collect(),
            ..Part::new(PartKind::Gauge, kind, solid(d, &kind.mark)?)
        })
    };
    model.gauges.iter().map(piece).collect()
}

/// The label of a slice, from the clearance that made its bore.
fn label(clearance: f64) -> String {
    format!("{clearance:.2}")
}

/// Middle of a cell along the strip, which begins at x = 0: slices, then the mark with the screw's head, then the nut.
fn middle(d: &GaugeDesign, cell: usize) -> f64 {
    let widths = d.cells();
    widths[..cell].iter().sum::<f64>() + widths[cell] / 2.0
}

/// Axis of a ring; nowhere does it stand over the labels, at y below 0.
fn axis(d: &GaugeDesign, i: usize) -> Axis {
    let lean = d.axis[1] / d.axis[2];
    let y = d.outer / 2.0 * lean.hypot(1.0) + back(d);
    Axis::new([middle(d, i), y, 0.0], d.axis)
}

/// How far a ring that leans to the front stands back, mm.
fn back(d: &GaugeDesign) -> f64 {
    d.slice * (-d.axis[1] / d.axis[2]).max(0.0)
}

fn bore(d: &GaugeDesign, i: usize) -> Bore {
    Bore {
        axis: axis(d, i),
        between: [0.0, d.slice],
        held: [0.0, d.slice - d.chamfer],
        stretch: [0.2, d.slice - d.chamfer - 0.2],
        diameter: d.bores[i],
        hold: BoreHold::default(),
    }
}

fn solid(d: &GaugeDesign, mark: &str) -> Result<Solid, Fault> {
    let (length, front) = (d.cells().iter().sum::<f64>(), GaugeDesign::LABELS);
    let under = back(d) + UNDER;
    let outline = Outline::rounded_rectangle(length, front + under, 2.0, CHORD);
    let at = Isometry3::translation(length / 2.0, (under - front) / 2.0, 0.0);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, STRIP, &at)]);
    let name = |solid: &mut Solid, text: &str, cell: usize| {
        solid.cuts.extend(label_above(text, [middle(d, cell), -front / 2.0], STRIP)?);
        Ok::<_, Fault>(())
    };
    for (i, bore) in d.bores.iter().enumerate() {
        slice(&mut solid, d, i, *bore);
        name(&mut solid, &label(d.clearances[i]), i)?;
    }
    let last = d.bores.len();
    name(&mut solid, mark, last)?;
    if let Some(hole) = &d.hole {
        screw_sample(&mut solid, hole, middle(d, last));
    }
    if let Some(nut) = &d.nut {
        nut_sample(&mut solid, nut, middle(d, last + 1));
    }
    Ok(solid)
}

/// A ring with a level top, however its bore leans.
fn slice(solid: &mut Solid, d: &GaugeDesign, i: usize, bore: f64) {
    let (axis, r, top) = (axis(d, i), bore / 2.0, d.slice);
    let outer = d.outer / 2.0;
    solid.adds.push(Feature::leaning(&axis, [(0.0, outer), (top, outer)], Round::Inside, CHORD));
    let beyond = (OVERSHOOT + r + top) / d.axis[2];
    solid.cuts.push(Feature::revolved(&axis, &[(-beyond, r), (top + beyond, r)], Round::Outside, CHORD));
    if d.chamfer > 0.0 {
        // From within the bore, so that no edge of the mouth falls on its wall.
        let mouth = [(top - d.chamfer - INSIDE, r - INSIDE), (top + OVERSHOOT, r + d.chamfer + OVERSHOOT)];
        solid.cuts.push(Feature::leaning(&axis, mouth, Round::Outside, CHORD));
    }
}

/// A low block with the bracket's screw hole, so much of it as the head needs.
fn screw_sample(solid: &mut Solid, hole: &HoleForm, x: f64) {
    let (side, height) = (GaugeDesign::screw_side(hole), GaugeDesign::screw_height(hole));
    let at = [x, side / 2.0];
    let outline = Outline::rounded_rectangle(side, side, 2.0, CHORD).moved(at, 0.0);
    solid.adds.push(Feature::prism(&outline, 0.0, height, &Isometry3::identity()));
    let form = HoleForm { relief: 0.0, ..*hole };
    solid.cuts.push(screw_hole(&ScrewHole { at, slot: 0.0, along_x: true }, &form, height));
}

/// A block with a nut's trap and its bolt's hole, lying as in a boss.
fn nut_sample(solid: &mut Solid, nut: &NutSample, x: f64) {
    let [length, width, height] = nut.block;
    let outline = Outline::rounded_rectangle(width, length, 0.0, CHORD).moved([x, length / 2.0], 0.0);
    solid.adds.push(Feature::prism(&outline, 0.0, height, &Isometry3::identity()));
    // The nut goes in from the far side.
    let outer = 2.0 * (nut.bolt.nut_seat + nut.depth);
    cut_nut(solid, [x, length - outer / 2.0, height / 2.0], &nut.bolt, outer);
}

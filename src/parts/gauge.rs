//! The fit gauge: slices of the bracket's own socket at stepped clearances, with a screw hole and a nut trap to try.

use nalgebra::Isometry3;

use super::bracket::{label_above, screw_hole};
use super::socket::{EMBED, OVERSHOOT, cut_bolt};
use super::{Bore, CHORD, MARK_HEIGHT, Part};
use crate::geometry::{Axis, Boss, Fault, Feature, Outline, Round, Solid};
use crate::model::{GaugeDesign, Model, ScrewHole};

/// Base plate, mm (judgement: ten layers hold the slices together).
const BASE: f64 = 2.0;
/// Gap between slices, mm (judgement).
const GAP: f64 = 3.0;
/// Strip in front of each slice for its label, mm.
const STRIP: f64 = MARK_HEIGHT * 2.0;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let (d, kind) = (&model.gauge.design, &model.gauge);
    let layout = Layout::new(d, model.params.printing.bed);
    let labels = d.clearances.iter().enumerate().map(|(i, c)| (label(*c), Some(i)));
    Ok(vec![Part {
        name: kind.name.clone(),
        mark: kind.mark.clone(),
        count: 1,
        solid: solid(d, &layout, &kind.mark)?,
        exact: None,
        bores: (0..d.bores.len()).map(|i| bore(d, &layout, i)).collect(),
        labels: std::iter::once((kind.mark.clone(), None)).chain(labels).collect(),
        places: Vec::new(),
        note: "print this first; a tool, not a part of the table",
    }])
}

/// The label of a slice, from the clearance that made its bore.
fn label(clearance: f64) -> String {
    format!("{clearance:.2}")
}

/// Cells on the base: slices, then the screw sample, then the nut sample.
struct Layout {
    cell: [f64; 2],
    columns: usize,
    rows: usize,
}

impl Layout {
    fn new(d: &GaugeDesign, bed: [f64; 3]) -> Self {
        let lean = d.slice * (d.axis[0].hypot(d.axis[1]) / d.axis[2]);
        let side = (d.outer / d.axis[2] + 2.0 * lean).max(d.hole.head + 8.0) + GAP;
        let cells = d.bores.len() + 1 + usize::from(d.bolt.is_some());
        let columns = (((bed[0].min(bed[1]) - 2.0) / side).floor() as usize).clamp(1, cells);
        Self { cell: [side, side + STRIP], columns, rows: cells.div_ceil(columns) }
    }

    /// Middle of a cell's slice.
    fn at(&self, i: usize) -> [f64; 2] {
        let (column, row) = (i % self.columns, i / self.columns);
        let x = (column as f64 - (self.columns as f64 - 1.0) / 2.0) * self.cell[0];
        let y = ((self.rows as f64 - 1.0) / 2.0 - row as f64) * self.cell[1];
        [x, y + STRIP / 2.0]
    }

    /// Middle of a cell's label strip.
    fn strip(&self, i: usize) -> [f64; 2] {
        let [x, y] = self.at(i);
        [x, y - self.cell[1] / 2.0]
    }

    fn size(&self) -> [f64; 2] {
        [self.columns as f64 * self.cell[0], self.rows as f64 * self.cell[1]]
    }
}

fn axis(d: &GaugeDesign, at: [f64; 2]) -> Axis {
    Axis::new([at[0], at[1], BASE], d.axis)
}

fn bore(d: &GaugeDesign, layout: &Layout, i: usize) -> Bore {
    let axis = axis(d, layout.at(i));
    Bore { axis, stretch: [1.0, d.slice - d.chamfer - 0.5], diameter: d.bores[i] }
}

fn solid(d: &GaugeDesign, layout: &Layout, mark: &str) -> Result<Solid, Fault> {
    let [x, y] = layout.size();
    let outline = Outline::rounded_rectangle(x, y, 3.0, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, BASE, &Isometry3::identity())]);
    for (i, bore) in d.bores.iter().enumerate() {
        slice(&mut solid, d, layout.at(i), *bore);
        solid.cuts.extend(label_above(&label(d.clearances[i]), layout.strip(i), BASE)?);
    }
    screw_sample(&mut solid, d, layout.at(d.bores.len()));
    solid.cuts.extend(label_above(mark, layout.strip(d.bores.len()), BASE)?);
    if let Some(bolt) = &d.bolt {
        let at = layout.at(d.bores.len() + 1);
        slice(&mut solid, d, at, d.bores[d.bores.len() / 2]);
        let middle = axis(d, at).at(bolt.at);
        cut_bolt(&mut solid, [middle.x, middle.y, middle.z], bolt, d.outer);
    }
    Ok(solid)
}

fn slice(solid: &mut Solid, d: &GaugeDesign, at: [f64; 2], bore: f64) {
    let (axis, r) = (axis(d, at), bore / 2.0);
    let boss = Boss { axis, radius: d.outer / 2.0, root: BASE, embed: EMBED, top: d.slice, flare: 0.0 };
    solid.adds.push(Feature::boss(&boss, CHORD));
    let below = -(BASE + OVERSHOOT + r) / d.axis[2];
    let mouth = [
        (below, r),
        (d.slice - d.chamfer, r),
        (d.slice, r + d.chamfer),
        (d.slice + OVERSHOOT, r + d.chamfer + OVERSHOOT),
    ];
    solid.cuts.push(Feature::revolved(&axis, &mouth, Round::Outside, CHORD));
}

/// A piece as thick as the bracket's plate with its screw hole.
fn screw_sample(solid: &mut Solid, d: &GaugeDesign, at: [f64; 2]) {
    let side = d.hole.head + 8.0;
    let outline = Outline::rounded_rectangle(side, side, 2.0, CHORD).moved(at, 0.0);
    solid.adds.push(Feature::prism(&outline, 0.5, d.plate, &Isometry3::identity()));
    solid.cuts.push(screw_hole(&ScrewHole { at, slot: 0.0, along_x: true }, &d.hole, d.plate));
}

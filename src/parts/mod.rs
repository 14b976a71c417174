//! Model to printed parts: each file here draws one sort of part in its printing pose.

pub mod analysis;
mod bracket;
mod foot;
mod gauge;
mod guide;
mod place;
mod socket;
mod tie;

use nalgebra::Isometry3;

use crate::geometry::{Axis, Fault, Solid};
use crate::model::{Kind, Model, Placed};

/// Chord error of curves, mm: a quarter of a 0.2 mm layer.
pub const CHORD: f64 = 0.05;
/// Height of engraved marks, mm: above the lowest legible capitals.
const MARK_HEIGHT: f64 = 4.0;

/// A printed part before it is meshed.
#[derive(Clone, Debug)]
pub struct Part {
    /// Name, such as `bracket`.
    pub name: String,
    /// Engraved mark.
    pub mark: String,
    /// How many to print.
    pub count: usize,
    /// Features in the printing pose, base on z = 0.
    pub solid: Solid,
    /// Bores whose size the tube depends on.
    pub bores: Vec<Bore>,
    /// Engraved texts, for the test that reads them back: text and the bore it names.
    pub labels: Vec<(String, Option<usize>)>,
    /// Where it stands in the table: leg number and printing frame to world; empty for tools.
    pub places: Vec<(usize, Isometry3<f64>)>,
    /// How it is printed and used, for the printing sheet.
    pub note: &'static str,
}

/// A bore that takes a tube.
#[derive(Clone, Copy, Debug)]
pub struct Bore {
    /// Axis, printing frame.
    pub axis: Axis,
    /// A stretch of it without ribs, chamfers or cross holes, mm along the axis.
    pub stretch: [f64; 2],
    /// Diameter it must have, mm.
    pub diameter: f64,
}

type Draw = fn(&Model) -> Result<Vec<Part>, Fault>;

/// Every sort of part, in the order of the file names.
pub const PARTS: &[Draw] = &[bracket::parts, tie::parts, foot::parts, gauge::parts, guide::parts];

/// All parts of the kit, each distinct one once.
///
/// # Errors
/// A label that cannot be engraved.
pub fn all(model: &Model) -> Result<Vec<Part>, Fault> {
    let lists: Vec<Vec<Part>> = PARTS.iter().map(|draw| draw(model)).collect::<Result<_, _>>()?;
    Ok(lists.into_iter().flatten().collect())
}

/// Only the fit gauge.
///
/// # Errors
/// A label that cannot be engraved.
pub fn gauge(model: &Model) -> Result<Vec<Part>, Fault> {
    gauge::parts(model)
}

/// Places of a kind of part in the table.
fn places<'a, D>(
    model: &'a Model,
    kind: usize,
    part: impl Fn(&'a crate::model::Leg) -> Vec<&'a Placed>,
    _: &Kind<D>,
) -> Vec<(usize, Isometry3<f64>)> {
    let legs = model.legs.iter();
    legs.flat_map(|leg| part(leg).into_iter().filter(|p| p.kind == kind).map(|p| (leg.number, p.pose))).collect()
}

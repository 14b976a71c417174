//! Model to printed parts: each file here draws one sort of part in its printing pose.

mod bracket;
mod coupon;
mod foot;
mod gauge;
mod guide;
mod interface;
mod place;
mod shim;
mod socket;
mod tie;

use nalgebra::Isometry3;
use serde::Serialize;
use serde_json::Value;

use crate::geometry::{Fault, Solid};
use crate::model::{Kind, Model, Placed};

pub use interface::{Bore, BoreHold, Interface, ScrewSeat};

/// Chord error of curves, mm: a quarter of a 0.2 mm layer.
pub const CHORD: f64 = 0.05;
/// Height of engraved marks, mm: above the lowest legible capitals.
const MARK_HEIGHT: f64 = 4.0;

/// What a printed part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartKind {
    /// Plate under the top with a socket for each tube.
    Bracket,
    /// Collars that hold a leg's tubes together, and sockets for rails.
    Tie,
    /// Sockets on a plate that stands on the floor.
    Foot,
    /// Rings to try the tube in before the rest is printed.
    Gauge,
    /// Bushes that lead the drill.
    Guide,
    /// A plate to lay under a foot.
    Shim,
    /// Bars to tear across the layers.
    Coupon,
}

/// A printed part before it is meshed.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is.
    pub kind: PartKind,
    /// Name, such as `bracket`.
    pub name: String,
    /// Engraved mark.
    pub mark: String,
    /// How many to print.
    pub count: usize,
    /// Numbers of the legs that have it, ascending, each once.
    pub legs: Vec<usize>,
    /// Dimensions it was drawn from, for the record.
    pub design: Value,
    /// Features in the printing pose, base on z = 0.
    pub solid: Solid,
    /// Where it meets what is not printed.
    pub interfaces: Vec<Interface>,
    /// Engraved texts, for the test that reads them back: text and the bore it names.
    pub labels: Vec<(String, Option<usize>)>,
    /// Where it stands in the table: leg number and printing frame to world; empty for tools.
    pub places: Vec<(usize, Isometry3<f64>)>,
}

impl Part {
    /// A part that carries its mark, without interfaces and places yet.
    fn new<D: Serialize>(kind: PartKind, own: &Kind<D>, solid: Solid) -> Self {
        Self {
            kind,
            name: own.name.clone(),
            mark: own.mark.clone(),
            count: own.count,
            legs: own.legs.clone(),
            design: serde_json::to_value(&own.design).unwrap_or_default(),
            solid,
            interfaces: Vec::new(),
            labels: vec![(own.mark.clone(), None)],
            places: Vec::new(),
        }
    }

    /// Bores whose size a tube depends on: for legs first, then for rails.
    pub fn bores(&self) -> impl Iterator<Item = &Bore> {
        self.interfaces.iter().filter_map(|interface| match interface {
            Interface::Bore(bore) | Interface::RailSocket(bore) => Some(bore),
            _ => None,
        })
    }

    /// Holes and seats of the screws in use.
    pub fn screws(&self) -> impl Iterator<Item = &ScrewSeat> {
        self.interfaces.iter().filter_map(|interface| match interface {
            Interface::ScrewSeat(seat) if !seat.spare => Some(seat),
            _ => None,
        })
    }

    /// Size along x and y, mm, of the face on the wood; none where it has none.
    #[must_use]
    pub fn wood_face(&self) -> Option<[f64; 2]> {
        self.interfaces.iter().find_map(|interface| match interface {
            Interface::WoodFace(size) => Some(*size),
            _ => None,
        })
    }
}

type Draw = fn(&Model) -> Result<Vec<Part>, Fault>;

/// Every sort of part, in the order of the file names.
pub const PARTS: &[Draw] =
    &[bracket::parts, tie::parts, foot::parts, gauge::parts, guide::parts, shim::parts, coupon::parts];

/// All parts of the kit, each distinct one once.
///
/// # Errors
/// A label that cannot be engraved.
pub fn all(model: &Model) -> Result<Vec<Part>, Fault> {
    let lists: Vec<Vec<Part>> = PARTS.iter().map(|draw| draw(model)).collect::<Result<_, _>>()?;
    Ok(lists.into_iter().flatten().collect())
}

/// A bracket of a table, by its index among the table's brackets.
///
/// # Errors
/// A label that cannot be engraved.
pub fn bracket(model: &Model, kind: usize) -> Result<Part, Fault> {
    bracket::part(model, kind)
}

/// The same without its engraving, which bears nothing: for models that are made of many brackets.
#[must_use]
pub fn blank_bracket(model: &Model, kind: usize) -> Part {
    bracket::blank(model, kind)
}

/// Only what is printed first: the fit gauge and the coupons.
///
/// # Errors
/// A label that cannot be engraved.
pub fn gauge(model: &Model) -> Result<Vec<Part>, Fault> {
    Ok([gauge::parts(model)?, coupon::parts(model)?].concat())
}

/// Places of a kind of part in the table.
fn places<'a>(
    model: &'a Model,
    kind: usize,
    part: impl Fn(&'a crate::model::Leg) -> Vec<&'a Placed>,
) -> Vec<(usize, Isometry3<f64>)> {
    let legs = model.legs.iter();
    legs.flat_map(|leg| part(leg).into_iter().filter(|p| p.kind == kind).map(|p| (leg.number, p.pose))).collect()
}

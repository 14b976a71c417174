//! What a feature was made from: its dimensions, for whoever needs more of it than its surface.

use nalgebra::Isometry3;

use super::axis::Axis;
use super::boss::{Boss, Gusset, Web};
use super::curve::Curve;

/// Dimensions of a feature. Lengths mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Primitive {
    /// A rounded rectangle about the z axis that stands on z = 0.
    Plate {
        /// Along x and y.
        size: [f64; 2],
        /// Radius of the corners.
        corner: f64,
        /// Thickness.
        thickness: f64,
    },
    /// An upright cylinder.
    Cylinder {
        /// Its axis, zero at z = 0.
        axis: Axis,
        /// Radius.
        radius: f64,
        /// Lower and upper end.
        z: [f64; 2],
    },
    /// A boss.
    Boss(Boss),
    /// A gusset.
    Gusset(Gusset),
    /// A web from boss to boss.
    Web(Web),
    /// A profile turned about an axis, or drawn out to a slot.
    Turned {
        /// The axis.
        axis: Axis,
        /// (distance along the axis, radius), distances not falling.
        profile: Vec<(f64, f64)>,
        /// The slot.
        slot: Option<Slot>,
    },
    /// A part of an engraving.
    Engraving,
    /// Something of which only the surface counts.
    Other,
}

/// How a turned profile is drawn out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// Direction.
    pub slide: [f64; 3],
    /// Distance between the two centres, mm.
    pub length: f64,
}

impl Primitive {
    /// Of a prism.
    pub(super) fn prism(curve: &Curve, z: [f64; 2], at: &Isometry3<f64>) -> Self {
        match *curve {
            Curve::Rectangle { half, radius } if *at == Isometry3::identity() && z[0] == 0.0 => {
                Self::Plate { size: half.map(|h| 2.0 * h), corner: radius, thickness: z[1] }
            }
            Curve::Stadium { from, to, radius } if from == [0.0; 2] && to == from && at.rotation.w == 1.0 => {
                let [x, y, up] = at.translation.vector.into();
                Self::Cylinder { axis: Axis::upright(x, y), radius, z: z.map(|z| z + up) }
            }
            _ => Self::Other,
        }
    }
}

//! What the band between soft and stiff joints comes from.

use super::analysis::sway;
use super::estimate::{Estimate, joints};
use super::{Detail, End, Ends, Origin, PartModels};
use crate::model::Model;
use crate::params::JointStiffness;

/// What one origin does to the table when it alone goes from its soft end to its stiff one, all others soft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// What changes.
    pub origin: Origin,
    /// How much less the top sways along x and y under the hand's push, mm.
    pub sway: [f64; 2],
    /// How much higher the lowest frequency is, Hz.
    pub hertz: f64,
}

/// The band of sway and frequency, and each origin's share. The shares need not add up: what is soft in one joint hides what
/// is soft in another.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// From stiff to soft, along x and y, mm.
    pub sway: [f64; 2],
    /// From soft to stiff, Hz.
    pub hertz: f64,
    /// One for each origin that does anything, in the order of [`Origin::ALL`].
    pub shares: Vec<Share>,
}

/// Shares below this of the band are left out (judgement).
const NOTHING: f64 = 0.005;

/// What the band comes from, on a coarser top; none where the file gives the stiffness of the joints.
///
/// # Errors
/// In words: as [`super::solve`].
pub fn band(model: &Model, plates: &PartModels) -> Result<Option<Band>, String> {
    if model.params.joints != JointStiffness::Estimated {
        return Ok(None);
    }
    let of = |ends: Ends| sway(model, &joints(model, plates, Estimate::Soft, ends), Detail::Sketch);
    let ((soft, low), (stiff, high)) = (of(Ends::SOFT)?, of(Ends::STIFF)?);
    let whole = [soft[0] - stiff[0], soft[1] - stiff[1]];
    let mut shares = Vec::new();
    for origin in Origin::ALL {
        let (moved, hertz) = of(Ends::SOFT.with(origin, End::Stiff))?;
        let share = Share { origin, sway: [soft[0] - moved[0], soft[1] - moved[1]], hertz: hertz - low };
        let counts = (0..2).any(|k| share.sway[k] > NOTHING * whole[k]) || share.hertz > NOTHING * (high - low);
        shares.extend(counts.then_some(share));
    }
    Ok(Some(Band { sway: whole, hertz: high - low, shares }))
}

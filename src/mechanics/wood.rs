//! What becomes of the wood of the top under what stays on it.

use crate::model::Model;

/// Air whose equilibrium moisture of wood is above this counts as damp, %. Source: EN 1995-1-1 2.3.1.3, service class 1,
/// from memory.
const DAMP: f64 = 12.0;
/// Final over first deflection of a board that its table does not rate for damp air (judgement: wet class of solid wood).
const UNRATED: f64 = 3.0;

/// Final over first deflection of the top under loads that stay, in the air it stands in.
#[must_use]
pub fn wood_creep(model: &Model) -> f64 {
    let damp = crate::model::moisture_range(&model.params)[1] > DAMP;
    model.params.top.wood.creep(damp).unwrap_or(UNRATED)
}

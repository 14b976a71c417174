//! The top: [`Top`] from its keys.

use super::Top;
use super::accept;
use super::reader::{Group, Reader};
use super::rows::WOODS;
use super::value::Value;
use crate::units::{Kind, System, show};

/// Reads the top; `legs` is how many thicknesses there can be.
pub(super) fn top(r: &mut Reader, root: &Group<'_>, legs: usize) -> Top {
    let g = r.group(root, &accept::TOP);
    let thickness = r.quantity(&g, &accept::TOP_THICKNESS);
    Top {
        length: r.quantity(&g, &accept::TOP_LENGTH),
        width: r.quantity(&g, &accept::TOP_WIDTH),
        thickness,
        wood: WOODS.read(r, &g, &accept::TOP_WOOD, accept::TOP_WOOD.default_text()),
        grain: r.choice(&g, &accept::TOP_GRAIN, &accept::RUNS),
        sawn: r.choice(&g, &accept::TOP_SAWN, &accept::SAWN),
        thickness_at_legs: at_legs(r, &g, legs, thickness),
        mass: r.quantity_if(&g, &accept::TOP_MASS),
    }
}

fn at_legs(r: &mut Reader, g: &Group<'_>, legs: usize, thickness: f64) -> Vec<f64> {
    let Some(found) = r.value(g, &accept::TOP_AT_LEGS) else {
        r.assume(g, &accept::TOP_AT_LEGS, show(Kind::Length, thickness, System::Metric));
        return Vec::new();
    };
    let Value::Quantities(_, list) = found.value else { return Vec::new() };
    if r.is_sound(&found.path) && list.len() != legs {
        let message = format!("has {} thicknesses for {legs} legs", list.len());
        r.wrong(&found.path, message).accepted = Some("one thickness for each leg".into());
    }
    list.clone()
}

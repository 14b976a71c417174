//! Surroundings, limits, saw and drill, and the user's own joint stiffness.

use super::accept::{self, Accept};
use super::reader::{Group, Reader, chosen};
use super::spelling::quoted;
use super::text::Written;
use super::value::Value;
use super::{Cutting, Drilling, JointStiffness, Limits, Surroundings};

/// Reads where the table stands.
pub(super) fn surroundings(r: &mut Reader, root: &Group<'_>) -> Surroundings {
    let g = r.group(root, &accept::PLACE);
    Surroundings {
        temperature: low_high(r, &g, &accept::TEMPERATURE, [10.0, 30.0]),
        humidity: low_high(r, &g, &accept::HUMIDITY, [0.35, 0.70]),
        children: r.flag(&g, &accept::CHILDREN, false),
        sat_on: r.flag(&g, &accept::SAT_ON, false),
    }
}

/// A pair, the lower first; `default` says the same as the text of the key.
fn low_high(r: &mut Reader, g: &Group<'_>, accept: &Accept, default: [f64; 2]) -> [f64; 2] {
    let Some(found) = r.value(g, accept) else {
        r.assume(g, accept, accept.default_text());
        return default;
    };
    let Value::Quantities(_, list) = found.value else { return default };
    let pair: [f64; 2] = list.clone().try_into().unwrap_or(default);
    if r.is_sound(&found.path) && pair[0] > pair[1] {
        r.wrong(&found.path, "has the higher value first").hint = Some("write the lower value first".into());
    }
    pair
}

/// Reads the limits that are judgement.
pub(super) fn limits(r: &mut Reader, root: &Group<'_>) -> Limits {
    let g = r.group(root, &accept::LIMITS);
    Limits {
        sway: r.quantity(&g, &accept::LIMIT_SWAY),
        frequency: r.quantity(&g, &accept::LIMIT_FREQUENCY),
        sag: sag(r, &g),
        play: r.quantity(&g, &accept::LIMIT_PLAY),
        slip: r.quantity(&g, &accept::LIMIT_SLIP),
    }
}

fn sag(r: &mut Reader, g: &Group<'_>) -> f64 {
    let Some(found) = r.value(g, &accept::LIMIT_SAG) else {
        r.assume(g, &accept::LIMIT_SAG, accept::LIMIT_SAG.default_text());
        return divisor(accept::LIMIT_SAG.default_text()).unwrap_or(f64::NAN);
    };
    if let Value::Span(divisor) = found.value { *divisor } else { f64::NAN }
}

/// Types `span / 300`: least and most divisor.
pub(super) fn span_in(r: &mut Reader, found: &Written<'_>, text: &str, least: f64, most: f64) -> Value {
    match divisor(text) {
        Some(divisor) if (least..=most).contains(&divisor) => Value::Span(divisor),
        _ => {
            let accepted = accept::LIMIT_SAG.what.describe(r.units());
            r.wrong(&found.path, format!("{} is not a sag that is accepted", quoted(text))).accepted = Some(accepted);
            Value::Unread
        }
    }
}

/// 300 for `span / 300`, `span/300`, `L/300`.
fn divisor(text: &str) -> Option<f64> {
    let (span, divisor) = text.split_once('/')?;
    let whole = !divisor.trim().is_empty() && divisor.trim().bytes().all(|b| b.is_ascii_digit());
    let spans = ["span", "l"].contains(&span.trim().to_lowercase().as_str());
    (whole && spans).then(|| divisor.trim().parse().ok()).flatten()
}

/// Reads stock and saw.
pub(super) fn cutting(r: &mut Reader, root: &Group<'_>) -> Cutting {
    let g = r.group(root, &accept::CUTTING);
    let mut stock = r.quantities_if(&g, &accept::STOCK).unwrap_or_default();
    if !g.has(&accept::STOCK) {
        stock.push(r.quantity(&g, &accept::STOCK));
    }
    stock.sort_by(f64::total_cmp);
    stock.dedup();
    Cutting { stock, kerf: r.quantity(&g, &accept::KERF), end_play: r.quantity(&g, &accept::END_PLAY) }
}

/// Reads drill and chuck.
pub(super) fn drilling(r: &mut Reader, root: &Group<'_>) -> Drilling {
    let g = r.group(root, &accept::DRILLING);
    Drilling { stick_out: r.quantity(&g, &accept::STICK_OUT), chuck: r.quantity(&g, &accept::CHUCK) }
}

/// Reads the user's own figure for the joint.
pub(super) fn joints(r: &mut Reader, root: &Group<'_>) -> JointStiffness {
    let g = r.group(root, &accept::JOINTS_GROUP);
    let accept = accept::JOINTS_STIFFNESS;
    let Some(found) = r.value(&g, &accept) else {
        r.assume(&g, &accept, accept.default_text());
        return JointStiffness::Estimated;
    };
    match found.value {
        Value::Quantity(_, stiffness) => JointStiffness::Given(*stiffness),
        _ => chosen(&accept::JOINTS, found.word().unwrap_or_default()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sag_is_read_as_a_divisor() {
        assert_eq!(divisor("span / 300"), Some(300.0));
        assert_eq!(divisor("L/250"), Some(250.0));
        assert_eq!(divisor("span / -3"), None);
        assert_eq!(divisor("300"), None);
    }
}

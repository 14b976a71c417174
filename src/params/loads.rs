//! Loads: [`Load`] from its keys.

use super::accept::{self, Range};
use super::reader::{Found, Group, Reader, chosen};
use super::spelling::shortened;
use super::text::Node;
use super::{Load, Spread};
use crate::units::{GRAVITY, Kind};

/// Size of the top along x and y, mm; `None` where it is itself a problem.
pub(super) type Size = Option<[f64; 2]>;

/// Stands in for a top that could not be read, mm: as large as any, so that no second problem follows.
const UNREAD: [f64; 2] = [1e4, 1e4];

/// Reads all loads.
pub(super) fn loads(r: &mut Reader, root: &Group<'_>, top: Size) -> Vec<Load> {
    let groups = r.groups(root, &accept::LOADS, "loads[]");
    groups.iter().enumerate().map(|(index, g)| load(r, g, index, top.unwrap_or(UNREAD))).collect()
}

fn load(r: &mut Reader, g: &Group<'_>, index: usize, top: [f64; 2]) -> Load {
    let name = r.text_if(g, &accept::LOAD_NAME).unwrap_or_else(|| {
        let name = format!("load {}", index + 1);
        r.assume(g, &accept::LOAD_NAME, name.clone());
        name
    });
    let (force, mass) = weight(r, g);
    let on = spread(r, g, top);
    let lasts = r.choice(g, &accept::LOAD_LASTS, &accept::LASTS);
    Load { name, force, mass, on, direction: direction(r, g), lasts, shaking: shaking(r, g) }
}

/// Force and mass; exactly one of the two keys is given.
fn weight(r: &mut Reader, g: &Group<'_>) -> (f64, f64) {
    let mass = r.quantity_if(g, &accept::LOAD_MASS);
    let force = r.quantity_if(g, &accept::LOAD_FORCE);
    match (mass, force) {
        (Some(mass), None) => (mass * GRAVITY, mass),
        (None, Some(force)) => (force, 0.0),
        (Some(_), Some(_)) => {
            r.wrong_group(g, "has a mass and a force").hint = Some("keep one of the two, or write two loads".into());
            (0.0, 0.0)
        }
        (None, None) => {
            let hint = "add \"mass\": \"25 kg\" for what stands on it, or \"force\": \"400 N\" for what pushes";
            r.wrong_group(g, "has neither a mass nor a force").hint = Some(hint.into());
            (0.0, 0.0)
        }
    }
}

fn spread(r: &mut Reader, g: &Group<'_>, top: [f64; 2]) -> Spread {
    match (r.value(g, &accept::LOAD_OVER), r.value(g, &accept::LOAD_AT)) {
        (None, Some(at)) => Spread::Point(point(r, &at, top)),
        (Some(over), None) => over_in(r, &over, top),
        (None, None) => {
            r.assume(g, &accept::LOAD_OVER, accept::LOAD_OVER.default_text());
            Spread::Whole
        }
        (Some(_), Some(_)) => {
            r.wrong_group(g, "has \"over\" and \"at\"").hint = Some("keep one of the two".into());
            Spread::Whole
        }
    }
}

fn over_in(r: &mut Reader, found: &Found<'_>, top: [f64; 2]) -> Spread {
    if let Node::List(items) = &found.value.node {
        let [one, other] = &items[..] else {
            let message = format!("has {} entries", items.len());
            r.wrong(found, message).accepted = Some(accept::LOAD_OVER.what.told(crate::units::System::Metric));
            return Spread::Whole;
        };
        let (one, other) = (r.item(found, 0, one), r.item(found, 1, other));
        let corners = [point(r, &one, top), point(r, &other, top)];
        return rectangle(r, found, corners);
    }
    chosen(&accept::OVERS, r.word_in(found, &accept::LOAD_OVER.what))
}

/// Corners put in order; a rectangle without area is a problem.
fn rectangle(r: &mut Reader, found: &Found<'_>, [a, b]: [[f64; 2]; 2]) -> Spread {
    let low = [a[0].min(b[0]), a[1].min(b[1])];
    let high = [a[0].max(b[0]), a[1].max(b[1])];
    if low[0] == high[0] || low[1] == high[1] {
        r.wrong(found, "is a rectangle without area").hint =
            Some("give two opposite corners, or \"at\" for a point".into());
    }
    Spread::Rectangle(low, high)
}

/// Two shares of the top or lengths from its front left corner, mm.
fn point(r: &mut Reader, found: &Found<'_>, top: [f64; 2]) -> [f64; 2] {
    let Node::List(items) = &found.value.node else {
        r.mistyped(found, &accept::LOAD_AT.what);
        return [0.0; 2];
    };
    let [x, y] = &items[..] else {
        let message = format!("has {} entries", items.len());
        r.wrong(found, message).accepted = Some(accept::LOAD_AT.what.told(crate::units::System::Metric));
        return [0.0; 2];
    };
    let (x, y) = (r.item(found, 0, x), r.item(found, 1, y));
    [coordinate(r, &x, top[0]), coordinate(r, &y, top[1])]
}

fn coordinate(r: &mut Reader, found: &Found<'_>, size: f64) -> f64 {
    let written = match &found.value.node {
        Node::Text(text) if text.contains('%') || text.contains("percent") => {
            return size * r.quantity_in(found, Range { kind: Kind::Share, least: 0.0, most: 1.0 });
        }
        Node::Text(text) | Node::Number(text) => text.trim(),
        _ => "",
    };
    if written.parse::<f64>().is_ok() && written.contains(|c: char| c.is_ascii_digit()) {
        let hint = format!("write \"{0} %\" or \"{0} mm\"", shortened(written));
        r.wrong(found, format!("{} has no unit", found.text())).hint = Some(hint);
        return 0.0;
    }
    r.quantity_in(found, Range { kind: Kind::Length, least: 0.0, most: size })
}

fn direction(r: &mut Reader, g: &Group<'_>) -> [f64; 3] {
    let word = r.word(g, &accept::LOAD_DIRECTION);
    if word != "down"
        && g.has(&accept::LOAD_MASS)
        && let Some(found) = r.value(g, &accept::LOAD_DIRECTION)
    {
        let problem = r.wrong(&found, "is for a force; a mass weighs down");
        problem.hint = Some("give \"force\" instead of \"mass\"".into());
    }
    chosen(&accept::DIRECTIONS, word)
}

fn shaking(r: &mut Reader, g: &Group<'_>) -> Option<f64> {
    let frequency = r.quantity_if(g, &accept::LOAD_SHAKING)?;
    if g.has(&accept::LOAD_MASS)
        && let Some(found) = r.value(g, &accept::LOAD_SHAKING)
    {
        let hint = "write the machine's mass as one load and \"force\" with \"shaking\" as another";
        r.wrong(&found, "is for a force: its amplitude").hint = Some(hint.into());
    }
    Some(frequency)
}

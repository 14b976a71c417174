//! Loads: [`Load`] from its keys.

use std::f64::consts::TAU;

use super::accept::{self, Range};
use super::reader::{Found, Group, Reader, chosen};
use super::spelling::{quoted, shortened};
use super::text::{self, Node, Written};
use super::value::{Coordinate, Value};
use super::{Load, Spread};
use crate::units::{self, GRAVITY, Kind, System};

/// Stands in for a top that could not be read, mm: as large as any, so that no second problem follows.
const UNREAD: [f64; 2] = [1e4, 1e4];

/// Reads all loads.
pub(super) fn loads(r: &mut Reader, root: &Group<'_>) -> Vec<Load> {
    let groups = r.groups(root, &accept::LOADS);
    groups.iter().enumerate().map(|(index, g)| load(r, g, index)).collect()
}

fn load(r: &mut Reader, g: &Group<'_>, index: usize) -> Load {
    let name = r.text_if(g, &accept::LOAD_NAME).unwrap_or_else(|| {
        let name = format!("load {}", index + 1);
        r.assume(g, &accept::LOAD_NAME, name.clone());
        name
    });
    let shaking = shaking(r, g);
    let (force, mass) = match &shaking {
        Some(moving @ Shaking { moving: Some(_), .. }) => (moving.force(0.0, moving.frequency[1]), 0.0),
        _ => weight(r, g),
    };
    let on = spread(r, g);
    let lasts = r.choice(g, &accept::LOAD_LASTS, &accept::LASTS);
    Load { name, force, mass, on, direction: direction(r, g), lasts, shaking }
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

fn spread(r: &mut Reader, g: &Group<'_>) -> Spread {
    match (r.value(g, &accept::LOAD_OVER), r.value(g, &accept::LOAD_AT)) {
        (None, Some(at)) => match at.value {
            Value::Point(point) => Spread::Point(on_top(r, &at.path, point)),
            _ => Spread::Whole,
        },
        (Some(over), None) => over_what(r, &over),
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

fn over_what(r: &mut Reader, found: &Found<'_>) -> Spread {
    match found.value {
        Value::Rectangle([one, other]) => {
            let [one, other] =
                [(0, one), (1, other)].map(|(i, corner)| on_top(r, &format!("{}[{i}]", found.path), corner));
            rectangle(r, found, [one, other])
        }
        _ => chosen(&accept::OVERS, found.word().unwrap_or_default()),
    }
}

/// Corners put in order; a rectangle without area is a problem.
fn rectangle(r: &mut Reader, found: &Found<'_>, [a, b]: [[f64; 2]; 2]) -> Spread {
    let low = [a[0].min(b[0]), a[1].min(b[1])];
    let high = [a[0].max(b[0]), a[1].max(b[1])];
    if low[0] == high[0] || low[1] == high[1] {
        r.wrong(&found.path, "is a rectangle without area").hint =
            Some("give two opposite corners, or \"at\" for a point".into());
    }
    Spread::Rectangle(low, high)
}

/// A point in mm from the front left corner; a length that leaves the top is a problem.
fn on_top(r: &mut Reader, path: &str, point: &[Coordinate; 2]) -> [f64; 2] {
    let top = r.top.unwrap_or(UNREAD);
    [0, 1].map(|i| match point[i] {
        Coordinate::Share(share) => top[i] * share,
        Coordinate::Length(length) => {
            r.within(&format!("{path}[{i}]"), length, Range { kind: Kind::Length, least: 0.0, most: top[i] })
        }
    })
}

/// Types two opposite corners.
pub(super) fn rectangle_in(r: &mut Reader, found: &Written<'_>, items: &[text::Value]) -> Value {
    let [one, other] = items else {
        let message = format!("has {} entries", items.len());
        r.wrong(&found.path, message).accepted = Some(accept::LOAD_OVER.what.describe(r.units()));
        return Value::Unread;
    };
    let (one, other) = (r.item(found, 0, one), r.item(found, 1, other));
    let corners = [point_in(r, &one), point_in(r, &other)];
    if let [Some(one), Some(other)] = corners { Value::Rectangle([one, other]) } else { Value::Unread }
}

/// Types two shares of the top or lengths from its front left corner.
pub(super) fn point_in(r: &mut Reader, found: &Written<'_>) -> Option<[Coordinate; 2]> {
    let Node::List(items) = &found.value.node else {
        r.mistyped(found, &accept::LOAD_AT.what);
        return None;
    };
    let [x, y] = &items[..] else {
        let message = format!("has {} entries", items.len());
        r.wrong(&found.path, message).accepted = Some(accept::LOAD_AT.what.describe(r.units()));
        return None;
    };
    let top = r.top.unwrap_or(UNREAD);
    let (x, y) = (r.item(found, 0, x), r.item(found, 1, y));
    if let (Some(a), Some(b)) = (bare(&x), bare(&y)) {
        unitless(r, found, [a, b], top);
        return None;
    }
    let ends = [coordinate(r, &x, top[0]), coordinate(r, &y, top[1])];
    if let [Some(x), Some(y)] = ends { Some([x, y]) } else { None }
}

/// The digits of a coordinate without unit.
fn bare<'a>(found: &Written<'a>) -> Option<&'a str> {
    let (Node::Text(text) | Node::Number(text)) = &found.value.node else { return None };
    let text = text.trim();
    (text.parse::<f64>().is_ok_and(f64::is_finite) && text.contains(|c: char| c.is_ascii_digit())).then_some(text)
}

/// Units that coordinates without any may be meant in: parts of the whole, percent, lengths; those that lie on the top.
fn readings(r: &Reader, digits: &[&str], top: &[f64]) -> Vec<Vec<String>> {
    let numbers: Vec<f64> = digits.iter().map(|digits| digits.parse().unwrap_or(f64::NAN)).collect();
    let share = |number: f64| format!("{} %", units::plain(number));
    let with = |unit: &str| digits.iter().map(|digits| format!("{digits} {unit}")).collect::<Vec<_>>();
    let all = |most: f64| numbers.iter().all(|number| (0.0..=most).contains(number));
    if all(1.0) {
        return vec![numbers.iter().map(|number| share(number * 100.0)).collect()];
    }
    let lengths = if r.units() == System::Inch { ["in", "mm"] } else { ["mm", "in"] };
    let on_top = |written: &Vec<String>| {
        let inside = |(text, size): (&String, &f64)| {
            units::read(Kind::Length, text).is_ok_and(|read| (0.0..=*size).contains(&read.value))
        };
        written.iter().zip(top).all(inside)
    };
    let shares = all(100.0).then(|| numbers.iter().map(|number| share(*number)).collect());
    shares.into_iter().chain(lengths.map(with).into_iter().filter(on_top)).collect()
}

/// A whole point without units: told once, with what may be meant.
fn unitless(r: &mut Reader, found: &Written<'_>, digits: [&str; 2], top: [f64; 2]) {
    let list = |items: &Vec<String>| format!("[\"{}\"]", items.join("\", \""));
    let meant: Vec<String> = readings(r, &digits, &top).iter().map(list).collect();
    let accepted = accept::LOAD_AT.what.describe(r.units());
    let message = format!("[{}] has no units", digits.map(shortened).join(", "));
    let problem = r.wrong(&found.path, message);
    problem.accepted = meant.is_empty().then_some(accepted);
    problem.hint = (!meant.is_empty()).then(|| format!("write {}", meant.join(" or ")));
}

fn coordinate(r: &mut Reader, found: &Written<'_>, size: f64) -> Option<Coordinate> {
    if let Node::Text(text) = &found.value.node
        && (text.contains('%') || text.contains("percent"))
    {
        return Some(Coordinate::Share(r.quantity_in(found, Range { kind: Kind::Share, least: 0.0, most: 1.0 })));
    }
    if let Some(digits) = bare(found) {
        let meant: Vec<String> = readings(r, &[digits], &[size]).concat().iter().map(|text| quoted(text)).collect();
        let accepted = accept::LOAD_AT.what.describe(r.units());
        let problem = r.wrong(&found.path, format!("{} has no unit", found.value.node.describe()));
        problem.accepted = meant.is_empty().then_some(accepted);
        problem.hint = (!meant.is_empty()).then(|| format!("write {}", meant.join(" or ")));
        return None;
    }
    r.length_in(found, size).map(Coordinate::Length)
}

fn direction(r: &mut Reader, g: &Group<'_>) -> [f64; 3] {
    let word = r.word(g, &accept::LOAD_DIRECTION);
    if word != "down"
        && g.has(&accept::LOAD_MASS)
        && let Some(found) = r.value(g, &accept::LOAD_DIRECTION)
    {
        let problem = r.wrong(&found.path, "is for a force; a mass weighs down");
        problem.hint = Some("give \"force\" instead of \"mass\"".into());
    }
    chosen(&accept::DIRECTIONS, word)
}

/// How a load shakes.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaking {
    /// Lowest and highest frequency, Hz.
    pub frequency: [f64; 2],
    /// A mass that goes to and fro, kg, and its whole stroke, mm; otherwise the load's force is the amplitude.
    pub moving: Option<[f64; 2]>,
}

impl Shaking {
    /// Amplitude of the force at a frequency, N: of a mass that moves as a sine, m (2 pi f)^2 s / 2; otherwise `given`.
    /// Source: Newton's second law.
    #[must_use]
    pub fn force(&self, given: f64, hertz: f64) -> f64 {
        self.moving.map_or(given, |[mass, stroke]| mass * (TAU * hertz).powi(2) * stroke / 2.0 / 1000.0)
    }

    /// `15 Hz`, `3 Hz to 8 Hz`.
    #[must_use]
    pub fn words(&self) -> String {
        let [least, most] = self.frequency;
        if least == most { format!("{least} Hz") } else { format!("{least} Hz to {most} Hz") }
    }
}

fn shaking(r: &mut Reader, g: &Group<'_>) -> Option<Shaking> {
    let moving = [r.quantity_if(g, &accept::LOAD_MOVING), r.quantity_if(g, &accept::LOAD_STROKE)];
    let Some(frequency) = r.band_if(g, &accept::LOAD_SHAKING) else {
        if moving.iter().any(Option::is_some) && !g.has(&accept::LOAD_SHAKING) {
            let hint =
                "add how often it goes to and fro, such as \"shaking\": \"15 Hz\" or \"shaking\": \"3 Hz to 8 Hz\"";
            r.wrong_group(g, "has a moving mass or a stroke and no frequency").hint = Some(hint.into());
        }
        return None;
    };
    if g.has(&accept::LOAD_MASS)
        && let Some(found) = r.value(g, &accept::LOAD_SHAKING)
    {
        let hint = "write the machine's mass as one load and \"force\", or \"moving\" and \"stroke\", with \"shaking\" as another";
        r.wrong(&found.path, "is for a force: its amplitude").hint = Some(hint.into());
    }
    let given = [&accept::LOAD_MOVING, &accept::LOAD_STROKE].map(|key| g.has(key));
    let moving = match (given, g.has(&accept::LOAD_FORCE)) {
        ([false, false], _) => None,
        ([true, true], false) => Some(moving.map(Option::unwrap_or_default)),
        ([true, true], true) => {
            let hint = "keep \"force\", or \"moving\" with \"stroke\", from which the force is worked out";
            r.wrong_group(g, "has a shaking force and a moving mass").hint = Some(hint.into());
            None
        }
        ([true, false], _) => {
            let hint = "add the whole way it goes from end to end, such as \"stroke\": \"60 mm\"";
            r.wrong_group(g, "has a moving mass and no stroke").hint = Some(hint.into());
            Some([0.0; 2])
        }
        ([false, true], _) => {
            let hint = "add the mass that goes to and fro, such as \"moving\": \"0.5 kg\"";
            r.wrong_group(g, "has a stroke and no moving mass").hint = Some(hint.into());
            Some([0.0; 2])
        }
    };
    Some(Shaking { frequency, moving })
}

#[cfg(test)]
mod tests {
    use crate::params::{Params, read};

    fn file(load: &str) -> Result<Params, Vec<String>> {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{{load}}}]}}"#
        );
        let describe = |p: crate::Problem| p.hint.unwrap_or_else(|| p.accepted.unwrap_or_default());
        read(&text).map_err(|problems| problems.into_iter().map(describe).collect())
    }

    #[test]
    fn every_wrong_way_to_shake_is_told_what_to_write() {
        for (load, hint) in [
            (r#""force": "10 N", "shaking": "3 to 8 Hz""#, r#"write "3 Hz to 8 Hz""#),
            (r#""force": "10 N", "shaking": "8 Hz to 3 Hz""#, r#"write "3 Hz to 8 Hz""#),
            (r#""moving": "0.5 kg", "stroke": "60 mm""#, r#"such as "shaking": "15 Hz""#),
            (r#""moving": "0.5 kg", "shaking": "3 Hz""#, r#"such as "stroke": "60 mm""#),
            (r#""stroke": "60 mm", "shaking": "3 Hz""#, r#"such as "moving": "0.5 kg""#),
            (r#""force": "1 N", "moving": "1 kg", "stroke": "6 mm", "shaking": "3 Hz""#, r#"keep "force", or"#),
        ] {
            let told = file(load).err().unwrap_or_default();
            assert!(told.iter().any(|t| t.contains(hint)), "{load}: {told:?}");
        }
    }

    #[test]
    fn a_range_of_frequencies_is_read() {
        let params = file(r#""moving": "0.5 kg", "stroke": "60 mm", "shaking": "180 rpm to 8 Hz""#).expect("read");
        let shaking = params.loads[0].shaking.clone().expect("shakes");
        assert_eq!((shaking.frequency, shaking.moving), ([3.0, 8.0], Some([0.5, 60.0])));
        assert_eq!(shaking.words(), "3 Hz to 8 Hz");
    }
}

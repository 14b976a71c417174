//! The underside on paper: mirrored, measured from the edges nearest to each leg, with the grain shown.

use crate::formats::drawing::{Anchor, Drawing, Pen, Point, Shade};
use crate::model::{Leg, Model};
use crate::params::Run;

/// How every sheet is to be read.
pub const SEEN: &str = "Seen from below: the top lies on its show face, the front edge is nearest to you.";
/// Length and half width of an arrow head, mm.
const HEAD: [f64; 2] = [3.0, 0.8];

/// World to the paper: x is mirrored, y stays, as when the top is turned over end for end.
#[must_use]
pub fn below(world: [f64; 2]) -> Point {
    [-world[0] + 0.0, world[1]]
}

/// The two edges of the top from which a leg is measured: signs of x and y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference {
    /// -1 or 1 along x and y, world.
    pub signs: [f64; 2],
}

impl Reference {
    /// The edges nearest to a leg; of two equally near ends the one at -x.
    #[must_use]
    pub fn of(leg: &Leg) -> Self {
        Self { signs: leg.side().map(|s| if s > 0.0 { 1.0 } else { -1.0 }) }
    }

    /// Distances of a place from the two edges, mm.
    #[must_use]
    pub fn distances(&self, model: &Model, at: [f64; 2]) -> [f64; 2] {
        let half = [model.params.top.length / 2.0, model.params.top.width / 2.0];
        [0, 1].map(|k| half[k] - self.signs[k] * at[k])
    }

    /// Names that stay true when the top is turned over: `end of legs 1 and 4`, `front edge`.
    #[must_use]
    pub fn names(&self, model: &Model) -> [String; 2] {
        let side = if self.signs[1] < 0.0 { "front edge" } else { "back edge" };
        [end_name(model, self.signs[0]), side.to_owned()]
    }
}

/// Name of the end on the side of `sign`, by its legs.
pub(super) fn end_name(model: &Model, sign: f64) -> String {
    let numbers: Vec<String> =
        model.legs.iter().filter(|l| l.side()[0] * sign > 0.0).map(|l| l.number.to_string()).collect();
    match &numbers[..] {
        [one] => format!("end of leg {one}"),
        many => format!("end of legs {}", many.join(" and ")),
    }
}

/// A line with a filled head at `to`.
pub fn arrow(d: &mut Drawing, from: Point, to: Point) {
    let v = [to[0] - from[0], to[1] - from[1]];
    let length = v[0].hypot(v[1]);
    if length <= 0.0 {
        return;
    }
    let u = [v[0] / length, v[1] / length];
    let base = [to[0] - u[0] * HEAD[0], to[1] - u[1] * HEAD[0]];
    let side = |s: f64| [base[0] - u[1] * s, base[1] + u[0] * s];
    d.line(from, base, Pen::Thin);
    d.fill(vec![to, side(HEAD[1]), side(-HEAD[1])], Shade::Black);
}

/// A double arrow along the grain with the word, centred on `at`.
pub fn grain(d: &mut Drawing, model: &Model, at: Point, length: f64) {
    let along_x = model.params.top.grain == Run::AlongLength;
    let v = if along_x { [length / 2.0, 0.0] } else { [0.0, length / 2.0] };
    arrow(d, at, [at[0] + v[0], at[1] + v[1]]);
    arrow(d, at, [at[0] - v[0], at[1] - v[1]]);
    let turn = if along_x { 0.0 } else { std::f64::consts::FRAC_PI_2 };
    let above = if along_x { [at[0], at[1] + 1.5] } else { [at[0] - 1.5, at[1]] };
    d.turned_text(above, 2.5, Anchor::Middle, turn, "grain");
}

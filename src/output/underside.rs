//! The whole underside as the maker sees it: the top lies on its show face, the front edge is nearest to the maker.

use super::assembly;
use super::below::{Reference, below, end_name, grain};
use super::template;
use crate::formats::drawing::{Anchor, Drawing, Pen, Point};
use crate::formats::font;
use crate::formats::number::num;
use crate::model::{Leg, Model, Rail};
use crate::params::Run;

/// Size of the plan with its dimensions, mm: a lying sheet of either paper shows it.
const PLAN: [f64; 2] = [243.0, 149.0];
/// Room for dimensions beside the top on the plan, mm, along x and y.
const ROOM: [f64; 2] = [24.0, 24.0];
/// Strip of words under the plan, mm.
const STRIP: f64 = 9.0;
/// Distance of the dimension lines from the top's edge, mm.
const TIERS: [f64; 2] = [7.0, 14.0];
/// Scales used, as divisors. Source: ISO 5455 (from memory) has 2, 5, 10, 20, 50; those between are common practice.
const SCALES: [f64; 12] = [2.0, 2.5, 4.0, 5.0, 7.5, 8.0, 10.0, 12.5, 15.0, 20.0, 25.0, 50.0];
/// Longest grain arrow on the plan, mm; on a small top a quarter of it, clear of the brackets.
const GRAIN: f64 = 36.0;
/// Capitals on the true-size drawing of the whole underside, mm: judgement, read from a step away.
const LARGE: [f64; 2] = [20.0, 8.0];

/// A scaled view of the underside: where its middle stands on the paper.
struct View {
    scale: f64,
    middle: Point,
}

impl View {
    fn at(&self, world: [f64; 2]) -> Point {
        let [x, y] = below(world);
        [self.middle[0] + x * self.scale, self.middle[1] + y * self.scale]
    }

    fn all(&self, world: impl IntoIterator<Item = [f64; 2]>) -> Vec<Point> {
        world.into_iter().map(|p| self.at(p)).collect()
    }
}

/// Divisor of the plan's scale: the largest picture that fits.
#[must_use]
pub fn scale_divisor(model: &Model) -> f64 {
    let top = &model.params.top;
    let room = [PLAN[0] - 2.0 * ROOM[0], PLAN[1] - 2.0 * ROOM[1] - STRIP];
    let fits = |s: &&f64| top.length / **s <= room[0] && top.width / **s <= room[1];
    SCALES.iter().find(fits).copied().unwrap_or_else(|| (top.length / room[0]).max(top.width / room[1]).ceil())
}

/// The scale in words: `scale 1 : 10`.
#[must_use]
pub fn scale_words(model: &Model) -> String {
    format!("scale 1 : {}", crate::formats::number::short(scale_divisor(model), 1))
}

/// The whole underside on one sheet with the places of the brackets.
#[must_use]
pub fn plan(model: &Model) -> Drawing {
    let mut d =
        Drawing::new(&format!("{}: the underside, {}", model.params.title, scale_words(model)), PLAN[0], PLAN[1]);
    let view = View { scale: 1.0 / scale_divisor(model), middle: [PLAN[0] / 2.0, (PLAN[1] + STRIP) / 2.0] };
    outline(&mut d, model, &view, Pen::Thick);
    model.rails.iter().for_each(|r| rail(&mut d, &view, r));
    for leg in &model.legs {
        place(&mut d, model, leg, &view);
    }
    dimensions(&mut d, model, &view);
    words(&mut d, model, &view);
    d
}

fn outline(d: &mut Drawing, model: &Model, view: &View, pen: Pen) {
    let half = [model.params.top.length / 2.0, model.params.top.width / 2.0];
    d.rectangle(view.at(half), view.at(half.map(|h| -h)), pen);
}

/// Both sides of a rail's tube.
fn rail(d: &mut Drawing, view: &View, rail: &Rail) {
    let [a, b] = rail.ends.map(|e| [e.x, e.y]);
    let v = [b[0] - a[0], b[1] - a[1]];
    let length = v[0].hypot(v[1]).max(f64::MIN_POSITIVE);
    let by = rail.tube.outside / 2.0 / length;
    for s in [by, -by] {
        let side = |p: [f64; 2]| view.at([p[0] - v[1] * s, p[1] + v[0] * s]);
        d.line(side(a), side(b), Pen::Dashed);
    }
}

/// A leg's bracket, number and foot.
fn place(d: &mut Drawing, model: &Model, leg: &Leg, view: &View) {
    let head = view.at([leg.frame.head.x, leg.frame.head.y]);
    let moved = |p: &Point| [head[0] + p[0] * view.scale, head[1] + p[1] * view.scale];
    d.outline(template::plate_outline(model, leg).iter().map(moved).collect(), Pen::Thick);
    d.outline(view.all(foot_outline(model, leg)), Pen::Dashed);
    d.cross(head, 4.0, Pen::Centre);
    let toward = below(leg.side().map(|s| -s));
    let half = template::half(model, leg);
    // Beside the bracket, and clear of rails along the length and along the width.
    let side = if toward[0] == 0.0 { 1.0 } else { toward[0] };
    let at = [head[0] + side * (half[0] * view.scale + 5.0), head[1] + toward[1] * 4.0 - 2.0];
    d.text(at, 4.0, Anchor::Middle, &leg.number.to_string());
}

fn foot_outline(model: &Model, leg: &Leg) -> Vec<[f64; 2]> {
    let f = &model.feet[leg.foot.kind].design;
    let world = |p: Point| leg.foot.pose * nalgebra::Point3::new(p[0], p[1], 0.0);
    template::rounded(f.length, f.width, f.corner_radius).into_iter().map(world).map(|w| [w.x, w.y]).collect()
}

/// Every cross from its two edges, each distance once, and the top's own size.
fn dimensions(d: &mut Drawing, model: &Model, view: &View) {
    let half = [model.params.top.length / 2.0, model.params.top.width / 2.0];
    let mut done: Vec<[f64; 4]> = Vec::new();
    for leg in &model.legs {
        let (r, head) = (Reference::of(leg), [leg.frame.head.x, leg.frame.head.y]);
        let [along, across] = r.distances(model, head);
        let edge = [0, 1].map(|k| r.signs[k] * half[k]);
        let tier = TIERS[usize::from(leg.side()[0] == 0.0 && model.legs.len() > 3)];
        dimension(d, &mut done, view, [[edge[0], edge[1]], [head[0], edge[1]]], tier, along);
        dimension(d, &mut done, view, [[edge[0], edge[1]], [edge[0], head[1]]], TIERS[0], across);
    }
    let corner = |x: f64, y: f64| [x * half[0], y * half[1]];
    dimension(d, &mut done, view, [corner(-1.0, 1.0), corner(1.0, 1.0)], TIERS[1] + 5.0, 2.0 * half[0]);
    dimension(d, &mut done, view, [corner(1.0, -1.0), corner(1.0, 1.0)], TIERS[1], 2.0 * half[1]);
}

/// A dimension outside the top, unless an equal one stands there already.
fn dimension(d: &mut Drawing, done: &mut Vec<[f64; 4]>, view: &View, ends: [[f64; 2]; 2], tier: f64, mm: f64) {
    let [a, b] = ends.map(|e| view.at(e));
    let key = [a[0], a[1], b[0], b[1]];
    if done.iter().any(|k| k.iter().zip(key).all(|(x, y)| (x - y).abs() < 0.01)) {
        return;
    }
    done.push(key);
    // The left of the way from the first to the second must point away from the middle.
    let v = [b[0] - a[0], b[1] - a[1]];
    let out = [(a[0] + b[0]) / 2.0 - view.middle[0], (a[1] + b[1]) / 2.0 - view.middle[1]];
    let left = -v[1] * out[0] + v[0] * out[1];
    d.dimension(a, b, if left >= 0.0 { tier } else { -tier }, &num(mm, 1));
}

fn words(d: &mut Drawing, model: &Model, view: &View) {
    let half = model.params.top.width / 2.0 * view.scale;
    // Where a leg stands in the middle, the words move half-way to the end.
    let middle_leg = model.legs.iter().any(|l| l.side()[0] == 0.0);
    let aside = if middle_leg { model.params.top.length / 4.0 * view.scale } else { 0.0 };
    let [x, y] = [view.middle[0] - aside, view.middle[1]];
    d.text([x, y - half + 2.0], 3.0, Anchor::Middle, "FRONT");
    d.text([x, y + half - 5.0], 3.0, Anchor::Middle, "BACK");
    let smaller = model.params.top.width.min(model.params.top.length) * view.scale;
    grain(d, model, [x, y], GRAIN.min(smaller / 4.0));
    let diagonals: Vec<String> =
        assembly::diagonals(model).into_iter().map(|(name, mm)| format!("{name}: {} mm", num(mm, 1))).collect();
    let lines = [
        format!("Pencil a cross for each bracket, then measure: {}.", diagonals.join(", ")),
        "Thick: brackets and their legs' numbers. Dashed: feet and rails. Millimetres.".to_owned(),
    ];
    for (i, line) in lines.iter().enumerate() {
        d.text([0.0, 4.5 - 3.5 * i as f64], font::fitted(line, 2.2, PLAN[0]), Anchor::Left, line);
    }
}

/// The whole underside at true size, from the corner of the front edge and the end at +x; for cutters and CAD.
#[must_use]
pub fn true_size(model: &Model, warning: &str) -> Drawing {
    let size = [model.params.top.length, model.params.top.width];
    let mut d = Drawing::new(&format!("{}: underside, seen from below", model.params.title), size[0], size[1]);
    let view = View { scale: 1.0, middle: size.map(|s| s / 2.0) };
    outline(&mut d, model, &view, Pen::Thick);
    for leg in &model.legs {
        let head = view.at([leg.frame.head.x, leg.frame.head.y]);
        d.place(&template::pattern(model, leg), 1.0, head);
        let toward = below(leg.side().map(|s| -s));
        let reach = template::half(model, leg)[1] + LARGE[0];
        let at = [head[0], head[1] + toward[1] * reach - LARGE[0] / 2.0];
        d.text(at, LARGE[0], Anchor::Middle, &format!("LEG {}", leg.number));
    }
    let words = file_words(model);
    let lines = std::iter::once(warning).filter(|line| !line.is_empty()).chain(words.iter().map(String::as_str));
    for (i, line) in lines.enumerate() {
        d.text([size[0] / 2.0, size[1] / 2.0 - i as f64 * 2.0 * LARGE[1]], LARGE[1], Anchor::Middle, line);
    }
    d.text([size[0] / 2.0, LARGE[1]], LARGE[1], Anchor::Middle, "FRONT");
    d
}

/// What must be known of the file without the papers.
fn file_words(model: &Model) -> [String; 3] {
    let grain = if model.params.top.grain == Run::AlongLength { "along x" } else { "along y" };
    [
        "SEEN FROM BELOW (mirrored): the top lies on its show face".to_owned(),
        format!("mm; x from the {}, y from the front edge; grain {grain}", end_name(model, 1.0)),
        format!("pilot holes {} mm, {} mm deep", num(pilot(model), 2), num(model.penetration(), 1)),
    ]
}

/// Pilot diameter of all holes, mm.
fn pilot(model: &Model) -> f64 {
    model.holes().first().map_or(0.0, |h| h.pilot)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::drawing::Item;

    fn model() -> Model {
        Model::new(&crate::params::read(crate::params::built_in()).unwrap()).unwrap()
    }

    #[test]
    fn the_plan_stays_on_its_sheet() {
        let d = plan(&model());
        let [low, high] = d.bounds().unwrap();
        assert!(
            low[0] >= -0.1 && low[1] >= -0.1 && high[0] <= d.width + 0.1 && high[1] <= d.height + 0.1,
            "{low:?} {high:?}"
        );
    }

    /// Leg 1 stands at -x -y: in front, and at the right on the upturned top.
    #[test]
    fn leg_1_is_at_the_lower_right() {
        let model = model();
        let d = true_size(&model, "");
        let find = |i: &&Item| matches!(i, Item::Text { text, .. } if text == "LEG 1");
        let Some(Item::Text { at, .. }) = d.items.iter().find(find) else { panic!("no leg 1") };
        assert!(at[0] > d.width / 2.0 && at[1] < d.height / 2.0, "{at:?}");
    }

    #[test]
    fn places_are_measured_from_the_nearest_edges() {
        let model = model();
        let leg = &model.legs[2];
        let r = Reference::of(leg);
        assert_eq!(r.names(&model), ["end of legs 2 and 3", "back edge"]);
        let [x, y] = r.distances(&model, [leg.frame.head.x, leg.frame.head.y]);
        // Insets of the file: 120 and 110 mm; a top 0.4 mm thicker at this leg shifts a head that leans 4 degrees by 0.03 mm.
        assert!((x - 120.0).abs() < 0.1 && (y - 110.0).abs() < 0.1, "{x} {y}");
    }
}

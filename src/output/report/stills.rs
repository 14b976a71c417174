//! Still pictures: the table, its three views with dimensions, every part with its main dimensions.

use super::solids::Table;
use crate::checks::Component;
use crate::formats::drawing::{Anchor, Drawing, FIGURES, Pen, Point};
use crate::formats::number::short;
use crate::formats::svg;
use crate::geometry::{Aabb, Mesh};
use crate::model::Model;
use crate::output::picture::{self, Body, Frame, View};
use crate::output::{Kit, VerifiedMesh};

/// Width of a picture beside others, mm on paper: two stand side by side on A4 and Letter (judgement).
const NARROW: f64 = 74.0;
/// Height of a picture of a part, mm on paper (judgement).
const LOW: f64 = 52.0;
/// Width of the picture of the whole table, mm on paper (judgement).
const WIDE: f64 = 170.0;
/// Distance of the first dimension line from what it measures and from line to line, mm on paper (judgement).
const LINE: f64 = 7.0;
/// Ties nearer than this in height get one dimension, mm: they differ because the top is not flat.
const SAME_HEIGHT: f64 = 5.0;
/// Room round a finished picture, mm on paper.
const ROOM: f64 = 2.0;

/// A mesh as the picture engine takes it.
struct Shape {
    points: Vec<[f64; 3]>,
    triangles: Vec<[usize; 3]>,
}

impl Shape {
    fn new(mesh: &Mesh) -> Self {
        let triangles = mesh.triangles.iter().map(|t| t.map(|i| i as usize)).collect();
        Self { points: mesh.points.clone(), triangles }
    }

    fn body(&self) -> Body<'_> {
        Body { points: &self.points, triangles: &self.triangles }
    }
}

/// The table from the side and above, shaded.
#[must_use]
pub fn whole(kit: &Kit, table: &Table) -> String {
    let shapes = standing(table);
    let bodies: Vec<Body> = shapes.iter().map(Shape::body).collect();
    let scale = scale(&bodies, View::Isometric, [WIDE, WIDE * 0.8]);
    finished(&picture::picture(&kit.model.params.title, &bodies, View::Isometric, scale, true))
}

/// The table from the front, from the right side and from above, with dimensions: heading and picture.
#[must_use]
pub fn views(kit: &Kit, table: &Table) -> Vec<(&'static str, String)> {
    let shapes = standing(table);
    let bodies: Vec<Body> = shapes.iter().map(Shape::body).collect();
    vec![
        ("from the front", elevation(kit.model, &bodies, View::Front, 0)),
        ("from the right side", elevation(kit.model, &bodies, View::Side, 1)),
        ("from above, through the top", plan(kit.model, table)),
    ]
}

/// One side of the table; `k` is the world axis that runs to the right.
fn elevation(model: &Model, bodies: &[Body], view: View, k: usize) -> String {
    let scale = scale(bodies, view, [NARROW, NARROW]);
    let mut drawing = picture::picture(["front", "side"][k], bodies, view, scale, false);
    let frame = Frame::new(bodies, view, scale);
    let at = |along: f64, z: f64| {
        let mut p = [0.0; 3];
        (p[k], p[2]) = (along, z);
        frame.at(p)
    };
    let top = &model.params.top;
    let (half, height) = ([top.length, top.width][k] / 2.0, model.params.height);
    let heads = span(model.legs.iter().map(|l| l.frame.head[k]));
    let feet = span(model.legs.iter().map(|l| l.frame.on_axis(0.0)[k]));
    let mut across = |from: f64, to: f64, z: f64, offset: f64| {
        drawing.dimension(at(from, z), at(to, z), offset, &short(to - from, 1));
    };
    across(-half, half, height, LINE);
    across(feet[0], feet[1], 0.0, -LINE);
    across(heads[0], heads[1], 0.0, -2.0 * LINE);
    across(-half, heads[0], 0.0, -3.0 * LINE);
    let mut upright = |z: [f64; 2], along: f64, offset: f64| {
        drawing.dimension(at(along, z[0]), at(along, z[1]), offset, &short(z[1] - z[0], 1));
    };
    upright([0.0, height], half, -2.0 * LINE);
    upright([height - top.thickness, height], half, -LINE);
    let mut heights: Vec<f64> = model.legs.iter().flat_map(|l| l.ties.iter().map(|t| t.height)).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < SAME_HEIGHT);
    for (i, z) in heights.iter().enumerate() {
        upright([0.0, *z], -half, LINE * (i + 1) as f64);
    }
    finished(&drawing)
}

/// Plan with the legs' axes on the underside and the feet on the floor.
fn plan(model: &Model, table: &Table) -> String {
    let top = &model.params.top;
    let scale = NARROW / top.length.max(top.width);
    let at = |p: [f64; 2]| [p[0] * scale, p[1] * scale];
    let half = [top.length / 2.0, top.width / 2.0];
    let mut drawing = Drawing::new("from above", 0.0, 0.0);
    drawing.rectangle(at([-half[0], -half[1]]), at(half), Pen::Thick);
    for body in table.bodies.iter().filter(|b| matches!(b.component, Component::Bracket | Component::Foot)) {
        let pen = if body.component == Component::Bracket { Pen::Dashed } else { Pen::Thin };
        drawing.outline(outline(&body.in_world(&table.meshes).aabb()).map(at).to_vec(), pen);
    }
    for leg in &model.legs {
        let (head, foot) = (leg.frame.head, leg.frame.on_axis(0.0));
        drawing.cross(at([head.x, head.y]), 3.0, Pen::Centre);
        drawing.line(at([head.x, head.y]), at([foot.x, foot.y]), Pen::Thin);
        let beside = at([head.x - leg.side()[0] * 90.0, head.y - leg.side()[1] * 90.0]);
        drawing.text([beside[0], beside[1] - FIGURES / 2.0], FIGURES * 1.2, Anchor::Middle, &leg.number.to_string());
    }
    let first = model.legs.iter().map(|l| l.frame.head).fold([f64::MAX; 2], |m, h| [m[0].min(h.x), m[1].min(h.y)]);
    let mut measure = |a: [f64; 2], b: [f64; 2], offset: f64| {
        drawing.dimension(at(a), at(b), offset, &short((b[0] - a[0]).hypot(b[1] - a[1]), 1));
    };
    measure([-half[0], -half[1]], [half[0], -half[1]], -2.0 * LINE);
    measure([-half[0], -half[1]], [first[0], -half[1]], -LINE);
    measure([half[0], -half[1]], half, -LINE);
    measure([-half[0], -half[1]], [-half[0], first[1]], LINE);
    finished(&drawing)
}

fn outline(b: &Aabb) -> [[f64; 2]; 4] {
    [[b.min[0], b.min[1]], [b.max[0], b.min[1]], [b.max[0], b.max[1]], [b.min[0], b.max[1]]]
}

fn span(values: impl Iterator<Item = f64>) -> [f64; 2] {
    values.fold([f64::MAX, f64::MIN], |s, v| [s[0].min(v), s[1].max(v)])
}

/// A part as it lies on the bed: shaded, from above with length and width, from the front with its height.
#[must_use]
pub fn part(printed: &VerifiedMesh) -> Vec<(&'static str, String)> {
    let shape = Shape::new(&printed.mesh);
    let bodies = [shape.body()];
    let boxed = printed.mesh.aabb();
    let room = [NARROW - 2.0 * LINE, LOW - LINE];
    let shaded = |view| {
        let scale = scale(&bodies, view, [NARROW - LINE, LOW]);
        finished(&picture::picture(&printed.part.name, &bodies, view, scale, true))
    };
    let flat = |view: View, up: usize| {
        let scale = scale(&bodies, view, room);
        let mut drawing = picture::picture(&printed.part.name, &bodies, view, scale, false);
        let frame = Frame::new(&bodies, view, scale);
        let at = |x: f64, u: f64| {
            let mut p = boxed.min;
            (p[0], p[up]) = (x, u);
            frame.at(p)
        };
        let ([x0, u0], [x1, u1]) = ([boxed.min[0], boxed.min[up]], [boxed.max[0], boxed.max[up]]);
        drawing.dimension(at(x0, u0), at(x1, u0), -LINE, &short(x1 - x0, 1));
        drawing.dimension(at(x1, u0), at(x1, u1), -LINE, &short(u1 - u0, 1));
        finished(&drawing)
    };
    vec![
        ("as it lies on the bed", shaded(View::Isometric)),
        ("from above", flat(View::Top, 1)),
        ("from the front", flat(View::Front, 2)),
    ]
}

/// The scale at which a picture fits into a room on paper.
fn scale(bodies: &[Body], view: View, room: [f64; 2]) -> f64 {
    let size = Frame::new(bodies, view, 1.0).size();
    (room[0] / size[0]).min(room[1] / size[1])
}

/// Cut to what is drawn, as text for the page.
#[must_use]
pub fn finished(drawing: &Drawing) -> String {
    let Some([low, high]) = drawing.bounds() else { return String::new() };
    let move_by: Point = [ROOM - low[0], ROOM - low[1]];
    let mut cut = Drawing::new(&drawing.title, high[0] - low[0] + 2.0 * ROOM, high[1] - low[1] + 2.0 * ROOM);
    cut.place(drawing, 1.0, move_by);
    slim(&svg::write(&cut))
}

/// Everything that shows; screws are hidden in their holes.
fn standing(table: &Table) -> Vec<Shape> {
    let bodies = table.bodies.iter().filter(|b| b.component != Component::Screw);
    bodies.map(|b| Shape::new(&b.in_world(&table.meshes))).collect()
}

/// The same picture with every path told by steps of a hundredth of a millimetre, which halves its text.
fn slim(svg: &str) -> String {
    let mut rest = svg;
    let mut slim = String::with_capacity(svg.len());
    while let Some(start) = rest.find(" d=\"").map(|i| i + 4) {
        let end = rest[start..].find('"').map_or(rest.len(), |i| start + i);
        slim.push_str(&rest[..start]);
        slim.push_str(&steps(&rest[start..end]).unwrap_or_else(|| rest[start..end].to_owned()));
        rest = &rest[end..];
    }
    slim + rest
}

/// A path of `M`, `L` and `Z` in steps; none for a path with anything else in it.
fn steps(path: &str) -> Option<String> {
    let mut at = [0i64; 2];
    let mut text = String::new();
    for ring in path.split('M').skip(1) {
        let (corners, end) = ring.strip_suffix('Z').map_or((ring, ""), |r| (r, "z"));
        let mut start = None;
        for (i, corner) in corners.split('L').enumerate() {
            let (x, y) = corner.split_once(' ')?;
            let to = [hundredths(x)?, hundredths(y)?];
            let step = [to[0] - at[0], to[1] - at[1]];
            if i < 2 || step != [0, 0] {
                text += ["m", "l", ""][i.min(2)];
                step.iter().for_each(|s| add_number(&mut text, *s));
            }
            at = to;
            start.get_or_insert(to);
        }
        text += end;
        if end == "z" {
            at = start?;
        }
    }
    Some(text)
}

/// Adds a number of hundredths as briefly as a path allows: no leading zero, a space only where digits would meet.
fn add_number(text: &mut String, hundredths: i64) {
    let number = short(hundredths as f64 / 100.0, 2);
    let brief = number.replacen("0.", ".", usize::from(number.trim_start_matches('-').starts_with("0.")));
    let meets = text.ends_with(|c: char| c.is_ascii_digit()) && !brief.starts_with('-');
    *text += if meets { " " } else { "" };
    *text += &brief;
}

fn hundredths(number: &str) -> Option<i64> {
    number.parse::<f64>().ok().map(|x| (x * 100.0).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_lead_to_the_same_corners() {
        assert_eq!(steps("M1 2L3.5 2L3.5 0ZM10 10L11 12").as_deref(), Some("m1 2l2.5 0 0-2zm9 8l1 2"));
        assert_eq!(steps("M0.25 10L0.5 10.75L-0.5 20.05").as_deref(), Some("m.25 10l.25 .75-1 9.3"));
        assert_eq!(steps("M0 0A1 1 0 0 0 2 0"), None);
        assert_eq!(slim("<path d=\"M5 5L6 5\"/><g/>"), "<path d=\"m5 5l1 0\"/><g/>");
    }
}

//! The hole pattern of one leg at true size, as it lies on the upturned top.

use nalgebra::Point3;

use super::below::{Reference, SEEN, arrow, below, grain};
use crate::formats::drawing::{Anchor, Drawing, FIGURES, Pen, Point};
use crate::formats::font;
use crate::formats::number::num;
use crate::model::{BracketDesign, Hole, Leg, Model, ScrewHole, Socket};
use crate::units::inch_32;

/// Paper round the plate, mm: room for the ends of the centre lines and a line of words.
const MARGIN: f64 = 10.0;
/// How far the centre lines reach beyond the plate, mm: so that they find the pencil lines.
const BEYOND: f64 = 6.0;
/// Reach of a hole's cross from its middle, mm: judgement, seen beside the pilot's circle.
const CROSS: f64 = 3.5;
/// From a hole's middle to the near lower corner of its number, mm: beside the cross, outside the clear hole.
const NUMBER_GAP: [f64; 2] = [2.8, 2.4];
/// Least width of a template, mm: a line of words stays readable.
const LEAST_WIDTH: f64 = 160.0;
/// Capitals of the words below the plate, mm, and from line to line.
const WORDS: [f64; 2] = [2.2, 3.9];
/// Capitals of the distances beside the plate, mm.
const EDGE_WORDS: f64 = 2.2;
/// Side of the square that holds the grain arrow, mm.
const GRAIN_BOX: f64 = 22.0;
/// Points on a quarter turn of a corner and of a leaning boss' edge: 12 stray 0.02 mm at a radius of 10 mm.
const QUARTER: usize = 12;
/// Mark of the holes that stay where they are when the wood moves.
const FIXED_MARK: &str = "F";

/// A hole of one leg: its number, the drilled hole and the hole in the plate.
#[derive(Clone, Debug)]
pub struct Numbered {
    /// `1`, `2`; `S1` for a spare one.
    pub number: String,
    /// What is drilled.
    pub hole: Hole,
    /// The plate's hole, printing frame.
    pub plate: ScrewHole,
}

/// The holes of a leg with their numbers, those in use first.
#[must_use]
pub fn numbered(model: &Model, leg: &Leg) -> Vec<Numbered> {
    let design = design(model, leg);
    let plate = design.screws.iter().chain(&design.spare);
    let holes = model.holes().into_iter().filter(|h| h.leg == leg.number);
    let used = design.screws.len();
    let number = |i: usize| if i < used { format!("{}", i + 1) } else { format!("S{}", i + 1 - used) };
    holes.zip(plate).enumerate().map(|(i, (hole, plate))| Numbered { number: number(i), hole, plate: *plate }).collect()
}

fn design<'a>(model: &'a Model, leg: &Leg) -> &'a BracketDesign {
    &model.brackets[leg.bracket.kind].design
}

/// A place of the bracket's printing frame as seen from below, with the leg's cross at the origin, mm.
fn seen(leg: &Leg, local: [f64; 2]) -> Point {
    let world = leg.bracket.pose * Point3::new(local[0], local[1], 0.0);
    below([world.x - leg.frame.head.x, world.y - leg.frame.head.y])
}

/// The plate's outline as seen from below about the leg's cross, mm.
#[must_use]
pub fn plate_outline(model: &Model, leg: &Leg) -> Vec<Point> {
    let d = design(model, leg);
    rounded(d.length, d.width, d.corner_radius).into_iter().map(|p| seen(leg, p)).collect()
}

/// Corners of a rounded rectangle about the origin, mm.
#[must_use]
pub fn rounded(length: f64, width: f64, radius: f64) -> Vec<Point> {
    let corner = |k: usize| {
        let (sx, sy) = ([1.0, -1.0, -1.0, 1.0][k], [1.0, 1.0, -1.0, -1.0][k]);
        let centre = [sx * (length / 2.0 - radius), sy * (width / 2.0 - radius)];
        (0..=QUARTER).map(move |i| {
            let a = (k as f64 + i as f64 / QUARTER as f64) * std::f64::consts::FRAC_PI_2;
            [centre[0] + radius * a.cos(), centre[1] + radius * a.sin()]
        })
    };
    (0..4).flat_map(corner).collect()
}

/// Half sizes of the plate on the paper, mm.
#[must_use]
pub fn half(model: &Model, leg: &Leg) -> [f64; 2] {
    let outline = plate_outline(model, leg);
    [0, 1].map(|k| outline.iter().map(|p| p[k].abs()).fold(0.0, f64::max))
}

/// The pattern about the leg's cross at the origin: plate, bosses, holes, centre lines. No words but the numbers.
#[must_use]
pub fn pattern(model: &Model, leg: &Leg) -> Drawing {
    let mut d = Drawing::new(&format!("Leg {}", leg.number), 0.0, 0.0);
    let [x, y] = half(model, leg).map(|h| h + BEYOND);
    d.outline(plate_outline(model, leg), Pen::Thick);
    d.line([-x, 0.0], [x, 0.0], Pen::Centre);
    d.line([0.0, -y], [0.0, y], Pen::Centre);
    design(model, leg).sockets.iter().for_each(|s| d.outline(boss(leg, s), Pen::Thin));
    let holes = numbered(model, leg);
    let mark = holes.iter().any(|h| h.plate.slot > 0.0);
    holes.iter().for_each(|h| hole(&mut d, model, leg, h, mark));
    d
}

/// Where a leaning boss meets the plate.
fn boss(leg: &Leg, s: &Socket) -> Vec<Point> {
    let r = s.outer / 2.0;
    let count = 4 * QUARTER;
    let along = |a: f64| {
        let flat = [r * a.cos(), r * a.sin()];
        let tilt = s.axis[0].hypot(s.axis[1]);
        let unit = if tilt > 0.0 { [s.axis[0] / tilt, s.axis[1] / tilt] } else { [1.0, 0.0] };
        let stretch = (flat[0] * unit[0] + flat[1] * unit[1]) * (1.0 / s.axis[2] - 1.0);
        seen(leg, [s.base[0] + flat[0] + unit[0] * stretch, s.base[1] + flat[1] + unit[1] * stretch])
    };
    (0..count).map(|i| along(i as f64 / count as f64 * std::f64::consts::TAU)).collect()
}

fn hole(d: &mut Drawing, model: &Model, leg: &Leg, h: &Numbered, mark: bool) {
    let at = seen(leg, h.plate.at);
    let clear = design(model, leg).hole.clear;
    let pen = if h.hole.spare { Pen::Dashed } else { Pen::Thick };
    d.circle(at, h.hole.pilot / 2.0, pen);
    d.cross(at, CROSS, Pen::Thin);
    d.outline(slot(leg, &h.plate, clear), if h.hole.spare { Pen::Dashed } else { Pen::Thin });
    let fixed = mark && h.plate.slot == 0.0 && !h.hole.spare;
    let words = if fixed { format!("{} {FIXED_MARK}", h.number) } else { h.number.clone() };
    let edge = half(model, leg)[0];
    let width = font::width(&words, FIGURES) + NUMBER_GAP[0] + 1.0;
    let outward = if at[0] < 0.0 { -1.0 } else { 1.0 };
    let side = if at[0].abs() + width < edge { outward } else { -outward };
    let anchor = if side < 0.0 { Anchor::Right } else { Anchor::Left };
    d.text([at[0] + side * NUMBER_GAP[0], at[1] + NUMBER_GAP[1]], FIGURES, anchor, &words);
}

/// The clear hole of the plate; a slot is drawn out along its direction.
fn slot(leg: &Leg, hole: &ScrewHole, clear: f64) -> Vec<Point> {
    let count = 2 * QUARTER;
    let half_turn = |from: f64, sign: f64| {
        (0..=count).map(move |i| {
            let a = from + i as f64 / count as f64 * std::f64::consts::PI;
            let (along, across) = (sign * hole.slot / 2.0 + clear / 2.0 * a.cos(), clear / 2.0 * a.sin());
            let by = if hole.along_x { [along, across] } else { [across, along] };
            seen(leg, [hole.at[0] + by[0], hole.at[1] + by[1]])
        })
    };
    let quarter = std::f64::consts::FRAC_PI_2;
    half_turn(-quarter, 1.0).chain(half_turn(quarter, -1.0)).collect()
}

/// The whole template with its words, from the origin.
#[must_use]
pub fn template(model: &Model, leg: &Leg) -> Drawing {
    let [x, y] = half(model, leg).map(|h| h + MARGIN);
    let width = (2.0 * x).max(LEAST_WIDTH);
    let [capital, line] = WORDS;
    let words: Vec<String> =
        facts(model, leg).iter().flat_map(|f| font::wrap(f, capital, width - GRAIN_BOX - 10.0)).collect();
    let block = (words.len() as f64 * line + 9.0).max(GRAIN_BOX + 2.0);
    let title = format!("Leg {}: drilling template, bracket {}", leg.number, model.brackets[leg.bracket.kind].mark);
    let mut d = Drawing::new(&title, width, 2.0 * y + block);
    let cross = [width / 2.0, block + y];
    d.place(&pattern(model, leg), 1.0, cross);
    d.text([cross[0] + 2.0, cross[1] + 2.0], 5.0, Anchor::Left, &format!("LEG {}", leg.number));
    edge_words(&mut d, model, leg, cross);
    d.text([0.0, block - 7.0], 5.0, Anchor::Left, &format!("LEG {}", leg.number));
    for (i, words) in words.iter().enumerate() {
        d.text([0.0, block - 12.0 - i as f64 * line], capital, Anchor::Left, words);
    }
    grain(&mut d, model, [width - GRAIN_BOX / 2.0, block - GRAIN_BOX / 2.0 - 1.0], GRAIN_BOX - 4.0);
    d
}

/// Arrows from the centre lines towards the two edges of the top that the cross is measured from.
fn edge_words(d: &mut Drawing, model: &Model, leg: &Leg, cross: Point) {
    let reference = Reference::of(leg);
    let head = [leg.frame.head.x, leg.frame.head.y];
    let ([along, across], [end, side]) = (reference.distances(model, head), reference.names(model));
    let half = half(model, leg);
    let toward = below(reference.signs);
    let tip = [cross[0] + toward[0] * (half[0] + BEYOND + 2.5), cross[1]];
    arrow(d, [tip[0] - toward[0] * 5.0, tip[1]], tip);
    let turn = std::f64::consts::FRAC_PI_2;
    let words = format!("{} to the {end}", both(along));
    let at = [cross[0] + toward[0] * (half[0] + 3.5) + 1.0, cross[1] + 4.0];
    d.turned_text(at, font::fitted(&words, EDGE_WORDS, half[1] - 4.0), Anchor::Left, turn, &words);
    let tip = [cross[0], cross[1] + toward[1] * (half[1] + BEYOND + 2.5)];
    arrow(d, [tip[0], tip[1] - toward[1] * 5.0], tip);
    let words = format!("{} to the {side}", both(across));
    let at = [cross[0] + 4.0, cross[1] + toward[1] * (half[1] + 4.5) - 1.0];
    d.text(at, font::fitted(&words, EDGE_WORDS, half[0] - 4.0), Anchor::Left, &words);
}

/// Millimetres with inches behind.
#[must_use]
pub fn both(mm: f64) -> String {
    format!("{} mm ({})", num(mm, 1), inch_32(mm))
}

/// What must be known at the bench.
fn facts(model: &Model, leg: &Leg) -> Vec<String> {
    let screw = &model.params.bracket.screws.screw;
    let gravity = model.params.top.wood.specific_gravity;
    let head = [leg.frame.head.x, leg.frame.head.y];
    let reference = Reference::of(leg);
    let ([along, across], [end, side]) = (reference.distances(model, head), reference.names(model));
    let left = model.left_above_tip(leg);
    let mut lines = vec![
        SEEN.to_owned(),
        format!(
            "Lay the centre lines on the pencil cross: {} from the {end}, {} from the {side}.",
            both(along),
            both(across)
        ),
        format!(
            "Bit {} or {}. Depth {} into the wood and not more: {} stay above the screw's tip (top {} thick here).",
            screw.pilot_mm(gravity).name,
            screw.pilot_inch(gravity).name,
            both(model.penetration()),
            both(left),
            both(leg.thickness)
        ),
        guide_words(model, leg),
    ];
    let design = design(model, leg);
    if design.screws.iter().any(|s| s.slot > 0.0) {
        lines.push(format!(
            "{FIXED_MARK}: fixed group, round holes, driven home first. The others are slots across the grain: the wood \
            may move under them; pilots are in the slots' middles."
        ));
    }
    if !design.spare.is_empty() {
        lines.push("S, dashed: holes for a later repair; do not drill them now.".to_owned());
    }
    lines
}

fn guide_words(model: &Model, leg: &Leg) -> String {
    let guide = model.guides.iter().find(|g| g.legs.contains(&leg.number));
    guide.map_or_else(String::new, |g| {
        format!(
            "Drill guide {} stops the chuck at this depth when the bit stands out {} mm.",
            g.mark,
            num(g.design.stick_out, 1)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model() -> Model {
        Model::new(&crate::params::read(crate::params::built_in()).unwrap()).unwrap()
    }

    /// A half turn about the y axis lays the top on its show face; what is then seen from above is the paper.
    #[test]
    fn paper_lies_on_the_upturned_top() {
        let model = model();
        let over = nalgebra::Rotation3::from_axis_angle(&nalgebra::Vector3::y_axis(), std::f64::consts::PI);
        for leg in &model.legs {
            let head = over * leg.frame.head;
            for h in numbered(&model, leg) {
                let turned = over * nalgebra::Vector3::new(h.hole.at[0], h.hole.at[1], leg.frame.head.z);
                let paper = seen(leg, h.plate.at);
                assert!((turned.x - head.x - paper[0]).abs() < 1e-9 && (turned.y - head.y - paper[1]).abs() < 1e-9);
            }
        }
    }

    /// Leg 1 stands at -x -y; on the upturned top its corner is at the right in front, and so is its outermost hole.
    #[test]
    fn the_hole_nearest_to_the_corner_of_leg_1_is_at_the_lower_right() {
        let model = model();
        let leg = &model.legs[0];
        let corner = |h: &Numbered| -(h.hole.at[0] + h.hole.at[1]);
        let holes = numbered(&model, leg);
        let nearest = holes.iter().max_by(|a, b| corner(a).total_cmp(&corner(b))).unwrap();
        let [x, y] = seen(leg, nearest.plate.at);
        assert!(x > 0.0 && y < 0.0, "{x} {y}");
    }

    #[test]
    fn a_rounded_rectangle_has_its_size() {
        let ring = rounded(100.0, 60.0, 8.0);
        let most = |k: usize| ring.iter().map(|p| p[k]).fold(0.0, f64::max);
        assert!((most(0) - 50.0).abs() < 1e-12 && (most(1) - 30.0).abs() < 1e-12);
        // Straight edges and quarter circles: 100 x 60 less four corner squares, plus a circle of radius 8.
        let area: f64 =
            ring.iter().zip(ring.iter().cycle().skip(1)).map(|(p, q)| (p[0] * q[1] - q[0] * p[1]) / 2.0).sum();
        assert!((area - (6000.0 - 256.0 + std::f64::consts::PI * 64.0)).abs() < 1.0, "{area}");
    }

    #[test]
    fn every_hole_has_its_circle() {
        let model = model();
        for leg in &model.legs {
            let circles = pattern(&model, leg).items;
            let count = circles.iter().filter(|i| matches!(i, crate::formats::drawing::Item::Circle { .. })).count();
            assert_eq!(count, numbered(&model, leg).len());
        }
    }
}

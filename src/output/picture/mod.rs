//! Still pictures of meshes: outlines and creases, hidden lines left out, light and dark areas.
//!
//! Each edge that can matter is cut into short steps, and each step is tested against the triangles in front of it; the
//! place where an edge dives behind something is then found by halving. No buffer limits how exact the lines are.

mod hiding;
mod skin;

use super::chain::{Chain, chains};
use super::tones::Tones;
use crate::formats::drawing::{Drawing, Item, Pen, Point, Shade};
use hiding::{Front, Grid};
use skin::Skin;

/// A point or direction in space.
type Space = [f64; 3];

/// Points nearer than this are one, mm: above what boolean operations leave, far below anything that prints.
const WELD: f64 = 1e-3;

/// A surface must be this much nearer to hide a line, mm in the model: chord errors of parts that touch stay below.
const NEARER: f64 = 0.05;

/// Lines shorter than this are left out, mm on paper: less than the width of the thin pen.
const SHORTEST: f64 = 0.15;

/// Points within this of a line are left out, mm on paper.
const SIMPLE: f64 = 0.02;

/// Room around a picture, mm on paper: more than half the thick pen.
const ROOM: f64 = 1.0;

/// Where the light comes from: right, up, towards the viewer. Judgement: from the upper left, as drawings are shaded.
const LIGHT: Space = [-0.45, 0.65, 0.61];

/// Where the viewer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum View {
    /// From above: x to the right, y up.
    Top,
    /// From -y: x to the right, z up.
    Front,
    /// From +x: y to the right, z up.
    Side,
    /// From +x, -y and above, at equal angles to all three axes.
    Isometric,
}

/// A closed body as triangles, counter-clockwise seen from outside; lengths mm.
#[derive(Clone, Copy, Debug)]
pub struct Body<'a> {
    /// Corners.
    pub points: &'a [[f64; 3]],
    /// Three corner numbers for each triangle; triangles that name a missing corner are left out.
    pub triangles: &'a [[usize; 3]],
}

/// How points in space come onto the paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    axes: [Space; 3],
    scale: f64,
    shift: Point,
    size: [f64; 2],
}

impl View {
    /// Directions of right, up and towards the viewer.
    const fn axes(self) -> [Space; 3] {
        const HALF: f64 = std::f64::consts::FRAC_1_SQRT_2;
        const SIXTH: f64 = 0.408_248_290_463_863;
        const THIRD: f64 = 0.577_350_269_189_625_8;
        match self {
            Self::Top => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Self::Front => [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]],
            Self::Side => [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]],
            Self::Isometric => [[HALF, HALF, 0.0], [-SIXTH, SIXTH, 2.0 * SIXTH], [THIRD, -THIRD, THIRD]],
        }
    }
}

impl Frame {
    /// The frame of a picture of these bodies at `scale` (1 is true size), the picture's lower left corner at the origin.
    #[must_use]
    pub fn new(bodies: &[Body], view: View, scale: f64) -> Self {
        let axes = view.axes();
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for p in bodies.iter().flat_map(|b| b.points) {
            for i in 0..2 {
                let x = dot(axes[i], *p) * scale;
                (low[i], high[i]) = (low[i].min(x), high[i].max(x));
            }
        }
        let empty = low[0] > high[0];
        let low = if empty { [0.0; 2] } else { low };
        let size = [0, 1].map(|i| if empty { 0.0 } else { high[i] - low[i] } + 2.0 * ROOM);
        Self { axes, scale, shift: low.map(|l| ROOM - l), size }
    }

    /// Where a point in space lies on the picture, mm.
    #[must_use]
    pub fn at(&self, p: [f64; 3]) -> Point {
        let [x, y, _] = self.seen(p);
        [x, y]
    }

    /// Width and height of the picture, mm.
    #[must_use]
    pub const fn size(&self) -> [f64; 2] {
        self.size
    }

    /// Place on the picture and nearness to the viewer, mm on paper.
    fn seen(&self, p: Space) -> Space {
        let [x, y, z] = self.axes.map(|a| dot(a, p) * self.scale);
        [x + self.shift[0], y + self.shift[1], z]
    }
}

/// A picture of bodies together, at `scale` (1 is true size); `shaded` adds light and dark areas under the lines.
///
/// Outlines are thick, creases thin. [`Frame::new`] with the same arguments tells where a point in space is drawn.
#[must_use]
pub fn picture(title: &str, bodies: &[Body], view: View, scale: f64, shaded: bool) -> Drawing {
    let frame = Frame::new(bodies, view, scale);
    let skins: Vec<Skin> = bodies.iter().map(|b| Skin::new(b, &frame)).collect();
    let mut drawing = Drawing::new(title, frame.size[0], frame.size[1]);
    if shaded {
        drawing.items.extend(areas(&skins, frame.size));
    }
    let fronts: Vec<Front> = skins.iter().flat_map(Skin::fronts).collect();
    let grid = Grid::new(fronts, frame.size, NEARER * scale);
    for pen in [Pen::Thin, Pen::Thick] {
        let edges = skins.iter().flat_map(|s| s.edges(pen));
        let visible: Vec<[Point; 2]> = edges.flat_map(|e| grid.visible(e)).collect();
        let lines = chains(&visible, SIMPLE).into_iter().filter(|c| length(c) >= SHORTEST);
        drawing.items.extend(lines.map(|c| Item::Line { points: c.points, closed: c.closed, pen }));
    }
    drawing
}

/// Light and dark areas of all bodies.
fn areas(skins: &[Skin], size: [f64; 2]) -> Vec<Item> {
    let mut tones = Tones::new(size);
    for skin in skins {
        for (n, t) in skin.triangles.iter().enumerate().filter(|(n, _)| skin.faces_us(*n)) {
            tones.cover(t.map(|i| skin.points[i]), tone(skin.normals[n]));
        }
    }
    tones.areas()
}

/// Which of [`Shade::FACES`] a face has: in equal steps of the cosine between it and the light.
fn tone(normal: Space) -> u8 {
    let steps = Shade::FACES.len() as f64;
    (dot(normal, LIGHT).clamp(0.0, 1.0) * steps).min(steps - 1.0) as u8
}

fn length(chain: &Chain) -> f64 {
    let ends = if chain.closed { chain.points.len() } else { chain.points.len().saturating_sub(1) };
    let next = chain.points.iter().cycle().skip(1);
    chain.points.iter().zip(next).take(ends).map(|(a, b)| (b[0] - a[0]).hypot(b[1] - a[1])).sum()
}

fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn sub(a: Space, b: Space) -> Space {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn cross(a: Space, b: Space) -> Space {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

#[cfg(test)]
mod tests;

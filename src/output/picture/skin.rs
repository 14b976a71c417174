//! A body as it is seen: which triangles face the viewer, which sides are outlines and which creases.

use std::collections::BTreeMap;

use super::hiding::Front;
use super::{Body, Frame, Space, WELD, cross, dot, sub};
use crate::formats::drawing::Pen;

/// Faces that meet at a greater angle than this, degrees, show their edge. Judgement: above the angle between two facets
/// of a round of 16 sides, below the 30 degrees of the flattest chamfer here.
const CREASE: f64 = 25.0;

/// A triangle lower than this has no direction of its own, mm: twice what welding may move a corner.
const FLAT: f64 = 2.0 * WELD;

/// Cosine between a face and the view below which the face is seen edge-on: half a degree.
const EDGE_ON: f64 = 0.008_7;

/// A body as it is seen: points on paper, triangles with the direction they face.
pub(super) struct Skin {
    pub(super) points: Vec<Space>,
    pub(super) triangles: Vec<[usize; 3]>,
    /// Unit normals as right, up, towards the viewer; zero where a triangle has none.
    pub(super) normals: Vec<Space>,
    /// Sides of triangles: lower corner, higher corner, triangle; sorted.
    pub(super) sides: Vec<(usize, usize, usize)>,
}

impl Skin {
    pub(super) fn new(body: &Body, frame: &Frame) -> Self {
        let (points, names) = welded(body.points);
        let known = |t: &&[usize; 3]| t.iter().all(|&i| i < names.len());
        let triangles = body.triangles.iter().filter(known).map(|t| t.map(|i| names[i]));
        let triangles: Vec<_> = triangles.filter(|t| t[0] != t[1] && t[1] != t[2] && t[2] != t[0]).collect();
        let mut sides = Vec::with_capacity(3 * triangles.len());
        for (n, t) in triangles.iter().enumerate() {
            sides.extend([[t[0], t[1]], [t[1], t[2]], [t[2], t[0]]].map(|[a, b]| (a.min(b), a.max(b), n)));
        }
        sides.sort_unstable();
        let normals = triangles.iter().map(|t| normal(t.map(|i| points[i]), &frame.axes)).collect();
        let points = points.into_iter().map(|p| frame.seen(p)).collect();
        let mut skin = Self { points, triangles, normals, sides };
        skin.lend_normals();
        skin
    }

    /// A triangle without height takes the direction of its neighbour at the longest side, as if it were part of it.
    fn lend_normals(&mut self) {
        // A few rounds, because the neighbour may be as thin; what stays without direction shows no crease.
        for _ in 0..3 {
            for n in (0..self.triangles.len()).filter(|&n| self.normals[n] == [0.0; 3]).collect::<Vec<_>>() {
                let (a, b) = self.longest_side(n);
                let lender = self.around(a, b).iter().map(|s| s.2).find(|&m| m != n);
                self.normals[n] = lender.map_or([0.0; 3], |m| self.normals[m]);
            }
        }
    }

    fn longest_side(&self, n: usize) -> (usize, usize) {
        let [a, b, c] = self.triangles[n];
        let far = |i: usize, j: usize| {
            let d = sub(self.points[i], self.points[j]);
            dot(d, d)
        };
        let sides = [(a, b), (b, c), (c, a)];
        let best = sides.into_iter().max_by(|x, y| far(x.0, x.1).total_cmp(&far(y.0, y.1))).unwrap_or((a, b));
        (best.0.min(best.1), best.0.max(best.1))
    }

    /// All sides between two corners.
    fn around(&self, a: usize, b: usize) -> &[(usize, usize, usize)] {
        let start = self.sides.partition_point(|s| (s.0, s.1) < (a, b));
        let end = self.sides.partition_point(|s| (s.0, s.1) <= (a, b));
        &self.sides[start..end]
    }

    pub(super) fn faces_us(&self, n: usize) -> bool {
        self.normals[n][2] > EDGE_ON
    }

    /// Edges for a pen: outlines (one side turned away) thick, creases thin.
    pub(super) fn edges(&self, pen: Pen) -> Vec<[Space; 2]> {
        let same = |a: &(usize, usize, usize), b: &(usize, usize, usize)| (a.0, a.1) == (b.0, b.1);
        let wanted = self.sides.chunk_by(same).filter(|sides| self.pen_of(sides) == Some(pen));
        wanted.map(|sides| [self.points[sides[0].0], self.points[sides[0].1]]).collect()
    }

    fn pen_of(&self, sides: &[(usize, usize, usize)]) -> Option<Pen> {
        let front = sides.iter().filter(|s| self.faces_us(s.2)).count();
        if front == 0 {
            return None;
        }
        if front < sides.len() || sides.len() == 1 {
            return Some(Pen::Thick);
        }
        let [first, second] = [self.normals[sides[0].2], self.normals[sides[1].2]];
        (sides.len() > 2 || dot(first, second) < CREASE.to_radians().cos()).then_some(Pen::Thin)
    }

    /// The triangles that can hide something.
    pub(super) fn fronts(&self) -> impl Iterator<Item = Front> + '_ {
        let facing = (0..self.triangles.len()).filter(|&n| self.faces_us(n));
        facing.filter_map(|n| Front::new(self.triangles[n].map(|i| self.points[i])))
    }
}

/// Points without repeats, and for each old point its new number.
fn welded(points: &[Space]) -> (Vec<Space>, Vec<usize>) {
    let mut kept = Vec::new();
    let mut numbers: BTreeMap<[i64; 3], usize> = BTreeMap::new();
    let mut names = Vec::with_capacity(points.len());
    for p in points {
        let name = *numbers.entry(p.map(|x| (x / WELD).round() as i64)).or_insert_with(|| {
            kept.push(*p);
            kept.len() - 1
        });
        names.push(name);
    }
    (kept, names)
}

/// Unit normal of a triangle along right, up and towards the viewer; zero for one without height.
fn normal(p: [Space; 3], axes: &[Space; 3]) -> Space {
    let [u, v, w] = [sub(p[1], p[0]), sub(p[2], p[0]), sub(p[2], p[1])];
    let n = cross(u, v);
    let (twice_area, longest) = (dot(n, n).sqrt(), [u, v, w].map(|s| dot(s, s)).into_iter().fold(0.0, f64::max).sqrt());
    if twice_area <= FLAT * longest { [0.0; 3] } else { axes.map(|a| dot(a, n) / twice_area) }
}

//! Still pictures of meshes: outlines and creases, hidden lines left out, light and dark areas.
//!
//! Each edge that can matter is cut into short steps, and each step is tested against the triangles in front of it; the
//! place where an edge dives behind something is then found by halving. No buffer limits how exact the lines are.

use super::chain::{Chain, chains};
use super::tones::Tones;
use crate::formats::drawing::{Drawing, Item, Pen, Point, Shade};
use std::collections::BTreeMap;

/// A point or direction in space.
type Space = [f64; 3];

/// Faces that meet at a greater angle than this, degrees, show their edge. Judgement: above the angle between two facets
/// of a round of 16 sides, below the 30 degrees of the flattest chamfer here.
const CREASE: f64 = 25.0;

/// Points nearer than this are one, mm: above what boolean operations leave, far below anything that prints.
const WELD: f64 = 1e-3;

/// A triangle lower than this has no direction of its own, mm: twice what welding may move a corner.
const FLAT: f64 = 2.0 * WELD;

/// Cosine between a face and the view below which the face is seen edge-on: half a degree.
const EDGE_ON: f64 = 0.008_7;

/// Steps along an edge, mm on paper: nothing narrower than this can hide a line unseen.
const STEP: f64 = 0.4;

/// Halvings of a step: leaves 0.4 / 2^7 = 0.003 mm.
const HALVINGS: usize = 7;

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

/// A body as it is seen: points on paper, triangles with the direction they face.
struct Skin {
    points: Vec<Space>,
    triangles: Vec<[usize; 3]>,
    /// Unit normals as right, up, towards the viewer; zero where a triangle has none.
    normals: Vec<Space>,
    /// Sides of triangles: lower corner, higher corner, triangle; sorted.
    sides: Vec<(usize, usize, usize)>,
}

impl Skin {
    fn new(body: &Body, frame: &Frame) -> Self {
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

    fn faces_us(&self, n: usize) -> bool {
        self.normals[n][2] > EDGE_ON
    }

    /// Edges for a pen: outlines (one side turned away) thick, creases thin.
    fn edges(&self, pen: Pen) -> Vec<[Space; 2]> {
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
    fn fronts(&self) -> impl Iterator<Item = Front> + '_ {
        let facing = (0..self.triangles.len()).filter(|&n| self.faces_us(n));
        facing.filter_map(|n| Front::new(self.triangles[n].map(|i| self.points[i])))
    }
}

/// A triangle turned to the viewer, ready to be asked whether it hides a point.
struct Front {
    /// First corner.
    origin: Space,
    /// Slope of nearness along x and y.
    slope: Point,
    /// Inward unit normals of the three sides and their offsets.
    sides: [[f64; 3]; 3],
    /// Lower left and upper right corner.
    bounds: [Point; 2],
}

impl Front {
    /// `None` when it is seen edge-on.
    fn new(p: [Space; 3]) -> Option<Self> {
        let [u, v] = [sub(p[1], p[0]), sub(p[2], p[0])];
        let n = cross(u, v);
        if n[2] <= f64::EPSILON {
            return None;
        }
        let sides = [[p[0], p[1]], [p[1], p[2]], [p[2], p[0]]].map(|[a, b]| {
            let length = (b[0] - a[0]).hypot(b[1] - a[1]).max(f64::MIN_POSITIVE);
            let inward = [(a[1] - b[1]) / length, (b[0] - a[0]) / length];
            [inward[0], inward[1], inward[0] * a[0] + inward[1] * a[1]]
        });
        let span = |pick: fn(f64, f64) -> f64| [0, 1].map(|i| pick(pick(p[0][i], p[1][i]), p[2][i]));
        let bounds = [span(f64::min), span(f64::max)];
        Some(Self { origin: p[0], slope: [-n[0] / n[2], -n[1] / n[2]], sides, bounds })
    }

    /// Whether it lies more than `nearer` in front of a point; its border counts as part of it.
    fn hides(&self, p: Space, nearer: f64) -> bool {
        let inside = self.sides.iter().all(|s| s[0] * p[0] + s[1] * p[1] - s[2] >= -WELD);
        let here = self.slope[0] * (p[0] - self.origin[0]) + self.slope[1] * (p[1] - self.origin[1]) + self.origin[2];
        // A steep face is uncertain by as much as the border is wide.
        let steep = (self.slope[0].abs() + self.slope[1].abs()) * WELD;
        inside && here > p[2] + nearer + 2.0 * steep
    }
}

/// The triangles that can hide something, by where they lie on the picture.
struct Grid {
    fronts: Vec<Front>,
    nearer: f64,
    /// Cells across and up, and cells in one mm.
    count: [usize; 2],
    per_mm: Point,
    /// For each cell the start of its list, and one more for the end.
    starts: Vec<usize>,
    lists: Vec<u32>,
}

impl Grid {
    fn new(fronts: Vec<Front>, size: [f64; 2], nearer: f64) -> Self {
        // As many cells as triangles, so that few share one; the bounds keep memory and empty work small.
        let across = (fronts.len() as f64).sqrt().clamp(4.0, 256.0) as usize;
        let count = [across, across];
        let per_mm = [0, 1].map(|i| count[i] as f64 / size[i]);
        let mut grid = Self { fronts, nearer, count, per_mm, starts: vec![0; across * across + 1], lists: Vec::new() };
        let cells: Vec<Vec<usize>> = grid.fronts.iter().map(|f| grid.cells(f)).collect();
        cells.iter().flatten().for_each(|&c| grid.starts[c + 1] += 1);
        for i in 1..grid.starts.len() {
            grid.starts[i] += grid.starts[i - 1];
        }
        let mut next = grid.starts.clone();
        grid.lists = vec![0; next[across * across]];
        for (n, &cell) in cells.iter().enumerate().flat_map(|(n, list)| list.iter().map(move |c| (n, c))) {
            grid.lists[next[cell]] = n as u32;
            next[cell] += 1;
        }
        grid
    }

    fn column(&self, axis: usize, x: f64) -> usize {
        ((x * self.per_mm[axis]).max(0.0) as usize).min(self.count[axis] - 1)
    }

    /// Cells that a triangle touches, its border included.
    fn cells(&self, front: &Front) -> Vec<usize> {
        let [low, high] = front.bounds;
        let span = |i: usize| self.column(i, low[i] - WELD)..=self.column(i, high[i] + WELD);
        span(1).flat_map(|y| span(0).map(move |x| y * self.count[0] + x)).collect()
    }

    fn hidden(&self, p: Space) -> bool {
        let cell = self.column(1, p[1]) * self.count[0] + self.column(0, p[0]);
        let list = &self.lists[self.starts[cell]..self.starts[cell + 1]];
        list.iter().any(|&n| self.fronts[n as usize].hides(p, self.nearer))
    }

    /// The parts of an edge that nothing hides.
    fn visible(&self, edge: [Space; 2]) -> Vec<[Point; 2]> {
        let [a, b] = edge;
        let at = |t: f64| [0, 1, 2].map(|i| a[i] + t * (b[i] - a[i]));
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        if length < WELD {
            return Vec::new();
        }
        // Middles of the steps are tested: at corners too much meets to tell.
        let steps = (length / STEP).ceil().max(3.0) as usize;
        let middle = |i: usize| (i as f64 + 0.5) / steps as f64;
        let hidden: Vec<bool> = (0..steps).map(|i| self.hidden(at(middle(i)))).collect();
        let mut cuts = vec![0.0];
        for i in (1..steps).filter(|&i| hidden[i] != hidden[i - 1]) {
            cuts.push(self.border(&at, middle(i - 1), middle(i), hidden[i - 1]));
        }
        cuts.push(1.0);
        let first = usize::from(hidden[0]);
        let flat = |t: f64| [at(t)[0], at(t)[1]];
        (first..cuts.len() - 1).step_by(2).map(|i| [flat(cuts[i]), flat(cuts[i + 1])]).collect()
    }

    /// Where between two places an edge changes from hidden to visible or back.
    fn border(&self, at: &impl Fn(f64) -> Space, mut low: f64, mut high: f64, hidden_low: bool) -> f64 {
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if self.hidden(at(middle)) == hidden_low {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }
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
mod tests {
    use super::*;

    /// A mesh that owns its lists.
    struct Mesh(Vec<Space>, Vec<[usize; 3]>);

    impl Mesh {
        fn body(&self) -> Body<'_> {
            Body { points: &self.0, triangles: &self.1 }
        }

        fn quad(&mut self, [a, b, c, d]: [usize; 4]) {
            self.1.extend([[a, b, c], [a, c, d]]);
        }
    }

    fn block(low: Space, high: Space) -> Mesh {
        let corner = |i: usize| [[low[0], high[0]][i & 1], [low[1], high[1]][i >> 1 & 1], [low[2], high[2]][i >> 2]];
        let mut mesh = Mesh((0..8).map(corner).collect(), Vec::new());
        for quad in [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]] {
            mesh.quad(quad);
        }
        mesh
    }

    /// A square plate, 40 x 40 x `t`, with a bore of 10 mm radius in its middle, of `n` sides; `n` is 4 more than a multiple
    /// of 8, so that one point of the outline lies in each corner.
    fn bored_plate(t: f64, n: usize) -> Mesh {
        let mut mesh = Mesh(Vec::new(), Vec::new());
        for z in [0.0, t] {
            for radius in [10.0, 20.0] {
                for i in 0..n {
                    let (s, c) = ((i as f64 + 0.5) / n as f64 * std::f64::consts::TAU).sin_cos();
                    let k = if radius > 15.0 { 20.0 / s.abs().max(c.abs()) } else { radius };
                    mesh.0.push([k * c, k * s, z]);
                }
            }
        }
        for i in 0..n {
            let j = (i + 1) % n;
            let [inner, outer, top_in, top_out] = [0, n, 2 * n, 3 * n];
            mesh.quad([top_in + i, top_out + i, top_out + j, top_in + j]);
            mesh.quad([inner + j, outer + j, outer + i, inner + i]);
            mesh.quad([outer + i, outer + j, top_out + j, top_out + i]);
            mesh.quad([inner + j, inner + i, top_in + i, top_in + j]);
        }
        mesh
    }

    fn lines(d: &Drawing, pen: Pen) -> Vec<(&[Point], bool)> {
        let of_pen = d.items.iter().filter_map(|i| match i {
            Item::Line { points, closed, pen: p } if *p == pen => Some((&points[..], *closed)),
            _ => None,
        });
        of_pen.collect()
    }

    fn drawn(d: &Drawing) -> f64 {
        let both = [Pen::Thick, Pen::Thin].into_iter().flat_map(|p| lines(d, p));
        both.map(|(points, closed)| length(&Chain { points: points.to_vec(), closed })).sum()
    }

    /// Of the twelve edges of a cube three are hidden; six are its outline. Isometric length: sqrt(2/3) of the true one.
    #[test]
    fn a_cube_shows_nine_edges() {
        let cube = block([0.0; 3], [30.0; 3]);
        let d = picture("cube", &[cube.body()], View::Isometric, 1.0, false);
        assert_eq!((lines(&d, Pen::Thick).len(), lines(&d, Pen::Thin).len()), (6, 3));
        assert!((drawn(&d) - 9.0 * 30.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-6);
    }

    #[test]
    fn a_block_seen_along_an_axis_is_a_rectangle() {
        let b = block([0.0; 3], [30.0, 20.0, 10.0]);
        for (view, around) in [(View::Top, 100.0), (View::Front, 80.0), (View::Side, 60.0)] {
            let d = picture("block", &[b.body()], view, 1.0, false);
            assert_eq!(d.items.len(), 4, "{view:?}");
            assert!((drawn(&d) - around).abs() < 1e-6, "{view:?}");
        }
    }

    /// From above: four sides and one ring of radius 10; the lower rim is hidden behind the upper one.
    #[test]
    fn a_bored_plate_from_above_has_one_ring() {
        let d = picture("plate", &[bored_plate(8.0, 60).body()], View::Top, 1.0, false);
        let thick = lines(&d, Pen::Thick);
        let rings: Vec<_> = thick.iter().filter(|l| l.1).collect();
        assert_eq!((thick.len(), rings.len(), lines(&d, Pen::Thin).len()), (5, 1, 0));
        let centre = Frame::new(&[bored_plate(8.0, 60).body()], View::Top, 1.0).at([0.0; 3]);
        assert!(rings[0].0.iter().all(|p| ((p[0] - centre[0]).hypot(p[1] - centre[1]) - 10.0).abs() < 1e-9));
    }

    /// Isometric: nine edges of the plate, the upper rim, and the part of the lower rim that shows through the bore.
    #[test]
    fn a_bored_plate_shows_the_far_rim_through_the_bore() {
        let thin_plate = picture("plate", &[bored_plate(4.0, 124).body()], View::Isometric, 1.0, false);
        let thick_plate = picture("plate", &[bored_plate(40.0, 124).body()], View::Isometric, 1.0, false);
        let plate_edges = |t: f64| (6.0 * 40.0 + 3.0 * t) * (2.0_f64 / 3.0).sqrt();
        // An ellipse with half axes 10 and 10/sqrt(3): perimeter by Ramanujan's second formula, good to 1e-5 here.
        let (a, b) = (10.0, 10.0 / 3.0_f64.sqrt());
        let h = ((a - b) / (a + b)) * ((a - b) / (a + b));
        let rim = std::f64::consts::PI * (a + b) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h).sqrt()));
        assert!((drawn(&thick_plate) - plate_edges(40.0) - rim).abs() < 0.1, "far rim out of sight");
        // The lower rim is the upper one moved down by 4 sqrt(2/3); what lies inside the upper ellipse shows. The two cross
        // at half the move above the lower one's middle, at the angle asin(2 sqrt(2/3) / b) on either side.
        let crossing = (2.0 * (2.0_f64 / 3.0).sqrt() / b).asin();
        let n = 100_000;
        let arc: f64 = (0..n)
            .map(|i| {
                let t = crossing + (std::f64::consts::PI - 2.0 * crossing) * (f64::from(i) + 0.5) / f64::from(n);
                (a * t.sin()).hypot(b * t.cos()) * (std::f64::consts::PI - 2.0 * crossing) / f64::from(n)
            })
            .sum();
        let found = drawn(&thin_plate) - plate_edges(4.0) - rim;
        assert!((found - arc).abs() < 0.2, "{found} for {arc}");
        assert!(thin_plate.items.len() <= 13, "{}", thin_plate.items.len());
    }

    /// A block behind another is hidden; beside it, it is seen.
    #[test]
    fn bodies_hide_each_other() {
        let (near, far) = (block([0.0; 3], [30.0; 3]), block([5.0, 50.0, 5.0], [25.0, 60.0, 25.0]));
        let both = picture("two", &[near.body(), far.body()], View::Front, 1.0, false);
        assert_eq!(both.items.len(), 4);
        let half = block([20.0, 50.0, 5.0], [45.0, 60.0, 25.0]);
        let both = picture("two", &[near.body(), half.body()], View::Front, 1.0, false);
        assert!((drawn(&both) - 120.0 - 20.0 - 2.0 * 15.0).abs() < 0.01, "one end and two sides from x = 30 on");
    }

    /// A round body of many facets is drawn by its outline and rims only, in few lines.
    #[test]
    fn facets_of_a_round_do_not_show() {
        let plate = bored_plate(8.0, 404);
        let d = picture("plate", &[plate.body()], View::Isometric, 1.0, true);
        let count = lines(&d, Pen::Thick).len() + lines(&d, Pen::Thin).len();
        assert!(count <= 13, "{count}");
        assert!(d.items.iter().any(|i| matches!(i, Item::Fill { .. })));
    }

    #[test]
    fn an_empty_picture_is_empty() {
        let d = picture("none", &[], View::Top, 1.0, true);
        assert!(d.items.is_empty() && d.width.is_finite());
        let broken = Mesh(vec![[0.0; 3]], vec![[0, 1, 2]]);
        assert!(picture("none", &[broken.body()], View::Top, 1.0, true).items.is_empty());
    }
}

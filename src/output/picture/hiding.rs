//! What hides what: triangles turned to the viewer, and the parts of an edge that none of them covers.

use super::{Space, WELD, cross, sub};
use crate::formats::drawing::Point;

/// Steps along an edge, mm on paper: nothing narrower than this can hide a line unseen.
const STEP: f64 = 0.4;

/// Halvings of a step: leaves 0.4 / 2^7 = 0.003 mm.
const HALVINGS: usize = 7;

/// A triangle turned to the viewer, ready to be asked whether it hides a point.
pub(super) struct Front {
    /// First corner.
    origin: Space,
    /// Slope of nearness along x and y.
    slope: Point,
    /// Inward unit normals of the three sides and their offsets.
    pub(super) sides: [[f64; 3]; 3],
    /// Lower left and upper right corner.
    bounds: [Point; 2],
    /// Nearness of the nearest corner.
    nearest: f64,
}

impl Front {
    /// `None` when it is seen edge-on.
    pub(super) fn new(p: [Space; 3]) -> Option<Self> {
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
        let nearest = p[0][2].max(p[1][2]).max(p[2][2]);
        Some(Self { origin: p[0], slope: [-n[0] / n[2], -n[1] / n[2]], sides, bounds, nearest })
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
pub(super) struct Grid {
    pub(super) fronts: Vec<Front>,
    nearer: f64,
    /// Cells across and up, and cells in one mm.
    pub(super) count: [usize; 2],
    per_mm: Point,
    /// For each cell the start of its list, which has the nearest first, and one more for the end.
    starts: Vec<usize>,
    lists: Vec<u32>,
}

impl Grid {
    pub(super) fn new(mut fronts: Vec<Front>, size: [f64; 2], nearer: f64) -> Self {
        fronts.sort_by(|a, b| b.nearest.total_cmp(&a.nearest));
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
        let fronts = list.iter().map(|&n| &self.fronts[n as usize]);
        fronts.take_while(|front| front.nearest > p[2] + self.nearer).any(|front| front.hides(p, self.nearer))
    }

    /// The parts of an edge that nothing hides.
    pub(super) fn visible(&self, edge: [Space; 2]) -> Vec<[Point; 2]> {
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

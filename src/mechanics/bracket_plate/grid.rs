//! Nodes and elements of the plate, and what a disc of it touches.

/// Weights of nodes.
pub(super) type Weights = Vec<(usize, f64)>;

/// Samples along each side of an element to find what stands on it.
pub(super) const SAMPLES: usize = 5;

/// A sample this near beyond a disc's edge counts as on it, mm, so that mirror images touch the same.
const ROUNDING: f64 = 1e-6;

/// Nodes in rows, from the lower left corner.
pub(super) struct Grid {
    pub(super) cells: [usize; 2],
    pub(super) step: [f64; 2],
    origin: [f64; 2],
}

impl Grid {
    pub(super) fn new(size: [f64; 2], element: f64) -> Self {
        let cells = size.map(|l| ((l / element).round() as usize).max(4));
        let step = [size[0] / cells[0] as f64, size[1] / cells[1] as f64];
        Self { cells, step, origin: [-size[0] / 2.0, -size[1] / 2.0] }
    }

    pub(super) const fn nodes(&self) -> usize {
        (self.cells[0] + 1) * (self.cells[1] + 1)
    }

    pub(super) fn elements(&self) -> impl Iterator<Item = [usize; 2]> + use<> {
        let [nx, ny] = self.cells;
        (0..ny).flat_map(move |j| (0..nx).map(move |i| [i, j]))
    }

    /// Nodes of an element, counter-clockwise.
    pub(super) const fn corners(&self, [i, j]: [usize; 2]) -> [usize; 4] {
        let row = self.cells[0] + 1;
        let first = j * row + i;
        [first, first + 1, first + row + 1, first + row]
    }

    /// Sample points of an element with the shape functions there.
    pub(super) fn samples(&self, [i, j]: [usize; 2]) -> impl Iterator<Item = ([f64; 2], [f64; 4])> + '_ {
        (0..SAMPLES * SAMPLES).map(move |k| {
            let part = |k: usize| (k as f64 + 0.5) / SAMPLES as f64;
            let (u, v) = (part(k % SAMPLES), part(k / SAMPLES));
            let x = self.origin[0] + (i as f64 + u) * self.step[0];
            let y = self.origin[1] + (j as f64 + v) * self.step[1];
            ([x, y], [(1.0 - u) * (1.0 - v), u * (1.0 - v), u * v, (1.0 - u) * v])
        })
    }

    pub(super) fn node(&self, n: usize) -> [f64; 2] {
        let row = self.cells[0] + 1;
        [self.origin[0] + (n % row) as f64 * self.step[0], self.origin[1] + (n / row) as f64 * self.step[1]]
    }

    /// Where shape functions over some corners meet, mm.
    pub(super) fn within(&self, corners: &[usize; 4], shape: &[f64; 4]) -> [f64; 2] {
        [0, 1].map(|k| corners.iter().zip(shape).map(|(node, part)| part * self.node(*node)[k]).sum())
    }

    /// Elements that a disc may touch.
    pub(super) fn near(&self, at: [f64; 2], radius: f64) -> impl Iterator<Item = [usize; 2]> + use<'_> {
        let reach = radius + self.half_diagonal();
        self.elements().filter(move |cell| {
            let [x, y] = self.middle(*cell);
            (x - at[0]).hypot(y - at[1]) < reach
        })
    }

    pub(super) fn half_diagonal(&self) -> f64 {
        self.step[0].hypot(self.step[1]) / 2.0
    }

    pub(super) fn middle(&self, [i, j]: [usize; 2]) -> [f64; 2] {
        [self.origin[0] + (i as f64 + 0.5) * self.step[0], self.origin[1] + (j as f64 + 0.5) * self.step[1]]
    }
}

/// A sample's element and its shape functions.
pub(super) type Hit = ([usize; 4], [f64; 4]);

/// Samples inside a disc.
pub(super) fn touched(grid: &Grid, at: [f64; 2], radius: f64) -> Vec<Hit> {
    let all = grid.near(at, radius).flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s)));
    let inside = |p: &[f64; 2]| (p[0] - at[0]).hypot(p[1] - at[1]) < radius + ROUNDING;
    all.filter(|(_, p, _)| inside(p)).map(|(c, _, s)| (grid.corners(c), s)).collect()
}

/// Area of one hit so that all of them make up `area`.
pub(super) fn share(hits: &[Hit], area: f64) -> f64 {
    area / hits.len().max(1) as f64
}

/// Equal nodes once.
pub(super) fn gather(mut weights: Weights) -> Weights {
    weights.sort_by_key(|w| w.0);
    weights.dedup_by(|later, first| {
        let same = later.0 == first.0;
        if same {
            first.1 += later.1;
        }
        same
    });
    weights
}

/// Stiffness of the ground at each node, N/mm, from that per area, N/mm3.
pub(super) fn bedding(grid: &Grid, stiffness: f64) -> Vec<f64> {
    let quarter = grid.step[0] * grid.step[1] / 4.0 * stiffness;
    let mut weights = vec![0.0; grid.nodes()];
    for cell in grid.elements() {
        for node in grid.corners(cell) {
            weights[node] += quarter;
        }
    }
    weights
}

//! Cells of a body: whole, cut or none, told by an inside function.

use nalgebra::Point3;
use rayon::prelude::*;

use crate::geometry::Inside;

/// Sub-cells along each edge of a cut cell.
const SUBCELLS: usize = 4;
/// Least share of a cell that is kept at all.
const LEAST: f64 = 0.005;
/// Least share of an octant of a cell that is kept, so that every corner has some hold.
const HOLD: f64 = 1e-4;

/// Where material is: a function with a slope of at most 1, negative within, mm.
pub trait Region: Sync {
    /// The function.
    fn at(&self, p: [f64; 3]) -> f64;

    /// The function at many places within a ball.
    fn all(&self, _middle: [f64; 3], _radius: f64, places: &[[f64; 3]]) -> Vec<f64> {
        places.iter().map(|p| self.at(*p)).collect()
    }
}

impl<F: Fn([f64; 3]) -> f64 + Sync> Region for F {
    fn at(&self, p: [f64; 3]) -> f64 {
        self(p)
    }
}

impl Region for Inside<'_> {
    fn at(&self, p: [f64; 3]) -> f64 {
        Inside::at(self, &p.into())
    }

    fn all(&self, middle: [f64; 3], radius: f64, places: &[[f64; 3]]) -> Vec<f64> {
        let near = self.near(&Point3::from(middle), radius);
        places.iter().map(|p| near.at(&Point3::from(*p))).collect()
    }
}

/// A cell and the filled share of each octant.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    pub at: [u16; 3],
    pub shares: [f64; 8],
}

impl Cell {
    /// Whether every octant is filled.
    pub(super) fn whole(&self) -> bool {
        self.shares.iter().all(|s| *s >= 1.0)
    }
}

/// The cells of a body and the corners they share.
#[derive(Clone)]
pub struct Grid {
    /// Where the first corner is, mm.
    pub origin: [f64; 3],
    /// Edges of a cell, mm.
    pub step: [f64; 3],
    pub(super) counts: [usize; 3],
    pub(super) cells: Vec<Cell>,
    /// Cell number by place; `u32::MAX` where none is.
    pub(super) number: Vec<u32>,
    /// Lattice places of the corners in use.
    pub(super) nodes: Vec<[u16; 3]>,
    /// Corners of each cell, in binary order, x first.
    pub(super) corners: Vec<[u32; 8]>,
}

impl Grid {
    /// Cells of `step` mm over a box, its low corner on a corner of the lattice.
    pub fn new(region: &impl Region, low: [f64; 3], high: [f64; 3], step: [f64; 3]) -> Self {
        let counts = [0, 1, 2].map(|k| ((high[k] - low[k]) / step[k] - 1e-6).ceil().max(1.0) as usize);
        let place = |i: usize| [i % counts[0], i / counts[0] % counts[1], i / counts[0] / counts[1]];
        let all: Vec<Option<Cell>> = (0..counts.iter().product())
            .into_par_iter()
            .map(|i| cell(region, place(i).map(|x| x as u16), low, step))
            .collect();
        let whole = largest_piece(&all, counts);
        let mut number = vec![u32::MAX; all.len()];
        let mut cells = Vec::new();
        for (i, c) in all.into_iter().enumerate() {
            if let Some(c) = c.filter(|_| whole[i]) {
                number[i] = cells.len() as u32;
                cells.push(c);
            }
        }
        let (nodes, corners) = share_corners(&cells, counts);
        Self { origin: low, step, counts, cells, number, nodes, corners }
    }

    /// Unknowns: three motions of every corner.
    #[must_use]
    pub fn unknowns(&self) -> usize {
        3 * self.nodes.len()
    }

    /// Where a corner is, mm.
    #[cfg(test)]
    pub(super) fn node(&self, n: usize) -> [f64; 3] {
        [0, 1, 2].map(|k| self.origin[k] + f64::from(self.nodes[n][k]) * self.step[k])
    }

    /// Middle of a cell, mm.
    pub(super) fn middle(&self, c: usize) -> [f64; 3] {
        [0, 1, 2].map(|k| self.origin[k] + (f64::from(self.cells[c].at[k]) + 0.5) * self.step[k])
    }

    /// Share of a cell that is filled.
    pub(super) fn filled(&self, c: usize) -> f64 {
        self.cells[c].shares.iter().sum::<f64>() / 8.0
    }

    /// The cell at a place, stepping from the surface up to a cell deep along `inward`, and the place in its own measure.
    pub(super) fn find(&self, p: [f64; 3], inward: [f64; 3]) -> Option<(usize, [f64; 3])> {
        (0..4).find_map(|step| {
            let deep = self.step[0] * (0.02 + 0.3 * f64::from(step));
            let place = [0, 1, 2].map(|k| ((p[k] + inward[k] * deep - self.origin[k]) / self.step[k]).floor());
            if (0..3).any(|k| place[k] < 0.0 || place[k] >= self.counts[k] as f64) {
                return None;
            }
            let [i, j, l] = place.map(|x| x as usize);
            let n = self.number[i + self.counts[0] * (j + self.counts[1] * l)];
            let found = n != u32::MAX && self.filled(n as usize) > 0.02;
            let own = [0, 1, 2].map(|k| 2.0 * ((p[k] - self.origin[k]) / self.step[k] - place[k]) - 1.0);
            found.then_some((n as usize, own))
        })
    }
}

fn cell(region: &impl Region, at: [u16; 3], low: [f64; 3], step: [f64; 3]) -> Option<Cell> {
    let place = |share: [f64; 3]| [0, 1, 2].map(|k| low[k] + (f64::from(at[k]) + share[k]) * step[k]);
    let corner = step.iter().map(|h| h * h).sum::<f64>().sqrt() / 2.0;
    let f = region.at(place([0.5; 3]));
    if f >= corner {
        return None;
    }
    if f <= -corner {
        return Some(Cell { at, shares: [1.0; 8] });
    }
    let fine = (step[0] * step[1] * step[2]).cbrt() / SUBCELLS as f64;
    let solid = |f: f64| (0.5 - f / fine).clamp(0.0, 1.0);
    let sub = |q: usize| [q % SUBCELLS, q / SUBCELLS % SUBCELLS, q / SUBCELLS / SUBCELLS];
    let places: Vec<[f64; 3]> =
        (0..SUBCELLS.pow(3)).map(|q| place(sub(q).map(|x| (x as f64 + 0.5) / SUBCELLS as f64))).collect();
    let mut shares = [0.0; 8];
    for (q, f) in region.all(place([0.5; 3]), corner, &places).into_iter().enumerate() {
        let octant = (0..3).map(|k| usize::from(sub(q)[k] >= SUBCELLS / 2) << k).sum::<usize>();
        shares[octant] += solid(f) * 8.0 / SUBCELLS.pow(3) as f64;
    }
    let kept = shares.iter().sum::<f64>() > 8.0 * LEAST;
    kept.then(|| Cell { at, shares: shares.map(|s| if s > 1.0 - 1e-9 { 1.0 } else { s.max(HOLD) }) })
}

/// Which cells hang together face by face with the most others: a sliver that meets the rest at an edge would swing free.
fn largest_piece(cells: &[Option<Cell>], counts: [usize; 3]) -> Vec<bool> {
    let stride = [1, counts[0], counts[0] * counts[1]];
    let (mut piece, mut sizes) = (vec![0usize; cells.len()], vec![0usize]);
    for start in (0..cells.len()).filter(|i| cells[*i].is_some()) {
        if piece[start] > 0 {
            continue;
        }
        let mut open = vec![start];
        (piece[start], _) = (sizes.len(), sizes.push(0));
        while let Some(i) = open.pop() {
            sizes[piece[start]] += 1;
            for k in 0..3 {
                let at = i / stride[k] % counts[k];
                let beside = [(at > 0).then(|| i - stride[k]), (at + 1 < counts[k]).then(|| i + stride[k])];
                for j in beside.into_iter().flatten().filter(|j| cells[*j].is_some()) {
                    if piece[j] == 0 {
                        piece[j] = piece[start];
                        open.push(j);
                    }
                }
            }
        }
    }
    let largest = (1..sizes.len()).max_by_key(|p| (sizes[*p], usize::MAX - p)).unwrap_or(usize::MAX);
    piece.into_iter().map(|p| p == largest).collect()
}

type Shared = (Vec<[u16; 3]>, Vec<[u32; 8]>);

fn share_corners(cells: &[Cell], counts: [usize; 3]) -> Shared {
    let row = counts.map(|n| n + 1);
    let mut known = vec![u32::MAX; row.iter().product()];
    let mut nodes = Vec::new();
    let mut corner = |c: &Cell, o: usize| {
        let at: [u16; 3] = [0, 1, 2].map(|k| c.at[k] + (o >> k & 1) as u16);
        let i = usize::from(at[0]) + row[0] * (usize::from(at[1]) + row[1] * usize::from(at[2]));
        if known[i] == u32::MAX {
            known[i] = nodes.len() as u32;
            nodes.push(at);
        }
        known[i]
    };
    let corners = cells.iter().map(|c| std::array::from_fn(|o| corner(c, o))).collect();
    (nodes, corners)
}

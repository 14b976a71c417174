//! What stands on the plate and holds it: ribs, screws, bosses, and the wood's pads.

use nalgebra::{DMatrix, Matrix2};

use super::basis::{Basis, Element};
use super::grid::{Grid, Weights, bedding, gather, share, touched};
use super::{CalibratedCompliances, Plate, Rib};
use crate::fem::sparse::TripletBuilder;

/// Disc of a screw.
pub(super) struct Screw {
    /// Its force as weights of the lifts.
    pub(super) weights: Weights,
    /// Its part of the stiffness.
    pub(super) entries: Vec<(usize, usize, f64)>,
    /// Its moments about x and y as weights of the lifts, N mm, about where its force acts.
    tilts: [Weights; 2],
    /// Stiffness of the disc against lifting, N/mm, and against tilting about x and y, N mm/rad.
    stiffness: (f64, Matrix2<f64>),
}

/// A rib's own stiffness, to find what goes through it.
pub(super) struct RibFoot {
    pub(super) cells: Vec<([usize; 4], Element)>,
    pub(super) root: [f64; 2],
    pub(super) direction: [f64; 2],
}

/// Springs between a boss's wall and the stiff tubes.
pub(super) struct Boss {
    pub(super) nodes: Vec<(usize, [f64; 3])>,
    pub(super) own: [[f64; 3]; 3],
    pub(super) at: [f64; 2],
}

/// Assembles plate and ribs; gives the ribs' feet and the elements beside the bosses.
pub(super) fn elements(
    grid: &Grid,
    entries: &mut TripletBuilder,
    plate: &Plate,
    soft: &CalibratedCompliances,
) -> (Vec<RibFoot>, Vec<([usize; 2], bool)>) {
    let basis = Basis::new(grid.step);
    let plain = basis.stiffness(&plate.base_section(0.0));
    let mut feet: Vec<_> = plate.ribs.iter().map(Rib::foot).collect();
    let mut beside = vec![];
    for cell in grid.elements() {
        let (corners, ribs, share) =
            (grid.corners(cell), plate.ribs_on(grid, cell, soft), plate.boss_share(grid, cell, soft));
        let base = if share == 0.0 { plain } else { basis.stiffness(&plate.base_section(share)) };
        add_element(entries, &corners, &base);
        if !plate.in_boss(grid.middle(cell), plate.boss / 2.0) {
            beside.push((cell, !ribs.is_empty()));
        }
        for (rib, section) in ribs {
            let stiffness = basis.stiffness(&section);
            add_element(entries, &corners, &stiffness);
            feet[rib].cells.push((corners, stiffness));
        }
    }
    (feet, beside)
}

fn add_element(entries: &mut TripletBuilder, corners: &[usize; 4], stiffness: &Element) {
    for (i, row) in stiffness.iter().enumerate() {
        for (j, value) in row.iter().enumerate() {
            entries.add(3 * corners[i / 3] + i % 3, 3 * corners[j / 3] + j % 3, *value);
        }
    }
}

impl Rib {
    fn foot(&self) -> RibFoot {
        let (s, c) = self.angle.sin_cos();
        RibFoot { cells: vec![], root: self.root, direction: [c, s] }
    }
}

impl RibFoot {
    /// Sum of the rib's nodal forces beyond its root.
    pub(super) fn forces(&self, grid: &Grid, u: &[f64]) -> [f64; 2] {
        let [c, s] = self.direction;
        let mut sum = [0.0; 2];
        for (corners, stiffness) in &self.cells {
            for (a, node) in corners.iter().enumerate() {
                let [x, y] = grid.node(*node);
                let along = (x - self.root[0]) * c + (y - self.root[1]) * s;
                if along <= 0.0 {
                    continue;
                }
                let force =
                    |k: usize| (0..12).map(|b| stiffness[3 * a + k][b] * u[3 * corners[b / 3] + b % 3]).sum::<f64>();
                let lift = force(0);
                sum[0] += lift;
                sum[1] += lift * along - (force(1) * c + force(2) * s);
            }
        }
        sum
    }
}

impl Boss {
    pub(super) fn forces(&self, u: &[f64], motion: [f64; 3]) -> [f64; 3] {
        let mut force = [0.0; 3];
        for (k, f) in force.iter_mut().enumerate() {
            *f = (0..3).map(|l| self.own[k][l] * motion[l]).sum::<f64>();
            *f -= self.nodes.iter().map(|(node, c)| c[k] * u[3 * node]).sum::<f64>();
        }
        let [n, mx, my] = force;
        [n, mx - n * self.at[1], my + n * self.at[0]]
    }
}

impl Screw {
    /// Loads on the plate of a unit lift of its head and of unit tilts about two axes.
    pub(super) fn heads(&self) -> [Weights; 3] {
        let lifts = |weights: &Weights| weights.iter().map(|(node, k)| (3 * node, *k)).collect();
        [lifts(&self.weights), lifts(&self.tilts[0]), lifts(&self.tilts[1])]
    }

    /// Stiffness lost when the head is free to turn and hangs on a spring, in movements that [`Self::heads`] load: as if 1 over
    /// disc and spring side by side, since the head goes where both balance.
    pub(super) fn taken(&self, axial: f64) -> DMatrix<f64> {
        let (lift, tilts) = self.stiffness;
        let mut taken = DMatrix::zeros(3, 3);
        taken[(0, 0)] = 1.0 / (lift + axial);
        let free = tilts.try_inverse().unwrap_or_default();
        taken.view_mut((1, 1), (2, 2)).copy_from(&free);
        taken
    }

    /// Degrees of freedom that its disc holds, and its stiffness there.
    pub(super) fn matrix(&self) -> (Vec<usize>, DMatrix<f64>) {
        let mut places: Vec<usize> = self.entries.iter().map(|e| e.0).collect();
        places.sort_unstable();
        places.dedup();
        let mut matrix = DMatrix::zeros(places.len(), places.len());
        let at = |place: usize| places.partition_point(|p| *p < place);
        self.entries.iter().for_each(|(i, j, value)| matrix[(at(*i), at(*j))] += value);
        (places, matrix)
    }
}

/// Elastic disc, `radius` mm, that holds the plate at a screw; `stiffness`: N/mm3.
pub(super) fn disc(grid: &Grid, at: [f64; 2], radius: f64, stiffness: f64) -> Screw {
    let hits = touched(grid, at, radius);
    let each = share(&hits, std::f64::consts::PI * radius * radius) * stiffness;
    let (mut weights, mut entries) = (vec![], vec![]);
    for (corners, shape) in &hits {
        for a in 0..4 {
            weights.push((corners[a], each * shape[a]));
            entries.extend((0..4).map(|b| (3 * corners[a], 3 * corners[b], each * shape[a] * shape[b])));
        }
    }
    let places: Vec<[f64; 2]> = hits.iter().map(|(corners, shape)| grid.within(corners, shape)).collect();
    let middle = [0, 1].map(|k| places.iter().map(|p| p[k]).sum::<f64>() / places.len() as f64);
    let arms: Vec<[f64; 2]> = places.iter().map(|p| [p[0] - middle[0], p[1] - middle[1]]).collect();
    let tilts = [0, 1].map(|k| {
        let parts = hits
            .iter()
            .zip(&arms)
            .flat_map(|((corners, shape), arm)| (0..4).map(move |a| (corners[a], each * shape[a] * arm[k])));
        gather(parts.collect())
    });
    let second = Matrix2::from_fn(|i, j| arms.iter().map(|arm| each * arm[i] * arm[j]).sum::<f64>());
    Screw { weights: gather(weights), entries, tilts, stiffness: (each * hits.len() as f64, second) }
}

/// Springs from the wall of a boss to the stiff tubes.
pub(super) fn hold(grid: &Grid, entries: &mut TripletBuilder, plate: &Plate, at: [f64; 2], stiffness: f64) -> Boss {
    let (outer, inner) = (plate.boss / 2.0, plate.bore / 2.0);
    let n = 3 * grid.nodes();
    let wall = |p: [f64; 2]| (inner..outer).contains(&(p[0] - at[0]).hypot(p[1] - at[1]));
    let hits: Vec<_> =
        grid.near(at, outer).flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s))).filter(|h| wall(h.1)).collect();
    let each = std::f64::consts::PI * (outer * outer - inner * inner) / hits.len().max(1) as f64 * stiffness;
    let (mut own, mut nodes) = ([[0.0; 3]; 3], vec![]);
    for (cell, [x, y], shape) in hits {
        let (corners, lift) = (grid.corners(cell), [1.0, y, -x]);
        for a in 0..4 {
            for b in 0..4 {
                entries.add(3 * corners[a], 3 * corners[b], each * shape[a] * shape[b]);
            }
            let pull = lift.map(|l| each * shape[a] * l);
            nodes.push((corners[a], pull));
            for (k, value) in pull.into_iter().enumerate() {
                entries.add(n + k, 3 * corners[a], -value);
            }
        }
        for k in 0..3 {
            for l in 0..3 {
                own[k][l] += each * lift[k] * lift[l];
                entries.add(n + k, n + l, each * lift[k] * lift[l]);
            }
        }
    }
    Boss { nodes, own, at }
}

/// A place of the wood: it presses on the nodes near it as one.
pub(super) struct Pad {
    /// Part of its force that each node takes; its sinking is theirs with the same parts.
    pub(super) weights: Weights,
    /// Sinking of the wood under a force, mm/N.
    pub(super) give: f64,
}

impl Pad {
    /// 1 N of it, degrees of freedom and parts.
    pub(super) fn load(&self) -> Weights {
        self.weights.iter().map(|(node, part)| (3 * node, *part)).collect()
    }

    /// Mean lift of the plate over it, mm.
    pub(super) fn lift(&self, u: &[f64]) -> f64 {
        self.weights.iter().map(|(node, part)| part * u[3 * node]).sum()
    }
}

/// How many of the grid's lines have pads of the wood.
#[derive(Clone, Copy)]
pub(super) struct Spread {
    /// Spaces beside an edge in which every line has: there the wood presses when screws pry.
    pub(super) edge: usize,
    /// Most spaces between pads across the rest.
    pub(super) inside: usize,
}

/// The wood under the plate as pads at crossings of the grid's lines: hats of pressure that sum to 1 everywhere.
/// `stiffness`: N/mm3. How many stand in a row is told last.
pub(super) fn pads(grid: &Grid, stiffness: f64, spread: Spread) -> (Vec<Pad>, usize) {
    let lines = grid.cells.map(|cells| spread.lines(cells));
    let [columns, rows] = lines.each_ref().map(|l| hats(l));
    let mut shares: Vec<Weights> = vec![vec![]; lines[0].len() * lines[1].len()];
    for (node, spring) in bedding(grid, stiffness).into_iter().enumerate() {
        let across = grid.cells[0] + 1;
        for (i, x) in &columns[node % across] {
            for (j, y) in &rows[node / across] {
                shares[j * lines[0].len() + i].push((node, spring * x * y));
            }
        }
    }
    let pad = |weights: Weights| {
        let sum: f64 = weights.iter().map(|w| w.1).sum();
        Pad { weights: weights.into_iter().map(|(node, w)| (node, w / sum)).collect(), give: 1.0 / sum }
    };
    (shares.into_iter().map(pad).collect(), lines[0].len())
}

impl Spread {
    /// Lines of the grid, of those from 0 to `cells`, on which pads stand; alike from both ends.
    fn lines(self, cells: usize) -> Vec<usize> {
        let step = cells.saturating_sub(2 * self.edge).div_ceil(self.inside).max(1);
        let stands = |from: usize| from <= self.edge || (from - self.edge).is_multiple_of(step);
        (0..=cells).filter(|i| stands(*i.min(&(cells - i)))).collect()
    }
}

/// For each line of the grid which of the pads' lines share it, and their parts.
fn hats(lines: &[usize]) -> Vec<Vec<(usize, f64)>> {
    let cells = lines[lines.len() - 1];
    let share = |at: usize| {
        let after = lines.partition_point(|l| *l < at);
        if lines[after] == at {
            return vec![(after, 1.0)];
        }
        let beyond = (at - lines[after - 1]) as f64 / (lines[after] - lines[after - 1]) as f64;
        vec![(after - 1, 1.0 - beyond), (after, beyond)]
    };
    (0..=cells).map(share).collect()
}

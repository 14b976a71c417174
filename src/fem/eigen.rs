//! Linear buckling, natural frequencies and harmonic response.

use std::f64::consts::TAU;

use nalgebra::DMatrix;

use super::element_matrix::{ElementMatrix, assemble, geometric, internal_forces, masses, multiply};
use super::frame::Frame;
use super::ground::{DOF, FrameError, NodeId};
use super::load::Case;
use super::solve::Solver;
use super::sparse::{Factor, Symmetric, add_to, dot};
use super::state::State;

/// Vectors added to the search space at once: finds up to so many equal eigenvalues (a square table has two).
const BLOCK: usize = 4;

/// Largest search space. Tables settle within 30 to 60 vectors.
const LARGEST: usize = 240;

/// Residual of an eigenvector, as a share of its eigenvalue, at which it has settled; the eigenvalue is then good to
/// the square of this over its distance from the next.
const SETTLED: f64 = 1e-5;

/// Share of its length that must be left of a new search vector after orthogonalisation.
const SPENT: f64 = 1e-9;

/// Search space in which a frame that buckles at all would have shown it.
const BARREN: usize = 80;

/// Ratio to the largest eigenvalue below which one counts as zero.
const ZERO: f64 = 1e-10;

/// Lowest elastic critical load of a state.
#[derive(Clone, Debug)]
pub struct Buckling {
    /// Critical loads / loads of the state.
    pub factor: f64,
}

/// A natural mode.
#[derive(Clone, Debug)]
pub struct Mode {
    /// Frequency, Hz.
    pub frequency: f64,
    /// Effective mass as a share of the whole: along x, y, z, and moment of inertia about the axes x, y, z through
    /// the centre of mass. The largest tells the mode: sway along x, along y, bounce, ..., twist.
    pub share: [f64; 6],
    /// Normalised to unit modal mass.
    shape: Vec<f64>,
}

/// Steady response to a harmonic load: real (in phase) and imaginary (lagging negative) parts.
#[derive(Clone, Debug)]
pub struct Response {
    real: Vec<f64>,
    imaginary: Vec<f64>,
}

impl Response {
    /// Amplitude of each degree of freedom of a node, mm and rad.
    #[must_use]
    pub fn amplitude(&self, node: NodeId) -> [f64; 6] {
        std::array::from_fn(|d| self.real[node.0 * DOF + d].hypot(self.imaginary[node.0 * DOF + d]))
    }
}

impl Solver<'_> {
    /// Lowest positive factor on the loads of `state` at which the frame buckles; none when they never make it
    /// buckle.
    ///
    /// # Errors
    /// [`FrameError::NotConverged`].
    pub fn buckling(&self, state: &State) -> Result<Option<Buckling>, FrameError> {
        let matrices = geometric(self.frame, state);
        let softening = assemble(&self.constraints, &[(-1.0, &matrices)]);
        let Some((_, shape)) = largest(&self.factor, &softening, 1)?.into_iter().next() else { return Ok(None) };
        let full = self.constraints.expand(&shape);
        let factor =
            -dot(&internal_forces(&self.stiffness, &full), &full) / dot(&internal_forces(&matrices, &full), &full);
        Ok(Some(Buckling { factor }))
    }

    /// The lowest natural modes, at most `count`.
    ///
    /// # Errors
    /// [`FrameError::NotConverged`].
    pub fn modes(&self, count: usize) -> Result<Vec<Mode>, FrameError> {
        let matrices = masses(self.frame, true);
        let matrix = assemble(&self.constraints, &[(1.0, &matrices)]);
        let whole = Whole::new(self.frame, &matrices);
        let pairs = largest(&self.factor, &matrix, count)?;
        Ok(pairs.into_iter().map(|(_, shape)| self.mode(&shape, &matrices, &whole)).collect())
    }

    /// Frequency by Rayleigh's quotient, summed element by element so that it keeps its digits.
    fn mode(&self, shape: &[f64], matrices: &[ElementMatrix], whole: &Whole) -> Mode {
        let mut full = self.constraints.expand(shape);
        let mass = dot(&multiply(matrices, &full), &full);
        let omega2 = dot(&internal_forces(&self.stiffness, &full), &full) / mass;
        full.iter_mut().for_each(|v| *v /= mass.sqrt());
        let share = std::array::from_fn(|d| {
            if whole.mass[d] > 0.0 { dot(&whole.momentum[d], &full).powi(2) / whole.mass[d] } else { 0.0 }
        });
        Mode { frequency: omega2.sqrt() / TAU, share, shape: full }
    }

    /// Makes a case whose loads vary harmonically ready for [`Shaken::response`], by modal superposition; what the modes
    /// leave out is added statically.
    #[must_use]
    pub fn shaken(&self, modes: &[Mode], case: &Case) -> Shaken {
        let mut rest = self.statics(std::slice::from_ref(case)).remove(0).displacements;
        let load = self.applied(std::slice::from_ref(case)).remove(0);
        let modes: Vec<_> = modes.iter().map(|mode| (dot(&mode.shape, &load), mode.clone())).collect();
        for (force, mode) in &modes {
            add_to(&mut rest, -force / (mode.frequency * TAU).powi(2), &mode.shape);
        }
        Shaken { modes, rest }
    }
}

/// A frame under loads that vary harmonically.
#[derive(Clone, Debug)]
pub struct Shaken {
    /// The modes and the force on each.
    modes: Vec<(f64, Mode)>,
    /// Movements that the modes leave out.
    rest: Vec<f64>,
}

impl Shaken {
    /// Steady response at a frequency, Hz, with the same `damping` ratio in every mode. `tuned` gives each mode, by its number
    /// and its frequency, the frequency at which it is taken to swing.
    #[must_use]
    pub fn response(&self, frequency: f64, damping: f64, tuned: impl Fn(usize, f64) -> f64) -> Response {
        let mut response = Response { real: self.rest.clone(), imaginary: vec![0.0; self.rest.len()] };
        for (i, (force, mode)) in self.modes.iter().enumerate() {
            let own = tuned(i, mode.frequency);
            let (still, ratio) = (force / (own * TAU).powi(2), frequency / own);
            let (open, lag) = (1.0 - ratio * ratio, 2.0 * damping * ratio);
            let square = open * open + lag * lag;
            add_to(&mut response.real, still * open / square, &mode.shape);
            add_to(&mut response.imaginary, -still * lag / square, &mode.shape);
        }
        response
    }
}

/// Mass of the whole frame moving as a rigid body in six directions, the rotations about its centre of mass.
struct Whole {
    momentum: [Vec<f64>; 6],
    mass: [f64; 6],
}

impl Whole {
    fn new(frame: &Frame, matrices: &[ElementMatrix]) -> Self {
        let first = Self::about(frame, matrices, [0.0; 3]);
        let total = first.mass[0].max(f64::MIN_POSITIVE);
        let moment = |turn: usize, along: usize| dot(&rigid(frame, [0.0; 3], turn), &first.momentum[along]) / total;
        // A turn about z at (x, y) moves along y by x; about x by z ... of which the mean is the centre.
        let centre = [moment(5, 1), moment(3, 2), moment(4, 0)];
        Self::about(frame, matrices, centre)
    }

    fn about(frame: &Frame, matrices: &[ElementMatrix], centre: [f64; 3]) -> Self {
        let momentum: [Vec<f64>; 6] = std::array::from_fn(|d| multiply(matrices, &rigid(frame, centre, d)));
        let mass = std::array::from_fn(|d| dot(&momentum[d], &rigid(frame, centre, d)));
        Self { momentum, mass }
    }
}

/// Unit rigid-body movement in one direction, rotations about `centre`.
pub(super) fn rigid(frame: &Frame, centre: [f64; 3], direction: usize) -> Vec<f64> {
    let mut all = Vec::with_capacity(frame.nodes.len() * DOF);
    let unit = nalgebra::Vector3::from_fn(|i, _| if i == direction % 3 { 1.0 } else { 0.0 });
    for place in &frame.nodes {
        let zero = nalgebra::Vector3::zeros();
        let (shift, turn) =
            if direction < 3 { (unit, zero) } else { (unit.cross(&(place - nalgebra::Vector3::from(centre))), unit) };
        all.extend(shift.iter().chain(turn.iter()));
    }
    all
}

/// Search space for the eigenvectors of K^-1 G, orthonormal in the sense of K.
struct Space<'a> {
    factor: &'a Factor,
    g: &'a Symmetric,
    vectors: Vec<Vec<f64>>,
    /// K times each vector.
    k: Vec<Vec<f64>>,
    /// G times each vector.
    gv: Vec<Vec<f64>>,
    /// Inner products in the sense of G: of each vector with itself and those before it.
    projected: Vec<Vec<f64>>,
    /// First vector of the newest block.
    newest: usize,
}

/// The `count` largest positive eigenvalues of K^-1 G, largest first, with vectors x of unit x' K x. G need not be
/// definite. Block Krylov iteration with full orthogonalisation and Rayleigh-Ritz projection.
fn largest(factor: &Factor, g: &Symmetric, count: usize) -> Result<Vec<(f64, Vec<f64>)>, FrameError> {
    let n = g.size();
    let start: Vec<_> = (0..BLOCK.min(n)).map(|i| g.times(&noise(n, i as u64))).collect();
    let mut space = Space { factor, g, vectors: vec![], k: vec![], gv: vec![], projected: vec![], newest: 0 };
    space.extend(start);
    loop {
        let (old, found) = (space.newest, space.ritz(count));
        let exhausted = old == space.vectors.len();
        let left = if exhausted { DMatrix::zeros(0, 0) } else { space.extend(space.gv[old..].to_vec()) };
        let settled = found.len() == count && found.iter().all(|r| r.residual(old, &left) <= SETTLED * r.value);
        let barren = found.is_empty() && space.vectors.len() > BARREN;
        if exhausted || settled || barren {
            return Ok(found.into_iter().map(|r| (r.value, space.combine(&r.weights))).collect());
        }
        if space.vectors.len() > LARGEST {
            return Err(FrameError::NotConverged);
        }
    }
}

impl Space<'_> {
    /// Takes in the solution of K w = g for each given g; returns the inner products (in the sense of K) of what of
    /// it was new.
    fn extend(&mut self, loads: Vec<Vec<f64>>) -> DMatrix<f64> {
        let solved = self.factor.solve(&loads);
        let sizes: Vec<f64> = solved.iter().zip(&loads).map(|(w, kw)| dot(w, kw).max(0.0).sqrt()).collect();
        let mut block: Vec<_> = solved.into_iter().zip(loads).collect();
        block.iter_mut().for_each(|(w, kw)| self.orthogonalise(w, kw, 0));
        let left = DMatrix::from_fn(block.len(), block.len(), |i, j| dot(&block[i].0, &block[j].1));
        self.newest = self.vectors.len();
        for ((mut w, mut kw), size) in block.into_iter().zip(sizes) {
            self.orthogonalise(&mut w, &mut kw, self.newest);
            kw = self.factor.matrix.times(&w);
            let norm = dot(&w, &kw).max(0.0).sqrt();
            if norm > SPENT * size {
                w.iter_mut().chain(&mut kw).for_each(|v| *v /= norm);
                let gw = self.g.times(&w);
                self.vectors.push(w);
                self.projected.push(self.vectors.iter().map(|v| dot(v, &gw)).collect());
                self.k.push(kw);
                self.gv.push(gw);
            }
        }
        left
    }

    /// Takes out of `w`, and of its image `kw`, the parts along the vectors from `first` on; twice, for the digits
    /// lost in the first pass.
    fn orthogonalise(&self, w: &mut [f64], kw: &mut [f64], first: usize) {
        for _ in 0..2 {
            for (v, kv) in self.vectors.iter().zip(&self.k).skip(first) {
                let part = dot(kv, w);
                add_to(w, -part, v);
                add_to(kw, -part, kv);
            }
        }
    }

    /// The `count` largest positive eigenvalues of the projected problem.
    fn ritz(&self, count: usize) -> Vec<Ritz> {
        let m = self.vectors.len();
        if m == 0 {
            return vec![];
        }
        let projected = DMatrix::from_fn(m, m, |i, j| self.projected[i.max(j)][i.min(j)]);
        let eigen = projected.symmetric_eigen();
        let scale = eigen.eigenvalues.amax();
        let mut order: Vec<usize> = (0..m).filter(|i| eigen.eigenvalues[*i] > ZERO * scale).collect();
        order.sort_by(|a, b| eigen.eigenvalues[*b].total_cmp(&eigen.eigenvalues[*a]));
        order.truncate(count);
        let pair = |i: usize| Ritz {
            value: eigen.eigenvalues[i],
            weights: eigen.eigenvectors.column(i).iter().copied().collect(),
        };
        order.into_iter().map(pair).collect()
    }

    fn combine(&self, weights: &[f64]) -> Vec<f64> {
        let mut x = vec![0.0; self.g.size()];
        weights.iter().zip(&self.vectors).for_each(|(w, v)| add_to(&mut x, *w, v));
        x
    }
}

/// An eigenvalue of the projected problem and its vector's weights in the search space.
struct Ritz {
    value: f64,
    weights: Vec<f64>,
}

impl Ritz {
    /// Length of the residual, from the weights of the block that starts at `first` and what its image left.
    fn residual(&self, first: usize, left: &DMatrix<f64>) -> f64 {
        let w = nalgebra::DVector::from_column_slice(&self.weights[first..]);
        if left.nrows() == w.len() { w.dot(&(left * &w)).max(0.0).sqrt() } else { 0.0 }
    }
}

/// Even noise from a fixed seed (a multiplicative congruential sequence), so that every run is the same.
fn noise(n: usize, seed: u64) -> Vec<f64> {
    let mut state = 0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(seed + 1) | 1;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
    };
    (0..n).map(|_| next()).collect()
}

//! Symmetric sparse matrices and their factorisation.

use std::sync::Arc;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, LltRef, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::linalg::{SupernodalThreshold, SymbolicSupernodalParams};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, MatMut, Par, Side, Spec};

/// Lower triangle of a symmetric matrix, by columns, rows sorted.
#[derive(Clone, Debug)]
pub(crate) struct Symmetric {
    starts: Vec<usize>,
    rows: Vec<usize>,
    values: Vec<f64>,
}

/// Collects entries of a symmetric matrix; equal places add up in the order given.
#[derive(Clone, Debug)]
pub(crate) struct TripletBuilder {
    size: usize,
    entries: Vec<Entry>,
}

#[derive(Clone, Copy, Debug, Default)]
struct Entry {
    row: u32,
    column: u32,
    value: f64,
}

impl TripletBuilder {
    /// Every diagonal place is present.
    pub(crate) fn new(size: usize) -> Self {
        Self { size, entries: (0..size as u32).map(|i| Entry { row: i, column: i, value: 0.0 }).collect() }
    }

    /// Adds to (row, column); entries above the diagonal are left out, their mirror images stand for them.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        if row >= column {
            self.entries.push(Entry { row: row as u32, column: column as u32, value });
        }
    }

    /// The matrix, rows sorted.
    pub(crate) fn finish(self) -> Symmetric {
        let mut out = Symmetric { starts: vec![0], rows: vec![], values: vec![] };
        let (mut sums, mut seen) = (vec![0.0; self.size], vec![usize::MAX; self.size]);
        let (starts, entries) = self.by_column();
        for column in 0..self.size {
            let first = out.rows.len();
            for Entry { row, value, .. } in &entries[starts[column]..starts[column + 1]] {
                let row = *row as usize;
                if seen[row] != column {
                    (seen[row], sums[row]) = (column, 0.0);
                    out.rows.push(row);
                }
                sums[row] += value;
            }
            out.rows[first..].sort_unstable();
            out.values.extend(out.rows[first..].iter().map(|row| sums[*row]));
            out.starts.push(out.rows.len());
        }
        out
    }

    /// Where each column starts, and the entries column by column, else in the order given.
    fn by_column(&self) -> (Vec<usize>, Vec<Entry>) {
        let mut starts = vec![0; self.size + 1];
        self.entries.iter().for_each(|e| starts[e.column as usize + 1] += 1);
        (0..self.size).for_each(|column| starts[column + 1] += starts[column]);
        let (mut next, mut out) = (starts.clone(), vec![Entry::default(); self.entries.len()]);
        for entry in &self.entries {
            let place = &mut next[entry.column as usize];
            out[*place] = *entry;
            *place += 1;
        }
        (starts, out)
    }
}

impl Symmetric {
    pub(crate) fn size(&self) -> usize {
        self.starts.len() - 1
    }

    fn pattern(&self) -> SymbolicSparseColMatRef<'_, usize> {
        SymbolicSparseColMatRef::new_checked(self.size(), self.size(), &self.starts, None, &self.rows)
    }

    pub(crate) fn diagonal(&self) -> Vec<f64> {
        self.starts[..self.size()].iter().map(|s| self.values[*s]).collect()
    }

    /// Adds `share` of each diagonal entry to itself.
    pub(crate) fn lift_diagonal(&mut self, share: f64) {
        for column in 0..self.size() {
            self.values[self.starts[column]] *= 1.0 + share;
        }
    }

    /// Matrix times vector.
    pub(crate) fn times(&self, x: &[f64]) -> Vec<f64> {
        let mut y = vec![0.0; x.len()];
        for column in 0..self.size() {
            let span = self.starts[column]..self.starts[column + 1];
            let (xc, mut sum) = (x[column], 0.0);
            for (row, v) in self.rows[span.clone()].iter().zip(&self.values[span]) {
                if *row == column {
                    sum += v * xc;
                } else {
                    y[*row] += v * xc;
                    sum += v * x[*row];
                }
            }
            y[column] += sum;
        }
        y
    }
}

/// Columns are merged into blocks while so many together, at most, hold this share of zeros. Measured on plates and tables:
/// a sixth faster than the library's own, and three times faster than without blocks, which it takes for small ones.
const MERGED: [(usize, f64); 4] = [(8, 1.0), (32, 0.8), (64, 0.2), (usize::MAX, 0.1)];

/// In which order matrices with entries in the same places are eliminated.
#[derive(Clone, Debug)]
pub(crate) struct SymbolicFactor(Arc<SymbolicCholesky<usize>>);

impl SymbolicFactor {
    /// None where there is no memory for it.
    pub(crate) fn new(matrix: &Symmetric) -> Option<Self> {
        let merged = SymbolicSupernodalParams { relax: Some(&MERGED) };
        let params = CholeskySymbolicParams {
            supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SUPERNODAL,
            supernodal_params: merged,
            ..Default::default()
        };
        let symbolic = factorize_symbolic_cholesky(matrix.pattern(), Side::Lower, SymmetricOrdering::Amd, params);
        symbolic.ok().map(|symbolic| Self(Arc::new(symbolic)))
    }
}

/// A symmetric positive definite matrix with its Cholesky factor.
#[derive(Clone, Debug)]
pub(crate) struct Factor {
    pub(super) matrix: Symmetric,
    order: SymbolicFactor,
    lower: Vec<f64>,
}

impl Factor {
    /// Factorises; gives the matrix back when it is not positive definite.
    pub(crate) fn new(matrix: Symmetric) -> Result<Self, Box<Symmetric>> {
        match SymbolicFactor::new(&matrix) {
            Some(order) => Self::ordered(matrix, order),
            None => Err(Box::new(matrix)),
        }
    }

    /// The same for a matrix with entries where the one has them that the order was made for.
    pub(crate) fn ordered(matrix: Symmetric, order: SymbolicFactor) -> Result<Self, Box<Symmetric>> {
        let mut lower = vec![0.0; order.0.len_val()];
        let entries = SparseColMatRef::new(matrix.pattern(), &matrix.values);
        let mut memory = MemBuffer::new(order.0.factorize_numeric_llt_scratch::<f64>(Par::Seq, Spec::default()));
        let stack = MemStack::new(&mut memory);
        let (regular, spec) = (LltRegularization::default(), Spec::default());
        let done = order.0.factorize_numeric_llt(&mut lower, entries, Side::Lower, regular, Par::Seq, stack, spec);
        if done.is_ok() { Ok(Self { matrix, order, lower }) } else { Err(Box::new(matrix)) }
    }

    /// Solves for several right-hand sides.
    pub(crate) fn solve(&self, loads: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let n = self.matrix.size();
        if n == 0 || loads.is_empty() {
            return vec![vec![]; loads.len()];
        }
        let mut flat = loads.concat();
        self.solve_in_place(&mut flat);
        flat.chunks(n).map(<[f64]>::to_vec).collect()
    }

    /// The same for right-hand sides one behind the other.
    pub(crate) fn solve_in_place(&self, loads: &mut [f64]) {
        let (n, count) = (self.matrix.size(), loads.len() / self.matrix.size().max(1));
        let view = MatMut::from_column_major_slice_mut(loads, n, count);
        let mut memory = MemBuffer::new(self.order.0.solve_in_place_scratch::<f64>(count, Par::Seq));
        let factor = LltRef::new(&self.order.0, &self.lower);
        factor.solve_in_place_with_conj(Conj::No, view, Par::Seq, MemStack::new(&mut memory));
    }
}

/// Sums kept side by side in [`dot`], so that additions need not wait for each other; a power of two that fills the
/// vector registers of common processors. The order of additions stays fixed.
const LANES: usize = 8;

/// Scalar product.
pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (heads_a, heads_b) = (a.chunks_exact(LANES), b.chunks_exact(LANES));
    let rest: f64 = heads_a.remainder().iter().zip(heads_b.remainder()).map(|(x, y)| x * y).sum();
    let mut sums = [0.0; LANES];
    for (x, y) in heads_a.zip(heads_b) {
        (0..LANES).for_each(|i| sums[i] += x[i] * y[i]);
    }
    sums.iter().sum::<f64>() + rest
}

/// y += factor x.
pub(crate) fn add_to(y: &mut [f64], factor: f64, x: &[f64]) {
    y.iter_mut().zip(x).for_each(|(a, b)| *a += factor * b);
}

//! Symmetric sparse matrices and their factorisation.

use faer::linalg::solvers::SolveCore;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, MatMut, Side};

/// Lower triangle of a symmetric matrix, by columns, rows sorted.
#[derive(Clone, Debug)]
pub(super) struct Symmetric {
    starts: Vec<usize>,
    rows: Vec<usize>,
    values: Vec<f64>,
}

/// Collects entries of a symmetric matrix, rows sorted; equal places add up in the order given.
#[derive(Clone, Debug)]
pub(super) struct Gather {
    columns: Vec<Vec<(u32, f64)>>,
}

impl Gather {
    pub(super) fn new(size: usize) -> Self {
        Self { columns: vec![vec![]; size] }
    }

    /// Adds to (row, column); entries above the diagonal are left out, their mirror images stand for them.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        if row < column {
            return;
        }
        let entries = &mut self.columns[column];
        match entries.binary_search_by_key(&(row as u32), |(row, _)| *row) {
            Ok(at) => entries[at].1 += value,
            Err(at) => entries.insert(at, (row as u32, value)),
        }
    }

    /// The matrix; every diagonal place is present.
    pub(super) fn finish(self) -> Symmetric {
        let mut out = Symmetric { starts: vec![0], rows: vec![], values: vec![] };
        for (column, mut entries) in self.columns.into_iter().enumerate() {
            if entries.first().is_none_or(|(row, _)| *row as usize != column) {
                entries.insert(0, (column as u32, 0.0));
            }
            out.rows.extend(entries.iter().map(|(row, _)| *row as usize));
            out.values.extend(entries.iter().map(|(_, value)| value));
            out.starts.push(out.rows.len());
        }
        out
    }
}

impl Symmetric {
    pub(super) fn size(&self) -> usize {
        self.starts.len() - 1
    }

    pub(super) fn diagonal(&self) -> Vec<f64> {
        self.starts[..self.size()].iter().map(|s| self.values[*s]).collect()
    }

    /// Adds `share` of each diagonal entry to itself.
    pub(super) fn lift_diagonal(&mut self, share: f64) {
        for column in 0..self.size() {
            self.values[self.starts[column]] *= 1.0 + share;
        }
    }

    /// Matrix times vector.
    pub(super) fn times(&self, x: &[f64]) -> Vec<f64> {
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

/// A symmetric positive definite matrix with its Cholesky factor.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    pub(super) matrix: Symmetric,
    llt: Llt<usize, f64>,
}

impl Factor {
    /// Factorises; gives the matrix back when it is not positive definite.
    pub(super) fn new(matrix: Symmetric) -> Result<Self, Box<Symmetric>> {
        let n = matrix.size();
        let pattern = SymbolicSparseColMatRef::new_checked(n, n, &matrix.starts, None, &matrix.rows);
        let llt = SymbolicLlt::try_new(pattern, Side::Lower).ok().and_then(|symbolic| {
            Llt::try_new_with_symbolic(symbolic, SparseColMatRef::new(pattern, &matrix.values), Side::Lower).ok()
        });
        match llt {
            Some(llt) => Ok(Self { matrix, llt }),
            None => Err(Box::new(matrix)),
        }
    }

    /// Solves for several right-hand sides.
    pub(super) fn solve(&self, loads: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let n = self.matrix.size();
        let mut flat = loads.concat();
        if n > 0 {
            let view = MatMut::from_column_major_slice_mut(&mut flat, n, loads.len());
            self.llt.solve_in_place_with_conj(Conj::No, view);
        }
        if n == 0 { vec![vec![]; loads.len()] } else { flat.chunks(n).map(<[f64]>::to_vec).collect() }
    }
}

/// Sums kept side by side in [`dot`], so that additions need not wait for each other; a power of two that fills the
/// vector registers of common processors. The order of additions stays fixed.
const LANES: usize = 8;

/// Scalar product.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (heads_a, heads_b) = (a.chunks_exact(LANES), b.chunks_exact(LANES));
    let rest: f64 = heads_a.remainder().iter().zip(heads_b.remainder()).map(|(x, y)| x * y).sum();
    let mut sums = [0.0; LANES];
    for (x, y) in heads_a.zip(heads_b) {
        (0..LANES).for_each(|i| sums[i] += x[i] * y[i]);
    }
    sums.iter().sum::<f64>() + rest
}

/// y += factor x.
pub(super) fn add_to(y: &mut [f64], factor: f64, x: &[f64]) {
    y.iter_mut().zip(x).for_each(|(a, b)| *a += factor * b);
}

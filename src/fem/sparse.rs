//! Symmetric sparse matrices and their factorisation.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::LltRegularization;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, LltRef, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::linalg::{SupernodalThreshold, SymbolicSupernodalParams};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, MatMut, Par, Side, Spec};

/// Lower triangle of a symmetric matrix, by columns, rows sorted, the diagonal always present.
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
            let span = self.starts[column] + 1..self.starts[column + 1];
            let xc = x[column];
            let mut sum = self.values[span.start - 1] * xc;
            for (row, v) in self.rows[span.clone()].iter().zip(&self.values[span]) {
                y[*row] += v * xc;
                sum += v * x[*row];
            }
            y[column] += sum;
        }
        y
    }

    /// The sum of two matrices of one size.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        let most = self.rows.len().max(other.rows.len());
        let mut out = Self { starts: vec![0], rows: Vec::with_capacity(most), values: Vec::with_capacity(most) };
        for column in 0..self.size() {
            let span = |m: &Self| m.starts[column]..m.starts[column + 1];
            let (mut a, mut b) = (span(self).peekable(), span(other).peekable());
            let row = |m: &Self, k: Option<&usize>| k.map_or(usize::MAX, |k| m.rows[*k]);
            while a.peek().is_some() || b.peek().is_some() {
                let (ra, rb) = (row(self, a.peek()), row(other, b.peek()));
                let of = |m: &Self, k: Option<usize>| k.map_or(0.0, |k| m.values[k]);
                let (va, vb) = (a.next_if(|_| ra <= rb), b.next_if(|_| rb <= ra));
                out.rows.push(ra.min(rb));
                out.values.push(of(self, va) + of(other, vb));
            }
            out.starts.push(out.rows.len());
        }
        out
    }

    /// Whether two matrices have their entries in the same places.
    fn is_alike(&self, other: &Self) -> bool {
        self.starts == other.starts && self.rows == other.rows
    }
}

/// Most orders of elimination that are kept: a table's frame has up to five, with soft, stiff and aged joints and in the second
/// order, and changed and sketched ones are solved side by side.
const KEPT: usize = 24;

/// Orders of elimination that were found, by the places of the entries; one that is found again is the same.
#[derive(Debug, Default)]
pub struct Orders(Mutex<VecDeque<(Symmetric, SymbolicFactor)>>);

impl Orders {
    /// The order for a matrix; none where there is no memory for it.
    fn of(&self, matrix: &Symmetric) -> Option<SymbolicFactor> {
        if let Some(known) = self.known(matrix) {
            return Some(known);
        }
        let order = SymbolicFactor::new(matrix)?;
        let places = Symmetric { starts: matrix.starts.clone(), rows: matrix.rows.clone(), values: Vec::new() };
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.push_back((places, order.clone()));
        if kept.len() > KEPT {
            kept.pop_front();
        }
        Some(order)
    }

    /// Moves what it finds behind all others, so that what is used stays.
    fn known(&self, matrix: &Symmetric) -> Option<SymbolicFactor> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(places, _)| places.is_alike(matrix))?;
        let found = kept.remove(at)?;
        let order = found.1.clone();
        kept.push_back(found);
        Some(order)
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
        Self::with(matrix, &Orders::default())
    }

    /// The same where orders may be known.
    pub(crate) fn with(matrix: Symmetric, orders: &Orders) -> Result<Self, Box<Symmetric>> {
        match orders.of(&matrix) {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn matrix(size: usize, entries: &[(usize, usize, f64)]) -> Symmetric {
        let mut all = TripletBuilder::new(size);
        entries.iter().for_each(|(row, column, value)| all.add(*row, *column, *value));
        all.finish()
    }

    /// Two ways: one matrix of the entries of both.
    #[test]
    fn a_sum_is_the_matrix_of_all_entries() {
        let a = [(0, 0, 4.0), (1, 1, 5.0), (2, 2, 6.0), (3, 3, 7.0), (2, 0, 1.0), (3, 1, -2.0)];
        let b = [(1, 1, 0.5), (2, 0, 0.25), (1, 0, -1.0), (3, 2, 3.0)];
        let (sum, whole) = (matrix(4, &a).plus(&matrix(4, &b)), matrix(4, &[&a[..], &b].concat()));
        assert!(sum.is_alike(&whole) && sum.values == whole.values, "{sum:?} is not {whole:?}");
        let x = [1.0, -2.0, 3.0, 0.5];
        assert_eq!(sum.times(&x), [4.0 + 2.0 + 3.75, -1.0 - 11.0 - 1.0, 1.25 + 18.0 + 1.5, 4.0 + 9.0 + 3.5]);
    }

    #[test]
    fn a_known_order_gives_the_same_factor() {
        let like = |by: f64| matrix(3, &[(0, 0, 2.0), (1, 1, 3.0), (2, 2, by), (1, 0, -1.0), (2, 1, by / 7.0)]);
        let (orders, load) = (Orders::default(), [vec![1.0, 0.3, -2.0]]);
        for by in [4.0, 5.0, 6.0] {
            let known = Factor::with(like(by), &orders).expect("definite").solve(&load);
            assert_eq!(known, Factor::new(like(by)).expect("definite").solve(&load));
        }
        assert_eq!(orders.0.lock().expect("not poisoned").len(), 1);
    }
}

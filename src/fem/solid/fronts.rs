//! Multifrontal Cholesky on dense kernels; the unknowns kept last are left as a dense Schur complement. Work is divided at
//! fixed places, so the bits do not depend on the number of threads.

use std::ops::Range;
use std::sync::OnceLock;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::{LltRegularization, cholesky_in_place, cholesky_in_place_scratch};
use faer::linalg::matmul::matmul;
use faer::linalg::matmul::triangular::{self, BlockStructure};
use faer::linalg::triangular_solve::{solve_lower_triangular_in_place, solve_upper_triangular_in_place};
use faer::reborrow::{Reborrow, ReborrowMut};
use faer::{Accum, Mat, MatMut, MatRef, Par, Spec};

use super::dissection::blocks;

/// Columns eliminated at once. Measured.
const PANEL: usize = 192;
/// Dense work is halved down to this many rows or columns. Measured.
const CHUNK: usize = 256;
/// Multiplications below which two branches are not worth two threads. Measured.
const BRANCH: f64 = 2e6;

/// A small dense matrix, columns in the order of its unknowns, by number in a pool.
pub struct ElementMatrix {
    /// Unknowns.
    pub unknowns: Vec<u32>,
    /// Number in the pool.
    pub matrix: usize,
}

struct Front {
    own: Range<usize>,
    /// Places of later unknowns that are touched, rising.
    later: Vec<u32>,
    children: Vec<usize>,
    pieces: Vec<u32>,
    work: f64,
}

/// The order of elimination.
pub(super) struct FrontTree {
    fronts: Vec<Front>,
    /// Place of every unknown.
    pub place: Vec<u32>,
    free: usize,
}

/// The factor, and what is left of the kept unknowns.
pub(super) struct Factor {
    columns: Vec<Mat<f64>>,
    /// Both triangles.
    pub schur: Mat<f64>,
}

impl FrontTree {
    /// Three unknowns for each place of the lattice, then `kept` that are not eliminated.
    pub(super) fn new(places: &[[u16; 3]], kept: usize, pieces: &[ElementMatrix]) -> Self {
        let free = 3 * places.len();
        let mut place = vec![0u32; free + kept];
        let (mut owner, mut fronts, mut next) = (vec![0u32; free], Vec::new(), 0);
        for block in blocks(places) {
            let own = next..next + 3 * block.nodes.len();
            for d in block.nodes.iter().flat_map(|n| [3 * n, 3 * n + 1, 3 * n + 2]) {
                (place[d as usize], owner[d as usize]) = (next as u32, fronts.len() as u32);
                next += 1;
            }
            fronts.push(Front { own, later: Vec::new(), children: block.children, pieces: Vec::new(), work: 0.0 });
        }
        (free..free + kept).for_each(|d| place[d] = d as u32);
        for (i, piece) in pieces.iter().enumerate() {
            let first = piece.unknowns.iter().filter(|d| (**d as usize) < free).min_by_key(|d| place[**d as usize]);
            let front = first.map_or(fronts.len() - 1, |d| owner[*d as usize] as usize);
            fronts[front].pieces.push(i as u32);
        }
        let mut order = Self { fronts, place, free };
        (0..order.fronts.len()).for_each(|t| order.settle(t, pieces));
        order
    }

    /// Finds what a front touches beyond its own unknowns.
    fn settle(&mut self, t: usize, pieces: &[ElementMatrix]) {
        let end = self.fronts[t].own.end as u32;
        let of_pieces = self.fronts[t].pieces.iter().flat_map(|i| &pieces[*i as usize].unknowns);
        let own = of_pieces.map(|d| self.place[*d as usize]);
        let below = self.fronts[t].children.iter().flat_map(|c| self.fronts[*c].later.iter().copied());
        let mut later: Vec<u32> = own.chain(below).filter(|p| *p >= end).collect();
        if t + 1 == self.fronts.len() {
            later.extend(self.free as u32..self.place.len() as u32);
        }
        later.sort_unstable();
        later.dedup();
        let (own, all) = (self.fronts[t].own.len() as f64, (self.fronts[t].own.len() + later.len()) as f64);
        let below: f64 = self.fronts[t].children.iter().map(|c| self.fronts[*c].work).sum();
        self.fronts[t].work = below + own * all * all;
        self.fronts[t].later = later;
    }

    /// The factor; none where the matrix is not positive definite.
    pub(super) fn factor(&self, pieces: &[ElementMatrix], pool: &[Vec<f64>]) -> Option<Factor> {
        let columns: Vec<OnceLock<Mat<f64>>> = self.fronts.iter().map(|_| OnceLock::new()).collect();
        let job = Job { order: self, pieces, pool, columns: &columns };
        let rest = job.eliminate(self.fronts.len() - 1)?;
        let schur = Mat::from_fn(rest.nrows(), rest.nrows(), |i, j| rest[(i.max(j), i.min(j))]);
        Some(Factor { columns: columns.into_iter().map(OnceLock::into_inner).collect::<Option<_>>()?, schur })
    }

    /// Motions of all unknowns where those kept move as given (one column a case) and nothing acts within.
    pub(super) fn motions(&self, factor: &Factor, kept: MatRef<'_, f64>) -> Mat<f64> {
        let cases = kept.ncols();
        let mut x = Mat::<f64>::zeros(self.place.len(), cases);
        x.as_mut().subrows_mut(self.free, kept.nrows()).copy_from(kept);
        for (front, columns) in self.fronts.iter().zip(&factor.columns).rev() {
            let own = front.own.len();
            let mut right = Mat::<f64>::zeros(own, cases);
            if !front.later.is_empty() {
                let later = Mat::from_fn(front.later.len(), cases, |i, c| x[(front.later[i] as usize, c)]);
                let below = columns.as_ref().subrows(own, front.later.len());
                matmul(right.as_mut(), Accum::Replace, below.transpose(), later.as_ref(), -1.0, Par::Seq);
            }
            solve_upper_triangular_in_place(columns.as_ref().subrows(0, own).transpose(), right.as_mut(), Par::Seq);
            x.as_mut().subrows_mut(front.own.start, own).copy_from(right.as_ref());
        }
        Mat::from_fn(self.place.len(), cases, |d, c| x[(self.place[d] as usize, c)])
    }
}

struct Job<'a> {
    order: &'a FrontTree,
    pieces: &'a [ElementMatrix],
    pool: &'a [Vec<f64>],
    columns: &'a [OnceLock<Mat<f64>>],
}

impl Job<'_> {
    /// Eliminates a front and all below it; what it leaves on later unknowns, lower triangle.
    fn eliminate(&self, t: usize) -> Option<Mat<f64>> {
        let front = &self.order.fronts[t];
        let below: Vec<Option<Mat<f64>>> = match front.children[..] {
            [a, b] if self.order.fronts[a].work.min(self.order.fronts[b].work) > BRANCH => {
                let (x, y) = rayon::join(|| self.eliminate(a), || self.eliminate(b));
                vec![x, y]
            }
            _ => front.children.iter().map(|c| self.eliminate(*c)).collect(),
        };
        let below = below.into_iter().collect::<Option<Vec<_>>>()?;
        let mut m = self.gather(front, &below);
        drop(below);
        let own = front.own.len();
        eliminate_panels(m.as_mut(), own)?;
        self.columns[t].set(m.as_ref().subcols(0, own).to_owned()).ok()?;
        let left = front.later.len();
        Some(m.as_ref().submatrix(own, own, left, left).to_owned())
    }

    fn gather(&self, front: &Front, below: &[Mat<f64>]) -> Mat<f64> {
        let (start, own) = (front.own.start as u32, front.own.len());
        let n = own + front.later.len();
        let row = |p: u32| {
            let among = || own + front.later.partition_point(|q| *q < p);
            if p < front.own.end as u32 { (p - start) as usize } else { among() }
        };
        let mut m = Mat::<f64>::zeros(n, n);
        for i in &front.pieces {
            let piece = &self.pieces[*i as usize];
            let rows: Vec<usize> = piece.unknowns.iter().map(|d| row(self.order.place[*d as usize])).collect();
            let values = &self.pool[piece.matrix];
            for (b, &column) in rows.iter().enumerate() {
                for (a, &r) in rows.iter().enumerate().filter(|(_, r)| **r >= column) {
                    m[(r, column)] += values[b * rows.len() + a];
                }
            }
        }
        for (child, left) in front.children.iter().zip(below) {
            let rows: Vec<usize> = self.order.fronts[*child].later.iter().map(|p| row(*p)).collect();
            for (b, &column) in rows.iter().enumerate() {
                for a in b..rows.len() {
                    m[(rows[a], column)] += left[(a, b)];
                }
            }
        }
        m
    }
}

/// Cholesky of the first columns of a lower triangle, the rest brought up to date.
fn eliminate_panels(m: MatMut<'_, f64>, own: usize) -> Option<()> {
    let mut rest = m;
    let mut left = own;
    while left > 0 {
        let width = left.min(PANEL);
        let (mut corner, _, mut below, mut trail) = rest.split_at_mut(width, width);
        cholesky(corner.rb_mut())?;
        divide(corner.rb(), below.rb_mut());
        take_off(trail.rb_mut(), below.rb());
        rest = trail;
        left -= width;
    }
    Some(())
}

/// Cholesky of a lower triangle in its place.
pub(super) fn cholesky(m: MatMut<'_, f64>) -> Option<()> {
    let spec = Spec::default();
    let mut memory = MemBuffer::new(cholesky_in_place_scratch::<f64>(m.nrows(), Par::Seq, spec));
    cholesky_in_place(m, LltRegularization::default(), Par::Seq, MemStack::new(&mut memory), spec).ok().map(drop)
}

/// Solves with a Cholesky factor, in place.
pub(super) fn solve(l: MatRef<'_, f64>, mut right: MatMut<'_, f64>) {
    solve_lower_triangular_in_place(l, right.rb_mut(), Par::Seq);
    solve_upper_triangular_in_place(l.transpose(), right, Par::Seq);
}

/// Rows divided by a factor's transpose, halves side by side.
fn divide(l: MatRef<'_, f64>, mut rows: MatMut<'_, f64>) {
    if rows.nrows() > CHUNK {
        let half = rows.nrows() / 2;
        let (a, b) = rows.split_at_row_mut(half);
        rayon::join(|| divide(l, a), || divide(l, b));
    } else if rows.nrows() > 0 {
        solve_lower_triangular_in_place(l, rows.rb_mut().transpose_mut(), Par::Seq);
    }
}

/// Takes b times its transpose off a lower triangle, halves side by side.
fn take_off(mut c: MatMut<'_, f64>, b: MatRef<'_, f64>) {
    let n = c.nrows();
    if n > CHUNK {
        let (c11, _, c21, c22) = c.split_at_mut(n / 2, n / 2);
        let (b1, b2) = b.split_at_row(n / 2);
        rayon::join(|| take_off_block(c21, b2, b1), || rayon::join(|| take_off(c11, b1), || take_off(c22, b2)));
    } else if n > 0 {
        let (lower, full) = (BlockStructure::TriangularLower, BlockStructure::Rectangular);
        triangular::matmul(c.rb_mut(), lower, Accum::Add, b, full, b.transpose(), full, -1.0, Par::Seq);
    }
}

fn take_off_block(c: MatMut<'_, f64>, a: MatRef<'_, f64>, b: MatRef<'_, f64>) {
    if c.nrows() > 2 * CHUNK {
        let half = c.nrows() / 2;
        let (upper, lower) = c.split_at_row_mut(half);
        let (first, second) = a.split_at_row(half);
        rayon::join(|| take_off_block(upper, first, b), || take_off_block(lower, second, b));
    } else {
        matmul(c, Accum::Add, a, b.transpose(), -1.0, Par::Seq);
    }
}

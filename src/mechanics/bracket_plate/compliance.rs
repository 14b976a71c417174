//! The plate's compliance at the tubes, the pads of the wood and the screws, and what presses under a load.

use faer::linalg::matmul::matmul;
use faer::{Accum, Mat, Par};
use nalgebra::DMatrix;

use crate::fem::solid::complementarity;

/// Degrees of freedom of the tubes: lift, turns about x and y.
const TUBES: usize = 3;

/// Movements under unit loads: a pull and two moments of the tubes, then 1 N of each pad.
pub(super) struct Compliance {
    /// Motion of the tubes, lifts of the pads, pulls of the screws (rows) under each load.
    moved: Mat<f64>,
    /// Lift of each pad under a force of each, its own sinking into the wood included.
    contact: Mat<f64>,
}

impl Compliance {
    /// From what moves under each load; `give`: sinking of the wood at each pad, mm/N.
    pub(super) fn new(columns: &[Vec<f64>], give: impl Iterator<Item = f64>) -> Self {
        let moved = Mat::from_fn(columns[0].len(), columns.len(), |i, j| columns[j][i]);
        let pads = columns.len() - TUBES;
        let lift = |i: usize, j: usize| moved[(TUBES + i, TUBES + j)];
        let mut contact = Mat::from_fn(pads, pads, |i, j| f64::midpoint(lift(i, j), lift(j, i)));
        give.enumerate().for_each(|(i, give)| contact[(i, i)] += give);
        Self { moved, contact }
    }

    fn pads(&self) -> usize {
        self.contact.nrows()
    }

    /// The same with a part of the stiffness taken away, after Woodbury: `taken` acts on a few degrees of freedom, and
    /// `columns` are movements under 1 N at each: there, and as in [`Self::new`]. `None` where nothing is left to hold it.
    pub(super) fn less(&self, taken: &DMatrix<f64>, columns: &[(Vec<f64>, Vec<f64>)]) -> Option<Self> {
        let n = columns.len();
        let own = DMatrix::from_fn(n, n, |i, j| columns[j].0[i]);
        let change = (DMatrix::identity(n, n) - taken * own).lu().solve(taken)?;
        let change = Mat::from_fn(n, n, |i, j| change[(i, j)]);
        let left = Mat::from_fn(self.moved.nrows(), n, |i, j| columns[j].1[i]);
        // Movement here under a load there is that there under one here.
        let right = &change * left.subrows(0, self.moved.ncols()).transpose();
        let (mut moved, mut contact) = (self.moved.clone(), self.contact.clone());
        matmul(moved.as_mut(), Accum::Add, left.as_ref(), right.as_ref(), 1.0, Par::Seq);
        let (pads, to) = (left.subrows(TUBES, self.pads()), right.subcols(TUBES, self.pads()));
        matmul(contact.as_mut(), Accum::Add, pads, to, 1.0, Par::Seq);
        Some(Self { moved, contact })
    }

    /// Push of each pad under a load of the tubes, N.
    pub(super) fn pressed(&self, load: [f64; 3]) -> Option<Vec<f64>> {
        let gap = |i: usize| (0..TUBES).map(|k| load[k] * self.moved[(TUBES + i, k)]).sum();
        let gaps: Vec<f64> = (0..self.pads()).map(gap).collect();
        let start = gaps.iter().map(|gap| *gap < 0.0).collect();
        Some(complementarity(self.contact.as_ref(), &gaps, start)?.forces)
    }

    /// Motion of the tubes under a load and the push of the pads: mm, rad, rad.
    pub(super) fn motion(&self, load: [f64; 3], pressed: &[f64]) -> [f64; 3] {
        [0, 1, 2].map(|row| self.under(row, load, pressed))
    }

    /// Pulls of all screws under a load and the push of the pads, N.
    pub(super) fn pulls(&self, load: [f64; 3], pressed: &[f64]) -> Vec<f64> {
        (TUBES + self.pads()..self.moved.nrows()).map(|row| self.under(row, load, pressed)).collect()
    }

    fn under(&self, row: usize, load: [f64; 3], pressed: &[f64]) -> f64 {
        load.iter().chain(pressed).enumerate().map(|(j, part)| part * self.moved[(row, j)]).sum()
    }
}

//! The plate's compliance at the tubes, the pads of the wood and the screws, and what presses under a load.

use faer::linalg::matmul::matmul;
use faer::{Accum, Mat, MatRef, Par};
use nalgebra::DMatrix;

use crate::fem::solid::complementarity;

/// Degrees of freedom of the tubes: lift, turns about x and y.
const TUBES: usize = 3;

/// Movements under unit loads: a pull and two moments of the tubes, then 1 N of each pad.
pub(super) struct Compliance {
    /// Motion of the tubes and pulls of the screws (rows) under each load.
    asked: Mat<f64>,
    /// Lift of each pad under each load of the tubes.
    lifts: Mat<f64>,
    /// Lift of each pad under a force of each, its own sinking into the wood included.
    contact: Mat<f64>,
    /// Sinking of the wood under each pad, mm/N.
    give: Vec<f64>,
    /// Pads in a row.
    row: usize,
}

/// What moves under a load.
pub(super) struct Moved {
    /// Motion of the tubes, then pulls of the screws.
    pub(super) asked: Vec<f64>,
    /// Lift of each pad.
    pub(super) lifts: Vec<f64>,
}

/// What a part of the stiffness taken away changes: products of low rank.
pub(super) struct Loss {
    asked: Mat<f64>,
    pads: Mat<f64>,
    right: Mat<f64>,
}

/// Pads above which what presses is first looked for on every other one. Measured.
const MANY: usize = 120;

impl Compliance {
    /// From what moves under each load; `give`: sinking of the wood at each pad, mm/N, `row` pads in a row.
    pub(super) fn new(columns: &[Moved], give: Vec<f64>, row: usize) -> Self {
        let (pads, first) = (give.len(), &columns[0].asked);
        let asked = Mat::from_fn(first.len(), columns.len(), |i, j| columns[j].asked[i]);
        let lifts = Mat::from_fn(pads, TUBES, |i, j| columns[j].lifts[i]);
        let lift = |i: usize, j: usize| columns[TUBES + j].lifts[i];
        let mut contact = Mat::from_fn(pads, pads, |i, j| f64::midpoint(lift(i, j), lift(j, i)));
        give.iter().enumerate().for_each(|(i, give)| contact[(i, i)] += give);
        Self { asked, lifts, contact, give, row }
    }

    /// What becomes of it with a part of the stiffness taken away, after Woodbury: `taken` acts on a few degrees of freedom, and
    /// `columns` are movements under 1 N at each: there, and as in [`Self::new`]. `None` where nothing is left to hold it.
    pub(super) fn loss(&self, taken: &DMatrix<f64>, columns: &[(Vec<f64>, Moved)]) -> Option<Loss> {
        let n = columns.len();
        let own = DMatrix::from_fn(n, n, |i, j| columns[j].0[i]);
        let change = (DMatrix::identity(n, n) - taken * own).lu().solve(taken)?;
        let change = Mat::from_fn(n, n, |i, j| change[(i, j)]);
        let asked = Mat::from_fn(self.asked.nrows(), n, |i, j| columns[j].1.asked[i]);
        let pads = Mat::from_fn(self.lifts.nrows(), n, |i, j| columns[j].1.lifts[i]);
        // Movement here under a load there is that there under one here.
        let place = |i: usize, j: usize| if i < TUBES { asked[(i, j)] } else { pads[(i - TUBES, j)] };
        let right = &change * Mat::from_fn(self.asked.ncols(), n, place).transpose();
        Some(Loss { asked, pads, right })
    }

    /// The same with that taken away.
    pub(super) fn less(&self, Loss { asked, pads, right }: &Loss) -> Self {
        let (tubes, beyond) = right.as_ref().split_at_col(TUBES);
        let plus = |of: &Mat<f64>, left: &Mat<f64>, right: MatRef<'_, f64>| {
            let mut sum = of.clone();
            matmul(sum.as_mut(), Accum::Add, left.as_ref(), right, 1.0, Par::Seq);
            sum
        };
        Self {
            asked: plus(&self.asked, asked, right.as_ref()),
            lifts: plus(&self.lifts, pads, tubes),
            contact: plus(&self.contact, pads, beyond),
            give: self.give.clone(),
            row: self.row,
        }
    }

    /// Push of each pad under a load of the tubes, N.
    pub(super) fn pressed(&self, load: [f64; 3]) -> Option<Vec<f64>> {
        let gap = |i: usize| (0..TUBES).map(|k| load[k] * self.lifts[(i, k)]).sum();
        let gaps: Vec<f64> = (0..self.lifts.nrows()).map(gap).collect();
        press(self.contact.as_ref(), &gaps, &self.give, self.row)
    }

    /// Motion of the tubes under a load and the push of the pads: mm, rad, rad.
    pub(super) fn motion(&self, load: [f64; 3], pressed: &[f64]) -> [f64; 3] {
        [0, 1, 2].map(|row| self.under(row, load, pressed))
    }

    /// Pulls of all screws under a load and the push of the pads, N.
    pub(super) fn pulls(&self, load: [f64; 3], pressed: &[f64]) -> Vec<f64> {
        (TUBES..self.asked.nrows()).map(|row| self.under(row, load, pressed)).collect()
    }

    fn under(&self, row: usize, load: [f64; 3], pressed: &[f64]) -> f64 {
        load.iter().chain(pressed).enumerate().map(|(j, part)| part * self.asked[(row, j)]).sum()
    }
}

/// Push of each pad, N, of `row` in a row; `give`: sinking of the wood there, in `contact` as well. Of many, every other one is
/// looked at first, each for four: where those press, the search among all begins, which it shortens; what it finds does not
/// depend on it.
fn press(contact: MatRef<'_, f64>, gaps: &[f64], give: &[f64], row: usize) -> Option<Vec<f64>> {
    let pads = gaps.len();
    let start = if pads > MANY {
        let half = row.div_ceil(2);
        let few: Vec<usize> =
            (0..pads).filter(|i| (i % row).is_multiple_of(2) && (i / row).is_multiple_of(2)).collect();
        // A force stands for four: the wood under it sinks a quarter as much, the plate as much.
        let less = |i: usize, j: usize| if i == j { 0.75 * give[few[i]] } else { 0.0 };
        let coarse = Mat::from_fn(few.len(), few.len(), |i, j| contact[(few[i], few[j])] - less(i, j));
        let gaps: Vec<f64> = few.iter().map(|i| gaps[*i]).collect();
        let give: Vec<f64> = few.iter().map(|i| give[*i] / 4.0).collect();
        let pushed = press(coarse.as_ref(), &gaps, &give, half)?;
        (0..pads).map(|i| pushed[i / row / 2 * half + i % row / 2] > 0.0).collect()
    } else {
        gaps.iter().map(|gap| *gap < 0.0).collect()
    };
    Some(complementarity(contact, gaps, start)?.forces)
}

//! Contact on a condensed model: forces and gaps, never both.

use faer::{Mat, MatRef};

use super::fronts::{cholesky, solve};

/// Block changes without a gain before one at a time is tried. Judice and Pires 1994 use 10 (from memory).
const PATIENCE: usize = 10;
/// Share of the largest force or gap below which one has no sign.
const NOUGHT: f64 = 1e-9;

/// What touches, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// Force of each place, N; 0 where it gapes.
    pub forces: Vec<f64>,
    /// Whether it touches.
    pub touching: Vec<bool>,
    /// Changes needed.
    pub changes: usize,
}

/// A symmetric compliance, of which contact asks only what belongs to places that touch.
pub trait ContactCompliance {
    /// The part among some places; above the diagonal anything.
    fn among(&self, places: &[usize]) -> Mat<f64>;
    /// Adds to the gaps at these places, rising, or at all of them, what forces at some places open.
    fn open(&self, places: &[usize], forces: &[f64], at: Option<&[usize]>, gaps: &mut [f64]);
}

impl ContactCompliance for MatRef<'_, f64> {
    fn among(&self, places: &[usize]) -> Mat<f64> {
        lower(places.len(), |i, j| self[(places[i], places[j])])
    }

    fn open(&self, places: &[usize], forces: &[f64], at: Option<&[usize]>, gaps: &mut [f64]) {
        for (place, force) in places.iter().zip(forces) {
            let column = self.col(*place);
            match at {
                Some(at) => gaps.iter_mut().zip(at).for_each(|(gap, i)| *gap += force * column[*i]),
                None => gaps.iter_mut().zip(column.iter()).for_each(|(gap, give)| *gap += force * give),
            }
        }
    }
}

/// A square matrix of which only the lower triangle is filled.
pub fn lower(size: usize, entry: impl Fn(usize, usize) -> f64) -> Mat<f64> {
    let mut out = Mat::zeros(size, size);
    for j in 0..size {
        out.col_as_slice_mut(j)[j..].iter_mut().zip(j..).for_each(|(value, i)| *value = entry(i, j));
    }
    out
}

/// Forces of at least 0 under which no gap `gaps + compliance * forces` is below 0 and none with a force is above.
///
/// Block principal pivoting: all that is out of place changes over at once, as long as that helps, else the last of them
/// alone, which ends after finitely many changes for a positive definite compliance (Murty 1974, from memory). None where
/// the compliance is not positive definite.
#[must_use]
pub fn complementarity(compliance: &dyn ContactCompliance, gaps: &[f64], start: Vec<bool>) -> Option<Contact> {
    let mut touching = start;
    let (mut fewest, mut patience) = (usize::MAX, PATIENCE);
    for changes in 0.. {
        let (forces, open) = settle(compliance, gaps, &touching)?;
        let largest = |v: &[f64]| v.iter().fold(0.0f64, |a, x| a.max(x.abs())) * NOUGHT;
        let (no_force, no_gap) = (largest(&forces), largest(gaps));
        let wrong: Vec<usize> =
            (0..gaps.len()).filter(|&k| if touching[k] { forces[k] < -no_force } else { open[k] < -no_gap }).collect();
        let Some(&last) = wrong.last() else { return Some(Contact { forces, touching, changes }) };
        if wrong.len() < fewest {
            (fewest, patience) = (wrong.len(), PATIENCE);
        } else {
            patience = patience.saturating_sub(1);
        }
        let change = if patience > 0 { wrong } else { vec![last] };
        change.into_iter().for_each(|k| touching[k] = !touching[k]);
    }
    None
}

/// Forces that close the gaps of those that touch, and the gaps there are then.
fn settle(compliance: &dyn ContactCompliance, gaps: &[f64], touching: &[bool]) -> Option<(Vec<f64>, Vec<f64>)> {
    let on: Vec<usize> = (0..gaps.len()).filter(|k| touching[*k]).collect();
    let (mut forces, mut open) = (vec![0.0; gaps.len()], gaps.to_vec());
    if !on.is_empty() {
        let mut c = compliance.among(&on);
        let mut right = Mat::from_fn(on.len(), 1, |i, _| -gaps[on[i]]);
        cholesky(c.as_mut())?;
        solve(c.as_ref(), right.as_mut());
        let own: Vec<f64> = (0..on.len()).map(|i| right[(i, 0)]).collect();
        on.iter().zip(&own).for_each(|(k, force)| forces[*k] = *force);
        compliance.open(&on, &own, None, &mut open);
    }
    Some((forces, open))
}

//! Contact on a condensed model: forces and gaps, never both.

use faer::linalg::matmul::matmul;
use faer::{Accum, Mat, MatRef, Par};

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

/// Forces of at least 0 under which no gap `gaps + compliance * forces` is below 0 and none with a force is above.
///
/// Block principal pivoting: all that is out of place changes over at once, as long as that helps, else the last of them
/// alone, which ends after finitely many changes for a positive definite compliance (Murty 1974, from memory). None where
/// the compliance is not positive definite.
#[must_use]
pub fn complementarity(compliance: MatRef<'_, f64>, gaps: &[f64], start: Vec<bool>) -> Option<Contact> {
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
fn settle(compliance: MatRef<'_, f64>, gaps: &[f64], touching: &[bool]) -> Option<(Vec<f64>, Vec<f64>)> {
    let on: Vec<usize> = (0..gaps.len()).filter(|k| touching[*k]).collect();
    let mut forces = Mat::<f64>::zeros(gaps.len(), 1);
    if !on.is_empty() {
        let mut c = Mat::from_fn(on.len(), on.len(), |i, j| compliance[(on[i], on[j])]);
        let mut right = Mat::from_fn(on.len(), 1, |i, _| -gaps[on[i]]);
        cholesky(c.as_mut())?;
        solve(c.as_ref(), right.as_mut());
        on.iter().enumerate().for_each(|(i, k)| forces[(*k, 0)] = right[(i, 0)]);
    }
    let mut open = Mat::from_fn(gaps.len(), 1, |i, _| gaps[i]);
    matmul(open.as_mut(), Accum::Add, compliance, forces.as_ref(), 1.0, Par::Seq);
    let column = |m: &Mat<f64>| (0..gaps.len()).map(|i| m[(i, 0)]).collect();
    Some((column(&forces), column(&open)))
}

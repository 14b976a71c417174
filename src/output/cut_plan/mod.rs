//! Which piece is cut from which bar: one-dimensional cutting stock with kerf.
//!
//! Wanted, in this order: few bars, little total length bought, the largest single offcut to keep.
//!
//! A piece may lie in a bar as long as the pieces' lengths and one kerf for each cut fit: `n` pieces need `n - 1` cuts, and
//! one more if anything remains. A rest shorter than the kerf is refused: a tube cutter cannot pare it off.

mod exact;
mod search;
mod task;

use task::Task;

/// Lengths that differ by less are the same, mm: far below what a tape shows.
const SAME: f64 = 1e-6;

/// Pieces of one length.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is for; pieces with the same length may have different names.
    pub name: String,
    /// Length, mm.
    pub length: f64,
    /// How many.
    pub count: usize,
}

/// Bars that can be had.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Length, mm.
    pub length: f64,
    /// How many there are; `None` for as many as needed.
    pub count: Option<usize>,
}

/// One bar and what is cut from it, longest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Its length, mm.
    pub length: f64,
    /// Name and length, mm, of each piece in the order of cutting.
    pub pieces: Vec<(String, f64)>,
    /// What remains after the last cut, mm.
    pub offcut: f64,
}

/// How good a plan is known to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Every way of cutting was considered: none is better.
    Exact,
    /// Too many ways to consider all, but no plan can use fewer bars.
    FewestBars,
    /// A good plan; a better one may exist.
    Heuristic,
}

/// All bars.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPlan {
    /// Longest bars first, then as they were filled.
    pub bars: Vec<Bar>,
    /// How good it is.
    pub proof: Proof,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq)]
pub enum CutProblem {
    /// A length, count or kerf is not a number that can be used.
    NotALength(String),
    /// A piece is longer than every bar; name, its length and the longest bar, mm.
    TooLong(String, f64, f64),
    /// The counted bars do not suffice (in an inexact search: none was found).
    NotEnough,
}

impl Proof {
    /// What a list says of it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Exact => "no plan with fewer bars or less length exists",
            Self::FewestBars => "no plan with fewer bars exists",
            Self::Heuristic => "a good plan; a better one may exist",
        }
    }
}

impl std::fmt::Display for CutProblem {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::NotALength(what) => write!(f, "{what} is not a length that can be cut"),
            Self::TooLong(name, length, bar) => {
                write!(f, "{name} of {length:.1} mm is longer than the longest bar of {bar:.1} mm")
            }
            Self::NotEnough => f.write_str("the bars that there are do not suffice"),
        }
    }
}

impl std::error::Error for CutProblem {}

/// The plan for `pieces` from `stock` with a saw of `kerf` mm.
///
/// # Errors
/// For a piece longer than any bar, numbers that are no lengths, or too few bars.
pub fn plan(pieces: &[Piece], stock: &[Stock], kerf: f64) -> Result<CutPlan, CutProblem> {
    let task = Task::new(pieces, stock, kerf)?;
    let (fills, proof) = match task.exact() {
        Some(fills) => (fills, Proof::Exact),
        None => task.heuristic(),
    };
    fills.map(|fills| task.named(&fills, pieces, proof)).ok_or(CutProblem::NotEnough)
}

/// What remains of a bar, mm, once pieces of total length `sum` are cut from it; `None` when they do not fit.
#[must_use]
pub fn offcut(bar: f64, sum: f64, pieces: usize, kerf: f64) -> Option<f64> {
    let rest = bar - sum - kerf * pieces.saturating_sub(1) as f64;
    if rest.abs() <= SAME {
        return Some(0.0);
    }
    (pieces == 0 || rest >= kerf - SAME).then(|| (rest - kerf).max(0.0))
}

#[cfg(test)]
mod tests;

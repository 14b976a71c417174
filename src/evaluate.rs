//! From typed values to what is known of a table: layout, brackets, frame, checks.

use crate::Failure;
use crate::checks::{self, Checked};
use crate::mechanics::{self, Cache, Detail, Forces, PartModels};
use crate::model::Model;
use crate::params::Params;

/// What is known of a table.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// Positions and dimensions.
    pub model: Model,
    /// Forces and movements.
    pub forces: Forces,
    /// Checks, cautions and notes; no remedies.
    pub checked: Checked,
}

/// Lays out a table, solves it and checks it. A pure function: the same values give the same bits, whatever the cache holds
/// and on however many threads.
///
/// # Errors
/// Every problem of the values, checks that cannot be done among them, or a table that cannot be solved, which is a defect.
pub fn evaluate(params: &Params, detail: Detail, cache: &Cache) -> Result<Evaluation, Failure> {
    let model = Model::new(params)?;
    let forces = mechanics::solve(&model, detail, cache).map_err(Failure::defect)?;
    Evaluation::of(model, forces)
}

impl Evaluation {
    /// Solves and checks a table with the plate models of its brackets at hand.
    ///
    /// # Errors
    /// Checks that cannot be done, or a table that cannot be solved.
    pub fn on(model: Model, plates: &PartModels) -> Result<Self, Failure> {
        let forces = mechanics::solve_with(&model, plates).map_err(Failure::defect)?;
        Self::of(model, forces)
    }

    fn of(model: Model, forces: Forces) -> Result<Self, Failure> {
        let checked = checks::checked(&model, &forces).map_err(|undone| undone.problems())?;
        Ok(Self { model, forces, checked })
    }
}

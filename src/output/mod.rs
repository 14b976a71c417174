//! The map of files: meshes, papers, lists, report, record.

pub mod chain;
pub mod csv;
pub mod cut_plan;
pub mod drawing;
pub mod dxf;
pub mod font;
pub mod kit;
pub mod number;
pub mod pdf;
pub mod picture;
pub mod report;
pub mod report_json;
pub mod sheet;
pub mod step;
pub mod stl;
pub mod svg;
pub mod threemf;
mod tones;

use std::collections::BTreeMap;

use crate::checks::Checked;
use crate::mechanics::Forces;
use crate::model::Model;

pub use kit::{Printed, Unsound};

/// Paths below the kit's folder, with `/`, and their bytes.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Everything an output may show; nothing here is computed again.
#[derive(Clone, Copy, Debug)]
pub struct Kit<'a> {
    /// Positions, dimensions, what was assumed.
    pub model: &'a Model,
    /// Forces and movements.
    pub forces: &'a Forces,
    /// Checks, verdict, remedies, cautions.
    pub checked: &'a Checked,
    /// Parts with their judged meshes, in file order.
    pub printed: &'a [Printed],
    /// The parameter file's text as read.
    pub text: &'a str,
}

/// One sort of output.
pub type Write = fn(&Kit) -> Result<Files, String>;

impl Kit<'_> {
    /// Path of a part's mesh without its ending: `parts/01_bracket_x4`.
    #[must_use]
    pub fn stem(&self, index: usize) -> String {
        let part = &self.printed[index].part;
        format!("parts/{:02}_{}_x{}", index + 1, part.name.replace(' ', "_"), part.count)
    }
}

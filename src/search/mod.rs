//! What else could be made of a file: changes that cure, and how the verdict moves with load and tube. A client of
//! [`evaluate`](crate::evaluate::evaluate).

mod changes;
mod remedies;
mod variation;

use crate::checks::{Caution, Checked};
use crate::mechanics::Cache;
use crate::model::Model;

pub use remedies::{Found, apply, remedies};
pub use variation::{Variation, variation};

/// Adds what would cure what fails or is tight, or the caution that nothing was found. `text` is the parameter file.
pub fn advise(text: &str, model: &Model, cache: &Cache, checked: &mut Checked) {
    let Ok(file) = serde_json::from_str(text) else { return };
    let found = remedies(&file, model, &checked.checks, cache);
    let verdict = checked.verdict();
    checked.cautions.extend((!found.all).then_some(Caution::NoCure { tried: found.tried, verdict }));
    checked.remedies = found.remedies;
}

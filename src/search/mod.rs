//! What else could be made of a file: changes that cure, and how the verdict moves with load and tube. A client of
//! [`evaluate`](crate::evaluate::evaluate).

mod changes;
mod coupons;
mod remedies;
mod variation;

use crate::checks::{Caution, Checked, Concern, Verdict};
use crate::mechanics::{Cache, Forces};
use crate::model::Model;
use crate::params::Design;

pub use remedies::{Found, remedies};
pub use variation::{Variation, variation};

/// Adds what would cure what fails or is tight, or the caution that nothing was found.
pub fn advise(design: &Design, model: &Model, forces: &Forces, cache: &Cache, checked: &mut Checked) {
    checked.tear = coupons::tear(model, forces, &checked.checks);
    let found = remedies(design, model, &checked.checks, cache);
    let verdict = checked.verdict();
    let holds = checked.verdict_on(Concern::Strength) != Verdict::NotAdequate;
    checked.cautions.extend((!found.all).then_some(Caution::NoCure { tried: found.tried, verdict, holds }));
    checked.remedies = found.remedies;
}

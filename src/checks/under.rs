//! Under what something is checked.

use crate::mechanics::Estimate;
use crate::params::Shaking;

/// The load case that governs a check, or the circumstances. `joints` is the estimate of the joints' stiffness.
#[derive(Clone, Debug, PartialEq)]
pub enum Under {
    /// A load case of the model.
    Case {
        /// Its name.
        name: String,
        /// Estimate.
        joints: Estimate,
    },
    /// A load of the file alone, by name.
    Load(String),
    /// A load that shakes.
    Shaken {
        /// Its name.
        load: String,
        /// How.
        by: Shaking,
        /// Estimate.
        joints: Estimate,
    },
    /// Own weight and what stays, where the estimate makes no difference.
    Lasting,
    /// The same under one estimate.
    LastingWith {
        /// Estimate.
        joints: Estimate,
    },
    /// What stays moves with the top.
    Carried {
        /// Estimate.
        joints: Estimate,
    },
    /// The empty table.
    Empty,
    /// No load: free travel.
    Unloaded,
    /// A push that the ribs in the bores do not hold.
    RibsSlip,
    /// The hottest air that the filament stands.
    Hottest,
    /// Air hotter than the filament stands.
    TooHot {
        /// Filament, as the user calls it.
        filament: String,
        /// Its service limit, C.
        limit: f64,
        /// The hottest air, C.
        air: f64,
    },
    /// From the driest to the wettest season.
    Seasons,
    /// All screws driven home.
    ScrewsHome,
    /// Lying as it prints.
    AsPrinted,
    /// Perimeters from both sides of a wall.
    BothSides,
    /// Printed without supports.
    NoSupports,
    /// A straight driver.
    StraightDriver,
}

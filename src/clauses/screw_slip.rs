//! How far a screw gives in wood, along its axis and sideways.

use crate::source::{Clause, Source};

/// Along the axis of screws of some makes.
pub const AXIAL: Clause =
    Source::from_memory("ETA-13/0796", "2013").at("A.7.1.6: 25 d l_ef N/mm, softwood, pilot at most 0.75 d");
/// Along the axis of screws of other makes.
pub const AXIAL_OTHERS: Clause =
    Source::from_memory("approvals of wood screws of other makes", "").at("780 d^0.2 l_ef^0.4 N/mm");
/// Sideways.
pub const LATERAL: Clause =
    Source::EN_1995.at("Table 7.1: K_ser = rho_m^1.5 d / 23 per shear plane, pre-drilled screws");

/// Stiffness of a screw along its axis, N/mm, by both formulas, the smaller first. `diameter` of the thread and `thread` in the
/// wood, mm. [`AXIAL`], [`AXIAL_OTHERS`].
#[must_use]
pub fn axial(diameter: f64, thread: f64) -> [f64; 2] {
    let (one, other) = (25.0 * diameter * thread, 780.0 * diameter.powf(0.2) * thread.powf(0.4));
    [one.min(other), one.max(other)]
}

/// Stiffness of a screw against slip sideways, N/mm: `density` of the wood, mean, kg/m3, `diameter`, mm. [`LATERAL`].
#[must_use]
pub fn lateral(density: f64, diameter: f64) -> f64 {
    density.powf(1.5) * diameter / 23.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: 4.5 mm, 20 mm of thread, ash of 650 kg/m3.
    #[test]
    fn a_screw_of_4_5_mm() {
        let [one, other] = axial(4.5, 20.0);
        assert!((one - 2250.0).abs() < 1e-9 && (other - 3493.0).abs() < 1.0, "{one} {other}");
        assert!((lateral(650.0, 4.5) - 3242.0).abs() < 1.0);
    }
}

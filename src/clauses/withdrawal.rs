//! Screws pulled out of wood, heads pulled through, and the factors on both.

use std::f64::consts::PI;

use crate::source::{Clause, Source};
use crate::units::{INCH, LBF};

/// The specification for wood construction used for screws.
pub const NDS: Source = Source::NDS;

/// Wood screw withdrawal.
pub const WOOD_SCREW: Clause = NDS.at("12.2.2, eq. (12.2-2)");
/// Least penetration of a wood screw.
pub const PENETRATION: Clause = NDS.at("12.1.5.6");
/// Withdrawal and lateral load together.
pub const COMBINED: Clause = NDS.at("12.4.1, eq. (12.4-1)");
/// Load duration.
pub const DURATION: Clause = NDS.at("2.3.2, Table 2.3.2");
/// Wet service.
pub const WET: Clause = NDS.at("11.3.3, Table 11.3.3");
/// Temperature.
pub const TEMPERATURE: Clause = NDS.at("11.3.4, Table 11.3.4");
/// Plastic sheared round the head.
pub const PLASTIC_CONE: Clause = Source::STATICS.at("cylinder of plastic sheared round the edge of the head");

const LBF_PER_INCH: f64 = LBF / INCH;

/// How long the load stays, for wood and its connections.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// More than ten years.
    Permanent,
    /// Two months.
    TwoMonths,
    /// Seven days.
    SevenDays,
    /// Ten minutes.
    TenMinutes,
}

impl Duration {
    /// Factor on the reference design value. [`DURATION`].
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Permanent => 0.9,
            Self::TwoMonths => 1.15,
            Self::SevenDays => 1.25,
            Self::TenMinutes => 1.6,
        }
    }
}

/// Design value of a wood screw per length of thread with its tip in side grain, N/mm. [`WOOD_SCREW`].
///
/// `gravity` is the specific gravity assigned to the wood, `diameter` the unthreaded shank, mm.
#[must_use]
pub fn wood_screw(gravity: f64, diameter: f64) -> f64 {
    2850.0 * gravity.powi(2) * (diameter / INCH) * LBF_PER_INCH
}

/// Load that shears a head through a plastic plate, N: pi d t tau. [`PLASTIC_CONE`].
///
/// `thickness` is the plastic under the head, mm; `shear` its shear strength across that surface, MPa.
#[must_use]
pub fn head_through_plastic(head: f64, thickness: f64, shear: f64) -> f64 {
    PI * head * thickness * shear
}

/// Mean pressure of a flat head round its hole, MPa.
#[must_use]
pub fn head_bearing(force: f64, head: f64, hole: f64) -> f64 {
    force / (PI / 4.0 * (head * head - hole * hole))
}

/// Factor on withdrawal where the wood is wet in service. [`WET`].
#[must_use]
pub const fn wet_factor(wet: bool) -> f64 {
    if wet { 0.7 } else { 1.0 }
}

/// Factor for wood kept at a temperature, dry; `None` above 65.6 C (150 F), where the rules stop. [`TEMPERATURE`].
#[must_use]
pub fn temperature_factor(celsius: f64) -> Option<f64> {
    let fahrenheit = celsius * 9.0 / 5.0 + 32.0;
    [(100.0, 1.0), (125.0, 0.8), (150.0, 0.7)].into_iter().find(|(limit, _)| fahrenheit <= *limit).map(|(_, f)| f)
}

/// Capacity of a screw loaded at `angle` from the wood's surface, N. [`COMBINED`].
///
/// `withdrawal` and `lateral` are the adjusted design values, N.
#[must_use]
pub fn combined(withdrawal: f64, lateral: f64, angle: f64) -> f64 {
    let (sin, cos) = angle.sin_cos();
    withdrawal * lateral / (withdrawal * cos * cos + lateral * sin * sin)
}

/// Utilisation of a screw under pull and shear together. [`COMBINED`].
#[must_use]
pub fn combined_utilisation(pull: f64, shear: f64, withdrawal: f64, lateral: f64) -> f64 {
    let size = pull.hypot(shear);
    if size == 0.0 {
        return 0.0;
    }
    size / combined(withdrawal, lateral, pull.atan2(shear))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn combined_load_meets_both_single_loads() {
        assert!((combined_utilisation(100.0, 0.0, 200.0, 400.0) - 0.5).abs() < 1e-12);
        assert!((combined_utilisation(0.0, 100.0, 200.0, 400.0) - 0.25).abs() < 1e-12);
        assert_eq!(combined_utilisation(0.0, 0.0, 200.0, 400.0), 0.0);
    }

    #[test]
    fn heat_takes_strength_and_then_the_rules_stop() {
        assert_eq!([20.0, 45.0, 60.0, 70.0].map(temperature_factor), [Some(1.0), Some(0.8), Some(0.7), None]);
    }
}

//! Screws pulled out of wood, heads pulled through, and the factors on both.

use std::f64::consts::PI;

use crate::source::{Clause, Source};
use crate::units::{INCH, LBF};

/// The specification for wood construction used for screws.
pub const NDS: Source = Source::NDS;
const WOOD_HANDBOOK: Source = Source::WOOD_HANDBOOK.remembered();

/// Wood screw withdrawal.
pub const WOOD_SCREW: Clause = NDS.at("12.2.2, eq. (12.2-2)");
/// Lag screw withdrawal.
pub const LAG: Clause = NDS.at("12.2.1, eq. (12.2-1)");
/// Nail withdrawal.
pub const NAIL: Clause = NDS.at("12.2.3, eq. (12.2-3)");
/// No withdrawal load on a wood screw in end grain.
pub const END_GRAIN: Clause = NDS.at("12.2.2.3");
/// Head pulled through a wooden side member.
pub const PULL_THROUGH: Clause = NDS.at("12.2.5");
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
/// Ultimate withdrawal, average of tests.
pub const ULTIMATE: Clause = WOOD_HANDBOOK.at("chapter 8, wood screws, withdrawal");
/// Plastic sheared round the head.
pub const PLASTIC_CONE: Clause = Source::STATICS.at("cylinder of plastic sheared round the edge of the head");

const LBF_PER_INCH: f64 = LBF / INCH;

/// Which wood the screw turns into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Across the fibres: face or edge of a board.
    Side,
    /// Along the fibres: end of a board, where wood screws must not be pulled.
    End,
}

/// How long the load stays, for wood and its connections.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// More than ten years.
    Permanent,
    /// Ten years.
    TenYears,
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
            Self::TenYears => 1.0,
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

/// Design value of a lag screw per length of thread without its tip, N/mm. [`LAG`].
#[must_use]
pub fn lag_screw(gravity: f64, diameter: f64) -> f64 {
    1800.0 * gravity.powf(1.5) * (diameter / INCH).powf(0.75) * LBF_PER_INCH
}

/// Design value of a smooth nail per length, N/mm. [`NAIL`].
#[must_use]
pub fn nail(gravity: f64, diameter: f64) -> f64 {
    1380.0 * gravity.powf(2.5) * (diameter / INCH) * LBF_PER_INCH
}

/// Average breaking load of a wood screw per length of thread, N/mm: a cross-check, not a rating. [`ULTIMATE`].
#[must_use]
pub fn wood_screw_ultimate(gravity: f64, diameter: f64) -> f64 {
    15_700.0 * gravity.powi(2) * (diameter / INCH) * LBF_PER_INCH
}

/// Design withdrawal of one wood screw, N: nothing in end grain or below the least penetration.
///
/// `thread` is the length of thread with its tip in the wood, mm. [`WOOD_SCREW`], [`END_GRAIN`], [`PENETRATION`].
#[must_use]
pub fn wood_screw_capacity(gravity: f64, diameter: f64, thread: f64, grain: Grain) -> f64 {
    if grain == Grain::End || thread < least_penetration(diameter) {
        return 0.0;
    }
    wood_screw(gravity, diameter) * thread
}

/// Least penetration of a wood screw with its tip, mm: six diameters. [`PENETRATION`].
#[must_use]
pub const fn least_penetration(diameter: f64) -> f64 {
    6.0 * diameter
}

/// Load that pulls a head through a wooden side member, N. [`PULL_THROUGH`].
#[must_use]
pub fn head_through_wood(gravity: f64, head: f64, thickness: f64) -> f64 {
    let deep = thickness.min(2.5 * head) / INCH;
    690.0 * PI * (head / INCH) * gravity.powi(2) * deep * LBF
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
    fn the_cap_of_pull_through_is_the_printed_second_formula() {
        let cap = 1725.0 * PI * (12.7 / INCH).powi(2) * 0.42_f64.powi(2) * LBF;
        assert!((head_through_wood(0.42, 12.7, 100.0) - cap).abs() < 1e-9);
    }

    #[test]
    fn end_grain_and_shallow_screws_hold_nothing() {
        assert_eq!(wood_screw_capacity(0.5, 4.8, 40.0, Grain::End), 0.0);
        assert_eq!(wood_screw_capacity(0.5, 4.8, 28.0, Grain::Side), 0.0);
        assert!(wood_screw_capacity(0.5, 4.8, 29.0, Grain::Side) > 0.0);
    }

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

//! Plates that only press: pressure under an eccentric load, wood crushed under an edge, dents.

use super::withdrawal::NDS;
use crate::source::{Clause, Source};
use crate::units::{INCH, LBF};

/// Pressure under a plate that cannot pull.
pub const KERN: Clause = Source::STATICS.at("no-tension bearing, eccentricity inside and outside the middle third");
/// Short bearing lengths carry more across the grain.
pub const BEARING_AREA: Clause = NDS.at("3.10.4, eq. (3.10-2)");
/// Ball hardness.
pub const HARDNESS: Clause =
    Source::from_memory("ASTM D143", "2014").at("hardness: ball of 0.444 in pressed to half its diameter");

/// Largest pressure under a rectangular plate that can only press, MPa; `None` when the load lies outside it.
///
/// `length` lies along the eccentricity, mm. [`KERN`].
#[must_use]
pub fn no_tension_pressure(load: f64, eccentricity: f64, width: f64, length: f64) -> Option<f64> {
    let e = eccentricity.abs();
    if e >= length / 2.0 {
        return None;
    }
    if e <= length / 6.0 {
        return Some(load / (width * length) * (1.0 + 6.0 * e / length));
    }
    Some(2.0 * load / (3.0 * width * (length / 2.0 - e)))
}

/// Length that presses, mm. [`KERN`].
#[must_use]
pub fn pressed_length(eccentricity: f64, length: f64) -> f64 {
    (3.0 * (length / 2.0 - eccentricity.abs())).clamp(0.0, length)
}

/// Factor on compression across the grain for a bearing shorter than 6 in and at least 3 in from the end of the wood.
/// [`BEARING_AREA`].
#[must_use]
pub fn bearing_factor(contact: f64, from_end: f64) -> f64 {
    if contact >= 6.0 * INCH || from_end < 3.0 * INCH || contact <= 0.0 {
        return 1.0;
    }
    (contact + 0.375 * INCH) / contact
}

/// Pressure under which wood takes a lasting dent, MPa, from its side hardness in N. [`HARDNESS`].
///
/// The ball's mark is 100 mm2, so hardness/100 mm2 is the mean pressure at deep indentation.
#[must_use]
pub fn dent_pressure(side_hardness: f64) -> f64 {
    side_hardness / HARDNESS_MARK
}

/// Area of the mark of the hardness ball, mm2: a circle of 0.444 in. [`HARDNESS`].
pub const HARDNESS_MARK: f64 = std::f64::consts::PI / 4.0 * (0.444 * INCH) * (0.444 * INCH);

/// Side hardness in newtons from pounds-force as tabulated.
#[must_use]
pub const fn hardness_from_lbf(lbf: f64) -> f64 {
    lbf * LBF
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_two_pressure_formulas_meet_at_the_middle_third() {
        let inside = no_tension_pressure(400.0, 20.0, 100.0, 120.0).expect("pressed");
        let outside = no_tension_pressure(400.0, 20.0 + 1e-9, 100.0, 120.0).expect("pressed");
        assert!((inside - 2.0 * 400.0 / 12_000.0).abs() < 1e-12);
        assert!((inside - outside).abs() < 1e-9);
        assert_eq!(no_tension_pressure(400.0, 60.0, 100.0, 120.0), None);
    }

    #[test]
    fn pressure_and_pressed_length_balance_the_load() {
        let p = no_tension_pressure(400.0, 40.0, 100.0, 120.0).expect("pressed");
        assert!((0.5 * p * pressed_length(40.0, 120.0) * 100.0 - 400.0).abs() < 1e-9);
    }

    #[test]
    fn the_ball_leaves_a_square_centimetre() {
        assert!((HARDNESS_MARK - 100.0).abs() < 0.2);
    }

    #[test]
    fn short_bearings_carry_more_but_not_at_the_end() {
        assert!((bearing_factor(25.4, 100.0) - 1.375).abs() < 1e-12);
        assert_eq!(bearing_factor(25.4, 50.0), 1.0);
        assert_eq!(bearing_factor(200.0, 100.0), 1.0);
    }
}

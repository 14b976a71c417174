//! Legs of several tubes held together by ties: battened columns.

use std::f64::consts::PI;

use super::buckling::EN_1993;
use crate::source::{Clause, Source};

/// Battened built-up column.
pub const BATTENED: Clause = EN_1993.at("6.4.3, eq. (6.73) and (6.74), with 6.4.1, eq. (6.69) to (6.70)");
/// Column that is soft in shear.
pub const ENGESSER: Clause = Source::STATICS.at("Engesser: 1/N = 1/N_E + 1/S_v");

/// Two equal tubes a distance apart with ties at equal spacing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Battened {
    /// Area of one tube, mm2.
    pub area: f64,
    /// Second moment of area of one tube, mm4.
    pub second_moment: f64,
    /// Distance of the tubes' middles, mm.
    pub apart: f64,
    /// Distance of the ties, mm.
    pub spacing: f64,
    /// Buckling length, mm.
    pub length: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
    /// Second moment of area of the ties in one plane, mm4; infinite for stiff ties.
    pub tie: f64,
    /// Planes of ties.
    pub planes: f64,
}

/// What one tube of the leg must carry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Moment at mid-height of the whole leg, N mm.
    pub moment: f64,
    /// Compression in the worse tube, N.
    pub axial: f64,
    /// Shear on the leg, N.
    pub shear: f64,
}

impl Battened {
    /// Shear stiffness, N. [`BATTENED`].
    #[must_use]
    pub fn shear_stiffness(&self) -> f64 {
        let ei = self.modulus * self.second_moment;
        let tie = 2.0 * self.second_moment / (self.planes * self.tie) * self.apart / self.spacing;
        let frame = 24.0 * ei / (self.spacing.powi(2) * (1.0 + tie));
        frame.min(2.0 * PI * PI * ei / self.spacing.powi(2))
    }

    /// Part of the tubes' own bending stiffness that counts. [`BATTENED`].
    #[must_use]
    pub fn efficiency(&self) -> f64 {
        let slenderness = self.length / (self.composite(1.0) / (2.0 * self.area)).sqrt();
        (2.0 - slenderness / 75.0).clamp(0.0, 1.0)
    }

    /// Effective second moment of area, mm4. [`BATTENED`].
    #[must_use]
    pub fn effective(&self) -> f64 {
        self.composite(self.efficiency())
    }

    fn composite(&self, part: f64) -> f64 {
        0.5 * self.apart.powi(2) * self.area + 2.0 * part * self.second_moment
    }

    /// Critical load without shear, N.
    #[must_use]
    pub fn critical(&self) -> f64 {
        PI * PI * self.modulus * self.effective() / self.length.powi(2)
    }

    /// Critical load with shear, N. [`ENGESSER`].
    #[must_use]
    pub fn critical_with_shear(&self) -> f64 {
        engesser(self.critical(), self.shear_stiffness())
    }

    /// Forces in the worse tube under a compression and an outside moment, with a bow of L/500; `None` when it buckles.
    /// [`BATTENED`].
    #[must_use]
    pub fn chord(&self, compression: f64, moment: f64) -> Option<Chord> {
        let left = 1.0 - compression / self.critical() - compression / self.shear_stiffness();
        if left <= 0.0 {
            return None;
        }
        let moment = (compression * self.length / 500.0 + moment) / left;
        let axial = 0.5 * compression + moment * self.apart * self.area / (2.0 * self.effective());
        Some(Chord { moment, axial, shear: PI * moment / self.length })
    }
}

/// Critical load of a column that is soft in shear, N. [`ENGESSER`].
#[must_use]
pub fn engesser(euler: f64, shear_stiffness: f64) -> f64 {
    1.0 / (1.0 / euler + 1.0 / shear_stiffness)
}

/// Shear stiffness of a bundle of `tubes` with ties whose joints turn, N.
///
/// Each tube bends between ties with its joint's turning in series: 1/S = a^2/(24 n' E I) + a/(n' k) for each of the
/// n' = tubes/2 frames, k the turning stiffness of one tube in one tie (`tie_joint`, N mm/rad). `end_ties` counts the
/// top and bottom, which serve one bay only: with `bays` bays the joints per bay are (bays + 1)/bays.
#[must_use]
pub fn bundle_shear_stiffness(
    tubes: usize,
    modulus: f64,
    second_moment: f64,
    spacing: f64,
    tie_joint: f64,
    bays: usize,
) -> f64 {
    let n = tubes as f64;
    let bending = spacing.powi(2) / (12.0 * n * modulus * second_moment);
    let joints = (bays as f64 + 1.0) / bays as f64;
    let turning = spacing / (n * tie_joint * joints);
    1.0 / (bending + turning)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn soft_shear_lowers_the_critical_load() {
        assert!((engesser(2.0, 2.0) - 1.0).abs() < 1e-12);
        assert!((engesser(5.0, f64::INFINITY) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_leg_past_its_critical_load_has_no_balance() {
        let leg = Battened {
            area: 245.04,
            second_moment: 30_009.0,
            apart: 120.0,
            spacing: 250.0,
            length: 900.0,
            modulus: 210e3,
            tie: f64::INFINITY,
            planes: 1.0,
        };
        assert_eq!(leg.chord(1.4e6, 0.0), None);
    }
}

//! Screws loaded sideways: yield modes of a dowel in single shear.

use super::withdrawal::NDS;
use crate::source::{Clause, Source};
use crate::units::{INCH, PSI};

/// Yield limit equations.
pub const YIELD: Clause = NDS.at("12.3.1, Table 12.3.1A");
/// Reduction terms.
pub const REDUCTION: Clause = NDS.at("12.3.1, Table 12.3.1B");
/// Bearing of the dowel in wood.
pub const DOWEL_BEARING: Clause = NDS.at("12.3.3, Table 12.3.3");
/// Bending yield of the dowel.
pub const BENDING_YIELD: Clause = NDS.at("Appendix I, Table I1");
/// Dowel bearing in plastic.
pub const PLASTIC_BEARING: Clause = Source::JUDGEMENT
    .at("no code gives dowel bearing in printed plastic; its compressive yield is used in the same equations");

/// One screw through a side member into a main member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dowel {
    /// Root diameter of the thread, mm.
    pub root: f64,
    /// Bearing strength of the main member (wood), MPa.
    pub main_bearing: f64,
    /// Bearing strength of the side member (plate), MPa.
    pub side_bearing: f64,
    /// Bearing length in the main member, mm: penetration less half the tip.
    pub main_length: f64,
    /// Bearing length in the side member, mm.
    pub side_length: f64,
    /// Bending yield strength of the screw, MPa.
    pub bending_yield: f64,
    /// Largest angle between load and grain of either member, radians.
    pub grain_angle: f64,
}

/// A way for the dowel to yield.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mode {
    /// Main member crushed.
    Im,
    /// Side member crushed.
    Is,
    /// Dowel turns, both members crushed.
    II,
    /// One hinge, main member crushed.
    IIIm,
    /// One hinge, side member crushed.
    IIIs,
    /// Two hinges.
    IV,
}

impl Dowel {
    /// Reference lateral value of every mode, N. [`YIELD`].
    #[must_use]
    pub fn modes(&self) -> [(Mode, f64); 6] {
        let Self { root: d, main_bearing: fm, side_bearing: fs, main_length: lm, side_length: ls, .. } = *self;
        let (re, fy) = (fm / fs, self.bending_yield);
        let (k1, k2, k3) = self.coefficients();
        let hinge = d * d * (2.0 * fm * fy / (3.0 * (1.0 + re))).sqrt();
        [
            (Mode::Im, d * lm * fm),
            (Mode::Is, d * ls * fs),
            (Mode::II, k1 * d * ls * fs),
            (Mode::IIIm, k2 * d * lm * fm / (1.0 + 2.0 * re)),
            (Mode::IIIs, k3 * d * ls * fm / (2.0 + re)),
            (Mode::IV, hinge),
        ]
        .map(|(mode, value)| (mode, value / self.reduction(mode)))
    }

    /// The weakest mode and its reference lateral value, N.
    #[must_use]
    pub fn weakest(&self) -> (Mode, f64) {
        let modes = self.modes();
        modes.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(modes[0])
    }

    /// k1, k2, k3 of the yield limit equations. [`YIELD`].
    #[must_use]
    pub fn coefficients(&self) -> (f64, f64, f64) {
        let Self { root: d, main_bearing: fm, main_length: lm, side_length: ls, bending_yield: fy, .. } = *self;
        let (re, rt) = (fm / self.side_bearing, lm / ls);
        let k1 =
            ((re + 2.0 * re * re * (1.0 + rt + rt * rt) + rt * rt * re.powi(3)).sqrt() - re * (1.0 + rt)) / (1.0 + re);
        let k2 = -1.0 + (2.0 * (1.0 + re) + 2.0 * fy * (1.0 + 2.0 * re) * d * d / (3.0 * fm * lm * lm)).sqrt();
        let k3 = -1.0 + (2.0 * (1.0 + re) / re + 2.0 * fy * (2.0 + re) * d * d / (3.0 * fm * ls * ls)).sqrt();
        (k1, k2, k3)
    }

    /// Reduction term of a mode. [`REDUCTION`].
    #[must_use]
    pub fn reduction(&self, mode: Mode) -> f64 {
        let inches = self.root / INCH;
        if inches <= 0.17 {
            return 2.2;
        }
        if inches < 0.25 {
            return 10.0 * inches + 0.5;
        }
        let angle = 1.0 + 0.25 * self.grain_angle / std::f64::consts::FRAC_PI_2;
        angle
            * match mode {
                Mode::Im | Mode::Is => 4.0,
                Mode::II => 3.6,
                Mode::IIIm | Mode::IIIs | Mode::IV => 3.2,
            }
    }
}

/// Bearing strength of wood under a dowel thinner than 1/4 in, MPa, rounded to 50 psi as tabulated. [`DOWEL_BEARING`].
#[must_use]
pub fn wood_bearing(gravity: f64) -> f64 {
    to_50_psi(16_600.0 * gravity.powf(1.84))
}

fn to_50_psi(psi: f64) -> f64 {
    (psi / 50.0).round() * 50.0 * PSI
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bearing_of_common_woods_is_the_tabulated_psi() {
        assert!((wood_bearing(0.5) / PSI - 4650.0).abs() < 1e-6);
        assert!((wood_bearing(0.42) / PSI - 3350.0).abs() < 1e-6);
    }
}

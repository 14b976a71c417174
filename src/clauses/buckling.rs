//! Tubes as columns and beams: flexural buckling, class of section, elastic stress.

use std::f64::consts::PI;

use super::working::{Equation, equation};
use crate::source::{Clause, Source};

/// The standard for steel members.
pub const EN_1993: Source = Source::from_memory("EN 1993-1-1", "2005");
/// Flexural buckling.
pub const FLEXURAL: Clause = EN_1993.at("6.3.1.2, eq. (6.47) to (6.49), Table 6.1");
/// Elastic check of a section.
pub const ELASTIC: Clause = EN_1993.at("6.2.1 (5), eq. (6.1)");
/// Bending and compression together, elastic interaction with amplified moment.
pub const INTERACTION: Clause = EN_1993.at("6.3.3, in the simple form N/Nb + M/(Wel fy (1 - N/Ncr))");

/// Imperfection factor of a cold formed tube: curve c. [`FLEXURAL`].
pub const COLD_FORMED: f64 = 0.49;

/// Reduction factor for a relative slenderness and the imperfection factor of a buckling curve. [`FLEXURAL`].
#[must_use]
pub fn chi(imperfection: f64, slenderness: f64) -> f64 {
    let l = slenderness;
    let phi = 0.5 * (1.0 + imperfection * (l - 0.2) + l * l);
    if l <= 0.2 { 1.0 } else { (1.0 / (phi + (phi * phi - l * l).sqrt())).min(1.0) }
}

/// A compressed member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Area, mm2.
    pub area: f64,
    /// Second moment of area, mm4.
    pub second_moment: f64,
    /// Yield strength, MPa.
    pub yield_strength: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
    /// Buckling length, mm.
    pub length: f64,
    /// Imperfection factor of the buckling curve.
    pub imperfection: f64,
}

impl Column {
    /// Euler load, N.
    #[must_use]
    pub fn critical(&self) -> f64 {
        PI * PI * self.modulus * self.second_moment / self.length.powi(2)
    }

    /// Relative slenderness. [`FLEXURAL`].
    #[must_use]
    pub fn slenderness(&self) -> f64 {
        (self.squash() / self.critical()).sqrt()
    }

    /// Load at yield over the whole area, N.
    #[must_use]
    pub fn squash(&self) -> f64 {
        self.area * self.yield_strength
    }

    /// Buckling resistance, N, with a partial factor of 1.0. [`FLEXURAL`].
    #[must_use]
    pub fn resistance(&self) -> f64 {
        chi(self.imperfection, self.slenderness()) * self.squash()
    }

    /// Utilisation under a compression and a moment; infinite at or above the Euler load. [`INTERACTION`].
    #[must_use]
    pub fn utilisation(&self, compression: f64, moment: f64, section_modulus: f64) -> f64 {
        let part = compression / self.critical();
        if part >= 1.0 {
            return f64::INFINITY;
        }
        compression / self.resistance() + moment / (section_modulus * self.yield_strength * (1.0 - part))
    }

    /// The working of [`Self::resistance`].
    #[must_use]
    pub fn working(&self) -> Vec<Equation> {
        let (critical, slenderness) = (self.critical(), self.slenderness());
        let chi = chi(self.imperfection, slenderness);
        let (e, i) = (("E", self.modulus, "MPa"), ("I", self.second_moment, "mm4"));
        let (a, f_y) = (("A", self.area, "mm2"), ("f_y", self.yield_strength, "MPa"));
        vec![
            equation("N_cr = pi^2 E I/L^2", [e, i, ("L", self.length, "mm")], critical, "N"),
            equation("lambda = sqrt(A f_y/N_cr)", [a, f_y, ("N_cr", critical, "N")], slenderness, ""),
            equation("N_b = chi A f_y", [("chi", chi, ""), a, f_y], self.resistance(), "N"),
        ]
    }
}

/// Forces on one section of a round tube.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SectionForces {
    /// Axial force, N.
    pub axial: f64,
    /// Bending moment, N mm.
    pub moment: f64,
    /// Shear force, N.
    pub shear: f64,
    /// Torsion, N mm.
    pub torsion: f64,
}

/// Elastic stresses of a thin round tube, MPa: (axial and bending, shear and torsion, equivalent). The largest
/// bending and the largest shear are at different places round the tube; taking them together is on the safe side.
#[must_use]
pub fn tube_stress(outside: f64, wall: f64, forces: &SectionForces) -> (f64, f64, f64) {
    let [area, modulus] = tube_section(outside, wall);
    let direct = forces.axial.abs() / area + forces.moment.abs() / modulus;
    let shear = forces.shear.abs() / (2.0 * area / PI) + forces.torsion.abs() / (2.0 * modulus);
    (direct, shear, (direct * direct + 3.0 * shear * shear).sqrt())
}

/// Area, mm2, and section modulus, mm3, of a round tube.
#[must_use]
pub fn tube_section(outside: f64, wall: f64) -> [f64; 2] {
    let inside = outside - 2.0 * wall;
    let area = PI / 4.0 * (outside * outside - inside * inside);
    [area, PI / 32.0 * (outside.powi(4) - inside.powi(4)) / outside]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stocky_columns_do_not_buckle() {
        assert_eq!(chi(COLD_FORMED, 0.1), 1.0);
    }

    #[test]
    fn cantilever_tube_of_the_hand_check() {
        // CHS 33.7 x 2.5, 700 mm, 100 N: 39.3 MPa.
        let forces = SectionForces { moment: 7e4, ..SectionForces::default() };
        assert!((tube_stress(33.7, 2.5, &forces).0 - 39.3).abs() < 0.05);
    }

    #[test]
    fn at_the_euler_load_nothing_is_left() {
        let column = Column {
            area: 100.0,
            second_moment: 1e3,
            yield_strength: 235.0,
            modulus: 210e3,
            length: 1e3,
            imperfection: COLD_FORMED,
        };
        assert!(column.utilisation(column.critical(), 0.0, 100.0).is_infinite());
        assert!((column.utilisation(column.resistance(), 0.0, 100.0) - 1.0).abs() < 1e-12);
    }
}

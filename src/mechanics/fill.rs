//! How stiff a printed section is: walls and solid layers of full plastic round a core of infill.
//!
//! Every share is of the same section printed solid, and is 1 there. What stands upright in the printer has walls on both
//! sides, what lies level has solid layers below and above.

use crate::params::Printing;
use crate::source::{Clause, Source};

/// What a section is filled with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fill {
    /// Solid plastic behind upright faces, mm.
    pub wall: f64,
    /// Solid plastic behind level faces, mm.
    pub skin: f64,
    /// Modulus of the core over that of the plastic.
    pub core: f64,
}

/// Modulus of the core. Open cells go with the square of their density, the walls of a grid that is loaded in its plane
/// with the density itself (Gibson and Ashby, Cellular Solids, from memory); infill is a grid with joints that bend.
/// Judgement: halfway. Between both cases a boss wall of 7 mm with two lines of 0.4 mm and 40 % infill differs by a fifth
/// up or down, as much as the band of the brackets.
const POWER: f64 = 1.5;
/// Why.
pub const CORE: Clause = Source::JUDGEMENT.at(
    "walls and solid layers carry in full, infill with its density to the power 1.5, between open cells (2) and a grid in its plane (1)",
);

impl Fill {
    /// Printed solid.
    #[cfg(test)]
    pub const SOLID: Self = Self { wall: 0.0, skin: 0.0, core: 1.0 };

    /// As the printer is set.
    #[must_use]
    pub fn of(printing: &Printing) -> Self {
        Self { wall: printing.wall(), skin: printing.skin(), core: printing.infill.powf(POWER) }
    }

    /// A wall of this thickness, mm, loaded in its plane.
    #[must_use]
    pub fn upright(&self, thickness: f64) -> f64 {
        self.mixed(hollow(thickness, self.wall))
    }

    /// A plate of this thickness, mm, loaded in its plane.
    #[must_use]
    pub fn level(&self, thickness: f64) -> f64 {
        self.mixed(hollow(thickness, self.skin))
    }

    /// A plate of this thickness, mm, that bends: its solid layers lie far from the middle.
    #[must_use]
    pub fn bending(&self, thickness: f64) -> f64 {
        self.mixed(hollow(thickness, self.skin).powi(3))
    }

    /// A plate of this thickness, mm, sheared across it, from the energy of the shear that bending brings along:
    /// S = D^2 / integral of Q^2/G, 5/6 G t where it is solid. [`crate::source::Source::STATICS`].
    #[must_use]
    pub fn shear(&self, thickness: f64) -> f64 {
        // Thickness and moduli 1; the core reaches from the middle to `a`, where the static moment of the skin is `q`.
        let (k, c) = (self.core, hollow(thickness, self.skin));
        let (a, q) = (c / 2.0, (1.0 - c * c) / 8.0);
        let within = |z: f64| (z / 16.0 - z.powi(3) / 6.0 + z.powi(5) / 5.0) / 4.0;
        let skin = within(0.5) - within(a);
        let core = q * q * a / k + q * 2.0 / 3.0 * a.powi(3) + k * 2.0 / 15.0 * a.powi(5);
        let bending = self.bending(thickness) / 12.0;
        bending * bending / (2.0 * (skin + core)) / SOLID_SHEAR
    }

    /// A plate of this thickness, mm, pressed together: layer upon layer.
    #[must_use]
    pub fn through(&self, thickness: f64) -> f64 {
        let c = hollow(thickness, self.skin);
        1.0 / (1.0 - c + c / self.core)
    }

    /// The same round a hole under a head that reaches this far beyond the hole, mm: the hole has walls of its own.
    #[must_use]
    pub fn round_hole(&self, thickness: f64, ring: f64) -> f64 {
        let walls = (self.wall / ring).min(1.0);
        walls + (1.0 - walls) * self.through(thickness)
    }

    /// Stiffness where a share of the section is core.
    fn mixed(&self, core: f64) -> f64 {
        1.0 - core + core * self.core
    }
}

/// Shear stiffness of a solid section of unit size.
const SOLID_SHEAR: f64 = 5.0 / 6.0;

/// Share of a thickness that solid plastic on both sides leaves to the core.
fn hollow(size: f64, solid: f64) -> f64 {
    (1.0 - 2.0 * solid / size).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(f: &Fill) -> [f64; 6] {
        [f.upright(8.0), f.level(8.0), f.bending(8.0), f.shear(8.0), f.through(8.0), f.round_hole(8.0, 2.0)]
    }

    #[test]
    fn a_solid_section_has_its_full_stiffness() {
        for f in [Fill::SOLID, Fill { wall: 4.0, skin: 4.0, core: 0.01 }, Fill { wall: 1.0, skin: 2.0, core: 1.0 }] {
            assert!(all(&f).iter().all(|share| (share - 1.0).abs() < 1e-12), "{f:?}");
        }
    }

    /// Faces of 2 mm on 8 mm, core of a quarter of the modulus: 1 - 3/4 of an eighth; half of it; 1/(1/2 + 2).
    #[test]
    fn shares_follow_from_the_section() {
        let f = Fill { wall: 1.0, skin: 2.0, core: 0.25 };
        let wanted = [0.4375, 0.625, 0.90625, f.shear(8.0), 0.4, 0.5 + 0.5 * 0.4];
        assert!(all(&f).iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-12), "{:?}", all(&f));
    }

    /// Thin faces on a soft core: the core alone shears, over the distance between the faces' middles.
    #[test]
    fn a_soft_core_shears_as_a_sandwich_does() {
        let f = Fill { wall: 0.0, skin: 0.1, core: 1e-3 };
        let (core, apart) = (9.8, 9.9);
        let wanted = f.core * apart * apart / core / 10.0 / SOLID_SHEAR;
        assert!((f.shear(10.0) / wanted - 1.0).abs() < 0.02, "{} is not {wanted}", f.shear(10.0));
    }
}

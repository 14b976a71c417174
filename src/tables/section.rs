//! Properties of a round hollow section.

use std::f64::consts::PI;

use crate::source::{Clause, Source};

/// A round hollow section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Outside diameter, mm.
    pub outside: f64,
    /// Wall thickness, mm; at most half of the outside diameter.
    pub wall: f64,
}

/// Source of every property of [`Section`].
pub const SECTION_SOURCE: Clause = Source::STATICS.at("round hollow section");

impl Section {
    /// Inside diameter, mm.
    #[must_use]
    pub fn inside(&self) -> f64 {
        self.outside - 2.0 * self.wall
    }

    /// Area A = pi (D^2 - d^2) / 4, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        PI / 4.0 * (self.outside.powi(2) - self.inside().powi(2))
    }

    /// Second moment of area I = pi (D^4 - d^4) / 64, mm4.
    #[must_use]
    pub fn inertia(&self) -> f64 {
        PI / 64.0 * (self.outside.powi(4) - self.inside().powi(4))
    }

    /// Elastic section modulus W_el = 2 I / D, mm3.
    #[must_use]
    pub fn elastic_modulus(&self) -> f64 {
        2.0 * self.inertia() / self.outside
    }

    /// Plastic section modulus W_pl = (D^3 - d^3) / 6, mm3.
    #[must_use]
    pub fn plastic_modulus(&self) -> f64 {
        (self.outside.powi(3) - self.inside().powi(3)) / 6.0
    }

    /// Mass of a metre, kg, of metal of `density` kg/m3.
    #[must_use]
    pub fn mass_per_metre(&self, density: f64) -> f64 {
        self.area() * density * 1e-6
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_agree_with_a_makers_table() {
        // Cold formed circular hollow sections, maker's table (kg/m, A cm2, I cm4, W_el cm3, W_pl cm3) as
        // printed; half of the last printed digit.
        let rows: [(f64, f64, [&str; 5]); 12] = [
            (21.3, 2.0, ["0.95", "1.21", "0.571", "0.54", "0.748"]),
            (26.9, 2.0, ["1.23", "1.56", "1.22", "0.91", "1.24"]),
            (26.9, 2.5, ["1.50", "1.92", "1.44", "1.07", "1.49"]),
            (33.7, 2.0, ["1.56", "1.99", "2.51", "1.49", "2.01"]),
            (33.7, 2.5, ["1.92", "2.45", "3.00", "1.78", "2.44"]),
            (42.4, 2.5, ["2.46", "3.13", "6.26", "2.95", "3.99"]),
            (42.4, 3.0, ["2.91", "3.71", "7.25", "3.42", "4.67"]),
            (48.3, 2.5, ["2.82", "3.60", "9.46", "3.92", "5.25"]),
            (48.3, 3.0, ["3.35", "4.27", "11.0", "4.55", "6.17"]),
            (48.3, 3.2, ["3.56", "4.53", "11.6", "4.80", "6.52"]),
            (60.3, 3.0, ["4.24", "5.40", "22.2", "7.37", "9.86"]),
            (244.5, 10.0, ["57.8", "73.7", "5073", "415", "550"]),
        ];
        for (outside, wall, printed) in rows {
            let s = Section { outside, wall };
            let got = [
                s.mass_per_metre(7_850.0),
                s.area() / 1e2,
                s.inertia() / 1e4,
                s.elastic_modulus() / 1e3,
                s.plastic_modulus() / 1e3,
            ];
            for (value, text) in got.iter().zip(printed) {
                let digits = text.split_once('.').map_or(0, |(_, d)| d.len());
                let half = 0.5 * 0.1_f64.powi(i32::try_from(digits).expect("few digits"));
                let want: f64 = text.parse().expect("a number");
                assert!((value - want).abs() <= half * 1.000_001, "{outside} x {wall}: {value} is not {text}");
            }
        }
    }

    #[test]
    fn a_solid_bar_is_the_limit_of_a_thick_wall() {
        let bar = Section { outside: 10.0, wall: 5.0 };
        assert!((bar.elastic_modulus() - PI * 1000.0 / 32.0).abs() < 1e-9);
        assert!((bar.plastic_modulus() - 1000.0 / 6.0).abs() < 1e-9);
    }
}

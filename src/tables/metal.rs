//! Tube metals: elastic constants, strength, column curve.

use super::find_in;
use super::text::{Page, num};
use crate::source::{Clause, Source};

/// A tube metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Metal {
    /// Name as written in the parameter file.
    pub name: &'static str,
    /// Modulus of elasticity, MPa.
    pub e: f64,
    /// Shear modulus, MPa.
    pub g: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Density, kg/m3.
    pub density: f64,
    /// Yield strength or 0.2 % proof strength, MPa, for walls up to 5 mm.
    pub yield_strength: f64,
    /// Tensile strength, MPa.
    pub ultimate: f64,
    /// Imperfection factor alpha of the column curve.
    pub imperfection: f64,
    /// Slenderness up to which a column does not buckle.
    pub plateau: f64,
    /// What to know before relying on the row; empty when nothing.
    pub note: &'static str,
    /// Where the elastic constants and strength come from.
    pub source: Clause,
    /// Where the column curve comes from.
    pub curve_source: Clause,
}

impl Metal {
    /// Reduction for buckling at relative slenderness `slenderness = sqrt(A f_y / N_cr)`, 0 to 1.
    ///
    /// phi = (1 + alpha (l - l_0) + l^2) / 2; chi = 1 / (phi + sqrt(phi^2 - l^2)) <= 1.
    /// Source: EN 1993-1-1 6.3.1.2, eq. 6.49; EN 1993-1-4 and EN 1999-1-1 use the same form with their own constants.
    #[must_use]
    pub fn buckling_reduction(&self, slenderness: f64) -> f64 {
        reduction(self.imperfection, self.plateau, slenderness)
    }
}

/// The column curve with its two constants.
fn reduction(alpha: f64, plateau: f64, slenderness: f64) -> f64 {
    if slenderness <= plateau {
        return 1.0;
    }
    let phi = 0.5 * (1.0 + alpha * (slenderness - plateau) + slenderness * slenderness);
    (1.0 / (phi + (phi * phi - slenderness * slenderness).sqrt())).min(1.0)
}

const EC3: Source = Source::read("EN 1993-1-1", "2005");
const EC3_MEMORY: Source = Source::from_memory("EN 1993-1-1", "2005");
const CURVE_C: Clause = EC3_MEMORY.at("Tables 6.1 and 6.2: cold formed hollow section, curve c, alpha 0.49");
const EC9: Source = Source::from_memory("EN 1999-1-1", "2007");
const CLASS_A: Clause = EC9.at("Table 6.6: buckling class A without welds, alpha 0.20, plateau 0.10");
const STAINLESS: Source = Source::from_memory("EN 1993-1-4", "2006");

const STEEL: Metal = Metal {
    name: "",
    e: 210_000.0,
    g: 81_000.0,
    poisson: 0.3,
    density: 7_850.0,
    yield_strength: 0.0,
    ultimate: 0.0,
    imperfection: 0.49,
    plateau: 0.2,
    note: "",
    source: EC3.at("3.2.6 and Table 3.1"),
    curve_source: CURVE_C,
};

const ALUMINIUM: Metal = Metal {
    e: 70_000.0,
    g: 27_000.0,
    density: 2_700.0,
    imperfection: 0.20,
    plateau: 0.10,
    source: EC9.at("3.2.5 and Table 3.2b"),
    curve_source: CLASS_A,
    ..STEEL
};

/// Metals, sorted by name.
#[rustfmt::skip]
pub const METALS: &[Metal] = &[
    Metal { name: "aluminium 6060-T6", yield_strength: 140.0, ultimate: 170.0,
        note: "Heat of welding or baking takes about half of the strength; no endurance limit.", ..ALUMINIUM },
    Metal { name: "aluminium 6061-T6", yield_strength: 240.0, ultimate: 260.0,
        note: "Heat of welding or baking takes about half of the strength; no endurance limit.", ..ALUMINIUM },
    Metal { name: "EMT steel", yield_strength: 207.0, ultimate: 310.0,
        note: "Electrical tubing has no specified yield strength: 30,000 psi is what such strip usually has.",
        source: Source::JUDGEMENT.at("electrical tubing has no specified yield strength: 30,000 psi is what such strip \
            usually has, from memory"), ..STEEL },
    Metal { name: "mild steel", yield_strength: 205.0, ultimate: 310.0,
        note: "Tube of unknown grade: counted as low as welded low-carbon tube is sold.",
        source: Source::JUDGEMENT.at("tube of unknown grade: low end of welded low-carbon tube; elastic constants as \
            EN 1993-1-1 3.2.6"), ..STEEL },
    Metal { name: "stainless 1.4301", e: 200_000.0, g: 76_900.0, density: 7_900.0, yield_strength: 210.0,
        ultimate: 520.0, plateau: 0.40,
        note: "No sharp yield: stiffness already falls below the proof strength.",
        source: STAINLESS.at("2.1.3 and Table 2.1"),
            curve_source: STAINLESS.at("Table 5.3: cold formed hollow section, alpha 0.49, plateau 0.40"), ..STEEL },
    Metal { name: "steel E235", yield_strength: 235.0, ultimate: 340.0,
        note: "Delivery +N; drawn tube (+C, +SR) is stronger.",
        source: Source::from_memory("EN 10305-1",
            "2016").at("mechanical properties, E235+N; elastic constants EN 1993-1-1 3.2.6"), ..STEEL },
    Metal { name: "steel S235", yield_strength: 235.0, ultimate: 360.0, ..STEEL },
    Metal { name: "steel S355", yield_strength: 355.0, ultimate: 470.0, ..STEEL },
];

/// The metal called `name`; case, blanks at the ends and hyphens do not matter.
#[must_use]
pub fn find(name: &str) -> Option<&'static Metal> {
    find_in(METALS, name, |metal| metal.name)
}

/// Names of the metals, sorted.
#[must_use]
pub fn names() -> Vec<&'static str> {
    METALS.iter().map(|metal| metal.name).collect()
}

/// The metals for reading.
pub(super) fn text() -> String {
    let heads = [
        "metal",
        "E\nMPa",
        "G\nMPa",
        "nu",
        "density\nkg/m3",
        "yield\nMPa",
        "tensile\nMPa",
        "alpha",
        "plateau",
        "source",
    ];
    let mut page = Page::new("Tube metals", &heads);
    for m in METALS {
        let sources = page.cite(&[m.source, m.curve_source]);
        let mut cells = vec![m.name.to_owned(), num(m.e, 0), num(m.g, 0), num(m.poisson, 2)];
        cells.extend([m.density, m.yield_strength, m.ultimate].map(|x| num(x, 0)));
        cells.extend([num(m.imperfection, 2), num(m.plateau, 2), sources]);
        page.row(cells);
    }
    page.note("alpha and plateau: imperfection factor and first slenderness of the column curve.");
    page.finish()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::section::Section;
    use super::*;

    #[test]
    fn metals_are_sorted_and_sensible() {
        assert!(METALS.is_sorted_by(|a, b| a.name.to_lowercase() < b.name.to_lowercase()));
        for m in METALS {
            assert_eq!(find(&m.name.to_uppercase()), Some(m));
            let isotropic = m.e / (2.0 * (1.0 + m.poisson));
            assert!((m.g / isotropic - 1.0).abs() < 0.01, "{}: G {} is not {isotropic}", m.name, m.g);
            assert!(m.yield_strength < m.ultimate && m.yield_strength > 100.0, "{}", m.name);
            assert!((2_600.0..8_100.0).contains(&m.density), "{}", m.name);
        }
        assert_eq!(names().len(), METALS.len());
    }

    #[test]
    fn column_curves_give_the_published_reductions() {
        // EN 1993-1-1 Figure 6.4 as tabulated to three decimals; half of the last digit.
        let slenderness = [0.2, 0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0];
        let curves = [
            (0.21, [1.0, 0.924, 0.796, 0.666, 0.530, 0.372, 0.223, 0.147, 0.104]),
            (0.34, [1.0, 0.884, 0.724, 0.597, 0.478, 0.342, 0.209, 0.140, 0.099]),
            (0.49, [1.0, 0.843, 0.662, 0.540, 0.434, 0.315, 0.196, 0.132, 0.095]),
        ];
        for (alpha, printed) in curves {
            for (l, chi) in slenderness.iter().zip(printed) {
                assert!((reduction(alpha, 0.2, *l) - chi).abs() <= 0.000_5, "alpha {alpha}, {l}");
            }
        }
        assert_eq!(STEEL.buckling_reduction(0.1), 1.0);
    }

    #[test]
    fn a_column_of_the_designers_guide() {
        // Designers' Guide to EN 1993-1-1, Example 6.7: CHS 244.5 x 10 of S355, 4 m, curve a, A 7370 mm2:
        // N_b,Rd 2296.8 kN; half of the last digit.
        let section = Section { outside: 244.5, wall: 10.0 };
        let critical = PI.powi(2) * STEEL.e * section.inertia() / 4000.0_f64.powi(2);
        let squash = 7370.0 * 355.0;
        let resistance = squash * reduction(0.21, 0.2, (squash / critical).sqrt());
        assert!((resistance / 1e3 - 2296.8).abs() <= 0.05, "{resistance}");
    }
}

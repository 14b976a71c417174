//! Sheet goods.

use super::form::{PLYWOOD, SHEET};
use super::sources::{EN_636, FINNISH, SHEET_GUESS};
use super::{Sources, Wood};
use crate::source::Source;

/// Sorted by name.
#[rustfmt::skip]
pub(super) const ROWS: &[Wood] = &[
    Wood { name: "bamboo panel", density: 690.0, specific_gravity: 0.62, e_along: 9_500.0, e_across: 1_200.0,
        shear_modulus: 700.0,
        bending_strength: 60.0, bending_across: 5.0, shear_strength: 8.0, compression_across: 8.0, hardness: 5_300.0,
        c_radial: 0.001_6, c_tangential: 0.002_0, k_def: 0.80, k_def_damp: Some(1.00),
        sources: Sources { stiffness: SHEET_GUESS, strength: SHEET_GUESS, strength_across: SHEET_GUESS,
            shear: SHEET_GUESS,
            across: SHEET_GUESS,
                creep: Source::JUDGEMENT.at("bamboo panel counted as plywood of EN 1995-1-1 Table 3.2"),
                ..SHEET.sources }, ..SHEET },
    Wood { name: "birch plywood", density: 680.0, specific_gravity: 0.62, e_along: 10_048.0, e_across: 7_452.0,
        shear_modulus: 620.0,
        bending_strength: 40.2, bending_across: 34.1, shear_strength: 2.8, compression_across: 6.0, hardness: 4_500.0,
        c_radial: 0.000_15, c_tangential: 0.000_15,
        sources: Sources { stiffness: FINNISH, strength: FINNISH, strength_across: FINNISH, shear: FINNISH,
            across: FINNISH, ..SHEET.sources }, ..PLYWOOD },
    Wood { name: "MDF", density: 730.0, specific_gravity: 0.67, e_along: 3_000.0, e_across: 3_000.0,
        shear_modulus: 800.0,
        bending_strength: 21.0, bending_across: 21.0, shear_strength: 0.55, compression_across: 3.0, hardness: 3_500.0,
        c_radial: 0.000_40, c_tangential: 0.000_40, k_def: 2.25, k_def_damp: None,
        sources: Sources { shear: SHEET_GUESS, ..SHEET.sources }, ..SHEET },
    Wood { name: "OSB", density: 620.0, specific_gravity: 0.57, e_along: 4_930.0, e_across: 1_980.0,
        shear_modulus: 1_080.0,
        bending_strength: 16.4, bending_across: 8.2, shear_strength: 1.0, compression_across: 3.0, hardness: 2_800.0,
        c_radial: 0.000_30, c_tangential: 0.000_30, k_def: 1.50, k_def_damp: Some(2.25), ..SHEET },
    Wood { name: "particleboard", density: 650.0, specific_gravity: 0.60, e_along: 2_900.0, e_across: 2_900.0,
        shear_modulus: 830.0,
        bending_strength: 12.5, bending_across: 12.5, shear_strength: 0.35, compression_across: 2.0, hardness: 2_200.0,
        c_radial: 0.000_35, c_tangential: 0.000_35, k_def: 2.25, k_def_damp: None,
        sources: Sources { shear: SHEET_GUESS, ..SHEET.sources }, ..SHEET },
    Wood { name: "softwood plywood", density: 480.0, specific_gravity: 0.44, e_along: 6_000.0, e_across: 2_000.0,
        shear_modulus: 350.0,
        bending_strength: 20.0, bending_across: 10.0, shear_strength: 1.0, compression_across: 3.0, hardness: 1_800.0,
        c_radial: 0.000_17, c_tangential: 0.000_17,
        sources: Sources { stiffness: EN_636, strength: EN_636, strength_across: EN_636, shear: SHEET_GUESS,
            across: EN_636, ..SHEET.sources }, ..PLYWOOD },
];

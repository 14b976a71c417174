//! Imported woods; what is not published is fitted to the specific gravity.

use super::form::{Printed, hard};
use super::sources::{DATABASE, DATABASE_MEMORY, FITTED, MANGIUM, MOVES_MEMORY, REMEMBERED, TABLE_5_5, TEAK};
use super::{Sources, Wood};
use crate::source::Clause;

const RUBBERWOOD: Clause = DATABASE.at("rubberwood; shrinkage over 28.5 % moisture content");

/// Sorted by name.
#[rustfmt::skip]
pub(super) const ROWS: &[Wood] = &[
    hard(Printed { name: "acacia mangium", g: 0.500, rupture: 10_810.0, e: 1.44, across: 740.0, shear: 1_450.0,
        tension: 590.0, side: 810.0 }, Sources { stiffness: MANGIUM, strength: MANGIUM, strength_across: FITTED, shear: FITTED, compression: FITTED,
        hardness: FITTED, ..REMEMBERED })
        .moving(0.000_95, 0.002_25, DATABASE_MEMORY),
    hard(Printed { name: "mango", g: 0.603, rupture: 12_830.0, e: 1.67, across: 1_090.0, shear: 1_790.0,
        tension: 760.0, side: 1_070.0 }, Sources { stiffness: DATABASE_MEMORY, strength: DATABASE_MEMORY, strength_across: FITTED, shear: FITTED, compression: FITTED,
        hardness: DATABASE_MEMORY, ..REMEMBERED })
        .moving(0.001_26, 0.001_93, DATABASE_MEMORY),
    hard(Printed { name: "rubberwood", g: 0.531, rupture: 10_420.0, e: 1.31, across: 830.0, shear: 1_550.0,
        tension: 640.0, side: 960.0 }, Sources { stiffness: RUBBERWOOD, strength: RUBBERWOOD, strength_across: FITTED, shear: FITTED, compression: FITTED,
        hardness: RUBBERWOOD, ..REMEMBERED })
        .moving(0.000_81, 0.001_79, RUBBERWOOD),
    hard(Printed { name: "sheesham", g: 0.688, rupture: 14_140.0, e: 1.51, across: 1_430.0, shear: 2_080.0,
        tension: 900.0, side: 1_660.0 }, Sources { stiffness: DATABASE_MEMORY, strength: DATABASE_MEMORY, strength_across: FITTED, shear: FITTED, compression: FITTED,
        hardness: DATABASE_MEMORY, ..REMEMBERED })
        .moving(0.001_09, 0.001_86, DATABASE_MEMORY),
    hard(Printed { name: "teak", g: 0.603, rupture: 14_600.0, e: 1.55, across: 1_090.0, shear: 1_890.0,
        tension: 760.0, side: 1_000.0 }, Sources { stiffness: TEAK, strength: TABLE_5_5, strength_across: FITTED, shear: TABLE_5_5, compression: FITTED,
        hardness: TABLE_5_5, ..REMEMBERED })
        .moving(0.001_01, 0.001_86, MOVES_MEMORY),
];

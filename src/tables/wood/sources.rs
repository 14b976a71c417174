//! Where the numbers of woods come from, alone and as the sets that rows share.

use super::Sources;
use crate::source::{Clause, Source};

pub(super) const HANDBOOK: Source = Source::WOOD_HANDBOOK;
pub(super) const HANDBOOK_MEMORY: Source = HANDBOOK.remembered();
pub(super) const TABLE_5_3: Clause = HANDBOOK.at("Table 5-3b, as reprinted");
pub(super) const TABLE_5_3_MEMORY: Clause = HANDBOOK_MEMORY.at("Table 5-3b");
pub(super) const RATIO: Clause = HANDBOOK_MEMORY.at("Table 5-1, E_T / E_L and G_LT / E_L on the modulus in bending");
pub(super) const RATIO_NO_SHEAR: Clause =
    HANDBOOK_MEMORY.at("Table 5-1, E_T / E_L; G_LT is not printed: G = E_0/16 as in EN 338");
pub(super) const MOVES: Clause = HANDBOOK.at("Table 13-5, as reprinted");
pub(super) const MOVES_MEMORY: Clause = HANDBOOK_MEMORY.at("Table 13-5");
pub(super) const FITTED: Clause = HANDBOOK_MEMORY.at("Table 5-11, fits of property to specific gravity");
pub(super) const EN_338: Clause =
    Source::from_memory("EN 338", "2016").at("clause 5: E_90 = E_0/30 softwood, E_0/15 hardwood; G = E_0/16");
pub(super) const EN_1995: Clause = Source::EN_1995.at("Table 3.2");
pub(super) const DIN_68364: Clause = Source::from_memory("DIN 68364", "2003").at("mean values of clear wood");
pub(super) const SWELLING: Clause = Source::from_memory("DIN 68100", "2010").at("differential swelling by species");
pub(super) const JANKA: Clause = Source::from_memory("The Wood Database", "").at("side hardness by species");
pub(super) const JANKA_READ: Clause = Source::read("The Wood Database", "").at("Norway spruce");
pub(super) const FINNISH: Clause =
    Source::from_memory("Handbook of Finnish Plywood", "2007").at("birch plywood 18 mm, by EN 789");
pub(super) const EN_636: Clause =
    Source::from_memory("EN 636", "2012+A1").at("classes F20/10 E60/20: strength and modulus in the name");
pub(super) const EN_12369_1: Clause = Source::from_memory("EN 12369-1", "2001").at("sheets of 12 to 20 mm");
pub(super) const SHEET_GUESS: Clause =
    Source::JUDGEMENT.at("sheets differ by maker: lower end of what data sheets of this kind of sheet give");

/// All sources of a solid wood by the Wood Handbook, nothing read again.
pub(super) const REMEMBERED: Sources = Sources {
    stiffness: TABLE_5_3_MEMORY,
    strength: TABLE_5_3_MEMORY,
    strength_across: TABLE_5_3_MEMORY,
    shear: TABLE_5_3_MEMORY,
    compression: TABLE_5_3_MEMORY,
    hardness: TABLE_5_3_MEMORY,
    across: EN_338,
    movement: MOVES_MEMORY,
    creep: EN_1995,
};
/// Specific gravity, modulus and compression read.
pub(super) const SG_E_C: Sources = Sources { stiffness: TABLE_5_3, compression: TABLE_5_3, ..REMEMBERED };
/// Specific gravity and modulus read.
pub(super) const SG_E: Sources = Sources { stiffness: TABLE_5_3, ..REMEMBERED };
/// Specific gravity, modulus and bending strength read.
pub(super) const SG_E_R: Sources = Sources { stiffness: TABLE_5_3, strength: TABLE_5_3, ..REMEMBERED };
/// Specific gravity, modulus, compression and shear read.
pub(super) const SG_E_C_S: Sources = Sources { shear: TABLE_5_3, ..SG_E_C };
/// Specific gravity, modulus, bending strength, compression and shear read.
pub(super) const SG_E_R_C_S: Sources = Sources { strength: TABLE_5_3, ..SG_E_C_S };
/// All strengths read.
pub(super) const ALL_READ: Sources = Sources { strength_across: TABLE_5_3, hardness: TABLE_5_3, ..SG_E_R_C_S };
/// Specific gravity, modulus, bending strength and hardness read.
pub(super) const SG_E_R_H: Sources = Sources { hardness: TABLE_5_3, ..SG_E_R };

/// A row that the reprint prints otherwise than it is remembered.
pub(super) const GRAND_FIR: Clause =
    HANDBOOK.at("Table 5-3b, as reprinted: specific gravity 0.39; 0.37 is remembered from the handbook itself");
/// Rows whose specific gravity is printed green only, G_b: at 12 % it is `G_b / (1 - 0.265 * 0.6 * G_b)`.
pub(super) const HONEYLOCUST: Sources = Sources {
    stiffness: HANDBOOK_MEMORY.at("Table 5-3b; specific gravity 0.60 is printed green only: 0.66 at 12 %"),
    ..SG_E_C_S
};
/// Movement that Table 13-5 does not print.
pub(super) const SHRINKS: Clause =
    HANDBOOK.at("Table 4-3, as reprinted: shrinkage from green to oven-dry, over 28.5 % moisture content");
/// The same where the shrinkage is remembered.
pub(super) const SHRINKS_MEMORY: Clause =
    HANDBOOK_MEMORY.at("Table 4-3: shrinkage from green to oven-dry, over 28.5 % moisture content");
/// Imported woods.
pub(super) const TABLE_5_5: Clause = HANDBOOK.at("Table 5-5b");
/// Teak's own.
pub(super) const TEAK: Clause = HANDBOOK
    .at("Table 5-5b; specific gravity 0.55 is printed green only: 0.60 at 12 % by G_b / (1 - 0.159 G_b), from memory");
/// Imported woods of which the handbook prints nothing.
pub(super) const DATABASE: Source = Source::read("The Wood Database", "");
/// The same where it is remembered.
pub(super) const DATABASE_MEMORY: Clause =
    Source::from_memory("The Wood Database", "").at("means by species; shrinkage over 28.5 % moisture content");
/// Acacia from plantations.
pub(super) const MANGIUM: Clause =
    Source::read("Growth and wood characteristics of Acacia mangium grown in Kerala", "")
        .at("4.4.6: 74.5 and 9,900 MPa by Wang and others 1989; density between 540 and 600 kg/m3");

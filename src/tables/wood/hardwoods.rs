//! Hardwoods of the Wood Handbook, Table 5-3b at 12 % moisture content; what it does not print is fitted to the specific
//! gravity.

use super::form::{Printed, hard};
use super::sources::{
    FITTED, HONEYLOCUST, MOVES, MOVES_MEMORY, RATIO_NO_SHEAR, REMEMBERED, SG_E, SG_E_C, SG_E_C_S, SG_E_R, SG_E_R_H,
    SHRINKS, TABLE_5_3,
};
use super::{Sources, Wood};
use crate::source::Source;

/// Sorted by name.
#[rustfmt::skip]
pub(super) const ROWS: &[Wood] = &[
    hard(Printed { name: "American chestnut", g: 0.43, rupture: 8_600.0, e: 1.23, across: 620.0, shear: 1_080.0, tension: 460.0,
        side: 540.0 }, SG_E_C_S)
        .moving(0.001_16, 0.002_34, MOVES),
    hard(Printed { name: "American elm", g: 0.50, rupture: 11_800.0, e: 1.34, across: 690.0, shear: 1_510.0,
        tension: 660.0, side: 830.0 }, REMEMBERED)
        .moving(0.001_44, 0.003_38, MOVES),
    hard(Printed { name: "American sycamore", g: 0.49, rupture: 10_000.0, e: 1.42, across: 700.0, shear: 1_470.0,
        tension: 720.0, side: 770.0 }, REMEMBERED)
        .moving(0.001_72, 0.002_96, MOVES),
    hard(Printed { name: "balsam poplar", g: 0.34, rupture: 6_800.0, e: 1.10, across: 300.0, shear: 790.0, tension: 360.0,
        side: 360.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.001_05, 0.002_49, SHRINKS),
    hard(Printed { name: "basswood", g: 0.37, rupture: 8_700.0, e: 1.46, across: 370.0, shear: 990.0, tension: 350.0,
        side: 410.0 }, REMEMBERED)
        .ratios(0.027, 0.046).moving(0.002_30, 0.003_30, MOVES_MEMORY),
    hard(Printed { name: "beech", g: 0.64, rupture: 14_900.0, e: 1.72, across: 1_010.0, shear: 2_010.0,
        tension: 1_010.0, side: 1_300.0 }, SG_E_C)
        .moving(0.001_90, 0.004_31, MOVES),
    hard(Printed { name: "bigleaf maple", g: 0.48, rupture: 10_700.0, e: 1.45, across: 750.0, shear: 1_730.0, tension: 540.0,
        side: 850.0 }, SG_E_C_S)
        .moving(0.001_26, 0.002_48, MOVES),
    hard(Printed { name: "bigtooth aspen", g: 0.39, rupture: 9_100.0, e: 1.43, across: 450.0, shear: 1_080.0, tension: 430.0,
        side: 480.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.001_16, 0.002_77, SHRINKS),
    hard(Printed { name: "bitternut hickory", g: 0.66, rupture: 17_100.0, e: 1.79, across: 1_680.0, shear: 1_990.0, tension: 850.0,
        side: 1_440.0 }, Sources { shear: FITTED, strength_across: FITTED, hardness: FITTED, ..SG_E_C })
        .moving(0.001_69, 0.003_15, MOVES),
    hard(Printed { name: "black ash", g: 0.49, rupture: 12_600.0, e: 1.60, across: 760.0, shear: 1_570.0,
        tension: 700.0, side: 850.0 }, REMEMBERED)
        .moving(0.001_72, 0.002_74, MOVES_MEMORY),
    hard(Printed { name: "black cherry", g: 0.50, rupture: 12_300.0, e: 1.49, across: 690.0, shear: 1_700.0,
        tension: 560.0, side: 950.0 },
        Sources { strength: TABLE_5_3, ..SG_E_C }).ratios(0.086, 0.097).moving(0.001_26, 0.002_48, MOVES),
    hard(Printed { name: "black cottonwood", g: 0.35, rupture: 8_500.0, e: 1.27, across: 300.0, shear: 1_040.0, tension: 330.0,
        side: 350.0 }, SG_E_C_S)
        .moving(0.001_23, 0.003_04, MOVES),
    hard(Printed { name: "black locust", g: 0.69, rupture: 19_400.0, e: 2.05, across: 1_830.0, shear: 2_480.0, tension: 640.0,
        side: 1_700.0 }, SG_E_C_S)
        .moving(0.001_58, 0.002_52, MOVES),
    hard(Printed { name: "black maple", g: 0.57, rupture: 13_300.0, e: 1.62, across: 1_020.0, shear: 1_820.0, tension: 670.0,
        side: 1_180.0 }, SG_E_C_S)
        .moving(0.001_65, 0.003_53, MOVES),
    hard(Printed { name: "black oak", g: 0.61, rupture: 13_900.0, e: 1.64, across: 930.0, shear: 1_910.0, tension: 770.0,
        side: 1_210.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "black tupelo", g: 0.50, rupture: 9_600.0, e: 1.20, across: 930.0, shear: 1_340.0, tension: 500.0,
        side: 810.0 }, REMEMBERED)
        .moving(0.001_76, 0.003_08, MOVES),
    hard(Printed { name: "black walnut", g: 0.55, rupture: 14_600.0, e: 1.68, across: 1_010.0, shear: 1_370.0,
        tension: 690.0, side: 1_010.0 }, SG_E_R)
        .ratios(0.056, 0.062).moving(0.001_90, 0.002_74, MOVES),
    hard(Printed { name: "black willow", g: 0.39, rupture: 7_800.0, e: 1.01, across: 430.0, shear: 1_250.0, tension: 430.0,
        side: 480.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..REMEMBERED })
        .moving(0.001_12, 0.003_08, MOVES_MEMORY),
    hard(Printed { name: "blue ash", g: 0.58, rupture: 13_800.0, e: 1.40, across: 1_420.0, shear: 2_030.0, tension: 720.0,
        side: 1_100.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.001_37, 0.002_28, SHRINKS),
    hard(Printed { name: "bur oak", g: 0.64, rupture: 10_300.0, e: 1.03, across: 1_200.0, shear: 1_820.0, tension: 680.0,
        side: 1_370.0 }, REMEMBERED)
        .moving(0.001_80, 0.003_65, MOVES),
    hard(Printed { name: "butternut", g: 0.38, rupture: 8_100.0, e: 1.18, across: 460.0, shear: 1_170.0, tension: 440.0,
        side: 490.0 }, SG_E_C_S)
        .moving(0.001_16, 0.002_23, MOVES),
    hard(Printed { name: "cherrybark oak", g: 0.68, rupture: 18_100.0, e: 2.28, across: 1_250.0, shear: 2_000.0, tension: 840.0,
        side: 1_480.0 }, REMEMBERED)
        .moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "chestnut oak", g: 0.66, rupture: 13_300.0, e: 1.59, across: 840.0, shear: 1_490.0, tension: 850.0,
        side: 1_130.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_80, 0.003_65, MOVES),
    hard(Printed { name: "cucumbertree", g: 0.48, rupture: 12_300.0, e: 1.82, across: 570.0, shear: 1_340.0, tension: 660.0,
        side: 700.0 }, SG_E_C_S)
        .moving(0.001_80, 0.003_12, MOVES),
    hard(Printed { name: "eastern cottonwood", g: 0.40, rupture: 8_500.0, e: 1.37, across: 380.0, shear: 930.0, tension: 580.0,
        side: 430.0 }, SG_E_C_S)
        .moving(0.001_33, 0.003_27, MOVES),
    hard(Printed { name: "green ash", g: 0.56, rupture: 14_100.0, e: 1.66, across: 1_310.0, shear: 1_910.0, tension: 700.0,
        side: 1_200.0 }, SG_E_C_S)
        .moving(0.001_69, 0.002_74, MOVES),
    hard(Printed { name: "hackberry", g: 0.53, rupture: 11_000.0, e: 1.19, across: 890.0, shear: 1_590.0, tension: 580.0,
        side: 880.0 }, SG_E_C_S)
        .moving(0.001_65, 0.003_15, MOVES),
    hard(Printed { name: "honeylocust", g: 0.66, rupture: 14_700.0, e: 1.63, across: 1_840.0, shear: 2_250.0, tension: 900.0,
        side: 1_580.0 }, HONEYLOCUST)
        .moving(0.001_44, 0.002_30, MOVES),
    hard(Printed { name: "laurel oak", g: 0.63, rupture: 12_600.0, e: 1.69, across: 1_060.0, shear: 1_830.0, tension: 790.0,
        side: 1_210.0 }, REMEMBERED)
        .moving(0.001_51, 0.003_50, MOVES),
    hard(Printed { name: "live oak", g: 0.88, rupture: 18_400.0, e: 1.98, across: 2_840.0, shear: 2_660.0, tension: 1_240.0,
        side: 2_630.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..REMEMBERED })
        .moving(0.002_30, 0.003_38, MOVES),
    hard(Printed { name: "mockernut hickory", g: 0.72, rupture: 19_200.0, e: 2.22, across: 1_730.0, shear: 1_740.0, tension: 960.0,
        side: 1_730.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.002_59, 0.004_11, MOVES_MEMORY),
    hard(Printed { name: "northern red oak", g: 0.63, rupture: 14_300.0, e: 1.82, across: 1_010.0, shear: 1_780.0,
        tension: 800.0, side: 1_290.0 }, REMEMBERED)
        .ratios(0.082, 0.081).moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "nutmeg hickory", g: 0.60, rupture: 16_600.0, e: 1.70, across: 1_570.0, shear: 1_780.0, tension: 750.0,
        side: 1_180.0 }, Sources { shear: FITTED, strength_across: FITTED, hardness: FITTED, ..SG_E_C })
        .moving(0.001_69, 0.003_15, MOVES),
    hard(Printed { name: "Oregon ash", g: 0.55, rupture: 12_700.0, e: 1.36, across: 1_250.0, shear: 1_790.0, tension: 720.0,
        side: 1_160.0 }, SG_E_C_S)
        .moving(0.001_41, 0.002_85, MOVES),
    hard(Printed { name: "overcup oak", g: 0.63, rupture: 12_600.0, e: 1.42, across: 810.0, shear: 2_000.0, tension: 940.0,
        side: 1_190.0 }, REMEMBERED)
        .moving(0.001_83, 0.004_62, MOVES),
    hard(Printed { name: "paper birch", g: 0.55, rupture: 12_300.0, e: 1.59, across: 600.0, shear: 1_210.0,
        tension: 560.0, side: 910.0 },
        Sources { strength_across: Source::JUDGEMENT.at("tension across the grain of paper birch is not printed: \
            counted as black cherry"), ..REMEMBERED })
        .moving(0.002_19, 0.003_04, MOVES_MEMORY),
    hard(Printed { name: "pecan hickory", g: 0.66, rupture: 13_700.0, e: 1.73, across: 1_720.0, shear: 2_080.0, tension: 850.0,
        side: 1_820.0 }, Sources { strength_across: FITTED, ..SG_E_C_S })
        .moving(0.001_69, 0.003_15, MOVES),
    hard(Printed { name: "pignut hickory", g: 0.75, rupture: 20_100.0, e: 2.26, across: 1_980.0, shear: 2_150.0, tension: 1_010.0,
        side: 1_890.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.002_59, 0.004_11, MOVES_MEMORY),
    hard(Printed { name: "pin oak", g: 0.63, rupture: 14_000.0, e: 1.73, across: 1_020.0, shear: 2_080.0, tension: 1_050.0,
        side: 1_510.0 }, REMEMBERED)
        .moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "post oak", g: 0.67, rupture: 13_200.0, e: 1.51, across: 1_430.0, shear: 1_840.0, tension: 780.0,
        side: 1_360.0 }, REMEMBERED)
        .moving(0.001_80, 0.003_65, MOVES),
    hard(Printed { name: "quaking aspen", g: 0.38, rupture: 8_400.0, e: 1.18, across: 370.0, shear: 850.0, tension: 260.0,
        side: 350.0 }, SG_E_C_S)
        .moving(0.001_19, 0.002_34, MOVES),
    hard(Printed { name: "red alder", g: 0.41, rupture: 9_800.0, e: 1.38, across: 440.0, shear: 1_080.0,
        tension: 420.0, side: 590.0 }, REMEMBERED)
        .moving(0.001_51, 0.002_56, MOVES),
    hard(Printed { name: "red maple", g: 0.54, rupture: 13_400.0, e: 1.64, across: 1_000.0, shear: 1_850.0,
        tension: 660.0, side: 950.0 },
        Sources { strength_across: FITTED, ..SG_E }).ratios(0.067, 0.074).moving(0.001_37, 0.002_89, MOVES),
    hard(Printed { name: "rock elm", g: 0.63, rupture: 14_800.0, e: 1.54, across: 1_230.0, shear: 1_920.0, tension: 800.0,
        side: 1_320.0 }, Sources { strength_across: FITTED, ..SG_E_C_S })
        .moving(0.001_65, 0.002_85, MOVES),
    hard(Printed { name: "sassafras", g: 0.46, rupture: 9_000.0, e: 1.12, across: 850.0, shear: 1_240.0, tension: 530.0,
        side: 680.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..REMEMBERED })
        .moving(0.001_37, 0.002_16, MOVES),
    hard(Printed { name: "scarlet oak", g: 0.67, rupture: 17_400.0, e: 1.91, across: 1_120.0, shear: 1_890.0, tension: 870.0,
        side: 1_400.0 }, REMEMBERED)
        .moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "shagbark hickory", g: 0.72, rupture: 20_200.0, e: 2.16, across: 1_760.0, shear: 2_430.0, tension: 960.0,
        side: 1_730.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.002_59, 0.004_11, MOVES_MEMORY),
    hard(Printed { name: "shellbark hickory", g: 0.69, rupture: 18_100.0, e: 1.89, across: 1_800.0, shear: 2_110.0, tension: 900.0,
        side: 1_580.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_C_S })
        .moving(0.002_59, 0.004_11, MOVES_MEMORY),
    hard(Printed { name: "silver maple", g: 0.47, rupture: 8_900.0, e: 1.14, across: 740.0, shear: 1_480.0, tension: 500.0,
        side: 700.0 }, REMEMBERED)
        .moving(0.001_02, 0.002_52, MOVES),
    hard(Printed { name: "slippery elm", g: 0.53, rupture: 13_000.0, e: 1.49, across: 820.0, shear: 1_630.0, tension: 530.0,
        side: 860.0 }, SG_E_C_S)
        .moving(0.001_69, 0.003_15, MOVES),
    hard(Printed { name: "southern magnolia", g: 0.50, rupture: 11_200.0, e: 1.40, across: 860.0, shear: 1_530.0, tension: 740.0,
        side: 1_020.0 }, SG_E_C_S)
        .moving(0.001_87, 0.002_30, MOVES),
    hard(Printed { name: "southern red oak", g: 0.59, rupture: 10_900.0, e: 1.49, across: 870.0, shear: 1_390.0, tension: 510.0,
        side: 1_060.0 }, REMEMBERED)
        .moving(0.001_58, 0.003_69, MOVES),
    hard(Printed { name: "sugar maple", g: 0.63, rupture: 15_800.0, e: 1.83, across: 1_470.0, shear: 2_330.0,
        tension: 800.0, side: 1_450.0 },
        Sources { strength_across: FITTED, ..SG_E_R_H }).ratios(0.065, 0.063).moving(0.001_65, 0.003_53, MOVES),
    hard(Printed { name: "swamp chestnut oak", g: 0.67, rupture: 13_900.0, e: 1.77, across: 1_110.0, shear: 1_990.0, tension: 690.0,
        side: 1_240.0 }, REMEMBERED)
        .moving(0.001_80, 0.003_65, MOVES),
    hard(Printed { name: "swamp white oak", g: 0.72, rupture: 17_700.0, e: 2.05, across: 1_190.0, shear: 2_000.0, tension: 830.0,
        side: 1_620.0 }, REMEMBERED)
        .moving(0.001_80, 0.003_65, MOVES),
    hard(Printed { name: "sweet birch", g: 0.65, rupture: 16_900.0, e: 2.17, across: 1_080.0, shear: 2_240.0,
        tension: 950.0, side: 1_470.0 }, SG_E_C)
        .moving(0.002_56, 0.003_38, MOVES),
    hard(Printed { name: "sweetgum", g: 0.52, rupture: 12_500.0, e: 1.64, across: 620.0, shear: 1_600.0,
        tension: 760.0, side: 850.0 }, REMEMBERED)
        .ratios(0.050, 0.061).moving(0.001_83, 0.003_65, MOVES),
    hard(Printed { name: "water hickory", g: 0.62, rupture: 17_800.0, e: 2.02, across: 1_550.0, shear: 1_850.0, tension: 790.0,
        side: 1_270.0 }, Sources { shear: FITTED, strength_across: FITTED, hardness: FITTED, ..SG_E_C })
        .moving(0.001_69, 0.003_15, MOVES),
    hard(Printed { name: "water oak", g: 0.63, rupture: 15_400.0, e: 2.02, across: 1_020.0, shear: 2_020.0, tension: 920.0,
        side: 1_190.0 }, REMEMBERED)
        .moving(0.001_51, 0.003_50, MOVES),
    hard(Printed { name: "water tupelo", g: 0.50, rupture: 9_600.0, e: 1.26, across: 870.0, shear: 1_590.0, tension: 700.0,
        side: 880.0 }, REMEMBERED)
        .moving(0.001_44, 0.002_67, MOVES),
    hard(Printed { name: "white ash", g: 0.60, rupture: 15_000.0, e: 1.74, across: 1_160.0, shear: 1_910.0,
        tension: 940.0, side: 1_320.0 }, SG_E_C)
        .ratios(0.080, 0.077).moving(0.001_69, 0.002_74, MOVES),
    hard(Printed { name: "white oak", g: 0.68, rupture: 15_200.0, e: 1.78, across: 1_070.0, shear: 2_000.0,
        tension: 800.0, side: 1_360.0 }, SG_E_R)
        .ratios(0.072, 1.0 / 16.0).moving(0.001_80, 0.003_65, MOVES).across_from(RATIO_NO_SHEAR),
    hard(Printed { name: "willow oak", g: 0.69, rupture: 14_500.0, e: 1.90, across: 1_130.0, shear: 1_650.0, tension: 900.0,
        side: 1_460.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_51, 0.003_50, MOVES),
    hard(Printed { name: "yellow birch", g: 0.62, rupture: 16_600.0, e: 2.01, across: 970.0, shear: 1_880.0,
        tension: 920.0, side: 1_260.0 }, SG_E_C)
        .ratios(0.050, 0.068).moving(0.002_56, 0.003_38, MOVES),
    hard(Printed { name: "yellow-poplar", g: 0.42, rupture: 10_100.0, e: 1.58, across: 500.0, shear: 1_190.0,
        tension: 540.0, side: 540.0 }, SG_E_R)
        .ratios(0.043, 0.069).moving(0.001_58, 0.002_89, MOVES_MEMORY),
];

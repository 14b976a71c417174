//! Softwoods of the Wood Handbook, Table 5-3b at 12 % moisture content; what it does not print is fitted to the specific
//! gravity. "Douglas fir" is the coast kind, "Douglas fir north" and "Douglas fir west" are those of the interior.

use super::form::{Printed, soft};
use super::sources::{
    ALL_READ, FITTED, GRAND_FIR, MOVES_MEMORY, REMEMBERED, SG_E_R, SG_E_R_C_S, SG_E_R_H, SHRINKS_MEMORY,
};
use super::{Sources, Wood};

/// Sorted by name.
#[rustfmt::skip]
pub(super) const ROWS: &[Wood] = &[
    soft(Printed { name: "Atlantic white-cedar", g: 0.32, rupture: 6_800.0, e: 0.93, across: 410.0, shear: 800.0, tension: 220.0,
        side: 350.0 }, REMEMBERED)
        .moving(0.000_99, 0.001_87, MOVES_MEMORY),
    soft(Printed { name: "baldcypress", g: 0.46, rupture: 10_600.0, e: 1.44, across: 730.0, shear: 1_000.0, tension: 270.0,
        side: 510.0 }, REMEMBERED)
        .moving(0.001_30, 0.002_16, MOVES_MEMORY),
    soft(Printed { name: "balsam fir", g: 0.35, rupture: 9_200.0, e: 1.45, across: 404.0, shear: 944.0, tension: 180.0,
        side: 380.0 }, REMEMBERED)
        .moving(0.000_99, 0.002_41, MOVES_MEMORY),
    soft(Printed { name: "black spruce", g: 0.42, rupture: 10_800.0, e: 1.61, across: 550.0, shear: 1_230.0, tension: 330.0,
        side: 520.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_41, 0.002_37, MOVES_MEMORY),
    soft(Printed { name: "California red fir", g: 0.38, rupture: 10_500.0, e: 1.50, across: 610.0, shear: 1_040.0, tension: 390.0,
        side: 500.0 }, REMEMBERED)
        .moving(0.001_55, 0.002_78, MOVES_MEMORY),
    soft(Printed { name: "Douglas fir", g: 0.48, rupture: 12_400.0, e: 1.95, across: 800.0, shear: 1_130.0,
        tension: 340.0, side: 710.0 }, SG_E_R_H)
        .ratios(0.050, 0.078).moving(0.001_65, 0.002_67, MOVES_MEMORY),
    soft(Printed { name: "Douglas fir north", g: 0.48, rupture: 13_100.0, e: 1.79, across: 770.0, shear: 1_400.0, tension: 390.0,
        side: 600.0 }, REMEMBERED)
        .moving(0.001_30, 0.002_41, MOVES_MEMORY),
    soft(Printed { name: "Douglas fir west", g: 0.50, rupture: 12_600.0, e: 1.83, across: 760.0, shear: 1_290.0, tension: 350.0,
        side: 660.0 }, REMEMBERED)
        .moving(0.001_65, 0.002_63, MOVES_MEMORY),
    soft(Printed { name: "eastern hemlock", g: 0.40, rupture: 8_900.0, e: 1.20, across: 650.0, shear: 1_060.0, tension: 310.0,
        side: 500.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_02, 0.002_37, MOVES_MEMORY),
    soft(Printed { name: "eastern redcedar", g: 0.47, rupture: 8_800.0, e: 0.88, across: 920.0, shear: 1_270.0, tension: 380.0,
        side: 900.0 }, Sources { shear: FITTED, strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_06, 0.001_62, MOVES_MEMORY),
    soft(Printed { name: "eastern white pine", g: 0.35, rupture: 8_600.0, e: 1.24, across: 440.0, shear: 900.0,
        tension: 310.0, side: 380.0 }, REMEMBERED)
        .moving(0.000_71, 0.002_12, MOVES_MEMORY),
    soft(Printed { name: "Engelmann spruce", g: 0.35, rupture: 9_300.0, e: 1.30, across: 410.0, shear: 1_200.0,
        tension: 350.0, side: 390.0 }, SG_E_R_H)
        .ratios(0.059, 0.120).moving(0.001_30, 0.002_48, MOVES_MEMORY),
    soft(Printed { name: "grand fir", g: 0.39, rupture: 8_900.0, e: 1.57, across: 500.0, shear: 900.0, tension: 240.0,
        side: 490.0 }, Sources { stiffness: GRAND_FIR, ..SG_E_R_H })
        .moving(0.001_12, 0.002_45, MOVES_MEMORY),
    soft(Printed { name: "incense-cedar", g: 0.37, rupture: 8_000.0, e: 1.04, across: 590.0, shear: 880.0, tension: 270.0,
        side: 470.0 }, REMEMBERED)
        .moving(0.001_12, 0.001_80, MOVES_MEMORY),
    soft(Printed { name: "jack pine", g: 0.43, rupture: 9_900.0, e: 1.35, across: 580.0, shear: 1_170.0, tension: 420.0,
        side: 570.0 }, REMEMBERED)
        .moving(0.001_26, 0.002_30, MOVES_MEMORY),
    soft(Printed { name: "loblolly pine", g: 0.51, rupture: 12_800.0, e: 1.79, across: 790.0, shear: 1_390.0,
        tension: 470.0, side: 690.0 }, REMEMBERED)
        .ratios(0.078, 0.081).moving(0.001_65, 0.002_59, MOVES_MEMORY),
    soft(Printed { name: "lodgepole pine", g: 0.41, rupture: 9_400.0, e: 1.34, across: 610.0, shear: 880.0,
        tension: 290.0, side: 480.0 }, REMEMBERED)
        .ratios(0.068, 0.046).moving(0.001_48, 0.002_34, MOVES_MEMORY),
    soft(Printed { name: "longleaf pine", g: 0.59, rupture: 14_500.0, e: 1.98, across: 960.0, shear: 1_510.0,
        tension: 470.0, side: 870.0 }, SG_E_R)
        .ratios(0.055, 0.060).moving(0.001_76, 0.002_63, MOVES_MEMORY),
    soft(Printed { name: "mountain hemlock", g: 0.45, rupture: 11_500.0, e: 1.33, across: 860.0, shear: 1_540.0, tension: 360.0,
        side: 680.0 }, Sources { strength_across: FITTED, ..REMEMBERED })
        .moving(0.001_54, 0.002_49, SHRINKS_MEMORY),
    soft(Printed { name: "noble fir", g: 0.39, rupture: 10_700.0, e: 1.72, across: 520.0, shear: 1_050.0, tension: 220.0,
        side: 410.0 }, SG_E_R_H)
        .moving(0.001_48, 0.002_93, MOVES_MEMORY),
    soft(Printed { name: "northern white-cedar", g: 0.31, rupture: 6_500.0, e: 0.80, across: 310.0, shear: 850.0, tension: 240.0,
        side: 320.0 }, REMEMBERED)
        .moving(0.001_01, 0.002_29, MOVES_MEMORY),
    soft(Printed { name: "Pacific silver fir", g: 0.43, rupture: 11_000.0, e: 1.76, across: 450.0, shear: 1_220.0, tension: 340.0,
        side: 430.0 }, Sources { strength_across: FITTED, ..SG_E_R_H })
        .moving(0.001_51, 0.003_27, MOVES_MEMORY),
    soft(Printed { name: "pitch pine", g: 0.52, rupture: 10_800.0, e: 1.43, across: 820.0, shear: 1_360.0, tension: 420.0,
        side: 730.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..REMEMBERED })
        .moving(0.001_40, 0.002_49, SHRINKS_MEMORY),
    soft(Printed { name: "pond pine", g: 0.56, rupture: 11_600.0, e: 1.75, across: 910.0, shear: 1_380.0, tension: 460.0,
        side: 810.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_R_C_S })
        .moving(0.001_79, 0.002_49, SHRINKS_MEMORY),
    soft(Printed { name: "ponderosa pine", g: 0.40, rupture: 9_400.0, e: 1.29, across: 580.0, shear: 1_130.0,
        tension: 420.0, side: 460.0 }, REMEMBERED)
        .ratios(0.083, 0.115).moving(0.001_33, 0.002_16, MOVES_MEMORY),
    soft(Printed { name: "Port-Orford-cedar", g: 0.43, rupture: 12_700.0, e: 1.70, across: 720.0, shear: 1_370.0, tension: 400.0,
        side: 630.0 }, REMEMBERED)
        .moving(0.001_58, 0.002_41, MOVES_MEMORY),
    soft(Printed { name: "red pine", g: 0.46, rupture: 11_000.0, e: 1.63, across: 600.0, shear: 1_210.0, tension: 460.0,
        side: 560.0 }, ALL_READ)
        .moving(0.001_30, 0.002_52, MOVES_MEMORY),
    soft(Printed { name: "red spruce", g: 0.40, rupture: 10_800.0, e: 1.61, across: 550.0, shear: 1_290.0, tension: 350.0,
        side: 490.0 }, REMEMBERED)
        .moving(0.001_30, 0.002_74, MOVES_MEMORY),
    soft(Printed { name: "redwood old-growth", g: 0.40, rupture: 10_000.0, e: 1.34, across: 700.0, shear: 940.0, tension: 240.0,
        side: 480.0 }, ALL_READ)
        .moving(0.001_20, 0.002_05, MOVES_MEMORY),
    soft(Printed { name: "redwood young-growth", g: 0.35, rupture: 7_900.0, e: 1.10, across: 520.0, shear: 1_110.0, tension: 250.0,
        side: 420.0 }, SG_E_R_C_S)
        .moving(0.001_01, 0.002_29, MOVES_MEMORY),
    soft(Printed { name: "shortleaf pine", g: 0.51, rupture: 13_100.0, e: 1.75, across: 820.0, shear: 1_390.0, tension: 470.0,
        side: 690.0 }, ALL_READ)
        .moving(0.001_58, 0.002_71, MOVES_MEMORY),
    soft(Printed { name: "Sitka spruce", g: 0.40, rupture: 10_200.0, e: 1.57, across: 580.0, shear: 1_150.0,
        tension: 370.0, side: 510.0 }, REMEMBERED)
        .ratios(0.043, 0.061).moving(0.001_48, 0.002_63, MOVES_MEMORY),
    soft(Printed { name: "slash pine", g: 0.59, rupture: 16_300.0, e: 1.98, across: 1_020.0, shear: 1_680.0, tension: 480.0,
        side: 880.0 }, Sources { strength_across: FITTED, hardness: FITTED, ..SG_E_R_C_S })
        .moving(0.001_87, 0.002_67, MOVES_MEMORY),
    soft(Printed { name: "subalpine fir", g: 0.32, rupture: 8_600.0, e: 1.29, across: 390.0, shear: 1_070.0, tension: 250.0,
        side: 350.0 }, Sources { strength_across: FITTED, ..SG_E_R_H })
        .moving(0.000_88, 0.002_59, MOVES_MEMORY),
    soft(Printed { name: "sugar pine", g: 0.36, rupture: 8_200.0, e: 1.19, across: 500.0, shear: 1_130.0, tension: 350.0,
        side: 380.0 }, ALL_READ)
        .moving(0.000_99, 0.001_94, MOVES_MEMORY),
    soft(Printed { name: "tamarack", g: 0.53, rupture: 11_600.0, e: 1.64, across: 800.0, shear: 1_280.0, tension: 400.0,
        side: 590.0 }, REMEMBERED)
        .moving(0.001_26, 0.002_59, MOVES_MEMORY),
    soft(Printed { name: "Virginia pine", g: 0.48, rupture: 13_000.0, e: 1.52, across: 910.0, shear: 1_350.0, tension: 380.0,
        side: 740.0 }, ALL_READ)
        .moving(0.001_44, 0.002_52, MOVES_MEMORY),
    soft(Printed { name: "western hemlock", g: 0.45, rupture: 11_300.0, e: 1.63, across: 550.0, shear: 1_290.0,
        tension: 340.0, side: 540.0 }, SG_E_R_H)
        .ratios(0.031, 0.032).moving(0.001_44, 0.002_74, MOVES_MEMORY),
    soft(Printed { name: "western larch", g: 0.52, rupture: 13_000.0, e: 1.87, across: 930.0, shear: 1_360.0, tension: 430.0,
        side: 830.0 }, SG_E_R_H)
        .moving(0.001_55, 0.003_23, MOVES_MEMORY),
    soft(Printed { name: "western redcedar", g: 0.32, rupture: 7_500.0, e: 1.11, across: 460.0, shear: 990.0,
        tension: 220.0, side: 350.0 }, REMEMBERED)
        .ratios(0.055, 0.086).moving(0.001_11, 0.002_34, MOVES_MEMORY),
    soft(Printed { name: "western white pine", g: 0.38, rupture: 9_700.0, e: 1.46, across: 470.0, shear: 1_040.0, tension: 300.0,
        side: 420.0 }, Sources { strength_across: FITTED, ..ALL_READ })
        .moving(0.001_41, 0.002_59, MOVES_MEMORY),
    soft(Printed { name: "white fir", g: 0.39, rupture: 9_800.0, e: 1.50, across: 530.0, shear: 1_100.0, tension: 300.0,
        side: 480.0 }, REMEMBERED)
        .moving(0.001_12, 0.002_45, MOVES_MEMORY),
    soft(Printed { name: "white spruce", g: 0.36, rupture: 9_400.0, e: 1.43, across: 430.0, shear: 970.0, tension: 360.0,
        side: 480.0 }, REMEMBERED)
        .moving(0.001_30, 0.002_74, MOVES_MEMORY),
    soft(Printed { name: "yellow-cedar", g: 0.44, rupture: 11_100.0, e: 1.42, across: 620.0, shear: 1_130.0, tension: 360.0,
        side: 580.0 }, REMEMBERED)
        .moving(0.000_95, 0.002_08, MOVES_MEMORY),
];

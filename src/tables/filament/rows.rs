//! The rows: what is known of each filament, and where from.

use super::{Basis, Filament, Grade, LASTING_PLA, LASTING_RUBBER, Lasting, Strength, Structure};
use crate::source::{Clause, Source};

const REPORTED: Clause = Source::read("additive.tools, material pages", "")
    .at("ranges of reported tests: modulus, density, glass transition");

const REMEMBERED: Clause =
    Source::JUDGEMENT.at("modulus and density of this plastic: the range that its data sheets give, from memory");

pub(super) const RANGE: Clause = Source::JUDGEMENT
    .at("strength of this plastic: the range that its data sheets give, from memory, taken as 5 to 95 %");

const HEAT_REMEMBERED: Clause = Source::JUDGEMENT
    .at("softening of this plastic: the usual value of its data sheets (ISO 75-2 method B, ISO 11357-2), from memory");

const HEAT_PETG: Clause = Source::read("Bambu Lab and Prusa data sheets of PETG, through public notes", "")
    .at("glass transition 66 to 71 C, grade B: 70 C");

const STIFFNESS_PLA: Clause = Source::read("doi 10.1089/3dp.2020.0109 (abstract)", "2020")
    .at("E_z / E of printed PLA 0.68, grade A; modulus in the layers and density from memory");

pub(super) const TRIALS: Clause =
    Source::read("joshcarter/tensile_test (BSD-3-Clause), home rig", "commit 0ac91a4").at("raw trials");

const SHEETS: Clause = Source::read("makers' data sheets gathered in faridbnv/h2c-materials", "commit 0711d90")
    .at("5 % of the strengths in the layers that the sheets give, grade B");

const ACROSS_PETG: Clause = Source::JUDGEMENT.at(
    "10 MPa across the layers without coupons is no fractile (the plain 5 % of 57 trials is 5.7 MPa, by fit 7 to 9): \
        it is 1.5 times a first-order design value of 6.6 MPa (reliability index 3.3, variation 0.38). A printer whose \
        bond nobody tested may be worse: tear coupons",
);

const ACROSS_THIRD: Clause = Source::JUDGEMENT.at(
    "across the layers without coupons: a third of the middle of what makers' sheets give, as 10 MPa is of PETG's \
        29.4; nobody's prints were torn. Tear coupons",
);

const ACROSS_FIBRE: Clause = Source::JUDGEMENT.at(
    "across the layers without coupons: single home batches of fibre-filled prints tear at 6 to 34 MPa. Tear coupons",
);

pub(super) const PRESSED: Clause = Source::JUDGEMENT.at(
    "bearing as tension in the layers: plastics yield later in compression; no trials of pressed prints were found",
);

const LIKE_PETG: Clause = Source::JUDGEMENT.at("as PETG, whose remembered low end of 44 MPa the sheets lower to 36");

const LIKE_PLA: Clause = Source::JUDGEMENT.at("no more than PLA: no fixed recipe");

const LOW_END: Clause = Source::JUDGEMENT.at("the low end of the remembered range, taken as its 5 % value");

/// A range that is remembered, taken as 5 to 95 %, with the value that is used.
const fn range(low: f64, high: f64, used: f64, why: Clause, why_grade: Grade) -> Strength {
    Strength {
        mean: (low + high) / 2.0,
        cov: (high - low) / (high + low) / 1.645,
        trials: 0,
        batches: 0,
        source: RANGE,
        grade: Grade::C,
        basis: Basis::Stated(used),
        why,
        why_grade,
    }
}

/// Trials of the home rig with their mean and variation.
pub(super) const fn trials(
    batches: u32,
    n: u32,
    mean: f64,
    cov: f64,
    basis: Basis,
    why: Clause,
    why_grade: Grade,
) -> Strength {
    Strength { mean, cov, trials: n, batches, source: TRIALS, grade: Grade::A, basis, why, why_grade }
}

/// What presses, from tension in the layers.
const fn pressed(in_layers: Strength, used: f64) -> Strength {
    Strength { basis: Basis::Stated(used), why: PRESSED, why_grade: Grade::J, ..in_layers }
}

const NOTHING: Strength = range(0.0, 1.0, 0.0, LOW_END, Grade::J);

/// What the rows share: an unfilled amorphous plastic.
const BASE: Filament = Filament {
    name: "",
    structure: Structure::Amorphous,
    density: 0.0,
    e: 0.0,
    e_z: 0.0,
    // Glassy plastics lie between 0.35 and 0.40.
    poisson: 0.38,
    in_layers: NOTHING,
    across: NOTHING,
    bearing: NOTHING,
    coupon_cap: 0.0,
    wet: 1.0,
    tg: 0.0,
    hdt_045: 0.0,
    lasting: Lasting { bearing: 0.50, in_layers: 0.40, across: 0.25 },
    lasting_source: None,
    sustained_z_limit: 2.0,
    creep_divisor: 4.0,
    note: "",
    stiffness_source: REMEMBERED,
    heat_source: HEAT_REMEMBERED,
};

const POLYAMIDE: Filament = Filament {
    structure: Structure::SemiCrystalline,
    wet: 0.45,
    creep_divisor: 5.0,
    note: "Layers bond well when dry. Takes up water: softer, tougher, grows 0.5 to 1.5 % in length.",
    ..BASE
};

pub(super) const ABS: Strength = range(28.0, 40.0, 30.0, SHEETS, Grade::B);

pub(super) const ASA: Strength = range(35.0, 48.0, 32.0, SHEETS, Grade::B);

const PA_CF: Strength = trials(1, 6, 61.8, 0.070, Basis::Trials(50.0), SHEETS, Grade::B);

pub(super) const PA12: Strength = range(40.0, 55.0, 40.0, LOW_END, Grade::J);

const PA6: Strength = range(45.0, 60.0, 45.0, LOW_END, Grade::J);

pub(super) const PC: Strength = range(55.0, 68.0, 50.0, SHEETS, Grade::B);

const PCTG: Strength = range(42.0, 52.0, 34.0, LIKE_PETG, Grade::J);

pub(super) const PETG: Strength = trials(13, 75, 49.0, 0.118, Basis::Trials(36.0), SHEETS, Grade::B);

const PETG_CF: Strength = trials(1, 5, 49.8, 0.024, Basis::Trials(30.0), SHEETS, Grade::B);

pub(super) const PLA: Strength = trials(5, 24, 49.3, 0.298, Basis::Trials(28.0), SHEETS, Grade::B);

const PLA_PLUS: Strength = trials(3, 20, 47.5, 0.176, Basis::Trials(28.0), LIKE_PLA, Grade::J);

pub(super) const TPU: Strength = range(30.0, 50.0, 30.0, LOW_END, Grade::J);

/// All rows, sorted by name.
#[rustfmt::skip]
pub const ALL: &[Filament] = &[
    Filament { name: "ABS", density: 1_040.0, e: 1_600.0, e_z: 1_400.0, in_layers: ABS,
        across: range(15.0, 28.0, 9.0, ACROSS_THIRD, Grade::B), bearing: pressed(ABS, 28.0), coupon_cap: 15.0,
        tg: 102.0, hdt_045: 90.0,
        note: "Layers part when printed in a draught; needs a closed, warm printer. Sunlight embrittles it.", ..BASE },
    Filament { name: "ASA", density: 1_070.0, e: 1_700.0, e_z: 1_500.0, in_layers: ASA,
        across: range(18.0, 30.0, 9.0, ACROSS_THIRD, Grade::B), bearing: pressed(ASA, 32.0), coupon_cap: 16.0,
        tg: 102.0, hdt_045: 93.0,
        note: "As ABS, but stands sunlight. Needs a closed, warm printer.", ..BASE },
    Filament { name: "PA-CF", density: 1_150.0, e: 5_000.0, e_z: 2_000.0, in_layers: PA_CF,
        across: trials(1, 5, 9.2, 0.055, Basis::Stated(9.0), ACROSS_FIBRE, Grade::J), bearing: pressed(PA_CF, 50.0),
        coupon_cap: 25.0, tg: 55.0, hdt_045: 150.0,
        note: "Fibres stiffen the layers, not the bond between them. Takes up water.", ..POLYAMIDE },
    Filament { name: "PA12", density: 1_010.0, e: 1_000.0, e_z: 900.0, in_layers: PA12,
        across: range(25.0, 38.0, 10.0, ACROSS_THIRD, Grade::J), bearing: pressed(PA12, 40.0), coupon_cap: 20.0,
        wet: 0.85, tg: 45.0, hdt_045: 80.0, ..POLYAMIDE },
    Filament { name: "PA6", density: 1_130.0, e: 1_400.0, e_z: 1_200.0, in_layers: PA6,
        across: range(25.0, 40.0, 10.0, ACROSS_THIRD, Grade::J), bearing: pressed(PA6, 45.0), coupon_cap: 22.5,
        tg: 48.0, hdt_045: 65.0, ..POLYAMIDE },
    Filament { name: "PC", density: 1_200.0, e: 2_000.0, e_z: 1_800.0, in_layers: PC,
        across: range(30.0, 45.0, 15.0, ACROSS_THIRD, Grade::B), bearing: pressed(PC, 50.0), coupon_cap: 25.0,
        tg: 145.0, hdt_045: 115.0, creep_divisor: 3.0,
        note: "Layers part unless the printer is hot and closed. Cracks under load when oil, glue or cleaner touches \
            it.", ..BASE },
    Filament { name: "PCTG", density: 1_230.0, e: 1_600.0, e_z: 1_400.0, in_layers: PCTG,
        across: range(28.0, 40.0, 10.0, ACROSS_THIRD, Grade::J), bearing: pressed(PCTG, 34.0), coupon_cap: 17.0,
        tg: 76.0, hdt_045: 68.0,
        note: "Layers bond better than those of PETG; tough.", ..BASE },
    Filament { name: "PETG", density: 1_270.0, e: 2_000.0, e_z: 1_700.0, in_layers: PETG,
        across: trials(12, 57, 18.0, 0.393, Basis::Stated(10.0), ACROSS_PETG, Grade::J), bearing: pressed(PETG, 36.0),
        coupon_cap: 17.6, tg: 70.0, hdt_045: 70.0,
        note: "Upright prints are the weakest; a hotter nozzle and less fan bond better. Grows brittle in a year or \
            more at room temperature.",
        stiffness_source: REPORTED, heat_source: HEAT_PETG, ..BASE },
    Filament { name: "PETG-CF", density: 1_290.0, e: 3_500.0, e_z: 1_800.0, in_layers: PETG_CF,
        across: trials(1, 5, 34.1, 0.060, Basis::Stated(10.0), ACROSS_FIBRE, Grade::J), bearing: pressed(PETG_CF, 30.0),
        coupon_cap: 15.0, tg: 70.0, hdt_045: 70.0,
        note: "Fibres stiffen the layers and weaken the bond between them.", heat_source: HEAT_PETG, ..BASE },
    Filament { name: "PLA", density: 1_240.0, e: 3_000.0, e_z: 2_040.0, in_layers: PLA,
        across: trials(5, 25, 18.1, 0.396, Basis::Stated(10.0), ACROSS_PETG, Grade::J), bearing: pressed(PLA, 28.0),
        coupon_cap: 14.0, tg: 60.0, hdt_045: 55.0, lasting: Lasting::all(0.25), lasting_source: Some(LASTING_PLA), creep_divisor: 3.0,
        note: "Stiff but creeps far below its softening point and grows brittle; one study found half of the \
            filament's strength across layers.",
        stiffness_source: STIFFNESS_PLA, ..BASE },
    Filament { name: "PLA+", density: 1_230.0, e: 2_400.0, e_z: 1_630.0, in_layers: PLA_PLUS,
        across: trials(3, 20, 25.8, 0.178, Basis::Stated(10.0), ACROSS_PETG, Grade::J), bearing: pressed(PLA_PLUS, 28.0),
        coupon_cap: 14.0, tg: 58.0, hdt_045: 53.0, lasting: Lasting::all(0.25), lasting_source: Some(LASTING_PLA),
        note: "No fixed recipe: a PLA made tougher, which creeps more.", stiffness_source: STIFFNESS_PLA, ..BASE },
    Filament { name: "TPU 95A", structure: Structure::Elastomer, density: 1_210.0, e: 20.0, e_z: 18.0, poisson: 0.48,
        in_layers: TPU, across: range(20.0, 35.0, 9.0, ACROSS_THIRD, Grade::J), bearing: pressed(TPU, 2.4),
        coupon_cap: 15.0, tg: -30.0, hdt_045: 40.0, lasting: Lasting::all(0.10), lasting_source: Some(LASTING_RUBBER), sustained_z_limit: 1.0,
        note: "For pads under feet only: far too soft for a bracket. Modulus at 10 % strain; compression at that \
            strain.", ..BASE },
];

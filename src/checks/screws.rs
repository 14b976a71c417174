//! Screws in the wood: withdrawal, lateral, both together, one lost.

use super::govern::{Outcome, Rule, Trial, duration_at, over_cases};
use super::{Check, CheckId, ScrewFact, Step, Subject, When};
use crate::clauses::lateral::{self, Dowel};
use crate::clauses::screw_group::{self, GroupForces, ScrewGroup};
use crate::clauses::screw_slip;
use crate::clauses::withdrawal;
use crate::clauses::working::equation;
use crate::mechanics::{Forces, exceeds, joint};
use crate::model::{self, Model};
use crate::source::Clause;
use crate::units::{INCH, LBF};

/// Depth of wood that gives under a plate, mm (judgement: half a usual top).
const BEDDING: f64 = 20.0;

fn group(model: &Model, leg: usize) -> ScrewGroup {
    let design = &model.brackets[model.legs[leg].bracket.kind].design;
    let screw = &model.params.bracket.screws.screw;
    ScrewGroup {
        screws: design.screws.iter().map(|h| h.at).collect(),
        plate: [design.length, design.width],
        screw_stiffness: screw_slip::axial(screw.diameter, model.thread())[1],
        wood_stiffness: model.params.top.wood.e_across / BEDDING,
    }
}

/// Equilibrium of every leg's plate on the wood: leg and forces.
pub(super) fn groups(t: &Trial) -> Vec<(usize, GroupForces)> {
    let legs = 0..t.model.legs.len();
    legs.filter_map(|i| group(t.model, i).solve(&t.forces.faces[i]).map(|g| (i, g))).collect()
}

/// A screw's design values in this wood at a time and duration, N: withdrawal, and lateral in the bracket of a leg.
fn capacities(t: &Trial, leg: usize) -> (f64, f64) {
    (pull_capacity(t), dowel(t.model, leg).weakest().1 * factor(t))
}

/// A screw's withdrawal design value, N.
fn pull_capacity(t: &Trial) -> f64 {
    let (wood, screw) = (&t.model.params.top.wood, &t.model.params.bracket.screws.screw);
    withdrawal::wood_screw(wood.specific_gravity, screw.diameter) * t.model.thread() * factor(t)
}

/// Load duration, heat and moisture together.
fn factor(t: &Trial) -> f64 {
    factors(t).iter().map(|(_, factor, _)| factor).product()
}

/// Load duration, heat and moisture as the specification names them.
fn factors(t: &Trial) -> [(&'static str, f64, &'static str); 3] {
    let wet = model::moisture_range(&t.model.params)[1] > WET_ABOVE;
    let duration = duration_at(t.case.lasts, t.when);
    [("C_D", duration, ""), ("C_t", heat(t.model, t.when), ""), ("C_M", withdrawal::wet_factor(wet), "")]
}

/// Moisture content above which connections count as wet, %. Source: [`withdrawal::WET`].
const WET_ABOVE: f64 = 19.0;
/// Factor beyond the last line of the table of temperatures (judgement: below its last value).
const HOT: f64 = 0.5;

fn heat(model: &Model, when: When) -> f64 {
    let [cold, warm] = model.params.place.temperature;
    let celsius = if when == When::Now { (cold + warm) / 2.0 } else { warm };
    withdrawal::temperature_factor(celsius).unwrap_or(HOT)
}

/// A screw of a leg's bracket.
fn dowel(model: &Model, leg: usize) -> Dowel {
    let screw = &model.params.bracket.screws.screw;
    let design = &model.brackets[model.legs[leg].bracket.kind].design;
    let wood = lateral::wood_bearing(model.params.top.wood.specific_gravity);
    Dowel {
        root: screw.root,
        main_bearing: wood,
        side_bearing: model.params.printing.filament.bearing.characteristic(),
        main_length: model.penetration() - screw.tip() / 2.0,
        side_length: (design.hole.grip(design.plate) - design.hole.relief).max(1.0),
        bending_yield: screw.bending_yield(),
        grain_angle: std::f64::consts::FRAC_PI_2,
    }
}

fn pull_working(t: &Trial) -> Vec<Step> {
    let (wood, screw) = (&t.model.params.top.wood, &t.model.params.bracket.screws.screw);
    let per_mm = withdrawal::wood_screw(wood.specific_gravity, screw.diameter);
    let with = [("G", wood.specific_gravity, ""), ("D", screw.diameter / INCH, "in")];
    let [duration, heat, wet] = factors(t);
    let all = [("W", per_mm, "N/mm"), ("p", t.model.thread(), "mm"), duration, heat, wet];
    vec![
        equation("W = 2850 G^2 D", with, per_mm / LBF_PER_INCH, "lbf/in").into(),
        ScrewFact::PerMillimetre(per_mm).into(),
        equation("W' = W p C_D C_t C_M", all, pull_capacity(t), "N").into(),
    ]
}

/// One pound to the inch, N/mm.
const LBF_PER_INCH: f64 = LBF / INCH;

const PULL_SOURCES: [Clause; 6] = [
    withdrawal::WOOD_SCREW,
    withdrawal::PENETRATION,
    withdrawal::DURATION,
    withdrawal::TEMPERATURE,
    withdrawal::WET,
    joint::PRYING,
];

/// Worst pull on a screw with prying, against withdrawal from this wood at this penetration.
pub(super) fn pull(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::ScrewWithdrawal, unit: "N", clause: withdrawal::WOOD_SCREW };
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let borne = t.forces.bracket_demands[i].as_ref()?;
            let worst = worst_index(&borne.screws);
            Some(Outcome {
                subject: Subject::Screw { leg: i, screw: worst },
                demand: borne.worst_screw.upper,
                capacity: pull_capacity(t),
                from: (),
            })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let mut working = vec![ScrewFact::Pull(o.demand).into()];
        working.extend(pull_working(t));
        (working, PULL_SOURCES.to_vec())
    };
    over_cases(m, f, &rule, judge, explain)
}

fn worst_index(pulls: &[f64]) -> usize {
    (0..pulls.len()).fold(0, |best, i| if exceeds(pulls[i], pulls[best]) { i } else { best })
}

/// Shear of each screw: across the grain slotted screws carry nothing.
fn shears(t: &Trial, leg: usize) -> Vec<[f64; 2]> {
    let design = &t.model.brackets[t.model.legs[leg].bracket.kind].design;
    let l = t.forces.faces[leg];
    let all: Vec<[f64; 2]> = design.screws.iter().map(|h| h.at).collect();
    let fixed: Vec<usize> = (0..all.len()).filter(|i| design.screws[*i].slot == 0.0).collect();
    let along_x = design.screws.first().is_none_or(|h| !h.along_x);
    let along = if along_x { (l.fx, 0.0) } else { (0.0, l.fy) };
    let across = if along_x { (0.0, l.fy) } else { (l.fx, 0.0) };
    let mut out = screw_group::shear(&all, along.0, along.1, l.mz);
    let places: Vec<[f64; 2]> = fixed.iter().map(|i| all[*i]).collect();
    for (i, s) in fixed.iter().zip(screw_group::shear(&places, across.0, across.1, 0.0)) {
        out[*i] = [out[*i][0] + s[0], out[*i][1] + s[1]];
    }
    out
}

/// Shear on the worst screw, against the yield modes of a dowel between plastic and wood.
pub(super) fn lateral(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::ScrewLateral, unit: "N", clause: lateral::YIELD };
    let judge = |t: &Trial| {
        let legs = (0..t.model.legs.len()).map(|i| {
            let sizes: Vec<f64> = shears(t, i).iter().map(|s| s[0].hypot(s[1])).collect();
            let worst = worst_index(&sizes);
            let capacity = capacities(t, i).1;
            Outcome { subject: Subject::Screw { leg: i, screw: worst }, demand: sizes[worst], capacity, from: i }
        });
        legs.collect()
    };
    let explain = |t: &Trial, o: &Outcome<usize>| {
        let (mode, value) = dowel(t.model, o.from).weakest();
        let [duration, heat, wet] = factors(t);
        let working = vec![
            ScrewFact::Shear(o.demand).into(),
            ScrewFact::YieldMode { mode, value }.into(),
            equation("Z' = Z C_D C_t C_M", [("Z", value, "N"), duration, heat, wet], o.capacity, "N").into(),
        ];
        let sources = vec![
            lateral::YIELD,
            lateral::REDUCTION,
            lateral::DOWEL_BEARING,
            lateral::BENDING_YIELD,
            lateral::PLASTIC_BEARING,
            screw_group::SHEAR,
        ];
        (working, sources)
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Pull and shear together on each screw of the elastic group with the neutral axis found.
pub(super) fn combined(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::ScrewCombined, unit: "-", clause: withdrawal::COMBINED };
    let of = |t: &Trial, i: usize| -> Option<(usize, f64, f64)> {
        let borne = t.forces.bracket_demands[i].as_ref()?;
        let scale = borne.worst_screw.upper / borne.worst_screw.middle.max(1e-9);
        let shear = shears(t, i);
        let (w, z) = capacities(t, i);
        let used: Vec<f64> = borne
            .screws
            .iter()
            .zip(&shear)
            .map(|(p, s)| withdrawal::combined_utilisation(p * scale, s[0].hypot(s[1]), w, z))
            .collect();
        let worst = worst_index(&used);
        Some((worst, borne.screws[worst] * scale, shear[worst][0].hypot(shear[worst][1])))
    };
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let ((worst, pull, shear), (w, z)) = (of(t, i)?, capacities(t, i));
            let demand = withdrawal::combined_utilisation(pull, shear, w, z);
            let subject = Subject::Screw { leg: i, screw: worst };
            Some(Outcome { subject, demand, capacity: 1.0, from: (i, [pull, shear]) })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<(usize, [f64; 2])>| {
        let (leg, [pull, shear]) = o.from;
        let ((w, z), angle) = (capacities(t, leg), pull.atan2(shear));
        let (both, degrees) = (withdrawal::combined(w, z, angle), angle.to_degrees());
        let with = [("W'", w, "N"), ("Z'", z, "N"), ("a", degrees, "deg")];
        let used = [("F", pull.hypot(shear), "N"), ("Z_a", both, "N")];
        let working = vec![
            ScrewFact::PullAndShear { pull, shear, angle: degrees }.into(),
            equation("Z_a = W' Z' / (W' cos(a)^2 + Z' sin(a)^2)", with, both, "N").into(),
            equation("combined = F / Z_a", used, o.demand, "").into(),
        ];
        (working, vec![withdrawal::COMBINED, withdrawal::WOOD_SCREW, lateral::YIELD])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// The screw that pulls most lost: the others must still hold.
pub(super) fn one_lost(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::ScrewLost, unit: "N", clause: joint::PRYING };
    let judge = |t: &Trial| {
        let capacity = pull_capacity(t);
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let joint::Lost { screw, worst } = t.forces.bracket_demands[i].as_ref()?.lost;
            let subject = Subject::LostScrew { leg: i, screw };
            Some(Outcome { subject, demand: worst.upper.min(MOST), capacity, from: () })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let mut working = vec![ScrewFact::PullOnOthers(o.demand).into()];
        working.extend(pull_working(t));
        (working, PULL_SOURCES.to_vec())
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Pull told where the screws left do not hold the plate, N, so that every utilisation is finite.
const MOST: f64 = 1e9;

//! Screws in the wood: withdrawal, lateral, both together, one lost.

use super::govern::{Outcome, Rule, Trial, duration_at, over_cases};
use super::{Check, CheckId, Subject, When};
use crate::clauses::lateral::{self, Dowel};
use crate::clauses::screw_group::{self, GroupForces, ScrewGroup};
use crate::clauses::withdrawal;
use crate::clauses::working::{figures, step};
use crate::mechanics::{Forces, exceeds, joint};
use crate::model::{self, Model};
use crate::source::Clause;
use crate::units::plain;

/// Stiffness of a screw in withdrawal, N/mm per mm of thread and diameter (judgement: slip of a tenth of a millimetre at
/// its allowable load).
const WITHDRAWAL_STIFFNESS: f64 = 30.0;
/// Depth of wood that gives under a plate, mm (judgement: half a usual top).
const BEDDING: f64 = 20.0;

fn group(model: &Model, leg: usize) -> ScrewGroup {
    let design = &model.brackets[model.legs[leg].bracket.kind].design;
    let screw = &model.params.bracket.screws.screw;
    ScrewGroup {
        screws: design.screws.iter().map(|h| h.at).collect(),
        plate: [design.length, design.width],
        screw_stiffness: WITHDRAWAL_STIFFNESS * screw.diameter * model.penetration(),
        wood_stiffness: model.params.top.wood.e_across / BEDDING,
    }
}

/// Equilibrium of every leg's plate on the wood: leg and forces.
pub(super) fn groups(t: &Trial) -> Vec<(usize, GroupForces)> {
    let legs = 0..t.model.legs.len();
    legs.filter_map(|i| group(t.model, i).solve(&t.forces.faces[i]).map(|g| (i, g))).collect()
}

/// A screw's design values in this wood at a time and duration, N: withdrawal and lateral.
fn capacities(t: &Trial) -> (f64, f64) {
    let wood = &t.model.params.top.wood;
    let screw = &t.model.params.bracket.screws.screw;
    let factor = factor(t);
    let thread = screw.thread(t.model.params.bracket.screws.length).min(t.model.penetration());
    let pull = withdrawal::wood_screw(wood.specific_gravity, screw.diameter) * thread;
    (pull * factor, dowel(t.model).weakest().1 * factor)
}

/// Load duration, heat and moisture together.
fn factor(t: &Trial) -> f64 {
    let wet = model::moisture_range(&t.model.params)[1] > WET_ABOVE;
    duration_at(t.case.lasts, t.when) * heat(t.model, t.when) * withdrawal::wet_factor(wet)
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

fn dowel(model: &Model) -> Dowel {
    let screw = &model.params.bracket.screws.screw;
    let design = &model.brackets[0].design;
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

fn pull_steps(t: &Trial) -> Vec<String> {
    let wood = &t.model.params.top.wood;
    let screw = &t.model.params.bracket.screws.screw;
    let per_mm = withdrawal::wood_screw(wood.specific_gravity, screw.diameter);
    let thread = screw.thread(t.model.params.bracket.screws.length).min(t.model.penetration());
    let factor = factor(t);
    vec![
        step(
            "W = 2850 G^2 D (lbf/in)",
            &format!("2850 x {}^2 x {} mm, in N/mm", plain(wood.specific_gravity), plain(screw.diameter)),
            per_mm,
            "N/mm",
        ),
        step(
            "W' = W p C_D C_t C_M",
            &format!("{} x {} x {}", figures(per_mm), figures(thread), figures(factor)),
            capacities(t).0,
            "N",
        ),
    ]
}

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
                capacity: capacities(t).0,
                from: (),
            })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let mut steps =
            vec![format!("pull on the worst screw with prying, upper end of the band = {} N", figures(o.demand))];
        steps.extend(pull_steps(t));
        (steps, PULL_SOURCES.to_vec())
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
        let capacity = capacities(t).1;
        let legs = (0..t.model.legs.len()).map(|i| {
            let sizes: Vec<f64> = shears(t, i).iter().map(|s| s[0].hypot(s[1])).collect();
            let worst = worst_index(&sizes);
            Outcome { subject: Subject::Screw { leg: i, screw: worst }, demand: sizes[worst], capacity, from: () }
        });
        legs.collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let (mode, z) = dowel(t.model).weakest();
        let factor = factor(t);
        let steps = vec![
            format!("shear on the worst screw from force and twist = {} N", figures(o.demand)),
            format!("weakest yield mode {mode:?}: Z = {} N", figures(z)),
            step("Z' = Z C_D C_t C_M", &format!("{} x {}", figures(z), figures(factor)), o.capacity, "N"),
        ];
        let sources = vec![
            lateral::YIELD,
            lateral::REDUCTION,
            lateral::DOWEL_BEARING,
            lateral::BENDING_YIELD,
            lateral::PLASTIC_BEARING,
            screw_group::SHEAR,
        ];
        (steps, sources)
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
        let (w, z) = capacities(t);
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
        let (w, z) = capacities(t);
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let (worst, pull, shear) = of(t, i)?;
            let demand = withdrawal::combined_utilisation(pull, shear, w, z);
            let subject = Subject::Screw { leg: i, screw: worst };
            Some(Outcome { subject, demand, capacity: 1.0, from: [pull, shear] })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<[f64; 2]>| {
        let ((w, z), [pull, shear]) = (capacities(t), o.from);
        let angle = pull.atan2(shear);
        let steps = vec![
            format!(
                "pull {} N and shear {} N: {:.0} deg from the wood's face",
                figures(pull),
                figures(shear),
                angle.to_degrees()
            ),
            step(
                "Z_a = W' Z' / (W' cos^2 a + Z' sin^2 a)",
                &format!("W' {} N, Z' {} N", figures(w), figures(z)),
                withdrawal::combined(w, z, angle),
                "N",
            ),
            step("utilisation = F / Z_a", &figures(pull.hypot(shear)), o.demand, ""),
        ];
        (steps, vec![withdrawal::COMBINED, withdrawal::WOOD_SCREW, lateral::YIELD])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// The screw that pulls most lost: the others must still hold.
pub(super) fn one_lost(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::ScrewLost, unit: "N", clause: joint::PRYING };
    let judge = |t: &Trial| {
        let capacity = capacities(t).0;
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let joint::Lost { screw, worst } = t.forces.bracket_demands[i].as_ref()?.lost;
            let subject = Subject::LostScrew { leg: i, screw };
            Some(Outcome { subject, demand: worst.upper.min(MOST), capacity, from: () })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let mut steps = vec![format!(
            "largest pull with prying on the screws left, upper end of the band = {} N",
            figures(o.demand)
        )];
        steps.extend(pull_steps(t));
        (steps, PULL_SOURCES.to_vec())
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Pull told where the screws left do not hold the plate, N, so that every utilisation is finite.
const MOST: f64 = 1e9;

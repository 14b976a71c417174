//! The wooden top: bending along and across the grain, sag, crushing under the brackets.

use super::govern::{Outcome, Rule, Trial, duration_at, over_cases};
use super::{Check, CheckId, Fact, Step, Subject, Under, When, utilisation_step};
use crate::clauses::working::{Equation, equation};
use crate::mechanics::{Forces, exceeds, wood_creep};
use crate::model::{self, Action, Model, Purpose};
use crate::params::Duration;
use crate::source::{Clause, Source};
use crate::tables::wood::Basis;

/// From the mean strength of small clear pieces to what nineteen in twenty reach: 1 - 1.645 x 0.16, the usual spread of
/// bending tests. Source: ASTM D2555, from memory.
const FIVE_PERCENT: f64 = 0.74;
/// Ten years of load and safety, hardwoods. Source: ASTM D245, from memory (2.1 for softwoods).
const TIME_AND_SAFETY: f64 = 2.3;
/// Share left by knots and slope of grain along the grain (judgement: boards sold for furniture); across it they do not
/// weaken.
const GRADE: f64 = 0.65;
/// Why.
const ALLOWABLE: Clause = Source::from_memory("ASTM D245 and D2555", "").at(
    "mean strength of clear pieces x 0.74 for its spread / 2.3 for ten years and safety; judgement: x 0.65 for knots along the grain; x load duration, NDS 2018 Table 2.3.2",
);
/// From the 5 % value of a sheet to an allowable stress.
const FROM_CHARACTERISTIC: f64 = 1.2 / 0.7;
/// Deformation after years.
const CREEP: Clause = Source::EN_1995.at("2.2.3 and Table 3.2: u_fin = u_inst (1 + k_def) for lasting loads");
/// Crushing across the grain.
const CRUSH: Clause = Source::NDS
    .remembered()
    .at("3.10.2: compression across the grain, no load duration; safety 1.5 on the proportional limit is judgement");
/// Safety on crushing across the grain, from the mean proportional limit (judgement).
const CRUSH_SAFETY: f64 = 1.5;

fn allowable(trial: &Trial, strength: f64, grade: f64) -> (f64, Equation) {
    let divisor = match trial.model.params.top.wood.basis {
        Basis::MeanClear => TIME_AND_SAFETY / FIVE_PERCENT / grade,
        Basis::Characteristic => FROM_CHARACTERISTIC,
    };
    let factor = duration_at(trial.case.lasts, trial.when);
    let value = strength / divisor * factor;
    let with = [("strength", strength, "MPa"), ("duration", factor, ""), ("safety", divisor, "")];
    (value, equation("allowable = strength x duration / safety", with, value, "MPa"))
}

/// Bending along the grain: sigma = 6 m / t^2 <= allowable.
pub(super) fn bending_along(m: &Model, f: &Forces) -> Vec<Check> {
    bending(m, f, CheckId::TopAlong, GRADE, |t| {
        (t.forces.top.along, t.forces.top.along_at, t.model.params.top.wood.bending_strength)
    })
}

/// Bending across the grain, where boards part.
pub(super) fn bending_across(m: &Model, f: &Forces) -> Vec<Check> {
    bending(m, f, CheckId::TopAcross, 1.0, |t| {
        (t.forces.top.across, t.forces.top.across_at, t.model.params.top.wood.bending_across)
    })
}

/// `grade` is the share left by knots; `of` gives stress, place and strength.
fn bending(m: &Model, f: &Forces, id: CheckId, grade: f64, of: impl Fn(&Trial) -> (f64, [f64; 2], f64)) -> Vec<Check> {
    let rule = Rule { id, unit: "MPa", clause: ALLOWABLE };
    let judge = |t: &Trial| {
        let (stress, at, strength) = of(t);
        let capacity = allowable(t, strength, grade).0;
        vec![Outcome { subject: Subject::TopAt(at), demand: stress, capacity, from: () }]
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let thickness = t.model.params.top.thickness;
        let moment = o.demand * thickness * thickness / 6.0;
        let with = [("m", moment, "N"), ("t", thickness, "mm")];
        let bent = equation("sigma = 6 m / t^2", with, o.demand, "MPa");
        let working = vec![bent.into(), allowable(t, of(t).2, grade).1.into()];
        (working, vec![t.model.params.top.wood.sources.strength])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Sag under permanent loads, now and after the stated life: span / limit.
pub(super) fn sag(m: &Model, f: &Forces) -> Vec<Check> {
    let creep = wood_creep(m);
    let span = span(m);
    let capacity = span / m.params.limits.sag;
    let parts = |first, k_def, lasting| [("u_inst", first, "mm"), ("k_def", k_def, ""), ("u_lasting", lasting, "mm")];
    let mut all = Vec::new();
    for when in [When::Now, When::AfterLife] {
        let k_def = if when == When::AfterLife { creep - 1.0 } else { 0.0 };
        let (solution, _) = f.worst(|s| sagging(m, s, k_def).demand);
        let Sagging { demand, first, lasting, case, at } = sagging(m, solution, k_def);
        all.push(Check {
            id: CheckId::TopSag,
            subject: Subject::TopAt(at),
            case: Under::Case { name: case.map_or_else(String::new, |c| c.name.clone()), joints: solution.estimate },
            when,
            demand,
            capacity,
            unit: "mm",
            clause: Source::JUDGEMENT.at("what the eye and a marble notice; set it in limits.sag"),
            working: vec![
                equation("u = u_inst + k_def u_lasting", parts(first, k_def, lasting), demand, "mm").into(),
                equation("limit = span / n", [("span", span, "mm"), ("n", m.params.limits.sag, "")], capacity, "mm")
                    .into(),
                utilisation_step(demand, capacity, "mm"),
            ],
            sources: vec![CREEP, m.params.top.wood.sources.stiffness, m.params.top.wood.sources.creep],
        });
    }
    all
}

/// The case that sags most.
struct Sagging<'a> {
    /// With creep, mm.
    demand: f64,
    /// At once, mm.
    first: f64,
    /// Part of it that stays and creeps, mm.
    lasting: f64,
    case: Option<&'a model::Case>,
    at: [f64; 2],
}

/// Of all cases of weight alone; a short load comes on top of what has crept.
fn sagging<'a>(m: &'a Model, s: &crate::mechanics::Solution, k_def: f64) -> Sagging<'a> {
    let weighs = |c: &model::Case| {
        c.purpose == Purpose::Strength
            && !c.actions.iter().any(|a| matches!(a, Action::Push { .. } | Action::Drag { .. }))
    };
    let sags = || m.cases.iter().zip(&s.cases).filter(|(c, _)| weighs(c));
    let stays = |c: &model::Case| c.lasts >= Duration::Months;
    let creeping = sags().filter(|(c, _)| stays(c)).map(|(_, r)| r.sag).fold(0.0, f64::max);
    let none = Sagging { demand: 0.0, first: 0.0, lasting: 0.0, case: None, at: [0.0; 2] };
    sags()
        .map(|(c, r)| {
            let lasting = if stays(c) { r.sag } else { creeping };
            Sagging { demand: r.sag + k_def * lasting, first: r.sag, lasting, case: Some(c), at: r.sag_at }
        })
        .fold(none, |a, b| if exceeds(b.demand, a.demand) { b } else { a })
}

/// Longest distance between neighbouring leg heads, mm.
fn span(m: &Model) -> f64 {
    let n = m.legs.len();
    let apart = |i: usize| (m.legs[i].frame.head - m.legs[(i + 1) % n].frame.head).norm();
    (0..n).map(apart).fold(0.0, f64::max)
}

/// Wood crushed across the grain under the most pressed edge of a bracket.
pub(super) fn crushing(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TopCrushing, unit: "MPa", clause: CRUSH };
    let judge = |t: &Trial| {
        super::screws::groups(t)
            .into_iter()
            .map(|(leg, g)| Outcome {
                subject: Subject::PlateEdge(leg),
                demand: g.bearing_peak,
                capacity: crush(t).0,
                from: (),
            })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let working: Vec<Step> = vec![Fact::PlatePressure(o.demand).into(), crush(t).1.into()];
        (working, vec![t.model.params.top.wood.sources.compression, crate::clauses::screw_group::NEUTRAL_AXIS])
    };
    over_cases(m, f, &rule, judge, explain)
}

fn crush(t: &Trial) -> (f64, Equation) {
    let strength = t.model.params.top.wood.compression_across;
    let value = strength / CRUSH_SAFETY;
    let with = [("compression across the grain", strength, "MPa"), ("safety", CRUSH_SAFETY, "")];
    (value, equation("allowable = compression across the grain / safety", with, value, "MPa"))
}

//! The wooden top: bending along and across the grain, sag, crushing under the brackets.

use super::govern::{Outcome, Subject, Trial, over_cases};
use super::{Check, When, utilisation_step};
use crate::mechanics::working::{figures, step};
use crate::mechanics::{Forces, base_plate, withdrawal};
use crate::model::{Model, Purpose};
use crate::params::Duration;
use crate::source::{Clause, Source};
use crate::tables::wood::Basis;

/// From the mean strength of small clear pieces to an allowable stress of graded furniture wood: 2.1 for the load's time
/// and safety, and 0.65 for knots and slope of grain.
const FROM_CLEAR: f64 = 2.1 / 0.65;
/// Why.
const ALLOWABLE: Clause = Source::JUDGEMENT
    .at("mean small-clear strength divided by 2.1 (variation, ten years of load, safety) and times 0.65 for knots; times the load-duration factor of NDS 2018 Table 2.3.2");
/// From the 5 % value of a sheet to an allowable stress.
const FROM_CHARACTERISTIC: f64 = 1.2 / 0.7;
/// Deformation after years.
const CREEP: Clause = Source::from_memory("EN 1995-1-1", "2004+A2")
    .at("2.2.3 and Table 3.2: u_fin = u_inst (1 + k_def) for lasting loads");
/// Allowable crushing across the grain over the table's stress at proportional limit (judgement: a dent of a twentieth
/// of a millimetre does not matter under a bracket).
const CRUSH: Clause =
    Source::read("National Design Specification for Wood Construction, AWC", "2018").at("3.10.2 and 3.10.4");
/// Safety on crushing across the grain, from the mean proportional limit (judgement).
const CRUSH_SAFETY: f64 = 1.5;

/// Load-duration factor of wood.
pub(super) fn duration_factor(lasts: Duration) -> f64 {
    use withdrawal::Duration as Nds;
    match lasts {
        Duration::Seconds | Duration::Minutes => Nds::TenMinutes.factor(),
        Duration::Hours | Duration::Days => Nds::SevenDays.factor(),
        Duration::Months => Nds::TwoMonths.factor(),
        Duration::Years => Nds::Permanent.factor(),
    }
}

/// Load-duration factor at a time: what stays counts as a week when new.
pub(super) fn duration_at(lasts: Duration, when: When) -> f64 {
    duration_factor(if when == When::Now { lasts.min(Duration::Days) } else { lasts })
}

fn allowable(trial: &Trial, strength: f64) -> (f64, Vec<String>) {
    let divisor = match trial.model.params.top.wood.basis {
        Basis::MeanClear => FROM_CLEAR,
        Basis::Characteristic => FROM_CHARACTERISTIC,
    };
    let factor = duration_at(trial.case.lasts, trial.when);
    let value = strength / divisor * factor;
    let numbers = format!("{} x {factor} / {}", figures(strength), figures(divisor));
    (value, vec![step("allowable = strength x duration / safety", &numbers, value, "MPa")])
}

/// Bending along the grain: sigma = 6 m / t^2 <= allowable.
pub(super) fn bending_along(m: &Model, f: &Forces) -> Vec<Check> {
    bending(m, f, "top: bending along the grain", |t| {
        (t.forces.top.along, t.forces.top.along_at, t.model.params.top.wood.bending_strength)
    })
}

/// Bending across the grain, where boards part.
pub(super) fn bending_across(m: &Model, f: &Forces) -> Vec<Check> {
    bending(m, f, "top: bending across the grain", |t| {
        (t.forces.top.across, t.forces.top.across_at, t.model.params.top.wood.bending_across)
    })
}

fn bending(m: &Model, f: &Forces, name: &'static str, of: impl Fn(&Trial) -> (f64, [f64; 2], f64)) -> Vec<Check> {
    let subject = Subject { name, unit: "MPa", clause: ALLOWABLE };
    let judge = |t: &Trial| {
        let (stress, at, strength) = of(t);
        vec![Outcome { place: spot(at), demand: stress, capacity: allowable(t, strength).0 }]
    };
    let explain = |t: &Trial, o: &Outcome| {
        let thickness = t.model.params.top.thickness;
        let moment = o.demand * thickness * thickness / 6.0;
        let mut steps =
            vec![step("sigma = 6 m / t^2", &format!("6 x {} / {thickness}^2", figures(moment)), o.demand, "MPa")];
        steps.extend(allowable(t, of(t).2).1);
        (steps, vec![t.model.params.top.wood.sources.strength])
    };
    over_cases(m, f, &subject, judge, explain)
}

fn spot(at: [f64; 2]) -> String {
    format!("top, {:.0} mm along and {:.0} mm across from the corner by leg 1", at[0], at[1])
}

/// Sag under what stays, now and after the stated life: span / limit.
pub(super) fn sag(m: &Model, f: &Forces) -> Vec<Check> {
    let creep = m.params.top.wood.creep(false).unwrap_or(3.0);
    let span = span(m);
    let capacity = span / m.params.limits.sag;
    let mut all = Vec::new();
    for when in [When::Now, When::AfterLife] {
        let grown = |lasts: Duration| if when == When::AfterLife && lasts >= Duration::Months { creep } else { 1.0 };
        let of = |s: &crate::mechanics::Solution| {
            let sags = m.cases.iter().zip(&s.cases).filter(|(c, _)| c.purpose == Purpose::Strength);
            sags.filter(|(c, _)| !c.name.starts_with("push") && !c.name.starts_with("drag"))
                .map(|(c, r)| (r.sag * grown(c.lasts), r.sag, c.name.clone(), r.sag_at, c.lasts))
                .fold((0.0, 0.0, String::new(), [0.0; 2], Duration::Seconds), |a, b| if b.0 > a.0 { b } else { a })
        };
        let (solution, _) = f.worst(|s| of(s).0);
        let (demand, first, case, at, lasts) = of(solution);
        all.push(Check {
            name: "top: sag",
            place: spot(at),
            case: format!("{case} ({} joints)", solution.name),
            when,
            demand,
            capacity,
            unit: "mm",
            clause: Source::JUDGEMENT.at("what the eye and a marble notice; set it in limits.sag"),
            steps: vec![
                step(
                    "u = u_inst (1 + k_def)",
                    &format!("{} x {}", figures(first), figures(grown(lasts))),
                    demand,
                    "mm",
                ),
                step(
                    "limit = span / n",
                    &format!("{} / {}", figures(span), figures(m.params.limits.sag)),
                    capacity,
                    "mm",
                ),
                utilisation_step(demand, capacity, "mm"),
            ],
            sources: vec![CREEP, m.params.top.wood.sources.stiffness, m.params.top.wood.sources.creep],
        });
    }
    all
}

/// Longest distance between neighbouring leg heads, mm.
fn span(m: &Model) -> f64 {
    let n = m.legs.len();
    let apart = |i: usize| (m.legs[i].frame.head - m.legs[(i + 1) % n].frame.head).norm();
    (0..n).map(apart).fold(0.0, f64::max)
}

/// Wood crushed across the grain under the most pressed edge of a bracket.
pub(super) fn crushing(m: &Model, f: &Forces) -> Vec<Check> {
    let subject = Subject { name: "top: crushing under the plate's edge", unit: "MPa", clause: CRUSH };
    let judge = |t: &Trial| {
        super::screws::groups(t)
            .into_iter()
            .map(|(leg, g)| Outcome {
                place: format!("leg {leg}, plate edge"),
                demand: g.bearing_peak,
                capacity: crush(t).0,
            })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome| {
        let mut steps =
            vec![format!("largest pressure of the plate on the wood, neutral axis found = {} MPa", figures(o.demand))];
        steps.push(crush(t).1);
        (
            steps,
            vec![
                t.model.params.top.wood.sources.compression,
                base_plate::BEARING_AREA,
                crate::mechanics::screw_group::NEUTRAL_AXIS,
            ],
        )
    };
    over_cases(m, f, &subject, judge, explain)
}

fn crush(t: &Trial) -> (f64, String) {
    let wood = &t.model.params.top.wood;
    let value = wood.compression_across / CRUSH_SAFETY;
    (
        value,
        step(
            "allowable = compression across the grain / safety",
            &format!("{} / {CRUSH_SAFETY}", figures(wood.compression_across)),
            value,
            "MPa",
        ),
    )
}

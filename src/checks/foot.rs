//! Feet: pressure of tube ends on the plastic, pressure on the floor, levelling bolts.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Step, Subject};
use crate::clauses::working::equation;
use crate::mechanics::{Forces, TubeForces};
use crate::model::{FootDesign, Model, Sole, Test};
use crate::params::FootKind;
use crate::source::{Clause, Source};
use crate::tables::bolt;

/// Pressure that a wooden or tiled floor bears without a mark, MPa.
const FLOOR: f64 = 3.0;
/// Why.
const FLOOR_CLAUSE: Clause =
    Source::JUDGEMENT.at("softwood boards take about 3 MPa across the grain without a lasting mark");
/// Safety on the yield of a levelling bolt (judgement).
const BOLT_SAFETY: f64 = 1.5;
/// Why.
const BOLT_CLAUSE: Clause = Source::STATICS.at("compression and bending of the thread root over the stand-off");
const END: Clause =
    Source::STATICS.at("tube end on its socket's floor: N over the ring, taken over the tube's own section");

fn vertical(t: &Trial, leg: usize) -> f64 {
    t.forces.reactions[leg][2].max(0.0)
}

/// The ring of a tube's end pressing on the plastic floor of the foot's socket.
pub(super) fn end_bearing(m: &Model, f: &Forces) -> Vec<Check> {
    let tube = &m.params.legs.tube;
    let inside = tube.outside - 2.0 * tube.wall;
    let ring = std::f64::consts::FRAC_PI_4 * (tube.outside * tube.outside - inside * inside);
    let rule = Rule { id: CheckId::TubeEnd, unit: "MPa", clause: END };
    let section = |leg| Section::Floor { thickness: under_tube(design(m, leg)), ring: tube.wall };
    let capacity = |t: &Trial, leg| allowable(t.model, Kind::Bearing, t.case.lasts, t.when, section(leg));
    let judge = |t: &Trial| {
        let outcome = |(leg, tubes): (usize, &Vec<TubeForces>)| {
            let n = tubes.iter().map(|f| -f.axial).fold(0.0, f64::max);
            let capacity = capacity(t, leg).stress;
            Outcome { subject: Subject::Foot(leg), demand: n / ring, capacity, from: (leg, n) }
        };
        t.forces.tubes.iter().enumerate().map(outcome).collect()
    };
    let explain = |t: &Trial, o: &Outcome<(usize, f64)>| {
        let (leg, n) = o.from;
        let a = capacity(t, leg);
        let mut working: Vec<Step> =
            vec![equation("p = N / A", [("N", n, "N"), ("A", ring, "mm2")], o.demand, "MPa").into()];
        working.extend(a.working());
        (working, a.sources())
    };
    over_cases(m, f, &rule, judge, explain)
}

fn design(m: &Model, leg: usize) -> &FootDesign {
    &m.feet[m.legs[leg].foot.kind].design
}

/// Plastic between a tube's end and what the foot stands on, mm.
fn under_tube(foot: &FootDesign) -> f64 {
    let sunk = match foot.sole {
        Sole::Pad { depth, .. } => depth,
        Sole::Levelling { nut_depth, .. } => nut_depth,
    };
    foot.sockets.iter().map(|s| s.floor).fold(f64::INFINITY, f64::min) + foot.plate - sunk
}

/// Area on the floor of a leg's foot, mm2; a levelling bolt stands on its head.
fn sole_area(m: &Model, leg: usize) -> f64 {
    let foot = design(m, leg);
    let round = |across: f64| std::f64::consts::FRAC_PI_4 * across * across;
    match m.params.foot.kind {
        FootKind::Levelling { bolt, .. } => round(bolt.head_flats),
        FootKind::Flat { pad_diameter, pad_thickness } if pad_thickness > 0.0 => round(pad_diameter),
        FootKind::Flat { .. } => foot.length * foot.width - (4.0 - std::f64::consts::PI) * foot.corner_radius.powi(2),
    }
}

/// Pressure on the floor.
pub(super) fn floor(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::FloorPressure, unit: "MPa", clause: FLOOR_CLAUSE };
    let judge = |t: &Trial| {
        // A weight that a test puts anywhere for minutes is not what a floor must bear without a mark.
        let legs = 0..if t.case.test == Some(Test::Anywhere) { 0 } else { t.model.legs.len() };
        legs.map(|i| {
            let (force, area) = (vertical(t, i), sole_area(m, i));
            Outcome { subject: Subject::Foot(i), demand: force / area, capacity: FLOOR, from: [force, area] }
        })
        .collect()
    };
    let explain = |_: &Trial, o: &Outcome<[f64; 2]>| {
        let [force, area] = o.from;
        let pressure = equation("p = R / A", [("R", force, "N"), ("A", area, "mm2")], o.demand, "MPa");
        (vec![pressure.into()], vec![FLOOR_CLAUSE])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Whether the feet are levelled by bolts.
pub(super) fn levels(m: &Model, _: &Forces) -> bool {
    matches!(m.params.foot.kind, FootKind::Levelling { .. })
}

/// Levelling bolt: compressed, and bent by the horizontal force at the floor.
pub(super) fn levelling_bolt(m: &Model, f: &Forces) -> Vec<Check> {
    let FootKind::Levelling { bolt: row, stand_off } = m.params.foot.kind else { return Vec::new() };
    let root = (4.0 * row.stress_area / std::f64::consts::PI).sqrt();
    let modulus = std::f64::consts::PI * root.powi(3) / 32.0;
    let yields = bolt::class("4.6").map_or(240.0, |c| c.yield_strength);
    let capacity = yields / BOLT_SAFETY;
    let rule = Rule { id: CheckId::LevellingBolt, unit: "MPa", clause: BOLT_CLAUSE };
    let of = |t: &Trial, i: usize| {
        let [x, y, _] = t.forces.reactions[i];
        (vertical(t, i), x.hypot(y))
    };
    let judge = |t: &Trial| {
        let one = |i: usize| {
            let (n, h) = of(t, i);
            Outcome {
                subject: Subject::Foot(i),
                demand: n / row.stress_area + h * stand_off / modulus,
                capacity,
                from: [n, h],
            }
        };
        (0..t.model.legs.len()).map(one).collect()
    };
    let explain = |_: &Trial, o: &Outcome<[f64; 2]>| {
        let [n, h] = o.from;
        let (a, w) = (("A", row.stress_area, "mm2"), ("W", modulus, "mm3"));
        let with = [("N", n, "N"), a, ("H", h, "N"), ("e", stand_off, "mm"), w];
        let strength = [("f_y of class 4.6", yields, "MPa"), ("safety", BOLT_SAFETY, "")];
        let working = vec![
            equation("sigma = N/A + H e/W", with, o.demand, "MPa").into(),
            equation("allowable = f_y of class 4.6 / safety", strength, capacity, "MPa").into(),
        ];
        (working, vec![BOLT_CLAUSE, bolt::THREADS])
    };
    over_cases(m, f, &rule, judge, explain)
}

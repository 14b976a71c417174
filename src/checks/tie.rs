//! Ties: pressure in their collars, their cross bolts.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::leg::{SAFETY, pressure};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Fact, Subject};
use crate::clauses::socket::{self, Socket};
use crate::mechanics::Forces;
use crate::model::Model;

/// Whether legs have ties.
pub(super) fn tied(m: &Model, _: &Forces) -> bool {
    !m.ties.is_empty()
}

/// Pressure in the collars of ties.
pub(super) fn collars(m: &Model, f: &Forces) -> Vec<Check> {
    let Some(design) = m.ties.first().map(|k| &k.design) else { return Vec::new() };
    let rule = Rule { id: CheckId::TieCollar, unit: "MPa", clause: socket::PRESSURE };
    let of = |[_, shear, moment]: [f64; 3]| Socket {
        tube: m.params.legs.tube.outside,
        engaged: design.height - 2.0 * design.chamfer,
        wall: (design.outer - design.bore) / 2.0,
        shear,
        moment,
    };
    let each = |t: &Trial| {
        let legs = t.forces.tubes.iter().enumerate();
        legs.flat_map(|(k, leg)| leg.iter().map(move |f| (Subject::Ties(k), of(f.tie)))).collect()
    };
    pressure(m, f, &rule, each)
}

/// Bolts of ties: what they carry along the tubes.
pub(super) fn bolts(m: &Model, f: &Forces) -> Vec<Check> {
    let Some((design, bolt)) = m.ties.first().and_then(|k| Some((&k.design, k.design.bolts.first()?))) else {
        return Vec::new();
    };
    let wall = (design.outer - design.bore) / 2.0;
    let rule = Rule { id: CheckId::TieBolt, unit: "N", clause: socket::CROSS_BOLT };
    let capacity = |t: &Trial| {
        let bearing = allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(wall));
        let plastic = socket::bolt_bearing(bolt.size, wall, bearing.stress);
        let tube = &t.model.params.legs.tube;
        let tube = socket::bolt_bearing(bolt.size, tube.wall, tube.metal.yield_strength / SAFETY);
        (plastic.min(tube), plastic, tube)
    };
    let judge = |t: &Trial| {
        let each = t.forces.tubes.iter().enumerate().flat_map(|(k, leg)| leg.iter().map(move |f| (k, f.tie[0])));
        each.map(|(k, demand)| Outcome { subject: Subject::Ties(k), demand, capacity: capacity(t).0, from: () })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let (_, plastic, tube) = capacity(t);
        (vec![Fact::TieBolt { force: o.demand, plastic, tube }.into()], vec![socket::CROSS_BOLT])
    };
    over_cases(m, f, &rule, judge, explain)
}

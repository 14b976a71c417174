//! Ties: pressure in their collars, their cross bolts.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::leg::{SAFETY, pressure};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Fact, Subject};
use crate::clauses::socket::{self, Socket};
use crate::mechanics::{Forces, TubeForces};
use crate::model::{Model, TieDesign};

/// Whether legs have ties.
pub(super) fn tied(m: &Model, _: &Forces) -> bool {
    !m.ties.is_empty()
}

/// A tie that holds a tube.
#[derive(Clone, Copy)]
struct Held<'a> {
    /// Index of the leg.
    leg: usize,
    design: &'a TieDesign,
    /// Change of the tube's axial force N, shear N, moment N mm.
    forces: [f64; 3],
}

/// Every tie on every tube of the legs.
fn held<'a>(t: &'a Trial) -> impl Iterator<Item = Held<'a>> {
    let legs = t.forces.tubes.iter().zip(&t.model.legs).enumerate();
    legs.flat_map(|(leg, (tubes, placed))| {
        let ties = move |tube: &'a TubeForces| tube.ties.iter().zip(&placed.ties);
        let design = |kind: usize| &t.model.ties[kind].design;
        tubes.iter().flat_map(ties).map(move |(f, tie)| Held { leg, design: design(tie.part.kind), forces: *f })
    })
}

fn wall(design: &TieDesign) -> f64 {
    (design.outer - design.bore) / 2.0
}

/// Pressure in the collars of ties.
pub(super) fn collars(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TieCollar, unit: "MPa", clause: socket::PRESSURE };
    let of = |Held { design, forces: [_, shear, moment], .. }: Held| Socket {
        tube: m.params.legs.tube.outside,
        engaged: design.height - 2.0 * design.chamfer,
        wall: wall(design),
        shear,
        moment,
    };
    pressure(m, f, &rule, |t: &Trial| held(t).map(|tie| (Subject::Ties(tie.leg), of(tie))).collect())
}

/// Bolts of ties: what they carry along the tubes.
pub(super) fn bolts(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TieBolt, unit: "N", clause: socket::CROSS_BOLT };
    let plastic = |t: &Trial, wall: f64, bolt: f64| {
        let bearing = allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(wall));
        socket::bolt_bearing(bolt, wall, bearing.stress)
    };
    let tube = |t: &Trial, bolt: f64| {
        let tube = &t.model.params.legs.tube;
        socket::bolt_bearing(bolt, tube.wall, tube.metal.yield_strength / SAFETY)
    };
    let judge = |t: &Trial| {
        let outcome = |Held { leg, design, forces: [demand, ..] }: Held| {
            let bolt = design.bolts.first()?.size;
            let (plastic, tube) = (plastic(t, wall(design), bolt), tube(t, bolt));
            Some(Outcome { subject: Subject::Ties(leg), demand, capacity: plastic.min(tube), from: [plastic, tube] })
        };
        held(t).filter_map(outcome).collect()
    };
    let explain = |_: &Trial, o: &Outcome<[f64; 2]>| {
        let [plastic, tube] = o.from;
        (vec![Fact::TieBolt { force: o.demand, plastic, tube }.into()], vec![socket::CROSS_BOLT])
    };
    over_cases(m, f, &rule, judge, explain)
}

//! The printed bracket: boss root and gusset toe across the layers, plate bending, heads in the plastic.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Step, Subject};
use crate::clauses::withdrawal;
use crate::clauses::working::equation;
use crate::mechanics::{Forces, joint};
use crate::model::{BracketDesign, Model};
use crate::params::Head;
use crate::source::{Clause, Source};

fn design<'a>(t: &Trial<'a>, leg: usize) -> &'a BracketDesign {
    &t.model.brackets[t.model.legs[leg].bracket.kind].design
}

/// A stress of the bracket against an allowable one.
struct Stress {
    rule: Rule,
    kind: Kind,
    /// Factor on the stress from the model.
    notch: f64,
    /// The printed section that bears it.
    section: fn(&BracketDesign) -> Section,
    sources: &'static [Clause],
}

impl Stress {
    fn checks(&self, m: &Model, f: &Forces, of: impl Fn(&Trial, usize) -> Option<f64>) -> Vec<Check> {
        let capacity =
            |t: &Trial, leg: usize| allowable(t.model, self.kind, t.case.lasts, t.when, (self.section)(design(t, leg)));
        let judge = |t: &Trial| {
            let legs = 0..t.model.legs.len();
            legs.filter_map(|i| {
                Some(Outcome {
                    subject: Subject::Bracket(i),
                    demand: self.notch * of(t, i)?,
                    capacity: capacity(t, i).stress,
                    from: i,
                })
            })
            .collect()
        };
        let explain = |t: &Trial, o: &Outcome<usize>| {
            let a = capacity(t, o.from);
            let name = "stress at the upper end of the band";
            let with = [("notch", self.notch, ""), (name, o.demand / self.notch, "MPa")];
            let formula = "stress = notch x stress at the upper end of the band";
            let mut working: Vec<Step> = vec![equation(formula, with, o.demand, "MPa").into()];
            working.extend(a.working());
            (working, self.sources.iter().copied().chain(a.sources()).collect())
        };
        over_cases(m, f, &self.rule, judge, explain)
    }
}

/// Boss torn from its plate across the layers.
pub(super) fn boss_root(m: &Model, f: &Forces) -> Vec<Check> {
    let stress = Stress {
        rule: Rule { id: CheckId::BossRoot, unit: "MPa", clause: joint::BOSS_ROOT },
        kind: Kind::AcrossLayers,
        notch: joint::ROOT_NOTCH,
        section: |d| Section::Round(d.sockets[0].outer),
        sources: &[joint::BOSS_ROOT, joint::NOTCH],
    };
    stress.checks(m, f, |t, i| t.forces.bracket_demands[i].as_ref().map(|b| b.boss_root.upper))
}

/// Whether brackets have webs.
pub(super) fn has_gussets(m: &Model, _: &Forces) -> bool {
    m.brackets.iter().any(|b| !b.design.gussets.is_empty())
}

/// Toe of a gusset torn from the plate across the layers.
pub(super) fn gusset_toe(m: &Model, f: &Forces) -> Vec<Check> {
    let stress = Stress {
        rule: Rule { id: CheckId::GussetToe, unit: "MPa", clause: joint::GUSSET_TOE },
        kind: Kind::AcrossLayers,
        notch: 1.0,
        section: |d| Section::Wall(d.gussets.first().map_or(1.0, |g| g.thickness)),
        sources: &[joint::GUSSET_TOE],
    };
    stress.checks(m, f, |t, i| t.forces.bracket_demands[i].as_ref().and_then(|b| b.gusset_toe.map(|d| d.upper)))
}

/// Bending of the plate within its layers, at the boss and at the screws.
pub(super) fn plate_bending(m: &Model, f: &Forces) -> Vec<Check> {
    let stress = Stress {
        rule: Rule { id: CheckId::PlateBending, unit: "MPa", clause: joint::PLATE_STRESS },
        kind: Kind::InLayers,
        notch: 1.0,
        section: |d| Section::Bent(d.plate),
        sources: &[joint::PLATE_STRESS],
    };
    stress.checks(m, f, |t, i| t.forces.bracket_demands[i].as_ref().map(|b| b.plate.upper))
}

/// Diameter of the screws' heads, mm.
fn head_diameter(m: &Model) -> f64 {
    let s = &m.params.bracket.screws;
    match s.head {
        Head::Pan => s.screw.pan.diameter,
        Head::Washer => s.screw.washer.diameter,
        Head::Countersunk => s.screw.countersunk.diameter,
    }
}

/// Plastic that is sheared round a head, mm: from its seat to the wood, less the relief where that is wider than the
/// head; under a cone, whose seat slopes, half of the cone.
fn sheared(d: &BracketDesign, head: f64) -> f64 {
    let relief = if d.hole.relief_diameter >= head { d.hole.relief } else { 0.0 };
    let cone = if d.hole.cone { d.hole.sink / 2.0 } else { 0.0 };
    (d.hole.grip(d.plate) - relief - cone).max(LEAST_UNDER_HEAD)
}

/// Never counted below this, mm: two layers.
const LEAST_UNDER_HEAD: f64 = 0.4;

/// The ring that a head presses on.
fn round_hole(d: &BracketDesign, head: f64) -> Section {
    Section::Ring((head - d.hole.clear) / 2.0)
}

/// Head pulled through the plastic under it: cylinder of plastic sheared round the head.
pub(super) fn head_pull_through(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::HeadPullThrough, unit: "N", clause: withdrawal::PLASTIC_CONE };
    let head = head_diameter(m);
    let under = |d: &BracketDesign| sheared(d, head);
    let capacity = |t: &Trial, leg: usize| {
        let d = design(t, leg);
        let a = allowable(t.model, Kind::Shear, t.case.lasts, t.when, round_hole(d, head));
        (withdrawal::head_through_plastic(head, under(d), a.stress), a)
    };
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        legs.filter_map(|i| {
            let borne = t.forces.bracket_demands[i].as_ref()?;
            Some(Outcome {
                subject: Subject::Bracket(i),
                demand: borne.worst_screw.upper,
                capacity: capacity(t, i).0,
                from: i,
            })
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<usize>| {
        let (d, a) = (design(t, o.from), capacity(t, o.from).1);
        let with = [("d_head", head, "mm"), ("t", under(d), "mm"), ("tau", a.stress, "MPa")];
        let mut working = a.working();
        working.push(equation("F = pi d_head t tau", with, o.capacity, "N").into());
        (working, a.sources())
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Area between a head's rim and its hole, mm2.
fn ring_area(head: f64, hole: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * (head * head - hole * hole)
}

/// Where the pressure comes from.
const HEAD_PRESSURE: Clause = Source::STATICS.at("pull over the ring between the head's rim and its hole");

/// Pressure of the heads on the plastic.
pub(super) fn head_bearing(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::HeadPressure, unit: "MPa", clause: HEAD_PRESSURE };
    let head = head_diameter(m);
    let pressure = |t: &Trial, leg: usize| {
        let (d, pull) = (design(t, leg), t.forces.bracket_demands[leg].as_ref().map_or(0.0, |b| b.worst_screw.upper));
        withdrawal::head_bearing(pull, head, d.hole.clear)
    };
    let capacity = |t: &Trial, leg: usize| {
        allowable(t.model, Kind::Bearing, t.case.lasts, t.when, round_hole(design(t, leg), head))
    };
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        legs.map(|i| Outcome {
            subject: Subject::Bracket(i),
            demand: pressure(t, i),
            capacity: capacity(t, i).stress,
            from: i,
        })
        .collect()
    };
    let explain = |t: &Trial, o: &Outcome<usize>| {
        let (d, a) = (design(t, o.from), capacity(t, o.from));
        let force = o.demand * ring_area(head, d.hole.clear);
        let with = [("F", force, "N"), ("d_head", head, "mm"), ("d_hole", d.hole.clear, "mm")];
        let pressure = equation("p = F / (pi/4 (d_head^2 - d_hole^2))", with, o.demand, "MPa");
        let mut working: Vec<Step> = vec![pressure.into()];
        working.extend(a.working());
        (working, a.sources())
    };
    over_cases(m, f, &rule, judge, explain)
}

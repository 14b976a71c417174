//! Legs: tube stress and buckling, the frame's critical load, sockets, pull-out, cross bolts.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Fact, FrameFact, Note, Step, Subject, Under, When, utilisation_step};
use crate::clauses::buckling::{self, Column, SectionForces};
use crate::clauses::socket::{self, Socket};
use crate::clauses::working::equation;
use crate::mechanics::{Estimate, Forces, TubeForces};
use crate::model::{Leg, Model};
use crate::params::Tube;
use crate::source::{Clause, Source};

/// Safety on yield of tubes under unfactored loads (judgement: the usual 1.5 of furniture and working stress design).
pub(super) const SAFETY: f64 = 1.5;
/// Least factor on the lasting loads at which the frame may buckle.
const CRITICAL: f64 = 3.0;
/// Why.
const CRITICAL_CLAUSE: Clause =
    Source::from_memory("EN 1993-1-1", "2005").at("5.2.2 (5): below 3 a second-order analysis of its own is required");
const BOLT: Clause = socket::CROSS_BOLT;
/// Why tubes may slide so far and no farther.
const SLIP: Clause =
    Source::JUDGEMENT.at("what a hard push may shift a table before its bolts bear; set it in limits.slip");

/// A tube of a leg or a rail with its forces.
struct Loaded<'a> {
    subject: Subject,
    tube: &'a Tube,
    forces: &'a TubeForces,
}

/// All tubes of legs and rails.
fn tubes<'a>(t: &Trial<'a>) -> Vec<Loaded<'a>> {
    let mut all = Vec::new();
    for (leg, forces) in t.forces.tubes.iter().enumerate() {
        let subject = |tube: usize| if forces.len() == 1 { Subject::Leg(leg) } else { Subject::Tube { leg, tube } };
        let loaded = |(k, f): (usize, &'a TubeForces)| Loaded {
            subject: subject(k),
            tube: &t.model.params.legs.tube,
            forces: f,
        };
        all.extend(forces.iter().enumerate().map(loaded));
    }
    let rails = t.model.rails.iter().zip(&t.forces.rails);
    all.extend(rails.map(|(r, f)| Loaded {
        subject: Subject::Rail { run: r.run, legs: r.legs },
        tube: &r.tube,
        forces: f,
    }));
    all
}

/// What the stress of a tube is worked out from.
struct Stressed {
    /// The axial force is the larger of compression and tension.
    forces: SectionForces,
    /// Area, mm2, and section modulus, mm3.
    section: [f64; 2],
    /// MPa.
    yield_strength: f64,
    source: Clause,
    /// Direct stress and shear stress, MPa.
    parts: [f64; 2],
}

/// Elastic stress of every tube: axial, bending, shear, torsion together.
pub(super) fn stress(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubeStress, unit: "MPa", clause: buckling::ELASTIC };
    let of = |Loaded { subject, tube, forces: f }: Loaded| {
        let axial = f.axial.abs().max(f.tension);
        let forces = SectionForces { axial, moment: f.moment, shear: f.shear, torsion: f.torque };
        let (direct, shear, demand) = buckling::tube_stress(tube.outside, tube.wall, &forces);
        let from = Stressed {
            forces,
            section: buckling::tube_section(tube.outside, tube.wall),
            yield_strength: tube.metal.yield_strength,
            source: tube.metal.source,
            parts: [direct, shear],
        };
        Outcome { subject, demand, capacity: tube.metal.yield_strength / SAFETY, from }
    };
    let judge = |t: &Trial| tubes(t).into_iter().map(of).collect();
    let explain = |_: &Trial, o: &Outcome<Stressed>| {
        let Stressed { forces: f, section: [area, modulus], parts: [direct, shear], .. } = o.from;
        let (a, w) = (("A", area, "mm2"), ("W", modulus, "mm3"));
        let [axial, moment] = [("N", f.axial, "N"), ("M", f.moment.abs(), "N mm")];
        let [across, torque] = [("V", f.shear.abs(), "N"), ("T", f.torsion.abs(), "N mm")];
        let both = [("sigma", direct, "MPa"), ("tau", shear, "MPa")];
        let strength = [("f_y", o.from.yield_strength, "MPa"), ("safety", SAFETY, "")];
        let working = vec![
            equation("sigma = N/A + M/W", [axial, a, moment, w], direct, "MPa").into(),
            equation("tau = pi V/(2 A) + T/(2 W)", [across, a, torque, w], shear, "MPa").into(),
            equation("sigma_v = sqrt(sigma^2 + 3 tau^2)", both, o.demand, "MPa").into(),
            equation("allowable = f_y / safety", strength, o.capacity, "MPa").into(),
        ];
        (working, vec![buckling::ELASTIC, o.from.source])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Longest free stretch of a leg's tubes, mm.
fn free_length(leg: &Leg) -> f64 {
    let mut heights: Vec<f64> = leg.ties.iter().map(|t| t.height).collect();
    heights.extend([leg.tubes[0][0].z, leg.tubes[0][1].z]);
    heights.sort_by(f64::total_cmp);
    heights.windows(2).map(|w| (w[1] - w[0]) / -leg.frame.down.z).fold(0.0, f64::max)
}

fn column(m: &Model, leg: &Leg) -> Column {
    let tube = &m.params.legs.tube;
    let (d, i) = (tube.outside, tube.outside - 2.0 * tube.wall);
    use std::f64::consts::PI;
    Column {
        area: PI / 4.0 * (d * d - i * i),
        second_moment: PI / 64.0 * (d.powi(4) - i.powi(4)),
        yield_strength: tube.metal.yield_strength,
        modulus: tube.metal.e,
        length: free_length(leg),
        imperfection: buckling::COLD_FORMED,
    }
}

/// A single tube between the parts that hold it: compression and bending together.
pub(super) fn buckling(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubeBuckling, unit: "-", clause: buckling::INTERACTION };
    let columns: Vec<Column> = m.legs.iter().map(|leg| column(m, leg)).collect();
    let [_, modulus] = buckling::tube_section(m.params.legs.tube.outside, m.params.legs.tube.wall);
    let judge = |t: &Trial| {
        let of = |(leg, tube, f): (usize, usize, &TubeForces)| {
            let (compression, moment) = ((-f.axial).max(0.0), f.moment);
            let demand = columns[leg].utilisation(SAFETY * compression, SAFETY * moment, modulus);
            let from = (leg, [compression, moment]);
            Outcome { subject: Subject::Tube { leg, tube }, demand, capacity: 1.0, from }
        };
        let legs = t.forces.tubes.iter().enumerate();
        legs.flat_map(|(k, leg)| leg.iter().enumerate().map(move |(i, f)| (k, i, f))).map(of).collect()
    };
    let explain = |_: &Trial, o: &Outcome<(usize, [f64; 2])>| {
        let (leg, [compression, moment]) = o.from;
        let column = columns[leg];
        let with = [
            ("s", SAFETY, ""),
            ("N", compression, "N"),
            ("N_b", column.resistance(), "N"),
            ("M", moment, "N mm"),
            ("W", modulus, "mm3"),
            ("f_y", column.yield_strength, "MPa"),
            ("N_cr", column.critical(), "N"),
        ];
        let mut working: Vec<Step> = column.working().into_iter().map(Step::from).collect();
        working.push(equation("interaction = s N/N_b + s M/(W f_y (1 - s N/N_cr))", with, o.demand, "").into());
        (working, vec![buckling::INTERACTION, buckling::FLEXURAL])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Lowest factor on permanent loads at which the whole frame buckles, joints soft; after years with creep moduli.
pub(super) fn critical_load(_: &Model, f: &Forces) -> Vec<Check> {
    let lowest = f.solutions.iter().filter_map(|s| s.critical_factor).reduce(f64::min);
    let both = [(When::Now, lowest), (When::AfterLife, f.critical_after_life)];
    both.into_iter()
        .map(|(when, factor)| {
            let factor = factor.unwrap_or(crate::mechanics::NEVER);
            Check {
                id: CheckId::CriticalLoad,
                subject: Subject::Table,
                case: Under::LastingWith { joints: Estimate::Soft },
                when,
                demand: CRITICAL,
                capacity: factor,
                unit: "x load",
                clause: CRITICAL_CLAUSE,
                working: vec![FrameFact::CriticalFactor(factor).into(), utilisation_step(CRITICAL, factor, "")],
                sources: vec![CRITICAL_CLAUSE, crate::mechanics::joint::STIFFNESS],
            }
        })
        .collect()
}

/// Which end of a tube: in the bracket or in the foot.
#[derive(Clone, Copy, PartialEq)]
enum End {
    Upper,
    Lower,
}

/// One end of every tube of the legs: leg, where it sits, and (axial, shear, moment) at the mouth.
fn ends(t: &Trial, end: End) -> Vec<(usize, Subject, [f64; 3])> {
    let mut all = Vec::new();
    for (leg, tubes) in t.forces.tubes.iter().enumerate() {
        for (socket, f) in tubes.iter().enumerate() {
            all.push(match end {
                End::Upper => (leg, Subject::BracketSocket { leg, socket }, f.upper),
                End::Lower => (leg, Subject::FootSocket { leg, socket }, f.lower),
            });
        }
    }
    all
}

/// Pressure of the tube on the bracket's socket.
pub(super) fn socket_bearing(m: &Model, f: &Forces) -> Vec<Check> {
    bearing(m, f, CheckId::BracketSocket, End::Upper)
}

/// Pressure of the tube on the foot's socket.
pub(super) fn foot_bearing(m: &Model, f: &Forces) -> Vec<Check> {
    bearing(m, f, CheckId::FootSocket, End::Lower)
}

fn bearing(m: &Model, f: &Forces, id: CheckId, end: End) -> Vec<Check> {
    let rule = Rule { id, unit: "MPa", clause: socket::PRESSURE };
    pressure(m, f, &rule, |t| sockets(t, end))
}

/// One end of every tube of the legs in its own socket, and where that is.
fn sockets(t: &Trial, end: End) -> Vec<(Subject, Socket)> {
    let m = t.model;
    let own = |leg: &Leg| match end {
        End::Upper => &m.brackets[leg.bracket.kind].design.sockets[0],
        End::Lower => &m.feet[leg.foot.kind].design.sockets[0],
    };
    let of = |(leg, subject, [_, shear, moment]): (usize, Subject, [f64; 3])| {
        let own = own(&m.legs[leg]);
        let (tube, engaged) = (m.params.legs.tube.outside, own.depth - own.chamfer);
        (subject, Socket { tube, engaged, wall: own.wall(), shear, moment })
    };
    ends(t, end).into_iter().map(of).collect()
}

/// Sockets with what each must bear against what plastic of its wall bears, which is worked out once for neighbours of one wall.
fn outcomes(
    all: Vec<(Subject, Socket)>,
    demand: fn(&Socket) -> f64,
    capacity: impl Fn(f64) -> f64,
) -> Vec<Outcome<Socket>> {
    let mut last = [f64::NAN; 2];
    let mut bears = |wall: f64| {
        if last[0] != wall {
            last = [wall, capacity(wall)];
        }
        last[1]
    };
    let outcome =
        |(subject, s): (Subject, Socket)| Outcome { subject, demand: demand(&s), capacity: bears(s.wall), from: s };
    all.into_iter().map(outcome).collect()
}

/// Peak pressure of tubes on walls of plastic: `each` gives the ends of tubes in their sockets.
pub(super) fn pressure(
    m: &Model,
    f: &Forces,
    rule: &Rule,
    each: impl Fn(&Trial) -> Vec<(Subject, Socket)>,
) -> Vec<Check> {
    let capacity = |t: &Trial, wall| allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(wall));
    let judge = |t: &Trial| outcomes(each(t), Socket::peak_pressure, |wall| capacity(t, wall).stress);
    let explain = |t: &Trial, o: &Outcome<Socket>| {
        let a = capacity(t, o.from.wall);
        let mut working: Vec<Step> = o.from.working().map(Step::from).to_vec();
        working.extend(a.working());
        (working, [socket::PRESSURE, socket::ARC].into_iter().chain(a.sources()).collect())
    };
    over_cases(m, f, rule, judge, explain)
}

/// Socket wall split by the pressure of the tube: hoop tension within the layers.
pub(super) fn socket_splitting(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::SocketSplit, unit: "MPa", clause: socket::SPLIT };
    let capacity = |t: &Trial, wall| allowable(t.model, Kind::InLayers, t.case.lasts, t.when, Section::Wall(wall));
    let judge = |t: &Trial| outcomes(sockets(t, End::Upper), Socket::hoop, |wall| capacity(t, wall).stress);
    let explain = |t: &Trial, o: &Outcome<Socket>| {
        let (s, a) = (&o.from, capacity(t, o.from.wall));
        let [middle, mean, _] = s.working();
        let with = [("p", s.pressure(), "MPa"), ("d", s.tube, "mm"), ("wall", s.wall, "mm")];
        let mut working =
            vec![middle.into(), mean.into(), equation("sigma = p d / (2 wall)", with, o.demand, "MPa").into()];
        working.extend(a.working());
        (working, a.sources())
    };
    over_cases(m, f, &rule, judge, explain)
}

/// What a socket with neither bolt nor bond counts for, N (judgement: about nothing; ribs hold by friction, which relaxes,
/// and no joint may rely on it alone).
const UNHELD: f64 = 1.0;

/// What keeps a tube from being pulled out of a leg's socket: the stronger of bolt and bond, N, and which.
fn pull_capacity(t: &Trial, leg: usize) -> (f64, Fact, Clause) {
    let p = &t.model.params;
    let own = &t.model.brackets[t.model.legs[leg].bracket.kind].design.sockets[0];
    let mut best = (UNHELD, Fact::Unheld, socket::RIBS);
    if let Some(bolt) = &own.bolt {
        let bearing = allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(own.wall()));
        let plastic = socket::bolt_bearing(bolt.size, own.wall(), bearing.stress);
        let tube = socket::bolt_bearing(bolt.size, p.legs.tube.wall, p.legs.tube.metal.yield_strength / SAFETY);
        let shear = allowable(t.model, Kind::Shear, t.case.lasts, t.when, Section::Wall(own.wall()));
        let tear = socket::bolt_tear_out(own.height() - bolt.at - bolt.size / 2.0, own.wall(), shear.stress);
        let held = Fact::CrossBolt { size: bolt.size, plastic, tube, tear_out: tear };
        best = (plastic.min(tube).min(tear), held, BOLT);
    }
    if p.bracket.hold.bonded {
        let (tube, pull) = (p.legs.tube.outside, socket::bond_pull(p.legs.tube.outside, own.depth));
        if pull > best.0 {
            best = (pull, Fact::EpoxyBond { area: socket::bond_area(tube, own.depth), pull }, socket::BOND);
        }
    }
    best
}

/// Tube pulled out of the bracket. Own weight of a lifted table hangs its legs on this too.
pub(super) fn pull_out(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubePulledOut, unit: "N", clause: socket::CROSS_BOLT };
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        let capacities: Vec<f64> = legs.map(|leg| pull_capacity(t, leg).0).collect();
        ends(t, End::Upper)
            .into_iter()
            .map(|(leg, subject, e)| Outcome {
                subject,
                demand: e[0].max(leg_weight(m, &m.legs[leg])),
                capacity: capacities[leg],
                from: leg,
            })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome<usize>| {
        let (_, held, source) = pull_capacity(t, o.from);
        (vec![Fact::Tension(o.demand).into(), held.into()], vec![source])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Weight of a leg's tubes shared by its sockets, N, doubled for a jolt (judgement).
fn leg_weight(m: &Model, leg: &Leg) -> f64 {
    2.0 * leg.tube_length * m.params.legs.tube.mass_per_mm() * crate::units::GRAVITY
}

/// How far the tubes of a bundle slide in their bores before the cross bolts bear, and the top with them: the leg turns about
/// the middle of its bundle until the bolt that is farthest out bears. Lengths in mm.
struct Slip {
    /// Hole of the cross bolts, and the bolts.
    hole: f64,
    bolt: f64,
    /// Of a tube, each way.
    slack: f64,
    /// From the bundle's middle to the tube farthest out.
    out: f64,
    /// Of the tubes.
    length: f64,
    /// Of the top, each way.
    top: f64,
}

impl Slip {
    /// None where nothing slides: one tube, or glued ones, or no bolt to bear.
    fn of(m: &Model, leg: &Leg) -> Option<Self> {
        let sockets = &m.brackets[leg.bracket.kind].design.sockets;
        let bolt = sockets[0].bolt.as_ref().filter(|_| sockets.len() > 1 && !m.params.bracket.hold.bonded)?;
        let slack = (bolt.hole - bolt.size) / 2.0;
        let middle = [0, 1].map(|k| sockets.iter().map(|s| s.base[k]).sum::<f64>() / sockets.len() as f64);
        let out = sockets.iter().map(|s| (s.base[0] - middle[0]).hypot(s.base[1] - middle[1])).fold(0.0, f64::max);
        let length = leg.tube_length;
        Some(Self { hole: bolt.hole, bolt: bolt.size, slack, out, length, top: slack * length / out })
    }

    /// Of the leg that lets the top move most, with its index.
    fn most(m: &Model) -> Option<(usize, Self)> {
        let all = m.legs.iter().enumerate().filter_map(|(i, leg)| Some((i, Self::of(m, leg)?)));
        all.max_by(|a, b| a.1.top.total_cmp(&b.1.top))
    }
}

/// What is told of tubes that may slide.
pub(super) fn most_slip(m: &Model) -> Option<Note> {
    let (_, Slip { slack, top, .. }) = Slip::most(m)?;
    Some(Note::Slip { ribs: m.params.bracket.hold.ribs, slack, top })
}

/// Whether tubes may slide.
pub(super) fn may_slide(m: &Model, _: &Forces) -> bool {
    Slip::most(m).is_some()
}

/// Travel of the top while tubes slide in their bores, until the cross bolts bear.
pub(super) fn sliding(m: &Model, _: &Forces) -> Vec<Check> {
    let Some((leg, slip)) = Slip::most(m) else { return Vec::new() };
    let Slip { hole, bolt, slack, out, length, top } = slip;
    vec![Check {
        id: CheckId::TubesSlide,
        subject: Subject::Leg(leg),
        case: if m.params.bracket.hold.ribs { Under::RibsSlip } else { Under::Unloaded },
        when: When::Now,
        demand: top,
        capacity: m.params.limits.slip,
        unit: "mm",
        clause: SLIP,
        working: vec![
            equation("s = (d_h - d) / 2", [("d_h", hole, "mm"), ("d", bolt, "mm")], slack, "mm").into(),
            equation("u = s L / r", [("s", slack, "mm"), ("L", length, "mm"), ("r", out, "mm")], top, "mm").into(),
            utilisation_step(top, m.params.limits.slip, "mm"),
        ],
        sources: vec![SLIP],
    }]
}

/// Free travel of the top from play in the sockets.
pub(super) fn play(m: &Model, f: &Forces) -> Vec<Check> {
    let demand = f.play[0].max(f.play[1]);
    let clearance = m.params.printing.clearance;
    let capacity = m.params.limits.play;
    let found = if demand == 0.0 { Fact::NoPlay } else { Fact::Play { clearance, travel: demand } };
    vec![Check {
        id: CheckId::Play,
        subject: Subject::Table,
        case: Under::Unloaded,
        when: When::Now,
        demand,
        capacity,
        unit: "mm",
        clause: Source::JUDGEMENT.at("what people call wobble; set it in limits.play"),
        working: vec![found.into(), utilisation_step(demand, capacity, "mm")],
        sources: vec![socket::PLAY],
    }]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a hole of 4.5 mm for M4 lets a tube slide 0.25 mm each way; tubes stand on a circle of 33 mm radius.
    #[test]
    fn tubes_of_a_bundle_that_may_slide_are_told() {
        let table = |legs: &str, hold: &str| {
            let text = format!(
                r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                    "legs": {{"tube": "16 x 1.5 mm", {legs}}}, "bracket": {{"hold": {hold}}},
                    "loads": [{{"mass": "20 kg"}}]}}"#
            );
            Model::new(&crate::params::read(&text).expect("read")).expect("a model")
        };
        let bundle = r#""tubes": 3, "pitch_circle": "66 mm""#;
        let m = table(bundle, r#"["ribs", "cross bolt M4"]"#);
        let (_, Slip { slack, top, .. }) = Slip::most(&m).expect("slides");
        assert!((slack - 0.25).abs() < 1e-9, "{slack}");
        assert!((top - 0.25 / 33.0 * m.legs[0].tube_length).abs() < 1e-6, "{top}");
        assert_eq!(most_slip(&m), Some(Note::Slip { ribs: true, slack, top }));
        assert_eq!(most_slip(&table(bundle, r#""bonded""#)), None);
        assert_eq!(most_slip(&table(r#""tubes": 1"#, r#"["ribs", "cross bolt M4"]"#)), None);
        let wide = table(r#""tubes": 3, "pitch_circle": "100 mm""#, r#""cross bolt M4""#);
        let travel = |m: &Model| Slip::most(m).map_or(0.0, |(_, slip)| slip.top);
        assert!((travel(&m) / travel(&wide) - 100.0 / 66.0).abs() < 0.01, "a wide bundle turns less");
    }
}

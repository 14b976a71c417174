//! Legs: tube stress and buckling, the frame's critical load, sockets, pull-out, cross bolts.

use super::govern::{Outcome, Rule, Trial, over_cases};
use super::plastic::{Kind, Section, allowable};
use super::{Check, CheckId, Note, Subject, Under, When, utilisation_step};
use crate::clauses::buckling::{self, Column, SectionForces};
use crate::clauses::socket::{self, Socket};
use crate::clauses::working::{figures, step};
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

/// A tube of a leg or a rail with its forces.
struct Loaded<'a> {
    subject: Subject,
    tube: &'a Tube,
    forces: TubeForces,
}

/// All tubes of legs and rails.
fn tubes<'a>(t: &Trial<'a>) -> Vec<Loaded<'a>> {
    let mut all = Vec::new();
    for (leg, forces) in t.forces.tubes.iter().enumerate() {
        let subject = |tube: usize| if forces.len() == 1 { Subject::Leg(leg) } else { Subject::Tube { leg, tube } };
        let loaded =
            |(k, f): (usize, &TubeForces)| Loaded { subject: subject(k), tube: &t.model.params.legs.tube, forces: *f };
        all.extend(forces.iter().enumerate().map(loaded));
    }
    let rails = t.model.rails.iter().zip(&t.forces.rails);
    all.extend(rails.map(|(r, f)| Loaded {
        subject: Subject::Rail { run: r.run, legs: r.legs },
        tube: &r.tube,
        forces: *f,
    }));
    all
}

/// What the stress of a tube is worked out from.
struct Stressed {
    forces: TubeForces,
    /// MPa.
    yield_strength: f64,
    source: Clause,
    /// Direct stress and shear stress, MPa.
    parts: [f64; 2],
}

/// Elastic stress of every tube: axial, bending, shear, torsion together.
pub(super) fn stress(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubeStress, unit: "MPa", clause: buckling::ELASTIC };
    let of = |tube: &Tube, f: &TubeForces| {
        let axial = f.axial.abs().max(f.tension);
        buckling::tube_stress(
            tube.outside,
            tube.wall,
            &SectionForces { axial, moment: f.moment, shear: f.shear, torsion: f.torque },
        )
    };
    let judge = |t: &Trial| {
        tubes(t)
            .into_iter()
            .map(|Loaded { subject, tube, forces }| {
                let (direct, shear, demand) = of(tube, &forces);
                let (yield_strength, source) = (tube.metal.yield_strength, tube.metal.source);
                let from = Stressed { forces, yield_strength, source, parts: [direct, shear] };
                Outcome { subject, demand, capacity: yield_strength / SAFETY, from }
            })
            .collect()
    };
    let explain = |_: &Trial, o: &Outcome<Stressed>| {
        let Stressed { forces: f, yield_strength, source, parts: [direct, shear] } = &o.from;
        let (direct, shear) = (*direct, *shear);
        let steps = vec![
            step(
                "sigma = N/A + M/W",
                &format!("N {} N, M {} N mm", figures(f.axial), figures(f.moment)),
                direct,
                "MPa",
            ),
            step(
                "sigma_v = sqrt(sigma^2 + 3 tau^2)",
                &format!("sqrt({}^2 + 3 x {}^2)", figures(direct), figures(shear)),
                o.demand,
                "MPa",
            ),
            step("allowable = f_y / safety", &format!("{} / {SAFETY}", figures(*yield_strength)), o.capacity, "MPa"),
        ];
        (steps, vec![buckling::ELASTIC, *source])
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Longest free stretch of a leg's tube, mm.
fn free_length(m: &Model) -> f64 {
    let mut longest: f64 = 0.0;
    for leg in &m.legs {
        let mut heights: Vec<f64> = leg.ties.iter().map(|t| t.height).collect();
        heights.extend([leg.tubes[0][0].z, leg.tubes[0][1].z]);
        heights.sort_by(f64::total_cmp);
        longest = heights.windows(2).map(|w| (w[1] - w[0]) / -leg.frame.down.z).fold(longest, f64::max);
    }
    longest
}

fn column(m: &Model) -> Column {
    let tube = &m.params.legs.tube;
    let (d, i) = (tube.outside, tube.outside - 2.0 * tube.wall);
    use std::f64::consts::PI;
    Column {
        area: PI / 4.0 * (d * d - i * i),
        second_moment: PI / 64.0 * (d.powi(4) - i.powi(4)),
        yield_strength: tube.metal.yield_strength,
        modulus: tube.metal.e,
        length: free_length(m),
        imperfection: buckling::COLD_FORMED,
    }
}

/// A single tube between the parts that hold it: compression and bending together.
pub(super) fn buckling(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubeBuckling, unit: "-", clause: buckling::INTERACTION };
    let column = column(m);
    let modulus = 2.0 * column.second_moment / m.params.legs.tube.outside;
    let judge = |t: &Trial| {
        let of = |(k, i, f): (usize, usize, &TubeForces)| Outcome {
            subject: Subject::Tube { leg: k, tube: i },
            demand: column.utilisation(SAFETY * (-f.axial).max(0.0), SAFETY * f.moment, modulus),
            capacity: 1.0,
            from: (),
        };
        t.forces
            .tubes
            .iter()
            .enumerate()
            .flat_map(|(k, leg)| leg.iter().enumerate().map(move |(i, f)| (k, i, f)))
            .map(of)
            .collect()
    };
    let explain = |_: &Trial, o: &Outcome<()>| {
        let mut steps = column.steps();
        steps.push(step(
            "N/N_b + M/(W f_y (1 - N/N_cr)), N and M times the safety",
            &format!("{SAFETY}, L = {} mm", figures(column.length)),
            o.demand,
            "",
        ));
        (steps, vec![buckling::INTERACTION, buckling::FLEXURAL])
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
                steps: vec![
                    format!("lowest eigenvalue of K + lambda K_g over the whole frame = {}", figures(factor)),
                    utilisation_step(CRITICAL, factor, ""),
                ],
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
    // Depths and walls are the file's, the same in every bracket and in every foot.
    let own = match end {
        End::Upper => &m.brackets[0].design.sockets[0],
        End::Lower => &m.feet[0].design.sockets[0],
    };
    let of = |e: &[f64; 3]| Socket {
        tube: m.params.legs.tube.outside,
        engaged: own.depth - own.chamfer,
        wall: own.wall(),
        shear: e[1],
        moment: e[2],
    };
    pressure(m, f, &rule, own.wall(), of, |t| ends(t, end).into_iter().map(|(_, at, e)| (at, e)).collect())
}

/// Peak pressure of tubes on walls of plastic: `of` makes a socket of what acts at a tube's end, `each` gives that with its place.
pub(super) fn pressure(
    m: &Model,
    f: &Forces,
    rule: &Rule,
    wall: f64,
    of: impl Fn(&[f64; 3]) -> Socket,
    each: impl Fn(&Trial) -> Vec<(Subject, [f64; 3])>,
) -> Vec<Check> {
    let capacity = |t: &Trial| allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(wall));
    let judge = |t: &Trial| {
        let capacity = capacity(t).stress;
        let outcome = |(subject, e)| Outcome { subject, demand: of(&e).peak_pressure(), capacity, from: e };
        each(t).into_iter().map(outcome).collect()
    };
    let explain = |t: &Trial, o: &Outcome<[f64; 3]>| {
        let (a, mut steps) = (capacity(t), of(&o.from).steps());
        steps.extend(a.steps());
        (steps, [socket::PRESSURE, socket::ARC].into_iter().chain(a.sources()).collect())
    };
    over_cases(m, f, rule, judge, explain)
}

/// Socket wall split by the pressure of the tube: hoop tension within the layers.
pub(super) fn socket_splitting(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::SocketSplit, unit: "MPa", clause: socket::SPLIT };
    let own = &m.brackets[0].design.sockets[0];
    let of = |e: &[f64; 3]| {
        Socket {
            tube: m.params.legs.tube.outside,
            engaged: own.depth - own.chamfer,
            wall: own.wall(),
            shear: e[1],
            moment: e[2],
        }
        .hoop()
    };
    let capacity = |t: &Trial| allowable(t.model, Kind::InLayers, t.case.lasts, t.when, Section::Wall(own.wall()));
    let judge = |t: &Trial| {
        let capacity = capacity(t).stress;
        ends(t, End::Upper)
            .into_iter()
            .map(|(_, subject, e)| Outcome { subject, demand: of(&e), capacity, from: () })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome<()>| {
        let a = capacity(t);
        let mut steps = vec![step(
            "sigma = p d / (2 wall)",
            &format!("d {}, wall {}", figures(m.params.legs.tube.outside), figures(own.wall())),
            o.demand,
            "MPa",
        )];
        steps.extend(a.steps());
        (steps, a.sources())
    };
    over_cases(m, f, &rule, judge, explain)
}

/// What a socket with neither bolt nor bond counts for, N (judgement: about nothing; ribs hold by friction, which relaxes,
/// and no joint may rely on it alone).
const UNHELD: f64 = 1.0;

/// What keeps a tube from being pulled out of a leg's socket: the stronger of bolt and bond, N, and which.
fn pull_capacity(t: &Trial, leg: usize) -> (f64, String, Vec<Clause>) {
    let p = &t.model.params;
    let own = &t.model.brackets[t.model.legs[leg].bracket.kind].design.sockets[0];
    let mut best = (UNHELD, "nothing but the weight and friction holds it".to_owned(), vec![socket::RIBS]);
    if let Some(bolt) = &own.bolt {
        let bearing = allowable(t.model, Kind::Bearing, t.case.lasts, t.when, Section::Wall(own.wall()));
        let plastic = socket::bolt_bearing(bolt.size, own.wall(), bearing.stress);
        let tube = socket::bolt_bearing(bolt.size, p.legs.tube.wall, p.legs.tube.metal.yield_strength / SAFETY);
        let shear = allowable(t.model, Kind::Shear, t.case.lasts, t.when, Section::Wall(own.wall()));
        let tear = socket::bolt_tear_out(own.height() - bolt.at - bolt.size / 2.0, own.wall(), shear.stress);
        let weakest = plastic.min(tube).min(tear);
        best = (
            weakest,
            format!(
                "cross bolt M{}: plastic {} N, tube {} N, tear-out {} N",
                bolt.size,
                figures(plastic),
                figures(tube),
                figures(tear)
            ),
            vec![BOLT],
        );
    }
    let mut better = |value: f64, words: String, clause: Clause| {
        if value > best.0 {
            best = (value, words, vec![clause]);
        }
    };
    if p.bracket.hold.bonded {
        let value = socket::bond_pull(p.legs.tube.outside, own.depth);
        better(
            value,
            format!(
                "epoxy bond on {} mm2 = {} N",
                figures(socket::bond_area(p.legs.tube.outside, own.depth)),
                figures(value)
            ),
            socket::BOND,
        );
    }
    best
}

/// Tube pulled out of the bracket. Own weight of a lifted table hangs its legs on this too.
pub(super) fn pull_out(m: &Model, f: &Forces) -> Vec<Check> {
    let rule = Rule { id: CheckId::TubePulledOut, unit: "N", clause: socket::CROSS_BOLT };
    let own_weight = leg_weight(m);
    let judge = |t: &Trial| {
        let legs = 0..t.model.legs.len();
        let capacities: Vec<f64> = legs.map(|leg| pull_capacity(t, leg).0).collect();
        ends(t, End::Upper)
            .into_iter()
            .map(|(leg, subject, e)| Outcome {
                subject,
                demand: e[0].max(own_weight),
                capacity: capacities[leg],
                from: leg,
            })
            .collect()
    };
    let explain = |t: &Trial, o: &Outcome<usize>| {
        let (_, words, sources) = pull_capacity(t, o.from);
        (
            vec![
                format!("tension in the tube, at least its share of a lifted leg's weight = {} N", figures(o.demand)),
                words,
            ],
            sources,
        )
    };
    over_cases(m, f, &rule, judge, explain)
}

/// Weight of a leg's tubes shared by its sockets, N, doubled for a jolt (judgement).
fn leg_weight(m: &Model) -> f64 {
    let c = column(m);
    2.0 * c.area * m.legs[0].tube_length * m.params.legs.tube.metal.density * 1e-9 * crate::units::GRAVITY
}

/// How far the tubes of a leg slide in their bores before the cross bolts bear, mm each way, and the top with them: the
/// leg turns about the middle of its bundle until the bolt that is farthest out bears. None where nothing slides: one tube, or
/// glued ones, or no bolt to bear.
fn slip(m: &Model, leg: &Leg) -> Option<[f64; 2]> {
    let sockets = &m.brackets[leg.bracket.kind].design.sockets;
    let bolt = sockets[0].bolt.as_ref().filter(|_| sockets.len() > 1 && !m.params.bracket.hold.bonded)?;
    let slack = (bolt.hole - bolt.size) / 2.0;
    let middle = [0, 1].map(|k| sockets.iter().map(|s| s.base[k]).sum::<f64>() / sockets.len() as f64);
    let out = sockets.iter().map(|s| (s.base[0] - middle[0]).hypot(s.base[1] - middle[1])).fold(0.0, f64::max);
    Some([slack, slack / out * leg.tube_length])
}

/// Of the leg that lets the top move most, where tubes may slide.
pub(super) fn most_slip(m: &Model) -> Option<Note> {
    let all = m.legs.iter().filter_map(|leg| slip(m, leg));
    let [slack, top] = all.max_by(|a, b| a[1].total_cmp(&b[1]))?;
    Some(Note::Slip { ribs: m.params.bracket.hold.ribs, slack, top })
}

/// Free travel of the top from play in the sockets.
pub(super) fn play(m: &Model, f: &Forces) -> Vec<Check> {
    let demand = f.play[0].max(f.play[1]);
    let clearance = m.params.printing.clearance;
    let capacity = m.params.limits.play;
    let words = if demand == 0.0 {
        "ribs or epoxy take the play out of the sockets".to_owned()
    } else {
        format!(
            "clearance {} mm over the engaged length, times the leg's length = {} mm",
            figures(clearance),
            figures(demand)
        )
    };
    vec![Check {
        id: CheckId::Play,
        subject: Subject::Table,
        case: Under::Unloaded,
        when: When::Now,
        demand,
        capacity,
        unit: "mm",
        clause: Source::JUDGEMENT.at("what people call wobble; set it in limits.play"),
        steps: vec![words, utilisation_step(demand, capacity, "mm")],
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
        let [slack, top] = slip(&m, &m.legs[0]).expect("slides");
        assert!((slack - 0.25).abs() < 1e-9, "{slack}");
        assert!((top - 0.25 / 33.0 * m.legs[0].tube_length).abs() < 1e-6, "{top}");
        assert_eq!(most_slip(&m), Some(Note::Slip { ribs: true, slack, top }));
        assert_eq!(most_slip(&table(bundle, r#""bonded""#)), None);
        assert_eq!(most_slip(&table(r#""tubes": 1"#, r#"["ribs", "cross bolt M4"]"#)), None);
    }
}

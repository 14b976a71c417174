//! Making: heat, wood movement, wood left above the tips, bed, walls, overhang, driver.

use nalgebra::Point3;

use super::{Check, CheckId, Fact, Step, Subject, Under, When, utilisation_step};
use crate::clauses::working::equation;
use crate::mechanics::{Forces, exceeds};
use crate::model::{self, DRIVER, HOLE_FIT, Model, Rail, distance_to_segment};
use crate::params::{Run, Sawn};
use crate::source::{Clause, Source};
use crate::tables::{filament, moisture};

/// Least wood above a screw's tip, mm (judgement: a tip nearer shows as a bump after sanding).
const ABOVE_TIP: f64 = 3.0;
/// Steepest overhang printed without support, degrees from the vertical.
const OVERHANG: f64 = 45.0;
/// Why.
const OVERHANG_CLAUSE: Clause = Source {
    title: "overhang of 45 degrees prints without support",
    edition: "",
    standing: crate::source::Standing::CommonPractice,
}
.at("");

struct Simple {
    id: CheckId,
    subject: Subject,
    case: Under,
    when: When,
    unit: &'static str,
    clause: Clause,
}

fn simple(s: Simple, demand: f64, capacity: f64, mut working: Vec<Step>, sources: Vec<Clause>) -> Check {
    let capacity = capacity.max(1e-6);
    working.push(utilisation_step(demand, capacity, s.unit));
    Check {
        id: s.id,
        subject: s.subject,
        case: s.case,
        when: s.when,
        demand,
        capacity,
        unit: s.unit,
        clause: s.clause,
        working,
        sources,
    }
}

/// Hottest air against the filament's service temperature, both above 0 C.
pub(super) fn heat(m: &Model, _: &Forces) -> Vec<Check> {
    let (warm, f) = (m.params.place.temperature[1], &m.params.printing.filament);
    let limit = f.service_temperature();
    let name = m.params.filament_name();
    let hot = || Under::TooHot { filament: name.to_owned(), limit, air: warm };
    let s = Simple {
        id: CheckId::Heat,
        subject: Subject::Printed,
        case: if warm > limit { hot() } else { Under::Hottest },
        when: When::AfterLife,
        unit: "C",
        clause: filament::SERVICE,
    };
    let found = Fact::ServiceLimit { filament: name.to_owned(), tg: f.tg, hdt: f.hdt_045, limit };
    vec![simple(s, warm.max(0.0), limit, vec![found.into()], vec![f.heat_source, filament::SERVICE])]
}

fn rate(m: &Model) -> (f64, f64) {
    let c = match m.params.top.sawn {
        Sawn::Flat => m.params.top.wood.c_tangential,
        Sawn::Quarter => m.params.top.wood.c_radial,
    };
    let [low, high] = model::moisture_range(&m.params);
    (c, high - low)
}

/// A screw that the wood moves against.
struct Moved {
    subject: Subject,
    /// From the middle of the screws that do not give, mm.
    distance: f64,
    /// Movement and room in the hole either way, mm.
    sides: [f64; 2],
}

/// Screws of a leg's bracket and how far the wood moves each from the middle of the range of moisture. The wood finds its place
/// between the outermost round holes, however many there are on either side.
fn moved(m: &Model, leg: usize) -> Vec<Moved> {
    let (c, range) = rate(m);
    let along_x = m.params.top.grain == Run::AlongLength;
    let bracket = &m.legs[leg].bracket;
    let screws = &m.brackets[bracket.kind].design.screws;
    let across = |[x, y]: [f64; 2]| {
        let at = bracket.pose * Point3::new(x, y, 0.0);
        if along_x { at.y } else { at.x }
    };
    let fixed: Vec<f64> = screws.iter().filter(|h| h.slot == 0.0).map(|h| across(h.at)).collect();
    let [low, high] = fixed.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[l, h], at| [at.min(l), at.max(h)]);
    let middle = if fixed.is_empty() { across([0.0; 2]) } else { f64::midpoint(low, high) };
    let of = |(screw, h): (usize, &model::ScrewHole)| {
        let distance = (across(h.at) - middle).abs();
        let sides = [distance * c * range / 2.0, (HOLE_FIT + h.slot) / 2.0];
        Moved { subject: Subject::Screw { leg, screw }, distance, sides }
    };
    screws.iter().enumerate().map(of).collect()
}

/// Seasonal movement of the wood under a bracket against the room in holes and slots.
pub(super) fn movement_in_bracket(m: &Model, _: &Forces) -> Vec<Check> {
    let (c, range) = rate(m);
    let all = (0..m.legs.len()).flat_map(|leg| moved(m, leg));
    let used = |moved: &Moved| moved.sides[0] / moved.sides[1];
    let Some(worst) = all.reduce(|a, b| if exceeds(used(&b), used(&a)) { b } else { a }) else { return Vec::new() };
    let [movement, room] = worst.sides;
    let s = Simple {
        id: CheckId::MovementUnderBracket,
        subject: worst.subject,
        case: Under::Seasons,
        when: When::AfterLife,
        unit: "mm",
        clause: moisture::MOVEMENT_SOURCE,
    };
    let with = [("distance", worst.distance, "mm"), ("C", c, "1/%"), ("change", range, "%")];
    let working = vec![
        Fact::MoistureChange(range).into(),
        equation("movement = distance x C x change / 2", with, movement, "mm").into(),
        Fact::RoomInHole(room).into(),
    ];
    let sources = vec![moisture::EMC_SOURCE, moisture::MOVEMENT_SOURCE, m.params.top.wood.sources.movement];
    vec![simple(s, movement, room, working, sources)]
}

/// Whether rails hold brackets apart across the grain.
pub(super) fn rails_across(m: &Model, _: &Forces) -> bool {
    m.rails.iter().any(|r| r.run == across_the_grain(m))
}

fn across_the_grain(m: &Model) -> Run {
    if m.params.top.grain == Run::AlongLength { Run::AlongWidth } else { Run::AlongLength }
}

/// Movement of the top between brackets that rails across the grain hold apart: it bends the legs between rail and top.
pub(super) fn movement_on_rails(m: &Model, f: &Forces) -> Vec<Check> {
    let across = across_the_grain(m);
    let joined = m.rails.iter().filter(|r| r.run == across).flat_map(|rail| rail.legs.map(|leg| held(m, f, rail, leg)));
    let used = |check: &Check| check.utilisation();
    joined.reduce(|a, b| if exceeds(used(&b), used(&a)) { b } else { a }).into_iter().collect()
}

/// One leg of a rail across the grain.
fn held(m: &Model, f: &Forces, rail: &Rail, leg: usize) -> Check {
    let (c, range) = rate(m);
    let [a, b] = rail.legs.map(|l| m.legs[l].frame.head);
    let width = (a - b).norm();
    let demand = width * c * range / 4.0;
    let (leg, k) = (&m.legs[leg], f.joint_stiffness[1]);
    let free = leg.frame.head.z - rail.height;
    let (tubes, e, i) = (m.params.legs.tubes as f64, m.params.legs.tube.metal.e, inertia(m));
    let outer = m.brackets[leg.bracket.kind].design.sockets[0].outer;
    let root = super::plastic::allowable(
        m,
        super::plastic::Kind::AcrossLayers,
        crate::params::Duration::Months,
        When::AfterLife,
        super::plastic::Section::Round(outer),
    );
    let moment = root.stress * std::f64::consts::PI * outer.powi(3) / 32.0 * tubes;
    let creep = m.params.printing.filament.creep_divisor;
    let room = HOLE_FIT / 2.0 + m.params.cutting.end_play / 2.0;
    let capacity = moment * (free * free / (3.0 * tubes * e * i) + creep * free / k) + room;
    let s = Simple {
        id: CheckId::MovementOnRail,
        subject: Subject::RailedBrackets,
        case: Under::Seasons,
        when: When::AfterLife,
        unit: "mm",
        clause: moisture::MOVEMENT_SOURCE,
    };
    let moves = [("width", width, "mm"), ("C", c, "1/%"), ("change", range, "%")];
    let allows = [
        ("M", moment, "N mm"),
        ("L", free, "mm"),
        ("n", tubes, ""),
        ("E", e, "MPa"),
        ("I", i, "mm4"),
        ("c", creep, ""),
        ("k", k, "N mm/rad"),
        ("room", room, "mm"),
    ];
    let bends = "what the boss root and the holes allow = M (L^2 / (3 n E I) + c L / k) + room";
    let working = vec![
        equation("movement of each leg = width x C x change / 4", moves, demand, "mm").into(),
        equation(bends, allows, capacity, "mm").into(),
    ];
    simple(s, demand, capacity, working, vec![moisture::EMC_SOURCE, moisture::MOVEMENT_SOURCE])
}

fn inertia(m: &Model) -> f64 {
    let t = &m.params.legs.tube;
    std::f64::consts::PI / 64.0 * (t.outside.powi(4) - (t.outside - 2.0 * t.wall).powi(4))
}

/// Wood left between the screws' tips and the show face.
pub(super) fn above_tip(m: &Model, _: &Forces) -> Vec<Check> {
    let thinnest = m.legs.iter().enumerate().min_by(|(_, a), (_, b)| a.thickness.total_cmp(&b.thickness));
    let Some((over, leg)) = thinnest else { return Vec::new() };
    let left = m.left_above_tip(leg);
    let s = Simple {
        id: CheckId::WoodAboveTips,
        subject: Subject::TopOver(over),
        case: Under::ScrewsHome,
        when: When::Now,
        unit: "mm",
        clause: Source::JUDGEMENT.at("a tip nearer than 3 mm to the show face shows as a bump"),
    };
    let with = [("thickness", leg.thickness, "mm"), ("length in the wood", m.penetration(), "mm")];
    let found = equation("left = thickness - length in the wood", with, left, "mm");
    vec![simple(s, ABOVE_TIP, left, vec![found.into()], vec![])]
}

/// Largest part against the bed.
pub(super) fn bed(m: &Model, _: &Forces) -> Vec<Check> {
    let bed = m.params.printing.bed;
    let d = m
        .brackets
        .iter()
        .map(|k| k.design.box_mm())
        .fold([0.0_f64; 3], |a, b| [a[0].max(b[0]), a[1].max(b[1]), a[2].max(b[2])]);
    let worst = (0..3).max_by(|a, b| (d[*a] / bed[*a]).total_cmp(&(d[*b] / bed[*b]))).unwrap_or(0);
    let s = Simple {
        id: CheckId::Bed,
        subject: Subject::AnyBracket,
        case: Under::AsPrinted,
        when: When::Now,
        unit: "mm",
        clause: Source::STATICS.at("size against the stated bed; beyond it the file is refused"),
    };
    // A part may fill the bed: utilisation of the bed does not make a design tight.
    vec![simple(
        s,
        d[worst] * super::ADEQUATE,
        bed[worst],
        vec![Fact::Bed { size: d[worst], bed: bed[worst] }.into()],
        vec![],
    )]
}

/// Lines that the thinnest wall of a boss needs (judgement: two perimeters from either side leave it without a hollow and
/// without a single line that carries alone).
const LEAST_LINES: f64 = 4.0;

/// Walls of the bosses are thick enough for the nozzle's lines.
pub(super) fn walls(m: &Model, _: &Forces) -> Vec<Check> {
    let sockets =
        m.brackets.iter().flat_map(|b| &b.design.sockets).chain(m.feet.iter().flat_map(|f| &f.design.sockets));
    let wall = sockets.map(crate::model::Socket::wall).fold(f64::INFINITY, f64::min);
    let line = m.params.printing.nozzle;
    let lines = wall / line;
    let s = Simple {
        id: CheckId::BossWall,
        subject: Subject::Bosses,
        case: Under::BothSides,
        when: When::Now,
        unit: "lines",
        clause: Source::JUDGEMENT.at("two perimeters from either side of a boss wall, each as wide as the nozzle"),
    };
    let with = [("wall", wall, "mm"), ("line", line, "mm")];
    let working = vec![
        equation("lines = wall / line", with, lines, "lines").into(),
        Fact::Perimeters(m.params.printing.walls).into(),
    ];
    vec![simple(s, LEAST_LINES, lines, working, vec![])]
}

/// Steepest outside face: leaning bosses.
pub(super) fn overhang(m: &Model, _: &Forces) -> Vec<Check> {
    let demand = m.legs.iter().map(|l| l.frame.tilt().to_degrees()).fold(0.0, f64::max);
    let s = Simple {
        id: CheckId::Overhang,
        subject: Subject::Bosses,
        case: Under::NoSupports,
        when: When::Now,
        unit: "deg",
        clause: OVERHANG_CLAUSE,
    };
    vec![simple(s, demand, OVERHANG, vec![Fact::Lean(demand).into()], vec![OVERHANG_CLAUSE])]
}

/// Room of a straight driver beside leaning bosses over their whole height.
pub(super) fn driver(m: &Model, _: &Forces) -> Vec<Check> {
    let room = |d: &model::BracketDesign| {
        let mut least = f64::MAX;
        for hole in &d.screws {
            for s in &d.sockets {
                let top = s.height() * s.axis[2];
                let to = [0, 1].map(|k| s.base[k] + s.lean()[k] * top);
                least = least.min(distance_to_segment(hole.at, s.base, to) - s.outer / 2.0 / s.axis[2]);
            }
        }
        least
    };
    let capacity = m.brackets.iter().map(|k| room(&k.design)).fold(f64::MAX, f64::min);
    let s = Simple {
        id: CheckId::DriverRoom,
        subject: Subject::Screws,
        case: Under::StraightDriver,
        when: When::Now,
        unit: "mm",
        clause: Source::STATICS.at("distance of the screw's axis from the leaning bosses over their height"),
    };
    // Half a millimetre of room is enough: the layout keeps it, so being near the limit is no weakness.
    vec![simple(
        s,
        DRIVER * super::ADEQUATE,
        capacity,
        vec![Fact::DriverRoom { room: capacity, needed: DRIVER }.into()],
        vec![],
    )]
}

/// Years after which the plastic is to be looked at: half the life, at most two years, one in a warm room.
#[must_use]
pub fn inspection_years(m: &Model) -> f64 {
    let warm = m.params.place.temperature[1] > m.params.printing.filament.service_temperature() - 15.0;
    (m.params.life / 2.0).min(if warm { 1.0 } else { 2.0 })
}

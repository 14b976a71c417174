//! Making: heat, wood movement, wood left above the tips, bed, walls, overhang, driver.

use super::{Check, CheckId, Subject, Under, When, utilisation_step};
use crate::clauses::working::{figures, step};
use crate::mechanics::Forces;
use crate::model::{self, DRIVER, HOLE_FIT, Model, distance_to_segment};
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

fn simple(s: Simple, demand: f64, capacity: f64, mut steps: Vec<String>, sources: Vec<Clause>) -> Check {
    let capacity = capacity.max(1e-6);
    steps.push(utilisation_step(demand, capacity, s.unit));
    Check {
        id: s.id,
        subject: s.subject,
        case: s.case,
        when: s.when,
        demand,
        capacity,
        unit: s.unit,
        clause: s.clause,
        steps,
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
    let steps = vec![format!(
        "{}: glass transition {} C, heat deflection {} C, less the margin = {} C",
        name,
        f.tg,
        f.hdt_045,
        figures(limit)
    )];
    vec![simple(s, warm.max(0.0), limit, steps, vec![f.heat_source, filament::SERVICE])]
}

fn rate(m: &Model) -> (f64, f64) {
    let c = match m.params.top.sawn {
        Sawn::Flat => m.params.top.wood.c_tangential,
        Sawn::Quarter => m.params.top.wood.c_radial,
    };
    let [low, high] = model::moisture_range(&m.params);
    (c, high - low)
}

/// Seasonal movement of the wood under one bracket, from the middle of the range, against the room in holes and slots.
pub(super) fn movement_in_bracket(m: &Model, _: &Forces) -> Vec<Check> {
    let (c, range) = rate(m);
    let along_x = m.params.top.grain == Run::AlongLength;
    let design = &m.brackets[0].design;
    let across = |at: [f64; 2]| if along_x { at[1] } else { at[0] };
    let fixed: Vec<f64> = design.screws.iter().filter(|h| h.slot == 0.0).map(|h| across(h.at)).collect();
    // The wood finds its place between the outermost round holes, however many there are on either side.
    let ends = fixed.iter().fold(None, |ends: Option<[f64; 2]>, at| {
        Some(ends.map_or([*at; 2], |[low, high]| [low.min(*at), high.max(*at)]))
    });
    let middle = ends.map_or(0.0, |[low, high]| f64::midpoint(low, high));
    let of = |h: &model::ScrewHole| ((across(h.at) - middle).abs() * c * range / 2.0, (HOLE_FIT + h.slot) / 2.0);
    let worst = design.screws.iter().map(of).fold((0.0, 1.0), |a, b| if b.0 / b.1 > a.0 / a.1 { b } else { a });
    let s = Simple {
        id: CheckId::MovementUnderBracket,
        subject: Subject::FarthestScrew,
        case: Under::Seasons,
        when: When::AfterLife,
        unit: "mm",
        clause: moisture::MOVEMENT_SOURCE,
    };
    let steps = vec![
        format!("equilibrium moisture changes by {} %", figures(range)),
        step("movement = distance x C x change / 2", &format!("C = {c}"), worst.0, "mm"),
        format!("room in the hole either way = {} mm", figures(worst.1)),
    ];
    vec![simple(
        s,
        worst.0,
        worst.1,
        steps,
        vec![moisture::EMC_SOURCE, moisture::MOVEMENT_SOURCE, m.params.top.wood.sources.movement],
    )]
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
    let Some(rail) = m.rails.iter().filter(|r| r.run == across).max_by(|a, b| a.height.total_cmp(&b.height)) else {
        return Vec::new();
    };
    let (c, range) = rate(m);
    let [a, b] = rail.legs.map(|l| m.legs[l].frame.head);
    let width = (a - b).norm();
    let demand = width * c * range / 4.0;
    let (leg, k) = (&m.legs[rail.legs[0]], f.joint_stiffness[1]);
    let free = leg.frame.head.z - rail.height;
    let bend = m.params.legs.tubes as f64 * m.params.legs.tube.metal.e * inertia(m);
    let design = &m.brackets[leg.bracket.kind].design;
    let root = super::plastic::allowable(
        m,
        super::plastic::Kind::AcrossLayers,
        crate::params::Duration::Months,
        When::AfterLife,
        super::plastic::Section::Round(design.sockets[0].outer),
    );
    let outer = design.sockets[0].outer;
    let moment = root.stress * std::f64::consts::PI * outer.powi(3) / 32.0 * m.params.legs.tubes as f64;
    let creep = m.params.printing.filament.creep_divisor;
    let room = HOLE_FIT / 2.0 + m.params.cutting.end_play / 2.0;
    let capacity = moment * (free * free / (3.0 * bend) + creep * free / k) + room;
    let s = Simple {
        id: CheckId::MovementOnRail,
        subject: Subject::RailedBrackets,
        case: Under::Seasons,
        when: When::AfterLife,
        unit: "mm",
        clause: moisture::MOVEMENT_SOURCE,
    };
    let steps = vec![
        step(
            "movement of each leg = width x C x change / 4",
            &format!("{} x {c} x {} / 4", figures(width), figures(range)),
            demand,
            "mm",
        ),
        step(
            "what the boss root and the holes allow = M (L^2 / 3EI + c L / k) + room",
            &format!("M {} N mm, L {} mm, creep c {creep}, room {} mm", figures(moment), figures(free), figures(room)),
            capacity,
            "mm",
        ),
    ];
    vec![simple(s, demand, capacity, steps, vec![moisture::EMC_SOURCE, moisture::MOVEMENT_SOURCE])]
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
    let steps = vec![step(
        "left = thickness - length in the wood",
        &format!("{} - {}", figures(leg.thickness), figures(m.penetration())),
        left,
        "mm",
    )];
    vec![simple(s, ABOVE_TIP, left, steps, vec![])]
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
        vec![format!(
            "{} mm of {} mm, counted at 0.8 because a full bed is no weakness",
            figures(d[worst]),
            figures(bed[worst])
        )],
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
    let steps = vec![
        step("wall / line", &format!("{} / {line}", figures(wall)), lines, "lines"),
        format!("{} perimeters from each side fill {} lines", m.params.printing.walls, 2 * m.params.printing.walls),
    ];
    vec![simple(s, LEAST_LINES, lines, steps, vec![])]
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
    vec![simple(s, demand, OVERHANG, vec![format!("bosses lean by {} deg", figures(demand))], vec![OVERHANG_CLAUSE])]
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
        vec![format!("{} mm from axis to boss, {DRIVER} mm needed, counted at 0.8", figures(capacity))],
        vec![],
    )]
}

/// Years after which the plastic is to be looked at: half the life, at most two years, one in a warm room.
#[must_use]
pub fn inspection_years(m: &Model) -> f64 {
    let warm = m.params.place.temperature[1] > m.params.printing.filament.service_temperature() - 15.0;
    (m.params.life / 2.0).min(if warm { 1.0 } else { 2.0 })
}

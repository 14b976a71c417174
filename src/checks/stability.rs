//! Standing: tipping, tilt, sway, frequency, shaking.

use super::{Check, CheckId, Fact, FrameFact, Subject, Under, When, utilisation_step};
use crate::clauses::screw_slip;
use crate::clauses::stability::{self, Edge};
use crate::clauses::working::equation;
use crate::mechanics::{Forces, SEAT, Solution, estimate, exceeds, fill, joint};
use crate::model::{self, CHILD, CHILD_CLAUSE, EDGE_LOAD_AT, Model, Purpose, SWAY_PUSH, TILT, TILT_CLAUSE, Test};
use crate::params::{Load, Spread};
use crate::source::{Clause, Source};
use crate::units::GRAVITY;

/// Least tilt, degrees, so that every utilisation is finite.
const LEAST_TILT: f64 = 0.1;
/// Least tipping load, N, so that every utilisation is finite.
const LEAST_FORCE: f64 = 1.0;
/// Safety against tipping under loads that are known (judgement).
const SAFETY: f64 = 1.3;
/// Why.
const TIP_CLAUSE: Clause = stability::TIPPING;

/// Load that tips the empty table when put on its most overhanging point beyond an edge, N, per edge between two feet.
#[must_use]
pub fn tip_loads(m: &Model, f: &Forces) -> Vec<(Subject, Option<f64>)> {
    let (mass, centre) = f.empty;
    let flat = [centre[0], centre[1]];
    stability::edges(&f.feet)
        .iter()
        .map(|e| {
            let least =
                m.outline.rim().iter().filter_map(|p| e.tipping_weight(mass * GRAVITY, flat, *p)).reduce(f64::min);
            (edge(f, e), least)
        })
        .collect()
}

/// A corner or the middle of an edge of the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgePlace {
    /// Corner.
    FrontLeft,
    /// Middle of an edge.
    Front,
    /// Corner.
    FrontRight,
    /// Middle of an edge.
    Right,
    /// Corner.
    BackRight,
    /// Middle of an edge.
    Back,
    /// Corner.
    BackLeft,
    /// Middle of an edge.
    Left,
}

/// What the places of the top's rim are called, in their order.
const PLACES: [EdgePlace; 8] = [
    EdgePlace::FrontLeft,
    EdgePlace::Front,
    EdgePlace::FrontRight,
    EdgePlace::Right,
    EdgePlace::BackRight,
    EdgePlace::Back,
    EdgePlace::BackLeft,
    EdgePlace::Left,
];

/// The least load that tips a table, N, and where on the top it is put.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tip {
    /// N.
    pub load: f64,
    /// Where.
    pub place: EdgePlace,
}

impl Tip {
    fn of(m: &Model, f: &Forces, mass: f64, centre: [f64; 3]) -> Option<Self> {
        let (places, edges) = (m.outline.rim(), stability::edges(&f.feet));
        let (load, _, at) = stability::worst_place(&edges, mass * GRAVITY, [centre[0], centre[1]], &places)?;
        let place = PLACES[places.iter().position(|p| *p == at)?];
        Some(Self { load, place })
    }

    /// The same as a mass, kg, rounded down to what a kitchen or bathroom scale shows.
    #[must_use]
    pub fn mass(&self) -> f64 {
        let (mass, steps) = (self.load / GRAVITY, if self.load / GRAVITY < 10.0 { 10.0 } else { 1.0 });
        (mass * steps).floor() / steps
    }

    /// Whether a child who hangs on the edge weighs more.
    #[must_use]
    pub fn below_child(&self) -> bool {
        self.load < CHILD * GRAVITY
    }
}

/// What tips the empty table, and the table under permanent loads; none where no load on the top does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tips {
    /// Without anything on it.
    pub empty: Option<Tip>,
    /// With permanent loads on it.
    pub loaded: Option<Tip>,
}

/// The least loads on the top's outline that tip the table.
#[must_use]
pub fn tips(m: &Model, f: &Forces) -> Tips {
    let (mass, centre) = f.empty;
    Tips { empty: Tip::of(m, f, mass, centre), loaded: Tip::of(m, f, f.mass, f.centre) }
}

/// Level push at the show face along an axis, either way, that tips the table under permanent loads, N.
#[must_use]
pub fn tipping_push(m: &Model, f: &Forces, axis: usize) -> f64 {
    let (weight, centre) = (f.mass * GRAVITY, [f.centre[0], f.centre[1]]);
    let pushes = stability::edges(&f.feet).into_iter().filter_map(|e| {
        let along = e.outward()[axis].abs();
        (along > 1e-6).then(|| e.tipping_push(weight, centre, m.params.height) / along)
    });
    pushes.fold(f64::INFINITY, f64::min)
}

fn edge(f: &Forces, e: &Edge) -> Subject {
    let leg = |p: [f64; 2]| f.feet.iter().position(|q| (q[0] - p[0]).hypot(q[1] - p[1]) < 1e-6);
    Subject::Edge([leg(e.from), leg(e.to)])
}

/// Whether children are about and the top stands out beyond the feet.
pub(super) fn children_reach(m: &Model, f: &Forces) -> bool {
    m.params.place.children && tips(m, f).empty.is_some()
}

/// A child at the worst edge or corner of the empty table.
pub(super) fn child(m: &Model, f: &Forces) -> Vec<Check> {
    let demand = CHILD * GRAVITY;
    tipping(f, CheckId::TippingChild, demand, CHILD_CLAUSE, &m.outline.rim()).into_iter().collect()
}

/// The load of the table test near the edge: where it stands, and how large; none where the use asks for none.
fn at_edge(m: &Model) -> Option<(Vec<[f64; 2]>, model::Added)> {
    let added = model::added(&m.params).into_iter().find(|added| added.load == Test::Edge)?;
    let inner = |p: &[f64; 2]| p.map(|x| (x.abs() - EDGE_LOAD_AT).max(0.0).copysign(x));
    Some((m.outline.rim().iter().map(inner).collect(), added))
}

/// Whether a table test puts a weight beyond the feet.
pub(super) fn edge_is_loaded(m: &Model, f: &Forces) -> bool {
    let edges = stability::edges(&f.feet);
    at_edge(m).is_some_and(|(places, _)| places.iter().any(|p| edges.iter().any(|e| e.outside(*p) > 0.0)))
}

/// A table test's weight near the edge of the empty table.
pub(super) fn edge_load(m: &Model, f: &Forces) -> Vec<Check> {
    let Some((places, added)) = at_edge(m) else { return Vec::new() };
    tipping(f, CheckId::TippingEdge, added.size, added.clause, &places).into_iter().collect()
}

fn tipping(f: &Forces, id: CheckId, demand: f64, clause: Clause, places: &[[f64; 2]]) -> Option<Check> {
    let (mass, centre) = f.empty;
    let edges = stability::edges(&f.feet);
    let (capacity, over, place) = stability::worst_place(&edges, mass * GRAVITY, [centre[0], centre[1]], places)?;
    let capacity = capacity.max(LEAST_FORCE);
    let [inside, outside] = [-over.outside([centre[0], centre[1]]), over.outside(place)];
    let weight = mass * GRAVITY;
    let with = [("W", weight, "N"), ("a", inside, "mm"), ("b", outside, "mm")];
    Some(Check {
        id,
        subject: edge(f, &over),
        case: Under::Empty,
        when: When::Now,
        demand,
        capacity,
        unit: "N",
        clause,
        working: vec![
            Fact::Weight { weight, inside }.into(),
            Fact::LoadOutside { at: place, outside }.into(),
            equation("tipping load = W a / b", with, capacity, "N").into(),
            utilisation_step(demand, capacity, "N"),
        ],
        sources: vec![stability::TIPPING, clause],
    })
}

/// Where a load acts, world, mm.
fn acts_at(m: &Model, load: &Load) -> [f64; 2] {
    match load.on {
        Spread::Whole => [0.0, 0.0],
        Spread::Rectangle(..) | Spread::Point(_) | Spread::Edge(_) => {
            let [x, y] = model::middle(&m.params, load);
            [x - m.params.top.length / 2.0, y - m.params.top.width / 2.0]
        }
    }
}

fn weighs_down(load: &Load) -> bool {
    load.direction[2] < -0.5
}

fn pushes_level(load: &Load) -> bool {
    !weighs_down(load) && load.shaking.is_none()
}

/// Whether a load of the file stands beyond the feet, or pushes.
pub(super) fn loads_tip(m: &Model, f: &Forces) -> bool {
    let edges = stability::edges(&f.feet);
    let beyond = |load: &Load| edges.iter().any(|e| e.outside(acts_at(m, load)) > 0.0);
    m.params.loads.iter().any(|load| (weighs_down(load) && beyond(load)) || pushes_level(load))
}

/// Each load of the file on the otherwise empty table.
pub(super) fn loads(m: &Model, f: &Forces) -> Vec<Check> {
    let down = m.params.loads.iter().filter(|load| weighs_down(load));
    let checks = down.filter_map(|load| {
        let at = acts_at(m, load);
        let check = tipping(f, CheckId::TippingLoad, load.force * SAFETY, TIP_CLAUSE, &[at])?;
        Some(Check { case: Under::Load(load.name.clone()), ..check })
    });
    let sideways = m.params.loads.iter().filter(|load| pushes_level(load));
    let checks = checks.chain(sideways.filter_map(|load| pushed_over(m, f, load)));
    checks.reduce(|a, b| if exceeds(b.utilisation(), a.utilisation()) { b } else { a }).into_iter().collect()
}

/// A load of the file that pushes sideways at the height of the show face, on the table under permanent loads.
fn pushed_over(m: &Model, f: &Forces, load: &Load) -> Option<Check> {
    let along = |e: &Edge| load.direction[0] * e.outward()[0] + load.direction[1] * e.outward()[1];
    let (weight, centre) = (f.mass * GRAVITY, [f.centre[0], f.centre[1]]);
    let edges = stability::edges(&f.feet);
    let tips = edges.iter().filter(|e| along(e) > 1e-6);
    let (over, capacity) = tips
        .map(|e| (e, e.tipping_push(weight, centre, m.params.height) / along(e)))
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (demand, capacity) = (load.force * SAFETY, capacity.max(LEAST_FORCE));
    let lever = [("W", weight, "N"), ("a", -over.outside(centre), "mm")];
    let with = [lever[0], lever[1], ("h", m.params.height, "mm"), ("c", along(over), "")];
    Some(Check {
        id: CheckId::TippingLoad,
        subject: edge(f, over),
        case: Under::Load(load.name.clone()),
        when: When::Now,
        demand,
        capacity,
        unit: "N",
        clause: TIP_CLAUSE,
        working: vec![
            equation("demand = safety x F", [("safety", SAFETY, ""), ("F", load.force, "N")], demand, "N").into(),
            equation("tipping push = W a / (h c)", with, capacity, "N").into(),
            utilisation_step(demand, capacity, "N"),
        ],
        sources: vec![stability::TIPPING],
    })
}

/// Tilt of the floor that tips the empty and the loaded table.
pub(super) fn tilt(_: &Model, f: &Forces) -> Vec<Check> {
    let edges = stability::edges(&f.feet);
    let states = [(Under::Empty, f.empty.1), (Under::Lasting, f.centre)];
    let worst = states
        .into_iter()
        .map(|(under, c)| (under, c, stability::worst_tilt(&edges, [c[0], c[1]], c[2])))
        .min_by(|a, b| a.2.total_cmp(&b.2));
    let Some((case, centre, tilt)) = worst else { return Vec::new() };
    let capacity = tilt.to_degrees().max(LEAST_TILT);
    let with = [("a", centre[2] * tilt.tan(), "mm"), ("h", centre[2], "mm")];
    vec![Check {
        id: CheckId::TippingTilt,
        subject: Subject::WorstEdge,
        case,
        when: When::Now,
        demand: TILT,
        capacity,
        unit: "deg",
        clause: TILT_CLAUSE,
        working: vec![
            equation("tilt = atan(a / h)", with, capacity, "deg").into(),
            utilisation_step(TILT, capacity, "deg"),
        ],
        sources: vec![TILT_CLAUSE, stability::TIPPING],
    }]
}

/// Sway under a hand's push along one axis, second order, under permanent loads.
fn sway(m: &Model, f: &Forces, axis: usize) -> Vec<Check> {
    let ids = [CheckId::SwayLength, CheckId::SwayWidth];
    let index = m.cases.iter().enumerate().filter(|(_, c)| c.purpose == Purpose::Sway).map(|(i, _)| i).nth(axis);
    let Some(index) = index else { return Vec::new() };
    let of = |s: &Solution| s.cases[index].sway[axis].abs();
    let (solution, demand) = f.worst(of);
    let first = solution.cases[index].sway_first_order[axis].abs();
    let capacity = m.params.limits.sway;
    vec![Check {
        id: ids[axis],
        subject: Subject::Top,
        case: Under::Case { name: m.cases[index].name.clone(), joints: solution.estimate },
        when: When::Now,
        demand,
        capacity,
        unit: "mm",
        clause: Source::JUDGEMENT.at("2 mm under 50 N feels firm; set it in limits.sway"),
        working: vec![
            FrameFact::Sway { push: SWAY_PUSH, first_order: first, second_order: demand }.into(),
            FrameFact::StiffSway(f.solutions.iter().map(of).fold(f64::MAX, f64::min)).into(),
            utilisation_step(demand, capacity, "mm"),
        ],
        sources: vec![
            joint::STIFFNESS,
            fill::CORE,
            estimate::COLLAR,
            estimate::ALONG,
            SEAT,
            screw_slip::AXIAL,
            screw_slip::AXIAL_OTHERS,
            screw_slip::LATERAL,
            joint::BORE,
            joint::SLIDING,
        ],
    }]
}

/// Sway along the length.
pub(super) fn sway_x(m: &Model, f: &Forces) -> Vec<Check> {
    sway(m, f, 0)
}

/// Sway along the width.
pub(super) fn sway_y(m: &Model, f: &Forces) -> Vec<Check> {
    sway(m, f, 1)
}

/// Least frequency, Hz, so that every utilisation is finite.
const LEAST_HERTZ: f64 = 0.01;

/// Lowest natural frequency under permanent loads.
pub(super) fn frequency(m: &Model, f: &Forces) -> Vec<Check> {
    let lowest = |s: &Solution| s.modes.first().map_or(f64::MAX, |mode| mode.hertz);
    let (solution, _) = f.worst(|s| -lowest(s));
    let Some(mode) = solution.modes.first() else { return Vec::new() };
    let (demand, capacity) = (m.params.limits.frequency, mode.hertz.max(LEAST_HERTZ));
    vec![Check {
        id: CheckId::Frequency,
        subject: Subject::Motion(mode.motion),
        case: Under::Carried { joints: solution.estimate },
        when: When::Now,
        demand,
        capacity,
        unit: "Hz",
        clause: Source::JUDGEMENT.at("slower than 3 Hz feels loose under the hands; set it in limits.frequency"),
        working: vec![FrameFact::Frequency(capacity).into(), utilisation_step(demand, capacity, "Hz")],
        sources: vec![joint::STIFFNESS, fill::CORE],
    }]
}

/// Whether something shakes it.
pub(super) fn shakes(m: &Model, _: &Forces) -> bool {
    m.params.loads.iter().any(|load| load.shaking.is_some())
}

/// Amplitude under each stated shaking.
pub(super) fn shaking(m: &Model, f: &Forces) -> Vec<Check> {
    let shaken = f.solutions.first().map_or(0, |s| s.shaking.len());
    (0..shaken).map(|k| shaken_by(m, f, k)).collect()
}

fn shaken_by(m: &Model, f: &Forces, number: usize) -> Check {
    let (solution, demand) = f.worst(|s| s.shaking[number].amplitude);
    let found = solution.shaking[number];
    let load = &m.params.loads[found.load];
    let moving = load.shaking.as_ref().and_then(|shaking| shaking.moving);
    // Strokes are in mm, and a force in N comes from metres.
    let moved = |[mass, stroke]: [f64; 2]| [("m", mass, "kg"), ("f", found.hertz, "Hz"), ("s", stroke / 1e3, "m")];
    let force = moving.map(|moving| equation("F = m (2 pi f)^2 s / 2", moved(moving), found.force, "N").into());
    let working = [
        force,
        Some(FrameFact::Shaking { hertz: found.hertz, force: found.force }.into()),
        found.resonates.map(|between| FrameFact::Resonance(between).into()),
        Some(FrameFact::SteadyResponse(demand).into()),
        Some(utilisation_step(demand, m.params.limits.sway, "mm")),
    ];
    let (name, joints) = (load.name.clone(), solution.estimate);
    let case = match &load.shaking {
        Some(by) => Under::Shaken { load: name, by: by.clone(), joints },
        None => Under::Case { name, joints },
    };
    Check {
        id: CheckId::Shaking,
        subject: Subject::WorstOfTop,
        case,
        when: When::Now,
        demand,
        capacity: m.params.limits.sway,
        unit: "mm",
        clause: Source::JUDGEMENT.at("amplitude no more than the sway allowed under a hand's push"),
        working: working.into_iter().flatten().collect(),
        sources: vec![
            Source::JUDGEMENT.at("dry joints give about two per cent of damping"),
            Source::JUDGEMENT.at(
                "joints may be as stiff as anything between the two estimates, so each natural frequency is taken \
                at whichever of its range is nearest to what shakes",
            ),
        ],
    }
}

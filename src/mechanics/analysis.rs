//! Model to forces: every load case with both estimates of the joints, buckling, frequencies, play, centre of mass.

use std::sync::Arc;

use nalgebra::Vector3;

use super::estimate::{self, Estimate, Estimates, Joints};
use super::loading::loads;
use super::shaking::{self, Swing};
use super::table::{self, Built, BuiltTube};
use super::{
    Cache, CaseForces, Detail, Forces, Frequency, Motion, PartModels, Solution, TopStress, TubeForces, exceeds,
    governing,
};
use crate::clauses::screw_group::Loads;
use crate::clauses::socket;
use crate::fem::{Case, FrameError, Mode, NodeId, Solver, State};
use crate::model::{self, Action, Model, Test};
use crate::parallel;
use crate::params::Run;

/// Critical factors above this are told as none.
pub const NEVER: f64 = 1000.0;
/// Share of the whole mass that a mode must move to be named after a direction (judgement: half).
const NAMED: f64 = 0.5;
/// A point load is spread over a square of this side for stresses in the top, mm (judgement: a hand or a jack's foot).
const HAND: f64 = 60.0;

/// Solves the table, as finely divided as is asked, with brackets of the cache.
///
/// # Errors
/// In words: a bracket the formulas cannot take, or a frame that is a mechanism.
pub fn solve(model: &Model, detail: Detail, cache: &Cache) -> Result<Forces, String> {
    solve_with(model, &PartModels::new(model, detail, cache)?)
}

/// The same with the plate models of its brackets at hand.
///
/// # Errors
/// In words: a frame that is a mechanism.
pub fn solve_with(model: &Model, plates: &PartModels) -> Result<Forces, String> {
    let estimates = estimate::estimates(model, plates);
    let (mut solutions, mut swings, mut critical_after_life) = (Vec::new(), Vec::new(), None);
    for solved in side_by_side(model, &estimates, plates).map_err(|e| e.to_string())? {
        match solved {
            Solved::Loaded(loaded) => {
                solutions.push(loaded.0);
                swings.push(loaded.1);
            }
            Solved::Aged(factor) => critical_after_life = factor,
        }
    }
    shaking::shake(model, &swings, &mut solutions);
    governing::demands(model, plates, &mut solutions);
    let (all, empty) = (model.weighed(true), model.weighed(false));
    Ok(Forces {
        joint_stiffness: stiffness(&estimates),
        outside_studied: estimates.outside,
        solutions,
        critical_after_life,
        play: play(model),
        mass: all.mass,
        centre: all.centre,
        empty: (empty.mass, empty.centre),
        feet: model.on_floor(),
    })
}

/// One estimate of the joints, as a frame is solved with it.
enum Solved {
    Loaded(Box<(Solution, Swing)>),
    /// The critical factor with the aged one.
    Aged(Option<f64>),
}

/// Movement of the top's middle along x and y under the hand's push along each, mm, first order, and the lowest natural frequency,
/// Hz, with given joints.
///
/// # Errors
/// In words: a frame that is a mechanism.
pub fn sway(model: &Model, joints: &Joints, detail: Detail) -> Result<([f64; 2], f64), String> {
    let words = |e: FrameError| e.to_string();
    let built = table::build(model, joints, detail).map_err(words)?;
    let solver = built.frame.prepare().map_err(words)?;
    let cases = model.cases.iter().filter(|case| case.purpose == model::Purpose::Sway);
    let pushes: Vec<Case> =
        cases.map(|case| loads(model, &built, &case.actions)).collect::<Result<_, _>>().map_err(words)?;
    let mut moved = [0.0; 2];
    for state in solver.statics(&pushes) {
        let (along, _) = movement(model, &built, &state);
        (0..2).for_each(|k| moved[k] = along[k].abs().max(moved[k]));
    }
    let swing = Swing::new(model, &built, &solver).map_err(words)?;
    Ok((moved, swing.modes().first().map_or(0.0, |mode| mode.frequency)))
}

/// Every estimate side by side, the aged one last.
fn side_by_side(model: &Model, estimates: &Estimates, plates: &PartModels) -> Result<Vec<Solved>, FrameError> {
    let acting = UnitCases::new(model);
    let all: Vec<&Joints> = estimates.joints.iter().chain([&estimates.aged]).collect();
    let solved = parallel::map(&all, |joints| {
        let mut built = table::build(model, joints, plates.detail())?;
        built.frame.share(Arc::clone(&plates.orders));
        if joints.estimate == Estimate::Aged {
            return critical(model, &built).map(Solved::Aged);
        }
        solution(model, &acting, joints, &built).map(|solved| Solved::Loaded(Box::new(solved)))
    });
    solved.into_iter().collect()
}

/// Softest and stiffest rotational stiffness of any bracket, N mm/rad.
fn stiffness(estimates: &Estimates) -> [f64; 2] {
    let of = |j: &Joints, pick: fn(f64, f64) -> f64| {
        j.rotational.iter().flat_map(|t| [t[0], t[1]]).reduce(pick).unwrap_or_default()
    };
    let (first, last) = (&estimates.joints[0], &estimates.joints[estimates.joints.len() - 1]);
    [of(first, f64::min), of(last, f64::max)]
}

/// Unit cases, each once, and the load cases as combination factors on them: the frame is solved for unit cases alone.
/// Drags are left out, since
/// the floor takes them until the foot is released.
struct UnitCases {
    unit: Vec<Action>,
    /// Factors of those above, for each case of the model.
    cases: Vec<Vec<(f64, usize)>>,
    /// The same for permanent loads.
    standing: Vec<(f64, usize)>,
}

impl UnitCases {
    fn new(model: &Model) -> Self {
        let mut own = Self { unit: vec![], cases: vec![], standing: vec![] };
        own.standing = own.sum(&model::standing(&model.params));
        own.cases = model.cases.iter().map(|case| own.sum(&case.actions)).collect();
        own
    }

    fn sum(&mut self, actions: &[Action]) -> Vec<(f64, usize)> {
        let stays = |a: &&Action| !matches!(a, Action::Drag { .. });
        actions.iter().filter(stays).map(|action| self.share(action)).collect()
    }

    /// The action as a multiple of one that is known; a push as that of 1 N.
    fn share(&mut self, action: &Action) -> (f64, usize) {
        let (factor, unit) = match action {
            Action::Push { at, force } => {
                let size = Vector3::from(*force).norm();
                (size, Action::Push { at: *at, force: force.map(|f| f / size) })
            }
            other => (1.0, other.clone()),
        };
        let known = self.unit.iter().position(|a| *a == unit);
        (
            factor,
            known.unwrap_or_else(|| {
                self.unit.push(unit);
                self.unit.len() - 1
            }),
        )
    }

    fn loads(&self, model: &Model, built: &Built) -> Result<Vec<Case>, FrameError> {
        self.unit.iter().map(|action| loads(model, built, std::slice::from_ref(action))).collect()
    }
}

/// Unit cases superposed.
fn summed(solver: &Solver, alone: &[State], parts: &[(f64, usize)]) -> State {
    solver.superposed(&parts.iter().map(|(factor, i)| (*factor, &alone[*i])).collect::<Vec<_>>())
}

/// Factor on permanent loads at which the frame buckles.
fn critical(model: &Model, built: &Built) -> Result<Option<f64>, FrameError> {
    let solver = built.frame.prepare()?;
    let standing = loads(model, built, &model::standing(&model.params))?;
    buckles(&solver, &solver.statics(&[standing]).remove(0))
}

fn buckles(solver: &Solver, standing: &State) -> Result<Option<f64>, FrameError> {
    Ok(solver.buckling(standing)?.map(|b| b.factor).filter(|f| *f < NEVER))
}

fn solution(
    model: &Model,
    acting: &UnitCases,
    joints: &Joints,
    built: &Built,
) -> Result<(Solution, Swing), FrameError> {
    let solver = built.frame.prepare()?;
    let loads = acting.loads(model, built)?;
    let alone = solver.statics(&loads);
    let swing = Swing::new(model, built, &solver)?;
    let solution = Solution {
        estimate: joints.estimate,
        joints: joints.clone(),
        critical_factor: buckles(&solver, &summed(&solver, &alone, &acting.standing))?,
        modes: swing.modes().iter().take(shaking::MODES).map(frequency).collect(),
        shaking: vec![],
        imbalance: alone.iter().map(|state| imbalance(state, built)).fold(0.0, f64::max),
        cases: cases(model, built, &solver, acting, (&loads, &alone))?,
    };
    Ok((solution, swing))
}

/// All load cases in the model's order: second order, and first order where a foot slides. Unit cases come as loads
/// and as their linear statics.
fn cases(
    model: &Model,
    built: &Built,
    solver: &Solver,
    acting: &UnitCases,
    (loads, alone): (&[Case], &[State]),
) -> Result<Vec<CaseForces>, FrameError> {
    let held: Vec<State> = acting.cases.iter().map(|parts| summed(solver, alone, parts)).collect();
    let dragged = dragged(model, built, solver, &held)?;
    // A test's weight on one leg is no state in which all others are looked at.
    let usual = model.cases.iter().zip(&held).filter(|(case, _)| case.test != Some(Test::Anywhere));
    let heaviest =
        usual.map(|(_, state)| state).reduce(|a, b| if exceeds(down(b, built), down(a, built)) { b } else { a });
    let second = heaviest.and_then(|state| solver.second_order(state, loads).ok());
    let standing = |(i, first): (usize, &State)| {
        let second = second.as_ref().map(|alone| summed(solver, alone, &acting.cases[i]));
        read(model, built, solver, second.as_ref().unwrap_or(first), first)
    };
    let all = dragged.into_iter().zip(held.iter().enumerate());
    Ok(all.map(|(dragged, case)| dragged.unwrap_or_else(|| standing(case))).collect())
}

/// The cases in which a leg's foot slides: the frame with that foot free in the plane of the floor, first order.
fn dragged(
    model: &Model,
    built: &Built,
    solver: &Solver,
    held: &[State],
) -> Result<Vec<Option<CaseForces>>, FrameError> {
    let drag = |case: &model::Case| {
        case.actions.iter().find_map(|a| match a {
            Action::Drag { leg, force } => Some((*leg, *force)),
            _ => None,
        })
    };
    let feet: Vec<NodeId> = built.legs.iter().map(|leg| leg.foot).collect();
    let loose = solver.releasable(&feet, &[0, 1])?;
    let state = |(leg, force): (usize, [f64; 3]), held: &State| {
        let state = solver.released(&loose[leg], held, force)?;
        Ok(read(model, built, solver, &state, &state))
    };
    model.cases.iter().zip(held).map(|(case, held)| drag(case).map(|drag| state(drag, held)).transpose()).collect()
}

fn down(state: &State, built: &Built) -> f64 {
    -state.applied_sum(&built.frame)[2]
}

/// Error of equilibrium and of energy, relative.
fn imbalance(state: &State, built: &Built) -> f64 {
    let (loads, supports) = (state.applied_sum(&built.frame), state.reaction_sum(&built.frame));
    let size = (0..3).map(|k| loads[k].abs()).fold(1.0, f64::max);
    let forces = (0..3).map(|k| (loads[k] + supports[k]).abs() / size).fold(0.0, f64::max);
    forces.max((state.energy() - state.work()).abs() / state.work().max(f64::MIN_POSITIVE))
}

/// Reads what checks and papers need out of a solved state.
fn read(model: &Model, built: &Built, solver: &Solver, state: &State, first: &State) -> CaseForces {
    let joints: Vec<[f64; 6]> = (0..built.legs.len()).map(|i| joint(model, built, state, i)).collect();
    let faces: Vec<Loads> = joints.iter().zip(&model.legs).map(|(j, leg)| in_bracket(leg, j)).collect();
    let (sway, twist) = movement(model, built, state);
    let (sag, sag_at) = sag(model, built, state);
    CaseForces {
        sway,
        sway_first_order: movement(model, built, first).0,
        twist,
        sag,
        sag_at,
        reactions: built.legs.iter().map(|l| three(state.reaction(l.foot))).collect(),
        bracket_demands: vec![None; faces.len()],
        faces,
        joints,
        tubes: built.legs.iter().map(|l| l.tubes.iter().map(|t| tube(state, t)).collect()).collect(),
        rails: built.rails.iter().map(|t| tube(state, t)).collect(),
        top: top_stress(model, built, solver, state),
        shape: shape(built, state),
    }
}

fn three(v: [f64; 6]) -> [f64; 3] {
    [v[0], v[1], v[2]]
}

/// Mean movement of the leg heads along x and y, mm, and turn about z, mrad.
fn movement(model: &Model, built: &Built, state: &State) -> ([f64; 2], f64) {
    let moved: Vec<[f64; 6]> = built.legs.iter().map(|l| state.displacement(l.head)).collect();
    let n = moved.len() as f64;
    let mean = |k: usize| moved.iter().map(|m| m[k]).sum::<f64>() / n;
    let (ux, uy) = (mean(0), mean(1));
    let (mut turn, mut size) = (0.0, 0.0);
    for (leg, m) in model.legs.iter().zip(&moved) {
        let (x, y) = (leg.frame.head.x, leg.frame.head.y);
        turn += x * (m[1] - uy) - y * (m[0] - ux);
        size += x * x + y * y;
    }
    ([ux, uy], 1000.0 * turn / size)
}

/// Largest downward movement of the top below the plane that best follows the leg heads, mm, and where.
fn sag(model: &Model, built: &Built, state: &State) -> (f64, [f64; 2]) {
    let heads: Vec<([f64; 2], f64)> = built
        .legs
        .iter()
        .map(|l| (place(built, l.head), state.displacement(l.head)[2]))
        .map(|(p, w)| ([p[0], p[1]], w))
        .collect();
    let plane = plane_through(&heads);
    let below = |n: &NodeId| {
        let p = place(built, *n);
        (plane[0] + plane[1] * p[0] + plane[2] * p[1] - state.displacement(*n)[2], [p[0], p[1]])
    };
    let worst = built.plate_nodes.iter().map(below).fold((0.0, [0.0; 2]), |a, b| if exceeds(b.0, a.0) { b } else { a });
    (worst.0, [worst.1[0] + model.params.top.length / 2.0, worst.1[1] + model.params.top.width / 2.0])
}

/// c, a, b of the least-squares plane w = c + a x + b y.
fn plane_through(points: &[([f64; 2], f64)]) -> [f64; 3] {
    let rows = nalgebra::DMatrix::from_fn(points.len(), 3, |i, k| [1.0, points[i].0[0], points[i].0[1]][k]);
    let values = nalgebra::DVector::from_iterator(points.len(), points.iter().map(|p| p.1));
    let solved = rows.svd(true, true).solve(&values, 1e-12);
    solved.map_or([0.0; 3], |v| [v[0], v[1], v[2]])
}

fn place(built: &Built, node: NodeId) -> [f64; 3] {
    built.frame.place(node)
}

/// Force and moment of the leg on its bracket at the wood face, world.
fn joint(model: &Model, built: &Built, state: &State, i: usize) -> [f64; 6] {
    let leg = &built.legs[i];
    let on_leg = state.spring(leg.joint);
    let rows = leg.joint_axes.rows();
    let turn = |v: &[f64]| (0..3).fold(Vector3::zeros(), |sum, k| sum + Vector3::from(rows[k]) * v[k]);
    let (force, moment) = (-turn(&on_leg[..3]), -turn(&on_leg[3..]));
    let arm = Vector3::from(leg.pivot) - model.legs[i].frame.head;
    let moment = moment + arm.cross(&force);
    [force.x, force.y, force.z, moment.x, moment.y, moment.z]
}

/// Force and moment at the wood face in the bracket's printing frame.
fn in_bracket(leg: &model::Leg, joint: &[f64; 6]) -> Loads {
    let back = leg.bracket.pose.rotation.inverse();
    let (f, m) = (back * Vector3::new(joint[0], joint[1], joint[2]), back * Vector3::new(joint[3], joint[4], joint[5]));
    Loads { fx: f.x, fy: f.y, fz: f.z, mx: m.x, my: m.y, mz: m.z }
}

/// Forces along a tube. Local x runs from the first end to the second, so tension is minus the first end's force.
fn tube(state: &State, tube: &BuiltTube) -> TubeForces {
    let ends: Vec<[[f64; 6]; 2]> = tube.beams.iter().map(|b| state.beam_ends(*b)).collect();
    let across = |f: &[f64; 6]| f[1].hypot(f[2]);
    let bend = |f: &[f64; 6]| f[4].hypot(f[5]);
    let all = || ends.iter().flatten();
    let axial = || ends.iter().flat_map(|e| [-e[0][0], e[1][0]]);
    let at = |f: &[f64; 6], sign: f64| [sign * f[0], across(f), bend(f)];
    // Grips lead down from the bracket to the foot.
    let held = tube.grips.iter().skip(1).rev().skip(1).map(|g| state.spring(*g));
    let ties = held.map(|f| [f[0].abs(), across(&f), bend(&f)]).collect();
    TubeForces {
        axial: axial().fold(f64::MAX, f64::min),
        tension: axial().fold(0.0, f64::max),
        moment: all().map(bend).fold(0.0, f64::max),
        shear: all().map(across).fold(0.0, f64::max),
        torque: all().map(|f| f[3].abs()).fold(0.0, f64::max),
        upper: ends.first().map_or([0.0; 3], |e| at(&e[0], -1.0)),
        lower: ends.last().map_or([0.0; 3], |e| at(&e[1], 1.0)),
        ties,
    }
}

/// Bending stresses in the top outside the brackets, which stiffen what they cover.
fn top_stress(model: &Model, built: &Built, solver: &Solver, state: &State) -> TopStress {
    let t = &model.params.top;
    let modulus = t.thickness * t.thickness / 6.0;
    let mut out = TopStress::default();
    for (nodes, forces) in solver.plate_forces(state, built.plate) {
        let middle = [0, 1].map(|k| nodes.iter().map(|n| place(built, *n)[k]).sum::<f64>() / 3.0);
        if model.legs.iter().any(|l| covered(model, l, middle)) {
            continue;
        }
        let faces = [0, 1].map(|k| forces.moment[k].abs() / modulus + forces.membrane[k].abs() / t.thickness);
        let (along, across) = if t.grain == Run::AlongLength { (faces[0], faces[1]) } else { (faces[1], faces[0]) };
        let corner = [middle[0] + t.length / 2.0, middle[1] + t.width / 2.0];
        if exceeds(along, out.along) {
            (out.along, out.along_at) = (along, corner);
        }
        if exceeds(across, out.across) {
            (out.across, out.across_at) = (across, corner);
        }
        out.shear = out.shear.max(forces.moment[2].abs() / modulus);
    }
    out
}

/// Whether a point lies over a leg's bracket or within a hand of its axis.
fn covered(model: &Model, leg: &model::Leg, at: [f64; 2]) -> bool {
    let design = &model.brackets[leg.bracket.kind].design;
    let half = [design.length.max(HAND) / 2.0, design.width.max(HAND) / 2.0];
    let local = leg.bracket.pose.inverse() * nalgebra::Point3::new(at[0], at[1], leg.frame.head.z);
    local.x.abs() < half[0] && local.y.abs() < half[1]
}

/// Places and movements of tubes and top for the picture.
fn shape(built: &Built, state: &State) -> Vec<([f64; 3], [f64; 3])> {
    let tubes = built.legs.iter().flat_map(|l| l.tubes.iter().flat_map(|t| t.nodes.iter()));
    tubes.chain(&built.plate_nodes).map(|n| (place(built, *n), three(state.displacement(*n)))).collect()
}

fn frequency(mode: &Mode) -> Frequency {
    let [x, y, .., twist] = mode.share;
    let named = [(x, Motion::SwayX), (y, Motion::SwayY), (twist, Motion::Twist)];
    let largest = named.iter().fold((NAMED, Motion::Other), |best, n| if n.0 > best.0 { *n } else { best });
    Frequency { hertz: mode.frequency, motion: largest.1 }
}

/// Free travel of the top along x and y before the sockets bear, mm: the clearance turned over the engaged length times
/// the leg's length. Ribs, bonding and a bundle that is tied at several heights take it out of the leg.
fn play(model: &Model) -> [f64; 2] {
    let hold = &model.params.bracket.hold;
    if hold.ribs || hold.bonded {
        return [0.0; 2];
    }
    let depth = model.params.bracket.socket_depth - model.params.bracket.chamfer;
    let travel = if model.params.legs.tubes == 1 {
        let longest = model.legs.iter().map(|leg| leg.tube_length).fold(0.0, f64::max);
        socket::free_travel(model.params.printing.clearance, depth, longest)
    } else {
        // Every tube of a bundle shifts sideways in its sockets by the clearance, at the bracket and at the foot.
        2.0 * model.params.printing.clearance
    };
    [travel; 2]
}

//! What the frame was solved with, in numbers that another frame program can be given: for `record.json`.
//!
//! Only what cannot be read from the parts, tubes and places of the record stands here: stiffnesses, moduli, masses,
//! the supports and what acts in each load case. Units N, mm, t; stiffness in N/mm and N mm/rad, `null` for rigid.

use serde_json::{Value, json};

use crate::mechanics::estimate::Joints;
use crate::mechanics::{Forces, POISSON, Solution, TURNING_POINT};
use crate::model::{Action, Leg, Model, Rail};
use crate::params::{Base, Duration, Load, Run, Side, Spread, Tube};

/// kg to tonnes.
const TONNE: f64 = 1e-3;

/// Everything of the frame that the rest of the record does not say.
#[must_use]
pub fn facts(model: &Model, forces: &Forces) -> Value {
    json!({
        "top": top(model),
        "tube": tube(&model.params.legs.tube),
        "plastic_t_per_mm3": model.params.printing.filament.density * 1e-12,
        "end_play_mm": model.params.cutting.end_play,
        "rail_depth_mm": model.params.tie.rail_socket_depth,
        "legs": model.legs.iter().map(|l| leg(model, l)).collect::<Vec<_>>(),
        "rails": model.rails.iter().map(rail).collect::<Vec<_>>(),
        "estimates": forces.solutions.iter().map(estimate).collect::<Vec<_>>(),
        "cases": model.cases.iter().map(|c| json!({
            "name": c.name,
            "actions": c.actions.iter().map(|a| action(model, a)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

fn top(model: &Model) -> Value {
    let t = &model.params.top;
    let carried: f64 = model.params.loads.iter().filter(|l| l.lasts == Duration::Years).map(|l| l.mass).sum();
    json!({
        "length_mm": t.length,
        "width_mm": t.width,
        "thickness_mm": t.thickness,
        "underside_mm": model.params.height - t.thickness,
        "along_mpa": t.wood.e_along,
        "across_mpa": t.wood.e_across,
        "shear_mpa": t.wood.shear_modulus,
        "poisson": POISSON,
        "grain_along_length": t.grain == Run::AlongLength,
        "mass_t": model.top_mass() * TONNE,
        "carried_t": carried * TONNE,
    })
}

fn tube(t: &Tube) -> Value {
    json!({
        "outside_mm": t.outside,
        "wall_mm": t.wall,
        "young_mpa": t.metal.e,
        "shear_mpa": t.metal.g,
        "density_t_per_mm3": t.metal.density * 1e-12,
    })
}

/// Where the leg's axis meets the wood, its direction, and where its joint turns.
fn leg(model: &Model, leg: &Leg) -> Value {
    let design = &model.brackets[leg.bracket.kind].design;
    let f = &leg.frame;
    json!({
        "number": leg.number,
        "head": f.head.as_slice(),
        "down": f.down.as_slice(),
        "pivot": f.on_axis(f.head.z - design.plate * (1.0 - TURNING_POINT)).as_slice(),
        "along": (leg.bracket.pose.rotation * nalgebra::Vector3::x()).as_slice(),
        "tie_heights_mm": leg.ties.iter().map(|t| t.height).collect::<Vec<_>>(),
    })
}

fn rail(r: &Rail) -> Value {
    json!({ "legs": r.legs, "ties": r.ties, "ends": r.ends.each_ref().map(|e| e.as_slice()), "tube": tube(&r.tube) })
}

/// JSON has no infinity: a rigid component comes out as `null`.
fn estimate(s: &Solution) -> Value {
    let Joints { rotational, axial, lateral, bore, collar, foot, rail, base, .. } = &s.joints;
    json!({
        "name": s.estimate.word(),
        "rotational": rotational,
        "axial": axial,
        "lateral": lateral,
        "bore": bore,
        "collar": collar,
        "foot": foot,
        "rail": rail,
        "feet_turn": *base == Base::Pinned,
    })
}

fn action(model: &Model, action: &Action) -> Value {
    match action {
        Action::OwnWeight => json!({ "own_weight": true }),
        Action::Load(i) => load(model, &model.params.loads[*i]),
        Action::Push { at, force } => at_point(model, *at, *force),
        Action::Drag { leg, force } => json!({ "drag": leg, "force": force }),
    }
}

/// A load of the file: its whole force, and the rectangle, line or point it is spread over, from the top's middle.
fn load(model: &Model, load: &Load) -> Value {
    let (l, w) = (model.params.top.length, model.params.top.width);
    let [from, to] = match load.on {
        Spread::Whole => [[0.0, 0.0], [l, w]],
        Spread::Rectangle(a, b) => [a, b],
        Spread::Edge(Side::Front) => [[0.0, 0.0], [l, 0.0]],
        Spread::Edge(Side::Back) => [[0.0, w], [l, w]],
        Spread::Edge(Side::Left) => [[0.0, 0.0], [0.0, w]],
        Spread::Edge(Side::Right) => [[l, 0.0], [l, w]],
        Spread::Point(at) => return at_point(model, at, load.direction.map(|d| d * load.force)),
    };
    let centred = |p: [f64; 2]| [p[0] - l / 2.0, p[1] - w / 2.0];
    json!({ "force": load.direction.map(|d| d * load.force), "from": centred(from), "to": centred(to) })
}

/// A force on the show face; `at` counts from the corner at -x -y.
fn at_point(model: &Model, at: [f64; 2], force: [f64; 3]) -> Value {
    let t = &model.params.top;
    json!({ "force": force, "at": [at[0] - t.length / 2.0, at[1] - t.width / 2.0, model.params.height] })
}

//! Loads of the file on the frame.

use super::table::{Built, DOWN};
use crate::fem::{Case, FrameError};
use crate::model::{Action, Model};
use crate::params::{Side, Spread};

/// World place on the show face of a point measured from the corner at -x -y, mm.
pub(super) fn on_face(model: &Model, at: [f64; 2]) -> [f64; 3] {
    let t = &model.params.top;
    [at[0] - t.length / 2.0, at[1] - t.width / 2.0, model.params.height]
}

/// The loads of a list of actions.
pub(super) fn loads(model: &Model, built: &Built, actions: &[Action]) -> Result<Case, FrameError> {
    let mut case = Case::new();
    for action in actions {
        match action {
            Action::OwnWeight => case.gravity(DOWN),
            Action::Push { at, force } => case.point(&built.frame, built.plate, on_face(model, *at), *force)?,
            Action::Drag { leg, force } => case.force(built.legs[*leg].foot, *force),
            Action::Load(i) => add_load(model, built, &model.params.loads[*i], &mut case)?,
        }
    }
    Ok(case)
}

pub(super) fn add_load(
    model: &Model,
    built: &Built,
    load: &crate::params::Load,
    case: &mut Case,
) -> Result<(), FrameError> {
    let (l, w) = (model.params.top.length, model.params.top.width);
    let force = load.direction.map(|d| d * load.force);
    let plane = |p: [f64; 2]| [p[0] - l / 2.0, p[1] - w / 2.0];
    match load.on {
        Spread::Whole => case.pressure(&built.frame, built.plate, force.map(|f| f / (l * w))),
        Spread::Rectangle(a, b) => {
            let (low, high) = ([a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]);
            let area = (high[0] - low[0]) * (high[1] - low[1]);
            case.patch(&built.frame, built.plate, plane(low), plane(high), force.map(|f| f / area))?;
        }
        Spread::Point(p) => case.point(&built.frame, built.plate, on_face(model, p), force)?,
        Spread::Edge(side) => {
            let [from, to, length] = match side {
                Side::Front => [[0.0, 0.0], [l, 0.0], [l, 0.0]],
                Side::Back => [[0.0, w], [l, w], [l, 0.0]],
                Side::Left => [[0.0, 0.0], [0.0, w], [w, 0.0]],
                Side::Right => [[l, 0.0], [l, w], [w, 0.0]],
            };
            case.line(&built.frame, built.plate, plane(from), plane(to), force.map(|f| f / length[0]))?;
        }
    }
    Ok(())
}

//! Load cases: what the file says, what is always added, and how they act together.

use super::Model;
use super::added::{self, FROM_EDGE, SWAY_PUSH, Test};
use crate::params::{Duration, Load, Params, Spread};

/// One thing that acts.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Own weight of everything.
    OwnWeight,
    /// A load of the file, by index.
    Load(usize),
    /// A force on the show face, mm from the corner at -x -y, N.
    Push {
        /// Where.
        at: [f64; 2],
        /// Force vector, N.
        force: [f64; 3],
    },
    /// A horizontal force at a foot that slides, by leg index, N.
    Drag {
        /// Index of the leg.
        leg: usize,
        /// Force vector, N.
        force: [f64; 3],
    },
}

/// What a case is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Stresses, and sag where it lasts.
    Strength,
    /// Sway only.
    Sway,
}

/// Actions together.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Name, unique, as the report shows it.
    pub name: String,
    /// What acts.
    pub actions: Vec<Action>,
    /// How long the shortest of them lasts.
    pub lasts: Duration,
    /// What it is for.
    pub purpose: Purpose,
    /// The load that is always added, where it is one.
    pub test: Option<Test>,
}

/// All cases, in a fixed order.
///
/// Rule (judgement): each load of the file acts with own weight and every load that lasts at least as long; loads that are
/// always added act with own weight and what stays for years, those that come again and again alone. Standards put a mass on the table so that it does not tip;
/// here what stays on it holds it down, and a force is no more than what just does not tip it.
#[must_use]
pub(super) fn cases(model: &Model) -> Vec<Case> {
    let params = &model.params;
    let mut all = vec![case("own weight", vec![Action::OwnWeight], Duration::Years)];
    let lasting: Vec<usize> = with_lasting(params, Duration::Years);
    if !lasting.is_empty() {
        all.push(case("everything that stays", standing(params), Duration::Years));
    }
    for (i, load) in params.loads.iter().enumerate().filter(|(_, l)| l.lasts != Duration::Years) {
        let mut actions = vec![Action::OwnWeight];
        actions.extend(
            with_lasting(params, load.lasts)
                .into_iter()
                .filter(|k| *k != i && params.loads[*k].lasts > load.lasts)
                .map(Action::Load),
        );
        actions.push(Action::Load(i));
        all.push(case(&load.name, actions, load.lasts));
    }
    for added in added::added(params) {
        all.extend(of_test(model, added.load, added.size));
    }
    for (name, at, unit) in edge_pushes(params).into_iter().filter(|(n, _, _)| !n.contains('-')) {
        let actions = vec![Action::Push { at, force: unit.map(|u| u * SWAY_PUSH) }];
        all.push(Case {
            purpose: Purpose::Sway,
            ..case(&format!("sway {SWAY_PUSH} N {name}"), actions, Duration::Minutes)
        });
    }
    unique(&mut all);
    all
}

/// Least force that is worth a case, N.
const LEAST: f64 = 1.0;

/// The cases of a load that is always added; none of those that only tip or sway.
fn of_test(model: &Model, test: Test, size: f64) -> Vec<Case> {
    let mut all = Vec::new();
    let mut add = |name: &str, action: Action, lasts: Duration| {
        // What stays does not come again: it is judged by its own case.
        let mut actions = if lasts == Duration::Repeated { Vec::new() } else { standing(&model.params) };
        actions.push(action);
        all.push(Case { test: Some(test), ..case(name, actions, lasts) });
    };
    match test {
        Test::Anywhere => {
            let [l, w] = [model.params.top.length, model.params.top.width];
            for at in model.tried_points(FROM_EDGE) {
                let force = size.min(model.weight_that_tips([at[0] - l / 2.0, at[1] - w / 2.0])).floor();
                if force >= LEAST {
                    let name = format!("{force} N at {:.0} mm along, {:.0} mm across", at[0], at[1]);
                    add(&name, Action::Push { at, force: [0.0, 0.0, -force] }, Duration::Minutes);
                }
            }
        }
        Test::Sideways | Test::Again => {
            for (name, at, unit) in edge_pushes(&model.params) {
                let force = size.min(model.push_that_tips([unit[0], unit[1]])).floor();
                if force >= LEAST {
                    let (times, lasts) = match test {
                        Test::Again => (", 10,000 times", Duration::Repeated),
                        _ => ("", Duration::Minutes),
                    };
                    let push = Action::Push { at, force: unit.map(|u| u * force) };
                    add(&format!("push {force} N {name}{times}"), push, lasts);
                }
            }
        }
        Test::Dragged | Test::Knocked => {
            let friction = model.params.foot.friction;
            for (leg, stands) in model.on_each_foot().into_iter().enumerate() {
                let held = if test == Test::Dragged { friction * stands } else { f64::INFINITY };
                let force = size.min(held).floor();
                let word = if test == Test::Dragged { "drag" } else { "knock" };
                for (name, unit) in LEVEL.into_iter().filter(|_| force >= LEAST) {
                    let pull = Action::Drag { leg, force: unit.map(|u| u * force) };
                    add(&format!("{word} {force} N on leg {} along {name}", leg + 1), pull, Duration::Minutes);
                }
            }
        }
        Test::Edge | Test::Child | Test::Tilt | Test::Sway => {}
    }
    all
}

/// Level directions, as unit vectors.
const LEVEL: [(&str, [f64; 3]); 4] =
    [("x", [1.0, 0.0, 0.0]), ("-x", [-1.0, 0.0, 0.0]), ("y", [0.0, 1.0, 0.0]), ("-y", [0.0, -1.0, 0.0])];

fn case(name: &str, actions: Vec<Action>, lasts: Duration) -> Case {
    Case { name: name.to_owned(), actions, lasts, purpose: Purpose::Strength, test: None }
}

/// Own weight and what stays for years.
#[must_use]
pub fn standing(params: &Params) -> Vec<Action> {
    let mut all = vec![Action::OwnWeight];
    all.extend(with_lasting(params, Duration::Years).into_iter().map(Action::Load));
    all
}

fn with_lasting(params: &Params, lasts: Duration) -> Vec<usize> {
    params.loads.iter().enumerate().filter(|(_, l)| l.lasts >= lasts && l.shaking.is_none()).map(|(i, _)| i).collect()
}

/// Pushes at the middle of each edge, along x and y both ways; mm from the corner at -x -y.
fn edge_pushes(params: &Params) -> [(&'static str, [f64; 2], [f64; 3]); 4] {
    let (l, w) = (params.top.length, params.top.width);
    [
        ("along x", [0.0, w / 2.0], [1.0, 0.0, 0.0]),
        ("along -x", [l, w / 2.0], [-1.0, 0.0, 0.0]),
        ("along y", [l / 2.0, 0.0], [0.0, 1.0, 0.0]),
        ("along -y", [l / 2.0, w], [0.0, -1.0, 0.0]),
    ]
}

/// Equal names get a number, so that a case can be found by its name.
fn unique(cases: &mut [Case]) {
    for i in 1..cases.len() {
        let same = cases[..i]
            .iter()
            .filter(|c| c.name == cases[i].name || c.name.starts_with(&format!("{} (", cases[i].name)))
            .count();
        if same > 0 {
            cases[i].name = format!("{} ({})", cases[i].name, same + 1);
        }
    }
}

/// Middle of a load on the show face, mm from the corner at -x -y.
#[must_use]
pub fn middle(params: &Params, load: &Load) -> [f64; 2] {
    use crate::params::Side;
    let (l, w) = (params.top.length, params.top.width);
    match load.on {
        Spread::Whole => [l / 2.0, w / 2.0],
        Spread::Rectangle(a, b) => [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0],
        Spread::Point(p) => p,
        Spread::Edge(Side::Front) => [l / 2.0, 0.0],
        Spread::Edge(Side::Back) => [l / 2.0, w],
        Spread::Edge(Side::Left) => [0.0, w / 2.0],
        Spread::Edge(Side::Right) => [l, w / 2.0],
    }
}

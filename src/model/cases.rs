//! Load cases: what the file says, what is always added, and how they act together.

use crate::params::{Duration, Load, Params, Spread};

/// Push at the top's edge for strength, N (judgement: a person who leans or stumbles).
pub const PUSH: f64 = 200.0;
/// Push at the top's edge for sway, N (judgement: a hand that works on the top).
pub const SWAY_PUSH: f64 = 50.0;
/// Pull on one leg at the floor, N (judgement: a table dragged by two people).
pub const DRAG: f64 = 100.0;

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
}

/// All cases, in a fixed order.
///
/// Rule (judgement): each load of the file acts with own weight and every load that lasts at least as long; pushes and
/// drags act with own weight and what stays for years.
#[must_use]
pub fn cases(params: &Params, legs: usize) -> Vec<Case> {
    let standing = standing(params);
    let mut all = vec![case("own weight", vec![Action::OwnWeight], Duration::Years)];
    let lasting: Vec<usize> = with_lasting(params, Duration::Years);
    if !lasting.is_empty() {
        all.push(case("everything that stays", standing.clone(), Duration::Years));
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
    for (name, at, unit) in edge_pushes(params) {
        let mut actions = standing.clone();
        actions.push(Action::Push { at, force: unit.map(|u| u * PUSH) });
        all.push(case(&format!("push {PUSH} N {name}"), actions, Duration::Minutes));
    }
    for leg in 0..legs {
        for (name, unit) in
            [("x", [1.0, 0.0, 0.0]), ("-x", [-1.0, 0.0, 0.0]), ("y", [0.0, 1.0, 0.0]), ("-y", [0.0, -1.0, 0.0])]
        {
            let mut actions = standing.clone();
            actions.push(Action::Drag { leg, force: unit.map(|u| u * DRAG) });
            all.push(case(&format!("drag {DRAG} N on leg {} along {name}", leg + 1), actions, Duration::Minutes));
        }
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

fn case(name: &str, actions: Vec<Action>, lasts: Duration) -> Case {
    Case { name: name.to_owned(), actions, lasts, purpose: Purpose::Strength }
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

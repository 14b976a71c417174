//! A kit for tests: the built-in example, its real parts, made-up forces and checks.

use crate::checks::{Caution, Check, Checked, Remedy, When};
use crate::mechanics::{CaseForces, Forces, Frequency, Solution, TopStress};
use crate::model::Model;
use crate::output::{Kit, Printed, kit};
use crate::params;
use crate::source::Source;

/// Owns what a [`Kit`] borrows.
pub struct Sample {
    pub model: Model,
    pub forces: Forces,
    pub checked: Checked,
    pub printed: Vec<Printed>,
    pub text: String,
}

impl Sample {
    /// The built-in example with another title.
    pub fn new(title: &str) -> Self {
        let text = params::built_in().replace("4.5 x 30 mm", "4.5 x 35 mm");
        let mut read = params::read(&text).expect("the built-in example is right");
        read.title = title.into();
        let model = Model::new(&read).expect("the built-in example can be laid out");
        let parts = crate::parts::all(&model).expect("its parts can be drawn");
        let printed = kit::print(parts, &|_| {}).expect("its parts are sound");
        let forces = forces(&model);
        Self { model, forces, checked: checked(), printed, text }
    }

    /// The same with the forces of the frame itself.
    pub fn solved(title: &str) -> Self {
        let mut sample = Self::new(title);
        sample.forces = crate::mechanics::solve(&sample.model).expect("the built-in example can be solved");
        sample
    }

    pub fn kit(&self) -> Kit<'_> {
        Kit {
            model: &self.model,
            forces: &self.forces,
            checked: &self.checked,
            printed: &self.printed,
            text: &self.text,
        }
    }
}

fn forces(model: &Model) -> Forces {
    let estimates =
        crate::mechanics::estimate::estimates(model).expect("the built-in bracket is one the formulas take");
    let solution = |name, soft: f64| Solution {
        name,
        joints: estimates.joints[0].clone(),
        cases: model.cases.iter().map(|c| case(model, &c.name, soft)).collect(),
        critical_factor: (soft > 1.0).then_some(7.345_678_9),
        modes: vec![
            Frequency { hertz: 4.123_456_78 / soft, shape: "sway along y" },
            Frequency { hertz: 5.2, shape: "twist" },
        ],
        shaking: Vec::new(),
        imbalance: 1e-11,
    };
    Forces {
        joint_stiffness: [2.1e6, f64::INFINITY],
        outside_studied: vec!["four bosses".into()],
        solutions: vec![solution("soft", 1.8), solution("stiff", 1.0)],
        critical_after_life: Some(4.2),
        play: [1.31, 1.52],
        mass: 100.0,
        centre: [0.0, 0.0, 820.0],
        empty: (38.0, [0.0, 0.0, 700.0]),
        feet: model.legs.iter().map(|l| l.frame.on_axis(0.0)).map(|p| [p.x, p.y]).collect(),
    }
}

fn case(model: &Model, name: &str, soft: f64) -> CaseForces {
    let along = |axis: &str| if name.ends_with(axis) { 1.4 * soft } else { 0.02 };
    let sway = [along("along x"), along("along y")];
    let (l, w) = (model.params.top.length, model.params.top.width);
    let z = model.params.height;
    let heads = model.legs.iter().map(|k| [k.frame.head.x, k.frame.head.y, k.frame.head.z]);
    let grid = (0..35).map(|i| [(i % 7) as f64 / 6.0 * l - l / 2.0, (i / 7) as f64 / 4.0 * w - w / 2.0, z]);
    let moved = |p: [f64; 3]| (p, [sway[0], sway[1], -0.8 * soft * (1.0 - (2.0 * p[0] / l).powi(2))]);
    CaseForces {
        sway,
        sway_first_order: sway,
        twist: 0.4,
        sag: 0.8 * soft,
        sag_at: [l / 2.0, w / 2.0],
        reactions: vec![[0.0, 0.0, 250.0]; model.legs.len()],
        joints: vec![[1.0, 2.0, 250.0, 3.0, 4.0, 0.0]; model.legs.len()],
        faces: Vec::new(),
        borne: Vec::new(),
        tubes: Vec::new(),
        rails: Vec::new(),
        top: TopStress::default(),
        shape: heads.chain(grid).map(moved).collect(),
    }
}

fn checked() -> Checked {
    let book = Source::from_memory("EN 1995-1-1", "2004+A2:2014");
    let plain = |name, place: &str, when, demand, clause, unit| Check {
        name,
        place: place.into(),
        case: "push 200 N along x (soft joints)".into(),
        when,
        demand,
        capacity: 200.0,
        unit,
        clause,
        steps: vec!["F = M / e = 8400 N mm / 42.0 mm = 200 N".into(), "a < b & c".into()],
        sources: vec![Source::read("Wood Handbook", "FPL-GTR-282").at("eq. 8-9"), clause],
    };
    let why = Source::JUDGEMENT.at("what people notice");
    Checked {
        checks: vec![
            plain("screws: withdrawal", "leg 2, screw 5", When::AfterLife, 184.0, book.at("8.7.2"), "N"),
            plain("screws: withdrawal", "leg 2, screw 5", When::Now, 150.0, book.at("8.7.2"), "N"),
            plain("tube: stress", "leg 1, tube 2", When::Now, 120.0, Source::STATICS.at("bending"), "MPa"),
            plain("sway", "top, along x", When::Now, 90.0, why, "mm"),
        ],
        remedies: vec![Remedy {
            change: "ten screws instead of eight".into(),
            edits: vec![("/bracket/screws/count".into(), 10.into())],
            cures: "screws: withdrawal".into(),
            utilisation: 0.74,
        }],
        cautions: vec![
            Caution { step: "drilling", heading: "Hidden metal", text: "Old boards hide nails. Search first.".into() },
            Caution { step: "use", heading: "Children", text: "Fix the table to the wall.".into() },
        ],
    }
}

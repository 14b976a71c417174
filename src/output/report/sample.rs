//! A kit for tests: the built-in example with its parts and forces, and made-up checks.

use std::sync::OnceLock;

use crate::checks::{
    Caution, Check, CheckId, Checked, Counted, Cures, EdgePlace, Fact, Measure, Note, Remedy, Subject, Tip, Tips,
    Under, When,
};
use crate::clauses::working::equation;
use crate::mechanics::{Cache, Detail, Estimate, Forces, Unstudied};
use crate::model::Model;
use crate::output::{Kit, VerifiedMesh, kit};
use crate::params;
use crate::search::Variation;
use crate::source::Source;

/// Owns what a [`Kit`] borrows.
pub struct Sample {
    pub model: Model,
    pub forces: Forces,
    pub checked: Checked,
    pub varied: Variation,
    pub printed: Vec<VerifiedMesh>,
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
        let printed = kit::mesh_all(parts, &|_| {}).expect("its parts are sound");
        let forces = forces(&model);
        Self { model, forces, checked: checked(), varied: varied(), printed, text }
    }

    pub fn kit(&self) -> Kit<'_> {
        Kit {
            model: &self.model,
            forces: &self.forces,
            checked: &self.checked,
            varied: &self.varied,
            printed: &self.printed,
            text: &self.text,
        }
    }
}

fn varied() -> Variation {
    Variation {
        by_load: vec![(0.5, 0.46), (0.75, 0.6), (1.0, 0.92), (1.5, 1.3), (2.0, 1.9)],
        by_tube: vec![
            ("14 x 1.5 mm".into(), 1.4, false),
            ("16 x 1.5 mm".into(), 0.92, true),
            ("18 x 1.5 mm".into(), 0.7, false),
            ("20 x 2 mm".into(), 0.55, false),
        ],
        band: None,
    }
}

/// The frame's own forces, once for all tests, with round figures where tests ask for them.
fn forces(model: &Model) -> Forces {
    static SOLVED: OnceLock<Forces> = OnceLock::new();
    let mut forces = SOLVED
        .get_or_init(|| {
            crate::mechanics::solve(model, Detail::Full, &Cache::default()).expect("the example can be solved")
        })
        .clone();
    forces.joint_stiffness = [2.1e6, f64::INFINITY];
    forces.outside_studied = vec![Unstudied::Bosses];
    forces.play = [1.31, 1.52];
    for (solution, soft) in forces.solutions.iter_mut().zip([1.8, 1.0]) {
        solution.critical_factor = (soft > 1.0).then_some(7.345_678_9);
        for (case, forces) in model.cases.iter().zip(&mut solution.cases) {
            let along = |axis: &str| if case.name.ends_with(axis) { 1.4 * soft } else { 0.02 };
            forces.sway = [along("along x"), along("along y")];
            forces.sag = 0.8 * soft;
        }
    }
    forces
}

fn checked() -> Checked {
    let book = Source::EN_1995;
    let plain = |id, subject, when, demand, clause, unit| Check {
        id,
        subject,
        case: Under::Case { name: "push 200 N along x".into(), joints: Estimate::Soft },
        when,
        demand,
        capacity: 200.0,
        unit,
        clause,
        working: vec![
            equation("F = M / e", [("M", 8400.0, "N mm"), ("e", 42.0, "mm")], 200.0, "N").into(),
            Fact::ServiceLimit { filament: "a < b & c".into(), tg: 70.0, hdt: 65.0, limit: 55.0 }.into(),
        ],
        sources: vec![Source::WOOD_HANDBOOK.at("eq. 8-9"), clause],
    };
    let tip = Tip { load: 31.0, place: EdgePlace::FrontLeft };
    let (why, screw) = (Source::JUDGEMENT.at("what people notice"), Subject::Screw { leg: 1, screw: 4 });
    Checked {
        checks: vec![
            plain(CheckId::ScrewWithdrawal, screw, When::AfterLife, 184.0, book.at("8.7.2"), "N"),
            plain(CheckId::ScrewWithdrawal, screw, When::Now, 150.0, book.at("8.7.2"), "N"),
            plain(
                CheckId::TubeStress,
                Subject::Tube { leg: 0, tube: 1 },
                When::Now,
                120.0,
                Source::STATICS.at("bending"),
                "MPa",
            ),
            plain(CheckId::SwayLength, Subject::Top, When::Now, 90.0, why, "mm"),
        ],
        tear: None,
        remedies: vec![Remedy {
            measures: vec![Measure::Count { of: Counted::Screws, to: 10 }],
            edits: vec![params::Edit::put("bracket.screws.count", 10.into())],
            cures: Cures::These(vec![CheckId::ScrewWithdrawal]),
            utilisation: 0.74,
        }],
        cautions: vec![Caution::HiddenMetal, Caution::MainsEquipment],
        notes: vec![Note::Tips(Tips { empty: Some(tip), loaded: Some(tip) })],
    }
}

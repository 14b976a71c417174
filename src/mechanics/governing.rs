//! The loads that brackets must bear, and what they bear under them.

use super::order::rank;
use super::{PartModels, Solution, exceeds};
use crate::clauses::screw_group::Loads;
use crate::model::{BracketDesign, Case, Model, Purpose};

/// Loads of each duration for which the brackets' plates are worked out, by size of their moment (judgement: the plate's
/// directions differ by less than the fourth largest moment does).
const GOVERNING: usize = 4;
/// A load on a bracket: how long it lasts, its size, and where it is found.
#[derive(Clone, Copy)]
struct Governing {
    lasts: crate::params::Duration,
    size: f64,
    solution: usize,
    case: usize,
    leg: usize,
}

/// Works out what the brackets bear in the governing loads of each duration.
pub(super) fn demands(model: &Model, plates: &PartModels, solutions: &mut [Solution]) {
    let governing = governing(model, solutions);
    let face = |h: &Governing| &solutions[h.solution].cases[h.case].faces[h.leg];
    let asked = |h: &Governing| {
        let kind = model.legs[h.leg].bracket.kind;
        (kind, at_mouth(&model.brackets[kind].design, face(h)))
    };
    let results = plates.demands(&governing.iter().map(asked).collect::<Vec<_>>());
    for (h, borne) in governing.iter().zip(results) {
        solutions[h.solution].cases[h.case].bracket_demands[h.leg] = Some(borne);
    }
}

/// The loads with the largest moment on the plate, a pull counted at the lever of half the plate; of a duration only those
/// that are harder than what lasts longer, since strength falls with time. What comes 10,000 times takes more strength than
/// some of what stays, and is looked at by itself.
fn governing(model: &Model, solutions: &[Solution]) -> Vec<Governing> {
    let mut all: Vec<Governing> = Vec::new();
    for (solution, solved) in solutions.iter().enumerate() {
        for (index, case) in strength(model) {
            all.extend(solved.cases[index].faces.iter().enumerate().map(|(leg, face)| {
                let lever = model.brackets[model.legs[leg].bracket.kind].design.length / 2.0;
                let size = face.mx.hypot(face.my) + lever * face.fz.max(0.0);
                Governing { lasts: case.lasts, size, solution, case: index, leg }
            }));
        }
    }
    all.sort_by_key(|h| std::cmp::Reverse((h.lasts, rank(h.size))));
    let mut out: Vec<Governing> = Vec::new();
    let mut floor = 0.0;
    for same in all.chunk_by(|a, b| a.lasts == b.lasts) {
        let alone = same[0].lasts == crate::params::Duration::Repeated;
        out.extend(same.iter().filter(|h| alone || exceeds(h.size, floor)).take(GOVERNING));
        floor = same.get(GOVERNING - 1).map_or(floor, |h| h.size.max(floor));
    }
    out
}

/// Forces at the wood face moved to the bore's mouth.
fn at_mouth(design: &BracketDesign, face: &Loads) -> Loads {
    let height = design.plate + design.sockets[0].height();
    Loads { mx: face.mx + height * face.fy, my: face.my - height * face.fx, ..*face }
}

/// Cases that count for strength.
pub fn strength(model: &Model) -> impl Iterator<Item = (usize, &Case)> {
    model.cases.iter().enumerate().filter(|(_, c)| c.purpose == Purpose::Strength)
}

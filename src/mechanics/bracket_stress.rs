//! Stresses of a bracket from how its plate stands: roots of bosses, toes of gussets, the wood face.

use std::f64::consts::PI;

use super::bracket_plate::{Face, PlateState};
use super::bracket_shape::BracketShape;
use crate::model::Gusset;

/// Wood face over the geometric mean of the highest element and the highest neighbourhood, without gussets. Fitted.
const FACE_PLAIN: f64 = 0.945;
/// The same with gussets. Fitted.
const FACE_GUSSETS: f64 = 1.02;
/// Wood face over the plate model for several bosses, where the peak is at a screw. Fitted.
const FACE_SEVERAL: f64 = 1.04;

/// Wider band on toes where screws stand within the reach of the gussets: judgement from a fresh bracket that missed
/// by 1.8.
const TOE_SCREWS_WITHIN: f64 = 1.3;

/// Reach of an element's neighbours, mm: one and a half elements.
const NEIGHBOUR: f64 = 5.25;

/// Root stress with webs over the plain sum: webs bring force in at one side. Fitted.
const WEB_ROOT: f64 = 1.18;
/// Growth of the boss's own share with what its gussets leave. Fitted.
const ROOT_POWER: f64 = 1.46;
/// Toe stress over the bending stress of the gusset's foot, and its growth with run/plate and rise/run. Fitted.
const TOE: f64 = 0.166;
const TOE_RUN: f64 = 0.568;
const TOE_RISE: f64 = 0.366;
/// Height above the plate of the section for the root, mm: that of the solid models.
const ROOT_AT: f64 = 2.0;

/// Linear stress on the solid section of each boss, less what the gussets take round it. [`super::joint::BOSS_ROOT`].
pub(super) fn root(s: &BracketShape, state: &PlateState) -> f64 {
    let d = s.boss_outer;
    let (area, modulus) = (PI / 4.0 * d * d, PI / 32.0 * d.powi(3));
    let walls = if s.webs.is_empty() { 1.0 } else { WEB_ROOT };
    let each = state.bosses.iter().enumerate().map(|(i, [n, x, y])| {
        let stays = stays_in_boss(s, state, i);
        walls * (n.abs() / area + stays * x.hypot(*y) / modulus)
    });
    each.fold(0.0, f64::max)
}

/// Part of a boss's moment that does not go round through its gussets.
fn stays_in_boss(s: &BracketShape, state: &PlateState, boss: usize) -> f64 {
    let radius = s.boss_outer / 2.0;
    let [_, x, y] = state.bosses[boss];
    let own = s.gussets.iter().zip(&state.ribs).filter(|(g, _)| g.boss == boss);
    let round: f64 = own.map(|(g, [n, m])| (n * radius + m) * (y * g.angle.cos() - x * g.angle.sin())).sum();
    let share = round / (x * x + y * y).max(f64::MIN_POSITIVE);
    (1.0 - share).clamp(0.0, 1.0).powf(ROOT_POWER)
}

/// Stress at the worst toe, from the moment its gusset hands to the plate. [`super::joint::GUSSET_TOE`].
pub(super) fn toe(s: &BracketShape, state: &PlateState) -> Option<f64> {
    let toes = s.gussets.iter().zip(&state.ribs).map(|(g, [_, moment])| {
        let modulus = g.thickness * foot_run(g).powi(2) / 6.0;
        let spread = (g.run / s.plate).powf(TOE_RUN) * (g.rise / g.run).powf(TOE_RISE);
        TOE * spread * moment.abs() / modulus
    });
    toes.reduce(f64::max)
}

/// Screws within the reach of the gussets make the inner edge of a foot govern, which the formula does not follow.
pub(super) fn toe_band(s: &BracketShape, band: [f64; 2]) -> [f64; 2] {
    let radius = s.boss_outer / 2.0;
    let within = |g: &Gusset| {
        let [x, y] = s.bosses[g.boss];
        s.screws.iter().any(|p| (p[0] - x).hypot(p[1] - y) < radius + g.run)
    };
    let wider = if s.gussets.iter().any(within) { TOE_SCREWS_WITHIN } else { 1.0 };
    band.map(|b| b * wider)
}

/// Largest stress of the wood face: either sign for one boss, tension for several, as the solid models were read.
pub(super) fn face(s: &BracketShape, state: &PlateState) -> (f64, [f64; 2]) {
    if s.bosses.len() > 1 {
        let (peak, at) = highest(state.face.iter().map(|f| (f.high, f.at)));
        return (FACE_SEVERAL * peak, at);
    }
    let scale = if s.gussets.is_empty() { FACE_PLAIN } else { FACE_GUSSETS };
    let (peak, at) = highest(state.face.iter().filter(|f| !f.ribbed).map(|f| (either(f), f.at)));
    let (spread, _) = highest(state.face.iter().map(|f| (around(&state.face, f.at), f.at)));
    (scale * (peak * spread).sqrt(), at)
}

fn either(face: &Face) -> f64 {
    face.high.max(-face.low)
}

/// Mean over an element and its neighbours; the faces lie row by row.
fn around(face: &[Face], [x, y]: [f64; 2]) -> f64 {
    let rows = &face[face.partition_point(|f| f.at[1] <= y - NEIGHBOUR)..];
    let rows = &rows[..rows.partition_point(|f| f.at[1] < y + NEIGHBOUR)];
    let near = rows.iter().filter(|f| (f.at[0] - x).abs() < NEIGHBOUR);
    let (sum, count) = near.fold((0.0, 0.0), |(sum, count), f| (sum + either(f), count + 1.0));
    sum / count
}

fn highest(values: impl Iterator<Item = (f64, [f64; 2])>) -> (f64, [f64; 2]) {
    values.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, [0.0; 2]))
}

/// Length of a gusset's foot at the height of the section, mm.
fn foot_run(g: &Gusset) -> f64 {
    g.run * (1.0 - ROOT_AT / g.rise).max(0.1)
}

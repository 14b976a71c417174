//! Loads that are always added: those of table tests, by how hard the table is used. Figures are remembered, not read.

use crate::params::{Params, Use};
use crate::source::{Clause, Source};

/// Push at the top's edge for sway, N (judgement: a hand that works on the top).
pub const SWAY_PUSH: f64 = 50.0;
/// Mass of a child who hangs on the edge, kg.
pub const CHILD: f64 = 27.0;
/// Tilt that the empty and the loaded table must stand, degrees.
pub const TILT: f64 = 10.0;

/// From the edges of the top to a weight put anywhere on it, mm.
pub const FROM_EDGE: f64 = 100.0;
/// From the edge of the top to the weight that must not tip it, mm.
pub const EDGE_LOAD_AT: f64 = 50.0;

const EN_1730: Source = Source::from_memory("EN 12521 and EN 1730, domestic tables", "2023, 2012");
const EN_15372: Source = Source::from_memory("EN 15372, tables that are not for homes", "2016");

const HALF: Clause = Source::JUDGEMENT.at(
    "light use: half of what tables for homes are tested with, for tables that nobody leans on with his weight; between \
        what the file says alone and a test",
);

/// A load that is always added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Added {
    /// What it is.
    pub load: Test,
    /// How large, N; kg for a child, degrees for the tilt.
    pub size: f64,
    /// Where it comes from.
    pub clause: Clause,
}

/// What a load that is always added does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Test {
    /// A weight anywhere on the top, minutes.
    Anywhere,
    /// A push at the show face, feet stopped, minutes.
    Sideways,
    /// The same 10,000 times.
    Again,
    /// A pull at one foot while the table is dragged, no more than friction holds.
    Dragged,
    /// A blow or a threshold against one foot, whatever friction holds.
    Knocked,
    /// A weight near the edge of the empty table, which must not tip.
    Edge,
    /// A child at the edge of the empty table.
    Child,
    /// A floor that is not level.
    Tilt,
    /// A hand's push, for sway alone.
    Sway,
}

/// All of them for a table, in the order of telling.
#[must_use]
pub fn added(params: &Params) -> Vec<Added> {
    let of = |load, size, clause| Added { load, size, clause };
    let mut all = match params.usage {
        Use::Light => vec![
            of(Test::Anywhere, 500.0, HALF),
            of(Test::Sideways, 150.0, HALF),
            of(Test::Again, 75.0, HALF),
            of(Test::Dragged, 100.0, DRAGGED),
        ],
        Use::Household => vec![
            of(Test::Anywhere, 1000.0, EN_1730.at("vertical static load on the main surface: 1000 N, ten times")),
            of(Test::Sideways, 300.0, EN_1730.at("horizontal static load, feet stopped: 300 N, ten times")),
            of(Test::Again, 150.0, EN_1730.at("horizontal durability, feet stopped: 150 N, 10,000 times")),
            of(Test::Dragged, 100.0, DRAGGED),
            of(Test::Edge, 200.0, EN_1730.at("stability under a vertical load at 50 mm from the edge: 200 N")),
        ],
        Use::Hard => vec![
            of(Test::Anywhere, 1250.0, EN_15372.at("vertical static load: 1250 N")),
            of(Test::Sideways, 400.0, EN_15372.at("horizontal static load: 400 N at the lowest of three levels")),
            of(Test::Again, 150.0, EN_1730.at("horizontal durability, feet stopped: 150 N, 10,000 times")),
            of(Test::Knocked, 222.0, KNOCKED),
            of(Test::Edge, 400.0, EN_1730.at("stability under a vertical load at 50 mm from the edge: 400 N at most")),
        ],
    };
    all.extend(params.place.children.then(|| of(Test::Child, CHILD, CHILD_CLAUSE)));
    all.push(of(Test::Tilt, TILT, TILT_CLAUSE));
    all.push(of(Test::Sway, SWAY_PUSH, SWAY_CLAUSE));
    all
}

const DRAGGED: Clause = Source::JUDGEMENT
    .at("a table dragged by two people: 100 N on one foot, no more than friction holds under what stands on it, \
        foot.friction times its share of the weight");
const KNOCKED: Clause = Source::from_memory("BIFMA X5.5, desk and table products", "")
    .at("leg strength, functional: 50 lbf (222 N) at the end of one leg, each way; friction is not counted on");
/// A child at the edge.
pub const CHILD_CLAUSE: Clause = Source::from_memory("ASTM F2057, clothing storage units", "2023")
    .at("60 lb (27 kg) stands for a child of five years; used here for a table's edge");
/// A floor that is not level.
pub const TILT_CLAUSE: Clause = Source::JUDGEMENT.at("10 degrees: an uneven floor and a nudge together");
const SWAY_CLAUSE: Clause = Source::JUDGEMENT.at("50 N: a hand that works on the top");

/// A sideways force, or a weight near the edge, is no more than what just does not tip the table.
pub const NOT_TIPPED: Clause = EN_1730.at("a force that would tip the table is lowered until it just does not");

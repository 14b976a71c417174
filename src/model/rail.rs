//! Rails: which legs they join, where, and how long they are cut.

use nalgebra::Vector3;

use super::Model;
use super::leg::Frame;
use crate::params::{Params, Run, Tube};

/// A rail before it is cut: which legs it joins and at which height.
#[derive(Clone, Debug)]
pub struct Line {
    /// Index in the file's list.
    pub from_file: usize,
    /// Direction asked for.
    pub run: Run,
    /// Height of the axis above the floor, mm.
    pub height: f64,
    /// Indices of the legs.
    pub legs: [usize; 2],
    /// Points of the two legs' axes at that height, mm.
    pub ends: [Vector3<f64>; 2],
    /// The tube.
    pub tube: Tube,
}

/// A rail in place.
#[derive(Clone, Debug)]
pub struct Rail {
    /// Index in the file's list.
    pub from_file: usize,
    /// Direction asked for.
    pub run: Run,
    /// Height of the axis above the floor, mm.
    pub height: f64,
    /// Indices of the legs it joins.
    pub legs: [usize; 2],
    /// Index of the tie on each of the two legs.
    pub ties: [usize; 2],
    /// Ends of the tube's axis, world, mm.
    pub ends: [Vector3<f64>; 2],
    /// Length to which it is cut, mm.
    pub length: f64,
    /// The tube.
    pub tube: Tube,
}

impl Rail {
    /// Its name in lists.
    #[must_use]
    pub fn name(&self) -> &'static str {
        rail_name(self.run)
    }
}

/// What rails of a run are called in lists.
#[must_use]
pub const fn rail_name(run: Run) -> &'static str {
    match run {
        Run::AlongLength => "rail along length",
        Run::AlongWidth => "rail along width",
    }
}

/// Pairs of neighbouring legs in a run, by index.
fn pairs(count: usize, run: Run) -> &'static [[usize; 2]] {
    match (count, run) {
        (3, Run::AlongLength) => &[[2, 1]],
        (3, Run::AlongWidth) => &[[0, 1], [0, 2]],
        (6, Run::AlongLength) => &[[0, 1], [1, 2], [5, 4], [4, 3]],
        (6, Run::AlongWidth) => &[[0, 5], [1, 4], [2, 3]],
        (_, Run::AlongLength) => &[[0, 1], [3, 2]],
        (_, Run::AlongWidth) => &[[0, 3], [1, 2]],
    }
}

/// All rails, as lines between the legs' axes.
pub fn lines(params: &Params, frames: &[Frame]) -> Vec<Line> {
    let line = |i: usize, rail: &crate::params::Rail, legs: [usize; 2]| Line {
        from_file: i,
        run: rail.run,
        height: rail.above_floor,
        legs,
        ends: legs.map(|l| frames[l].on_axis(rail.above_floor)),
        tube: rail.tube.clone(),
    };
    let each = params.rails.iter().enumerate();
    each.flat_map(|(i, rail)| pairs(params.legs.count, rail.run).iter().map(move |legs| line(i, rail, *legs))).collect()
}

/// Heights at which rails meet this leg, ascending, each once, mm.
pub fn heights(lines: &[Line], leg: usize) -> Vec<f64> {
    let mut heights: Vec<f64> = lines.iter().filter(|l| l.legs.contains(&leg)).map(|l| l.height).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    heights
}

/// Unit vectors of the rails away from a leg at a tie's height, with their tubes.
pub fn at_tie(lines: &[Line], leg: usize, height: f64) -> Vec<(Vector3<f64>, Tube)> {
    lines
        .iter()
        .filter(|l| (l.height - height).abs() < 1e-9)
        .filter_map(|l| {
            let here = l.legs.iter().position(|k| *k == leg)?;
            Some(((l.ends[1 - here] - l.ends[here]).normalize(), l.tube.clone()))
        })
        .collect()
}

/// Cuts the rails: from socket floor to socket floor less the end play.
pub fn rails(model: &Model, lines: &[Line]) -> Vec<Rail> {
    lines.iter().filter_map(|line| rail(model, line)).collect()
}

fn rail(model: &Model, line: &Line) -> Option<Rail> {
    let along = (line.ends[1] - line.ends[0]).normalize();
    let tie = |end: usize| model.legs[line.legs[end]].ties.iter().position(|t| (t.height - line.height).abs() < 0.06);
    let ties = [tie(0)?, tie(1)?];
    let floor = |end: usize| socket_floor(model, line, end, ties[end], if end == 0 { along } else { -along });
    let play = model.params.cutting.end_play / 2.0;
    let ends = [line.ends[0] + along * (floor(0)? + play), line.ends[1] - along * (floor(1)? + play)];
    let length = (ends[1] - ends[0]).dot(&along);
    Some(Rail {
        from_file: line.from_file,
        run: line.run,
        height: line.height,
        legs: line.legs,
        ties,
        ends,
        length,
        tube: line.tube.clone(),
    })
}

/// Distance from the leg's axis to the floor of the socket on its tie that points along `away`, mm.
fn socket_floor(model: &Model, line: &Line, end: usize, tie: usize, away: Vector3<f64>) -> Option<f64> {
    let placed = &model.legs[line.legs[end]].ties[tie].part;
    let design = &model.ties[placed.kind].design;
    design
        .rails
        .iter()
        .find(|r| (placed.pose.rotation * Vector3::from(r.direction)).dot(&away) > 0.999)
        .map(|r| r.floor)
}

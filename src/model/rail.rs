//! Rails: which legs they join, where, and how long they are cut.

use nalgebra::Vector3;

use super::Model;
use super::leg::{self, Frame};
use crate::clauses::stability;
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

/// Legs whose places differ by less than this across a run stand in one row, mm: far below any distance of two legs.
const ROW: f64 = 1.0;

/// Pairs of neighbouring legs in a run, by index: next to each other in a row along it. Where no two legs stand in such a row,
/// the sides of the legs' outline that no row of the other run takes.
fn pairs(places: &[[f64; 2]], run: Run) -> Vec<[usize; 2]> {
    let rows = in_rows(places, run);
    if !rows.is_empty() {
        return rows;
    }
    let other = match run {
        Run::AlongLength => Run::AlongWidth,
        Run::AlongWidth => Run::AlongLength,
    };
    let across = in_rows(places, other);
    let k = axis(run);
    let of = |p: [f64; 2]| places.iter().position(|q| *q == p);
    let sides = stability::edges(places).into_iter().filter_map(|edge| Some([of(edge.from)?, of(edge.to)?]));
    let along = |[a, b]: [usize; 2]| if places[a][k] <= places[b][k] { [a, b] } else { [b, a] };
    let mut sides: Vec<[usize; 2]> =
        sides.filter(|[a, b]| !across.contains(&[*a, *b]) && !across.contains(&[*b, *a])).map(along).collect();
    sides.sort_unstable();
    sides
}

const fn axis(run: Run) -> usize {
    match run {
        Run::AlongLength => 0,
        Run::AlongWidth => 1,
    }
}

/// Neighbours in rows along a run, row by row.
fn in_rows(places: &[[f64; 2]], run: Run) -> Vec<[usize; 2]> {
    let (along, across) = (axis(run), 1 - axis(run));
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|a, b| places[*a][across].total_cmp(&places[*b][across]));
    let rows = order.chunk_by(|a, b| (places[*a][across] - places[*b][across]).abs() < ROW);
    rows.flat_map(|row| {
        let mut row = row.to_vec();
        row.sort_by(|a, b| places[*a][along].total_cmp(&places[*b][along]));
        row.windows(2).map(|pair| [pair[0], pair[1]]).collect::<Vec<_>>()
    })
    .collect()
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
    let places: Vec<[f64; 2]> = leg::stands(params).iter().map(|stand| stand.at).collect();
    each.flat_map(|(i, rail)| pairs(&places, rail.run).into_iter().map(move |legs| line(i, rail, legs))).collect()
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rails_join_neighbours_wherever_the_legs_stand() {
        let of = |places: &[[f64; 2]]| [Run::AlongLength, Run::AlongWidth].map(|run| pairs(places, run));
        let corners = [[-9.0, -4.0], [9.0, -4.0], [9.0, 4.0], [-9.0, 4.0]].map(|p| p.map(|c| 50.0 * c));
        assert_eq!(of(&corners), [vec![[0, 1], [3, 2]], vec![[0, 3], [1, 2]]]);
        let six = [[-9.0, -4.0], [0.0, -4.0], [9.0, -4.0], [9.0, 4.0], [0.0, 4.0], [-9.0, 4.0]];
        let six = six.map(|p| p.map(|c| 50.0 * c));
        assert_eq!(of(&six), [vec![[0, 1], [1, 2], [5, 4], [4, 3]], vec![[0, 5], [1, 4], [2, 3]]]);
        let three = [[0.0, -200.0], [450.0, 200.0], [-450.0, 200.0]];
        assert_eq!(of(&three), [vec![[2, 1]], vec![[0, 1], [0, 2]]]);
    }
}

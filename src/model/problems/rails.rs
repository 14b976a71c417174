//! Rails, ties and the heights they need, before they are drawn.

use std::collections::BTreeMap;

use super::super::free_stretch;
use super::super::leg::Frame;
use super::super::rail::Line;
use super::{legs, problem};
use crate::params::Params;
use crate::problem::{Problem, Suggestion};

/// Least free tube between two parts on a leg, mm (judgement: below it the parts could as well be one).
const LEAST_FREE: f64 = 40.0;
/// Least range of heights for a rail that is worth telling, mm (judgement: what a tape and a saw keep to).
const ROOM: f64 = 2.0;
/// Least angle between two rails on one tie, degrees (judgement: their blocks would run into one another).
const LEAST_RAIL_ANGLE: f64 = 55.0;

/// Problems of the rails and ties, before they are drawn.
pub(in super::super) fn rails(params: &Params, frames: &[Frame], lines: &[Line]) -> Vec<Problem> {
    let mut all: Vec<Problem> = leg_heights(params, frames).into_iter().collect();
    for rail in 0..params.rails.len() {
        let (key, of) = (format!("rails[{rail}]"), || lines.iter().filter(move |line| line.from_file == rail));
        all.extend(crowded(params, lines, of().collect(), &key));
        all.extend(rail_angle(params, lines, of().collect(), &key));
        all.extend(of().find_map(|line| rail_height(params, frames, line, &key)));
        all.extend(of().find_map(|line| too_near(params, frames, line, &key)));
    }
    all.sort();
    all.dedup();
    all
}

/// More rails at one height of a leg than a tie takes, told once for all legs.
fn crowded(params: &Params, lines: &[Line], of: Vec<&Line>, key: &str) -> Option<Problem> {
    let crowded = |line: &Line, leg: usize| {
        let here = |l: &&Line| l.legs.contains(&leg) && (l.height - line.height).abs() < 1e-9;
        lines.iter().filter(here).count()
    };
    let all = of.iter().flat_map(|line| line.legs.map(|leg| (leg + 1, crowded(line, leg))));
    let over: BTreeMap<usize, usize> = all.filter(|(_, count)| *count > 2).collect();
    let most = over.values().copied().max()?;
    let text = format!("{} would carry {most} rails at one height", legs(over.into_keys(), params.legs.count));
    let found = problem(params, key, text).accepted("at most 2 on a tie");
    Some(found.hint("put the rails of one run at another height, or leave one out").suggest(Suggestion::without(key)))
}

fn leg_heights(params: &Params, frames: &[Frame]) -> Option<Problem> {
    let free = |f: &Frame| free_stretch(params, f);
    let shortest = frames.iter().map(free).map(|[low, high]| high - low).fold(f64::MAX, f64::min);
    let missing = 3.0 * LEAST_FREE - shortest;
    (missing > 0.0).then(|| {
        let text = format!(
            "{} leaves {} of tube between foot and bracket",
            params.length(params.height),
            params.length(shortest.max(0.0))
        );
        problem(params, "height", text)
            .accepted(format!("at least {} of free tube", params.length(3.0 * LEAST_FREE)))
            .try_this(vec![Suggestion::text("height", params.length_up(params.height + missing))])
    })
}

/// Rails that meet too sharply, told once for all legs and at the later of two.
fn rail_angle(params: &Params, lines: &[Line], of: Vec<&Line>, key: &str) -> Option<Problem> {
    let ends = of.iter().flat_map(|line| line.legs.map(|leg| (leg + 1, sharpest(lines, line, leg))));
    let sharp: BTreeMap<usize, f64> = ends.filter(|(_, angle)| *angle < LEAST_RAIL_ANGLE).collect();
    let least = sharp.values().copied().reduce(f64::min)?;
    let at = legs(sharp.into_keys(), params.legs.count);
    let text = format!("two rails meet at {at} at {least:.0} deg: their sockets run into one another");
    Some(
        problem(params, key, text)
            .accepted(format!("at least {LEAST_RAIL_ANGLE} deg, or other heights"))
            .hint("leave one of the two out")
            .suggest(Suggestion::without(key)),
    )
}

/// Least angle between a rail and the earlier ones at one of its legs, degrees.
fn sharpest(lines: &[Line], line: &Line, leg: usize) -> f64 {
    let away = |l: &Line| {
        let here = usize::from(l.legs[1] == leg);
        (l.ends[1 - here] - l.ends[here]).normalize()
    };
    let beside = |l: &&Line| !std::ptr::eq(*l, line) && l.from_file <= line.from_file;
    let others = lines.iter().filter(beside).filter(|l| l.legs.contains(&leg) && (l.height - line.height).abs() < 1e-9);
    others.map(|l| away(l).angle(&away(line)).to_degrees()).fold(f64::MAX, f64::min)
}

fn rail_height(params: &Params, frames: &[Frame], line: &Line, key: &str) -> Option<Problem> {
    let half = params.tie.height.max(line.tube.outside * 2.0) / 2.0;
    let [low, high] = line
        .legs
        .map(|l| free_stretch(params, &frames[l]))
        .into_iter()
        .fold([0.0, f64::MAX], |b, s| [s[0].max(b[0]), s[1].min(b[1])]);
    let (key, [least, most]) = (format!("{key}.above_floor"), [low + half, high - half]);
    (line.height < least || line.height > most).then(|| {
        let text = format!("{} puts the tie into the foot or the bracket", params.length(line.height));
        if least + ROOM > most {
            return problem(params, &key, text)
                .hint("the legs are too short for a rail: leave the rails out")
                .suggest(Suggestion::without("rails"));
        }
        let near = if line.height < least { params.length_up(least) } else { params.length_down(most) };
        let accepted = format!("{} to {}", params.length_up(least), params.length_down(most));
        problem(params, &key, text).accepted(accepted).suggest(Suggestion::text(&key, near))
    })
}

fn too_near(params: &Params, frames: &[Frame], line: &Line, key: &str) -> Option<Problem> {
    let length = (line.ends[1] - line.ends[0]).norm();
    let sockets =
        2.0 * (params.tie.rail_socket_depth + frames[line.legs[0]].pitch_circle / 2.0 + params.legs.tube.outside);
    (length < sockets + LEAST_FREE).then(|| {
        let text = format!("the legs stand {} apart: too near for a rail", params.length(length));
        problem(params, key, text)
            .accepted(format!("at least {}", params.length_up(sockets + LEAST_FREE)))
            .hint("leave the rail out")
            .suggest(Suggestion::without(key))
    })
}

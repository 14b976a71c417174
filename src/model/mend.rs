//! Changes of the parameters themselves: what the layout chose is chosen anew where it does not fit, and suggestions are
//! tried before they are told.

use super::Model;
use crate::params::{Assumed, Hold, Params, Ties};
use crate::problem::{Problem, Put, Suggestion};
use crate::units::{self, Kind};

/// Keys whose defaults may be chosen anew; what the file itself says is never changed.
const OURS: [&str; 9] = [
    "legs.inset_from_ends",
    "legs.inset_from_sides",
    "legs.ties",
    "bracket.hold",
    "bracket.socket_depth",
    "bracket.screws.count",
    "foot.socket_depth",
    "tie.height",
    "tie.rail_socket_depth",
];

/// Rounds that are foreseen: one for each stage of the layout.
const ROUNDS: usize = 3;

/// Why a default is not the usual one.
const WHY: &str = "the usual value does not fit here";

/// Takes up what problems suggest for keys that the file does not have; whether any was.
pub(super) fn adopt(params: &mut Params, found: &[Problem]) -> bool {
    let mut any = false;
    for change in found.iter().flat_map(|problem| &problem.suggestions) {
        let ours = OURS.contains(&change.key.as_str()) && !params.places.contains_key(&change.key);
        if ours && apply(params, change) {
            describe(params, change);
            any = true;
        }
    }
    any
}

/// The report tells the value that was taken in the end.
fn describe(params: &mut Params, change: &Suggestion) {
    let value = match &change.put {
        Put::Text(text) => text.clone(),
        Put::Count(count) => count.to_string(),
        Put::List(list) => format!("[{}]", list.iter().map(|one| format!("\"{one}\"")).collect::<Vec<_>>().join(", ")),
        Put::Nothing => return,
    };
    match params.assumed.iter_mut().find(|one| one.key == change.key) {
        Some(one) if one.value == value => {}
        Some(one) => {
            one.value = value;
            one.why = WHY.into();
        }
        None => params.assumed.push(Assumed { key: change.key.clone(), value, why: WHY.into() }),
    }
}

/// The first list of changes with which all is well, as `cured` says; empty when none is.
pub(super) fn first(
    params: &Params,
    candidates: impl IntoIterator<Item = Vec<Suggestion>>,
    cured: impl Fn(&Params) -> bool,
) -> Vec<Suggestion> {
    if params.trial {
        return Vec::new();
    }
    let cures = |changes: &Vec<Suggestion>| {
        let mut changed = Params { trial: true, ..params.clone() };
        changes.iter().all(|change| apply(&mut changed, change)) && cured(&changed)
    };
    candidates.into_iter().find(cures).unwrap_or_default()
}

/// Whether the layout finds nothing more at these keys.
pub(super) fn clears(params: &Params, keys: &[&str]) -> bool {
    let found = Model::laid_out(params).err().unwrap_or_default();
    found.iter().all(|problem| !keys.contains(&problem.key.as_str()))
}

/// Problems with what would still be wrong once their suggestions were followed, so that two rounds mend a file: a later
/// value for a key takes the place of the earlier one.
pub(super) fn foreseen(
    params: &Params,
    mut found: Vec<Problem>,
    try_again: impl Fn(&Params) -> Vec<Problem>,
) -> Vec<Problem> {
    let mut changed = params.clone();
    let mut last = found.clone();
    for _ in 0..ROUNDS {
        let known = last.iter().flat_map(|problem| &problem.suggestions).filter(|change| apply(&mut changed, change));
        if known.count() == 0 {
            break;
        }
        last = try_again(&changed);
        for more in &last {
            foresee(&mut found, more);
        }
    }
    found
}

/// Adds a problem, or puts its value where one for the same key was suggested.
fn foresee(found: &mut Vec<Problem>, more: &Problem) {
    let keys: Vec<&str> = more.suggestions.iter().map(|change| change.key.as_str()).collect();
    let same = |problem: &&mut Problem| problem.suggestions.iter().any(|change| keys.contains(&change.key.as_str()));
    match found.iter_mut().find(same) {
        Some(old) if old.suggestions.len() == 1 && more.suggestions.len() == 1 => {
            *old = old.clone().try_this(more.suggestions.clone());
        }
        Some(_) => {}
        None => found.push(more.clone()),
    }
}

/// Makes one change; `false` where the layout does not know how.
pub(super) fn apply(params: &mut Params, change: &Suggestion) -> bool {
    match &change.put {
        Put::Text(text) if change.key == "bracket.screws.size" => screw(params, text),
        Put::Text(text) => units::read(Kind::Length, text).is_ok_and(|read| length(params, &change.key, read.value)),
        Put::Count(count) => number(params, &change.key, *count),
        Put::List(list) => words(params, &change.key, list),
        Put::Nothing => without(params, &change.key),
    }
}

fn screw(params: &mut Params, text: &str) -> bool {
    let found = crate::tables::screw::find_with_length(text);
    found
        .map(|(screw, length)| (params.bracket.screws.screw, params.bracket.screws.length) = (*screw, length))
        .is_some()
}

fn length(params: &mut Params, key: &str, value: f64) -> bool {
    if let Some(rail) = key.strip_prefix("rails[").and_then(|rest| rest.strip_suffix("].above_floor")) {
        let rail = rail.parse::<usize>().ok().and_then(|i| params.rails.get_mut(i));
        return rail.map(|rail| rail.above_floor = value).is_some();
    }
    let (bracket, legs) = (&mut params.bracket, &mut params.legs);
    let slot = match key {
        "top.length" => &mut params.top.length,
        "top.width" => &mut params.top.width,
        "top.thickness" => &mut params.top.thickness,
        "height" => &mut params.height,
        "bracket.plate" => &mut bracket.plate,
        "foot.plate" => params.foot.plate.get_or_insert(value),
        "drilling.stick_out" => &mut params.drilling.stick_out,
        "legs.inset_from_ends" => &mut legs.inset_from_ends,
        "legs.inset_from_sides" => &mut legs.inset_from_sides,
        "legs.pitch_circle" => legs.pitch_circle.get_or_insert(value),
        "bracket.length" => bracket.length.get_or_insert(value),
        "bracket.width" => bracket.width.get_or_insert(value),
        "bracket.boss_wall" => bracket.boss_wall.get_or_insert(value),
        "bracket.socket_depth" => &mut bracket.socket_depth,
        "bracket.gussets.run" => bracket.gussets.run.get_or_insert(value),
        "foot.socket_depth" => &mut params.foot.socket_depth,
        "tie.height" => &mut params.tie.height,
        "tie.wall" => params.tie.wall.get_or_insert(value),
        "tie.rail_socket_depth" => &mut params.tie.rail_socket_depth,
        _ => return false,
    };
    *slot = value;
    true
}

fn number(params: &mut Params, key: &str, count: usize) -> bool {
    match key {
        "bracket.screws.count" => params.bracket.screws.count = count,
        "legs.ties" => params.legs.ties = Ties::Even(count),
        _ => return false,
    }
    true
}

fn words(params: &mut Params, key: &str, list: &[String]) -> bool {
    match key {
        "bracket.hold" => {
            let old = params.bracket.hold;
            params.bracket.hold = Hold::of_words(list.iter().map(String::as_str), old.rib_interference);
            true
        }
        "printing.bed" => {
            let bed: Option<Vec<f64>> =
                list.iter().map(|text| units::read(Kind::Length, text).ok().map(|read| read.value)).collect();
            bed.and_then(|bed| bed.try_into().ok()).map(|bed| params.printing.bed = bed).is_some()
        }
        _ => false,
    }
}

fn without(params: &mut Params, key: &str) -> bool {
    match key {
        "bracket.length" => params.bracket.length = None,
        "bracket.width" => params.bracket.width = None,
        "legs.pitch_circle" => params.legs.pitch_circle = None,
        "tie.wall" => params.tie.wall = None,
        "bracket.boss_wall" => params.bracket.boss_wall = None,
        "rails" => params.rails.clear(),
        _ => return false,
    }
    true
}

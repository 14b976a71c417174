//! Changes of the parameters themselves: what the layout chose is chosen anew where it does not fit, and suggestions are
//! tried before they are told.

use super::Model;
use crate::params::{Assumed, Params, suggested};
use crate::problem::{Problem, Put, Suggestion};

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

/// Makes one change in place; `false` where that cannot be done.
pub(super) fn apply(params: &mut Params, change: &Suggestion) -> bool {
    suggested(change).is_some_and(|value| params.put(&change.key, value.as_ref()))
}

//! Plates with room for the spare holes that were asked for.

use super::problems::BEDS;
use super::{BracketDesign, Model, frames, mend, slack};
use crate::params::Params;
use crate::problem::Suggestion;

/// Rounds in which the rest of the layout may follow a larger plate: insets, then rails.
const ROUNDS: usize = 3;

/// Whether every bracket has its spare holes.
pub(super) fn everywhere(model: &Model) -> bool {
    model.brackets.iter().all(|kind| !kind.design.spare.is_empty())
}

/// Changes of the file that give every bracket its spare holes: the sizes of the plate that it states, a larger bed where
/// there must be one, and what else must give way; empty where none of them do.
pub(super) fn larger(params: &Params) -> Vec<Suggestion> {
    if params.trial {
        return Vec::new();
    }
    let bed = params.printing.bed;
    let beds = BEDS.into_iter().filter(|size| *size > bed[0].min(bed[1]));
    let beds = std::iter::once(bed).chain(beds.map(|size| [bed[0].max(size), bed[1].max(size), bed[2]]));
    beds.into_iter().find_map(|bed| whole(params, plate(params, bed)?)).unwrap_or_default()
}

/// The plate on a bed, as changes.
fn plate(params: &Params, bed: [f64; 3]) -> Option<Vec<Suggestion>> {
    let mut free = Params { plate_grows: true, ..params.clone() };
    (free.bracket.length, free.bracket.width, free.printing.bed) = (None, None, bed);
    let found: Vec<BracketDesign> =
        frames(&free).iter().map(|f| BracketDesign::new(&free, f, &slack(&free))).collect::<Result<_, _>>().ok()?;
    if found.iter().any(|design| design.spare.is_empty()) {
        return None;
    }
    let size = found.iter().fold([0.0_f64; 2], |s, d| [s[0].max(d.length), s[1].max(d.width)]);
    let given = [("bracket.length", params.bracket.length), ("bracket.width", params.bracket.width)];
    let sizes = given.into_iter().zip(size);
    let written = sizes.filter_map(|((key, given), size)| given.map(|given| (key, given.max(size))));
    let mut changes: Vec<Suggestion> =
        written.map(|(key, size)| Suggestion::text(key, params.length_up(size))).collect();
    if bed != params.printing.bed {
        let bed = bed.map(|v| params.length_up(v)).to_vec();
        changes.push(Suggestion::list("printing.bed", bed));
    }
    Some(changes)
}

/// These changes and what the layout then asks for, if all spare holes are there in the end.
fn whole(params: &Params, mut changes: Vec<Suggestion>) -> Option<Vec<Suggestion>> {
    for _ in 0..ROUNDS {
        let mut changed = Params { trial: true, plate_grows: true, ..params.clone() };
        if !changes.iter().all(|change| mend::apply(&mut changed, change)) {
            return None;
        }
        let found = match Model::settled(&changed) {
            Ok(model) => return everywhere(&model).then_some(changes),
            Err(found) => found,
        };
        for more in found.into_iter().flat_map(|problem| problem.suggestions) {
            changes.retain(|change| change.key != more.key);
            changes.push(more);
        }
    }
    None
}

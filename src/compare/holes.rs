//! Holes in the underside: drill, drill out, plug or keep.

use std::collections::BTreeSet;

use super::cause::Causes;
use super::pair::{Line, Verb, joined};
use super::things::{Role, SAME_DEPTH, SAME_DRILL, SAME_PLACE, Thing, Things, apart};
use crate::output::record::HoleRecord;

/// A new hole nearer than this to an old one, as a multiple of the pilot, would run into it or split the wood between
/// them: the old one is plugged first (judgement: a drill wanders into a hole within one diameter).
const NEAR: f64 = 2.0;

/// What to do with the holes of every leg.
pub(super) fn lines(before: &Things, after: &Things, causes: &Causes) -> Vec<Line> {
    let legs: BTreeSet<usize> = before.keys().chain(after.keys()).filter_map(leg).collect();
    let all = legs.into_iter().flat_map(|leg| {
        let role = Role::Holes(leg);
        let fates = fates(holes(before, &role), holes(after, &role));
        let why = causes.of([&role]);
        fates.into_iter().map(move |(verb, how)| Line {
            verb,
            count: 1,
            what: "hole".to_owned(),
            mark: String::new(),
            legs: vec![leg],
            how,
            why: if verb == Verb::Keep { Vec::new() } else { why.clone() },
        })
    });
    joined(all.collect())
}

fn leg(role: &Role) -> Option<usize> {
    match role {
        Role::Holes(leg) => Some(*leg),
        Role::Part(..) | Role::Tubes(..) => None,
    }
}

fn holes<'a>(things: &'a Things, role: &Role) -> &'a [HoleRecord] {
    match things.get(role) {
        Some(Thing::Holes(holes)) => holes,
        _ => &[],
    }
}

/// New holes against old ones, then the old ones without a use.
fn fates(old: &[HoleRecord], new: &[HoleRecord]) -> Vec<(Verb, String)> {
    let here = |a: &HoleRecord, list: &[HoleRecord]| list.iter().find(|b| apart(a, b) <= SAME_PLACE).copied();
    let drilled = new.iter().map(|hole| match here(hole, old) {
        Some(was) => again(&was, hole),
        None if old.iter().any(|b| apart(hole, b) < NEAR * hole.pilot_mm) => (Verb::PlugAndDrill, sizes(hole)),
        None => (Verb::Drill, sizes(hole)),
    });
    let left = old.iter().filter(|hole| here(hole, new).is_none());
    drilled.chain(left.map(|_| (Verb::Plug, String::new()))).collect()
}

/// What to do with an old hole in the right place.
fn again(was: &HoleRecord, hole: &HoleRecord) -> (Verb, String) {
    if was.pilot_mm > hole.pilot_mm + SAME_DRILL {
        (Verb::PlugAndDrill, sizes(hole))
    } else if was.pilot_mm < hole.pilot_mm - SAME_DRILL || was.depth_mm < hole.depth_mm - SAME_DEPTH {
        (Verb::DrillOut, sizes(hole))
    } else {
        (Verb::Keep, String::new())
    }
}

fn sizes(hole: &HoleRecord) -> String {
    format!("{:.1} mm wide, {:.1} mm deep", hole.pilot_mm, hole.depth_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hole(x: f64, pilot: f64, depth: f64) -> HoleRecord {
        HoleRecord { leg: 1, x_mm: x, y_mm: 0.0, pilot_mm: pilot, depth_mm: depth, left_above_tip_mm: 9.0 }
    }

    #[test]
    fn a_hole_is_kept_widened_or_plugged_by_what_was_drilled() {
        let old = [hole(0.0, 3.0, 20.0), hole(50.0, 3.0, 20.0), hole(100.0, 3.0, 20.0)];
        let cases = [
            (hole(0.1, 3.0, 20.0), Verb::Keep),
            (hole(0.0, 3.0, 15.0), Verb::Keep),
            (hole(0.0, 3.5, 20.0), Verb::DrillOut),
            (hole(0.0, 3.0, 25.0), Verb::DrillOut),
            (hole(0.0, 2.5, 20.0), Verb::PlugAndDrill),
            (hole(2.0, 3.0, 20.0), Verb::PlugAndDrill),
            (hole(20.0, 3.0, 20.0), Verb::Drill),
        ];
        for (new, verb) in cases {
            assert_eq!(fates(&old, &[new])[0].0, verb, "{new:?}");
        }
        let left: Vec<Verb> = fates(&old, &[hole(0.0, 3.0, 20.0)]).into_iter().map(|(verb, _)| verb).collect();
        assert_eq!(left, [Verb::Keep, Verb::Plug, Verb::Plug]);
    }
}

//! What several values of the file mean together and cannot be: told before any geometry is made.

mod fasteners;
mod misfit;
mod placed;
mod rails;

use crate::params::{Params, thickest_tie_wall};
use crate::problem::{Problem, Suggestion};

pub(super) use misfit::{BEDS, misfit};
pub(super) use placed::after_layout;
pub(super) use rails::rails;

fn problem(params: &Params, key: &str, message: impl Into<String>) -> Problem {
    Problem::new(params.place_of(key), key, message)
}

/// `leg 1`, `legs 1 and 3`, `every leg`.
fn legs(numbers: impl IntoIterator<Item = usize>, count: usize) -> String {
    let all: Vec<String> = numbers.into_iter().map(|n| n.to_string()).collect();
    match all.split_last() {
        Some(_) if all.len() == count => "every leg".into(),
        Some((last, [])) => format!("leg {last}"),
        Some((last, rest)) => format!("legs {} and {last}", rest.join(", ")),
        None => "no leg".into(),
    }
}

/// Problems without whose mending nothing can be laid out.
pub(super) fn before_layout(params: &Params) -> Vec<Problem> {
    thickness_count(params).into_iter().chain(insets(params)).collect()
}

/// Problems that neither need a layout nor stand in its way.
pub(super) fn beside_layout(params: &Params) -> Vec<Problem> {
    let mut all = fasteners::screw_length(params);
    all.extend(fasteners::hold(params));
    all.extend(tie_wall(params));
    all
}

fn tie_wall(params: &Params) -> Option<Problem> {
    let (wall, key) = (params.tie.wall?, "tie.wall");
    let most = thickest_tie_wall(&params.legs.tube);
    (wall > most).then(|| {
        let text = format!(
            "{} is thicker than the tube of {}: collars would cover each other's bolts",
            params.length(wall),
            params.length(params.legs.tube.outside)
        );
        let most = params.length_down(most);
        problem(params, key, text).accepted(format!("at most {most}")).suggest(Suggestion::text(key, most))
    })
}

fn thickness_count(params: &Params) -> Option<Problem> {
    let (given, legs) = (params.top.thickness_at_legs.len(), params.legs.count);
    (given != 0 && given != legs).then(|| {
        problem(params, "top.thickness_at_legs", format!("{given} thicknesses for {legs} legs"))
            .hint(format!("give {legs}, in the order of the legs, or leave the key out"))
            .suggest(Suggestion::without("top.thickness_at_legs"))
    })
}

/// The share of the top's size that an inset has at most where the file does not say; suggested for one too large.
const INSET_SHARE: f64 = 1.0 / 6.0;

fn insets(params: &Params) -> Vec<Problem> {
    let (l, t) = (&params.legs, &params.top);
    let pairs =
        [("legs.inset_from_ends", l.inset_from_ends, t.length), ("legs.inset_from_sides", l.inset_from_sides, t.width)];
    let wrong = pairs.into_iter().filter(|(_, inset, size)| 2.0 * inset >= *size);
    let describe = |(key, inset, size): (&str, f64, f64)| {
        let text = format!(
            "{} from both edges leaves nothing of {}: the legs would stand off the top",
            params.length(inset),
            params.length(size)
        );
        problem(params, key, text)
            .accepted(format!("less than {}", params.length(size / 2.0)))
            .try_this(vec![Suggestion::text(key, params.length_down(size * INSET_SHARE))])
    };
    wrong.map(describe).collect()
}

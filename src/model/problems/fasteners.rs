//! Screws, bolts and walls that do not go together.

use super::super::mend;
use super::super::{Model, Socket, TieDesign, penetration, thickness_at};
use super::problem;
use crate::params::{self, Hold, LEAST_PENETRATION, Params};
use crate::problem::{Problem, Put, Suggestion};
use crate::tables::bolt;

/// A captive nut is let in at least this deep, mm (judgement: less does not keep it from turning).
const LEAST_SUNK: f64 = 1.0;
/// Plastic between a bolt's nut or head and the end of its socket or tie, mm (judgement: four lines).
const AROUND_BOLT: f64 = 1.6;
/// Largest cross bolt over the tube's diameter (judgement: its hole then takes less than half of the section).
const OF_TUBE: f64 = 1.0 / 3.0;
/// Cross bolts that a file can name, mm.
const SIZES: [f64; 4] = [3.0, 4.0, 5.0, 6.0];

/// A screw that reaches too little into the wood, or through it.
pub(super) fn screw_length(params: &Params) -> Vec<Problem> {
    let screws = &params.bracket.screws;
    let (in_wood, least) = (penetration(params), LEAST_PENETRATION * screws.screw.diameter);
    let through: Vec<usize> = (0..params.legs.count).filter(|i| thickness_at(params, *i) - in_wood <= 0.0).collect();
    let deepest = through.iter().map(|i| in_wood - thickness_at(params, *i)).fold(0.0, f64::max);
    let text = if in_wood < least - 1e-9 {
        format!(
            "reaches {} into the wood; {} are needed (6 diameters, NDS 2018 12.1.5.6, EN 1995-1-1 8.7.2)",
            params.length(in_wood.max(0.0)),
            params.length(least)
        )
    } else if !through.is_empty() {
        let legs = super::legs(through.into_iter().map(|i| i + 1), params.legs.count);
        format!("would come out through the show face at {legs} by {}", params.length(deepest))
    } else {
        return Vec::new();
    };
    vec![screw_problem(params, text)]
}

/// The problem at the screw where the file names one, else at the top that no screw of our own choice suits.
fn screw_problem(params: &Params, text: String) -> Problem {
    let changes = params::better(params);
    let thicker = changes.iter().find_map(|change| match &change.put {
        Put::Text(value) if change.key == "top.thickness" => Some(value.clone()),
        _ => None,
    });
    let key = "bracket.screws.size";
    let written = |key: &str| params.places.contains_key(key);
    let Some(thickness) = thicker else { return problem(params, key, text).try_this(changes) };
    let hint = format!(
        "no wood screw that is sold holds here: it needs 6 diameters of wood and 3 mm over its tip. This fits: {}. Or \
         glue blocks of wood under the top at the legs and count them in \"thickness_at_legs\"; machine screws in \
         threaded inserts would hold too, but are not worked out here",
        changes.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
    );
    let of_screw = written(key) || written("bracket.screws.length");
    let found = if of_screw {
        problem(params, key, text)
    } else {
        let key = if written("top.thickness_at_legs") { "top.thickness_at_legs" } else { "top.thickness" };
        problem(params, key, "the wood is too thin for any wood screw that is sold")
    };
    let mut found = found.accepted(format!("a top of at least {thickness}")).hint(hint);
    found.suggestions = changes;
    found
}

/// A cross bolt too thick for the tube.
pub(super) fn hold(params: &Params) -> Option<Problem> {
    let hold = params.bracket.hold;
    let size = hold.cross_bolt?;
    let tube = &params.legs.tube;
    let fits = |size: f64| size <= tube.outside * OF_TUBE;
    (!fits(size)).then(|| {
        let largest = SIZES.into_iter().rev().find(|size| fits(*size));
        let text = format!("a cross bolt M{size} takes too much of a {} tube", params.length(tube.outside));
        problem(params, "bracket.hold", text)
            .accepted(format!("bolts up to a third of the tube: {}", params.length(tube.outside * OF_TUBE)))
            .try_this(vec![holding(hold, largest)])
    })
}

/// The hold with another bolt; epoxy beside the ribs where there is none.
fn holding(hold: Hold, bolt: Option<f64>) -> Suggestion {
    let other = Hold { cross_bolt: bolt, bonded: hold.bonded || bolt.is_none(), ..hold };
    Suggestion::list("bracket.hold", other.words())
}

/// Bolts that no shop sells long enough, walls too thin for their nuts, sockets and ties too short for them.
pub(super) fn bolts(model: &Model) -> Vec<Problem> {
    let params = &model.params;
    let mut all = Vec::new();
    if params.bracket.hold.cross_bolt.is_some() {
        let designs = model.brackets.iter().flat_map(|b| &b.design.sockets);
        all.extend(designs.clone().find_map(|s| bolt_in_socket(params, s)));
    }
    all.extend(model.ties.iter().find_map(|t| bolt_in_tie(params, &t.design)));
    all
}

fn bolt_in_socket(params: &Params, s: &Socket) -> Option<Problem> {
    let size = params.bracket.hold.cross_bolt?;
    let Some(bolt) = &s.bolt else {
        let text = format!("no M{size} bolt is sold long enough for a boss of {}", params.length(s.outer));
        return Some(problem(params, "bracket.hold", text).try_this(longer_bolt(params, size)));
    };
    if bolt.sunk(s.outer) < LEAST_SUNK - 1e-9 {
        let wall = params.bracket.boss_wall.unwrap_or(s.wall());
        let text = format!("{} holds no captive nut M{size}", params.length(wall));
        let least = params.length_up_tenth(wall + LEAST_SUNK - bolt.sunk(s.outer));
        let found = problem(params, "bracket.boss_wall", text).accepted(format!("at least {least}"));
        return Some(found.hint("or hold the tube another way").suggest(Suggestion::text("bracket.boss_wall", least)));
    }
    let room = s.floor + s.depth - s.chamfer - bolt.at;
    let needed = bolt.reach() + AROUND_BOLT;
    (room < needed).then(|| {
        let least = params.length_up(2.0 * needed + s.chamfer);
        let text = format!("{} is too short for a cross bolt M{size}", params.length(s.depth));
        problem(params, "bracket.socket_depth", text)
            .accepted(format!("at least {least}"))
            .suggest(Suggestion::text("bracket.socket_depth", least))
    })
}

/// The next larger bolt that is sold long enough and suits the tube; none where there is none.
fn longer_bolt(params: &Params, size: f64) -> Vec<Suggestion> {
    let hold = params.bracket.hold;
    let larger = SIZES.into_iter().filter(|s| *s > size && *s <= params.legs.tube.outside * OF_TUBE).map(Some);
    let candidates = larger.chain([None]).map(|bolt| vec![holding(hold, bolt)]);
    mend::first(params, candidates, |p| mend::clears(p, &["bracket.hold"]))
}

fn bolt_in_tie(params: &Params, tie: &TieDesign) -> Option<Problem> {
    let Some(bolt) = tie.bolts.first() else {
        let longest = bolt::ALL.iter().filter_map(|row| row.lengths.last()).copied().fold(0.0, f64::max);
        let text = format!("no bolt is sold long enough for a collar of {}", params.length(tie.outer));
        let thin = ["tie.wall", "bracket.boss_wall"].map(|key| vec![Suggestion::text(key, params.length_down(4.0))]);
        let none = vec![Suggestion::count("legs.ties", 0)];
        let changes = mend::first(params, thin.into_iter().chain([none]), |p| mend::clears(p, &["tie.wall"]));
        return Some(
            problem(params, "tie.wall", text)
                .accepted(format!("less than {}", params.length(longest)))
                .try_this(changes),
        );
    };
    let needed = bolt.reach() + AROUND_BOLT + tie.chamfer;
    (tie.height / 2.0 < needed).then(|| {
        let least = params.length_up(2.0 * needed);
        let text = format!("{} is too low for its bolt M{}", params.length(tie.height), bolt.size);
        problem(params, "tie.height", text)
            .accepted(format!("at least {least}"))
            .suggest(Suggestion::text("tie.height", least))
    })
}

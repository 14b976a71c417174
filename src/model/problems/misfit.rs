//! Brackets that cannot be laid out, and what would let them.

use super::super::bracket::{Misfit, smallest_pitch_circle};
use super::super::{BracketDesign, frames, mend, slack};
use super::problem;
use crate::params::Params;
use crate::problem::{Problem, Suggestion};

/// Beds that are tried, mm: what larger printers have (common practice, no source).
pub(in super::super) const BEDS: [f64; 6] = [256.0, 300.0, 350.0, 420.0, 500.0, 800.0];
/// Fewest screws of a bracket.
const FEWEST: usize = 4;

/// Why a bracket could not be laid out.
pub(in super::super) fn misfit(params: &Params, misfit: &Misfit) -> Problem {
    match misfit {
        Misfit::PitchCircle(least) => {
            let given = params.legs.pitch_circle.unwrap_or_default();
            let (key, least) = ("legs.pitch_circle", params.length_up(*least));
            let text = format!("{} is too small: the bosses would touch", params.length(given));
            problem(params, key, text).accepted(format!("at least {least}")).suggest(Suggestion::text(key, least))
        }
        Misfit::Screws(size) => {
            let text = format!(
                "{} screws with their distances in the wood find no room on a plate of {}",
                params.bracket.screws.count,
                by(params, *size)
            );
            room(params, problem(params, plate_key(params, "bracket.screws.count"), text))
        }
        Misfit::Plate(needed) => {
            let text = format!("the bosses and webs need a plate of {}", by(params, *needed));
            room(params, problem(params, plate_key(params, "printing.bed"), text))
        }
    }
}

fn by(params: &Params, size: [f64; 2]) -> String {
    size.map(|v| params.length(v)).join(" x ")
}

/// The key to blame for a plate that is too small: the plate's own where the file gives it.
fn plate_key<'a>(params: &Params, otherwise: &'a str) -> &'a str {
    match (params.bracket.length, params.bracket.width) {
        (Some(_), _) => "bracket.length",
        (None, Some(_)) => "bracket.width",
        _ => otherwise,
    }
}

/// The problem with the first of several ways to make room.
fn room(params: &Params, problem: Problem) -> Problem {
    let lists = [larger_plate(params), fewer_screws(params), narrower(params), beds(params)].concat();
    let changes = mend::first(params, lists, |changed| designs(changed).is_ok());
    if changes.is_empty() {
        return problem
            .hint("a larger plate or bed, fewer or thinner screws, a smaller pitch circle, or shorter gussets");
    }
    problem.try_this(changes)
}

/// Brackets of all legs.
fn designs(params: &Params) -> Result<Vec<BracketDesign>, Misfit> {
    frames(params).iter().map(|f| BracketDesign::new(params, f, &slack(params))).collect()
}

/// The plate that the layout would choose, where the file gives one.
fn larger_plate(params: &Params) -> Vec<Vec<Suggestion>> {
    let mut free = params.clone();
    (free.bracket.length, free.bracket.width) = (None, None);
    let given = [params.bracket.length, params.bracket.width];
    if given == [None; 2] {
        return Vec::new();
    }
    let found = designs(&free).unwrap_or_default();
    let size = found.iter().fold([0.0_f64; 2], |s, d| [s[0].max(d.length), s[1].max(d.width)]);
    let keys = ["bracket.length", "bracket.width"];
    let put = |k: usize| given[k].map(|old| Suggestion::text(keys[k], params.length_up(size[k].max(old))));
    let changes: Vec<Suggestion> = (0..2).filter_map(put).collect();
    if found.is_empty() { Vec::new() } else { vec![changes] }
}

fn fewer_screws(params: &Params) -> Vec<Vec<Suggestion>> {
    let count = params.bracket.screws.count;
    (FEWEST..count).rev().map(|count| vec![Suggestion::count("bracket.screws.count", count)]).collect()
}

/// A smaller circle of tubes, shorter webs.
fn narrower(params: &Params) -> Vec<Vec<Suggestion>> {
    let mut all = Vec::new();
    let outer = |d: &BracketDesign| d.sockets.first().map(|s| s.outer);
    let mut roomy = params.clone();
    (roomy.bracket.length, roomy.bracket.width, roomy.printing.bed) = (None, None, [5000.0; 3]);
    let outer = designs(&roomy).ok().and_then(|found| found.first().and_then(outer));
    if let Some(outer) = outer.filter(|_| params.legs.tubes > 1) {
        let least = smallest_pitch_circle(params.legs.tubes, outer);
        all.push(vec![Suggestion::text("legs.pitch_circle", params.length_up(least + 1.0))]);
    }
    all.push(vec![Suggestion::text("bracket.gussets.run", params.length_up(5.0))]);
    all
}

/// Printers with larger beds, the plate left to the layout.
fn beds(params: &Params) -> Vec<Vec<Suggestion>> {
    let keys = ["bracket.length", "bracket.width"];
    let free = keys.into_iter().filter(|key| params.places.contains_key(*key)).map(Suggestion::without);
    let free: Vec<Suggestion> = free.collect();
    let bed = params.printing.bed;
    let put = |size: f64| {
        let list = [bed[0].max(size), bed[1].max(size), bed[2]].map(|v| params.length_up(v)).to_vec();
        [vec![Suggestion::list("printing.bed", list)], free.clone()].concat()
    };
    BEDS.into_iter().map(put).collect()
}

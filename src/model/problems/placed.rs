//! What the finished layout shows: brackets over the edge or into each other, parts larger than the bed.

use super::super::foot::{FootDesign, Sole};
use super::super::guide::GuideDesign;
use super::super::{Leg, Model, PlacedTie, free_stretch, mend};
use super::{fasteners, problem};
use crate::params::{Params, Run, Ties};
use crate::problem::{Problem, Suggestion};

/// Room between two brackets, mm (judgement).
const BRACKET_GAP: f64 = 5.0;
/// Distance of a screw from the top's end (along the grain) and side (across), as multiples of the diameter, bored
/// holes. Source: NDS 2018, commentary C12.1.5.7.
const FROM_END: f64 = 10.0;
/// See [`FROM_END`].
const FROM_SIDE: f64 = 2.5;
/// Least solid plastic below a nut or bolt hole in a foot, mm (judgement).
const LEAST_FOOT_PLATE: f64 = 1.2;
/// Keys of the legs' distances from the edges of the top, along x and y, and of its sizes.
const INSETS: [&str; 2] = ["legs.inset_from_ends", "legs.inset_from_sides"];
/// See [`INSETS`].
const SIZES: [&str; 2] = ["top.length", "top.width"];

/// Problems that only the finished layout shows.
pub(in super::super) fn after_layout(model: &Model) -> Vec<Problem> {
    let mut all = Vec::new();
    all.extend(tube_longer_than_stock(model));
    all.extend(ties_apart(model));
    let screws = screws_from_edges(model);
    let other = |p: &Problem| screws.iter().all(|s| s.key != p.key);
    all.extend(brackets_on_top(model).into_iter().filter(other));
    all.extend(brackets_apart(model));
    all.extend(screws);
    all.extend(beds(model));
    all.extend(guide_height(model));
    all.extend(foot_plate(model));
    all.extend(fasteners::bolts(model));
    all
}

fn tube_longer_than_stock(model: &Model) -> Option<Problem> {
    let params = &model.params;
    let longest_stock = params.cutting.stock.iter().copied().fold(0.0, f64::max);
    let cut = model.cut_tubes();
    let over = cut.iter().filter(|c| c.length > longest_stock).max_by(|a, b| a.length.total_cmp(&b.length))?;
    let text = format!(
        "the {} is {} long, the longest stock {}",
        over.name,
        params.length(over.length),
        params.length(longest_stock)
    );
    let longer = params.length_up(over.length);
    let found = problem(params, "cutting.stock", text).accepted(format!("at least {longer}"));
    Some(found.hint("name a longer stock, or a lower table").suggest(Suggestion::text("cutting.stock", longer)))
}

fn ties_apart(model: &Model) -> Option<Problem> {
    let params = &model.params;
    let (end, start, leg) = model.legs.iter().find_map(|leg| ties_near(model, leg))?;
    let text = format!(
        "on leg {leg} a tie would begin at {} where the part below ends at {}",
        params.length(start),
        params.length(end)
    );
    let rails = !params.places.contains_key("legs.ties") && !params.rails.is_empty();
    let found = problem(params, if rails { "rails" } else { "legs.ties" }, text);
    let count = match &params.legs.ties {
        Ties::Even(count) => *count,
        Ties::At(heights) => heights.len() + 1,
    };
    let fewer = (0..count).rev().map(|count| vec![Suggestion::count("legs.ties", count)]);
    let none = vec![Suggestion::without("rails")];
    let changes = mend::first(params, fewer.chain([none]), |p| mend::clears(p, &["legs.ties", "rails"]));
    Some(if changes.is_empty() { found.hint("fewer ties, or other heights") } else { found.try_this(changes) })
}

/// The first tie of a leg that begins where the part below has not ended: that end, its begin, the leg.
fn ties_near(model: &Model, leg: &Leg) -> Option<(f64, f64, usize)> {
    let [low, high] = free_stretch(&model.params, &leg.frame);
    let spans: Vec<[f64; 2]> = leg.ties.iter().map(|t| half_span(model, leg, t)).collect();
    let ends = std::iter::once(low).chain(spans.iter().map(|s| s[1]));
    let starts = spans.iter().map(|s| s[0]).chain(std::iter::once(high));
    ends.zip(starts).find(|(end, start)| end + 2.0 > *start).map(|(end, start)| (end, start, leg.number))
}

fn half_span(model: &Model, leg: &Leg, tie: &PlacedTie) -> [f64; 2] {
    let design = &model.ties[tie.part.kind].design;
    let half = design.height / 2.0 * -leg.frame.down.z + design.reach() * leg.frame.tilt().sin();
    [tie.height - half, tie.height + half]
}

/// Corners of a leg's bracket plate, world, mm.
fn corners(model: &Model, leg: &Leg) -> [[f64; 2]; 4] {
    let d = &model.brackets[leg.bracket.kind].design;
    [[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]].map(|s| {
        let p = leg.bracket.pose * nalgebra::Point3::new(s[0] * d.length / 2.0, s[1] * d.width / 2.0, 0.0);
        [p.x, p.y]
    })
}

fn brackets_on_top(model: &Model) -> Vec<Problem> {
    let (params, t) = (&model.params, &model.params.top);
    let over = |k: usize, leg: &Leg| {
        let size = [t.length, t.width][k];
        (corners(model, leg).iter().map(|c| c[k].abs() - size / 2.0).fold(f64::MIN, f64::max), leg.number)
    };
    let worst = |k: usize| model.legs.iter().map(|leg| over(k, leg)).fold((f64::MIN, 0), farther);
    let describe = |k: usize| {
        let (by, leg) = worst(k);
        let text = format!("the bracket of leg {leg} would stand {} over the edge of the top", params.length(by));
        (by > 1e-6).then(|| farther_in(params, k, by, text))
    };
    (0..2).filter_map(describe).collect()
}

/// The larger of two distances with its leg; the first where they are equal.
fn farther(a: (f64, usize), b: (f64, usize)) -> (f64, usize) {
    if b.0 > a.0 + 1e-9 { b } else { a }
}

/// A problem that an inset larger by so much mends.
fn farther_in(params: &Params, k: usize, by: f64, text: String) -> Problem {
    let inset = [params.legs.inset_from_ends, params.legs.inset_from_sides][k];
    let least = params.length_up(inset + by);
    problem(params, INSETS[k], text).accepted(format!("at least {least}")).suggest(Suggestion::text(INSETS[k], least))
}

fn brackets_apart(model: &Model) -> Option<Problem> {
    let ([i, j], short) = nearest_brackets(model)?;
    let params = &model.params;
    let text = format!(
        "the brackets of legs {} and {} overlap or stand nearer than {}",
        i + 1,
        j + 1,
        params.length(BRACKET_GAP)
    );
    let insets = [params.legs.inset_from_ends, params.legs.inset_from_sides];
    let sizes = [params.top.length, params.top.width];
    let inward =
        |k: usize, by: f64| (insets[k] > by).then(|| Suggestion::text(INSETS[k], params.length_down(insets[k] - by)));
    let outward = |k: usize, by: f64| Suggestion::text(SIZES[k], params.length_up(sizes[k] + by));
    let single = |k: usize| {
        let smaller = [0.5, 1.0].into_iter().filter_map(move |share| inward(k, share * short[k]));
        let larger = [1.0, 2.0].map(|share| outward(k, share * short[k]));
        smaller.chain(larger)
    };
    let mut order = [0, 1];
    order.sort_by(|a, b| short[*a].total_cmp(&short[*b]));
    let candidates = order.into_iter().flat_map(single).map(|change| vec![change]);
    let keys = ["legs", INSETS[0], INSETS[1]];
    let changes = mend::first(params, candidates, |p| mend::clears(p, &keys));
    let found = problem(params, "legs", text);
    Some(if changes.is_empty() {
        found.hint("smaller insets, fewer screws, or a longer top")
    } else {
        found.try_this(changes)
    })
}

/// The first two brackets that stand too near, from 0, and how much nearer than allowed they are along x and y, mm.
fn nearest_brackets(model: &Model) -> Option<([usize; 2], [f64; 2])> {
    let boxes: Vec<[[f64; 2]; 2]> = model
        .legs
        .iter()
        .map(|l| {
            let c = corners(model, l);
            [0, 1].map(|k| c.iter().fold([f64::MAX, f64::MIN], |b, p| [b[0].min(p[k]), b[1].max(p[k])]))
        })
        .collect();
    let short = |a: &[[f64; 2]; 2], b: &[[f64; 2]; 2]| {
        [0, 1].map(|k| (a[k][1] + BRACKET_GAP - b[k][0]).min(b[k][1] + BRACKET_GAP - a[k][0]))
    };
    let pairs = (0..boxes.len()).flat_map(|i| (i + 1..boxes.len()).map(move |j| [i, j]));
    pairs.map(|[i, j]| ([i, j], short(&boxes[i], &boxes[j]))).find(|(_, short)| short.iter().all(|s| *s >= 0.0))
}

fn screws_from_edges(model: &Model) -> Vec<Problem> {
    let (params, t) = (&model.params, &model.params.top);
    let d = params.bracket.screws.screw.diameter;
    let along_x = t.grain == Run::AlongLength;
    let least = if along_x { [FROM_END * d, FROM_SIDE * d] } else { [FROM_SIDE * d, FROM_END * d] };
    let sizes = [t.length, t.width];
    let describe = |k: usize| {
        let near = model.holes().into_iter().map(|h| (least[k] - (sizes[k] / 2.0 - h.at[k].abs()), h.leg));
        let (by, leg) = near.fold((f64::MIN, 0), farther);
        let text = format!(
            "a screw of leg {leg} {}; {} inside are needed (NDS 2018 C12.1.5.7)",
            where_to_edge(params, least[k] - by),
            params.length(least[k])
        );
        (by > 1e-6).then(|| farther_in(params, k, by, text))
    };
    (0..2).filter_map(describe).collect()
}

/// Where a screw stands at the top's edge.
fn where_to_edge(params: &Params, inside: f64) -> String {
    let far = params.length(inside.abs());
    if inside < 0.0 { format!("misses the top by {far}") } else { format!("stands {far} from the edge of the top") }
}

/// Parts that the bed cannot take, each sort once.
fn beds(model: &Model) -> Vec<Problem> {
    let (params, bed) = (&model.params, model.params.printing.bed);
    let mut boxes: Vec<(&str, [f64; 3])> = Vec::new();
    boxes.extend(model.brackets.iter().map(|k| ("bracket", k.design.box_mm())));
    boxes.extend(model.feet.iter().map(|k| ("foot", k.design.box_mm())));
    boxes.extend(model.ties.iter().map(|k| ("tie", k.design.box_mm())));
    boxes.extend(model.guides.iter().map(|k| ("drill guide", [k.design.length, k.design.width, k.design.height])));
    let beyond = |b: &[f64; 3]| {
        let (mut part, mut plate) = ([b[0], b[1]], [bed[0], bed[1]]);
        part.sort_by(f64::total_cmp);
        plate.sort_by(f64::total_cmp);
        part[0] > plate[0] || part[1] > plate[1] || b[2] > bed[2]
    };
    let mut told = Vec::new();
    for sort in ["bracket", "foot", "tie", "drill guide"] {
        let over = boxes.iter().filter(|(name, b)| *name == sort && beyond(b)).map(|(_, b)| *b);
        if let Some(b) = over.reduce(|a, b| [a[0].max(b[0]), a[1].max(b[1]), a[2].max(b[2])]) {
            let sizes = b.map(|v| params.length_up(v)).join(" x ");
            let larger = bed.iter().zip(b).map(|(bed, part)| params.length_up(bed.max(part))).collect();
            told.push(
                problem(params, "printing.bed", format!("the {sort} needs {sizes}, more than the bed"))
                    .accepted(bed.map(|v| params.length(v)).join(" x "))
                    .hint("fewer screws or tubes, a smaller pitch circle, or another printer")
                    .suggest(Suggestion::list("printing.bed", larger)),
            );
        }
    }
    told
}

fn guide_height(model: &Model) -> Option<Problem> {
    let (params, key) = (&model.params, "drilling.stick_out");
    let low = model.guides.iter().find(|g| g.design.height < GuideDesign::least_height())?;
    let least = params.length_up(low.design.depth + GuideDesign::least_height());
    let text = format!(
        "{} leaves a drill guide of {} over the wood",
        params.length(low.design.stick_out),
        params.length(low.design.height.max(0.0))
    );
    Some(problem(params, key, text).accepted(format!("at least {least}")).suggest(Suggestion::text(key, least)))
}

fn foot_plate(model: &Model) -> Option<Problem> {
    let (params, key) = (&model.params, "foot.plate");
    let needed = |foot: &FootDesign| {
        LEAST_FOOT_PLATE
            + match foot.sole {
                Sole::Pad { depth, .. } => depth,
                Sole::Levelling { hole_depth, .. } => hole_depth,
            }
    };
    let feet = model.feet.iter().map(|kind| (&kind.design, needed(&kind.design)));
    feet.into_iter().find(|(foot, needed)| foot.plate + 1e-9 < *needed).map(|(foot, needed)| {
        let (text, least) =
            (format!("{} is too thin for what it holds", params.length(foot.plate)), params.length_up(needed));
        problem(params, key, text).accepted(format!("at least {least}")).suggest(Suggestion::text(key, least))
    })
}

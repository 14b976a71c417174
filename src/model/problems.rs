//! What several values of the file mean together and cannot be: told before any geometry is made.

use super::bracket::{LEAST_PENETRATION, Misfit};
use super::guide::GuideDesign;
use super::leg::Frame;
use super::rail::Line;
use super::{Leg, Model, Socket, TieDesign, free_stretch, penetration};
use crate::params::{Params, Run};
use crate::problem::Problem;
use crate::units;

/// Least free tube between two parts on a leg, mm (judgement: below it the parts could as well be one).
const LEAST_FREE: f64 = 40.0;
/// Room between two brackets, mm (judgement).
const BRACKET_GAP: f64 = 5.0;
/// Distance of a screw from the top's end (along the grain) and side (across), as multiples of the diameter, bored
/// holes. Source: NDS 2018, commentary C12.1.5.7.
const FROM_END: f64 = 10.0;
/// See [`FROM_END`].
const FROM_SIDE: f64 = 2.5;
/// Least angle between two rails on one tie, degrees (judgement: their blocks would run into one another).
const LEAST_RAIL_ANGLE: f64 = 55.0;
/// A captive nut is let in at least this deep, mm (judgement: less does not keep it from turning).
const LEAST_SUNK: f64 = 1.0;
/// Plastic between a bolt's nut or head and the end of its socket or tie, mm (judgement: four lines).
const AROUND_BOLT: f64 = 1.6;
/// Least solid plastic below a nut or bolt hole in a foot, mm (judgement).
const LEAST_FOOT_PLATE: f64 = 1.2;

fn problem(params: &Params, key: &str, message: impl Into<String>) -> Problem {
    Problem::new(params.place_of(key), key, message)
}

/// A length as the messages show it.
fn mm(value: f64) -> String {
    units::show(units::Kind::Length, (value * 100.0).round() / 100.0, units::System::Metric)
}

/// A temperature as the messages show it.
fn air(value: f64) -> String {
    units::show(units::Kind::Temperature, (value * 10.0).round() / 10.0, units::System::Metric)
}

/// Problems without whose mending nothing can be laid out.
pub(super) fn before_layout(params: &Params) -> Vec<Problem> {
    thickness_count(params).into_iter().chain(insets(params)).collect()
}

/// Problems that neither need a layout nor stand in its way.
pub(super) fn beside_layout(params: &Params) -> Vec<Problem> {
    let mut all = screw_length(params);
    all.extend(hold(params));
    all.extend(filament(params));
    all
}

fn thickness_count(params: &Params) -> Option<Problem> {
    let (given, legs) = (params.top.thickness_at_legs.len(), params.legs.count);
    (given != 0 && given != legs).then(|| {
        problem(params, "top.thickness_at_legs", format!("{given} thicknesses for {legs} legs"))
            .hint(format!("give {legs}, in the order of the legs, or leave the key out"))
    })
}

fn insets(params: &Params) -> Vec<Problem> {
    let (l, t) = (&params.legs, &params.top);
    let pairs =
        [("legs.inset_from_ends", l.inset_from_ends, t.length), ("legs.inset_from_sides", l.inset_from_sides, t.width)];
    pairs
        .into_iter()
        .filter(|(_, inset, size)| 2.0 * inset >= *size)
        .map(|(key, inset, size)| {
            problem(
                params,
                key,
                format!(
                    "{} from both edges leaves nothing of {}: the legs would stand off the top",
                    mm(inset),
                    mm(size)
                ),
            )
            .accepted(format!("less than {}", mm(size / 2.0)))
        })
        .collect()
}

fn screw_length(params: &Params) -> Vec<Problem> {
    let (screws, key) = (&params.bracket.screws, "bracket.screws.size");
    let in_wood = penetration(params);
    let least = LEAST_PENETRATION * screws.screw.diameter;
    if in_wood < least - 1e-9 {
        let text = format!(
            "reaches {} into the wood; {} are needed (6 diameters, NDS 2018 12.1.5.6)",
            mm(in_wood.max(0.0)),
            mm(least)
        );
        return vec![problem(params, key, text).hint(longer_hint(params, least - in_wood))];
    }
    let legs = (0..params.legs.count).filter_map(|i| {
        let left = super::thickness_at(params, i) - in_wood;
        (left <= 0.0).then(|| {
            problem(params, key, format!("would come out through the show face at leg {} by {}", i + 1, mm(-left)))
                .hint(format!("a screw of {} leaves wood above its tip", mm((screws.length + left - 1.0).floor())))
        })
    });
    legs.collect()
}

fn longer_hint(params: &Params, by: f64) -> String {
    let wanted = params.bracket.screws.length + by;
    match params.bracket.screws.screw.lengths.iter().find(|l| **l >= wanted) {
        Some(length) => format!("the next length sold is {}", mm(*length)),
        None => "take a thinner bracket plate".to_owned(),
    }
}

fn hold(params: &Params) -> Option<Problem> {
    let size = params.bracket.hold.cross_bolt?;
    let tube = &params.legs.tube;
    (size > tube.outside / 3.0).then(|| {
        problem(params, "bracket.hold", format!("a cross bolt M{size} takes too much of a {} tube", mm(tube.outside)))
            .accepted(format!("bolts up to a third of the tube: {}", mm(tube.outside / 3.0)))
    })
}

fn filament(params: &Params) -> Option<Problem> {
    let (warm, limit) =
        (params.place.temperature[1], params.printing.filament.tg.min(params.printing.filament.hdt_045));
    (params.printing.filament.tg > 0.0 && warm >= limit).then(|| {
        problem(
            params,
            "place.temperature",
            format!("{} is above the softening of {} at {}", air(warm), params.printing.filament.name, air(limit)),
        )
        .hint("choose a filament that stands more heat")
    })
}

/// Why a bracket could not be laid out.
pub(super) fn misfit(params: &Params, misfit: &Misfit) -> Problem {
    match misfit {
        Misfit::PitchCircle(least) => {
            let given = params.legs.pitch_circle.unwrap_or_default();
            problem(params, "legs.pitch_circle", format!("{} is too small: the bosses would touch", mm(given)))
                .accepted(format!("at least {}", mm(least.ceil())))
        }
        Misfit::Screws(size) => {
            let text = format!(
                "{} screws with their distances in the wood find no room on a plate of {} x {}",
                params.bracket.screws.count,
                mm(size[0]),
                mm(size[1])
            );
            problem(params, plate_key(params, "bracket.screws.count"), text)
                .hint("fewer or thinner screws, or a larger plate")
        }
        Misfit::Plate(needed) => {
            let text = format!("the bosses and webs need a plate of {} x {}", mm(needed[0]), mm(needed[1]));
            let key = plate_key(params, "printing.bed");
            problem(params, key, text).hint("a larger plate or bed, a smaller pitch circle, or shorter gussets")
        }
    }
}

/// The key to blame for a plate that is too small: the plate's own where the file gives it.
fn plate_key<'a>(params: &Params, otherwise: &'a str) -> &'a str {
    match (params.bracket.length, params.bracket.width) {
        (Some(_), _) => "bracket.length",
        (None, Some(_)) => "bracket.width",
        _ => otherwise,
    }
}

/// Problems of the rails and ties, before they are drawn.
pub(super) fn rails(params: &Params, frames: &[Frame], lines: &[Line]) -> Vec<Problem> {
    let mut all = leg_heights(params, frames);
    for line in lines {
        let key = format!("rails[{}]", line.from_file);
        for leg in line.legs {
            let touching =
                lines.iter().filter(|l| l.legs.contains(&leg) && (l.height - line.height).abs() < 1e-9).count();
            if touching > 2 {
                all.push(
                    problem(params, &key, format!("leg {} would carry {touching} rails at one height", leg + 1))
                        .accepted("at most 2 on a tie")
                        .hint("put the rails of one run at another height"),
                );
            }
            all.extend(rail_angle(params, lines, line, leg, &key));
        }
        all.extend(rail_height(params, frames, line, &key));
    }
    all.sort();
    all.dedup();
    all
}

fn leg_heights(params: &Params, frames: &[Frame]) -> Vec<Problem> {
    let stretch = |f: &Frame| free_stretch(params, f);
    let short = frames.iter().map(stretch).find(|[low, high]| high - low < 3.0 * LEAST_FREE);
    short.map_or_else(Vec::new, |[low, high]| {
        vec![
            problem(
                params,
                "height",
                format!("{} leaves {} of tube between foot and bracket", mm(params.height), mm((high - low).max(0.0))),
            )
            .accepted(format!("at least {} of free tube", mm(3.0 * LEAST_FREE))),
        ]
    })
}

fn rail_angle(params: &Params, lines: &[Line], line: &Line, leg: usize, key: &str) -> Option<Problem> {
    let away = |l: &Line| {
        let here = usize::from(l.legs[1] == leg);
        (l.ends[1 - here] - l.ends[here]).normalize()
    };
    let others = lines
        .iter()
        .filter(|l| !std::ptr::eq(*l, line) && l.legs.contains(&leg) && (l.height - line.height).abs() < 1e-9);
    let least = others.map(|l| away(l).angle(&away(line)).to_degrees()).fold(f64::MAX, f64::min);
    (least < LEAST_RAIL_ANGLE).then(|| {
        problem(
            params,
            key,
            format!("two rails meet at leg {} at {least:.0} deg: their sockets run into one another", leg + 1),
        )
        .accepted(format!("at least {LEAST_RAIL_ANGLE} deg, or other heights"))
    })
}

fn rail_height(params: &Params, frames: &[Frame], line: &Line, key: &str) -> Vec<Problem> {
    let mut all = Vec::new();
    let half = params.tie.height.max(line.tube.outside * 2.0) / 2.0;
    let [low, high] = line
        .legs
        .map(|l| free_stretch(params, &frames[l]))
        .into_iter()
        .fold([0.0, f64::MAX], |b, s| [s[0].max(b[0]), s[1].min(b[1])]);
    if line.height - half < low || line.height + half > high {
        all.push(
            problem(
                params,
                &format!("{key}.above_floor"),
                format!("{} puts the tie into the foot or the bracket", mm(line.height)),
            )
            .accepted(format!("{} to {}", mm((low + half).ceil()), mm((high - half).floor()))),
        );
    }
    let length = (line.ends[1] - line.ends[0]).norm();
    let sockets =
        2.0 * (params.tie.rail_socket_depth + frames[line.legs[0]].pitch_circle / 2.0 + params.legs.tube.outside);
    if length < sockets + LEAST_FREE {
        all.push(
            problem(params, key, format!("the legs stand {} apart: too near for a rail", mm(length)))
                .hint("leave the rail out"),
        );
    }
    all
}

/// Problems that only the finished layout shows.
pub(super) fn after_layout(model: &Model) -> Vec<Problem> {
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
    all.extend(bolts(model));
    all
}

fn tube_longer_than_stock(model: &Model) -> Vec<Problem> {
    let params = &model.params;
    let longest_stock = params.cutting.stock.iter().copied().fold(0.0, f64::max);
    let cut = model.cut_tubes();
    let over = cut.iter().filter(|c| c.length > longest_stock).max_by(|a, b| a.length.total_cmp(&b.length));
    over.map_or_else(Vec::new, |c| {
        vec![
            problem(
                params,
                "cutting.stock",
                format!("the {} is {} long, the longest stock {}", c.name, mm(c.length), mm(longest_stock)),
            )
            .hint("name a longer stock, or a lower table"),
        ]
    })
}

fn ties_apart(model: &Model) -> Vec<Problem> {
    let params = &model.params;
    for leg in &model.legs {
        let [low, high] = free_stretch(params, &leg.frame);
        let spans: Vec<[f64; 2]> = leg.ties.iter().map(|t| half_span(model, leg, t)).collect();
        let ends = std::iter::once(low).chain(spans.iter().map(|s| s[1]));
        let starts = spans.iter().map(|s| s[0]).chain(std::iter::once(high));
        if let Some((end, start)) = ends.zip(starts).find(|(end, start)| end + 2.0 > *start) {
            let text = format!(
                "on leg {} a tie would begin at {} where the part below ends at {}",
                leg.number,
                mm(start),
                mm(end)
            );
            let key =
                if params.places.contains_key("legs.ties") || params.rails.is_empty() { "legs.ties" } else { "rails" };
            return vec![problem(params, key, text).hint("fewer ties, or other heights")];
        }
    }
    Vec::new()
}

fn half_span(model: &Model, leg: &Leg, tie: &super::PlacedTie) -> [f64; 2] {
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
    for leg in &model.legs {
        let over =
            |k: usize, size: f64| corners(model, leg).iter().map(|c| c[k].abs() - size / 2.0).fold(f64::MIN, f64::max);
        for (k, key, size) in [(0, "legs.inset_from_ends", t.length), (1, "legs.inset_from_sides", t.width)] {
            if over(k, size) > 1e-6 {
                let inset = [params.legs.inset_from_ends, params.legs.inset_from_sides][k];
                return vec![
                    problem(
                        params,
                        key,
                        format!(
                            "the bracket of leg {} would stand {} over the edge of the top",
                            leg.number,
                            mm(over(k, size))
                        ),
                    )
                    .accepted(format!("at least {}", mm((inset + over(k, size)).ceil()))),
                ];
            }
        }
    }
    Vec::new()
}

fn brackets_apart(model: &Model) -> Vec<Problem> {
    let boxes: Vec<[[f64; 2]; 2]> = model
        .legs
        .iter()
        .map(|l| {
            let c = corners(model, l);
            [0, 1].map(|k| c.iter().fold([f64::MAX, f64::MIN], |b, p| [b[0].min(p[k]), b[1].max(p[k])]))
        })
        .collect();
    for (i, a) in boxes.iter().enumerate() {
        for (j, b) in boxes.iter().enumerate().skip(i + 1) {
            let apart = (0..2).any(|k| a[k][0] > b[k][1] + BRACKET_GAP || b[k][0] > a[k][1] + BRACKET_GAP);
            if !apart {
                let text = format!(
                    "the brackets of legs {} and {} overlap or stand nearer than {}",
                    i + 1,
                    j + 1,
                    mm(BRACKET_GAP)
                );
                return vec![
                    problem(&model.params, "legs", text).hint("smaller insets, fewer screws, or a longer top"),
                ];
            }
        }
    }
    Vec::new()
}

fn screws_from_edges(model: &Model) -> Vec<Problem> {
    let (params, t) = (&model.params, &model.params.top);
    let d = params.bracket.screws.screw.diameter;
    let along_x = t.grain == Run::AlongLength;
    let least = if along_x { [FROM_END * d, FROM_SIDE * d] } else { [FROM_SIDE * d, FROM_END * d] };
    let sizes = [t.length, t.width];
    let keys = ["legs.inset_from_ends", "legs.inset_from_sides"];
    let mut all = Vec::new();
    for k in 0..2 {
        let worst = model
            .holes()
            .iter()
            .map(|h| (least[k] - (sizes[k] / 2.0 - h.at[k].abs()), h.leg))
            .fold((f64::MIN, 0), |a, b| if b.0 > a.0 + 1e-9 { b } else { a });
        if worst.0 > 1e-6 {
            let inset = [params.legs.inset_from_ends, params.legs.inset_from_sides][k];
            all.push(
                problem(
                    params,
                    keys[k],
                    format!(
                        "a screw of leg {} {}; {} inside are needed (NDS 2018 C12.1.5.7)",
                        worst.1,
                        where_to_edge(least[k] - worst.0),
                        mm(least[k])
                    ),
                )
                .accepted(format!("at least {}", mm((inset + worst.0).ceil()))),
            );
        }
    }
    all
}

/// Where a screw stands at the top's edge.
fn where_to_edge(inside: f64) -> String {
    let far = mm(inside.abs());
    if inside < 0.0 { format!("misses the top by {far}") } else { format!("stands {far} from the edge of the top") }
}

fn beds(model: &Model) -> Vec<Problem> {
    let bed = model.params.printing.bed;
    let mut boxes: Vec<(&str, [f64; 3])> = Vec::new();
    boxes.extend(model.brackets.iter().map(|k| ("bracket", k.design.box_mm())));
    boxes.extend(model.feet.iter().map(|k| ("foot", k.design.box_mm())));
    boxes.extend(model.ties.iter().map(|k| ("tie", k.design.box_mm())));
    boxes.extend(model.guides.iter().map(|k| ("drill guide", [k.design.length, k.design.width, k.design.height])));
    boxes
        .into_iter()
        .filter(|(_, b)| {
            let (mut part, mut plate) = ([b[0], b[1]], [bed[0], bed[1]]);
            part.sort_by(f64::total_cmp);
            plate.sort_by(f64::total_cmp);
            part[0] > plate[0] || part[1] > plate[1] || b[2] > bed[2]
        })
        .map(|(name, b)| {
            let sizes = b.map(|v| mm((v - 1e-6).ceil())).join(" x ");
            problem(&model.params, "printing.bed", format!("the {name} needs {sizes}, more than the bed"))
                .accepted(bed.map(mm).join(" x "))
                .hint("fewer screws or tubes, a smaller pitch circle, or another printer")
        })
        .collect()
}

fn guide_height(model: &Model) -> Vec<Problem> {
    let low = model.guides.iter().find(|g| g.design.height < GuideDesign::least_height());
    low.map_or_else(Vec::new, |g| {
        vec![
            problem(
                &model.params,
                "drilling.stick_out",
                format!(
                    "{} leaves a drill guide of {} over the wood",
                    mm(g.design.stick_out),
                    mm(g.design.height.max(0.0))
                ),
            )
            .accepted(format!("at least {}", mm((g.design.depth + GuideDesign::least_height()).ceil()))),
        ]
    })
}

fn foot_plate(model: &Model) -> Vec<Problem> {
    use super::foot::Sole;
    let foot = &model.feet[0].design;
    let needed = LEAST_FOOT_PLATE
        + match foot.sole {
            Sole::Pad { depth, .. } => depth,
            Sole::Levelling { hole_depth, .. } => hole_depth,
        };
    if foot.plate + 1e-9 >= needed {
        return Vec::new();
    }
    vec![
        problem(&model.params, "foot.plate", format!("{} is too thin for what it holds", mm(foot.plate)))
            .accepted(format!("at least {}", mm(needed.ceil()))),
    ]
}

/// Bolts that no shop sells long enough, walls too thin for their nuts, sockets and ties too short for them.
fn bolts(model: &Model) -> Vec<Problem> {
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
        let text = format!("no M{size} bolt is sold long enough for a boss of {}", mm(s.outer));
        return Some(problem(params, "bracket.hold", text).hint("a larger bolt or a thinner wall"));
    };
    if bolt.sunk(s.outer) < LEAST_SUNK - 1e-9 {
        let wall = params.bracket.boss_wall.unwrap_or(s.wall());
        let text = format!("{} holds no captive nut M{size}", mm(wall));
        let least = ((wall + LEAST_SUNK - bolt.sunk(s.outer)) * 10.0).ceil() / 10.0;
        let hint = "or hold the tube another way";
        return Some(problem(params, "bracket.boss_wall", text).accepted(format!("at least {}", mm(least))).hint(hint));
    }
    let room = s.floor + s.depth - s.chamfer - bolt.at;
    let needed = bolt.reach() + AROUND_BOLT;
    (room < needed).then(|| {
        problem(params, "bracket.socket_depth", format!("{} is too short for a cross bolt M{size}", mm(s.depth)))
            .accepted(format!("at least {}", mm((2.0 * needed + s.chamfer).ceil())))
    })
}

fn bolt_in_tie(params: &Params, tie: &TieDesign) -> Option<Problem> {
    let Some(bolt) = tie.bolts.first() else {
        let text = format!("no bolt is sold long enough for a collar of {}", mm(tie.outer));
        return Some(problem(params, "tie.wall", text).hint("a thinner wall"));
    };
    let needed = bolt.reach() + AROUND_BOLT + tie.chamfer;
    (tie.height / 2.0 < needed).then(|| {
        problem(params, "tie.height", format!("{} is too low for its bolt M{}", mm(tie.height), bolt.size))
            .accepted(format!("at least {}", mm((2.0 * needed).ceil())))
    })
}

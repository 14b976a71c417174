//! Legs, ties and rails: [`Legs`], [`Rail`], [`Tie`] and [`Foot`] from their keys.

use super::accept::{self, Range, Shape};
use super::reader::{Group, Reader};
use super::value::Value;
use super::{Foot, FootKind, Legs, Rail, Tie, Ties, Top, Tube, tube};
use crate::tables::bolt::{self, Bolt};
use crate::units::System;

/// Preferred inset of the legs from the ends, and from the sides, mm.
const INSET: [f64; 2] = [120.0, 110.0];

/// Ties that a bundle gets where the file does not say.
const BUNDLE_TIES: usize = 2;

/// Rails closer in height than this share a tie, mm: no two sockets fit nearer.
const SAME_HEIGHT: f64 = 1.0;

/// Plastic above and below a rail in its tie, mm.
const ROUND_RAIL: f64 = 5.0;

/// Least collar of a tie and socket of a rail or foot, mm.
const LEAST: f64 = 20.0;

/// Length of a collar or socket over the diameter of its tube.
const COLLAR: f64 = 1.25;

/// Group of the legs and their number, which the top needs first.
pub(super) fn count<'a>(r: &mut Reader, root: &Group<'a>) -> (Group<'a>, usize) {
    let g = r.group(root, &accept::LEGS);
    let count = r.count(&g, &accept::LEGS_COUNT);
    (g, count)
}

/// Reads what is left of the legs, and the rails.
pub(super) fn legs(r: &mut Reader, root: &Group<'_>, g: &Group<'_>, count: usize, top: &Top) -> (Legs, Vec<Rail>) {
    let tubes = r.count(g, &accept::LEGS_TUBES);
    let tube = tube::tube(r, g, &accept::TUBE).unwrap_or_else(tube::stand_in);
    let rails = rails(r, root, &tube);
    let legs = Legs {
        count,
        inset_from_ends: r.quantity_else(g, &accept::LEGS_ENDS, INSET[0].min((top.length / 6.0).floor())),
        inset_from_sides: r.quantity_else(g, &accept::LEGS_SIDES, INSET[1].min((top.width / 6.0).floor())),
        splay: splay(r, g),
        tubes,
        pitch_circle: r.quantity_if(g, &accept::LEGS_PITCH),
        tube,
        ties: ties(r, g, tubes, &rails),
    };
    (legs, rails)
}

fn splay(r: &mut Reader, g: &Group<'_>) -> [f64; 2] {
    let Some(splay) = r.quantities_if(g, &accept::LEGS_SPLAY) else {
        r.assume(g, &accept::LEGS_SPLAY, accept::LEGS_SPLAY.default_text());
        return [0.0; 2];
    };
    match splay[..] {
        [both] => [both; 2],
        [x, y, ..] => [x, y],
        [] => [0.0; 2],
    }
}

fn ties(r: &mut Reader, g: &Group<'_>, tubes: usize, rails: &[Rail]) -> Ties {
    let Some(found) = r.value(g, &accept::LEGS_TIES) else {
        let count = levels(rails).max(if tubes > 1 { BUNDLE_TIES } else { 0 });
        r.assume(g, &accept::LEGS_TIES, count.to_string());
        return Ties::Even(count);
    };
    match found.value {
        Value::Count(count) => Ties::Even(*count),
        Value::Quantities(_, heights) => {
            let mut heights = heights.clone();
            heights.sort_by(f64::total_cmp);
            Ties::At(heights)
        }
        _ => Ties::Even(0),
    }
}

/// Number of different heights of rails.
fn levels(rails: &[Rail]) -> usize {
    let mut heights: Vec<_> = rails.iter().map(|rail| rail.above_floor).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|b, a| (*b - *a).abs() < SAME_HEIGHT);
    heights.len()
}

fn rails(r: &mut Reader, root: &Group<'_>, legs: &Tube) -> Vec<Rail> {
    if !root.has(&accept::RAILS) {
        r.assume(root, &accept::RAILS, accept::RAILS.default_text());
    }
    let groups = r.groups(root, &accept::RAILS);
    groups.iter().map(|g| rail(r, g, legs)).collect()
}

fn rail(r: &mut Reader, g: &Group<'_>, legs: &Tube) -> Rail {
    let run = r.choice(g, &accept::RAIL_RUN, &accept::RUNS);
    let above_floor = r.quantity(g, &accept::RAIL_ABOVE);
    let own = tube::tube(r, g, &accept::RAIL_TUBE);
    if own.is_none() {
        r.assume(g, &accept::RAIL_TUBE, legs.name.clone());
    }
    Rail { run, above_floor, tube: own.unwrap_or_else(|| legs.clone()) }
}

/// Reads the ties.
pub(super) fn tie(r: &mut Reader, root: &Group<'_>, legs: &Legs, rails: &[Rail]) -> Tie {
    let g = r.group(root, &accept::TIE);
    let thickest = rails.iter().map(|rail| rail.tube.outside).fold(0.0, f64::max);
    let round = if rails.is_empty() { 0.0 } else { thickest + 2.0 * ROUND_RAIL };
    Tie {
        height: r.quantity_else(&g, &accept::TIE_HEIGHT, collar(legs.tube.outside).max(round.ceil())),
        wall: tie_wall(r, &g, &legs.tube),
        rail_socket_depth: if rails.is_empty() {
            r.quantity_if(&g, &accept::TIE_SOCKET).unwrap_or_else(|| collar(legs.tube.outside))
        } else {
            r.quantity_else(&g, &accept::TIE_SOCKET, collar(thickest))
        },
    }
}

/// A tie's wall may be as thick as the tube, or this, mm. Judgement: beyond, collars cover one another's bolts and the rails'
/// sockets, and what they add holds nothing.
const THICK_WALL: f64 = 6.0;

/// Thickest wall of a tie on a tube, mm.
pub(crate) fn thickest_tie_wall(tube: &Tube) -> f64 {
    tube.outside.max(THICK_WALL)
}

/// A wall out of its range is told at once what the tube leaves of the range.
fn tie_wall(r: &mut Reader, g: &Group<'_>, tube: &Tube) -> Option<f64> {
    let wall = r.quantity_if(g, &accept::TIE_WALL);
    let (range, path) = (accept::TIE_WALL.what.range()?, g.path(&accept::TIE_WALL));
    if r.is_sound(accept::TUBE.key) {
        let less = Range { most: range.most.min(thickest_tie_wall(tube)), ..range };
        for problem in r.problems.iter_mut().filter(|problem| problem.key == path) {
            for system in [System::Metric, System::Inch] {
                if problem.accepted.as_ref() == Some(&range.describe(system)) {
                    problem.accepted = Some(less.describe(system));
                }
            }
        }
    }
    wall
}

/// Whole mm of bore for a tube that carries little moment.
fn collar(outside: f64) -> f64 {
    (COLLAR * outside).ceil().max(LEAST)
}

/// Reads the feet.
pub(super) fn foot(r: &mut Reader, root: &Group<'_>, legs: &Legs) -> Foot {
    let g = r.group(root, &accept::FOOT);
    let kind = kind(r, &g);
    Foot {
        friction: friction(r, &g, &kind),
        kind,
        shims: r.quantity_if(&g, &accept::FOOT_SHIMS),
        plate: r.quantity_if(&g, &accept::FOOT_PLATE),
        socket_depth: r.quantity_else(&g, &accept::FOOT_SOCKET, collar(legs.tube.outside)),
        base: r.choice(&g, &accept::FOOT_BASE, &accept::BASES),
    }
}

/// The file's own, or that of the kind: felt on wood slides at 0.3 to 0.5, rubber and bolt heads on tiles hold up to 0.8. The
/// higher end, since friction is what lets a dragged leg be bent.
fn friction(r: &mut Reader, g: &Group<'_>, kind: &FootKind) -> f64 {
    r.number_if(g, &accept::FOOT_FRICTION).unwrap_or_else(|| {
        let usual = match kind {
            FootKind::Flat { .. } => 0.5,
            FootKind::Levelling { .. } => 0.8,
        };
        r.assume(g, &accept::FOOT_FRICTION, usual.to_string());
        usual
    })
}

fn kind(r: &mut Reader, g: &Group<'_>) -> FootKind {
    let bolts = [accept::FOOT_BOLT, accept::FOOT_STAND_OFF];
    let pads = [accept::FOOT_PAD, accept::FOOT_PAD_THICKNESS, accept::FOOT_SHIMS];
    if r.word(g, &accept::FOOT_KIND) == "levelling" {
        only_for(r, g, &pads, "flat");
        let bolt = thread(r.word(g, &accept::FOOT_BOLT));
        return FootKind::Levelling { bolt, stand_off: r.quantity(g, &accept::FOOT_STAND_OFF) };
    }
    only_for(r, g, &bolts, "levelling");
    FootKind::Flat {
        pad_diameter: r.quantity(g, &accept::FOOT_PAD),
        pad_thickness: r.quantity(g, &accept::FOOT_PAD_THICKNESS),
    }
}

/// The bolt that a word ends with, `M8` or `cross bolt M4`; every such word is a row of the table.
pub(super) fn thread(word: &str) -> &'static Bolt {
    word.rsplit(' ').next().and_then(bolt::find).unwrap_or(&bolt::ALL[0])
}

/// Keys that belong to the other kind of foot.
fn only_for(r: &mut Reader, g: &Group<'_>, keys: &[accept::Accept], kind: &str) {
    for key in keys {
        if let Some(found) = r.value(g, key) {
            let message = format!("is only for a {kind} foot");
            r.wrong(&found.path, message).hint = Some(format!("write \"kind\": \"{kind}\", or leave it out"));
        }
    }
}

const _: () = assert!(matches!(accept::RAILS.what, Shape::Groups(0, 4)), "Params::rails says at most 4");

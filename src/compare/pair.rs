//! Printed parts and tubes: again or keep.

use std::collections::BTreeMap;

use super::cause::Causes;
use super::things::{Role, SAME_CUT, Thing, Things, roles};
use crate::output::record::{PartRecord, Record};

/// What to do with a thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verb {
    /// Print it.
    Print,
    /// Cut it from new stock.
    Cut,
    /// Cut a piece off.
    Shorten,
    /// Drill it.
    Drill,
    /// Drill an old hole wider or deeper.
    DrillOut,
    /// Glue a dowel in and drill beside it.
    PlugAndDrill,
    /// Glue a dowel in.
    Plug,
    /// Leave it.
    Keep,
    /// It is left over.
    Unused,
}

impl Verb {
    /// As people read it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Print => "print again",
            Self::Cut => "cut again",
            Self::Shorten => "shorten",
            Self::Drill => "drill",
            Self::DrillOut => "drill out",
            Self::PlugAndDrill => "plug, then drill",
            Self::Plug => "plug",
            Self::Keep => "keep",
            Self::Unused => "no longer used",
        }
    }
}

/// One line of what follows from a change.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What to do.
    pub verb: Verb,
    /// How many.
    pub count: usize,
    /// Of what: `bracket legs 1 3`, `leg tube`, `hole`.
    pub what: String,
    /// Engraved mark of a part; else empty.
    pub mark: String,
    /// Legs it belongs to; empty for a tool.
    pub legs: Vec<usize>,
    /// File of a part, or sizes: `to 812.4 mm, by 1.6 mm`.
    pub how: String,
    /// Keys that are the reason; empty for what is kept.
    pub why: Vec<String>,
}

/// What a printed part must agree in to serve for another.
type Sign<'a> = (&'a str, &'a str);

fn sign(part: &PartRecord) -> Sign<'_> {
    (&part.mark, &part.material)
}

/// Every part of the new kit, then the old ones that are left over.
pub(super) fn parts(old: &Record, new: &Record, before: &Things, after: &Things, causes: &Causes) -> Vec<Line> {
    let mut stock: BTreeMap<Sign, usize> = BTreeMap::new();
    old.parts.iter().for_each(|part| *stock.entry(sign(part)).or_default() += part.count);
    let (old_roles, new_roles) = (roles(old), roles(new));
    let mut lines = Vec::new();
    for (index, part) in new.parts.iter().enumerate() {
        let have = stock.get_mut(&sign(part));
        let kept = have.map_or(0, |have| {
            let kept = part.count.min(*have);
            *have -= kept;
            kept
        });
        let why = || causes.of(&changed(&new_roles, index, before, after));
        lines.extend(line(Verb::Print, part, part.count - kept, why));
        lines.extend(line(Verb::Keep, part, kept, Vec::new));
    }
    for (index, part) in old.parts.iter().enumerate() {
        let left = stock.remove(&sign(part)).unwrap_or(0);
        let unused = line(Verb::Unused, part, left, || causes.of(&changed(&old_roles, index, before, after)));
        let again = new.parts.iter().any(|p| p.mark == part.mark);
        // The new one bears the same mark: only what it is printed with tells them apart.
        lines.extend(unused.map(|l| if again { Line { how: part.material.clone(), ..l } } else { l }));
    }
    lines
}

fn line(verb: Verb, part: &PartRecord, count: usize, why: impl Fn() -> Vec<String>) -> Option<Line> {
    let how = if verb == Verb::Print { part.file.clone() } else { String::new() };
    let (what, mark, legs) = (part.name.clone(), part.mark.clone(), part.legs.clone());
    (count > 0).then(|| Line { verb, count, what, mark, legs, how, why: why() })
}

/// Places of a part that something else took before.
fn changed(roles: &BTreeMap<Role, usize>, index: usize, before: &Things, after: &Things) -> Vec<Role> {
    let own = roles.iter().filter(|(_, part)| **part == index).map(|(role, _)| role);
    own.filter(|role| before.get(*role) != after.get(*role)).cloned().collect()
}

/// Every tube of the new kit, then the old ones that are left over; equal lines together.
pub(super) fn tubes(before: &Things, after: &Things, causes: &Causes) -> Vec<Line> {
    let mut lines = Vec::new();
    for (role, thing) in after {
        if let (Role::Tubes(name, legs, _), Thing::Tubes { stock, length, count }) = (role, thing) {
            let line = |verb, count, how: String| {
                let why = if verb == Verb::Keep { Vec::new() } else { causes.of([role]) };
                Line { verb, count, what: name.clone(), mark: String::new(), legs: legs.clone(), how, why }
            };
            let (verb, kept, how) = match before.get(role) {
                Some(Thing::Tubes { stock: old, length: was, count: had }) if old == stock => {
                    let (verb, how) = recut(*was, *length);
                    (verb, *count.min(had), how)
                }
                _ => (Verb::Cut, *count, sized(stock, *length)),
            };
            lines.push(line(verb, kept, how));
            lines.extend((count > &kept).then(|| line(Verb::Cut, count - kept, sized(stock, *length))));
        }
    }
    lines.extend(left_over(before, after, causes));
    joined(lines)
}

fn sized(stock: &str, length: f64) -> String {
    format!("to {length:.1} mm, {stock}")
}

/// What to do with a tube of the same stock.
fn recut(was: f64, length: f64) -> (Verb, String) {
    if (length - was).abs() <= SAME_CUT {
        (Verb::Keep, format!("{was:.1} mm"))
    } else if length < was {
        (Verb::Shorten, format!("by {:.1} mm, from {was:.1} mm to {length:.1} mm", was - length))
    } else {
        (Verb::Cut, format!("to {length:.1} mm; it has {was:.1} mm, {:.1} mm too short", length - was))
    }
}

fn left_over(before: &Things, after: &Things, causes: &Causes) -> Vec<Line> {
    let mut lines = Vec::new();
    for (role, thing) in before {
        if let (Role::Tubes(name, legs, _), Thing::Tubes { stock, length, count }) = (role, thing) {
            let used = match after.get(role) {
                Some(Thing::Tubes { stock: new, count, .. }) if new == stock => *count,
                _ => 0,
            };
            let (what, legs, how) = (name.clone(), legs.clone(), format!("{length:.1} mm, {stock}"));
            let left = count.saturating_sub(used);
            let (verb, why) = (Verb::Unused, causes.of([role]));
            lines.extend((left > 0).then_some(Line { verb, count: left, what, mark: String::new(), legs, how, why }));
        }
    }
    lines
}

/// Lines that say the same of other legs, in one.
pub(super) fn joined(lines: Vec<Line>) -> Vec<Line> {
    let mut all: Vec<Line> = Vec::new();
    for line in lines {
        let like = |l: &&mut Line| (l.verb, &l.what, &l.how, &l.why) == (line.verb, &line.what, &line.how, &line.why);
        match all.iter_mut().find(like) {
            Some(known) => {
                known.count += line.count;
                known.legs.extend(&line.legs);
                known.legs.sort_unstable();
                known.legs.dedup();
            }
            None => all.push(line),
        }
    }
    all
}

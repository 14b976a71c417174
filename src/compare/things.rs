//! What a kit puts where: a part on a leg, a tube, the holes of a bracket.

use std::collections::BTreeMap;

use crate::output::record::{HoleRecord, Record};

/// A tube nearer than this to its new length is kept, mm (judgement: half the usual end play of 1 mm between the socket
/// floors; nobody files off less).
pub(super) const SAME_CUT: f64 = 0.5;
/// A hole nearer than this to its new place is kept, mm (judgement: the room of a screw in its bracket).
pub(super) const SAME_PLACE: f64 = 0.5;
/// Pilots nearer than this are the same drill, mm (judgement: drills come in tenths).
pub(super) const SAME_DRILL: f64 = 0.05;
/// Depths nearer than this are the same, mm (judgement: a depth stop is not set closer).
pub(super) const SAME_DEPTH: f64 = 0.5;

/// A place in the table that something takes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Role {
    /// Sort of part, leg (0: a tool for all), count from the floor up.
    Part(String, usize, usize),
    /// Name, legs, count among equal ones from the floor up.
    Tubes(String, Vec<usize>, usize),
    /// Holes of a leg's bracket.
    Holes(usize),
}

/// What takes it.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Thing {
    /// A printed part: engraved mark, what it is printed with.
    Part { mark: String, material: String },
    /// Equal tubes.
    Tubes { stock: String, length: f64, count: usize },
    /// Holes.
    Holes(Vec<HoleRecord>),
}

/// All of a kit.
pub(super) type Things = BTreeMap<Role, Thing>;

impl Thing {
    /// Whether one serves for the other.
    pub(super) fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Tubes { stock: a, length: x, count: n }, Self::Tubes { stock: b, length: y, count: m }) => {
                a == b && n == m && (x - y).abs() <= SAME_CUT
            }
            (Self::Holes(a), Self::Holes(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_hole(a, b)),
            _ => self == other,
        }
    }
}

/// Distance of two holes, mm.
pub(super) fn apart(a: &HoleRecord, b: &HoleRecord) -> f64 {
    (a.x_mm - b.x_mm).hypot(a.y_mm - b.y_mm)
}

fn same_hole(a: &HoleRecord, b: &HoleRecord) -> bool {
    apart(a, b) <= SAME_PLACE
        && (a.pilot_mm - b.pilot_mm).abs() <= SAME_DRILL
        && (a.depth_mm - b.depth_mm).abs() <= SAME_DEPTH
}

/// What a kit on record puts where.
pub(super) fn of(record: &Record) -> Things {
    let mut all = parts(record);
    all.extend(tubes(record));
    for hole in &record.holes {
        match all.entry(Role::Holes(hole.leg)).or_insert_with(|| Thing::Holes(Vec::new())) {
            Thing::Holes(list) => list.push(*hole),
            Thing::Part { .. } | Thing::Tubes { .. } => {}
        }
    }
    all
}

/// Where each part of the record stands, by its index in the record.
pub(super) fn roles(record: &Record) -> BTreeMap<Role, usize> {
    let mut standing: Vec<(&str, usize, f64, usize)> = Vec::new();
    let mut all = BTreeMap::new();
    for (index, part) in record.parts.iter().enumerate() {
        standing.extend(part.places.iter().map(|p| (part.sort.as_str(), p.leg, p.pose[2][3], index)));
        if part.places.is_empty() {
            let legs: &[usize] = if part.legs.is_empty() { &[0] } else { &part.legs };
            all.extend(legs.iter().map(|leg| (Role::Part(part.sort.clone(), *leg, 0), index)));
        }
    }
    standing.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)));
    for one in standing.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
        all.extend(one.iter().enumerate().map(|(nth, s)| (Role::Part(s.0.to_owned(), s.1, nth), s.3)));
    }
    all
}

fn parts(record: &Record) -> Things {
    let thing = |index: usize| {
        let part = &record.parts[index];
        Thing::Part { mark: part.mark.clone(), material: part.material.clone() }
    };
    roles(record).into_iter().map(|(role, index)| (role, thing(index))).collect()
}

fn tubes(record: &Record) -> Things {
    let mut all = Things::new();
    for tube in &record.tubes {
        let role = |nth| Role::Tubes(tube.name.clone(), tube.legs.clone(), nth);
        let nth = (0..).find(|n| !all.contains_key(&role(*n))).unwrap_or(0);
        all.insert(
            role(nth),
            Thing::Tubes { stock: tube.stock.clone(), length: tube.length_mm, count: tube.ends.len() },
        );
    }
    all
}

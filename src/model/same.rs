//! Which parts are the same part turned about the vertical, so that it is written once and counted.

use super::bracket::{BracketDesign, Gusset, ScrewHole};
use super::foot::FootDesign;
use super::socket::{CrossBolt, Socket};
use super::tie::TieDesign;

/// Dimensions nearer than this are the same, mm: a tenth of the smallest step a printer makes.
const SAME: f64 = 1e-3;

/// A design that can be turned about z and compared.
pub trait Turned {
    /// The design turned by this angle, radians; `None` when its frame does not allow the angle.
    fn turned(&self, angle: f64) -> Option<Self>
    where
        Self: Sized;
    /// Angles worth trying to bring it on to another, radians.
    fn turns(&self, _other: &Self) -> Vec<f64> {
        ANGLES.iter().map(|d| d.to_radians()).collect()
    }
    /// Whether the two are the same part; features may be listed in another order.
    fn same(&self, other: &Self) -> bool;
}

/// Angles tried, in steps of 30 degrees, quarter turns first.
const ANGLES: [f64; 12] = [0.0, 180.0, 90.0, 270.0, 120.0, 240.0, 60.0, 300.0, 30.0, 150.0, 210.0, 330.0];

/// The angle by which `a` must be turned to become `b`, radians.
pub fn turn_between<D: Turned>(a: &D, b: &D) -> Option<f64> {
    a.turns(b).into_iter().find(|angle| a.turned(*angle).is_some_and(|t| t.same(b)))
}

fn turn2(p: [f64; 2], angle: f64) -> [f64; 2] {
    let (s, c) = angle.sin_cos();
    [p[0] * c - p[1] * s, p[0] * s + p[1] * c]
}

fn turn3(p: [f64; 3], angle: f64) -> [f64; 3] {
    let [x, y] = turn2([p[0], p[1]], angle);
    [x, y, p[2]]
}

fn near<const N: usize>(a: [f64; N], b: [f64; N]) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < SAME)
}

/// Every item of one list has its equal in the other.
fn same_set<T>(a: &[T], b: &[T], same: impl Fn(&T, &T) -> bool) -> bool {
    a.len() == b.len() && a.iter().all(|x| b.iter().any(|y| same(x, y)))
}

/// Quarter turns swap a plate's sides; other turns do not keep it.
fn turned_plate(size: [f64; 2], angle: f64) -> Option<[f64; 2]> {
    let quarters = angle / std::f64::consts::FRAC_PI_2;
    if (quarters - quarters.round()).abs() > 1e-9 {
        return None;
    }
    Some(if quarters.round() as i64 % 2 == 0 { size } else { [size[1], size[0]] })
}

fn turned_bolt(bolt: &CrossBolt, angle: f64) -> CrossBolt {
    CrossBolt { direction: turn3(bolt.direction, angle), ..*bolt }
}

/// The side of the nut does not matter.
fn same_bolt(a: &CrossBolt, b: &CrossBolt) -> bool {
    let line = near(a.direction, b.direction) || near(a.direction, b.direction.map(|c| -c));
    line && near([a.size, a.at, a.nut_seat, a.length], [b.size, b.at, b.nut_seat, b.length])
}

fn turned_socket(s: &Socket, angle: f64) -> Socket {
    Socket {
        base: turn2(s.base, angle),
        axis: turn3(s.axis, angle),
        bolt: s.bolt.as_ref().map(|b| turned_bolt(b, angle)),
        ..s.clone()
    }
}

fn same_socket(a: &Socket, b: &Socket) -> bool {
    let numbers = |s: &Socket| [s.outer, s.bore, s.floor, s.depth, s.chamfer, s.skirt];
    let bolts = match (&a.bolt, &b.bolt) {
        (None, None) => true,
        (Some(a), Some(b)) => same_bolt(a, b),
        _ => false,
    };
    near(a.base, b.base)
        && near(a.axis, b.axis)
        && near(numbers(a), numbers(b))
        && bolts
        && a.ribs == b.ribs
        && a.grooves == b.grooves
}

fn turned_hole(h: &ScrewHole, angle: f64, along_x: bool) -> ScrewHole {
    ScrewHole { at: turn2(h.at, angle), along_x, ..*h }
}

fn same_hole(a: &ScrewHole, b: &ScrewHole) -> bool {
    near([a.at[0], a.at[1], a.slot], [b.at[0], b.at[1], b.slot]) && (a.slot == 0.0 || a.along_x == b.along_x)
}

/// Where a web ends on the plate, and its sizes.
fn gusset_signature(d: &BracketDesign, g: &Gusset) -> [f64; 7] {
    let base = d.sockets[g.boss].base;
    [base[0], base[1], g.angle.cos(), g.angle.sin(), g.run, g.rise, g.thickness]
}

fn web_signatures(d: &BracketDesign) -> Vec<[f64; 4]> {
    let middle = |k: usize, w: &super::bracket::Web| (d.sockets[w.from].base[k] + d.sockets[w.to].base[k]) / 2.0;
    d.webs.iter().map(|w| [middle(0, w), middle(1, w), w.height, w.thickness]).collect()
}

impl Turned for BracketDesign {
    fn turned(&self, angle: f64) -> Option<Self> {
        let [length, width] = turned_plate([self.length, self.width], angle)?;
        let swapped = ((angle / std::f64::consts::FRAC_PI_2).round() as i64) % 2 != 0;
        let holes = |hs: &[ScrewHole]| hs.iter().map(|h| turned_hole(h, angle, h.along_x != swapped)).collect();
        Some(Self {
            length,
            width,
            sockets: self.sockets.iter().map(|s| turned_socket(s, angle)).collect(),
            gussets: self.gussets.iter().map(|g| Gusset { angle: g.angle + angle, ..*g }).collect(),
            screws: holes(&self.screws),
            spare: holes(&self.spare),
            ..self.clone()
        })
    }

    fn same(&self, other: &Self) -> bool {
        let numbers = |d: &Self| [d.length, d.width, d.plate, d.corner_radius];
        let webs = |d: &Self| d.gussets.iter().map(|g| gusset_signature(d, g)).collect::<Vec<_>>();
        near(numbers(self), numbers(other))
            && self.hole == other.hole
            && same_set(&self.sockets, &other.sockets, same_socket)
            && same_set(&webs(self), &webs(other), |a, b| near(*a, *b))
            && same_set(&web_signatures(self), &web_signatures(other), |a, b| near(*a, *b))
            && same_set(&self.screws, &other.screws, same_hole)
            && same_set(&self.spare, &other.spare, same_hole)
    }
}

impl Turned for FootDesign {
    fn turned(&self, angle: f64) -> Option<Self> {
        let [length, width] = turned_plate([self.length, self.width], angle)?;
        let sockets = self.sockets.iter().map(|s| turned_socket(s, angle)).collect();
        Some(Self { length, width, sockets, ..self.clone() })
    }

    fn same(&self, other: &Self) -> bool {
        let numbers = |d: &Self| [d.length, d.width, d.plate, d.corner_radius];
        near(numbers(self), numbers(other))
            && self.sole == other.sole
            && same_set(&self.sockets, &other.sockets, same_socket)
    }
}

impl Turned for TieDesign {
    /// A tie is turned as its leg leans: from its first collar off the axis, or its first rail, to each of the other's.
    fn turns(&self, other: &Self) -> Vec<f64> {
        let heading = |p: [f64; 2]| p[1].atan2(p[0]);
        let collars = |d: &Self| d.bores.iter().filter(|b| b[0].hypot(b[1]) > 1.0).map(|b| heading(*b)).collect();
        let rails = |d: &Self| d.rails.iter().map(|r| heading([r.direction[0], r.direction[1]])).collect();
        let [mine, theirs] = [self, other].map(|d| {
            let all: Vec<f64> = collars(d);
            if all.is_empty() { rails(d) } else { all }
        });
        mine.first().map_or_else(|| vec![0.0], |from| theirs.iter().map(|to| to - from).collect())
    }

    fn turned(&self, angle: f64) -> Option<Self> {
        Some(Self {
            bores: self.bores.iter().map(|b| turn2(*b, angle)).collect(),
            bolts: self.bolts.iter().map(|b| turned_bolt(b, angle)).collect(),
            rails: self
                .rails
                .iter()
                .map(|r| super::tie::RailSocket { direction: turn3(r.direction, angle), ..*r })
                .collect(),
            ..self.clone()
        })
    }

    fn same(&self, other: &Self) -> bool {
        let numbers = |d: &Self| [d.height, d.bore, d.outer, d.web, d.chamfer];
        let rail = |r: &super::tie::RailSocket| {
            [r.direction[0], r.direction[1], r.direction[2], r.floor, r.depth, r.bore, r.block, r.height]
        };
        let collars = |d: &Self| d.bores.iter().copied().zip(d.bolts.iter().copied()).collect::<Vec<_>>();
        near(numbers(self), numbers(other))
            && same_set(&collars(self), &collars(other), |a, b| near(a.0, b.0) && same_bolt(&a.1, &b.1))
            && same_set(&self.rails, &other.rails, |a, b| near(rail(a), rail(b)))
    }
}

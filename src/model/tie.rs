//! Dimensions of the tie: collars through which every tube of the leg passes, and sockets for rails.

use nalgebra::Vector3;
use serde::Serialize;

use super::leg::Frame;
use super::pattern::distance_to_segment;
use super::socket::{self, CrossBolt};
use crate::geometry::SPAN;
use crate::params::{Params, Tube};
use crate::tables::bolt;

/// Least wall of a collar, mm (judgement).
const WALL: f64 = 4.0;
/// Plastic between a rail's end and the tubes' bores, mm (judgement: two walls of five lines).
const BEHIND_RAIL: f64 = 4.0;
/// Least plastic between the corner of a leaning rail's bore and the tubes' bores, mm (judgement: one wall of five lines).
const BEHIND_CORNER: f64 = 2.0;
/// Plastic between a bolt's way and a rail's or another tube's bore, mm (judgement: two lines).
const BESIDE_BOLT: f64 = 0.8;
/// How far out of its collar the way to a bolt is kept free, mm (judgement).
pub const BEFORE_BOLT: f64 = 3.0;
/// How often rails move out by a millimetre to let the bolts pass (judgement: as far as the widest way of a bolt).
const MOST_STEPS: u32 = 16;
/// Width of the webs from collar to collar as a share of the collar (judgement).
const WEB_SHARE: f64 = 0.6;
/// A rail's block is at least this much wider or narrower than the collars, mm (judgement: two lines).
const TANGENT: f64 = 1.0;
/// Widest flat crown of a rail's bore, mm: half a millimetre under the longest bridge, which facets may lengthen.
const BRIDGE: f64 = SPAN - 0.5;
/// So far a block's wall takes up the crown of its bore, mm (judgement).
const CROWN: f64 = 1.0;
/// Cross bolt of a tie when the hold names none: M4 (judgement).
const BOLT: f64 = 4.0;

/// A tie in its printing frame: the collars stand on z = 0, bores up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TieDesign {
    /// Height of the collars, mm.
    pub height: f64,
    /// Middles of the bores, mm.
    pub bores: Vec<[f64; 2]>,
    /// Bore diameter, mm.
    pub bore: f64,
    /// Outer diameter of the collars, mm.
    pub outer: f64,
    /// Width of the webs between collars, mm.
    pub web: f64,
    /// Mouth chamfer of the bores, mm.
    pub chamfer: f64,
    /// One bolt per collar; `at` is its height above z = 0.
    pub bolts: Vec<CrossBolt>,
    /// Sockets for rails, at most two.
    pub rails: Vec<RailSocket>,
}

/// A blind, nearly horizontal bore for a rail.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RailSocket {
    /// Unit vector of the rail away from the leg, in the tie's frame.
    pub direction: [f64; 3],
    /// Distance from the leg's axis to the bore's floor, mm.
    pub floor: f64,
    /// Engaged length, mm.
    pub depth: f64,
    /// Bore diameter, mm.
    pub bore: f64,
    /// Width of the block round the bore, mm.
    pub block: f64,
    /// Height of the rail's axis above z = 0 where it meets the leg's axis, mm.
    pub height: f64,
}

impl RailSocket {
    /// Height of the bore's flat crown over its axis, mm: low, but no wider than a bridge may be.
    #[must_use]
    pub fn crown(&self) -> f64 {
        Self::crown_over(self.bore / 2.0)
    }

    fn crown_over(radius: f64) -> f64 {
        (radius + (radius * 0.25).min(1.0)).max(Self::least_crown(radius))
    }

    /// Height over its axis at which the flat crown of a bore of this radius is as wide as a bridge may be, mm.
    #[must_use]
    pub fn least_crown(radius: f64) -> f64 {
        radius * 2f64.sqrt() - BRIDGE / 2.0
    }
}

/// A block's width that is not a collar's: its sides would touch the collar along a line.
fn apart(block: f64, collar: f64) -> f64 {
    if (block - collar).abs() < TANGENT { collar + TANGENT } else { block }
}

impl TieDesign {
    /// Lays a tie out for one leg; `rails` are unit vectors away from the leg in the world with their tubes.
    #[must_use]
    pub fn new(params: &Params, frame: &Frame, rails: &[(Vector3<f64>, Tube)]) -> Self {
        let tube = &params.legs.tube;
        let wall = params
            .tie
            .wall
            .unwrap_or(0.8 * socket::default_wall(&params.printing, tube, &params.bracket.hold))
            .max(WALL);
        let outer = socket::boss_outer(tube, wall);
        let bore = tube.measured + params.printing.clearance;
        let bores = frame.offsets_in_tie();
        let design = Self {
            height: params.tie.height,
            bores,
            bore,
            outer,
            web: (WEB_SHARE * outer).round(),
            chamfer: params.bracket.chamfer.min(wall / 3.0),
            bolts: Vec::new(),
            rails: Vec::new(),
        };
        let laid = |step: u32| {
            let mut design = design.clone();
            design.add_rails(params, frame, rails, f64::from(step));
            design.add_bolts(params);
            design
        };
        // Rails move out until the bolts find their way between them.
        (0..MOST_STEPS).map(laid).find(|d| !d.blocked()).unwrap_or_else(|| laid(0))
    }

    /// Half the size of the smallest box about the leg's axis, mm.
    #[must_use]
    pub fn reach(&self) -> f64 {
        let collars = self.bores.iter().map(|b| b[0].hypot(b[1]) + self.outer / 2.0);
        let rails = self.rails.iter().map(|r| (r.floor + r.depth).hypot(r.block / 2.0));
        collars.chain(rails).fold(0.0, f64::max)
    }

    /// Smallest box in the printing pose, mm.
    #[must_use]
    pub fn box_mm(&self) -> [f64; 3] {
        let collars = self.bores.iter().map(|b| (*b, [self.outer / 2.0; 2]));
        let rails = self.rails.iter().map(|r| {
            let (reach, [x, y, _]) = (r.floor + r.depth, r.direction);
            ([x * reach, y * reach], [y.abs() * r.block / 2.0, x.abs() * r.block / 2.0])
        });
        let ends = collars.chain(rails).fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |e, (at, half)| {
            let [a, b] = [0, 1].map(|k| [at[k] - half[k], at[k] + half[k]]);
            [e[0].min(a[0]), e[1].min(b[0]), e[2].max(a[1]), e[3].max(b[1])]
        });
        [ends[2] - ends[0], ends[3] - ends[1], self.height]
    }

    /// Sockets for the rails, this much farther out than they must be, mm.
    fn add_rails(&mut self, params: &Params, frame: &Frame, rails: &[(Vector3<f64>, Tube)], out: f64) {
        let inverse = frame.tie_rotation().inverse();
        let wall = (self.outer - params.legs.tube.outside) / 2.0;
        let depth = params.tie.rail_socket_depth;
        for (world, tube) in rails {
            let d = inverse * world;
            let bore = tube.measured + params.printing.clearance;
            let tubes = out + frame.pitch_circle / 2.0 + socket::nominal_bore(&params.legs.tube) / 2.0;
            let (sine, cosine) = (d.z, (1.0 - d.z * d.z).sqrt());
            // The floor leans with the rail: its upper or lower edge comes nearer to the tubes than its middle.
            let edge = if sine > 0.0 { RailSocket::crown_over(bore / 2.0) } else { bore / 2.0 };
            let floor = (tubes + BEHIND_RAIL).max((tubes + BEHIND_CORNER + edge * sine.abs()) / cosine);
            let block = apart(socket::boss_outer(tube, wall), self.outer);
            let over = RailSocket::crown_over(bore / 2.0) - bore / 2.0 - CROWN;
            let needed = (block + 2.0 * over.max(0.0)) / cosine + 2.0 * (floor + depth) * d.z.abs();
            self.height = self.height.max((needed * 2.0).ceil() / 2.0);
            let direction = [d.x, d.y, d.z].map(|c| (c * 1e12).round() / 1e12 + 0.0);
            self.rails.push(RailSocket { direction, floor, depth, bore, block, height: 0.0 });
        }
        let middle = self.height / 2.0;
        self.rails.iter_mut().for_each(|r| r.height = middle);
    }

    /// One bolt per collar: of the hold's size, else of the next that is sold long enough; none when none is.
    fn add_bolts(&mut self, params: &Params) {
        let least = params.bracket.hold.cross_bolt.unwrap_or(BOLT);
        let sizes = bolt::ALL.iter().map(|row| row.diameter).filter(|size| *size >= least - 1e-9);
        let fits = |size: f64| {
            let any = [1.0, 0.0, 0.0];
            let bolt = socket::cross_bolt(size, self.height / 2.0, any, self.outer, self.bore)?;
            let mut all: Vec<CrossBolt> = Vec::new();
            for i in 0..self.bores.len() {
                all.push(CrossBolt { direction: self.clear_direction(i, &bolt, &all), ..bolt });
            }
            Some(all)
        };
        self.bolts = sizes.map(fits).find_map(|found| found).unwrap_or_default();
    }

    /// Direction across a collar whose line stays farthest from the other bores and the rails; of those on which the bolt
    /// meets no bore and no bolt before it, if there are any.
    fn clear_direction(&self, collar: usize, bolt: &CrossBolt, before: &[CrossBolt]) -> [f64; 3] {
        let here = self.bores[collar];
        let room = |angle: f64| {
            let end = |s: f64| [here[0] + s * angle.cos(), here[1] + s * angle.sin()];
            let (a, b) = (end(-3.0 * self.outer), end(3.0 * self.outer));
            let bores =
                self.bores.iter().enumerate().filter(|(i, _)| *i != collar).map(|(_, c)| distance_to_segment(*c, a, b));
            let rails = self.rails.iter().map(|r| {
                let along = [r.direction[0], r.direction[1]];
                (0..8)
                    .map(|k| r.floor + r.depth * f64::from(k) / 7.0)
                    .map(|s| distance_to_segment([along[0] * s, along[1] * s], a, b) - r.block / 2.0)
                    .fold(f64::MAX, f64::min)
            });
            bores.chain(rails).fold(f64::MAX, f64::min)
        };
        let along = |angle: f64| [angle.cos(), angle.sin(), 0.0].map(|c| (c * 1e12).round() / 1e12 + 0.0);
        let busy = self.busy(collar, before);
        let meets = |angle: f64| self.meets(collar, &CrossBolt { direction: along(angle), ..*bolt }, &busy);
        let tangent = if self.bores.len() == 1 { 0.0 } else { here[1].atan2(here[0]) } + std::f64::consts::FRAC_PI_2;
        let angles = |from: i32| (from..from + 12).map(|i| tangent + f64::from(i) * std::f64::consts::PI / 12.0);
        let widest = |angles: &mut dyn Iterator<Item = f64>| {
            let wider = |best: Option<(f64, f64)>, a: f64| match best {
                Some((_, most)) if room(a) <= most + 0.5 => best,
                _ => Some((a, room(a))),
            };
            angles.fold(None, wider).map(|(a, _)| a)
        };
        let clear = |from: i32| widest(&mut angles(from).filter(|a| !meets(*a)));
        let best = clear(0).or_else(|| clear(12)).or_else(|| widest(&mut angles(0)));
        along(best.unwrap_or(tangent))
    }

    /// Whether a bolt meets a bore or another bolt.
    fn blocked(&self) -> bool {
        let mut bolts = self.bolts.iter().enumerate();
        bolts.any(|(i, bolt)| self.meets(i, bolt, &self.busy(i, &self.bolts[..i])))
    }

    fn meets(&self, collar: usize, bolt: &CrossBolt, busy: &[Strip]) -> bool {
        self.ways(collar, bolt).iter().any(|way| busy.iter().any(|other| way.meets(other, BESIDE_BOLT)))
    }

    /// What a bolt of a collar must not meet: rails' bores, other tubes' bores, the bolts before it.
    fn busy(&self, collar: usize, before: &[CrossBolt]) -> Vec<Strip> {
        let rails = self.rails.iter().map(|r| {
            let flat = r.direction[0].hypot(r.direction[1]);
            let along = [r.direction[0] / flat, r.direction[1] / flat];
            Strip { at: [0.0; 2], along, stretch: [r.floor * flat, (r.floor + r.depth) * flat], half: r.bore / 2.0 }
        });
        let others = self.bores.iter().enumerate().filter(|(i, _)| *i != collar).map(|(_, at)| {
            let half = self.bore / 2.0;
            Strip { at: *at, along: [1.0, 0.0], stretch: [-half, half], half }
        });
        let bolts = before.iter().enumerate().flat_map(|(i, bolt)| self.ways(i, bolt));
        rails.chain(others).chain(bolts).collect()
    }

    /// A bolt's hole, and the ways to its nut and its head, seen from above.
    fn ways(&self, collar: usize, bolt: &CrossBolt) -> [Strip; 3] {
        let far = self.outer / 2.0 + BEFORE_BOLT;
        let strip = |stretch: [f64; 2], half: f64| {
            let along = [bolt.direction[0], bolt.direction[1]];
            Strip { at: self.bores[collar], along, stretch, half }
        };
        [
            strip([-far, far], bolt.hole / 2.0),
            strip([bolt.nut_seat, far], bolt.nut_flats / 3f64.sqrt()),
            strip([-far, -bolt.head_seat], bolt.head_face / 2.0),
        ]
    }
}

/// A rectangle in the tie's plane.
#[derive(Clone, Copy)]
struct Strip {
    at: [f64; 2],
    along: [f64; 2],
    /// From where to where along it, mm from `at`.
    stretch: [f64; 2],
    half: f64,
}

impl Strip {
    fn corners(&self) -> [[f64; 2]; 4] {
        let [c, s] = self.along;
        let [a, b] = self.stretch;
        [[a, -self.half], [b, -self.half], [b, self.half], [a, self.half]]
            .map(|[x, y]| [self.at[0] + c * x - s * y, self.at[1] + s * x + c * y])
    }

    /// Whether two come nearer to one another than this, mm, measured across one of their sides.
    fn meets(&self, other: &Self, apart: f64) -> bool {
        let sides = [self, other].into_iter().flat_map(|s| [s.along, [-s.along[1], s.along[0]]]);
        let reach = |s: &Self, n: [f64; 2]| {
            let all = s.corners().map(|p| p[0] * n[0] + p[1] * n[1]);
            all.into_iter().fold([f64::MAX, f64::MIN], |[low, high], v| [low.min(v), high.max(v)])
        };
        sides.into_iter().all(|n| {
            let ([a, b], [c, d]) = (reach(self, n), reach(other, n));
            a < d + apart && c < b + apart
        })
    }
}

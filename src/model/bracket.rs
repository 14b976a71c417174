//! Dimensions of the bracket: sockets, webs, screws, plate.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use nalgebra::Vector3;
use serde::Serialize;

use super::leg::Frame;
use super::pattern::{self, Keepout, Pattern, Request, Spacing};
use super::socket::{self, Socket};
use crate::params::{HEAD_FIT, HOLE_FIT, Params, Run, Seat};

/// Radius of a straight driver's shank with a little room, mm: a 10 mm shank (design) and half a millimetre.
pub const DRIVER: f64 = 5.5;
/// Room between a screw head's sink and a boss, a web or the plate's edge, mm (judgement: a wall of seven lines).
const HEAD_ROOM: f64 = 3.0;
/// Plate beyond a boss or the end of a web, mm (judgement).
const PLATE_MARGIN: f64 = 3.0;
/// Least distance between neighbouring bosses, mm: they must not touch (judgement).
pub const BOSS_GAP: f64 = 1.0;
/// Run of a web on the plate, and its rise on the boss, as shares of the boss' diameter and height: long webs help,
/// high ones hardly (judgement from the solid models).
const WEB_RUN: f64 = 0.6;
/// See [`WEB_RUN`].
const WEB_RISE: f64 = 0.7;
/// Height of a web between bosses as a share of the boss' height (judgement).
const BETWEEN_RISE: f64 = 0.7;
/// A plate nearer to square than this is made square, so that it may be turned (judgement).
const SQUARE: f64 = 1.15;
/// Screws of the fixed group lie on one line along the grain within this, mm (judgement).
const FIXED_BAND: f64 = 1.0;
/// Extra length of a slot beyond the movement it must allow, mm (judgement).
const SLOT_MARGIN: f64 = 0.5;

/// A bracket in its printing frame: the wood face lies on z = 0, the bosses point up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BracketDesign {
    /// Plate along x, mm.
    pub length: f64,
    /// Plate along y, mm.
    pub width: f64,
    /// Plate thickness, mm.
    pub plate: f64,
    /// Radius of the plate's corners, mm.
    pub corner_radius: f64,
    /// One per tube.
    pub sockets: Vec<Socket>,
    /// Webs from boss to plate.
    pub gussets: Vec<Gusset>,
    /// Webs from boss to boss.
    pub webs: Vec<Web>,
    /// Screw holes in use.
    pub screws: Vec<ScrewHole>,
    /// Holes for a later repair.
    pub spare: Vec<ScrewHole>,
    /// Form of every screw hole.
    pub hole: HoleForm,
}

/// A triangular web from a boss to the plate, in the vertical plane through the boss' base.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gusset {
    /// Index of its boss.
    pub boss: usize,
    /// Direction on the plate from x, radians.
    pub angle: f64,
    /// Length on the plate beyond the boss, mm.
    pub run: f64,
    /// Height on the boss above the plate, mm.
    pub rise: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// A web from boss to boss.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Web {
    /// Index of one boss.
    pub from: usize,
    /// Index of the other.
    pub to: usize,
    /// Height above the plate, mm.
    pub height: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// A screw hole through the plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ScrewHole {
    /// Middle, mm.
    pub at: [f64; 2],
    /// Length of the slot between its end circles' middles, mm; 0: round.
    pub slot: f64,
    /// The slot runs along x (else y).
    pub along_x: bool,
}

/// Form of the screw holes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HoleForm {
    /// Clear diameter, mm.
    pub clear: f64,
    /// Diameter of the head's sink, mm.
    pub head: f64,
    /// Depth of the sink from the printing-top side, mm (a cone's depth when countersunk).
    pub sink: f64,
    /// The sink is a cone.
    pub cone: bool,
    /// Depth of the relief on the wood side, mm, a cone of 45 degrees, which prints without support; 0: none.
    pub relief: f64,
    /// Diameter of the relief, mm.
    pub relief_diameter: f64,
}

impl HoleForm {
    /// Radius to which the head bears, mm: its own; of a cone the middle.
    #[must_use]
    pub fn bears(&self) -> f64 {
        let edge = (self.head - HEAD_FIT) / 2.0;
        if self.cone { f64::midpoint(edge, self.clear / 2.0) } else { edge }
    }

    /// For the file's screw and plate.
    #[must_use]
    pub fn new(params: &Params) -> Self {
        let plate = params.bracket.plate;
        let Seat { clear, head, sink, cone, .. } = params.bracket.screws.seat(plate);
        let relief = params.bracket.relief.min(plate - sink - 2.0).max(0.0);
        Self { clear, head, sink, cone, relief, relief_diameter: clear + 2.0 * relief }
    }

    /// Plastic between the head's seat and the wood, mm; for a cone from the plate's face.
    #[must_use]
    pub fn grip(&self, plate: f64) -> f64 {
        if self.cone { plate } else { plate - self.sink }
    }
}

/// Why no bracket could be laid out.
#[derive(Clone, Debug, PartialEq)]
pub enum Misfit {
    /// Bosses would touch: the smallest pitch circle, mm.
    PitchCircle(f64),
    /// No ring of screws fits on a plate of at most this size, mm.
    Screws([f64; 2]),
    /// The plate asked for is smaller than needed, mm.
    Plate([f64; 2]),
}

impl BracketDesign {
    /// Lays a bracket out for one leg.
    ///
    /// # Errors
    /// When bosses touch or the screws find no room.
    pub fn new(params: &Params, frame: &Frame, slack: &Slack) -> Result<Self, Misfit> {
        let sockets = sockets(params, frame)?;
        let hole = HoleForm::new(params);
        let mut best: Option<(Vec<Gusset>, Pattern)> = None;
        let mut misfit = Misfit::Screws(most_half(params).map(|h| 2.0 * h));
        let webs = webs(params, &sockets);
        for turn in [FRAC_PI_4, 0.0] {
            let gussets = gussets(params, &sockets, turn);
            let placed = |longer: f64| place_screws(params, &sockets, &gussets, &webs, &hole, longer);
            // How long the slots are shows only once the screws are placed; a second round then gives them room.
            let found = placed(0.0).and_then(|first| match longer(&slack.holes(&first.screws)) {
                0.0 => Ok(first),
                longer => placed(longer),
            });
            match found {
                Ok(found) if best.as_ref().is_none_or(|(_, b)| area(&found) < 0.98 * area(b)) => {
                    best = Some((gussets, found))
                }
                Ok(_) => {}
                Err(why) => misfit = why,
            }
        }
        let (gussets, pattern) = best.ok_or(misfit)?;
        let half = plate_half(params, pattern.half);
        let screws: Vec<ScrewHole> = slack.holes(&pattern.screws);
        let mut design = Self {
            length: 2.0 * half[0],
            width: 2.0 * half[1],
            plate: params.bracket.plate,
            corner_radius: params.bracket.corner_radius.min(half[0].min(half[1]) * 0.9),
            sockets,
            gussets,
            webs,
            screws,
            spare: Vec::new(),
            hole,
        };
        if params.bracket.screws.spare_holes {
            design.add_spare_holes(params, slack);
        }
        design.corner_radius = design.largest_corner();
        design.turn_bolts(params);
        Ok(design)
    }

    /// Largest corner radius under which every boss and web stands on the plate and every screw keeps its distance, mm.
    fn largest_corner(&self) -> f64 {
        let edge = self.hole.head / 2.0 + HEAD_ROOM - 0.5;
        let screws = self.screws.iter().chain(&self.spare).map(|s| (s.at, edge));
        let toes =
            self.gussets.iter().map(|g| (g.plan(&self.sockets[g.boss])[0], g.thickness / 2.0 + socket::BESIDE_ROOT));
        let bosses = self.sockets.iter().map(|s| (s.base, s.root() + socket::BESIDE_ROOT));
        let circles: Vec<_> = screws.chain(toes).chain(bosses).collect();
        pattern::largest_corner([self.length / 2.0, self.width / 2.0], self.corner_radius, &circles)
    }

    /// A second ring between or round the first, for a later repair. A plate whose size the file leaves open grows for
    /// it as far as the bed allows; none where there is no room.
    fn add_spare_holes(&mut self, params: &Params, slack: &Slack) {
        let longer = longer(&self.screws);
        let mut keepouts = keepouts(&self.sockets, &self.gussets, &self.webs, &self.hole, longer);
        let apart = (self.hole.head + 1.0).max(3.0 * params.bracket.screws.screw.diameter);
        keepouts.extend(self.screws.iter().map(|s| Keepout { from: s.at, to: s.at, radius: apart + s.slot / 2.0 }));
        let own = [self.length / 2.0, self.width / 2.0];
        let largest = if params.plate_grows { most_half(params) } else { own };
        let request = |most_half: [f64; 2]| {
            let asked = request(params, &keepouts, &self.hole, longer);
            pattern::ring(&Request { least_half: own, most_half, ..asked })
        };
        let Some(found) = request(own).or_else(|| request(largest)) else { return };
        let half = plate_half(params, found.half);
        (self.length, self.width) = (2.0 * half[0].max(own[0]), 2.0 * half[1].max(own[1]));
        self.spare = slack.holes(&found.screws);
    }

    /// Points every cross bolt where neither webs nor other bosses are in its way.
    fn turn_bolts(&mut self, params: &Params) {
        let Some(size) = params.bracket.hold.cross_bolt else { return };
        for i in 0..self.sockets.len() {
            let direction = self.clearest_direction(i);
            let s = &self.sockets[i];
            let at = s.floor + (s.depth - s.chamfer) * BOLT_HEIGHT;
            self.sockets[i].bolt = socket::cross_bolt(size, at, direction, s.outer, s.bore);
        }
    }

    /// Horizontal direction across a boss' axis that is farthest from webs and neighbours.
    fn clearest_direction(&self, boss: usize) -> [f64; 3] {
        let axis = self.sockets[boss].direction();
        let busy: Vec<f64> = self.busy_directions(boss);
        let gap = |angle: f64| {
            busy.iter()
                .flat_map(|b| [angle - b, angle + std::f64::consts::PI - b])
                .map(|d| d.sin().atan2(d.cos()).abs())
                .fold(f64::MAX, f64::min)
        };
        let angle = (0..24)
            .map(|i| f64::from(i) * FRAC_PI_2 / 12.0 + FRAC_PI_4)
            .fold((FRAC_PI_4, f64::MIN), |best, a| if gap(a) > best.1 + 1e-6 { (a, gap(a)) } else { best })
            .0;
        let flat = Vector3::new(angle.cos(), angle.sin(), 0.0);
        let across = (flat - axis * flat.dot(&axis)).normalize();
        [across.x, across.y, across.z]
    }

    fn busy_directions(&self, boss: usize) -> Vec<f64> {
        let here = self.sockets[boss].base;
        let gussets = self.gussets.iter().filter(|g| g.boss == boss).map(|g| g.angle);
        let others = self.sockets.iter().enumerate().filter(|(i, _)| *i != boss);
        gussets.chain(others.map(|(_, s)| (s.base[1] - here[1]).atan2(s.base[0] - here[0]))).collect()
    }

    /// Smallest box in the printing pose, mm.
    #[must_use]
    pub fn box_mm(&self) -> [f64; 3] {
        super::boxed([self.length, self.width], self.plate, &self.sockets)
    }
}

impl Gusset {
    /// Where its toe and its shoulder lie seen from above, mm: it leans with its boss.
    #[must_use]
    pub fn plan(&self, boss: &Socket) -> [[f64; 2]; 2] {
        let axis = boss.direction();
        let across = (Vector3::x() - axis * axis.x).normalize();
        let out = across * self.angle.cos() + axis.cross(&across) * self.angle.sin();
        let at = |p: Vector3<f64>| [boss.base[0] + p.x, boss.base[1] + p.y];
        let toe = out * (boss.outer / 2.0 + self.run);
        [at(toe - axis * (toe.z / axis.z)), at(out * (boss.outer / 2.0) + axis * self.rise)]
    }
}

/// Height of the cross bolt as a share of the engaged length above the bore's floor (judgement: middle of the socket).
const BOLT_HEIGHT: f64 = 0.5;

/// How much a screw may have to move across the grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slack {
    /// Movement per millimetre of distance from the bracket's middle, either way.
    pub rate: f64,
    /// The grain runs along x.
    pub grain_along_x: bool,
    /// Slots are wanted.
    pub slots: bool,
}

impl Slack {
    /// Holes at these places: one fixed group of round ones, slots across the grain for what moves more against it than
    /// a round hole allows.
    ///
    /// The fixed group are the screws near to the middle on both sides; where the wood between the two sides moves more
    /// than both holes allow, those nearest to it on one side.
    #[must_use]
    pub fn holes(&self, places: &[[f64; 2]]) -> Vec<ScrewHole> {
        let across = |at: &[f64; 2]| if self.grain_along_x { at[1] } else { at[0] };
        let nearest = places.iter().map(|p| across(p).abs()).fold(f64::MAX, f64::min);
        let one_sided = 2.0 * nearest * self.rate > HOLE_FIT;
        let middle = if one_sided { nearest } else { 0.0 };
        let slot = |at: &[f64; 2]| {
            let fixed = one_sided && (across(at) - nearest).abs() < FIXED_BAND;
            let move_by = (across(at) - middle).abs() * self.rate;
            if !self.slots || fixed || move_by <= HOLE_FIT / 2.0 {
                return 0.0;
            }
            ((2.0 * (move_by - HOLE_FIT / 2.0) + SLOT_MARGIN) * 10.0).ceil() / 10.0
        };
        places.iter().map(|at| ScrewHole { at: *at, slot: slot(at), along_x: !self.grain_along_x }).collect()
    }
}

/// Room that slots need beyond what round holes have, mm: the head's room bears a short one.
fn longer(holes: &[ScrewHole]) -> f64 {
    let most = holes.iter().map(|h| h.slot / 2.0).fold(0.0, f64::max);
    (most - HEAD_ROOM / 4.0).max(0.0)
}

fn area(p: &Pattern) -> f64 {
    p.half[0] * p.half[1]
}

fn sockets(params: &Params, frame: &Frame) -> Result<Vec<Socket>, Misfit> {
    let b = &params.bracket;
    let tube = &params.legs.tube;
    let outer =
        socket::boss_outer(tube, b.boss_wall.unwrap_or_else(|| socket::default_wall(&params.printing, tube, &b.hold)));
    let least = smallest_pitch_circle(params.legs.tubes, outer);
    if frame.pitch_circle < least - 1e-9 {
        return Err(Misfit::PitchCircle(least));
    }
    let bore = tube.measured + params.printing.clearance;
    let floor = socket::floor(tube, b.floor, frame.tilt());
    Ok(frame
        .bases_below(b.plate)
        .into_iter()
        .map(|base| Socket {
            base,
            axis: frame.axis_in_bracket(),
            outer,
            bore,
            floor,
            depth: b.socket_depth,
            chamfer: b.chamfer,
            skirt: b.skirt,
            ribs: socket::ribs(&b.hold, tube, b.socket_depth),
            grooves: socket::grooves(&b.hold, b.socket_depth),
            bolt: None,
        })
        .collect())
}

/// Smallest pitch circle on which bosses of this diameter do not touch, mm.
#[must_use]
pub fn smallest_pitch_circle(tubes: usize, outer: f64) -> f64 {
    if tubes < 2 { 0.0 } else { (outer + BOSS_GAP) / (std::f64::consts::PI / tubes as f64).sin() }
}

fn gussets(params: &Params, sockets: &[Socket], turn: f64) -> Vec<Gusset> {
    let g = &params.bracket.gussets;
    let count = g.count.unwrap_or(if sockets.len() == 1 { 4 } else { 0 });
    let mut all = Vec::new();
    for (boss, s) in sockets.iter().enumerate() {
        let first = if sockets.len() == 1 { turn } else { s.base[1].atan2(s.base[0]) };
        for k in 0..count {
            all.push(Gusset {
                boss,
                angle: first + std::f64::consts::TAU * k as f64 / count as f64,
                run: g.run.unwrap_or((WEB_RUN * s.outer).round()),
                rise: g.rise.unwrap_or((WEB_RISE * s.height()).round()).min(s.height() * 0.95),
                thickness: g.thickness,
            });
        }
    }
    all
}

fn webs(params: &Params, sockets: &[Socket]) -> Vec<Web> {
    if !params.bracket.gussets.between || sockets.len() < 2 {
        return Vec::new();
    }
    let height = (BETWEEN_RISE * sockets[0].height()).round();
    let thickness = params.bracket.gussets.thickness;
    let n = sockets.len();
    let pairs = if n == 2 { 1 } else { n };
    (0..pairs).map(|from| Web { from, to: (from + 1) % n, height, thickness }).collect()
}

/// What a screw must keep away from: leaning bosses over their whole height, webs, everything with room for the driver.
/// `longer` is room for slots beyond that, mm.
fn keepouts(sockets: &[Socket], gussets: &[Gusset], webs: &[Web], hole: &HoleForm, longer: f64) -> Vec<Keepout> {
    let room = DRIVER.max(hole.head / 2.0 + HEAD_ROOM / 2.0) + longer;
    let bosses = sockets.iter().flat_map(|s| {
        let top = s.height() * s.axis[2] + s.outer / 2.0 * (1.0 - s.axis[2] * s.axis[2]).max(0.0).sqrt();
        let to = [0, 1].map(|k| s.base[k] + s.lean()[k] * top);
        let wide = |radius: f64| radius / s.axis[2] + room;
        [
            Keepout { from: s.base, to: s.base, radius: wide(s.outer / 2.0 + s.skirt) },
            Keepout { from: s.base, to, radius: wide(s.outer / 2.0) },
        ]
    });
    let gussets = gussets.iter().flat_map(|g| {
        let s = &sockets[g.boss];
        let (radius, [toe, shoulder]) = (g.thickness / 2.0 / s.axis[2] + room, g.plan(s));
        [Keepout { from: s.base, to: toe, radius }, Keepout { from: shoulder, to: toe, radius }]
    });
    let webs = webs.iter().flat_map(|w| {
        let (a, b) = (&sockets[w.from], &sockets[w.to]);
        let low = Keepout { from: a.base, to: b.base, radius: w.thickness / 2.0 + room };
        let shift = |p: [f64; 2], s: &Socket| [p[0] + s.lean()[0] * w.height, p[1] + s.lean()[1] * w.height];
        [low, Keepout { from: shift(a.base, a), to: shift(b.base, b), radius: low.radius }]
    });
    bosses.chain(gussets).chain(webs).collect()
}

fn request<'a>(params: &Params, keepouts: &'a [Keepout], hole: &HoleForm, longer: f64) -> Request<'a> {
    Request {
        count: params.bracket.screws.count,
        keepouts,
        spacing: Spacing::of(params.bracket.screws.screw.diameter),
        grain_along_x: params.top.grain == Run::AlongLength,
        least_half: [0.0; 2],
        most_half: most_half(params),
        edge: hole.head / 2.0 + HEAD_ROOM + longer,
    }
}

/// Half of the largest plate: what was asked for, else what the bed takes, mm.
fn most_half(params: &Params) -> [f64; 2] {
    let bed = params.printing.bed[0].min(params.printing.bed[1]) / 2.0 - 1.0;
    [params.bracket.length, params.bracket.width].map(|asked| asked.map_or(bed, |v| v / 2.0))
}

fn place_screws(
    params: &Params,
    sockets: &[Socket],
    gussets: &[Gusset],
    webs: &[Web],
    hole: &HoleForm,
    longer: f64,
) -> Result<Pattern, Misfit> {
    let keepouts = keepouts(sockets, gussets, webs, hole, longer);
    let least_half = [0, 1].map(|k| {
        let bosses = sockets.iter().map(|s| s.base[k].abs() + s.root());
        let ends = gussets.iter().map(|g| {
            let s = &sockets[g.boss];
            g.plan(s)[0][k].abs() + g.thickness / 2.0 / s.axis[2]
        });
        bosses.chain(ends).fold(0.0, f64::max) + PLATE_MARGIN
    });
    let most = most_half(params);
    if least_half[0] > most[0] || least_half[1] > most[1] {
        return Err(Misfit::Plate(least_half.map(|h| (2.0 * h).ceil())));
    }
    let request = Request { least_half, ..request(params, &keepouts, hole, longer) };
    pattern::ring(&request).ok_or(Misfit::Screws(most.map(|h| 2.0 * h)))
}

fn plate_half(params: &Params, needed: [f64; 2]) -> [f64; 2] {
    let b = &params.bracket;
    let larger = needed[0].max(needed[1]);
    let square = larger / needed[0].min(needed[1]) < SQUARE;
    let own = if square { [larger; 2] } else { needed };
    let most = most_half(params);
    [b.length.map_or(own[0].min(most[0]), |v| v / 2.0), b.width.map_or(own[1].min(most[1]), |v| v / 2.0)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_that_is_not_quite_even_got_a_round_hole_too_many() {
        let across = [22.2, 56.4, 53.6, 22.2, -23.3, -53.6, -55.4, -23.0];
        let places: Vec<[f64; 2]> = across.iter().map(|y| [0.0, *y]).collect();
        for rate in [0.004, 0.0109, 0.01111, 0.0113, 0.02] {
            let holes = Slack { rate, grain_along_x: true, slots: true }.holes(&places);
            let round = || holes.iter().filter(|h| h.slot == 0.0).map(|h| h.at[1]);
            let [low, high] = [round().fold(f64::MAX, f64::min), round().fold(f64::MIN, f64::max)];
            let middle = f64::midpoint(low, high);
            for hole in &holes {
                let (moves, room) = ((hole.at[1] - middle).abs() * rate, (HOLE_FIT + hole.slot) / 2.0);
                assert!(moves <= room + 1e-9, "{rate}: {hole:?} moves {moves}");
            }
        }
    }
}

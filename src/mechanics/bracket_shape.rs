//! Shape and material of a bracket, read off the part that is drawn.

use super::bracket_plate::{CalibratedCompliances, Plate, Rib};
use super::fill::Fill;
use super::studied::{Size, Unstudied};
use crate::geometry::{Axis, Boss, Primitive};
use crate::model::{Gusset, Web};
use crate::parts::Part;
use crate::tables::filament::Filament;

/// Shape and material of a bracket.
#[derive(Clone, Debug, PartialEq)]
pub struct BracketShape {
    /// Plate along x, mm.
    pub plate_length: f64,
    /// Plate along y, mm.
    pub plate_width: f64,
    /// Plate thickness, mm.
    pub plate: f64,
    /// Middles of 1 to 4 bosses, mm.
    pub bosses: Vec<[f64; 2]>,
    /// Outside diameter of a boss, mm.
    pub boss_outer: f64,
    /// Diameter of the bore, mm.
    pub bore: f64,
    /// Depth of the bore, mm.
    pub bore_depth: f64,
    /// Height of the boss above the plate, mm.
    pub boss_height: f64,
    /// Gussets.
    pub gussets: Vec<Gusset>,
    /// Walls between bosses.
    pub webs: Vec<Web>,
    /// Middles of the screws, mm.
    pub screws: Vec<[f64; 2]>,
    /// Radius to which a screw's head bears, mm.
    pub head: f64,
    /// Modulus of elasticity of the plastic, MPa (the creep modulus for years).
    pub modulus: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Walls, solid layers and infill.
    pub fill: Fill,
    /// Angle between the tubes and the plate's normal, degrees. The plate is worked out as if it were 0.
    pub lean: f64,
}

impl BracketShape {
    /// Modulus of the wall of a boss, MPa.
    pub(super) fn boss_modulus(&self) -> f64 {
        self.modulus * self.fill.upright((self.boss_outer - self.bore) / 2.0)
    }
}

/// Why a shape cannot be analysed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadShape(pub String);

impl std::fmt::Display for BadShape {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for BadShape {}

impl BracketShape {
    /// The shape of a part, printed in a filament.
    ///
    /// # Errors
    /// A part that is no plate with bosses, gussets, webs, bores and screws, or whose bosses are unlike.
    pub fn of(part: &Part, filament: &Filament, fill: Fill) -> Result<Self, BadShape> {
        let bad = |what: &str| BadShape(format!("{}: {what}", part.name));
        let ([plate_length, plate_width], _, plate) =
            part.solid.plate().ok_or_else(|| bad("no plate lies on the wood"))?;
        let (mut bosses, mut gussets, mut webs): (Vec<Boss>, Vec<Gusset>, Vec<Web>) = Default::default();
        let of = |axis: &Axis, bosses: &[Boss]| bosses.iter().position(|boss| boss.axis == *axis);
        for feature in &part.solid.adds[1..] {
            let known = match &feature.primitive {
                Primitive::Boss(boss) => {
                    bosses.push(*boss);
                    Some(())
                }
                Primitive::Gusset(g) => of(&g.axis, &bosses).map(|boss| {
                    gussets.push(Gusset { boss, angle: g.toward, run: g.run, rise: g.rise, thickness: g.thickness });
                }),
                Primitive::Web(w) => {
                    let ends = w.between.map(|axis| of(&axis, &bosses));
                    ends[0].zip(ends[1]).map(|(from, to)| {
                        webs.push(Web { from, to, height: w.height, thickness: w.thickness });
                    })
                }
                _ => None,
            };
            known.ok_or_else(|| bad("something stands on its plate that the plate model does not know"))?;
        }
        let (first, bore) = bosses.first().zip(part.bores().next()).ok_or_else(|| bad("it has no socket"))?;
        let alike =
            |boss: &Boss| (boss.radius, boss.top) == (first.radius, first.top) && boss.axis.dir == first.axis.dir;
        let bored = part.bores().count() == bosses.len() && part.bores().all(|b| b.diameter == bore.diameter);
        if !bored || !bosses.iter().all(alike) {
            return Err(bad("its sockets are unlike"));
        }
        let dir = first.axis.dir;
        Ok(Self {
            plate_length,
            plate_width,
            plate,
            bosses: bosses.iter().map(|boss| [boss.axis.point.x, boss.axis.point.y]).collect(),
            boss_outer: 2.0 * first.radius,
            bore: bore.diameter,
            bore_depth: bore.depth(),
            boss_height: first.top,
            gussets,
            webs,
            screws: part.screws().map(|seat| seat.hole.at).collect(),
            head: part.screws().map(|seat| seat.form.bears()).fold(0.0, f64::max),
            modulus: filament.e,
            poisson: filament.poisson,
            fill,
            lean: (dir.x / dir.z).hypot(dir.y / dir.z).atan().to_degrees(),
        })
    }
}

impl BracketShape {
    /// The shape as a plate with ribs.
    pub(super) fn as_plate(&self, soft: &CalibratedCompliances) -> Plate {
        let s = self;
        let radius = s.boss_outer / 2.0;
        let gussets = s.gussets.iter().map(|g| {
            let (sin, cos) = g.angle.sin_cos();
            let at = |r: f64| [s.bosses[g.boss][0] + r * cos, s.bosses[g.boss][1] + r * sin];
            // Starts inside the stiff disc of the boss so that no bare plate lies between.
            let inside = soft.boss_edge.max(0.0) + RIB_OVERLAP;
            let rise = g.rise / 1.0_f64.hypot(g.rise / (soft.steep * g.run));
            let height = [rise * (1.0 + inside / g.run), 0.0];
            Rib {
                from: at(radius - inside),
                angle: g.angle,
                length: g.run + inside,
                root: at(radius),
                height,
                thickness: g.thickness,
            }
        });
        let webs = s.webs.iter().map(|w| {
            let [from, to] = [w.from, w.to].map(|i| s.bosses[i]);
            let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
            Rib {
                from,
                angle: dy.atan2(dx),
                length: dx.hypot(dy),
                root: from,
                height: [w.height; 2],
                thickness: w.thickness,
            }
        });
        Plate {
            size: [s.plate_length, s.plate_width],
            thickness: s.plate,
            modulus: s.modulus,
            poisson: s.poisson,
            fill: s.fill,
            bosses: s.bosses.clone(),
            boss: s.boss_outer,
            bore: s.bore,
            ribs: gussets.chain(webs).collect(),
            screws: s.screws.clone(),
            head: s.head,
            root_gain: root_gain(s, soft),
        }
    }
}

/// Gussets hold the boss above its root as well.
fn root_gain(s: &BracketShape, soft: &CalibratedCompliances) -> f64 {
    let each = s.gussets.iter().map(|g| (g.thickness / s.plate * g.rise / s.boss_outer).sqrt());
    1.0 + soft.root_gain * each.sum::<f64>() / (4.0 * s.bosses.len() as f64)
}

/// How far a rib reaches into the stiff disc of its boss, mm: less than an element.
const RIB_OVERLAP: f64 = 0.5;

pub(super) fn check(s: &BracketShape) -> Result<(), BadShape> {
    let sizes =
        [s.plate_length, s.plate_width, s.plate, s.boss_outer, s.bore, s.bore_depth, s.boss_height, s.modulus, s.head];
    let ribs = s.gussets.iter().flat_map(|g| [g.run, g.rise, g.thickness]);
    let webs = s.webs.iter().flat_map(|w| [w.thickness, w.height]);
    let bad = |what: &str| Err(BadShape(what.into()));
    if !sizes.into_iter().chain(ribs).chain(webs).all(|v| v.is_finite() && v > 0.0) {
        return bad("a size is not positive");
    }
    if s.bosses.is_empty() || s.bosses.len() > 4 {
        return bad("a bracket has 1 to 4 bosses");
    }
    if s.bore >= s.boss_outer {
        return bad("the bore leaves no wall");
    }
    let indices = s.gussets.iter().map(|g| g.boss).chain(s.webs.iter().flat_map(|w| [w.from, w.to]));
    if indices.into_iter().any(|i| i >= s.bosses.len()) {
        return bad("a gusset or web names a boss that is not there");
    }
    if s.screws.len() < 2 { bad("a bracket needs two screws") } else { Ok(()) }
}

/// In what a bracket lies outside those studied.
pub(super) fn outside(s: &BracketShape) -> Vec<Unstudied> {
    let mut out = vec![];
    let mut within = |size: Size, value: f64, range: [f64; 2]| {
        out.extend((value < range[0] || value > range[1]).then_some(Unstudied::Size { size, value, range }));
    };
    within(Size::PlateLength, s.plate_length, [80.0, 140.0]);
    within(Size::PlateWidth, s.plate_width, [80.0, 140.0]);
    within(Size::PlateThickness, s.plate, [5.0, 12.0]);
    within(Size::BossDiameter, s.boss_outer, [22.0, 46.0]);
    within(Size::BossWall, (s.boss_outer - s.bore) / 2.0, [3.5, 10.0]);
    within(Size::BoreDepth, s.bore_depth, [25.0, 60.0]);
    within(Size::Screws, s.screws.len() as f64, [4.0, 9.0]);
    for g in &s.gussets {
        within(Size::GussetRun, g.run, [10.0, 33.0]);
        within(Size::GussetRise, g.rise, [15.0, 50.0]);
        within(Size::GussetThickness, g.thickness, [4.0, 8.0]);
    }
    for w in &s.webs {
        within(Size::WebThickness, w.thickness, [4.0, 8.0]);
    }
    within(Size::Poisson, s.poisson, [0.3, 0.45]);
    within(Size::Lean, s.lean, [0.0, UPRIGHT]);
    if s.bosses.len() > 1 {
        for [x, y] in &s.bosses {
            within(Size::BossOffset, x.hypot(*y), [22.0, 34.0]);
        }
    }
    out.extend(unstudied(s));
    out.dedup();
    out
}

/// Lean below which a leg counts as upright, degrees (judgement: a degree turns a load by less than a fiftieth).
const UPRIGHT: f64 = 1.0;

/// Arrangements that were not among the brackets studied.
fn unstudied(s: &BracketShape) -> Vec<Unstudied> {
    let n = s.bosses.len();
    let feet = |boss: usize| s.gussets.iter().filter(|g| g.boss == boss).count();
    let long = s.plate_length.max(s.plate_width) / s.plate_length.min(s.plate_width);
    let aside = n == 1 && s.bosses[0][0].hypot(s.bosses[0][1]) > 2.0;
    let cases = [
        (![1, 3].contains(&n), Unstudied::Bosses),
        (n > 1 && !s.gussets.is_empty(), Unstudied::GussetsOnSeveralBosses),
        ((0..n).any(|b| ![0, 4].contains(&feet(b))), Unstudied::Gussets),
        (aside, Unstudied::BossAside),
        (long > 1.15, Unstudied::NotSquare),
    ];
    cases.into_iter().filter(|(case, _)| *case).map(|(_, why)| why).collect()
}

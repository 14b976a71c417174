//! A printed bracket: how stiff it holds the tubes, and what its screws, plate, boss and gussets must bear.
//!
//! Frame: x, y in the plate with the origin in its middle, z away from the wood. A moment "about direction a" is about the
//! axis (cos a, sin a, 0). Forces act at the bore mouth. Two states: the plate held at its screws only (A), and
//! pressing on the wood as well (B). Figures come from a bending plate ([`super::bracket_plate`]) and closed forms for what is
//! solid; bands are what leave-one-out prediction of 26 solid finite-element brackets showed.

use std::f64::consts::PI;

use super::bracket_plate::{Plate, PlateModel, PlateState, Rib, Softness};
use super::screw_group;
use crate::source::{Clause, Source};

/// Stiffness of the bracket.
pub const STIFFNESS: Clause = Source::JUDGEMENT
    .at("plate on screws and wood by plate finite elements, calibrated on 26 brackets solved as solids; band from leave-one-out errors");
/// Tube that only presses in its bore.
pub const LOOSE: Clause = Source::JUDGEMENT
    .at("contact similarity: turn depends on elastic turn and clearance/depth only; constants calibrated on solid finite elements");
/// Tubes of a bundle that can slide in their sockets.
pub const SLIDING: Clause =
    Source::JUDGEMENT.at("a solid model of three bosses with sliding tubes kept 6 to 15 % of its stiffness");
/// Forces of the screws with prying.
pub const PRYING: Clause = Source::JUDGEMENT
    .at("bending plate with one-sided wood, so prying comes out of equilibrium; band from leave-one-out errors");
/// Bending of the plate.
pub const PLATE_STRESS: Clause =
    Source::JUDGEMENT.at("plate curvature times half the thickness, calibrated on solid finite elements");
/// Boss torn from the plate across the layers.
pub const BOSS_ROOT: Clause = Source::STATICS.at("N/A + M/W on the solid floor section of the boss");
/// Toe of a gusset torn from the plate across the layers.
pub const GUSSET_TOE: Clause = Source::JUDGEMENT
    .at("share of the moment that goes round through the gussets, calibrated on solid finite elements (plane sections do not stay plane)");
/// Turn about the tube's axis.
pub const TORSION: Clause = Source::JUDGEMENT.at("screws as springs in shear, boss as a tube in torsion");
/// Layer notch at the root.
pub const NOTCH: Clause = Source::JUDGEMENT
    .at("solid models showed peaks of 0.8 to 2.0 times the linear value 2 mm above a sharp corner; ease the root and keep 1.4");

/// Factor for the notch at a sharp root. [`NOTCH`].
pub const ROOT_NOTCH: f64 = 1.4;

/// A triangular gusset from a boss down to the plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gusset {
    /// Index of its boss.
    pub boss: usize,
    /// Direction from the boss, radians from x.
    pub angle: f64,
    /// Length along the plate beyond the boss, mm.
    pub run: f64,
    /// Height at the boss above the plate, mm.
    pub rise: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// A wall between two bosses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Web {
    /// Indices of the bosses.
    pub between: [usize; 2],
    /// Thickness, mm.
    pub thickness: f64,
    /// Height above the plate, mm.
    pub height: f64,
}

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
    /// Modulus of elasticity of the plastic, MPa (the creep modulus for years).
    pub modulus: f64,
    /// Poisson's ratio.
    pub poisson: f64,
}

/// A stiffness with its honest band: about nineteen in twenty brackets lie inside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Lower end.
    pub soft: f64,
    /// Best single figure.
    pub middle: f64,
    /// Upper end.
    pub stiff: f64,
}

/// A force or stress to be borne, with the value that about nineteen in twenty brackets do not exceed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// Best single figure.
    pub middle: f64,
    /// Safe value for checks.
    pub upper: f64,
}

/// How the tubes are held in their sockets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hold {
    /// Glued to the bore, or a bundle of which every tube is kept from sliding.
    Bonded,
    /// Crush ribs: no clearance, but the tube only presses.
    Ribs,
    /// A loose tube: clearance on the diameter, mm.
    Loose(f64),
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

/// What the screws, the plate, the bosses and the gussets bear under a load.
#[derive(Clone, Debug, PartialEq)]
pub struct Borne {
    /// Pull of each screw with prying, N, best figure.
    pub screws: Vec<f64>,
    /// Worst pull of a screw, N.
    pub worst_screw: Demand,
    /// Largest stress of the plate's wood face, MPa, in the layers.
    pub plate: Demand,
    /// Where it is, mm.
    pub plate_at: [f64; 2],
    /// Largest tension or compression at the root of a boss, MPa, across the layers.
    pub boss_root: Demand,
    /// Largest stress at the toe of a gusset, MPa, across the layers; `None` without gussets.
    pub gusset_toe: Option<Demand>,
    /// Sum of the pressure on the wood, N.
    pub bearing: f64,
}

/// A bracket ready for questions.
pub struct Bracket {
    shape: BracketShape,
    model: PlateModel,
    outside: Vec<String>,
}

const SOFTNESS: Softness =
    Softness { screw: 4.0, wood: 5.0, root: 2.5, rib: 1.0, flange: 1.0, rib_shear: 0.78, boss_edge: 1.1 };

impl Bracket {
    /// Prepares a shape.
    ///
    /// # Errors
    /// A size that is not positive, no boss or more than four, an index that points nowhere, fewer than two screws.
    pub fn new(shape: &BracketShape) -> Result<Self, BadShape> {
        check(shape)?;
        let model =
            PlateModel::new(&plate(shape), &SOFTNESS).ok_or_else(|| BadShape("the plate is not held".into()))?;
        Ok(Self { shape: shape.clone(), model, outside: outside(shape) })
    }

    /// In what the shape lies outside the brackets studied; the bands are wider then.
    #[must_use]
    pub fn outside(&self) -> &[String] {
        &self.outside
    }

    /// Stiffness against turning, N mm/rad, tubes bonded, plate held at the screws only (A). [`STIFFNESS`].
    #[must_use]
    pub fn at_screws(&self, direction: f64) -> Stiffness {
        self.band(self.turning(direction, false), BANDS.turning)
    }

    /// Stiffness against turning, N mm/rad, tubes bonded, plate pressing on the wood (B). [`STIFFNESS`].
    #[must_use]
    pub fn on_wood(&self, direction: f64) -> Stiffness {
        self.band(self.turning(direction, true), BANDS.turning)
    }

    /// Stiffness against turning, N mm/rad, tubes that press without clearance, plate on wood. [`LOOSE`].
    #[must_use]
    pub fn with_ribs(&self, direction: f64) -> Stiffness {
        self.band(self.pressing(self.turning(direction, true)), BANDS.ribs)
    }

    /// Secant stiffness, N mm/rad, at a moment N mm, with a clearance on the diameter, mm; plate on wood. [`LOOSE`].
    #[must_use]
    pub fn loose(&self, direction: f64, moment: f64, clearance: f64) -> Stiffness {
        let ribs = self.pressing(self.turning(direction, true));
        self.band(self.secant(ribs, moment, clearance), BANDS.loose)
    }

    /// Secant stiffness of a bundle whose tubes can slide: the couple of the tubes is lost. [`SLIDING`].
    #[must_use]
    pub fn sliding(&self, direction: f64) -> Stiffness {
        let whole = self.on_wood(direction);
        Stiffness { soft: 0.06 * whole.soft, middle: 0.10 * whole.middle, stiff: 0.15 * whole.stiff }
    }

    /// The range a frame should be solved with: soft with the plate held at the screws only and the tube as loose as it
    /// may be, stiff with the plate on the wood and a loose tube jammed. N mm/rad.
    #[must_use]
    pub fn range(&self, hold: Hold, direction: f64, moment: f64) -> Stiffness {
        let (screws, wood) = (self.turning(direction, false), self.turning(direction, true));
        let (soft, middle, stiff) = match hold {
            Hold::Bonded => (self.band(screws, BANDS.turning), wood, self.band(wood, BANDS.turning)),
            Hold::Ribs => {
                let (screws, wood) = (self.pressing(screws), self.pressing(wood));
                (self.band(screws, BANDS.ribs), wood, self.band(wood, BANDS.ribs))
            }
            Hold::Loose(clearance) => {
                let secant = |k: f64| self.secant(self.pressing(k), moment, clearance);
                (self.band(secant(screws), BANDS.loose), secant(wood), self.band(wood, BANDS.turning))
            }
        };
        Stiffness { soft: soft.soft, middle, stiff: stiff.stiff }
    }

    /// Stiffness against a force across the tube at the mouth in a direction, N/mm, plate on wood, tube bonded.
    #[must_use]
    pub fn lateral(&self, direction: f64) -> Stiffness {
        let turning = self.turning(direction + PI / 2.0, true);
        let lever = self.shape.boss_height + LATERAL_LEVER * self.shape.plate;
        self.band(turning / (lever * lever), BANDS.lateral)
    }

    /// Stiffness against a pull along the tube, N/mm, plate on wood, tube bonded.
    #[must_use]
    pub fn axial_pull(&self) -> Stiffness {
        self.band(self.axial(1.0), BANDS.axial)
    }

    /// Stiffness against a push along the tube, N/mm, stiff wood, tube bonded.
    #[must_use]
    pub fn axial_push(&self) -> Stiffness {
        self.band(self.axial(-1.0), BANDS.push)
    }

    /// Stiffness against turning about the tubes' axis, N mm/rad; `slip` is the stiffness of one screw in shear, N/mm.
    /// [`TORSION`].
    #[must_use]
    pub fn torsional(&self, slip: f64) -> Stiffness {
        let s = &self.shape;
        let screws: f64 = s.screws.iter().map(|[x, y]| x * x + y * y).sum::<f64>() * slip;
        let polar = PI / 32.0 * (s.boss_outer.powi(4) - s.bore.powi(4));
        let spread: f64 = s.bosses.iter().map(|[x, y]| x * x + y * y).sum::<f64>() * PI / 4.0 * s.boss_outer.powi(2);
        let shear = s.modulus / 2.0 / (1.0 + s.poisson);
        let boss = shear * (polar * s.bosses.len() as f64 + spread) / (s.boss_height / 2.0);
        self.band(1.0 / (1.0 / screws + 1.0 / boss), BANDS.torsion)
    }

    /// What the parts bear under a load at the mouth, plate on wood. `loads.fx`, `fy`, `mx`, `my`, `fz` count; the turn
    /// about z is the screws' shear alone ([`screw_group::shear`]).
    #[must_use]
    pub fn bear(&self, loads: &screw_group::Loads) -> Borne {
        let lever = self.shape.boss_height + self.shape.plate;
        let (mx, my) = (loads.mx - loads.fy * lever, loads.my + loads.fx * lever);
        let Some(state) = self.model.load(loads.fz, mx, my, true) else {
            return self.overloaded();
        };
        let worst = state.screws.iter().copied().fold(0.0, f64::max);
        let (plate, plate_at) = face_peak(&state);
        Borne {
            worst_screw: self.demand(worst, BANDS.screw),
            plate: self.demand(PLATE_PEAK * plate, BANDS.plate),
            plate_at,
            boss_root: self.demand(self.root_stress(&state, mx, my), BANDS.root),
            gusset_toe: self.toe_stress(mx, my).map(|s| self.demand(s, BANDS.toe)),
            bearing: state.bearing,
            screws: state.screws,
        }
    }

    /// Worst pull of a screw over its even share under a straight pull along the tubes. [`PRYING`].
    #[must_use]
    pub fn pull_factor(&self) -> Demand {
        let worst = self.bear(&screw_group::Loads { fz: 1.0, ..Default::default() }).worst_screw;
        let n = self.shape.screws.len() as f64;
        Demand { middle: worst.middle * n, upper: worst.upper * n }
    }
}

/// Bands as factors: soft = middle / below, stiff = middle x above; demands use above.
struct Bands {
    turning: [f64; 2],
    ribs: [f64; 2],
    loose: [f64; 2],
    lateral: [f64; 2],
    axial: [f64; 2],
    push: [f64; 2],
    torsion: [f64; 2],
    screw: [f64; 2],
    plate: [f64; 2],
    root: [f64; 2],
    toe: [f64; 2],
}

const BANDS: Bands = Bands {
    turning: [1.3, 1.3],
    ribs: [1.3, 1.3],
    loose: [1.3, 1.3],
    lateral: [1.5, 1.5],
    axial: [1.4, 1.4],
    push: [1.5, 1.5],
    torsion: [2.0, 2.0],
    screw: [1.3, 1.3],
    plate: [1.5, 1.5],
    root: [1.5, 1.5],
    toe: [1.8, 1.8],
};
/// Power on a band where the shape lies outside the brackets studied: judgement.
const WIDER: f64 = 1.6;
/// Depth of the turning point under the plate's face in plate thicknesses, for a force at the mouth.
const LATERAL_LEVER: f64 = 0.4;
/// Peak of the wood face over the largest element value.
const PLATE_PEAK: f64 = 1.0;

impl Bracket {
    fn turning(&self, direction: f64, wood: bool) -> f64 {
        let (s, c) = direction.sin_cos();
        let state = self.model.load(0.0, c, s, wood);
        state.map_or(0.0, |state| 1.0 / (c * state.motion[1] + s * state.motion[2]))
    }

    fn axial(&self, sign: f64) -> f64 {
        self.model.load(sign, 0.0, 0.0, true).map_or(0.0, |state| sign / state.motion[0])
    }

    /// In series with the walls of the bores: two presses a lever apart. [`LOOSE`].
    fn pressing(&self, whole: f64) -> f64 {
        let s = &self.shape;
        let walls = PRESS * s.modulus * s.bore_depth.powi(2) * (s.boss_outer - s.bore) / 2.0 * s.bosses.len() as f64;
        1.0 / (1.0 / whole + 1.0 / walls)
    }

    fn secant(&self, ribs: f64, moment: f64, clearance: f64) -> f64 {
        let elastic = moment.abs().max(1.0) / ribs;
        let free = clearance.max(0.0) / self.shape.bore_depth;
        let turn = elastic + free + NARROWING * elastic * (1.0 + 2.0 * free / elastic).ln();
        moment.abs().max(1.0) / turn
    }

    fn band(&self, middle: f64, band: [f64; 2]) -> Stiffness {
        let [below, above] = self.widened(band);
        Stiffness { soft: middle / below, middle, stiff: middle * above }
    }

    fn demand(&self, middle: f64, band: [f64; 2]) -> Demand {
        Demand { middle, upper: middle * self.widened(band)[1] }
    }

    fn widened(&self, band: [f64; 2]) -> [f64; 2] {
        if self.outside.is_empty() { band } else { band.map(|b| b.powf(WIDER)) }
    }

    fn overloaded(&self) -> Borne {
        let none = Demand { middle: f64::INFINITY, upper: f64::INFINITY };
        Borne {
            screws: vec![f64::INFINITY; self.shape.screws.len()],
            worst_screw: none,
            plate: none,
            plate_at: [0.0; 2],
            boss_root: none,
            gusset_toe: (!self.shape.gussets.is_empty()).then_some(none),
            bearing: f64::INFINITY,
        }
    }

    /// Linear stress on the solid section of each boss, less what the gussets take round it. [`BOSS_ROOT`].
    fn root_stress(&self, state: &PlateState, mx: f64, my: f64) -> f64 {
        let d = self.shape.boss_outer;
        let (area, modulus) = (PI / 4.0 * d * d, PI / 32.0 * d.powi(3));
        let each = state.bosses.iter().enumerate().map(|(i, [n, x, y])| {
            let past = self.past_gussets(i);
            past * (n.abs() / area + x.hypot(*y) / modulus)
        });
        let _ = (mx, my);
        each.fold(0.0, f64::max)
    }

    /// Part of a boss's moment that stays in the boss.
    fn past_gussets(&self, boss: usize) -> f64 {
        let own: Vec<&Gusset> = self.shape.gussets.iter().filter(|g| g.boss == boss).collect();
        let Some(gusset) = own.first() else { return 1.0 };
        let radius = self.shape.boss_outer / 2.0;
        let round = PI * radius.powi(4) / 4.0;
        let ribs: f64 = own.iter().map(|g| rib_inertia(g, radius)).sum::<f64>() / 2.0;
        round / (round + ROOT_SHARE * self.steepness(gusset) * ribs)
    }

    fn steepness(&self, gusset: &Gusset) -> f64 {
        self.shape.boss_outer * gusset.rise / (gusset.run * self.shape.plate)
    }

    /// Stress at the worst toe. [`GUSSET_TOE`].
    fn toe_stress(&self, mx: f64, my: f64) -> Option<f64> {
        let radius = self.shape.boss_outer / 2.0;
        let gusset = self.shape.gussets.first()?;
        let round = PI * radius.powi(4) / 4.0;
        let ribs: f64 = self.shape.gussets.iter().map(|g| rib_inertia(g, radius)).sum::<f64>() / 2.0;
        let (moment, along) = (mx.hypot(my), my.atan2(mx));
        let reach = |g: &Gusset| (radius + foot_run(g)) * (along - g.angle).sin().abs();
        let outermost = self.shape.gussets.iter().map(reach).fold(0.0, f64::max);
        Some(TOE * self.steepness(gusset).powf(TOE_POWER) * moment * outermost / (round + ribs))
    }
}

/// Stiffness of two opposite presses a bore depth apart, in E L^2 w. Fitted.
const PRESS: f64 = 0.281;
/// Narrowing of the bearing of a loose tube. Fitted.
const NARROWING: f64 = 0.41;
/// Part of the gussets' moment of inertia that relieves the boss. Fitted.
const ROOT_SHARE: f64 = 0.083;
/// Toe stress over full section stress at steepness 1, and its growth. Fitted.
const TOE: f64 = 0.273;
const TOE_POWER: f64 = 0.72;
/// Height above the plate of the section for the root, mm.
const ROOT_AT: f64 = 2.0;

fn foot_run(g: &Gusset) -> f64 {
    g.run * (1.0 - ROOT_AT / g.rise)
}

/// Second moment of area of a gusset's foot about the boss's middle, along its own direction, plus across, mm4.
fn rib_inertia(g: &Gusset, radius: f64) -> f64 {
    let outer = radius + foot_run(g);
    g.thickness * (outer.powi(3) - radius.powi(3)) / 3.0 + foot_run(g) * g.thickness.powi(3) / 12.0
}

fn face_peak(state: &PlateState) -> (f64, [f64; 2]) {
    let sizes = state.face.iter().map(|(at, low, high)| (low.abs().max(high.abs()), *at));
    sizes.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, [0.0; 2]))
}

/// The shape as a plate with ribs.
fn plate(s: &BracketShape) -> Plate {
    let radius = s.boss_outer / 2.0;
    let gussets = s.gussets.iter().map(|g| {
        let (sin, cos) = g.angle.sin_cos();
        let [x, y] = s.bosses[g.boss];
        let from = [x + radius * cos, y + radius * sin];
        Rib { from, angle: g.angle, length: g.run, height: [g.rise, 0.0], thickness: g.thickness }
    });
    let webs = s.webs.iter().map(|w| {
        let [from, to] = w.between.map(|i| s.bosses[i]);
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        Rib { from, angle: dy.atan2(dx), length: dx.hypot(dy), height: [w.height; 2], thickness: w.thickness }
    });
    Plate {
        size: [s.plate_length, s.plate_width],
        thickness: s.plate,
        modulus: s.modulus,
        poisson: s.poisson,
        bosses: s.bosses.clone(),
        boss: s.boss_outer,
        bore: s.bore,
        ribs: gussets.chain(webs).collect(),
        screws: s.screws.clone(),
        root_gain: root_gain(s),
    }
}

/// Gussets hold the boss above its root as well.
fn root_gain(s: &BracketShape) -> f64 {
    let each = s.gussets.iter().map(|g| (g.thickness / s.plate * g.rise / s.boss_outer).sqrt());
    1.0 + ROOT_GAIN * each.sum::<f64>() / (4.0 * s.bosses.len() as f64)
}

/// Gain of the root by four gussets. Fitted.
const ROOT_GAIN: f64 = 1.3;

fn check(s: &BracketShape) -> Result<(), BadShape> {
    let sizes = [s.plate_length, s.plate_width, s.plate, s.boss_outer, s.bore, s.bore_depth, s.boss_height, s.modulus];
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
    let indices = s.gussets.iter().map(|g| g.boss).chain(s.webs.iter().flat_map(|w| w.between));
    if indices.into_iter().any(|i| i >= s.bosses.len()) {
        return bad("a gusset or web names a boss that is not there");
    }
    if s.screws.len() < 2 { bad("a bracket needs two screws") } else { Ok(()) }
}

/// Ranges of the brackets studied: name, value, least, most.
fn outside(s: &BracketShape) -> Vec<String> {
    let mut out = vec![];
    let mut within = |name: &str, value: f64, least: f64, most: f64| {
        if value < least || value > most {
            out.push(format!("{name} {value:.1} is outside {least} to {most}"));
        }
    };
    within("plate length mm", s.plate_length, 80.0, 140.0);
    within("plate width mm", s.plate_width, 80.0, 140.0);
    within("plate thickness mm", s.plate, 5.0, 12.0);
    within("boss diameter mm", s.boss_outer, 22.0, 46.0);
    within("boss wall mm", (s.boss_outer - s.bore) / 2.0, 3.5, 10.0);
    within("bore depth mm", s.bore_depth, 25.0, 60.0);
    within("number of screws", s.screws.len() as f64, 4.0, 9.0);
    for g in &s.gussets {
        within("gusset run mm", g.run, 10.0, 33.0);
        within("gusset rise mm", g.rise, 15.0, 50.0);
        within("gusset thickness mm", g.thickness, 4.0, 8.0);
    }
    for w in &s.webs {
        within("web thickness mm", w.thickness, 4.0, 8.0);
    }
    if ![1, 3].contains(&s.bosses.len()) {
        out.push(format!("{} bosses: only one and three were studied", s.bosses.len()));
    }
    if s.bosses.len() > 1 && !s.gussets.is_empty() {
        out.push("gussets on several bosses were not studied".into());
    }
    out
}

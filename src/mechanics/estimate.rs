//! Stiffness of brackets, ties and feet from their dimensions: a soft and a stiff estimate.

use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use super::Detail;
use super::cache::Cache;
use super::fill::Fill;
use super::joint::{Bracket, BracketDemand, BracketShape, Gusset, Hold, Lost, Web};
use crate::clauses::screw_group::Loads;
use crate::fem::RIGID;
use crate::model::{BracketDesign, Model, SWAY_PUSH};
use crate::params::{Base, JointStiffness};
use crate::source::{Clause, Source};

/// Stiffness of a screw in shear between plastic and wood, N/mm (judgement: slip of a few tenths of a millimetre at its
/// allowable load).
const SCREW_SLIP: f64 = 1000.0;
/// Rotational stiffness of a tube that only presses in a collar of depth L and wall w: this times E L^2 w. Source: as
/// the ribs' term of the bracket formulas, from solid models.
const PRESS: f64 = 0.281;
/// A collar or foot with clearance, as a share of one without: within its play it does not turn the tube (judgement).
const SOFT_COLLAR: f64 = 0.1;
/// The same of a tie's collars on a bundle: hinges with a bolt, since at the loads of sway no tube turns as far as the play
/// (0.3 mm over 26 mm is 11 mrad; a push of 50 N turns a tube in a collar by less than 2). Not 0, so that nothing spins.
const HINGE: f64 = 0.001;
/// A bolt across the tube against sliding, as a share of E times bolt times two walls over the wall (judgement).
const BOLT_BEARING: f64 = 0.5;
/// Where collars' figures come from.
pub const COLLAR: Clause = Source::JUDGEMENT.at(
    "a collar holds a tube as a socket of its height does; with play a tenth of it, on a bundle nothing: solids of a bench's ties \
     in a frame gave 0.79 and 0.82 mm of sway with hinges, 0.54 with tied collars",
);
/// Where the hold of a tube along its bore comes from.
pub const ALONG: Clause = Source::JUDGEMENT.at(
    "a tube of a bundle that is not glued hangs on its cross bolt: half the plastic's modulus times the bolt, 3,000 to 5,000 N/mm; \
     stiff: nothing slides",
);

/// Stiffnesses the frame is solved with.
#[derive(Clone, Debug, PartialEq)]
pub struct Joints {
    /// `soft`, `stiff`, `given`.
    pub name: &'static str,
    /// Per leg: about the bracket's x and y and about the leg, N mm/rad.
    pub rotational: Vec<[f64; 3]>,
    /// Per leg: along the leg, N/mm.
    pub axial: Vec<f64>,
    /// A tube of a bracket in its bore: along the tube, N/mm.
    pub bore: f64,
    /// A tie's collar: along the tube N/mm, about axes across it N mm/rad.
    pub collar: [f64; 2],
    /// A foot's socket: about axes across the tube, N mm/rad.
    pub foot: f64,
    /// A rail's socket: about axes across the rail, N mm/rad.
    pub rail: f64,
    /// Engaged length of a rail, mm.
    pub rail_depth: f64,
    /// Support of the feet.
    pub base: Base,
    /// Divisor of the wood's moduli: 1 now, 1 + k_def under lasting loads.
    pub wood_creep: f64,
}

/// What holds a tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Grip {
    /// The bracket's socket: its softness but along the bore is in the bracket's joint.
    Bracket,
    /// A tie's collar.
    Tie,
    /// The foot's socket.
    Foot,
    /// A rail's socket.
    Rail,
}

impl Joints {
    /// Spring of one grip on a tube: along the tube, across it twice, about it, about the axes across it.
    pub(super) fn grip(&self, grip: Grip) -> [f64; 6] {
        match grip {
            Grip::Bracket => [self.bore, RIGID, RIGID, RIGID, RIGID, RIGID],
            Grip::Tie => [self.collar[0], RIGID, RIGID, self.collar[1], self.collar[1], self.collar[1]],
            Grip::Foot => [RIGID, RIGID, RIGID, self.foot, self.foot, self.foot],
            Grip::Rail => [RIGID, RIGID, RIGID, self.rail, self.rail, self.rail],
        }
    }
}

/// Both estimates, and where the bracket lies outside what was studied.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimates {
    /// Soft first; one entry when the user gave a figure.
    pub joints: Vec<Joints>,
    /// Soft, with the plastic's and the wood's moduli after years of load.
    pub aged: Joints,
    /// Reasons for a widened band.
    pub outside: Vec<String>,
}

/// The bracket's shape for the joint formulas, with this modulus of the plastic, MPa.
#[must_use]
pub fn shape(model: &Model, design: &BracketDesign, modulus: f64) -> BracketShape {
    let s = &design.sockets[0];
    let gusset = |g: &crate::model::Gusset| Gusset {
        boss: g.boss,
        angle: g.angle,
        run: g.run,
        rise: g.rise,
        thickness: g.thickness,
    };
    let web = |w: &crate::model::Web| Web { between: [w.from, w.to], thickness: w.thickness, height: w.height };
    BracketShape {
        plate_length: design.length,
        plate_width: design.width,
        plate: design.plate,
        bosses: design.sockets.iter().map(|s| s.base).collect(),
        boss_outer: s.outer,
        bore: s.bore,
        bore_depth: s.depth,
        boss_height: s.height(),
        gussets: design.gussets.iter().map(gusset).collect(),
        webs: design.webs.iter().map(web).collect(),
        screws: design.screws.iter().map(|h| h.at).collect(),
        modulus,
        poisson: model.params.printing.filament.poisson,
        fill: Fill::of(&model.params.printing),
        lean: s.lean()[0].hypot(s.lean()[1]).atan().to_degrees(),
    }
}

/// How the joint formulas see the file's hold: a bundle works as bonded when every tube is bonded or bolted, so that
/// none slides; a single tube presses without play on ribs, and with play without them.
#[must_use]
pub fn hold(model: &Model) -> Hold {
    let h = &model.params.bracket.hold;
    let bundle_fixed = model.params.legs.tubes > 1 && h.cross_bolt.is_some();
    if h.bonded || bundle_fixed {
        Hold::Bonded
    } else if h.ribs {
        Hold::Ribs
    } else {
        Hold::Loose(model.params.printing.clearance)
    }
}

/// Both estimates for a model, from the plate models of its brackets.
#[must_use]
pub fn estimates(model: &Model, plates: &Plates) -> Estimates {
    let filament = &model.params.printing.filament;
    let (e, e_aged) = (filament.e, filament.e_sustained());
    let mut outside: Vec<String> = Vec::new();
    for why in plates.own.iter().flat_map(|bracket| bracket.outside()) {
        if !outside.contains(why) {
            outside.push(why.clone());
        }
    }
    let Plates { fresh, aged, .. } = plates;
    let make = |name, sets: &[RotationalStiffness], stiff: usize, e, softness, wood| {
        let sets: Vec<_> = plates.views.iter().map(|v| sets[v.own]).map(|s| (s.about[stiff], s.along[stiff])).collect();
        joints(model, name, &sets, e, softness, wood)
    };
    let joints = match model.params.joints {
        JointStiffness::Estimated => {
            vec![make("soft", fresh, 0, e, SOFT_COLLAR, 1.0), make("stiff", fresh, 1, e, 1.0, 1.0)]
        }
        _ => vec![make("given", fresh, 1, e, SOFT_COLLAR, 1.0)],
    };
    Estimates { joints, aged: make("aged", aged, 0, e_aged, SOFT_COLLAR, wood_creep(model)), outside }
}

/// Air whose equilibrium moisture of wood is above this counts as damp, %. Source: EN 1995-1-1 2.3.1.3, service class 1,
/// from memory.
const DAMP: f64 = 12.0;
/// Final over first deflection of a board that its table does not rate for damp air (judgement: wet class of solid wood).
const UNRATED: f64 = 3.0;

/// Final over first deflection of the top under loads that stay, in the air it stands in.
#[must_use]
pub fn wood_creep(model: &Model) -> f64 {
    let damp = crate::model::moisture_range(&model.params)[1] > DAMP;
    model.params.top.wood.creep(damp).unwrap_or(UNRATED)
}

/// Plate models of a table's brackets, new plastic. Brackets that are mirror images of one another share one.
pub struct Plates {
    detail: Detail,
    /// Modulus now over that after years of load.
    softening: f64,
    own: Vec<Arc<Bracket>>,
    /// One per distinct bracket of the model.
    views: Vec<View>,
    /// Stiffness of each built bracket, new.
    fresh: Vec<RotationalStiffness>,
    /// The same after years of load.
    aged: Vec<RotationalStiffness>,
}

/// A bracket seen as the mirror image of one that was built; both signs positive: itself.
#[derive(Clone)]
struct View {
    /// Index among those built.
    own: usize,
    /// Signs of x and y.
    flip: [f64; 2],
    /// Index of the built bracket's screw for each screw.
    screws: Vec<usize>,
}

impl Plates {
    /// Takes from the cache what is needed, as finely divided as is asked, and asks each bracket how stiff it is; the frame that
    /// is solved on them is divided alike.
    ///
    /// # Errors
    /// A shape the formulas cannot take, in words.
    pub fn new(model: &Model, detail: Detail, cache: &Cache) -> Result<Self, String> {
        let filament = &model.params.printing.filament;
        let softening = filament.e / filament.e_sustained();
        let (mut shapes, mut own, mut views): (Vec<BracketShape>, Vec<Arc<Bracket>>, Vec<View>) = Default::default();
        for kind in &model.brackets {
            let shape = shape(model, &kind.design, filament.e);
            let known = shapes
                .iter()
                .enumerate()
                .find_map(|(own, known)| mirrored(known, &shape).map(|(flip, screws)| View { own, flip, screws }));
            let view = match known {
                Some(view) => view,
                None => {
                    own.push(cache.bracket(&shape, detail).map_err(|bad| bad.to_string())?);
                    let screws = (0..shape.screws.len()).collect();
                    shapes.push(shape);
                    View { own: shapes.len() - 1, flip: [1.0; 2], screws }
                }
            };
            views.push(view);
        }
        let fresh: Vec<RotationalStiffness> = own.iter().map(|bracket| rotational(model, bracket)).collect();
        let aged = own.iter().zip(&fresh).map(|(b, f)| softened(model, b, f, softening)).collect();
        Ok(Self { detail, softening, own, views, fresh, aged })
    }

    /// One of the model's brackets for each that was built: the others are mirror images.
    #[must_use]
    pub fn distinct(&self) -> Vec<usize> {
        let first = |own: usize| self.views.iter().position(|v| v.own == own);
        (0..self.own.len()).filter_map(first).collect()
    }

    /// Takes other figures for a bracket's stiffness about x and y, soft and stiff, N mm/rad, for frames that are solved from now on; in the course of years they fall with the
    /// plastic's modulus.
    pub fn take(&mut self, kind: usize, about: [[f64; 2]; 2]) {
        let own = self.views[kind].own;
        for (set, [x, y]) in about.into_iter().enumerate() {
            let (fresh, aged) = (&mut self.fresh[own].about[set], &mut self.aged[own].about[set]);
            (fresh[0], fresh[1]) = (x, y);
            (aged[0], aged[1]) = (x / self.softening, y / self.softening);
        }
    }

    /// Stiffness about x and y of a bracket off the wood and on it, tubes bonded: soft, middle and stiff each, N mm/rad.
    #[must_use]
    pub fn bonded(&self, kind: usize) -> [[[f64; 3]; 2]; 2] {
        let bracket = &self.own[self.views[kind].own];
        let of = |k: super::joint::Stiffness| [k.soft, k.middle, k.stiff];
        let axes = [0.0, FRAC_PI_2];
        [axes.map(|a| of(bracket.at_screws(a))), axes.map(|a| of(bracket.on_wood(a)))]
    }

    /// How finely they are divided.
    pub(super) const fn detail(&self) -> Detail {
        self.detail
    }

    /// What a bracket bears under a load at the bore's mouth, by its index among the model's brackets.
    #[must_use]
    pub fn demands(&self, kind: usize, l: &Loads) -> BracketDemand {
        let View { own, flip: [x, y], screws } = &self.views[kind];
        // Moments are axial vectors: a mirror keeps the one about its own normal and turns the others round.
        let seen = Loads { fx: x * l.fx, fy: y * l.fy, fz: l.fz, mx: y * l.mx, my: x * l.my, mz: x * y * l.mz };
        let borne = self.own[*own].demands(&seen);
        let [ax, ay] = borne.plate_at;
        let pulls = screws.iter().map(|i| borne.screws[*i]).collect();
        let lost = screws.iter().position(|i| *i == borne.lost.screw).unwrap_or(borne.lost.screw);
        BracketDemand { screws: pulls, plate_at: [x * ax, y * ay], lost: Lost { screw: lost, ..borne.lost }, ..borne }
    }
}

/// Sizes nearer than this are the same, mm and radians: a hundredth of what a printer can do.
const SAME: f64 = 1e-4;

/// Signs of x and y by which a shape is the mirror image of a known one, and which of the known one's screws each of
/// its screws is.
fn mirrored(known: &BracketShape, shape: &BracketShape) -> Option<([f64; 2], Vec<usize>)> {
    let sizes = |s: &BracketShape| {
        [s.plate_length, s.plate_width, s.plate, s.boss_outer, s.bore, s.bore_depth, s.boss_height, s.lean]
    };
    if !near(&sizes(known), &sizes(shape)) {
        return None;
    }
    let flips = [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]];
    flips.into_iter().find_map(|flip| {
        let screws = order(&known.screws, &shape.screws, flip)?;
        let bosses = order(&known.bosses, &shape.bosses, flip)?;
        (same_gussets(known, shape, flip, &bosses) && same_webs(known, shape, &bosses)).then_some((flip, screws))
    })
}

fn near(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < SAME)
}

/// For each point the index of the known one whose mirror image it is.
fn order(known: &[[f64; 2]], points: &[[f64; 2]], flip: [f64; 2]) -> Option<Vec<usize>> {
    let seen = |p: &[f64; 2]| [flip[0] * p[0], flip[1] * p[1]];
    let find = |p: &[f64; 2]| known.iter().position(|k| near(&seen(k), p));
    (known.len() == points.len()).then(|| points.iter().map(find).collect())?
}

fn same_gussets(known: &BracketShape, shape: &BracketShape, flip: [f64; 2], bosses: &[usize]) -> bool {
    let figures = |boss: usize, x: f64, y: f64, g: &Gusset| [boss as f64, x, y, g.run, g.rise, g.thickness];
    let has = |g: &Gusset| {
        let wanted = figures(bosses[g.boss], g.angle.cos(), g.angle.sin(), g);
        known
            .gussets
            .iter()
            .any(|k| near(&figures(k.boss, flip[0] * k.angle.cos(), flip[1] * k.angle.sin(), k), &wanted))
    };
    known.gussets.len() == shape.gussets.len() && shape.gussets.iter().all(has)
}

fn same_webs(known: &BracketShape, shape: &BracketShape, bosses: &[usize]) -> bool {
    let figures = |[a, b]: [usize; 2], w: &Web| [a.min(b) as f64, a.max(b) as f64, w.thickness, w.height];
    let has = |w: &Web| {
        let wanted = figures(w.between.map(|i| bosses[i]), w);
        known.webs.iter().any(|k| near(&figures(k.between, k), &wanted))
    };
    known.webs.len() == shape.webs.len() && shape.webs.iter().all(has)
}

/// A bracket's stiffness, soft and stiff.
#[derive(Clone, Copy)]
struct RotationalStiffness {
    /// About x, y and the leg, N mm/rad.
    about: [[f64; 3]; 2],
    /// Along the leg, N/mm.
    along: [f64; 2],
}

/// Moment at which a loose tube's stiffness is taken, N mm: the hand's push, shared by the legs.
fn sway_moment(model: &Model) -> f64 {
    SWAY_PUSH * model.params.height / model.legs.len() as f64
}

fn about(model: &Model, bracket: &Bracket, moment: f64) -> [[f64; 2]; 2] {
    [0.0, FRAC_PI_2].map(|direction| bracket.range(hold(model), direction, moment)).map(|r| [r.soft, r.stiff])
}

fn rotational(model: &Model, bracket: &Bracket) -> RotationalStiffness {
    let [x, y] = about(model, bracket, sway_moment(model));
    let (pull, push) = (bracket.axial_pull(), bracket.axial_push());
    let torsion = bracket.torsional(SCREW_SLIP);
    RotationalStiffness {
        about: [[x[0], y[0], torsion.soft], [x[1], y[1], torsion.stiff]],
        along: [pull.soft, push.stiff],
    }
}

/// The same bracket with the plastic's modulus divided by `by`. Everything of it is in proportion to the modulus but the
/// play of a loose tube and the slip of the screws in the wood, which count as if moment or slip were `by` times as large.
fn softened(model: &Model, bracket: &Bracket, fresh: &RotationalStiffness, by: f64) -> RotationalStiffness {
    let mut old =
        RotationalStiffness { about: fresh.about.map(|a| a.map(|k| k / by)), along: fresh.along.map(|k| k / by) };
    if matches!(hold(model), Hold::Loose(_)) {
        let [x, y] = about(model, bracket, by * sway_moment(model));
        for (set, (x, y)) in old.about.iter_mut().zip(x.into_iter().zip(y)) {
            (set[0], set[1]) = (x / by, y / by);
        }
    }
    let torsion = bracket.torsional(by * SCREW_SLIP);
    (old.about[0][2], old.about[1][2]) = (torsion.soft / by, torsion.stiff / by);
    old
}

fn joints(
    model: &Model,
    name: &'static str,
    sets: &[([f64; 3], f64)],
    e: f64,
    softness: f64,
    wood_creep: f64,
) -> Joints {
    let of = |leg: &crate::model::Leg| match model.params.joints {
        JointStiffness::Estimated => sets[leg.bracket.kind].0,
        JointStiffness::Given(k) => [k, k, sets[leg.bracket.kind].0[2]],
        JointStiffness::Rigid => [RIGID; 3],
    };
    let axial = |leg: &crate::model::Leg| match model.params.joints {
        JointStiffness::Rigid => RIGID,
        _ => sets[leg.bracket.kind].1,
    };
    let foot = &model.feet[0].design.sockets[0];
    let tube = &model.params.legs.tube;
    let fill = Fill::of(&model.params.printing);
    let press = |depth: f64, wall: f64| PRESS * e * fill.upright(wall) * depth * depth * wall;
    let held = if model.params.bracket.hold.ribs || model.params.bracket.hold.bonded { 1.0 } else { softness };
    let tie = model.ties.first().map(|t| (t.design.height, (t.design.outer - t.design.bore) / 2.0));
    let (height, wall) = tie.unwrap_or((tube.outside, foot.wall()));
    let hold = &model.params.bracket.hold;
    let along = |wall: f64, bolt: f64| BOLT_BEARING * e * fill.upright(wall) * bolt;
    let soft_bundle = softness < 1.0 && model.params.legs.tubes > 1;
    // Without a bolt a bundle slides, which is in the bracket's joint; one tube that slides turns nothing; what is given for a
    // joint is the whole of it.
    let slides = soft_bundle && !hold.bonded && model.params.joints == JointStiffness::Estimated;
    let bracket = &model.brackets[0].design.sockets[0];
    let bore = hold.cross_bolt.filter(|_| slides).map_or(RIGID, |bolt| along(bracket.wall(), bolt));
    let hinges = if soft_bundle { HINGE } else { softness };
    let depth = model.params.tie.rail_socket_depth;
    Joints {
        name,
        rotational: model.legs.iter().map(of).collect(),
        axial: model.legs.iter().map(axial).collect(),
        bore,
        collar: [along(wall, hold.cross_bolt.unwrap_or(4.0)), hinges * press(height, wall)],
        foot: held * press(foot.depth, foot.wall()),
        rail: softness * press(depth, wall),
        rail_depth: depth,
        base: model.params.foot.base,
        wood_creep,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model(hold: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "bracket": {{"hold": "{hold}"}}}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    /// Two ways: the mirror image's own plate model.
    #[test]
    fn a_mirrored_bracket_bears_the_mirrored_load() {
        let text = crate::params::built_in();
        let m = Model::new(&crate::params::read(text).expect("read")).expect("a model");
        let plates = Plates::new(&m, Detail::Full, &Cache::default()).expect("plates");
        assert!(m.brackets.len() == 2 && plates.own.len() == 1, "legs splayed both ways have mirrored brackets");
        let own = Bracket::new(&shape(&m, &m.brackets[1].design, m.params.printing.filament.e)).expect("a bracket");
        let load = Loads { fx: 30.0, fy: -70.0, fz: -120.0, mx: 4e4, my: 2.5e4, mz: 0.0 };
        let (got, want) = (plates.demands(1, &load), own.demands(&load));
        let figures = |b: &BracketDemand| [b.worst_screw.upper, b.plate.upper, b.boss_root.upper, b.bearing];
        let pairs = got.screws.iter().zip(&want.screws).map(|(a, b)| (*a, *b));
        for (a, b) in figures(&got).into_iter().zip(figures(&want)).chain(pairs) {
            assert!((a - b).abs() < 1e-9 * want.worst_screw.upper.max(b.abs()), "{a} is not {b}");
        }
    }

    /// A shape without symmetry is known again from each of its mirror images, and its screws one by one.
    #[test]
    fn every_mirror_image_is_known_again() {
        let m = model("ribs");
        let mut known = shape(&m, &m.brackets[0].design, 2000.0);
        (known.bosses[0], known.screws[0]) = ([3.0, 1.0], [known.screws[0][0] + 1.0, known.screws[0][1] + 2.0]);
        known.gussets.truncate(1);
        for flip in [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]] {
            let seen = |[x, y]: [f64; 2]| [flip[0] * x, flip[1] * y];
            let mut image = known.clone();
            image.screws = known.screws.iter().rev().map(|p| seen(*p)).collect();
            image.bosses = known.bosses.iter().map(|p| seen(*p)).collect();
            for g in &mut image.gussets {
                let [x, y] = seen([g.angle.cos(), g.angle.sin()]);
                g.angle = y.atan2(x);
            }
            let order: Vec<usize> = (0..known.screws.len()).rev().collect();
            assert_eq!(mirrored(&known, &image), Some((flip, order)));
            image.screws[0][0] += 0.1;
            assert_eq!(mirrored(&known, &image), None, "another place of a screw is another bracket");
        }
    }

    /// A table whose printing is as given.
    fn printed(printing: &str) -> Joints {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "printing": {printing}}}"#
        );
        let m = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
        estimates(&m, &Plates::new(&m, Detail::Full, &Cache::default()).expect("plates")).joints.remove(0)
    }

    /// Two lines of 0.4 mm, 4 layers of 0.2 mm and next to nothing between them: less than half of the plastic stands in any
    /// section of bracket, tie or foot.
    #[test]
    fn a_hollow_bracket_is_softer_than_a_solid_one() {
        let solid = printed(r#"{"infill": "100 %"}"#);
        let hollow = printed(r#"{"infill": "5 %", "walls": 2, "solid_layers": 4}"#);
        let pairs =
            |j: &Joints| [j.rotational[0][0], j.rotational[0][1], j.axial[0], j.collar[0], j.collar[1], j.foot, j.rail];
        for (a, b) in pairs(&hollow).into_iter().zip(pairs(&solid)) {
            assert!(a < 0.65 * b, "{a} against {b}");
        }
    }

    #[test]
    fn walls_and_solid_layers_add_nothing_to_what_is_solid() {
        let one = printed(r#"{"infill": "100 %", "walls": 2, "solid_layers": 2}"#);
        let other = printed(r#"{"infill": "100 %", "walls": 9, "solid_layers": 30}"#);
        assert!((one.rotational[0][0] / other.rotational[0][0] - 1.0).abs() < 1e-9);
        assert!((one.collar[1] / other.collar[1] - 1.0).abs() < 1e-9);
    }

    #[test]
    fn leaning_legs_are_told_as_not_studied() {
        let describe = |splay: &str| {
            let text = format!(
                r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                    "legs": {{"tube": "25 x 2 mm", "splay": {splay}}}, "loads": [{{"mass": "40 kg"}}]}}"#
            );
            let m = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
            estimates(&m, &Plates::new(&m, Detail::Full, &Cache::default()).expect("plates"))
                .outside
                .iter()
                .any(|why| why.contains("lean of the legs"))
        };
        assert!(describe(r#"["8 deg", "0 deg"]"#) && !describe(r#"["0 deg", "0 deg"]"#));
    }

    /// Two ways: the bracket built anew with the creep modulus.
    #[test]
    fn a_softened_bracket_is_one_of_softer_plastic() {
        for hold in ["bonded", "ribs", "none"] {
            let m = model(hold);
            let (e, by, design) = (m.params.printing.filament.e, 4.0, &m.brackets[0].design);
            let [new, soft] = [e, e / by].map(|e| Bracket::new(&shape(&m, design, e)).expect("a bracket"));
            let (got, want) = (softened(&m, &new, &rotational(&m, &new), by), rotational(&m, &soft));
            let pairs = got.about.iter().flatten().zip(want.about.iter().flatten());
            for (a, b) in pairs.chain(got.along.iter().zip(&want.along)) {
                assert!((a / b - 1.0).abs() < 1e-6, "{hold}: {a} is not {b}");
            }
        }
    }
}

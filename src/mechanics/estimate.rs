//! Stiffness of brackets, ties and feet from their dimensions: a soft and a stiff estimate.

use super::RIGID;
use super::creep;
use super::joint::{Bracket, BracketShape, Gusset, Hold, Web};
use super::table::Grip;
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
/// A bolt across the tube against sliding, as a share of E times bolt times two walls over the wall (judgement).
const BOLT_BEARING: f64 = 0.5;
/// Where collars' figures come from.
pub const COLLAR: Clause =
    Source::JUDGEMENT.at("a collar holds a tube as a socket of its height does; with play a tenth of it");

/// Stiffnesses the frame is solved with.
#[derive(Clone, Debug, PartialEq)]
pub struct Joints {
    /// `soft`, `stiff`, `given`.
    pub name: &'static str,
    /// Per leg: about the bracket's x and y and about the leg, N mm/rad.
    pub turning: Vec<[f64; 3]>,
    /// Per leg: along the leg, N/mm.
    pub axial: Vec<f64>,
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

impl Joints {
    /// Spring of one grip on a tube: along the tube, across it twice, about it, about the axes across it.
    pub(super) fn grip(&self, grip: Grip) -> [f64; 6] {
        match grip {
            Grip::Bracket => [RIGID; 6],
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

/// Plastic modulus as printed: walls solid, the inside by infill; then its share after years.
fn modulus(model: &Model) -> f64 {
    model.params.printing.filament.e
}

/// Both estimates for a model.
///
/// # Errors
/// A bracket shape the formulas cannot take, in words.
pub fn estimates(model: &Model) -> Result<Estimates, String> {
    let (e, e_aged) = (modulus(model), model.params.printing.filament.e_sustained());
    let mut outside = Vec::new();
    let (mut soft, mut stiff, mut aged) = (Vec::new(), Vec::new(), Vec::new());
    for kind in &model.brackets {
        let fresh = turning(model, &kind.design, e, &mut outside)?;
        soft.push((fresh[0], fresh[2][0]));
        stiff.push((fresh[1], fresh[2][1]));
        let old = turning(model, &kind.design, e_aged, &mut Vec::new())?;
        aged.push((old[0], old[2][0]));
    }
    outside.dedup();
    let wood_aged = creep::wood_creep(creep::ServiceClass::Two).value;
    let make = |name, sets: &[([f64; 3], f64)], e, softness, wood| joints(model, name, sets, e, softness, wood);
    let aged = make("aged", &aged, e_aged, SOFT_COLLAR, model.params.top.wood.creep(false).unwrap_or(wood_aged));
    let joints = match model.params.joints {
        JointStiffness::Estimated => vec![make("soft", &soft, e, SOFT_COLLAR, 1.0), make("stiff", &stiff, e, 1.0, 1.0)],
        _ => vec![make("given", &stiff, e, SOFT_COLLAR, 1.0)],
    };
    Ok(Estimates { joints, aged, outside })
}

/// The plate model of every distinct bracket, new plastic.
///
/// # Errors
/// A shape the formulas cannot take, in words.
pub fn brackets(model: &Model) -> Result<Vec<Bracket>, String> {
    let e = modulus(model);
    let one = |design: &BracketDesign| Bracket::new(&shape(model, design, e)).map_err(|bad| bad.to_string());
    model.brackets.iter().map(|kind| one(&kind.design)).collect()
}

/// Soft and stiff about x, y and the leg, and soft and stiff along it.
fn turning(model: &Model, design: &BracketDesign, e: f64, outside: &mut Vec<String>) -> Result<[[f64; 3]; 3], String> {
    let bracket = Bracket::new(&shape(model, design, e)).map_err(|bad| bad.to_string())?;
    outside.extend(bracket.outside().iter().cloned());
    let moment = SWAY_PUSH * model.params.height / model.legs.len() as f64;
    let torsion = bracket.torsional(SCREW_SLIP);
    let about = |direction: f64| bracket.range(hold(model), direction, moment);
    let (x, y) = (about(0.0), about(std::f64::consts::FRAC_PI_2));
    let axial = [bracket.axial_pull().soft, bracket.axial_push().stiff, 0.0];
    Ok([[x.soft, y.soft, torsion.soft], [x.stiff, y.stiff, torsion.stiff], axial])
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
    let press = |depth: f64, wall: f64| PRESS * e * depth * depth * wall;
    let held = if model.params.bracket.hold.ribs || model.params.bracket.hold.bonded { 1.0 } else { softness };
    let tie = model.ties.first().map(|t| (t.design.height, (t.design.outer - t.design.bore) / 2.0));
    let (height, wall) = tie.unwrap_or((tube.outside, foot.wall()));
    let bolt = model.params.bracket.hold.cross_bolt.unwrap_or(4.0);
    let depth = model.params.tie.rail_socket_depth;
    Joints {
        name,
        turning: model.legs.iter().map(of).collect(),
        axial: model.legs.iter().map(axial).collect(),
        collar: [BOLT_BEARING * e * bolt, softness * press(height, wall)],
        foot: held * press(foot.depth, foot.wall()),
        rail: softness * press(depth, wall),
        rail_depth: depth,
        base: model.params.foot.base,
        wood_creep,
    }
}

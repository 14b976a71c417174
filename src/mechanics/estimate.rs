//! Stiffness of brackets, ties and feet from their dimensions: a soft and a stiff estimate.

use super::fill::Fill;
use super::part_model::{PartModels, TubeStiffness};
use super::studied::Unstudied;
use super::wood::wood_creep;
use super::{End, Ends, Origin};
use crate::fem::RIGID;
use crate::model::{Leg, Model, Rail};
use crate::params::{Base, JointStiffness};
use crate::source::{Clause, Source};

/// Rotational stiffness of a tube that only presses in a collar of depth L and wall w: this times E L^2 w. Source: as
/// the ribs' term of the bracket formulas, from solid models.
const PRESS: f64 = 0.281;
/// A rail tied in its socket over one that only presses. Judgement: solids of a bench's tie with the rail tied gave 4.9 to 6.7 kN m/rad
/// about three axes, 4 to 5.5 times what pressing gives.
const RAIL_TIED: f64 = 5.0;
/// A collar or socket with play over one without: a hinge, since at the loads of sway no tube turns as far as the play
/// (0.3 mm over 26 mm is 11 mrad; a push of 50 N turns a tube in a collar by less than 2). Not 0, so that nothing spins.
const HINGE: f64 = 0.001;
/// A bolt across the tube against sliding, as a share of E times bolt times two walls over the wall (judgement).
const BOLT_BEARING: f64 = 0.5;
/// What friction alone holds along a collar, N/mm: next to nothing, not 0, so that nothing falls.
const LYING: f64 = 1.0;
/// Where collars' figures come from.
pub const COLLAR: Clause = Source::JUDGEMENT.at(
    "a collar without play holds a tube as a socket of its height does, one with play not at all: solids of a bench's ties in a frame \
     gave 0.79 and 0.82 mm of sway with hinges, 0.54 with tied collars",
);
/// Where the hold of a tube along its bore comes from.
pub const ALONG: Clause = Source::JUDGEMENT.at(
    "soft: a tube that is not glued hangs on its cross bolt, half the plastic's modulus times the bolt, 3,000 to 5,000 N/mm; stiff: \
     nothing slides; glue shears by less than a thousandth of a millimetre",
);

/// How stiff the joints are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Estimate {
    /// The softest that they may be.
    Soft,
    /// The stiffest that they may be.
    Stiff,
    /// As the file says.
    Given,
    /// The softest, after years of load.
    Aged,
}

/// Stiffnesses the frame is solved with.
#[derive(Clone, Debug, PartialEq)]
pub struct Joints {
    /// Which estimate.
    pub estimate: Estimate,
    /// Per leg: about the bracket's x and y and about the leg, N mm/rad.
    pub rotational: Vec<[f64; 3]>,
    /// Per leg: along the leg, N/mm.
    pub axial: Vec<f64>,
    /// Per leg: its bracket across the leg, N/mm.
    pub lateral: Vec<f64>,
    /// Per leg: a tube in its bore in the bracket, along the tube, N/mm.
    pub bore: Vec<f64>,
    /// Per leg and tie, from the floor up: a collar along the tube N/mm, about axes across it N mm/rad.
    pub collar: Vec<Vec<[f64; 2]>>,
    /// Per leg: a foot's socket about axes across the tube, N mm/rad.
    pub foot: Vec<f64>,
    /// Per rail and end: its socket about axes across the rail, N mm/rad.
    pub rail: Vec<[f64; 2]>,
    /// Engaged length of a rail, mm.
    pub rail_depth: f64,
    /// Support of the feet.
    pub base: Base,
    /// Divisor of the wood's moduli: 1 now, 1 + k_def under lasting loads.
    pub wood_creep: f64,
}

impl Joints {
    /// A tube in its bracket along its own axis: the rest of the bracket's softness is in its joint.
    pub(super) fn in_bracket(&self, leg: usize) -> [f64; 6] {
        [self.bore[leg], RIGID, RIGID, RIGID, RIGID, RIGID]
    }

    /// A tube in a tie: along the tube, across it twice, about it, about the axes across it.
    pub(super) fn in_tie(&self, leg: usize, tie: usize) -> [f64; 6] {
        let [along, turning] = self.collar[leg][tie];
        [along, RIGID, RIGID, turning, turning, turning]
    }

    /// A tube in its foot.
    pub(super) fn in_foot(&self, leg: usize) -> [f64; 6] {
        [RIGID, RIGID, RIGID, self.foot[leg], self.foot[leg], self.foot[leg]]
    }

    /// An end of a rail in its socket.
    pub(super) fn at_rail(&self, rail: usize, end: usize) -> [f64; 6] {
        let turning = self.rail[rail][end];
        [RIGID, RIGID, RIGID, turning, turning, turning]
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
    pub outside: Vec<Unstudied>,
}

/// Both estimates for a model, from the plate models of its brackets.
#[must_use]
pub fn estimates(model: &Model, plates: &PartModels) -> Estimates {
    let joints = match model.params.joints {
        JointStiffness::Estimated => {
            vec![joints(model, plates, Estimate::Soft, Ends::SOFT), joints(model, plates, Estimate::Stiff, Ends::STIFF)]
        }
        _ => vec![joints(model, plates, Estimate::Given, Ends::STIFF.with(Origin::Collars, End::Soft))],
    };
    Estimates { joints, aged: self::joints(model, plates, Estimate::Aged, Ends::SOFT), outside: plates.outside() }
}

/// Stiffnesses with each origin of their band at one of its ends.
#[must_use]
pub fn joints(model: &Model, plates: &PartModels, estimate: Estimate, ends: Ends) -> Joints {
    let aged = estimate == Estimate::Aged;
    let filament = &model.params.printing.filament;
    let socket = Sockets {
        modulus: if aged { filament.e_sustained() } else { filament.e },
        fill: Fill::of(&model.params.printing),
        hold: &model.params.bracket.hold,
        ends,
    };
    let brackets = plates.stiffness(ends, aged);
    let of = |read: fn(&TubeStiffness) -> f64| model.legs.iter().map(|leg| read(&brackets[leg.bracket.kind])).collect();
    let depth = model.params.tie.rail_socket_depth;
    let tie_wall = |kind: usize| {
        let design = &model.ties[kind].design;
        (design.outer - design.bore) / 2.0
    };
    let collar = |kind: usize| {
        let height = model.ties[kind].design.height;
        [socket.along(tie_wall(kind)).unwrap_or(LYING), socket.turning(height, tie_wall(kind), true)]
    };
    let bore = |leg: &Leg| {
        // Without a bolt a bundle slides, which is in the bracket's joint; one tube that slides turns nothing; what is given for a
        // joint is the whole of it.
        let hangs = leg.tubes.len() > 1 && model.params.joints == JointStiffness::Estimated;
        let wall = model.brackets[leg.bracket.kind].design.sockets[0].wall();
        if hangs { socket.along(wall).unwrap_or(RIGID) } else { RIGID }
    };
    let foot = |leg: &Leg| {
        let own = &model.feet[leg.foot.kind].design.sockets[0];
        socket.turning(own.depth, own.wall(), !socket.hold.ribs)
    };
    let rail = |rail: &Rail| {
        let kind = |end: usize| model.legs[rail.legs[end]].ties[rail.ties[end]].part.kind;
        [0, 1].map(|end| RAIL_TIED * socket.turning(depth, tie_wall(kind(end)), true))
    };
    Joints {
        estimate,
        rotational: model.legs.iter().map(|leg| brackets[leg.bracket.kind].about).collect(),
        axial: of(|s| s.along),
        lateral: of(|s| s.across),
        bore: model.legs.iter().map(bore).collect(),
        collar: model.legs.iter().map(|leg| leg.ties.iter().map(|tie| collar(tie.part.kind)).collect()).collect(),
        foot: model.legs.iter().map(foot).collect(),
        rail: model.rails.iter().map(rail).collect(),
        rail_depth: depth,
        base: model.params.foot.base,
        wood_creep: if aged { wood_creep(model) } else { 1.0 },
    }
}

/// What printed bores do to tubes in them.
struct Sockets<'a> {
    /// Of the plastic, MPa.
    modulus: f64,
    fill: Fill,
    hold: &'a crate::params::Hold,
    ends: Ends,
}

impl Sockets<'_> {
    /// Stiffness along a bore of this wall, mm, N/mm; none where neither glue nor a bolt holds. [`ALONG`].
    fn along(&self, wall: f64) -> Option<f64> {
        let bolt = || self.hold.cross_bolt.map(|bolt| BOLT_BEARING * self.modulus * self.fill.upright(wall) * bolt);
        if self.hold.bonded { Some(RIGID) } else { bolt().map(|soft| self.ends.pick(Origin::Bores, [soft, RIGID])) }
    }

    /// Stiffness against turning in a bore of this depth and wall, mm, N mm/rad; with play it is a hinge at the soft end. [`COLLAR`].
    fn turning(&self, depth: f64, wall: f64, play: bool) -> f64 {
        let tight = PRESS * self.modulus * self.fill.upright(wall) * depth * depth * wall;
        let loose = if play && !self.hold.bonded { HINGE } else { 1.0 };
        tight * self.ends.pick(Origin::Collars, [loose, 1.0])
    }
}

#[cfg(test)]
mod tests {
    use super::super::studied::Size;
    use super::*;
    use crate::mechanics::{Cache, Detail};

    /// A table whose printing is as given.
    fn printed(printing: &str) -> Joints {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "printing": {printing}}}"#
        );
        let m = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
        estimates(&m, &PartModels::new(&m, Detail::Full, &Cache::default()).expect("plates")).joints.remove(0)
    }

    /// Two lines of 0.4 mm, 4 layers of 0.2 mm and next to nothing between them: less than half of the plastic stands in any
    /// section of bracket, tie or foot.
    #[test]
    fn a_hollow_bracket_is_softer_than_a_solid_one() {
        let solid = printed(r#"{"infill": "100 %"}"#);
        let hollow = printed(r#"{"infill": "5 %", "walls": 2, "solid_layers": 4}"#);
        let pairs = |j: &Joints| [j.rotational[0][0], j.rotational[0][1], j.axial[0], j.foot[0]];
        for (a, b) in pairs(&hollow).into_iter().zip(pairs(&solid)) {
            assert!(a < 0.65 * b, "{a} against {b}");
        }
    }

    #[test]
    fn walls_and_solid_layers_add_nothing_to_what_is_solid() {
        let one = printed(r#"{"infill": "100 %", "walls": 2, "solid_layers": 2}"#);
        let other = printed(r#"{"infill": "100 %", "walls": 9, "solid_layers": 30}"#);
        assert!((one.rotational[0][0] / other.rotational[0][0] - 1.0).abs() < 1e-9);
        assert!((one.foot[0] / other.foot[0] - 1.0).abs() < 1e-9);
    }

    #[test]
    fn leaning_legs_are_told_as_not_studied() {
        let describe = |splay: &str| {
            let text = format!(
                r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                    "legs": {{"tube": "25 x 2 mm", "splay": {splay}}}, "loads": [{{"mass": "40 kg"}}]}}"#
            );
            let m = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
            estimates(&m, &PartModels::new(&m, Detail::Full, &Cache::default()).expect("plates"))
                .outside
                .iter()
                .any(|why| matches!(why, Unstudied::Size { size: Size::Lean, .. }))
        };
        assert!(describe(r#"["8 deg", "0 deg"]"#) && !describe(r#"["0 deg", "0 deg"]"#));
    }
}

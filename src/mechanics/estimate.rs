//! Stiffness of brackets, ties and feet from their dimensions: a soft and a stiff estimate.

use super::fill::Fill;
use super::part_model::{PartModels, TubeStiffness};
use super::studied::Unstudied;
use crate::fem::RIGID;
use crate::model::Model;
use crate::params::{Base, JointStiffness};
use crate::source::{Clause, Source};

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
    pub outside: Vec<Unstudied>,
}

/// Both estimates for a model, from the plate models of its brackets.
#[must_use]
pub fn estimates(model: &Model, plates: &PartModels) -> Estimates {
    let filament = &model.params.printing.filament;
    let (e, e_aged) = (filament.e, filament.e_sustained());
    let [fresh, aged] = [false, true].map(|aged| plates.stiffness(aged));
    let make = |estimate, sets: &[TubeStiffness], stiff: usize, e, softness, wood| {
        let sets: Vec<_> = sets.iter().map(|s| (s.about[stiff], s.along[stiff])).collect();
        joints(model, estimate, &sets, e, softness, wood)
    };
    let joints = match model.params.joints {
        JointStiffness::Estimated => {
            vec![make(Estimate::Soft, &fresh, 0, e, SOFT_COLLAR, 1.0), make(Estimate::Stiff, &fresh, 1, e, 1.0, 1.0)]
        }
        _ => vec![make(Estimate::Given, &fresh, 1, e, SOFT_COLLAR, 1.0)],
    };
    let aged = make(Estimate::Aged, &aged, 0, e_aged, SOFT_COLLAR, wood_creep(model));
    Estimates { joints, aged, outside: plates.outside() }
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

fn joints(
    model: &Model,
    estimate: Estimate,
    sets: &[([f64; 3], f64)],
    e: f64,
    softness: f64,
    wood_creep: f64,
) -> Joints {
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
        estimate,
        rotational: model.legs.iter().map(|leg| sets[leg.bracket.kind].0).collect(),
        axial: model.legs.iter().map(|leg| sets[leg.bracket.kind].1).collect(),
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
            estimates(&m, &PartModels::new(&m, Detail::Full, &Cache::default()).expect("plates"))
                .outside
                .iter()
                .any(|why| matches!(why, Unstudied::Size { size: Size::Lean, .. }))
        };
        assert!(describe(r#"["8 deg", "0 deg"]"#) && !describe(r#"["0 deg", "0 deg"]"#));
    }
}

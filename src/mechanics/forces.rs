//! What the frame says: forces, movements, frequencies, for a soft and a stiff estimate of the joints.

use super::estimate::{Estimate, Joints};
use super::joint::BracketDemand;
use super::studied::Unstudied;
use crate::clauses::screw_group::Loads;

/// Results of the frame for both estimates of the joints.
#[derive(Clone, Debug, PartialEq)]
pub struct Forces {
    /// Rotational stiffness of the bracket, N mm/rad, soft and stiff; equal when the user gave a figure, infinite when rigid.
    pub joint_stiffness: [f64; 2],
    /// Why the estimates are wider than studied; empty inside the studied range.
    pub outside_studied: Vec<Unstudied>,
    /// One solution per estimate: soft first, then stiff; one only when the user gave a figure.
    pub solutions: Vec<Solution>,
    /// Factor on the lasting loads at which the frame buckles with the moduli after years of load, soft joints.
    pub critical_after_life: Option<f64>,
    /// Free travel of the top from the play in the sockets, mm, along x and y.
    pub play: [f64; 2],
    /// Mass of table and lasting loads, kg, and the height of its centre above the floor, mm.
    pub mass: f64,
    /// Centre of that mass, world, mm.
    pub centre: [f64; 3],
    /// Mass of the empty table, kg, and its centre, world, mm.
    pub empty: (f64, [f64; 3]),
    /// Feet on the floor, world, mm, in the order of the legs.
    pub feet: Vec<[f64; 2]>,
}

/// The frame solved with one estimate of the joints.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// Which estimate.
    pub estimate: Estimate,
    /// Stiffnesses it was solved with.
    pub joints: Joints,
    /// One per load case of the model, in its order.
    pub cases: Vec<CaseForces>,
    /// Factor on the lasting loads at which the frame buckles; none: never within a thousandfold.
    pub critical_factor: Option<f64>,
    /// Lowest natural frequencies, Hz, ascending.
    pub modes: Vec<Frequency>,
    /// Under each shaking load of the file, in its order.
    pub shaking: Vec<Shaken>,
    /// Largest relative error of equilibrium (reactions against loads) and of energy (strain energy against work), first
    /// order.
    pub imbalance: f64,
}

/// The top under a load that shakes, where its frequency does most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shaken {
    /// Index of the load in the file.
    pub load: usize,
    /// The frequency, Hz.
    pub hertz: f64,
    /// Amplitude of the force, N.
    pub force: f64,
    /// Amplitude of the top's worst point, mm.
    pub amplitude: f64,
    /// A natural frequency with soft joints and with stiff ones, Hz, between which this one lies; none where it lies between no
    /// two.
    pub resonates: Option<[f64; 2]>,
}

/// A natural frequency and what moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Frequency {
    /// Hz.
    pub hertz: f64,
    /// What moves.
    pub motion: Motion,
}

/// What moves most of the table's mass in a mode.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    /// The top along its length.
    SwayX,
    /// The top along its width.
    SwayY,
    /// The top about the upright.
    Twist,
    /// None of these.
    Other,
}

/// One load case.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseForces {
    /// Movement of the top's middle along x and y, mm, second order.
    pub sway: [f64; 2],
    /// The same, first order.
    pub sway_first_order: [f64; 2],
    /// Turn of the top about z, mrad.
    pub twist: f64,
    /// Largest downward movement of the top relative to the plane through the leg heads, mm, short-term.
    pub sag: f64,
    /// Where, mm from the corner at -x -y.
    pub sag_at: [f64; 2],
    /// Force of the floor on each foot, N, world.
    pub reactions: Vec<[f64; 3]>,
    /// Force and moment of each leg on its bracket at the wood face, N and N mm, world axes.
    pub joints: Vec<[f64; 6]>,
    /// The same in the bracket's printing frame: z away from the wood.
    pub faces: Vec<Loads>,
    /// What each leg's bracket bears; none where the plate model cannot hold it.
    pub bracket_demands: Vec<Option<BracketDemand>>,
    /// Per leg, per tube.
    pub tubes: Vec<Vec<TubeForces>>,
    /// Per rail.
    pub rails: Vec<TubeForces>,
    /// Largest bending stresses in the top.
    pub top: TopStress,
    /// Movement of the leg heads and of a grid of points of the top for the picture: place and movement, world, mm.
    pub shape: Vec<([f64; 3], [f64; 3])>,
}

/// Forces in a tube. Compression is negative.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TubeForces {
    /// Axial force where it is most compressed, N.
    pub axial: f64,
    /// Largest tension, N; 0 when it is always compressed.
    pub tension: f64,
    /// Largest bending moment, N mm.
    pub moment: f64,
    /// Largest shear, N.
    pub shear: f64,
    /// Largest torque, N mm.
    pub torque: f64,
    /// At the mouth of the upper (first) socket: axial N, shear N, moment N mm.
    pub upper: [f64; 3],
    /// At the mouth of the lower (second) socket: axial N, shear N, moment N mm.
    pub lower: [f64; 3],
    /// At each tie of its leg from the floor up: change of axial force N, shear N, moment N mm.
    pub ties: Vec<[f64; 3]>,
}

/// Largest bending stresses in the top, short-term, MPa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TopStress {
    /// Along the grain.
    pub along: f64,
    /// Where, mm from the corner at -x -y.
    pub along_at: [f64; 2],
    /// Across the grain.
    pub across: f64,
    /// Where, mm from the corner at -x -y.
    pub across_at: [f64; 2],
    /// Twisting (rolling) shear at the face.
    pub shear: f64,
}

impl Forces {
    /// The solution whose value by `of` is largest; the soft one for equal values.
    pub fn worst(&self, of: impl Fn(&Solution) -> f64) -> (&Solution, f64) {
        let first = &self.solutions[0];
        self.solutions
            .iter()
            .skip(1)
            .fold((first, of(first)), |best, s| if super::exceeds(of(s), best.1) { (s, of(s)) } else { best })
    }
}

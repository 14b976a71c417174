//! Displacements and forces of one load case.

use nalgebra::Vector3;

use super::frame::Frame;
use super::ground::{BeamId, DOF, NodeId, SpringId};
use super::sparse::dot;

/// Displacements and forces of one load case.
#[derive(Clone, Debug)]
pub struct State {
    pub(super) displacements: Vec<f64>,
    /// Loads including weight.
    pub(super) applied: Vec<f64>,
    pub(super) supports: Vec<f64>,
    pub(super) springs: Vec<[f64; 6]>,
    pub(super) beams: Vec<[f64; 12]>,
    pub(super) energy: f64,
}

impl State {
    /// ux uy uz (mm), rx ry rz (rad) of a node.
    #[must_use]
    pub fn displacement(&self, node: NodeId) -> [f64; 6] {
        six(&self.displacements, node.0)
    }

    /// Forces (N) and moments (N mm) of the supports on a node, global axes; zero where it is not held.
    #[must_use]
    pub fn reaction(&self, node: NodeId) -> [f64; 6] {
        six(&self.supports, node.0)
    }

    /// Forces and moments on the first and second end of a beam, in its local axes: N is minus the first, or the
    /// seventh.
    #[must_use]
    pub fn beam_ends(&self, beam: BeamId) -> [[f64; 6]; 2] {
        [six(&self.beams[beam.0], 0), six(&self.beams[beam.0], 1)]
    }

    pub(super) fn tension(&self, beam: usize) -> f64 {
        0.5 * (self.beams[beam][6] - self.beams[beam][0])
    }

    /// Forces and moments that a spring or link exerts on its second node, in the spring's axes.
    #[must_use]
    pub fn spring(&self, spring: SpringId) -> [f64; 6] {
        self.springs[spring.0]
    }

    /// Strain energy, N mm; in second order with the work of the geometric stiffness.
    #[must_use]
    pub fn energy(&self) -> f64 {
        self.energy
    }

    /// Half the work of loads on their displacements, N mm.
    #[must_use]
    pub fn work(&self) -> f64 {
        0.5 * dot(&self.applied, &self.displacements)
    }

    /// Sum of loads including weight, and their moment about the origin.
    #[must_use]
    pub fn applied_sum(&self, frame: &Frame) -> [f64; 6] {
        resultant(frame, &self.applied)
    }

    /// Sum of reactions, and their moment about the origin; in second order the moment of loads on their own
    /// displacements is missing from it.
    #[must_use]
    pub fn reaction_sum(&self, frame: &Frame) -> [f64; 6] {
        resultant(frame, &self.supports)
    }
}

fn six(all: &[f64], index: usize) -> [f64; 6] {
    std::array::from_fn(|d| all[index * DOF + d])
}

fn resultant(frame: &Frame, forces: &[f64]) -> [f64; 6] {
    let mut sum = [0.0; 6];
    for (f, place) in forces.chunks(DOF).zip(&frame.nodes) {
        let turn = place.cross(&Vector3::new(f[0], f[1], f[2]));
        for d in 0..3 {
            sum[d] += f[d];
            sum[3 + d] += f[3 + d] + turn[d];
        }
    }
    sum
}

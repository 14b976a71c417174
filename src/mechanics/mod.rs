//! Model to forces: sections, frame, plate, joints, creep.

mod forces;

pub use forces::{CaseForces, Forces, Frequency, Solution, TopStress, TubeForces};

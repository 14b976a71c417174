//! Model to forces: sections, frame, plate, joints, creep.

mod analysis;
pub mod estimate;
mod forces;
mod table;

pub use analysis::{solve, solve_on, strength};
pub use forces::{CaseForces, Forces, Frequency, Solution, TopStress, TubeForces};
pub use table::{POISSON, TURNING_POINT};
mod beam;
mod blend;
mod constraint;
mod detail;
mod eigen;
mod frame;
mod grid;
mod load;
mod order;
mod plate;
mod solve;
mod sparse;
mod spring;
mod turn;

pub use beam::BeamSection;
pub use detail::Detail;
pub use eigen::{Buckling, Mode, Response};
pub use frame::{Axes, BeamId, Frame, FrameError, Member, NodeId, PlateId, SpringId};
pub use grid::Mesh;
pub use load::Case;
pub use order::exceeds;
pub use plate::{PlateForces, PlateMass, PlateSection};
pub use solve::{Loose, Solver, State};
pub use spring::{FREE, RIGID};
pub mod base_plate;
pub mod bracket_plate;
pub mod buckling;
pub mod builtup;
pub mod creep;
pub mod joint;
pub mod lateral;
pub mod screw_group;
pub mod socket;
pub mod stability;
pub mod withdrawal;
pub mod working;

//! Finite elements: beams, plates, springs and rigid links, sparse solution, eigenvalues. Knows no table.
//!
//! Units throughout: N, mm, MPa, radians and tonnes.

mod beam;
mod constraint;
mod eigen;
mod element_matrix;
mod frame;
mod grid;
mod ground;
mod load;
mod plate;
pub mod solid;
mod solve;
pub(crate) mod sparse;
mod spring;
mod state;

pub use beam::BeamSection;
pub use eigen::{Buckling, Mode, Response, Shaken};
pub use frame::{Frame, Member};
pub use grid::Mesh;
pub use ground::{Axes, BeamId, FrameError, NodeId, PlateId, SpringId};
pub use load::Case;
pub use plate::{PlateForces, PlateSection};
pub use solve::{ReleasableSupport, Solver};
pub use sparse::Orders;
pub use spring::RIGID;
pub use state::State;

//! Model to forces: the table's frame, its joints, load cases, what the parts must bear.

mod analysis;
mod band;
pub mod bracket_plate;
pub mod bracket_shape;
mod bracket_stress;
mod cache;
mod detail;
mod ends;
pub mod estimate;
pub mod fill;
mod forces;
mod governing;
mod image;
pub mod joint;
mod loading;
mod order;
mod part_model;
mod shaking;
pub mod solid_bracket;
mod studied;
mod table;
mod wood;

pub use analysis::{NEVER, solve, solve_with, sway};
pub use band::{Band, Share, band};
pub use cache::Cache;
pub use detail::Detail;
pub use ends::{End, Ends, Origin};
pub use estimate::Estimate;
pub use forces::{CaseForces, Forces, Frequency, Motion, Shaken, Solution, TopStress, TubeForces};
pub use governing::strength;
pub use order::exceeds;
pub use part_model::{PartModel, PartModels, SEAT, hold};
pub use studied::{Size, Unstudied};
pub use table::{POISSON, TURNING_POINT};
pub use wood::wood_creep;

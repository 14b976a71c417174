//! Solids and meshes: the only folder that knows the B-rep kernel and mesh booleans; no leg or table in here.

mod fault;
mod feature;
mod kernel;
mod mesh;
mod outline;
mod solid;
mod text;
mod triangulate;

pub use fault::Fault;
pub use feature::{Axis, Boss, Feature, Gusset, upright_plane};
pub use mesh::{Aabb, Mesh};
pub use outline::{Outline, Round};
pub use solid::Solid;
pub use text::{DEPTH as LABEL_DEPTH, LEAST_HEIGHT as LEAST_LABEL_HEIGHT, Label};

#[cfg(test)]
mod samples;

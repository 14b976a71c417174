//! The map of files: meshes, papers, lists, report, record.

pub mod step;
pub mod stl;
pub mod threemf;

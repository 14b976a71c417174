//! The map of files: meshes, papers, lists, report, record.

pub mod stl;
pub mod threemf;

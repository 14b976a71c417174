//! The map of files: meshes, papers, lists, report, record.

pub mod kit;
pub mod stl;
pub mod threemf;

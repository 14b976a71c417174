//! The map of files: meshes, papers, lists, report, record.

pub mod chain;
pub mod csv;
pub mod cut_plan;
pub mod drawing;
pub mod dxf;
pub mod font;
pub mod number;
pub mod pdf;
pub mod picture;
pub mod sheet;
pub mod svg;
mod tones;

//! Writers of file formats and the drawing that they write; they know no table.

pub mod csv;
pub mod drawing;
pub mod dxf;
pub mod font;
pub mod number;
pub mod pdf;
pub mod step;
pub mod stl;
pub mod svg;
pub mod threemf;

//! Printable leg hardware for a solid wooden top.
//!
//! The program is a pure function: parameter text in, a map of files out, or a list of problems.

pub mod checks;
pub mod geometry;
pub mod mechanics;
pub mod model;
pub mod output;
pub mod params;
pub mod parts;
pub mod problem;
pub mod source;
pub mod tables;
pub mod units;

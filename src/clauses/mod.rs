//! Formulas of standards and handbooks: numbers in, numbers out, each with its clause. Checks call them, and so do the tests
//! that hold them against printed examples.

pub mod buckling;
pub mod creep;
pub mod lateral;
pub mod screw_group;
pub mod screw_slip;
pub mod socket;
pub mod stability;
pub mod withdrawal;
pub mod working;

//! Quantities as people write them, `"38 mm"`, `"1 1/2 in"`, `"16 ga"`, and back.
//!
//! Inside the program lengths are mm, forces N, stresses MPa, masses kg, angles radians,
//! temperatures degrees Celsius, shares 0 to 1, times years, rotational stiffness N mm/rad.

mod digits;
mod kind;
mod pattern;
mod read;
mod show;
mod table;
mod unread;

pub use digits::plain;
pub use kind::Kind;
pub use pattern::pattern;
pub(crate) use pattern::{number_pattern, unit_pattern};
pub(crate) use read::comma;
pub use read::{gauge_wall, read};
pub use show::{exact, inch_32, show, show_length, show_range};
pub use unread::Unread;

/// Standard acceleration of free fall, m/s2, by definition.
/// Source: The International System of Units (SI), 9th edition, unit conversions in NIST SP 811 B.8.
pub const GRAVITY: f64 = 9.80665;

/// Millimetres in an inch, by definition.
pub const INCH: f64 = 25.4;

/// Kilograms in a pound, by definition.
pub const POUND: f64 = 0.453_592_37;

/// One pound-force, N.
pub const LBF: f64 = POUND * GRAVITY;

/// One pound-force per square inch, MPa.
pub const PSI: f64 = LBF / (INCH * INCH);

/// Which family a unit belongs to; messages answer in the family of the user.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// mm, kg, N, C and everything without a family.
    Metric,
    /// in, lb, lbf, F.
    Inch,
}

/// A quantity that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// In the unit of its [`Kind`]; finite.
    pub value: f64,
    /// Family of the unit it was written in.
    pub system: System,
}

#[cfg(test)]
mod tests;

//! What a key of a parameter file says, typed.

use crate::units::Kind;

/// What a key says; quantities in the inner unit of their kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A title or a name.
    Text(String),
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Count(usize),
    /// A number without unit.
    Number(f64),
    /// A quantity.
    Quantity(Kind, f64),
    /// Least and most of a range, or twice the same.
    Band(Kind, [f64; 2]),
    /// Several quantities.
    Quantities(Kind, Vec<f64>),
    /// One of the words of the key.
    Word(&'static str),
    /// Several of them.
    Words(Vec<&'static str>),
    /// Name of a row of a table.
    Row(&'static str),
    /// Size of a tube.
    Tube(TubeSize),
    /// Size of a screw.
    Screw(ScrewSize),
    /// Divisor of a span: 300 for span / 300.
    Span(f64),
    /// A point on the top, from its front left corner.
    Point([Coordinate; 2]),
    /// Two opposite corners.
    Rectangle([[Coordinate; 2]; 2]),
    /// Keys of an object with their values, in the order of the table of keys.
    Group(Entries),
    /// Objects.
    List(Vec<Value>),
    /// Stands for what could not be read; its problem is told.
    Unread,
}

/// Names of keys with their values.
pub type Entries = Vec<(&'static str, Value)>;

/// A tube as it is designated.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeSize {
    /// As sold, such as `16 x 1.5 mm` or `1/2 EMT`.
    pub name: String,
    /// Outside diameter, mm.
    pub outside: f64,
    /// Wall thickness, mm.
    pub wall: f64,
}

/// A screw of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct ScrewSize {
    /// Name of its row, such as `4.5 mm` or `#8`.
    pub row: &'static str,
    /// Its length where the size says it, mm.
    pub length: Option<f64>,
}

/// How far along an edge of the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coordinate {
    /// A share of the edge, 0 to 1.
    Share(f64),
    /// A length, mm.
    Length(f64),
}

//! Shapes and ranges of values, and what holds without them.

use super::{Access, TUBE};
use crate::params::table::Table;
use crate::units::{self, Kind, System};

/// One key.
#[derive(Clone, Copy, Debug)]
pub(in crate::params) struct Accept {
    /// Path with `[]` for every list: `loads[].mass`.
    pub key: &'static str,
    /// Shape and range.
    pub what: Shape,
    /// What holds when the file does not say.
    pub without: Default,
    /// One sentence for people.
    pub doc: &'static str,
    /// How it is got from values that were read, whether the file says it or not, and set in them.
    pub access: Access,
}

/// Shape of a value.
#[derive(Clone, Copy, Debug)]
pub(in crate::params) enum Shape {
    /// Any text, not empty.
    Text,
    /// `true` or `false`.
    Flag,
    /// A whole number: least and most.
    Count(usize, usize),
    /// One of these whole numbers.
    CountOf(&'static [usize]),
    /// A number without unit: least and most.
    Number(f64, f64),
    /// A quantity with its unit.
    Quantity(Range),
    /// A quantity, or a range of them: `3 Hz to 8 Hz`.
    Band(Range),
    /// A list of quantities: fewest and most of them.
    Quantities(Range, usize, usize),
    /// One of these words.
    Words(&'static [&'static str]),
    /// A list of these words.
    WordList(&'static [&'static str]),
    /// Name of a row of a table, or an object with its own numbers.
    Row(Table),
    /// Designation of a tube: `16 x 1.5 mm`, `1/2 EMT`.
    TubeSize,
    /// Size of a screw with or without its length: `4.5 x 30 mm`, `#8 x 1 1/4 in`.
    ScrewSize,
    /// `span / 300`: least and most divisor.
    Span(f64, f64),
    /// Two shares or lengths along the top's length and width.
    Point,
    /// Two opposite corners, each a point.
    Rectangle,
    /// An object with its own keys.
    Group,
    /// A list of objects: fewest and most.
    Groups(usize, usize),
    /// Any of these shapes.
    Either(&'static [Shape]),
}

/// Kind and bounds of a quantity, in the inner unit; both bounds are accepted.
#[derive(Clone, Copy, Debug)]
pub(in crate::params) struct Range {
    pub kind: Kind,
    pub least: f64,
    pub most: f64,
}

/// What holds when a key is missing.
#[derive(Clone, Copy, Debug)]
pub(in crate::params) enum Default {
    /// The file cannot be used; the text shows what to write.
    Required(&'static str),
    /// This value, as written in a file, and why.
    Value(&'static str, &'static str),
    /// A value by this rule, and why.
    Rule(&'static str, &'static str),
    /// Nothing is assumed; the text says what happens instead.
    Unset(&'static str),
}

impl Accept {
    /// Last part of the path.
    pub(in crate::params) fn name(&self) -> &'static str {
        self.key.rsplit('.').next().unwrap_or(self.key)
    }

    /// Path of the group the key stands in; empty for the file itself.
    pub(in crate::params) fn parent(&self) -> &'static str {
        self.key.rfind('.').map_or("", |end| &self.key[..end])
    }

    /// Path that keys below this one stand under in the table of keys.
    pub(in crate::params) fn pattern(&self) -> &'static str {
        if self.name() == TUBE.name() { TUBE.key } else { self.key }
    }

    /// The default as written in a file; empty where there is none.
    pub(in crate::params) const fn default_text(&self) -> &'static str {
        match self.without {
            Default::Value(text, _) => text,
            Default::Required(_) | Default::Rule(..) | Default::Unset(_) => "",
        }
    }

    /// Why a default was chosen.
    pub(in crate::params) fn why(&self) -> &'static str {
        match self.without {
            Default::Value(_, why) | Default::Rule(_, why) => why,
            Default::Required(_) | Default::Unset(_) => "",
        }
    }
}

impl Range {
    /// `12 mm to 120 mm`, for users of inches in inches first.
    pub(in crate::params) fn describe(&self, system: System) -> String {
        units::show_range(self.kind, self.least, self.most, system)
    }

    /// Whether a value is accepted; what rounding may do to a bound is let pass.
    pub(in crate::params) fn holds(&self, value: f64) -> bool {
        let slack = 1e-9 * self.most.abs().max(self.least.abs());
        (self.least - slack..=self.most + slack).contains(&value)
    }
}

impl Shape {
    /// The range of quantities in this shape.
    pub(in crate::params) fn range(&self) -> Option<Range> {
        match self {
            Self::Quantity(range) | Self::Band(range) | Self::Quantities(range, ..) => Some(*range),
            Self::Either(shapes) => shapes.iter().find_map(Self::range),
            _ => None,
        }
    }

    /// The words this shape accepts.
    pub(in crate::params) fn words(&self) -> &'static [&'static str] {
        match self {
            Self::Words(words) | Self::WordList(words) => words,
            Self::Either(shapes) => shapes.iter().map(Self::words).find(|words| !words.is_empty()).unwrap_or(&[]),
            _ => &[],
        }
    }

    /// Which whole numbers this shape accepts, and the least of them.
    pub(in crate::params) fn counts(&self) -> (Box<dyn Fn(usize) -> bool>, usize) {
        match *self {
            Self::Count(least, most) => (Box::new(move |count| (least..=most).contains(&count)), least),
            Self::CountOf(list) => (Box::new(|count| list.contains(&count)), list[0]),
            Self::Either(shapes) => shapes[0].counts(),
            _ => (Box::new(|_| false), 0),
        }
    }

    /// What is accepted, in words.
    pub(in crate::params) fn describe(&self, system: System) -> String {
        match self {
            Self::Text => "a text".into(),
            Self::Flag => "true or false".into(),
            Self::Count(least, most) => format!("a whole number, {least} to {most}"),
            Self::CountOf(counts) => either(counts.iter().map(ToString::to_string)),
            Self::Number(least, most) => format!("a number, {} to {}", units::plain(*least), units::plain(*most)),
            Self::Quantity(range) => range.describe(system),
            Self::Band(range) => format!("{}, or a range such as \"3 Hz to 8 Hz\"", range.describe(system)),
            Self::Quantities(range, least, most) => {
                format!("a list of {}, each {}", span(*least, *most), range.describe(system))
            }
            Self::Words(words) => either(words.iter().map(|word| format!("\"{word}\""))),
            Self::WordList(words) => {
                format!("a list of any of {}", either(words.iter().map(|word| format!("\"{word}\""))))
            }
            Self::Row(table) => format!("a name from the table of {}, or an object with its own numbers", table.name()),
            Self::TubeSize => "a size such as \"16 x 1.5 mm\", \"1 in x 16 ga\" or \"1/2 EMT\"".into(),
            Self::ScrewSize => "a size such as \"4.5 x 30 mm\" or \"#8 x 1 1/4 in\"".into(),
            Self::Span(least, most) => format!("\"span / {least}\" to \"span / {most}\""),
            Self::Point => {
                let example = if system == System::Inch { "4 in" } else { "100 mm" };
                format!("two shares or lengths from the front left corner, such as [\"50 %\", \"{example}\"]")
            }
            Self::Rectangle => "two opposite corners, such as [[\"0 %\", \"0 %\"], [\"50 %\", \"100 %\"]]".into(),
            Self::Group => "an object { ... }".into(),
            Self::Groups(least, most) => format!("a list of {} objects", span(*least, *most)),
            Self::Either(shapes) => shapes.iter().map(|shape| shape.describe(system)).collect::<Vec<_>>().join("; or "),
        }
    }
}

/// `3, 4 or 6`.
pub(in crate::params) fn either(list: impl Iterator<Item = String>) -> String {
    let mut list: Vec<_> = list.collect();
    match list.pop() {
        Some(last) if !list.is_empty() => format!("{} or {last}", list.join(", ")),
        Some(last) => last,
        None => String::new(),
    }
}

/// `2`, or `1 to 8`.
pub(in crate::params) fn span(least: usize, most: usize) -> String {
    if least == most { most.to_string() } else { format!("{least} to {most}") }
}

pub(super) const fn quantity(kind: Kind, least: f64, most: f64) -> Shape {
    Shape::Quantity(Range { kind, least, most })
}

pub(super) const fn quantities(kind: Kind, least: f64, most: f64, fewest: usize, largest: usize) -> Shape {
    Shape::Quantities(Range { kind, least, most }, fewest, largest)
}

pub(super) const fn length(least: f64, most: f64) -> Shape {
    quantity(Kind::Length, least, most)
}

pub(super) const fn lengths(least: f64, most: f64, fewest: usize, largest: usize) -> Shape {
    Shape::Quantities(Range { kind: Kind::Length, least, most }, fewest, largest)
}

pub(super) const fn stress(least: f64, most: f64) -> Shape {
    quantity(Kind::Stress, least, most)
}

pub(super) const fn share(least: f64, most: f64) -> Shape {
    quantity(Kind::Share, least, most)
}

//! Parameter text to [`Design`], what the file says, and to [`Params`], what follows from it; and a changed design back
//! to text.
//!
//! Past this border nobody checks a single value again; what several values mean together is
//! judged by [`crate::model`]. N, mm, MPa, kg, radians, degrees Celsius inside.

mod accept;
mod bracket;
mod design;
mod examples;
mod family;
mod keys;
mod legs;
mod loads;
mod printing;
mod read;
mod reader;
mod rewrite;
mod rows;
mod schema;
mod screws;
mod seat;
mod spelling;
mod support;
mod table;
#[allow(clippy::result_large_err, reason = "a file has one such problem at most, and it ends the reading")]
mod text;
mod top;
mod tube;
mod typing;
mod value;
mod values;
mod words;

use std::collections::BTreeMap;

use crate::problem::Place;
use crate::units::{self, Kind, System};

pub use design::{Design, Edit, Refused};
pub use examples::{Answers, built_in, template};
pub use keys::keys_table;
pub(crate) use legs::thickest_tie_wall;
pub use loads::Shaking;
pub use read::{read, read_bytes, read_design};
pub use rewrite::edited;
pub use schema::schema;
pub(crate) use screws::better;
pub use seat::{HEAD_FIT, HOLE_FIT, LEAST_PENETRATION, Seat};
pub(crate) use typing::suggested;
pub use value::{Coordinate, Entries, ScrewSize, TubeSize, Value};
pub use values::{
    Base, Bracket, Coupons, Cutting, Drilling, Duration, Foot, FootKind, Gussets, Head, Hold, JointStiffness, Legs,
    Limits, Load, Printing, Rail, Run, Sawn, Screws, Side, Spread, Surroundings, Tie, Ties, Top, Tube, Use,
};

/// Everything the parameter file says, every value inside its accepted range.
#[derive(Clone, Debug)]
pub struct Params {
    /// Title of the job.
    pub title: String,
    /// The slab.
    pub top: Top,
    /// Floor to show face, mm.
    pub height: f64,
    /// Legs and their tubes.
    pub legs: Legs,
    /// Horizontal tubes from leg to leg; at most 4.
    pub rails: Vec<Rail>,
    /// The plate under the top.
    pub bracket: Bracket,
    /// The plates that hold a leg's tubes together.
    pub tie: Tie,
    /// The parts at the floor.
    pub foot: Foot,
    /// The user's own figure for the joint at the bracket.
    pub joints: JointStiffness,
    /// Printer and filament.
    pub printing: Printing,
    /// What the table carries, in file order; never empty.
    pub loads: Vec<Load>,
    /// How hard it is used.
    pub usage: Use,
    /// Where it stands.
    pub place: Surroundings,
    /// How long it must last, years.
    pub life: f64,
    /// Limits that are judgement.
    pub limits: Limits,
    /// Stock and saw.
    pub cutting: Cutting,
    /// Drill and chuck.
    pub drilling: Drilling,
    /// Units that most quantities of the file have: messages answer in them.
    pub units: System,
    /// A change that is only tried: its problems are counted, and look for no cures of their own.
    pub(crate) trial: bool,
    /// A plate whose size the file leaves open may grow for spare holes.
    pub(crate) plate_grows: bool,
    /// Every default that was used, in the order of the keys.
    pub assumed: Vec<Assumed>,
    /// Names the user gave to own materials and screws, by key path (`top.wood`): the rows themselves are called
    /// `own wood`, `own metal`, `own filament`, `own screw`.
    pub names: BTreeMap<String, String>,
    /// Where each key stands in the file, by key path.
    pub places: BTreeMap<String, Place>,
}

/// Parts of an inch to which lengths are told.
const INCH_PARTS: f64 = 32.0;

impl Params {
    /// A length as messages show it, in the units of the file, to a hundredth of a millimetre or thousandth of an inch.
    #[must_use]
    pub fn length(&self, value: f64) -> String {
        units::show_length(value, self.units)
    }

    /// A length that is not less, mm: whole millimetres, or thirty-seconds of an inch.
    #[must_use]
    pub fn length_up(&self, value: f64) -> String {
        self.describe((value - 1e-6).ceil(), ((value - 1e-6) / units::INCH * INCH_PARTS).ceil())
    }

    /// A length that is not more, mm: whole millimetres, or thirty-seconds of an inch.
    #[must_use]
    pub fn length_down(&self, value: f64) -> String {
        self.describe((value + 1e-6).floor(), ((value + 1e-6) / units::INCH * INCH_PARTS).floor())
    }

    /// What the user calls an own material at this key, else the name of its row.
    fn called<'a>(&'a self, key: &str, row: &'a str) -> &'a str {
        self.names.get(key).map_or(row, String::as_str)
    }

    /// Name of the top's wood, the user's where there is one.
    #[must_use]
    pub fn wood_name(&self) -> &str {
        self.called("top.wood", self.top.wood.name)
    }

    /// Name of the filament, the user's where there is one.
    #[must_use]
    pub fn filament_name(&self) -> &str {
        self.called("printing.filament", self.printing.filament.name)
    }

    /// Name of the screws' size, the user's where there is one.
    #[must_use]
    pub fn screw_name(&self) -> &str {
        self.called("bracket.screws.size", self.bracket.screws.screw.name)
    }

    /// Name of the legs' metal, the user's where there is one.
    #[must_use]
    pub fn metal_name(&self) -> &str {
        self.called("legs.tube.metal", self.legs.tube.metal.name)
    }

    /// Name of a rail's metal, by its place in the file from 0: that of the legs where the rail has their tube.
    #[must_use]
    pub fn rail_metal_name(&self, rail: usize) -> &str {
        match self.rails.get(rail) {
            Some(own) if self.places.contains_key(&format!("rails[{rail}].tube")) => {
                self.called(&format!("rails[{rail}].tube.metal"), own.tube.metal.name)
            }
            _ => self.metal_name(),
        }
    }

    /// What to ask for when the tube of the legs, or of a rail by its place in the file, is bought: its size, and its
    /// metal where the tubes are not all of one, or it is the user's own.
    #[must_use]
    pub fn tube_to_buy(&self, rail: Option<usize>) -> String {
        let metal = rail.map_or_else(|| self.metal_name(), |rail| self.rail_metal_name(rail));
        let size = rail.and_then(|rail| self.rails.get(rail)).map_or(&self.legs.tube.name, |rail| &rail.tube.name);
        let one = (0..self.rails.len()).all(|rail| self.rail_metal_name(rail) == self.metal_name());
        let own = self.names.values().any(|name| name == metal);
        if one && !own { size.clone() } else { format!("{size}, {metal}") }
    }

    /// A length that is not less, mm: tenths of a millimetre, or thirty-seconds of an inch.
    #[must_use]
    pub fn length_up_tenth(&self, value: f64) -> String {
        self.describe(((value - 1e-6) * 10.0).ceil() / 10.0, ((value - 1e-6) / units::INCH * INCH_PARTS).ceil())
    }

    fn describe(&self, mm: f64, parts: f64) -> String {
        match self.units {
            System::Metric => units::show(Kind::Length, mm, System::Metric),
            System::Inch => units::inch_32(parts / INCH_PARTS * units::INCH),
        }
    }

    /// Where a key stands: itself, else the nearest key above it, else line 1.
    #[must_use]
    pub fn place_of(&self, key: &str) -> Place {
        let mut path = key;
        loop {
            if let Some(place) = self.places.get(path) {
                return *place;
            }
            match path.rfind(['.', '[']) {
                Some(cut) => path = &path[..cut],
                None => return Place { line: 1, column: 1 },
            }
        }
    }
}

/// A default that was used because the file does not say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumed {
    /// Key path.
    pub key: String,
    /// Value as a person would write it in the file.
    pub value: String,
    /// Why this value.
    pub why: String,
}

#[cfg(test)]
mod tests;

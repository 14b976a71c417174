//! Loads that are always added, in words: what each is, where it comes from, and the key that changes it.

use serde::Serialize;

use crate::formats::number::short;
use crate::model::{self, Added, Model, NOT_TIPPED, Test};

impl Added {
    /// What acts, such as `300 N sideways at the edge of the top, each way, feet stopped`.
    #[must_use]
    pub fn words(&self) -> String {
        let size = short(self.size, 1);
        match self.load {
            Test::Anywhere => format!("{size} N anywhere on the top, 100 mm from its edges, for minutes"),
            Test::Sideways => format!("{size} N sideways at the top's edge, each way, feet stopped, for minutes"),
            Test::Again => format!("{size} N sideways at the top's edge, each way, feet stopped, 10,000 times"),
            Test::Dragged => format!("{size} N level on each foot, each way, at most what friction holds, for minutes"),
            Test::Knocked => format!("{size} N level on each foot, each way, for minutes"),
            Test::Edge => format!("{size} N at 50 mm from the edge of the empty table, which must not tip"),
            Test::Child => format!("a child of {size} kg at the edge of the empty table, which must not tip"),
            Test::Tilt => format!("a floor that slopes by {size} degrees, on which it must not tip, empty or loaded"),
            Test::Sway => format!("{size} N sideways at the top's edge, for sway alone"),
        }
    }

    /// Its rule, and the one by which a force is lowered.
    #[must_use]
    pub fn rule(&self) -> String {
        match self.load {
            Test::Anywhere | Test::Sideways | Test::Again => format!("{}; {NOT_TIPPED}", self.clause),
            _ => self.clause.to_string(),
        }
    }

    /// The key that changes it; none for what always holds.
    #[must_use]
    pub const fn key(&self) -> Option<&'static str> {
        match self.load {
            Test::Anywhere | Test::Sideways | Test::Again | Test::Knocked | Test::Edge => Some("use"),
            Test::Dragged => Some("use, foot.friction"),
            Test::Child => Some("place.children"),
            Test::Sway => Some("limits.sway"),
            Test::Tilt => None,
        }
    }
}

/// One of them for programs.
#[derive(Serialize)]
pub struct Row {
    load: String,
    rule: String,
    key: Option<&'static str>,
}

/// Each, for programs.
#[must_use]
pub fn data(model: &Model) -> Vec<Row> {
    let row = |added: Added| Row { load: added.words(), rule: added.rule(), key: added.key() };
    model::added(&model.params).into_iter().map(row).collect()
}

/// What, rule and key of each, for the page.
#[must_use]
pub fn rows(model: &Model) -> Vec<[String; 3]> {
    let row = |added: Added| [added.words(), added.rule(), added.key().unwrap_or("always").to_owned()];
    model::added(&model.params).into_iter().map(row).collect()
}

//! What is said with the verdict, whatever it is.

use super::leg;
use super::stability::{self, Tips};
use crate::mechanics::{Forces, Unstudied};
use crate::model::Model;

/// A note. Its words stand in `output/notes.rs`.
#[derive(Clone, Debug, PartialEq)]
pub enum Note {
    /// What tips the table.
    Tips(Tips),
    /// Tubes that may slide in their bores.
    Slip {
        /// Whether ribs hold them up to some push.
        ribs: bool,
        /// How far a tube slides, mm each way.
        slack: f64,
        /// How far the top moves with it, mm each way.
        top: f64,
    },
    /// In what brackets lie outside those studied; not empty.
    OutsideStudied(Vec<Unstudied>),
}

/// All notes of a table.
pub(super) fn notes(m: &Model, f: &Forces) -> Vec<Note> {
    let outside = &f.outside_studied;
    let mut all = vec![Note::Tips(stability::tips(m, f))];
    all.extend(leg::most_slip(m));
    all.extend((!outside.is_empty()).then(|| Note::OutsideStudied(outside.clone())));
    all
}

//! A table as typed values: what its file says, without what follows from it.

use std::collections::BTreeMap;

use super::value::Entries;
use crate::problem::Place;
use crate::units::System;

/// What a parameter file says, key by key, in the order of the table of keys.
#[derive(Clone, Debug)]
pub struct Design {
    pub(super) entries: Entries,
    /// Where the file begins.
    pub(super) place: Place,
    /// Where each key stands in the file, by key path.
    pub(super) places: BTreeMap<String, Place>,
    /// Texts and numbers as the user wrote them, by key path.
    pub(super) words: BTreeMap<String, String>,
    /// Units that most quantities of the file have.
    pub(super) units: System,
}

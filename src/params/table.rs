//! The tables a parameter file can name a row of.

use crate::tables::{filament, screw, tube, wood};

/// A table of materials or fasteners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Table {
    Woods,
    Metals,
    Filaments,
    Screws,
}

impl Table {
    /// As `underframe tables` calls it.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Woods => "woods",
            Self::Metals => "metals",
            Self::Filaments => "filaments",
            Self::Screws => "screws",
        }
    }

    /// Name of the row that can be called so.
    pub(super) fn find(self, name: &str) -> Option<&'static str> {
        match self {
            Self::Woods => wood::find(name).map(|row| row.name),
            Self::Metals => tube::find(name).map(|row| row.name),
            Self::Filaments => filament::find(name).map(|row| row.name),
            Self::Screws => screw::find(name).map(|row| row.name),
        }
    }

    /// Other names of its rows.
    pub(super) fn also(self) -> Vec<&'static str> {
        if self == Self::Woods { wood::also() } else { Vec::new() }
    }

    /// Rows whose names hold every word of a name: several for `oak`.
    pub(super) fn like(self, name: &str) -> Vec<&'static str> {
        if self == Self::Woods { wood::like(name) } else { Vec::new() }
    }

    /// What to do where a name means something that cannot be used at all.
    pub(super) fn unfit(self, name: &str) -> Option<&'static str> {
        if self == Self::Woods { wood::unfit(name) } else { None }
    }

    /// Names of its rows, in its order.
    pub(super) fn names(self) -> Vec<&'static str> {
        match self {
            Self::Woods => wood::names(),
            Self::Metals => tube::names(),
            Self::Filaments => filament::names(),
            Self::Screws => screw::names(),
        }
    }
}

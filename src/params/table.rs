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

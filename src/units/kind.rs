//! What a quantity measures, and in which words.

use super::System;
use super::digits::plain;
use super::table::{
    ANGLES, DENSITIES, FORCES, FREQUENCIES, LENGTHS, MASSES, SHARES, STRESSES, TEMPERATURES, TIMES, TURNINGS, Unit,
};

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// mm.
    Length,
    /// mm; also a wall gauge.
    Wall,
    /// kg.
    Mass,
    /// N.
    Force,
    /// Radians.
    Angle,
    /// Degrees Celsius.
    Temperature,
    /// 0 to 1.
    Share,
    /// Years.
    Time,
    /// Hz.
    Frequency,
    /// Rotational stiffness of a joint, N mm/rad.
    RotationalStiffness,
    /// MPa.
    Stress,
    /// kg/m3.
    Density,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 12] = [
        Self::Length,
        Self::Wall,
        Self::Mass,
        Self::Force,
        Self::Angle,
        Self::Temperature,
        Self::Share,
        Self::Time,
        Self::Frequency,
        Self::RotationalStiffness,
        Self::Stress,
        Self::Density,
    ];

    pub(crate) const fn units(self) -> &'static [Unit] {
        match self {
            Self::Length | Self::Wall => LENGTHS,
            Self::Mass => MASSES,
            Self::Force => FORCES,
            Self::Angle => ANGLES,
            Self::Temperature => TEMPERATURES,
            Self::Share => SHARES,
            Self::Time => TIMES,
            Self::Frequency => FREQUENCIES,
            Self::RotationalStiffness => TURNINGS,
            Self::Stress => STRESSES,
            Self::Density => DENSITIES,
        }
    }

    /// What it is called in a sentence: `a length`.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Wall => "a wall thickness",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Angle => "an angle",
            Self::Temperature => "a temperature",
            Self::Share => "a share in percent",
            Self::Time => "a time",
            Self::Frequency => "a frequency",
            Self::RotationalStiffness => "a rotational stiffness",
            Self::Stress => "a stress",
            Self::Density => "a density",
        }
    }

    /// Whether two numbers with units may stand side by side: `3 ft 2 in`, `2 lb 3 oz`.
    pub(super) const fn is_compound(self) -> bool {
        matches!(self, Self::Length | Self::Wall | Self::Mass)
    }

    /// The unit we write for a family.
    pub(super) fn unit(self, system: System) -> &'static Unit {
        let units = self.units();
        units.iter().find(|unit| unit.system == system).unwrap_or(&units[0])
    }

    /// The units by their short names, the gauge too where it is meant.
    #[must_use]
    pub fn unit_list(self) -> String {
        let mut names: Vec<_> = self.units().iter().map(|unit| unit.shown).collect();
        if self == Self::Wall {
            names.push("ga");
        }
        names.join(", ")
    }

    /// The likely readings of a bare number, the likelier first: `38 mm`, `38 in`.
    #[must_use]
    pub fn readings(self, number: &str) -> Vec<String> {
        let first = self.unit(System::Metric);
        let other = self.unit(System::Inch);
        let second = if other.shown == first.shown { self.units().get(1) } else { Some(other) };
        let with = |unit: &Unit| format!("{number} {}", unit.shown);
        let mut all: Vec<_> = part_of_whole(self, number).into_iter().collect();
        all.push(with(first));
        all.extend(second.map(with));
        all
    }

    /// What a quantity of this kind looks like: `"38 mm" or "1 1/2 in"`.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Length => "\"38 mm\" or \"1 1/2 in\"",
            Self::Wall => "\"1.5 mm\", \"0.065 in\" or \"16 ga\"",
            Self::Mass => "\"40 kg\" or \"90 lb\"",
            Self::Force => "\"200 N\" or \"45 lbf\"",
            Self::Angle => "\"4 deg\"",
            Self::Temperature => "\"30 C\" or \"86 F\"",
            Self::Share => "\"40 %\"",
            Self::Time => "\"5 years\" or \"18 months\"",
            Self::Frequency => "\"3 Hz\"",
            Self::RotationalStiffness => "\"2000 N m/rad\" or \"18000 lbf in/rad\"",
            Self::Stress => "\"12 MPa\" or \"1700 psi\"",
            Self::Density => "\"680 kg/m3\" or \"42 lb/ft3\"",
        }
    }
}

/// A share written as a part of one, `0.4`, most likely means 40 %.
fn part_of_whole(kind: Kind, number: &str) -> Option<String> {
    let part = number.parse::<f64>().ok().filter(|part| kind == Kind::Share && *part > 0.0 && *part <= 1.0)?;
    Some(format!("{} %", plain(part * 100.0)))
}

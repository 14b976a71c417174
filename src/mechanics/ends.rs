//! Between which two cases the stiffness of joints lies, and what that band comes from.

/// One end of a band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The softest that it may be.
    Soft,
    /// The stiffest that it may be.
    Stiff,
}

/// What a band of stiffness comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// How tubes are held in and along the bores of brackets.
    Bores,
    /// Play in collars of ties, in sockets of rails and feet.
    Collars,
    /// Screws and wood under the brackets.
    Screws,
    /// Modulus of printed plastic across its layers.
    Layers,
    /// Error of the plate model.
    Plate,
}

impl Origin {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Bores, Self::Collars, Self::Screws, Self::Layers, Self::Plate];
}

/// Which end each origin is taken at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ends([End; Origin::ALL.len()]);

impl Ends {
    /// Everything as soft as it may be.
    pub const SOFT: Self = Self([End::Soft; Origin::ALL.len()]);
    /// Everything as stiff as it may be.
    pub const STIFF: Self = Self([End::Stiff; Origin::ALL.len()]);

    /// The same with one origin at an end.
    #[must_use]
    pub const fn with(mut self, origin: Origin, end: End) -> Self {
        self.0[origin as usize] = end;
        self
    }

    /// The end of an origin.
    #[must_use]
    pub const fn of(self, origin: Origin) -> End {
        self.0[origin as usize]
    }

    /// What stands for the end of an origin.
    pub(super) fn pick<T: Copy>(self, origin: Origin, [soft, stiff]: [T; 2]) -> T {
        match self.of(origin) {
            End::Soft => soft,
            End::Stiff => stiff,
        }
    }
}

//! How finely the frame and the brackets' plates are divided.

/// How finely.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// For figures that are told.
    Full,
    /// A fifth of the work, to choose between designs: what is chosen is then solved in full.
    Sketch,
}

impl Detail {
    /// Cells of the top along its longer side, and across its shorter one as half as many again (judgement: in full, sag
    /// within 1 % of a twice finer mesh).
    pub(super) const fn cells(self) -> f64 {
        match self {
            Self::Full => 20.0,
            Self::Sketch => 10.0,
        }
    }

    /// Elements of a tube between two parts that hold it (judgement: in full, local buckling within 0.1 %).
    pub(super) const fn parts(self) -> usize {
        match self {
            Self::Full => 3,
            Self::Sketch => 1,
        }
    }

    /// Elements of a tube that nothing holds between its ends.
    pub(super) const fn parts_alone(self) -> usize {
        match self {
            Self::Full => 8,
            Self::Sketch => 2,
        }
    }
}

//! In what a bracket lies outside those that were studied.

/// One thing in which a bracket differs from all that were studied; the joints' two estimates lie further apart for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unstudied {
    /// A size outside its range.
    Size {
        /// Which.
        size: Size,
        /// In the unit of the size.
        value: f64,
        /// Least and largest that were studied.
        range: [f64; 2],
    },
    /// Neither one boss nor three.
    Bosses,
    /// Gussets on several bosses.
    GussetsOnSeveralBosses,
    /// Gussets on a boss, but not four.
    Gussets,
    /// A single boss away from the middle of the plate.
    BossAside,
    /// A plate that is not square.
    NotSquare,
}

/// A size of a bracket that has a studied range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// mm.
    PlateLength,
    /// mm.
    PlateWidth,
    /// mm.
    PlateThickness,
    /// mm.
    BossDiameter,
    /// mm.
    BossWall,
    /// mm.
    BoreDepth,
    /// Screws in the plate.
    Screws,
    /// mm.
    GussetRun,
    /// mm.
    GussetRise,
    /// mm.
    GussetThickness,
    /// mm.
    WebThickness,
    /// Poisson's ratio of the plastic.
    Poisson,
    /// Lean of the legs, degrees.
    Lean,
    /// Distance of a boss of several from the middle of the plate, mm.
    BossOffset,
}

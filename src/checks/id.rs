//! Which check it is.

/// Every check. What each is called stands in `output/words.rs` alone; their order here is that of their words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CheckId {
    /// Room of a straight driver beside leaning bosses.
    DriverRoom,
    /// Boss torn from its plate across the layers.
    BossRoot,
    /// Toe of a gusset torn from the plate across the layers.
    GussetToe,
    /// Bending of the plate within its layers.
    PlateBending,
    /// Pressure of screw heads on the plastic.
    HeadPressure,
    /// Screw head pulled through the plastic under it.
    HeadPullThrough,
    /// Pressure of the tube on the bracket's socket.
    BracketSocket,
    /// Wall of the bracket's socket split.
    SocketSplit,
    /// Tube pulled out of the bracket.
    TubePulledOut,
    /// Wood left between the screws' tips and the show face.
    WoodAboveTips,
    /// Levelling bolt compressed and bent.
    LevellingBolt,
    /// Pressure of the foot on the floor.
    FloorPressure,
    /// Pressure of the tube on the foot's socket.
    FootSocket,
    /// Tube's end pressing on the foot.
    TubeEnd,
    /// Load at which the whole frame buckles.
    CriticalLoad,
    /// Free travel of the top from play in the sockets.
    Play,
    /// Travel of the top while tubes slide in their bores.
    TubesSlide,
    /// Hottest air against what the filament stands.
    Heat,
    /// Largest part against the printer's bed.
    Bed,
    /// Lines of the nozzle in the thinnest boss wall.
    BossWall,
    /// Overhang of leaning bosses.
    Overhang,
    /// Shear on a screw.
    ScrewLateral,
    /// Pull and shear together on a screw.
    ScrewCombined,
    /// Pull on the screws left where the worst one is lost.
    ScrewLost,
    /// Pull on a screw against withdrawal from the wood.
    ScrewWithdrawal,
    /// Lowest natural frequency.
    Frequency,
    /// Sway under a push along the length.
    SwayLength,
    /// Sway under a push along the width.
    SwayWidth,
    /// Amplitude under what shakes it.
    Shaking,
    /// Pressure in the collars of ties.
    TieCollar,
    /// Cross bolts of ties.
    TieBolt,
    /// A child who hangs on the edge of the empty table.
    TippingChild,
    /// A load of the file near the edge, or one that pushes.
    TippingLoad,
    /// A table test's load near the edge of the empty table.
    TippingEdge,
    /// Tilted floor.
    TippingTilt,
    /// Bending of the top across the grain.
    TopAcross,
    /// Bending of the top along the grain.
    TopAlong,
    /// Wood crushed under the edge of a bracket's plate.
    TopCrushing,
    /// Sag of the top.
    TopSag,
    /// Buckling of a single tube between the parts that hold it.
    TubeBuckling,
    /// Stress of a tube.
    TubeStress,
    /// Movement of the wood between brackets that a rail holds apart.
    MovementOnRail,
    /// Movement of the wood under one bracket.
    MovementUnderBracket,
}

/// What a check answers: whether the table holds, or whether it feels as its user wants it to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Concern {
    /// Strength, stability, and that it can be made.
    Strength,
    /// Limits that are the user's own taste: sway, frequency, sag, play.
    Firmness,
}

impl Concern {
    /// Both, in the order of telling.
    pub const ALL: [Self; 2] = [Self::Strength, Self::Firmness];
}

impl CheckId {
    /// What it answers: every check against a key of `limits` is of firmness, and no other.
    #[must_use]
    pub const fn concern(self) -> Concern {
        match self {
            Self::Frequency | Self::SwayLength | Self::SwayWidth | Self::Shaking => Concern::Firmness,
            Self::TopSag | Self::Play | Self::TubesSlide => Concern::Firmness,
            _ => Concern::Strength,
        }
    }

    /// All of them, in order.
    pub const ALL: [Self; 43] = [
        Self::DriverRoom,
        Self::BossRoot,
        Self::GussetToe,
        Self::PlateBending,
        Self::HeadPressure,
        Self::HeadPullThrough,
        Self::BracketSocket,
        Self::SocketSplit,
        Self::TubePulledOut,
        Self::WoodAboveTips,
        Self::LevellingBolt,
        Self::FloorPressure,
        Self::FootSocket,
        Self::TubeEnd,
        Self::CriticalLoad,
        Self::Play,
        Self::TubesSlide,
        Self::Heat,
        Self::Bed,
        Self::BossWall,
        Self::Overhang,
        Self::ScrewLateral,
        Self::ScrewCombined,
        Self::ScrewLost,
        Self::ScrewWithdrawal,
        Self::Frequency,
        Self::SwayLength,
        Self::SwayWidth,
        Self::Shaking,
        Self::TieCollar,
        Self::TieBolt,
        Self::TippingChild,
        Self::TippingLoad,
        Self::TippingEdge,
        Self::TippingTilt,
        Self::TopAcross,
        Self::TopAlong,
        Self::TopCrushing,
        Self::TopSag,
        Self::TubeBuckling,
        Self::TubeStress,
        Self::MovementOnRail,
        Self::MovementUnderBracket,
    ];
}

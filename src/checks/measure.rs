//! What a remedy changes.

use crate::params::Run;

/// A change of a design. Its words stand in `output/measures.rs`.
#[derive(Clone, Debug, PartialEq)]
pub enum Measure {
    /// A length made longer.
    Longer {
        /// Which.
        length: Length,
        /// mm.
        to: f64,
        /// What it is now, mm.
        now: f64,
    },
    /// Another number of something.
    Count {
        /// Of what.
        of: Counted,
        /// How many.
        to: usize,
    },
    /// Parts printed without infill.
    Solid,
    /// Another filament.
    Filament(&'static str),
    /// Another size of the brackets, mm along and across.
    BracketSize([f64; 2]),
    /// Screws of this length, as it is sold.
    ScrewLength(String),
    /// Screws of this size and length, as they are sold.
    Screws {
        /// Size.
        size: &'static str,
        /// Length.
        length: String,
    },
    /// Screws with washer heads.
    WasherHeads,
    /// Slots across the grain.
    Slots,
    /// A cross bolt where there is none, by its diameter, mm.
    CrossBolt(f64),
    /// A thicker cross bolt, by its diameter, mm.
    ThickerCrossBolt(f64),
    /// Ribs in the sockets.
    Ribs,
    /// Tubes bonded into their sockets.
    Bonded,
    /// Other levelling bolts.
    LevellingBolts(&'static str),
    /// Flat feet with pads of this diameter, mm, in place of levelling bolts.
    FlatFeet(f64),
    /// Rails.
    Rails {
        /// Their direction.
        run: Run,
        /// Above the floor, mm.
        height: f64,
    },
    /// Rails across the grain this low, mm above the floor.
    LowRails(f64),
    /// Rails across the grain left out.
    NoRails,
    /// Another tube, as it is sold.
    Tube(String),
    /// Legs nearer to two edges of the top.
    Inset {
        /// Which.
        from: Edges,
        /// mm.
        to: f64,
        /// What it is now, mm.
        now: f64,
    },
    /// Legs nearer to all edges of the top by so much, mm.
    Outward(f64),
    /// Legs that lean outwards, degrees.
    Splay(f64),
}

/// A length that a remedy may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Length {
    /// Thickness of a bracket's plate.
    BracketPlate,
    /// Depth of a bracket's sockets.
    BracketSocket,
    /// Wall of a bracket's bosses.
    BossWall,
    /// How far gussets run out.
    Gusset,
    /// Depth of a foot's sockets.
    FootSocket,
    /// Diameter of the pads.
    Pad,
    /// Height of ties.
    Tie,
    /// Wall of ties.
    TieWall,
    /// Circle that the tubes of a leg stand on.
    PitchCircle,
}

/// Things that a remedy may count otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// On each boss.
    Gussets,
    /// In each bracket.
    Screws,
    /// On each leg.
    Ties,
    /// In each leg.
    Tubes,
    /// Under the table.
    Legs,
}

/// Two edges of the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edges {
    /// Across its length.
    Ends,
    /// Along its length.
    Sides,
}

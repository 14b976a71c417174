//! What a check is about: which part, which bore, which screw, which place.

use crate::mechanics::Motion;
use crate::params::Run;

/// What a check is about. Legs are counted as the model has them, from 0; so are tubes, sockets and screws within a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Subject {
    /// The table on its legs as a whole.
    Table,
    /// All printed parts.
    Printed,
    /// The way the table moves.
    Motion(Motion),
    /// The line between the feet of two legs over which a table tips; none where no foot stands there.
    Edge([Option<usize>; 2]),
    /// The worst of those lines.
    WorstEdge,
    /// The top as a whole.
    Top,
    /// The point of the top that moves most.
    WorstOfTop,
    /// A point of the top, mm along and across from the corner by the first leg.
    TopAt([f64; 2]),
    /// The top over a leg.
    TopOver(usize),
    /// A leg of one tube.
    Leg(usize),
    /// A tube.
    Tube {
        /// Leg.
        leg: usize,
        /// Tube of the leg.
        tube: usize,
    },
    /// A rail.
    Rail {
        /// Its direction.
        run: Run,
        /// The legs it joins.
        legs: [usize; 2],
    },
    /// Brackets that a rail across the grain holds apart.
    RailedBrackets,
    /// Whichever bracket is worst.
    AnyBracket,
    /// Bosses of brackets and feet.
    Bosses,
    /// A bracket.
    Bracket(usize),
    /// A socket of a bracket.
    BracketSocket {
        /// Leg.
        leg: usize,
        /// Socket of its bracket.
        socket: usize,
    },
    /// The most pressed edge of a bracket's plate.
    PlateEdge(usize),
    /// The screws of whichever bracket is worst.
    Screws,
    /// A screw.
    Screw {
        /// Leg.
        leg: usize,
        /// Screw of its bracket.
        screw: usize,
    },
    /// The screws left where this one is lost.
    LostScrew {
        /// Leg.
        leg: usize,
        /// Screw of its bracket.
        screw: usize,
    },
    /// The ties of a leg.
    Ties(usize),
    /// A foot.
    Foot(usize),
    /// A socket of a foot.
    FootSocket {
        /// Leg.
        leg: usize,
        /// Socket of its foot.
        socket: usize,
    },
}

/// A kind of thing that a table is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Component {
    /// The wooden top.
    Top,
    /// A leg's tube.
    Tube,
    /// A rail.
    Rail,
    /// A bracket.
    Bracket,
    /// A tie.
    Tie,
    /// A foot.
    Foot,
    /// A wood screw, which belongs to its bracket where it is checked.
    Screw,
}

impl Subject {
    /// What it belongs to; none for what no component has alone: how the table moves and over what it tips. A table
    /// as a whole stands on its tubes.
    #[must_use]
    pub const fn component(&self) -> Option<Component> {
        match self {
            Self::Motion(_) | Self::Edge(_) | Self::WorstEdge => None,
            Self::Top | Self::WorstOfTop | Self::TopAt(_) | Self::TopOver(_) => Some(Component::Top),
            Self::Table | Self::Leg(_) | Self::Tube { .. } => Some(Component::Tube),
            Self::Rail { .. } | Self::RailedBrackets => Some(Component::Rail),
            Self::Printed | Self::AnyBracket | Self::Bosses | Self::Bracket(_) | Self::BracketSocket { .. } => {
                Some(Component::Bracket)
            }
            Self::PlateEdge(_) | Self::Screws | Self::Screw { .. } | Self::LostScrew { .. } => Some(Component::Bracket),
            Self::Ties(_) => Some(Component::Tie),
            Self::Foot(_) | Self::FootSocket { .. } => Some(Component::Foot),
        }
    }

    /// The one leg it belongs to.
    #[must_use]
    pub const fn leg(&self) -> Option<usize> {
        match *self {
            Self::TopOver(leg) | Self::Leg(leg) | Self::Bracket(leg) | Self::PlateEdge(leg) => Some(leg),
            Self::Ties(leg) | Self::Foot(leg) => Some(leg),
            Self::Tube { leg, .. } | Self::BracketSocket { leg, .. } | Self::FootSocket { leg, .. } => Some(leg),
            Self::Screw { leg, .. } | Self::LostScrew { leg, .. } => Some(leg),
            Self::Table | Self::Printed | Self::Motion(_) | Self::Edge(_) | Self::WorstEdge => None,
            Self::Top | Self::WorstOfTop | Self::TopAt(_) | Self::Rail { .. } | Self::RailedBrackets => None,
            Self::AnyBracket | Self::Bosses | Self::Screws => None,
        }
    }
}

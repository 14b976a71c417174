//! Remedies in words.

use crate::checks::{Counted, Edges, Length, Measure, Remedy};
use crate::params::Run;

/// A length to a tenth.
fn mm(value: f64) -> String {
    format!("{} mm", (value * 10.0).round() / 10.0)
}

impl Remedy {
    /// Every change of it, such as `rails along the width, 180 mm above the floor and 10 screws in each bracket`.
    #[must_use]
    pub fn words(&self) -> String {
        self.measures.iter().map(Measure::words).collect::<Vec<_>>().join(" and ")
    }
}

impl Measure {
    /// What is changed.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Longer { length, to, now } => format!("{} {} (now {})", length.words(), mm(*to), mm(*now)),
            Self::Count { of, to } => format!("{to} {}", of.words()),
            Self::Solid => "printed solid (infill 100 %)".to_owned(),
            Self::Filament(name) => format!("filament {name}"),
            Self::BracketSize([length, width]) => format!("bracket {} x {}", mm(*length), mm(*width)),
            Self::ScrewLength(length) => format!("screws {length} long"),
            Self::Screws { size, length } => format!("screws {size} x {length}"),
            Self::WasherHeads => "screws with washer heads".to_owned(),
            Self::Slots => "slots across the grain".to_owned(),
            Self::CrossBolt(size) => format!("a cross bolt M{size} through every socket"),
            Self::ThickerCrossBolt(size) => format!("cross bolt M{size} through every socket"),
            Self::Ribs => "ribs in the sockets".to_owned(),
            Self::Bonded => "tubes bonded into their sockets".to_owned(),
            Self::LevellingBolts(name) => format!("levelling bolts {name}"),
            Self::FlatFeet(pad) => format!("flat feet with pads {}", mm(*pad)),
            Self::Rails { run, height } => {
                let along = if *run == Run::AlongLength { "length" } else { "width" };
                format!("rails along the {along}, {} above the floor", mm(*height))
            }
            Self::LowRails(height) => format!("rails across the grain {} above the floor", mm(*height)),
            Self::NoRails => "no rails across the grain".to_owned(),
            Self::Tube(name) => format!("tube {name}"),
            Self::Inset { from, to, now } => format!("legs {} from the {} (now {})", mm(*to), from.word(), mm(*now)),
            Self::Outward(by) => format!("legs {} nearer to ends and sides", mm(*by)),
            Self::Splay(angle) => format!("legs splayed by {angle} deg"),
        }
    }
}

impl Length {
    const fn words(self) -> &'static str {
        match self {
            Self::BracketPlate => "bracket plate",
            Self::BracketSocket => "bracket sockets",
            Self::BossWall => "boss wall",
            Self::Gusset => "gussets",
            Self::FootSocket => "foot sockets",
            Self::Pad => "pads",
            Self::Tie => "ties",
            Self::TieWall => "walls of ties",
            Self::PitchCircle => "pitch circle",
        }
    }
}

impl Counted {
    const fn words(self) -> &'static str {
        match self {
            Self::Gussets => "gussets on each boss",
            Self::Screws => "screws in each bracket",
            Self::Ties => "ties on each leg",
            Self::Tubes => "tubes in each leg",
            Self::Legs => "legs",
        }
    }
}

impl Edges {
    const fn word(self) -> &'static str {
        match self {
            Self::Ends => "ends",
            Self::Sides => "sides",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::Cures;

    #[test]
    fn changes_together_are_told_with_what_is_now() {
        let measures = vec![
            Measure::Longer { length: Length::BracketPlate, to: 10.0, now: 8.0 },
            Measure::Rails { run: Run::AlongWidth, height: 180.0 },
        ];
        let remedy = Remedy { measures, edits: vec![], cures: Cures::Every, utilisation: 0.7 };
        assert_eq!(remedy.words(), "bracket plate 10 mm (now 8 mm) and rails along the width, 180 mm above the floor");
    }
}

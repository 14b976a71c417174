//! Notes in words.

use crate::checks::{EdgePlace, Note, Tips};
use crate::mechanics::{Size, Unstudied};

impl Note {
    /// One sentence.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Tips(tips) => tipping(tips),
            Self::Slip { ribs, slack, top } => {
                let held = if *ribs { "Pushed harder than the ribs hold, the tubes" } else { "The tubes" };
                format!(
                    "{held} of a leg slide up to {slack:.2} mm each way in their bores before the cross bolts bear, and the \
                     top moves up to {top:.0} mm each way with them; epoxy keeps them from it."
                )
            }
            Self::OutsideStudied(all) => {
                let all: Vec<String> = all.iter().map(Unstudied::words).collect();
                format!("Outside the studied range ({}): the joints' two estimates lie further apart.", all.join(", "))
            }
        }
    }
}

fn tipping(tips: &Tips) -> String {
    match (tips.empty, tips.loaded) {
        (Some(a), Some(b)) if a == b => format!("Tipping: {} kg at the {} tips it.", a.mass(), a.place.words()),
        (Some(a), Some(b)) => format!(
            "Tipping: {} kg at the {} tips the empty table, {} kg at the {} the loaded one.",
            a.mass(),
            a.place.words(),
            b.mass(),
            b.place.words()
        ),
        _ => "Tipping: no load on the top tips it, since the feet stand out as far as the top.".to_owned(),
    }
}

impl EdgePlace {
    /// Such as `front left corner`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::FrontLeft => "front left corner",
            Self::Front => "middle of the front edge",
            Self::FrontRight => "front right corner",
            Self::Right => "middle of the right edge",
            Self::BackRight => "back right corner",
            Self::Back => "middle of the back edge",
            Self::BackLeft => "back left corner",
            Self::Left => "middle of the left edge",
        }
    }
}

impl Unstudied {
    /// Such as `plate length mm 150.0 is outside 80 to 140`.
    #[must_use]
    pub fn words(&self) -> String {
        let fixed = match self {
            Self::Size { size, value, range: [least, most] } => {
                return format!("{} {value:.1} is outside {least} to {most}", size.words());
            }
            Self::Bosses => "only one and three bosses were studied",
            Self::GussetsOnSeveralBosses => "gussets on several bosses were not studied",
            Self::Gussets => "only no gussets or four were studied",
            Self::BossAside => "a boss away from the middle was not studied",
            Self::NotSquare => "plates that are not square were not studied",
        };
        fixed.to_owned()
    }
}

impl Size {
    /// With its unit.
    const fn words(self) -> &'static str {
        match self {
            Self::PlateLength => "plate length mm",
            Self::PlateWidth => "plate width mm",
            Self::PlateThickness => "plate thickness mm",
            Self::BossDiameter => "boss diameter mm",
            Self::BossWall => "boss wall mm",
            Self::BoreDepth => "bore depth mm",
            Self::Screws => "number of screws",
            Self::GussetRun => "gusset run mm",
            Self::GussetRise => "gusset rise mm",
            Self::GussetThickness => "gusset thickness mm",
            Self::WebThickness => "web thickness mm",
            Self::Poisson => "Poisson's ratio",
            Self::Lean => "lean of the legs deg",
            Self::BossOffset => "boss from the middle mm",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_told_in_hundredths() {
        let text = Note::Slip { ribs: false, slack: 0.25, top: 5.3 }.text();
        assert!(text.starts_with("The tubes of a leg slide up to 0.25 mm each way"), "{text}");
    }

    #[test]
    fn what_was_not_studied_is_told_with_its_range() {
        let size = Unstudied::Size { size: Size::PlateLength, value: 150.0, range: [80.0, 140.0] };
        assert_eq!(size.words(), "plate length mm 150.0 is outside 80 to 140");
    }
}

//! Cautions in words: what is dangerous, and what to do next.

use crate::checks::{Caution, Tip, Verdict, Work};
use crate::tables::wood;

/// What the figures are worth; the page ends with it too.
pub const ESTIMATES: &str = "The figures are estimates from simple models and general material data. They replace neither a test, nor local codes and rules, nor a licensed engineer where somebody could be hurt. Selling or lending to the public brings duties of its own.";

impl Work {
    /// As the papers name it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Design => "design",
            Self::Printing => "printing",
            Self::Cutting => "cutting",
            Self::Drilling => "drilling",
            Self::Assembly => "assembly",
            Self::SettingLegs => "setting legs",
            Self::FirstLoad => "first load",
            Self::Use => "use",
        }
    }
}

impl Caution {
    /// Short heading.
    #[must_use]
    pub const fn heading(&self) -> &'static str {
        match self {
            Self::NoCure { .. } => "No cure found",
            Self::Fumes => "Fumes",
            Self::Fire => "Fire",
            Self::LayerBond { .. } => "Bond between the layers",
            Self::TubeEnds => "Tube ends",
            Self::HiddenMetal => "Hidden metal",
            Self::OldPaint => "Old paint",
            Self::Dust(wood::Kind::Hardwood) => "Hardwood dust",
            Self::Dust(wood::Kind::Softwood) => "Wood dust",
            Self::Dust(wood::Kind::Plywood | wood::Kind::Board) => "Dust of boards",
            Self::TreatedWood => "Treated wood",
            Self::Screws => "Screws",
            Self::Lifting { .. } => "Lifting",
            Self::DrillingThroughTubes => "Drilling through tubes",
            Self::Epoxy => "Epoxy",
            Self::Collapse => "Collapse",
            Self::Age { .. } => "Age",
            Self::Heat { .. } => "Heat",
            Self::MainsEquipment => "Mains equipment",
            Self::Tipping { .. } => "Tipping",
            Self::SeatOrStep => "Seat or step",
            Self::TanksAndFloors { .. } => "Tanks and floors",
            Self::Estimates => "What these figures are",
        }
    }

    /// What is dangerous and what to do next.
    #[must_use]
    pub fn text(&self) -> String {
        let fixed = match self {
            Self::NoCure { tried, verdict, holds } => return no_cure(*tried, *verdict, *holds),
            Self::LayerBond { strength } => {
                return format!(
                    "Nobody tore coupons of this print: {strength:.0} MPa across the layers is taken, which six of twelve tested batches of PETG did not warrant. Tear the five that print with the fit gauge as their sheet says, and write the loads as `printing.coupons`."
                );
            }
            Self::Lifting { mass } => {
                return format!(
                    "The top weighs about {mass:.0} kg: turn it with two people, and never let it stand on one leg."
                );
            }
            Self::Age { years } => return age(*years),
            Self::Heat { filament, limit } => {
                return format!(
                    "Keep it from sun behind glass, heaters and hot pots: the service limit of {filament} is {} C.",
                    limit.round()
                );
            }
            Self::Tipping { child, children } => return tipping(*child, *children),
            Self::TanksAndFloors { mass, feet } => {
                return format!(
                    "About {mass:.0} kg stand on {feet} small feet. Ask somebody licensed whether the floor bears it. A tank that leaks or falls floods what lies below: keep mains sockets and cables away from it."
                );
            }
            Self::Fumes => {
                "Air the room while printing and do not sleep beside the printer; ABS and ASA need an enclosure that is vented outdoors."
            }
            Self::Fire => {
                "Printers can catch fire. Do not leave one running unattended; keep it clear of what burns, with a smoke alarm in the room."
            }
            Self::TubeEnds => {
                "Clamp the tube, wear eye protection, and take the burr off inside and out before a hand goes near it."
            }
            Self::HiddenMetal => {
                "Pass a magnet over reclaimed wood first: a bit that meets a nail jumps. Set the depth stop, then drill a trial hole in an offcut."
            }
            Self::OldPaint => {
                "Old paint may hold lead. Do not sand or burn it dry; wear a P2 or P3 mask and wipe up wet."
            }
            Self::Dust(wood::Kind::Hardwood) => {
                "Dust of hardwoods can cause cancer of the nose, and some irritate skin and lungs: extract it, wear a P2 or P3 mask, and do not sweep it dry."
            }
            Self::Dust(wood::Kind::Softwood) => {
                "Dust of wood irritates nose and lungs: extract it and wear a P2 mask when you sand."
            }
            Self::Dust(wood::Kind::Plywood | wood::Kind::Board) => {
                "Dust of glued boards irritates nose and lungs and holds resin: extract it and wear a P2 or P3 mask."
            }
            Self::TreatedWood => {
                "Reclaimed wood from outdoors, sleepers and old decking may be treated with arsenic, chromium, copper or tar oil. Leave it: no tool, no fire, no food on it."
            }
            Self::Screws => {
                "Drive by feel until the head just seats. Stop there: a head that is forced splits the layers, and the clamping does not last in plastic."
            }
            Self::DrillingThroughTubes => {
                "Wear eye protection and clamp leg and part to the bench, never in a hand: a bit that breaks through a tube grabs and turns the piece. Chips are hot and sharp."
            }
            Self::Epoxy => {
                "Uncured epoxy harms skin and eyes and can cause a lasting allergy: wear nitrile gloves and eye protection, air the room, and wash skin with soap, not with solvent. Mix small amounts; a full cup gets hot."
            }
            Self::Collapse => {
                "Proof-load low and slow, with blocks under the top and nobody below. Stop at any crack, click or lasting lean."
            }
            Self::MainsEquipment => {
                "Metal legs can become live through a damaged cable. Run cables clear of sharp tube ends, use a residual-current device, and ask an electrician about earthing."
            }
            Self::SeatOrStep => {
                "Only the loads of the file were checked. Write a person as a load of their own at every place where they sit or step, with twice their weight for one who drops onto it; test it low, with somebody beside. It is no ladder and no seat for a child."
            }
            Self::Estimates => ESTIMATES,
        };
        fixed.to_owned()
    }
}

/// When to look at the plastic.
fn age(years: f64) -> String {
    let (first, then) = match years {
        y if y < 1.0 => {
            let months = format!("{:.0} months", (12.0 * y).floor().max(1.0)).replace("1 months", "month");
            (format!("every {months}"), "")
        }
        y if y < 2.0 => ("after a year".to_owned(), " and then every year"),
        y => (format!("after {} years", y.floor()), " and then every year"),
    };
    format!(
        "Look at every boss, gusset and screw {first}{then}: white lines, cracks and lean mean take the load off and print again."
    )
}

/// What tips it, and how it is held.
fn tipping(child: Option<Tip>, children: bool) -> String {
    let mut text =
        "Put heavy things in the middle and low. Nobody sits or stands on an edge that overhangs.".to_owned();
    if let Some(tip) = child {
        text.push_str(&format!(
            " {} kg at the {} tips it when it is empty: less than a child of five who hangs on it.",
            tip.mass(),
            tip.place.words()
        ));
    }
    if child.is_some() || children {
        let who = if children { "Children are about: fix" } else { "Where children may come, fix" };
        text.push_str(&format!(
            " {who} it to the wall: an angle screwed into the wooden top, not into a printed part, and into a stud or into masonry, not into plasterboard alone."
        ));
    }
    text
}

/// How many changes did not help, and what then.
fn no_cure(tried: usize, verdict: Verdict, holds: bool) -> String {
    let tries = match tried {
        0 => "None of the changes that can be tried bears on what limits it.".to_owned(),
        _ => format!(
            "{tried} changes were tried, alone and together; none brought every check {} its limit.",
            if verdict == Verdict::NotAdequate { "within" } else { "well within" }
        ),
    };
    let then = if verdict == Verdict::NotAdequate && holds {
        "It holds and feels loose: say in `limits` what you can live with, make the top smaller or lower, or take larger tubes in wider bundles."
    } else if verdict == Verdict::NotAdequate {
        "Do not build it as it is: carry less, make the top smaller or lower, or take larger tubes in wider bundles."
    } else {
        "It holds, with less than a fifth in reserve: read the working of the governing check before you build."
    };
    format!("{tries} {then}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::EdgePlace;

    /// What only is tight is not forbidden, and trials that were not made are not counted.
    #[test]
    fn what_holds_is_not_forbidden() {
        let tight = no_cure(0, Verdict::Tight, true);
        assert!(tight.contains("It holds") && !tight.contains("Do not build") && !tight.contains('0'), "{tight}");
        let over = no_cure(40, Verdict::NotAdequate, false);
        assert!(over.contains("40 changes") && over.contains("Do not build"), "{over}");
    }

    #[test]
    fn a_child_who_tips_it_is_told_and_how_it_is_held() {
        let tip = Tip { load: 100.0, place: EdgePlace::FrontLeft };
        let text = tipping(Some(tip), false);
        assert!(text.contains("10 kg at the front left corner") && text.contains("less than a child"), "{text}");
        assert!(text.contains("screwed into the wooden top") && text.contains("a stud or into masonry"), "{text}");
        assert!(tipping(Some(tip), true).contains("Children are about"));
        assert!(!tipping(None, false).contains("wall"));
    }

    #[test]
    fn a_tank_is_told_with_its_mass_and_its_feet() {
        let text = Caution::TanksAndFloors { mass: 60.0, feet: 3 }.text();
        assert!(text.contains("60 kg") && text.contains("3 small feet"), "{text}");
        assert!(Caution::Epoxy.text().contains("gloves"));
    }

    #[test]
    fn a_year_is_one_year() {
        let told = [0.125, 0.5, 1.0, 2.0].map(age);
        let said = ["every month:", "every 6 months:", "after a year and then every year:", "after 2 years and then"];
        for (told, said) in told.iter().zip(said) {
            assert!(told.contains(said), "{told}");
        }
    }
}

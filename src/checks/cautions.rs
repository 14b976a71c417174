//! Cautions: what is dangerous at which step, and what to do next. They show where they apply.

use super::stability::{self, Tips};
use super::{Caution, Verdict, making, plastic};
use crate::mechanics::Forces;
use crate::model::Model;
use crate::params::{Duration, Load};
use crate::tables::wood;
use crate::units::GRAVITY;

/// Mass above which a top is lifted by two, kg (judgement: 25 kg a person).
const TWO_PEOPLE: f64 = 25.0;
/// Load above which floors are to be thought of, kg (judgement: a grown person and more on a few square centimetres).
const HEAVY: f64 = 100.0;
/// Words in a load's name that mean water.
const WATER: [&str; 7] = ["tank", "water", "aquarium", "vivarium", "barrel", "butt", "cistern"];

/// All that apply, in the order of the work.
#[must_use]
pub fn cautions(m: &Model, f: &Forces) -> Vec<Caution> {
    [printing(m), cutting(), drilling(m), assembly(m), setting_legs(m), first_load(), in_use(m, f)].concat()
}

fn printing(m: &Model) -> Vec<Caution> {
    let mut all = vec![
        caution(
            "printing",
            "Fumes",
            "Air the room while printing and do not sleep beside the printer; ABS and ASA need an enclosure that is vented outdoors.",
        ),
        caution(
            "printing",
            "Fire",
            "Printers can catch fire. Do not leave one running unattended; keep it clear of what burns, with a smoke alarm in the room.",
        ),
    ];
    if m.params.printing.coupons.is_empty() {
        let strength = plastic::characteristic(m, plastic::Kind::AcrossLayers).value;
        all.push(caution(
            "printing",
            "Bond between the layers",
            &format!(
                "Nobody tore coupons of this print: {strength:.0} MPa across the layers is taken, which six of twelve tested batches of PETG did not warrant. Print five bars standing upright in the same filament and settings, hang weight on each until it tears, and give load over area in `printing.coupons`."
            ),
        ));
    }
    all
}

fn cutting() -> Vec<Caution> {
    vec![caution(
        "cutting",
        "Tube ends",
        "Clamp the tube, wear eye protection, and take the burr off inside and out before a hand goes near it.",
    )]
}

fn drilling(m: &Model) -> Vec<Caution> {
    let mut all = vec![caution(
        "drilling",
        "Hidden metal",
        "Pass a magnet over reclaimed wood first: a bit that meets a nail jumps. Set the depth stop, then drill a trial hole in an offcut.",
    )];
    all.push(caution(
        "drilling",
        "Old paint",
        "Old paint may hold lead. Do not sand or burn it dry; wear a P2 or P3 mask and wipe up wet.",
    ));
    all.push(match m.params.top.wood.kind {
        wood::Kind::Hardwood => caution(
            "drilling",
            "Hardwood dust",
            "Dust of hardwoods can cause cancer of the nose, and some irritate skin and lungs: extract it, wear a P2 or P3 mask, and do not sweep it dry.",
        ),
        wood::Kind::Softwood => {
            caution("drilling", "Wood dust", "Dust of wood irritates nose and lungs: extract it and wear a P2 mask when you sand.")
        }
        wood::Kind::Plywood | wood::Kind::Board => caution(
            "drilling",
            "Dust of boards",
            "Dust of glued boards irritates nose and lungs and holds resin: extract it and wear a P2 or P3 mask.",
        ),
    });
    if matches!(m.params.top.wood.kind, wood::Kind::Hardwood | wood::Kind::Softwood) {
        all.push(caution(
            "drilling",
            "Treated wood",
            "Reclaimed wood from outdoors, sleepers and old decking may be treated with arsenic, chromium, copper or tar oil. Leave it: no tool, no fire, no food on it.",
        ));
    }
    all
}

fn assembly(m: &Model) -> Vec<Caution> {
    let mut all = vec![caution(
        "assembly",
        "Screws",
        "Drive by feel until the head just seats. Stop there: a head that is forced splits the layers, and the clamping does not last in plastic.",
    )];
    let top = m.top_mass();
    if top > TWO_PEOPLE {
        all.push(caution(
            "assembly",
            "Lifting",
            &format!("The top weighs about {top:.0} kg: turn it with two people, and never let it stand on one leg."),
        ));
    }
    all
}

fn setting_legs(m: &Model) -> Vec<Caution> {
    let hold = &m.params.bracket.hold;
    let mut all = Vec::new();
    if hold.cross_bolt.is_some() || m.ties.iter().any(|t| !t.design.bolts.is_empty()) {
        all.push(caution(
            "setting legs",
            "Drilling through tubes",
            "Wear eye protection and clamp leg and part to the bench, never in a hand: a bit that breaks through a tube grabs and turns the piece. Chips are hot and sharp.",
        ));
    }
    if hold.bonded {
        all.push(caution(
            "setting legs",
            "Epoxy",
            "Uncured epoxy harms skin and eyes and can cause a lasting allergy: wear nitrile gloves and eye protection, air the room, and wash skin with soap, not with solvent. Mix small amounts; a full cup gets hot.",
        ));
    }
    all
}

fn first_load() -> Vec<Caution> {
    vec![caution(
        "first load",
        "Collapse",
        "Proof-load low and slow, with blocks under the top and nobody below. Stop at any crack, click or lasting lean.",
    )]
}

fn in_use(m: &Model, f: &Forces) -> Vec<Caution> {
    let p = &m.params;
    let filament = &p.printing.filament;
    let mut all = vec![
        caution("use", "Age", &age(making::inspection_years(m))),
        caution(
            "use",
            "Heat",
            &format!(
                "Keep it from sun behind glass, heaters and hot pots: the service limit of {} is {} C.",
                p.filament_name(),
                filament.service_temperature().round()
            ),
        ),
        caution(
            "use",
            "Mains equipment",
            "Metal legs can become live through a damaged cable. Run cables clear of sharp tube ends, use a residual-current device, and ask an electrician about earthing.",
        ),
        caution("use", "Tipping", &tipping(&stability::tips(m, f), p.place.children)),
    ];
    if p.place.sat_on {
        all.push(caution(
            "use",
            "Seat or step",
            "Only the loads of the file were checked. Write a person as a load of their own at every place where they sit or step, with twice their weight for one who drops onto it; test it low, with somebody beside. It is no ladder and no seat for a child.",
        ));
    }
    all.extend(heavy(m));
    all.push(caution("use", "What these figures are", FIGURES));
    all
}

/// What the figures are worth; the page ends with it too.
pub const FIGURES: &str = "The figures are estimates from simple models and general material data. They replace neither a test, nor local codes and rules, nor a licensed engineer where somebody could be hurt. Selling or lending to the public brings duties of its own.";

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
fn tipping(tips: &Tips, children: bool) -> String {
    let mut text =
        "Put heavy things in the middle and low. Nobody sits or stands on an edge that overhangs.".to_owned();
    let light = tips.empty.filter(stability::Tip::below_child);
    if let Some(tip) = light {
        text.push_str(&format!(
            " {} kg at the {} tips it when it is empty: less than a child of five who hangs on it.",
            tip.mass(),
            tip.place
        ));
    }
    if light.is_some() || children {
        let who = if children { "Children are about: fix" } else { "Where children may come, fix" };
        text.push_str(&format!(
            " {who} it to the wall: an angle screwed into the wooden top, not into a printed part, and into a stud or into masonry, not into plasterboard alone."
        ));
    }
    text
}

/// Mass of all that is put on top, kg, however long it stays, and whether water is among it.
fn put_on(m: &Model) -> (f64, bool) {
    let stands = |l: &&Load| l.direction[2] < -0.5 && (l.mass > 0.0 || l.lasts >= Duration::Hours);
    let water = |l: &Load| {
        let name = l.name.to_lowercase();
        WATER
            .iter()
            .any(|word| name.split(|c: char| !c.is_alphanumeric()).any(|part| part.trim_end_matches('s') == *word))
    };
    let loads = m.params.loads.iter().filter(stands);
    loads.fold((0.0, false), |(mass, wet), l| (mass + l.force / GRAVITY, wet || water(l)))
}

fn heavy(m: &Model) -> Option<Caution> {
    let (mass, water) = put_on(m);
    (mass > HEAVY || water).then(|| {
        let feet = m.legs.len();
        let text = format!(
            "About {mass:.0} kg stand on {feet} small feet. Ask somebody licensed whether the floor bears it. A tank that leaks or falls floods what lies below: keep mains sockets and cables away from it."
        );
        caution("use", "Tanks and floors", &text)
    })
}

/// Heading of the caution that nothing tried cures everything.
pub const NO_CURE: &str = "No cure found";

/// Nothing that was tried brings every check within its limit.
#[must_use]
pub fn no_cure(tried: usize, verdict: Verdict) -> Caution {
    let tries = match tried {
        0 => "None of the changes that can be tried bears on what limits it.".to_owned(),
        _ => format!(
            "{tried} changes were tried, alone and together; none brought every check {} its limit.",
            if verdict == Verdict::NotAdequate { "within" } else { "well within" }
        ),
    };
    let then = if verdict == Verdict::NotAdequate {
        "Do not build it as it is: carry less, make the top smaller or lower, or take larger tubes in wider bundles."
    } else {
        "It holds, with less than a fifth in reserve: read the working of the governing check before you build."
    };
    caution("design", NO_CURE, &format!("{tries} {then}"))
}

fn caution(step: &'static str, heading: &'static str, text: &str) -> Caution {
    Caution { step, heading, text: text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics;

    /// A low table of one load, with keys put in.
    fn describe(load: &str, more: &str) -> Vec<Caution> {
        let text = format!(
            r#"{{"top": {{"length": "900 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "400 mm",
                "legs": {{"tube": "25 x 2 mm", "count": 3}}, "loads": [{load}] {more}}}"#
        );
        let model = Model::new(&crate::params::read(&text).expect("read")).expect("a model");
        cautions(
            &model,
            &mechanics::solve(&model, mechanics::Detail::Full, &mechanics::Cache::default()).expect("solved"),
        )
    }

    fn text(all: &[Caution], heading: &str) -> String {
        all.iter().filter(|c| c.heading == heading).map(|c| c.text.as_str()).collect()
    }

    const PLAIN: &str = r#"{"mass": "40 kg"}"#;

    /// What only is tight is not forbidden, and trials that were not made are not counted.
    #[test]
    fn what_holds_is_not_forbidden() {
        let tight = no_cure(0, Verdict::Tight).text;
        assert!(tight.contains("It holds") && !tight.contains("Do not build") && !tight.contains('0'), "{tight}");
        let over = no_cure(40, Verdict::NotAdequate).text;
        assert!(over.contains("40 changes") && over.contains("Do not build"), "{over}");
    }

    #[test]
    fn a_tank_is_cautioned_of_for_any_time_and_on_the_feet_it_has() {
        for lasts in ["minutes", "days", "years"] {
            let load = format!(r#"{{"name": "rain barrel, full", "mass": "60 kg", "lasts": "{lasts}"}}"#);
            let text = text(&describe(&load, ""), "Tanks and floors");
            assert!(text.contains("60 kg") && text.contains("3 small feet"), "{lasts}: {text}");
        }
        assert!(!text(&describe(r#"{"mass": "101 kg", "lasts": "hours"}"#, ""), "Tanks and floors").is_empty());
        for name in ["buttons", "books"] {
            let load = format!(r#"{{"name": "{name}", "mass": "40 kg"}}"#);
            assert!(text(&describe(&load, ""), "Tanks and floors").is_empty(), "{name}");
        }
    }

    #[test]
    fn a_child_s_weight_that_tips_is_said_whoever_is_about() {
        let all = describe(PLAIN, "");
        let text = text(&all, "Tipping");
        assert!(text.contains("less than a child") && text.contains("a stud or into masonry"), "{text}");
        assert!(text.contains("screwed into the wooden top"), "{text}");
        let near = describe(PLAIN, r#", "place": {"children": true}"#);
        assert!(self::text(&near, "Tipping").contains("Children are about"));
    }

    #[test]
    fn cautions_of_what_is_not_there_are_left_out() {
        let (plain, bonded) = (describe(PLAIN, ""), describe(PLAIN, r#", "bracket": {"hold": "bonded"}"#));
        assert!(text(&plain, "Epoxy").is_empty() && text(&bonded, "Epoxy").contains("gloves"));
        assert!(
            !text(&plain, "Drilling through tubes").is_empty() && text(&bonded, "Drilling through tubes").is_empty()
        );
        assert!(text(&plain, "Seat or step").is_empty());
        assert!(!text(&describe(PLAIN, r#", "place": {"sat_on": true}"#), "Seat or step").is_empty());
        for all in [plain, bonded] {
            let mut headings: Vec<_> = all.iter().map(|c| c.heading).collect();
            headings.sort_unstable();
            headings.dedup();
            assert_eq!(headings.len(), all.len(), "each once");
        }
    }

    #[test]
    fn hardwood_and_boards_have_dust_of_their_own() {
        let of = |wood: &str| {
            let text = format!(
                r#"{{"top": {{"length": "900 mm", "width": "600 mm", "thickness": "30 mm", "wood": "{wood}"}}, "height": "400 mm",
                    "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}]}}"#
            );
            let all = drilling(&Model::new(&crate::params::read(&text).expect("read")).expect("a model"));
            all.into_iter().map(|c| c.heading).collect::<Vec<_>>()
        };
        assert!(of("European oak").contains(&"Hardwood dust") && of("European oak").contains(&"Treated wood"));
        assert!(of("Scots pine").contains(&"Wood dust"));
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

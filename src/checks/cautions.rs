//! Cautions: what is dangerous at which step, and what to do next. They show where they apply.

use super::{Caution, Verdict, making};
use crate::model::Model;

/// Mass above which a top is lifted by two, kg (judgement: 25 kg a person).
const TWO_PEOPLE: f64 = 25.0;
/// Lasting load above which floors are to be thought of, kg (judgement).
const HEAVY: f64 = 150.0;

/// All that apply, in the order of the work.
#[must_use]
pub fn cautions(m: &Model) -> Vec<Caution> {
    let p = &m.params;
    let lasting: f64 =
        p.loads.iter().filter(|l| l.lasts == crate::params::Duration::Years).map(|l| l.force).sum::<f64>()
            / crate::units::GRAVITY;
    let years = making::inspection_years(m);
    let mut all = vec![
        caution(
            "printing",
            "Fumes",
            "Air the room while printing and do not sleep beside the printer; ABS and ASA need an enclosure that is vented outdoors.",
        ),
        caution(
            "cutting",
            "Tube ends",
            "Clamp the tube, wear eye protection, and take the burr off inside and out before a hand goes near it.",
        ),
        caution(
            "drilling",
            "Hidden metal",
            "Pass a magnet over reclaimed wood first: a bit that meets a nail jumps. Set the depth stop, then drill a trial hole in an offcut.",
        ),
        caution(
            "drilling",
            "Dust and old paint",
            "Old paint may hold lead. Do not sand or burn it dry; wear a P2 or P3 mask and wipe up wet. Dust of some woods irritates.",
        ),
        caution(
            "assembly",
            "Screws",
            "Drive by feel until the head just seats. Stop there: a head that is forced splits the layers, and the clamping does not last in plastic.",
        ),
        caution(
            "first load",
            "Collapse",
            "Proof-load low and slow, with blocks under the top and nobody below. Stop at any crack, click or lasting lean.",
        ),
        caution(
            "use",
            "Age",
            &format!(
                "Look at every boss, gusset and screw after {years} years and then every year: white lines, cracks and lean mean take the load off and print again."
            ),
        ),
        caution(
            "use",
            "Heat",
            &format!(
                "Keep it from sun behind glass, heaters and hot pots: {} softens from {} C on.",
                p.printing.filament.name,
                p.printing.filament.service_temperature().round()
            ),
        ),
        caution(
            "use",
            "Mains equipment",
            "Metal legs can become live through a damaged cable. Run cables clear of sharp tube ends, use a residual-current device, and ask an electrician about earthing.",
        ),
    ];
    if p.printing.coupons.is_empty() {
        let strength = super::plastic::characteristic(m, super::plastic::Kind::AcrossLayers).value;
        all.push(caution(
            "printing",
            "Bond between the layers",
            &format!(
                "Nobody tore coupons of this print: {strength:.0} MPa across the layers is taken, which six of twelve tested batches of PETG did not warrant. Print five bars standing upright in the same filament and settings, hang weight on each until it tears, and give load over area in `printing.coupons`."
            ),
        ));
    }
    let top = m.top_mass();
    if top > TWO_PEOPLE {
        all.push(caution(
            "assembly",
            "Lifting",
            &format!("The top weighs about {top:.0} kg: turn it with two people, and never let it stand on one leg."),
        ));
    }
    let children =
        if p.place.children { " Children are about: fix it to the wall or take climbing things away." } else { "" };
    all.push(caution(
        "use",
        "Tipping",
        &format!("Put heavy things in the middle and low. Nobody sits or stands on an edge that overhangs.{children}"),
    ));
    if lasting > HEAVY {
        all.push(caution("use", "Tanks and floors", &format!("About {lasting:.0} kg stand on four small feet. Ask somebody licensed whether the floor bears it, and think of what the water does when something gives.")));
    }
    all.push(caution(
        "use",
        "What these figures are",
        "They are estimates from simple models and general material data. They replace neither a test, nor local codes and rules, nor a licensed engineer where somebody could be hurt. Selling or lending to the public brings duties of its own.",
    ));
    all
}

/// Heading of the caution that nothing tried cures everything.
pub const NO_CURE: &str = "No cure found";

/// Nothing that was tried brings every check within its limit.
pub(super) fn no_cure(tried: usize, verdict: Verdict) -> Caution {
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
        "It holds, with less than a fifth in hand: read the working of the governing check before you build."
    };
    caution("printing", NO_CURE, &format!("{tries} {then}"))
}

fn caution(step: &'static str, heading: &'static str, text: &str) -> Caution {
    Caution { step, heading, text: text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What only is tight is not forbidden, and trials that were not made are not counted.
    #[test]
    fn what_holds_is_not_forbidden() {
        let tight = no_cure(0, Verdict::Tight).text;
        assert!(tight.contains("It holds") && !tight.contains("Do not build") && !tight.contains('0'), "{tight}");
        let over = no_cure(40, Verdict::NotAdequate).text;
        assert!(over.contains("40 changes") && over.contains("Do not build"), "{over}");
    }
}

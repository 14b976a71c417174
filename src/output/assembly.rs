//! What is measured and done while the table is put together.

use crate::formats::number::num;
use crate::model::{Leg, Model};
use crate::params::{FootKind, Params};

/// Two legs by index.
type Pair = [usize; 2];

/// Names of a pair and the distance between two places, mm.
fn measured(model: &Model, pairs: &[Pair], place: impl Fn(&Leg) -> [f64; 3]) -> Vec<(String, f64)> {
    let distance = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt();
    let one = |[a, b]: &Pair| {
        let (a, b) = (&model.legs[*a], &model.legs[*b]);
        (format!("leg {} to leg {}", a.number, b.number), distance(place(a), place(b)))
    };
    pairs.iter().map(one).collect()
}

/// Pairs that go across: equal in pairs when the underframe is square.
const fn across(legs: usize) -> &'static [Pair] {
    match legs {
        3 => &[[0, 1], [0, 2]],
        6 => &[[0, 3], [2, 5], [1, 3], [1, 5], [4, 0], [4, 2]],
        _ => &[[0, 2], [1, 3]],
    }
}

/// Pairs of neighbours round the table.
const fn round(legs: usize) -> &'static [Pair] {
    match legs {
        3 => &[[0, 1], [1, 2], [2, 0]],
        6 => &[[0, 1], [1, 2], [2, 3], [3, 4], [4, 5], [5, 0]],
        _ => &[[0, 1], [1, 2], [2, 3], [3, 0]],
    }
}

fn head(leg: &Leg) -> [f64; 3] {
    [leg.frame.head.x, leg.frame.head.y, 0.0]
}

/// Where the leg's axis meets the floor.
fn foot(leg: &Leg) -> [f64; 3] {
    leg.frame.on_axis(0.0).into()
}

/// Diagonals between the brackets' crosses on the underside, mm; the two of a pair are equal when they stand square.
#[must_use]
pub fn diagonals(model: &Model) -> Vec<(String, f64)> {
    measured(model, across(model.legs.len()), head)
}

/// Distances between neighbouring brackets' crosses on the underside, mm.
#[must_use]
pub fn head_spacings(model: &Model) -> Vec<(String, f64)> {
    measured(model, round(model.legs.len()), head)
}

/// Diagonals between the legs' axes on the floor, mm.
#[must_use]
pub fn foot_diagonals(model: &Model) -> Vec<(String, f64)> {
    measured(model, across(model.legs.len()), foot)
}

/// Distances between neighbouring legs' axes on the floor, mm.
#[must_use]
pub fn foot_spacings(model: &Model) -> Vec<(String, f64)> {
    measured(model, round(model.legs.len()), foot)
}

/// Heights of the ties' middles on the leg's axis, measured along the leg from the foot's lower face, mm: leg and heights.
#[must_use]
pub fn tie_places(model: &Model) -> Vec<(usize, Vec<f64>)> {
    let along = |leg: &Leg, z: f64| (z - crate::model::face_height(&model.params)) / -leg.frame.down.z;
    model.legs.iter().map(|leg| (leg.number, leg.ties.iter().map(|t| along(leg, t.height)).collect())).collect()
}

/// One step of the work: a heading and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// A few words.
    pub heading: &'static str,
    /// What to do, in order.
    pub text: String,
}

/// The work in its order, only the steps that this table needs.
#[must_use]
pub fn steps(model: &Model) -> Vec<Step> {
    let makers: [fn(&Model) -> Option<Step>; 10] =
        [gauge, printing, cutting, marking, drilling, brackets, ties, legs, squaring, standing];
    makers.iter().filter_map(|make| make(model)).collect()
}

fn step(heading: &'static str, text: impl Into<String>) -> Option<Step> {
    Some(Step { heading, text: text.into() })
}

fn gauge(model: &Model) -> Option<Step> {
    let clearance = num(model.params.printing.clearance, 2);
    step(
        "Try the fit",
        format!(
            "Print the fit gauge with the settings of the parts. Push the real tube into each slice; write the clearance \
            of the slice that fits into the file (now {clearance} mm) and make the kit again if it is another."
        ),
    )
}

/// How every part is printed, in one sentence: for the steps, the beds' own notes and whoever prints without the report.
pub(super) fn settings(params: &Params) -> String {
    let p = &params.printing;
    format!(
        "Print in {} with a nozzle of {} mm: layers of {} mm, lines {} mm wide, {} walls, {} solid layers at the bottom and at the \
        top, {} % infill, no supports.",
        params.filament_name(),
        num(p.nozzle, 2),
        num(p.layer, 2),
        num(p.line_width(), 2),
        p.walls,
        p.solid_layers,
        num(p.infill * 100.0, 0)
    )
}

fn printing(model: &Model) -> Option<Step> {
    step(
        "Print the parts",
        format!(
            "{} Each part as it lies in its file. Compare the engraved marks with the list.",
            settings(&model.params)
        ),
    )
}

fn cutting(_: &Model) -> Option<Step> {
    step(
        "Cut the tubes",
        "Cut after the plan, square, and take off the burr inside and outside. Measure each tube and write its leg's \
        number on it.",
    )
}

fn marking(model: &Model) -> Option<Step> {
    let list: Vec<String> = diagonals(model).into_iter().map(|(name, d)| format!("{name} {} mm", num(d, 1))).collect();
    step(
        "Mark the underside",
        format!(
            "Lay the top on its show face on a soft cloth. Pencil a cross for each bracket from the two edges given on the \
            plan and check the diagonals: {}.",
            list.join(", ")
        ),
    )
}

fn drilling(model: &Model) -> Option<Step> {
    let least = model.legs.iter().map(|l| model.left_above_tip(l)).fold(f64::INFINITY, f64::min);
    step(
        "Drill the pilots",
        format!(
            "Check the 100 mm bars of the template with a rule. Lay its lines on the pencil cross, prick the crosses \
            through, and drill {} mm deep with a stop or the drill guide. At the thinnest place {} mm stay above the tip: \
            try the depth in scrap first.",
            num(model.penetration(), 1),
            num(least, 1)
        ),
    )
}

fn brackets(model: &Model) -> Option<Step> {
    let slots = model.brackets.iter().any(|b| b.design.screws.iter().any(|s| s.slot > 0.0));
    let order = if slots {
        "Drive the fixed group home first; then the screws in the slots until they touch and the bracket still moves when \
        the wood does: snug, not squeezed."
    } else {
        "Drive them crosswise, by hand at the end."
    };
    step("Screw the brackets on", format!("Set each bracket with its number at its leg, as the template lies. {order}"))
}

fn ties(model: &Model) -> Option<Step> {
    let (_, places) = tie_places(model).into_iter().find(|(_, p)| !p.is_empty())?;
    let list: Vec<String> = places.iter().map(|p| num(*p, 0)).collect();
    let rails =
        if model.rails.is_empty() { "" } else { " Put the rails between their two legs before the legs go in." };
    step(
        "Put the ties on",
        format!(
            "Slide the ties over the tubes before both ends are taken, middles {} mm above the feet along the leg, and \
            tighten their bolts by hand.{rails}",
            list.join(" and ")
        ),
    )
}

fn legs(model: &Model) -> Option<Step> {
    let hold = &model.params.bracket.hold;
    let mut text =
        "Push every tube to the floor of its socket; a mark at the engaged length shows that it is home.".to_owned();
    if hold.ribs {
        text.push_str(" The ribs are crushed on the way in: push straight, once, and do not pull out again.");
    }
    if hold.bonded {
        text.push_str(
            " Roughen tube end and bore, wipe them clean, fill the grooves with epoxy, turn the tube while it goes \
            in, and leave it for a day.",
        );
    }
    if hold.cross_bolt.is_some() {
        text.push_str(
            " Press the nuts into their pockets, drill through the tube with the boss as the guide, and draw the \
            cross bolts up until they touch.",
        );
    }
    step("Set the legs in", text)
}

fn squaring(model: &Model) -> Option<Step> {
    let list: Vec<String> =
        foot_diagonals(model).into_iter().map(|(name, d)| format!("{name} {} mm", num(d, 0))).collect();
    step(
        "Square it",
        format!(
            "Before bolts are tight and glue is hard, measure between the middles of the feet: {}.",
            list.join(", ")
        ),
    )
}

fn standing(model: &Model) -> Option<Step> {
    let level = match model.params.foot.kind {
        FootKind::Levelling { .. } => " Turn the levelling bolts until no foot is loose, then lock their nuts.",
        FootKind::Flat { .. } => "",
    };
    step(
        "Stand it up",
        format!(
            "Two people lift it by the top and set it down on all feet at once, never on one leg.{level} Load it low and \
            slowly the first time, and stay out from under it."
        ),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model() -> Model {
        Model::new(&crate::params::read(crate::params::built_in()).unwrap()).unwrap()
    }

    /// Heads 1500 - 2 x 120 by 700 - 2 x 110 mm: the diagonal is sqrt(1260^2 + 480^2) = 1348.33 mm. A head slides by
    /// tan 4 degrees for each mm of thickness that differs, 0.08 mm at most here.
    #[test]
    fn diagonals_follow_from_the_insets() {
        for (name, d) in diagonals(&model()) {
            assert!((d - 1348.33).abs() < 0.2, "{name} {d}");
        }
        let spacings: Vec<f64> = head_spacings(&model()).into_iter().map(|(_, d)| d).collect();
        assert!((spacings[0] - 1260.0).abs() < 0.2 && (spacings[1] - 480.0).abs() < 0.2, "{spacings:?}");
    }

    /// At 4 degrees the feet stand 2 x 822 x tan 4 = 115 mm further apart than the heads (underside at 822 mm).
    #[test]
    fn splayed_feet_stand_further_apart() {
        let wanted = 1260.0 + 2.0 * 822.0 * 4.0_f64.to_radians().tan();
        assert!((foot_spacings(&model())[0].1 - wanted).abs() < 0.01);
    }

    #[test]
    fn the_order_of_work_begins_with_the_gauge_and_ends_standing() {
        let steps = steps(&model());
        assert_eq!(steps.first().map(|s| s.heading), Some("Try the fit"));
        assert_eq!(steps.last().map(|s| s.heading), Some("Stand it up"));
        assert_eq!(steps.len(), 10);
    }
}

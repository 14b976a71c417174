//! Dimensions that the layout chose because the file does not say: told in the report like every other default.

use super::{Model, default_wall, spare as spare_holes};
use crate::params::Assumed;
use crate::units::{self, Kind, System};

/// The reader's defaults, then the layout's own.
pub(super) fn all(model: &Model) -> Vec<Assumed> {
    let own = [legs, bracket, spare, gussets, others].into_iter().flat_map(|list| list(model));
    model.params.assumed.iter().map(|a| longer_drill(model, a)).chain(own).collect()
}

/// The assumed drill, where the layout had to make it longer.
fn longer_drill(model: &Model, a: &Assumed) -> Assumed {
    let used = model.guides.iter().map(|g| g.design.stick_out).fold(model.params.drilling.stick_out, f64::max);
    if a.key != "drilling.stick_out" || used <= model.params.drilling.stick_out {
        return a.clone();
    }
    describe(
        &a.key,
        units::show(Kind::Length, used, System::Metric),
        "judgement: so much leaves a guide over the deepest hole",
    )
}

fn describe(key: &str, value: String, why: &str) -> Assumed {
    Assumed { key: key.into(), value, why: why.into() }
}

/// A length, if the file does not give it; where parts differ in it, each.
fn length(given: Option<f64>, key: &str, values: impl IntoIterator<Item = f64>, why: &str) -> Option<Assumed> {
    let mut shown: Vec<String> = Vec::new();
    for value in values {
        let text = units::show(Kind::Length, (value * 100.0).round() / 100.0, System::Metric);
        if !shown.contains(&text) {
            shown.push(text);
        }
    }
    (given.is_none() && !shown.is_empty()).then(|| describe(key, shown.join(", "), why))
}

fn legs(model: &Model) -> Vec<Assumed> {
    let legs = &model.params.legs;
    let why = "judgement: 3.6 times the tube, wide enough that bosses do not touch";
    let circles = model.legs.iter().map(|leg| leg.frame.pitch_circle);
    let circle = length(legs.pitch_circle, "legs.pitch_circle", circles, why);
    circle.filter(|_| legs.tubes > 1).into_iter().collect()
}

fn bracket(model: &Model) -> Vec<Assumed> {
    let (b, designs) = (&model.params.bracket, || model.brackets.iter().map(|kind| &kind.design));
    let smallest = if designs().all(|d| d.spare.is_empty()) {
        "the smallest plate on which screws, bosses and webs keep their distances"
    } else {
        "the smallest plate on which screws, spare holes, bosses and webs keep their distances"
    };
    let wall = default_wall(&model.params.printing, &model.params.legs.tube, &b.hold);
    let why = "judgement: a third of the tube, room for the captive nut, whole lines of the nozzle";
    let sizes = [
        length(b.length, "bracket.length", designs().map(|d| d.length), smallest),
        length(b.width, "bracket.width", designs().map(|d| d.width), smallest),
        length(b.boss_wall, "bracket.boss_wall", [wall], why),
    ];
    sizes.into_iter().flatten().collect()
}

/// Spare holes that were asked for and find no room, with a plate that would have it.
fn spare(model: &Model) -> Vec<Assumed> {
    if !model.params.bracket.screws.spare_holes || spare_holes::everywhere(model) {
        return Vec::new();
    }
    let larger: Vec<String> = spare_holes::larger(&model.params).iter().map(ToString::to_string).collect();
    let why = match larger.is_empty() {
        true => "a plate has no room for a second pattern; fewer or thinner screws may".into(),
        false => format!("a plate has no room for a second pattern; this has: {}", larger.join(", ")),
    };
    vec![describe("bracket.screws.spare_holes", "false".into(), &why)]
}

fn gussets(model: &Model) -> Vec<Assumed> {
    let (g, designs) = (&model.params.bracket.gussets, || model.brackets.iter().map(|kind| &kind.design));
    let mut each: Vec<usize> = designs().map(|d| d.gussets.len() / d.sockets.len().max(1)).collect();
    each.sort_unstable();
    each.dedup();
    let count = g.count.is_none().then(|| {
        let why = "judgement: four for a single boss; the bosses of a bundle hold each other";
        let each: Vec<String> = each.iter().map(ToString::to_string).collect();
        describe("bracket.gussets.count", each.join(", "), why)
    });
    let first = || designs().filter_map(|d| d.gussets.first());
    let run = length(g.run, "bracket.gussets.run", first().map(|w| w.run), "judgement: 0.6 times the boss");
    let why = "judgement: 0.7 times the boss' height";
    let rise = length(g.rise, "bracket.gussets.rise", first().map(|w| w.rise), why);
    [count, run, rise].into_iter().flatten().collect()
}

fn others(model: &Model) -> Vec<Assumed> {
    let p = &model.params;
    let walls = model.ties.iter().map(|t| (t.design.outer - p.legs.tube.outside) / 2.0);
    let wall = length(p.tie.wall, "tie.wall", walls, "judgement: 0.8 times the wall of the boss, at least 4 mm");
    let why = "judgement: plastic under the tubes, or room for nut and bolt with plastic above them";
    let plate = length(p.foot.plate, "foot.plate", model.feet.iter().map(|foot| foot.design.plate), why);
    [wall, plate].into_iter().flatten().collect()
}

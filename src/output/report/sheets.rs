//! Sheets for the bench: printing, assembly, proof load.

use serde::Serialize;

use super::figures::{self, band, figure};
use crate::checks::Work;
use crate::formats::number::{num, short};
use crate::mechanics::Share;
use crate::model::{Model, SWAY_PUSH};
use crate::output::{Kit, assembly};
use crate::params::{Duration, Spread};
use crate::units::GRAVITY;

/// Shares of the lasting load put on one after the other (judgement: each is a stop to look and measure).
const STEPS: [f64; 4] = [0.25, 0.5, 0.75, 1.0];
/// Mass that one person should not lift alone, kg (judgement: half of what a strong person can).
const ALONE: f64 = 25.0;
/// A reading this many times the upper end of the band stops the test (judgement).
const STOP: f64 = 1.25;
/// Readings smaller than this cannot be told with a rule, mm.
const READABLE: f64 = 0.5;

/// What the printing sheet needs.
#[derive(Clone, Debug, Serialize)]
pub struct Printing {
    filament: String,
    nozzle: String,
    layer: String,
    line: String,
    walls: usize,
    shell: String,
    solid_layers: usize,
    skin: String,
    infill: String,
    clearance: String,
    bed: String,
    gauge: Vec<String>,
    total: String,
    service: String,
}

/// What the printing sheet says.
#[must_use]
pub fn printing(kit: &Kit) -> Printing {
    let p = &kit.model.params.printing;
    let grams: f64 = figures::grams(kit).iter().zip(kit.printed).map(|(g, p)| g * p.part.count as f64).sum();
    Printing {
        filament: kit.model.params.filament_name().to_owned(),
        nozzle: short(p.nozzle, 2),
        layer: short(p.layer, 2),
        walls: p.walls,
        line: short(p.line_width(), 2),
        shell: short(p.wall(), 2),
        solid_layers: p.solid_layers,
        skin: short(p.skin(), 2),
        infill: short(p.infill * 100.0, 0),
        clearance: num(p.clearance, 2),
        bed: p.bed.map(|b| short(b, 0)).join(" x "),
        gauge: kit.model.gauges.iter().flat_map(|g| &g.design.clearances).map(|c| num(*c, 2)).collect(),
        total: figure(grams),
        service: short(p.filament.service_temperature(), 0),
    }
}

/// What the assembly sheet needs.
#[derive(Clone, Debug, Serialize)]
pub struct Assembly {
    steps: Vec<Step>,
    distances: Vec<Distance>,
    height: String,
    mass: String,
    two: bool,
}

/// One step with the cautions that stand beside it.
#[derive(Clone, Debug, Serialize)]
struct Step {
    heading: &'static str,
    text: String,
    /// Step of the cautions; empty: none.
    cautions: &'static str,
}

/// A distance that tells whether the legs stand square.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Distance {
    name: String,
    /// Between the crosses of the legs' axes on the underside, mm.
    above: String,
    /// Between the middles of the feet, mm.
    below: String,
}

/// Headings of the work and the cautions that belong to them.
const BESIDE: [(&str, Work); 4] = [
    ("Cut the tubes", Work::Cutting),
    ("Drill the pilots", Work::Drilling),
    ("Screw the brackets on", Work::Assembly),
    ("Set the legs in", Work::SettingLegs),
];

/// What the assembly sheet says.
#[must_use]
pub fn assembly(kit: &Kit) -> Assembly {
    let beside = |heading| BESIDE.iter().find(|(h, _)| *h == heading).map_or("", |(_, work)| work.word());
    let step = |s: assembly::Step| Step { heading: s.heading, cautions: beside(s.heading), text: s.text };
    let mass = kit.forces.empty.0;
    Assembly {
        steps: assembly::steps(kit.model).into_iter().map(step).collect(),
        distances: distances(kit.model),
        height: short(kit.model.params.height, 1),
        mass: figure(mass),
        two: mass > ALONE,
    }
}

/// Diagonals first, then neighbours, on the underside and on the floor.
fn distances(model: &Model) -> Vec<Distance> {
    let above = assembly::diagonals(model).into_iter().chain(assembly::head_spacings(model));
    let below = assembly::foot_diagonals(model).into_iter().chain(assembly::foot_spacings(model));
    above.zip(below).map(|((name, a), (_, b))| Distance { name, above: num(a, 1), below: num(b, 1) }).collect()
}

/// What the proof-load sheet needs.
#[derive(Clone, Debug, Serialize)]
pub struct Proof {
    /// Mass of all that stays, kg.
    mass: String,
    at: String,
    steps: Vec<Reading>,
    others: Vec<Reading>,
    sways: Vec<Reading>,
    stop: String,
    play: String,
    /// Which reading would narrow the band most; empty: none.
    narrows: String,
    allowed: bool,
}

/// A line to fill in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reading {
    what: String,
    /// `1.2 to 2.3`.
    expected: String,
    /// Stop above this, mm.
    stop: String,
}

/// What the proof-load sheet says.
#[must_use]
pub fn proof(kit: &Kit) -> Proof {
    let model = kit.model;
    let lasting = model.params.loads.iter().filter(|l| l.lasts == Duration::Years && l.shaking.is_none());
    let mass = lasting.map(|l| l.force).sum::<f64>() / GRAVITY;
    let standing = figures::standing(model);
    let at = standing.and_then(|i| kit.forces.solutions.first()?.cases.get(i)).map(|c| c.sag_at);
    let full = standing.and_then(|i| sag_over_empty(kit, i));
    let step = |s: &f64| {
        let [a, b] = full.unwrap_or([0.0; 2]).map(|x| x * s);
        reading(format!("{} % = {} kg", short(s * 100.0, 0), figure(mass * s)), a, b)
    };
    Proof {
        mass: figure(mass),
        at: at.map_or_else(String::new, |p| {
            format!("{} mm from the left end, {} mm from the front edge", short(p[0], 0), short(p[1], 0))
        }),
        steps: if mass > 0.0 { STEPS.iter().map(step).collect() } else { Vec::new() },
        others: others(kit),
        sways: sways(kit),
        stop: num(STOP, 2),
        play: play(kit.forces.play),
        narrows: narrows(kit),
        allowed: kit.checked.verdict_on(crate::checks::Concern::Strength) != crate::checks::Verdict::NotAdequate,
    }
}

fn reading(what: String, a: f64, b: f64) -> Reading {
    let most = (STOP * a.max(b)).max(READABLE);
    Reading { what, expected: tenths(a, b), stop: num(most, 1) }
}

/// A band in tenths of a millimetre, as far as a rule can be read.
fn tenths(a: f64, b: f64) -> String {
    let (low, high) = (num(a.min(b), 1), num(a.max(b), 1));
    match (low == high, high.as_str()) {
        (true, "0.0") => "under 0.1".into(),
        (true, _) => low,
        (false, _) => format!("{low} to {high}"),
    }
}

/// The play along both axes; empty without any.
fn play([x, y]: [f64; 2]) -> String {
    if x.max(y) > 0.0 { band(x, y) } else { String::new() }
}

/// What would narrow the band of sway most, by the origin with the largest share of it.
fn narrows(kit: &Kit) -> String {
    let Some(band) = &kit.varied.band else { return String::new() };
    let size = |s: &&Share| s.sway[0] + s.sway[1];
    let largest = band.shares.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
    largest.map_or_else(String::new, |s| {
        let [x, y] = s.sway.map(|mm| num(mm, 1));
        format!("{} ({x} mm along the length and {y} mm along the width). {}", s.origin.words(), s.origin.reading())
    })
}

/// Sag of a case less the sag under own weight, soft and stiff, mm: what a person reads who set zero on the empty table.
fn sag_over_empty(kit: &Kit, case: usize) -> Option<[f64; 2]> {
    let loaded = figures::both(kit, case, |c| c.sag)?;
    let empty =
        figures::case(kit.model, "own weight").and_then(|i| figures::both(kit, i, |c| c.sag)).unwrap_or([0.0; 2]);
    Some([0, 1].map(|k| (loaded[k] - empty[k]).max(0.0)))
}

/// Loads that are not permanent, put on once on top of those that are.
fn others(kit: &Kit) -> Vec<Reading> {
    let loads = kit.model.params.loads.iter().filter(|l| l.lasts != Duration::Years && l.shaking.is_none());
    let down = loads.filter(|l| l.direction[2] < -0.99);
    down.filter_map(|l| {
        let [a, b] = sag_over_empty(kit, figures::case(kit.model, &l.name)?)?;
        let place = match l.on {
            Spread::Point(p) => {
                format!("at {} mm from the left end, {} mm from the front", short(p[0], 0), short(p[1], 0))
            }
            Spread::Edge(_) => "spread along its edge".into(),
            _ => "spread as in the file".into(),
        };
        Some(reading(format!("{}: {} kg {place}", l.name, figure(l.force / GRAVITY)), a, b))
    })
    .collect()
}

/// Share of the pull that tips the table that is pulled at most (judgement: a jerk doubles a pull).
const OF_TIPPING: f64 = 0.5;

/// Pull of the test along an axis, N: that of the check, or less where it would come near to tipping the loaded table.
fn pull(kit: &Kit, axis: usize) -> f64 {
    SWAY_PUSH.min((OF_TIPPING * crate::checks::tipping_push(kit.model, kit.forces, axis)).floor())
}

/// The sideways pulls; the frame moves in proportion to them.
fn sways(kit: &Kit) -> Vec<Reading> {
    let one = |(case, axis): (usize, usize)| {
        let pull = pull(kit, axis);
        let [a, b] = figures::both(kit, case, |c| c.sway[axis].abs())?.map(|sway| sway * pull / SWAY_PUSH);
        let way = ["along its length (x), at the middle of an end", "along its width (y), at the middle of the front"];
        Some(reading(format!("{} N = {} kg {}", short(pull, 0), num(pull / GRAVITY, 1), way[axis]), a, b))
    };
    figures::sways(kit.model).into_iter().filter_map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::super::sample::Sample;
    use super::*;

    /// A table on feet that stand close together: half of what tips it is less than the push of the check.
    #[test]
    fn the_proof_pull_does_not_tip_what_it_tests() {
        let mut sample = Sample::new("x");
        for narrow in [1.0, 0.2] {
            sample.forces.feet.iter_mut().for_each(|foot| foot[1] *= narrow);
            let kit = sample.kit();
            for axis in [0, 1] {
                let tips = crate::checks::tipping_push(kit.model, kit.forces, axis);
                assert!(pull(&kit, axis) <= (tips / 2.0).min(SWAY_PUSH) && pull(&kit, axis) > 0.0, "{tips}");
            }
        }
        let kit = sample.kit();
        assert!(pull(&kit, 1) < SWAY_PUSH);
        let full = figures::both(&kit, figures::sways(kit.model)[1].0, |c| c.sway[1].abs()).expect("a case");
        let [low, high] = full.map(|s| num(s * pull(&kit, 1) / SWAY_PUSH, 1));
        assert_eq!(proof(&kit).sways[1].expected, format!("{} to {}", high.clone().min(low.clone()), high.max(low)));
    }

    #[test]
    fn every_heading_with_cautions_is_one_of_the_work() {
        let sample = Sample::new("x");
        let sheet = assembly(&sample.kit());
        assert_eq!(sheet.steps.iter().filter(|s| !s.cautions.is_empty()).count(), BESIDE.len());
        assert_eq!(sheet.distances.len(), 6);
    }

    /// The made-up sample sags 0.8 mm stiff and 1.44 mm soft in every case, so nothing is left over the empty table.
    #[test]
    fn readings_count_from_the_empty_table() {
        let sample = Sample::new("x");
        let proof = proof(&sample.kit());
        assert_eq!(proof.steps.len(), STEPS.len());
        assert!(proof.steps.iter().all(|s| s.expected == "under 0.1" && s.stop == "0.5"));
        assert_eq!(proof.sways[0].expected, "1.4 to 2.5");
    }
}

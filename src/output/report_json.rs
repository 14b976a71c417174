//! The report for programs: the same figures as the page, under fixed names.
//!
//! Numbers are rounded to six significant digits. A value that does not exist is `null` and its reason stands beside it
//! under the same name with `_note`.

use std::collections::BTreeMap;

use serde::Serialize;

use super::added;
use super::report::figures;
use super::solids;
use super::{Files, Kit};
use crate::checks::{self, Caution, Check, Checked, Concern, Step};
use crate::mechanics::{Share, Solution, Unstudied};
use crate::model::{CutTube, Hole};
use crate::units::System;

/// Significant digits of a number.
const DIGITS: i32 = 6;

/// A rounded number, or `null` where there is none.
type Number = Option<f64>;

/// The file.
///
/// # Errors
/// Never for finite or missing numbers.
pub fn write(kit: &Kit) -> Result<Files, String> {
    let mut text = serde_json::to_string_pretty(&Report::new(kit)).map_err(|e| e.to_string())?;
    text.push('\n');
    Ok(Files::from([("report.json".to_owned(), text.into_bytes())]))
}

/// Six significant digits; none for what is no number.
fn round(x: f64) -> Number {
    if !x.is_finite() {
        return None;
    }
    if x == 0.0 {
        return Some(0.0);
    }
    let digits = DIGITS - 1 - x.abs().log10().floor() as i32;
    // Through text, so that 0.1 stays 0.1 in the file.
    if digits >= 0 {
        format!("{x:.*}", digits.clamp(0, 300) as usize).parse().ok()
    } else {
        let step = 10f64.powi(-digits);
        Some((x / step).round() * step)
    }
}

fn all<const N: usize>(values: [f64; N]) -> [Number; N] {
    values.map(round)
}

fn is_false(b: &bool) -> bool {
    !b
}

#[derive(Serialize)]
struct Report<'a> {
    title: &'a str,
    verdict: &'static str,
    strength: AnswerRow,
    firmness: AnswerRow,
    checks: Vec<CheckRow>,
    /// What coupons would have to give; `null` where they were torn or would not do.
    coupons: Option<String>,
    remedies: Vec<RemedyRow>,
    frame: FrameRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    frame_stiff: Option<FrameRow>,
    play_mm: [Number; 2],
    joint_stiffness_nm_per_rad: Stiffness,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    joint_band: Vec<serde_json::Value>,
    tip: BTreeMap<String, Number>,
    #[serde(skip_serializing_if = "Option::is_none")]
    tip_note: Option<&'static str>,
    tipping: TippingRow,
    mass_kg: Masses,
    parts: Vec<PartRow<'a>>,
    tubes: Vec<TubeRow>,
    holes: Vec<HoleRow>,
    added_loads: Vec<added::Row>,
    assumed: Vec<AssumedRow<'a>>,
    cautions: Vec<CautionRow>,
    outside_studied: Vec<String>,
}

/// The verdict on one concern, and the check that governs it.
#[derive(Serialize)]
struct AnswerRow {
    verdict: &'static str,
    check: Option<&'static str>,
    utilisation: Number,
}

impl AnswerRow {
    fn new(checked: &Checked, concern: Concern) -> Self {
        let governing = checked.governing(concern);
        Self {
            verdict: concern.verdict(checked.verdict_on(concern)),
            check: governing.map(|c| c.id.words()),
            utilisation: governing.and_then(|c| round(c.utilisation())),
        }
    }
}

#[derive(Serialize)]
struct CheckRow {
    name: &'static str,
    concern: &'static str,
    place: String,
    case: String,
    when: &'static str,
    demand: Number,
    capacity: Number,
    unit: &'static str,
    utilisation: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    utilisation_note: Option<&'static str>,
    verdict: &'static str,
    clause: String,
    steps: Vec<String>,
    working: Vec<serde_json::Value>,
    sources: Vec<String>,
}

#[derive(Serialize)]
struct RemedyRow {
    change: String,
    cures: String,
    utilisation: Number,
    edits: Vec<EditRow>,
}

#[derive(Serialize)]
struct EditRow {
    pointer: String,
    value: serde_json::Value,
}

#[derive(Serialize)]
struct FrameRow {
    estimate: &'static str,
    cases: BTreeMap<String, CaseRow>,
    critical_load_factor: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    critical_load_factor_note: Option<&'static str>,
    frequencies_hz: Vec<Number>,
    frequency_shapes: Vec<&'static str>,
    imbalance: Number,
}

#[derive(Serialize)]
struct CaseRow {
    sway_mm: [Number; 2],
    sway_first_order_mm: [Number; 2],
    twist_mrad: Number,
    sag_mm: Number,
    sag_at_mm: [Number; 2],
    reactions_n: Vec<[Number; 3]>,
    joint_forces: Vec<[Number; 6]>,
}

#[derive(Serialize)]
struct Stiffness {
    soft: Number,
    stiff: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<&'static str>,
}

/// The least load on the top's corners and edges that tips the table; `null` where none does.
#[derive(Serialize)]
struct TippingRow {
    empty: Option<TipRow>,
    loaded: Option<TipRow>,
}

#[derive(Serialize)]
struct TipRow {
    load_n: Number,
    mass_kg: Number,
    place: &'static str,
}

impl TippingRow {
    fn new(tips: &checks::Tips) -> Self {
        let row =
            |tip: checks::Tip| TipRow { load_n: round(tip.load), mass_kg: round(tip.mass()), place: tip.place.words() };
        Self { empty: tips.empty.map(row), loaded: tips.loaded.map(row) }
    }
}

#[derive(Serialize)]
struct Masses {
    empty: Number,
    loaded: Number,
}

#[derive(Serialize)]
struct PartRow<'a> {
    mark: &'a str,
    name: &'a str,
    file: String,
    count: usize,
    volume_mm3: Number,
    mass_g: Number,
    box_mm: [Number; 3],
    triangles: usize,
    step: &'static str,
    bores_mm: Vec<Number>,
}

#[derive(Serialize)]
struct TubeRow {
    name: String,
    designation: String,
    count: usize,
    length_mm: Number,
    legs: Vec<usize>,
}

#[derive(Serialize)]
struct HoleRow {
    leg: usize,
    x_mm: Number,
    y_mm: Number,
    pilot_mm: Number,
    depth_mm: Number,
    left_above_tip_mm: Number,
    #[serde(skip_serializing_if = "is_false")]
    spare: bool,
}

#[derive(Serialize)]
struct AssumedRow<'a> {
    key: &'a str,
    value: &'a str,
    why: &'a str,
}

#[derive(Serialize)]
struct CautionRow {
    step: &'static str,
    heading: &'static str,
    text: String,
}

impl<'a> Report<'a> {
    fn new(kit: &Kit<'a>) -> Self {
        let (model, forces, checked) = (kit.model, kit.forces, kit.checked);
        let mut checks: Vec<&Check> = checked.checks.iter().collect();
        checks.sort_by(|a, b| a.before(b));
        let tips = checks::tip_loads(model, forces);
        let none = tips.iter().any(|(_, load)| load.is_none());
        let grams = figures::grams(kit);
        let names: Vec<&str> = model.cases.iter().map(|c| c.name.as_str()).collect();
        let mut frames = forces.solutions.iter().map(|s| FrameRow::new(s, &names));
        let (frame, frame_stiff) = (frames.next().unwrap_or_else(FrameRow::missing), frames.next());
        Self {
            title: &model.params.title,
            verdict: checked.verdict().words(),
            strength: AnswerRow::new(checked, Concern::Strength),
            firmness: AnswerRow::new(checked, Concern::Firmness),
            checks: checks.into_iter().map(CheckRow::new).collect(),
            coupons: checked.tear.as_ref().map(checks::Tear::words),
            remedies: checked.remedies.iter().map(|r| remedy(r, kit.model.params.units)).collect(),
            frame,
            frame_stiff,
            play_mm: all(forces.play),
            joint_stiffness_nm_per_rad: Stiffness::new(forces.joint_stiffness),
            joint_band: kit.varied.band.iter().flat_map(|band| &band.shares).map(share).collect(),
            tip: tips.into_iter().map(|(edge, load)| (edge.words(), load.and_then(round))).collect(),
            tip_note: none.then_some("null: no load on the top beyond that edge tips the table"),
            tipping: TippingRow::new(&checks::tips(model, forces)),
            mass_kg: Masses { empty: round(forces.empty.0), loaded: round(forces.mass) },
            parts: grams.into_iter().enumerate().map(|(i, g)| part(kit, i, g)).collect(),
            tubes: model.cut_tubes().into_iter().map(tube).collect(),
            holes: model.holes().iter().map(hole).collect(),
            added_loads: added::data(model),
            assumed: model.assumed.iter().map(|a| AssumedRow { key: &a.key, value: &a.value, why: &a.why }).collect(),
            cautions: checked.cautions.iter().map(caution).collect(),
            outside_studied: forces.outside_studied.iter().map(Unstudied::words).collect(),
        }
    }
}

impl CheckRow {
    fn new(check: &Check) -> Self {
        let utilisation = round(check.utilisation());
        Self {
            name: check.id.words(),
            concern: check.id.concern().words(),
            place: check.subject.words(),
            case: check.case.words(),
            when: check.when.word(),
            demand: round(check.demand),
            capacity: round(check.capacity),
            unit: check.unit,
            utilisation,
            utilisation_note: utilisation.is_none().then_some("no finite value: the capacity is zero"),
            verdict: check.verdict().words(),
            clause: check.clause.to_string(),
            steps: check.working.iter().map(Step::text).collect(),
            working: check.working.iter().map(Step::data).collect(),
            sources: check.sources.iter().map(ToString::to_string).collect(),
        }
    }
}

impl FrameRow {
    fn new(solution: &Solution, names: &[&str]) -> Self {
        let cases = names.iter().zip(&solution.cases).map(|(name, case)| {
            let row = CaseRow {
                sway_mm: all(case.sway),
                sway_first_order_mm: all(case.sway_first_order),
                twist_mrad: round(case.twist),
                sag_mm: round(case.sag),
                sag_at_mm: all(case.sag_at),
                reactions_n: case.reactions.iter().map(|r| all(*r)).collect(),
                joint_forces: case.joints.iter().map(|j| all(*j)).collect(),
            };
            ((*name).to_owned(), row)
        });
        let critical = solution.critical_factor.and_then(round);
        Self {
            estimate: solution.estimate.word(),
            cases: cases.collect(),
            critical_load_factor: critical,
            critical_load_factor_note: critical
                .is_none()
                .then_some("does not buckle within a thousandfold of the loads"),
            frequencies_hz: solution.modes.iter().map(|m| round(m.hertz)).collect(),
            frequency_shapes: solution.modes.iter().map(|m| m.motion.words()).collect(),
            imbalance: round(solution.imbalance),
        }
    }

    fn missing() -> Self {
        Self {
            estimate: "none",
            cases: BTreeMap::new(),
            critical_load_factor: None,
            critical_load_factor_note: Some("the frame was not solved"),
            frequencies_hz: Vec::new(),
            frequency_shapes: Vec::new(),
            imbalance: None,
        }
    }
}

impl Stiffness {
    /// N mm/rad inside, N m/rad in the file.
    fn new(values: [f64; 2]) -> Self {
        let [soft, stiff] = values.map(|k| round(k / 1000.0));
        let rigid = soft.is_none() || stiff.is_none();
        Self { soft, stiff, note: rigid.then_some("null: rigid, the joint does not turn") }
    }
}

fn remedy(r: &crate::checks::Remedy, units: System) -> RemedyRow {
    let edits = r.edits.iter().map(|edit| EditRow { pointer: edit.pointer(), value: edit.json(units) });
    RemedyRow { change: r.words(), cures: r.cures.words(), utilisation: round(r.utilisation), edits: edits.collect() }
}

fn part<'a>(kit: &Kit<'a>, index: usize, grams: f64) -> PartRow<'a> {
    let printed = &kit.printed[index];
    PartRow {
        mark: &printed.part.mark,
        name: &printed.part.name,
        file: format!("{}.stl", kit.stem(index)),
        count: printed.part.count,
        volume_mm3: round(printed.volume),
        mass_g: round(grams),
        box_mm: all(printed.size),
        triangles: printed.mesh.triangles.len(),
        step: solids::kind(printed).word(),
        bores_mm: printed.bores.iter().map(|b| round(*b)).collect(),
    }
}

fn tube(c: CutTube) -> TubeRow {
    TubeRow { name: c.name, designation: c.designation, count: c.count, length_mm: round(c.length), legs: c.legs }
}

fn hole(h: &Hole) -> HoleRow {
    HoleRow {
        leg: h.leg,
        x_mm: round(h.at[0]),
        y_mm: round(h.at[1]),
        pilot_mm: round(h.pilot),
        depth_mm: round(h.depth),
        left_above_tip_mm: round(h.left_above_tip),
        spare: h.spare,
    }
}

fn caution(c: &Caution) -> CautionRow {
    CautionRow { step: c.work().word(), heading: c.heading(), text: c.text() }
}

fn share(s: &Share) -> serde_json::Value {
    serde_json::json!({ "origin": s.origin.words(), "sway_mm": all(s.sway), "frequency_hz": round(s.hertz) })
}

#[cfg(test)]
mod tests {
    use super::super::report::sample::Sample;
    use super::*;
    use serde_json::Value;

    fn value(sample: &Sample) -> Value {
        let files = write(&sample.kit()).expect("written");
        serde_json::from_slice(&files["report.json"]).expect("valid JSON")
    }

    #[test]
    fn six_digits_and_no_number_where_there_is_none() {
        let written = [0.1, 1.0 / 3.0, 123_456_789.0, -0.000_123_456_78, 0.0].map(|x| round(x).expect("finite"));
        assert_eq!(written, [0.1, 0.333_333, 123_457_000.0, -0.000_123_457, 0.0]);
        assert_eq!([f64::NAN, f64::INFINITY].map(round), [None, None]);
    }

    #[test]
    fn every_name_of_the_format_is_there() {
        let v = value(&Sample::new("x"));
        let pointers = [
            "/verdict",
            "/strength/utilisation",
            "/firmness/verdict",
            "/checks/0/concern",
            "/checks/0/name",
            "/checks/0/place",
            "/checks/0/case",
            "/checks/0/when",
            "/checks/0/demand",
            "/checks/0/capacity",
            "/checks/0/unit",
            "/checks/0/utilisation",
            "/checks/0/clause",
            "/checks/0/steps/0",
            "/checks/0/working/0/with/0/value",
            "/frame/cases/own weight/sway_mm/1",
            "/frame/cases/own weight/twist_mrad",
            "/frame/cases/own weight/sag_mm",
            "/frame/cases/own weight/reactions_n/3/2",
            "/frame/cases/own weight/joint_forces/3/5",
            "/frame/critical_load_factor",
            "/frame/frequencies_hz/0",
            "/frame_stiff/cases",
            "/play_mm/1",
            "/joint_stiffness_nm_per_rad/soft",
            "/tip/edge between legs 1 and 2",
            "/tipping/empty/mass_kg",
            "/tipping/loaded/place",
            "/parts/0/mark",
            "/parts/0/file",
            "/parts/0/volume_mm3",
            "/parts/0/mass_g",
            "/parts/0/box_mm/2",
            "/parts/0/triangles",
            "/parts/0/step",
            "/tubes/0/length_mm",
            "/holes/0/left_above_tip_mm",
            "/assumed/0/key",
            "/added_loads/0/key",
            "/cautions/0/text",
            "/remedies/0/edits/0/pointer",
        ];
        for pointer in pointers {
            assert!(v.pointer(pointer).is_some_and(|x| !x.is_null()), "{pointer}");
        }
    }

    /// Stiff joints of the sample are rigid, and its stiff frame never buckles.
    #[test]
    fn a_missing_number_is_null_with_its_reason() {
        let v = value(&Sample::new("x"));
        assert!(
            v["joint_stiffness_nm_per_rad"]["stiff"].is_null() && v["joint_stiffness_nm_per_rad"]["note"].is_string()
        );
        assert!(v["frame_stiff"]["critical_load_factor"].is_null());
        assert!(v["frame_stiff"]["critical_load_factor_note"].is_string());
        assert_eq!(v["frame"]["critical_load_factor"], 7.34568);
    }

    #[test]
    fn the_governing_check_comes_first_whatever_its_place() {
        let mut sample = Sample::new("x");
        sample.checked.checks.reverse();
        let v = value(&sample);
        assert_eq!(v["checks"][0]["utilisation"], 0.92);
    }
}

//! What a maker could change, each kind from its smallest step to its largest; tried by [`mod@super::remedies`].

use crate::checks::CheckId::{self, *};
use crate::checks::{Counted, Edges, Length, Measure};
use crate::model::{BracketDesign, Model};
use crate::params::{Design, Edit, FootKind, Head, Hold, Run, ScrewSize, TubeSize, Value};
use crate::tables::{bolt, filament, screw, tube};
use crate::units::{self, Kind};

/// A change as what it is to the maker and as new values of keys.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Change {
    pub measures: Vec<Measure>,
    pub edits: Vec<Edit>,
}

/// Steps of one kind of change, the smallest first, and the checks it may help.
#[derive(Clone, Debug)]
pub(super) struct Family {
    pub helps: Helps,
    pub steps: Vec<Change>,
}

/// Groups of checks.
type Helps = &'static [&'static [CheckId]];

const SOCKETS: &[CheckId] = &[BracketSocket, SocketSplit];
const HEADS: &[CheckId] = &[HeadPressure, HeadPullThrough];
const FASTENED: &[CheckId] = &[ScrewLateral, ScrewCombined, ScrewLost, ScrewWithdrawal];
const MOVES: &[CheckId] = &[Frequency, SwayLength, SwayWidth, Shaking];
const TIED: &[CheckId] = &[TieCollar, TieBolt];
const TIPS: &[CheckId] = &[TippingChild, TippingLoad, TippingEdge, TippingTilt];
const TOP: &[CheckId] = &[TopAcross, TopAlong, TopCrushing, TopSag];
const STRESSED: &[CheckId] = &[TubeBuckling, TubeStress];

const PLASTIC: Helps = &[
    &[BossRoot, GussetToe, PlateBending, TubePulledOut, FootSocket, TubeEnd, Heat, CriticalLoad],
    HEADS,
    SOCKETS,
    TIED,
    MOVES,
];
const TUBES: Helps = &[STRESSED, &[CriticalLoad], MOVES];
const SWAY: Helps = &[MOVES, &[CriticalLoad]];
const SOCKET: Helps = &[SOCKETS, &[BossRoot, TubePulledOut, Play, CriticalLoad], MOVES];
const BOSS: Helps = &[SOCKETS, &[BossRoot, TubePulledOut, FootSocket, MovementOnRail], MOVES];
const PLATE: Helps = &[&[PlateBending, GussetToe], HEADS, MOVES];
const SCREWS: Helps = &[HEADS, &[PlateBending, TopCrushing, MovementUnderBracket], FASTENED];
const SIZE: Helps = &[TOP, FASTENED, HEADS];
const BUNDLE: Helps = &[&[BossRoot, TubePulledOut, TubesSlide, CriticalLoad], SOCKETS, STRESSED, FASTENED, MOVES];
const GUSSETS: Helps = &[&[GussetToe, BossRoot, PlateBending], MOVES];
const TIPPING: Helps = &[TIPS, &[FloorPressure]];
const STANDS: Helps = &[TIPS, TOP, &[FloorPressure], MOVES];
const HOLD: Helps = &[&[TubePulledOut, Play, TubesSlide, CriticalLoad], MOVES];
const FEET: Helps = &[&[FloorPressure, LevellingBolt]];
const FOOT: Helps = &[&[FootSocket]];
const TIES: Helps = &[TIED];
const BETWEEN: Helps = &[&[MovementOnRail]];
const UNDER: Helps = &[&[MovementUnderBracket]];
const DRILLING: Helps = &[&[WoodAboveTips]];

impl Family {
    /// Whether it may help a check.
    pub fn may_help(&self, id: CheckId) -> bool {
        self.helps.iter().any(|group| group.contains(&id))
    }
}

/// Every kind of change for this file: first what costs only filament, then what is bought, then what moves the legs.
pub(super) fn families(design: &Design, m: &Model) -> Vec<Family> {
    let mut all = printing(m);
    all.extend(bracket(m));
    all.extend(screws(design, m));
    all.extend(hold(m));
    all.extend(feet(m));
    all.extend(ties(design, m));
    all.extend(rails(design, m));
    all.extend(tubes(design, m));
    all.extend(layout(m));
    all.retain(|f| !f.steps.is_empty());
    all
}

pub(super) fn one(measure: Measure, key: &str, value: Value) -> Change {
    Change { measures: vec![measure], edits: vec![Edit::put(key, value)] }
}

/// A length to a tenth, mm.
fn length(mm: f64) -> Value {
    Value::Quantity(Kind::Length, tenths(mm))
}

fn tenths(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

fn mm(value: f64) -> String {
    format!("{} mm", tenths(value))
}

/// Steps that add millimetres to a length.
fn longer(helps: Helps, what: Length, key: &str, now: f64, by: &[f64]) -> Family {
    let step = |add: &f64| {
        let value = (now + add).ceil();
        one(Measure::Longer { length: what, to: value, now }, key, length(value))
    };
    Family { helps, steps: by.iter().map(step).collect() }
}

/// The same to a length that the parameters have.
fn longer_than_now(m: &Model, helps: Helps, what: Length, key: &str, by: &[f64]) -> Family {
    match m.params.value(key) {
        Some(Value::Quantity(_, now)) => longer(helps, what, key, now, by),
        _ => Family { helps, steps: Vec::new() },
    }
}

fn counted(helps: Helps, of: Counted, key: &str, counts: Vec<usize>) -> Family {
    let step = |to| one(Measure::Count { of, to }, key, Value::Count(to));
    Family { helps, steps: counts.into_iter().map(step).collect() }
}

fn printing(m: &Model) -> Vec<Family> {
    let p = &m.params.printing;
    let solid = if p.infill < 1.0 {
        vec![one(Measure::Solid, "printing.infill", Value::Quantity(Kind::Share, 1.0))]
    } else {
        vec![]
    };
    let mut all = vec![Family { helps: PLASTIC, steps: solid }];
    // Each is its own kind: filaments are not steps of one another. One that another surpasses in everything is left out.
    let now = &p.filament;
    let figures =
        |f: &filament::Filament| [f.across.characteristic() * f.wet, f.e, f.e_sustained(), f.service_temperature()];
    let better = |f: &&filament::Filament| {
        let [strength, e, _, heat] = figures(f);
        let helps = strength > figures(now)[0] || e > 1.2 * now.e || heat > now.service_temperature();
        f.name != now.name && heat >= now.service_temperature().min(WARM) && helps
    };
    let surpassed = |f: &filament::Filament| {
        filament::ALL.iter().filter(better).any(|other| {
            let pairs = || figures(other).into_iter().zip(figures(f));
            pairs().all(|(o, f)| o >= f) && pairs().any(|(o, f)| o > f)
        })
    };
    let better = filament::ALL.iter().filter(better).filter(|f| !surpassed(f));
    all.extend(better.map(|f| Family {
        helps: PLASTIC,
        steps: vec![one(Measure::Filament(f.name), "printing.filament", Value::Row(f.name))],
    }));
    all
}

/// A filament that stands this needs no better one for heat, C (judgement: a hot summer's room and a margin).
const WARM: f64 = 50.0;

fn bracket(m: &Model) -> Vec<Family> {
    let b = &m.params.bracket;
    let largest = |of: fn(&BracketDesign) -> f64| m.brackets.iter().map(|kind| of(&kind.design)).fold(0.0, f64::max);
    let (long, wide) = (largest(|d| d.length), largest(|d| d.width));
    let g = &b.gussets;
    let count = g.count.unwrap_or(if m.params.legs.tubes == 1 { 4 } else { 0 });
    let more = if count < 4 { vec![2, 4] } else { vec![6] };
    let size = [20.0, 40.0].map(|add| Change {
        measures: vec![Measure::BracketSize([long + add, wide + add])],
        edits: vec![Edit::put("bracket.length", length(long + add)), Edit::put("bracket.width", length(wide + add))],
    });
    let mut all = vec![
        longer_than_now(m, PLATE, Length::BracketPlate, "bracket.plate", &[1.0, 2.0, 4.0, 6.0]),
        longer_than_now(m, SOCKET, Length::BracketSocket, "bracket.socket_depth", &[5.0, 10.0, 20.0, 30.0]),
        longer(BOSS, Length::BossWall, "bracket.boss_wall", largest(|d| d.sockets[0].wall()), &[1.0, 2.0, 4.0]),
        Family { helps: SIZE, steps: size.to_vec() },
        counted(GUSSETS, Counted::Gussets, "bracket.gussets.count", more),
    ];
    let gusset = largest(|d| d.gussets.first().map_or(0.0, |gusset| gusset.run));
    if gusset > 0.0 {
        all.push(longer(GUSSETS, Length::Gusset, "bracket.gussets.run", gusset, &[5.0, 10.0]));
    }
    all
}

fn screws(design: &Design, m: &Model) -> Vec<Family> {
    let s = &m.params.bracket.screws;
    let own = matches!(design.value("bracket.screws.size"), Some(Value::Group(_)));
    let split = own || design.value("bracket.screws.length").is_some();
    let sized = |row: &screw::Screw, length: f64| {
        let told = if row.system == screw::System::Metric { mm(length) } else { units::inch_32(length) };
        let name = row.name.trim_end_matches(" mm");
        if split {
            one(Measure::ScrewLength(told), "bracket.screws.length", Value::Quantity(Kind::Length, length))
        } else {
            let size = ScrewSize { row: row.name, length: Some(length) };
            one(Measure::Screws { size: name, length: told }, "bracket.screws.size", Value::Screw(size))
        }
    };
    let longer = s.screw.lengths.iter().filter(|l| **l > s.length + 0.5).take(3).map(|l| sized(&s.screw, *l));
    let shorter = s.screw.lengths.iter().rev().filter(|l| **l < s.length - 0.5).take(1).map(|l| sized(&s.screw, *l));
    let counts = [s.count + 2, s.count + 4].into_iter().filter(|n| *n <= 12).collect();
    let mut all = vec![
        Family { helps: SCREWS, steps: longer.collect() },
        Family { helps: DRILLING, steps: shorter.collect() },
        counted(SCREWS, Counted::Screws, "bracket.screws.count", counts),
    ];
    if s.head == Head::Pan {
        let washer = one(Measure::WasherHeads, "bracket.screws.head", Value::Word("washer"));
        all.push(Family { helps: SCREWS, steps: vec![washer] });
    }
    let thicker = screw::ALL.iter().find(|row| row.system == s.screw.system && row.diameter > s.screw.diameter + 0.1);
    if let Some(row) = thicker.filter(|row| !split && row.lengths.contains(&s.length)) {
        all.push(Family { helps: SCREWS, steps: vec![sized(row, s.length)] });
    }
    if !s.slots {
        all.push(Family { helps: UNDER, steps: vec![one(Measure::Slots, "bracket.screws.slots", Value::Flag(true))] });
    }
    all
}

fn hold(m: &Model) -> Vec<Family> {
    let h = &m.params.bracket.hold;
    let held = |ribs: bool, bonded: bool, cross_bolt: Option<f64>| {
        Hold { ribs, bonded, cross_bolt, rib_interference: 0.0 }.value()
    };
    let key = "bracket.hold";
    let mut steps = Vec::new();
    if h.cross_bolt.is_none() {
        let size = if m.params.legs.tube.outside < 12.0 { 3.0 } else { 4.0 };
        let value = held(h.ribs, h.bonded, Some(size));
        steps.push(one(Measure::CrossBolt(size), key, value));
    }
    let ribs = (!h.ribs && !h.bonded).then(|| one(Measure::Ribs, key, held(true, false, h.cross_bolt)));
    let bonded = (!h.bonded).then(|| one(Measure::Bonded, key, held(false, true, h.cross_bolt)));
    let larger = h
        .cross_bolt
        .filter(|d| *d < 6.0)
        .map(|d| one(Measure::ThickerCrossBolt(d + 1.0), key, held(h.ribs, h.bonded, Some(d + 1.0))));
    let each = [steps, ribs.into_iter().collect(), larger.into_iter().collect(), bonded.into_iter().collect()];
    each.into_iter().map(|steps| Family { helps: HOLD, steps }).collect()
}

fn feet(m: &Model) -> Vec<Family> {
    let foot = &m.params.foot;
    let deeper = longer_than_now(m, FOOT, Length::FootSocket, "foot.socket_depth", &[5.0, 10.0, 20.0]);
    let wider = match foot.kind {
        FootKind::Flat { .. } => longer_than_now(m, FEET, Length::Pad, "foot.pad_diameter", &[5.0, 10.0, 20.0]),
        FootKind::Levelling { bolt, .. } => {
            let sizes = bolt::ALL.iter().filter(|row| row.diameter > bolt.diameter);
            let steps = sizes.map(|row| one(Measure::LevellingBolts(row.name), "foot.bolt", Value::Word(row.name)));
            Family { helps: FEET, steps: steps.collect() }
        }
    };
    let mut all = vec![deeper, wider];
    if matches!(foot.kind, FootKind::Levelling { .. }) {
        let flat = [30.0, 40.0].map(|size| {
            one(
                Measure::FlatFeet(size),
                "foot",
                Value::Group(vec![
                    ("kind", Value::Word("flat")),
                    ("pad_diameter", length(size)),
                    ("socket_depth", length(foot.socket_depth)),
                ]),
            )
        });
        all.push(Family { helps: FEET, steps: flat.to_vec() });
    }
    all
}

fn ties(design: &Design, m: &Model) -> Vec<Family> {
    let walls = m.ties.iter().map(|kind| (kind.design.outer - kind.design.bore) / 2.0);
    let Some(wall) = walls.reduce(f64::max) else {
        return vec![counted(
            TUBES,
            Counted::Ties,
            "legs.ties",
            if m.params.legs.tubes > 1 { vec![2] } else { vec![] },
        )];
    };
    let listed = matches!(design.value("legs.ties"), Some(Value::Quantities(..)));
    let now = m.legs.iter().map(|leg| leg.ties.len()).max().unwrap_or(0);
    let more = if listed || now >= 6 || m.params.legs.tubes == 1 { vec![] } else { vec![now + 1] };
    vec![
        longer_than_now(m, TIES, Length::Tie, "tie.height", &[5.0, 10.0, 20.0]),
        longer(TIES, Length::TieWall, "tie.wall", wall, &[1.0, 2.0]),
        counted(TUBES, Counted::Ties, "legs.ties", more),
    ]
}

/// Heights at which rails are tried, mm above the floor: a foot's width over the mop.
const RAIL_HEIGHTS: [f64; 2] = [180.0, 150.0];
/// The lowest rail worth making, mm.
const LOW_RAIL: f64 = 80.0;

fn rails(design: &Design, m: &Model) -> Vec<Family> {
    let listed = match design.value("rails") {
        Some(Value::List(list)) => list.clone(),
        _ => Vec::new(),
    };
    let with = |measure: Measure, extra: Value| {
        let mut list = listed.clone();
        list.push(extra);
        one(measure, "rails", Value::List(list))
    };
    let mut all = Vec::new();
    for (run, words) in [(Run::AlongWidth, "along width"), (Run::AlongLength, "along length")] {
        if m.params.rails.iter().any(|r| r.run == run) {
            continue;
        }
        let height =
            m.params.rails.first().map_or(RAIL_HEIGHTS[0], |r| r.above_floor).min(m.params.height / 3.0).round();
        let rail = Value::Group(vec![("run", Value::Word(words)), ("above_floor", length(height))]);
        all.push(Family { helps: SWAY, steps: vec![with(Measure::Rails { run, height }, rail)] });
    }
    let across = if m.params.top.grain == Run::AlongLength { Run::AlongWidth } else { Run::AlongLength };
    let lower = m.params.rails.iter().enumerate().filter(|(_, r)| r.run == across && r.above_floor > LOW_RAIL + 20.0);
    all.extend(lower.map(|(i, _)| Family {
        helps: BETWEEN,
        steps: vec![one(Measure::LowRails(LOW_RAIL), &format!("rails[{i}].above_floor"), length(LOW_RAIL))],
    }));
    let kept: Vec<Value> =
        listed.iter().zip(&m.params.rails).filter(|(_, r)| r.run != across).map(|(value, _)| value.clone()).collect();
    if kept.len() < listed.len() {
        all.push(Family { helps: BETWEEN, steps: vec![one(Measure::NoRails, "rails", Value::List(kept))] });
    }
    all
}

/// The legs' tube as it is sold, where it is.
fn sold_now(m: &Model) -> Option<tube::Size> {
    let now = &m.params.legs.tube;
    let near = |s: &tube::Size| (s.outside - now.outside).abs() < 0.05 && (s.wall - now.wall).abs() < 0.03;
    tube::find_size(&now.name).or_else(|| tube::sizes().find(near))
}

/// Another tube for the legs, of the same metal.
fn another(design: &Design, size: &tube::Size) -> Change {
    let name = size.designation();
    let tube = TubeSize::read(&name);
    let tube = Value::Tube(tube.unwrap_or(TubeSize { name: name.clone(), outside: size.outside, wall: size.wall }));
    let value = match design.value("legs.tube.metal") {
        Some(metal) => Value::Group(vec![("size", tube), ("metal", metal.clone())]),
        None => tube,
    };
    one(Measure::Tube(name), "legs.tube", value)
}

/// A tube that the legs might have.
pub(super) struct Near {
    pub(super) name: String,
    /// None for the tube of the file.
    pub(super) change: Option<Change>,
}

/// Diameters smaller and larger than the file's that are compared with it (judgement: the next one each way tells the trend,
/// and each costs a solution of the table).
const NEAR: usize = 1;

/// The tubes sold round that of the file, thinnest first: of the diameters below and above it the wall nearest to its own.
/// Empty where the file's is not one sold.
pub(super) fn tubes_near(design: &Design, m: &Model) -> Vec<Near> {
    let Some(now) = sold_now(m) else { return Vec::new() };
    let mut diameters: Vec<f64> = tube::sizes().filter(|s| s.system == now.system).map(|s| s.outside).collect();
    diameters.dedup();
    let here = diameters.iter().position(|d| *d == now.outside).unwrap_or(0);
    let mut near: Vec<tube::Size> = Vec::new();
    for outside in &diameters[here.saturating_sub(NEAR)..diameters.len().min(here + NEAR + 1)] {
        let walls = tube::sizes().filter(|s| s.system == now.system && s.outside == *outside);
        near.extend(walls.min_by(|a, b| (a.wall - now.wall).abs().total_cmp(&(b.wall - now.wall).abs())));
    }
    let named =
        |size: &tube::Size| Near { name: size.designation(), change: (*size != now).then(|| another(design, size)) };
    near.iter().map(named).collect()
}

fn tubes(design: &Design, m: &Model) -> Vec<Family> {
    let legs = &m.params.legs;
    let now = sold_now(m);
    let chain = |next: fn(&tube::Size) -> Option<tube::Size>, count: usize| -> Vec<Change> {
        let first = now.as_ref().and_then(next);
        std::iter::successors(first, next).take(count).map(|size| another(design, &size)).collect()
    };
    let now_circle = legs.pitch_circle.unwrap_or(m.legs[0].frame.pitch_circle);
    let circle = if legs.tubes > 1 {
        longer(BUNDLE, Length::PitchCircle, "legs.pitch_circle", now_circle, &[6.0, 12.0, 24.0])
    } else {
        Family { helps: BUNDLE, steps: vec![] }
    };
    let more = (legs.tubes + 1..=(legs.tubes + 2).min(4)).collect();
    vec![
        circle,
        Family { helps: TUBES, steps: chain(tube::thicker, 2) },
        Family { helps: BUNDLE, steps: chain(tube::larger, 3) },
        counted(BUNDLE, Counted::Tubes, "legs.tubes", more),
    ]
}

fn layout(m: &Model) -> Vec<Family> {
    let legs = &m.params.legs;
    let outward = |from: Edges, key: &str, now: f64| {
        let steps = [15.0, 30.0, 45.0]
            .into_iter()
            .filter(|d| now - d >= 45.0)
            .map(|d| one(Measure::Inset { from, to: now - d, now }, key, length(now - d)));
        Family { helps: TIPPING, steps: steps.collect() }
    };
    let both = [15.0, 30.0, 45.0]
        .into_iter()
        .filter(|d| (legs.inset_from_ends - d).min(legs.inset_from_sides - d) >= 45.0)
        .map(|d| Change {
            measures: vec![Measure::Outward(d)],
            edits: vec![
                Edit::put("legs.inset_from_ends", length(legs.inset_from_ends - d)),
                Edit::put("legs.inset_from_sides", length(legs.inset_from_sides - d)),
            ],
        });
    let leaning = [4.0_f64, 8.0, 12.0].into_iter().filter(|d| d.to_radians() > legs.splay[0].max(legs.splay[1]) + 0.01);
    let leaning = leaning.map(|d| one(Measure::Splay(d), "legs.splay", Value::Quantity(Kind::Angle, d.to_radians())));
    let six = if legs.count == 4 && m.params.top.thickness_at_legs.is_empty() { vec![6] } else { vec![] };
    vec![
        outward(Edges::Ends, "legs.inset_from_ends", legs.inset_from_ends),
        outward(Edges::Sides, "legs.inset_from_sides", legs.inset_from_sides),
        Family { helps: TIPPING, steps: both.collect() },
        Family { helps: TIPPING, steps: leaning.collect() },
        counted(STANDS, Counted::Legs, "legs.count", six),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params;

    fn model(tube: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": {tube}}}, "loads": [{{"mass": "40 kg"}}]}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    /// Every change for a few tables, made to the values and to the text.
    #[test]
    fn a_change_of_values_is_a_change_of_the_text() {
        let plain = r#"{"top": {"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}, "height": "740 mm",
            "legs": {"tube": "25 x 2 mm"}, "loads": [{"mass": "40 kg"}]}"#;
        let inches = r##"{"top": {"length": "48 in", "width": "24 in", "thickness": "1 1/4 in"}, "height": "30 in",
            "legs": {"tube": {"size": "1 in x 16 ga", "metal": "mild steel"}}, "loads": [{"mass": "60 lb"}],
            "bracket": {"screws": {"size": "#8", "length": "1 1/4 in"}, "hold": "none"}}"##;
        let mut tried = 0;
        for text in [plain, inches, params::built_in()] {
            let (design, params) = params::read_design(text.as_bytes()).expect("read");
            let model = Model::new(&params).expect("a model");
            let steps = families(&design, &model).into_iter().flat_map(|family| family.steps);
            for change in steps.chain(tubes_near(&design, &model).into_iter().filter_map(|near| near.change)) {
                let values = design.edited(&change.edits).ok().and_then(|design| design.resolve().ok());
                let text = params::edited(text, &change.edits).ok().and_then(|text| params::read(&text).ok());
                let of = |params: Option<params::Params>| {
                    params.map(|mut params| {
                        params.units = units::System::Metric;
                        params.places.values_mut().for_each(|place| *place = crate::problem::Place::default());
                        format!("{params:?}")
                    })
                };
                assert!(of(values) == of(text), "{:?}", change.measures);
                tried += 1;
            }
        }
        assert!(tried > 100, "{tried}");
    }

    #[test]
    fn a_tube_is_known_as_sold_by_name_and_by_its_sizes() {
        let named = sold_now(&model(r#""25 x 2 mm""#)).expect("sold");
        assert_eq!((named.outside, named.wall), (25.0, 2.0));
        let measured = sold_now(&model(r#"{"outside": "25.02 mm", "wall": "2.02 mm"}"#));
        assert_eq!(measured.map(|s| s.designation()), Some(named.designation()));
        for other in [r#"{"outside": "25.4 mm", "wall": "2.3 mm"}"#, r#"{"outside": "23.3 mm", "wall": "2 mm"}"#] {
            assert!(sold_now(&model(other)).is_none_or(|s| s.designation() != named.designation()), "{other}");
        }
        assert!(sold_now(&model(r#"{"outside": "23.3 mm", "wall": "2 mm"}"#)).is_none(), "not sold");
    }
}

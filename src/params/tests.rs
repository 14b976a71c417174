//! Keys that are set, got and written back.

use std::path::Path;

use super::accept::{Accept, KEYS, Range, Shape, find};
use super::read::typed;
use super::*;

/// Files without problems: the examples, those of the figures and those of the verdicts.
fn good_files() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders =
        ["params", "tests/figures", "tests/verdicts"].map(|name| root.join(name).read_dir().expect("a folder"));
    let paths = folders.into_iter().flatten().map(|entry| entry.expect("an entry").path());
    let mut paths: Vec<_> = paths.filter(|path| path.extension().is_some_and(|end| end == "json")).collect();
    paths.sort();
    let text = |path: &Path| std::fs::read_to_string(path).expect("a text");
    let mut all: Vec<_> = paths.iter().map(|path| (path.display().to_string(), text(path))).collect();
    all.retain(|(_, text)| read(text).is_ok());
    let first = template(&Answers::default());
    all.push(("windows".into(), format!("\u{feff}{}", first.replace('\n', "\r\n"))));
    all.push(("compact".into(), first.lines().map(str::trim).collect()));
    all.push(("first".into(), first));
    all
}

/// All that was read, without lines and columns.
fn all_of(mut params: Params) -> String {
    params.units = units::System::Metric;
    params.places.values_mut().for_each(|place| *place = Place::default());
    format!("{params:?}")
}

/// Where two texts differ, with what stands before.
fn difference(one: &str, other: &str) -> Option<[String; 2]> {
    let at = one.bytes().zip(other.bytes()).position(|(a, b)| a != b).or((one.len() != other.len()).then_some(0))?;
    Some([one, other].map(|text| text.chars().skip(at.saturating_sub(200)).take(260).collect()))
}

fn some(random: &mut fastrand::Rng, range: Range) -> f64 {
    let system = if random.bool() { units::System::Metric } else { units::System::Inch };
    let value = range.least + random.f64() * (range.most - range.least);
    let text = match random.u8(0..3) {
        0 if range.kind == units::Kind::Length => units::inch_32(value),
        _ => units::show(range.kind, value, system),
    };
    units::read(range.kind, &text).expect("a quantity").value.clamp(range.least, range.most)
}

/// A value that a shape accepts; none for groups.
fn drawn(random: &mut fastrand::Rng, what: &Shape) -> Option<Value> {
    let one = |random: &mut fastrand::Rng, words: &[&'static str]| words[random.usize(..words.len())];
    let place = |random: &mut fastrand::Rng| {
        let share = random.u32(0..=20);
        if random.bool() {
            Coordinate::Share(f64::from(share) / 100.0)
        } else {
            Coordinate::Length(f64::from(share) + 0.5)
        }
    };
    Some(match *what {
        Shape::Text => Value::Text(format!("\"{}\" \\ ü", random.u16(..))),
        Shape::Flag => Value::Flag(random.bool()),
        Shape::Count(least, most) => Value::Count(random.usize(least..=most)),
        Shape::CountOf(counts) => Value::Count(counts[random.usize(..counts.len())]),
        Shape::Number(least, most) => Value::Number(least + random.f64() * (most - least)),
        Shape::Quantity(range) => Value::Quantity(range.kind, some(random, range)),
        Shape::Band(range) => {
            let mut ends = [some(random, range), some(random, range)];
            ends.sort_by(f64::total_cmp);
            Value::Band(range.kind, ends)
        }
        Shape::Quantities(range, least, most) => {
            let mut list: Vec<f64> = (0..random.usize(least..=most)).map(|_| some(random, range)).collect();
            list.sort_by(f64::total_cmp);
            Value::Quantities(range.kind, list)
        }
        Shape::Words(words) => Value::Word(one(random, words)),
        Shape::WordList(words) => Value::Words(vec![one(random, words)]),
        Shape::Row(table) => Value::Row(one(random, &table.names())),
        Shape::TubeSize => {
            let sizes: Vec<_> = crate::tables::tube::sizes().collect();
            Value::Tube(TubeSize::read(&sizes[random.usize(..sizes.len())].designation()).expect("a tube"))
        }
        Shape::ScrewSize => {
            let screw = &crate::tables::screw::ALL[random.usize(..crate::tables::screw::ALL.len())];
            let length = screw.lengths[random.usize(..screw.lengths.len())];
            Value::Screw(ScrewSize { row: screw.name, length: random.bool().then_some(length) })
        }
        Shape::Span(least, most) => Value::Span((least + random.f64() * (most - least)).round()),
        Shape::Point => Value::Point([place(random), place(random)]),
        Shape::Rectangle => Value::Rectangle([
            [place(random), Coordinate::Length(1.0)],
            [Coordinate::Share(0.75), Coordinate::Share(0.5)],
        ]),
        Shape::Group | Shape::Groups(..) => return None,
        Shape::Either(shapes) => {
            let shape = random.usize(..shapes.len());
            return drawn(random, &shapes[shape]);
        }
    })
}

/// A key of a file with a value, or without one.
fn edit(random: &mut fastrand::Rng, params: &Params) -> Edit {
    loop {
        let key = &KEYS[random.usize(..KEYS.len())];
        let rails = params.rails.len().max(1);
        let mut path = key.key.replace("rails[]", &format!("rails[{}]", random.usize(..rails)));
        path = path.replace("loads[]", &format!("loads[{}]", random.usize(..params.loads.len())));
        if key.key.starts_with("legs.tube.") && random.bool() {
            path = path.replace("legs.tube", &format!("rails[{}].tube", random.usize(..rails)));
        }
        if random.u8(..8) == 0 {
            return Edit::without(path);
        }
        if let Some(value) = drawn(random, &key.what) {
            return Edit::put(path, value);
        }
    }
}

#[test]
fn a_changed_text_gives_what_the_changed_values_give() {
    let mut random = fastrand::Rng::with_seed(7);
    let (mut read_both, mut refused) = (0, 0);
    for (name, text) in good_files() {
        let (design, params) = read_design(text.as_bytes()).expect("a good file");
        let again = design.resolve().expect("as it was");
        assert_eq!(difference(&all_of(again), &all_of(params.clone())), None, "{name}");
        for _ in 0..60 {
            let edits: Vec<Edit> = (0..random.usize(1..4)).map(|_| edit(&mut random, &params)).collect();
            let (changed, text) = match (design.edited(&edits), edited(&text, &edits)) {
                (Ok(changed), Ok(text)) => (changed, text),
                (Err(one), Err(other)) if one == other => continue,
                (one, other) => panic!("{name}: {edits:?}: {:?}, {other:?}", one.err()),
            };
            match (changed.resolve(), read(&text)) {
                (Ok(one), Ok(other)) => {
                    assert_eq!(difference(&all_of(one), &all_of(other)), None, "{name}: {edits:?}\n{text}");
                }
                (Err(_), Err(_)) => refused += 1,
                (one, other) => panic!("{name}: {edits:?}\n{text}\n{:?}\n{:?}", one.err(), other.err()),
            }
            read_both += 1;
        }
    }
    assert!(read_both - refused > 500, "{refused} of {read_both} are refused");
}

#[test]
fn what_an_edit_does_not_touch_stays_as_it_was() {
    let mut random = fastrand::Rng::with_seed(8);
    for (name, text) in good_files().into_iter().filter(|(name, _)| name != "compact") {
        let (design, params) = read_design(text.as_bytes()).expect("a good file");
        for _ in 0..20 {
            let edit = edit(&mut random, &params);
            let Ok(after) = edited(&text, std::slice::from_ref(&edit)) else { continue };
            assert_eq!(after.matches("\"note\"").count(), text.matches("\"note\"").count(), "{name}: {edit:?}");
            let top = edit.key.split(['.', '[']).next().unwrap_or_default();
            let kept = text
                .lines()
                .filter(|line| !after.lines().any(|other| other.trim_end_matches(',') == line.trim_end_matches(',')));
            let lost: Vec<_> = kept.collect();
            let most = 1 + design.value(top).map_or(0, |_| text.lines().count() / 2);
            assert!(lost.len() <= most, "{name}: {edit:?}: {lost:#?}");
            let back = typed(after.as_bytes()).expect("still read");
            let others = |design: &Design| {
                let keys = ["title", "top", "height", "legs", "rails", "bracket", "loads", "foot", "printing"];
                let keys = keys.into_iter().filter(|key| *key != top);
                keys.map(|key| format!("{:?}", design.value(key))).collect::<Vec<_>>()
            };
            assert_eq!(others(&back), others(&design), "{name}: {edit:?}");
        }
    }
}

/// Ways to write a value that mean another's.
fn meant(key: &str, value: Value) -> Value {
    match value {
        Value::Word("cross bolt") => Value::Words(vec!["cross bolt M4"]),
        Value::Word(word) if key == "bracket.hold" && word != "none" => Value::Words(vec![word]),
        Value::Words(words) if words == ["cross bolt"] => Value::Words(vec!["cross bolt M4"]),
        Value::Words(words) if words == ["none"] => Value::Word("none"),
        Value::Quantities(kind, mut list) if ["cutting.stock", "legs.splay"].contains(&key) => {
            list.dedup();
            if list.len() == 1 { Value::Quantity(kind, list[0]) } else { Value::Quantities(kind, list) }
        }
        other => other,
    }
}

/// A file that has every list and group once, so that each key holds.
fn design(key: &Accept) -> (Design, Params) {
    let mut file = serde_json::json!({
        "top": { "length": "4000 mm", "width": "2000 mm", "thickness": "38 mm" },
        "height": "860 mm",
        "legs": { "tube": { "outside": "16 mm", "wall": "1.5 mm" } },
        "rails": [{ "run": "along width", "above_floor": "180 mm" }],
        "loads": [{ "mass": "60 kg" }],
    });
    if ["foot.bolt", "foot.stand_off"].contains(&key.key) {
        file["foot"] = serde_json::json!({ "kind": "levelling" });
    }
    let load = match key.key {
        "loads[].force" => serde_json::json!({}),
        "loads[].shaking" | "loads[].direction" => serde_json::json!({ "force": "60 N" }),
        "loads[].moving" => serde_json::json!({ "stroke": "6 mm", "shaking": "3 Hz" }),
        "loads[].stroke" => serde_json::json!({ "moving": "6 kg", "shaking": "3 Hz" }),
        _ => file["loads"][0].clone(),
    };
    file["loads"][0] = load;
    if ["loads[].force", "loads[].moving", "loads[].stroke"].contains(&key.key) {
        let typed = typed(file.to_string().as_bytes()).expect("typed");
        return (typed, read(r#"{"top": {"length": "4000 mm", "width": "2000 mm", "thickness": "38 mm"}, "height": "860 mm", "legs": {"tube": "16 x 1.5 mm"}, "loads": [{"mass": "1 kg"}]}"#).expect("read"));
    }
    read_design(file.to_string().as_bytes()).expect("read")
}

#[test]
fn every_key_that_is_set_is_got() {
    let mut random = fastrand::Rng::with_seed(9);
    let mut put = std::collections::BTreeSet::new();
    for key in KEYS.iter().filter(|key| !["legs.tube.size", "legs.tube.measured", "legs.tube.wall"].contains(&key.key))
    {
        let (file, before) = design(key);
        let path = key.key.replace("[]", "[0]");
        assert_eq!(find(&path).map(|(found, _)| found.key), Some(key.key));
        let (mut set, mut told) = (0, std::collections::BTreeSet::new());
        for _ in 0..40 {
            let Some(value) = drawn(&mut random, &key.what) else { continue };
            let changed = file.edited(&[Edit::put(&path, value.clone())]);
            let changed = changed.unwrap_or_else(|refused| panic!("{path} {value:?}: {refused:?}"));
            assert_eq!(changed.value(&path).map(|kept| format!("{kept:?}")), Some(format!("{value:?}")));
            let Ok(params) = changed.resolve() else { continue };
            set += 1;
            told.insert(all_of(params.clone()));
            let Some(got) = params.value(&path) else { continue };
            let mut in_place = before.clone();
            if in_place.put(&path, Some(&value)) {
                assert_eq!(in_place.value(&path), Some(got.clone()), "{path} in place");
                put.insert(key.key);
            }
            let (got, want) = match (got, meant(key.key, value)) {
                (got @ Value::Point(_), want @ Value::Point(_))
                | (got @ Value::Rectangle(_), want @ Value::Rectangle(_)) => (on_top(&got), on_top(&want)),
                (Value::Screw(got), Value::Screw(ScrewSize { row, length: None })) => {
                    (Value::Row(got.row), Value::Row(row))
                }
                pair => pair,
            };
            assert_eq!(got, want, "{path}");
        }
        let group = matches!(key.what, Shape::Group | Shape::Groups(..));
        assert!(group || (set > 0 && (told.len() > 1 || !told.contains(&all_of(before)))), "nobody reads {path}");
    }
    assert!(put.len() > 55, "{put:?}");
}

/// Places on the top as lengths, mm.
fn on_top(value: &Value) -> Value {
    let corner = |at: &[Coordinate; 2]| {
        [0, 1].map(|i| match at[i] {
            Coordinate::Share(share) => Coordinate::Length([4000.0, 2000.0][i] * share),
            length => length,
        })
    };
    match value {
        Value::Point(at) => Value::Point(corner(at)),
        Value::Rectangle(corners) => {
            let [a, b] = [corner(&corners[0]), corner(&corners[1])].map(|c| {
                c.map(|c| match c {
                    Coordinate::Length(length) | Coordinate::Share(length) => length,
                })
            });
            let pairs = [0, 1].map(|i| [a[i].min(b[i]), a[i].max(b[i])]);
            Value::Rectangle([0, 1].map(|end| [0, 1].map(|i| Coordinate::Length(pairs[i][end]))))
        }
        other => other.clone(),
    }
}

/// A length that stood within the size stands beside it once the size is an object.
#[test]
fn a_screw_said_with_its_length_takes_numbers_of_its_own() {
    let text = r#"{"top": {"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}, "height": "740 mm", "legs": {"tube": "25 x 2 mm"},
"bracket": {"screws": {"size": "5 x 30 mm"}}, "loads": [{"mass": "40 kg"}]}"#;
    let number = |key: &str, mm: f64| Edit::put(key, Value::Quantity(units::Kind::Length, mm));
    let edits = [number("bracket.screws.size.root", 3.1), number("bracket.screws.size.head_diameter", 9.5)];
    let after = edited(text, &edits).expect("written");
    let (from_text, _) = read_design(after.as_bytes()).expect("read back");
    let (design, _) = read_design(text.as_bytes()).expect("a good file");
    for design in [from_text, design.edited(&edits).expect("edited")] {
        let screws = design.resolve().expect("resolved").bracket.screws;
        let screw = screws.screw;
        assert_eq!((screws.length, screw.diameter, screw.root, screw.pan.diameter), (30.0, 5.0, 3.1, 9.5));
    }
}

#[test]
fn a_file_in_inches_is_edited_in_inches() {
    let text = "{\r\n  \"top\": { \"length\": \"48 in\", \"width\": \"24 in\", \"thickness\": \"1 1/4 in\", \"note\": \"oak?\" },\r\n  \"height\": \"30 in\",\r\n  \"legs\": { \"tube\": \"1 in x 16 ga\" },\r\n  \"loads\": [\r\n    { \"mass\": \"60 lb\" }\r\n  ]\r\n}\r\n";
    let inches = |parts: f64| Value::Quantity(units::Kind::Length, parts / 16.0 * units::INCH);
    let rail = Value::Group(vec![("run", Value::Word("along width")), ("above_floor", inches(112.0))]);
    let edits = [
        Edit::put("top.thickness", inches(24.0)),
        Edit::put("bracket.plate", inches(5.0)),
        Edit::put("bracket.screws.count", Value::Count(10)),
        Edit::put("rails", Value::List(vec![rail])),
        Edit::put("legs.tube.metal", Value::Row("mild steel")),
        Edit::put("legs.splay", Value::Quantity(units::Kind::Angle, 4_f64.to_radians())),
        Edit::put("life", Value::Quantity(units::Kind::Time, 10.0)),
    ];
    let want = "{\r\n  \"top\": { \"length\": \"48 in\", \"width\": \"24 in\", \"thickness\": \"1 1/2 in\", \"note\": \"oak?\" },\r\n  \"height\": \"30 in\",\r\n  \"legs\": { \"splay\": \"4 deg\", \"tube\": { \"size\": \"1 in x 16 ga\", \"metal\": \"mild steel\" } },\r\n  \"rails\": [{ \"run\": \"along width\", \"above_floor\": \"7 in\" }],\r\n  \"bracket\": { \"plate\": \"5/16 in\", \"screws\": { \"count\": 10 } },\r\n  \"loads\": [\r\n    { \"mass\": \"60 lb\" }\r\n  ],\r\n  \"life\": \"10 years\"\r\n}\r\n";
    assert_eq!(edited(text, &edits).as_deref(), Ok(want));
}

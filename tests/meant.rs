//! What is wrong in a file is answered with what was meant: nothing is offered that is then refused, and no figure is
//! made up.

use serde_json::{Value, json};
use underframe::params;
use underframe::problem::Problem;

/// A table in millimetres that is read.
fn metric() -> Value {
    json!({
        "top": { "length": "900 mm", "width": "500 mm", "thickness": "30 mm" },
        "height": "700 mm", "legs": { "tube": "25 x 2 mm" }, "loads": [{ "mass": "30 kg" }],
    })
}

/// The same in inches.
fn inches() -> Value {
    json!({
        "top": { "length": "36 in", "width": "24 in", "thickness": "1 1/4 in" },
        "height": "30 in", "legs": { "tube": "1 in x 16 ga" }, "loads": [{ "mass": "60 lb" }],
    })
}

/// The file with a value at a path such as `loads.0.at`.
fn with(mut file: Value, path: &str, value: &Value) -> Value {
    let mut at = &mut file;
    for part in path.split('.') {
        at = match part.parse::<usize>() {
            Ok(index) => &mut at[index],
            Err(_) => &mut at[part],
        };
    }
    at.clone_from(value);
    file
}

fn problems(file: &Value) -> Vec<Problem> {
    params::read(&file.to_string()).err().unwrap_or_default()
}

fn describe(file: &Value) -> String {
    problems(file).iter().map(|problem| format!("{problem}\n")).collect()
}

/// Values that a hint says may be written: `write "a" or ["b", "c"]`.
fn offered(problem: &Problem) -> Vec<Value> {
    let Some(list) = problem.hint.as_deref().and_then(|hint| hint.strip_prefix("write ")) else { return Vec::new() };
    let whole: Option<Vec<Value>> = list.split(" or ").map(|value| serde_json::from_str(value).ok()).collect();
    whole.unwrap_or_default()
}

/// Path, what was written, what is offered.
fn cases() -> Vec<(&'static str, Value, Vec<Value>)> {
    vec![
        ("legs.tube", json!("25 x 1,5 mm"), vec![json!("25 x 1.5 mm")]),
        ("legs.tube", json!("25,4 x 2"), vec![json!("25.4 x 2 mm")]),
        ("legs.tube", json!({ "size": "1,5 x 16 ga" }), vec![json!("1.5 in x 16 ga")]),
        ("legs.tube", json!("25 x 2"), vec![json!("25 x 2 mm")]),
        (
            "legs.tube",
            json!("12 mm"),
            vec![json!("12 x 1 mm"), json!("12 x 1.5 mm"), json!("12 x 2 mm"), json!("12 x 2.5 mm")],
        ),
        ("loads.0.at", json!([0.5, 0.5]), vec![json!(["50 %", "50 %"])]),
        (
            "loads.0.at",
            json!([20, 10]),
            vec![json!(["20 %", "10 %"]), json!(["20 mm", "10 mm"]), json!(["20 in", "10 in"])],
        ),
        ("loads.0.at", json!(["450", 250]), vec![json!(["450 mm", "250 mm"])]),
        ("printing.infill", json!(0.4), vec![json!("40 %")]),
        ("printing.infill", json!("0.4"), vec![json!("40 %")]),
        ("place.humidity", json!([0.3, "0.3"]), vec![json!("30 %")]),
        ("height", json!("0,8 m"), vec![json!("0.8 m")]),
        ("height", json!(30), vec![json!("30 in")]),
        ("bracket.screws.size", json!("4,5 x 30 mm"), vec![json!("4.5 x 30 mm")]),
        ("bracket.screws.size", json!("#8 x 1,25 in"), vec![json!("#8 x 1.25 in")]),
        ("bracket.screws.size", json!("#8 x 30"), vec![json!("#8 x 30 mm")]),
    ]
}

#[test]
fn what_is_offered_is_what_was_meant_and_is_accepted() {
    for (path, written, meant) in cases() {
        for (file, in_inches) in [(metric(), false), (inches(), true)] {
            let found = problems(&with(file.clone(), path, &written));
            let [problem, ..] = &found[..] else { panic!("{path} {written} is accepted") };
            let mut all = offered(problem);
            assert!(!all.is_empty(), "{problem}");
            for value in &all {
                let key = problem.key.replace('[', ".").replace(']', "");
                let left = problems(&with(with(file.clone(), path, &written), &key, value));
                assert!(left.iter().all(|p| p.key != problem.key), "{value} is refused: {left:?}");
            }
            let mut meant = meant.clone();
            if in_inches {
                all.sort_by_key(ToString::to_string);
                meant.sort_by_key(ToString::to_string);
            }
            assert_eq!(all, meant, "{problem}");
        }
    }
}

#[test]
fn a_word_was_answered_with_a_made_up_figure() {
    for (path, word) in
        [("top.length", "wide"), ("life", "long"), ("legs.splay", "steep"), ("printing.infill", "gyroid")]
    {
        let told = describe(&with(metric(), path, &json!(word)));
        assert!(told.contains(" looks like ") && told.contains("accepted: ") && !told.contains("write"), "{told}");
    }
}

#[test]
fn a_trade_size_of_conduit_was_answered_with_the_whole_list() {
    for (written, meant) in
        [("0.5 in EMT", "1/2 EMT"), ("0.75 EMT", "3/4 EMT"), ("27 mm EMT", "1 EMT"), ("2.5 EMT", "2 EMT")]
    {
        let text = describe(&with(metric(), "legs.tube", &json!(written)));
        assert!(text.contains(&format!("did you mean \"{meant}\"?")), "{text}");
        assert_eq!(describe(&with(metric(), "legs.tube", &json!(meant))), "");
    }
}

#[test]
fn an_empty_text_was_not_known_or_could_not_be_printed() {
    let paths =
        ["title", "loads.0.name", "top.wood", "top.wood.name", "legs.tube", "bracket.hold", "bracket.screws.size"];
    for (path, text) in paths.into_iter().flat_map(|path| [(path, ""), (path, "  ")]) {
        let told = describe(&with(metric(), path, &json!(text)));
        assert!(told.contains(&format!("{path} is empty").replace(".0.", "[0].")), "{told}");
    }
}

#[test]
fn files_in_inches_were_answered_in_millimetres() {
    let mut missing = inches();
    missing["top"].as_object_mut().expect("an object").remove("length");
    missing.as_object_mut().expect("an object").remove("height");
    let measured = with(inches(), "legs.tube", &json!({ "size": "1 in x 16 ga", "measured": "1.02 in" }));
    let wall = with(inches(), "legs.tube", &json!({ "outside": "1 in", "wall": "1/2 in" }));
    let null = with(inches(), "height", &Value::Null);
    for file in [missing, measured, wall, null] {
        let told = describe(&file);
        let alone = |line: &str| line.contains(" mm") && !line.contains(" in");
        assert!(!told.is_empty() && !told.lines().any(alone), "{told}");
    }
}

#[test]
fn screws_for_files_in_inches_were_offered_in_millimetres() {
    let suggested = |file: &Value| {
        let params = params::read(&file.to_string()).expect("read");
        let found = underframe::model::Model::new(&params).err().unwrap_or_default();
        found.into_iter().flat_map(|problem| problem.suggestions).collect::<Vec<_>>()
    };
    for thickness in ["1/2 in", "3/4 in", "7/8 in", "1 in", "1 1/4 in"] {
        for plate in ["1/8 in", "3/8 in", "1/2 in", "3/4 in", "7/8 in"] {
            let file = with(with(inches(), "top.thickness", &json!(thickness)), "bracket.plate", &json!(plate));
            for change in suggested(&file) {
                let told = change.to_string();
                assert!(change.key == "bracket.screws.size" || !told.contains(" mm"), "{thickness} {plate}: {told}");
            }
        }
    }
    let long = suggested(&with(inches(), "bracket.screws.length", &json!("3 in")));
    assert_eq!(long[0].to_string(), "bracket.screws.size \"#8 x 1 1/4 in\"");
    let plate = suggested(&with(with(inches(), "top.thickness", &json!("1/2 in")), "height", &json!("31 in")));
    assert!(plate.iter().any(|change| change.to_string() == "bracket.plate \"3/8 in\""), "{plate:?}");
}

#[test]
fn one_slip_at_every_leg_was_told_once_for_each() {
    let told = |list: Value| describe(&with(metric(), "top.thickness_at_legs", &list));
    let all = told(json!([30, 30, 30, 30]));
    assert_eq!(all.matches("30 has no unit (legs 1, 2, 3 and 4)").count(), 1, "{all}");
    assert_eq!(all.matches("has no unit").count(), 1, "{all}");
    let two = told(json!(["30,5 mm", "30 mm", "30,5 mm", "31,5 mm"]));
    assert!(two.contains("(legs 1 and 3)") && two.contains("[3]: \"31,5 mm\"") && two.lines().count() == 4, "{two}");
    let mut rails = metric();
    let rail = json!({ "run": "along length", "above_floor": "250 mm" });
    rails["rails"] = json!([rail, rail]);
    let params = params::read(&rails.to_string()).expect("read");
    let found = underframe::model::Model::new(&params).expect_err("two rails in one place");
    let meeting: Vec<_> = found.iter().filter(|p| p.message.contains("two rails meet at every leg")).collect();
    assert!(matches!(meeting[..], [one] if one.key == "rails[1]"), "{found:?}");
}

#[test]
fn figures_were_shown_with_all_their_binary_digits() {
    let mut file = inches();
    file["bracket"] = json!({});
    let own = json!({ "diameter": "0.164 in", "root": "0.1 in" });
    for size in [json!("#8 x 1 1/4 in"), own] {
        file["bracket"]["screws"] = json!({ "size": size });
        if size.is_object() {
            file["bracket"]["screws"]["length"] = json!("1 1/4 in");
        }
        let judged = underframe::judge(file.to_string().as_bytes(), &|_| ()).expect("judged");
        let steps = judged.checked.checks.iter().flat_map(|check| &check.working).map(|step| step.text());
        let cautions = judged.checked.cautions.iter().map(|caution| caution.text());
        for text in steps.chain(cautions) {
            let longest = text.split(|c: char| !c.is_ascii_digit()).map(str::len).max().unwrap_or(0);
            assert!(longest <= 9, "{text}");
        }
    }
}

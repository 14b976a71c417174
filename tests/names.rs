//! What users call their own materials is what every paper calls them.

use serde_json::{Value, json};

/// Names that nothing else is called.
const OWN: [&str; 4] = ["zebu plank", "moon alloy", "newt plastic", "yak screw"];
/// The rows that they are like, and what an own row is called inside.
const INNER: [&str; 7] =
    ["rock elm", "steel S355", "own wood", "own metal", "own filament", "own screw", "western redcedar"];

/// A table of own materials, rails of the legs' tube.
fn file(metal: &str, filament: &str) -> Value {
    json!({
        "title": "Names",
        "top": {
            "length": "1000 mm", "width": "600 mm", "thickness": "38 mm",
            "wood": { "name": OWN[0], "like": "rock elm" },
        },
        "height": "600 mm",
        "legs": { "tube": { "size": "30 x 2 mm", "metal": { "name": OWN[1], "like": metal } } },
        "rails": [{ "run": "along width", "above_floor": "150 mm" }],
        "bracket": { "screws": { "size": { "name": OWN[3], "like": "4.5 mm" }, "length": "30 mm" } },
        "printing": { "filament": { "name": OWN[2], "like": filament } },
        "loads": [{ "mass": "20 kg" }],
    })
}

/// The bytes as text; what is not a text is searched as it is.
fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// Without what the file itself says, which record and report may hold.
fn without_file(text: &str) -> String {
    let mut shown = text.to_owned();
    for quote in ["\"", "\\\"", "&quot;", "&#34;"] {
        for row in ["rock elm", "steel S355", "PLA"] {
            for between in [":", ": "] {
                shown = shown.replace(&format!("like{quote}{between}{quote}{row}{quote}"), "");
            }
        }
    }
    shown
}

#[test]
fn the_tables_name_stood_for_the_users_own() {
    let file = file("steel S355", "PLA");
    let made = underframe::make(file.to_string().as_bytes(), &|_| ()).expect("a kit");
    let files = made.files;
    let mut seen = [0; 4];
    for (name, bytes) in &files {
        let shown = without_file(&text(bytes));
        for inner in INNER {
            assert!(!shown.contains(inner), "{name} says {inner}: {}", around(&shown, inner));
        }
        for (count, own) in seen.iter_mut().zip(OWN) {
            *count += usize::from(shown.contains(own));
        }
    }
    assert!(seen.iter().all(|count| *count >= 2), "{seen:?}");
    for (paper, own) in [
        ("cut_list.csv", OWN[1]),
        ("hardware.csv", OWN[2]),
        ("hardware.csv", OWN[3]),
        ("report.html", OWN[0]),
        ("report.html", OWN[1]),
        ("report.html", OWN[2]),
        ("record.json", OWN[1]),
        ("record.json", OWN[2]),
    ] {
        assert!(text(&files[paper]).contains(own), "{paper} does not say {own}");
    }
}

fn around(text: &str, word: &str) -> String {
    let at = text.find(word).unwrap_or(0);
    let from = text[..at].char_indices().rev().nth(80).map_or(0, |(i, _)| i);
    text[from..].chars().take(200).collect()
}

#[test]
fn steps_and_cautions_called_the_users_filament_by_its_table() {
    let file = file("steel S355", "PLA").to_string();
    let judged = underframe::judge(file.as_bytes(), &|_| ()).expect("judged");
    let steps: Vec<String> =
        judged.checked.checks.iter().flat_map(|check| &check.working).map(|step| step.text()).collect();
    let cautions: Vec<String> = judged.checked.cautions.iter().map(|caution| caution.text()).collect();
    for text in steps.iter().chain(&cautions) {
        assert!(INNER.iter().chain(&["PLA"]).all(|inner| !text.contains(inner)), "{text}");
    }
    assert!(steps.iter().any(|text| text.contains(OWN[2])) && cautions.iter().any(|text| text.contains(OWN[2])));
}

#[test]
fn rails_of_the_legs_tube_lost_its_metals_name() {
    let params = underframe::params::read(&file("steel S355", "PLA").to_string()).expect("read");
    assert_eq!((params.metal_name(), params.rail_metal_name(0)), (OWN[1], OWN[1]));
    let mut two = file("steel S355", "PLA");
    two["rails"][0]["tube"] = json!("25 x 2 mm");
    let params = underframe::params::read(&two.to_string()).expect("read");
    assert_eq!((params.metal_name(), params.rail_metal_name(0)), (OWN[1], "steel S235"));
    assert_eq!(params.tube_to_buy(Some(0)), "25 x 2 mm, steel S235");
    let plain = underframe::params::read(underframe::params::built_in()).expect("read");
    assert_eq!(plain.tube_to_buy(None), plain.legs.tube.name);
}

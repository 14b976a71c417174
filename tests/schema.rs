//! The JSON Schema against the examples, against wrong files and against the reader.

use std::path::Path;

use jsonschema::Validator;
use proptest::prelude::*;
use serde_json::{Value, json};
use underframe::params::{Answers, read, schema, template};

fn validator() -> Validator {
    let schema: Value = serde_json::from_str(&schema()).expect("the schema is JSON");
    jsonschema::draft202012::meta::validate(&schema).expect("the schema is a schema");
    jsonschema::draft202012::new(&schema).expect("the schema compiles")
}

fn examples() -> Vec<(String, Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("params");
    let mut files: Vec<_> = folder.read_dir().expect("params").map(|entry| entry.expect("entry").path()).collect();
    files.sort();
    let read = |path: &Path| std::fs::read_to_string(path).expect("example");
    files.iter().map(|path| (path.display().to_string(), serde_json::from_str(&read(path)).expect("JSON"))).collect()
}

fn bench() -> Value {
    serde_json::from_str(underframe::params::built_in()).expect("JSON")
}

/// The bench with one value replaced or added.
fn with(pointer: &str, value: Value) -> Value {
    let mut bench = bench();
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer");
    match bench.pointer_mut(parent).expect("a place") {
        Value::Object(object) => drop(object.insert(name.into(), value)),
        Value::Array(list) => list[name.parse::<usize>().expect("an index")] = value,
        other => panic!("{other} holds nothing"),
    }
    bench
}

#[test]
fn every_example_is_read_and_fits_the_schema() {
    let validator = validator();
    let examples = examples();
    assert!(examples.len() >= 6);
    for (name, value) in examples {
        assert!(read(&value.to_string()).is_ok(), "{name}: {:?}", read(&value.to_string()).err());
        let errors: Vec<_> = validator.iter_errors(&value).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
    }
}

#[test]
fn the_first_file_fits_the_schema() {
    let value: Value = serde_json::from_str(&template(&Answers::default())).expect("JSON");
    assert!(validator().is_valid(&value));
}

#[test]
fn wrong_files_fit_neither_schema_nor_reader() {
    let wrong = [
        ("/top/length", json!(1500)),
        ("/top/length", json!("1500")),
        ("/top/length", json!("1500 kg")),
        ("/top/length", json!("1,5 m")),
        ("/top/lenght", json!("1500 mm")),
        ("/top/wood", json!("granite")),
        ("/top/grain", json!("across")),
        ("/top/wood", json!({ "densty": "600 kg/m3" })),
        ("/height", json!(null)),
        ("/legs/count", json!(5)),
        ("/legs/tubes", json!("3")),
        ("/legs/tubes", json!(2.5)),
        ("/legs/tube", json!("25")),
        ("/legs/tube", json!({ "outside": "25 mm" })),
        ("/legs/tube", json!({ "size": "25 x 2 mm", "wall": "2 mm" })),
        ("/legs/ties", json!("two")),
        ("/legs/splay", json!(["4 deg"])),
        ("/rails/0", json!({ "run": "along width" })),
        ("/bracket/hold", json!(["glue"])),
        ("/bracket/screws/size", json!("large")),
        ("/bracket/screws/slots", json!("yes")),
        ("/foot/bolt", json!("M7")),
        ("/printing/bed", json!(["220 mm", "220 mm"])),
        ("/printing/infill", json!("40 mm")),
        ("/printing/price_per_kg", json!("20")),
        ("/loads", json!([])),
        ("/loads/0/force", json!("20 N")),
        ("/loads/0/at", json!(["50 %", "50 %"])),
        ("/loads/1/at", json!(["50 %"])),
        ("/loads/1/lasts", json!("ages")),
        ("/place/temperature", json!("20 C")),
        ("/life", json!("5 kg")),
    ];
    let validator = validator();
    for (pointer, value) in wrong {
        let file = with(pointer, value);
        assert!(!validator.is_valid(&file), "the schema takes {pointer}: {file}");
        assert!(read(&file.to_string()).is_err(), "the reader takes {pointer}: {file}");
    }
}

/// Pointers of quantities of every kind, with texts near to what each takes.
const QUANTITIES: &[&str] = &[
    "/top/length",
    "/top/mass",
    "/legs/splay",
    "/legs/tube/wall",
    "/loads/2/force",
    "/place/temperature/1",
    "/place/humidity/0",
    "/life",
    "/loads/2/shaking",
    "/joints/stiffness",
    "/loads/1/at/0",
    "/bracket/screws/size",
    "/legs/tube",
    "/rails/0/tube",
    "/limits/sag",
    "/bracket/hold",
    "/printing/filament",
    "/top/wood",
    "/loads/2/direction",
];

fn bench_with(pointer: &str, text: &str) -> Value {
    let mut value = json!(text);
    let mut pointer = pointer.to_owned();
    for group in ["/joints", "/limits"] {
        if let Some(name) = pointer.strip_prefix(group) {
            value = json!({ &name[1..]: value });
            pointer = group.into();
        }
    }
    with(&pointer, value)
}

/// Texts that hold most of the forms people use.
fn texts() -> impl Strategy<Value = String> {
    let number = "[0-9]{1,4}|[0-9]{1,3}[.][0-9]{1,3}|[.][0-9]{1,2}|[0-9]{1,2} [1-7]/8|[0-9]-1/2|[1-9]/16|[0-9]? ?[½¼⅜]|[1-9]e[0-3]";
    let unit = "mm|MM|cm|m|in|In[.]|\"|″|''|'|ft|thou| ga| BWG|kg|lb[s]?[.]?|g|N|kN|lbf|deg|°| C|°F|%| %|years?|months|Hz|rpm|N m/rad|N·m/rad|Nm/deg|";
    let one = (number, " ?", unit).prop_map(|(number, gap, unit)| format!("{number}{gap}{unit}"));
    let two = (one.clone(), " ?[-x×]? ?", one.clone()).prop_map(|(a, between, b)| format!("{a}{between}{b}"));
    let word = "span ?/ ?[0-9]{2,4}|L/300|#8|no[.] 8|4.5|[#]8 x 1 1/4 in|ribs|Cross Bolt m4|petg|WHITE ash|white-ash|[-+][xyXY]|1/2 EMT|Emt 3/4|rigid";
    prop_oneof![3 => one, 2 => two, 1 => word.prop_map(String::from)]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, ..ProptestConfig::default() })]

    #[test]
    fn the_schema_takes_whatever_the_reader_takes(pointer in proptest::sample::select(QUANTITIES), text in texts()) {
        thread_local!(static VALIDATOR: Validator = validator());
        let file = bench_with(pointer, &text);
        if read(&file.to_string()).is_ok() {
            prop_assert!(VALIDATOR.with(|validator| validator.is_valid(&file)), "{} {}", pointer, text);
        }
    }
}

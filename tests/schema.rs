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

/// Pointers of values of every shape, with patterns of texts that are at least near to what each takes.
const VALUES: &[(&str, &str)] = &[
    (
        "/top/length",
        "(1[0-9]{3}|[1-3][.][0-9]e3) ?(mm|MM|Millimetres)|[1-3]([.][0-9])? ?(m|metres?)|[2-9][0-9] ?(in|In[.]|\"|″|'')",
    ),
    (
        "/top/width",
        "[1-5] ?(ft|'|feet) ?-? ?([0-9]{1,2}|[0-9][ -][1-7]/8|[0-9]? ?[½¼⅜]) ?(in|\"|inches|″)|1[0-9]{2} ?cm",
    ),
    ("/top/mass", "[1-9][0-9] ?(kg|KG|lb|lbs[.]|kilos)|[1-9] ?lb ?[0-9]{1,2} ?oz|[1-9][0-9]{3} ?(g|grams)"),
    ("/legs/splay", "(1?[0-9]|[0-9][.][0-9]|[0-9]½) ?(deg|°|º|Degrees)|0[.][0-3] ?rad|-[1-9] deg"),
    ("/legs/tube/wall", "[12]([.][0-9])? ?mm|0?[.]0[3-9][0-9]? ?(in|\")|(1[0-9]|2[0-4]) ?(ga|GA[.]|gauge|BWG)|1/16 in"),
    ("/loads/2/force", "[1-9][0-9]{1,2} ?(N|newtons?|lbf|kgf)|[1-5]([.][0-9])? ?kN"),
    ("/place/temperature/1", "[3-5][0-9] ?(C|°C|deg C|℃)|(9[0-9]|1[0-3][0-9]) ?(F|°F|fahrenheit)"),
    ("/place/humidity/0", "([1-9][0-9]|5[.]5) ?(%|percent)"),
    ("/life", "[1-9] ?(years?|yrs?|Y)|[1-9][0-9] ?(months?|weeks?)|[1-9][0-9]{2} ?days"),
    ("/loads/2/shaking", "[1-9][0-9]? ?(Hz|hertz)|[1-9][0-9]{2} ?(rpm|RPM)|[1-9] Hz (to|TO) [1-3][0-9] ?hertz"),
    (
        "/joints/stiffness",
        "[1-9][0-9]{3} ?(N ?[·*]?m/rad|N mm/rad|Nm/deg|lbf in/rad|in-lb/rad|kNm / rad)|Rigid|estimated",
    ),
    ("/loads/1/at/0", "[1-9]?[0-9] ?(%|mm|in|cm)"),
    (
        "/bracket/screws/size",
        "[34]([.]5)?( mm)?( ?[x×X] ?[2-4][0-9] ?mm)?|(#|no[.]? ?)(8|10)( ?x ?1([ -]1/4)? ?(in|\"))?|(8|10) ?ga",
    ),
    (
        "/legs/tube",
        "(16|20|25)( ?mm)? ?[x×X*] ?(1|1[.]5|2) ?mm|1([ -]1/4)? ?(in|\") ?x ?(0?[.]065|16 ?ga|1/16 ?in|[.]065 in)|(1/2|3/4|1)( in)? ?(EMT|emt)|emt 1",
    ),
    ("/rails/0/tube", "(16|20)mm x [12]|5/8( in)? x 0[.]049( in)?|1 in x 18 BWG"),
    ("/limits/sag", "(span|Span|L) ?/ ?[1-9][0-9]{2}"),
    ("/bracket/hold", "ribs|Ribs|bonded| none|cross  bolt|Cross Bolt m[3-6]"),
    ("/printing/filament", "petg|PLA|pla[+]|PETG[ -]CF|asa|Tpu 95a"),
    ("/top/wood", "WHITE ash|white-ash|Walnut|yellow poplar|european Oak|MDF|hard maple"),
    ("/loads/2/direction", "[-+][xyXY]|down|Down"),
];

/// A place with a text for it, or now and then with a text for another place.
fn values() -> impl Strategy<Value = (&'static str, String)> {
    (proptest::sample::select(VALUES), proptest::sample::select(VALUES), 0..8).prop_flat_map(|(one, other, mix)| {
        let pattern = if mix == 0 { other.1 } else { one.1 };
        (Just(one.0), pattern)
    })
}

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

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, max_global_rejects: 4000, ..ProptestConfig::default() })]

    /// At least half of the texts must be taken, else the test says nothing.
    #[test]
    fn the_schema_takes_whatever_the_reader_takes((pointer, text) in values()) {
        thread_local!(static VALIDATOR: Validator = validator());
        let file = bench_with(pointer, &text);
        prop_assume!(read(&file.to_string()).is_ok());
        prop_assert!(VALIDATOR.with(|validator| validator.is_valid(&file)), "{} {}", pointer, text);
    }
}

//! JSON Schema (2020-12) of the parameter file, for editors.
//!
//! It takes everything the reader takes; ranges of quantities it can only tell in words.

use serde_json::{Map, Value, json};

use super::accept::{Accept, Default, KEYS, Range, Shape};
use super::family::NOTE;
use super::table::Table;
use super::typing::LONGEST_TEXT;
use crate::units::{self, Kind, System};

/// The schema as JSON text, keys of objects sorted.
#[must_use]
pub fn schema() -> String {
    let mut root = object("");
    root.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".into(), json!("Parameter file of underframe"));
    root.insert("$defs".into(), definitions());
    format!("{:#}\n", Value::Object(root))
}

/// One pattern for each kind of quantity.
fn definitions() -> Value {
    let one = |kind: Kind| {
        let description = format!("{} with its unit: {}", kind.noun(), kind.unit_list());
        (name(kind).into(), json!({ "type": "string", "pattern": units::pattern(kind), "description": description }))
    };
    Value::Object(Kind::ALL.into_iter().map(one).collect())
}

const fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::Length => "length",
        Kind::Wall => "wall",
        Kind::Mass => "mass",
        Kind::Force => "force",
        Kind::Angle => "angle",
        Kind::Temperature => "temperature",
        Kind::Share => "share",
        Kind::Time => "time",
        Kind::Frequency => "frequency",
        Kind::RotationalStiffness => "rotational",
        Kind::Stress => "stress",
        Kind::Density => "density",
    }
}

/// An object with the keys that stand under a path.
fn object(pattern: &str) -> Map<String, Value> {
    let keys: Vec<_> = KEYS.iter().filter(|key| key.parent() == pattern && !key.key.is_empty()).collect();
    let mut properties: Map<_, _> = keys.iter().map(|key| (key.name().into(), property(key))).collect();
    properties.insert(NOTE.into(), json!({ "description": "Anything; ignored." }));
    let mut object = Map::new();
    object.insert("type".into(), json!("object"));
    object.insert("properties".into(), Value::Object(properties));
    object.insert("additionalProperties".into(), json!(false));
    for (word, rule) in rules(pattern, &keys) {
        object.insert(word.into(), rule);
    }
    object
}

/// Which keys must be there, and which exclude each other.
fn rules(pattern: &str, keys: &[&Accept]) -> Vec<(&'static str, Value)> {
    match pattern {
        "legs.tube" => vec![(
            "oneOf",
            json!([
                { "required": ["size"], "properties": { "outside": false, "wall": false } },
                { "required": ["outside", "wall"], "properties": { "size": false } },
            ]),
        )],
        "loads[]" => vec![
            (
                "oneOf",
                json!([{ "required": ["mass"] }, { "required": ["force"] }, { "required": ["moving", "stroke", "shaking"] }]),
            ),
            ("not", json!({ "required": ["over", "at"] })),
        ],
        _ => {
            let missing = keys.iter().filter(|key| matches!(key.without, Default::Required(_)));
            let names: Vec<_> = missing.map(|key| key.name()).collect();
            if names.is_empty() { Vec::new() } else { vec![("required", json!(names))] }
        }
    }
}

fn property(key: &Accept) -> Value {
    let mut property = match shape(key, &key.what) {
        Value::Object(map) => map,
        other => Map::from_iter([("allOf".to_owned(), json!([other]))]),
    };
    property.insert("description".into(), json!(description(key)));
    if let Default::Value(text, _) = key.without {
        let default = serde_json::from_str(text).unwrap_or_else(|_| json!(text));
        property.insert("default".into(), default);
    }
    Value::Object(property)
}

fn description(key: &Accept) -> String {
    let accepted = match key.what {
        Shape::Quantity(_) | Shape::Band(_) | Shape::Quantities(..) | Shape::Either(_) => {
            format!(" Accepted: {}.", key.what.describe(System::Metric))
        }
        _ => String::new(),
    };
    let without = match key.without {
        Default::Required(_) => String::new(),
        Default::Value(_, why) => format!(" Default: {why}."),
        Default::Rule(rule, why) => format!(" Default it: {rule} ({why})."),
        Default::Unset(what) => format!(" Default it: {what}."),
    };
    format!("{}{accepted}{without}", key.doc)
}

fn shape(key: &Accept, what: &Shape) -> Value {
    match what {
        Shape::Text => json!({ "type": "string", "minLength": 1, "maxLength": LONGEST_TEXT + 2 }),
        Shape::Flag => json!({ "type": "boolean" }),
        Shape::Count(least, most) => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Shape::CountOf(counts) => json!({ "enum": counts }),
        Shape::Number(least, most) => json!({ "type": "number", "minimum": least, "maximum": most }),
        Shape::Quantity(range) => quantity(*range),
        Shape::Band(range) => json!({ "anyOf": [quantity(*range), string(&band_pattern(range.kind))] }),
        Shape::Quantities(range, least, most) => list(&quantity(*range), *least, *most),
        Shape::Words(list) => words(list, &[]),
        Shape::WordList(all) => list(&words(all, &[]), 0, all.len()),
        Shape::Row(table) => row(key, *table),
        Shape::TubeSize => string(&tube_pattern()),
        Shape::ScrewSize => string(&screw_pattern()),
        Shape::Span(..) => string("^\\s*([sS][pP][aA][nN]|[lL])\\s*/\\s*\\d+\\s*$"),
        Shape::Point => point(),
        Shape::Rectangle => list(&point(), 2, 2),
        Shape::Group => Value::Object(object(below(key))),
        Shape::Groups(least, most) => list(&Value::Object(object(below(key))), *least, *most),
        Shape::Either(shapes) => json!({ "anyOf": shapes.iter().map(|what| shape(key, what)).collect::<Vec<_>>() }),
    }
}

/// Path under which the keys of an object stand.
fn below(key: &Accept) -> &'static str {
    match key.key {
        "rails" => "rails[]",
        "loads" => "loads[]",
        "rails[].tube" => "legs.tube",
        path => path,
    }
}

fn string(pattern: &str) -> Value {
    json!({ "type": "string", "pattern": pattern })
}

fn list(item: &Value, least: usize, most: usize) -> Value {
    json!({ "type": "array", "items": item, "minItems": least, "maxItems": most })
}

fn quantity(range: Range) -> Value {
    json!({ "$ref": format!("#/$defs/{}", name(range.kind)) })
}

/// Two quantities with the word `to` between them.
fn band_pattern(kind: Kind) -> String {
    let one = units::pattern(kind);
    let inner = one.trim_start_matches('^').trim_end_matches('$');
    format!("^{inner} [tT][oO] {inner}$")
}

fn point() -> Value {
    let share = json!({ "$ref": "#/$defs/share" });
    let length = json!({ "$ref": "#/$defs/length" });
    list(&json!({ "anyOf": [share, length] }), 2, 2)
}

/// A name of the table, or an object where the key has keys of its own.
fn row(key: &Accept, table: Table) -> Value {
    let mut names = words(&table.names(), &table.also());
    if table == Table::Screws {
        names = json!({ "anyOf": [names, string(&format!("^\\s*{}\\s*$", screw_name()))] });
    }
    if KEYS.iter().any(|other| other.parent() == key.key) {
        return json!({ "anyOf": [names, object(key.key)] });
    }
    names
}

/// The words as they are listed, or they and others in any case and with any blanks.
fn words(words: &[&str], others: &[&str]) -> Value {
    let loose: Vec<_> = words.iter().chain(others).map(|word| word.chars().map(loose).collect::<String>()).collect();
    let pattern = format!("^\\s*({})\\s*$", loose.join("|"));
    json!({ "anyOf": [{ "enum": words }, { "type": "string", "pattern": pattern }] })
}

fn loose(c: char) -> String {
    match c {
        ' ' | '-' => "[-\\s]+".into(),
        _ if c.is_alphabetic() => format!("[{}{}]", c.to_lowercase(), c.to_uppercase()),
        _ if c.is_ascii_digit() => c.to_string(),
        _ => format!("\\{c}"),
    }
}

/// Two quantities with a cross between, one of them perhaps without unit; or a trade size.
fn tube_pattern() -> String {
    let number = units::number_pattern();
    let half = format!("[-+\u{2212}]?\\s*({number}({})?\\s*)+", units::unit_pattern(Kind::Wall));
    format!("^\\s*{half}[xX×*]\\s*{half}$|[eE][mM][tT]")
}

fn screw_name() -> &'static str {
    "(#|[nN][oO]\\.?)?\\s*\\d+(\\.\\d+)?\\s*([mM][mM]|[gG][aA])?"
}

fn screw_pattern() -> String {
    let length = units::pattern(Kind::Length);
    let length = length.trim_start_matches('^').trim_end_matches('$');
    format!("^\\s*{}\\s*([xX×*]{length})?$", screw_name())
}

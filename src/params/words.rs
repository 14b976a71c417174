//! Typed values as they are written in a file: read back, each is what it was.

use serde_json::{Map, json};

use super::design::{Edit, Step, parts, steps};
use super::value::{ScrewSize, Value};
use crate::tables::screw;
use crate::units::{self, System};

impl Edit {
    /// The key as a JSON pointer, such as `/rails/0/above_floor`.
    #[must_use]
    pub fn pointer(&self) -> String {
        let step = |step: &Step<'_>| match step {
            Step::Key(name) => format!("/{name}"),
            Step::Item(item) => format!("/{item}"),
        };
        steps(&self.key).iter().map(step).collect()
    }

    /// The value as it stands in a file whose quantities are of these units; null where the key is left out.
    #[must_use]
    pub fn json(&self, system: System) -> serde_json::Value {
        self.value.as_ref().map_or(serde_json::Value::Null, |value| value.json(system))
    }
}

impl Value {
    /// As it stands in a file whose quantities are of these units.
    #[must_use]
    pub fn json(&self, system: System) -> serde_json::Value {
        match self {
            Self::Flag(flag) => json!(flag),
            Self::Count(count) => json!(count),
            Self::Number(number) if number.fract() == 0.0 && number.abs() < 1e15 => json!(*number as i64),
            Self::Number(number) => json!(number),
            Self::Words(words) if words.is_empty() => json!("none"),
            Self::Group(_) => {
                let named = |(step, value): (Step<'_>, Self)| match step {
                    Step::Key(name) => Some((name.to_owned(), value.json(system))),
                    Step::Item(_) => None,
                };
                serde_json::Value::Object(parts(self).into_iter().filter_map(named).collect::<Map<_, _>>())
            }
            Self::Unread => serde_json::Value::Null,
            _ => match self.text(system) {
                Some(text) => json!(text),
                None => json!(parts(self).into_iter().map(|(_, value)| value.json(system)).collect::<Vec<_>>()),
            },
        }
    }

    /// The text that stands in the file; none for what is no text there.
    pub(super) fn text(&self, system: System) -> Option<String> {
        Some(match self {
            Self::Text(text) => text.clone(),
            Self::Quantity(kind, value) => units::exact(*kind, *value, system),
            Self::Band(kind, [least, most]) if least == most => units::exact(*kind, *least, system),
            Self::Band(kind, ends) => ends.map(|end| units::exact(*kind, end, system)).join(" to "),
            Self::Word(word) => (*word).into(),
            Self::Row(name) => (*name).into(),
            Self::Tube(size) => size.name.clone(),
            Self::Screw(size) => screw_text(size),
            Self::Span(divisor) => format!("span / {divisor}"),
            _ => return None,
        })
    }
}

/// `4.5 x 30 mm`, `#8 x 1 1/4 in`, `4.5 mm`.
fn screw_text(ScrewSize { row, length }: &ScrewSize) -> String {
    let Some(length) = length else { return (*row).into() };
    let inches = screw::find(row).is_some_and(|screw| screw.system == screw::System::Gauge);
    let system = if inches { System::Inch } else { System::Metric };
    format!("{} x {}", row.trim_end_matches(" mm"), units::exact(units::Kind::Length, *length, system))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_read_as_pointers() {
        let pointer = |key: &str| Edit::without(key).pointer();
        assert_eq!(pointer("loads[0].mass"), "/loads/0/mass");
        assert_eq!(pointer("bracket.screws.count"), "/bracket/screws/count");
    }
}

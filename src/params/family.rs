//! Millimetres or inches: which family of units a file is written in, and examples in it.

use super::text::{Node, Value};
use crate::units::{self, INCH, Kind, POUND, System};

/// The key that is allowed anywhere and ignored.
pub(super) const NOTE: &str = "note";

/// Kinds that have units of both families.
const KINDS: [Kind; 3] = [Kind::Length, Kind::Mass, Kind::Force];
/// Lengths from which on an example is told to half an inch, mm; shorter ones to an eighth.
const LONG: f64 = 250.0;
/// A tube for an example in inches.
const TUBE: &str = "1 in x 16 ga";

/// The family of most quantities of a file.
pub(super) fn of(file: &Value) -> System {
    let [inches, all] = counted(file);
    if 2 * inches > all { System::Inch } else { System::Metric }
}

/// Quantities in inches, pounds and the like, and all.
fn counted(value: &Value) -> [usize; 2] {
    let sum = |[a, b]: [usize; 2], [c, d]: [usize; 2]| [a + c, b + d];
    match &value.node {
        Node::Text(text) => KINDS
            .iter()
            .find_map(|kind| units::read(*kind, text).ok())
            .map_or([0, 0], |read| [usize::from(read.system == System::Inch), 1]),
        Node::List(items) => items.iter().map(counted).fold([0, 0], sum),
        Node::Object(entries) => {
            entries.iter().filter(|entry| entry.name != NOTE).map(|entry| counted(&entry.value)).fold([0, 0], sum)
        }
        _ => [0, 0],
    }
}

/// An example of what to write, such as `"length": "1500 mm"`, in the units of the file: round figures.
pub(super) fn example(metric: &str, system: System) -> String {
    if system == System::Metric {
        return metric.into();
    }
    let parts = metric.split('"').enumerate().map(|(i, part)| if i % 2 == 1 { in_inches(part) } else { part.into() });
    parts.collect::<Vec<_>>().join("\"")
}

fn in_inches(text: &str) -> String {
    if let Ok(length) = units::read(Kind::Length, text) {
        let step = if length.value > LONG { INCH / 2.0 } else { INCH / 8.0 };
        return units::inch_32((length.value / step).round() * step);
    }
    match units::read(Kind::Mass, text) {
        Ok(mass) => format!("{} lb", (mass.value / POUND / 5.0).round() * 5.0),
        Err(_) if text.ends_with(" mm") => TUBE.into(),
        Err(_) => text.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params::accept::{Default, KEYS};

    #[test]
    fn examples_for_inch_files_hold_no_millimetres() {
        for key in KEYS {
            let Default::Required(metric) = key.without else { continue };
            let told = example(metric, System::Inch);
            assert!(!told.contains(" mm") && !told.contains(" kg"), "{told}");
            assert_eq!(example(metric, System::Metric), metric);
        }
        assert_eq!(example("\"length\": \"1500 mm\"", System::Inch), "\"length\": \"59 in\"");
    }
}

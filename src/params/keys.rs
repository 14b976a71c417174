//! The table of keys for the manual.

use super::accept::{Accept, Default, KEYS};
use crate::units::System;

/// All keys as a table in Markdown: key, meaning, accepted, without it.
#[must_use]
pub fn keys_table() -> String {
    let mut table = String::from("| key | meaning | accepted | without it |\n|---|---|---|---|\n");
    for key in KEYS {
        table.push_str(&format!(
            "| `{}` | {} | {} | {} |\n",
            key.key,
            cell(key.doc),
            cell(&key.what.describe(System::Metric)),
            cell(&without(key))
        ));
    }
    table
}

fn without(key: &Accept) -> String {
    match key.without {
        Default::Required(_) => "**required**".into(),
        Default::Value(text, why) => format!("`{text}`: {why}"),
        Default::Rule(rule, why) => format!("{rule}: {why}"),
        Default::Unset(what) => what.into(),
    }
}

/// A bar would end the cell.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_one_line_for_each_key() {
        let table = keys_table();
        assert_eq!(table.lines().count(), KEYS.len() + 2);
        assert!(table.contains("| `top.thickness` | Nominal thickness of the top. | 12 mm to 120 mm | **required** |"));
    }
}

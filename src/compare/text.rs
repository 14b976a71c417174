//! A difference as people read it.

use std::fmt;

use serde_json::Value;

use super::{Change, Difference, Line, Verb};

/// Widest line, characters, where nothing longer than a file's own keys stands in it.
const WIDTH: usize = 100;
/// Between what is done and why.
const GAP: &str = "   ";
/// Longest value shown, characters: a change fits a line of 100.
const LONGEST: usize = 34;

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.changes.is_empty() && self.nothing_to_do() {
            return f.write_str("nothing changed: nothing to do\n");
        }
        changes(f, &self.changes)?;
        if self.nothing_to_do() {
            f.write_str("\nnothing to print, cut or drill: every part, tube and hole stays\n")?;
        } else {
            section(f, "Parts", &self.parts)?;
            section(f, "Tubes", &self.tubes)?;
            section(f, "Holes in the underside", &self.holes)?;
        }
        self.notes.iter().try_for_each(|note| write!(f, "\n{note}\n"))
    }
}

fn changes(f: &mut fmt::Formatter<'_>, changes: &[Change]) -> fmt::Result {
    if changes.is_empty() {
        return f.write_str("No key of the file changed.\n");
    }
    f.write_str("Changed keys\n")?;
    for change in changes {
        let idle = if change.idle { "\n        changes no part, tube or hole" } else { "" };
        let (from, to) = (value(change.from.as_ref()), value(change.to.as_ref()));
        writeln!(f, "    {}: {from} -> {to}{idle}", change.key)?;
    }
    Ok(())
}

fn value(value: Option<&Value>) -> String {
    let text = match value {
        None => return "(not there)".to_owned(),
        Some(Value::String(text)) => text.clone(),
        Some(other) => other.to_string(),
    };
    if text.chars().count() <= LONGEST {
        return text;
    }
    text.chars().take(LONGEST - 3).chain("...".chars()).collect()
}

fn section(f: &mut fmt::Formatter<'_>, head: &str, lines: &[Line]) -> fmt::Result {
    writeln!(f, "\n{head}")?;
    lines.iter().try_for_each(|line| one(f, line))
}

fn one(f: &mut fmt::Formatter<'_>, line: &Line) -> fmt::Result {
    let mut text = format!("    {:<16} {} x {}", line.verb.words(), line.count, line.what);
    if !line.mark.is_empty() {
        text.push_str(&format!(" {}", line.mark));
    } else if !line.legs.is_empty() {
        let legs: Vec<String> = line.legs.iter().map(ToString::to_string).collect();
        text.push_str(&format!(", leg{} {}", if legs.len() == 1 { "" } else { "s" }, legs.join(" ")));
    }
    if !line.how.is_empty() {
        text.push_str(if line.verb == Verb::Print { "  " } else { ": " });
        text.push_str(&line.how);
    }
    f.write_str(&text)?;
    if !line.why.is_empty() {
        let why = format!("because of {}", line.why.join(", "));
        let fits = text.chars().count() + GAP.len() + why.chars().count() <= WIDTH;
        write!(f, "{}{why}", if fits { GAP } else { "\n        " })?;
    }
    f.write_str("\n")
}

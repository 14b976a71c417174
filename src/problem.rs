//! What is wrong with a parameter file: where, what was read, what is accepted.

use std::fmt;

/// First words of a message that goes on where the key stops; any other message is a sentence of its own.
const CONTINUES: [&str; 5] = ["is", "has", "must", "would", "reaches"];

/// Whether a character can be shown on a line: no control character, no line or paragraph separator, nothing that
/// turns the direction of writing, and nothing that XML 1.0 forbids.
#[must_use]
pub fn is_printable(c: char) -> bool {
    let hidden = matches!(c, '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    !c.is_control() && !hidden && !matches!(c, '\u{feff}' | '\u{fffe}' | '\u{ffff}')
}

/// The text with a sign in place of every character that cannot be shown.
#[must_use]
pub fn visible(text: &str) -> String {
    text.chars().map(|c| if is_printable(c) { c } else { '\u{fffd}' }).collect()
}

/// A place in the parameter file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, counted from 1; 0 where the file has no such place (a default).
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
}

/// What a suggestion puts at its key.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Put {
    /// A text, as it would stand in the file: `35 mm`.
    Text(String),
    /// A whole number.
    Count(usize),
    /// A list of texts.
    List(Vec<String>),
    /// The key is left out.
    Nothing,
}

/// A change of the file that mends a problem: for programs, and behind the words of a hint.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Suggestion {
    /// Path of the key, such as `legs.inset_from_ends`; groups on the way are made.
    pub key: String,
    /// Its new value.
    pub put: Put,
}

impl Suggestion {
    /// A text at a key.
    pub fn text(key: impl Into<String>, text: impl Into<String>) -> Self {
        Self { key: key.into(), put: Put::Text(text.into()) }
    }

    /// A whole number at a key.
    pub fn count(key: impl Into<String>, count: usize) -> Self {
        Self { key: key.into(), put: Put::Count(count) }
    }

    /// A list of texts at a key.
    pub fn list(key: impl Into<String>, list: Vec<String>) -> Self {
        Self { key: key.into(), put: Put::List(list) }
    }

    /// A key left out.
    pub fn without(key: impl Into<String>) -> Self {
        Self { key: key.into(), put: Put::Nothing }
    }
}

impl fmt::Display for Suggestion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let key = visible(&self.key);
        match &self.put {
            Put::Text(text) => write!(f, "{key} \"{}\"", visible(text)),
            Put::Count(count) => write!(f, "{key} {count}"),
            Put::List(list) => {
                let items: Vec<String> = list.iter().map(|item| format!("\"{}\"", visible(item))).collect();
                write!(f, "{key} [{}]", items.join(", "))
            }
            Put::Nothing => write!(f, "no {key}"),
        }
    }
}

/// One thing that is wrong, told so that it can be mended without reading the manual.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// Where it stands.
    pub place: Place,
    /// Path of the key, such as `top.thickness` or `loads[2].at[0]`.
    pub key: String,
    /// What is wrong: continues the key where it begins with one of a few words, `is missing`; else a sentence of its
    /// own, `"8 mm" is too thin`.
    pub message: String,
    /// What is accepted, if there is a range or a list.
    pub accepted: Option<String>,
    /// What to do, such as `did you mean "tubes"?`.
    pub hint: Option<String>,
    /// Changes that, made together, mend it; empty where only words help.
    pub suggestions: Vec<Suggestion>,
}

impl Problem {
    /// A problem with neither range nor hint.
    pub fn new(place: Place, key: impl Into<String>, message: impl Into<String>) -> Self {
        Self { place, key: key.into(), message: message.into(), accepted: None, hint: None, suggestions: Vec::new() }
    }

    /// The same with what is accepted.
    #[must_use]
    pub fn accepted(mut self, accepted: impl Into<String>) -> Self {
        self.accepted = Some(accepted.into());
        self
    }

    /// The same with a hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The same with a change that mends it.
    #[must_use]
    pub fn suggest(mut self, change: Suggestion) -> Self {
        self.suggestions.push(change);
        self
    }

    /// The same with changes that mend it together, and a hint that says them.
    #[must_use]
    pub fn try_this(mut self, changes: Vec<Suggestion>) -> Self {
        let told: Vec<String> = changes.iter().map(ToString::to_string).collect();
        self.hint = (!told.is_empty()).then(|| format!("this fits: {}", told.join(", ")));
        self.suggestions = changes;
        self
    }

    /// As shown to the user: `bench.json:14:22 top.thickness: "8 mm" is too thin`, then indented lines.
    #[must_use]
    pub fn show(&self, file: &str) -> String {
        format!("{file}:{self}")
    }
}

impl Problem {
    /// The same under a name of one's own, where there is no file yet: `the width: "600" has no unit`.
    #[must_use]
    pub fn named(&self, name: &str) -> String {
        let shown = Self { key: name.into(), ..self.clone() }.to_string();
        shown.split_once(' ').map_or_else(String::new, |(_, rest)| rest.to_owned())
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{} ", self.place.line, self.place.column)?;
        if !self.key.is_empty() {
            let first = self.message.split(' ').next().unwrap_or_default();
            let colon = if CONTINUES.contains(&first) { "" } else { ":" };
            write!(f, "{}{colon} ", visible(&self.key))?;
        }
        f.write_str(&visible(&self.message))?;
        if let Some(accepted) = &self.accepted {
            write!(f, "\n    accepted: {}", visible(accepted))?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\n    {}", visible(hint))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(key: &str, message: &str) -> String {
        Problem::new(Place { line: 1, column: 2 }, key, message).to_string()
    }

    #[test]
    fn a_sentence_of_its_own_stands_behind_a_colon() {
        assert_eq!(shown("legs.tubs", "is not a key"), "1:2 legs.tubs is not a key");
        assert_eq!(shown("height", "\"8\" has no unit"), "1:2 height: \"8\" has no unit");
        assert_eq!(shown("legs", "a screw misses the top"), "1:2 legs: a screw misses the top");
        assert_eq!(shown("", "the file is empty"), "1:2 the file is empty");
        assert_eq!(Problem::new(Place::default(), "height", "\"8\" has no unit").named("h"), "h: \"8\" has no unit");
    }

    #[test]
    fn nothing_from_the_file_reaches_the_terminal_as_a_command() {
        let problem =
            Problem::new(Place::default(), "a\u{1b}[2Jb", "has \u{9b}\n\u{202e}").accepted("\r").hint("\u{7}");
        let shown = problem.show("f");
        assert!(shown.chars().all(|c| c == '\n' || is_printable(c)), "{shown:?}");
        assert_eq!(shown.lines().count(), 3);
    }
}

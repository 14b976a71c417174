//! What is wrong with a parameter file: where, what was read, what is accepted.

use std::fmt;

/// A place in the parameter file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, counted from 1; 0 where the file has no such place (a default).
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
}

/// One thing that is wrong, told so that it can be mended without reading the manual.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// Where it stands.
    pub place: Place,
    /// Path of the key, such as `top.thickness` or `loads[2].at[0]`.
    pub key: String,
    /// What is wrong, continuing the key: `is missing`, or beginning with what was read: `"8 mm" is too thin`.
    pub message: String,
    /// What is accepted, if there is a range or a list.
    pub accepted: Option<String>,
    /// What to do, such as `did you mean "tubes"?`.
    pub hint: Option<String>,
}

impl Problem {
    /// A problem with neither range nor hint.
    pub fn new(place: Place, key: impl Into<String>, message: impl Into<String>) -> Self {
        Self { place, key: key.into(), message: message.into(), accepted: None, hint: None }
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

    /// As shown to the user: `bench.json:14:22 top.thickness: "8 mm" is too thin`, then indented lines.
    #[must_use]
    pub fn show(&self, file: &str) -> String {
        format!("{file}:{self}")
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{} ", self.place.line, self.place.column)?;
        if !self.key.is_empty() {
            let colon = if self.message.starts_with(|c: char| c.is_ascii_lowercase()) { "" } else { ":" };
            write!(f, "{}{colon} ", self.key)?;
        }
        f.write_str(&self.message)?;
        if let Some(accepted) = &self.accepted {
            write!(f, "\n    accepted: {accepted}")?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\n    {hint}")?;
        }
        Ok(())
    }
}

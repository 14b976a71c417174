//! Why a text is not a quantity.

/// Why a text is not a quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// Continues the quoted text: `has no unit`.
    pub message: String,
    /// What to do, where no reading of the text suggests itself.
    pub hint: Option<String>,
    /// What may have been meant, as it would stand in the file, likeliest first; each is read.
    pub meant: Vec<String>,
}

impl Unread {
    pub(crate) fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, meant: Vec::new() }
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    pub(crate) fn meant(mut self, meant: Vec<String>) -> Self {
        self.meant = meant;
        self
    }

    /// What to write: the readings that `fits` lets pass; else the hint.
    #[must_use]
    pub fn describe(&self, fits: impl Fn(&str) -> bool) -> Option<String> {
        let fitting: Vec<_> = self.meant.iter().filter(|text| fits(text)).map(|text| format!("\"{text}\"")).collect();
        if fitting.is_empty() { self.hint.clone() } else { Some(format!("write {}", fitting.join(" or "))) }
    }
}

//! Values of one kind each.

use super::{Found, Group, Reader};
use crate::params::accept::{Accept, Choices, Default, Range, Shape};
use crate::params::value::Value;
use crate::units::{self, Kind, System};

/// A value, or what stands for it where it could not be read.
impl Reader {
    /// A quantity with a fixed default, or a required one.
    pub(in crate::params) fn quantity(&mut self, group: &Group<'_>, accept: &Accept) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let least = accept.what.range().map_or(0.0, |range| range.least);
        let (Default::Value(text, _), Some(range)) = (accept.without, accept.what.range()) else { return least };
        self.assume(group, accept, text);
        units::read(range.kind, text).map_or(least, |read| read.value)
    }

    /// A quantity that holds only where the file has it.
    pub(in crate::params) fn quantity_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        match found.value {
            Value::Quantity(_, value) => Some(*value),
            _ => accept.what.range().map(|range| range.least),
        }
    }

    /// A quantity or a range of them, least and most; only where the file has it.
    pub(in crate::params) fn band_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<[f64; 2]> {
        let found = self.value(group, accept)?;
        match found.value {
            Value::Band(_, ends) => Some(*ends),
            _ => accept.what.range().map(|range| [range.least; 2]),
        }
    }

    /// A quantity whose default follows from others.
    pub(in crate::params) fn quantity_else(&mut self, group: &Group<'_>, accept: &Accept, rule: f64) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let kind = accept.what.range().map_or(Kind::Length, |range| range.kind);
        self.assume(group, accept, units::show(kind, rule, System::Metric));
        rule
    }

    /// A list of quantities, or a single one; none where the file has no such key.
    pub(in crate::params) fn quantities_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<Vec<f64>> {
        Some(quantities(self.value(group, accept)?.value))
    }

    /// One of a list of words; that of the default where the file has none.
    pub(in crate::params) fn word(&mut self, group: &Group<'_>, accept: &Accept) -> &'static str {
        let words = accept.what.words();
        let Some(found) = self.value(group, accept) else {
            let Default::Value(text, _) = accept.without else { return words[0] };
            self.assume(group, accept, text);
            return text;
        };
        found.word().unwrap_or(words[0])
    }

    /// What the word of a key stands for.
    pub(in crate::params) fn choice<T: Copy, const N: usize>(
        &mut self,
        group: &Group<'_>,
        accept: &Accept,
        choices: &Choices<T, N>,
    ) -> T {
        chosen(choices, self.word(group, accept))
    }

    /// `true` or `false`; `rule` where the file does not say.
    pub(in crate::params) fn flag(&mut self, group: &Group<'_>, accept: &Accept, rule: bool) -> bool {
        let Some(found) = self.value(group, accept) else {
            self.assume(group, accept, rule.to_string());
            return rule;
        };
        if let Value::Flag(flag) = found.value { *flag } else { rule }
    }

    /// A whole number with a fixed default.
    pub(in crate::params) fn count(&mut self, group: &Group<'_>, accept: &Accept) -> usize {
        if let Some(count) = self.count_if(group, accept) {
            return count;
        }
        let Default::Value(text, _) = accept.without else { return 0 };
        self.assume(group, accept, text);
        text.parse().unwrap_or(0)
    }

    /// A whole number that holds only where the file has it.
    pub(in crate::params) fn count_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<usize> {
        let found = self.value(group, accept)?;
        Some(if let Value::Count(count) = found.value { *count } else { accept.what.counts().1 })
    }

    /// A number without unit that holds only where the file has it.
    pub(in crate::params) fn number_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        match (found.value, accept.what) {
            (Value::Number(number), _) => Some(*number),
            (_, Shape::Number(least, _)) => Some(least),
            _ => None,
        }
    }

    /// A text that is not empty; none where the file has none.
    pub(in crate::params) fn text_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<String> {
        let found = self.value(group, accept)?;
        Some(if let Value::Text(text) = found.value { text.clone() } else { String::new() })
    }

    /// A quantity that must lie in a range which other keys make.
    pub(in crate::params) fn within(&mut self, path: &str, value: f64, range: Range) -> f64 {
        if range.holds(value) {
            return value.clamp(range.least, range.most);
        }
        let system = units::read(range.kind, self.written(path)).map_or(self.units(), |read| read.system);
        let size = if value < range.least { "small" } else { "large" };
        let message = format!("{} is too {size}", self.quoted(path));
        self.wrong(path, message).accepted = Some(range.describe(system));
        range.least
    }
}

impl Found<'_> {
    /// The word it is.
    pub(in crate::params) fn word(&self) -> Option<&'static str> {
        if let Value::Word(word) = self.value { Some(word) } else { None }
    }
}

/// The quantities of a list, or the only one.
fn quantities(value: &Value) -> Vec<f64> {
    match value {
        Value::Quantity(_, one) => vec![*one],
        Value::Quantities(_, list) => list.clone(),
        _ => Vec::new(),
    }
}

/// What a word stands for; the word is one of the choices, since a key's words are taken from them.
pub(in crate::params) fn chosen<T: Copy, const N: usize>(choices: &Choices<T, N>, word: &str) -> T {
    choices.iter().find(|choice| choice.0 == word).unwrap_or(&choices[0]).1
}

//! Words, rows of tables, flags, counts, numbers and texts.

use super::{Found, Group, LISTED, Reader};
use crate::params::accept::{Accept, Choices, Default, Shape, either};
use crate::params::spelling::{nearest, plain, quoted, shortened};
use crate::params::table::Table;
use crate::params::text::Node;
use crate::problem::is_printable;

/// Words, flags, numbers.
impl Reader {
    /// One of a list of words; the index of the default where the file has none.
    pub(in crate::params) fn word(&mut self, group: &Group<'_>, accept: &Accept) -> &'static str {
        let words = accept.what.words();
        let Some(found) = self.value(group, accept) else {
            let Default::Value(text, _) = accept.without else { return words[0] };
            self.assume(group, accept, text);
            return text;
        };
        self.word_in(&found, &accept.what)
    }

    /// A value as one of the words of a shape.
    pub(in crate::params) fn word_in(&mut self, found: &Found<'_>, what: &Shape) -> &'static str {
        let words = what.words();
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, what);
            return words[0];
        };
        if let Some(word) = words.iter().find(|word| plain(word) == plain(text)) {
            return word;
        }
        self.unknown(found, text, words, Some(what.describe(self.units())));
        words[0]
    }

    /// Shape the word of a key stands for.
    pub(in crate::params) fn choice<T: Copy, const N: usize>(
        &mut self,
        group: &Group<'_>,
        accept: &Accept,
        choices: &Choices<T, N>,
    ) -> T {
        chosen(choices, self.word(group, accept))
    }

    fn unknown(&mut self, found: &Found<'_>, text: &str, words: &[&str], accepted: Option<String>) {
        let near = nearest(text, words).map(|word| format!("did you mean \"{word}\"?"));
        let problem = self.wrong(found, not_known(text));
        problem.accepted = accepted;
        problem.hint = near;
    }

    /// A name of a table's row; none after a problem.
    pub(in crate::params) fn row_name(&mut self, found: &Found<'_>, table: Table) -> Option<String> {
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, &Shape::Row(table));
            return None;
        };
        let names = table.names();
        if table.has(text) {
            return Some(text.clone());
        }
        let told = if names.len() > LISTED { Shape::Row(table).describe(self.units()) } else { quoted_list(&names) };
        if let Some(instead) = table.unfit(text) {
            self.wrong(found, format!("{} cannot be used", quoted(text))).hint = Some(instead.into());
            return None;
        }
        let like = if text.trim().is_empty() { Vec::new() } else { table.like(text) };
        if like.is_empty() {
            let all: Vec<_> = names.into_iter().chain(table.also()).collect();
            self.unknown(found, text, &all, Some(told));
        } else {
            let problem = self.wrong(found, not_known(text));
            problem.accepted = Some(told);
            problem.hint = Some(which(&like, table));
        }
        if let Some(problem) = self.problems.last_mut() {
            problem.hint.get_or_insert_with(|| format!("\"underframe tables {}\" lists them", table.name()));
        }
        None
    }

    /// `true` or `false`; `rule` where the file does not say.
    pub(in crate::params) fn flag(&mut self, group: &Group<'_>, accept: &Accept, rule: bool) -> bool {
        let Some(found) = self.value(group, accept) else {
            self.assume(group, accept, rule.to_string());
            return rule;
        };
        let Node::Flag(flag) = found.value.node else {
            self.mistyped(&found, &accept.what);
            return rule;
        };
        flag
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
        Some(self.count_in(&found, &accept.what))
    }

    /// A value as a whole number of a shape.
    pub(in crate::params) fn count_in(&mut self, found: &Found<'_>, what: &Shape) -> usize {
        let (allowed, least) = counts(what);
        let Node::Number(text) = &found.value.node else {
            self.mistyped(found, what);
            return least;
        };
        let number: f64 = text.parse().unwrap_or(f64::NAN);
        let whole = number >= 0.0 && number.fract() == 0.0 && number <= LARGEST_COUNT;
        if whole && allowed(number as usize) {
            return number as usize;
        }
        let message =
            if number.fract() == 0.0 || number.is_infinite() { "is not accepted" } else { "is not a whole number" };
        self.wrong(found, format!("{} {message}", shortened(text))).accepted = Some(what.describe(self.units()));
        least
    }

    /// A number without unit that holds only where the file has it.
    pub(in crate::params) fn number_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        let Shape::Number(least, most) = accept.what else { return None };
        let Node::Number(text) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Some(least);
        };
        let number: f64 = text.parse().unwrap_or(f64::NAN);
        if (least..=most).contains(&number) {
            return Some(number);
        }
        let size = if number < least { "small" } else { "large" };
        let accepted = accept.what.describe(self.units());
        self.wrong(&found, format!("{} is too {size}", shortened(text))).accepted = Some(accepted);
        Some(least)
    }

    /// A text that is not empty; none where the file has none.
    pub(in crate::params) fn text_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<String> {
        let found = self.value(group, accept)?;
        let Node::Text(text) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Some(String::new());
        };
        let text = text.trim();
        if text.is_empty() || text.chars().count() > LONGEST_TEXT || !text.chars().all(is_printable) {
            let accepted = format!("a text of one line, 1 to {LONGEST_TEXT} characters");
            let message =
                if text.is_empty() { "is empty".into() } else { format!("{} cannot be printed", quoted(text)) };
            self.wrong(&found, message).accepted = Some(accepted);
        }
        Some(text.into())
    }
}

/// Most rows of a table that a hint lists.
const MEANT: usize = 24;

/// Asks which of several rows is meant.
fn which(like: &[&str], table: Table) -> String {
    if let [shown @ .., _] = like
        && shown.len() >= MEANT
    {
        let (shown, more) = (quoted_list_of(&like[..MEANT]), like.len() - MEANT);
        return format!("which one? {shown} and {more} more: \"underframe tables {}\" lists them", table.name());
    }
    format!("did you mean {}?", quoted_list(like))
}

/// `"a", "b", "c"`.
fn quoted_list_of(names: &[&str]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

/// Shape is wrong with a name or word that nothing is called by.
fn not_known(text: &str) -> String {
    if text.trim().is_empty() { "is empty".into() } else { format!("{} is not known", quoted(text)) }
}

/// Shape a word stands for; the word is one of the choices, since a key's words are taken from them.
pub(in crate::params) fn chosen<T: Copy, const N: usize>(choices: &Choices<T, N>, word: &str) -> T {
    choices.iter().find(|choice| choice.0 == word).unwrap_or(&choices[0]).1
}

/// `"a", "b" or "c"`.
fn quoted_list(names: &[&str]) -> String {
    either(names.iter().map(|name| format!("\"{name}\"")))
}

/// Largest whole number that is looked at.
const LARGEST_COUNT: f64 = 1e9;

/// Longest title or name, characters: what fits on a line of the papers.
pub(in crate::params) const LONGEST_TEXT: usize = 120;

/// Which whole numbers a shape allows, and the least of them.
fn counts(what: &Shape) -> (Box<dyn Fn(usize) -> bool>, usize) {
    match *what {
        Shape::Count(least, most) => (Box::new(move |count| (least..=most).contains(&count)), least),
        Shape::CountOf(list) => (Box::new(|count| list.contains(&count)), list[0]),
        Shape::Either(shapes) => counts(&shapes[0]),
        _ => (Box::new(|_| false), 0),
    }
}

//! Words, rows of tables, flags, counts, numbers and texts.

use super::LISTED;
use crate::params::accept::{Shape, either};
use crate::params::reader::Reader;
use crate::params::spelling::{nearest, plain, quoted, shortened};
use crate::params::table::Table;
use crate::params::text::{self, Node, Written};
use crate::params::value::Value;
use crate::problem::is_printable;

/// Words, flags, numbers.
impl Reader {
    /// A value as one of the words of a shape.
    pub(super) fn word_in(&mut self, found: &Written<'_>, what: &Shape) -> &'static str {
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

    /// A list of words.
    pub(super) fn words_in(
        &mut self,
        found: &Written<'_>,
        items: &[text::Value],
        words: &'static [&'static str],
    ) -> Value {
        let items = items.iter().enumerate();
        let items = items.map(|(index, item)| {
            let item = self.item(found, index, item);
            self.word_in(&item, &Shape::Words(words))
        });
        Value::Words(items.collect())
    }

    fn unknown(&mut self, found: &Written<'_>, text: &str, words: &[&str], accepted: Option<String>) {
        let near = nearest(text, words).map(|word| format!("did you mean \"{word}\"?"));
        let problem = self.wrong(&found.path, not_known(text));
        problem.accepted = accepted;
        problem.hint = near;
    }

    /// The name of a table's row; none after a problem.
    pub(super) fn row_in(&mut self, found: &Written<'_>, table: Table) -> Option<&'static str> {
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, &Shape::Row(table));
            return None;
        };
        let names = table.names();
        if let Some(name) = table.find(text) {
            return Some(name);
        }
        let told = if names.len() > LISTED { Shape::Row(table).describe(self.units()) } else { quoted_list(&names) };
        if let Some(instead) = table.unfit(text) {
            self.wrong(&found.path, format!("{} cannot be used", quoted(text))).hint = Some(instead.into());
            return None;
        }
        let like = if text.trim().is_empty() { Vec::new() } else { table.like(text) };
        if like.is_empty() {
            let all: Vec<_> = names.into_iter().chain(table.also()).collect();
            self.unknown(found, text, &all, Some(told));
        } else {
            let problem = self.wrong(&found.path, not_known(text));
            problem.accepted = Some(told);
            problem.hint = Some(which(&like, table));
        }
        if let Some(problem) = self.problems.last_mut() {
            problem.hint.get_or_insert_with(|| format!("\"underframe tables {}\" lists them", table.name()));
        }
        None
    }

    /// A value as a whole number of a shape.
    pub(super) fn count_in(&mut self, found: &Written<'_>, what: &Shape) -> usize {
        let (allowed, least) = what.counts();
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
        self.wrong(&found.path, format!("{} {message}", shortened(text))).accepted = Some(what.describe(self.units()));
        least
    }

    /// A value as a number without unit.
    pub(super) fn number_in(&mut self, found: &Written<'_>, what: &Shape, least: f64, most: f64) -> f64 {
        let Node::Number(text) = &found.value.node else {
            self.mistyped(found, what);
            return least;
        };
        let number: f64 = text.parse().unwrap_or(f64::NAN);
        if (least..=most).contains(&number) {
            return number;
        }
        let size = if number < least { "small" } else { "large" };
        let accepted = what.describe(self.units());
        self.wrong(&found.path, format!("{} is too {size}", shortened(text))).accepted = Some(accepted);
        least
    }

    /// A value as a text that is not empty.
    pub(super) fn text_in(&mut self, found: &Written<'_>) -> Value {
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, &Shape::Text);
            return Value::Unread;
        };
        let text = text.trim();
        if !is_line(text) {
            let accepted = format!("a text of one line, 1 to {LONGEST_TEXT} characters");
            let message =
                if text.is_empty() { "is empty".into() } else { format!("{} cannot be printed", quoted(text)) };
            self.wrong(&found.path, message).accepted = Some(accepted);
        }
        Value::Text(text.into())
    }
}

/// Whether a text can stand on one line of the papers.
pub(in crate::params) fn is_line(text: &str) -> bool {
    !text.is_empty() && text.chars().count() <= LONGEST_TEXT && text.chars().all(is_printable)
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

/// What is wrong with a name or word that nothing is called by.
fn not_known(text: &str) -> String {
    if text.trim().is_empty() { "is empty".into() } else { format!("{} is not known", quoted(text)) }
}

/// `"a", "b" or "c"`.
fn quoted_list(names: &[&str]) -> String {
    either(names.iter().map(|name| format!("\"{name}\"")))
}

/// Largest whole number that is looked at.
const LARGEST_COUNT: f64 = 1e9;

/// Longest title or name, characters: what fits on a line of the papers.
pub(in crate::params) const LONGEST_TEXT: usize = 120;

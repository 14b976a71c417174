//! Tables as plain text: aligned columns, notes, a numbered list of sources.

use crate::source::Clause;

/// Widest line written, characters: fits a terminal and a portrait page.
const WIDTH: usize = 100;
/// Blanks between two columns.
const GAP: &str = "  ";

/// A table being written.
pub(super) struct Page {
    title: &'static str,
    rows: Vec<Vec<String>>,
    notes: Vec<&'static str>,
    sources: Vec<Clause>,
}

impl Page {
    /// A page with column heads; a head may hold a unit after a line break: `"E\nMPa"`.
    pub(super) fn new(title: &'static str, heads: &[&str]) -> Self {
        let line = |n: usize| heads.iter().map(|head| head.split('\n').nth(n).unwrap_or("").to_owned()).collect();
        Self { title, rows: vec![line(0), line(1)], notes: Vec::new(), sources: Vec::new() }
    }

    /// Adds a row of cells.
    pub(super) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// Adds a sentence below the columns.
    pub(super) fn note(&mut self, sentence: &'static str) {
        self.notes.push(sentence);
    }

    /// The numbers under which the clauses are listed, such as `1,3-5`; new clauses join the list.
    pub(super) fn cite(&mut self, clauses: &[Clause]) -> String {
        let mut numbers: Vec<usize> = clauses.iter().map(|clause| self.number(*clause)).collect();
        numbers.sort_unstable();
        numbers.dedup();
        runs(&numbers)
    }

    /// The whole page; every line ends with a line feed.
    pub(super) fn finish(&self) -> String {
        let mut out = format!("{}\n\n", self.title);
        let widths = self.widths();
        for row in &self.rows {
            out.push_str(&line(row, &widths));
        }
        for note in &self.notes {
            out.push('\n');
            out.push_str(&wrapped("", note));
        }
        out.push_str("\nSources\n");
        for (i, clause) in self.sources.iter().enumerate() {
            out.push_str(&wrapped(&format!("{:>4} ", format!("[{}]", i + 1)), &clause.to_string()));
        }
        out
    }

    fn number(&mut self, clause: Clause) -> usize {
        let known = self.sources.iter().position(|&c| c == clause);
        known.unwrap_or_else(|| {
            self.sources.push(clause);
            self.sources.len() - 1
        }) + 1
    }

    fn widths(&self) -> Vec<usize> {
        let columns = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let width = |c: usize| self.rows.iter().filter_map(|row| row.get(c)).map(|cell| cell.chars().count()).max();
        (0..columns).map(|c| width(c).unwrap_or(0)).collect()
    }
}

/// Ascending numbers as people list them: `1,2,4-6`.
fn runs(numbers: &[usize]) -> String {
    let whole = numbers.chunk_by(|a, b| a + 1 == *b).flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first}-{last}")],
        short => short.iter().map(ToString::to_string).collect(),
    });
    whole.collect::<Vec<_>>().join(",")
}

/// `x` with `digits` decimals.
pub(super) fn num(x: f64, digits: usize) -> String {
    format!("{x:.digits$}")
}

/// First column to the left, the others to the right.
fn line(row: &[String], widths: &[usize]) -> String {
    let cells = row.iter().zip(widths).enumerate();
    let cells = cells.map(|(i, (cell, &w))| if i == 0 { format!("{cell:<w$}") } else { format!("{cell:>w$}") });
    format!("{}\n", cells.collect::<Vec<_>>().join(GAP).trim_end())
}

/// Words of `text` behind `lead`, broken at [`WIDTH`], further lines set in as far as `lead`.
fn wrapped(lead: &str, text: &str) -> String {
    let indent = " ".repeat(lead.chars().count());
    let (mut out, mut at) = (lead.to_owned(), indent.len());
    for word in text.split_whitespace() {
        let long = word.chars().count();
        if at + long + 1 > WIDTH && at > indent.len() {
            out.push('\n');
            out.push_str(&indent);
            at = indent.len();
        } else if at > indent.len() {
            out.push(' ');
            at += 1;
        }
        out.push_str(word);
        at += long;
    }
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::Source;

    #[test]
    fn a_source_used_twice_is_listed_once() {
        let mut page = Page::new("t", &["a", "b\nmm"]);
        let (one, two) = (Source::STATICS.at("beam"), Source::JUDGEMENT.at("because"));
        assert_eq!(page.cite(&[two]), "1");
        assert_eq!(page.cite(&[one, two, one]), "1,2");
        page.row(vec!["x".into(), "1.25".into()]);
        let want = "t\n\na     b\n     mm\nx  1.25\n\nSources\n [1] judgement: because\n [2] statics and elastic beam \
            theory, beam\n";
        assert_eq!(page.finish(), want);
    }

    #[test]
    fn runs_of_three_are_drawn_together() {
        assert_eq!(runs(&[1, 2, 4, 5, 6, 9]), "1,2,4-6,9");
        assert_eq!(runs(&[]), "");
    }

    #[test]
    fn long_words_break_the_line() {
        let text = wrapped(" [1] ", &"word ".repeat(40));
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert_eq!(text.lines().nth(1).map(|line| &line[..9]), Some("     word"));
    }
}

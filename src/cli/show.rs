//! Text on the terminal.

use std::borrow::Cow;
use std::io::{self, Write};

use underframe::Failure;
use underframe::problem::is_printable;

use super::{Refusal, Status};

/// Widest line, characters.
pub const WIDTH: usize = 100;

/// Writes to standard output; a reader that has seen enough is no error.
///
/// # Errors
/// Standard output cannot be written.
pub fn text(text: &str) -> Result<Status, Refusal> {
    let mut out = io::stdout().lock();
    match out.write_all(plain(text).as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != io::ErrorKind::BrokenPipe => {
            Err(format!("could not write to standard output: {}", super::write_error::why(&e)))
        }
        _ => Ok(Status::Passes),
    }
}

/// Says on standard output what has been done; where that cannot be written it is done all the same.
pub fn afterwards(done: &str) -> Status {
    if let Err(why) = text(done) {
        aloud(&format!("{why}\nall files were written"));
    }
    Status::Passes
}

/// Writes to standard error; when that is gone too, nobody listens.
pub fn aloud(text: &str) {
    let _ = writeln!(io::stderr().lock(), "{}", plain(text.trim_end()));
}

/// Text without what a terminal would obey: files and names that others wrote may hold such signs.
fn plain(text: &str) -> Cow<'_, str> {
    let harmless = |c| is_printable(c) || matches!(c, '\n' | '\t');
    if text.chars().all(harmless) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().map(|c| if harmless(c) { c } else { '\u{fffd}' }).collect())
}

/// A failure as the user reads it: every problem with its place in `file`, then their count.
pub fn failure(failure: &Failure, file: &str, after: &str) -> Refusal {
    match failure {
        Failure::Problems(problems) => {
            let mut lines: Vec<String> = problems.iter().map(|p| p.show(file)).collect();
            lines.push(format!("{} in {file}; {after}", counted(problems.len(), "problem")));
            lines.join("\n")
        }
        Failure::Defect(why) => {
            format!("underframe made a mistake of its own with {file}: {why}\n{after}; please report it with the file")
        }
    }
}

/// `1 problem`, `3 problems`.
pub fn counted(count: usize, noun: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{plural}")
}

/// Words broken into lines of at most `width` characters; a longer word stays whole.
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let (Some(line), long) = (lines.last_mut(), word.chars().count()) else { break };
        if line.is_empty() {
            line.push_str(word);
        } else if line.chars().count() + 1 + long <= width {
            line.push(' ');
            line.push_str(word);
        } else {
            lines.push(word.to_owned());
        }
    }
    lines
}

/// A paragraph: `lead`, then the text, further lines set in as far as `lead`.
pub fn paragraph(lead: &str, text: &str) -> String {
    let indent = " ".repeat(lead.chars().count());
    let lines = wrapped(text, WIDTH.saturating_sub(indent.len()));
    let lines = lines.iter().enumerate().map(|(i, line)| format!("{}{line}\n", if i == 0 { lead } else { &indent }));
    lines.collect()
}

/// Three significant digits, thousands whole.
pub fn figure(x: f64) -> String {
    if !x.is_finite() {
        return "-".into();
    }
    let whole = x.abs().max(1e-3).log10().floor() as i32;
    let digits = (2 - whole).clamp(0, 4) as usize;
    format!("{x:.digits$}")
}

/// The name nearest to what was typed, if any is near.
pub fn nearest<'a>(typed: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let typed = typed.to_lowercase();
    let distance = |name: &str| strsim::damerau_levenshtein(&typed, &name.to_lowercase());
    let best = names.map(|name| (distance(name), name)).min()?;
    (best.0 <= typed.chars().count().div_ceil(3)).then_some(best.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_three_digits() {
        let shown = [0.0, 0.001234, 0.5, 12.34, 123.4, 12345.0].map(figure);
        assert_eq!(shown, ["0.0000", "0.0012", "0.500", "12.3", "123", "12345"]);
    }

    #[test]
    fn paragraphs_are_set_in() {
        let text = paragraph("  a  ", &"word ".repeat(30));
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert!(text.lines().nth(1).is_some_and(|line| line.starts_with("     word")), "{text}");
    }

    #[test]
    fn only_a_near_name_is_offered() {
        assert_eq!(nearest("wods", ["tubes", "woods"].into_iter()), Some("woods"));
        assert_eq!(nearest("granite", ["tubes", "woods"].into_iter()), None);
    }
}

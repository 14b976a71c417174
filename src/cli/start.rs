//! `start`: a first parameter file from flags, or from answers on the terminal.

use std::io::{self, BufRead, IsTerminal, Write};
use std::path::Path;

use underframe::params::{self, Answers, template};
use underframe::problem::visible;
use underframe::{Failure, plan};

use super::args::Answers as Flags;
use super::new_file::{self, NOTHING};
use super::write_error::why;
use super::{Refusal, Status, show};

/// One thing that the program asks.
struct Question {
    /// Its flag, without the dashes.
    flag: &'static str,
    /// Key of the file that the answer goes to, and those below it.
    key: &'static str,
    /// What is asked.
    text: &'static str,
    /// Whether nobody but the user can know it: without a terminal its flag must be there.
    needed: bool,
    /// Where the answer goes.
    slot: fn(&mut Answers) -> &mut String,
    /// Where the flag comes from.
    given: fn(&Flags) -> &Option<String>,
}

/// Lines `flag, key, text, needed, slot, field of the flags;`.
macro_rules! questions {
    ($($flag:literal, $key:literal, $text:literal, $needed:literal, $($slot:tt).+, $given:ident;)*) => {
        &[$(Question {
            flag: $flag,
            key: $key,
            text: $text,
            needed: $needed,
            slot: |answers| &mut answers.$($slot).+,
            given: |flags| &flags.$given,
        }),*]
    };
}

/// Every question in the order in which it is asked.
const QUESTIONS: &[Question] = questions! {
    "title", "title", "title", false, title, title;
    "length", "top.length", "length of the top", true, length, length;
    "width", "top.width", "width of the top", true, width, width;
    "thickness", "top.thickness", "thickness of the top", true, thickness, thickness;
    "wood", "top.wood", "wood (underframe tables woods)", false, wood, wood;
    "height", "height", "from the floor to the top's upper face", true, height, height;
    "tube", "legs.tube", "tube of the legs", true, tube, tube;
    "tubes", "legs.tubes", "tubes in each leg", false, tubes, tubes;
    "filament", "printing.filament", "filament (underframe tables filaments)", false, filament, filament;
    "mass", "loads[0].mass", "what stands on it for years", true, mass, mass;
    "children", "place.children", "can children reach it, yes or no", false, children, children;
};

/// Writes a first parameter file.
pub fn start(file: &Path, flags: Flags) -> Result<Status, Refusal> {
    let to_stdout = file == Path::new("-");
    let shown = visible(&file.display().to_string());
    if !to_stdout {
        new_file::free(file)?;
    }
    let answers = answers(&flags)?;
    let text = template(&answers);
    if let Err(problems) = params::read(&text) {
        return Err(show::failure(&Failure::Problems(problems), "the new file", NOTHING));
    }
    if to_stdout {
        return show::text(&text);
    }
    new_file::write(file, &text)?;
    Ok(show::afterwards(&format!("{shown}\n{NEXT}underframe check {shown}\n{}", unfinished(&text, &shown))))
}

/// What to do with a first file.
const NEXT: &str = "    Measure, correct and complete it; `underframe tables keys` lists every key.\n    Then: ";

/// What still keeps the first file from being used; empty when nothing does.
fn unfinished(text: &str, file: &str) -> String {
    let Err(problems) = plan(text.as_bytes()) else { return String::new() };
    let lines: String = problems.iter().map(|p| format!("{}\n", p.show(file))).collect();
    format!("Before it can be used:\n{lines}")
}

/// From the flags alone where they say enough, else from the terminal.
fn answers(flags: &Flags) -> Result<Answers, Refusal> {
    let answers = from_flags(flags)?;
    let missing: Vec<&Question> = QUESTIONS.iter().filter(|q| q.needed && (q.given)(flags).is_none()).collect();
    if missing.is_empty() {
        return Ok(answers);
    }
    if io::stdin().is_terminal() && io::stderr().is_terminal() {
        let open = |q: &&Question| (q.given)(flags).is_none();
        let (stdin, stderr) = (io::stdin().lock(), io::stderr().lock());
        return asked(answers, QUESTIONS.iter().filter(open), stdin, stderr);
    }
    let names: Vec<String> = missing.iter().map(|q| format!("--{}", q.flag)).collect();
    let usual = || QUESTIONS.iter().filter(|q| !q.needed).map(|q| format!("--{}", q.flag)).collect::<Vec<_>>();
    Err(format!(
        "flags missing: {}\n    on a terminal they would be asked for; {} may be left out\n{NOTHING}",
        names.join(", "),
        usual().join(", ")
    ))
}

/// The usual answers with those of the flags; every bad one is told.
fn from_flags(flags: &Flags) -> Result<Answers, Refusal> {
    let mut answers = Answers::default();
    let mut wrong = Vec::new();
    for question in QUESTIONS {
        let Some(text) = (question.given)(flags) else { continue };
        match question.accepts(text, &format!("--{}", question.flag)) {
            Ok(()) => text.clone_into((question.slot)(&mut answers)),
            Err(told) => wrong.push(told),
        }
    }
    if wrong.is_empty() { Ok(answers) } else { Err(format!("{}\n{NOTHING}", wrong.join("\n"))) }
}

/// Asks until every answer is one that the parameter file takes; an empty line takes what stands in brackets.
fn asked<'a>(
    mut answers: Answers,
    questions: impl Iterator<Item = &'a Question>,
    mut from: impl BufRead,
    mut to: impl Write,
) -> Result<Answers, Refusal> {
    for question in questions {
        let slot = (question.slot)(&mut answers);
        loop {
            let asked = write!(to, "{} [{slot}]: ", question.text).and_then(|()| to.flush());
            let line = asked.and_then(|()| line(&mut from)).map_err(|e| format!("{}\n{NOTHING}", why(&e)))?;
            let Some(line) = line else { return Err(format!("\nno more answers; {NOTHING}")) };
            let answer = line.trim();
            if answer.is_empty() {
                break;
            }
            match question.accepts(answer, question.name()) {
                Ok(()) => {
                    answer.clone_into(slot);
                    break;
                }
                Err(told) => writeln!(to, "  {}", told.replace('\n', "\n  ")).map_err(|e| why(&e))?,
            }
        }
    }
    Ok(answers)
}

/// The next line; none at the end of the input.
fn line(from: &mut impl BufRead) -> io::Result<Option<String>> {
    let mut bytes = Vec::new();
    let read = from.read_until(b'\n', &mut bytes)?;
    Ok((read > 0).then(|| String::from_utf8_lossy(&bytes).into_owned()))
}

impl Question {
    /// What is asked, without explanations.
    fn name(&self) -> &str {
        self.text.split([',', '(']).next().unwrap_or_default().trim()
    }

    /// What the reader of parameter files says of this answer, all others as usual; `name` is what it is called.
    fn accepts(&self, answer: &str, name: &str) -> Result<(), String> {
        let mut answers = Answers::default();
        answer.clone_into((self.slot)(&mut answers));
        let Err(problems) = params::read(&template(&answers)) else { return Ok(()) };
        let below = |key: &str| key.strip_prefix(self.key).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
        let found = problems.iter().find(|p| below(&p.key)).or(problems.first());
        let not = |accepted: &str| format!("{name}: \"{}\" is not accepted\n    accepted: {accepted}", visible(answer));
        Err(match (self.flag, found.and_then(|p| p.accepted.as_deref())) {
            ("children", _) => not("yes or no"),
            ("tubes", Some(accepted)) => not(accepted),
            _ => found.map_or_else(String::new, |p| p.named(name)),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn driven(lines: &str) -> (Result<Answers, Refusal>, String) {
        let mut told = Vec::new();
        let answers = asked(Answers::default(), QUESTIONS.iter(), lines.as_bytes(), &mut told);
        (answers, String::from_utf8(told).expect("UTF-8"))
    }

    const GOOD: [&str; 11] =
        ["Bench", "1400 mm", "23 in", "32 mm", "white ash", "740 mm", "20 x 2 mm", "3", "ASA", "30 kg", "yes"];

    #[test]
    fn a_bad_answer_lost_all_the_others() {
        let (plain, _) = driven(&GOOD.map(|line| format!("{line}\n")).concat());
        let plain = plain.expect("answers");
        assert_eq!((plain.title.as_str(), plain.width.as_str(), plain.children.as_str()), ("Bench", "23 in", "yes"));
        let bad = ["\u{1b}[2J", "8 km", "600", "1 mm", "oaken", "a lot", "25 mm", "nine", "glue", "none", "maybe"];
        for (at, bad) in bad.iter().enumerate() {
            let mut lines: Vec<&str> = GOOD.to_vec();
            lines.insert(at, bad);
            let (answers, told) = driven(&(lines.join("\n") + "\n"));
            assert_eq!(answers.as_ref(), Ok(&plain), "{bad}: {told}");
            assert_eq!(told.matches(&format!("{} [", QUESTIONS[at].text)).count(), 2, "{bad}: {told}");
            assert!(told.contains(&format!("]:   {}", QUESTIONS[at].name())), "{bad}: {told}");
            assert!(!told.contains('\u{1b}'), "{told:?}");
        }
        let (_, told) = driven("\n1400\n1400 mm\n8 mm\n");
        assert!(told.contains("\"1400\" has no unit") && told.contains("write \"1400 mm\""), "{told}");
        let (_, told) = driven("\n\n\n8 mm\n");
        assert!(told.contains("\"8 mm\" is too thin\n      accepted: 12 mm to"), "{told}");
    }

    #[test]
    fn empty_lines_take_what_stands_in_brackets() {
        assert_eq!(driven(&"\n".repeat(QUESTIONS.len())).0, Ok(Answers::default()));
    }

    #[test]
    fn the_end_of_the_input_ends_it() {
        for lines in ["", "Bench\n", "Bench\n1400 mm\n8 mm", &"\n".repeat(QUESTIONS.len() - 1)] {
            let (answers, _) = driven(lines);
            assert!(answers.is_err_and(|told| told.ends_with(NOTHING)), "{lines:?}");
        }
    }
}

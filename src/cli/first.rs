//! `start`, `tables`, `completions`: what one needs before there is a parameter file.

use std::fs::File;
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::Path;

use clap::CommandFactory;
use clap_complete::Shell;
use underframe::params::{self, keys_table, template};
use underframe::tables::TABLES;
use underframe::{Failure, plan};

use super::args::{Answers, Args};
use super::trouble::why;
use super::{Refusal, Status, show};

/// Name of the table of keys.
const KEYS: &str = "keys";

/// Lists the tables, or shows one.
pub fn tables(name: Option<&str>) -> Result<Status, Refusal> {
    let Some(name) = name.filter(|name| !name.trim().is_empty()) else { return show::text(&list()) };
    let wanted = name.trim().to_lowercase();
    if wanted == KEYS {
        return show::text(&keys_table());
    }
    match TABLES.iter().find(|(table, _)| *table == wanted) {
        Some((_, text)) => show::text(&text()),
        None => Err(no_table(name)),
    }
}

fn list() -> String {
    let title = |text: String| text.lines().next().unwrap_or_default().to_owned();
    let lines = TABLES.iter().map(|(name, text)| format!("{name:<12}{}\n", title(text())));
    format!("{}{KEYS:<12}Keys of the parameter file\n", lines.collect::<String>())
}

fn no_table(name: &str) -> Refusal {
    let names = || TABLES.iter().map(|(name, _)| *name).chain([KEYS]);
    let near = show::nearest(name, names());
    let near = near.map_or_else(String::new, |n| format!("\n    did you mean \"{n}\"?"));
    format!("no table is called \"{name}\"{near}\n    tables: {}", names().collect::<Vec<_>>().join(", "))
}

/// Writes completions for a shell.
pub fn completions(shell: Shell) -> Result<Status, Refusal> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Args::command(), env!("CARGO_PKG_NAME"), &mut script);
    show::text(&String::from_utf8_lossy(&script))
}

/// Writes a first parameter file.
pub fn start(file: &Path, flags: Answers) -> Result<Status, Refusal> {
    let to_stdout = file == Path::new("-");
    let shown = file.display();
    if !to_stdout && std::fs::symlink_metadata(file).is_ok() {
        return Err(format!("{shown} is there already and is not overwritten; name another file"));
    }
    let flags = if flags.is_empty() && asks(to_stdout) { asked()? } else { flags };
    let text = template(&flags.filled());
    if let Err(problems) = params::read(&text) {
        return Err(show::failure(&Failure::Problems(problems), "the new file", "nothing was written"));
    }
    if to_stdout {
        return show::text(&text);
    }
    let written = File::create_new(file).and_then(|mut f| f.write_all(text.as_bytes()).and_then(|()| f.sync_all()));
    if let Err(e) = written {
        if e.kind() != io::ErrorKind::AlreadyExists {
            let _ = std::fs::remove_file(file);
        }
        return Err(format!("could not write {shown}: {}\nnothing was written", why(&e)));
    }
    Ok(show::afterwards(&format!("{shown}\n{NEXT}underframe check {shown}\n{}", unfinished(&text, &shown.to_string()))))
}

/// What to do with a first file.
const NEXT: &str = "    Measure, correct and complete it; `underframe tables keys` lists every key.\n    Then: ";

/// What still keeps the first file from being used; empty when nothing does.
fn unfinished(text: &str, file: &str) -> String {
    let Err(problems) = plan(text.as_bytes()) else { return String::new() };
    let lines: String = problems.iter().map(|p| format!("{}\n", p.show(file))).collect();
    format!("Before it can be used:\n{lines}")
}

fn asks(to_stdout: bool) -> bool {
    !to_stdout && io::stdin().is_terminal() && io::stderr().is_terminal()
}

/// Asks for every answer; an empty line takes what stands in brackets.
fn asked() -> Result<Answers, Refusal> {
    let usual = params::Answers::default();
    let [length, width, thickness] = usual.top;
    Ok(Answers {
        title: ask("title", &usual.title)?,
        length: ask("length of the top", &length)?,
        width: ask("width of the top", &width)?,
        thickness: ask("thickness of the top", &thickness)?,
        wood: ask("wood (underframe tables woods)", &usual.wood)?,
        height: ask("from the floor to the top's upper face", &usual.height)?,
        tube: ask("tube of the legs", &usual.tube)?,
        tubes: ask("tubes in each leg", &usual.tubes.to_string())?.map(|t| number(&t)).transpose()?,
        filament: ask("filament (underframe tables filaments)", &usual.filament)?,
        mass: ask("what stands on it for years", &usual.mass)?,
    })
}

fn number(text: &str) -> Result<usize, Refusal> {
    text.parse().map_err(|_| format!("\"{text}\" is no number of tubes: 1 to 4\nnothing was written"))
}

fn ask(what: &str, usual: &str) -> Result<Option<String>, Refusal> {
    let mut answer = String::new();
    let mut stderr = io::stderr().lock();
    let asked = write!(stderr, "{what} [{usual}]: ").and_then(|()| stderr.flush());
    asked.and_then(|()| io::stdin().lock().read_line(&mut answer)).map_err(|e| why(&e))?;
    let answer = answer.trim();
    Ok((!answer.is_empty()).then(|| answer.to_owned()))
}

impl Answers {
    fn is_empty(&self) -> bool {
        let texts = [
            &self.title,
            &self.length,
            &self.width,
            &self.thickness,
            &self.wood,
            &self.height,
            &self.tube,
            &self.filament,
        ];
        texts.iter().all(|t| t.is_none()) && self.mass.is_none() && self.tubes.is_none()
    }

    fn filled(self) -> params::Answers {
        let usual = params::Answers::default();
        let [length, width, thickness] = usual.top;
        params::Answers {
            title: self.title.unwrap_or(usual.title),
            top: [self.length.unwrap_or(length), self.width.unwrap_or(width), self.thickness.unwrap_or(thickness)],
            wood: self.wood.unwrap_or(usual.wood),
            height: self.height.unwrap_or(usual.height),
            tubes: self.tubes.unwrap_or(usual.tubes),
            tube: self.tube.unwrap_or(usual.tube),
            filament: self.filament.unwrap_or(usual.filament),
            mass: self.mass.unwrap_or(usual.mass),
        }
    }
}

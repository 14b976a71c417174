//! The parameter file: where it comes from and what its kit is called.

use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use underframe::params;
use underframe::problem::visible;

use super::Refusal;
use super::kits::GAUGE;
use super::write_error::why;

/// The built-in file's name.
const BUILT_IN: &str = "potting-bench";
/// Bytes read at most: more than any parameter file may have, so that its reader can say so.
const LARGEST: u64 = 4_000_000;
/// Longest name of a kit's folder, bytes: file systems take 255, and we put some before it.
const LONGEST: usize = 200;

/// A parameter file.
#[derive(Debug)]
pub struct Input {
    /// As the messages call it.
    pub shown: String,
    /// Name of the kit's folder.
    pub name: String,
    /// Its bytes.
    pub text: Vec<u8>,
}

impl Input {
    /// Reads a file, standard input for `-`, or the built-in bench.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn read(file: Option<&Path>) -> Result<Self, Refusal> {
        let Some(path) = file else { return Ok(Self::built_in()) };
        if path == Path::new("-") {
            return Self::from_stdin();
        }
        let shown = visible(&path.display().to_string());
        if path.is_dir() {
            return Err(folder(path, &shown));
        }
        let name = safe(path).ok_or_else(|| format!("{shown} is no name of a parameter file"))?;
        let text = File::open(path).and_then(all).map_err(|e| format!("could not read {shown}: {}", why(&e)))?;
        Ok(Self { shown, name, text })
    }

    fn built_in() -> Self {
        let text = params::built_in().as_bytes().to_vec();
        Self { shown: format!("{BUILT_IN}.json (built in)"), name: BUILT_IN.into(), text }
    }

    fn from_stdin() -> Result<Self, Refusal> {
        let text = all(io::stdin().lock()).map_err(|e| format!("could not read standard input: {}", why(&e)))?;
        Ok(Self { shown: "stdin".into(), name: "stdin".into(), text })
    }
}

/// Most files of a folder that are listed.
const LISTED: usize = 12;

/// What to say where a folder was named: the parameter files in it.
fn folder(path: &Path, shown: &str) -> Refusal {
    let entries = path.read_dir().map(|entries| entries.flatten().map(|entry| entry.path()).collect::<Vec<_>>());
    let is_json =
        |file: &&PathBuf| file.is_file() && file.extension().is_some_and(|end| end.eq_ignore_ascii_case("json"));
    let mut names: Vec<String> = entries
        .unwrap_or_default()
        .iter()
        .filter(is_json)
        .map(|file| format!("\n        {}", visible(&file.display().to_string())))
        .collect();
    names.sort();
    let more = names.len().saturating_sub(LISTED);
    names.truncate(LISTED);
    if more > 0 {
        names.push(format!("\n        and {more} more"));
    }
    let list = names.concat();
    let told = if list.is_empty() { "there is none (*.json) in it".into() } else { format!("in it are:{list}") };
    format!("{shown} is a folder, and a parameter file is needed\n    {told}")
}

fn all(reader: impl Read) -> io::Result<Vec<u8>> {
    let mut text = Vec::new();
    reader.take(LARGEST).read_to_end(&mut text)?;
    Ok(text)
}

/// The stem of a file as the name of a folder: letters and digits of any script, `-`, `_` and `.` stay, everything else
/// becomes `_`; nothing hidden, nothing that leads elsewhere, nothing that is called as a gauge is.
fn safe(path: &Path) -> Option<String> {
    let stem = path.file_stem()?.to_string_lossy();
    let mut name: String =
        stem.chars().map(|c| if c.is_alphanumeric() || "-_.".contains(c) { c } else { '_' }).collect();
    while name.len() > LONGEST {
        name.pop();
    }
    let mut name = name.trim_start_matches('.').trim_end_matches('.').to_owned();
    if let Some(end) = name.len().checked_sub(GAUGE.len())
        && name.is_char_boundary(end)
        && name[end..].eq_ignore_ascii_case(GAUGE)
    {
        name.replace_range(end..=end, "_");
    }
    (!name.is_empty()).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kits_are_named_after_their_file() {
        let names = [
            ("bench.json", "bench"),
            ("my jobs/garden bench.json", "garden_bench"),
            ("Küchentisch №2.json", "Küchentisch_№2"),
            ("/tmp/a.b.json", "a.b"),
            (".hidden.json", "hidden"),
            ("a\\b:c*.json", "a_b_c_"),
            ("bench", "bench"),
            ("a..\\..\\b.json", "a.._.._b"),
            ("bench.gauge.json", "bench_gauge"),
            ("bench.GAUGE..json", "bench_GAUGE"),
        ];
        for (path, name) in names {
            assert_eq!(safe(Path::new(path)).as_deref(), Some(name.replace('№', "_").as_str()), "{path}");
        }
    }

    #[test]
    fn names_that_lead_elsewhere_are_refused() {
        for path in ["..", "../..", "/", "", "...", ".../"] {
            assert_eq!(safe(Path::new(path)), None, "{path}");
        }
    }

    #[test]
    fn long_names_are_cut_between_letters() {
        let name = safe(Path::new(&format!("{}.json", "ü".repeat(120)))).expect("a name");
        assert_eq!(name, "ü".repeat(100));
    }
}

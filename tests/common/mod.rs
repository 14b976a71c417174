//! Running the program in a folder of its own.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use underframe::output::record::{Record, sha256};

/// The program.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_underframe");

/// A small table: one upright tube for each leg, quick to make.
pub fn small() -> String {
    include_str!("small.json").into()
}

/// An empty folder of its own for each test.
pub fn place(test: &str) -> PathBuf {
    let place = Path::new(env!("CARGO_TARGET_TMPDIR")).join(test);
    let _ = fs::remove_dir_all(&place);
    fs::create_dir_all(&place).expect("a folder");
    place
}

/// The program in a folder, with these arguments.
pub fn program(place: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command.current_dir(place).args(arguments);
    command
}

/// Runs it; gives exit status, standard output, standard error.
pub fn run(place: &Path, arguments: &[&str]) -> (i32, String, String) {
    describe(program(place, arguments).stdin(Stdio::null()).output().expect("runs"))
}

/// Exit status, standard output, standard error.
pub fn describe(output: Output) -> (i32, String, String) {
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().unwrap_or(-1), text(output.stdout), text(output.stderr))
}

/// Names in a folder, sorted; none where there is no folder.
pub fn names(folder: &Path) -> Vec<String> {
    let Ok(list) = fs::read_dir(folder) else { return Vec::new() };
    let mut names: Vec<String> = list.map(|e| e.expect("entry").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// The record of a kit whose files are all as the record says.
pub fn whole(kit: &Path) -> Result<Record, String> {
    let read = |path: &str| fs::read(kit.join(path)).map_err(|e| format!("{path}: {e}"));
    let record = Record::read(&read("record.json")?)?;
    for (path, sha) in &record.files {
        if sha256(&read(path)?) != *sha {
            return Err(format!("{path} is not as the record says"));
        }
    }
    Ok(record)
}

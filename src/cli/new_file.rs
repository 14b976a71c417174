//! A parameter file that is written: never over one that is there.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;

use super::Refusal;
use super::write_error::{shown, why};

/// What a refusal ends with.
pub const NOTHING: &str = "nothing was written";

/// Whether nothing stands where a file shall be written.
///
/// # Errors
/// That something does.
pub fn free(file: &Path) -> Result<(), Refusal> {
    if fs::symlink_metadata(file).is_err() {
        return Ok(());
    }
    Err(format!("{} is there already and is not overwritten; name another file", shown(file)))
}

/// Writes it whole, or not at all.
///
/// # Errors
/// Why it cannot be written.
pub fn write(file: &Path, text: &str) -> Result<(), Refusal> {
    let written = File::create_new(file).and_then(|mut f| f.write_all(text.as_bytes()).and_then(|()| f.sync_all()));
    let Err(e) = written else { return Ok(()) };
    if e.kind() != io::ErrorKind::AlreadyExists {
        let _ = fs::remove_file(file);
    }
    Err(format!("could not write {}: {}\n{NOTHING}", shown(file), why(&e)))
}

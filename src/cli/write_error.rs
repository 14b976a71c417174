//! What the disk refused, in plain words.

use std::io;
use std::path::Path;

use underframe::problem::visible;

/// What could not be done, to what, and why.
#[derive(Debug)]
pub struct WriteError {
    /// `could not write out/bench/report.html`.
    what: String,
    /// The system's answer.
    why: io::Error,
}

impl WriteError {
    /// `what` continues "could not".
    pub fn new(what: &str, path: &Path, why: io::Error) -> Self {
        Self { what: format!("could not {what} {}", shown(path)), why }
    }
}

impl std::fmt::Display for WriteError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.what, why(&self.why))
    }
}

/// A path as a terminal may show it.
pub fn shown(path: &Path) -> String {
    visible(&path.display().to_string())
}

/// A system's answer in plain words.
pub fn why(error: &io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::StorageFull => "the disk is full",
        io::ErrorKind::QuotaExceeded => "your share of the disk is used up",
        io::ErrorKind::FileTooLarge => "the system allows no larger files",
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        io::ErrorKind::PermissionDenied => "it is not allowed",
        io::ErrorKind::NotFound => "there is no such file or folder",
        io::ErrorKind::NotADirectory => "a part of the path is a file, not a folder",
        io::ErrorKind::IsADirectory => "it is a folder, not a file",
        io::ErrorKind::AlreadyExists => "it is there already",
        _ => return error.to_string(),
    };
    words.to_owned()
}

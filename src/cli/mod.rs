//! The commands: each reads, calls the library, writes or shows.

pub mod args;
mod first;
mod input;
mod judge;
mod kits;
mod new_file;
mod past;
mod progress;
pub mod show;
mod solid;
mod start;
mod write;
mod write_error;

use args::Command;

/// How a run ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Every check passes.
    Passes = 0,
    /// Something is not adequate, or nothing was found.
    Fails = 1,
    /// The parameter file or the machine cannot be used.
    Unusable = 2,
}

/// Why nothing was done, as the user reads it.
type Refusal = String;

/// Runs a command.
///
/// # Errors
/// What to tell the user when nothing was written.
pub fn run(command: Command) -> Result<Status, Refusal> {
    match command {
        Command::Make { file, out } => kits::make(file.as_deref(), &out.folder),
        Command::Gauge { file, out } => kits::gauge(file.as_deref(), &out.folder),
        Command::Check { file, all, json, solid, with, out } => {
            judge::check(file.as_deref(), judge::Asked { all, json, solid, taken: with.zip(out) })
        }
        Command::Working { check, file } => judge::working(check.as_deref(), file.as_deref()),
        Command::Compare { file, out } => past::compare(&file, &out.folder),
        Command::Find { mark, out } => past::find(&mark, &out.folder),
        Command::Tables { name } => first::tables(name.as_deref()),
        Command::Start { file, answers } => start::start(&file, *answers),
        Command::Schema => show::text(&underframe::params::schema()),
        Command::Completions { shell } => first::completions(shell),
    }
}

//! Command line of underframe: arguments, reading, writing, exit status.

mod cli;

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    match cli::run(cli::args::Args::parse().command) {
        Ok(status) => ExitCode::from(status as u8),
        Err(refusal) => {
            cli::show::aloud(&refusal);
            ExitCode::from(cli::Status::Unusable as u8)
        }
    }
}

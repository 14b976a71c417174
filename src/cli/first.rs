//! `tables`, `completions`: what one needs before there is a parameter file.

use clap::CommandFactory;
use clap_complete::Shell;
use underframe::params::keys_table;
use underframe::tables::TABLES;

use super::args::Args;
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

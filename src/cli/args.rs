//! Arguments.

use std::path::PathBuf;

use clap::{Args as Flags, Parser, Subcommand};
use clap_complete::Shell;

/// Shown below the list of commands.
const EXAMPLES: &str = "\
Examples:
  underframe make                              the built-in potting bench, into out/potting-bench/
  underframe start bench.json                  a first parameter file, from your answers
  underframe check bench.json                  is it strong enough? only the terminal
  underframe gauge bench.json                  print this first: which clearance fits?
  underframe make bench.json                   report, meshes, papers into out/bench/
  underframe compare bench.json                after a change: what to print, cut and drill again

Exit status:
  0  every check passes
  1  something is not adequate (the files are written and say so); `find`: no such mark
  2  the parameter file or the machine cannot be used (nothing is written)";

/// Printable leg hardware for a solid wooden top, and whether it is strong enough.
///
/// From one parameter file that describes a wooden top, legs of thin metal tube and what they carry:
/// brackets, ties, feet, a fit gauge and a drill guide to print; cut list, drilling template and
/// report to work from.
#[derive(Debug, Parser)]
#[command(version, after_help = EXAMPLES, max_term_width = 100, disable_help_subcommand = true)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write everything: report, meshes, beds, papers, lists
    #[command(after_help = "Examples:\n  underframe make bench.json\n  underframe make bench.json --out ~/benches\n  \
        cat bench.json | underframe make -          into out/stdin/\n\nFiles in the kit's folder that underframe did \
        not write stay where they are. The old record.json\nstays as record_1.json.")]
    Make {
        /// Parameter file; `-` reads standard input [default: the built-in potting bench]
        file: Option<PathBuf>,
        #[command(flatten)]
        out: Out,
    },
    /// Only the strength and stability checks, on the terminal
    #[command(after_help = "Examples:\n  underframe check bench.json\n  underframe check bench.json --all | less\n  \
        underframe check bench.json --json > checks.json\n  underframe check bench.json --with 1 --out better.json\n\n\
        An existing file is never overwritten.")]
    Check {
        /// Parameter file; `-` reads standard input [default: the built-in potting bench]
        file: Option<PathBuf>,
        /// Every place, not only the worst of each check
        #[arg(long)]
        all: bool,
        /// For programs: every check with its working
        #[arg(long, conflicts_with = "all")]
        json: bool,
        /// Analyse each bracket as the solid that is printed; takes some seconds
        #[arg(long)]
        solid: bool,
        /// Make a change that would help, by its number, in a copy of the parameter file
        #[arg(long, value_name = "N", requires = "out", conflicts_with = "json")]
        with: Option<usize>,
        /// The copy to write, in your own words and order
        #[arg(long, value_name = "FILE", requires = "with")]
        out: Option<PathBuf>,
    },
    /// Only the fit gauge
    #[command(
        after_help = "Example:\n  underframe gauge bench.json                 into out/bench.gauge/\n\nPush the tube \
        into every slice. Write the clearance of the slice that fits into the parameter\nfile as printing.clearance."
    )]
    Gauge {
        /// Parameter file; `-` reads standard input [default: the built-in potting bench]
        file: Option<PathBuf>,
        #[command(flatten)]
        out: Out,
    },
    /// What a change of the file makes obsolete: print again, cut again, drill, or keep
    #[command(after_help = "Example:\n  underframe make bench.json                  the kit you built from\n  (edit \
        bench.json)\n  underframe compare bench.json               what has to be made anew, and because of which key\n  \
        underframe make bench.json                  the new kit")]
    Compare {
        /// Changed parameter file
        file: PathBuf,
        #[command(flatten)]
        out: Out,
    },
    /// Which kit and file a printed part came from, by its engraved mark
    #[command(after_help = "Example:\n  underframe find BK7Q\n\nExit status 1: no kit has that mark.")]
    Find {
        /// The mark engraved on the part
        mark: String,
        #[command(flatten)]
        out: Out,
    },
    /// The working of one check: formula, numbers put in, sources
    #[command(after_help = "Examples:\n  underframe working \"top: sag\" bench.json\n  underframe working bench.json\
        \n                       the check that governs, and which others there are")]
    Working {
        /// Name of the check as `check` shows it, or a part of it, or its place [default: the check that governs]
        check: Option<String>,
        /// Parameter file; `-` reads standard input [default: the built-in potting bench]
        file: Option<PathBuf>,
    },
    /// The woods, tubes, filaments, screws and their sources
    #[command(after_help = "Examples:\n  underframe tables                           which tables there are\n  \
        underframe tables woods\n  underframe tables keys                      every key of the parameter file")]
    Tables {
        /// Name of a table [default: the list of tables]
        name: Option<String>,
    },
    /// A first parameter file with explanations, from a few answers
    #[command(
        after_help = "Examples:\n  underframe start bench.json                 asks on the terminal\n  underframe \
        start bench.json --length '1500 mm' --width '700 mm' --thickness '1 1/2 in' --height '860 mm' \\\n      \
        --tube '16 x 1.5 mm' --mass '60 kg'\n\nWithout a terminal those flags must be there. An existing file is never overwritten."
    )]
    Start {
        /// File to write; `-` writes to standard output
        file: PathBuf,
        #[command(flatten)]
        answers: Box<Answers>,
    },
    /// The JSON Schema of the parameter file, for editors
    Schema,
    /// Completions for a shell, on standard output
    #[command(
        after_help = "Example:\n  underframe completions bash > ~/.local/share/bash-completion/completions/underframe"
    )]
    Completions {
        /// The shell
        shell: Shell,
    },
}

/// Where kits are written.
#[derive(Debug, Flags)]
pub struct Out {
    /// Folder that holds the kits, each in a folder named after its parameter file
    #[arg(long = "out", value_name = "DIR", default_value = "out")]
    pub folder: PathBuf,
}

/// Answers for a first file.
#[derive(Debug, Default, Flags)]
pub struct Answers {
    /// Title of the job
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// Length of the top, with its unit: '1500 mm', '59 in'
    #[arg(long, value_name = "LENGTH")]
    pub length: Option<String>,
    /// Width of the top
    #[arg(long, value_name = "LENGTH")]
    pub width: Option<String>,
    /// Thickness of the top
    #[arg(long, value_name = "LENGTH")]
    pub thickness: Option<String>,
    /// Wood of the top, from `underframe tables woods`
    #[arg(long, value_name = "NAME")]
    pub wood: Option<String>,
    /// From the floor to the top's upper face
    #[arg(long, value_name = "LENGTH")]
    pub height: Option<String>,
    /// Tube of the legs: '25 x 2 mm', '1 in x 16 ga'
    #[arg(long, value_name = "SIZE")]
    pub tube: Option<String>,
    /// Tubes in each leg, 1 to 4
    #[arg(long, value_name = "COUNT")]
    pub tubes: Option<String>,
    /// Filament of the parts, from `underframe tables filaments`
    #[arg(long, value_name = "NAME")]
    pub filament: Option<String>,
    /// What stands on it for years: '60 kg', '130 lb'
    #[arg(long, value_name = "MASS")]
    pub mass: Option<String>,
    /// Whether children can reach it: yes, or no; without a word yes
    #[arg(long, value_name = "YES OR NO", num_args = 0..=1, default_missing_value = "yes")]
    pub children: Option<String>,
}

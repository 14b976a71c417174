//! The map of files: meshes, papers, lists, report, record.

pub mod added;
pub mod assembly;
pub mod beds;
pub mod below;
pub mod cautions;
pub mod chain;
pub mod coupons;
pub mod cut_list;
pub mod cut_plan;
pub mod drilling;
pub mod frame_facts;
pub mod hardware;
pub mod kit;
mod measures;
mod notes;
pub mod packing;
pub mod picture;
pub mod plastic;
pub mod record;
pub mod report;
pub mod report_json;
pub mod sheet;
pub mod solids;
pub mod template;
mod tones;
pub mod underside;
mod weights;
pub mod words;
pub mod working;

use std::collections::BTreeMap;

use crate::checks::Checked;
use crate::mechanics::Forces;
use crate::model::Model;
use crate::parallel;
use crate::parts::Part;
use crate::search::Variation;

pub use kit::{Unsound, VerifiedMesh};

/// Paths below the kit's folder, with `/`, and their bytes.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Everything an output may show; nothing here is computed again.
#[derive(Clone, Copy, Debug)]
pub struct Kit<'a> {
    /// Positions, dimensions, what was assumed.
    pub model: &'a Model,
    /// Forces and movements.
    pub forces: &'a Forces,
    /// Checks, verdict, remedies, cautions.
    pub checked: &'a Checked,
    /// What other loads and other tubes would give.
    pub varied: &'a Variation,
    /// Parts with their judged meshes, in file order.
    pub printed: &'a [VerifiedMesh],
    /// The parameter file's text as read.
    pub text: &'a str,
}

/// One sort of output.
pub type Write = fn(&Kit) -> Result<Files, String>;

/// Everything that is written for a kit; `record.json` follows, since it names all of it.
pub const OUTPUTS: &[(&str, Write)] = &[
    ("report", report::write),
    ("solids", solids::steps),
    ("beds", beds::write),
    ("drilling papers", drilling::write),
    ("coupons' sheet", coupons::write),
    ("cut list", cut_list::write),
    ("hardware list", hardware::write),
    ("weights", weights::write),
    ("meshes", solids::meshes),
    ("figures", report_json::write),
];

/// All files of a kit.
///
/// # Errors
/// The output that failed and why; two outputs of one path.
pub fn all(kit: &Kit) -> Result<Files, String> {
    let mut files = Files::new();
    let written = parallel::map(OUTPUTS, |(_, write)| write(kit));
    for ((name, _), written) in OUTPUTS.iter().zip(written) {
        for (path, bytes) in written.map_err(|why| format!("{name}: {why}"))? {
            if files.insert(path.clone(), bytes).is_some() {
                return Err(format!("{name}: {path} is written twice"));
            }
        }
    }
    let mut record = record::Record::of(kit.model, kit.printed, kit.text, &files);
    record.frame = frame_facts::facts(kit.model, kit.forces);
    record.add_to(&mut files)?;
    Ok(files)
}

/// The files of a kit that is only a fit gauge and coupons.
///
/// # Errors
/// A record that cannot be written.
pub fn gauge(model: &Model, printed: &[VerifiedMesh], text: &str) -> Result<Files, String> {
    let meshes = printed.iter().enumerate().map(|(i, p)| (format!("{}.stl", stem(i, &p.part)), p.stl.clone()));
    let mut files: Files = meshes.chain(coupons::files(model, "")).collect();
    let mut record = record::Record::of(model, printed, text, &files);
    record.tubes.clear();
    record.holes.clear();
    record.add_to(&mut files)?;
    Ok(files)
}

/// Path of a part's mesh without its ending, by its place in the list: `parts/01_bracket_x4`.
#[must_use]
pub fn stem(index: usize, part: &Part) -> String {
    format!("parts/{:02}_{}_x{}", index + 1, part.name.replace(' ', "_"), part.count)
}

impl Kit<'_> {
    /// Path of a part's mesh without its ending: `parts/01_bracket_x4`.
    #[must_use]
    pub fn stem(&self, index: usize) -> String {
        stem(index, &self.printed[index].part)
    }
}

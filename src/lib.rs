//! Printable leg hardware for a solid wooden top.
//!
//! The program is a pure function: parameter text in, a map of files out, or a list of problems. Nothing in this
//! library touches the disk, the clock or the terminal.

pub mod checks;
pub mod clauses;
pub mod compare;
pub mod evaluate;
pub mod fem;
pub mod formats;
pub mod geometry;
pub mod mechanics;
pub mod model;
pub mod output;
pub mod parallel;
pub mod params;
pub mod parts;
pub mod problem;
pub mod search;
pub mod source;
pub mod tables;
pub mod units;

use std::sync::Arc;

use checks::Checked;
use evaluate::Evaluation;
use mechanics::solid_bracket::{self, SolidBracket};
use mechanics::{Cache, Detail, Forces, PartModels};
use model::Model;
use output::{Files, Kit, VerifiedMesh};
use params::Design;
use problem::Problem;

/// Everything that a parameter file gives.
#[derive(Clone, Debug)]
pub struct Made {
    /// Paths below the kit's folder and their bytes.
    pub files: Files,
    /// Positions and dimensions.
    pub model: Model,
    /// Forces and movements.
    pub forces: Forces,
    /// Checks, verdict, remedies, cautions.
    pub checked: Checked,
}

/// Why there are no files.
#[derive(Clone, Debug, PartialEq)]
pub enum Failure {
    /// The parameter file is wrong.
    Problems(Vec<Problem>),
    /// A good file and yet no sound kit: our mistake.
    Defect(String),
}

impl Failure {
    fn defect(why: impl std::fmt::Display) -> Self {
        Self::Defect(why.to_string())
    }
}

impl From<Vec<Problem>> for Failure {
    fn from(problems: Vec<Problem>) -> Self {
        Self::Problems(problems)
    }
}

/// What is being done, for a progress line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step<'a> {
    /// Brackets are analysed as solids.
    Analysing,
    /// Forces and checks.
    Checking,
    /// Changes that would help are tried.
    Advising,
    /// Other loads and other tubes are tried.
    Varying,
    /// A part of this name is meshed and judged.
    Printed(&'a str),
    /// Papers and lists are drawn.
    Writing,
}

/// Hears what is being done.
pub type Progress<'a> = &'a (dyn Fn(Step) + Sync);

/// The layout of a parameter file.
///
/// # Errors
/// Every problem of the file.
pub fn plan(text: &[u8]) -> Result<Model, Vec<Problem>> {
    Model::new(&params::read_bytes(text)?)
}

/// A table that was solved and checked.
#[derive(Clone)]
pub struct Judged {
    /// Positions and dimensions.
    pub model: Model,
    /// Forces and movements.
    pub forces: Forces,
    /// Checks, verdict, cautions; remedies once they were looked for.
    pub checked: Checked,
    plates: Arc<PartModels>,
    cache: Arc<Cache>,
    design: Design,
    text: String,
}

impl Judged {
    fn new(evaluation: Evaluation, plates: PartModels, cache: Cache, design: Design, text: String) -> Self {
        let Evaluation { model, forces, checked } = evaluation;
        Self { model, forces, checked, plates: Arc::new(plates), cache: Arc::new(cache), design, text }
    }

    /// Looks for what would help, where something fails or is tight: takes as long as several tables.
    pub fn advise(&mut self, progress: Progress) {
        progress(Step::Advising);
        search::advise(&self.design, &self.model, &self.forces, &self.cache, &mut self.checked);
    }

    /// The parameter file with the changes of a remedy, in the user's own words and order.
    ///
    /// # Errors
    /// A remedy of another file.
    pub fn with(&self, remedy: &checks::Remedy) -> Result<String, params::Refused> {
        params::edited(&self.text, &remedy.edits)
    }
}

/// Only forces and checks, without remedies.
///
/// # Errors
/// Every problem of the file, or a frame that cannot be solved.
pub fn judge(text: &[u8], progress: Progress) -> Result<Judged, Failure> {
    let (design, params) = params::read_design(text)?;
    progress(Step::Checking);
    let cache = Cache::default();
    let model = Model::new(&params)?;
    let plates = PartModels::new(&model, Detail::Full, &cache).map_err(Failure::defect)?;
    let evaluation = Evaluation::on(model, &plates)?;
    Ok(Judged::new(evaluation, plates, cache, design, words(text)))
}

/// A bracket as the solid that is drawn, beside what its plate model says.
#[derive(Clone, Debug)]
pub struct Analysed {
    /// The solid.
    pub solid: SolidBracket,
    /// Off the wood and on it, about x and y: soft, middle and stiff, N mm/rad, tubes tied.
    pub plate: [[[f64; 3]; 2]; 2],
}

/// The same as [`judge`], every distinct bracket analysed as a solid as well. Where the tubes are tied and no stiffness is
/// given, the frame is solved with that of the solids: soft in layers and held at the screws alone, stiff on rigid wood. Whether it was
/// is told last.
///
/// # Errors
/// As [`judge`], or a bracket that cannot be analysed.
pub fn judge_solid(text: &[u8], progress: Progress) -> Result<(Judged, Vec<Analysed>, bool), Failure> {
    let (design, params) = params::read_design(text)?;
    let model = Model::new(&params)?;
    progress(Step::Analysing);
    let cache = Cache::default();
    let mut plates = PartModels::new(&model, Detail::Full, &cache).map_err(Failure::defect)?;
    let tied = matches!(mechanics::hold(&model), mechanics::joint::Hold::Bonded | mechanics::joint::Hold::Bolted);
    let taken = tied && model.params.joints == params::JointStiffness::Estimated;
    let mut found = Vec::new();
    for kind in plates.distinct() {
        let part = parts::bracket(&model, kind).map_err(Failure::defect)?;
        let solid = solid_bracket::bracket(&part, &model.params.printing.filament).map_err(Failure::defect)?;
        found.push(Analysed { plate: plates.bonded(kind), solid });
    }
    let distinct = plates.distinct();
    for (kind, Analysed { solid, .. }) in distinct.into_iter().zip(&found).filter(|_| taken) {
        let softer = solid.layered.on_wood.map(|senses| senses[0].min(senses[1]));
        plates.take_solid(kind, [softer, solid.even.on_wood.map(|senses| senses[0].max(senses[1]))]);
    }
    progress(Step::Checking);
    let evaluation = Evaluation::on(model, &plates)?;
    Ok((Judged::new(evaluation, plates, cache, design, words(text)), found, taken))
}

/// The whole kit.
///
/// # Errors
/// Every problem of the file, or a part or paper that is not sound.
pub fn make(text: &[u8], progress: Progress) -> Result<Made, Failure> {
    let mut judged = judge(text, progress)?;
    let parts = parts::all(&judged.model).map_err(Failure::defect)?;
    let search = || {
        judged.advise(progress);
        progress(Step::Varying);
        let Judged { design, model, checked, plates, cache, .. } = &judged;
        let varied = search::variation(design, model, &checked.checks, plates, cache);
        (judged, varied)
    };
    // Searching has stretches for one core alone.
    let ((Judged { model, forces, checked, text, .. }, varied), printed) =
        parallel::both(search, || printed(parts, progress));
    let printed = printed?;
    progress(Step::Writing);
    let kit =
        Kit { model: &model, forces: &forces, checked: &checked, varied: &varied, printed: &printed, text: &text };
    let files = output::all(&kit).map_err(Failure::defect)?;
    Ok(Made { files, model, forces, checked })
}

/// Only the fit gauge.
///
/// # Errors
/// Every problem of the file, or a gauge that is not sound.
pub fn gauge(text: &[u8], progress: Progress) -> Result<Files, Failure> {
    let model = plan(text)?;
    let printed = printed(parts::gauge(&model).map_err(Failure::defect)?, progress)?;
    output::gauge(&model, &printed, &words(text)).map_err(Failure::defect)
}

fn printed(parts: Vec<parts::Part>, progress: Progress) -> Result<Vec<VerifiedMesh>, Failure> {
    output::kit::mesh_all(parts, &|name| progress(Step::Printed(name))).map_err(Failure::defect)
}

/// A file that was read without a problem is UTF-8; only its byte order mark is left out.
fn words(text: &[u8]) -> String {
    String::from_utf8_lossy(text).trim_start_matches('\u{feff}').to_owned()
}

//! A changed parameter file against the kit that stands: what to print, cut and drill again, what to keep, and which
//! key is the reason.
//!
//! Things are compared with the record of the kit, since that is what was printed and cut. Reasons are found by trial:
//! each changed key is put alone into the old file, and taken back alone in the new one, and the layout is made again.

mod cause;
mod change;
mod holes;
mod pair;
mod text;
mod things;

pub use change::Change;
pub use pair::{Line, Verb};

use crate::output::record::{Record, parameters};
use crate::problem::{Place, Problem};
use crate::{parts, plan, words};

/// What changed and what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Changed keys, sorted.
    pub changes: Vec<Change>,
    /// Printed parts: the new kit's in file order, then what is left over.
    pub parts: Vec<Line>,
    /// Tubes: the new kit's, legs first, then what is left over.
    pub tubes: Vec<Line>,
    /// Holes in the underside, leg by leg.
    pub holes: Vec<Line>,
    /// What to bear in mind.
    pub notes: Vec<&'static str>,
}

/// Compares the text of a parameter file with a kit on record.
///
/// # Errors
/// Every problem of the text.
pub fn compare(old: &Record, text: &[u8]) -> Result<Difference, Vec<Problem>> {
    let new = planned(text)?;
    let (before, after) = (things::of(old), things::of(&new));
    let mut changes = change::between(&parameters(&old.text), &new.parameters);
    let causes = cause::Causes::new(old, &new, &changes);
    causes.mark_idle(&mut changes);
    Ok(Difference {
        parts: pair::parts(old, &new, &before, &after, &causes),
        tubes: pair::tubes(&before, &after, &causes),
        holes: holes::lines(&before, &after, &causes),
        notes: notes(&changes),
        changes,
    })
}

impl Difference {
    /// Nothing has to be made anew, and nothing is left over.
    #[must_use]
    pub fn nothing_to_do(&self) -> bool {
        let lines = self.parts.iter().chain(&self.tubes).chain(&self.holes);
        lines.into_iter().all(|line| line.verb == Verb::Keep)
    }
}

/// The record of the kit that a text would give, without files.
fn planned(text: &[u8]) -> Result<Record, Vec<Problem>> {
    let model = plan(text)?;
    let parts = parts::all(&model).map_err(|f| vec![Problem::new(Place::default(), "", f.to_string())])?;
    Ok(Record::plan(&model, &parts, &words(text)))
}

/// Keys whose change may mean another slab of wood.
const TOP: &[&str] = &["top.length", "top.width", "top.wood"];
/// Keys that move the bolts through the tubes.
const BOLTS: &[&str] = &["bracket.hold", "bracket.socket_depth", "legs.ties", "rails", "tie", "foot"];

fn notes(changes: &[Change]) -> Vec<&'static str> {
    let any = |keys: &[&str]| changes.iter().any(|c| keys.iter().any(|key| c.key.starts_with(key)));
    let mut notes = Vec::new();
    if any(TOP) {
        notes.push("Holes are compared from the middle of the top: if the top itself is another one, drill them all.");
    }
    if any(BOLTS) {
        notes
            .push("Tubes that are kept: compare their cross holes with the new ties and sockets before you bolt them.");
    }
    notes
}

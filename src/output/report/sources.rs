//! Every work, judgement and fact of the trade that the figures rest on.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::output::Kit;
use crate::source::{Clause, Source, Standing};

/// A work and the places used in it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Work {
    title: &'static str,
    edition: &'static str,
    /// `from memory` or `derived here`; empty when the passage was read.
    note: &'static str,
    places: Vec<&'static str>,
}

/// The list at the end of the page.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Sources {
    works: Vec<Work>,
    judgements: Vec<&'static str>,
    practice: Vec<String>,
}

impl Sources {
    /// From the checks and from the rows of the tables in use.
    #[must_use]
    pub fn new(kit: &Kit) -> Self {
        let params = &kit.model.params;
        let mut clauses: BTreeSet<Clause> = BTreeSet::new();
        for check in &kit.checked.checks {
            clauses.insert(check.clause);
            clauses.extend(check.sources.iter().copied());
        }
        clauses.extend(params.top.wood.clauses());
        clauses.extend(params.printing.filament.clauses());
        let screw = &params.bracket.screws.screw;
        let metal = &params.legs.tube.metal;
        clauses.extend([screw.source, screw.head_source, metal.source]);
        Self::of(&clauses)
    }

    fn of(clauses: &BTreeSet<Clause>) -> Self {
        let mut all = Self::default();
        let mut works: BTreeMap<(&str, &str, &str), BTreeSet<&str>> = BTreeMap::new();
        for clause in clauses {
            let s = clause.source;
            match s.standing {
                Standing::Judgement => all.judgements.push(clause.at),
                Standing::CommonPractice => all.practice.push(practice(clause)),
                Standing::Read | Standing::FromMemory => {
                    let note = if s == Source::STATICS { "derived here" } else { s.standing.note() };
                    works.entry((s.title, s.edition, note)).or_default().insert(clause.at);
                }
            }
        }
        all.judgements.retain(|j| !j.is_empty());
        all.works = works
            .into_iter()
            .map(|((title, edition, note), places)| Work { title, edition, note, places: places.into_iter().collect() })
            .collect();
        all
    }
}

fn practice(clause: &Clause) -> String {
    let parts = [clause.source.title, clause.at];
    parts.iter().filter(|p| !p.is_empty()).copied().collect::<Vec<_>>().join(": ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_of_one_work_stand_together_and_memory_shows() {
        let book = Source::from_memory("EN 1995-1-1", "2004");
        let clauses =
            [book.at("8.2"), book.at("6.1"), Source::JUDGEMENT.at("why"), Source::read("Handbook", "2021").at("4-7")];
        let all = Sources::of(&clauses.into_iter().collect());
        assert_eq!(all.works.len(), 2);
        assert_eq!((all.works[0].places.as_slice(), all.works[0].note), (&["6.1", "8.2"][..], "from memory"));
        assert_eq!((all.works[1].note, all.judgements.as_slice()), ("", &["why"][..]));
    }
}

//! Where numbers and formulas come from.

/// How far a statement about a work can be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// The passage was read, or the figure was reproduced from the cited formula.
    Read,
    /// Remembered, not read again: say so wherever it is shown.
    FromMemory,
    /// Ours: an engineering judgement, never the requirement of a standard.
    Judgement,
    /// A fact of the trade that nobody wrote down for us to cite.
    CommonPractice,
}

impl Standing {
    /// The words shown after a citation; empty when the passage was read.
    #[must_use]
    pub const fn note(self) -> &'static str {
        match self {
            Self::Read => "",
            Self::FromMemory => "from memory",
            Self::Judgement => "judgement",
            Self::CommonPractice => "common practice, no source",
        }
    }
}

/// A book, standard, paper or data sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Source {
    /// Title with author or body, as a librarian would find it.
    pub title: &'static str,
    /// Edition or year; empty where there is none.
    pub edition: &'static str,
    /// How it was consulted.
    pub standing: Standing,
}

impl Source {
    /// Our own judgement; the clause's `at` says why.
    pub const JUDGEMENT: Self = Self { title: "judgement", edition: "", standing: Standing::Judgement };
    /// Statics: equilibrium, geometry, elastic beam theory; derived where it is used.
    pub const STATICS: Self = Self { title: "statics and elastic beam theory", edition: "", standing: Standing::Read };

    /// Screws and loads of wood; the American specification.
    pub const NDS: Self = Self::read("National Design Specification for Wood Construction, AWC", "2018");
    /// Properties of wood.
    pub const WOOD_HANDBOOK: Self = Self::read("Wood Handbook, Forest Products Laboratory", "FPL-GTR-190, 2010");
    /// Timber structures; never read.
    pub const EN_1995: Self = Self::from_memory("EN 1995-1-1", "2004+A2:2014");

    /// The same work where the passage is remembered only.
    #[must_use]
    pub const fn remembered(self) -> Self {
        Self { standing: Standing::FromMemory, ..self }
    }

    /// A source whose passage was read.
    #[must_use]
    pub const fn read(title: &'static str, edition: &'static str) -> Self {
        Self { title, edition, standing: Standing::Read }
    }

    /// A source quoted from memory.
    #[must_use]
    pub const fn from_memory(title: &'static str, edition: &'static str) -> Self {
        Self { title, edition, standing: Standing::FromMemory }
    }

    /// A place in this work: clause, equation or table.
    #[must_use]
    pub const fn at(self, at: &'static str) -> Clause {
        Clause { source: self, at }
    }
}

/// A place in a work, or a judgement with its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Clause {
    /// The work.
    pub source: Source,
    /// Clause, equation or table; for a judgement: why.
    pub at: &'static str,
}

impl std::fmt::Display for Clause {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Source { title, edition, standing } = self.source;
        if standing == Standing::Judgement {
            return write!(f, "judgement: {}", self.at);
        }
        f.write_str(title)?;
        for more in [edition, self.at, standing.note()] {
            if !more.is_empty() {
                write!(f, ", {more}")?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_remembered_clause_says_so() {
        let clause = Source::EN_1995.at("Table 3.2");
        assert_eq!(clause.to_string(), "EN 1995-1-1, 2004+A2:2014, Table 3.2, from memory");
        assert_eq!(Source::NDS.remembered().at("x").to_string(), format!("{}, from memory", Source::NDS.at("x")));
    }

    #[test]
    fn a_judgement_gives_its_reason() {
        assert_eq!(Source::JUDGEMENT.at("a layer is 0.2 mm").to_string(), "judgement: a layer is 0.2 mm");
    }
}

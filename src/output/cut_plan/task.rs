//! The problem with equal lengths put together, and what a way of cutting is worth.

use std::collections::BTreeMap;

use super::{Bar, CutPlan, CutProblem, Piece, Proof, SAME, Stock, offcut};

/// The problem with equal lengths put together.
pub(super) struct Task {
    /// Distinct lengths, longest first, and how many of each.
    pub(super) lengths: Vec<(f64, usize)>,
    /// Bars, shortest first, and how many of each may be used.
    pub(super) stock: Vec<(f64, Option<usize>)>,
    pub(super) kerf: f64,
}

/// How one bar is filled: which bar, and how many of each length.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fill {
    pub(super) bar: usize,
    pub(super) counts: Vec<usize>,
    pub(super) offcut: f64,
}

/// Worth of a plan: smaller is better. Bars, total length, minus the largest offcut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Worth {
    pub(super) bars: usize,
    pub(super) length: f64,
    pub(super) offcut: f64,
}

impl Worth {
    pub(super) const NOTHING: Self = Self { bars: 0, length: 0.0, offcut: 0.0 };

    pub(super) fn with(self, length: f64, offcut: f64) -> Self {
        Self { bars: self.bars + 1, length: self.length + length, offcut: self.offcut.max(offcut) }
    }

    pub(super) fn better(self, other: Self) -> bool {
        if self.bars != other.bars {
            return self.bars < other.bars;
        }
        if (self.length - other.length).abs() > SAME {
            return self.length < other.length;
        }
        self.offcut > other.offcut + SAME
    }
}

impl Task {
    pub(super) fn new(pieces: &[Piece], stock: &[Stock], kerf: f64) -> Result<Self, CutProblem> {
        let usable = |x: f64| x.is_finite() && x > 0.0;
        if !(kerf.is_finite() && kerf >= 0.0) {
            return Err(CutProblem::NotALength(format!("a kerf of {kerf} mm")));
        }
        if let Some(bad) = stock.iter().map(|s| s.length).find(|l| !usable(*l)) {
            return Err(CutProblem::NotALength(format!("a bar of {bad} mm")));
        }
        let longest = stock.iter().map(|s| s.length).fold(0.0, f64::max);
        for p in pieces.iter().filter(|p| p.count > 0) {
            if !usable(p.length) {
                return Err(CutProblem::NotALength(format!("{} of {} mm", p.name, p.length)));
            }
            if !stock.iter().any(|s| offcut(s.length, p.length, 1, kerf).is_some()) {
                return Err(CutProblem::TooLong(p.name.clone(), p.length, longest));
            }
        }
        let lengths = together(pieces.iter().map(|p| (p.length, p.count)), |a, b| a + b);
        let lengths = lengths.into_iter().rev().filter(|l| l.1 > 0).collect();
        let stock = together(stock.iter().map(|s| (s.length, s.count)), |a, b| Some(a? + b?));
        Ok(Self { lengths, stock, kerf })
    }

    pub(super) fn pieces(&self) -> usize {
        self.lengths.iter().map(|l| l.1).sum()
    }

    /// What remains when `counts` are cut from bar `bar`.
    pub(super) fn rest(&self, bar: usize, counts: &[usize]) -> Option<f64> {
        let sum: f64 = counts.iter().zip(&self.lengths).map(|(&n, l)| n as f64 * l.0).sum();
        offcut(self.stock[bar].0, sum, counts.iter().sum(), self.kerf)
    }

    pub(super) fn worth(&self, fills: &[Fill]) -> Worth {
        fills.iter().fold(Worth::NOTHING, |w, f| w.with(self.stock[f.bar].0, f.offcut))
    }

    /// The plan with names: pieces of one length are handed out in the order they were asked for.
    pub(super) fn named(&self, fills: &[Fill], pieces: &[Piece], proof: Proof) -> CutPlan {
        let mut names: Vec<Vec<&str>> = self.lengths.iter().map(|l| names_of(pieces, l.0)).collect();
        let mut fills: Vec<&Fill> = fills.iter().collect();
        fills.sort_by(|a, b| b.bar.cmp(&a.bar).then(b.counts.cmp(&a.counts)));
        let mut bars = Vec::with_capacity(fills.len());
        for fill in fills {
            let mut cut = Vec::new();
            for (i, &n) in fill.counts.iter().enumerate() {
                cut.extend(names[i].drain(..n).map(|name| (name.to_owned(), self.lengths[i].0)));
            }
            bars.push(Bar { length: self.stock[fill.bar].0, pieces: cut, offcut: fill.offcut });
        }
        CutPlan { bars, proof }
    }
}

/// Equal lengths put together, shortest first.
fn together<T: Copy>(items: impl Iterator<Item = (f64, T)>, add: impl Fn(T, T) -> T) -> Vec<(f64, T)> {
    let mut by_length: BTreeMap<u64, (f64, T)> = BTreeMap::new();
    for (length, n) in items {
        // Positive numbers keep their order as bits; counts of zero pieces may carry any length.
        by_length.entry(length.max(0.0).to_bits()).and_modify(|old| old.1 = add(old.1, n)).or_insert((length, n));
    }
    by_length.into_values().collect()
}

/// The names of all pieces of a length, once for each piece.
fn names_of(pieces: &[Piece], length: f64) -> Vec<&str> {
    let same = pieces.iter().filter(|p| p.length == length);
    same.flat_map(|p| std::iter::repeat_n(p.name.as_str(), p.count)).collect()
}

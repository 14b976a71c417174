//! A good plan where the best cannot be looked for: best fit, then many slightly disturbed orders.

use super::task::{Fill, Task};
use super::{Proof, SAME};

/// Orders tried when the search is not exact. Judgement: 60 pieces of 60 lengths take less than a tenth of a second.
const TRIES: u64 = 400;

impl Task {
    /// Best-fit decreasing, then many slightly disturbed orders.
    pub(super) fn heuristic(&self) -> (Option<Vec<Fill>>, Proof) {
        let sorted: Vec<usize> =
            self.lengths.iter().enumerate().flat_map(|(i, l)| std::iter::repeat_n(i, l.1)).collect();
        let mut best = self.best_fit(&sorted);
        let mut dice = Dice(1);
        for _ in 0..TRIES {
            let found = self.best_fit(&dice.disturbed(&sorted));
            if let Some(found) = found
                && best.as_ref().is_none_or(|b| self.worth(&found).better(self.worth(b)))
            {
                best = Some(found);
            }
        }
        let proof = match &best {
            Some(fills) if fills.len() <= self.fewest() => Proof::FewestBars,
            _ => Proof::Heuristic,
        };
        (best, proof)
    }

    /// No plan needs fewer bars: every piece takes its kerf, a bar offers its length and one kerf.
    pub(super) fn fewest(&self) -> usize {
        let need: f64 = self.lengths.iter().map(|l| (l.0 + self.kerf) * l.1 as f64).sum();
        let longest = self.stock.last().map_or(0.0, |s| s.0) + self.kerf;
        ((need - SAME) / longest).ceil() as usize
    }

    /// Each piece in the fullest bar that holds it; bars are opened long and then exchanged for shorter ones.
    fn best_fit(&self, order: &[usize]) -> Option<Vec<Fill>> {
        let mut left: Vec<Option<usize>> = self.stock.iter().map(|s| s.1).collect();
        let mut fills: Vec<Fill> = Vec::new();
        for &piece in order {
            if !self.put(&mut fills, piece) {
                let fill = self.opened(piece, &mut left)?;
                fills.push(fill);
            }
        }
        fills.iter_mut().for_each(|fill| self.exchange(fill, &mut left));
        Some(fills)
    }

    /// Puts a piece in the open bar where the least remains; false when none holds it.
    fn put(&self, fills: &mut [Fill], piece: usize) -> bool {
        let mut best: Option<(usize, f64)> = None;
        for (i, fill) in fills.iter_mut().enumerate() {
            fill.counts[piece] += 1;
            let rest = self.rest(fill.bar, &fill.counts);
            fill.counts[piece] -= 1;
            if let Some(rest) = rest
                && best.is_none_or(|(_, least)| rest < least)
            {
                best = Some((i, rest));
            }
        }
        let Some((i, rest)) = best else { return false };
        fills[i].counts[piece] += 1;
        fills[i].offcut = rest;
        true
    }

    /// A new bar, the longest that is left, with one piece.
    fn opened(&self, piece: usize, left: &mut [Option<usize>]) -> Option<Fill> {
        let mut counts = vec![0; self.lengths.len()];
        counts[piece] = 1;
        let (bar, offcut) = (0..self.stock.len())
            .rev()
            .filter(|&bar| left[bar] != Some(0))
            .find_map(|bar| Some((bar, self.rest(bar, &counts)?)))?;
        left[bar] = left[bar].map(|n| n - 1);
        Some(Fill { bar, counts, offcut })
    }

    /// The shortest bar that is left and holds the same.
    fn exchange(&self, fill: &mut Fill, left: &mut [Option<usize>]) {
        let shorter = (0..fill.bar).filter(|&bar| left[bar] != Some(0));
        if let Some((bar, offcut)) = shorter.filter_map(|bar| Some((bar, self.rest(bar, &fill.counts)?))).next() {
            left[fill.bar] = left[fill.bar].map(|n| n + 1);
            left[bar] = left[bar].map(|n| n - 1);
            (fill.bar, fill.offcut) = (bar, offcut);
        }
    }
}

/// A small generator of numbers that look random and never change (Lehmer, modulus 2^31 - 1, multiplier 48271).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        (self.0 % sides.max(1) as u64) as usize
    }

    /// The order with a few pieces exchanged.
    fn disturbed(&mut self, order: &[usize]) -> Vec<usize> {
        let mut order = order.to_vec();
        for _ in 0..1 + self.roll(order.len() / 2 + 1) {
            let (a, b) = (self.roll(order.len()), self.roll(order.len()));
            order.swap(a, b);
        }
        order
    }
}

//! The best plan by looking at every state of what is left, where they are few enough.

use super::task::{Fill, Task, Worth};

/// Steps (states times ways to fill a bar) up to which the plan is exact: about half a second in a release build.
const EXACT_STEPS: usize = 50_000_000;

/// Ways to fill a bar that are listed before the exact search is given up.
const EXACT_FILLS: usize = 50_000;

impl Task {
    /// The best fills, when all can be considered: `None` when they are too many, `Some(None)` when none suffices.
    pub(super) fn exact(&self) -> Option<Option<Vec<Fill>>> {
        let fills = self.fills()?;
        let space = Space::of(self);
        (space.size.checked_mul(fills.len().max(1))? <= EXACT_STEPS).then(|| space.search(self, &fills))
    }

    /// Every way to fill a bar, each bar that holds it; `None` when they are too many.
    fn fills(&self) -> Option<Vec<Fill>> {
        let mut fills = Vec::new();
        let mut counts = vec![0; self.lengths.len()];
        while self.next_fill(&mut counts) {
            let bars = (0..self.stock.len()).filter_map(|bar| Some((bar, self.rest(bar, &counts)?)));
            fills.extend(bars.map(|(bar, offcut)| Fill { bar, counts: counts.clone(), offcut }));
            if fills.len() > EXACT_FILLS {
                return None;
            }
        }
        Some(fills)
    }

    /// The next counts that some bar holds, in the order of an odometer; false at the end.
    fn next_fill(&self, counts: &mut [usize]) -> bool {
        for i in (0..counts.len()).rev() {
            counts[i] += 1;
            if counts[i] <= self.lengths[i].1 && (0..self.stock.len()).any(|bar| self.rest(bar, counts).is_some()) {
                return true;
            }
            // More of this length never fits again until an earlier count changes.
            counts[i] = 0;
        }
        false
    }
}

/// States of the exact search: how many pieces of each length, and how many counted bars, are left.
struct Space {
    /// Largest count of each digit: lengths first, then bars.
    most: Vec<usize>,
    /// Weight of each digit in a state's number.
    weight: Vec<usize>,
    /// Number of states; `usize::MAX` when it is beyond counting.
    size: usize,
}

impl Space {
    fn of(task: &Task) -> Self {
        let pieces = task.pieces();
        let bars = task.stock.iter().map(|s| s.1.map_or(0, |n| n.min(pieces)));
        let most: Vec<usize> = task.lengths.iter().map(|l| l.1).chain(bars).collect();
        let mut weight = Vec::with_capacity(most.len());
        let mut size = 1_usize;
        for m in &most {
            weight.push(size);
            size = size.saturating_mul(m + 1);
        }
        Self { most, weight, size }
    }

    fn digit(&self, state: usize, i: usize) -> usize {
        state / self.weight[i] % (self.most[i] + 1)
    }

    /// Best worth of every state from the empty one up, then the way back from the full one.
    fn search(&self, task: &Task, fills: &[Fill]) -> Option<Vec<Fill>> {
        let mut best: Vec<Option<(Worth, usize)>> = vec![None; self.size];
        for state in 0..self.size {
            let Some(first) = (0..task.lengths.len()).find(|&i| self.digit(state, i) > 0) else {
                best[state] = Some((Worth::NOTHING, usize::MAX));
                continue;
            };
            for (i, fill) in fills.iter().enumerate() {
                // One bar must hold the longest piece left, so only fills with one of it are tried.
                let Some(rest) = (fill.counts[first] > 0).then(|| self.after(state, fill, task)).flatten() else {
                    continue;
                };
                let Some((worth, _)) = best[rest] else { continue };
                let worth = worth.with(task.stock[fill.bar].0, fill.offcut);
                if best[state].is_none_or(|(old, _)| worth.better(old)) {
                    best[state] = Some((worth, i));
                }
            }
        }
        self.way_back(task, fills, &best)
    }

    /// The state once a bar is filled; `None` when pieces or bars are missing.
    fn after(&self, state: usize, fill: &Fill, task: &Task) -> Option<usize> {
        let mut rest = state;
        for (i, &n) in fill.counts.iter().enumerate() {
            if n > 0 {
                rest -= (self.digit(state, i) >= n).then_some(n * self.weight[i])?;
            }
        }
        if task.stock[fill.bar].1.is_some() {
            let bar = task.lengths.len() + fill.bar;
            rest -= (self.digit(state, bar) > 0).then_some(self.weight[bar])?;
        }
        Some(rest)
    }

    fn way_back(&self, task: &Task, fills: &[Fill], best: &[Option<(Worth, usize)>]) -> Option<Vec<Fill>> {
        let (mut state, mut way) = (self.size - 1, Vec::new());
        while let Some(fill) = fills.get(best[state]?.1) {
            way.push(fill.clone());
            state = self.after(state, fill, task)?;
        }
        Some(way)
    }
}

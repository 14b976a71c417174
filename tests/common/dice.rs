//! Repeatable numbers for files drawn at random.

/// Numbers from a seed.
pub struct Dice(fastrand::Rng);

impl Dice {
    /// The same numbers for the same seed.
    pub fn of(seed: u64) -> Self {
        Self(fastrand::Rng::with_seed(seed))
    }

    /// From 0 up to, but not, 1.
    pub fn share(&mut self) -> f64 {
        self.0.f64()
    }

    /// Between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number from 0, below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        self.0.usize(..n)
    }

    /// True in this share of all cases.
    pub fn chance(&mut self, p: f64) -> bool {
        self.share() < p
    }

    /// One of a list.
    pub fn of_list<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }
}

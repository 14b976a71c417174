//! Repeatable numbers for files drawn at random.

/// A small generator of repeatable numbers (xorshift, Marsaglia 2003, from memory).
pub struct Dice(u64);

impl Dice {
    /// The same numbers for the same seed.
    pub fn of(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        (0..4).for_each(|_| {
            dice.share();
        });
        dice
    }

    /// From 0 up to, but not, 1.
    pub fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number from 0, below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        ((n as f64 * self.share()) as usize).min(n - 1)
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

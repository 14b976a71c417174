//! Turns and mirror images that bring a square plate onto itself.

/// A turn or mirror image of the plate onto itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Turn {
    /// x and y change places first.
    swap: bool,
    /// Then these signs count.
    signs: [f64; 2],
}

impl Turn {
    /// The plate as it is.
    pub(super) const NONE: Self = Self { swap: false, signs: [1.0, 1.0] };

    /// All eight of a square, [`Self::NONE`] first.
    pub(super) fn all() -> impl Iterator<Item = Self> {
        let signs = [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]];
        [false, true].into_iter().flat_map(move |swap| signs.into_iter().map(move |signs| Self { swap, signs }))
    }

    /// Where a place goes.
    pub(super) fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [x, y] = if self.swap { [y, x] } else { [x, y] };
        [x * self.signs[0], y * self.signs[1]]
    }

    /// What becomes of (value along z, turn or moment about x, about y).
    pub(super) fn load(&self, [z, x, y]: [f64; 3]) -> [f64; 3] {
        let [x, y] = self.place([x, y]);
        [z, self.hand() * x, self.hand() * y]
    }

    /// The way back for [`Self::load`].
    pub(super) fn back(&self, [z, x, y]: [f64; 3]) -> [f64; 3] {
        let [x, y] = [self.hand() * self.signs[0] * x, self.hand() * self.signs[1] * y];
        if self.swap { [z, y, x] } else { [z, x, y] }
    }

    /// -1 for a mirror image.
    fn hand(&self) -> f64 {
        let mirror = if self.swap { -1.0 } else { 1.0 };
        mirror * self.signs[0] * self.signs[1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_keeps_the_moment_of_a_force() {
        let (at, force) = ([3.0, -2.0], 5.0);
        let load = |[x, y]: [f64; 2]| [force, force * y, -force * x];
        for turn in Turn::all() {
            assert_eq!(turn.load(load(at)), load(turn.place(at)), "{turn:?}");
            assert_eq!(turn.back(turn.load(load(at))), load(at), "{turn:?}");
        }
    }
}

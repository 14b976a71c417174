//! Rectangles on as few plates as a greedy search finds: largest free rectangles, short side best fit, quarter turns.
//!
//! Method: the free space of a plate is kept as the list of all largest empty rectangles; each piece goes where the shorter
//! rest is least. Source: J. Jylänki, A Thousand Ways to Pack the Bin, 2010, maximal rectangles (from memory).

/// Slack of comparisons, mm: rounding only.
const SAME: f64 = 1e-9;

/// A rectangle with sides along x and y, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Lower left corner.
    pub low: [f64; 2],
    /// Sizes.
    pub size: [f64; 2],
}

/// Where a piece lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Index of the piece.
    pub piece: usize,
    /// Index of the plate.
    pub plate: usize,
    /// Lower left corner, mm.
    pub low: [f64; 2],
    /// Whether it is turned by a quarter.
    pub turned: bool,
}

/// Lays pieces of these sizes on plates with `gap` between pieces; `None` when one does not fit on an empty plate.
///
/// Several orders are tried; the one with the fewest plates wins, of equals the first.
#[must_use]
pub fn pack(sizes: &[[f64; 2]], plate: [f64; 2], gap: f64) -> Option<Vec<Spot>> {
    let plates = |spots: &[Spot]| spots.iter().map(|s| s.plate + 1).max().unwrap_or(0);
    let tries = ORDERS.iter().map(|measure| in_order(sizes, plate, gap, *measure));
    tries
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .reduce(|best, next| if plates(&next) < plates(&best) { next } else { best })
}

/// What a piece is sorted by, largest first.
type Measure = fn(&[f64; 2]) -> f64;

const ORDERS: [Measure; 4] = [|s| s[0] * s[1], |s| s[0].max(s[1]), |s| s[0].min(s[1]), |s| s[0] + s[1]];

fn in_order(sizes: &[[f64; 2]], plate: [f64; 2], gap: f64, measure: Measure) -> Option<Vec<Spot>> {
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by(|a, b| measure(&sizes[*b]).total_cmp(&measure(&sizes[*a])).then(a.cmp(b)));
    // Every piece takes its gap with it, and so does the plate: the last piece needs none beyond.
    let whole = Rect { low: [0.0; 2], size: plate.map(|s| s + gap) };
    let mut free: Vec<Vec<Rect>> = Vec::new();
    let mut spots = Vec::with_capacity(sizes.len());
    for piece in order {
        let size = sizes[piece].map(|s| s + gap);
        let found = free.iter().enumerate().find_map(|(k, f)| Some((k, best(f, size)?)));
        let (plate, (place, turned)) = match found {
            Some(found) => found,
            None => {
                free.push(vec![whole]);
                (free.len() - 1, best(&[whole], size)?)
            }
        };
        take(&mut free[plate], &place);
        spots.push(Spot { piece, plate, low: place.low, turned });
    }
    Some(spots)
}

/// The place with the least shorter rest, and whether the piece is turned there.
fn best(free: &[Rect], size: [f64; 2]) -> Option<(Rect, bool)> {
    let both = [(size, false), ([size[1], size[0]], true)];
    let places = free.iter().flat_map(|f| {
        both.into_iter().filter_map(move |(s, turned)| {
            let rest = [f.size[0] - s[0], f.size[1] - s[1]];
            let fits = rest.iter().all(|r| *r >= -SAME);
            fits.then_some(([rest[0].min(rest[1]), rest[0].max(rest[1])], Rect { low: f.low, size: s }, turned))
        })
    });
    let better = |a: &[f64; 2], b: &[f64; 2]| a[0] < b[0] - SAME || (a[0] < b[0] + SAME && a[1] < b[1] - SAME);
    let found = places.reduce(|best, next| if better(&next.0, &best.0) { next } else { best })?;
    Some((found.1, found.2))
}

/// Takes a place out of the free rectangles: each that it meets is split, then those inside another are dropped.
fn take(free: &mut Vec<Rect>, place: &Rect) {
    let split: Vec<Rect> = free.iter().flat_map(|f| if meets(f, place) { rests(f, place) } else { vec![*f] }).collect();
    let inside =
        |i: usize, j: usize| i != j && contains(&split[j], &split[i]) && (!contains(&split[i], &split[j]) || j < i);
    *free = (0..split.len()).filter(|i| !(0..split.len()).any(|j| inside(*i, j))).map(|i| split[i]).collect();
}

fn meets(a: &Rect, b: &Rect) -> bool {
    (0..2).all(|k| a.low[k] < b.low[k] + b.size[k] - SAME && b.low[k] < a.low[k] + a.size[k] - SAME)
}

fn contains(a: &Rect, b: &Rect) -> bool {
    (0..2).all(|k| a.low[k] <= b.low[k] + SAME && b.low[k] + b.size[k] <= a.low[k] + a.size[k] + SAME)
}

/// The up to four largest rectangles of `f` beside `place`.
fn rests(f: &Rect, place: &Rect) -> Vec<Rect> {
    let mut all = Vec::new();
    for k in 0..2 {
        let (start, end) = (f.low[k], f.low[k] + f.size[k]);
        let (a, b) = (place.low[k], place.low[k] + place.size[k]);
        for (low, high) in [(start, a), (b, end)] {
            if high - low > SAME {
                let mut rest = *f;
                (rest.low[k], rest.size[k]) = (low, high - low);
                all.push(rest);
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Distance between two placed pieces; negative when they overlap.
    fn apart(a: &Rect, b: &Rect) -> f64 {
        let along = |k: usize| (b.low[k] - a.low[k] - a.size[k]).max(a.low[k] - b.low[k] - b.size[k]);
        along(0).max(along(1))
    }

    fn laid(sizes: &[[f64; 2]], s: &Spot) -> Rect {
        let [x, y] = sizes[s.piece];
        Rect { low: s.low, size: if s.turned { [y, x] } else { [x, y] } }
    }

    #[test]
    fn four_squares_fill_a_plate_exactly() {
        let spots = pack(&[[47.5; 2]; 4], [100.0; 2], 5.0).unwrap();
        assert!(spots.iter().all(|s| s.plate == 0));
        assert_eq!(pack(&[[47.6; 2]; 4], [100.0; 2], 5.0).unwrap().iter().map(|s| s.plate).max(), Some(3));
    }

    #[test]
    fn a_strip_is_turned_to_fit() {
        let spots = pack(&[[90.0, 20.0]], [30.0, 100.0], 5.0).unwrap();
        assert!(spots[0].turned);
        assert_eq!(pack(&[[101.0, 20.0]], [30.0, 100.0], 5.0), None);
    }

    proptest! {
        #[test]
        fn pieces_keep_apart_and_on_the_plate(sizes in prop::collection::vec([5.0..95.0f64, 5.0..95.0f64], 1..25)) {
            let spots = pack(&sizes, [100.0; 2], 5.0).unwrap();
            prop_assert_eq!(spots.len(), sizes.len());
            for (i, a) in spots.iter().enumerate() {
                let r = laid(&sizes, a);
                prop_assert!((0..2).all(|k| r.low[k] >= -1e-6 && r.low[k] + r.size[k] <= 100.0 + 1e-6));
                for b in &spots[..i] {
                    prop_assert!(a.plate != b.plate || apart(&r, &laid(&sizes, b)) >= 5.0 - 1e-6);
                }
            }
        }
    }
}

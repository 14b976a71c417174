//! Nested dissection of a lattice: planes that part the corners into halves.

/// Fewer corners than this are not parted. Measured.
const LEAF: usize = 40;
/// The larger half holds at most this share.
const EVEN: f64 = 0.75;

/// A block of corners that is eliminated at once, after its children.
pub(super) struct Block {
    pub nodes: Vec<u32>,
    pub children: Vec<usize>,
}

/// Blocks, children before parents; the last is the root.
pub(super) fn blocks(places: &[[u16; 3]]) -> Vec<Block> {
    let mut out = Vec::new();
    part(places, (0..places.len() as u32).collect(), &mut out);
    out
}

fn part(places: &[[u16; 3]], set: Vec<u32>, out: &mut Vec<Block>) -> usize {
    let plane = if set.len() > LEAF { best_plane(places, &set) } else { None };
    let block = match plane {
        None => Block { nodes: set, children: Vec::new() },
        Some((k, at)) => {
            let side = |i: &u32| places[*i as usize][k].cmp(&at);
            let of = |way| set.iter().copied().filter(|i| side(i) == way).collect::<Vec<u32>>();
            let (below, above) = (of(std::cmp::Ordering::Less), of(std::cmp::Ordering::Greater));
            let children = [below, above].into_iter().map(|half| part(places, half, out)).collect();
            Block { nodes: of(std::cmp::Ordering::Equal), children }
        }
    };
    out.push(block);
    out.len() - 1
}

/// Axis and place of the plane with the fewest corners, uneven halves counted dearer.
fn best_plane(places: &[[u16; 3]], set: &[u32]) -> Option<(usize, u16)> {
    let mut best: Option<(f64, usize, u16)> = None;
    for k in [0, 1, 2] {
        let at = |i: &u32| places[*i as usize][k];
        let (low, high) = (set.iter().map(at).min()?, set.iter().map(at).max()?);
        let mut counts = vec![0usize; usize::from(high - low) + 1];
        set.iter().for_each(|i| counts[usize::from(at(i) - low)] += 1);
        let mut below = 0;
        for (c, here) in counts.iter().enumerate() {
            let larger = below.max(set.len() - below - here) as f64 / set.len() as f64;
            let inner = below > 0 && below + here < set.len();
            let cost = *here as f64 * (1.0 + 3.0 * (larger - 0.5).max(0.0));
            if inner && larger < EVEN && best.is_none_or(|b| cost < b.0) {
                best = Some((cost, k, low + c as u16));
            }
            below += here;
        }
    }
    best.map(|(_, k, at)| (k, at))
}

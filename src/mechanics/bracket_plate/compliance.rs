//! The plate's compliance at the tubes, the pads of the wood and the screws, and what presses under a load.

use std::sync::OnceLock;

use faer::linalg::matmul::matmul;
use faer::{Accum, Mat, Par};
use nalgebra::DMatrix;

use crate::fem::solid::{ContactCompliance, complementarity, lower};
use crate::parallel;

/// Degrees of freedom of the tubes: lift, turns about x and y.
const TUBES: usize = 3;

/// Pads in a row, and rows, of a block whose movements are worked out together: as many as the machine solves best.
const BLOCK: [usize; 2] = [8, 4];

/// Movements under unit loads: a pull and two moments of the tubes, then 1 N of each pad. Those of pads are worked out once
/// they are asked for, in blocks that never change, so that they are the same to the bit whatever is asked first.
pub(super) struct Compliance {
    tubes: Vec<Moved>,
    /// Sinking of the wood under each pad, mm/N.
    give: Vec<f64>,
    /// Pads in a row.
    row: usize,
    blocks: Vec<Block>,
    /// For each pad its block and its place there.
    place: Vec<[usize; 2]>,
}

struct Block {
    pads: Vec<usize>,
    moved: OnceLock<Vec<Moved>>,
}

/// What moves under a load.
pub(super) struct Moved {
    /// Motion of the tubes, then pulls of the screws.
    pub(super) asked: Vec<f64>,
    /// Lift of each pad.
    pub(super) lifts: Vec<f64>,
}

/// What a part of the stiffness taken away changes: products of low rank.
pub(super) struct Loss {
    asked: Mat<f64>,
    pads: Mat<f64>,
    right: Mat<f64>,
}

/// Pads above which what presses is first looked for on every other one. Measured.
const MANY: usize = 120;

/// Columns added together, so that what they are added to is read and written less often.
const TOGETHER: usize = 4;

/// How pads move under 1 N of each of some.
type Push<'a> = &'a (dyn Fn(&[usize]) -> Vec<Moved> + Sync);

impl Compliance {
    /// From what moves under loads of the tubes; `give`: sinking of the wood at each pad, mm/N, `row` pads in a row.
    pub(super) fn new(tubes: Vec<Moved>, give: Vec<f64>, row: usize) -> Self {
        let mut named: Vec<([usize; 3], usize)> =
            (0..give.len()).map(|pad| (block(pad, row, give.len()), pad)).collect();
        named.sort_unstable();
        let mut place = vec![[0; 2]; give.len()];
        let same = named.chunk_by(|a, b| a.0 == b.0);
        let blocks = same.enumerate().map(|(k, some)| {
            some.iter().enumerate().for_each(|(i, (_, pad))| place[*pad] = [k, i]);
            Block { pads: some.iter().map(|(_, pad)| *pad).collect(), moved: OnceLock::new() }
        });
        let blocks = blocks.collect();
        Self { tubes, give, row, blocks, place }
    }

    /// The whole, with a way to find movements under pads.
    pub(super) fn pushed<'a>(&'a self, push: Push<'a>) -> Pushed<'a> {
        Pushed { whole: self, push, loss: None, sinking: 1.0 }
    }
}

/// Block of a pad: how coarse the search is that looks at it, then its place among those.
fn block(pad: usize, row: usize, pads: usize) -> [usize; 3] {
    let (mut level, mut at, mut size) = (0, [pad % row, pad / row], [row, pads / row]);
    while size[0] * size[1] > MANY && at.iter().all(|k| k.is_multiple_of(2)) {
        (level, at, size) = (level + 1, at.map(|k| k / 2), size.map(|k| k.div_ceil(2)));
    }
    [level, at[1] / BLOCK[1], at[0] / BLOCK[0]]
}

/// A compliance with a way to find movements under pads, and with what a loss changes.
#[derive(Clone, Copy)]
pub(super) struct Pushed<'a> {
    whole: &'a Compliance,
    push: Push<'a>,
    loss: Option<&'a Loss>,
    /// Sinking under each pad over that on rigid wood.
    sinking: f64,
}

impl<'a> Pushed<'a> {
    /// The same on wood that gives: sinking under each pad over that on rigid wood.
    pub(super) fn sinking(self, sinking: f64) -> Self {
        Self { sinking, ..self }
    }

    /// Sinking under a pad, mm/N.
    fn give(&self, pad: usize) -> f64 {
        self.sinking * self.whole.give[pad]
    }

    /// The same with a part of the stiffness taken away.
    pub(super) fn less(self, loss: &'a Loss) -> Self {
        Self { loss: Some(loss), ..self }
    }

    /// What becomes of it with a part of the stiffness taken away, after Woodbury: `taken` acts on a few movements, and
    /// `columns` are what moves under a unit load of each: these movements, and as in [`Moved`]. `None` where nothing is left to
    /// hold it.
    pub(super) fn loss(&self, taken: &DMatrix<f64>, columns: &[(Vec<f64>, Moved)]) -> Option<Loss> {
        let n = columns.len();
        let own = DMatrix::from_fn(n, n, |i, j| columns[j].0[i]);
        let change = (DMatrix::identity(n, n) - taken * own).lu().solve(taken)?;
        let change = Mat::from_fn(n, n, |i, j| change[(i, j)]);
        let asked = Mat::from_fn(self.whole.tubes[0].asked.len(), n, |i, j| columns[j].1.asked[i]);
        let pads = Mat::from_fn(self.whole.give.len(), n, |i, j| columns[j].1.lifts[i]);
        // Movement here under a load there is that there under one here.
        let place = |i: usize, j: usize| if i < TUBES { asked[(i, j)] } else { pads[(i - TUBES, j)] };
        let right = &change * Mat::from_fn(TUBES + self.whole.give.len(), n, place).transpose();
        Some(Loss { asked, pads, right })
    }

    /// Push of each pad under a load of the tubes, N.
    pub(super) fn pressed(&self, load: [f64; 3]) -> Option<Vec<f64>> {
        let give: Vec<f64> = (0..self.whole.give.len()).map(|pad| self.give(pad)).collect();
        press(self, &self.gaps(load), &give, self.whole.row)
    }

    /// The same where those of pads that press under much the same load are known, which shortens the search.
    pub(super) fn pressed_near(&self, load: [f64; 3], known: &[f64]) -> Option<Vec<f64>> {
        if known.len() < self.whole.give.len() {
            return self.pressed(load);
        }
        let start = known.iter().map(|force| *force > 0.0).collect();
        Some(complementarity(self, &self.gaps(load), start)?.forces)
    }

    /// Lift of each pad under a load of the tubes where none presses, mm.
    fn gaps(&self, load: [f64; 3]) -> Vec<f64> {
        let mut gaps = vec![0.0; self.whole.give.len()];
        for (tubes, load) in self.whole.tubes.iter().zip(load) {
            gaps.iter_mut().zip(&tubes.lifts).for_each(|(gap, lift)| *gap += load * lift);
        }
        if let Some(loss) = self.loss {
            add_product(&loss.pads, &loss.under(load, &[], &[]), None, &mut gaps);
        }
        gaps
    }

    /// The load times the motion of the tubes under it, N mm; `wood` lets the wood press.
    pub(super) fn work(&self, load: [f64; 3], wood: bool) -> Option<f64> {
        let pressed = if wood { self.pressed(load)? } else { vec![] };
        let motion = self.motion(load, &pressed);
        Some((0..TUBES).map(|k| load[k] * motion[k]).sum())
    }

    /// Motion of the tubes under a load and the push of the pads: mm, rad, rad.
    fn motion(&self, load: [f64; 3], pressed: &[f64]) -> [f64; 3] {
        let all = self.asked(load, pressed);
        [all[0], all[1], all[2]]
    }

    /// Pulls of all screws under a load and the push of the pads, N.
    pub(super) fn pulls(&self, load: [f64; 3], pressed: &[f64]) -> Vec<f64> {
        self.asked(load, pressed).split_off(TUBES)
    }

    fn asked(&self, load: [f64; 3], pressed: &[f64]) -> Vec<f64> {
        let pads: Vec<usize> = (0..pressed.len()).filter(|i| pressed[*i] != 0.0).collect();
        let forces: Vec<f64> = pads.iter().map(|i| pressed[*i]).collect();
        let tubes = self.whole.tubes.iter().zip(load);
        let mut sum = vec![0.0; self.whole.tubes[0].asked.len()];
        for (moved, force) in tubes.chain(pads.iter().map(|i| self.column(*i)).zip(forces.iter().copied())) {
            sum.iter_mut().zip(&moved.asked).for_each(|(sum, asked)| *sum += force * asked);
        }
        if let Some(loss) = self.loss {
            add_product(&loss.asked, &loss.under(load, &pads, &forces), None, &mut sum);
        }
        sum
    }

    /// What moves under 1 N of a pad.
    fn column(&self, pad: usize) -> &'a Moved {
        let [block, at] = self.whole.place[pad];
        &self.block(block)[at]
    }

    fn block(&self, block: usize) -> &'a [Moved] {
        let Block { pads, moved } = &self.whole.blocks[block];
        moved.get_or_init(|| (self.push)(pads))
    }

    /// Works out what is not known yet of some pads, blocks side by side.
    fn know(&self, pads: &[usize]) {
        let mut unknown: Vec<usize> = pads.iter().map(|pad| self.whole.place[*pad][0]).collect();
        unknown.sort_unstable();
        unknown.dedup();
        unknown.retain(|block| self.whole.blocks[*block].moved.get().is_none());
        parallel::map(&unknown, |block| {
            self.block(*block);
        });
    }
}

impl Loss {
    /// Products on the right with loads of the tubes and forces of some pads.
    fn under(&self, load: [f64; 3], pads: &[usize], forces: &[f64]) -> Vec<f64> {
        let mut sum = vec![0.0; self.right.nrows()];
        let columns = (0..TUBES).zip(load).chain(pads.iter().map(|pad| TUBES + pad).zip(forces.iter().copied()));
        for (j, force) in columns {
            sum.iter_mut().zip(self.right.col(j).iter()).for_each(|(sum, part)| *sum += force * part);
        }
        sum
    }
}

/// Adds a matrix times a vector, or the rows of it at some places.
fn add_product(matrix: &Mat<f64>, by: &[f64], at: Option<&[usize]>, sum: &mut [f64]) {
    by.iter().enumerate().for_each(|(j, by)| add_column(matrix.col_as_slice(j), *by, at, sum));
}

/// Adds a multiple of a column, or its rows at some places.
fn add_column(column: &[f64], by: f64, at: Option<&[usize]>, sum: &mut [f64]) {
    match at {
        Some(at) => sum.iter_mut().zip(at).for_each(|(sum, i)| *sum += by * column[*i]),
        None => sum.iter_mut().zip(column).for_each(|(sum, part)| *sum += by * part),
    }
}

impl ContactCompliance for Pushed<'_> {
    fn among(&self, places: &[usize]) -> Mat<f64> {
        self.know(places);
        let columns: Vec<&[f64]> = places.iter().map(|pad| &self.column(*pad).lifts[..]).collect();
        let give = |i: usize, j: usize| if i == j { self.give(places[i]) } else { 0.0 };
        let mut out = lower(places.len(), |i, j| columns[j][places[i]] + give(i, j));
        if let Some(loss) = self.loss {
            let n = loss.right.nrows();
            let pads = Mat::from_fn(places.len(), n, |i, m| loss.pads[(places[i], m)]);
            let right = Mat::from_fn(n, places.len(), |m, j| loss.right[(m, TUBES + places[j])]);
            matmul(out.as_mut(), Accum::Add, pads.as_ref(), right.as_ref(), 1.0, Par::Seq);
        }
        out
    }

    fn open(&self, places: &[usize], forces: &[f64], at: Option<&[usize]>, gaps: &mut [f64]) {
        let lifts = |pad: &usize| &self.column(*pad).lifts[..self.whole.give.len()];
        let (fours, rest) = (places.chunks_exact(TOGETHER), places.chunks_exact(TOGETHER).remainder());
        for (pads, f) in fours.zip(forces.chunks_exact(TOGETHER)) {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| lifts(&pads[k]));
            let sum = |i: usize| f[0] * a[i] + f[1] * b[i] + (f[2] * c[i] + f[3] * d[i]);
            match at {
                Some(at) => gaps.iter_mut().zip(at).for_each(|(gap, i)| *gap += sum(*i)),
                None => gaps.iter_mut().enumerate().for_each(|(i, gap)| *gap += sum(i)),
            }
        }
        for (pad, force) in rest.iter().zip(&forces[places.len() - rest.len()..]) {
            add_column(lifts(pad), *force, at, gaps);
        }
        for (pad, force) in places.iter().zip(forces) {
            let own = at.map_or(Some(*pad), |at| at.binary_search(pad).ok());
            own.into_iter().for_each(|i| gaps[i] += force * self.give(*pad));
        }
        if let Some(loss) = self.loss {
            add_product(&loss.pads, &loss.under([0.0; 3], places, forces), at, gaps);
        }
    }
}

/// Every other pad, each for four: the wood under it sinks a quarter as much, the plate as much.
struct Coarse<'a> {
    all: &'a dyn ContactCompliance,
    few: Vec<usize>,
    less: Vec<f64>,
}

impl Coarse<'_> {
    fn of_all(&self, places: &[usize]) -> Vec<usize> {
        places.iter().map(|i| self.few[*i]).collect()
    }
}

impl ContactCompliance for Coarse<'_> {
    fn among(&self, places: &[usize]) -> Mat<f64> {
        let mut out = self.all.among(&self.of_all(places));
        places.iter().enumerate().for_each(|(i, place)| out[(i, i)] -= self.less[*place]);
        out
    }

    fn open(&self, places: &[usize], forces: &[f64], at: Option<&[usize]>, gaps: &mut [f64]) {
        let rows = at.map_or_else(|| self.few.clone(), |at| self.of_all(at));
        self.all.open(&self.of_all(places), forces, Some(&rows), gaps);
        for (place, force) in places.iter().zip(forces) {
            let own = at.map_or(Some(*place), |at| at.binary_search(place).ok());
            own.into_iter().for_each(|i| gaps[i] -= force * self.less[*place]);
        }
    }
}

/// Push of each pad, N, of `row` in a row; `give`: sinking of the wood there, in `contact` as well. Of many, every other one is
/// looked at first, each for four: where those press, the search among all begins, which it shortens; what it finds does not
/// depend on it.
fn press(contact: &dyn ContactCompliance, gaps: &[f64], give: &[f64], row: usize) -> Option<Vec<f64>> {
    let pads = gaps.len();
    let start = if pads > MANY {
        let half = row.div_ceil(2);
        let few: Vec<usize> =
            (0..pads).filter(|i| (i % row).is_multiple_of(2) && (i / row).is_multiple_of(2)).collect();
        let gaps: Vec<f64> = few.iter().map(|i| gaps[*i]).collect();
        let less = few.iter().map(|i| 0.75 * give[*i]).collect();
        let give: Vec<f64> = few.iter().map(|i| give[*i] / 4.0).collect();
        let pushed = press(&Coarse { all: contact, few, less }, &gaps, &give, half)?;
        (0..pads).map(|i| pushed[i / row / 2 * half + i % row / 2] > 0.0).collect()
    } else {
        gaps.iter().map(|gap| *gap < 0.0).collect()
    };
    Some(complementarity(contact, gaps, start)?.forces)
}

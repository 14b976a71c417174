//! A one-sided contact problem on few unknowns: known answers to other loads, blended so that the energy is least.

use nalgebra::{DMatrix, DVector};

use crate::fem::sparse::{add_to, dot};

/// Answers to a pull and to moments about x and y, each of 1, while the wood presses at the same nodes.
pub(super) struct Tangent {
    /// Motion, screws, bosses, ribs, bearing and curvatures, one after the other.
    pub(super) answers: [Vec<f64>; 3],
    /// Lift of each node.
    pub(super) lifts: [Vec<f64>; 3],
    /// Nodes at which the wood presses.
    pub(super) pressed: Vec<bool>,
    /// Direction of the load it was found for: pull times the arm and moments, of length 1.
    pub(super) direction: [f64; 3],
}

/// Known answers and the load they are to bear.
pub(super) struct Part<'a> {
    pub(super) tangent: &'a Tangent,
    pub(super) load: [f64; 3],
}

/// Most changes of the pressed nodes.
const STEPS: usize = 8;
/// Lift of the diagonal that keeps answers that are nearly alike from spoiling the solution: far above rounding.
const RIDGE: f64 = 1e-11;

/// Shares the load out over what is known, so that the energy of plate, screws and one-sided wood is least. The shares add
/// up to the load, so the blend is in balance.
pub(super) fn least_energy<'a>(known: &[&'a Tangent], contact: &[f64], load: [f64; 3]) -> Vec<Part<'a>> {
    let whole = Part { tangent: known[0], load };
    if known.len() == 1 {
        return vec![whole];
    }
    let space = Space::new(known, contact, &whole);
    let shares = space.minimum(contact);
    let share = |i: usize| std::array::from_fn(|k| shares[3 * i + k]);
    let mut parts: Vec<_> = known[1..].iter().enumerate().map(|(i, t)| Part { tangent: t, load: share(i) }).collect();
    let rest = std::array::from_fn(|k| load[k] - parts.iter().map(|p| p.load[k]).sum::<f64>());
    parts.insert(0, Part { load: rest, ..whole });
    parts
}

/// Lift of each node.
pub(super) fn lifts(parts: &[Part<'_>]) -> Vec<f64> {
    let mut sum = vec![0.0; parts[0].tangent.pressed.len()];
    for part in parts {
        sum.iter_mut().zip(part.tangent.lifts_under(part.load)).for_each(|(s, lift)| *s += lift);
    }
    sum
}

/// Push of the wood on each node as the parts took it: of springs that can pull as well.
pub(super) fn pressures(parts: &[Part<'_>], contact: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; contact.len()];
    for Part { tangent, load } in parts {
        let springs = tangent.pressed.iter().zip(contact).map(|(pressed, c)| if *pressed { *c } else { 0.0 });
        sum.iter_mut().zip(tangent.lifts_under(*load).zip(springs)).for_each(|(s, (lift, c))| *s -= c * lift);
    }
    sum
}

/// Lifts and pressures at each node: of the first part under the whole load, and by moving load to the other parts.
struct Space {
    lifts: Vec<f64>,
    pressures: Vec<f64>,
    /// Columns: loads moved; rows: nodes.
    lift_moves: Vec<Vec<f64>>,
    pressure_moves: Vec<Vec<f64>>,
}

impl Space {
    fn new(known: &[&Tangent], contact: &[f64], whole: &Part<'_>) -> Self {
        let first = std::slice::from_ref(whole);
        let (mut lift_moves, mut pressure_moves) = (vec![], vec![]);
        for tangent in &known[1..] {
            for k in 0..3 {
                let mut one = [0.0; 3];
                one[k] = 1.0;
                let moved = [Part { tangent, load: one }, Part { tangent: whole.tangent, load: one.map(|l: f64| -l) }];
                lift_moves.push(lifts(&moved));
                pressure_moves.push(pressures(&moved, contact));
            }
        }
        Self { lifts: lifts(first), pressures: pressures(first, contact), lift_moves, pressure_moves }
    }

    /// Newton's method for the loads moved.
    fn minimum(&self, contact: &[f64]) -> DVector<f64> {
        let size = self.lift_moves.len();
        let plate = DMatrix::from_fn(size, size, |i, j| dot(&self.lift_moves[i], &self.pressure_moves[j]));
        let mut shares = DVector::zeros(size);
        let mut sunk: Vec<usize> = vec![];
        for step in 0..STEPS {
            let lifts = blended(&self.lifts, &self.lift_moves, &shares);
            let now: Vec<usize> = (0..lifts.len()).filter(|n| lifts[*n] < 0.0).collect();
            if step > 0 && now == sunk {
                break;
            }
            sunk = now;
            let Some(change) = self.step(&plate, contact, &lifts, &sunk, &shares) else { break };
            shares += change;
        }
        shares
    }

    fn step(
        &self,
        plate: &DMatrix<f64>,
        contact: &[f64],
        lifts: &[f64],
        sunk: &[usize],
        shares: &DVector<f64>,
    ) -> Option<DVector<f64>> {
        let mut force = blended(&self.pressures, &self.pressure_moves, shares);
        sunk.iter().for_each(|n| force[*n] += contact[*n] * lifts[*n]);
        let slope = DVector::from_iterator(shares.len(), self.lift_moves.iter().map(|m| dot(m, &force)));
        let pick = |m: &Vec<f64>| sunk.iter().map(|n| contact[*n].sqrt() * m[*n]).collect::<Vec<_>>();
        let wood: Vec<_> = self.lift_moves.iter().map(pick).collect();
        let mut stiffness = DMatrix::zeros(shares.len(), shares.len());
        for i in 0..shares.len() {
            for j in 0..=i {
                let value = f64::midpoint(plate[(i, j)], plate[(j, i)]) + dot(&wood[i], &wood[j]);
                stiffness[(i, j)] = value;
                stiffness[(j, i)] = value;
            }
            stiffness[(i, i)] *= 1.0 + RIDGE;
        }
        Some(-stiffness.cholesky()?.solve(&slope))
    }
}

fn blended(first: &[f64], moves: &[Vec<f64>], shares: &DVector<f64>) -> Vec<f64> {
    let mut sum = first.to_vec();
    for (values, share) in moves.iter().zip(shares.iter()) {
        add_to(&mut sum, *share, values);
    }
    sum
}

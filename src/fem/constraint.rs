//! Supports, rigid links and exact ties: linear equations between degrees of freedom, eliminated one by one.
//!
//! Each equation row . u = 0 gives up one degree of freedom (its pivot), which then follows the others exactly; no
//! large stiffness is used, so equilibrium keeps its digits.

use std::collections::BTreeMap;

use super::frame::Frame;
use super::ground::DOF;

/// A sum of multiples of degrees of freedom, sorted by their number.
pub(super) type LinearCombination = BTreeMap<usize, f64>;

/// Share of a row's largest entry below which an entry is rounding left over from elimination.
const NOTHING: f64 = 1e-10;

/// Weight of a rotation (mm) where a pivot is chosen, so that it compares with a translation: a typical joint's size.
/// It only ranks pivots; results do not depend on it beyond rounding.
const ROTATION_WEIGHT: f64 = 50.0;

/// Preference for giving up the second node of a link rather than the first.
const SLAVE_PREFERENCE: f64 = 1e3;

/// One equation as eliminated.
#[derive(Clone, Debug)]
struct Row {
    pivot: usize,
    /// The row after substitution of the earlier ones, scaled to 1 at the pivot.
    reduced: LinearCombination,
    /// reduced = (given row - sum of multiples of earlier reduced rows) / scale.
    scale: f64,
    used: Vec<(usize, f64)>,
}

/// All equations of a frame, and what each degree of freedom is made of.
#[derive(Clone, Debug)]
pub(super) struct Constraints {
    rows: Vec<Row>,
    /// Row of each eliminated degree of freedom.
    row_of: Vec<Option<usize>>,
    /// For each support or link equation that was not redundant: (its key, its row).
    keys: Vec<(Key, usize)>,
    /// Per degree of freedom: independent unknowns and their factors.
    pub(super) combination: Vec<Vec<(usize, f64)>>,
    /// Per independent unknown: the degree of freedom it is.
    pub(super) unknowns: Vec<usize>,
}

/// Which equation of the frame a row belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Key {
    /// A held degree of freedom.
    Support(usize),
    /// A rigid component of a spring.
    Link(usize, usize),
}

impl Constraints {
    /// Gathers and eliminates: supports first, so that reactions are told from link forces; then the links in order.
    pub(super) fn new(frame: &Frame) -> Self {
        let size = frame.nodes.len() * DOF;
        let mut own =
            Self { rows: vec![], row_of: vec![None; size], keys: vec![], combination: vec![], unknowns: vec![] };
        for (node, held) in frame.fixed.iter().enumerate() {
            for dof in (0..DOF).filter(|d| held[*d]).map(|d| node * DOF + d) {
                own.add(Key::Support(dof), LinearCombination::from([(dof, 1.0)]), node);
            }
        }
        for (index, spring) in frame.springs.iter().enumerate() {
            let relation = spring.relation();
            let dofs = dofs_of(&spring.nodes);
            for part in (0..DOF).filter(|p| spring.stiffness[*p].is_infinite()) {
                let row = (0..12).map(|i| (dofs[i], relation[(part, i)])).filter(|(_, c)| *c != 0.0).collect();
                own.add(Key::Link(index, part), row, spring.nodes[1]);
            }
        }
        own.resolve();
        own
    }

    /// Takes in one equation; drops it when earlier ones already say the same.
    fn add(&mut self, key: Key, given: LinearCombination, slave: usize) {
        let size = given.iter().map(|(d, c)| c.abs() * weight(*d)).fold(0.0, f64::max);
        let mut row = given;
        let mut used = vec![];
        while let Some((dof, factor)) = row.iter().find(|(d, _)| self.row_of[**d].is_some()).map(|(d, c)| (*d, *c)) {
            let k = self.row_of[dof].unwrap_or_default();
            for (d, c) in &self.rows[k].reduced {
                *row.entry(*d).or_insert(0.0) -= factor * c;
            }
            row.remove(&dof);
            used.push((k, factor));
        }
        row.retain(|d, c| c.abs() * weight(*d) > NOTHING * size);
        let rank = |d: usize, c: f64| c.abs() * weight(d) * if d / DOF == slave { SLAVE_PREFERENCE } else { 1.0 };
        let best = row.iter().max_by(|a, b| rank(*a.0, *a.1).total_cmp(&rank(*b.0, *b.1)));
        let Some((pivot, scale)) = best.map(|(d, c)| (*d, *c)) else { return };
        row.values_mut().for_each(|c| *c /= scale);
        self.row_of[pivot] = Some(self.rows.len());
        self.keys.push((key, self.rows.len()));
        self.rows.push(Row { pivot, reduced: row, scale, used });
    }

    /// Expresses every degree of freedom by independent ones, last row first.
    fn resolve(&mut self) {
        self.unknowns = (0..self.row_of.len()).filter(|d| self.row_of[*d].is_none()).collect();
        self.combination = vec![vec![]; self.row_of.len()];
        for (i, dof) in self.unknowns.iter().enumerate() {
            self.combination[*dof] = vec![(i, 1.0)];
        }
        for row in self.rows.iter().rev() {
            let mut sum = LinearCombination::new();
            for (dof, c) in row.reduced.iter().filter(|(d, _)| **d != row.pivot) {
                for (unknown, factor) in &self.combination[*dof] {
                    *sum.entry(*unknown).or_insert(0.0) -= c * factor;
                }
            }
            self.combination[row.pivot] = sum.into_iter().collect();
        }
    }

    /// All degrees of freedom from the independent unknowns.
    pub(super) fn expand(&self, unknowns: &[f64]) -> Vec<f64> {
        self.combination.iter().map(|sum| sum.iter().map(|(i, c)| c * unknowns[*i]).sum()).collect()
    }

    /// Movement of all degrees of freedom when a support's one moves by 1 and the independent unknowns do not: what
    /// rigid links carry along. None where the degree of freedom is not held.
    pub(super) fn carried(&self, support: usize) -> Option<Vec<f64>> {
        let moved = self.keys.iter().find(|(key, _)| *key == Key::Support(support))?.1;
        let mut rest = vec![0.0; self.rows.len()];
        for (k, row) in self.rows.iter().enumerate() {
            let given = if k == moved { 1.0 } else { 0.0 };
            rest[k] = (given - row.used.iter().map(|(u, factor)| factor * rest[*u]).sum::<f64>()) / row.scale;
        }
        let mut out = vec![0.0; self.row_of.len()];
        for (row, rest) in self.rows.iter().zip(&rest).rev() {
            out[row.pivot] = rest - row.reduced.iter().map(|(d, c)| c * out[*d]).sum::<f64>();
        }
        Some(out)
    }

    /// Forces on all degrees of freedom as seen by the independent unknowns.
    pub(super) fn reduce(&self, full: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; self.unknowns.len()];
        for (sum, f) in self.combination.iter().zip(full) {
            for (i, c) in sum {
                out[*i] += c * f;
            }
        }
        out
    }

    /// The multiplier of each equation, from the forces the constraints must supply on all degrees of freedom
    /// (stiffness times displacement less load): that force = sum of multiplier x given row.
    pub(super) fn multipliers(&self, mut needed: Vec<f64>) -> Vec<(Key, f64)> {
        let mut mu: Vec<f64> = self
            .rows
            .iter()
            .map(|row| {
                let m = needed[row.pivot];
                row.reduced.iter().for_each(|(d, c)| needed[*d] -= m * c);
                m
            })
            .collect();
        for (j, row) in self.rows.iter().enumerate().rev() {
            mu[j] /= row.scale;
            for (k, factor) in &row.used {
                mu[*k] -= mu[j] * factor;
            }
        }
        self.keys.iter().map(|(key, row)| (*key, mu[*row])).collect()
    }
}

fn weight(dof: usize) -> f64 {
    if dof % DOF < 3 { 1.0 } else { 1.0 / ROTATION_WEIGHT }
}

/// The degrees of freedom of some nodes, in order.
pub(super) fn dofs_of(nodes: &[usize]) -> Vec<usize> {
    nodes.iter().flat_map(|n| (0..DOF).map(move |d| n * DOF + d)).collect()
}

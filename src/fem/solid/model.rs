//! A grid with what holds and loads it, condensed to those.

use std::collections::BTreeMap;

use faer::{Mat, MatRef};
use nalgebra::{Matrix6, Vector3};
use rayon::prelude::*;

use super::brick::{Brick, Material, Voigt, weights};
use super::fronts::{ElementMatrix, Factor, FrontTree};
use super::grid::Grid;

/// Radius of the ball over which tension is averaged, mm: at this radius it settles within 4 % from grid to grid, at 2 mm it
/// scatters by 10 %.
const BALL: f64 = 3.0;

/// A small part of a surface.
#[derive(Clone, Copy, Debug)]
pub struct Patch {
    /// Where it is, mm.
    pub at: [f64; 3],
    /// Unit vector into the material.
    pub inward: [f64; 3],
    /// Area, mm2.
    pub area: f64,
}

/// Cells, films and pads; kept unknowns are numbered in the order they are added.
pub struct Model {
    pub(super) grid: Grid,
    brick: Brick,
    elastic: Matrix6<f64>,
    pieces: Vec<ElementMatrix>,
    pool: Vec<Vec<f64>>,
    kept: usize,
}

/// What is left of a model at its kept unknowns.
pub struct Condensed {
    model: Model,
    order: FrontTree,
    factor: Factor,
}

impl Model {
    /// A grid of one material.
    #[must_use]
    pub fn new(grid: Grid, material: &Material) -> Self {
        let brick = Brick::new(material, grid.step);
        let whole = brick.stiffness(&[1.0; 8]).as_slice().to_vec();
        let cut: Vec<usize> = (0..grid.cells.len()).filter(|c| !grid.cells[*c].whole()).collect();
        let mut pool = vec![whole];
        pool.par_extend(cut.par_iter().map(|c| brick.stiffness(&grid.cells[*c].shares).as_slice().to_vec()));
        let mut number = vec![0; grid.cells.len()];
        cut.iter().enumerate().for_each(|(i, c)| number[*c] = i + 1);
        let pieces =
            (0..number.len()).map(|c| ElementMatrix { unknowns: unknowns(&grid, c), matrix: number[c] }).collect();
        Self { elastic: material.stiffness(), grid, brick, pieces, pool, kept: 0 }
    }

    /// A rigid body that holds a surface through a film, N/mm3: its motion at `centre`, then its turn, are kept. Returns the
    /// number of the first of the six.
    pub fn body(&mut self, surface: &[Patch], centre: [f64; 3], film: f64) -> usize {
        let first = 3 * self.grid.nodes.len() + self.kept;
        let mut by_cell: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for patch in surface {
            let Some((cell, own)) = self.grid.find(patch.at, patch.inward) else { continue };
            let matrix = by_cell.entry(cell).or_insert_with(|| vec![0.0; 900]);
            for row in film_rows(&weights(own), Vector3::from(patch.at) - Vector3::from(centre)) {
                for (j, b) in row.iter().enumerate().filter(|(_, b)| **b != 0.0) {
                    row.iter().enumerate().for_each(|(i, a)| matrix[30 * j + i] += film * patch.area * a * b);
                }
            }
        }
        for (cell, matrix) in by_cell {
            let kept = first as u32..first as u32 + 6;
            self.add(unknowns(&self.grid, cell).into_iter().chain(kept).collect(), matrix);
        }
        self.kept += 6;
        first - 3 * self.grid.nodes.len()
    }

    /// A kept force on the mean motion of a surface along each patch's direction: the kept row gives that motion, the kept
    /// unknown is the force against it. Returns its number and the area found; none where less than a tenth was found.
    pub fn pad(&mut self, surface: &[Patch], direction: impl Fn(&Patch) -> [f64; 3]) -> Option<(usize, f64)> {
        let mut by_cell: BTreeMap<usize, [f64; 24]> = BTreeMap::new();
        let (mut area, wanted) = (0.0, surface.iter().map(|p| p.area).sum::<f64>());
        for patch in surface {
            let Some((cell, own)) = self.grid.find(patch.at, patch.inward) else { continue };
            area += patch.area;
            let (sum, way) = (by_cell.entry(cell).or_insert([0.0; 24]), direction(patch));
            for (c, w) in weights(own).into_iter().enumerate() {
                (0..3).for_each(|k| sum[3 * c + k] += patch.area * w * way[k]);
            }
        }
        if area < 0.1 * wanted || area == 0.0 {
            return None;
        }
        let kept = 3 * self.grid.nodes.len() + self.kept;
        for (cell, sum) in by_cell {
            let mut matrix = vec![0.0; 625];
            for (i, w) in sum.iter().enumerate() {
                (matrix[25 * 24 + i], matrix[25 * i + 24]) = (w / area, w / area);
            }
            self.add(unknowns(&self.grid, cell).into_iter().chain([kept as u32]).collect(), matrix);
        }
        self.kept += 1;
        Some((self.kept - 1, area))
    }

    fn add(&mut self, unknowns: Vec<u32>, matrix: Vec<f64>) {
        self.pieces.push(ElementMatrix { unknowns, matrix: self.pool.len() });
        self.pool.push(matrix);
    }

    /// What all cells together answer to motions of the corners, N.
    #[cfg(test)]
    pub(super) fn multiply(&self, motions: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; motions.len()];
        for piece in &self.pieces[..self.grid.cells.len()] {
            let (k, d) = (&self.pool[piece.matrix], &piece.unknowns);
            for (j, b) in d.iter().enumerate() {
                d.iter().enumerate().for_each(|(i, a)| out[*a as usize] += k[24 * j + i] * motions[*b as usize]);
            }
        }
        out
    }

    /// One factorisation; none where something is held by nothing.
    #[must_use]
    pub fn condense(self) -> Option<Condensed> {
        let order = FrontTree::new(&self.grid.nodes, self.kept, &self.pieces);
        let factor = order.factor(&self.pieces, &self.pool)?;
        Some(Condensed { model: self, order, factor })
    }
}

impl Condensed {
    /// Stiffness of the kept unknowns; rows of pads give their mean motion.
    #[must_use]
    pub fn stiffness(&self) -> MatRef<'_, f64> {
        self.factor.schur.as_ref()
    }

    /// Motions of all corners by kept unknowns, one column a case.
    #[must_use]
    pub fn motions(&self, kept: MatRef<'_, f64>) -> Mat<f64> {
        self.order.motions(&self.factor, kept)
    }

    /// Stress in the middle of every cell under one case of [`Condensed::motions`], MPa of the solid.
    #[must_use]
    pub fn stress(&self, motions: &[f64]) -> Vec<([f64; 3], Voigt)> {
        let (grid, strain) = (&self.model.grid, self.model.brick.middle());
        let of = |c: usize| {
            let u = unknowns(grid, c).into_iter().map(|d| motions[d as usize]);
            (grid.middle(c), self.model.elastic * (strain * nalgebra::SVector::<f64, 24>::from_iterator(u)))
        };
        (0..grid.cells.len()).into_par_iter().map(of).collect()
    }

    /// Tension across layers in the middle of every cell, MPa of the solid.
    #[must_use]
    pub fn across_layers(&self, motions: &[f64]) -> Vec<f64> {
        self.stress(motions).into_iter().map(|(_, s)| s[2]).collect()
    }

    /// Greatest mean of a stress over a ball about a cell where `wanted`, and where, mm.
    #[must_use]
    pub fn greatest(&self, stress: &[f64], wanted: impl Fn([f64; 3]) -> bool + Sync) -> Option<(f64, [f64; 3])> {
        let grid = &self.model.grid;
        let cells: Vec<usize> = (0..grid.cells.len()).filter(|c| wanted(grid.middle(*c))).collect();
        let means: Vec<f64> = cells.par_iter().map(|c| self.ball(stress, *c)).collect();
        let best = (0..cells.len()).max_by(|&a, &b| means[a].total_cmp(&means[b]))?;
        Some((means[best], grid.middle(cells[best])))
    }

    /// Mean over the ball about the middle of a cell, by filled volume; cells on its rim count in part.
    fn ball(&self, stress: &[f64], c: usize) -> f64 {
        let grid = &self.model.grid;
        let (edge, at) = (grid.step.iter().product::<f64>().cbrt(), grid.cells[c].at);
        let reach = grid.step.map(|h| (BALL / h).ceil() as i64 + 1);
        let range = |k: usize| {
            let middle = i64::from(at[k]);
            (middle - reach[k]).max(0) as usize..((middle + reach[k]) as usize + 1).min(grid.counts[k])
        };
        let (mut sum, mut volume) = (0.0, 0.0);
        for (k, j, i) in range(2).flat_map(|k| range(1).flat_map(move |j| range(0).map(move |i| (k, j, i)))) {
            let n = grid.number[i + grid.counts[0] * (j + grid.counts[1] * k)];
            if n != u32::MAX {
                let away = (Vector3::from(grid.middle(n as usize)) - Vector3::from(grid.middle(c))).norm();
                let part = ((BALL - away) / edge + 0.5).clamp(0.0, 1.0) * grid.filled(n as usize);
                (sum, volume) = (sum + part * stress[n as usize], volume + part);
            }
        }
        sum / volume
    }
}

fn unknowns(grid: &Grid, cell: usize) -> Vec<u32> {
    grid.corners[cell].iter().flat_map(|n| [3 * n, 3 * n + 1, 3 * n + 2]).collect()
}

/// Three rows: motion of the part less that of the body, by 24 motions of the cell and 6 of the body.
fn film_rows(weights: &[f64; 8], arm: Vector3<f64>) -> [[f64; 30]; 3] {
    let turn = [[0.0, arm.z, -arm.y], [-arm.z, 0.0, arm.x], [arm.y, -arm.x, 0.0]];
    std::array::from_fn(|k| {
        let mut row = [0.0; 30];
        (0..8).for_each(|c| row[3 * c + k] = weights[c]);
        row[24 + k] = -1.0;
        (0..3).for_each(|j| row[27 + j] = -turn[k][j]);
        row
    })
}

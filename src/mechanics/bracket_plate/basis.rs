//! Stiffness of a rectangular plate element with mixed interpolation of the shear.

use super::section::Section;

/// Stiffness of an element: lift and two turns of four nodes.
pub(super) type Element = [[f64; 12]; 12];

/// Products of the strain rows of a rectangular element with mixed interpolation of the shear, integrated.
pub(super) struct Basis {
    bending: [[Element; 3]; 3],
    shear: [[Element; 2]; 2],
}

const CORNER_X: [f64; 4] = [-1.0, 1.0, 1.0, -1.0];

const CORNER_Y: [f64; 4] = [-1.0, -1.0, 1.0, 1.0];

impl Basis {
    pub(super) fn new(step: [f64; 2]) -> Self {
        let gauss = 1.0 / 3.0_f64.sqrt();
        let mut basis = Self { bending: [[[[0.0; 12]; 12]; 3]; 3], shear: [[[[0.0; 12]; 12]; 2]; 2] };
        let weight = step[0] * step[1] / 4.0;
        for (a, b) in [(-gauss, -gauss), (gauss, -gauss), (gauss, gauss), (-gauss, gauss)] {
            add_products(&mut basis.bending, &bending_rows(step, a, b), weight);
            add_products(&mut basis.shear, &shear_rows(step, a, b), weight);
        }
        basis
    }

    pub(super) fn stiffness(&self, section: &Section) -> Element {
        let mut sum = [[0.0; 12]; 12];
        add_scaled(&mut sum, &self.bending, &section.bending);
        add_scaled(&mut sum, &self.shear, &section.shear);
        sum
    }
}

fn add_products<const N: usize>(sums: &mut [[Element; N]; N], rows: &[[f64; 12]; N], weight: f64) {
    for i in 0..N {
        for j in 0..N {
            for a in 0..12 {
                for b in 0..12 {
                    sums[i][j][a][b] += weight * rows[i][a] * rows[j][b];
                }
            }
        }
    }
}

fn add_scaled<const N: usize>(sum: &mut Element, products: &[[Element; N]; N], factors: &[[f64; N]; N]) {
    for (products, factors) in products.iter().flatten().zip(factors.iter().flatten()).filter(|(_, f)| **f != 0.0) {
        for (row, values) in sum.iter_mut().zip(products) {
            for (s, v) in row.iter_mut().zip(values) {
                *s += factors * v;
            }
        }
    }
}

/// Shape functions and their slopes along x and y.
fn shape(step: [f64; 2], k: usize, a: f64, b: f64) -> (f64, f64, f64) {
    let (x, y) = (1.0 + CORNER_X[k] * a, 1.0 + CORNER_Y[k] * b);
    (x * y / 4.0, CORNER_X[k] * y / 2.0 / step[0], x * CORNER_Y[k] / 2.0 / step[1])
}

fn bending_rows(step: [f64; 2], a: f64, b: f64) -> [[f64; 12]; 3] {
    let mut rows = [[0.0; 12]; 3];
    for k in 0..4 {
        let (_, dx, dy) = shape(step, k, a, b);
        rows[0][3 * k + 1] = dx;
        rows[1][3 * k + 2] = dy;
        rows[2][3 * k + 1] = dy;
        rows[2][3 * k + 2] = dx;
    }
    rows
}

/// Shear along x taken from the middles of the lower and upper side, along y from the left and right side.
fn shear_rows(step: [f64; 2], a: f64, b: f64) -> [[f64; 12]; 2] {
    let mut rows = [[0.0; 12]; 2];
    for k in 0..4 {
        for side in [-1.0, 1.0] {
            let (n, dx, _) = shape(step, k, 0.0, side);
            let part = (1.0 + side * b) / 2.0;
            rows[0][3 * k] += part * dx;
            rows[0][3 * k + 1] += part * n;
            let (n, _, dy) = shape(step, k, side, 0.0);
            let part = (1.0 + side * a) / 2.0;
            rows[1][3 * k] += part * dy;
            rows[1][3 * k + 2] += part * n;
        }
    }
    rows
}

//! The trilinear brick with incompatible modes, cut by octants; material with layers across z.

use nalgebra::{Matrix6, SMatrix, SVector};

/// Columns of the strain basis: 24 of the corners, 9 of the incompatible modes, 6 of even strain.
const BASIS: usize = 39;
/// Share of a mode's own stiffness that keeps it solvable where an octant alone is left. Judgement: far below any effect.
const HELD: f64 = 1e-6;

/// Strains xx, yy, zz, xy, yz, zx (the last three as angles).
pub type Voigt = SVector<f64, 6>;
/// Stiffness of one cell, corners in binary order (x first), three motions each.
pub(super) type Stiffness = SMatrix<f64, 24, 24>;
type Gram = SMatrix<f64, BASIS, BASIS>;

/// Alike in the layer, another across: moduli MPa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// Modulus within a layer.
    pub e: f64,
    /// Modulus across layers.
    pub e_z: f64,
    /// Poisson's ratio within a layer.
    pub nu: f64,
    /// Strain within the layer by strain across it, under tension across layers.
    pub nu_z: f64,
    /// Shear modulus between layers.
    pub g_z: f64,
}

impl Material {
    /// The same in every direction.
    #[must_use]
    pub fn even(e: f64, nu: f64) -> Self {
        Self { e, e_z: e, nu, nu_z: nu, g_z: e / (2.0 * (1.0 + nu)) }
    }

    /// Stress by strain.
    #[must_use]
    pub fn stiffness(&self) -> Matrix6<f64> {
        let mut c = Matrix6::zeros();
        for (i, j, v) in [(0, 0, 1.0 / self.e), (1, 1, 1.0 / self.e), (2, 2, 1.0 / self.e_z), (0, 1, -self.nu / self.e)]
        {
            (c[(i, j)], c[(j, i)]) = (v, v);
        }
        for k in 0..2 {
            (c[(k, 2)], c[(2, k)]) = (-self.nu_z / self.e_z, -self.nu_z / self.e_z);
        }
        let g = self.e / (2.0 * (1.0 + self.nu));
        (c[(3, 3)], c[(4, 4)], c[(5, 5)]) = (1.0 / g, 1.0 / self.g_z, 1.0 / self.g_z);
        c.try_inverse().unwrap_or_else(Matrix6::zeros)
    }
}

/// A cell of one size and material, ready to be cut.
pub(super) struct Brick {
    size: [f64; 3],
    octants: [Gram; 8],
}

impl Brick {
    pub(super) fn new(material: &Material, size: [f64; 3]) -> Self {
        let d = material.stiffness();
        Self { size, octants: std::array::from_fn(|o| octant(&d, size, o)) }
    }

    /// Stiffness with a share of each octant filled. The modes are made to do no work on even strain, so that the patch
    /// test holds however the cell is cut.
    pub(super) fn stiffness(&self, shares: &[f64; 8]) -> Stiffness {
        let mut g = Gram::zeros();
        self.octants.iter().zip(shares).for_each(|(o, s)| g += o * *s);
        let corners = g.fixed_view::<24, 24>(0, 0).into_owned();
        let even = g.fixed_view::<6, 6>(33, 33).into_owned();
        let Some(inverse) = even.try_inverse() else { return corners };
        let by_even = g.fixed_view::<6, 9>(33, 24).into_owned();
        let mean = inverse * by_even;
        let mixed = g.fixed_view::<24, 9>(0, 24) - g.fixed_view::<24, 6>(0, 33) * mean;
        let mut modes = g.fixed_view::<9, 9>(24, 24) - by_even.transpose() * mean;
        (0..9).for_each(|a| modes[(a, a)] += HELD * self.octants[0][(24 + a, 24 + a)]);
        let Some(inverse) = modes.try_inverse() else { return corners };
        corners - mixed * inverse * mixed.transpose()
    }

    /// Strain in the middle by the motions of the corners.
    pub(super) fn middle(&self) -> SMatrix<f64, 6, 24> {
        basis([0.0; 3], self.size).fixed_view::<6, 24>(0, 0).into_owned()
    }
}

/// Weights of the corners at a place of the cell, -1 to 1.
pub(super) fn weights(x: [f64; 3]) -> [f64; 8] {
    std::array::from_fn(|c| (0..3).map(|k| f64::midpoint(1.0, side(c, k) * x[k])).product())
}

/// -1 or 1: which side of the cell a corner or an octant is on.
fn side(corner: usize, k: usize) -> f64 {
    if corner >> k & 1 == 1 { 1.0 } else { -1.0 }
}

fn basis(x: [f64; 3], size: [f64; 3]) -> SMatrix<f64, 6, BASIS> {
    let mut b = SMatrix::zeros();
    for c in 0..8 {
        let factor = |k: usize| f64::midpoint(1.0, side(c, k) * x[k]);
        let slope = |k: usize| side(c, k) / size[k] * factor((k + 1) % 3) * factor((k + 2) % 3);
        strain(&mut b, 3 * c, [slope(0), slope(1), slope(2)]);
    }
    for m in 0..3 {
        let mut slope = [0.0; 3];
        slope[m] = -4.0 * x[m] / size[m];
        strain(&mut b, 24 + 3 * m, slope);
    }
    (0..6).for_each(|k| b[(k, 33 + k)] = 1.0);
    b
}

/// Strains of a motion in x, y and z (three columns) with a slope.
fn strain(b: &mut SMatrix<f64, 6, BASIS>, first: usize, slope: [f64; 3]) {
    for k in 0..3 {
        b[(k, first + k)] = slope[k];
    }
    for (row, [i, j]) in [[0, 1], [1, 2], [2, 0]].into_iter().enumerate() {
        b[(3 + row, first + i)] = slope[j];
        b[(3 + row, first + j)] = slope[i];
    }
}

/// Work of every pair of the basis in one octant, by eight points.
fn octant(d: &Matrix6<f64>, size: [f64; 3], o: usize) -> Gram {
    let weight = size.iter().product::<f64>() / 64.0;
    let reach = 0.5 / 3f64.sqrt();
    let point = |q: usize| {
        let b = basis([0, 1, 2].map(|k| 0.5 * side(o, k) + reach * side(q, k)), size);
        b.transpose() * (d * b) * weight
    };
    (0..8).fold(Gram::zeros(), |sum, q| sum + point(q))
}

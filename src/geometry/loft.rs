//! Rings of points joined to closed meshes whose triangles know their flat patch.

use nalgebra::Point3;

use super::mesh::Mesh;
use super::triangulate;

/// Joins rings of equally many points, counter-clockwise about the stacking direction, and closes both ends.
/// `flat`: the end section in its plane, when it may be concave.
pub(super) fn loft(rings: &[Vec<Point3<f64>>], flat: Option<&[[f64; 2]]>) -> (Mesh, Vec<u32>) {
    let n = rings[0].len();
    let mut out = Patches::default();
    for (k, pair) in rings.windows(2).enumerate() {
        for i in 0..n {
            let j = (i + 1) % n;
            out.quad(pair, [i, j], (k * n) as u32, n as u32);
        }
    }
    let cap = flat.map_or_else(|| fan(n), |f| triangulate::simple(f).unwrap_or_else(|| fan(n)));
    let last = ((rings.len() - 1) * n) as u32;
    out.patch(cap.iter().map(|&[a, b, c]| [a, c, b]));
    out.patch(cap.iter().map(|t| t.map(|i| i + last)));
    let points = rings.iter().flatten().map(|p| [p.x, p.y, p.z]).collect();
    out.welded(points)
}

/// Triangles and the number of the flat patch each belongs to.
#[derive(Default)]
struct Patches {
    triangles: Vec<[u32; 3]>,
    planes: Vec<u32>,
    next: u32,
}

impl Patches {
    fn patch(&mut self, triangles: impl Iterator<Item = [u32; 3]>) {
        self.triangles.extend(triangles);
        self.planes.resize(self.triangles.len(), self.next);
        self.next += 1;
    }

    /// The side between corners i and j of two rings: one patch when flat, else two.
    fn quad(&mut self, pair: &[Vec<Point3<f64>>], [i, j]: [usize; 2], first: u32, n: u32) {
        let [a, b, c, d] = [first + i as u32, first + j as u32, first + n + j as u32, first + n + i as u32];
        let (p, q, r, s) = (pair[0][i], pair[0][j], pair[1][j], pair[1][i]);
        let bend = (q - p).cross(&(r - p)).dot(&(s - p));
        let size = (r - p).norm() * (s - q).norm() * (q - p).norm().max((r - s).norm());
        if bend.abs() <= FLAT * size {
            self.patch([[a, b, c], [a, c, d]].into_iter());
        } else {
            self.patch(std::iter::once([a, b, c]));
            self.patch(std::iter::once([a, c, d]));
        }
    }

    /// Welds equal points (the tip of a cone) and drops the triangles that lose a corner.
    fn welded(self, points: Vec<[f64; 3]>) -> (Mesh, Vec<u32>) {
        Mesh { points, triangles: self.triangles }.welded_with(&self.planes)
    }
}

/// Relative bend below which four points count as one plane: far above rounding, far below any oblique cone.
const FLAT: f64 = 1e-12;

fn fan(n: usize) -> Vec<[u32; 3]> {
    (1..n as u32 - 1).map(|i| [0, i, i + 1]).collect()
}

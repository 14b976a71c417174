//! Flat orthotropic plates of triangles: bending by discrete Kirchhoff theory, membrane with drilling rotation.
//!
//! Bending (DKT): Batoz, Bathe and Ho, "A study of three-node triangular plate bending elements", Int. J. Numerical
//! Methods in Engineering 15 (1980) (from memory). Membrane (optimal ANDES triangle): Felippa, "A study of optimal
//! membrane triangles with drilling freedoms", Computer Methods in Applied Mechanics and Engineering 192 (2003)
//! (from memory). The patch tests and closed forms below check both.

use nalgebra::{Matrix3, SMatrix, SVector, Vector3};

use super::ground::{Axes, FrameError, NodeId};

/// Matrix of one triangle in bending (w, rx, ry per corner) or membrane (u, v, rz per corner).
type Mat9 = SMatrix<f64, 9, 9>;
/// Strain or curvature from the nine quantities.
type Strain = SMatrix<f64, 3, 9>;
/// Matrix of one triangle, six degrees of freedom per corner.
pub(super) type Mat18 = SMatrix<f64, 18, 18>;

/// How far a corner may lie out of the plate's plane, as a share of the triangle's size: rounding of coordinates.
const FLATNESS: f64 = 1e-6;

/// Section and material of a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateSection {
    /// Thickness, mm.
    pub thickness: f64,
    /// Modulus along the grain, MPa.
    pub young_along: f64,
    /// Modulus across the grain, MPa.
    pub young_across: f64,
    /// Poisson's ratio: strain across / strain along under stress along the grain.
    pub poisson: f64,
    /// In-plane shear modulus, MPa.
    pub shear: f64,
    /// Direction of the grain from the plate's x axis towards its y axis, radians.
    pub grain: f64,
    /// Density, t/mm3; it has weight in gravity cases.
    pub density: f64,
    /// Mass carried on the plate, t/mm2: it takes part in vibration, its weight is a load of its own.
    pub carried: f64,
}

impl PlateSection {
    /// The same in every direction: thickness (mm), modulus (MPa), Poisson's ratio, density (t/mm3).
    #[cfg(test)]
    pub(super) fn isotropic(thickness: f64, young: f64, poisson: f64, density: f64) -> Self {
        Self {
            thickness,
            young_along: young,
            young_across: young,
            poisson,
            shear: young / (2.0 * (1.0 + poisson)),
            grain: 0.0,
            density,
            carried: 0.0,
        }
    }

    pub(super) fn check(&self) -> Result<(), FrameError> {
        let positive = [self.thickness, self.young_along, self.young_across, self.shear];
        let rest = [self.poisson, self.grain, self.density, self.carried];
        let good = positive.iter().all(|v| v.is_finite() && *v > 0.0)
            && rest.iter().all(|v| v.is_finite())
            && self.density >= 0.0
            && self.carried >= 0.0
            && self.poisson.powi(2) * self.young_across < self.young_along;
        if good { Ok(()) } else { Err(FrameError::BadValue { what: "plate section" }) }
    }

    /// Plane-stress matrix in the plate's axes, MPa.
    fn elasticity(&self) -> Matrix3<f64> {
        let (e1, e2, nu) = (self.young_along, self.young_across, self.poisson);
        let d = 1.0 - nu * nu * e2 / e1;
        let q = Matrix3::new(e1, nu * e2, 0.0, nu * e2, e2, 0.0, 0.0, 0.0, self.shear * d) / d;
        let (s, c) = self.grain.sin_cos();
        let t = Matrix3::new(c * c, s * s, s * c, s * s, c * c, -s * c, -2.0 * s * c, 2.0 * s * c, c * c - s * s);
        t.transpose() * q * t
    }

    /// Weight of the higher-order membrane energy: (1 - 4 nu2) / 2, at least 0.01, with the mean Poisson's ratio.
    fn higher_order(&self) -> f64 {
        let nu_squared = self.poisson.powi(2) * self.young_across / self.young_along;
        (0.5 * (1.0 - 4.0 * nu_squared)).max(0.01)
    }
}

/// Stress resultants at one place, in the plate's axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PlateForces {
    /// Membrane forces per width nx, ny, nxy, N/mm, tension positive.
    pub membrane: [f64; 3],
    /// Moments per width mx, my, mxy, N mm/mm; mx and my positive when the face away from the normal (the underside
    /// of a level plate) is stretched.
    pub moment: [f64; 3],
}

/// A plate of a frame.
#[derive(Clone, Debug)]
pub(super) struct Plate {
    /// Corners, counter-clockwise about the normal.
    pub(super) triangles: Vec<[usize; 3]>,
    pub(super) shapes: Vec<Triangle>,
    pub(super) section: PlateSection,
    pub(super) axes: Axes,
    pub(super) offset: f64,
}

impl Plate {
    pub(super) fn new(
        places: &[Vector3<f64>],
        triangles: &[[NodeId; 3]],
        section: PlateSection,
        axes: Axes,
        offset: f64,
    ) -> Result<Self, FrameError> {
        let mut own = Self { triangles: vec![], shapes: vec![], section, axes, offset };
        let level = triangles.first().map_or(0.0, |t| (axes.0 * places[t[0].0]).z);
        for given in triangles {
            let mut nodes = given.map(|n| n.0);
            let mut shape = Triangle::new(nodes.map(|n| axes.0 * places[n]));
            if shape.area < 0.0 {
                nodes.swap(1, 2);
                shape = Triangle::new(nodes.map(|n| axes.0 * places[n]));
            }
            let size = shape.size();
            let flat = nodes.iter().all(|n| ((axes.0 * places[*n]).z - level).abs() <= FLATNESS * size);
            if !flat || shape.area.is_nan() || shape.area <= FLATNESS * size * size {
                return Err(FrameError::BadTriangle { nodes: *given });
            }
            own.triangles.push(nodes);
            own.shapes.push(shape);
        }
        Ok(own)
    }

    /// Stiffness of one triangle in global axes.
    pub(super) fn stiffness(&self, index: usize) -> Mat18 {
        let (t, s) = (&self.shapes[index], &self.section);
        let e = s.elasticity();
        let mut k = Mat18::zeros();
        spread(&mut k, &t.bending(&(e * (s.thickness.powi(3) / 12.0))), BENDING);
        spread(&mut k, &t.membrane(&(e * s.thickness), s.higher_order()), MEMBRANE);
        self.in_global(&k)
    }

    /// Mass of one triangle in global axes by linear shape functions, with rotary inertia; `carried` tells whether what lies on the plate is counted.
    pub(super) fn mass(&self, index: usize, carried: bool) -> Mat18 {
        let s = &self.section;
        let area = self.shapes[index].area;
        let whole = area * (s.density * s.thickness + if carried { s.carried } else { 0.0 });
        let rotary = area * s.density * s.thickness.powi(3) / 12.0;
        let (same, other) = (whole / 6.0, whole / 12.0);
        let mut m = Mat18::zeros();
        for i in 0..3 {
            for j in 0..3 {
                let (line, turn) = if i == j { (same, rotary / 6.0) } else { (other, rotary / 12.0) };
                (0..3).for_each(|d| m[(6 * i + d, 6 * j + d)] = line);
                (3..5).for_each(|d| m[(6 * i + d, 6 * j + d)] = turn);
            }
        }
        self.in_global(&m)
    }

    /// Displacements at the middle plane, in the plate's axes, from those of a node in global axes.
    fn corner(&self) -> SMatrix<f64, 6, 6> {
        let r = self.axes.0;
        let mut t = SMatrix::<f64, 6, 6>::zeros();
        t.fixed_view_mut::<3, 3>(0, 0).copy_from(&r);
        t.fixed_view_mut::<3, 3>(3, 3).copy_from(&r);
        // u_mid = u + theta x (0, 0, offset)
        let lever = Matrix3::new(0.0, self.offset, 0.0, -self.offset, 0.0, 0.0, 0.0, 0.0, 0.0);
        t.fixed_view_mut::<3, 3>(0, 3).copy_from(&(lever * r));
        t
    }

    fn in_global(&self, local: &Mat18) -> Mat18 {
        let t = self.corner();
        let mut out = Mat18::zeros();
        for i in 0..3 {
            for j in 0..3 {
                let block = t.transpose() * local.fixed_view::<6, 6>(6 * i, 6 * j) * t;
                out.fixed_view_mut::<6, 6>(6 * i, 6 * j).copy_from(&block);
            }
        }
        out
    }

    /// Stress resultants at barycentric place `at` of one triangle from the displacements of the frame. Membrane
    /// forces are those of the constant-strain part.
    pub(super) fn forces(&self, index: usize, at: [f64; 3], all: &[f64]) -> PlateForces {
        let (t, s, corner) = (&self.shapes[index], &self.section, self.corner());
        let (mut bend, mut flat) = (SVector::<f64, 9>::zeros(), SVector::<f64, 9>::zeros());
        for (i, node) in self.triangles[index].iter().enumerate() {
            let u = corner * SVector::<f64, 6>::from_column_slice(&all[6 * node..6 * node + 6]);
            (0..3).for_each(|d| bend[3 * i + d] = u[BENDING[d]]);
            (0..3).for_each(|d| flat[3 * i + d] = u[MEMBRANE[d]]);
        }
        let e = s.elasticity();
        let m = -(e * (t.curvature(at[1], at[2]) * bend)) * (s.thickness.powi(3) / 12.0);
        let n = e * (t.mean_strain() * flat) * s.thickness;
        PlateForces { membrane: n.into(), moment: m.into() }
    }
}

/// Where w, rx, ry stand among the six of a corner.
const BENDING: [usize; 3] = [2, 3, 4];
/// Where u, v, rz stand among the six of a corner.
const MEMBRANE: [usize; 3] = [0, 1, 5];

fn spread(k: &mut Mat18, small: &Mat9, at: [usize; 3]) {
    for i in 0..9 {
        for j in 0..9 {
            k[(6 * (i / 3) + at[i % 3], 6 * (j / 3) + at[j % 3])] += small[(i, j)];
        }
    }
}

/// A triangle in the plate's x and y.
#[derive(Clone, Copy, Debug)]
pub(super) struct Triangle {
    pub(super) x: [f64; 3],
    pub(super) y: [f64; 3],
    /// mm2, positive counter-clockwise.
    pub(super) area: f64,
}

/// Weights of the six quadratic shape functions: corners 1 2 3, then middles of sides 2-3, 3-1, 1-2.
type Six = [f64; 6];

impl Triangle {
    fn new(p: [Vector3<f64>; 3]) -> Self {
        let (x, y) = (p.map(|q| q.x), p.map(|q| q.y));
        let area = 0.5 * ((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]));
        Self { x, y, area }
    }

    /// The longest side, mm.
    pub(super) fn size(&self) -> f64 {
        (0..3).map(|i| self.side(i, (i + 1) % 3)).map(|(x, y)| x.hypot(y)).fold(0.0, f64::max)
    }

    /// x_i - x_j, y_i - y_j.
    fn side(&self, i: usize, j: usize) -> (f64, f64) {
        (self.x[i] - self.x[j], self.y[i] - self.y[j])
    }

    /// Barycentric coordinates of a point.
    pub(super) fn weights(&self, [px, py]: [f64; 2]) -> [f64; 3] {
        let part = |i: usize, j: usize| {
            0.5 * ((self.x[i] - px) * (self.y[j] - py) - (self.x[j] - px) * (self.y[i] - py)) / self.area
        };
        [part(1, 2), part(2, 0), part(0, 1)]
    }

    /// The rotations beta_x = -w,x (first) and beta_y = -w,y as weights of the six functions, for each of the nine.
    fn rotations(&self) -> [[Six; 9]; 2] {
        let mut h = [[[0.0; 6]; 9]; 2];
        // Side opposite corner k runs from i to j.
        for k in 0..3 {
            let (i, j) = ((k + 1) % 3, (k + 2) % 3);
            let (x, y) = self.side(i, j);
            let l2 = x * x + y * y;
            let (a, d, b) = (-x / l2, -y / l2, 0.75 * x * y / l2);
            let (c, e) = ((0.25 * x * x - 0.5 * y * y) / l2, (0.25 * y * y - 0.5 * x * x) / l2);
            let mid = 3 + k;
            for (node, sign) in [(i, 1.0), (j, -1.0)] {
                h[0][3 * node][mid] = 1.5 * a * sign;
                h[1][3 * node][mid] = 1.5 * d * sign;
                h[0][3 * node + 1][mid] = b;
                h[1][3 * node + 1][mid] = e;
                h[0][3 * node + 2][mid] = -c;
                h[1][3 * node + 2][mid] = -b;
            }
        }
        for node in 0..3 {
            h[0][3 * node + 2][node] = 1.0;
            h[1][3 * node + 1][node] = -1.0;
        }
        h
    }

    /// Derivatives by x and y of the six functions at barycentric place (1 - xi - eta, xi, eta).
    fn gradients(&self, xi: f64, eta: f64) -> [Six; 2] {
        let l = 1.0 - xi - eta;
        let by_xi = [1.0 - 4.0 * l, 4.0 * xi - 1.0, 0.0, 4.0 * eta, -4.0 * eta, 4.0 * (l - xi)];
        let by_eta = [1.0 - 4.0 * l, 0.0, 4.0 * eta - 1.0, 4.0 * xi, 4.0 * (l - eta), -4.0 * xi];
        let ((x31, y31), (x12, y12)) = (self.side(2, 0), self.side(0, 1));
        let twice = 2.0 * self.area;
        [
            std::array::from_fn(|n| (y31 * by_xi[n] + y12 * by_eta[n]) / twice),
            std::array::from_fn(|n| -(x31 * by_xi[n] + x12 * by_eta[n]) / twice),
        ]
    }

    /// Curvatures beta_x,x, beta_y,y, beta_x,y + beta_y,x from the nine.
    fn curvature(&self, xi: f64, eta: f64) -> Strain {
        let ([hx, hy], [dx, dy]) = (self.rotations(), self.gradients(xi, eta));
        let product = |a: &Six, b: &Six| (0..6).map(|n| a[n] * b[n]).sum::<f64>();
        Strain::from_fn(|row, i| match row {
            0 => product(&hx[i], &dx),
            1 => product(&hy[i], &dy),
            _ => product(&hx[i], &dy) + product(&hy[i], &dx),
        })
    }

    /// Bending stiffness for the rigidities `d`; three points at mid-sides integrate it exactly.
    fn bending(&self, d: &Matrix3<f64>) -> Mat9 {
        [(0.5, 0.0), (0.5, 0.5), (0.0, 0.5)]
            .iter()
            .map(|(xi, eta)| {
                let b = self.curvature(*xi, *eta);
                b.transpose() * d * b * (self.area / 3.0)
            })
            .sum()
    }

    /// Mean strains from the nine: the transpose of the force-lumping matrix over the area, with its free parameter
    /// at 3/2.
    fn mean_strain(&self) -> Strain {
        let mut b = Strain::zeros();
        for k in 0..3 {
            // Corner k between its neighbours: p before it, n after it.
            let (n, p) = ((k + 1) % 3, (k + 2) % 3);
            let ((xpn, ynp), (xpk, ypk), (xkn, ykn)) =
                ((self.x[p] - self.x[n], self.y[n] - self.y[p]), self.side(p, k), self.side(k, n));
            let sixth = 1.5 / 6.0;
            let columns = [
                Vector3::new(ynp, 0.0, xpn),
                Vector3::new(0.0, xpn, ynp),
                Vector3::new(ynp * (ykn - ypk), xpn * (xpk - xkn), 2.0 * (-xpk * ypk + xkn * ykn)) * sixth,
            ];
            for (d, column) in columns.iter().enumerate() {
                b.set_column(3 * k + d, &(column / (2.0 * self.area)));
            }
        }
        b
    }

    /// Membrane stiffness for the plane-stress matrix times thickness `e`.
    fn membrane(&self, e: &Matrix3<f64>, higher: f64) -> Mat9 {
        let b = self.mean_strain();
        let basic = b.transpose() * e * b * self.area;
        basic + self.drilling(e) * (0.75 * higher)
    }

    /// Higher-order energy of the corner rotations against the mean rotation.
    fn drilling(&self, e: &Matrix3<f64>) -> Mat9 {
        let (natural, a) = (self.natural(), self.area);
        let e_nat = natural.transpose() * e * natural;
        let l2 = [(1, 0), (2, 1), (0, 2)].map(|(i, j)| {
            let (x, y) = self.side(i, j);
            x * x + y * y
        });
        let q =
            NUMBERS.map(|n| Matrix3::from_fn(|row, column| f64::from(n[3 * row + column]) / l2[row] * (2.0 * a / 3.0)));
        let k: Matrix3<f64> =
            (0..3).map(|i| (q[i] + q[(i + 1) % 3]) * 0.5).map(|half| half.transpose() * e_nat * half * a).sum();
        let t = self.relative_rotations();
        t.transpose() * k * t
    }

    /// Cartesian strains from strains along the sides 1-2, 2-3, 3-1.
    fn natural(&self) -> Matrix3<f64> {
        let columns = [(1, 0), (2, 1), (0, 2)].map(|(i, j)| {
            // The other two sides, from the common corner's point of view.
            let k = 3 - i - j;
            let ((xa, ya), (xb, yb)) = (self.side(i, k), self.side(j, k));
            let (x, y) = self.side(i, j);
            Vector3::new(ya * yb, xa * xb, -(ya * xb + xa * yb)) * (x * x + y * y)
        });
        Matrix3::from_columns(&columns) / (4.0 * self.area * self.area)
    }

    /// Corner rotations less the mean rotation of the straight-sided triangle.
    fn relative_rotations(&self) -> Strain {
        let mut t = Strain::zeros();
        for k in 0..3 {
            let (x, y) = self.side((k + 2) % 3, (k + 1) % 3);
            for row in 0..3 {
                t[(row, 3 * k)] = x / (4.0 * self.area);
                t[(row, 3 * k + 1)] = y / (4.0 * self.area);
            }
            t[(k, 3 * k + 2)] = 1.0;
        }
        t
    }
}

/// Natural strains at the corners from the three relative rotations: the numbers of the optimal triangle, times
/// 3 l2 / (2 A); each corner's matrix by rows.
const NUMBERS: [[i8; 9]; 3] =
    [[1, 2, 1, 0, 1, -1, -1, -1, -2], [-2, -1, -1, 1, 1, 2, -1, 0, 1], [1, -1, 0, -1, -2, -1, 2, 1, 1]];

#[cfg(test)]
mod tests {
    use super::*;

    /// A tilted plate of one crooked triangle, off its nodes, of grained wood.
    fn crooked() -> (Plate, [Vector3<f64>; 3]) {
        let axes = Axes::along([2.0, 1.0, -1.0], [0.3, 0.2, 1.0]);
        let flat = [[3.0, 4.0], [47.0, 12.0], [21.0, 39.0]];
        let places = flat.map(|[x, y]| axes.0.transpose() * Vector3::new(x, y, 7.0));
        let section = PlateSection {
            young_across: 900.0,
            shear: 700.0,
            grain: 0.4,
            ..PlateSection::isotropic(9.0, 11_000.0, 0.3, 7e-10)
        };
        (Plate::new(&places, &[[0, 1, 2].map(NodeId)], section, axes, 4.5).unwrap(), places)
    }

    fn rigid(places: &[Vector3<f64>; 3], direction: usize) -> SVector<f64, 18> {
        let unit = Vector3::from_fn(|i, _| if i == direction % 3 { 1.0 } else { 0.0 });
        let mut u = SVector::<f64, 18>::zeros();
        for (i, p) in places.iter().enumerate() {
            let (shift, turn) = if direction < 3 { (unit, Vector3::zeros()) } else { (unit.cross(p), unit) };
            u.fixed_rows_mut::<3>(6 * i).copy_from(&shift);
            u.fixed_rows_mut::<3>(6 * i + 3).copy_from(&turn);
        }
        u
    }

    /// Statics: six rigid-body movements cost nothing, everything else does; their mass is the whole.
    #[test]
    fn exactly_six_movements_are_free() {
        let (plate, places) = crooked();
        let (k, m) = (plate.stiffness(0), plate.mass(0, true));
        let whole = plate.shapes[0].area * 9.0 * 7e-10;
        for direction in 0..6 {
            let u = rigid(&places, direction);
            assert!((k * u).norm() < 1e-11 * k.norm() * u.norm(), "direction {direction}");
            if direction < 3 {
                assert!(((u.transpose() * m * u)[0] / whole - 1.0).abs() < 1e-12);
            }
        }
        let mut values: Vec<f64> = k.symmetric_eigen().eigenvalues.iter().copied().collect();
        values.sort_by(f64::total_cmp);
        assert!(values[5].abs() < 1e-10 * values[17] && values[6] > 1e-7 * values[17], "{values:?}");
    }

    /// Geometry: a uniform Cartesian strain stretches each side by its component along it.
    #[test]
    fn natural_strains_are_those_along_the_sides() {
        let triangle = crooked().0.shapes[0];
        let strain = Vector3::new(0.3, -0.2, 0.5);
        let along = [(1, 0), (2, 1), (0, 2)].map(|(i, j)| {
            let (x, y) = triangle.side(i, j);
            (strain.x * x * x + strain.y * y * y + strain.z * x * y) / (x * x + y * y)
        });
        assert!((triangle.natural() * Vector3::from(along) - strain).norm() < 1e-12);
    }

    /// Four corners and a crooked middle node (the patch): forces at the middle vanish under a linear displacement
    /// field, and stresses are those of the field. `at` gives (u, v, rz, w, rx, ry) at a place.
    fn patch(at: impl Fn(f64, f64) -> [f64; 6]) -> (SVector<f64, 6>, Vec<PlateForces>) {
        let places = [[0.0, 0.0], [50.0, 0.0], [50.0, 30.0], [0.0, 30.0], [19.0, 13.0]];
        let triangles = [[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]].map(|t| t.map(NodeId));
        let section = crooked().0.section;
        let points = places.map(|[x, y]| Vector3::new(x, y, 0.0));
        let plate = Plate::new(&points, &triangles, section, Axes::global(), 0.0).unwrap();
        let all: Vec<f64> = places
            .iter()
            .flat_map(|[x, y]| {
                let [u, v, rz, w, rx, ry] = at(*x, *y);
                [u, v, w, rx, ry, rz]
            })
            .collect();
        let mut force = SVector::<f64, 6>::zeros();
        for (i, nodes) in plate.triangles.iter().enumerate() {
            let u = SVector::<f64, 18>::from_iterator(nodes.iter().flat_map(|n| all[6 * n..6 * n + 6].to_vec()));
            force += (plate.stiffness(i) * u).fixed_rows::<6>(12);
        }
        (force, (0..4).map(|i| plate.forces(i, [0.2, 0.5, 0.3], &all)).collect())
    }

    /// Patch test: constant strains in the plane and constant curvatures are exact on crooked triangles.
    #[test]
    fn constant_strain_and_curvature_pass_the_patch_test() {
        let (ex, ey, g, turn) = (1e-3, -2e-3, 3e-3, 4e-3);
        let (kx, ky, kxy) = (2e-5, -1e-5, 3e-5);
        let (force, found) = patch(|x, y| {
            let (u, v) = (ex * x + (g / 2.0 - turn) * y, ey * y + (g / 2.0 + turn) * x);
            let w = 0.5 * kx * x * x + 0.5 * ky * y * y + kxy * x * y;
            [u, v, turn, w, ky * y + kxy * x, -(kx * x + kxy * y)]
        });
        let section = crooked().0.section;
        let n = section.elasticity() * Vector3::new(ex, ey, g) * 9.0;
        let m = section.elasticity() * Vector3::new(kx, ky, 2.0 * kxy) * (9.0_f64.powi(3) / 12.0);
        assert!(force.norm() < 1e-9 * (n.norm() * 50.0 + m.norm() * 50.0), "{force:?}");
        for forces in found {
            assert!((Vector3::from(forces.membrane) - n).norm() < 1e-10 * n.norm());
            assert!((Vector3::from(forces.moment) - m).norm() < 1e-10 * m.norm());
        }
    }
}

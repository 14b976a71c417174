//! Timoshenko beam elements: stiffness, consistent mass, consistent geometric stiffness.
//!
//! Shape functions: Friedman and Kosmatka, "An improved two-node Timoshenko beam finite element", Computers and
//! Structures 47 (1993) (from memory); they are the exact solution of the unloaded beam, so the tests against closed
//! forms check them. Mass and geometric stiffness are integrated from them here.

use std::f64::consts::PI;

use nalgebra::{SMatrix, SVector};

use super::ground::{Axes, FrameError};

/// Matrix of one element: ux uy uz rx ry rz at the first, then the second node.
pub(super) type Mat12 = SMatrix<f64, 12, 12>;
/// Displacements or forces of one element.
pub(super) type Vec12 = SVector<f64, 12>;

/// Section and material of a beam. Local x runs along the beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamSection {
    /// Area, mm2.
    pub area: f64,
    /// Second moment about local y (bending in the x-z plane), mm4.
    pub iy: f64,
    /// Second moment about local z (bending in the x-y plane), mm4.
    pub iz: f64,
    /// Torsion constant, mm4.
    pub torsion: f64,
    /// Shear area for forces along local y, mm2; infinite for no shear deformation.
    pub shear_y: f64,
    /// Shear area for forces along local z, mm2; infinite for no shear deformation.
    pub shear_z: f64,
    /// Modulus of elasticity, MPa.
    pub young: f64,
    /// Shear modulus, MPa.
    pub shear: f64,
    /// Density, t/mm3 (steel 7.85e-9).
    pub density: f64,
}

impl BeamSection {
    /// A round tube: outside diameter and wall, mm; moduli, MPa; density, t/mm3. Shear area 2 A / pi.
    #[must_use]
    pub fn tube(outside: f64, wall: f64, young: f64, shear: f64, density: f64) -> Self {
        let inside = outside - 2.0 * wall;
        let area = PI / 4.0 * (outside.powi(2) - inside.powi(2));
        let i = PI / 64.0 * (outside.powi(4) - inside.powi(4));
        let shear_area = 2.0 * area / PI;
        Self { area, iy: i, iz: i, torsion: 2.0 * i, shear_y: shear_area, shear_z: shear_area, young, shear, density }
    }

    pub(super) fn check(&self) -> Result<(), FrameError> {
        let finite = [self.area, self.iy, self.iz, self.torsion, self.young, self.shear];
        let good = finite.iter().all(|v| v.is_finite() && *v > 0.0)
            && self.shear_y > 0.0
            && self.shear_z > 0.0
            && self.density.is_finite()
            && self.density >= 0.0;
        if good { Ok(()) } else { Err(FrameError::BadValue { what: "beam section" }) }
    }
}

/// One element.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beam {
    pub(super) nodes: [usize; 2],
    pub(super) section: BeamSection,
    pub(super) axes: Axes,
    pub(super) length: f64,
}

/// One plane of bending: where its four quantities (deflection, slope, at both ends) stand among the twelve, and the
/// sign of the slope against the rotation.
struct Plane {
    at: [usize; 4],
    slope: f64,
    inertia: f64,
    shear_area: f64,
}

impl Beam {
    fn planes(&self) -> [Plane; 2] {
        let s = &self.section;
        [
            Plane { at: [1, 5, 7, 11], slope: 1.0, inertia: s.iz, shear_area: s.shear_y },
            Plane { at: [2, 4, 8, 10], slope: -1.0, inertia: s.iy, shear_area: s.shear_z },
        ]
    }

    /// Shear number 12 E I / (G As L2).
    fn phi(&self, plane: &Plane) -> f64 {
        12.0 * self.section.young * plane.inertia / (self.section.shear * plane.shear_area * self.length.powi(2))
    }

    /// Stiffness in local axes.
    pub(super) fn stiffness(&self) -> Mat12 {
        let (s, l) = (&self.section, self.length);
        let mut k = Mat12::zeros();
        pair(&mut k, 0, s.young * s.area / l, -1.0);
        pair(&mut k, 3, s.shear * s.torsion / l, -1.0);
        for plane in self.planes() {
            let phi = self.phi(&plane);
            let c = s.young * plane.inertia / (l.powi(3) * (1.0 + phi));
            let (near, far) = ((4.0 + phi) * l * l, (2.0 - phi) * l * l);
            let m = SMatrix::<f64, 4, 4>::new(
                12.0,
                6.0 * l,
                -12.0,
                6.0 * l,
                6.0 * l,
                near,
                -6.0 * l,
                far,
                -12.0,
                -6.0 * l,
                12.0,
                -6.0 * l,
                6.0 * l,
                far,
                -6.0 * l,
                near,
            );
            put(&mut k, &plane, &(m * c));
        }
        k
    }

    /// Consistent mass with rotary inertia, in local axes.
    pub(super) fn mass(&self) -> Mat12 {
        let (s, l) = (&self.section, self.length);
        let mut m = Mat12::zeros();
        pair(&mut m, 0, s.density * s.area * l / 3.0, 0.5);
        pair(&mut m, 3, s.density * (s.iy + s.iz) * l / 3.0, 0.5);
        for plane in self.planes() {
            let phi = self.phi(&plane);
            let sum = self.integrate(|xi| {
                let (w, turn) = (deflection(xi, phi, l), rotation(xi, phi, l));
                w * w.transpose() * (s.density * s.area) + turn * turn.transpose() * (s.density * plane.inertia)
            });
            put(&mut m, &plane, &sum);
        }
        m
    }

    /// Consistent geometric stiffness for the axial force `tension` (N, compression negative), in local axes: work of
    /// the force on half the squared slope, and on the helix of the twisted fibres.
    pub(super) fn geometric(&self, tension: f64) -> Mat12 {
        let (s, l) = (&self.section, self.length);
        let mut g = Mat12::zeros();
        pair(&mut g, 3, tension * (s.iy + s.iz) / (s.area * l), -1.0);
        for plane in self.planes() {
            let phi = self.phi(&plane);
            let sum = self.integrate(|xi| {
                let slope = slope(xi, phi, l);
                slope * slope.transpose() * tension
            });
            put(&mut g, &plane, &sum);
        }
        g
    }

    /// Integral over the length by four Gauss points: exact to the seventh power, the integrands reach the sixth.
    fn integrate(&self, f: impl Fn(f64) -> SMatrix<f64, 4, 4>) -> SMatrix<f64, 4, 4> {
        let inner = (3.0 / 7.0 - 2.0 / 7.0 * 1.2_f64.sqrt()).sqrt();
        let outer = (3.0 / 7.0 + 2.0 / 7.0 * 1.2_f64.sqrt()).sqrt();
        let (wi, wo) = ((18.0 + 30.0_f64.sqrt()) / 72.0, (18.0 - 30.0_f64.sqrt()) / 72.0);
        [(-outer, wo), (-inner, wi), (inner, wi), (outer, wo)]
            .iter()
            .map(|(t, w)| f((1.0 + t) / 2.0) * (w * self.length))
            .sum()
    }

    /// A local matrix in global axes.
    pub(super) fn in_global(&self, local: &Mat12) -> Mat12 {
        let r = self.turn();
        r.transpose() * local * r
    }

    /// Global to local.
    pub(super) fn turn(&self) -> Mat12 {
        let mut r = Mat12::zeros();
        for block in 0..4 {
            r.fixed_view_mut::<3, 3>(3 * block, 3 * block).copy_from(&self.axes.0);
        }
        r
    }
}

/// Adds value * [1, off; off, 1] to one quantity at both ends.
fn pair(m: &mut Mat12, at: usize, value: f64, off: f64) {
    m[(at, at)] += value;
    m[(at + 6, at + 6)] += value;
    m[(at, at + 6)] += value * off;
    m[(at + 6, at)] += value * off;
}

/// Places the 4 x 4 matrix of a plane of bending among the twelve quantities.
fn put(m: &mut Mat12, plane: &Plane, small: &SMatrix<f64, 4, 4>) {
    let sign = |i: usize| if i % 2 == 1 { plane.slope } else { 1.0 };
    for i in 0..4 {
        for j in 0..4 {
            m[(plane.at[i], plane.at[j])] += small[(i, j)] * sign(i) * sign(j);
        }
    }
}

/// Deflection at xi = x / L from deflection and rotation at both ends.
fn deflection(xi: f64, phi: f64, l: f64) -> SVector<f64, 4> {
    let (x2, x3) = (xi * xi, xi * xi * xi);
    let w3 = -2.0 * x3 + 3.0 * x2 + phi * xi;
    SVector::<f64, 4>::new(
        1.0 + phi - w3,
        l * (x3 - (2.0 + phi / 2.0) * x2 + (1.0 + phi / 2.0) * xi),
        w3,
        l * (x3 - (1.0 - phi / 2.0) * x2 - phi / 2.0 * xi),
    ) / (1.0 + phi)
}

/// Slope of the deflection.
fn slope(xi: f64, phi: f64, l: f64) -> SVector<f64, 4> {
    let x2 = xi * xi;
    let w3 = (-6.0 * x2 + 6.0 * xi + phi) / l;
    SVector::<f64, 4>::new(
        -w3,
        3.0 * x2 - (4.0 + phi) * xi + 1.0 + phi / 2.0,
        w3,
        3.0 * x2 - (2.0 - phi) * xi - phi / 2.0,
    ) / (1.0 + phi)
}

/// Rotation of the section: the slope less the shear strain.
fn rotation(xi: f64, phi: f64, l: f64) -> SVector<f64, 4> {
    let x2 = xi * xi;
    let r = 6.0 * (x2 - xi) / l;
    SVector::<f64, 4>::new(r, 3.0 * x2 - (4.0 + phi) * xi + 1.0 + phi, -r, 3.0 * x2 - (2.0 - phi) * xi) / (1.0 + phi)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Beam {
        let section = BeamSection {
            area: 150.0,
            iy: 9000.0,
            iz: 5000.0,
            torsion: 4000.0,
            shear_y: 70.0,
            shear_z: 90.0,
            young: 70_000.0,
            shear: 27_000.0,
            density: 2.7e-9,
        };
        Beam { nodes: [0, 1], section, axes: Axes::global(), length: 120.0 }
    }

    /// The six rigid-body movements of a bar along x from the origin, length `l`.
    fn rigid(l: f64) -> [Vec12; 6] {
        std::array::from_fn(|d| {
            let mut u = Vec12::zeros();
            u[d] = 1.0;
            u[d + 6] = 1.0;
            match d {
                4 => u[8] = -l,
                5 => u[7] = l,
                _ => {}
            }
            u
        })
    }

    /// Statics: rigid-body movements cost nothing; rotary and translational mass are those of a bar (rho A L,
    /// rho A L3 / 3 + rho I L about its end).
    #[test]
    fn rigid_body_movement_has_no_strain_and_full_mass() {
        let beam = sample();
        let (k, m, s, l) = (beam.stiffness(), beam.mass(), beam.section, beam.length);
        let r = rigid(l);
        for u in &r {
            assert!((k * u).norm() < 1e-9 * k.norm());
        }
        let kinetic = |d: usize| (r[d].transpose() * m * r[d])[0];
        let bar = s.density * s.area * l;
        let want = [
            bar,
            bar,
            bar,
            s.density * (s.iy + s.iz) * l,
            bar * l * l / 3.0 + s.density * s.iy * l,
            bar * l * l / 3.0 + s.density * s.iz * l,
        ];
        for (d, want) in want.iter().enumerate() {
            assert!((kinetic(d) / want - 1.0).abs() < 1e-12, "direction {d}");
        }
    }

    /// Statics: a rigid rotation about z under tension N stretches by half the squared slope: energy N L / 2 * 2.
    #[test]
    fn geometric_stiffness_of_a_rigid_turn() {
        let beam = sample();
        let r = rigid(beam.length);
        let energy = (r[5].transpose() * beam.geometric(10.0) * r[5])[0];
        assert!((energy / (10.0 * beam.length) - 1.0).abs() < 1e-12);
    }
}

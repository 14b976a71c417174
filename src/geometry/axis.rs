//! Directed lines and placements.

use std::f64::consts::FRAC_PI_2;

use nalgebra::{Isometry3, Point3, Rotation3, Translation3, Unit, UnitQuaternion, Vector3};

/// A directed line: a point (mm) and a unit direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Where distances along the axis are zero.
    pub point: Point3<f64>,
    /// Where distances along the axis grow.
    pub dir: Unit<Vector3<f64>>,
}

impl Axis {
    /// Through a point; `dir` need not have unit length.
    #[must_use]
    pub fn new(point: [f64; 3], dir: [f64; 3]) -> Self {
        Self { point: point.into(), dir: Unit::new_normalize(dir.into()) }
    }

    /// Upright through (x, y), zero at z = 0.
    #[must_use]
    pub fn upright(x: f64, y: f64) -> Self {
        Self::new([x, y, 0.0], [0.0, 0.0, 1.0])
    }

    /// The point at a distance along the axis, mm.
    #[must_use]
    pub fn at(&self, along: f64) -> Point3<f64> {
        self.point + self.dir.into_inner() * along
    }

    /// Two unit vectors across the axis, right-handed with it; the first lies nearest to +x (or +y for an axis along x).
    #[must_use]
    pub fn across(&self) -> [Vector3<f64>; 2] {
        let hint = if self.dir.x.abs() < 0.9 { Vector3::x() } else { Vector3::y() };
        self.across_towards(hint)
    }

    /// The same, the first nearest to `hint`.
    #[must_use]
    pub fn across_towards(&self, hint: Vector3<f64>) -> [Vector3<f64>; 2] {
        let u = (hint - self.dir.into_inner() * self.dir.dot(&hint)).normalize();
        [u, self.dir.cross(&u)]
    }

    /// Places outline x, y across the axis (x nearest to `hint`) and outline z along it.
    #[must_use]
    pub fn frame(&self, hint: Vector3<f64>) -> Isometry3<f64> {
        let [u, v] = self.across_towards(hint);
        let turn = Rotation3::from_basis_unchecked(&[u, v, self.dir.into_inner()]);
        Isometry3::from_parts(Translation3::from(self.point), UnitQuaternion::from_rotation_matrix(&turn))
    }

    /// The point moved along the axis' direction to a height z, mm.
    #[must_use]
    pub fn slide_to(&self, p: Point3<f64>, z: f64) -> Point3<f64> {
        let mut q = p - self.dir.into_inner() * ((p.z - z) / self.dir.z);
        q.z = z;
        q
    }
}

/// Places an outline upright: its x along the horizontal heading (radians from +x), its y along +z, at a point (mm).
#[must_use]
pub fn upright_plane(origin: [f64; 3], heading: f64) -> Isometry3<f64> {
    let turn = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), heading)
        * UnitQuaternion::from_axis_angle(&Vector3::x_axis(), FRAC_PI_2);
    Isometry3::from_parts(Translation3::new(origin[0], origin[1], origin[2]), turn)
}

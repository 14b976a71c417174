//! Triangle meshes.

use std::collections::BTreeMap;

use nalgebra::{Isometry3, Point3, Vector3};

/// A surface of triangles, counter-clockwise seen from outside. Lengths mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners.
    pub points: Vec<[f64; 3]>,
    /// Indices into `points`, three per triangle.
    pub triangles: Vec<[u32; 3]>,
}

/// An axis-parallel box, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aabb {
    /// Lowest coordinates.
    pub min: [f64; 3],
    /// Highest coordinates.
    pub max: [f64; 3],
}

impl Aabb {
    /// The box that holds nothing.
    pub const EMPTY: Self = Self { min: [f64::INFINITY; 3], max: [f64::NEG_INFINITY; 3] };

    /// The smallest box round all points; `EMPTY` without points.
    #[must_use]
    pub fn around<'a>(points: impl IntoIterator<Item = &'a [f64; 3]>) -> Self {
        points.into_iter().fold(Self::EMPTY, |b, p| b.including(p))
    }

    /// This box grown to hold the point.
    #[must_use]
    pub fn including(self, p: &[f64; 3]) -> Self {
        Self {
            min: std::array::from_fn(|k| self.min[k].min(p[k])),
            max: std::array::from_fn(|k| self.max[k].max(p[k])),
        }
    }

    /// Whether the boxes come nearer than `gap` mm to each other along all three axes.
    #[must_use]
    pub fn meets(&self, other: &Self, gap: f64) -> bool {
        (0..3).all(|k| self.min[k] <= other.max[k] + gap && other.min[k] <= self.max[k] + gap)
    }

    /// Edge lengths, mm.
    #[must_use]
    pub fn size(&self) -> [f64; 3] {
        std::array::from_fn(|k| self.max[k] - self.min[k])
    }
}

impl Mesh {
    /// Corner `i` as a point.
    #[must_use]
    pub fn point(&self, i: u32) -> Point3<f64> {
        Point3::from(self.points[i as usize])
    }

    /// The three corners of a triangle.
    #[must_use]
    pub fn corners(&self, triangle: &[u32; 3]) -> [Point3<f64>; 3] {
        triangle.map(|i| self.point(i))
    }

    /// Signed volume by the divergence theorem, mm3; positive when triangles face outwards.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let origin = Point3::from(self.points.first().copied().unwrap_or_default());
        let sixfold = |t| {
            let [a, b, c] = self.corners(t).map(|p| p - origin);
            a.dot(&b.cross(&c))
        };
        self.triangles.iter().map(|t| sixfold(t) / 6.0).sum()
    }

    /// Area of the surface, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.triangles.iter().map(|t| doubled_area_vector(&self.corners(t)).norm() / 2.0).sum()
    }

    /// The box round all points.
    #[must_use]
    pub fn aabb(&self) -> Aabb {
        Aabb::around(&self.points)
    }

    /// The mesh moved and turned.
    #[must_use]
    pub fn transformed(&self, placement: &Isometry3<f64>) -> Self {
        let points = self.points.iter().map(|p| (placement * Point3::from(*p)).into()).collect();
        Self { points, triangles: self.triangles.clone() }
    }

    /// Puts another mesh beside this one, without joining them.
    pub fn append(&mut self, other: &Self) {
        let shift = self.points.len() as u32;
        self.points.extend_from_slice(&other.points);
        self.triangles.extend(other.triangles.iter().map(|t| t.map(|i| i + shift)));
    }

    /// Equal points become one; triangles that lose a corner by it are dropped. Keeps the order of first use.
    #[must_use]
    pub fn welded(&self) -> Self {
        self.welded_with(&vec![(); self.triangles.len()]).0
    }

    /// The same for a mesh with something known about each triangle.
    pub(super) fn welded_with<T: Copy>(&self, about: &[T]) -> (Self, Vec<T>) {
        let mut seen = BTreeMap::new();
        let mut points = Vec::new();
        let mut index = |i: u32| {
            // Adding zero makes -0.0 and 0.0 the same bits.
            let p = self.points[i as usize].map(|x| x + 0.0);
            *seen.entry(p.map(f64::to_bits)).or_insert_with(|| {
                points.push(p);
                points.len() as u32 - 1
            })
        };
        let kept = self.triangles.iter().zip(about).map(|(t, x)| (t.map(&mut index), *x));
        let (triangles, about) = kept.filter(|(t, _)| has_three_corners(t)).unzip();
        (Self { points, triangles }, about)
    }

    pub(super) fn rounded_with<T: Copy>(&self, about: &[T]) -> (Self, Vec<T>) {
        let points = self.points.iter().map(|p| p.map(|x| f64::from(x as f32))).collect();
        Self { points, triangles: self.triangles.clone() }.welded_with(about)
    }

    /// Without the points that no triangle uses; the order stays.
    pub(super) fn without_unused(&self) -> Self {
        let mut place = vec![u32::MAX; self.points.len()];
        self.triangles.iter().flatten().for_each(|&i| place[i as usize] = 0);
        let used: Vec<usize> = (0..self.points.len()).filter(|&i| place[i] == 0).collect();
        let points = used.iter().map(|&i| self.points[i]).collect();
        used.iter().enumerate().for_each(|(new, &old)| place[old] = new as u32);
        Self { points, triangles: self.triangles.iter().map(|t| t.map(|i| place[i as usize])).collect() }
    }
}

/// Normal of a triangle with the length of twice its area, mm2.
#[must_use]
pub fn doubled_area_vector([a, b, c]: &[Point3<f64>; 3]) -> Vector3<f64> {
    (b - a).cross(&(c - a))
}

fn has_three_corners(t: &[u32; 3]) -> bool {
    t[0] != t[1] && t[1] != t[2] && t[2] != t[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn wedge() -> Mesh {
        let points = vec![[1.0, 1.0, 1.0], [4.0, 1.0, 1.0], [1.0, 3.0, 1.0], [1.0, 1.0, 6.0]];
        Mesh { points, triangles: vec![[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]] }
    }

    #[test]
    fn a_tetrahedron_has_a_sixth_of_its_box() {
        let m = wedge();
        assert_relative_eq!(m.volume(), 3.0 * 2.0 * 5.0 / 6.0, epsilon = 1e-12);
        assert_eq!(m.aabb().size(), [3.0, 2.0, 5.0]);
    }

    #[test]
    fn moving_keeps_volume_and_moves_every_corner() {
        let at = Isometry3::new(Vector3::new(10.0, -4.0, 2.0), Vector3::new(0.3, 0.5, -0.2));
        let m = wedge().transformed(&at);
        assert_relative_eq!(m.volume(), 5.0, epsilon = 1e-9);
        let far = |(p, q): (&[f64; 3], &[f64; 3])| (Point3::from(*p) - at * Point3::from(*q)).norm();
        assert!(m.points.iter().zip(&wedge().points).map(far).all(|d| d < 1e-9));
    }

    #[test]
    fn welding_drops_what_rounding_flattens() {
        let mut m = wedge();
        m.points.push([4.0 + 1e-9, 1.0, 1.0]);
        m.triangles.push([1, 4, 2]);
        assert_eq!(m.welded().triangles.len(), 5);
        let r = m.rounded_with(&[(); 5]).0;
        assert_eq!((r.points.len(), r.triangles.len()), (4, 4));
    }
}

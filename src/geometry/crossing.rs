//! Triangles of one mesh that cross, overlap or touch where they should not.

use nalgebra::{Point3, Vector3};

use super::mesh::{Aabb, Mesh, doubled_area_vector};

/// Nearer than this, mm, is touching: a tenth of the spacing of single-precision numbers at 1 mm, and
/// far above the rounding of the distances computed here (1e-13 mm).
const TOUCH: f64 = 1e-8;

/// Pairs of triangles that meet anywhere but in common corners and edges.
pub(super) fn pairs(mesh: &Mesh) -> Vec<(usize, usize)> {
    let faces: Vec<Face> = mesh.triangles.iter().map(|t| Face::of(mesh, t)).collect();
    let size = mesh.aabb().size();
    let k = (0..3).max_by(|&a, &b| size[a].total_cmp(&size[b])).unwrap_or(0);
    let mut order: Vec<usize> = (0..faces.len()).collect();
    order.sort_by(|&a, &b| faces[a].aabb.min[k].total_cmp(&faces[b].aabb.min[k]));
    // Boxes side by side in sweeping order: the sweep looks at far more boxes than faces.
    let boxes: Vec<Aabb> = order.iter().map(|&i| faces[i].aabb).collect();
    let mut out = Vec::new();
    for (n, here) in boxes.iter().enumerate() {
        let reach = here.max[k] + TOUCH;
        for (m, there) in boxes.iter().enumerate().skip(n + 1).take_while(|(_, there)| there.min[k] <= reach) {
            if here.meets(there, TOUCH) && faces[order[n]].meets(&faces[order[m]]) {
                out.push((order[n], order[m]));
            }
        }
    }
    out
}

struct Face {
    ids: [u32; 3],
    at: [Point3<f64>; 3],
    /// Unit normal; zero for a triangle without area.
    normal: Vector3<f64>,
    aabb: Aabb,
}

impl Face {
    fn of(mesh: &Mesh, ids: &[u32; 3]) -> Self {
        let at = mesh.corners(ids);
        let normal = doubled_area_vector(&at).try_normalize(0.0).unwrap_or_default();
        Self { ids: *ids, at, normal, aabb: Aabb::around(&at.map(|p| [p.x, p.y, p.z])) }
    }

    fn meets(&self, other: &Self) -> bool {
        match self.ids.iter().filter(|i| other.ids.contains(i)).count() {
            0 | 1 => !self.parted_from(other) && !other.parted_from(self) && self.touches(other),
            2 => self.folds_on(other),
            _ => true,
        }
    }

    /// Whether this face's plane, or a plane upright on one of its edges, keeps the other away but for a common corner.
    fn parted_from(&self, other: &Self) -> bool {
        let free = |i: &usize| !self.ids.contains(&other.ids[*i]);
        let all = |measure: &dyn Fn(&Point3<f64>) -> f64| (0..3).filter(free).all(|i| measure(&other.at[i]) > TOUCH);
        let upright = |k: usize| {
            let (a, b) = (self.at[k], self.at[(k + 1) % 3]);
            let away = (b - a).cross(&self.normal);
            // A common corner must lie on this edge, not across from it.
            !other.ids.contains(&self.ids[(k + 2) % 3]) && all(&|p| (p - a).dot(&away) / away.norm())
        };
        all(&|p| self.height(p)) || all(&|p| -self.height(p)) || (0..3).any(upright)
    }

    fn height(&self, p: &Point3<f64>) -> f64 {
        (p - self.at[0]).dot(&self.normal)
    }

    /// Both have one edge in common: whether they lie on top of each other.
    fn folds_on(&self, other: &Self) -> bool {
        let Some(k) = (0..3).find(|&k| !other.ids.contains(&self.ids[k])) else { return true };
        let Some(apex) = (0..3).find(|&j| !self.ids.contains(&other.ids[j])) else { return true };
        let (a, b, tip) = (self.at[(k + 1) % 3], self.at[(k + 2) % 3], other.at[apex]);
        let inward = self.normal.cross(&(b - a)).normalize();
        self.height(&tip).abs() < TOUCH && (tip - a).dot(&inward) > TOUCH
    }

    fn touches(&self, other: &Self) -> bool {
        self.pierced_by(other) || other.pierced_by(self) || self.edges_touch(other)
    }

    /// Whether an edge of the other goes through this face, or a corner of it lies on this face.
    fn pierced_by(&self, other: &Self) -> bool {
        let free = |i: usize| !self.ids.contains(&other.ids[i]);
        (0..3).any(|i| {
            let (p, q) = (other.at[i], other.at[(i + 1) % 3]);
            let (d, e) = (self.height(&p), self.height(&q));
            let lies = free(i) && d.abs() <= TOUCH && self.holds(&p);
            let through = d.min(e) < -TOUCH && d.max(e) > TOUCH;
            lies || through && free(i) && free((i + 1) % 3) && self.holds(&(p + (q - p) * (d / (d - e))))
        })
    }

    /// Whether a point of the plane lies inside all three edges.
    fn holds(&self, p: &Point3<f64>) -> bool {
        (0..3).all(|k| {
            let (a, b) = (self.at[k], self.at[(k + 1) % 3]);
            (p - a).dot(&self.normal.cross(&(b - a))) > TOUCH * (b - a).norm()
        })
    }

    fn edges_touch(&self, other: &Self) -> bool {
        let edge = |f: &Self, k: usize| ([f.ids[k], f.ids[(k + 1) % 3]], [f.at[k], f.at[(k + 1) % 3]]);
        (0..3).any(|i| {
            let (ids, e) = edge(self, i);
            (0..3)
                .map(|j| edge(other, j))
                .any(|(more, f)| !more.iter().any(|x| ids.contains(x)) && segments_touch(e, f))
        })
    }
}

/// Whether two segments come within `TOUCH`.
fn segments_touch([p, q]: [Point3<f64>; 2], [r, s]: [Point3<f64>; 2]) -> bool {
    let (u, v) = (q - p, s - r);
    let n = u.cross(&v);
    let sine = n.norm_squared();
    if sine > 1e-24 * u.norm_squared() * v.norm_squared() {
        let w = r - p;
        let (a, b) = (w.cross(&v).dot(&n) / sine, w.cross(&u).dot(&n) / sine);
        if (0.0..=1.0).contains(&a) && (0.0..=1.0).contains(&b) {
            return (w.dot(&n)).powi(2) <= TOUCH * TOUCH * sine;
        }
    }
    on_segment(&p, &r, &s) || on_segment(&q, &r, &s) || on_segment(&r, &p, &q) || on_segment(&s, &p, &q)
}

fn on_segment(p: &Point3<f64>, a: &Point3<f64>, b: &Point3<f64>) -> bool {
    let d = b - a;
    let t = ((p - a).dot(&d) / d.norm_squared()).clamp(0.0, 1.0);
    (a + d * t - p).norm_squared() <= TOUCH * TOUCH
}

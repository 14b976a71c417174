//! A boss and its gussets: dimensions, and the sections they are drawn from.

use nalgebra::{Isometry3, Point3, Vector3};

use super::axis::{Axis, upright_plane};
use super::outline::Outline;
use super::shape::Post;

/// A cylinder about a leaning axis, its lower end cut by a horizontal plane, its upper end square.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boss {
    /// The point lies on the plate's surface (or anywhere on the axis); the direction has z > 0.
    pub axis: Axis,
    /// Outer radius, mm.
    pub radius: f64,
    /// z of the plate's surface, mm.
    pub root: f64,
    /// How deep the boss reaches into the plate, mm; above zero so that they join.
    pub embed: f64,
    /// Where the square upper end is, mm along the axis.
    pub top: f64,
    /// How far a conical skirt widens the root, mm; 0 for none. It rises just as far above the highest side of the root.
    pub flare: f64,
}

impl Boss {
    /// The boss in its axis' own frame.
    pub(super) fn post(&self) -> Post {
        let frame = self.axis.frame(self.axis.across()[0]);
        let heights = [self.root, self.root - self.embed].map(|z| z - self.axis.point.z);
        let up = frame.inverse_transform_vector(&Vector3::z());
        Post { radius: self.radius, flare: self.flare, skirt: skirt_top(self), top: self.top, up, heights }
    }
}

/// A triangular web between a boss and its plate; it runs out along the plate and its inner edge follows the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gusset {
    /// The boss's axis; its point lies on the plate's surface.
    pub axis: Axis,
    /// Which way it runs, radians about the axis from its first across vector.
    pub toward: f64,
    /// The boss's outer radius, mm.
    pub radius: f64,
    /// Where the inner edge is, mm from the axis: inside the boss's wall, outside its bore.
    pub inner: f64,
    /// How far it runs out from the boss, mm.
    pub run: f64,
    /// How high it climbs, mm along the axis.
    pub rise: f64,
    /// Height of the blunt toe, mm along the axis; 0 for an eased (sharp) toe.
    pub toe: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// How deep it reaches into the plate, mm.
    pub embed: f64,
}

/// A wall from the middle of one boss to the middle of another; it leans with them in its own plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Web {
    /// Axes of the two bosses; their points lie on the plate's surface, they lean alike.
    pub between: [Axis; 2],
    /// Height above the plate, mm.
    pub height: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// How deep it reaches into the plate, mm.
    pub embed: f64,
}

impl Web {
    /// Its middle section and where that stands.
    pub(super) fn section(&self) -> (Outline, Isometry3<f64>) {
        let [a, b] = self.between;
        let v = b.point - a.point;
        let (length, heading) = (v.x.hypot(v.y), v.y.atan2(v.x));
        let lean = (a.dir.x * v.x + a.dir.y * v.y) / a.dir.z / length * self.height;
        let (low, high) = (-self.embed, self.height);
        let outline = Outline::polygon(vec![[0.0, low], [length, low], [length + lean, high], [lean, high]]);
        (outline, upright_plane(a.point.into(), heading))
    }
}

/// Where a skirt meets the boss, mm along the axis: its flare above the highest point of the root ring.
pub(super) fn skirt_top(b: &Boss) -> f64 {
    let lean = (1.0 - b.axis.dir.z.powi(2)).max(0.0).sqrt() / b.axis.dir.z;
    (b.root - b.axis.point.z) / b.axis.dir.z + b.flare + (b.radius + b.flare) * lean
}

/// Corners of the gusset's middle section, from the toe up and back down the inner edge.
pub(super) fn gusset_section(g: &Gusset, out: Vector3<f64>) -> impl Iterator<Item = Point3<f64>> {
    let a = g.axis.dir.into_inner();
    let root = |r: f64| g.axis.slide_to(g.axis.point + out * r, g.axis.point.z);
    let (foot, shoulder) = (root(g.radius + g.run) + a * g.toe, g.axis.point + out * g.radius + a * g.rise);
    let slope = (shoulder - foot) / g.run;
    let below = a * (g.embed / a.z);
    let inner = shoulder + slope * (g.radius - g.inner);
    let base = root(g.inner) - below;
    let toe =
        if g.toe > 0.0 { vec![root(g.radius + g.run) - below, foot] } else { vec![foot - slope * (g.embed / slope.z)] };
    [base].into_iter().chain(toe).chain([inner])
}

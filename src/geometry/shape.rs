//! What a feature is, exactly: a function of a point with a slope of at most 1 that is negative within.

use nalgebra::{Isometry3, Point3, Vector3};

use super::curve::{self, Curve};
use super::mesh::Mesh;

/// A shape in its own frame. Lengths mm.
#[derive(Clone, Debug)]
pub(super) enum Shape {
    /// A section in the x, y plane drawn out between two heights.
    Prism {
        /// The section.
        section: Curve,
        /// Lower and upper end.
        z: [f64; 2],
    },
    /// A profile of (z, radius) pairs turned about the z axis, or about a slot's middle line along x.
    Turned {
        /// The profile, z not falling.
        profile: Vec<[f64; 2]>,
        /// Half the distance between the slot's two centres.
        slot: f64,
    },
    /// A cylinder about the z axis with a slanted lower end and perhaps a skirt.
    Post(Post),
    /// What lies behind all planes: outward normals and distances from the origin.
    Convex(Vec<(Vector3<f64>, f64)>),
}

/// A boss in its axis' frame.
#[derive(Clone, Debug)]
pub(super) struct Post {
    /// Radius of the cylinder.
    pub radius: f64,
    /// By how much the skirt is wider at the root.
    pub flare: f64,
    /// Where the skirt meets the cylinder, along the axis.
    pub skirt: f64,
    /// Where the square end is, along the axis.
    pub top: f64,
    /// Upward unit normal of the plate's surface.
    pub up: Vector3<f64>,
    /// Height of the plate's surface and of the lower end over the frame's origin, along `up`.
    pub heights: [f64; 2],
}

/// A shape where it stands.
#[derive(Clone, Debug)]
pub(super) struct Body {
    /// What it is.
    pub shape: Shape,
    /// Its own frame in the part's.
    pub at: Isometry3<f64>,
}

impl Body {
    /// Distance from the surface, mm, or less; negative within.
    pub(super) fn inside(&self, p: &Point3<f64>) -> f64 {
        let p = self.at.inverse_transform_point(p);
        match &self.shape {
            Shape::Prism { section, z } => section.distance([p.x, p.y]).max(z[0] - p.z).max(p.z - z[1]),
            Shape::Turned { profile, slot } => {
                let past = (p.x.abs() - slot).max(0.0);
                curve::profile(profile, [p.z, past.hypot(p.y)])
            }
            Shape::Post(post) => post.inside(&p),
            Shape::Convex(planes) => planes.iter().map(|(n, d)| n.dot(&p.coords) - d).fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

impl Post {
    fn inside(&self, p: &Point3<f64>) -> f64 {
        let across = p.x.hypot(p.y);
        let wall = if self.flare > 0.0 { self.skirted(p, across) } else { across - self.radius };
        wall.max(self.heights[1] - self.up.dot(&p.coords)).max(p.z - self.top)
    }

    /// The skirt's radius falls evenly along the axis from the root's slanted ring to the wall. Its slope is at most 1 along
    /// the axis and, past half the radius, at most twice the lean about it; the bound is divided by both.
    fn skirted(&self, p: &Point3<f64>, across: f64) -> f64 {
        let foot = self.radius + self.flare;
        let out = foot / across.max(self.radius / 2.0);
        let root = (self.heights[0] - (self.up.x * p.x + self.up.y * p.y) * out) / self.up.z;
        let risen = ((p.z - root) / (self.skirt - root)).clamp(0.0, 1.0);
        let lean = self.up.x.hypot(self.up.y) / self.up.z * foot / self.radius;
        let steepest = (2.0 + 4.0 * lean * lean).sqrt();
        (across - self.radius).min((across - foot + self.flare * risen) / steepest)
    }
}

/// The planes of a closed mesh's triangles: the mesh itself where it is convex.
pub(super) fn planes(mesh: &Mesh) -> Shape {
    let mut planes: Vec<(Vector3<f64>, f64)> = Vec::new();
    for t in &mesh.triangles {
        let corners = mesh.corners(t);
        let n = super::doubled_area_vector(&corners).normalize();
        let d = n.dot(&corners[0].coords);
        if n.iter().all(|x| x.is_finite()) && !planes.iter().any(|(m, e)| (m - n).norm() < SAME && (e - d).abs() < SAME)
        {
            planes.push((n, d));
        }
    }
    Shape::Convex(planes)
}

/// Normals and distances (mm) this near to each other are of one plane: far above rounding, far below any chord error.
const SAME: f64 = 1e-9;

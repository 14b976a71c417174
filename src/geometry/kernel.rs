//! The boolean kernel behind a border: bodies of numbered flat patches in, the same out.

use std::ops::{Add, Mul};

use boolmesh::prelude::{Manifold, OpType, compute_boolean};

use super::fault::Fault;
use super::feature::Feature;
use super::mesh::Mesh;

/// The flat patch a triangle lies in. The kernel blends what it knows about corners; all three corners
/// of a triangle know the same patch, so blending must keep it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Patch(u32);

impl Add for Patch {
    type Output = Self;
    fn add(self, _same: Self) -> Self {
        self
    }
}

impl Mul<f64> for Patch {
    type Output = Self;
    fn mul(self, _weight: f64) -> Self {
        self
    }
}

/// A closed surface, possibly of several pieces, whose triangles know their flat patch.
#[derive(Clone, Debug)]
pub(super) struct Body {
    mesh: Mesh,
    patches: Vec<u32>,
}

impl Body {
    /// Features that keep apart, as one body.
    pub(super) fn of(features: &[&Feature]) -> Result<Self, Fault> {
        let mut body = Self { mesh: Mesh::default(), patches: Vec::new() };
        for f in features {
            let first = body.next_patch();
            body.mesh.append(f.mesh());
            body.patches.extend(f.planes.iter().map(|p| p + first));
        }
        Ok(body)
    }

    /// The print mesh.
    pub(super) fn into_mesh(self) -> Result<Mesh, Fault> {
        Ok(self.mesh.rounded())
    }

    fn next_patch(&self) -> u32 {
        self.patches.iter().max().map_or(0, |p| p + 1)
    }

    fn manifold(&self, first_patch: u32) -> Result<Manifold<Patch>, Fault> {
        let points: Vec<f64> = self.mesh.points.iter().flatten().copied().collect();
        let corners: Vec<usize> = self.mesh.triangles.iter().flatten().map(|&i| i as usize).collect();
        let about: Vec<Patch> = self.patches.iter().flat_map(|&p| [Patch(p + first_patch); 3]).collect();
        Manifold::new_with_values(&points, &corners, &about).map_err(|e| fault("reading a feature", e))
    }

    fn read(m: &Manifold<Patch>) -> Self {
        let points = m.ps.iter().map(|p| [p.x, p.y, p.z]).collect();
        let triangles = m.hs.chunks(3).map(|h| [h[0].tail as u32, h[1].tail as u32, h[2].tail as u32]).collect();
        let patches = m.hs.chunks(3).map(|h| m.vals[h[0].prop].0).collect();
        Self { mesh: Mesh { points, triangles }, patches }
    }
}

fn fault(doing: &'static str, reason: String) -> Fault {
    Fault::Kernel { doing, reason }
}

fn boolean(a: &Body, b: &Body, op: OpType, doing: &'static str) -> Result<Body, Fault> {
    let (p, q) = (a.manifold(0)?, b.manifold(a.next_patch())?);
    compute_boolean(&p, &q, op).map(|m| Body::read(&m)).map_err(|e| fault(doing, e))
}

/// `a` and `b` together.
pub(super) fn join(a: &Body, b: &Body) -> Result<Body, Fault> {
    boolean(a, b, OpType::Add, "joining features")
}

/// `a` without `b`.
pub(super) fn subtract(a: &Body, b: &Body) -> Result<Body, Fault> {
    boolean(a, b, OpType::Subtract, "cutting features")
}

/// All bodies together; `None` of none.
pub(super) fn union(bodies: Vec<Body>) -> Result<Option<Body>, Fault> {
    let mut rest = bodies.into_iter();
    let Some(first) = rest.next() else { return Ok(None) };
    rest.try_fold(first, |all, b| join(&all, &b)).map(Some)
}

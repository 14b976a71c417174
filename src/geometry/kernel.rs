//! The boolean kernel behind a border: bodies of numbered flat patches in, the same out.

use std::ops::{Add, Mul};

use boolmesh::prelude::{Manifold, OpType, compute_boolean};

use super::facets;
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

/// Hands out patch numbers, so that every body of one solid has its own.
#[derive(Debug, Default)]
pub(super) struct Numbering(u32);

/// A closed surface, possibly of several pieces, whose triangles know their flat patch.
pub(super) struct Body(Manifold<Patch>);

impl Body {
    /// Features that keep apart, as one body.
    pub(super) fn of(features: &[&Feature], numbering: &mut Numbering) -> Result<Self, Fault> {
        let mut mesh = Mesh::default();
        let mut about = Vec::new();
        for f in features {
            mesh.append(f.mesh());
            about.extend(f.planes.iter().flat_map(|&p| [Patch(p + numbering.0); 3]));
            numbering.0 += f.planes.iter().max().map_or(0, |p| p + 1);
        }
        let points: Vec<f64> = mesh.points.into_iter().flatten().collect();
        let corners: Vec<usize> = mesh.triangles.iter().flatten().map(|&i| i as usize).collect();
        let read = Manifold::new_with_values(&points, &corners, &about);
        read.map(Self).map_err(|e| fault("reading a feature", e))
    }

    /// `self` and `other` together.
    pub(super) fn join(&self, other: &Self) -> Result<Self, Fault> {
        self.boolean(other, OpType::Add, "joining features")
    }

    /// `self` without `other`.
    pub(super) fn without(&self, other: &Self) -> Result<Self, Fault> {
        self.boolean(other, OpType::Subtract, "cutting features")
    }

    /// The print mesh.
    pub(super) fn mesh(&self) -> Result<Mesh, Fault> {
        let m = &self.0;
        let points = m.ps.iter().map(|p| [p.x, p.y, p.z]).collect();
        let triangles = m.hs.chunks(3).map(|h| [h[0].tail as u32, h[1].tail as u32, h[2].tail as u32]).collect();
        let patches: Vec<u32> = m.vals.chunks(3).map(|corners| corners[0].0).collect();
        let (mesh, patches) = Mesh { points, triangles }.rounded_with(&patches);
        facets::divide(&mesh, &patches)
    }

    fn boolean(&self, other: &Self, op: OpType, doing: &'static str) -> Result<Self, Fault> {
        compute_boolean(&self.0, &other.0, op).map(Self).map_err(|e| fault(doing, e))
    }
}

fn fault(doing: &'static str, reason: String) -> Fault {
    Fault::Kernel { doing, reason }
}

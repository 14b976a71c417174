//! The boolean kernel behind a border: bodies of numbered flat patches in, the same out.

use std::collections::BTreeMap;
use std::ops::{Add, Mul};

use boolmesh::prelude::{Manifold, OpType, compute_boolean};
use nalgebra::{Point3, Vector3};

use super::facets;
use super::fault::Fault;
use super::feature::Feature;
use super::mesh::{Mesh, doubled_area_vector};

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

/// Steps of a plane's normal and of its distance from the origin (mm) within which two faces lie in one plane: far above
/// the rounding of placed coordinates, and over 100 mm still below what single precision can tell.
const PLANE_STEPS: [f64; 2] = [1e-8, 1e-6];

/// Hands out patch numbers for one solid: faces of several bodies that lie in one plane share theirs, because after
/// joining them the kernel no longer keeps them apart.
#[derive(Debug, Default)]
pub(super) struct Numbering(BTreeMap<[i64; 4], u32>);

impl Numbering {
    /// The number of every triangle's patch.
    fn of(&mut self, f: &Feature) -> Vec<u32> {
        let patches = f.planes.iter().max().map_or(0, |p| *p as usize + 1);
        let mut largest = vec![(0.0, [0; 4]); patches];
        for (t, p) in f.mesh().triangles.iter().zip(&f.planes) {
            let corners = f.mesh().corners(t);
            let v = doubled_area_vector(&corners);
            let (area, known) = (v.norm(), &mut largest[*p as usize]);
            if area > known.0 {
                *known = (area, plane(&(v / area), &corners[0]));
            }
        }
        let numbers: Vec<u32> = largest.iter().map(|(_, plane)| self.number(*plane)).collect();
        f.planes.iter().map(|p| numbers[*p as usize]).collect()
    }

    fn number(&mut self, plane: [i64; 4]) -> u32 {
        let next = self.0.len() as u32;
        *self.0.entry(plane).or_insert(next)
    }
}

/// A plane in steps, the same from both sides.
fn plane(normal: &Vector3<f64>, point: &Point3<f64>) -> [i64; 4] {
    let normal = if normal[normal.iamax()] < 0.0 { -normal } else { *normal };
    let step = |v: f64, step: f64| (v / step).round() as i64;
    let [x, y, z] = [0, 1, 2].map(|k| step(normal[k], PLANE_STEPS[0]));
    [x, y, z, step(point.coords.dot(&normal), PLANE_STEPS[1])]
}

/// A closed surface, possibly of several pieces, whose triangles know their flat patch.
pub(super) struct Body(Manifold<Patch>);

impl Body {
    /// Features that keep apart, as one body.
    pub(super) fn of(features: &[&Feature], numbering: &mut Numbering) -> Result<Self, Fault> {
        let mut mesh = Mesh::default();
        let mut about = Vec::new();
        for f in features {
            mesh.append(f.mesh());
            about.extend(numbering.of(f).into_iter().flat_map(|p| [Patch(p); 3]));
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

//! A boundary representation of planes from a print mesh.

use std::collections::BTreeMap;

use truck_modeling::{Curve, EuclideanSpace, InnerSpace, Line, Plane, Point3, Surface, Vector3};
use truck_topology::compress::{CompressedEdge, CompressedEdgeIndex, CompressedFace, CompressedShell};

use super::{Brep, Kind};
use crate::geometry::facets::{self, Facet};
use crate::geometry::{Fault, Mesh};

/// A boundary representation whose faces are the flat faces of a closed mesh.
///
/// # Errors
/// A mesh that is not closed.
pub fn faceted(mesh: &Mesh) -> Result<Brep, Fault> {
    let facets = facets::facets(mesh, &facets::flat_patches(mesh)?)?;
    let mut out =
        Builder { mesh, points: BTreeMap::new(), lines: BTreeMap::new(), vertices: Vec::new(), edges: Vec::new() };
    let faces = facets.iter().map(|f| out.face(f)).collect();
    Ok(Brep::new(CompressedShell { vertices: out.vertices, edges: out.edges, faces }, Kind::Faceted))
}

struct Builder<'a> {
    mesh: &'a Mesh,
    points: BTreeMap<u32, usize>,
    lines: BTreeMap<(u32, u32), usize>,
    vertices: Vec<Point3>,
    edges: Vec<CompressedEdge<Curve>>,
}

impl Builder<'_> {
    fn point(&self, i: u32) -> Point3 {
        self.mesh.points[i as usize].into()
    }

    fn vertex(&mut self, i: u32) -> usize {
        let (p, vertices) = (self.point(i), &mut self.vertices);
        *self.points.entry(i).or_insert_with(|| {
            vertices.push(p);
            vertices.len() - 1
        })
    }

    fn edge(&mut self, a: u32, b: u32) -> CompressedEdgeIndex {
        let ends = (a.min(b), a.max(b));
        let known = self.lines.get(&ends).copied();
        let index = known.unwrap_or_else(|| {
            let vertices = (self.vertex(ends.0), self.vertex(ends.1));
            let curve = Curve::Line(Line(self.point(ends.0), self.point(ends.1)));
            self.edges.push(CompressedEdge { vertices, curve });
            self.lines.insert(ends, self.edges.len() - 1);
            self.edges.len() - 1
        });
        CompressedEdgeIndex { index, orientation: a < b }
    }

    fn face(&mut self, f: &Facet) -> CompressedFace<Surface> {
        let sides =
            |ring: &Vec<u32>| ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).collect::<Vec<_>>();
        let border = |(a, b): (u32, u32), this: &mut Self| this.edge(a, b);
        let boundaries =
            f.loops.iter().map(|ring| sides(ring).into_iter().map(|s| border(s, self)).collect()).collect();
        let normal = Vector3::new(f.normal.x, f.normal.y, f.normal.z);
        CompressedFace { boundaries, orientation: true, surface: plane(self.middle(f), normal).into() }
    }

    /// Mean of the outer corners: the plane then misses them as little as it can.
    fn middle(&self, f: &Facet) -> Point3 {
        let sum: Vector3 = f.loops[0].iter().map(|&i| self.point(i).to_vec()).sum();
        Point3::from_vec(sum / f.loops[0].len() as f64)
    }
}

fn plane(at: Point3, normal: Vector3) -> Plane {
    let hint = if normal.x.abs() < 0.9 { Vector3::unit_x() } else { Vector3::unit_y() };
    let x = (hint - normal * hint.dot(normal)).normalize();
    Plane::new(at, at + x, at + normal.cross(x))
}

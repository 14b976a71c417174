//! A spatial frame of beams, springs, rigid links and flat plates: what it consists of.
//!
//! Units throughout: N, mm, MPa, radians and tonnes (so that seconds and Hz come out right: 1 N = 1 t mm/s2).
//! Every node has six degrees of freedom in global axes, in the order ux uy uz rx ry rz; rotations and moments
//! follow the right-hand rule.

use std::sync::Arc;

use nalgebra::Vector3;

use super::beam::{Beam, BeamSection};
use super::grid::Mesh;
use super::ground::{Axes, BeamId, DOF, FrameError, NodeId, PlateId, SpringId};
use super::plate::{Plate, PlateSection};
use super::sparse::Orders;
use super::spring::{RIGID, Spring};

/// A straight member: several beam elements in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// Nodes from the first end to the second, one more than elements.
    pub nodes: Vec<NodeId>,
    /// Elements from the first end to the second.
    pub beams: Vec<BeamId>,
}

/// A lump of mass at a node: tonnes and tonnes mm2 about the node's global axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct PointMass {
    pub(super) node: usize,
    pub(super) mass: f64,
    pub(super) inertia: [f64; 3],
}

/// A frame under construction.
#[derive(Clone, Debug, Default)]
pub struct Frame {
    pub(super) nodes: Vec<Vector3<f64>>,
    pub(super) fixed: Vec<[bool; DOF]>,
    pub(super) beams: Vec<Beam>,
    pub(super) springs: Vec<Spring>,
    pub(super) plates: Vec<Plate>,
    pub(super) masses: Vec<PointMass>,
    pub(super) orders: Arc<Orders>,
}

impl Frame {
    /// An empty frame.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes orders of elimination from those that are known, and adds its own to them.
    pub fn share(&mut self, orders: Arc<Orders>) {
        self.orders = orders;
    }

    /// A node at `place`, mm.
    pub fn node(&mut self, place: [f64; 3]) -> NodeId {
        self.nodes.push(place.into());
        self.fixed.push([false; DOF]);
        NodeId(self.nodes.len() - 1)
    }

    /// Where a node is, mm.
    #[must_use]
    pub fn place(&self, node: NodeId) -> [f64; 3] {
        self.nodes[node.0].into()
    }

    /// Holds the degrees of freedom marked true, in addition to those already held.
    pub fn fix(&mut self, node: NodeId, held: [bool; 6]) {
        for (own, new) in self.fixed[node.0].iter_mut().zip(held) {
            *own |= new;
        }
    }

    /// One beam element from `a` to `b`. Local x runs from `a` to `b`, local z lies towards `up` (see [`Axes::along`]).
    ///
    /// # Errors
    /// When the ends coincide or a section value is not usable.
    pub fn beam(&mut self, a: NodeId, b: NodeId, section: BeamSection, up: [f64; 3]) -> Result<BeamId, FrameError> {
        section.check()?;
        let span = self.nodes[b.0] - self.nodes[a.0];
        let length = span.norm();
        if length <= 0.0 || !length.is_finite() {
            return Err(FrameError::ZeroLength { place: self.place(a) });
        }
        let axes = Axes::along(span.into(), up);
        self.beams.push(Beam { nodes: [a.0, b.0], section, axes, length });
        Ok(BeamId(self.beams.len() - 1))
    }

    /// A straight member from `a` to `b` of `parts` equal elements, so that its own buckling is seen.
    ///
    /// # Errors
    /// As [`Frame::beam`]; or when `parts` is zero.
    pub fn member(
        &mut self,
        a: NodeId,
        b: NodeId,
        section: BeamSection,
        up: [f64; 3],
        parts: usize,
    ) -> Result<Member, FrameError> {
        if parts == 0 {
            return Err(FrameError::BadValue { what: "number of elements" });
        }
        let (from, span) = (self.nodes[a.0], self.nodes[b.0] - self.nodes[a.0]);
        let mut nodes = vec![a];
        nodes.extend((1..parts).map(|i| self.node((from + span * (i as f64 / parts as f64)).into())));
        nodes.push(b);
        let beams = nodes.windows(2).map(|pair| self.beam(pair[0], pair[1], section, up)).collect::<Result<_, _>>()?;
        Ok(Member { nodes, beams })
    }

    /// A spring between `a` and `b` at the place of `b`: a rigid arm reaches there from `a`, so rigid-body movement
    /// costs nothing wherever the two are. `stiffness` is kx ky kz (N/mm) and krx kry krz (N mm/rad) in `axes`;
    /// [`RIGID`] ties that component exactly, zero leaves it loose.
    ///
    /// # Errors
    /// When a stiffness is negative or not a number.
    pub fn spring(&mut self, a: NodeId, b: NodeId, axes: Axes, stiffness: [f64; 6]) -> Result<SpringId, FrameError> {
        if stiffness.iter().any(|k| k.is_nan() || *k < 0.0) {
            return Err(FrameError::BadValue { what: "spring stiffness" });
        }
        Ok(self.join(a, b, axes, stiffness))
    }

    /// Ties `slave` to `master` in all six degrees of freedom, exactly (by elimination, not by a large stiffness).
    pub fn rigid_link(&mut self, master: NodeId, slave: NodeId) -> SpringId {
        self.join(master, slave, Axes::global(), [RIGID; 6])
    }

    fn join(&mut self, a: NodeId, b: NodeId, axes: Axes, stiffness: [f64; 6]) -> SpringId {
        let arm = self.nodes[b.0] - self.nodes[a.0];
        self.springs.push(Spring { nodes: [a.0, b.0], axes, arm, stiffness });
        SpringId(self.springs.len() - 1)
    }

    /// A plate over existing nodes. `triangles` lists corners; `axes` gives the plate's x, y (in which the grain
    /// angle and stress resultants are meant) and normal z. The middle plane lies `offset` mm from the nodes, along
    /// the normal.
    ///
    /// # Errors
    /// When a triangle has no area or leaves the plane of the first one, or a section value is not usable.
    pub fn plate(
        &mut self,
        triangles: &[[NodeId; 3]],
        section: PlateSection,
        axes: Axes,
        offset: f64,
    ) -> Result<PlateId, FrameError> {
        section.check()?;
        let plate = Plate::new(&self.nodes, triangles, section, axes, offset)?;
        self.plates.push(plate);
        Ok(PlateId(self.plates.len() - 1))
    }

    /// A level plate from a mesh: its nodes are made at height `z` in the mesh's order and given back.
    ///
    /// # Errors
    /// As [`Frame::plate`].
    pub fn level_plate(
        &mut self,
        mesh: &Mesh,
        z: f64,
        section: PlateSection,
        offset: f64,
    ) -> Result<(PlateId, Vec<NodeId>), FrameError> {
        let nodes: Vec<_> = mesh.points.iter().map(|[x, y]| self.node([*x, *y, z])).collect();
        let triangles: Vec<_> = mesh.triangles.iter().map(|t| t.map(|i| nodes[i])).collect();
        Ok((self.plate(&triangles, section, Axes::global(), offset)?, nodes))
    }

    /// A lump of mass at a node, tonnes, with its own inertia about the global axes, t mm2. It has weight in gravity
    /// cases.
    pub fn mass(&mut self, node: NodeId, mass: f64, inertia: [f64; 3]) {
        self.masses.push(PointMass { node: node.0, mass, inertia });
    }
}

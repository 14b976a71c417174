//! A spatial frame of beams, springs, rigid links and flat plates: what it consists of.
//!
//! Units throughout: N, mm, MPa, radians and tonnes (so that seconds and Hz come out right: 1 N = 1 t mm/s2).
//! Every node has six degrees of freedom in global axes, in the order ux uy uz rx ry rz; rotations and moments
//! follow the right-hand rule.

use nalgebra::{Matrix3, Vector3};

use super::beam::{Beam, BeamSection};
use super::grid::Mesh;
use super::plate::{Plate, PlateSection};
use super::solve::Solver;
use super::spring::{RIGID, Spring};

/// Degrees of freedom of one node.
pub(super) const DOF: usize = 6;

/// A node of a frame, numbered in the order of creation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct NodeId(pub usize);

/// A beam element of a frame, numbered in the order of creation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BeamId(pub usize);

/// A spring or link of a frame, numbered in the order of creation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SpringId(pub usize);

/// A plate of a frame, numbered in the order of creation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlateId(pub usize);

/// A straight member: several beam elements in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// Nodes from the first end to the second, one more than elements.
    pub nodes: Vec<NodeId>,
    /// Elements from the first end to the second.
    pub beams: Vec<BeamId>,
}

/// Three right-handed unit vectors; the rows are local x, y, z in global components.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axes(pub(super) Matrix3<f64>);

impl Axes {
    /// The global axes.
    #[must_use]
    pub fn global() -> Self {
        Self(Matrix3::identity())
    }

    /// Local x along `x`, local z in the plane of `x` and `up`, on the side of `up`. Where the two are parallel the
    /// global axis least like `x` takes the place of `up`. A zero `x` gives the global axes.
    #[must_use]
    pub fn along(x: [f64; 3], up: [f64; 3]) -> Self {
        let Some(ex) = Vector3::from(x).try_normalize(0.0) else { return Self::global() };
        let side = |up: Vector3<f64>| up.cross(&ex).try_normalize(PARALLEL * up.norm());
        let ey = side(Vector3::from(up)).or_else(|| side(least_like(ex))).unwrap_or_else(Vector3::y);
        let ez = ex.cross(&ey);
        Self(Matrix3::from_rows(&[ex.transpose(), ey.transpose(), ez.transpose()]))
    }

    /// The local x, y, z unit vectors in global components.
    #[must_use]
    pub fn rows(&self) -> [[f64; 3]; 3] {
        std::array::from_fn(|i| std::array::from_fn(|j| self.0[(i, j)]))
    }
}

/// Sine of the angle below which two directions count as parallel: far above rounding, far below any real lean.
const PARALLEL: f64 = 1e-6;

/// The global unit vector with the smallest component along `v`.
fn least_like(v: Vector3<f64>) -> Vector3<f64> {
    let mut unit = Vector3::zeros();
    unit[v.abs().imin()] = 1.0;
    unit
}

/// A lump of mass at a node: tonnes and tonnes mm2 about the node's global axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct PointMass {
    pub(super) node: usize,
    pub(super) mass: f64,
    pub(super) inertia: [f64; 3],
}

/// Why a frame cannot be built or solved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FrameError {
    /// Part of the frame can move without resistance.
    Mechanism {
        /// The node that moves most.
        node: NodeId,
        /// Where it is, mm.
        place: [f64; 3],
        /// The degree of freedom that moves most: 0 to 2 along, 3 to 5 about x, y, z.
        direction: usize,
    },
    /// The reference loads exceed the critical load: no second-order equilibrium.
    Unstable,
    /// Both ends of a beam lie at the same place.
    ZeroLength {
        /// Where, mm.
        place: [f64; 3],
    },
    /// A triangle has no area, or lies out of the plate's plane.
    BadTriangle {
        /// Its corners.
        nodes: [NodeId; 3],
    },
    /// A load or point lies beside the plate.
    OutsidePlate {
        /// Where, in the plate's x and y, mm.
        at: [f64; 2],
    },
    /// A value that must be positive, or finite, is not.
    BadValue {
        /// Which value.
        what: &'static str,
    },
    /// The iteration for buckling or vibration did not settle.
    NotConverged,
}

impl std::fmt::Display for FrameError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Mechanism { node, place: [x, y, z], direction } => {
                let way = ["along x", "along y", "along z", "about x", "about y", "about z"][*direction];
                write!(f, "node {} at ({x:.1}, {y:.1}, {z:.1}) can move freely {way}", node.0)
            }
            Self::Unstable => write!(f, "the reference load exceeds the critical load"),
            Self::ZeroLength { place: [x, y, z] } => write!(f, "a beam at ({x:.1}, {y:.1}, {z:.1}) has no length"),
            Self::BadTriangle { nodes: [a, b, c] } => {
                write!(f, "the triangle of nodes {}, {}, {} is flat or out of the plate's plane", a.0, b.0, c.0)
            }
            Self::OutsidePlate { at: [x, y] } => write!(f, "({x:.1}, {y:.1}) lies beside the plate"),
            Self::BadValue { what } => write!(f, "{what} is not a usable number"),
            Self::NotConverged => write!(f, "the eigenvalue iteration did not settle"),
        }
    }
}

impl std::error::Error for FrameError {}

/// A frame under construction.
#[derive(Clone, Debug, Default)]
pub struct Frame {
    pub(super) nodes: Vec<Vector3<f64>>,
    pub(super) fixed: Vec<[bool; DOF]>,
    pub(super) beams: Vec<Beam>,
    pub(super) springs: Vec<Spring>,
    pub(super) plates: Vec<Plate>,
    pub(super) masses: Vec<PointMass>,
}

impl Frame {
    /// An empty frame.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
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

    /// Number of nodes.
    #[must_use]
    pub fn node_count(&self) -> usize {
        self.nodes.len()
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
    /// [`RIGID`] ties that component exactly, [`super::FREE`] leaves it loose.
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

    /// Ties `slave` to `master` exactly, except for the components marked true in `loose`, taken in `axes`:
    /// `[true, false, false, false, false, false]` lets it slide along local x and nothing else.
    pub fn partial_link(&mut self, master: NodeId, slave: NodeId, axes: Axes, loose: [bool; 6]) -> SpringId {
        self.join(master, slave, axes, loose.map(|free| if free { 0.0 } else { RIGID }))
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

    /// Assembles and factorises the stiffness, ready for any number of load cases.
    ///
    /// # Errors
    /// [`FrameError::Mechanism`] when part of the frame can move without resistance.
    pub fn prepare(&self) -> Result<Solver<'_>, FrameError> {
        Solver::new(self)
    }
}

//! What every part of a frame is named and turned by, and why one cannot be built or solved.

use nalgebra::{Matrix3, Vector3};

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

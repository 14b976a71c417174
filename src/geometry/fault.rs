//! What is wrong with a solid, a mesh or a file that was read back.

use std::fmt;

/// A reason why a part must not be printed. Places are mm in the part's own frame.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A feature has no positive, finite volume: inside out, flat, or its dimensions contradict each other.
    Feature {
        /// The constructor's name.
        kind: &'static str,
        /// Signed volume, mm3; may be not a number.
        volume: f64,
    },
    /// Nothing is added, or the cuts leave nothing.
    Empty,
    /// The boolean kernel, the triangulation or the B-rep kernel gave up.
    Kernel {
        /// What was being done.
        doing: &'static str,
        /// The kernel's own words.
        reason: String,
    },
    /// A label holds a character without strokes, or capitals too low to print.
    Label(String),
    /// The B-rep description cannot be glued: where dimensions overlap or the case is not covered.
    NotGlued(String),
    /// The bytes are not a readable mesh.
    Unreadable(String),
    /// Edges that are not used exactly twice in opposite directions.
    OpenEdges {
        /// How many.
        count: usize,
        /// One end of the first.
        at: [f64; 3],
    },
    /// Vertices whose triangles form more than one fan: parts touch at a point or along an edge.
    Pinched {
        /// How many.
        count: usize,
        /// The first.
        at: [f64; 3],
    },
    /// Triangles that pierce, overlap or touch one another away from common edges.
    Crossing {
        /// How many pairs.
        count: usize,
        /// A corner of one of the first pair.
        at: [f64; 3],
    },
    /// Triangles without area once their corners are single-precision numbers.
    ZeroArea {
        /// How many.
        count: usize,
        /// A corner of the first.
        at: [f64; 3],
    },
    /// Another number of separate bodies than stated.
    Bodies {
        /// Found in the file.
        found: usize,
        /// Stated.
        wanted: usize,
    },
    /// The exact solid and the mesh enclose volumes farther apart than the chord error explains, mm3.
    Volumes {
        /// Of the exact solid.
        exact: f64,
        /// Of the mesh with what is engraved filled up.
        mesh: f64,
        /// How far they may be apart.
        bound: f64,
    },
    /// The mesh lies elsewhere than its features' surfaces.
    OffFeatures {
        /// How many places of those looked at.
        count: usize,
        /// The worst.
        at: [f64; 3],
        /// How far it is outside what the features say, mm; negative within.
        by: f64,
    },
    /// The mesh encloses another volume than its features, mm3.
    NotItsFeatures {
        /// By the features' inside functions.
        features: f64,
        /// Of the mesh.
        mesh: f64,
        /// How far they may be apart.
        bound: f64,
    },
    /// Places above the bed where a layer begins over nothing.
    InTheAir {
        /// How many.
        count: usize,
        /// The first.
        at: [f64; 3],
    },
    /// Faces that look down, flatter than the overhang, and are no short bridge held at both ends.
    Ceiling {
        /// How many.
        count: usize,
        /// The overhang, degrees from the vertical, and the longest bridge, mm.
        limits: [f64; 2],
        /// Area of the first seen from above, mm2.
        area: f64,
        /// A corner of the first.
        at: [f64; 3],
    },
    /// The enclosed volume is zero or negative, mm3: the surface is inside out.
    InsideOut(f64),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = |[x, y, z]: [f64; 3]| format!("first at ({x:.4}, {y:.4}, {z:.4}) mm");
        match self {
            Self::Feature { kind, volume } => write!(f, "the feature `{kind}` encloses {volume:.6} mm3"),
            Self::Empty => f.write_str("nothing is left of the solid"),
            Self::Kernel { doing, reason } => write!(f, "{doing}: {reason}"),
            Self::Label(why) => write!(f, "label: {why}"),
            Self::NotGlued(why) => write!(f, "exact solid: {why}"),
            Self::Unreadable(why) => write!(f, "the mesh cannot be read: {why}"),
            Self::OpenEdges { count, at } => write!(f, "{count} edges without exactly one partner, {}", place(*at)),
            Self::Pinched { count, at } => write!(f, "{count} vertices with more than one fan, {}", place(*at)),
            Self::Crossing { count, at } => write!(f, "{count} pairs of triangles cross or touch, {}", place(*at)),
            Self::ZeroArea { count, at } => write!(f, "{count} triangles without area, {}", place(*at)),
            Self::Bodies { found, wanted } => write!(f, "{found} separate bodies instead of {wanted}"),
            Self::Volumes { exact, mesh, bound } => {
                write!(f, "exact solid and mesh enclose {exact:.2} and {mesh:.2} mm3, more than {bound:.2} mm3 apart")
            }
            Self::OffFeatures { count, at: [x, y, z], by } => write!(
                f,
                "{count} places of the mesh off its features, the worst by {by:.3} mm at ({x:.4}, {y:.4}, {z:.4}) mm"
            ),
            Self::NotItsFeatures { features, mesh, bound } => {
                write!(f, "features and mesh enclose {features:.2} and {mesh:.2} mm3, more than {bound:.2} mm3 apart")
            }
            Self::InTheAir { count, at } => write!(f, "{count} places begin in the air, {}", place(*at)),
            Self::Ceiling { count, limits: [overhang, span], area, at } => write!(
                f,
                "{count} faces look down flatter than {overhang} degrees and are no bridge of {span} mm held at both ends, of \
                 {area:.1} mm2 {}",
                place(*at)
            ),
            Self::InsideOut(volume) => write!(f, "the surface encloses {volume:.6} mm3"),
        }
    }
}

impl std::error::Error for Fault {}

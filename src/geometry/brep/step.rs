//! STEP text with circles, cylinders and cones by name instead of as rational splines.

use std::f64::consts::PI;
use std::fmt::{Formatter, Result as Written};

use truck_modeling::{
    Curve, InnerSpace, NurbsSurface, ParametricCurve, ParametricSurface3D, Plane, Point3, Surface, Vector3, Vector4,
};
use truck_stepio::out::{
    CompleteStepDisplay, DisplayByStep, FloatDisplay, StepCurve, StepHeaderDescriptor, StepLength, StepModel,
    StepSurface, VectorAsDirection,
};
use truck_topology::compress::{CompressedEdge, CompressedFace, CompressedShell, CompressedSolid};

use crate::geometry::Fault;

/// Samples that agree with a circle, cylinder or cone to this, mm, are one: readers' own tolerance is 1e-7 mm.
const SAME: f64 = 1e-8;
/// Parameters at which curves and patches are sampled: the first, second and last fix the shape, the third tests it.
const SAMPLES: [f64; 4] = [0.0, 0.37, 0.71, 1.0];

/// The text of a STEP file holding one solid.
pub(super) fn text(shell: &CompressedShell<Point3, Curve, Surface>, name: &str) -> Result<String, Fault> {
    let edge = |e: &CompressedEdge<Curve>| CompressedEdge { vertices: e.vertices, curve: named_curve(&e.curve) };
    let face = |f: &CompressedFace<Surface>| CompressedFace {
        boundaries: f.boundaries.clone(),
        orientation: f.orientation,
        surface: named_surface(&f.surface),
    };
    let solid = CompressedSolid {
        boundaries: vec![CompressedShell {
            vertices: shell.vertices.clone(),
            edges: shell.edges.iter().map(edge).collect(),
            faces: shell.faces.iter().map(face).collect(),
        }],
    };
    let header = StepHeaderDescriptor {
        file_name: string(name),
        time_stamp: String::new(),
        authors: Vec::new(),
        organization: Vec::new(),
        organization_system: String::new(),
        authorization: String::new(),
    };
    let mut out = String::new();
    std::fmt::write(&mut out, format_args!("{}", CompleteStepDisplay::new(StepModel::from(&solid), header)))
        .map_err(|_| Fault::Kernel { doing: "writing STEP", reason: "a curve or surface has no STEP form".into() })?;
    Ok(repaired(&out))
}

/// Characters that a STEP string holds as they are; all others become an underscore.
fn string(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() || " -._/".contains(c) { c } else { '_' }).collect()
}

/// What other kernels expect where the writer differs: empty lists of one empty string, the schema's name, faces
/// of the advanced kind.
fn repaired(text: &str) -> String {
    text.replace("((''))", "('')")
        .replace("'ISO-10303-042'", "'AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'")
        .replace("FACE_SURFACE(", "ADVANCED_FACE(")
}

/// Origin, axis and reference direction.
#[derive(Clone, Debug)]
struct Placement {
    o: Point3,
    axis: Vector3,
    x: Vector3,
}

impl Placement {
    const LENGTH: usize = 4;

    fn write(&self, i: usize, f: &mut Formatter<'_>) -> Written {
        writeln!(f, "#{i} = AXIS2_PLACEMENT_3D('', #{}, #{}, #{});", i + 1, i + 2, i + 3)?;
        DisplayByStep::fmt(&self.o, i + 1, f)?;
        DisplayByStep::fmt(&VectorAsDirection(self.axis), i + 2, f)?;
        DisplayByStep::fmt(&VectorAsDirection(self.x), i + 3, f)
    }
}

#[derive(Clone, Debug)]
enum NamedCurve {
    Other(Curve),
    Circle(Placement, f64),
}

impl DisplayByStep for NamedCurve {
    fn fmt(&self, i: usize, f: &mut Formatter<'_>) -> Written {
        match self {
            Self::Other(c) => DisplayByStep::fmt(c, i, f),
            Self::Circle(at, r) => {
                writeln!(f, "#{i} = CIRCLE('', #{}, {});", i + 1, FloatDisplay(*r))?;
                at.write(i + 1, f)
            }
        }
    }
}

impl StepLength for NamedCurve {
    fn step_length(&self) -> usize {
        match self {
            Self::Other(c) => c.step_length(),
            Self::Circle(..) => 1 + Placement::LENGTH,
        }
    }
}

impl StepCurve for NamedCurve {
    fn same_sense(&self) -> bool {
        match self {
            Self::Other(c) => c.same_sense(),
            Self::Circle(..) => true,
        }
    }
}

/// A surface of revolution by name; `outward`: the face looks away from the axis.
#[derive(Clone, Debug)]
enum NamedSurface {
    Other(Surface),
    Cylinder { at: Placement, radius: f64, outward: bool },
    Cone { at: Placement, radius: f64, half_angle: f64, outward: bool },
}

impl DisplayByStep for NamedSurface {
    fn fmt(&self, i: usize, f: &mut Formatter<'_>) -> Written {
        match self {
            Self::Other(s) => DisplayByStep::fmt(s, i, f),
            Self::Cylinder { at, radius, .. } => {
                writeln!(f, "#{i} = CYLINDRICAL_SURFACE('', #{}, {});", i + 1, FloatDisplay(*radius))?;
                at.write(i + 1, f)
            }
            Self::Cone { at, radius, half_angle, .. } => {
                let (r, a) = (FloatDisplay(*radius), FloatDisplay(*half_angle));
                writeln!(f, "#{i} = CONICAL_SURFACE('', #{}, {r}, {a});", i + 1)?;
                at.write(i + 1, f)
            }
        }
    }
}

impl StepLength for NamedSurface {
    fn step_length(&self) -> usize {
        match self {
            Self::Other(s) => s.step_length(),
            Self::Cylinder { .. } | Self::Cone { .. } => 1 + Placement::LENGTH,
        }
    }
}

impl StepSurface for NamedSurface {
    fn same_sense(&self) -> bool {
        match self {
            Self::Other(s) => s.same_sense(),
            Self::Cylinder { outward, .. } | Self::Cone { outward, .. } => *outward,
        }
    }
}

/// Centre, unit normal and radius of the circle through three points.
fn circle_through(a: Point3, b: Point3, c: Point3) -> (Point3, Vector3, f64) {
    let (u, v) = (b - a, c - a);
    let n = u.cross(v);
    let to_centre = (n.cross(u) * v.magnitude2() + v.cross(n) * u.magnitude2()) / (2.0 * n.magnitude2());
    (a + to_centre, n.normalize(), to_centre.magnitude())
}

/// The circle through four samples, if they lie on one.
fn circle_of(p: [Point3; 4]) -> Option<(Placement, f64)> {
    let (o, axis, r) = circle_through(p[0], p[1], p[3]);
    let d = p[2] - o;
    let fits = (d.magnitude() - r).abs() < SAME && d.dot(axis).abs() < SAME;
    fits.then(|| (Placement { o, axis, x: (p[0] - o) / r }, r))
}

fn named_curve(c: &Curve) -> NamedCurve {
    let circle = match c {
        Curve::NurbsCurve(n) => circle_of(SAMPLES.map(|t| n.subs(t))),
        _ => None,
    };
    circle.map_or_else(|| NamedCurve::Other(c.clone()), |(at, r)| NamedCurve::Circle(at, r))
}

fn named_surface(s: &Surface) -> NamedSurface {
    let Surface::NurbsSurface(n) = s else { return NamedSurface::Other(s.clone()) };
    let found = if n.udegree() == 1 { plane_of(n) } else { cylinder_of(n).or_else(|| cone_of(n)) };
    found.unwrap_or_else(|| NamedSurface::Other(s.clone()))
}

/// Samples of the two rims that a patch runs between.
fn rims(n: &NurbsSurface<Vector4>) -> [[Point3; 4]; 2] {
    [0.0, 1.0].map(|v| SAMPLES.map(|u| n.subs(u, v)))
}

fn plane_of(n: &NurbsSurface<Vector4>) -> Option<NamedSurface> {
    let [p, q] = rims(n);
    let normal = (p[3] - p[0]).cross(q[0] - p[0]).normalize();
    let x = (p[3] - p[0]).normalize();
    let flat = (q[3] - p[0]).dot(normal).abs() < SAME;
    flat.then(|| NamedSurface::Other(Plane::new(p[0], p[0] + x, p[0] + normal.cross(x)).into()))
}

/// Whether the patch looks away from an axis.
fn looks_outward(n: &NurbsSurface<Vector4>, o: Point3, axis: Vector3) -> bool {
    let d = n.subs(SAMPLES[1], SAMPLES[2]) - o;
    (d - axis * d.dot(axis)).dot(n.normal(SAMPLES[1], SAMPLES[2])) > 0.0
}

fn cylinder_of(n: &NurbsSurface<Vector4>) -> Option<NamedSurface> {
    let [p, q] = rims(n);
    let axis = (q[0] - p[0]).normalize();
    if (1..4).any(|i| (q[i] - p[i]).cross(axis).magnitude() > SAME) {
        return None;
    }
    // The rim may be oblique: seen along the axis it must be a circle.
    let (mut at, radius) = circle_of(p.map(|z| z - axis * (z - p[0]).dot(axis)))?;
    at.axis = axis;
    let outward = looks_outward(n, at.o, axis);
    Some(NamedSurface::Cylinder { at, radius, outward })
}

fn cone_of(n: &NurbsSurface<Vector4>) -> Option<NamedSurface> {
    let [(a, r), (b, s)] = match rims(n).map(circle_of) {
        [Some(low), Some(high)] => [low, high],
        _ => return None,
    };
    // STEP wants the radius to grow along the axis.
    let ((narrow, r), (wide, s)) = if r < s { ((a, r), (b, s)) } else { ((b, s), (a, r)) };
    let height = (wide.o - narrow.o).magnitude();
    let axis = (wide.o - narrow.o) / height;
    let coaxial = axis.cross(narrow.axis).magnitude() < SAME && axis.cross(wide.axis).magnitude() < SAME;
    let half_angle = ((s - r) / height).atan();
    if !coaxial || !(SAME..PI / 2.0 - SAME).contains(&half_angle) {
        return None;
    }
    let outward = looks_outward(n, narrow.o, axis);
    Some(NamedSurface::Cone { at: Placement { axis, ..narrow }, radius: r, half_angle, outward })
}

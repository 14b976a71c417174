//! Exact solids glued from rings: no booleans, every edge shared by the two faces that meet there.
//!
//! Orientation: a skin from wire w0 to wire w1 faces along (wire tangent) x (w0 to w1); an outside runs from bottom to
//! top, a hole from top to bottom, all wires counter-clockwise about the stacking direction.

use std::f64::consts::TAU;

use nalgebra as na;
use truck_modeling::{
    BSplineSurface, Edge, Face, InnerSpace, Matrix4, NurbsSurface, Plane, Point3, Rad, Shell, ShellCondition, Solid,
    Surface, Transform, Transformed, Vector3, Vector4, Vertex, Wire, builder,
};

use super::plate::{BossOnPlate, GussetRow, HoleInPlate, PlateWithBosses};
use super::{Brep, Kind};
use crate::geometry::boss::{Boss, skirt_top};
use crate::geometry::{Axis, Fault};

/// Longest arc of one face, radians; a third of a turn keeps rational arcs well shaped.
const LONGEST_ARC: f64 = TAU / 3.0 + 1e-9;

/// The exact solid of a plate with bosses.
///
/// # Errors
/// Dimensions that contradict each other, a case that is not covered, or a shell that does not close.
pub(super) fn glued(part: &PlateWithBosses) -> Result<Brep, Fault> {
    part.check()?;
    let t = part.thickness;
    let (bottom, top) = (outline(part, 0.0), outline(part, t));
    let mut glue = Glue { faces: Vec::new(), upper: vec![top.clone()], lower: vec![bottom.inverse()] };
    glue.skin(&bottom, &top)?;
    part.holes.iter().try_for_each(|h| glue.hole(h))?;
    part.bosses.iter().try_for_each(|b| glue.boss(b, t))?;
    glue.close(t)
}

fn not_glued(why: impl std::fmt::Display) -> Fault {
    Fault::NotGlued(why.to_string())
}

struct Glue {
    faces: Vec<Face>,
    /// Wires of the plate's upper face.
    upper: Vec<Wire>,
    /// Wires of its lower face.
    lower: Vec<Wire>,
}

impl Glue {
    fn skin(&mut self, a: &Wire, b: &Wire) -> Result<(), Fault> {
        self.faces.extend(builder::try_wire_homotopy(a, b).map_err(not_glued)?);
        Ok(())
    }

    fn flat(&mut self, wires: Vec<Wire>, at: Point3, normal: Vector3) -> Result<(), Fault> {
        self.faces.push(flat(wires, at, normal)?);
        Ok(())
    }

    /// The wall of a hole or bore through wires in rising order; equal heights become flat floors of steps.
    fn bore(&mut self, rings: &[(f64, Wire)], at: impl Fn(f64) -> Point3, dir: Vector3) -> Result<(), Fault> {
        for pair in rings.windows(2) {
            let [(low, narrow), (high, wide)] = pair else { continue };
            if low == high {
                self.flat(vec![wide.clone(), narrow.inverse()], at(*low), dir)?;
            } else {
                self.skin(wide, narrow)?;
            }
        }
        Ok(())
    }

    fn hole(&mut self, h: &HoleInPlate) -> Result<(), Fault> {
        let ring = |&(z, r): &(f64, f64)| {
            let c = Point3::new(h.at[0], h.at[1], z);
            let wire = match h.slot {
                None => circle(c, Vector3::unit_z(), Vector3::unit_x(), r),
                Some((length, heading)) => slot(c, heading, length, r),
            };
            (z, wire)
        };
        let rings: Vec<_> = h.profile.iter().map(ring).collect();
        self.bore(&rings, |z| Point3::new(h.at[0], h.at[1], z), Vector3::unit_z())?;
        if let [(_, first), .., (_, last)] = &rings[..] {
            self.lower.push(first.clone());
            self.upper.push(last.inverse());
        }
        Ok(())
    }

    fn boss(&mut self, b: &BossOnPlate, t: f64) -> Result<(), Fault> {
        let frame = Frame::of(&b.axis(t));
        let rings: Vec<_> = b.bore.iter().map(|&(l, r)| (l, frame.circle(l, r))).collect();
        self.bore(&rings, |l| frame.at(l), frame.a)?;
        let rim = match &b.gussets {
            None => self.round_wall(b, &frame, t)?,
            Some(row) => self.wall_with_gussets(b, row, &frame)?,
        };
        if let [(floor, first), .., (_, mouth)] = &rings[..] {
            self.flat(vec![rim, mouth.inverse()], frame.at(b.top), frame.a)?;
            if b.through(t) {
                self.lower.push(first.clone());
            } else {
                self.flat(vec![first.clone()], frame.at(*floor), frame.a)?;
            }
        }
        Ok(())
    }

    /// The outside of a boss without gussets; returns the wire at its top.
    fn round_wall(&mut self, b: &BossOnPlate, frame: &Frame, t: f64) -> Result<Wire, Fault> {
        let rim = frame.circle(b.top, b.radius);
        let wide = frame.circle(0.0, b.radius + b.flare);
        let root: Wire = builder::transformed(&wide, frame.onto(frame.at(0.0), Vector3::unit_z()));
        let mut below = root.clone();
        if b.flare > 0.0 {
            let boss = Boss { axis: b.axis(t), radius: b.radius, root: t, embed: 0.0, top: b.top, flare: b.flare };
            below = frame.circle(skirt_top(&boss), b.radius);
            self.skin(&root, &below)?;
        }
        self.skin(&below, &rim)?;
        self.upper.push(root.inverse());
        Ok(rim)
    }

    /// The outside of a boss with gussets; returns the wire at its top.
    fn wall_with_gussets(&mut self, b: &BossOnPlate, row: &GussetRow, frame: &Frame) -> Result<Wire, Fault> {
        let wall = Wall {
            frame,
            radius: b.radius,
            root: frame.onto(frame.at(0.0), Vector3::unit_z()),
            top: frame.lift(b.top),
        };
        let half = (row.thickness / 2.0 / b.radius).asin();
        let webs = row.toward.iter().map(|&t| self.web(&wall, row, t, half)).collect::<Result<Vec<_>, _>>()?;
        let (mut root, mut rim) = (Vec::new(), Vec::new());
        for (k, web) in webs.iter().enumerate() {
            let next = &webs[(k + 1) % webs.len()];
            let turn = if k + 1 == webs.len() { TAU } else { 0.0 };
            let stretch = [row.toward[k] + half, row.toward[(k + 1) % webs.len()] + turn - half];
            root.extend(web.foot.iter().cloned());
            rim.push(web.rim.clone());
            self.stretch(&wall, stretch, &web.after, &next.before, &mut root, &mut rim)?;
        }
        self.upper.push(Wire::from(root).inverse());
        Ok(rim.into())
    }

    /// The wall between two gussets, in arcs of at most a third of a turn.
    fn stretch(
        &mut self,
        wall: &Wall,
        [from, to]: [f64; 2],
        first: &Seam,
        last: &Seam,
        root: &mut Vec<Edge>,
        rim: &mut Vec<Edge>,
    ) -> Result<(), Fault> {
        let parts = ((to - from) / LONGEST_ARC).ceil().max(1.0) as usize;
        let angle = |i: usize| from + (to - from) * i as f64 / parts as f64;
        let mut left = first.clone();
        for i in 0..parts {
            let right = if i + 1 == parts { last.clone() } else { wall.seam(angle(i + 1)) };
            let foot = wall.arc(&left.low, &right.low, [angle(i), angle(i + 1)], wall.root);
            let head = wall.arc(&left.high, &right.high, [angle(i), angle(i + 1)], wall.top);
            let up = right.edges.iter().cloned();
            let down = left.edges.iter().rev().map(Edge::inverse);
            let border = [foot.clone()].into_iter().chain(up).chain([head.inverse()]).chain(down);
            self.faces.push(ruled(border.collect(), &foot, &head)?);
            root.push(foot);
            rim.push(head);
            left = right;
        }
        Ok(())
    }

    /// The faces of one gusset and of the wall above it.
    fn web(&mut self, wall: &Wall, row: &GussetRow, toward: f64, half: f64) -> Result<Web, Fault> {
        let (f, a) = (wall.frame, wall.frame.a);
        let out = f.x * toward.cos() + f.y * toward.sin();
        let side = a.cross(out);
        let slide = side - a * (side.z / a.z);
        let tip = wall.root.transform_point(f.at(0.0) + out * (wall.radius + row.run)) + a * row.toe;
        let shoulder = f.at(row.rise) + out * wall.radius;
        let slope = slide.cross(shoulder - tip).normalize();
        let slope = if slope.dot(a) < 0.0 { -slope } else { slope };
        let onto_slope = f.onto(tip, slope);
        let [before, after] = [-half, half].map(|h| wall.seam_through(toward + h, onto_slope));
        let [m, p] = [-1.0, 1.0].map(|s| builder::vertex(tip + slide * (s * row.thickness / 2.0)));
        let ridge = wall.arc(&before.middle, &after.middle, [toward - half, toward + half], onto_slope);
        let rim = wall.arc(&before.high, &after.high, [toward - half, toward + half], wall.top);
        let above = [ridge.clone(), after.edges[1].clone(), rim.inverse(), before.edges[1].inverse()];
        self.faces.push(ruled(above.to_vec().into(), &ridge, &rim)?);
        let (down_m, down_p, lip) =
            (builder::line(&m, &before.middle), builder::line(&p, &after.middle), builder::line(&m, &p));
        self.flat(vec![vec![lip.clone(), down_p.clone(), ridge.inverse(), down_m.inverse()].into()], tip, slope)?;
        let toe = self.toe(row, [&m, &p], &lip, a)?;
        let (foot_m, foot_p) = (builder::line(&before.low, &toe.low[0]), builder::line(&toe.low[1], &after.low));
        let mut left = vec![foot_m.clone()];
        left.extend(toe.up[0].clone());
        left.extend([down_m, before.edges[0].inverse()]);
        self.flat(vec![left.into()], before.low.point(), -side)?;
        let mut right = vec![foot_p.clone(), after.edges[0].clone(), down_p.inverse()];
        right.extend(toe.up[1].iter().map(Edge::inverse));
        self.flat(vec![right.into()], after.low.point(), side)?;
        Ok(Web { before: before.seam(), after: after.seam(), foot: vec![foot_m, toe.front, foot_p], rim })
    }

    /// The blunt front of a gusset below its lip; without a toe the lip itself lies on the plate.
    fn toe(&mut self, row: &GussetRow, [m, p]: [&Vertex; 2], lip: &Edge, a: Vector3) -> Result<Toe, Fault> {
        if row.toe <= 0.0 {
            return Ok(Toe { low: [m.clone(), p.clone()], up: [None, None], front: lip.clone() });
        }
        let low = [m, p].map(|v| builder::vertex(v.point() - a * row.toe));
        let up = [builder::line(&low[0], m), builder::line(&low[1], p)];
        let front = builder::line(&low[0], &low[1]);
        let normal = (p.point() - m.point()).cross(a).normalize();
        let border = vec![front.clone(), up[1].clone(), lip.inverse(), up[0].inverse()];
        self.flat(vec![border.into()], low[0].point(), normal)?;
        let [up_m, up_p] = up;
        Ok(Toe { low, up: [Some(up_m), Some(up_p)], front })
    }

    fn close(mut self, t: f64) -> Result<Brep, Fault> {
        let (upper, lower) = (std::mem::take(&mut self.upper), std::mem::take(&mut self.lower));
        self.flat(upper, Point3::new(0.0, 0.0, t), Vector3::unit_z())?;
        self.flat(lower, Point3::new(0.0, 0.0, 0.0), -Vector3::unit_z())?;
        let shell: Shell = self.faces.into_iter().collect();
        if shell.shell_condition() != ShellCondition::Closed {
            return Err(not_glued("the shell does not close"));
        }
        let solid = Solid::try_new(vec![shell]).map_err(not_glued)?;
        let shell = solid.compress().boundaries.into_iter().next().ok_or_else(|| not_glued("no shell"))?;
        Ok(Brep::new(shell, Kind::Exact))
    }
}

/// An axis in the kernel's types.
struct Frame {
    o: Point3,
    a: Vector3,
    x: Vector3,
    y: Vector3,
}

impl Frame {
    fn of(axis: &Axis) -> Self {
        let v = |v: na::Vector3<f64>| Vector3::new(v.x, v.y, v.z);
        let [x, y] = axis.across();
        let o = axis.point;
        Self { o: Point3::new(o.x, o.y, o.z), a: v(axis.dir.into_inner()), x: v(x), y: v(y) }
    }

    fn at(&self, along: f64) -> Point3 {
        self.o + self.a * along
    }

    fn circle(&self, along: f64, r: f64) -> Wire {
        circle(self.at(along), self.a, self.x, r)
    }

    /// Translation along the axis.
    fn lift(&self, along: f64) -> Matrix4 {
        Matrix4::from_translation(self.a * along)
    }

    /// Projection along the axis on to the plane through a point with a normal.
    fn onto(&self, at: Point3, normal: Vector3) -> Matrix4 {
        let k = self.a.dot(normal);
        let column = |e: Vector3| (e - self.a * (e.dot(normal) / k)).extend(0.0);
        let from_origin = Vector3::new(at.x, at.y, at.z).dot(normal) / k;
        let w: Vector4 = (self.a * from_origin).extend(1.0);
        Matrix4::from_cols(column(Vector3::unit_x()), column(Vector3::unit_y()), column(Vector3::unit_z()), w)
    }
}

/// The cylinder of a boss between two placements of its base circle.
struct Wall<'a> {
    frame: &'a Frame,
    radius: f64,
    root: Matrix4,
    top: Matrix4,
}

/// Straight edges up the wall.
#[derive(Clone)]
struct Seam {
    low: Vertex,
    high: Vertex,
    edges: Vec<Edge>,
}

/// A seam that changes from gusset to free wall on the way.
struct Split {
    low: Vertex,
    middle: Vertex,
    high: Vertex,
    edges: [Edge; 2],
}

impl Split {
    fn seam(self) -> Seam {
        Seam { low: self.low, high: self.high, edges: self.edges.to_vec() }
    }
}

struct Web {
    before: Seam,
    after: Seam,
    foot: Vec<Edge>,
    rim: Edge,
}

struct Toe {
    low: [Vertex; 2],
    up: [Option<Edge>; 2],
    front: Edge,
}

impl Wall<'_> {
    /// A point of the base circle.
    fn base(&self, angle: f64) -> Point3 {
        self.frame.o + (self.frame.x * angle.cos() + self.frame.y * angle.sin()) * self.radius
    }

    fn vertex(&self, angle: f64, place: Matrix4) -> Vertex {
        builder::vertex(place.transform_point(self.base(angle)))
    }

    fn seam(&self, angle: f64) -> Seam {
        let (low, high) = (self.vertex(angle, self.root), self.vertex(angle, self.top));
        let edges = vec![builder::line(&low, &high)];
        Seam { low, high, edges }
    }

    fn seam_through(&self, angle: f64, middle: Matrix4) -> Split {
        let [low, middle, high] = [self.root, middle, self.top].map(|m| self.vertex(angle, m));
        let edges = [builder::line(&low, &middle), builder::line(&middle, &high)];
        Split { low, middle, high, edges }
    }

    /// The placed arc between two vertices.
    fn arc(&self, a: &Vertex, b: &Vertex, [from, to]: [f64; 2], place: Matrix4) -> Edge {
        let ends = [from, to].map(|t| builder::vertex(self.base(t)));
        let flat = builder::circle_arc(&ends[0], &ends[1], self.base((from + to) / 2.0));
        Edge::new(a, b, flat.curve().transformed(place))
    }
}

/// A face between two arcs, bounded by a wire that follows them.
fn ruled(border: Wire, low: &Edge, high: &Edge) -> Result<Face, Fault> {
    let surface = BSplineSurface::homotopy(low.oriented_curve().lift_up(), high.oriented_curve().lift_up());
    Face::try_new(vec![border], Surface::NurbsSurface(NurbsSurface::new(surface))).map_err(not_glued)
}

/// A flat face; the outer wire counter-clockwise about the normal, the others clockwise.
fn flat(wires: Vec<Wire>, at: Point3, normal: Vector3) -> Result<Face, Fault> {
    let hint = if normal.x.abs() < 0.9 { Vector3::unit_x() } else { Vector3::unit_y() };
    let x = (hint - normal * hint.dot(normal)).normalize();
    Face::try_new(wires, Plane::new(at, at + x, at + normal.cross(x)).into()).map_err(not_glued)
}

/// Counter-clockwise about a unit axis, three arcs, starting towards `x`.
fn circle(c: Point3, axis: Vector3, x: Vector3, r: f64) -> Wire {
    builder::rsweep(&builder::vertex(c + x * r), c, axis, Rad(TAU + 1.0))
}

/// A slot, counter-clockwise about +z.
fn slot(c: Point3, heading: f64, length: f64, r: f64) -> Wire {
    let along = Vector3::new(heading.cos(), heading.sin(), 0.0);
    let across = Vector3::new(-along.y, along.x, 0.0) * r;
    let (a, b) = (c - along * (length / 2.0), c + along * (length / 2.0));
    let v = [b - across, b + across, a + across, a - across].map(builder::vertex);
    let ends = [b + along * r, a - along * r];
    vec![
        builder::circle_arc(&v[0], &v[1], ends[0]),
        builder::line(&v[1], &v[2]),
        builder::circle_arc(&v[2], &v[3], ends[1]),
        builder::line(&v[3], &v[0]),
    ]
    .into()
}

/// The plate's outline at a height, counter-clockwise about +z.
fn outline(p: &PlateWithBosses, z: f64) -> Wire {
    let (x, y, r) = (p.width / 2.0, p.depth / 2.0, p.corner);
    let centre = [[x - r, r - y], [x - r, y - r], [r - x, y - r], [r - x, r - y]];
    let on = |k: usize, quarter: f64| {
        let a = TAU / 4.0 * (k as f64 - 1.0 + quarter);
        Point3::new(centre[k][0] + r * a.cos(), centre[k][1] + r * a.sin(), z)
    };
    let v: Vec<_> = (0..4).map(|k| [builder::vertex(on(k, 0.0)), builder::vertex(on(k, 1.0))]).collect();
    let side = |k: usize| {
        let arc = builder::circle_arc(&v[k][0], &v[k][1], on(k, 0.5));
        [arc, builder::line(&v[k][1], &v[(k + 1) % 4][0])]
    };
    (0..4).flat_map(side).collect::<Vec<_>>().into()
}

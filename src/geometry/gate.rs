//! The judge of written meshes: reads the bytes back and looks for every fault that spoils a print.

use super::axis::Axis;
use super::crossing;
use super::fault::Fault;
use super::mesh::{Mesh, doubled_area_vector};

/// Triangles with less area than this, mm2, have none: an edge at the resolution of single-precision
/// coordinates (1e-5 mm at 100 mm) as high as it is wide would have more.
const LEAST_AREA: f64 = 1e-11;

/// What a sound mesh is like.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// Enclosed volume, mm3.
    pub volume: f64,
    /// The mesh as read, corners joined.
    pub mesh: Mesh,
}

/// Judges a binary STL file that holds one body.
///
/// # Errors
/// Everything that is wrong with it.
pub fn judge(stl: &[u8]) -> Result<Judgement, Vec<Fault>> {
    judge_bodies(stl, 1)
}

/// Judges a binary STL file that holds a stated number of bodies.
///
/// # Errors
/// Everything that is wrong with it.
pub fn judge_bodies(stl: &[u8], bodies: usize) -> Result<Judgement, Vec<Fault>> {
    let mesh = read_stl(stl).map_err(|f| vec![f])?;
    let faults = faults(&mesh, bodies);
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(Judgement { volume: mesh.volume(), mesh })
}

/// Reads an STL file; equal corners become one point.
///
/// # Errors
/// Bytes that are not STL, or coordinates that are not numbers.
pub fn read_stl(bytes: &[u8]) -> Result<Mesh, Fault> {
    let read = stl_io::read_stl(&mut std::io::Cursor::new(bytes)).map_err(|e| Fault::Unreadable(e.to_string()))?;
    let points: Vec<_> = read.vertices.iter().map(|v| v.0.map(f64::from)).collect();
    if points.iter().flatten().any(|x| !x.is_finite()) {
        return Err(Fault::Unreadable("a coordinate is not a number".into()));
    }
    let triangles = read.faces.iter().map(|f| f.vertices.map(|i| i as u32)).collect();
    Ok(Mesh { points, triangles })
}

/// Everything that is wrong with a mesh whose equal points are already one.
#[must_use]
pub fn faults(mesh: &Mesh, bodies: usize) -> Vec<Fault> {
    if mesh.triangles.is_empty() {
        return vec![Fault::Empty];
    }
    let edges = Edges::of(mesh);
    let pieces = pieces(mesh, &edges);
    let at = |i: u32| mesh.points[i as usize];
    let mut out = Vec::new();
    let mut note = |count: usize, fault: &dyn Fn() -> Fault| out.extend((count > 0).then(fault));
    let open = &edges.open;
    note(open.len(), &|| Fault::OpenEdges { count: open.len(), at: at(open[0]) });
    let pinched = pinched(mesh, &edges);
    note(pinched.len(), &|| Fault::Pinched { count: pinched.len(), at: at(pinched[0]) });
    let flat = flat(mesh);
    note(flat.len(), &|| Fault::ZeroArea { count: flat.len(), at: at(flat[0]) });
    let crossing = crossing::pairs(mesh);
    note(crossing.len(), &|| Fault::Crossing { count: crossing.len(), at: at(mesh.triangles[crossing[0].0][0]) });
    note(pieces.len().abs_diff(bodies), &|| Fault::Bodies { found: pieces.len(), wanted: bodies });
    let worst = pieces.iter().map(|piece| piece.0).fold(f64::INFINITY, f64::min);
    note(usize::from(worst <= 0.0), &|| Fault::InsideOut(worst));
    out
}

/// Edges with the two triangles that use them, and a corner of every edge that is not used so.
pub(super) struct Edges {
    /// Tail, head and triangle of the forward use, triangle of the backward use.
    whole: Vec<[u32; 4]>,
    open: Vec<u32>,
}

impl Edges {
    /// Tail, head and triangle of the forward use, triangle of the backward use.
    pub(super) fn whole(&self) -> &[[u32; 4]] {
        &self.whole
    }

    pub(super) fn of(mesh: &Mesh) -> Self {
        let mut uses: Vec<(u32, u32, bool, u32)> = Vec::with_capacity(3 * mesh.triangles.len());
        for (i, t) in mesh.triangles.iter().enumerate() {
            for k in 0..3 {
                let (a, b) = (t[k], t[(k + 1) % 3]);
                uses.push((a.min(b), a.max(b), b < a, i as u32));
            }
        }
        uses.sort_unstable();
        let mut edges = Self { whole: Vec::with_capacity(uses.len() / 2), open: Vec::new() };
        for same in uses.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            match same {
                [(a, b, false, left), (_, _, true, right)] => edges.whole.push([*a, *b, *left, *right]),
                _ => edges.open.push(same[0].0),
            }
        }
        edges
    }
}

/// Every connected piece: its signed volume and its triangles.
pub(super) fn pieces(mesh: &Mesh, edges: &Edges) -> Vec<(f64, Vec<usize>)> {
    let mut sets = Sets::new(mesh.triangles.len());
    edges.whole.iter().for_each(|e| sets.join(e[2] as usize, e[3] as usize));
    let roots: Vec<usize> = (0..mesh.triangles.len()).map(|i| sets.root(i)).collect();
    let mut order: Vec<usize> = (0..roots.len()).collect();
    order.sort_by_key(|&i| (roots[i], i));
    let volume = |piece: &[usize]| {
        let triangles = piece.iter().map(|&i| mesh.triangles[i]).collect();
        Mesh { points: mesh.points.clone(), triangles }.volume()
    };
    order.chunk_by(|&a, &b| roots[a] == roots[b]).map(|piece| (volume(piece), piece.to_vec())).collect()
}

/// Points whose triangles form more than one fan.
fn pinched(mesh: &Mesh, edges: &Edges) -> Vec<u32> {
    let corner = |triangle: u32, point: u32| {
        let k = mesh.triangles[triangle as usize].iter().position(|&i| i == point).unwrap_or(0);
        3 * triangle as usize + k
    };
    let mut sets = Sets::new(3 * mesh.triangles.len());
    for &[a, b, left, right] in &edges.whole {
        sets.join(corner(left, a), corner(right, a));
        sets.join(corner(left, b), corner(right, b));
    }
    let mut fans = vec![0u32; mesh.points.len()];
    for (c, &point) in mesh.triangles.iter().flatten().enumerate() {
        fans[point as usize] += u32::from(sets.root(c) == c);
    }
    (0..fans.len() as u32).filter(|&i| fans[i as usize] > 1).collect()
}

fn flat(mesh: &Mesh) -> Vec<u32> {
    let is_flat = |t: &&[u32; 3]| doubled_area_vector(&mesh.corners(t)).norm() / 2.0 < LEAST_AREA;
    mesh.triangles.iter().filter(is_flat).map(|t| t[0]).collect()
}

/// Disjoint sets of numbers.
pub(super) struct Sets(Vec<usize>);

impl Sets {
    pub(super) fn new(n: usize) -> Self {
        Self((0..n).collect())
    }

    pub(super) fn root(&mut self, mut i: usize) -> usize {
        while self.0[i] != i {
            self.0[i] = self.0[self.0[i]];
            i = self.0[i];
        }
        i
    }

    pub(super) fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a.max(b)] = a.min(b);
    }
}

/// Diameter of the largest rod about an axis that passes between two places on it (mm along the axis) without
/// touching the mesh; 0 when something stands in the way, infinite when nothing is there.
#[must_use]
pub fn bore_diameter(mesh: &Mesh, axis: &Axis, from: f64, to: f64) -> f64 {
    let [u, v] = axis.across();
    let local = |p: nalgebra::Point3<f64>| {
        let d = p - axis.point;
        [d.dot(&u), d.dot(&v), d.dot(&axis.dir)]
    };
    let nearest = mesh.triangles.iter().map(|t| {
        let section = between(&mesh.corners(t).map(local), from, to);
        distance_from_origin(&section)
    });
    2.0 * nearest.fold(f64::INFINITY, f64::min)
}

/// The part of a polygon whose third coordinate lies between two values.
fn between(polygon: &[[f64; 3]], from: f64, to: f64) -> Vec<[f64; 3]> {
    let above = half(polygon, |p| p[2] - from);
    half(&above, |p| to - p[2])
}

/// The part of a polygon where a linear measure is not negative.
fn half(polygon: &[[f64; 3]], measure: impl Fn(&[f64; 3]) -> f64) -> Vec<[f64; 3]> {
    let mut out = Vec::new();
    for (p, q) in polygon.iter().zip(polygon.iter().cycle().skip(1)) {
        let (a, b) = (measure(p), measure(q));
        if a >= 0.0 {
            out.push(*p);
        }
        if (a < 0.0) != (b < 0.0) {
            out.push(std::array::from_fn(|k| p[k] + (q[k] - p[k]) * a / (a - b)));
        }
    }
    out
}

/// Distance of the origin from a convex polygon in the plane of its first two coordinates; infinite for none.
fn distance_from_origin(polygon: &[[f64; 3]]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    let sides = || polygon.iter().zip(next.clone());
    let turns = || sides().map(|(p, q)| p[0] * q[1] - q[0] * p[1]);
    let area: f64 = turns().sum();
    if area.abs() > 0.0 && turns().all(|t| t * area >= 0.0) {
        return 0.0;
    }
    sides().map(|(p, q)| segment_distance([p[0], p[1]], [q[0], q[1]])).fold(f64::INFINITY, f64::min)
}

fn segment_distance(p: [f64; 2], q: [f64; 2]) -> f64 {
    let d = [q[0] - p[0], q[1] - p[1]];
    let length = d[0] * d[0] + d[1] * d[1];
    let t = if length > 0.0 { (-(p[0] * d[0] + p[1] * d[1]) / length).clamp(0.0, 1.0) } else { 0.0 };
    (p[0] + t * d[0]).hypot(p[1] + t * d[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::stl;
    use crate::geometry::{Feature, Outline, Round, Solid};
    use nalgebra::Isometry3;

    fn block(x: f64, y: f64, z: f64) -> Mesh {
        Feature::block([10.0; 3], &Isometry3::translation(x, y, z)).mesh().clone()
    }

    fn judged(mesh: &Mesh) -> Vec<Fault> {
        judge(&stl::write(mesh)).err().unwrap_or_default()
    }

    fn beside(a: &Mesh, b: &Mesh) -> Mesh {
        let mut both = a.clone();
        both.append(b);
        both
    }

    #[test]
    fn a_sound_block_passes() {
        let j = judge(&stl::write(&block(3.0, 0.0, 0.0))).unwrap();
        assert!((j.volume - 1000.0).abs() < 1e-9 && (j.mesh.area() - 600.0).abs() < 1e-9);
        assert_eq!((j.mesh.triangles.len(), j.mesh.aabb().min), (12, [-2.0, -5.0, -5.0]));
    }

    #[test]
    fn a_hole_is_seen() {
        let mut m = block(0.0, 0.0, 0.0);
        m.triangles.remove(5);
        assert!(matches!(judged(&m)[0], Fault::OpenEdges { count: 3, .. }));
    }

    #[test]
    fn flipped_triangles_are_seen() {
        let mut m = block(0.0, 0.0, 0.0);
        m.triangles[3].reverse();
        assert!(matches!(judged(&m)[0], Fault::OpenEdges { count: 3, .. }));
    }

    #[test]
    fn an_inside_out_body_is_seen() {
        let mut m = block(0.0, 0.0, 0.0);
        m.triangles.iter_mut().for_each(|t| t.reverse());
        assert!(matches!(judged(&m)[..], [Fault::InsideOut(v)] if (v + 1000.0).abs() < 1e-9));
    }

    #[test]
    fn a_doubled_body_is_seen() {
        let m = block(0.0, 0.0, 0.0);
        let faults = judged(&beside(&m, &m));
        assert!(faults.iter().any(|f| matches!(f, Fault::OpenEdges { count: 18, .. })), "{faults:?}");
        assert!(faults.iter().any(|f| matches!(f, Fault::Crossing { .. })), "{faults:?}");
    }

    #[test]
    fn overlapping_bodies_are_seen() {
        let m = beside(&block(0.0, 0.0, 0.0), &block(5.0, 3.0, 2.0));
        let faults = judge_bodies(&stl::write(&m), 2).unwrap_err();
        assert!(matches!(faults[..], [Fault::Crossing { .. }]), "{faults:?}");
    }

    #[test]
    fn a_body_inside_another_is_counted() {
        let small = Feature::block([2.0; 3], &Isometry3::identity()).mesh().clone();
        let faults = judged(&beside(&block(0.0, 0.0, 0.0), &small));
        assert_eq!(faults, vec![Fault::Bodies { found: 2, wanted: 1 }]);
    }

    #[test]
    fn bodies_that_touch_at_a_vertex_an_edge_or_a_face_are_seen() {
        let m = block(0.0, 0.0, 0.0);
        let two = |x, y, z| judge_bodies(&stl::write(&beside(&m, &block(x, y, z))), 2).unwrap_err();
        assert!(matches!(two(10.0, 10.0, 10.0)[0], Fault::Pinched { count: 1, .. }));
        assert!(matches!(two(10.0, 10.0, 0.0)[0], Fault::OpenEdges { count: 1, .. }));
        assert!(two(10.0, 3.0, 2.0).iter().any(|f| matches!(f, Fault::Crossing { .. })));
    }

    #[test]
    fn a_point_that_touches_a_face_is_seen() {
        let spike = Axis::new([1.0, 2.0, 5.0], [0.3, 0.1, 1.0]);
        let cone = Feature::revolved(&spike, &[(0.0, 0.0), (4.0, 1.0)], Round::Inside, 0.1).mesh().clone();
        let faults = judge_bodies(&stl::write(&beside(&block(0.0, 0.0, 0.0), &cone)), 2).unwrap_err();
        assert!(matches!(faults[..], [Fault::Crossing { .. }]), "{faults:?}");
        let apart = cone.transformed(&Isometry3::translation(0.0, 0.0, 0.001));
        assert!(judge_bodies(&stl::write(&beside(&block(0.0, 0.0, 0.0), &apart)), 2).is_ok());
    }

    #[test]
    fn a_triangle_flattened_by_rounding_is_seen() {
        let mut m = block(100.0, 0.0, 0.0);
        let [a, b, c] = m.triangles[0];
        let middle: [f64; 3] = nalgebra::center(&m.point(a), &m.point(b)).into();
        m.points.push(middle);
        let d = m.points.len() as u32 - 1;
        m.triangles[0] = [a, d, b];
        m.triangles.push([a, d, c].map(|i| i));
        let faults = judged(&m);
        assert!(faults.iter().any(|f| matches!(f, Fault::ZeroArea { count: 1, .. })), "{faults:?}");
    }

    #[test]
    fn rubbish_is_unreadable() {
        assert!(matches!(judge(b"not a mesh").unwrap_err()[..], [Fault::Unreadable(_)]));
        assert!(matches!(judge(&stl::write(&Mesh::default())).unwrap_err()[..], [Fault::Empty]));
    }

    #[test]
    fn a_bore_measures_its_name_and_a_plug_is_noticed() {
        let axis = Axis::new([2.0, -1.0, 0.0], [0.1, 0.2, 1.0]);
        let plate =
            Feature::prism(&Outline::rounded_rectangle(60.0, 60.0, 5.0, 0.05), 0.0, 30.0, &Isometry3::identity());
        let bore = Feature::revolved(&axis, &[(4.0, 8.15), (40.0, 8.15)], Round::Outside, 0.05);
        let mesh = Solid::of(vec![plate]).minus([bore]).mesh().unwrap();
        let d = bore_diameter(&mesh, &axis, 6.0, 26.0);
        assert!((16.30..=16.32).contains(&d), "{d}");
        assert!(bore_diameter(&mesh, &axis, 2.0, 26.0) == 0.0);
        assert!(bore_diameter(&mesh, &Axis::upright(100.0, 0.0), 100.0, 110.0).is_infinite());
    }
}

//! Flat faces of a mesh: found from the patch every triangle lies in, and divided anew in one settled way.
//!
//! The boolean kernel walks hash maps, so its triangles differ from run to run while its points and faces do not.
//! Here the same faces always give the same triangles, in the same order.

use nalgebra::Vector3;

use super::fault::Fault;
use super::mesh::{Mesh, doubled_area_vector};
use super::triangulate;

/// A face narrower than this, mm, is given to the neighbour at its longest side: twice the spacing of
/// single-precision coordinates at 100 mm, and far below what any printer can place.
const NARROW: f64 = 2e-5;
/// A corner between only two faces that bends by less than this, mm, is left out: rounding of coordinates.
const STRAIGHT: f64 = 2e-5;
/// Rounds of giving narrow faces away; each round may lay bare the next, hardly more than two are ever needed.
const ROUNDS: usize = 8;

/// A flat face: closed loops of corners, the outer one first; it lies left of its loops.
#[derive(Clone, Debug)]
pub(super) struct Facet {
    pub loops: Vec<Vec<u32>>,
    /// Unit normal, outwards.
    pub normal: Vector3<f64>,
}

/// The mesh with sorted points, and every face divided anew.
pub(super) fn divide(mesh: &Mesh, patches: &[u32]) -> Result<Mesh, Fault> {
    let mesh = sorted(mesh);
    let facets = facets(&mesh, patches)?;
    let mut triangles = Vec::with_capacity(mesh.triangles.len());
    for f in &facets {
        triangles.extend(fill(&mesh, f)?);
    }
    triangles.sort_unstable();
    let out = Mesh { points: mesh.points, triangles };
    Ok(out.without_unused())
}

/// Flat faces of a closed mesh whose triangles know their patch.
pub(super) fn facets(mesh: &Mesh, patches: &[u32]) -> Result<Vec<Facet>, Fault> {
    let sides = Sides::of(mesh)?;
    let mut patches = patches.to_vec();
    for _ in 0..ROUNDS {
        let faces = Faces::of(mesh, &sides, &patches);
        let loops = faces.loops(mesh, &sides)?;
        let narrow: Vec<_> = loops.iter().enumerate().filter_map(|(f, l)| Some((f, narrow_side(mesh, l)?))).collect();
        if narrow.is_empty() {
            return Ok(loops.into_iter().map(|l| facet(mesh, l)).collect());
        }
        give_away(&faces, &sides, &narrow, &mut patches);
    }
    Err(fault("faces narrower than the resolution of the file"))
}

/// A patch for every triangle of a closed mesh: neighbours that lie in the plane of the largest share its patch.
pub(super) fn flat_patches(mesh: &Mesh) -> Result<Vec<u32>, Fault> {
    let sides = Sides::of(mesh)?;
    let normals: Vec<_> = mesh.triangles.iter().map(|t| doubled_area_vector(&mesh.corners(t))).collect();
    let mut order: Vec<usize> = (0..normals.len()).collect();
    order.sort_by(|&i, &j| normals[j].norm().total_cmp(&normals[i].norm()).then(i.cmp(&j)));
    let mut patches = vec![u32::MAX; normals.len()];
    for (patch, seed) in order.into_iter().enumerate() {
        if patches[seed] == u32::MAX {
            spread(mesh, &sides, &normals, seed, patch as u32, &mut patches);
        }
    }
    Ok(patches)
}

/// Gives a patch to the seed and all connected triangles that lie in its plane and look the same way.
fn spread(mesh: &Mesh, sides: &Sides, normals: &[Vector3<f64>], seed: usize, patch: u32, patches: &mut [u32]) {
    let (normal, origin) = (normals[seed].normalize(), mesh.point(mesh.triangles[seed][0]));
    let in_plane = |i: usize| {
        let near = mesh.corners(&mesh.triangles[i]).iter().all(|p| (p - origin).dot(&normal).abs() < NARROW);
        near && normals[i].dot(&normal) > 0.5 * normals[i].norm()
    };
    let mut work = vec![seed];
    patches[seed] = patch;
    while let Some(i) = work.pop() {
        let t = mesh.triangles[i];
        for j in (0..3).filter_map(|k| sides.triangle(t[(k + 1) % 3], t[k])).map(|j| j as usize) {
            if patches[j] == u32::MAX && in_plane(j) {
                patches[j] = patch;
                work.push(j);
            }
        }
    }
}

/// Gives narrow faces to the face across their longest side; where two narrow ones face each other, the first gives.
fn give_away(faces: &Faces, sides: &Sides, narrow: &[(usize, [u32; 2])], patches: &mut [u32]) {
    let mut given = vec![false; faces.count];
    for &(f, [a, b]) in narrow {
        let Some(across) = sides.triangle(b, a) else { continue };
        if given[faces.of[across as usize]] {
            continue;
        }
        given[f] = true;
        let patch = patches[across as usize];
        (0..patches.len()).filter(|&i| faces.of[i] == f).for_each(|i| patches[i] = patch);
    }
}

fn fault(reason: &str) -> Fault {
    Fault::Kernel { doing: "dividing faces", reason: reason.into() }
}

/// The same mesh, its points in rising order of x, y, z.
fn sorted(mesh: &Mesh) -> Mesh {
    let mut order: Vec<u32> = (0..mesh.points.len() as u32).collect();
    let key = |i: u32| mesh.points[i as usize];
    order.sort_by(|&i, &j| {
        let (p, q) = (key(i), key(j));
        p[0].total_cmp(&q[0]).then(p[1].total_cmp(&q[1])).then(p[2].total_cmp(&q[2]))
    });
    let mut place = vec![0; order.len()];
    order.iter().enumerate().for_each(|(new, &old)| place[old as usize] = new as u32);
    let points = order.iter().map(|&i| key(i)).collect();
    Mesh { points, triangles: mesh.triangles.iter().map(|t| t.map(|i| place[i as usize])).collect() }
}

/// Which triangle lies left of each directed edge.
struct Sides(Vec<(u32, u32, u32)>);

impl Sides {
    fn of(mesh: &Mesh) -> Result<Self, Fault> {
        let mut all: Vec<(u32, u32, u32)> = Vec::with_capacity(3 * mesh.triangles.len());
        for (i, t) in mesh.triangles.iter().enumerate() {
            all.extend((0..3).map(|k| (t[k], t[(k + 1) % 3], i as u32)));
        }
        all.sort_unstable();
        let twice = all.windows(2).any(|w| (w[0].0, w[0].1) == (w[1].0, w[1].1));
        let sides = Self(all);
        let open = sides.0.iter().any(|&(a, b, _)| sides.triangle(b, a).is_none());
        if twice || open { Err(fault("an edge without exactly one partner")) } else { Ok(sides) }
    }

    fn triangle(&self, a: u32, b: u32) -> Option<u32> {
        let at = self.0.binary_search_by(|s| (s.0, s.1).cmp(&(a, b))).ok()?;
        Some(self.0[at].2)
    }
}

/// The number of the connected flat face of every triangle.
struct Faces {
    of: Vec<usize>,
    count: usize,
}

impl Faces {
    fn of(mesh: &Mesh, sides: &Sides, patches: &[u32]) -> Self {
        let mut faces = Self { of: vec![usize::MAX; mesh.triangles.len()], count: 0 };
        for seed in 0..mesh.triangles.len() {
            if faces.of[seed] == usize::MAX {
                faces.flood(mesh, sides, patches, seed);
                faces.count += 1;
            }
        }
        faces
    }

    fn flood(&mut self, mesh: &Mesh, sides: &Sides, patches: &[u32], seed: usize) {
        let mut work = vec![seed];
        self.of[seed] = self.count;
        while let Some(i) = work.pop() {
            let t = mesh.triangles[i];
            for j in (0..3).filter_map(|k| sides.triangle(t[(k + 1) % 3], t[k])).map(|j| j as usize) {
                if self.of[j] == usize::MAX && patches[j] == patches[i] {
                    self.of[j] = self.count;
                    work.push(j);
                }
            }
        }
    }

    /// The loops round every face, without corners that lie straight between two faces.
    fn loops(&self, mesh: &Mesh, sides: &Sides) -> Result<Vec<Vec<Vec<u32>>>, Fault> {
        let border = |&&(a, b, i): &&(u32, u32, u32)| {
            sides.triangle(b, a).is_none_or(|j| self.of[j as usize] != self.of[i as usize])
        };
        let borders: Vec<(u32, u32, u32)> = sides.0.iter().filter(border).copied().collect();
        let mut meeting = vec![0u32; mesh.points.len()];
        borders.iter().for_each(|s| meeting[s.0 as usize] += 1);
        let mut walked = vec![false; borders.len()];
        let mut out = vec![Vec::new(); self.count];
        for start in 0..borders.len() {
            if !walked[start] {
                let ring = self.walk(mesh, sides, &borders, start, &mut walked)?;
                out[self.of[borders[start].2 as usize]].push(without_straight(mesh, &ring, &meeting));
            }
        }
        Ok(out)
    }

    /// Follows the border of a face, always turning inside the face.
    fn walk(
        &self,
        mesh: &Mesh,
        sides: &Sides,
        borders: &[(u32, u32, u32)],
        start: usize,
        walked: &mut [bool],
    ) -> Result<Vec<u32>, Fault> {
        let mut ring = Vec::new();
        let mut at = start;
        while !walked[at] {
            walked[at] = true;
            let (a, b, i) = borders[at];
            ring.push(a);
            let next = self.next_border(mesh, sides, b, i);
            let found = next.and_then(|c| borders.binary_search_by(|s| (s.0, s.1).cmp(&(b, c))).ok());
            at = found.ok_or_else(|| fault("a face without a border"))?;
        }
        Ok(ring)
    }

    /// The far end of the border edge that leaves point `b`, seen from triangle `i` which a border edge enters.
    fn next_border(&self, mesh: &Mesh, sides: &Sides, b: u32, mut i: u32) -> Option<u32> {
        for _ in 0..mesh.triangles.len() {
            let t = mesh.triangles[i as usize];
            let k = t.iter().position(|&p| p == b)?;
            let c = t[(k + 1) % 3];
            let j = sides.triangle(c, b)?;
            if self.of[j as usize] != self.of[i as usize] {
                return Some(c);
            }
            i = j;
        }
        None
    }
}

/// A loop without the corners where only two faces meet in a straight line, from its lowest corner.
fn without_straight(mesh: &Mesh, ring: &[u32], meeting: &[u32]) -> Vec<u32> {
    let n = ring.len();
    let is_straight = |i: usize| {
        let [a, b, c] = [ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]].map(|k| mesh.point(k));
        let chord = (c - a).norm();
        chord > 0.0 && (b - a).cross(&(c - a)).norm() / chord < STRAIGHT && (b - a).dot(&(c - b)) > 0.0
    };
    let mut out: Vec<u32> =
        (0..n).filter(|&i| meeting[ring[i] as usize] > 2 || !is_straight(i)).map(|i| ring[i]).collect();
    let low = (0..out.len()).min_by_key(|&i| out[i]).unwrap_or(0);
    out.rotate_left(low);
    out
}

/// Twice the area within a loop, as a vector along its normal.
fn area_vector(mesh: &Mesh, ring: &[u32]) -> Vector3<f64> {
    let Some(&first) = ring.first() else { return Vector3::zeros() };
    let o = mesh.point(first);
    ring.windows(2).map(|w| (mesh.point(w[0]) - o).cross(&(mesh.point(w[1]) - o))).sum()
}

/// The longest side of a face with one loop that is narrower than `NARROW` or has no area.
fn narrow_side(mesh: &Mesh, loops: &[Vec<u32>]) -> Option<[u32; 2]> {
    let [ring] = loops else { return None };
    let sides = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b]);
    let long = |s: &[u32; 2]| (mesh.point(s[1]) - mesh.point(s[0])).norm();
    let side = sides.max_by(|s, t| long(s).total_cmp(&long(t)).then(t.cmp(s)))?;
    (area_vector(mesh, ring).norm() < NARROW * long(&side)).then_some(side)
}

/// The face within some loops, the outer loop (the one with the largest area) first.
fn facet(mesh: &Mesh, mut loops: Vec<Vec<u32>>) -> Facet {
    loops.sort_by(|g, h| {
        let (a, b) = (area_vector(mesh, g).norm(), area_vector(mesh, h).norm());
        b.total_cmp(&a).then_with(|| g.cmp(h))
    });
    let normal: Vector3<f64> = loops.iter().map(|l| area_vector(mesh, l)).sum();
    Facet { loops, normal: normal.try_normalize(0.0).unwrap_or_default() }
}

/// Triangles of a face.
fn fill(mesh: &Mesh, f: &Facet) -> Result<Vec<[u32; 3]>, Fault> {
    // Seen along the largest component of the normal, so that no coordinate is rounded again.
    let k = f.normal.iamax();
    let (x, y) = if f.normal[k] > 0.0 { ((k + 1) % 3, (k + 2) % 3) } else { ((k + 2) % 3, (k + 1) % 3) };
    let corners: Vec<u32> = f.loops.iter().flatten().copied().collect();
    let flat: Vec<[f64; 2]> = corners.iter().map(|&i| mesh.points[i as usize]).map(|p| [p[x], p[y]]).collect();
    let mut first = 0;
    let numbered = f.loops.iter().map(|l| {
        first += l.len() as u32;
        (first - l.len() as u32..first).collect()
    });
    let numbered: Vec<Vec<u32>> = numbered.collect();
    let triangles =
        triangulate::with_holes(&flat, &numbered).ok_or_else(|| fault("the border of a face crosses itself"))?;
    Ok(triangles.into_iter().map(|t| from_lowest(t.map(|i| corners[i as usize]))).collect())
}

fn from_lowest(mut t: [u32; 3]) -> [u32; 3] {
    let low = (0..3).min_by_key(|&k| t[k]).unwrap_or(0);
    t.rotate_left(low);
    t
}

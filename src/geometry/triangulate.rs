//! Triangles for flat polygons with holes: ears, then edge swaps towards rounder triangles.

use std::collections::BTreeMap;

type Point = [f64; 2];

/// Smallest doubled area of a triangle, mm2: above the rounding of the areas (1e-12 mm2 for parts of 100 mm).
const LEAST: f64 = 1e-11;

/// Triangles of a simple counter-clockwise polygon, indices into it. `None` when it is not simple.
pub(super) fn simple(points: &[Point]) -> Option<Vec<[u32; 3]>> {
    with_holes(points, &[(0..points.len() as u32).collect()])
}

/// Triangles of a polygon with holes; `loops` index into `points`, the outer one first and counter-clockwise, holes
/// clockwise. The answer depends on nothing but the arguments. `None` when the loops cross.
pub(super) fn with_holes(points: &[Point], loops: &[Vec<u32>]) -> Option<Vec<[u32; 3]>> {
    let (outer, holes) = loops.split_first()?;
    let mut rest: Vec<Vec<u32>> = holes.iter().map(|h| from_rightmost(points, h)).collect();
    rest.sort_by(|g, h| points[h[0] as usize][0].total_cmp(&points[g[0] as usize][0]).then(g[0].cmp(&h[0])));
    let mut ring = outer.clone();
    for k in 0..rest.len() {
        let bridge = bridge(points, &ring, &rest[k..])?;
        let (hole, start) = (&rest[k], ring[bridge]);
        let detour = hole.iter().chain([&hole[0], &start]).copied();
        ring.splice(bridge + 1..bridge + 1, detour);
    }
    let mut triangles = clip_ears(points, &ring)?;
    swap_edges(points, &mut triangles);
    Some(triangles)
}

/// Twice the signed area of a, b, c.
fn turn(a: Point, b: Point, c: Point) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

fn from_rightmost(points: &[Point], hole: &[u32]) -> Vec<u32> {
    let key = |i: &u32| points[*i as usize];
    let right = (0..hole.len())
        .max_by(|&i, &j| key(&hole[i])[0].total_cmp(&key(&hole[j])[0]).then(hole[j].cmp(&hole[i])))
        .unwrap_or(0);
    let mut out = hole.to_vec();
    out.rotate_left(right);
    out
}

/// Position in the ring of the nearest corner that the first hole's first corner sees.
fn bridge(points: &[Point], ring: &[u32], holes: &[Vec<u32>]) -> Option<usize> {
    let from = holes[0][0];
    let m = points[from as usize];
    let far = |i: u32| (points[i as usize][0] - m[0]).powi(2) + (points[i as usize][1] - m[1]).powi(2);
    let mut order: Vec<usize> = (0..ring.len()).collect();
    order.sort_by(|&i, &j| far(ring[i]).total_cmp(&far(ring[j])).then(i.cmp(&j)));
    order.into_iter().find(|&i| {
        in_corner(points, ring, i, m)
            && !crosses(points, ring, [from, ring[i]])
            && !holes.iter().any(|h| crosses(points, h, [from, ring[i]]))
    })
}

/// Whether a point lies between the two sides of a ring's corner.
fn in_corner(points: &[Point], ring: &[u32], i: usize, m: Point) -> bool {
    let n = ring.len();
    let [a, b, c] = [ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]].map(|k| points[k as usize]);
    let (before, after) = (turn(a, b, m) > 0.0, turn(b, c, m) > 0.0);
    if turn(a, b, c) > 0.0 { before && after } else { before || after }
}

/// Whether a segment between two corners meets any side that starts or ends elsewhere.
fn crosses(points: &[Point], ring: &[u32], s: [u32; 2]) -> bool {
    let [p, q] = s.map(|i| points[i as usize]);
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).filter(|(a, b)| !s.contains(a) && !s.contains(b)).any(|(a, b)| {
        let (a, b) = (points[*a as usize], points[*b as usize]);
        let (d, e) = (turn(p, q, a), turn(p, q, b));
        let (f, g) = (turn(a, b, p), turn(a, b, q));
        !(d > 0.0 && e > 0.0 || d < 0.0 && e < 0.0 || f > 0.0 && g > 0.0 || f < 0.0 && g < 0.0)
    })
}

/// A ring as a doubly linked list over its corners.
struct Ring<'a> {
    points: &'a [Point],
    ids: &'a [u32],
    next: Vec<usize>,
    prev: Vec<usize>,
}

impl Ring<'_> {
    fn point(&self, i: usize) -> Point {
        self.points[self.ids[i] as usize]
    }

    fn ids(&self, t: [usize; 3]) -> [u32; 3] {
        t.map(|i| self.ids[i])
    }

    fn corner(&self, i: usize) -> [usize; 3] {
        [self.prev[i], i, self.next[i]]
    }

    fn is_convex(&self, i: usize) -> bool {
        let [a, b, c] = self.corner(i).map(|k| self.point(k));
        turn(a, b, c) > LEAST
    }

    /// Whether the corner can be cut off: convex, with no other corner in the triangle or on its sides.
    fn is_ear(&self, i: usize, blunt: &[usize]) -> bool {
        let t = self.corner(i);
        let [a, b, c] = t.map(|k| self.point(k));
        let ids = self.ids(t);
        let low = [0, 1].map(|k| a[k].min(b[k]).min(c[k]));
        let high = [0, 1].map(|k| a[k].max(b[k]).max(c[k]));
        let outside = |j: &usize| {
            let p = self.point(*j);
            let boxed = p[0] >= low[0] && p[0] <= high[0] && p[1] >= low[1] && p[1] <= high[1];
            !boxed || ids.contains(&self.ids[*j]) || turn(a, b, p) < 0.0 || turn(b, c, p) < 0.0 || turn(c, a, p) < 0.0
        };
        self.is_convex(i) && blunt.iter().all(outside)
    }

    fn remove(&mut self, i: usize) {
        let [p, _, n] = self.corner(i);
        self.next[p] = n;
        self.prev[n] = p;
    }
}

/// Cuts ears off a ring (which may walk a bridge to a hole and back).
fn clip_ears(points: &[Point], ids: &[u32]) -> Option<Vec<[u32; 3]>> {
    let n = ids.len();
    let (next, prev) = ((0..n).map(|i| (i + 1) % n).collect(), (0..n).map(|i| (i + n - 1) % n).collect());
    let mut ring = Ring { points, ids, next, prev };
    // Only blunt corners can lie in an ear.
    let mut blunt: Vec<usize> = (0..n).filter(|&i| !ring.is_convex(i)).collect();
    let mut out = Vec::with_capacity(n);
    let (mut at, mut left, mut misses) = (0, n, 0);
    while left > 3 {
        if ring.is_ear(at, &blunt) {
            let [p, _, q] = ring.corner(at);
            out.push(ring.ids(ring.corner(at)));
            ring.remove(at);
            blunt.retain(|&j| j != at && j != p && j != q);
            blunt.extend([p, q].into_iter().filter(|&j| !ring.is_convex(j)));
            (at, left, misses) = (ring.next[q], left - 1, 0);
        } else {
            (at, misses) = (ring.next[at], misses + 1);
            if misses > left {
                return None;
            }
        }
    }
    out.push(ring.ids(ring.corner(at)));
    ring.is_convex(at).then_some(out)
}

/// Swaps diagonals until every pair of triangles is as round as it can be, or enough were swapped.
fn swap_edges(points: &[Point], triangles: &mut [[u32; 3]]) {
    let mut sides = BTreeMap::new();
    for (i, t) in triangles.iter().enumerate() {
        sides.extend((0..3).map(|k| ((t[k], t[(k + 1) % 3]), i)));
    }
    let mut work: Vec<(u32, u32)> = sides.keys().filter(|(a, b)| a < b).copied().collect();
    let mut budget = 20 * triangles.len();
    while let Some((a, b)) = work.pop() {
        let (Some(&i), Some(&j)) = (sides.get(&(a, b)), sides.get(&(b, a))) else { continue };
        let (c, d) = (apex(&triangles[i], a, b), apex(&triangles[j], a, b));
        // A bridge is walked both ways, so an edge may come up twice; then it is left alone.
        let taken = sides.contains_key(&(c, d)) || sides.contains_key(&(d, c));
        if taken || budget == 0 || !is_rounder(points, [a, b, c, d]) {
            continue;
        }
        budget -= 1;
        (triangles[i], triangles[j]) = ([a, d, c], [b, c, d]);
        sides.remove(&(a, b));
        sides.remove(&(b, a));
        for (s, t) in [((a, d), i), ((d, c), i), ((c, a), i), ((b, c), j), ((c, d), j), ((d, b), j)] {
            sides.insert(s, t);
        }
        work.extend([(a, d), (c, a), (b, c), (d, b)].map(|(p, q)| (p.min(q), p.max(q))));
    }
}

fn apex(t: &[u32; 3], a: u32, b: u32) -> u32 {
    t.iter().copied().find(|&i| i != a && i != b).unwrap_or(a)
}

/// Whether the quadrilateral a, d, b, c is better cut from c to d than from a to b: the flattest triangle gets rounder.
fn is_rounder(points: &[Point], corners: [u32; 4]) -> bool {
    let [a, b, c, d] = corners.map(|i| points[i as usize]);
    let now = roundness([a, b, c]).min(roundness([b, a, d]));
    let then = roundness([a, d, c]).min(roundness([b, c, d]));
    // The margin keeps equal shapes (rectangles) from being swapped to and fro.
    turn(a, d, c) > LEAST && turn(b, c, d) > LEAST && then > now * (1.0 + 1e-6)
}

/// Doubled area over the squared longest side: 0 for a sliver.
fn roundness([a, b, c]: [Point; 3]) -> f64 {
    let square = |p: Point, q: Point| (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2);
    turn(a, b, c) / square(a, b).max(square(b, c)).max(square(c, a))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(points: &[Point], triangles: &[[u32; 3]]) -> f64 {
        triangles.iter().map(|t| turn(points[t[0] as usize], points[t[1] as usize], points[t[2] as usize]) / 2.0).sum()
    }

    #[test]
    fn a_comb_is_covered_once() {
        let mut p: Vec<Point> = vec![[0.0, 0.0], [20.0, 0.0]];
        (0..10).for_each(|k| p.extend([[20.0 - 2.0 * f64::from(k), 9.0], [19.0 - 2.0 * f64::from(k), 1.0]]));
        let t = simple(&p).unwrap();
        assert_eq!(t.len(), p.len() - 2);
        let shoelace = crate::geometry::outline::signed_area(&p);
        assert!((area(&p, &t) - shoelace).abs() < 1e-9);
    }

    #[test]
    fn corners_on_a_straight_side_make_no_flat_triangle() {
        let p = vec![[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]];
        let t = simple(&p).unwrap();
        let flat = |t: &[u32; 3]| turn(p[t[0] as usize], p[t[1] as usize], p[t[2] as usize]) < 0.5;
        assert!(t.len() == 4 && !t.iter().any(flat));
    }

    #[test]
    fn a_plate_keeps_its_holes() {
        let mut p = vec![[0.0, 0.0], [40.0, 0.0], [40.0, 30.0], [0.0, 30.0]];
        let mut loops = vec![vec![0, 1, 2, 3]];
        for c in [[10.0, 10.0], [20.0, 10.0], [30.0, 10.0], [10.0, 20.0], [30.0, 20.0]] {
            let first = p.len() as u32;
            p.extend([[-2.0, 0.0], [0.0, 2.0], [2.0, 0.0], [0.0, -2.0]].map(|d| [c[0] + d[0], c[1] + d[1]]));
            loops.push((first..first + 4).collect());
        }
        let t = with_holes(&p, &loops).unwrap();
        assert_eq!(t.len(), p.len() + 2 * 5 - 2);
        assert!((area(&p, &t) - (1200.0 - 5.0 * 8.0)).abs() < 1e-9);
    }

    #[test]
    fn a_bow_tie_is_refused() {
        assert_eq!(simple(&[[0.0, 0.0], [2.0, 2.0], [2.0, 0.0], [0.0, 2.0], [-1.0, 1.0]]), None);
    }
}

//! Short lines put together to long ones, and points left out that nobody would see.

use crate::formats::drawing::Point;
use std::collections::BTreeMap;

/// Ends nearer than this meet, mm: ends that should meet come from the same corner and differ by rounding only.
const MEET: f64 = 1e-3;

/// Lines that turn more than this where they meet stay apart, as they do in an outline with corners.
const CORNER: f64 = 25.0;

/// A chain of points; a closed one does not repeat its first point.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// Its points in order.
    pub points: Vec<Point>,
    /// Whether the last is joined to the first.
    pub closed: bool,
}

/// One end of a segment: the segment's number, and 0 or 1.
type End = (usize, usize);

/// Chains that run through `segments`, each used once; joined where they go on smoothly; points within `tolerance`, mm, left out.
#[must_use]
pub fn chains(segments: &[[Point; 2]], tolerance: f64) -> Vec<Chain> {
    let joined = joints(segments);
    let mut used = vec![false; segments.len()];
    let mut chains = Vec::new();
    // Open chains first, from their free ends; what remains are rings.
    for ring in [false, true] {
        for start in 0..segments.len() {
            let end = if joined[start][0].is_none() { 0 } else { 1 };
            if !used[start] && (ring || joined[start][end].is_none()) {
                chains.push(followed(segments, &joined, &mut used, (start, end), ring));
            }
        }
    }
    chains.into_iter().map(|c| Chain { points: simplified(&c.points, c.closed, tolerance), ..c }).collect()
}

/// Points of a chain or ring without those that lie within `tolerance`, mm, of the line through the others.
#[must_use]
pub fn simplified(points: &[Point], closed: bool, tolerance: f64) -> Vec<Point> {
    if points.len() < 3 {
        return points.to_vec();
    }
    if !closed {
        let mut kept = vec![points[0]];
        keep_far(points, tolerance, &mut kept);
        return kept;
    }
    // A ring is two chains between its first point and the one furthest from it.
    let (far, _) = furthest(points, |p| distance(*p, points[0]));
    let back: Vec<Point> = points[far..].iter().chain(&points[..1]).copied().collect();
    let mut kept = vec![points[0]];
    keep_far(&points[..=far], tolerance, &mut kept);
    keep_far(&back, tolerance, &mut kept);
    kept.pop();
    kept
}

/// Which end goes on at which: the pairs that turn least, at each place where ends meet.
fn joints(segments: &[[Point; 2]]) -> Vec<[Option<End>; 2]> {
    let mut places: BTreeMap<[i64; 2], Vec<End>> = BTreeMap::new();
    for (i, segment) in segments.iter().enumerate() {
        for (end, p) in segment.iter().enumerate() {
            places.entry(p.map(|x| (x / MEET).round() as i64)).or_default().push((i, end));
        }
    }
    let mut joined = vec![[None; 2]; segments.len()];
    let smooth = CORNER.to_radians().cos();
    for ends in places.values() {
        let mut pairs: Vec<(f64, End, End)> = Vec::new();
        for (k, &a) in ends.iter().enumerate() {
            pairs.extend(ends[k + 1..].iter().filter(|b| b.0 != a.0).map(|&b| (straightness(segments, a, b), a, b)));
        }
        pairs.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (how, a, b) in pairs {
            if how >= smooth && joined[a.0][a.1].is_none() && joined[b.0][b.1].is_none() {
                (joined[a.0][a.1], joined[b.0][b.1]) = (Some(b), Some(a));
            }
        }
    }
    joined
}

/// Cosine of the turn from one segment into another at the given ends: 1 is straight on.
fn straightness(segments: &[[Point; 2]], a: End, b: End) -> f64 {
    let out = |(i, end): End| {
        let [p, q] = [segments[i][end], segments[i][1 - end]];
        let length = distance(p, q).max(f64::MIN_POSITIVE);
        [(q[0] - p[0]) / length, (q[1] - p[1]) / length]
    };
    let (u, v) = (out(a), out(b));
    -(u[0] * v[0] + u[1] * v[1])
}

/// The chain from one end on, along the joints.
fn followed(
    segments: &[[Point; 2]],
    joined: &[[Option<End>; 2]],
    used: &mut [bool],
    start: End,
    closed: bool,
) -> Chain {
    let mut points = vec![segments[start.0][start.1]];
    let mut next = Some(start);
    while let Some((i, end)) = next.filter(|(i, _)| !used[*i]) {
        used[i] = true;
        points.push(segments[i][1 - end]);
        next = joined[i][1 - end];
    }
    if closed {
        points.pop();
    }
    Chain { points, closed }
}

/// Adds the last point of a chain, and before it those that lie further than `tolerance` from the straight way.
fn keep_far(points: &[Point], tolerance: f64, kept: &mut Vec<Point>) {
    let (first, last) = (points[0], points[points.len() - 1]);
    let (far, off) = furthest(points, |p| off_line(*p, first, last));
    if off > tolerance && far > 0 && far < points.len() - 1 {
        keep_far(&points[..=far], tolerance, kept);
        keep_far(&points[far..], tolerance, kept);
    } else {
        kept.push(last);
    }
}

/// The point with the greatest measure, and the measure.
fn furthest(points: &[Point], measure: impl Fn(&Point) -> f64) -> (usize, f64) {
    points.iter().map(measure).enumerate().fold((0, f64::NEG_INFINITY), |best, x| if x.1 > best.1 { x } else { best })
}

/// Distance of `p` from the straight line between `a` and `b`, ends included, mm.
fn off_line(p: Point, a: Point, b: Point) -> f64 {
    let way = [b[0] - a[0], b[1] - a[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    if square <= 0.0 {
        return distance(p, a);
    }
    let t = (((p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]) / square).clamp(0.0, 1.0);
    distance(p, [a[0] + t * way[0], a[1] + t * way[1]])
}

fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(n: usize) -> Vec<[Point; 2]> {
        let at = |i: usize| {
            let a = i as f64 / n as f64 * std::f64::consts::TAU;
            [10.0 * a.cos(), 10.0 * a.sin()]
        };
        (0..n).map(|i| [at(i), at(i + 1)]).collect()
    }

    #[test]
    fn a_fine_polygon_is_one_ring_and_a_square_four_lines() {
        let ring = chains(&polygon(48), 1e-6);
        assert_eq!((ring.len(), ring[0].closed, ring[0].points.len()), (1, true, 48));
        let square = chains(&polygon(4), 1e-6);
        assert_eq!((square.len(), square[0].closed), (4, false));
    }

    /// Pieces in any order and direction make one line of two points.
    #[test]
    fn collinear_pieces_become_one_line() {
        let pieces = [[[3.0, 0.0], [2.0, 0.0]], [[0.0, 0.0], [1.0, 0.0]], [[1.0, 0.0], [2.0, 0.0]]];
        let found = chains(&pieces, 1e-6);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].points.len(), 2);
        assert!((found[0].points[0][0] - found[0].points[1][0]).abs() == 3.0);
    }

    /// At a crossing each line goes straight on.
    #[test]
    fn lines_cross_without_turning() {
        let pieces =
            [[[-1.0, 0.0], [0.0, 0.0]], [[0.0, -1.0], [0.0, 0.0]], [[0.0, 0.0], [1.0, 0.0]], [[0.0, 0.0], [0.0, 1.0]]];
        let found = chains(&pieces, 1e-6);
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|c| c.points.len() == 2));
    }

    #[test]
    fn simplified_points_stay_within_the_tolerance() {
        let points: Vec<Point> = polygon(200).iter().map(|s| s[0]).collect();
        let kept = simplified(&points, true, 0.05);
        assert!(kept.len() < 60 && kept.len() > 20, "{}", kept.len());
        for p in &points {
            let near = (0..kept.len()).map(|i| off_line(*p, kept[i], kept[(i + 1) % kept.len()]));
            assert!(near.fold(f64::INFINITY, f64::min) <= 0.05);
        }
    }
}

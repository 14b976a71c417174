//! Triangles for flat polygons with holes.

/// Triangles of a simple counter-clockwise polygon, indices into it. `None` when it is not simple.
pub(super) fn simple(points: &[[f64; 2]]) -> Option<Vec<[u32; 3]>> {
    let ring: Vec<u32> = (0..points.len() as u32).collect();
    clip_ears(points, ring)
}

/// Twice the signed area of a, b, c.
pub(super) fn turn(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Cuts ears off a ring (which may walk a bridge to a hole and back), best shaped first.
fn clip_ears(points: &[[f64; 2]], mut ring: Vec<u32>) -> Option<Vec<[u32; 3]>> {
    let mut out = Vec::with_capacity(ring.len());
    while ring.len() > 3 {
        let n = ring.len();
        let corner = |i: usize| [ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]];
        let ear = (0..n).filter(|&i| is_ear(points, &ring, corner(i))).max_by(|&i, &j| {
            let (a, b) = (roundness(points, corner(i)), roundness(points, corner(j)));
            a.total_cmp(&b).then(j.cmp(&i))
        })?;
        out.push(corner(ear));
        ring.remove(ear);
    }
    out.push(ring.try_into().ok()?);
    Some(out)
}

fn is_ear(points: &[[f64; 2]], ring: &[u32], t: [u32; 3]) -> bool {
    let [a, b, c] = t.map(|i| points[i as usize]);
    if turn(a, b, c) <= 0.0 {
        return false;
    }
    ring.iter().filter(|i| !t.contains(i)).all(|&i| {
        let p = points[i as usize];
        turn(a, b, p) < 0.0 || turn(b, c, p) < 0.0 || turn(c, a, p) < 0.0
    })
}

/// Area over squared longest side: 0 for a sliver.
fn roundness(points: &[[f64; 2]], t: [u32; 3]) -> f64 {
    let [a, b, c] = t.map(|i| points[i as usize]);
    let longest = [(a, b), (b, c), (c, a)].map(|(p, q)| (p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2));
    turn(a, b, c) / longest.into_iter().fold(f64::MIN_POSITIVE, f64::max)
}

//! Volume and area of a boundary representation by Gauss quadrature over its faces.

use std::f64::consts::PI;

use truck_modeling::{
    BoundedCurve, Curve, EuclideanSpace, InnerSpace, ParametricCurve, ParametricSurface, Point3, Surface, Vector3,
};
use truck_topology::compress::{CompressedEdgeIndex, CompressedShell};

type Shell = CompressedShell<Point3, Curve, Surface>;

/// Points per direction: an arc of 120 degrees as a rational curve is then integrated to 1e-12.
const POINTS: usize = 20;

/// Enclosed volume (mm3) and area of the curved faces (mm2).
///
/// Divergence theorem: the volume is a third of the flux of the position through the faces. A flat face needs only
/// its area, which is a line integral along its edges; any other face fills its whole parameter square.
pub(super) fn volume_and_curved_area(shell: &Shell) -> (f64, f64) {
    let rule = legendre(POINTS);
    let mut total = (0.0, 0.0);
    for face in &shell.faces {
        let (flux, curved) = match &face.surface {
            Surface::Plane(p) => (p.origin().to_vec().dot(area_vector(shell, &face.boundaries, &rule)), 0.0),
            s => patch(s, &rule),
        };
        let sign = if face.orientation { 1.0 } else { -1.0 };
        total = (total.0 + sign * flux / 3.0, total.1 + curved);
    }
    total
}

/// Half the integral of r x dr along the edges: the area as a vector along the outward normal.
fn area_vector(shell: &Shell, loops: &[Vec<CompressedEdgeIndex>], rule: &[(f64, f64)]) -> Vector3 {
    let edge = |e: &CompressedEdgeIndex| {
        let curve = &shell.edges[e.index].curve;
        let (a, b) = curve.range_tuple();
        let at = |&(x, w): &(f64, f64)| {
            let t = a + (b - a) * x;
            curve.subs(t).to_vec().cross(curve.der(t)) * (w * (b - a) / 2.0)
        };
        let sum: Vector3 = rule.iter().map(at).sum();
        if e.orientation { sum } else { -sum }
    };
    loops.iter().flatten().map(edge).sum()
}

/// Flux of the position through a whole patch over the unit square, and its area.
fn patch(s: &Surface, rule: &[(f64, f64)]) -> (f64, f64) {
    let mut out = (0.0, 0.0);
    for &(u, wu) in rule {
        for &(v, wv) in rule {
            let n = s.uder(u, v).cross(s.vder(u, v)) * (wu * wv);
            out = (out.0 + s.subs(u, v).to_vec().dot(n), out.1 + n.magnitude());
        }
    }
    out
}

/// Nodes and weights of Gauss-Legendre quadrature on 0..1: roots of the Legendre polynomial by Newton's method.
/// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 25.4.29, from memory.
fn legendre(n: usize) -> Vec<(f64, f64)> {
    let node = |i: usize| {
        let mut x = (PI * (i as f64 + 0.75) / (n as f64 + 0.5)).cos();
        for _ in 0..10 {
            let (p, d) = polynomial(n, x);
            x -= p / d;
        }
        let d = polynomial(n, x).1;
        ((1.0 - x) / 2.0, 1.0 / ((1.0 - x * x) * d * d))
    };
    (0..n).map(node).collect()
}

/// Legendre polynomial of degree n at x and its derivative, by the three-term recurrence.
fn polynomial(n: usize, x: f64) -> (f64, f64) {
    let (mut p, mut q) = (1.0, 0.0);
    for k in 0..n {
        let k = k as f64;
        (p, q) = (((2.0 * k + 1.0) * x * p - k * q) / (k + 1.0), p);
    }
    (p, n as f64 * (x * p - q) / (x * x - 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quadrature_is_exact_for_polynomials() {
        let integral = |k: i32| legendre(POINTS).iter().map(|(x, w)| w * x.powi(k)).sum::<f64>();
        for k in [0, 1, 7, 20, 39] {
            assert!((integral(k) - 1.0 / f64::from(k + 1)).abs() < 1e-14, "degree {k}");
        }
    }
}

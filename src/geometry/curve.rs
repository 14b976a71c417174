//! Closed curves in a plane as signed distances: what an outline's polygon stands for.

use std::f64::consts::FRAC_1_SQRT_2;

use nalgebra::{Isometry2, Point2, Vector2};

/// A closed curve in its own frame; distances have a slope of at most 1 and are negative within. Lengths mm.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Curve {
    /// Straight sides, corners counter-clockwise.
    Polygon(Vec<[f64; 2]>),
    /// A rectangle about the origin with these half sizes and rounded corners.
    Rectangle {
        /// Half sizes.
        half: [f64; 2],
        /// Radius of the corners.
        radius: f64,
    },
    /// Everything within a radius of a straight line; a circle where both ends are one point.
    Stadium {
        /// One end of the line.
        from: [f64; 2],
        /// The other.
        to: [f64; 2],
        /// Radius.
        radius: f64,
    },
    /// A circle round the origin and a crown of 45 degrees towards +y, cut flat at a height.
    Teardrop {
        /// Radius.
        radius: f64,
        /// Height of the flat top over the origin; at 1.414 radii the crown ends in a point.
        crown: f64,
    },
    /// Another curve, moved.
    Moved(Box<Curve>, Isometry2<f64>),
}

impl Curve {
    /// Distance of a point from the curve, mm, or less; negative within.
    pub(super) fn distance(&self, p: [f64; 2]) -> f64 {
        match self {
            Self::Polygon(corners) => polygon(corners, p),
            Self::Rectangle { half, radius } => {
                let d = [0, 1].map(|k| p[k].abs() - half[k] + radius);
                d[0].max(0.0).hypot(d[1].max(0.0)) + d[0].max(d[1]).min(0.0) - radius
            }
            Self::Stadium { from, to, radius } => from_segment(*from, *to, p) - radius,
            Self::Teardrop { radius, crown } => teardrop(*radius, *crown, p),
            Self::Moved(curve, at) => {
                let own = at.inverse_transform_point(&Point2::from(p));
                curve.distance([own.x, own.y])
            }
        }
    }

    /// The curve turned by an angle (radians, counter-clockwise) and then moved (mm).
    pub(super) fn moved(self, by: [f64; 2], turn: f64) -> Self {
        Self::Moved(Box::new(self), Isometry2::new(Vector2::from(by), turn))
    }
}

/// The crown is a wedge between the tangents at 45 degrees, from where they touch the circle upwards.
fn teardrop(radius: f64, crown: f64, [x, y]: [f64; 2]) -> f64 {
    let wedge = ((x.abs() + y) * FRAC_1_SQRT_2 - radius).max(radius * FRAC_1_SQRT_2 - y).max(y - crown);
    wedge.min(x.hypot(y) - radius)
}

/// Distance from a closed polygon, corners counter-clockwise, negative within.
fn polygon(corners: &[[f64; 2]], p: [f64; 2]) -> f64 {
    let mut nearest = f64::INFINITY;
    let mut within = false;
    let mut a = corners.last().copied().unwrap_or_default();
    for &b in corners {
        nearest = nearest.min(squared_from_segment(a, b, p));
        if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0] + (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]) {
            within = !within;
        }
        a = b;
    }
    if within { -nearest.sqrt() } else { nearest.sqrt() }
}

/// Distance of a point from a straight line between two points, mm.
pub(super) fn from_segment(a: [f64; 2], b: [f64; 2], p: [f64; 2]) -> f64 {
    squared_from_segment(a, b, p).sqrt()
}

fn squared_from_segment(a: [f64; 2], b: [f64; 2], p: [f64; 2]) -> f64 {
    let (d, v) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
    let length = d[0] * d[0] + d[1] * d[1];
    let t = if length > 0.0 { ((v[0] * d[0] + v[1] * d[1]) / length).clamp(0.0, 1.0) } else { 0.0 };
    let e = [v[0] - t * d[0], v[1] - t * d[1]];
    e[0] * e[0] + e[1] * e[1]
}

/// Distance from a profile of (distance along the axis, radius) pairs that is closed over the axis, which is no surface.
pub(super) fn profile(pairs: &[[f64; 2]], p: [f64; 2]) -> f64 {
    let (Some(&[first, r0]), Some(&[last, r1])) = (pairs.first(), pairs.last()) else { return f64::INFINITY };
    let mut nearest = squared_from_segment([first, 0.0], [first, r0], p);
    nearest = nearest.min(squared_from_segment([last, r1], [last, 0.0], p));
    let mut within = false;
    for pair in pairs.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        nearest = nearest.min(squared_from_segment(a, b, p));
        if a[0] <= p[0] && p[0] < b[0] {
            within = p[1] < a[1] + (b[1] - a[1]) * (p[0] - a[0]) / (b[0] - a[0]);
        }
    }
    if within { -nearest.sqrt() } else { nearest.sqrt() }
}

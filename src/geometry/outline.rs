//! Closed outlines in a plane.

use std::f64::consts::{FRAC_PI_2, PI, SQRT_2, TAU};

use super::curve::Curve;

/// Full circles have at least this many sides, so that small ones still look and fit round. Judgement.
const LEAST_SIDES: usize = 12;

/// Enlarges the inscribed radius of bores, mm, so that rounding to single precision and the removal of
/// slivers (both below 0.0005 mm) never make one smaller than its name.
const BORE_ALLOWANCE: f64 = 0.001;

/// How a polygon stands to the circle it replaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// For outsides: corners on the circle, nowhere larger.
    Inside,
    /// For bores: sides touch the circle, nowhere smaller.
    Outside,
}

impl Round {
    /// Number of sides of a full circle of this radius for a chord error, both mm; a multiple of four.
    #[must_use]
    pub fn sides(self, radius: f64, chord: f64) -> usize {
        let ratio = (chord / radius).clamp(1e-6, 0.5);
        let half = match self {
            Self::Inside => (1.0 - ratio).acos(),
            Self::Outside => (1.0 / (1.0 + ratio)).acos(),
        };
        ((PI / half).ceil() as usize).max(LEAST_SIDES).div_ceil(4) * 4
    }

    /// Distance of the corners from the centre for `sides` corners round a full circle, mm.
    #[must_use]
    pub fn corner_radius(self, radius: f64, sides: usize) -> f64 {
        match self {
            Self::Inside => radius,
            Self::Outside if radius > 0.0 => (radius + BORE_ALLOWANCE) / (PI / sides as f64).cos(),
            Self::Outside => 0.0,
        }
    }
}

/// A simple closed polygon, counter-clockwise, mm. May be concave.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Corners in order; the last joins the first.
    pub points: Vec<[f64; 2]>,
    /// What the polygon stands for.
    pub(super) curve: Curve,
}

impl Outline {
    /// Enclosed area, mm2.
    #[cfg(test)]
    pub(crate) fn area(&self) -> f64 {
        signed_area(&self.points)
    }

    /// From corners in either direction.
    #[must_use]
    pub fn polygon(mut points: Vec<[f64; 2]>) -> Self {
        points.dedup();
        if points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        if signed_area(&points) < 0.0 {
            points.reverse();
        }
        Self { curve: Curve::Polygon(points.clone()), points }
    }

    /// Width along x, depth along y, centred on the origin; corners of the given radius (0: sharp).
    #[must_use]
    pub fn rounded_rectangle(width: f64, depth: f64, radius: f64, chord: f64) -> Self {
        let (x, y) = (width / 2.0 - radius, depth / 2.0 - radius);
        let steps = if radius > 0.0 { Round::Inside.sides(radius, chord) / 4 } else { 0 };
        let corner = |(k, [cx, cy]): (usize, [f64; 2])| {
            (0..=steps).map(move |i| {
                let a = FRAC_PI_2 * (k as f64 - 1.0 + i as f64 / steps.max(1) as f64);
                [cx + radius * a.cos(), cy + radius * a.sin()]
            })
        };
        let corners = [[x, -y], [x, y], [-x, y], [-x, -y]].into_iter().enumerate().flat_map(corner).collect();
        Self { curve: Curve::Rectangle { half: [width / 2.0, depth / 2.0], radius }, ..Self::polygon(corners) }
    }

    /// A circle round the origin.
    #[must_use]
    pub fn circle(radius: f64, round: Round, chord: f64) -> Self {
        let n = round.sides(radius, chord);
        let r = round.corner_radius(radius, n);
        let curve = Curve::Stadium { from: [0.0; 2], to: [0.0; 2], radius };
        Self { points: (0..n).map(|i| at_angle(TAU * i as f64 / n as f64, r)).collect(), curve }
    }

    /// A regular hexagon round the origin with one corner on the x axis; `across_flats` mm.
    #[must_use]
    pub fn hexagon(across_flats: f64) -> Self {
        let r = across_flats / 3f64.sqrt();
        Self::polygon((0..6).map(|i| at_angle(TAU * f64::from(i) / 6.0, r)).collect())
    }

    /// Section of a horizontal bore that prints without support: a circle with a 45 degree crown towards +y.
    ///
    /// `crown`: height of a flat top above the axis (at least the radius); `None` for the full point at 1.414 radius.
    #[must_use]
    pub fn teardrop(radius: f64, crown: Option<f64>, chord: f64) -> Self {
        let arc = Round::Outside.sides(radius, chord) * 3 / 4;
        let (r, step) = (radius + BORE_ALLOWANCE, 1.5 * PI / arc as f64);
        let corner = |i: usize| at_angle(0.75 * PI + step * (i as f64 + 0.5), r / (step / 2.0).cos());
        let mut points: Vec<_> = (0..arc).map(corner).collect();
        let (tip, mut top) = (r * SQRT_2, radius * SQRT_2);
        match crown {
            Some(h) if h + BORE_ALLOWANCE < tip => {
                top = h.max(radius);
                let h = top + BORE_ALLOWANCE;
                points.extend([[tip - h, h], [h - tip, h]]);
            }
            _ => points.push([0.0, tip]),
        }
        Self { points, curve: Curve::Teardrop { radius, crown: top } }
    }

    /// The outline turned by an angle (radians, counter-clockwise) and then moved (mm).
    #[must_use]
    pub fn moved(mut self, by: [f64; 2], turn: f64) -> Self {
        let (s, c) = turn.sin_cos();
        for p in &mut self.points {
            *p = [by[0] + c * p[0] - s * p[1], by[1] + s * p[0] + c * p[1]];
        }
        self.curve = self.curve.moved(by, turn);
        self
    }
}

/// A slot whose full circle has this many sides, even, corners on the circle.
pub(super) fn stadium_round(a: [f64; 2], b: [f64; 2], radius: f64, sides: usize) -> Outline {
    let points = stadium_corners(a, b, radius, sides, Round::Inside);
    Outline { points, curve: Curve::Stadium { from: a, to: b, radius } }
}

/// Corners of a stadium from `a` to `b`, counter-clockwise, `sides` to the full circle, corners at `radius`.
///
/// Both ends get the same corners whatever the radius, so that stadiums of several radii can be joined.
/// `Round::Outside` sets the end corners on the straight sides' tangent polygon, so the slot is nowhere narrow.
pub(super) fn stadium_corners(a: [f64; 2], b: [f64; 2], radius: f64, sides: usize, round: Round) -> Vec<[f64; 2]> {
    let heading = (b[1] - a[1]).atan2(b[0] - a[0]);
    let step = TAU / sides as f64;
    let (count, first) = match round {
        Round::Inside => (sides / 2 + 1, 0.0),
        Round::Outside => (sides / 2, 0.5),
    };
    [(b, heading - FRAC_PI_2), (a, heading + FRAC_PI_2)]
        .into_iter()
        .flat_map(|(c, start)| {
            (0..count).map(move |i| {
                let [x, y] = at_angle(start + step * (i as f64 + first), radius);
                [c[0] + x, c[1] + y]
            })
        })
        .collect()
}

pub(super) fn at_angle(angle: f64, radius: f64) -> [f64; 2] {
    [radius * angle.cos(), radius * angle.sin()]
}

pub(super) fn signed_area(points: &[[f64; 2]]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(p, q)| p[0] * q[1] - q[0] * p[1]).sum::<f64>() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const CHORD: f64 = 0.05;

    fn nearest_side(o: &Outline) -> f64 {
        let next = o.points.iter().cycle().skip(1);
        o.points
            .iter()
            .zip(next)
            .map(|(p, q)| (p[0] * q[1] - q[0] * p[1]) / (q[0] - p[0]).hypot(q[1] - p[1]))
            .fold(f64::MAX, f64::min)
    }

    #[test]
    fn a_bore_is_never_smaller_and_hardly_larger_than_named() {
        for r in [0.8, 2.25, 8.15, 12.6, 30.0] {
            let slack = nearest_side(&Outline::circle(r, Round::Outside, CHORD)) - r;
            assert!((0.0..=0.01).contains(&slack), "radius {r}: slack {slack}");
        }
    }

    #[test]
    fn chord_error_is_kept_on_both_sides() {
        for r in [1.0, 8.0, 25.0] {
            let inner = r - nearest_side(&Outline::circle(r, Round::Inside, CHORD));
            let n = Round::Outside.sides(r, CHORD);
            let outer = Round::Outside.corner_radius(r, n) - r - BORE_ALLOWANCE;
            assert!((0.0..=CHORD).contains(&inner) && (0.0..=CHORD * 1.01).contains(&outer), "{r}: {inner} {outer}");
        }
    }

    #[test]
    fn areas_follow_the_closed_forms() {
        assert_relative_eq!(Outline::hexagon(7.0).area(), 3f64.sqrt() / 2.0 * 49.0, epsilon = 1e-12);
        let fine = 1e-5;
        let rr = Outline::rounded_rectangle(60.0, 40.0, 6.0, fine).area();
        assert_relative_eq!(rr, 2400.0 - (4.0 - PI) * 36.0, epsilon = 40.0 * fine);
        let n = Round::Inside.sides(2.0, fine);
        let slot = signed_area(&stadium_corners([1.0, 2.0], [4.0, 6.0], 2.0, n, Round::Inside));
        assert_relative_eq!(slot, PI * 4.0 + 5.0 * 4.0, epsilon = 15.0 * fine);
        let drop = Outline::teardrop(5.0, None, fine).area();
        assert_relative_eq!(drop, 25.0 * (0.75 * PI + 1.0), epsilon = 0.06);
    }

    #[test]
    fn a_cut_teardrop_ends_at_its_crown() {
        let o = Outline::teardrop(5.0, Some(5.6), CHORD);
        let top = o.points.iter().map(|p| p[1]).fold(f64::MIN, f64::max);
        assert_relative_eq!(top, 5.6, epsilon = 2e-3);
        assert!(nearest_side(&o) >= 5.0);
    }

    #[test]
    fn a_circumscribed_slot_is_nowhere_narrow() {
        let n = Round::Outside.sides(2.0, CHORD);
        let points = stadium_corners([-3.0, 0.0], [3.0, 0.0], Round::Outside.corner_radius(2.0, n), n, Round::Outside);
        let top = points.iter().map(|p| p[1]).fold(f64::MIN, f64::max);
        assert!((2.0..2.01).contains(&top), "{top}");
        assert!(signed_area(&points) > 0.0);
    }
}

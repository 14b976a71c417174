//! Standing and tipping: outline of the feet, loads that tip, tilt.

use crate::source::{Clause, Source};

/// Moments about an edge of the outline of the feet.
pub const TIPPING: Clause = Source::STATICS.at("moments about the edge between two feet");

/// Convex outline of points, counter-clockwise, without points inside or on an edge (monotone chain).
#[must_use]
pub fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let mut outline = half(sorted.iter());
    outline.pop();
    let mut back = half(sorted.iter().rev());
    back.pop();
    outline.append(&mut back);
    outline
}

fn half<'a>(points: impl Iterator<Item = &'a [f64; 2]>) -> Vec<[f64; 2]> {
    let mut chain: Vec<[f64; 2]> = Vec::new();
    for &p in points {
        while chain.len() > 1 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0 {
            chain.pop();
        }
        chain.push(p);
    }
    chain
}

fn turn(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// An edge of the outline about which the table may tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// First foot, mm.
    pub from: [f64; 2],
    /// Second foot, mm.
    pub to: [f64; 2],
}

impl Edge {
    /// Distance of a point outside the edge, mm: negative inside the outline. The outline runs counter-clockwise.
    #[must_use]
    pub fn outside(&self, point: [f64; 2]) -> f64 {
        let long = (self.to[0] - self.from[0]).hypot(self.to[1] - self.from[1]);
        -turn(self.from, self.to, point) / long
    }

    /// Direction square to the edge, pointing outwards.
    #[must_use]
    pub fn outward(&self) -> [f64; 2] {
        let [dx, dy] = [self.to[0] - self.from[0], self.to[1] - self.from[1]];
        let long = dx.hypot(dy);
        [dy / long, -dx / long]
    }

    /// Weight at `place` that tips a table of `weight` N whose middle of mass is at `centre`, N; `None` inside.
    #[must_use]
    pub fn tipping_weight(&self, weight: f64, centre: [f64; 2], place: [f64; 2]) -> Option<f64> {
        let lever = self.outside(place);
        (lever > 0.0).then(|| (weight * -self.outside(centre) / lever).max(0.0))
    }

    /// Sideways push at a height that tips, N.
    #[must_use]
    pub fn tipping_push(&self, weight: f64, centre: [f64; 2], height: f64) -> f64 {
        (weight * -self.outside(centre) / height).max(0.0)
    }

    /// Tilt of the floor that tips, radians, with the middle of mass `height` mm up.
    #[must_use]
    pub fn tipping_tilt(&self, centre: [f64; 2], height: f64) -> f64 {
        (-self.outside(centre)).atan2(height)
    }
}

/// Edges of the outline of the feet, counter-clockwise.
#[must_use]
pub fn edges(feet: &[[f64; 2]]) -> Vec<Edge> {
    let outline = hull(feet);
    let n = outline.len();
    if n < 3 {
        return vec![];
    }
    (0..n).map(|i| Edge { from: outline[i], to: outline[(i + 1) % n] }).collect()
}

/// The least weight put on one of `places` that tips the table: (weight N, edge, place); `None` when no place lies
/// outside the feet.
#[must_use]
pub fn worst_place(
    edges: &[Edge],
    weight: f64,
    centre: [f64; 2],
    places: &[[f64; 2]],
) -> Option<(f64, Edge, [f64; 2])> {
    let all = edges.iter().flat_map(|e| places.iter().map(move |p| (e, p)));
    let tips = all.filter_map(|(e, p)| e.tipping_weight(weight, centre, *p).map(|w| (w, *e, *p)));
    tips.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// The smallest tilt that tips, radians; 0 when there are fewer than three feet.
#[must_use]
pub fn worst_tilt(edges: &[Edge], centre: [f64; 2], height: f64) -> f64 {
    edges.iter().map(|e| e.tipping_tilt(centre, height)).min_by(f64::total_cmp).unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FEET: [[f64; 2]; 5] = [[-600., -250.], [600., -250.], [600., 250.], [-600., 250.], [0., 0.]];

    #[test]
    fn the_outline_leaves_out_what_is_inside_and_runs_counter_clockwise() {
        assert_eq!(hull(&FEET), vec![[-600., -250.], [600., -250.], [600., 250.], [-600., 250.]]);
        assert!(edges(&FEET).iter().all(|e| e.outside([0., 0.]) < 0.0));
    }

    #[test]
    fn a_weight_beyond_the_feet_tips_by_its_lever() {
        let edge = edges(&FEET)[0];
        assert_eq!(edge.outward(), [0.0, -1.0]);
        assert_eq!(edge.tipping_weight(300.0, [0., 0.], [0., -350.]), Some(750.0));
        assert_eq!(edge.tipping_weight(300.0, [0., 0.], [0., -200.]), None);
    }

    #[test]
    fn the_corner_of_three_legs_is_the_worst_place() {
        let edges = edges(&[[0., 400.], [-500., -300.], [500., -300.]]);
        let corners = [[-600., -400.], [600., -400.], [600., 400.], [-600., 400.]];
        let (_, _, place) = worst_place(&edges, 300.0, [0., 0.], &corners).expect("a corner lies outside");
        assert_eq!(place[1], 400.0);
    }

    #[test]
    fn a_ten_degree_tilt_needs_a_base_this_wide() {
        let tilt = worst_tilt(&edges(&FEET), [0., 0.], 800.0);
        assert!((tilt - (250.0_f64 / 800.0).atan()).abs() < 1e-12);
        assert_eq!(worst_tilt(&[], [0., 0.], 800.0), 0.0);
    }
}

//! What the table weighs and where, what stands on each foot, and the forces that just do not tip it.

use nalgebra::{Matrix3, Vector3};

use super::Model;
use super::cases::middle;
use crate::clauses::stability::{self, Edge};
use crate::params::Duration;
use crate::units::GRAVITY;

/// Mass and the place of its centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// kg.
    pub mass: f64,
    /// World, mm.
    pub centre: [f64; 3],
}

impl Model {
    /// The table, with what weighs down on it for years or empty.
    #[must_use]
    pub fn weighed(&self, loaded: bool) -> Weighed {
        let p = &self.params;
        let mut items: Vec<(f64, Vector3<f64>)> =
            vec![(self.top_mass(), Vector3::new(0.0, 0.0, p.height - p.top.thickness / 2.0))];
        for leg in &self.legs {
            items.extend(leg.tubes.iter().map(|t| (p.legs.tube.mass_per_mm() * leg.tube_length, (t[0] + t[1]) / 2.0)));
        }
        items.extend(self.rails.iter().map(|r| (r.tube.mass_per_mm() * r.length, (r.ends[0] + r.ends[1]) / 2.0)));
        if loaded {
            let lasting = p.loads.iter().filter(|l| l.lasts == Duration::Years && l.direction[2] < -0.99);
            items.extend(lasting.map(|l| {
                let [x, y] = middle(p, l);
                let on_face = Vector3::new(x - p.top.length / 2.0, y - p.top.width / 2.0, p.height);
                (l.force / GRAVITY, on_face)
            }));
        }
        let mass: f64 = items.iter().map(|i| i.0).sum();
        let centre = items.iter().fold(Vector3::zeros(), |sum, (m, at)| sum + at * *m) / mass;
        Weighed { mass, centre: centre.into() }
    }

    /// Feet on the floor, world, mm, in the order of the legs.
    #[must_use]
    pub fn on_floor(&self) -> Vec<[f64; 2]> {
        self.legs.iter().map(|l| l.frame.on_axis(0.0)).map(|p| [p.x, p.y]).collect()
    }

    /// What stands on each foot for years, N: a rigid top on feet that give alike, so that it runs over the feet as a plane
    /// does (judgement: exact for three feet; a floor that is not level makes some stand on less and others on more).
    pub(super) fn on_each_foot(&self) -> Vec<f64> {
        let Weighed { mass, centre } = self.weighed(true);
        let feet = self.on_floor();
        let row = |p: &[f64; 2]| Vector3::new(1.0, p[0], p[1]);
        let sum = feet.iter().fold(Matrix3::zeros(), |sum, p| sum + row(p) * row(p).transpose());
        let whole = Vector3::new(1.0, centre[0], centre[1]) * (mass * GRAVITY);
        let even = mass * GRAVITY / feet.len() as f64;
        let plane = sum.lu().solve(&whole);
        feet.iter().map(|p| plane.map_or(even, |plane| plane.dot(&row(p)).max(0.0))).collect()
    }

    /// Level push at the show face along a unit vector that just does not tip the table under what stays, N.
    pub(super) fn push_that_tips(&self, along: [f64; 2]) -> f64 {
        let Weighed { mass, centre } = self.weighed(true);
        let towards = |e: &Edge| along[0] * e.outward()[0] + along[1] * e.outward()[1];
        let edges = stability::edges(&self.on_floor()).into_iter().filter(|e| towards(e) > 1e-6);
        let push = |e: Edge| e.tipping_push(mass * GRAVITY, [centre[0], centre[1]], self.params.height) / towards(&e);
        edges.map(push).fold(f64::INFINITY, f64::min)
    }

    /// Weight at a point, world, mm, that just does not tip the table under what stays, N.
    pub(super) fn weight_that_tips(&self, at: [f64; 2]) -> f64 {
        let Weighed { mass, centre } = self.weighed(true);
        let edges = stability::edges(&self.on_floor());
        let tips = edges.iter().filter_map(|e| e.tipping_weight(mass * GRAVITY, [centre[0], centre[1]], at));
        tips.fold(f64::INFINITY, f64::min)
    }

    /// Points of the top at which a weight is tried, mm from the corner at -x -y: near the edges over the legs' gaps and the
    /// corners, and along the middle.
    pub(super) fn tried_points(&self, from_edge: f64) -> Vec<[f64; 2]> {
        let t = &self.params.top;
        let [l, w] = [t.length, t.width];
        let near = |size: f64| from_edge.min(size / 4.0);
        let mut heads: Vec<f64> = self.legs.iter().map(|leg| leg.frame.head.x + l / 2.0).collect();
        heads.sort_by(f64::total_cmp);
        let mut xs = vec![near(l)];
        let between = heads.windows(2).filter(|w| w[1] - w[0] > from_edge).map(|w| f64::midpoint(w[0], w[1]));
        xs.extend(between);
        xs.push(l - near(l));
        let ys = [near(w), w / 2.0, w - near(w)];
        xs.into_iter().flat_map(|x| ys.map(|y| [x, y])).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model(more: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm", "mass": "20 kg"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm", "inset_from_ends": "100 mm", "inset_from_sides": "100 mm" {more}}},
                "loads": [{{"mass": "30 kg", "at": ["30 %", "45 %"]}}]}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    /// Three feet are found by moments; four share what their sum and moments allow.
    #[test]
    fn feet_stand_on_what_statics_gives_them() {
        for legs in ["", r#", "count": 3"#, r#", "count": 6"#] {
            let m = model(legs);
            let (feet, all) = (m.on_floor(), m.on_each_foot());
            let Weighed { mass, centre } = m.weighed(true);
            let moment = |k: usize| feet.iter().zip(&all).map(|(p, f)| p[k] * f).sum::<f64>() / (mass * GRAVITY);
            assert!((all.iter().sum::<f64>() - mass * GRAVITY).abs() < 1e-6, "{all:?}");
            assert!((moment(0) - centre[0]).abs() < 1e-6 && (moment(1) - centre[1]).abs() < 1e-6, "{all:?}");
        }
    }

    /// By hand: feet at 500 mm, about the edge at x = 500: W a = F h.
    #[test]
    fn the_push_that_tips_is_found_by_moments() {
        let m = model("");
        let Weighed { mass, centre } = m.weighed(true);
        let [forward, back] = [[1.0, 0.0], [-1.0, 0.0]].map(|along| m.push_that_tips(along));
        assert!((forward - mass * GRAVITY * (500.0 - centre[0]) / 740.0).abs() < 1e-6, "{forward}");
        assert!((back - mass * GRAVITY * (500.0 + centre[0]) / 740.0).abs() < 1e-6 && back < forward, "{back}");
        let weight = m.weight_that_tips([600.0, 0.0]);
        let over_x = mass * GRAVITY * (500.0 - centre[0]) / 100.0;
        assert!((weight - over_x).abs() < 1e-6, "{weight}");
        assert_eq!(m.weight_that_tips([0.0, 0.0]), f64::INFINITY);
    }

    #[test]
    fn a_weight_is_tried_between_all_legs() {
        assert_eq!(model("").tried_points(100.0).len(), 9);
        assert_eq!(model(r#", "count": 6"#).tried_points(100.0).len(), 12);
    }
}

//! A mesh in layers, as a printer lays them: plane regions, and what can be done with them.

use std::f64::consts::PI;
use std::sync::Arc;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::simplify::SimplifyShape;
use i_overlay::float::single::SingleFloatOverlay;
use i_overlay::mesh::float::outline::offset::OutlineOffset;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};

use super::mesh::{Mesh, doubled_area_vector};
use super::outline::signed_area;

/// Step of the arcs with which a grown region goes round its corners, radians: 1.2 % of the offset off the arc.
const ARC: f64 = PI / 10.0;
/// Contours that enclose less than this, mm2, are rounding and are left out.
const LEAST_AREA: f64 = 1e-7;

/// A region of a plane, mm: outlines counter-clockwise, holes clockwise, none crossing another.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    contours: Vec<Vec<[f64; 2]>>,
}

impl Region {
    /// What closed contours wind round; they may cross, and those the wrong way round are holes.
    #[cfg(test)]
    fn of(contours: &[Vec<[f64; 2]>]) -> Self {
        Self::flat(contours.to_vec().simplify_shape(FillRule::Positive))
    }

    /// Whether nothing is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.contours.is_empty()
    }

    /// Area, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.contours.iter().map(|c| signed_area(c)).sum()
    }

    /// What is in both.
    #[must_use]
    pub fn within(&self, other: &Self) -> Self {
        self.overlaid(other, OverlayRule::Intersect)
    }

    /// The connected pieces, each with its holes.
    #[must_use]
    pub fn pieces(&self) -> Vec<Self> {
        let shapes = self.contours.simplify_shape(FillRule::Positive);
        shapes.into_iter().map(|contours| Self { contours }).collect()
    }

    /// What is in this region and not in the other.
    #[must_use]
    pub fn without(&self, other: &Self) -> Self {
        self.overlaid(other, OverlayRule::Difference)
    }

    /// The region grown by a distance on all sides, or shrunk by a negative one, mm; corners are rounded.
    #[must_use]
    pub fn offset(&self, by: f64) -> Self {
        if self.is_empty() || by == 0.0 {
            return self.clone();
        }
        let style = OutlineStyle::new(by).line_join(LineJoin::Round(ARC));
        Self::flat(self.contours.outline(&style))
    }

    fn overlaid(&self, other: &Self, rule: OverlayRule) -> Self {
        Self::flat(self.contours.overlay(&other.contours, rule, FillRule::Positive))
    }

    fn flat(shapes: Vec<Vec<Vec<[f64; 2]>>>) -> Self {
        let contours = shapes.into_iter().flatten().filter(|c| signed_area(c).abs() > LEAST_AREA).collect();
        Self { contours }
    }
}

/// One layer of a part.
#[derive(Clone, Debug)]
pub struct Layer {
    /// Height of its middle over the bed, mm.
    pub middle: f64,
    /// What is printed in it: the part's section at the middle. The same `Arc` as below where nothing changes.
    pub region: Arc<Region>,
}

/// The layers of a closed mesh from z = 0 up, each cut at its middle. A top thinner than half a layer gets none.
#[must_use]
pub fn layers(mesh: &Mesh, height: f64) -> Vec<Layer> {
    let top = mesh.points.iter().map(|p| p[2]).fold(0.0, f64::max);
    let count = (top / height + 0.5 - 1e-9).floor() as usize;
    let middles: Vec<f64> = (0..count).map(|i| (i as f64 + 0.5) * height).collect();
    let changes = changes(mesh, &middles);
    let mut out: Vec<Layer> = Vec::with_capacity(count);
    for (i, (middle, region)) in middles.iter().zip(sections(mesh, &middles)).enumerate() {
        let same = out.last().filter(|_| !changes[i]).map(|below| Arc::clone(&below.region));
        out.push(Layer { middle: *middle, region: same.unwrap_or_else(|| Arc::new(region)) });
    }
    out
}

/// Whether the section at each height differs from the one before: something but an upright wall lies between them.
fn changes(mesh: &Mesh, heights: &[f64]) -> Vec<bool> {
    let mut out = vec![false; heights.len()];
    for t in &mesh.triangles {
        let corners = mesh.corners(t);
        if doubled_area_vector(&corners).z != 0.0 {
            let z = corners.map(|p| p.z);
            let first = heights.partition_point(|h| *h < z[0].min(z[1]).min(z[2]));
            let last = heights.partition_point(|h| *h <= z[0].max(z[1]).max(z[2]));
            out[first..(last + 1).min(heights.len())].fill(true);
        }
    }
    out
}

/// A step of a contour across one triangle: from edge to edge, and where it begins.
type Step = ([u32; 2], [u32; 2], [f64; 2]);

/// The sections of a closed mesh at rising heights, mm. A corner at a height counts as above it.
fn sections(mesh: &Mesh, heights: &[f64]) -> Vec<Region> {
    let mut steps: Vec<Vec<Step>> = vec![Vec::new(); heights.len()];
    for t in &mesh.triangles {
        let z = t.map(|i| mesh.points[i as usize][2]);
        let (low, high) = (z[0].min(z[1]).min(z[2]), z[0].max(z[1]).max(z[2]));
        let first = heights.partition_point(|h| *h <= low);
        let last = heights.partition_point(|h| *h <= high);
        for (h, list) in heights[first..last].iter().zip(&mut steps[first..last]) {
            list.push(across(mesh, t, *h));
        }
    }
    steps.into_iter().map(chained).collect()
}

/// The step across a triangle that has corners below and above; what is solid lies to its left.
fn across(mesh: &Mesh, t: &[u32; 3], z: f64) -> Step {
    let above = |i: u32| mesh.points[i as usize][2] >= z;
    let sides = [0, 1, 2].map(|k| [t[k], t[(k + 1) % 3]]);
    let mut step = (sides[0], sides[0], [0.0; 2]);
    for [a, b] in sides {
        let key = [a.min(b), a.max(b)];
        match (above(a), above(b)) {
            // Seen from outside with z up, a contour that keeps the solid to its left runs from the edge that falls
            // to the edge that rises.
            (true, false) => (step.0, step.2) = (key, crossing(mesh, key, z)),
            (false, true) => step.1 = key,
            _ => {}
        }
    }
    step
}

/// Where an edge crosses a height: the same for both its triangles.
fn crossing(mesh: &Mesh, [a, b]: [u32; 2], z: f64) -> [f64; 2] {
    let (p, q) = (mesh.points[a as usize], mesh.points[b as usize]);
    let t = (z - p[2]) / (q[2] - p[2]);
    [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]
}

/// Joins steps to closed contours; in a closed mesh each ends where exactly one begins.
fn chained(mut steps: Vec<Step>) -> Region {
    steps.sort_by_key(|s| s.0);
    let mut used = vec![false; steps.len()];
    let mut contours = Vec::new();
    for first in 0..steps.len() {
        let (mut contour, mut at) = (Vec::new(), first);
        while !used[at] {
            used[at] = true;
            contour.push(steps[at].2);
            let Ok(next) = steps.binary_search_by_key(&steps[at].1, |s| s.0) else { break };
            at = next;
        }
        contour.dedup();
        if contour.len() > 2 {
            contours.push(contour);
        }
    }
    Region { contours }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Axis, Feature, Outline, Round, Solid, samples};
    use nalgebra::Isometry3;

    fn square(side: f64, x: f64) -> Region {
        Region::of(&[Outline::rounded_rectangle(side, side, 0.0, 1.0).moved([x, 0.0], 0.0).points])
    }

    fn near(a: f64, b: f64, by: f64) {
        assert!((a - b).abs() <= by, "{a} {b}");
    }

    #[test]
    fn regions_meet_and_part_with_the_areas_of_the_closed_forms() {
        let (a, b) = (square(10.0, 0.0), square(10.0, 4.0));
        near(a.within(&b).area(), 60.0, 1e-4);
        near(a.without(&b).area(), 40.0, 1e-4);
        let ring = a.without(&square(4.0, 0.0));
        near(ring.area(), 84.0, 1e-4);
        let corners = |side: f64, x: f64| Outline::rounded_rectangle(side, side, 0.0, 1.0).moved([x, 0.0], 0.0).points;
        let apart = Region::of(&[ring.contours.clone(), vec![corners(2.0, 0.0), corners(3.0, 20.0)]].concat());
        let areas: Vec<f64> = apart.pieces().iter().map(|p| p.area().round()).collect();
        assert_eq!((areas.len(), areas.iter().sum::<f64>()), (3, 97.0));
        assert!(a.without(&square(20.0, 0.0)).is_empty() && a.within(&square(2.0, 30.0)).is_empty());
    }

    #[test]
    fn offsets_move_outlines_out_and_holes_in() {
        let ring = square(20.0, 0.0).without(&square(8.0, 0.0));
        // Outside grown with round corners, the hole's corners stay sharp; arcs are 1.2 % of a millimetre short.
        near(ring.offset(1.0).area(), 20.0 * 20.0 + 4.0 * 20.0 + PI - 36.0, 0.06);
        near(ring.offset(-1.0).area(), 18.0 * 18.0 - (64.0 + 32.0 + PI), 0.06);
        assert!(ring.offset(-4.3).is_empty(), "corner to corner is 8.5 mm");
        assert_eq!(ring.offset(0.0), ring);
    }

    #[test]
    fn a_section_keeps_what_is_solid_to_its_left() {
        let block = Feature::block([20.0, 10.0, 10.0], &Isometry3::translation(0.0, 0.0, 5.0));
        let bore = Feature::revolved(&Axis::upright(3.0, 0.0), &[(-1.0, 2.0), (11.0, 2.0)], Round::Outside, 0.05);
        let hole = Outline::circle(2.0, Round::Outside, 0.05).area();
        let mesh = Solid::of(vec![block]).minus([bore]).mesh().unwrap();
        let layers = layers(&mesh, 0.3);
        near(layers[13].region.area(), 200.0 - hole, 1e-3);
        assert_eq!(layers.len(), 33);
        assert!(layers.iter().all(|l| Arc::ptr_eq(&l.region, &layers[0].region)), "a prism changes nowhere");
    }

    #[test]
    fn layers_of_random_brackets_add_up_to_their_volume() {
        for seed in 1..=30 {
            let mesh = samples::bracket(seed, 0.05).solid.mesh().unwrap();
            let layers = layers(&mesh, 0.1);
            assert!(layers.iter().all(|l| l.region.area() > 0.0));
            let sum: f64 = layers.iter().map(|l| l.region.area() * 0.1).sum();
            // A horizontal face between two middles is half a layer off at most: the plate's, and the bosses' floors.
            near(sum, mesh.volume(), 0.05 * 2.0 * layers[0].region.area());
            for l in layers.iter().step_by(37) {
                let again = Region::of(&l.region.contours);
                near(again.area(), l.region.area(), 1e-3);
                assert!(l.region.without(&l.region.offset(0.01)).is_empty(), "bracket {seed} at {}", l.middle);
            }
        }
    }
}

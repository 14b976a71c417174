//! Where a solid is, without booleans: its features' inside functions put together.

use nalgebra::Point3;

use super::feature::Feature;
use super::mesh::Aabb;
use super::shape::Body;

/// Edge of the smallest cells of [`Inside::volume`] in a box of [`BOX`], mm. Along every sharp outer edge a twelfth of a cell's section is
/// counted too much, up to 0.4 % on brackets with many gussets.
const CELL: f64 = 1.5;
/// Volume of a bracket's box, mm3. A smaller part gets smaller cells, in proportion, so that thin ones are as exact.
const BOX: f64 = 800_000.0;
/// Least share of [`CELL`] that a small part's cells have. Judgement: it keeps the effort in bounds.
const LEAST: f64 = 0.3;
/// The largest cells are this many times larger.
const HALVINGS: u32 = 4;

/// A solid as a function of a point with a slope of at most 1, negative within: joined features are a minimum, what is
/// cut is a maximum, ridges are a minimum again. Beyond concave edges it is less than the distance.
#[derive(Clone)]
pub struct Inside<'a> {
    adds: Vec<&'a Body>,
    cuts: Vec<&'a Body>,
    ridges: Vec<&'a Body>,
}

impl<'a> Inside<'a> {
    /// Everything in `adds` joined, without everything in `cuts`, with everything in `ridges`.
    pub(super) fn of(adds: &'a [Feature], cuts: &'a [Feature], ridges: &'a [Feature]) -> Self {
        let [adds, cuts, ridges] = [adds, cuts, ridges].map(|list| list.iter().flat_map(|f| &f.bodies).collect());
        Self { adds, cuts, ridges }
    }

    /// Distance of a point from the surface, mm, or less; negative within.
    #[must_use]
    pub fn at(&self, p: &Point3<f64>) -> f64 {
        let joined = self.adds.iter().map(|b| b.inside(p)).fold(f64::INFINITY, f64::min);
        let cut = self.cuts.iter().map(|b| -b.inside(p)).fold(joined, f64::max);
        self.ridges.iter().map(|b| b.inside(p)).fold(cut, f64::min)
    }

    /// The same function within a ball, of those bodies only that may decide there: what a slope of at most 1 leaves.
    #[must_use]
    pub fn near(&self, p: &Point3<f64>, radius: f64) -> Self {
        let of = |list: &[&'a Body]| -> Vec<(&'a Body, f64)> { list.iter().map(|b| (*b, b.inside(p))).collect() };
        let (adds, cuts, ridges) = (of(&self.adds), of(&self.cuts), of(&self.ridges));
        let joined = adds.iter().map(|a| a.1).fold(f64::INFINITY, f64::min);
        let cut = cuts.iter().map(|c| -c.1).fold(joined, f64::max);
        let whole = ridges.iter().map(|r| r.1).fold(cut, f64::min);
        let keep = |list: Vec<(&'a Body, f64)>, deciding: &dyn Fn(f64) -> bool| {
            list.into_iter().filter(|(_, f)| deciding(*f)).map(|(b, _)| b).collect()
        };
        Self {
            adds: keep(adds, &|f| f - radius <= joined + radius),
            cuts: keep(cuts, &|f| -f + radius >= cut - radius),
            ridges: keep(ridges, &|f| f - radius <= whole + radius),
        }
    }

    /// Volume within a box, mm3, by halving cubes until each is settled or small; the same bits whenever it is asked.
    #[must_use]
    pub fn volume(&self, within: &Aabb) -> f64 {
        let edge = cell(within) * f64::from(1u32 << HALVINGS);
        let counts = within.size().map(|s| (s / edge).ceil().max(1.0) as usize);
        let start = [0, 1, 2].map(|k| f64::midpoint(within.min[k], within.max[k]) - counts[k] as f64 * edge / 2.0);
        let cube = |i: usize| {
            let at = [i % counts[0], i / counts[0] % counts[1], i / counts[0] / counts[1]];
            self.in_cube(Point3::from([0, 1, 2].map(|k| start[k] + (at[k] as f64 + 0.5) * edge)), edge, HALVINGS)
        };
        (0..counts.iter().product()).map(cube).sum()
    }

    fn in_cube(&self, middle: Point3<f64>, edge: f64, halvings: u32) -> f64 {
        let f = self.at(&middle);
        let corner = edge * 3f64.sqrt() / 2.0;
        if f >= corner {
            return 0.0;
        }
        if f <= -corner {
            return edge.powi(3);
        }
        if halvings == 0 {
            return edge.powi(3) * (0.5 - f / edge).clamp(0.0, 1.0);
        }
        let near = self.near(&middle, corner);
        let offset = |bit: usize| if bit > 0 { edge / 4.0 } else { -edge / 4.0 };
        let part = |o: usize| middle + nalgebra::Vector3::new(offset(o & 1), offset(o & 2), offset(o & 4));
        (0..8).map(|o| near.in_cube(part(o), edge / 2.0, halvings - 1)).sum()
    }
}

/// Edge of the smallest cells in a box, mm.
fn cell(within: &Aabb) -> f64 {
    CELL * (within.size().iter().product::<f64>() / BOX).cbrt().clamp(LEAST, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::samples::{self, Dice};

    #[test]
    fn volumes_without_booleans_are_those_of_the_meshes() {
        // A fine chord, since a wall of 4 mm between two curves loses 1 % at 0.05 mm. The quadrature is 0.7 % off at worst here.
        for seed in 1..=12 {
            let solid = samples::bracket(seed, 0.005).solid;
            let (found, meshed) = (solid.volume(), solid.mesh().unwrap().volume());
            assert!((found / meshed - 1.0).abs() < 0.008, "bracket {seed}: {found} {meshed}");
        }
    }

    #[test]
    fn no_slope_is_above_one() {
        for seed in 1..=10 {
            let solid = samples::bracket(seed, 0.05).solid;
            let d = &mut Dice::of(seed + 77);
            let inside = solid.inside();
            for _ in 0..3000 {
                let p = Point3::new(d.between(-70.0, 70.0), d.between(-70.0, 70.0), d.between(-3.0, 60.0));
                let reach = d.between(0.001, 3.0);
                let by = nalgebra::Vector3::new(d.between(-1.0, 1.0), d.between(-1.0, 1.0), d.between(-1.0, 1.0));
                let q = p + by * reach;
                let (rise, run) = ((inside.at(&p) - inside.at(&q)).abs(), (p - q).norm());
                assert!(rise <= run * (1.0 + 1e-9) + 1e-12, "bracket {seed} at {p}: {rise} over {run}");
                assert_eq!(inside.near(&p, run).at(&q), inside.at(&q), "bracket {seed} at {q}");
            }
        }
    }
}

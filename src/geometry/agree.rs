//! A printed mesh judged by its own features: no boolean has a say in it.

use std::collections::BTreeMap;

use nalgebra::Point3;

use super::fault::Fault;
use super::inside::Inside;
use super::mesh::Mesh;
use super::solid::Solid;

/// Places on a triangle that are looked at are nowhere farther apart than this along its longest side and across it, mm:
/// half the smallest screw hole, so that a feature that was forgotten cannot lie between them. Judgement.
const APART: f64 = 2.0;
/// How far a mesh may be from its features besides the chord error, mm: where two curved faces meet at a flat angle their
/// chord errors add up, and slivers are taken out (0.03 mm beyond the chord error was seen on one random kit in 150). Judgement: a
/// fifth of a printer's line, and below the least feature, an engraved letter 0.6 mm deep.
const TOLERANCE: f64 = 0.08;
/// How far volumes may differ besides the chord error all over the surface, as a share: the quadrature was off by up to 0.045
/// of thin ties and feet among 3,000 random kits, with every place of their surface right. Judgement: a pocket that is filled
/// or hollow by mistake is more.
const VOLUME: f64 = 0.04;
/// Edge of the cells in which the features that matter are sorted out once, mm. Measured.
const CELL: f64 = 8.0;

/// Where a mesh is not what its features say: all over its surface the inside function is zero within the chord error, and
/// it encloses their volume, up to `filled` mm3 of closed pockets that were filled up.
#[must_use]
pub fn disagreements(mesh: &Mesh, solid: &Solid, chord: f64, filled: f64) -> Vec<Fault> {
    let off = |(p, f): (Point3<f64>, f64)| (f.abs() > chord + TOLERANCE).then_some((p, f));
    let stray: Vec<_> = distances(mesh, &solid.inside()).into_iter().filter_map(off).collect();
    let worst = stray.iter().copied().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let surface = worst.map(|(at, by)| Fault::OffFeatures { count: stray.len(), at: at.into(), by });
    let (features, meshed) = (solid.volume() + filled, mesh.volume());
    let bound = VOLUME * features + chord * mesh.area();
    let apart = (features - meshed).abs() > bound;
    surface.into_iter().chain(apart.then_some(Fault::NotItsFeatures { features, mesh: meshed, bound })).collect()
}

/// Places on the surface and the inside function there, in a fixed order.
fn distances(mesh: &Mesh, inside: &Inside) -> Vec<(Point3<f64>, f64)> {
    let mut cells: BTreeMap<[i64; 3], Vec<Point3<f64>>> = BTreeMap::new();
    let corners = (0..mesh.points.len()).map(|i| mesh.point(i as u32));
    for p in corners.chain(mesh.triangles.iter().flat_map(|t| places(mesh.corners(t)))) {
        cells.entry([p.x, p.y, p.z].map(|x| (x / CELL).floor() as i64)).or_default().push(p);
    }
    let radius = CELL * 3f64.sqrt() / 2.0;
    let judged = |(cell, all): (&[i64; 3], &Vec<Point3<f64>>)| {
        let middle = Point3::from(cell.map(|i| (i as f64 + 0.5) * CELL));
        let near = inside.near(&middle, radius);
        all.iter().map(|p| (*p, near.at(p))).collect::<Vec<_>>()
    };
    cells.iter().flat_map(judged).collect()
}

/// Places within a triangle: rows along its longest side.
fn places(corners: [Point3<f64>; 3]) -> Vec<Point3<f64>> {
    let side = |i: usize| (corners[(i + 1) % 3] - corners[i]).norm();
    let first = (0..3).max_by(|&i, &j| side(i).total_cmp(&side(j))).unwrap_or(0);
    let [a, b, c] = [0, 1, 2].map(|k| corners[(first + k) % 3]);
    let base = side(first);
    let height = (b - a).cross(&(c - a)).norm() / base.max(f64::MIN_POSITIVE);
    let rows = (height / APART).ceil().max(1.0) as usize;
    let row = |j: usize| {
        let up = (j as f64 + 0.5) / rows as f64;
        let (from, along) = (a + (c - a) * up, (b - a) * (1.0 - up));
        let count = (base * (1.0 - up) / APART).ceil().max(1.0) as usize;
        (0..count).map(move |i| from + along * ((i as f64 + 0.5) / count as f64))
    };
    (0..rows).flat_map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Axis, Feature, Round, samples};
    use nalgebra::{Isometry3, Vector3};

    const CHORD: f64 = 0.05;

    #[test]
    fn a_hundred_random_brackets_are_what_their_features_say() {
        for seed in 1..=100 {
            let solid = samples::bracket(seed, CHORD).solid;
            let (mesh, filled) = solid.mesh_and_pockets().unwrap();
            let faults = disagreements(&mesh, &solid, CHORD, filled);
            assert!(faults.is_empty(), "bracket {seed}: {faults:?}");
        }
    }

    #[test]
    fn a_feature_that_booleans_lost_is_seen() {
        let solid = samples::bracket(7, CHORD).solid;
        for k in 1..solid.adds.len() {
            let mut less = solid.clone();
            less.adds.remove(k);
            let faults = disagreements(&less.mesh().unwrap(), &solid, CHORD, 0.0);
            assert!(matches!(faults[..], [Fault::OffFeatures { .. }, ..]), "add {k}: {faults:?}");
        }
        for k in 0..solid.cuts.len() {
            let mut less = solid.clone();
            let kind = less.cuts.remove(k).kind;
            let faults = disagreements(&less.mesh().unwrap(), &solid, CHORD, 0.0);
            assert!(matches!(faults[..], [Fault::OffFeatures { .. }, ..]), "{kind} {k}: {faults:?}");
        }
    }

    #[test]
    fn a_mesh_that_slipped_or_is_too_coarse_is_seen() {
        let solid = samples::bracket(3, CHORD).solid;
        let mesh = solid.mesh().unwrap();
        let slipped = mesh.transformed(&Isometry3::translation(0.0, 0.15, 0.0));
        let found = disagreements(&slipped, &solid, CHORD, 0.0);
        assert!(matches!(found[..], [Fault::OffFeatures { by, .. }] if (by.abs() - 0.15).abs() < 0.06), "{found:?}");
        let coarse = Feature::revolved(&Axis::upright(0.0, 0.0), &[(0.0, 9.0), (9.0, 9.0)], Round::Inside, 0.3);
        let coarse = Solid::of(vec![coarse]);
        let off = |chord| {
            let found = disagreements(&coarse.mesh().unwrap(), &coarse, chord, 0.0);
            found.iter().any(|f| matches!(f, Fault::OffFeatures { .. }))
        };
        assert!(off(CHORD) && !off(0.3));
    }

    #[test]
    fn a_volume_that_is_missing_inside_is_seen() {
        let block = |side: f64| Feature::block([side; 3], &Isometry3::identity());
        let solid = Solid::of(vec![block(40.0)]);
        let mut mesh = solid.mesh().unwrap();
        let mut hollow = block(20.0).mesh().transformed(&Isometry3::new(Vector3::zeros(), Vector3::zeros()));
        hollow.triangles.iter_mut().for_each(|t| t.swap(0, 1));
        mesh.append(&hollow);
        let faults = disagreements(&mesh, &solid, CHORD, 0.0);
        assert!(matches!(faults[..], [Fault::OffFeatures { .. }, Fault::NotItsFeatures { .. }]), "{faults:?}");
    }
}

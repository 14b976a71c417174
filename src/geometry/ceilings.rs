//! What a printer can lay without supports: nothing begins in the air, and what looks down is steep or a short bridge.

use std::collections::BTreeMap;

use super::fault::Fault;
use super::gate::{Edges, Sets};
use super::mesh::{Mesh, doubled_area_vector};

/// A face that looks down may lean this far from the vertical, degrees: each layer then stands out by its own height, half
/// a line, and rests on the one below (common practice, no source).
pub const OVERHANG: f64 = 45.0;
/// Longest bridge between two held ends, mm (judgement: lines of any filament of the table sag little over 10 mm and much
/// over 20; 12 takes the flat of the largest nut in its trap).
pub const SPAN: f64 = 12.0;
/// So far a ceiling may stand out from what holds it, mm (judgement: one line of a 0.4 mm nozzle clings to its neighbour).
const CLINGS: f64 = 0.5;
/// Rounding of facets, degrees: a 45 degree cone made of flat faces is still one.
const ROUNDING: f64 = 1.0;
/// What begins in the air and meets the rest within this height, mm, is of one layer with it (judgement: a common layer).
const LAYER: f64 = 0.2;
/// Heights nearer than this are one, mm: above the rounding of single precision.
const SAME: f64 = 1e-3;
/// Ceilings smaller than this, mm2, are crumbs where features meet: far below the area of a dot of the nozzle.
const CRUMB: f64 = 0.05;
/// Distance of the lines along which a ceiling is measured, mm: half a line's width.
const STEP: f64 = 0.2;
/// Directions in which a bridge may run: over 4 mm the nearest is a line's width off at most.
const DIRECTIONS: usize = 36;

/// What cannot be printed without supports, of a closed mesh that stands on z = 0.
#[must_use]
pub fn hanging(mesh: &Mesh) -> Vec<Fault> {
    let edges = Edges::of(mesh);
    let mut out = Vec::new();
    let islands = islands(mesh, &edges);
    if let Some(at) = islands.first() {
        out.push(Fault::InTheAir { count: islands.len(), at: *at });
    }
    let wide: Vec<Ceiling> = ceilings(mesh, &edges).into_iter().filter(|c| !c.bridged()).collect();
    if let Some(first) = wide.first() {
        out.push(Fault::Ceiling { count: wide.len(), limits: [OVERHANG, SPAN], area: first.area, at: first.at });
    }
    out
}

/// The lowest places of the solid, but for those on the bed and those that reach what stands there within a layer: above
/// them a layer begins over nothing.
fn islands(mesh: &Mesh, edges: &Edges) -> Vec<[f64; 3]> {
    let z = |i: usize| mesh.points[i][2];
    let looks = looks(mesh, edges);
    let hangs = |i: usize| looks[i] < 0.0 && z(i) > SAME;
    let mut rising: Vec<(f64, usize, usize)> =
        edges.whole().iter().map(|e| [e[0] as usize, e[1] as usize]).map(|[a, b]| (z(a).max(z(b)), a, b)).collect();
    rising.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    // The solid's surface grows from below; of two pieces that meet, the one that began higher began in the air.
    let mut pieces = Sets::new(mesh.points.len());
    let mut lowest: Vec<usize> = (0..mesh.points.len()).collect();
    let mut found = Vec::new();
    for (height, a, b) in rising {
        let (a, b) = (pieces.root(a), pieces.root(b));
        if a != b {
            let (old, young) = if z(lowest[a]) <= z(lowest[b]) { (a, b) } else { (b, a) };
            let (kept, gone) = (lowest[old], lowest[young]);
            if height - z(gone) >= LAYER && hangs(gone) {
                found.push(gone);
            }
            pieces.join(a, b);
            lowest[pieces.root(a)] = kept;
        }
    }
    let alone = (0..mesh.points.len()).filter(|i| pieces.root(*i) == *i).map(|i| lowest[i]).filter(|i| hangs(*i));
    found.extend(alone);
    found.into_iter().map(|i| mesh.points[i]).collect()
}

/// For each corner, which way the faces look that meet there or at the same height beside it: below zero down.
fn looks(mesh: &Mesh, edges: &Edges) -> Vec<f64> {
    let z = |i: u32| mesh.points[i as usize][2];
    let mut level = Sets::new(mesh.points.len());
    edges
        .whole()
        .iter()
        .filter(|e| (z(e[0]) - z(e[1])).abs() < SAME)
        .for_each(|e| level.join(e[0] as usize, e[1] as usize));
    let mut sum = vec![0.0; mesh.points.len()];
    for t in &mesh.triangles {
        let up = doubled_area_vector(&mesh.corners(t)).z;
        t.iter().for_each(|i| sum[level.root(*i as usize)] += up);
    }
    (0..sum.len()).map(|i| sum[level.root(i)]).collect()
}

/// A connected face that looks down and is flatter than the overhang.
struct Ceiling {
    /// Its border seen from above, and whether something goes down from there.
    border: Vec<([f64; 2], [f64; 2], bool)>,
    area: f64,
    at: [f64; 3],
}

fn ceilings(mesh: &Mesh, edges: &Edges) -> Vec<Ceiling> {
    let steep = (OVERHANG - ROUNDING).to_radians().cos();
    let faces: Vec<_> = mesh.triangles.iter().map(|t| doubled_area_vector(&mesh.corners(t))).collect();
    let on_bed = |i: usize| mesh.triangles[i].iter().all(|p| mesh.points[*p as usize][2] < SAME);
    let flat: Vec<bool> = (0..faces.len()).map(|i| faces[i].z < -steep * faces[i].norm() && !on_bed(i)).collect();
    let mut sets = Sets::new(faces.len());
    for &[.., left, right] in edges.whole() {
        if flat[left as usize] && flat[right as usize] {
            sets.join(left as usize, right as usize);
        }
    }
    let mut all: BTreeMap<usize, Ceiling> = BTreeMap::new();
    for i in (0..faces.len()).filter(|i| flat[*i]) {
        let at = mesh.points[mesh.triangles[i][0] as usize];
        let c = all.entry(sets.root(i)).or_insert_with(|| Ceiling { border: Vec::new(), area: 0.0, at });
        c.area += -faces[i].z / 2.0;
    }
    for &[a, b, left, right] in edges.whole() {
        let (own, other) = if flat[left as usize] { (left, right) } else { (right, left) };
        if flat[own as usize] && !flat[other as usize] {
            let held = on_bed(other as usize) || goes_down(mesh, [a, b], own, other);
            let [p, q] = [a, b].map(|i| [mesh.points[i as usize][0], mesh.points[i as usize][1]]);
            all.entry(sets.root(own as usize)).and_modify(|c| c.border.push((p, q, held)));
        }
    }
    all.into_values().filter(|c| c.area > CRUMB).collect()
}

/// Whether the face beyond a ceiling's border goes down from it, so that the ceiling rests on it.
fn goes_down(mesh: &Mesh, edge: [u32; 2], own: u32, other: u32) -> bool {
    let normal = doubled_area_vector(&mesh.corners(&mesh.triangles[own as usize])).normalize();
    let from = mesh.point(edge[0]);
    let beyond = mesh.triangles[other as usize].iter().find(|i| !edge.contains(i));
    beyond.is_none_or(|i| normal.dot(&(mesh.point(*i) - from)) > -SAME)
}

impl Ceiling {
    /// Whether lines in one direction run from held end to held end and are short, or cling to what holds them.
    fn bridged(&self) -> bool {
        (0..DIRECTIONS).any(|k| self.bridged_along(std::f64::consts::PI * k as f64 / DIRECTIONS as f64))
    }

    fn bridged_along(&self, heading: f64) -> bool {
        let (s, c) = heading.sin_cos();
        let turned = |p: [f64; 2]| [c * p[0] + s * p[1], c * p[1] - s * p[0]];
        let border: Vec<_> = self.border.iter().map(|(p, q, held)| (turned(*p), turned(*q), *held)).collect();
        let ends = border.iter().flat_map(|(p, q, _)| [p[1], q[1]]);
        let (low, high) = ends.fold((f64::MAX, f64::MIN), |(a, b), y| (a.min(y), b.max(y)));
        let lines = ((high - low) / STEP).ceil().max(1.0) as usize;
        let step = (high - low) / lines as f64;
        let holds: Vec<bool> = (0..lines).map(|i| line_holds(&border, low + step * (i as f64 + 0.5))).collect();
        // A few lines that hang, such as along a rounded front, cling to the bridge beside them.
        let narrow = |run: &[bool]| run[0] || run.len() as f64 * step <= CLINGS;
        holds.contains(&true) && holds.chunk_by(|a, b| a == b).all(narrow)
    }
}

/// Whether every stretch of the line at `y` over a ceiling is a bridge or clings to something.
fn line_holds(border: &[([f64; 2], [f64; 2], bool)], y: f64) -> bool {
    let cross = |(p, q, held): &([f64; 2], [f64; 2], bool)| {
        let meets = (p[1] > y) != (q[1] > y);
        meets.then(|| (p[0] + (q[0] - p[0]) * (y - p[1]) / (q[1] - p[1]), *held))
    };
    let mut met: Vec<(f64, bool)> = border.iter().filter_map(cross).collect();
    met.sort_by(|a, b| a.0.total_cmp(&b.0));
    met.chunks_exact(2).all(|pair| {
        let [(from, a), (to, b)] = [pair[0], pair[1]];
        (a && b && to - from <= SPAN) || clings(border, y, [from, to])
    })
}

/// Whether every point of a stretch is near a held border.
fn clings(border: &[([f64; 2], [f64; 2], bool)], y: f64, [from, to]: [f64; 2]) -> bool {
    let count = ((to - from) / STEP).ceil().max(1.0) as usize;
    (0..count).map(|i| from + (to - from) * (i as f64 + 0.5) / count as f64).all(|x| {
        let near = |(p, q, held): &([f64; 2], [f64; 2], bool)| *held && distance([x, y], *p, *q) <= CLINGS;
        border.iter().any(near)
    })
}

fn distance(at: [f64; 2], p: [f64; 2], q: [f64; 2]) -> f64 {
    let (d, v) = ([q[0] - p[0], q[1] - p[1]], [at[0] - p[0], at[1] - p[1]]);
    let length = d[0] * d[0] + d[1] * d[1];
    let t = if length > 0.0 { ((v[0] * d[0] + v[1] * d[1]) / length).clamp(0.0, 1.0) } else { 0.0 };
    (v[0] - t * d[0]).hypot(v[1] - t * d[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Axis, Feature, LABEL_DEPTH, Label, Outline, Round, Solid};
    use nalgebra::Isometry3;

    fn block(size: [f64; 3], x: f64, z: f64) -> Feature {
        Feature::block(size, &Isometry3::translation(x, 0.0, z + size[2] / 2.0))
    }

    fn faults(adds: Vec<Feature>, cuts: Vec<Feature>) -> Vec<Fault> {
        hanging(&Solid::of(adds).minus(cuts).mesh().unwrap())
    }

    #[test]
    fn a_bar_between_posts_that_starts_above_the_bed_is_refused_when_it_is_long() {
        let gate = |gap: f64| {
            let posts = [-1.0, 1.0].map(|s| block([10.0, 10.0, 20.0], s * (gap / 2.0 + 5.0), 0.0));
            faults(posts.into_iter().chain([block([gap + 4.0, 6.0, 15.0], 0.0, 0.5)]).collect(), vec![])
        };
        assert_eq!(gate(SPAN - 0.1), vec![]);
        assert!(matches!(gate(SPAN + 0.1)[..], [Fault::Ceiling { count: 1, .. }]), "{:?}", gate(SPAN + 0.1));
    }

    #[test]
    fn a_block_that_stands_out_over_the_bed_is_refused() {
        let ledge =
            |out: f64| faults(vec![block([20.0, 20.0, 20.0], 0.0, 0.0), block([20.0, 8.0, 10.0], out, 5.0)], vec![]);
        assert_eq!(ledge(0.4), vec![]);
        assert!(matches!(ledge(2.0)[..], [Fault::Ceiling { count: 1, .. }]), "held at one end only");
    }

    #[test]
    fn what_begins_in_the_air_is_refused_flat_or_pointed() {
        let post = || block([10.0, 10.0, 30.0], 0.0, 0.0);
        let arm = || block([30.0, 4.0, 4.0], 10.0, 26.0);
        let icicle = Feature::revolved(&Axis::upright(20.0, 0.0), &[(20.0, 0.0), (27.0, 2.0)], Round::Inside, 0.05);
        let found = faults(vec![post(), arm(), icicle], vec![]);
        assert!(
            found.iter().any(|f| matches!(f, Fault::InTheAir { count: 1, at } if (at[2] - 20.0).abs() < 1e-3)),
            "{found:?}"
        );
        let raised = hanging(block([10.0; 3], 0.0, 1.0).mesh());
        assert!(raised.iter().any(|f| matches!(f, Fault::InTheAir { .. })), "{raised:?}");
    }

    #[test]
    fn a_recess_wider_than_the_span_is_refused_and_a_narrow_one_or_a_cone_prints() {
        let plate = || vec![block([60.0, 60.0, 30.0], 0.0, 0.0)];
        let cut = |profile: &[(f64, f64)]| Feature::revolved(&Axis::upright(0.0, 0.0), profile, Round::Outside, 0.05);
        assert!(matches!(faults(plate(), vec![cut(&[(-1.0, 20.0), (1.5, 20.0)])])[..], [Fault::Ceiling { .. }]));
        assert_eq!(faults(plate(), vec![cut(&[(-1.0, 5.9), (1.5, 5.9)])]), vec![]);
        assert_eq!(faults(plate(), vec![cut(&[(-1.0, 20.0), (1.5, 20.0), (20.5, 1.0)])]), vec![]);
        // A counterbore from below: the ceiling round the hole is held on one side only.
        let ring = faults(plate(), vec![cut(&[(-1.0, 5.0), (5.0, 5.0), (5.0, 2.0), (31.0, 2.0)])]);
        assert!(matches!(ring[..], [Fault::Ceiling { .. }]), "{ring:?}");
    }

    #[test]
    fn engraving_on_the_bed_and_lying_teardrops_print_and_a_wide_lying_bore_does_not() {
        let label = Label::new("B8Q%0", 4.0);
        let turn = Isometry3::rotation(nalgebra::Vector3::x() * std::f64::consts::PI);
        let plate = || vec![block([60.0, 60.0, 40.0], 0.0, 0.0)];
        if let Ok(label) = label {
            assert_eq!(faults(plate(), label.cuts(&turn, LABEL_DEPTH).unwrap()), vec![]);
        }
        let lying = Axis::new([0.0, 0.0, 18.0], [1.0, 0.0, 0.0]);
        let drop = Feature::teardrop_bore(&lying, [0.0, 0.0, 1.0], 10.0, None, [-31.0, 31.0], 0.05);
        assert_eq!(faults(plate(), vec![drop]), vec![]);
        let round = Feature::revolved(&lying, &[(-31.0, 10.0), (31.0, 10.0)], Round::Outside, 0.05);
        assert!(matches!(faults(plate(), vec![round])[..], [Fault::Ceiling { .. }]));
        let outline = Outline::circle(3.0, Round::Inside, 0.05);
        assert_eq!(faults(vec![Feature::prism(&outline, 0.0, 9.0, &Isometry3::identity())], vec![]), vec![]);
    }
}

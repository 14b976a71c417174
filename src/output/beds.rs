//! Printed parts laid out on the bed: one 3MF file per bed, the fit gauge alone on the first.

use nalgebra::{Isometry3, Translation3, UnitQuaternion, Vector3};

use super::kit::VerifiedMesh;
use super::packing::{self, Spot};
use super::{Files, Kit, assembly};
use crate::formats::threemf::{self, Object};
use crate::model::Model;
use crate::parts::PartKind;

/// Least distance between two parts, mm: room for a skirt and for a blade (judgement).
pub const GAP: f64 = 5.0;
/// Least distance from the bed's edge, mm: the first layer is unsure there (judgement).
pub const EDGE: f64 = 3.0;

/// Parts on one bed: index of the printed part and its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Bed {
    /// What is on it.
    pub places: Vec<(usize, Isometry3<f64>)>,
}

/// Writes `beds/bed_1.3mf` and so on.
///
/// # Errors
/// A part larger than the bed, or one that the package refuses.
pub fn write(kit: &Kit) -> Result<Files, String> {
    files(kit.model, kit.printed, kit.checked.warning())
}

/// The same from the parts alone; the warning goes before every title, empty for none.
///
/// # Errors
/// As [`write()`].
pub fn files(model: &Model, printed: &[VerifiedMesh], warning: &str) -> Result<Files, String> {
    let mut files = Files::new();
    let settings = assembly::settings(&model.params);
    for (i, bed) in beds(printed, model.params.printing.bed)?.iter().enumerate() {
        let first = if i == 0 { ", print first" } else { "" };
        let title = format!("{}: bed {}{first}", model.params.title, i + 1);
        let title = if warning.is_empty() { title } else { format!("{warning} {title}") };
        let bytes = threemf::write(&title, &settings, &objects(printed, bed)).map_err(|e| e.to_string())?;
        files.insert(format!("beds/bed_{}.3mf", i + 1), bytes);
    }
    Ok(files)
}

/// The parts of a bed, each mesh once.
#[must_use]
pub fn objects(printed: &[VerifiedMesh], bed: &Bed) -> Vec<Object> {
    let of = |(i, p): (usize, &VerifiedMesh)| {
        let places: Vec<Isometry3<f64>> = bed.places.iter().filter(|(k, _)| *k == i).map(|(_, at)| *at).collect();
        let name = format!("{} {}", p.part.name, p.part.mark);
        (!places.is_empty()).then(|| Object { name, mesh: p.mesh.clone(), places })
    };
    printed.iter().enumerate().filter_map(of).collect()
}

/// All parts with their counts on beds of this size, mm.
///
/// # Errors
/// A part that is larger than the bed.
pub fn beds(printed: &[VerifiedMesh], bed: [f64; 3]) -> Result<Vec<Bed>, String> {
    let is_gauge = |i: &usize| matches!(printed[*i].part.kind, PartKind::Gauge | PartKind::Coupon);
    let each: Vec<usize> = printed.iter().enumerate().flat_map(|(i, p)| std::iter::repeat_n(i, p.part.count)).collect();
    let (first, rest): (Vec<usize>, Vec<usize>) = each.into_iter().partition(is_gauge);
    let (large, rest): (Vec<usize>, Vec<usize>) = rest.into_iter().partition(|i| !fits(&printed[*i], bed, EDGE));
    let mut all = lay(printed, &first, bed)?;
    for i in large {
        all.extend(lay(printed, &[i], bed)?);
    }
    all.extend(lay(printed, &rest, bed)?);
    Ok(all)
}

/// Whether a part lies on the bed with this much room at every edge, turned or not.
fn fits(p: &VerifiedMesh, bed: [f64; 3], edge: f64) -> bool {
    let room = [bed[0] - 2.0 * edge, bed[1] - 2.0 * edge];
    let [x, y] = [p.size[0], p.size[1]];
    (x <= room[0] && y <= room[1]) || (y <= room[0] && x <= room[1])
}

/// Lays parts out; one that needs the bed's edge stands alone in the middle.
fn lay(printed: &[VerifiedMesh], parts: &[usize], bed: [f64; 3]) -> Result<Vec<Bed>, String> {
    if let [one] = parts {
        return Ok(vec![Bed { places: vec![(*one, middle(&printed[*one], bed)?)] }]);
    }
    let sizes: Vec<[f64; 2]> = parts.iter().map(|i| [printed[*i].size[0], printed[*i].size[1]]).collect();
    let room = [bed[0] - 2.0 * EDGE, bed[1] - 2.0 * EDGE];
    let spots = packing::pack(&sizes, room, GAP).ok_or("a part is larger than the bed")?;
    let count = spots.iter().map(|s| s.plate + 1).max().unwrap_or(0);
    let mut beds = vec![Bed { places: Vec::new() }; count];
    for s in &spots {
        let part = parts[s.piece];
        beds[s.plate].places.push((part, placed(&printed[part], s, [EDGE; 2])));
    }
    beds.iter_mut().for_each(|p| p.places.sort_by_key(|(i, _)| *i));
    Ok(beds)
}

/// One part in the middle of the bed.
fn middle(p: &VerifiedMesh, bed: [f64; 3]) -> Result<Isometry3<f64>, String> {
    if !fits(p, bed, 0.0) {
        return Err(format!("the {} of {:.1} x {:.1} mm is larger than the bed", p.part.name, p.size[0], p.size[1]));
    }
    let turned = p.size[0] > bed[0] || p.size[1] > bed[1];
    let size = if turned { [p.size[1], p.size[0]] } else { [p.size[0], p.size[1]] };
    let spot = Spot { piece: 0, plate: 0, low: [0, 1].map(|k| (bed[k] - size[k]) / 2.0), turned };
    Ok(placed(p, &spot, [0.0; 2]))
}

/// Printing frame to bed: the part's box stands with its lower left corner on the spot.
fn placed(p: &VerifiedMesh, s: &Spot, edge: [f64; 2]) -> Isometry3<f64> {
    let b = p.mesh.aabb();
    let turn = if s.turned { std::f64::consts::FRAC_PI_2 } else { 0.0 };
    // A quarter turn counter-clockwise takes (x, y) to (-y, x): the box then begins at -max y and min x.
    let low = if s.turned { [-b.max[1], b.min[0]] } else { [b.min[0], b.min[1]] };
    let shift = Translation3::new(edge[0] + s.low[0] - low[0], edge[1] + s.low[1] - low[1], -b.min[2]);
    Isometry3::from_parts(shift, UnitQuaternion::from_axis_angle(&Vector3::z_axis(), turn))
}

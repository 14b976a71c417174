//! Shims to lay under flat feet on a floor that is not level.

use nalgebra::Isometry3;
use serde::Serialize;

use super::bracket::label_above;
use super::place::Face;
use super::{CHORD, Interface, MARK_HEIGHT, Part, PartKind};
use crate::geometry::{Fault, Feature, Label, Outline, Solid};
use crate::model::{FootDesign, Kind, Model, mark};

/// A plate with the outline of a foot.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct ShimDesign {
    /// Along x and y, mm: the foot's.
    length: f64,
    width: f64,
    /// Radius of the corners, mm: the foot's.
    corner_radius: f64,
    /// Thickness, mm.
    thickness: f64,
}

/// One shim for each foot, where the file asks for them; feet of one outline have the same.
pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let Some(thickness) = model.params.foot.shims else { return Ok(Vec::new()) };
    let mut kinds: Vec<Kind<ShimDesign>> = Vec::new();
    for foot in &model.feet {
        let FootDesign { length, width, corner_radius, .. } = foot.design;
        let design = ShimDesign { length, width, corner_radius, thickness };
        match kinds.iter_mut().find(|kind| kind.design == design) {
            Some(known) => {
                known.count += foot.count;
                known.legs.extend(&foot.legs);
                known.legs.sort_unstable();
            }
            None => kinds.push(Kind {
                mark: mark('S', &design),
                name: if kinds.is_empty() { "shim".to_owned() } else { format!("shim {}", kinds.len() + 1) },
                design,
                count: foot.count,
                legs: foot.legs.clone(),
            }),
        }
    }
    kinds.iter().map(part).collect()
}

fn part(kind: &Kind<ShimDesign>) -> Result<Part, Fault> {
    let d = &kind.design;
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.thickness, &Isometry3::identity())]);
    let label = Label::new(&kind.mark, MARK_HEIGHT)?;
    let face = Face { half: [d.length / 2.0, d.width / 2.0], corner: d.corner_radius, busy: Vec::new() };
    if let Some(at) = face.place([label.width(), label.height()], [0.0; 2]) {
        solid.cuts.extend(label_above(&kind.mark, at, d.thickness)?);
    }
    let interfaces = vec![Interface::FloorFace([d.length, d.width])];
    Ok(Part { interfaces, ..Part::new(PartKind::Shim, kind, solid) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shims(foot: &str) -> Vec<Part> {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm", "splay": "6 deg"}}, "foot": {{{foot}}}, "loads": [{{"mass": "20 kg"}}]}}"#
        );
        parts(&Model::new(&crate::params::read(&text).expect("read")).expect("a model")).expect("drawn")
    }

    #[test]
    fn every_flat_foot_has_a_shim_of_its_outline_where_they_are_asked_for() {
        assert!(shims("").is_empty());
        let all = shims(r#""shims": "1.6 mm""#);
        assert_eq!(all.iter().map(|shim| shim.count).sum::<usize>(), 4);
        let size = all[0].solid.aabb().size();
        assert!((size[2] - 1.6).abs() < 1e-9 && size[0] > 30.0, "{size:?}");
    }
}

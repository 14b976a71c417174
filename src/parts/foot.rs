//! The foot: sockets on a plate that lies flat on the floor, with a pad's recess or a levelling bolt's nut.

use nalgebra::Isometry3;

use super::bracket::label_below;
use super::place::Face;
use super::socket::{self, OVERSHOOT};
use super::{CHORD, MARK_HEIGHT, Part, places};
use crate::geometry::brep::PlateWithBosses;
use crate::geometry::{Axis, Fault, Feature, Label, Outline, Round, Solid};
use crate::model::{FootDesign, Model, Sole};

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let kinds = model.feet.iter().enumerate();
    kinds
        .map(|(i, kind)| {
            let d = &kind.design;
            Ok(Part {
                name: kind.name.clone(),
                mark: kind.mark.clone(),
                count: kind.count,
                solid: solid(d, &kind.mark)?,
                exact: exact(d),
                bores: d.sockets.iter().map(|s| socket::bore(s, d.plate)).collect(),
                labels: vec![(kind.mark.clone(), None)],
                places: places(model, i, |leg| vec![&leg.foot], kind),
                note: "floor face on the bed, no supports",
            })
        })
        .collect()
}

fn solid(d: &FootDesign, mark: &str) -> Result<Solid, Fault> {
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.plate, &Isometry3::identity())]);
    d.sockets.iter().for_each(|s| socket::add(&mut solid, s, d.plate));
    d.sockets.iter().for_each(|s| socket::cut(&mut solid, s, d.plate));
    solid.cuts.extend(sole(&d.sole));
    solid.cuts.extend(engraving(d, mark)?);
    Ok(solid)
}

/// A flat foot as plate, recess and bosses; none for a levelling one.
fn exact(d: &FootDesign) -> Option<PlateWithBosses> {
    let Sole::Pad { diameter, depth } = d.sole else { return None };
    Some(PlateWithBosses {
        width: d.length,
        depth: d.width,
        corner: d.corner_radius,
        thickness: d.plate,
        holes: Vec::new(),
        bosses: d.sockets.iter().map(socket::exact).collect::<Option<_>>()?,
        recess: (depth > 0.0).then_some([diameter / 2.0, depth]),
    })
}

fn sole(sole: &Sole) -> Vec<Feature> {
    let axis = Axis::upright(0.0, 0.0);
    match *sole {
        Sole::Pad { depth, .. } if depth <= 0.0 => Vec::new(),
        Sole::Pad { diameter, depth } => {
            let profile = [(-OVERSHOOT, diameter / 2.0), (depth, diameter / 2.0)];
            vec![Feature::revolved(&axis, &profile, Round::Outside, CHORD)]
        }
        Sole::Levelling { hole, nut_flats, nut_depth, hole_depth, .. } => {
            // The pocket's ceiling is a 45 degree cone, so that it prints without support.
            let (r, flat) = (hole / 2.0, nut_flats / 2.0 - 0.1);
            let cone = [(nut_depth - 1.0, r), (nut_depth - 1.0, flat), (nut_depth - 0.1, flat)];
            let hole = [(-OVERSHOOT, r), cone[0], cone[1], cone[2], (nut_depth - 0.1 + flat - r, r), (hole_depth, r)];
            vec![
                Feature::revolved(&axis, &hole, Round::Outside, CHORD),
                Feature::nut_trap(&axis, [1.0, 0.0, 0.0], nut_flats, 0.0, [-OVERSHOOT, nut_depth]),
            ]
        }
    }
}

/// The mark: on the ceiling of a wide recess, else on the floor face beside what is in the middle.
fn engraving(d: &FootDesign, mark: &str) -> Result<Vec<Feature>, Fault> {
    let label = Label::new(mark, MARK_HEIGHT)?;
    let size = [label.width(), label.height()];
    let round = |radius: f64| Face { half: [radius; 2], corner: radius, busy: Vec::new() };
    let beside = |radius: f64| {
        let half = [d.length / 2.0, d.width / 2.0];
        let face = Face { half, corner: d.corner_radius, busy: vec![([0.0; 2], radius)] };
        face.place(size, [0.0, -(radius + half[1]) / 2.0]).map(|at| (at, 0.0))
    };
    let place = match d.sole {
        Sole::Pad { depth, .. } if depth <= 0.0 => beside(0.0),
        Sole::Pad { diameter, depth } => {
            round(diameter / 2.0).place(size, [0.0; 2]).map(|at| (at, depth)).or_else(|| beside(diameter / 2.0))
        }
        Sole::Levelling { nut_flats, .. } => beside(nut_flats / 3f64.sqrt()),
    };
    place.map_or(Ok(Vec::new()), |(at, z)| label_below(mark, at, z))
}

//! The drill guide: a plate with the bracket's outline and a bush per screw, as high as the depth stop asks.

use nalgebra::Isometry3;

use super::bracket::label_above;
use super::place::Face;
use super::socket::OVERSHOOT;
use super::{CHORD, MARK_HEIGHT, Part, PartKind};
use crate::geometry::{Axis, Fault, Feature, Label, Outline, Round, Solid};
use crate::model::{GuideDesign, Kind, Model};

/// Distance from line to line of the engraving, mm.
const LINE: f64 = MARK_HEIGHT * 1.7;

pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let part = |kind: &Kind<GuideDesign>| {
        Ok(Part {
            labels: lines(&kind.design, &kind.mark).into_iter().map(|l| (l, None)).collect(),
            ..Part::new(PartKind::Guide, kind, solid(&kind.design, &kind.mark)?)
        })
    };
    model.guides.iter().map(part).collect()
}

/// Mark, bit stick-out and drilling depth, mm.
fn lines(d: &GuideDesign, mark: &str) -> [String; 2] {
    [mark.to_owned(), format!("{}-{:.1}", d.stick_out.round(), d.depth)]
}

/// Middle of the lines where no bush stands; none where there is no room.
fn block(d: &GuideDesign, lines: &[String]) -> Result<Option<[f64; 2]>, Fault> {
    let widths = lines.iter().map(|l| Ok(Label::new(l, MARK_HEIGHT)?.width()));
    let width = widths.collect::<Result<Vec<f64>, Fault>>()?.into_iter().fold(0.0, f64::max);
    let busy = d.bores.iter().map(|at| (*at, d.bush / 2.0)).collect();
    let face = Face { half: [d.length / 2.0, d.width / 2.0], corner: d.corner_radius, busy };
    Ok(face.place([width, LINE + MARK_HEIGHT], [0.0, 0.0]))
}

fn solid(d: &GuideDesign, mark: &str) -> Result<Solid, Fault> {
    let outline = Outline::rounded_rectangle(d.length, d.width, d.corner_radius, CHORD);
    let mut solid = Solid::of(vec![Feature::prism(&outline, 0.0, d.plate, &Isometry3::identity())]);
    let bush = Outline::circle(d.bush / 2.0, Round::Inside, CHORD);
    for at in &d.bores {
        solid.adds.push(Feature::prism(&bush, 0.0, d.height, &Isometry3::translation(at[0], at[1], 0.0)));
        let profile = [(-OVERSHOOT, d.bore / 2.0), (d.height + OVERSHOOT, d.bore / 2.0)];
        solid.cuts.push(Feature::revolved(&Axis::upright(at[0], at[1]), &profile, Round::Outside, CHORD));
    }
    let lines = lines(d, mark);
    let Some([x, y]) = block(d, &lines)? else { return Ok(solid) };
    for (i, line) in lines.iter().enumerate() {
        solid.cuts.extend(label_above(line, [x, y + LINE * (0.5 - i as f64)], d.plate)?);
    }
    Ok(solid)
}

//! Brackets that are mirror images of one another, and loads on them.

use super::bracket_shape::BracketShape;
use super::joint::{BracketDemand, Lost};
use super::order::alike;
use crate::clauses::screw_group::Loads;
use crate::model::{Gusset, Web};

/// Sizes nearer than this are the same, mm and radians: a hundredth of what a printer can do.
const SAME: f64 = 1e-4;

/// A shape as the mirror image of a known one; both signs positive: as itself.
#[derive(Clone)]
pub(super) struct Image {
    /// Signs of x and y.
    flip: [f64; 2],
    /// Index of the known one's screw for each screw.
    screws: Vec<usize>,
}

impl Image {
    /// A load as the known one sees it. Moments are axial vectors: a mirror keeps the one about its own normal and turns the
    /// others round.
    pub(super) fn seen(&self, l: &Loads) -> Loads {
        let [x, y] = self.flip;
        Loads { fx: x * l.fx, fy: y * l.fy, fz: l.fz, mx: y * l.mx, my: x * l.my, mz: x * y * l.mz }
    }

    /// What the shape bears where the known one bears this.
    pub(super) fn borne(&self, known: &BracketDemand) -> BracketDemand {
        let ([x, y], [ax, ay]) = (self.flip, known.plate_at);
        let screws = self.screws.iter().map(|i| known.screws[*i]).collect();
        let lost = self.screws.iter().position(|i| *i == known.lost.screw).unwrap_or(known.lost.screw);
        let lost = Lost { screw: lost, ..known.lost };
        BracketDemand { screws, plate_at: [x * ax, y * ay], lost, ..known.clone() }
    }
}

/// Whether two loads differ by rounding only in what a bracket bears; the turn about the tube is none of it.
pub(super) fn same_load(a: &Loads, b: &Loads) -> bool {
    alike(&[a.fx, a.fy, a.fz], &[b.fx, b.fy, b.fz]) && alike(&[a.mx, a.my], &[b.mx, b.my])
}

/// All images of a known shape that a shape is.
pub(super) fn images(known: &BracketShape, shape: &BracketShape) -> Vec<Image> {
    let sizes = |s: &BracketShape| {
        [s.plate_length, s.plate_width, s.plate, s.boss_outer, s.bore, s.bore_depth, s.boss_height, s.head, s.lean]
    };
    if !near(&sizes(known), &sizes(shape)) {
        return Vec::new();
    }
    let flips = [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]];
    let image = |flip| {
        let screws = order(&known.screws, &shape.screws, flip)?;
        let bosses = order(&known.bosses, &shape.bosses, flip)?;
        let same = same_gussets(known, shape, flip, &bosses) && same_webs(known, shape, &bosses);
        same.then_some(Image { flip, screws })
    };
    flips.into_iter().filter_map(image).collect()
}

fn near(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < SAME)
}

/// For each point the index of the known one whose mirror image it is.
fn order(known: &[[f64; 2]], points: &[[f64; 2]], flip: [f64; 2]) -> Option<Vec<usize>> {
    let seen = |p: &[f64; 2]| [flip[0] * p[0], flip[1] * p[1]];
    let find = |p: &[f64; 2]| known.iter().position(|k| near(&seen(k), p));
    (known.len() == points.len()).then(|| points.iter().map(find).collect())?
}

fn same_gussets(known: &BracketShape, shape: &BracketShape, flip: [f64; 2], bosses: &[usize]) -> bool {
    let figures = |boss: usize, x: f64, y: f64, g: &Gusset| [boss as f64, x, y, g.run, g.rise, g.thickness];
    let has = |g: &Gusset| {
        let wanted = figures(bosses[g.boss], g.angle.cos(), g.angle.sin(), g);
        known
            .gussets
            .iter()
            .any(|k| near(&figures(k.boss, flip[0] * k.angle.cos(), flip[1] * k.angle.sin(), k), &wanted))
    };
    known.gussets.len() == shape.gussets.len() && shape.gussets.iter().all(has)
}

fn same_webs(known: &BracketShape, shape: &BracketShape, bosses: &[usize]) -> bool {
    let figures = |a: usize, b: usize, w: &Web| [a.min(b) as f64, a.max(b) as f64, w.thickness, w.height];
    let has = |w: &Web| {
        let wanted = figures(bosses[w.from], bosses[w.to], w);
        known.webs.iter().any(|k| near(&figures(k.from, k.to, k), &wanted))
    };
    known.webs.len() == shape.webs.len() && shape.webs.iter().all(has)
}

#[cfg(test)]
mod tests {
    use super::super::fill::Fill;
    use super::*;
    use crate::model::Model;
    use crate::parts;

    /// A shape without symmetry is known again from each of its mirror images, and its screws one by one.
    #[test]
    fn every_mirror_image_is_known_again() {
        let text = r#"{"top": {"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}, "height": "740 mm",
            "legs": {"tube": "25 x 2 mm"}, "loads": [{"mass": "40 kg"}], "bracket": {"hold": "ribs"}}"#;
        let m = Model::new(&crate::params::read(text).expect("read")).expect("a model");
        let (part, filament) = (parts::blank_bracket(&m, 0), &m.params.printing.filament);
        let mut known = BracketShape::of(&part, filament, Fill::of(&m.params.printing)).expect("a bracket");
        assert_eq!(images(&known, &known).len(), 4, "upright legs on a ring of screws");
        (known.bosses[0], known.screws[0]) = ([3.0, 1.0], [known.screws[0][0] + 1.0, known.screws[0][1] + 2.0]);
        known.gussets.truncate(1);
        for flip in [[1.0, 1.0], [-1.0, 1.0], [1.0, -1.0], [-1.0, -1.0]] {
            let seen = |[x, y]: [f64; 2]| [flip[0] * x, flip[1] * y];
            let mut image = known.clone();
            image.screws = known.screws.iter().rev().map(|p| seen(*p)).collect();
            image.bosses = known.bosses.iter().map(|p| seen(*p)).collect();
            for g in &mut image.gussets {
                let [x, y] = seen([g.angle.cos(), g.angle.sin()]);
                g.angle = y.atan2(x);
            }
            let order: Vec<usize> = (0..known.screws.len()).rev().collect();
            let found: Vec<_> = images(&known, &image).into_iter().map(|image| (image.flip, image.screws)).collect();
            assert_eq!(found, [(flip, order)]);
            image.screws[0][0] += 0.1;
            assert!(images(&known, &image).is_empty(), "another place of a screw is another bracket");
        }
    }
}

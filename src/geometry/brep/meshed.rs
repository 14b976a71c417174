//! For the tests: a glued part once more as features, whose mesh it must agree with.

use nalgebra::Isometry3;

use super::plate::{BossOnPlate, GussetRow, PlateWithBosses};
use crate::geometry::{Axis, Boss, Feature, Gusset, Outline, Round, Solid};

/// Cutters reach this far beyond the faces they break through, mm. Judgement.
const OVERSHOOT: f64 = 1.0;
/// Bosses and gussets reach this far into the plate in the mesh, mm; at most half the plate. Judgement.
const EMBED: f64 = 1.0;
/// Where a gusset's inner edge lies in the mesh, as a share of the wall from bore to outside. Judgement.
const INNER: f64 = 0.4;

impl BossOnPlate {
    fn features(&self, thickness: f64, chord: f64) -> (Vec<Feature>, Feature) {
        let axis = self.axis(thickness);
        let embed = EMBED.min(thickness / 2.0);
        let (radius, top, flare) = (self.radius, self.top, self.flare);
        let mut adds = vec![Feature::boss(&Boss { axis, radius, root: thickness, embed, top, flare }, chord)];
        if let Some(row) = &self.gussets {
            let widest = self.bore.iter().map(|b| b.1).fold(0.0, f64::max);
            let inner = radius - INNER * (radius - widest);
            let &GussetRow { run, rise, toe, thickness, .. } = row;
            let gusset = |&toward: &f64| Gusset { axis, toward, radius, inner, run, rise, toe, thickness, embed };
            adds.extend(row.toward.iter().map(|t| Feature::gusset(&gusset(t))));
        }
        let bore = overshot(&self.bore, self.through(thickness));
        (adds, Feature::revolved(&axis, &bore, Round::Outside, chord))
    }
}

impl PlateWithBosses {
    /// The same part as features, for the print mesh.
    pub(super) fn solid(&self, chord: f64) -> Solid {
        let outline = Outline::rounded_rectangle(self.width, self.depth, self.corner, chord);
        let mut s = Solid::of(vec![Feature::prism(&outline, 0.0, self.thickness, &Isometry3::identity())]);
        for h in &self.holes {
            let (axis, profile) = (Axis::upright(h.at[0], h.at[1]), overshot(&h.profile, true));
            s.cuts.push(match h.slot {
                None => Feature::revolved(&axis, &profile, Round::Outside, chord),
                Some((length, heading)) => {
                    let slide = [heading.cos(), heading.sin(), 0.0];
                    Feature::slotted(&axis, slide, length, &profile, Round::Outside, chord)
                }
            });
        }
        for b in &self.bosses {
            let (adds, bore) = b.features(self.thickness, chord);
            s.adds.extend(adds);
            s.cuts.push(bore);
        }
        s
    }
}

/// A profile carried on beyond its last pair (and its first) along its own slope.
fn overshot(profile: &[(f64, f64)], both: bool) -> Vec<(f64, f64)> {
    let mut out = profile.to_vec();
    let on = |p: (f64, f64), q: (f64, f64)| {
        let slope = if p.0 == q.0 { 0.0 } else { (p.1 - q.1) / (p.0 - q.0) };
        let step = OVERSHOOT.copysign(p.0 - q.0);
        (p.0 + step, (p.1 + slope * step).max(f64::MIN_POSITIVE))
    };
    if let [.., q, p] = profile {
        out.push(on(*p, *q));
    }
    if let ([p, q, ..], true) = (profile, both) {
        out.insert(0, on(*p, *q));
    }
    out
}

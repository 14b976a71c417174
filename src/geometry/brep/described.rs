//! Features to the plate with holes and bosses that they are, where they are one.

use std::f64::consts::{PI, TAU};

use super::plate::{BossOnPlate, GussetRow, HoleInPlate, PlateWithBosses};
use crate::geometry::{Axis, Boss, Gusset, Primitive, Solid};

type Profile = Vec<(f64, f64)>;

/// Heights nearer than this are one, mm: rounding of sums.
const SAME: f64 = 1e-9;

impl PlateWithBosses {
    /// What the features of a solid are, its engraving left out; none where one of them is no plate, boss, gusset, hole or bore,
    /// or gussets of a boss are unlike.
    #[must_use]
    pub fn of(solid: &Solid) -> Option<Self> {
        let ([width, depth], corner, thickness) = solid.plate()?;
        let mut part = Self { width, depth, corner, thickness, ..Self::default() };
        let mut axes = Vec::new();
        for feature in &solid.adds[1..] {
            let (axis, boss) = match &feature.primitive {
                Primitive::Boss(boss) => (boss.axis, on_plate(boss, thickness)?),
                Primitive::Cylinder { axis, radius, z } => (*axis, bush(axis, *radius, *z, thickness)?),
                Primitive::Gusset(gusset) => {
                    let own = axes.iter().position(|axis| *axis == gusset.axis)?;
                    add_gusset(&mut part.bosses[own], gusset)?;
                    continue;
                }
                _ => return None,
            };
            axes.push(axis);
            part.bosses.push(boss);
        }
        for cut in &solid.cuts {
            match &cut.primitive {
                Primitive::Engraving => {}
                Primitive::Turned { axis, profile, slot: None } if axes.contains(axis) => {
                    let own = axes.iter().position(|a| a == axis)?;
                    let shift = axis.point.z - thickness;
                    let boss = &mut part.bosses[own];
                    let from_face = profile.iter().map(|(z, r)| (z + shift, *r)).collect();
                    boss.bore = within(from_face, [-thickness, boss.top]);
                }
                Primitive::Turned { axis, profile, slot } => {
                    let upright = axis.dir.z == 1.0 && axis.point.z == 0.0;
                    let heading = |s: [f64; 3]| s[1].atan2(s[0]).rem_euclid(PI);
                    let slot = slot.map(|s| (s.length, heading(s.slide)));
                    let profile = within(profile.clone(), [0.0, thickness]);
                    part.holes.push(HoleInPlate { at: [axis.point.x, axis.point.y], profile, slot });
                    upright.then_some(())?;
                }
                _ => return None,
            }
        }
        let bored = part.bosses.iter().all(|boss| !boss.bore.is_empty());
        (bored && solid.ridges.is_empty()).then_some(part)
    }
}

fn on_plate(boss: &Boss, thickness: f64) -> Option<BossOnPlate> {
    let Boss { axis, radius, top, flare, root, .. } = *boss;
    let plain = root == thickness && axis.point.z == thickness;
    plain.then(|| BossOnPlate {
        at: [axis.point.x, axis.point.y],
        dir: axis.dir,
        radius,
        top,
        flare,
        bore: Vec::new(),
        gussets: None,
    })
}

/// A cylinder that goes through the plate.
fn bush(axis: &Axis, radius: f64, z: [f64; 2], thickness: f64) -> Option<BossOnPlate> {
    let at = [axis.point.x, axis.point.y];
    let boss =
        BossOnPlate { at, dir: axis.dir, radius, top: z[1] - thickness, flare: 0.0, bore: Vec::new(), gussets: None };
    (z[0] == 0.0 && z[1] > thickness).then_some(boss)
}

/// Gussets of one boss are alike but for where they stand.
fn add_gusset(boss: &mut BossOnPlate, gusset: &Gusset) -> Option<()> {
    let Gusset { toward, run, rise, toe, thickness, .. } = *gusset;
    let toward = toward.rem_euclid(TAU);
    let own = GussetRow { toward: Vec::new(), run, rise, toe, thickness };
    let row = boss.gussets.get_or_insert_with(|| own.clone());
    let place = row.toward.partition_point(|t| *t < toward);
    row.toward.insert(place, toward);
    (GussetRow { toward: Vec::new(), ..row.clone() } == own).then_some(())
}

/// A profile between two heights at which it is cut where it goes beyond.
fn within(profile: Profile, [low, high]: [f64; 2]) -> Profile {
    let mut upper = below(profile, high);
    let mirrored = |p: &mut Profile| {
        p.iter_mut().for_each(|(z, _)| *z = -*z);
        p.reverse();
    };
    mirrored(&mut upper);
    let mut all = below(upper, -low);
    mirrored(&mut all);
    all
}

/// What of a profile is not above a height.
fn below(profile: Profile, height: f64) -> Profile {
    let snapped = |(z, r): (f64, f64)| (if (z - height).abs() < SAME { height } else { z }, r);
    let profile: Profile = profile.into_iter().map(snapped).collect();
    let Some(beyond) = profile.iter().position(|(z, _)| *z > height) else { return profile };
    let mut kept = profile[..beyond].to_vec();
    if let (Some(&(z, r)), (z1, r1)) = (kept.last(), profile[beyond])
        && z < height
    {
        kept.push((height, r + (r1 - r) * (height - z) / (z1 - z)));
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A step of a rounding's height between two rings became an edge without direction in the STEP file.
    #[test]
    fn a_profile_that_ends_a_rounding_short_of_its_top_gets_no_step_there() {
        let bore = |top: f64| vec![(7.0, 8.0), (top - 1.0, 8.0), (top, 9.0), (top + 0.5, 9.5)];
        for off in [-7e-15, 0.0, 7e-15] {
            assert_eq!(within(bore(45.0 + off), [-23.0, 45.0]).len(), 3, "{off}");
            assert_eq!(within(bore(45.0 + off), [-23.0, 45.0])[2].0, 45.0, "{off}");
        }
        assert_eq!(within(bore(45.2), [0.0, 45.0]).last().map(|p| p.0), Some(45.0));
    }
}

//! Coupons to tear across the layers: upright, a waist between two heads with an eye for a hook.

use super::socket::OVERSHOOT;
use super::{CHORD, Part, PartKind};
use crate::geometry::{Axis, Fault, Feature, Round, Solid};
use crate::model::{CouponDesign, Model};

/// Chord error of the waist, mm: its area is what loads are divided by, and a tenth of the usual error takes 1 % of it.
const FINE: f64 = CHORD / 10.0;

/// Five of them; they carry no mark, since they are torn.
pub(super) fn parts(model: &Model) -> Result<Vec<Part>, Fault> {
    let kind = model.coupons();
    Ok(vec![Part { labels: Vec::new(), ..Part::new(PartKind::Coupon, &kind, solid(&kind.design)) }])
}

fn solid(d: &CouponDesign) -> Solid {
    let upright = Axis::new([0.0; 3], [0.0, 0.0, 1.0]);
    let mut solid = Solid::of(vec![Feature::revolved(&upright, &d.profile(), Round::Inside, FINE)]);
    let reach = d.head / 2.0 + OVERSHOOT;
    for z in d.eyes() {
        let across = Axis::new([0.0, 0.0, z], [1.0, 0.0, 0.0]);
        let eye = Feature::teardrop_bore(&across, [0.0, 0.0, 1.0], d.eye / 2.0, None, [-reach, reach], CHORD);
        solid.cuts.push(eye);
    }
    solid
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::fem::solid::{Grid, Material, Model as Bricks, Patch};
    use crate::model::COUPON;

    /// Five in the heaviest filament of the table, PETG with fibres, 1,290 kg/m3. At 5 mm3 a second, as a nozzle of 0.4 mm
    /// lays at 60 mm/s, they take less than 40 minutes.
    #[test]
    fn five_coupons_are_light_and_quick_to_print() {
        let volume = 5.0 * solid(&COUPON).mesh().expect("closed").volume();
        assert!(volume * 1.290e-3 <= 15.0, "{} g", volume * 1.290e-3);
        assert!(volume / 5.0 / 60.0 <= 40.0, "{} min", volume / 5.0 / 60.0);
    }

    /// Section of the heads beside the eye over the waist's, by which the eye holds until the waist tears; a pin in an eye of
    /// this size raises the stress threefold (handbooks on lugs, from memory).
    #[test]
    fn the_waist_tears_before_the_eye() {
        let (r, e) = (COUPON.head / 2.0, COUPON.eye / 2.0);
        let beside = 2.0 * (r * r * (e / r).acos() - e * (r * r - e * e).sqrt());
        assert!(beside / 3.0 > 1.3 * COUPON.area(), "{beside} mm2");
    }

    /// Depth under the skin at which a stress is read, mm.
    const UNDER: f64 = 0.25;

    /// Mean tension across the layers in the waist, and the greatest in a head, over load by the waist's area, pulled by pins.
    fn pulled(d: &CouponDesign, step: f64) -> (f64, f64, [f64; 3]) {
        let solid = solid(d);
        let inside = solid.inside();
        let (half, tall) = (d.head / 2.0 + 0.2, d.tall());
        let grid = Grid::new(&inside, [-half, -half, 0.0], [half, half, tall], [step * 1.14, step * 1.14, step]);
        let material = Material::even(2000.0, 0.38);
        let mut bricks = Bricks::new(grid, &material);
        // Where a pin bears, with its play on a third of the eye's circle: below in the lower eye, above in the upper one.
        let pin = |z: f64, up: f64| {
            let patch = |i: i32| {
                let (angle, x) =
                    (PI / 6.0 + PI * 2.0 / 3.0 * (f64::from(i % 24) + 0.5) / 24.0, 0.5 * f64::from(i / 24 - 8));
                let inward = [0.0, angle.cos(), up * angle.sin()];
                let at = [x, d.eye / 2.0 * inward[1], z + d.eye / 2.0 * inward[2]];
                Patch { at, inward, area: 0.5 * PI * 2.0 / 3.0 * d.eye / 2.0 / 24.0 }
            };
            (0..24 * 17).map(patch).collect::<Vec<_>>()
        };
        let ([low, high], film) = (d.eyes(), 2.0 * material.e / step);
        bricks.body(&pin(low, -1.0), [0.0, 0.0, low], film);
        let upper = bricks.body(&pin(high, 1.0), [0.0, 0.0, high], film);
        let condensed = bricks.condense().expect("it is held");
        let load = condensed.stiffness()[(upper + 2, upper + 2)];
        let kept = faer::Mat::from_fn(12, 1, |i, _| f64::from(u8::from(i == upper + 2)));
        let motions = condensed.motions(kept.as_ref());
        let column: Vec<f64> = (0..motions.nrows()).map(|i| motions[(i, 0)]).collect();
        let stress: Vec<([f64; 3], f64)> =
            condensed.stress(&column).into_iter().map(|(at, s)| (at, s[2] * d.area() / load)).collect();
        let middle = tall / 2.0;
        let waist = stress.iter().filter(|(p, _)| (p[2] - middle).abs() < 1.0 && p[0].hypot(p[1]) < 1.4);
        let waist: Vec<f64> = waist.map(|(_, s)| *s).collect();
        let mean = waist.iter().sum::<f64>() / waist.len() as f64;
        let heads = stress
            .iter()
            .filter(|(p, _)| (p[2] - middle).abs() > d.length / 2.0 + d.cone && inside.at(&(*p).into()) < -UNDER);
        let highest = heads.fold((0.0, [0.0; 3]), |best, (at, s)| if *s > best.0 { (*s, *at) } else { best });
        (mean, highest.0, highest.1)
    }

    /// As bricks of 0.5 and 0.4 mm: over the waist the tension across the layers is the load over its area, and in the heads it
    /// is lower, a quarter of a millimetre under the skin: half a line of the nozzle, in which cells are whole.
    #[test]
    fn a_solid_of_bricks_tears_in_its_waist() {
        for step in [0.5, 0.4] {
            let (mean, highest, at) = pulled(&COUPON, step);
            assert!((mean - 1.0).abs() < 0.03, "{mean} of load over area");
            assert!(highest < 0.9 * mean, "{highest} of load over the waist's area in a head, at {at:?}");
        }
    }
}

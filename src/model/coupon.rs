//! Dimensions of the coupons that are torn across the layers: a waist between two eyes for a hook.

use std::f64::consts::PI;

use serde::Serialize;

use super::{Kind, Model, mark};
use crate::params::Coupons;

/// Coupons that are printed (judgement: the factor for few trials falls from 3.37 to 2.33 from three to five, and to 1.92 only
/// at ten).
pub const COUPONS: usize = 5;

/// A coupon, upright as it prints. All lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CouponDesign {
    /// Diameter of the waist, in which it tears.
    pub waist: f64,
    /// Length of the waist.
    pub length: f64,
    /// Diameter of the two heads.
    pub head: f64,
    /// Height of a head.
    pub height: f64,
    /// Height of the cone between head and waist.
    pub cone: f64,
    /// Diameter of the eye across a head.
    pub eye: f64,
}

/// The coupon: the same for every file, so that loads at failure are strengths.
///
/// A waist of 3.6 mm tears between 51 N at 5 MPa and 305 N at 30 MPa, which a bucket of water or a luggage scale gives. Heads:
/// judgement, between 9 mm, whose eye would tear first, and 12 mm, of which five weigh more than 15 g.
pub const COUPON: CouponDesign = CouponDesign { waist: 3.6, length: 3.0, head: 11.5, height: 9.8, cone: 4.6, eye: 3.4 };

impl CouponDesign {
    /// Area of the waist, mm2.
    #[must_use]
    pub fn area(&self) -> f64 {
        PI / 4.0 * self.waist * self.waist
    }

    /// Height of the whole coupon.
    #[must_use]
    pub fn tall(&self) -> f64 {
        2.0 * (self.height + self.cone) + self.length
    }

    /// (height, radius) of the outline from the bed up.
    #[must_use]
    pub fn profile(&self) -> [(f64, f64); 6] {
        let (waist, head) = (self.waist / 2.0, self.head / 2.0);
        let [a, b] = [self.height, self.height + self.cone];
        let c = b + self.length;
        [(0.0, head), (a, head), (b, waist), (c, waist), (c + self.cone, head), (self.tall(), head)]
    }

    /// Heights of the middles of the two eyes.
    #[must_use]
    pub fn eyes(&self) -> [f64; 2] {
        [self.height / 2.0, self.tall() - self.height / 2.0]
    }
}

impl Model {
    /// The coupons of the kit.
    #[must_use]
    pub fn coupons(&self) -> Kind<CouponDesign> {
        Kind { design: COUPON, mark: mark('C', &COUPON), name: "coupon".to_owned(), count: COUPONS, legs: Vec::new() }
    }
}

/// Strengths at which coupons tore, MPa.
#[must_use]
pub fn torn(coupons: &Coupons) -> Vec<f64> {
    match coupons {
        Coupons::Strengths(all) => all.clone(),
        Coupons::Loads(all) => all.iter().map(|load| load / COUPON.area()).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The least and the greatest bond that prints have are torn by a bucket of water or a luggage scale.
    #[test]
    fn a_coupon_tears_by_things_at_hand() {
        for (stress, range) in [(5.0, 50.0..60.0), (30.0, 290.0..400.0)] {
            assert!(range.contains(&(stress * COUPON.area())), "{stress} MPa: {} N", stress * COUPON.area());
        }
        let found = torn(&Coupons::Loads(vec![118.0, 150.0]));
        assert!((found[0] - 118.0 / 10.1788).abs() < 1e-3 && found.len() == 2, "{found:?}");
    }
}

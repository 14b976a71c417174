//! A stiff tube in a printed socket: pressure, splitting, play, pull-out.

use std::f64::consts::PI;

use super::working::{Equation, equation};
use crate::source::{Clause, Source};

/// Linear pressure along the engaged length.
pub const PRESSURE: Clause = Source::STATICS
    .at("rigid tube in an elastic socket: pressure linear along the engaged length, on the projected width");
/// Rise of the pressure towards the middle of the arc.
pub const ARC: Clause =
    Source::STATICS.at("cosine pressure over a half turn: peak = 4/pi of the mean on the projected width");
/// Wall torn open.
pub const SPLIT: Clause = Source::STATICS.at("two walls carry the line load between them");
/// Travel of the tube before it bears.
pub const PLAY: Clause = Source::STATICS.at("tube touches the mouth on one side and the floor on the other");
/// Epoxy between a tube and a grooved bore.
pub const BOND: Clause = Source::JUDGEMENT
    .at("2 MPa in shear is about a tenth of what epoxies reach on clean metal: printed walls peel, surfaces vary, nobody tests it");
/// Crush ribs hold by friction only.
pub const RIBS: Clause = Source::JUDGEMENT
    .at("friction 0.2 of the rib pressure, and a third of it left after the plastic has relaxed: never counted as the only hold");
/// Bearing of a cross bolt on the tube and the plastic.
pub const CROSS_BOLT: Clause = Source::STATICS.at("bearing on the projected area of both walls, two shear planes");

/// Design shear of an epoxy bond in a printed bore, MPa. [`BOND`].
pub const BOND_SHEAR: f64 = 2.0;

/// A tube end in its socket, with the force and moment at the mouth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Socket {
    /// Outside diameter of the tube, mm.
    pub tube: f64,
    /// Engaged length, mm.
    pub engaged: f64,
    /// Wall of the socket round the bore, mm.
    pub wall: f64,
    /// Force across the tube at the mouth, N.
    pub shear: f64,
    /// Moment at the mouth, N mm.
    pub moment: f64,
}

impl Socket {
    /// Moment about the middle of the engaged length, N mm; the force across is taken to add to it.
    #[must_use]
    pub fn moment_at_middle(&self) -> f64 {
        self.moment.abs() + self.shear.abs() * self.engaged / 2.0
    }

    /// Largest pressure on the projected width, MPa: V/(d L) + 6 M/(d L^2). [`PRESSURE`].
    #[must_use]
    pub fn pressure(&self) -> f64 {
        let area = self.tube * self.engaged;
        self.shear.abs() / area + 6.0 * self.moment_at_middle() / (area * self.engaged)
    }

    /// Largest pressure in the middle of the arc, MPa. [`ARC`].
    #[must_use]
    pub fn peak_pressure(&self) -> f64 {
        4.0 / PI * self.pressure()
    }

    /// Tension that opens the wall at the mouth, MPa: p d / (2 t). It acts round the tube, in the layers of a socket
    /// printed upright and across them where the tube lies in the layers. [`SPLIT`].
    #[must_use]
    pub fn hoop(&self) -> f64 {
        self.pressure() * self.tube / (2.0 * self.wall)
    }

    /// The working of [`Self::peak_pressure`].
    #[must_use]
    pub fn working(&self) -> [Equation; 3] {
        let (middle, pressure) = (self.moment_at_middle(), self.pressure());
        let (v, l) = (("V", self.shear.abs(), "N"), ("L", self.engaged, "mm"));
        let (d, mid) = (("d", self.tube, "mm"), ("M_mid", middle, "N mm"));
        [
            equation("M_mid = M + V L/2", [("M", self.moment.abs(), "N mm"), v, l], middle, "N mm"),
            equation("p = V/(d L) + 6 M_mid/(d L^2)", [v, d, l, mid], pressure, "MPa"),
            equation("p_peak = 4/pi p", [("p", pressure, "MPa")], self.peak_pressure(), "MPa"),
        ]
    }
}

/// Whole swing of a loose tube before it bears, radians: diametral clearance / engaged length. [`PLAY`].
#[must_use]
pub fn free_swing(clearance: f64, engaged: f64) -> f64 {
    clearance.max(0.0) / engaged
}

/// Travel of the end of a tube `length` long before its socket bears, mm. [`PLAY`].
#[must_use]
pub fn free_travel(clearance: f64, engaged: f64, length: f64) -> f64 {
    free_swing(clearance, engaged) * length
}

/// Area of the bond between tube and bore, mm2.
#[must_use]
pub fn bond_area(tube: f64, engaged: f64) -> f64 {
    PI * tube * engaged
}

/// Pull that an epoxy bond holds, N. [`BOND`].
#[must_use]
pub fn bond_pull(tube: f64, engaged: f64) -> f64 {
    bond_area(tube, engaged) * BOND_SHEAR
}

/// Load at which a cross bolt bears on both walls of plastic or tube with `stress` MPa, N. [`CROSS_BOLT`].
#[must_use]
pub fn bolt_bearing(bolt: f64, wall: f64, stress: f64) -> f64 {
    2.0 * bolt * wall * stress
}

/// Load that tears the plastic from a cross bolt's hole to the end of the part, `left` mm away, with `shear` MPa, N: two
/// planes in each of two walls. [`CROSS_BOLT`].
#[must_use]
pub fn bolt_tear_out(left: f64, wall: f64, shear: f64) -> f64 {
    4.0 * left * wall * shear
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOCKET: Socket = Socket { tube: 25.0, engaged: 50.0, wall: 6.0, shear: 100.0, moment: 3e4 };

    #[test]
    fn pressure_balances_force_and_moment() {
        // Integrate the linear pressure: force and moment about the middle must come back.
        let (mean, rise) = (100.0 / 1250.0, SOCKET.pressure() - 100.0 / 1250.0);
        let strip = |i: usize| -0.5 + (i as f64 + 0.5) / 1000.0;
        let force: f64 = (0..1000).map(|i| (mean + rise * 2.0 * strip(i)) * 25.0 * 0.05).sum();
        let moment: f64 = (0..1000).map(|i| (mean + rise * 2.0 * strip(i)) * 25.0 * 0.05 * strip(i) * 50.0).sum();
        assert!((force - 100.0).abs() < 1e-9);
        assert!((moment - SOCKET.moment_at_middle()).abs() < 1e-5 * moment);
    }

    #[test]
    fn play_grows_with_leg_and_clearance() {
        assert!((free_travel(0.3, 40.0, 800.0) - 6.0).abs() < 1e-12);
        assert_eq!(free_travel(-0.1, 40.0, 800.0), 0.0);
    }

    #[test]
    fn steps_end_in_the_pressure() {
        let [_, mean, _] = SOCKET.working();
        assert!((mean.result - 3.2).abs() < 1e-9 && mean.unit == "MPa", "{mean:?}");
    }
}

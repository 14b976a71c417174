//! Forces in each screw of a plate held to wood, and the pressure of the plate on the wood.
//!
//! Frame of the plate: x, y in the wood face of the plate, origin at its middle, z away from the wood
//! (a positive `fz` pulls the plate off).

use nalgebra::{Matrix3, Vector3};

use crate::source::{Clause, Source};

/// Torsion and direct shear of an elastic group.
pub const SHEAR: Clause = Source::read("Shigley's Mechanical Engineering Design", "9th edition").at("eq. (8-57)");
/// Rigid plate on wood that can only press, with screws that can only pull.
pub const NEUTRAL_AXIS: Clause = Source::STATICS.at("rigid plate, compression-only foundation, neutral axis found");

/// Forces and moments on the plate at its origin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Loads {
    /// Force along x, N.
    pub fx: f64,
    /// Force along y, N.
    pub fy: f64,
    /// Force along z, N; positive pulls the plate off the wood.
    pub fz: f64,
    /// Moment about x, N mm.
    pub mx: f64,
    /// Moment about y, N mm.
    pub my: f64,
    /// Moment about z, N mm.
    pub mz: f64,
}

/// A rigid rectangular plate on wood, with its screws.
#[derive(Clone, Debug, PartialEq)]
pub struct ScrewGroup {
    /// Screw positions, mm.
    pub screws: Vec<[f64; 2]>,
    /// Plate size along x and y, mm.
    pub plate: [f64; 2],
    /// Stiffness of one screw against being pulled, N/mm.
    pub screw_stiffness: f64,
    /// Stiffness of the wood under the plate, N/mm3 (pressure per sinking).
    pub wood_stiffness: f64,
}

/// Force of one screw on the plate.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ScrewForce {
    /// Pull along the screw, N, never negative.
    pub axial: f64,
    /// Shear on the screw along x and y, N.
    pub shear: [f64; 2],
}

/// Equilibrium of the plate.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupForces {
    /// One force for each screw, in the order given.
    pub screws: Vec<ScrewForce>,
    /// Largest pressure on the wood, MPa.
    pub bearing_peak: f64,
    /// Where that pressure is, mm.
    pub bearing_at: [f64; 2],
    /// Sum of the pressure on the wood, N.
    pub bearing: f64,
    /// Part of the plate that presses, 0 to 1.
    pub pressed: f64,
    /// Distance of the neutral axis from the most pressed corner, mm; infinite when the whole plate presses evenly.
    pub neutral_axis: f64,
}

/// Shear on each screw of an elastic group: direct share and torsion about the centroid. [`SHEAR`].
#[must_use]
pub fn shear(screws: &[[f64; 2]], fx: f64, fy: f64, mz: f64) -> Vec<[f64; 2]> {
    let n = screws.len() as f64;
    let [cx, cy] = centroid(screws);
    let about_centroid = mz - cx * fy + cy * fx;
    let polar: f64 = screws.iter().map(|[x, y]| (x - cx).powi(2) + (y - cy).powi(2)).sum();
    let turn = if polar > 0.0 { about_centroid / polar } else { 0.0 };
    screws.iter().map(|[x, y]| [fx / n - turn * (y - cy), fy / n + turn * (x - cx)]).collect()
}

impl ScrewGroup {
    /// Equilibrium under the loads; `None` when nothing holds the plate (no screws, or pulled off a single line).
    #[must_use]
    pub fn solve(&self, loads: &Loads) -> Option<GroupForces> {
        let tilt = self.tilt(loads)?;
        let shear = shear(&self.screws, loads.fx, loads.fy, loads.mz);
        let pull = self.screws.iter().map(|&at| self.screw_stiffness * gap(&tilt, at).max(0.0));
        let screws = pull.zip(shear).map(|(axial, shear)| ScrewForce { axial, shear }).collect();
        Some(self.forces(&tilt, screws))
    }

    /// Lift and two tilts of the plate: w = t0 + t1 x + t2 y. Newton's method on the convex elastic energy.
    fn tilt(&self, loads: &Loads) -> Option<Vector3<f64>> {
        let load = Vector3::new(loads.fz, -loads.my, loads.mx);
        let scale = self.scale(&load);
        if self.screws.is_empty() || scale == 0.0 {
            return (!self.screws.is_empty()).then(Vector3::zeros);
        }
        let mut tilt = self.closed_stiffness().lu().solve(&load)?;
        let (mut force, mut stiffness) = self.resist(&tilt);
        for _ in 0..STEPS {
            let miss = load - force;
            if self.scale(&miss) < BALANCE * scale {
                return Some(tilt);
            }
            let full = stiffness.lu().solve(&miss).filter(|s| s.iter().all(|v| v.is_finite()))?;
            (tilt, force, stiffness) = self.damped(&tilt, &full, &load, &miss);
        }
        None
    }

    /// Halves the step until the unbalanced work falls; the tilt after it with [`Self::resist`].
    fn damped(
        &self,
        tilt: &Vector3<f64>,
        full: &Vector3<f64>,
        load: &Vector3<f64>,
        miss: &Vector3<f64>,
    ) -> (Vector3<f64>, Vector3<f64>, Matrix3<f64>) {
        let (mut part, start) = (1.0, miss.dot(full).abs());
        loop {
            let next = tilt + full * part;
            let (force, stiffness) = self.resist(&next);
            if part <= LEAST_PART || (load - force).dot(full).abs() <= start * (1.0 - 0.1 * part) {
                return (next, force, stiffness);
            }
            part /= 2.0;
        }
    }

    fn scale(&self, load: &Vector3<f64>) -> f64 {
        load[0].abs() * self.plate[0].min(self.plate[1]) + load[1].abs() + load[2].abs()
    }

    fn closed_stiffness(&self) -> Matrix3<f64> {
        let [a, b] = self.plate;
        let area = self.wood_stiffness * a * b;
        let plate = Matrix3::from_diagonal(&Vector3::new(area, area * a * a / 12.0, area * b * b / 12.0));
        self.screws.iter().fold(plate, |sum, &at| sum + outer(at) * self.screw_stiffness)
    }

    /// Resisting force for a tilt, and its derivative.
    fn resist(&self, tilt: &Vector3<f64>) -> (Vector3<f64>, Matrix3<f64>) {
        let second = pressed_moments(&self.pressed_area(tilt));
        let mut stiffness = second * self.wood_stiffness;
        for &at in self.screws.iter().filter(|&&at| gap(tilt, at) > 0.0) {
            stiffness += outer(at) * self.screw_stiffness;
        }
        let force = stiffness * tilt;
        // A plate that floats free of the wood and of all but one line of screws still needs a direction to step in.
        (force, stiffness + self.closed_stiffness() * 1e-9)
    }

    fn corners(&self) -> [[f64; 2]; 4] {
        let [a, b] = [self.plate[0] / 2.0, self.plate[1] / 2.0];
        [[-a, -b], [a, -b], [a, b], [-a, b]]
    }

    /// The polygon of the plate that presses on the wood.
    fn pressed_area(&self, tilt: &Vector3<f64>) -> Vec<[f64; 2]> {
        let corners = self.corners();
        let mut inside = Vec::with_capacity(6);
        for (i, &from) in corners.iter().enumerate() {
            let to = corners[(i + 1) % corners.len()];
            let (g0, g1) = (gap(tilt, from), gap(tilt, to));
            if g0 < 0.0 {
                inside.push(from);
            }
            if (g0 < 0.0) != (g1 < 0.0) {
                let part = g0 / (g0 - g1);
                inside.push([from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])]);
            }
        }
        inside
    }

    fn forces(&self, tilt: &Vector3<f64>, screws: Vec<ScrewForce>) -> GroupForces {
        let corners = self.corners();
        let lowest = corners.into_iter().min_by(|a, b| gap(tilt, *a).total_cmp(&gap(tilt, *b))).unwrap_or([0.0; 2]);
        let second = pressed_moments(&self.pressed_area(tilt)) * self.wood_stiffness;
        let sinking = (-gap(tilt, lowest)).max(0.0);
        let [a, b] = self.plate;
        GroupForces {
            screws,
            bearing_peak: self.wood_stiffness * sinking,
            bearing_at: lowest,
            bearing: -(second * tilt)[0],
            pressed: second[(0, 0)] / (self.wood_stiffness * a * b),
            neutral_axis: sinking / tilt[1].hypot(tilt[2]),
        }
    }
}

/// Most Newton steps: the plates tried settle in under 15.
const STEPS: usize = 200;
/// Smallest part of a Newton step.
const LEAST_PART: f64 = 1e-6;
/// Unbalanced part of the load that is accepted.
const BALANCE: f64 = 1e-10;

fn centroid(screws: &[[f64; 2]]) -> [f64; 2] {
    let n = screws.len() as f64;
    let sum = screws.iter().fold([0.0, 0.0], |s, p| [s[0] + p[0], s[1] + p[1]]);
    [sum[0] / n, sum[1] / n]
}

fn gap(tilt: &Vector3<f64>, [x, y]: [f64; 2]) -> f64 {
    tilt[0] + tilt[1] * x + tilt[2] * y
}

fn outer([x, y]: [f64; 2]) -> Matrix3<f64> {
    let v = Vector3::new(1.0, x, y);
    v * v.transpose()
}

/// Integral of (1, x, y)(1, x, y)^T over a polygon: exact, by triangles and their mid-edge points.
fn pressed_moments(polygon: &[[f64; 2]]) -> Matrix3<f64> {
    let mut sum = Matrix3::zeros();
    for i in 2..polygon.len() {
        let (a, b, c) = (polygon[0], polygon[i - 1], polygon[i]);
        let area = ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2.0;
        for (p, q) in [(a, b), (b, c), (c, a)] {
            sum += outer([f64::midpoint(p[0], q[0]), f64::midpoint(p[1], q[1])]) * (area / 3.0);
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group() -> ScrewGroup {
        let screws = vec![
            [-45., -18.],
            [-45., 18.],
            [45., -18.],
            [45., 18.],
            [-18., -45.],
            [-18., 45.],
            [18., -45.],
            [18., 45.],
        ];
        ScrewGroup { screws, plate: [110., 110.], screw_stiffness: 5000., wood_stiffness: 20. }
    }

    fn sums(group: &ScrewGroup, forces: &GroupForces) -> (f64, f64, f64) {
        let pull: f64 = forces.screws.iter().map(|s| s.axial).sum();
        let mx: f64 = forces.screws.iter().zip(&group.screws).map(|(s, p)| s.axial * p[1]).sum();
        let my: f64 = forces.screws.iter().zip(&group.screws).map(|(s, p)| -s.axial * p[0]).sum();
        (pull, mx, my)
    }

    #[test]
    fn a_straight_pull_is_shared_evenly_and_leaves_the_wood() {
        let forces = group().solve(&Loads { fz: 800.0, ..Loads::default() }).expect("held");
        assert!(forces.screws.iter().all(|s| (s.axial - 100.0).abs() < 1e-6), "{forces:?}");
        assert_eq!(forces.bearing_peak, 0.0);
    }

    #[test]
    fn a_straight_push_spares_the_screws() {
        let forces = group().solve(&Loads { fz: -800.0, ..Loads::default() }).expect("held");
        assert!(forces.screws.iter().all(|s| s.axial == 0.0), "{forces:?}");
        assert!((forces.bearing_peak - 800.0 / 110.0 / 110.0).abs() < 1e-9);
        assert!((forces.pressed - 1.0).abs() < 1e-9);
    }

    #[test]
    fn vertical_balance_holds_for_any_direction_of_the_moment() {
        let group = group();
        for degrees in [0.0_f64, 17.0, 45.0, 90.0, 133.0, 270.0] {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let loads = Loads { fz: 60.0, mx: 3e4 * cos, my: 3e4 * sin, ..Loads::default() };
            let forces = group.solve(&loads).expect("held");
            let (pull, mx, my) = sums(&group, &forces);
            assert!((pull - forces.bearing - 60.0).abs() < 1e-6, "{degrees}");
            let pressed = [mx - loads.mx, loads.my - my];
            let at = forces.bearing_at;
            assert!(pressed[0] * at[1] >= -1e-6 || pressed[1] * at[0] >= -1e-6, "{degrees} {pressed:?} {at:?}");
        }
    }

    #[test]
    fn a_moment_about_plus_y_pulls_the_screws_at_minus_x() {
        let forces = group().solve(&Loads { my: 3e4, ..Loads::default() }).expect("held");
        assert!(forces.screws[0].axial > 0.0 && forces.screws[2].axial == 0.0);
        assert!(forces.bearing_at[0] > 0.0);
    }

    #[test]
    fn no_screws_hold_nothing() {
        let group = ScrewGroup { screws: vec![], ..group() };
        assert_eq!(group.solve(&Loads { fz: 1.0, ..Loads::default() }), None);
    }
}

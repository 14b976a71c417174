//! Six-component springs and rigid links between two nodes.

use nalgebra::{Matrix3, SMatrix, Vector3};

use super::ground::Axes;

/// Stiffness of a component that is tied exactly.
pub const RIGID: f64 = f64::INFINITY;

/// Relative movement of the second node in local axes, from the twelve displacements of both.
pub(super) type Relation = SMatrix<f64, 6, 12>;

/// A spring at the place of its second node; a rigid arm reaches there from the first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spring {
    pub(super) nodes: [usize; 2],
    pub(super) axes: Axes,
    /// From the first node to the second, mm.
    pub(super) arm: Vector3<f64>,
    /// N/mm and N mm/rad in `axes`; infinite components are constraints.
    pub(super) stiffness: [f64; 6],
}

impl Spring {
    /// q = axes (u_b - u_a - theta_a x arm), axes (theta_b - theta_a).
    pub(super) fn relation(&self) -> Relation {
        let r = self.axes.0;
        let mut b = Relation::zeros();
        b.fixed_view_mut::<3, 3>(0, 0).copy_from(&-r);
        b.fixed_view_mut::<3, 3>(0, 3).copy_from(&(r * self.arm.cross_matrix()));
        b.fixed_view_mut::<3, 3>(0, 6).copy_from(&r);
        b.fixed_view_mut::<3, 3>(3, 3).copy_from(&-r);
        b.fixed_view_mut::<3, 3>(3, 9).copy_from(&r);
        b
    }

    /// Stiffness of the finite components, in global axes.
    pub(super) fn stiffness(&self) -> SMatrix<f64, 12, 12> {
        let b = self.relation();
        let mut k = SMatrix::<f64, 12, 12>::zeros();
        for (row, &stiff) in self.stiffness.iter().enumerate().filter(|(_, s)| s.is_finite() && **s > 0.0) {
            k += b.row(row).transpose() * b.row(row) * stiff;
        }
        k
    }

    /// Second-order stiffness of the rigid arm that carries the global force `f` (acting on the second node): under
    /// a rotation t of the first node the arm's end moves by t x (t x arm) / 2 as well. The force on the arm's end is
    /// the opposite of `f`, and its potential -(-f) . t x (t x arm) / 2 = t' S t / 2 gives
    /// S = (f arm' + arm f') / 2 - (f . arm) I. Derived here.
    pub(super) fn arm_stiffness(&self, f: Vector3<f64>) -> Matrix3<f64> {
        (f * self.arm.transpose() + self.arm * f.transpose()) * 0.5 - Matrix3::identity() * f.dot(&self.arm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Statics: a rigid-body movement strains no spring, wherever its nodes are.
    #[test]
    fn rigid_body_movement_is_free() {
        let axes = Axes::along([1.0, 2.0, -0.5], [0.0, 0.3, 1.0]);
        let spring = Spring { nodes: [0, 1], axes, arm: Vector3::new(30.0, -12.0, 7.0), stiffness: [3.0; 6] };
        let (shift, turn) = (Vector3::new(0.3, -0.1, 0.7), Vector3::new(0.01, 0.02, -0.03));
        let mut u = SMatrix::<f64, 12, 1>::zeros();
        u.fixed_rows_mut::<3>(0).copy_from(&shift);
        u.fixed_rows_mut::<3>(3).copy_from(&turn);
        u.fixed_rows_mut::<3>(6).copy_from(&(shift + turn.cross(&spring.arm)));
        u.fixed_rows_mut::<3>(9).copy_from(&turn);
        assert!((spring.relation() * u).norm() < 1e-14);
        assert!((spring.stiffness() * u).norm() < 1e-12);
    }
}

//! Static solution of a frame: one factorisation, any number of load cases, first and second order.

use std::sync::OnceLock;

use nalgebra::{DMatrix, DVector, Dyn, LU};

use super::beam::Vec12;
use super::constraint::{Constraints, Key};
use super::element_matrix::{ElementMatrix, assemble, geometric, internal_forces_each, masses, multiply, stiffness};
use super::frame::Frame;
use super::ground::{DOF, FrameError, NodeId, PlateId};
use super::load::Case;
use super::plate::PlateForces;
use super::sparse::{Factor, add_to, dot};
use super::state::State;

/// Lowest eigenvalue of the stiffness scaled to a unit diagonal below which a frame counts as a mechanism. Measured:
/// tables with joints of 10 and 0.1 N m/rad have 1e-10 and 1e-12; a mechanism's zero is rounding near 1e-15, and mostly
/// fails to factorise at all.
const LOOSE: f64 = 1e-13;

/// Share of the diagonal added to find out which way a mechanism moves: above rounding, below any stiffness.
const LIFT: f64 = 1e-10;

/// Steps of inverse iteration towards the loosest movement; each gains many digits where it matters.
const STEPS: usize = 3;

/// A frame ready to be solved.
#[derive(Clone, Debug)]
pub struct Solver<'a> {
    pub(super) frame: &'a Frame,
    pub(super) constraints: Constraints,
    pub(super) stiffness: Vec<ElementMatrix>,
    pub(super) factor: Factor,
    /// Forces of everything that weighs under an acceleration of 1 along x, y and z, at all degrees of freedom.
    weight: OnceLock<[Vec<f64>; 3]>,
}

/// A node whose supports can be released: see [`Solver::releasable`].
#[derive(Clone, Debug)]
pub struct ReleasableSupport {
    node: NodeId,
    dofs: Vec<usize>,
    /// States under a movement of 1 of each support.
    moved: Vec<State>,
    /// Forces of the supports under them.
    stiffness: LU<f64, Dyn, Dyn>,
}

impl Frame {
    /// Assembles and factorises the stiffness, ready for any number of load cases.
    ///
    /// # Errors
    /// [`FrameError::Mechanism`] when part of the frame can move without resistance.
    pub fn prepare(&self) -> Result<Solver<'_>, FrameError> {
        Solver::new(self)
    }
}

impl<'a> Solver<'a> {
    pub(super) fn new(frame: &'a Frame) -> Result<Self, FrameError> {
        let constraints = Constraints::new(frame);
        let stiffness = stiffness(frame);
        let matrix = assemble(&constraints, &[(1.0, &stiffness)]);
        let loosest = |factor: &Factor| inverse_iteration(factor, &matrix.diagonal());
        let mechanism = |shape: &[f64]| name_mechanism(frame, &constraints, &matrix.diagonal(), shape);
        if let Some(empty) = matrix.diagonal().iter().position(|d| *d <= 0.0) {
            let mut shape = vec![0.0; matrix.size()];
            shape[empty] = 1.0;
            return Err(mechanism(&shape));
        }
        match Factor::with(matrix.clone(), &frame.orders) {
            Ok(factor) => {
                let (value, shape) = loosest(&factor);
                if value < LOOSE {
                    Err(mechanism(&shape))
                } else {
                    Ok(Self { frame, constraints, stiffness, factor, weight: OnceLock::new() })
                }
            }
            Err(mut singular) => {
                singular.lift_diagonal(LIFT);
                let lifted = Factor::new(*singular).map_err(|_| FrameError::BadValue { what: "stiffness" })?;
                Err(mechanism(&loosest(&lifted).1))
            }
        }
    }

    /// Linear statics of several cases.
    #[must_use]
    pub fn statics(&self, cases: &[Case]) -> Vec<State> {
        self.states(&self.factor, None, cases)
    }

    /// The sum of factored states of this frame, all of the first order or all of the second with the same reference.
    #[must_use]
    pub fn superposed(&self, parts: &[(f64, &State)]) -> State {
        let size = self.frame.nodes.len() * DOF;
        let mut sum = State {
            displacements: vec![0.0; size],
            applied: vec![0.0; size],
            supports: vec![0.0; size],
            springs: vec![[0.0; 6]; self.frame.springs.len()],
            beams: vec![[0.0; 12]; self.frame.beams.len()],
            energy: 0.0,
        };
        for (factor, part) in parts {
            add_to(&mut sum.displacements, *factor, &part.displacements);
            add_to(&mut sum.applied, *factor, &part.applied);
            add_to(&mut sum.supports, *factor, &part.supports);
            add_to(sum.springs.as_flattened_mut(), *factor, part.springs.as_flattened());
            add_to(sum.beams.as_flattened_mut(), *factor, part.beams.as_flattened());
        }
        // Links do no work, so the strain energy is half that of loads and supports.
        sum.energy = sum.work() + 0.5 * dot(&sum.supports, &sum.displacements);
        sum
    }

    /// Makes ready to let some held degrees of freedom of each of these nodes go, one node at a time.
    ///
    /// # Errors
    /// [`FrameError::BadValue`] where one of them is not held.
    pub fn releasable(&self, nodes: &[NodeId], directions: &[usize]) -> Result<Vec<ReleasableSupport>, FrameError> {
        let dofs = |node: &NodeId| -> Vec<usize> { directions.iter().map(|d| node.0 * DOF + d).collect() };
        let carried: Option<Vec<_>> = nodes.iter().flat_map(dofs).map(|dof| self.constraints.carried(dof)).collect();
        let carried = carried.ok_or(FrameError::BadValue { what: "a support to let go" })?;
        let still = Case::new();
        let moved = self.moved(&carried);
        let inner = self.inner(&moved, None);
        let moved = moved.into_iter().zip(inner);
        let mut moved = moved.map(|(u, inner)| self.state(vec![0.0; u.len()], u, inner, &still, None));
        let loose = |node: &NodeId| {
            let dofs = dofs(node);
            let moved: Vec<State> = moved.by_ref().take(dofs.len()).collect();
            let stiffness = DMatrix::from_fn(dofs.len(), dofs.len(), |i, j| moved[j].supports[dofs[i]]).lu();
            ReleasableSupport { node: *node, dofs, moved, stiffness }
        };
        Ok(nodes.iter().map(loose).collect())
    }

    /// Linear statics with one node released, by superposition on the factor at hand: its supports are moved until they push no
    /// more. `held` is the linear statics while they are held; a `force` on the node is added, N.
    ///
    /// # Errors
    /// [`FrameError::Unstable`] where nothing else holds the node.
    pub fn released(&self, loose: &ReleasableSupport, held: &State, force: [f64; 3]) -> Result<State, FrameError> {
        let mut pushed = held.clone();
        for (dof, f) in (loose.node.0 * DOF..).zip(force) {
            pushed.applied[dof] += f;
            pushed.supports[dof] -= f;
        }
        let load = DVector::from_iterator(loose.dofs.len(), loose.dofs.iter().map(|dof| -pushed.supports[*dof]));
        let moves = loose.stiffness.solve(&load).ok_or(FrameError::Unstable)?;
        let by = moves.iter().copied().zip(&loose.moved);
        Ok(self.superposed(&[(1.0, &pushed)].into_iter().chain(by).collect::<Vec<_>>()))
    }

    /// Displacements under movements that supports impose, from what their rigid links carry along.
    fn moved(&self, carried: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let mut loads = internal_forces_each(&self.stiffness, carried);
        loads.iter_mut().flatten().for_each(|f| *f = -*f);
        let mut shapes = self.solve(&self.factor, None, &loads);
        shapes.iter_mut().zip(carried).for_each(|(u, carried)| add_to(u, 1.0, carried));
        shapes
    }

    /// Second-order statics: the geometric stiffness of the `reference` state is added before solving, so sway is
    /// amplified by its axial forces. Usually `reference` is the linear state of the same loads.
    ///
    /// # Errors
    /// [`FrameError::Unstable`] when the reference loads exceed the critical load.
    pub fn second_order(&self, reference: &State, cases: &[Case]) -> Result<Vec<State>, FrameError> {
        let geometric = geometric(self.frame, reference);
        let matrix = self.factor.matrix.plus(&assemble(&self.constraints, &[(1.0, &geometric)]));
        let factor = Factor::with(matrix, &self.frame.orders).map_err(|_| FrameError::Unstable)?;
        Ok(self.states(&factor, Some((&geometric, reference)), cases))
    }

    fn states(&self, factor: &Factor, second: Option<(&[ElementMatrix], &State)>, cases: &[Case]) -> Vec<State> {
        let (applied, geometric) = (self.applied(cases), second.map(|(matrices, _)| matrices));
        let solved = self.solve(factor, geometric, &applied);
        let inner = self.inner(&solved, geometric);
        let each = solved.into_iter().zip(inner).zip(applied).zip(cases);
        each.map(|(((u, inner), f), case)| self.state(f, u, inner, case, second)).collect()
    }

    /// Displacements of all degrees of freedom under loads on them, refined once with residuals summed element by
    /// element.
    fn solve(&self, factor: &Factor, geometric: Option<&[ElementMatrix]>, applied: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let loads: Vec<_> = applied.iter().map(|f| self.constraints.reduce(f)).collect();
        let mut solved = factor.solve(&loads);
        let whole: Vec<_> = solved.iter().map(|u| self.constraints.expand(u)).collect();
        let rest =
            self.inner(&whole, geometric).into_iter().zip(applied).map(|(inner, f)| {
                self.constraints.reduce(&f.iter().zip(inner).map(|(f, k)| f - k).collect::<Vec<_>>())
            });
        let rest: Vec<_> = rest.collect();
        for (u, du) in solved.iter_mut().zip(factor.solve(&rest)) {
            add_to(u, 1.0, &du);
        }
        solved.iter().map(|u| self.constraints.expand(u)).collect()
    }

    /// Forces of stiffness and geometric stiffness at all degrees of freedom under several displacements.
    fn inner(&self, displacements: &[Vec<f64>], geometric: Option<&[ElementMatrix]>) -> Vec<Vec<f64>> {
        let mut inner = internal_forces_each(&self.stiffness, displacements);
        if let Some(matrices) = geometric {
            let more = internal_forces_each(matrices, displacements);
            inner.iter_mut().zip(more).for_each(|(inner, more)| add_to(inner, 1.0, &more));
        }
        inner
    }

    /// Loads of each case at all degrees of freedom, weight included.
    pub(super) fn applied(&self, cases: &[Case]) -> Vec<Vec<f64>> {
        cases.iter().map(|case| self.applied_by(case)).collect()
    }

    fn applied_by(&self, case: &Case) -> Vec<f64> {
        let (mut loads, acceleration) = (case.nodal(self.frame.nodes.len()), case.acceleration());
        if acceleration != [0.0; 3] {
            let weight = self.weight.get_or_init(|| {
                let matrices = masses(self.frame, false);
                [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
                    .map(|unit| multiply(&matrices, &uniform(self.frame, unit)))
            });
            weight.iter().zip(acceleration).for_each(|(weight, a)| add_to(&mut loads, a, weight));
        }
        loads
    }

    /// The state of displacements and their inner forces.
    fn state(
        &self,
        applied: Vec<f64>,
        u: Vec<f64>,
        mut inner: Vec<f64>,
        case: &Case,
        second: Option<(&[ElementMatrix], &State)>,
    ) -> State {
        let energy = 0.5 * dot(&inner, &u);
        add_to(&mut inner, -1.0, &applied);
        let mut supports = vec![0.0; u.len()];
        let mut springs: Vec<_> = (0..self.frame.springs.len()).map(|i| self.elastic(i, &u)).collect();
        for (key, value) in self.constraints.multipliers(inner) {
            match key {
                Key::Support(dof) => supports[dof] = value,
                Key::Link(index, part) => springs[index][part] = value,
            }
        }
        let beams = (0..self.frame.beams.len())
            .map(|i| self.ends(i, &u, case.acceleration(), second.map_or(0.0, |(_, s)| s.tension(i))))
            .collect();
        State { displacements: u, applied, supports, springs, beams, energy }
    }

    /// Forces of the finite components of a spring on its second node.
    fn elastic(&self, index: usize, u: &[f64]) -> [f64; 6] {
        let spring = &self.frame.springs[index];
        let q = spring.relation() * local(&spring.nodes, u);
        std::array::from_fn(|i| if spring.stiffness[i].is_finite() { -spring.stiffness[i] * q[i] } else { 0.0 })
    }

    /// Forces on the ends of a beam in local axes, less its own weight's share at the nodes.
    fn ends(&self, index: usize, u: &[f64], acceleration: [f64; 3], tension: f64) -> [f64; 12] {
        let beam = &self.frame.beams[index];
        let turn = beam.turn();
        let mut matrix = beam.stiffness();
        if tension != 0.0 {
            matrix += beam.geometric(tension);
        }
        let mut f = matrix * (turn * local(&beam.nodes, u));
        if acceleration != [0.0; 3] {
            let [x, y, z] = acceleration;
            let field = Vec12::from_column_slice(&[x, y, z, 0.0, 0.0, 0.0, x, y, z, 0.0, 0.0, 0.0]);
            f -= beam.mass() * (turn * field);
        }
        f.into()
    }

    /// Stress resultants at the centroid of every triangle of a plate, with its corners.
    #[must_use]
    pub fn plate_forces(&self, state: &State, plate: PlateId) -> Vec<([NodeId; 3], PlateForces)> {
        let plate = &self.frame.plates[plate.0];
        let centre = |i| plate.forces(i, [1.0 / 3.0; 3], &state.displacements);
        plate.triangles.iter().enumerate().map(|(i, t)| (t.map(NodeId), centre(i))).collect()
    }
}

fn local(nodes: &[usize; 2], u: &[f64]) -> Vec12 {
    Vec12::from_iterator(nodes.iter().flat_map(|n| u[n * DOF..n * DOF + DOF].iter().copied()))
}

/// The same translation at every node.
pub(super) fn uniform(frame: &Frame, [x, y, z]: [f64; 3]) -> Vec<f64> {
    [x, y, z, 0.0, 0.0, 0.0].repeat(frame.nodes.len())
}

/// Lowest eigenvalue of the matrix scaled by its diagonal, and its shape.
fn inverse_iteration(factor: &Factor, diagonal: &[f64]) -> (f64, Vec<f64>) {
    // Any start that is not orthogonal to the wanted shape will do; this one is uneven on purpose.
    let mut x: Vec<f64> = (0..diagonal.len()).map(|i| 1.0 + ((i * 7919) % 1009) as f64 / 1009.0).collect();
    x.iter_mut().zip(diagonal).for_each(|(x, d)| *x /= d.sqrt());
    let mut value = f64::INFINITY;
    for _ in 0..STEPS {
        let load: Vec<f64> = x.iter().zip(diagonal).map(|(x, d)| x * d).collect();
        let [y] = &factor.solve(std::slice::from_ref(&load))[..] else { return (value, x) };
        let norm: f64 = y.iter().zip(diagonal).map(|(y, d)| y * y * d).sum();
        value = dot(y, &load) / norm;
        x = y.iter().map(|v| v / norm.sqrt()).collect();
    }
    (value.abs(), x)
}

fn name_mechanism(frame: &Frame, constraints: &Constraints, diagonal: &[f64], shape: &[f64]) -> FrameError {
    let size = |i: &usize| shape[*i].abs() * diagonal[*i].sqrt().max(f64::MIN_POSITIVE);
    let loosest = (0..shape.len()).max_by(|a, b| size(a).total_cmp(&size(b))).unwrap_or(0);
    let dof = constraints.unknowns.get(loosest).copied().unwrap_or(0);
    let node = NodeId(dof / DOF);
    FrameError::Mechanism { node, place: frame.place(node), direction: dof % DOF }
}

//! Static solution of a frame: one factorisation, any number of load cases, first and second order.

use std::sync::OnceLock;

use nalgebra::{DMatrix, DVector, Dyn, LU, Matrix3, Vector3};

use super::beam::Vec12;
use super::constraint::{Constraints, Key, dofs_of};
use super::frame::Frame;
use super::ground::{BeamId, DOF, FrameError, NodeId, PlateId, SpringId};
use super::load::Case;
use super::plate::PlateForces;
use super::sparse::{Factor, Gather, Symmetric, add_to, dot};

/// Lowest eigenvalue of the stiffness scaled to a unit diagonal below which a frame counts as a mechanism. Measured:
/// tables with joints of 10 and 0.1 N m/rad have 1e-10 and 1e-12; a mechanism's zero is rounding near 1e-15, and mostly
/// fails to factorise at all.
const LOOSE: f64 = 1e-13;

/// Share of the diagonal added to find out which way a mechanism moves: above rounding, below any stiffness.
const LIFT: f64 = 1e-10;

/// Steps of inverse iteration towards the loosest movement; each gains many digits where it matters.
const STEPS: usize = 3;

/// Most degrees of freedom of one element: three nodes.
const WIDEST: usize = 3 * DOF;

/// The matrix of one element over all degrees of freedom of its nodes.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    dofs: Vec<usize>,
    /// By columns.
    matrix: Vec<f64>,
}

impl Piece {
    fn new<const N: usize>(nodes: &[usize], matrix: &nalgebra::SMatrix<f64, N, N>) -> Self {
        Self { dofs: dofs_of(nodes), matrix: matrix.as_slice().to_vec() }
    }

    /// Adds the forces of a stiffness, which a common translation cannot strain: it is taken out first, since
    /// otherwise the sway of a whole table would cost equilibrium several digits.
    fn resist(&self, u: &[f64], out: &mut [f64]) {
        let first = [u[self.dofs[0]], u[self.dofs[1]], u[self.dofs[2]]];
        self.times(|i| if i % DOF < 3 { u[self.dofs[i]] - first[i % DOF] } else { u[self.dofs[i]] }, out);
    }

    /// Adds matrix times displacements to forces.
    fn act(&self, u: &[f64], out: &mut [f64]) {
        self.times(|i| u[self.dofs[i]], out);
    }

    fn times(&self, local: impl Fn(usize) -> f64, out: &mut [f64]) {
        let n = self.dofs.len();
        let mut sums = [0.0; WIDEST];
        for (j, column) in self.matrix.chunks_exact(n).enumerate() {
            let u = local(j);
            sums.iter_mut().zip(column).for_each(|(sum, k)| *sum += k * u);
        }
        self.dofs.iter().zip(sums).for_each(|(dof, f)| out[*dof] += f);
    }
}

/// Sum over elements of matrix times displacements, at all degrees of freedom.
pub(super) fn act(pieces: &[Piece], u: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; u.len()];
    pieces.iter().for_each(|p| p.act(u, &mut out));
    out
}

/// Forces of a stiffness at all degrees of freedom.
pub(super) fn resist(pieces: &[Piece], u: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; u.len()];
    pieces.iter().for_each(|p| p.resist(u, &mut out));
    out
}

/// A frame ready to be solved.
#[derive(Clone, Debug)]
pub struct Solver<'a> {
    pub(super) frame: &'a Frame,
    pub(super) constraints: Constraints,
    pub(super) stiffness: Vec<Piece>,
    pub(super) factor: Factor,
    /// Forces of everything that weighs under an acceleration of 1 along x, y and z, at all degrees of freedom.
    weight: OnceLock<[Vec<f64>; 3]>,
}

/// A node whose supports can be let go: see [`Solver::loosened`].
#[derive(Clone, Debug)]
pub struct Loose {
    node: NodeId,
    dofs: Vec<usize>,
    /// States under a movement of 1 of each support.
    moved: Vec<State>,
    /// Forces of the supports under them.
    stiffness: LU<f64, Dyn, Dyn>,
}

/// Displacements and forces of one load case.
#[derive(Clone, Debug)]
pub struct State {
    pub(super) displacements: Vec<f64>,
    /// Loads including weight.
    applied: Vec<f64>,
    supports: Vec<f64>,
    pub(super) springs: Vec<[f64; 6]>,
    pub(super) beams: Vec<[f64; 12]>,
    energy: f64,
}

impl State {
    /// ux uy uz (mm), rx ry rz (rad) of a node.
    #[must_use]
    pub fn displacement(&self, node: NodeId) -> [f64; 6] {
        six(&self.displacements, node.0)
    }

    /// Forces (N) and moments (N mm) of the supports on a node, global axes; zero where it is not held.
    #[must_use]
    pub fn reaction(&self, node: NodeId) -> [f64; 6] {
        six(&self.supports, node.0)
    }

    /// Forces and moments on the first and second end of a beam, in its local axes: N is minus the first, or the
    /// seventh.
    #[must_use]
    pub fn beam_ends(&self, beam: BeamId) -> [[f64; 6]; 2] {
        [six(&self.beams[beam.0], 0), six(&self.beams[beam.0], 1)]
    }

    pub(super) fn tension(&self, beam: usize) -> f64 {
        0.5 * (self.beams[beam][6] - self.beams[beam][0])
    }

    /// Forces and moments that a spring or link exerts on its second node, in the spring's axes.
    #[must_use]
    pub fn spring(&self, spring: SpringId) -> [f64; 6] {
        self.springs[spring.0]
    }

    /// Strain energy, N mm; in second order with the work of the geometric stiffness.
    #[must_use]
    pub fn energy(&self) -> f64 {
        self.energy
    }

    /// Half the work of loads on their displacements, N mm.
    #[must_use]
    pub fn work(&self) -> f64 {
        0.5 * dot(&self.applied, &self.displacements)
    }

    /// Sum of loads including weight, and their moment about the origin.
    #[must_use]
    pub fn applied_sum(&self, frame: &Frame) -> [f64; 6] {
        resultant(frame, &self.applied)
    }

    /// Sum of reactions, and their moment about the origin; in second order the moment of loads on their own
    /// displacements is missing from it.
    #[must_use]
    pub fn reaction_sum(&self, frame: &Frame) -> [f64; 6] {
        resultant(frame, &self.supports)
    }
}

fn six(all: &[f64], index: usize) -> [f64; 6] {
    std::array::from_fn(|d| all[index * DOF + d])
}

fn resultant(frame: &Frame, forces: &[f64]) -> [f64; 6] {
    let mut sum = [0.0; 6];
    for (f, place) in forces.chunks(DOF).zip(&frame.nodes) {
        let turn = place.cross(&Vector3::new(f[0], f[1], f[2]));
        for d in 0..3 {
            sum[d] += f[d];
            sum[3 + d] += f[3 + d] + turn[d];
        }
    }
    sum
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
        match Factor::new(matrix.clone()) {
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
    pub fn loosened(&self, nodes: &[NodeId], directions: &[usize]) -> Result<Vec<Loose>, FrameError> {
        let dofs = |node: &NodeId| -> Vec<usize> { directions.iter().map(|d| node.0 * DOF + d).collect() };
        let carried: Option<Vec<_>> = nodes.iter().flat_map(dofs).map(|dof| self.constraints.carried(dof)).collect();
        let carried = carried.ok_or(FrameError::BadValue { what: "a support to let go" })?;
        let still = Case::new();
        let mut moved = self.moved(&carried).into_iter().map(|u| self.state(vec![0.0; u.len()], u, &still, None));
        let loose = |node: &NodeId| {
            let dofs = dofs(node);
            let moved: Vec<State> = moved.by_ref().take(dofs.len()).collect();
            let stiffness = DMatrix::from_fn(dofs.len(), dofs.len(), |i, j| moved[j].supports[dofs[i]]).lu();
            Loose { node: *node, dofs, moved, stiffness }
        };
        Ok(nodes.iter().map(loose).collect())
    }

    /// Linear statics with one node let go, by superposition on the factor at hand: its supports are moved until they push no
    /// more. `held` is the linear statics while they are held; a `force` on the node is added, N.
    ///
    /// # Errors
    /// [`FrameError::Unstable`] where nothing else holds the node.
    pub fn released(&self, loose: &Loose, held: &State, force: [f64; 3]) -> Result<State, FrameError> {
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
        let loads: Vec<Vec<f64>> =
            carried.iter().map(|u| resist(&self.stiffness, u).into_iter().map(|f| -f).collect()).collect();
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
        let matrix = assemble(&self.constraints, &[(1.0, &self.stiffness), (1.0, &geometric)]);
        let factor = Factor::new(matrix).map_err(|_| FrameError::Unstable)?;
        Ok(self.states(&factor, Some((&geometric, reference)), cases))
    }

    fn states(&self, factor: &Factor, second: Option<(&[Piece], &State)>, cases: &[Case]) -> Vec<State> {
        let applied = self.applied(cases);
        let solved = self.solve(factor, second.map(|(pieces, _)| pieces), &applied);
        let each = solved.into_iter().zip(applied).zip(cases);
        each.map(|((u, f), case)| self.state(f, u, case, second)).collect()
    }

    /// Displacements of all degrees of freedom under loads on them, refined once with residuals summed element by
    /// element.
    fn solve(&self, factor: &Factor, geometric: Option<&[Piece]>, applied: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let loads: Vec<_> = applied.iter().map(|f| self.constraints.reduce(f)).collect();
        let mut solved = factor.solve(&loads);
        let rest = solved.iter().zip(applied).map(|(u, f)| {
            let inner = self.inner(&self.constraints.expand(u), geometric);
            self.constraints.reduce(&f.iter().zip(inner).map(|(f, k)| f - k).collect::<Vec<_>>())
        });
        let rest: Vec<_> = rest.collect();
        for (u, du) in solved.iter_mut().zip(factor.solve(&rest)) {
            add_to(u, 1.0, &du);
        }
        solved.iter().map(|u| self.constraints.expand(u)).collect()
    }

    /// Forces of stiffness and geometric stiffness at all degrees of freedom.
    fn inner(&self, u: &[f64], geometric: Option<&[Piece]>) -> Vec<f64> {
        let mut inner = resist(&self.stiffness, u);
        if let Some(pieces) = geometric {
            add_to(&mut inner, 1.0, &resist(pieces, u));
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
                let pieces = masses(self.frame, false);
                [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|unit| act(&pieces, &uniform(self.frame, unit)))
            });
            weight.iter().zip(acceleration).for_each(|(weight, a)| add_to(&mut loads, a, weight));
        }
        loads
    }

    fn state(&self, applied: Vec<f64>, u: Vec<f64>, case: &Case, second: Option<(&[Piece], &State)>) -> State {
        let mut inner = self.inner(&u, second.map(|(pieces, _)| pieces));
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

fn stiffness(frame: &Frame) -> Vec<Piece> {
    let beams = frame.beams.iter().map(|b| Piece::new(&b.nodes, &b.in_global(&b.stiffness())));
    let soft = |s: &&super::spring::Spring| s.stiffness.iter().any(|k| k.is_finite() && *k > 0.0);
    let springs = frame.springs.iter().filter(soft).map(|s| Piece::new(&s.nodes, &s.stiffness()));
    let plates = frame
        .plates
        .iter()
        .flat_map(|p| p.triangles.iter().enumerate().map(|(i, nodes)| Piece::new(nodes, &p.stiffness(i))));
    beams.chain(springs).chain(plates).collect()
}

/// Mass of beams, plates and lumps; `carried` tells whether what lies on plates is counted.
pub(super) fn masses(frame: &Frame, carried: bool) -> Vec<Piece> {
    let beams = frame.beams.iter().filter(|b| b.section.density > 0.0);
    let beams = beams.map(|b| Piece::new(&b.nodes, &b.in_global(&b.mass())));
    let plates = frame
        .plates
        .iter()
        .flat_map(|p| p.triangles.iter().enumerate().map(move |(i, nodes)| Piece::new(nodes, &p.mass(i, carried))));
    let lumps = frame.masses.iter().map(|lump| {
        let [x, y, z] = lump.inertia;
        let diagonal = nalgebra::SVector::<f64, 6>::new(lump.mass, lump.mass, lump.mass, x, y, z);
        Piece::new(&[lump.node], &nalgebra::SMatrix::<f64, 6, 6>::from_diagonal(&diagonal))
    });
    beams.chain(plates).chain(lumps).collect()
}

/// Geometric stiffness of beams and of rigid arms in springs and links under a state's forces.
pub(super) fn geometric(frame: &Frame, state: &State) -> Vec<Piece> {
    let beams =
        frame.beams.iter().enumerate().map(|(i, b)| Piece::new(&b.nodes, &b.in_global(&b.geometric(state.tension(i)))));
    let long = frame.springs.iter().enumerate().filter(|(_, s)| s.arm.norm() > 0.0);
    let arms = long.map(|(i, s)| {
        let [x, y, z, ..] = state.springs[i];
        let block: Matrix3<f64> = s.arm_stiffness(s.axes.0.transpose() * Vector3::new(x, y, z));
        let mut matrix = nalgebra::SMatrix::<f64, 6, 6>::zeros();
        matrix.fixed_view_mut::<3, 3>(3, 3).copy_from(&block);
        Piece::new(&s.nodes[..1], &matrix)
    });
    beams.chain(arms).collect()
}

/// Sum of factored elements over the independent unknowns.
pub(super) fn assemble(constraints: &Constraints, parts: &[(f64, &[Piece])]) -> Symmetric {
    let mut gather = Gather::new(constraints.unknowns.len());
    for (factor, pieces) in parts {
        pieces.iter().for_each(|piece| put(&mut gather, constraints, piece, *factor));
    }
    gather.finish()
}

fn put(gather: &mut Gather, constraints: &Constraints, piece: &Piece, factor: f64) {
    let sums: Vec<_> = piece.dofs.iter().map(|d| &constraints.made_of[*d]).collect();
    for (column, entries) in sums.iter().zip(piece.matrix.chunks_exact(sums.len())) {
        for (row, entry) in sums.iter().zip(entries) {
            let value = factor * entry;
            if value == 0.0 {
                continue;
            }
            for (a, ca) in row.iter() {
                for (b, cb) in column.iter() {
                    gather.add(*a, *b, value * ca * cb);
                }
            }
        }
    }
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

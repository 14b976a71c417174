//! Matrices of single elements: stiffness, mass and second order, and their sum over a frame.

use nalgebra::{Matrix3, Vector3};

use super::constraint::{Constraints, dofs_of};
use super::frame::Frame;
use super::ground::DOF;
use super::sparse::{Symmetric, TripletBuilder};
use super::state::State;

/// Degrees of freedom of a beam or spring, and of a triangle; a lump has those of its node.
const BEAM: usize = 2 * DOF;
const TRIANGLE: usize = 3 * DOF;

/// The matrix of one element over all degrees of freedom of its nodes.
#[derive(Clone, Debug)]
pub(super) struct ElementMatrix {
    dofs: Vec<usize>,
    /// By columns.
    matrix: Vec<f64>,
}

impl ElementMatrix {
    fn new<const N: usize>(nodes: &[usize], matrix: &nalgebra::SMatrix<f64, N, N>) -> Self {
        Self { dofs: dofs_of(nodes), matrix: matrix.as_slice().to_vec() }
    }

    /// Adds the forces of a stiffness, which a common translation cannot strain: it is taken out first, since
    /// otherwise the sway of a whole table would cost equilibrium several digits.
    fn internal_forces(&self, u: &[f64], out: &mut [f64]) {
        let first = [u[self.dofs[0]], u[self.dofs[1]], u[self.dofs[2]]];
        self.times(|i| if i % DOF < 3 { u[self.dofs[i]] - first[i % DOF] } else { u[self.dofs[i]] }, out);
    }

    /// Adds matrix times displacements to forces.
    fn multiply(&self, u: &[f64], out: &mut [f64]) {
        self.times(|i| u[self.dofs[i]], out);
    }

    fn times(&self, local: impl Fn(usize) -> f64, out: &mut [f64]) {
        // A number of rows that is known beforehand lets them be summed side by side.
        match self.dofs.len() {
            BEAM => self.times_rows::<BEAM>(local, out),
            TRIANGLE => self.times_rows::<TRIANGLE>(local, out),
            _ => self.times_rows::<DOF>(local, out),
        }
    }

    fn times_rows<const N: usize>(&self, local: impl Fn(usize) -> f64, out: &mut [f64]) {
        let mut sums = [0.0; N];
        for (j, column) in self.matrix.as_chunks::<N>().0.iter().enumerate() {
            let u = local(j);
            sums.iter_mut().zip(column).for_each(|(sum, k)| *sum += k * u);
        }
        self.dofs.iter().zip(sums).for_each(|(dof, f)| out[*dof] += f);
    }
}

/// Sum over elements of matrix times displacements, at all degrees of freedom.
pub(super) fn multiply(matrices: &[ElementMatrix], u: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; u.len()];
    matrices.iter().for_each(|p| p.multiply(u, &mut out));
    out
}

/// Forces of a stiffness under several displacements, at all degrees of freedom; each matrix is fetched once for all of them.
pub(super) fn internal_forces_each(matrices: &[ElementMatrix], displacements: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let mut out: Vec<Vec<f64>> = displacements.iter().map(|u| vec![0.0; u.len()]).collect();
    for piece in matrices {
        displacements.iter().zip(&mut out).for_each(|(u, out)| piece.internal_forces(u, out));
    }
    out
}

/// Forces of a stiffness at all degrees of freedom.
pub(super) fn internal_forces(matrices: &[ElementMatrix], u: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; u.len()];
    matrices.iter().for_each(|p| p.internal_forces(u, &mut out));
    out
}

pub(super) fn stiffness(frame: &Frame) -> Vec<ElementMatrix> {
    let beams = frame.beams.iter().map(|b| ElementMatrix::new(&b.nodes, &b.in_global(&b.stiffness())));
    let soft = |s: &&super::spring::Spring| s.stiffness.iter().any(|k| k.is_finite() && *k > 0.0);
    let springs = frame.springs.iter().filter(soft).map(|s| ElementMatrix::new(&s.nodes, &s.stiffness()));
    let plates = frame
        .plates
        .iter()
        .flat_map(|p| p.triangles.iter().enumerate().map(|(i, nodes)| ElementMatrix::new(nodes, &p.stiffness(i))));
    beams.chain(springs).chain(plates).collect()
}

/// Mass of beams, plates and lumps; `carried` tells whether what lies on plates is counted.
pub(super) fn masses(frame: &Frame, carried: bool) -> Vec<ElementMatrix> {
    let beams = frame.beams.iter().filter(|b| b.section.density > 0.0);
    let beams = beams.map(|b| ElementMatrix::new(&b.nodes, &b.in_global(&b.mass())));
    let plates = frame.plates.iter().flat_map(|p| {
        p.triangles.iter().enumerate().map(move |(i, nodes)| ElementMatrix::new(nodes, &p.mass(i, carried)))
    });
    let lumps = frame.masses.iter().map(|lump| {
        let [x, y, z] = lump.inertia;
        let diagonal = nalgebra::SVector::<f64, 6>::new(lump.mass, lump.mass, lump.mass, x, y, z);
        ElementMatrix::new(&[lump.node], &nalgebra::SMatrix::<f64, 6, 6>::from_diagonal(&diagonal))
    });
    beams.chain(plates).chain(lumps).collect()
}

/// Geometric stiffness of beams and of rigid arms in springs and links under a state's forces.
pub(super) fn geometric(frame: &Frame, state: &State) -> Vec<ElementMatrix> {
    let beams = frame
        .beams
        .iter()
        .enumerate()
        .map(|(i, b)| ElementMatrix::new(&b.nodes, &b.in_global(&b.geometric(state.tension(i)))));
    let long = frame.springs.iter().enumerate().filter(|(_, s)| s.arm.norm() > 0.0);
    let arms = long.map(|(i, s)| {
        let [x, y, z, ..] = state.springs[i];
        let block: Matrix3<f64> = s.arm_stiffness(s.axes.0.transpose() * Vector3::new(x, y, z));
        let mut matrix = nalgebra::SMatrix::<f64, 6, 6>::zeros();
        matrix.fixed_view_mut::<3, 3>(3, 3).copy_from(&block);
        ElementMatrix::new(&s.nodes[..1], &matrix)
    });
    beams.chain(arms).collect()
}

/// Sum of factored elements over the independent unknowns.
pub(super) fn assemble(constraints: &Constraints, parts: &[(f64, &[ElementMatrix])]) -> Symmetric {
    let mut gather = TripletBuilder::new(constraints.unknowns.len());
    for (factor, matrices) in parts {
        matrices.iter().for_each(|piece| put(&mut gather, constraints, piece, *factor));
    }
    gather.finish()
}

fn put(gather: &mut TripletBuilder, constraints: &Constraints, piece: &ElementMatrix, factor: f64) {
    let sums: Vec<_> = piece.dofs.iter().map(|d| &constraints.combination[*d]).collect();
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

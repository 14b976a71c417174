//! A part as features that add and features that cut, and its print mesh.

use std::panic::{AssertUnwindSafe, catch_unwind};

use nalgebra::Isometry3;

use super::fault::Fault;
use super::feature::Feature;
use super::kernel::{self, Body};
use super::mesh::{Aabb, Mesh};

/// Boxes nearer than this, mm, are treated as touching, so their features are not put into one operand.
const BATCH_GAP: f64 = 1e-3;

/// A part: everything in `adds` joined, everything in `cuts` taken away, then everything in `ridges` joined.
#[derive(Clone, Debug, Default)]
pub struct Solid {
    /// What is joined first; every feature must overlap the rest, not merely touch.
    pub adds: Vec<Feature>,
    /// What is taken away; cutters overshoot the faces they break through.
    pub cuts: Vec<Feature>,
    /// What is joined after the cuts: ribs in a bore.
    pub ridges: Vec<Feature>,
}

impl Solid {
    /// A solid without cuts.
    #[must_use]
    pub fn of(adds: Vec<Feature>) -> Self {
        Self { adds, ..Self::default() }
    }

    /// The solid with more cuts.
    #[must_use]
    pub fn minus(mut self, cuts: impl IntoIterator<Item = Feature>) -> Self {
        self.cuts.extend(cuts);
        self
    }

    /// The solid moved and turned.
    #[must_use]
    pub fn placed(&self, at: &Isometry3<f64>) -> Self {
        let all = |list: &[Feature]| list.iter().map(|f| f.placed(at)).collect();
        Self { adds: all(&self.adds), cuts: all(&self.cuts), ridges: all(&self.ridges) }
    }

    /// The print mesh: one closed surface with single-precision coordinates, same features same mesh.
    ///
    /// # Errors
    /// A feature without positive volume, or a boolean or triangulation that fails.
    pub fn mesh(&self) -> Result<Mesh, Fault> {
        let all = [&self.adds, &self.cuts, &self.ridges];
        all.into_iter().flatten().try_for_each(positive)?;
        let build = || {
            let joined = kernel::union(operands(&self.adds)?)?.ok_or(Fault::Empty)?;
            let cut = operands(&self.cuts)?.iter().try_fold(joined, |body, tool| kernel::subtract(&body, tool))?;
            let ridged = operands(&self.ridges)?.iter().try_fold(cut, |body, ridge| kernel::join(&body, ridge))?;
            ridged.into_mesh()
        };
        let caught = catch_unwind(AssertUnwindSafe(build));
        caught.unwrap_or_else(|_| Err(kernel_fault("the boolean kernel stopped")))
    }
}

fn kernel_fault(reason: &str) -> Fault {
    Fault::Kernel { doing: "meshing", reason: reason.into() }
}

fn positive(f: &Feature) -> Result<(), Fault> {
    let volume = f.mesh().volume();
    if volume.is_finite() && volume > 0.0 { Ok(()) } else { Err(Fault::Feature { kind: f.kind, volume }) }
}

/// Gathers features whose boxes keep apart into common operands, first come first served.
fn operands(features: &[Feature]) -> Result<Vec<Body>, Fault> {
    let mut batches: Vec<(Vec<Aabb>, Vec<&Feature>)> = Vec::new();
    for f in features {
        let b = f.aabb();
        let free = batches.iter_mut().find(|(boxes, _)| !boxes.iter().any(|o| o.meets(&b, BATCH_GAP)));
        match free {
            Some((boxes, list)) => {
                boxes.push(b);
                list.push(f);
            }
            None => batches.push((vec![b], vec![f])),
        }
    }
    batches.into_iter().map(|(_, list)| Body::of(&list)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::samples;

    #[test]
    fn trial() {
        for seed in 1..30 {
            let s = samples::bracket(seed, 0.05);
            let t = std::time::Instant::now();
            let m = s.mesh();
            let e = t.elapsed();
            let m2 = s.mesh();
            let (m, n) = (m.unwrap(), m2.unwrap());
            let b = crate::output::stl::write(&m);
            let same = b == crate::output::stl::write(&n);
            let t = std::time::Instant::now();
            let j = crate::geometry::judge(&b);
            eprintln!(
                "{seed} {e:?} tris {} v {:.4} same {same} judged in {:?} {:?}",
                m.triangles.len(),
                m.volume(),
                t.elapsed(),
                j.err()
            );
        }
    }
}

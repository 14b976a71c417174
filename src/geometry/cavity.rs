//! Pockets closed all round, such as where a leaning boss roofs the corner between two gussets: no printer can leave them
//! empty without a floor over air, so they are filled.

use super::Mesh;
use super::gate::{Edges, pieces};

/// The largest pocket that is filled, mm3 (judgement: under a cubic centimetre is a corner between features; more is a
/// mistake of ours, which the gate must see).
const LARGEST: f64 = 1000.0;

/// The mesh without the inner surfaces of small closed pockets, and their volume, mm3; the very same where there are none.
#[must_use]
pub fn filled(mesh: Mesh) -> (Mesh, f64) {
    let pieces = pieces(&mesh, &Edges::of(&mesh));
    let pocket = |piece: &&(f64, Vec<usize>)| piece.0 <= 0.0 && piece.0 > -LARGEST;
    if pieces.len() < 2 || !pieces.iter().any(|piece| pocket(&piece)) {
        return (mesh, 0.0);
    }
    let volume = pieces.iter().filter(pocket).map(|piece| -piece.0).sum();
    let mut kept: Vec<usize> = pieces.iter().filter(|piece| !pocket(piece)).flat_map(|(_, all)| all.clone()).collect();
    kept.sort_unstable();
    let triangles = kept.into_iter().map(|i| mesh.triangles[i]).collect();
    (Mesh { triangles, points: mesh.points }.welded(), volume)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Feature, faults};
    use nalgebra::Isometry3;

    fn cube(side: f64, at: f64) -> Mesh {
        Feature::block([side; 3], &Isometry3::translation(at, at, at)).mesh().welded()
    }

    fn hollow(outer: f64, inner: f64) -> Mesh {
        let mut mesh = cube(outer, 0.0);
        let mut void = cube(inner, 2.0);
        void.triangles.iter_mut().for_each(|t| t.swap(0, 1));
        mesh.append(&void);
        mesh
    }

    #[test]
    fn a_small_pocket_is_filled_and_a_large_one_is_a_fault() {
        let (small, volume) = filled(hollow(20.0, 5.0));
        assert!((volume - 125.0).abs() < 1e-9);
        assert!(faults(&small, 1).is_empty() && (small.volume() - 8000.0).abs() < 1e-6);
        let large = hollow(20.0, 12.0);
        assert!(!faults(&filled(large).0, 1).is_empty());
        let plain = cube(20.0, 0.0);
        assert_eq!(filled(plain.clone()), (plain, 0.0));
    }
}

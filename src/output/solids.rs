//! Each distinct part as a mesh and as a solid.

use super::{Files, Kit, VerifiedMesh};
use crate::formats::step;
use crate::geometry::Fault;
use crate::geometry::brep::{Kind, faceted};

/// The judged mesh of every part.
pub(super) fn meshes(kit: &Kit) -> Result<Files, String> {
    let mesh = |(i, p): (usize, &VerifiedMesh)| (format!("{}.stl", kit.stem(i)), p.stl.clone());
    Ok(kit.printed.iter().enumerate().map(mesh).collect())
}

/// Whether the STEP file of a part has true cylinders or the facets of its mesh.
#[must_use]
pub fn kind(printed: &VerifiedMesh) -> Kind {
    printed.exact.as_ref().map_or(Kind::Faceted, |brep| brep.kind)
}

/// The STEP file of a part: exact where the part can be glued, else faceted.
///
/// # Errors
/// A mesh that is not closed; a curve or surface without a STEP form.
fn step_of(printed: &VerifiedMesh) -> Result<Vec<u8>, Fault> {
    match &printed.exact {
        Some(brep) => step::write(&printed.part.name, brep),
        None => step::write(&printed.part.name, &faceted(&printed.mesh)?),
    }
}

/// A STEP file of every part.
pub(super) fn steps(kit: &Kit) -> Result<Files, String> {
    let solid = |(i, p): (usize, &VerifiedMesh)| {
        step_of(p).map(|bytes| (format!("{}.step", kit.stem(i)), bytes)).map_err(|f| format!("{}: {f}", p.part.name))
    };
    kit.printed.iter().enumerate().map(solid).collect()
}

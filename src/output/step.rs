//! STEP files (AP214) of boundary representations.

use super::{Files, Kit, Printed};
use crate::geometry::Fault;
use crate::geometry::brep::{Brep, Kind, faceted};

/// The bytes of a STEP file holding one solid in mm, without a date. Same solid, same bytes.
///
/// # Errors
/// A curve or surface without a STEP form.
pub fn write(name: &str, brep: &Brep) -> Result<Vec<u8>, Fault> {
    brep.step(name).map(String::into_bytes)
}

/// Whether the STEP file of a part has true cylinders or the facets of its mesh.
#[must_use]
pub fn kind(printed: &Printed) -> Kind {
    printed.exact.as_ref().map_or(Kind::Faceted, |brep| brep.kind)
}

/// The STEP file of a part: exact where the part can be glued, else faceted.
///
/// # Errors
/// A mesh that is not closed; a curve or surface without a STEP form.
pub fn of(printed: &Printed) -> Result<Vec<u8>, Fault> {
    match &printed.exact {
        Some(brep) => write(&printed.part.name, brep),
        None => write(&printed.part.name, &faceted(&printed.mesh)?),
    }
}

/// A STEP file of every part.
pub(super) fn files(kit: &Kit) -> Result<Files, String> {
    let solid = |(i, p): (usize, &Printed)| {
        of(p).map(|bytes| (format!("{}.step", kit.stem(i)), bytes)).map_err(|f| format!("{}: {f}", p.part.name))
    };
    kit.printed.iter().enumerate().map(solid).collect()
}

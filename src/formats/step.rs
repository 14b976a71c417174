//! STEP files (AP214) of boundary representations.

use crate::geometry::Fault;
use crate::geometry::brep::Brep;

/// The bytes of a STEP file holding one solid in mm, without a date. Same solid, same bytes.
///
/// # Errors
/// A curve or surface without a STEP form.
pub fn write(name: &str, brep: &Brep) -> Result<Vec<u8>, Fault> {
    brep.step(name).map(String::into_bytes)
}

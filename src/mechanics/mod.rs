//! Model to forces: sections, frame, plate, joints, creep.

pub mod base_plate;
pub mod bracket_plate;
pub mod buckling;
pub mod builtup;
pub mod creep;
pub mod joint;
pub mod lateral;
pub mod screw_group;
pub mod socket;
pub mod stability;
pub mod withdrawal;
pub mod working;

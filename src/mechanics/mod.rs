//! Model to forces: sections, frame, plate, joints, creep.

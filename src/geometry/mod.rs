//! Solids and meshes: the only folder that knows the B-rep kernel and mesh booleans; no leg or table in here.
//!
//! Lengths are mm, angles radians. A part is a [`Solid`]: features that add, features that cut, ridges that are added
//! after the cuts. Curved features take the chord error when they are made.
//!
//! - [`Outline`]: `polygon`, `rounded_rectangle`, `circle`, `stadium`, `hexagon`, `teardrop`; `moved`, `area`.
//! - [`Feature`]: `prism`, `plate` (web), `block`, `revolved` (holes and cylinders), `slotted`, `boss`, `gusset`,
//!   `teardrop_bore`, `nut_trap`, `rib`, `groove`; `placed`, `aabb`, `inside`.
//! - [`Axis`] (point and direction), [`upright_plane`] (placement of a web), [`Round`] (`Inside` for outsides,
//!   `Outside` for bores: never smaller than named).
//! - [`Label`]: engraved text; `width`, `cuts`.
//! - [`Solid::mesh`] gives the print [`Mesh`]; [`judge`] judges the written bytes; [`bore_diameter`] measures;
//!   [`hanging`] finds what cannot be printed without supports; [`layers()`] cuts it into plane [`Region`]s.
//! - [`brep`]: `exact(&solid)` glues true cylinders and cones from the features' [`Primitive`]s, `faceted(&mesh)` takes any
//!   part; both carry a volume integrated without the mesh.
//! - `formats::stl::write(&mesh)`, `formats::threemf::write(title, &objects)`, `formats::step::write(name, &brep)`.
//!
//! ```
//! use nalgebra::Isometry3;
//! use underframe::geometry::*;
//! use underframe::formats::stl;
//!
//! let chord = 0.05;
//! let plate = Outline::rounded_rectangle(100.0, 80.0, 8.0, chord);
//! let axis = Axis::new([0.0, 0.0, 8.0], [0.1, 0.05, 1.0]); // distances along it count from the plate's surface
//! let boss = Boss { axis, radius: 13.0, root: 8.0, embed: 1.0, top: 45.0, flare: 1.5 };
//! let label = Label::new("B1 / 16.3", 4.0)?;
//! let screw = [(-1.0, 2.4), (5.8, 2.4), (8.0, 4.6), (9.0, 5.6)]; // shank, countersink, overshoot: one profile
//! let adds = vec![Feature::prism(&plate, 0.0, 8.0, &Isometry3::identity()), Feature::boss(&boss, chord)];
//! let mut solid = Solid::of(adds);
//! solid.cuts.push(Feature::revolved(&axis, &[(-3.0, 8.15), (46.0, 8.15)], Round::Outside, chord));
//! solid.cuts.extend([-40.0, 40.0].map(|x| Feature::revolved(&Axis::upright(x, 30.0), &screw, Round::Outside, chord)));
//! solid.cuts.extend(label.cuts(&Isometry3::translation(-40.0, -35.0, 8.0), LABEL_DEPTH)?);
//! let bytes = stl::write(&solid.mesh()?);
//! let judged = judge(&bytes).map_err(|mut faults| faults.remove(0))?;
//! let bore = bore_diameter(&judged.mesh, &axis, -2.0, 44.0);
//! assert!(bore >= 16.3 && bore < 16.32);
//! # Ok::<(), Fault>(())
//! ```

mod agree;
mod axis;
mod boss;
pub mod brep;
mod cavity;
mod ceilings;
mod crossing;
mod curve;
mod facets;
mod fault;
mod feature;
mod gate;
mod inside;
mod kernel;
mod layers;
mod loft;
mod mesh;
mod outline;
mod primitive;
mod shape;
mod solid;
mod text;
mod triangulate;

pub use agree::disagreements;
pub use axis::{Axis, upright_plane};
pub use boss::{Boss, Gusset, Web};
pub use ceilings::{OVERHANG, SPAN, hanging};
pub use fault::Fault;
pub use feature::Feature;
pub use gate::{Judgement, bore_diameter, faults, judge, judge_bodies, read_stl};
pub use inside::Inside;
pub use layers::{Layer, Region, layers};
pub use mesh::{Aabb, Mesh, doubled_area_vector};
pub use outline::{Outline, Round};
pub use primitive::{Primitive, Slot};
pub use solid::Solid;
pub use text::{DEPTH as LABEL_DEPTH, LEAST_HEIGHT as LEAST_LABEL_HEIGHT, Label, OVERSHOOT as LABEL_OVERSHOOT};

#[cfg(test)]
mod samples;

//! Solid bodies in small bricks: cells cut from an inside function, one factorisation, the interface condensed, contact on
//! what is condensed.
//!
//! Units N, mm, MPa. Layers lie across z. A [`Region`] says where material is; [`Grid`] has its cells, [`Model`] adds
//! rigid bodies on films and pads of mean motion, [`Model::condense`] leaves the stiffness at those alone.

mod brick;
mod complementarity;
mod dissection;
mod fronts;
mod grid;
mod model;

pub use brick::{Material, Voigt};
pub use complementarity::{Contact, ContactCompliance, complementarity, lower};
pub use fronts::ElementMatrix;
pub use grid::{Grid, Region};
pub use model::{Condensed, Model, Patch};

#[cfg(test)]
mod tests;

//! Rows as their sources print them, made into [`Wood`].

use super::sources::{DIN_68364, EN_1995, EN_12369_1, FITTED, JANKA, REMEMBERED, SHEET_GUESS, SWELLING};
use super::{Basis, Kind, Sources, Wood};
use crate::tables::{lbf, psi};

/// A row of Wood Handbook Table 5-3b in the printed units.
pub(super) struct Printed {
    pub name: &'static str,
    /// Specific gravity at 12 %.
    pub g: f64,
    /// Modulus of rupture, psi.
    pub rupture: f64,
    /// Modulus of elasticity, 1e6 psi.
    pub e: f64,
    /// Compression across the grain, psi.
    pub across: f64,
    /// Shear along the grain, psi.
    pub shear: f64,
    /// Tension across the grain, psi.
    pub tension: f64,
    /// Side hardness, lbf.
    pub side: f64,
}

/// Mass at 12 % moisture content over oven-dry mass, times the density of water, kg/m3.
pub(super) const DAMP_WATER: f64 = 1120.0;

pub(super) const fn solid(kind: Kind, p: &Printed, sources: Sources) -> Wood {
    let e_along = psi(p.e * 1e6);
    let e_across = if matches!(kind, Kind::Softwood) { e_along / 30.0 } else { e_along / 15.0 };
    Wood {
        name: p.name,
        kind,
        density: DAMP_WATER * p.g,
        specific_gravity: p.g,
        e_along,
        e_across,
        shear_modulus: e_along / 16.0,
        basis: Basis::MeanClear,
        bending_strength: psi(p.rupture),
        bending_across: psi(p.tension),
        shear_strength: psi(p.shear),
        compression_across: psi(p.across),
        hardness: lbf(p.side),
        c_radial: 0.0,
        c_tangential: 0.0,
        k_def: 0.60,
        k_def_damp: Some(0.80),
        sources,
    }
}

pub(super) const fn hard(p: Printed, sources: Sources) -> Wood {
    solid(Kind::Hardwood, &p, sources)
}

pub(super) const fn soft(p: Printed, sources: Sources) -> Wood {
    solid(Kind::Softwood, &p, sources)
}

/// A European species: density at 12 % in kg/m3, moduli and strengths in MPa, side hardness in lbf.
pub(super) struct European {
    pub name: &'static str,
    pub density: f64,
    pub e: f64,
    pub bending: f64,
    pub shear: f64,
    /// Compression across the grain and tension across the grain from the handbook's fits, MPa.
    pub compression: f64,
    pub tension: f64,
    pub side: f64,
}

pub(super) const fn european(kind: Kind, p: European) -> Wood {
    let row = Printed {
        name: p.name,
        g: p.density / DAMP_WATER,
        rupture: 0.0,
        e: 0.0,
        across: 0.0,
        shear: 0.0,
        tension: 0.0,
        side: p.side,
    };
    let sources = Sources {
        stiffness: DIN_68364,
        strength: DIN_68364,
        strength_across: FITTED,
        shear: DIN_68364,
        compression: FITTED,
        hardness: JANKA,
        movement: SWELLING,
        ..REMEMBERED
    };
    let e_across = if matches!(kind, Kind::Softwood) { p.e / 30.0 } else { p.e / 15.0 };
    Wood {
        e_along: p.e,
        e_across,
        shear_modulus: p.e / 16.0,
        bending_strength: p.bending,
        bending_across: p.tension,
        shear_strength: p.shear,
        compression_across: p.compression,
        ..solid(kind, &row, sources)
    }
}

/// What sheet goods have in common; every row sets its own numbers.
pub(super) const SHEET: Wood = Wood {
    basis: Basis::Characteristic,
    sources: Sources {
        stiffness: EN_12369_1,
        strength: EN_12369_1,
        strength_across: EN_12369_1,
        shear: EN_12369_1,
        compression: SHEET_GUESS,
        hardness: SHEET_GUESS,
        across: EN_12369_1,
        movement: SHEET_GUESS,
        creep: EN_1995,
    },
    ..solid(
        Kind::Board,
        &Printed { name: "", g: 0.0, rupture: 0.0, e: 0.0, across: 0.0, shear: 0.0, tension: 0.0, side: 0.0 },
        REMEMBERED,
    )
};

pub(super) const PLYWOOD: Wood = Wood { kind: Kind::Plywood, k_def: 0.80, k_def_damp: Some(1.00), ..SHEET };

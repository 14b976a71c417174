//! Woods and sheet goods: strength, stiffness, movement and creep, at 12 % moisture content.

mod european;
mod form;
mod hardwoods;
mod imported;
mod names;
mod sheets;
mod softwoods;
mod sources;
#[cfg(test)]
mod tests;

use super::find_in;
use super::text::{Page, num};
use crate::source::Clause;
use sources::{
    DIN_68364, EN_338, EN_1995, FITTED, JANKA, JANKA_READ, MOVES, MOVES_MEMORY, RATIO, SWELLING, TABLE_5_3,
    TABLE_5_3_MEMORY,
};

pub use names::{also, like, unfit};

/// What the top is made of, as far as rules differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Solid wood of a broad-leaved tree.
    Hardwood,
    /// Solid wood of a conifer.
    Softwood,
    /// Sheet of crossed veneers.
    Plywood,
    /// Sheet of particles, strands, fibres or pressed strips.
    Board,
}

impl Kind {
    /// The word shown in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hardwood => "hardwood",
            Self::Softwood => "softwood",
            Self::Plywood => "plywood",
            Self::Board => "board",
        }
    }
}

/// What kind of number the strengths of a row are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Average of small clear specimens in a test of a few minutes: knots, grain and scatter are not in it.
    MeanClear,
    /// Value that 95 of 100 sheets exceed.
    Characteristic,
}

/// Where the numbers of a row come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sources {
    /// Density, specific gravity, modulus of elasticity along the grain.
    pub stiffness: Clause,
    /// Bending strength along the grain.
    pub strength: Clause,
    /// Bending strength across the grain.
    pub strength_across: Clause,
    /// Shear strength.
    pub shear: Clause,
    /// Compression across the grain.
    pub compression: Clause,
    /// Hardness.
    pub hardness: Clause,
    /// Modulus of elasticity across the grain and shear modulus.
    pub across: Clause,
    /// Movement coefficients.
    pub movement: Clause,
    /// Creep factors.
    pub creep: Clause,
}

/// A wood or sheet good. Strengths are what [`Basis`] says, before any factor for time, moisture or safety.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// Trade name, lower case but for proper names.
    pub name: &'static str,
    /// Hardwood, softwood, plywood or board.
    pub kind: Kind,
    /// Mean density at 12 % moisture content, kg/m3.
    pub density: f64,
    /// Oven-dry mass over volume at 12 % moisture content, relative to water.
    pub specific_gravity: f64,
    /// Modulus of elasticity in bending along the grain (or the sheet's strong direction), mean, MPa.
    pub e_along: f64,
    /// Modulus of elasticity across the grain, in the plane of a flat-sawn top, mean, MPa.
    pub e_across: f64,
    /// Shear modulus in the plane of the top, mean, MPa.
    pub shear_modulus: f64,
    /// Whether strengths are means of clear wood or characteristic values.
    pub basis: Basis,
    /// Bending strength along the grain (modulus of rupture), MPa.
    pub bending_strength: f64,
    /// Bending strength across the grain, MPa: for solid wood the tension strength across the grain.
    pub bending_across: f64,
    /// Shear strength along the grain, MPa; for sheets, planar (rolling) shear.
    pub shear_strength: f64,
    /// Compression across the grain at the proportional limit, on the face, MPa.
    pub compression_across: f64,
    /// Side hardness (11.28 mm ball, half its diameter deep), N.
    pub hardness: f64,
    /// Movement per 1 % moisture content, radial (width of a quarter-sawn board); sheets: in the plane.
    pub c_radial: f64,
    /// Movement per 1 % moisture content, tangential (width of a flat-sawn board); sheets: in the plane.
    pub c_tangential: f64,
    /// Creep factor k_def in a heated room (service class 1).
    pub k_def: f64,
    /// Creep factor k_def under a roof outdoors (service class 2); none: not to be used there.
    pub k_def_damp: Option<f64>,
    /// Where the numbers come from.
    pub sources: Sources,
}

impl Wood {
    /// Deflection after years over deflection at once, for a load that stays: `1 + k_def`; none where the sheet
    /// is not to be used in damp air.
    #[must_use]
    pub fn creep(&self, damp: bool) -> Option<f64> {
        let k_def = if damp { self.k_def_damp } else { Some(self.k_def) };
        k_def.map(|k| 1.0 + k)
    }

    /// The clauses behind the row, each once, in the order of the fields.
    #[must_use]
    pub fn clauses(&self) -> Vec<Clause> {
        let s = &self.sources;
        let mut list = vec![s.stiffness];
        let more = [s.strength, s.strength_across, s.shear, s.compression, s.hardness, s.across, s.movement, s.creep];
        for clause in more {
            if !list.contains(&clause) {
                list.push(clause);
            }
        }
        list
    }

    const fn moving(self, c_radial: f64, c_tangential: f64, from: Clause) -> Self {
        Self { c_radial, c_tangential, sources: Sources { movement: from, ..self.sources }, ..self }
    }

    const fn across_from(self, from: Clause) -> Self {
        Self { sources: Sources { across: from, ..self.sources }, ..self }
    }

    const fn hardness_from(self, from: Clause) -> Self {
        Self { sources: Sources { hardness: from, ..self.sources }, ..self }
    }

    /// Elasticity across the grain and shear modulus as shares of that along the grain.
    const fn ratios(self, across: f64, shear: f64) -> Self {
        let sources = Sources { across: RATIO, ..self.sources };
        Self { e_across: across * self.e_along, shear_modulus: shear * self.e_along, sources, ..self }
    }
}

/// Rows of all kinds, each list in its file.
const LISTS: [&[Wood]; 5] = [hardwoods::ROWS, softwoods::ROWS, european::ROWS, imported::ROWS, sheets::ROWS];

static SORTED: [Wood; counted()] = sorted();

/// All rows, sorted by name.
pub const ALL: &[Wood] = &SORTED;

const fn counted() -> usize {
    let (mut count, mut i) = (0, 0);
    while i < LISTS.len() {
        count += LISTS[i].len();
        i += 1;
    }
    count
}

/// The lists as one, every row put where its name belongs.
const fn sorted<const N: usize>() -> [Wood; N] {
    let mut all = [LISTS[0][0]; N];
    let (mut count, mut list) = (0, 0);
    while list < LISTS.len() {
        let mut row = 0;
        while row < LISTS[list].len() {
            let new = LISTS[list][row];
            let mut at = count;
            while at > 0 && is_before(new.name, all[at - 1].name) {
                all[at] = all[at - 1];
                at -= 1;
            }
            all[at] = new;
            count += 1;
            row += 1;
        }
        list += 1;
    }
    all
}

/// Whether a name stands before another, without regard to case.
const fn is_before(a: &str, b: &str) -> bool {
    let (a, b) = (a.as_bytes(), b.as_bytes());
    let mut i = 0;
    while i < a.len() && i < b.len() {
        let (x, y) = (a[i].to_ascii_lowercase(), b[i].to_ascii_lowercase());
        if x != y {
            return x < y;
        }
        i += 1;
    }
    a.len() < b.len()
}

/// The wood called `name` or known by it in the trade; case, blanks at the ends and hyphens do not matter.
#[must_use]
pub fn find(name: &str) -> Option<&'static Wood> {
    find_in(ALL, names::meant(name).unwrap_or(name), |wood| wood.name)
}

/// All names, sorted.
#[must_use]
pub fn names() -> Vec<&'static str> {
    ALL.iter().map(|wood| wood.name).collect()
}

/// Clauses that many rows share, those of one row side by side.
#[rustfmt::skip]
const COMMON: [Clause; 12] = [
    TABLE_5_3, TABLE_5_3_MEMORY, MOVES, MOVES_MEMORY, RATIO, EN_338, EN_1995, FITTED, DIN_68364, SWELLING, JANKA,
    JANKA_READ,
];

/// The table for reading.
pub(super) fn text() -> String {
    let mut page = Page::new(
        "Woods and sheet goods at 12 % moisture content",
        &[
            "wood",
            "rho\nkg/m3",
            "E_0\nMPa",
            "E_90\nMPa",
            "G\nMPa",
            "f_m\nMPa",
            "crush\nMPa",
            "hard\nN",
            "C_R\n1e-5",
            "C_T\n1e-5",
            "k_def",
            "source",
        ],
    );
    // Those that most rows share stand first, side by side: their numbers are then short to write.
    for common in COMMON {
        page.cite(&[common]);
    }
    for w in ALL {
        let sources = page.cite(&w.clauses());
        let whole = [w.density, w.e_along, w.e_across, w.shear_modulus].map(|x| num(x, 0));
        let tenths = [w.bending_strength, w.compression_across].map(|x| num(x, 1));
        let moves = [w.hardness, w.c_radial * 1e5, w.c_tangential * 1e5].map(|x| num(x, 0));
        let mut cells = vec![w.name.to_owned()];
        cells.extend(whole.into_iter().chain(tenths).chain(moves));
        cells.extend([num(w.k_def, 2), sources]);
        page.row(cells);
    }
    page.note(
        "rho: density; E_0, E_90: modulus of elasticity along and across the grain; f_m: bending strength; crush: \
         compression across the grain; hard: side hardness. Strengths of solid wood are means of small clear \
         specimens; those of sheets are values 95 of 100 sheets exceed. C_R and C_T: movement of the width per 1 % \
         moisture, radial (quarter-sawn) and tangential (flat-sawn). k_def: creep factor in a heated room.",
    );
    page.finish()
}

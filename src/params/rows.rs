//! Rows of the tables, or the user's own written as objects.
//!
//! An own row begins as a copy of the row it is like; numbers that are given replace those of the copy.

use super::accept::{self, Accept, Without};
use super::reader::{Found, Group, Reader};
use super::table::Table;
use super::text::Node;
use crate::source::{Clause, Source, Standing};
use crate::tables::filament::{self, Filament, Lasting, Strength};
use crate::tables::screw::{self, Screw};
use crate::tables::tube::{self, Metal};
use crate::tables::wood::{self, Wood};

/// Where numbers written in the parameter file come from.
const OWN: Clause =
    Source { title: "the user's own figures", edition: "", standing: Standing::Read }.at("parameter file");

/// How rows of one table are found, and how an own one is read.
pub(super) struct Rows<T: 'static> {
    pub table: Table,
    pub find: fn(&str) -> Option<&'static T>,
    pub all: &'static [T],
    /// Key that names the row to start from.
    pub like: Accept,
    /// Key that names the own row.
    pub name: Accept,
    /// Puts the user's numbers in.
    pub own: fn(&mut Reader, &Group<'_>, T) -> T,
}

pub(super) const WOODS: Rows<Wood> = Rows {
    table: Table::Woods,
    find: wood::find,
    all: wood::ALL,
    like: accept::WOOD_LIKE,
    name: accept::WOOD_NAME,
    own: own_wood,
};
pub(super) const METALS: Rows<Metal> = Rows {
    table: Table::Metals,
    find: tube::find,
    all: tube::METALS,
    like: accept::METAL_LIKE,
    name: accept::METAL_NAME,
    own: own_metal,
};
pub(super) const FILAMENTS: Rows<Filament> = Rows {
    table: Table::Filaments,
    find: filament::find,
    all: filament::ALL,
    like: accept::FILAMENT_LIKE,
    name: accept::FILAMENT_NAME,
    own: own_filament,
};
pub(super) const SCREWS: Rows<Screw> = Rows {
    table: Table::Screws,
    find: screw::find,
    all: screw::ALL,
    like: accept::SCREW_LIKE,
    name: accept::SCREW_NAME,
    own: own_screw,
};

impl<T: Copy> Rows<T> {
    /// The row of a key; `default` where the file does not say.
    pub(super) fn read(&self, r: &mut Reader, group: &Group<'_>, accept: &Accept, default: &str) -> T {
        let Some(found) = r.value(group, accept) else {
            r.assume(group, accept, default);
            return self.row(default);
        };
        self.of(r, found, accept)
    }

    /// The row of a value: a name or an object.
    pub(super) fn of(&self, r: &mut Reader, found: Found<'_>, accept: &Accept) -> T {
        if let Node::Object(entries) = &found.value.node {
            let group = r.open(found, accept.key, entries);
            return self.own(r, &group);
        }
        match r.row_name(&found, self.table) {
            Some(name) => self.row(&name),
            None => self.all[0],
        }
    }

    fn own(&self, r: &mut Reader, group: &Group<'_>) -> T {
        let base = match (r.value(group, &self.like), self.like.without) {
            (Some(found), _) => r.row_name(&found, self.table).map_or(self.all[0], |name| self.row(&name)),
            (None, Without::Value(name, _)) => {
                r.assume(group, &self.like, name);
                self.row(name)
            }
            (None, _) => self.all[0],
        };
        if let Some(name) = r.text_if(group, &self.name) {
            r.names.insert(group.own_path().into(), name);
        }
        (self.own)(r, group, base)
    }

    /// The row of that name; the first row where there is none, which a test excludes for every default.
    pub(super) fn row(&self, name: &str) -> T {
        (self.find)(name).copied().unwrap_or(self.all[0])
    }
}

impl Reader {
    /// Replaces a number by the user's, if given; says whether it did.
    fn replace(&mut self, group: &Group<'_>, accept: &Accept, number: &mut f64) -> bool {
        let given = match accept.what {
            accept::What::Number(..) => self.number_if(group, accept),
            _ => self.quantity_if(group, accept),
        };
        *number = given.unwrap_or(*number);
        given.is_some()
    }
}

fn own_wood(r: &mut Reader, group: &Group<'_>, base: Wood) -> Wood {
    let mut w = Wood { name: "own wood", ..base };
    let source = |given: bool, clause: Clause| if given { OWN } else { clause };
    let mut stiff = r.replace(group, &accept::WOOD_DENSITY, &mut w.density);
    w.specific_gravity = base.specific_gravity * w.density / base.density;
    stiff |= r.replace(group, &accept::WOOD_E_ALONG, &mut w.e_along);
    let mut across = r.replace(group, &accept::WOOD_E_ACROSS, &mut w.e_across);
    across |= r.replace(group, &accept::WOOD_SHEAR_MODULUS, &mut w.shear_modulus);
    let mut moves = r.replace(group, &accept::WOOD_RADIAL, &mut w.c_radial);
    moves |= r.replace(group, &accept::WOOD_TANGENTIAL, &mut w.c_tangential);
    let s = base.sources;
    w.sources = wood::Sources {
        stiffness: source(stiff, s.stiffness),
        strength: source(r.replace(group, &accept::WOOD_BENDING, &mut w.bending_strength), s.strength),
        strength_across: source(
            r.replace(group, &accept::WOOD_BENDING_ACROSS, &mut w.bending_across),
            s.strength_across,
        ),
        shear: source(r.replace(group, &accept::WOOD_SHEAR, &mut w.shear_strength), s.shear),
        compression: source(r.replace(group, &accept::WOOD_COMPRESSION, &mut w.compression_across), s.compression),
        hardness: source(r.replace(group, &accept::WOOD_HARDNESS, &mut w.hardness), s.hardness),
        across: source(across, s.across),
        movement: source(moves, s.movement),
        creep: source(own_creep(r, group, &mut w), s.creep),
    };
    w
}

/// Creep in damp air grows with that in a heated room.
fn own_creep(r: &mut Reader, group: &Group<'_>, w: &mut Wood) -> bool {
    let before = w.k_def;
    let given = r.replace(group, &accept::WOOD_CREEP, &mut w.k_def);
    if given && before > 0.0 {
        w.k_def_damp = w.k_def_damp.map(|damp| damp * w.k_def / before);
    }
    given
}

fn own_metal(r: &mut Reader, group: &Group<'_>, base: Metal) -> Metal {
    let mut m = Metal { name: "own metal", ..base };
    let mut given = r.replace(group, &accept::METAL_E, &mut m.e);
    given |= r.replace(group, &accept::METAL_G, &mut m.g);
    given |= r.replace(group, &accept::METAL_DENSITY, &mut m.density);
    given |= r.replace(group, &accept::METAL_YIELD, &mut m.yield_strength);
    given |= r.replace(group, &accept::METAL_ULTIMATE, &mut m.ultimate);
    if given {
        m.source = OWN;
        m.note = "";
    }
    m
}

fn own_filament(r: &mut Reader, group: &Group<'_>, base: Filament) -> Filament {
    let mut f = Filament { name: "own filament", ..base };
    let mut stiff = r.replace(group, &accept::FILAMENT_DENSITY, &mut f.density);
    stiff |= r.replace(group, &accept::FILAMENT_E, &mut f.e);
    stiff |= r.replace(group, &accept::FILAMENT_E_Z, &mut f.e_z);
    let mut hot = r.replace(group, &accept::FILAMENT_TG, &mut f.tg);
    hot |= r.replace(group, &accept::FILAMENT_HDT, &mut f.hdt_045);
    if let Some(share) = r.number_if(group, &accept::FILAMENT_SUSTAINED) {
        (f.lasting, f.lasting_source) = (Lasting::all(share), Some(OWN));
    }
    r.replace(group, &accept::FILAMENT_SUSTAINED_Z, &mut f.sustained_z_limit);
    r.replace(group, &accept::FILAMENT_CREEP, &mut f.creep_divisor);
    own_strengths(r, group, &mut f);
    f.stiffness_source = if stiff { OWN } else { f.stiffness_source };
    f.heat_source = if hot { OWN } else { f.heat_source };
    f
}

/// Characteristic values of the user's own; what own coupons can make of the strength across the layers goes with that
/// in the layers.
fn own_strengths(r: &mut Reader, group: &Group<'_>, f: &mut Filament) {
    if let Some(xy) = r.quantity_if(group, &accept::FILAMENT_XY) {
        f.coupon_cap *= xy / f.in_layers.characteristic();
        f.in_layers = Strength::own(xy, OWN);
    }
    if let Some(z) = r.quantity_if(group, &accept::FILAMENT_Z) {
        f.across = Strength::own(z, OWN);
        f.coupon_cap = f.coupon_cap.max(z);
    }
    if let Some(pressed) = r.quantity_if(group, &accept::FILAMENT_CRUSH) {
        f.bearing = Strength::own(pressed, OWN);
    }
}

fn own_screw(r: &mut Reader, group: &Group<'_>, base: Screw) -> Screw {
    let mut s = Screw { name: "own screw", ..base };
    let mut given = r.replace(group, &accept::SCREW_DIAMETER, &mut s.diameter);
    s.root *= s.diameter / base.diameter;
    given |= r.replace(group, &accept::SCREW_ROOT, &mut s.root);
    if s.root >= s.diameter {
        r.wrong_group(group, "has a root that is not thinner than its thread");
    }
    let mut head = base.pan;
    let wide = r.replace(group, &accept::SCREW_HEAD_DIAMETER, &mut head.diameter);
    let high = r.replace(group, &accept::SCREW_HEAD_HEIGHT, &mut head.height);
    for kind in [&mut s.pan, &mut s.countersunk, &mut s.washer] {
        kind.diameter = if wide { head.diameter } else { kind.diameter };
        kind.height = if high { head.height } else { kind.height };
    }
    s.source = if given { OWN } else { s.source };
    s.head_source = if wide || high { OWN } else { s.head_source };
    s
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::wood::Kind;

    #[test]
    fn every_default_row_is_in_its_table() {
        for key in accept::KEYS {
            if let (accept::What::Row(table), Without::Value(name, _)) = (key.what, key.without) {
                assert!(table.names().contains(&name), "{}: {name}", key.key);
            }
        }
        assert!(tube::find("steel S235").is_some() && tube::find("EMT steel").is_some());
    }

    /// White-cedars are small trees, sold as posts and shingles and seldom as boards for a top (common practice, no
    /// source).
    const SELDOM: [&str; 2] = ["Atlantic white-cedar", "northern white-cedar"];

    #[test]
    fn the_default_wood_is_the_weakest_common_softwood() {
        let soft = wood::ALL.iter().filter(|wood| wood.kind == Kind::Softwood && !SELDOM.contains(&wood.name));
        let weakest = soft.min_by(|a, b| a.bending_strength.total_cmp(&b.bending_strength)).map(|wood| wood.name);
        assert!(matches!(accept::TOP_WOOD.without, Without::Value(name, _) if Some(name) == weakest), "{weakest:?}");
    }
}

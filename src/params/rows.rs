//! Rows of the tables, or the user's own written as objects.
//!
//! An own row begins as a copy of the row it is like; numbers that are given replace those of the copy.

use super::accept::{self, Accept, Default};
use super::reader::{Found, Group, Reader};
use super::seat::HOLE_FIT;
use super::value::Value;
use crate::problem::Suggestion;
use crate::source::{Clause, Source, Standing};
use crate::tables::filament::{self, Filament, Lasting, Strength};
use crate::tables::screw::{self, Screw};
use crate::tables::tube::{self, Metal};
use crate::tables::wood::{self, Wood};
use crate::units::{self, System};

/// Where numbers written in the parameter file come from.
const OWN: Clause =
    Source { title: "the user's own figures", edition: "", standing: Standing::Read }.at("parameter file");

/// How rows of one table are found, and how an own one is read.
pub(super) struct Rows<T: 'static> {
    pub find: fn(&str) -> Option<&'static T>,
    pub all: &'static [T],
    /// Key that names the row to start from.
    pub like: Accept,
    /// Key that names the own row.
    pub name: Accept,
    /// Puts the user's numbers in.
    pub own: fn(&mut Reader, &Group<'_>, T) -> T,
}

pub(super) const WOODS: Rows<Wood> =
    Rows { find: wood::find, all: wood::ALL, like: accept::WOOD_LIKE, name: accept::WOOD_NAME, own: own_wood };
pub(super) const METALS: Rows<Metal> =
    Rows { find: tube::find, all: tube::METALS, like: accept::METAL_LIKE, name: accept::METAL_NAME, own: own_metal };
pub(super) const FILAMENTS: Rows<Filament> = Rows {
    find: filament::find,
    all: filament::ALL,
    like: accept::FILAMENT_LIKE,
    name: accept::FILAMENT_NAME,
    own: own_filament,
};
pub(super) const SCREWS: Rows<Screw> =
    Rows { find: screw::find, all: screw::ALL, like: accept::SCREW_LIKE, name: accept::SCREW_NAME, own: own_screw };

impl<T: Copy> Rows<T> {
    /// The row of a key; `default` where the file does not say.
    pub(super) fn read(&self, r: &mut Reader, group: &Group<'_>, accept: &Accept, default: &str) -> T {
        let Some(found) = r.value(group, accept) else {
            r.assume(group, accept, default);
            return self.row(default);
        };
        self.of(r, &found)
    }

    /// The row of a value: a name or an object.
    pub(super) fn of(&self, r: &mut Reader, found: &Found<'_>) -> T {
        match found.value {
            Value::Group(_) => {
                let group = r.open(found);
                self.own(r, &group)
            }
            value => self.named(value),
        }
    }

    /// The row that a value names; the first row where it could not be read.
    fn named(&self, value: &Value) -> T {
        if let Value::Row(name) = value { self.row(name) } else { self.all[0] }
    }

    fn own(&self, r: &mut Reader, group: &Group<'_>) -> T {
        let base = match (r.value(group, &self.like), self.like.without) {
            (Some(found), _) => self.named(found.value),
            (None, Default::Value(name, _)) => {
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
            accept::Shape::Number(..) => self.number_if(group, accept),
            _ => self.quantity_if(group, accept),
        };
        *number = given.unwrap_or(*number);
        given.is_some()
    }

    /// Tells that a number of an own row does not go with its others: what is accepted, and changes that mend it.
    fn unfit(&mut self, found: &Found<'_>, message: &str, accepted: String, changes: Vec<Suggestion>) {
        let told = self.wrong(&found.path, format!("{} {message}", self.quoted(&found.path)));
        *told = told.clone().accepted(accepted).try_this(changes);
    }
}

/// A number of the inner unit as it would stand at a key.
fn written(accept: &Accept, value: f64) -> String {
    accept.what.range().map_or_else(|| units::plain(value), |range| units::show(range.kind, value, System::Metric))
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
    if r.is_sound(group.own_path()) && w.e_across > w.e_along * (1.0 + SAME) {
        stiffer_across(r, group, &base, &w);
    }
    w
}

/// Numbers closer than this, as a share, are the same in two units.
const SAME: f64 = 1e-9;

/// Wood is never stiffer across the grain than along it: both were most likely swapped, or one of them is the other.
fn stiffer_across(r: &mut Reader, group: &Group<'_>, base: &Wood, w: &Wood) {
    let [along_key, across_key] = [&accept::WOOD_E_ALONG, &accept::WOOD_E_ACROSS];
    let (along, across) = (r.value(group, along_key), r.value(group, across_key));
    let put = |key: &Accept, value: f64| Suggestion::text(group.path(key), written(key, value));
    let row = format!(" as in {}", base.name);
    let [along_told, across_told] = [w.e_along, w.e_across].map(|e| written(along_key, e));
    match (along, across) {
        (Some(along), Some(across)) => {
            let other = format!("is more than the {along_told} along the grain");
            let swapped = [(along_key, &across), (across_key, &along)]
                .map(|(key, found)| (group.path(key), r.written(&found.path).to_owned()));
            let changes = swapped.map(|(key, text)| Suggestion::text(key, text)).to_vec();
            r.unfit(&across, &other, format!("at most {along_told}"), changes);
        }
        (None, Some(across)) => {
            let other = format!("is more than the {along_told} along the grain{row}");
            let changes = vec![put(along_key, w.e_across), Suggestion::without(group.path(across_key))];
            r.unfit(&across, &other, format!("at most {along_told}"), changes);
        }
        (Some(along), None) => {
            let other = format!("is less than the {across_told} across the grain{row}");
            let changes = vec![put(across_key, base.e_across / base.e_along * w.e_along)];
            r.unfit(&along, &other, format!("at least {across_told}"), changes);
        }
        (None, None) => {}
    }
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
    let mut head = base.pan;
    let wide = r.replace(group, &accept::SCREW_HEAD_DIAMETER, &mut head.diameter);
    let high = r.replace(group, &accept::SCREW_HEAD_HEIGHT, &mut head.height);
    for kind in [&mut s.pan, &mut s.countersunk, &mut s.washer] {
        kind.diameter = if wide { head.diameter } else { kind.diameter };
        kind.height = if high { head.height } else { kind.height };
    }
    s.source = if given { OWN } else { s.source };
    s.head_source = if wide || high { OWN } else { s.head_source };
    if r.is_sound(group.own_path()) {
        thick_root(r, group, &s);
        narrow_head(r, group, &base, &s);
    }
    s
}

/// A root that is not thinner than its thread: both were most likely swapped.
fn thick_root(r: &mut Reader, group: &Group<'_>, s: &Screw) {
    let [thread_key, root_key] = [&accept::SCREW_DIAMETER, &accept::SCREW_ROOT];
    let Some(root) = r.value(group, root_key).filter(|_| s.root >= s.diameter) else { return };
    let changes = match r.value(group, thread_key) {
        Some(thread) if s.root > s.diameter => vec![
            Suggestion::text(group.path(thread_key), r.written(&root.path)),
            Suggestion::text(group.path(root_key), r.written(&thread.path)),
        ],
        _ => vec![Suggestion::without(group.path(root_key))],
    };
    let thread = written(thread_key, s.diameter);
    r.unfit(&root, &format!("is not thinner than the thread of {thread}"), format!("less than {thread}"), changes);
}

/// A head that would slip through the hole of its thread.
fn narrow_head(r: &mut Reader, group: &Group<'_>, base: &Screw, s: &Screw) {
    let hole = s.diameter + HOLE_FIT;
    let narrowest = [s.pan, s.countersunk, s.washer].iter().map(|head| head.diameter).fold(f64::MAX, f64::min);
    let (thread_key, head_key) = (&accept::SCREW_DIAMETER, &accept::SCREW_HEAD_DIAMETER);
    if narrowest > hole {
        return;
    }
    let told = written(head_key, hole);
    let usual = (base.pan.diameter / base.diameter * s.diameter * 10.0).ceil() / 10.0;
    let changes = vec![Suggestion::text(group.path(head_key), written(head_key, usual))];
    if let Some(head) = r.value(group, head_key) {
        let message = format!("slips through the hole of {told} that the thread needs");
        r.unfit(&head, &message, format!("more than {told}"), changes);
    } else if let Some(thread) = r.value(group, thread_key) {
        let message =
            format!("needs a hole of {told}, through which the head of {} slips", written(head_key, narrowest));
        let most = written(thread_key, narrowest - HOLE_FIT);
        r.unfit(&thread, &message, format!("less than {most}, or a wider \"head_diameter\""), changes);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::wood::Kind;

    #[test]
    fn every_default_row_is_in_its_table() {
        for key in accept::KEYS {
            if let (accept::Shape::Row(table), Default::Value(name, _)) = (key.what, key.without) {
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
        assert!(matches!(accept::TOP_WOOD.without, Default::Value(name, _) if Some(name) == weakest), "{weakest:?}");
    }
}

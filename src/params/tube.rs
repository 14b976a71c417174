//! Round tubes: [`Tube`] from a designation or an object.

use super::Tube;
use super::accept::{self, Accept, Shape};
use super::reader::{Found, Group, Reader};
use super::rows::METALS;
use super::spelling::quoted;
use super::text::Written;
use super::value::{TubeSize, Value};
use crate::tables::tube::{self as tubes, Metal, Size, System};
use crate::units::{self, Kind, Quantity, Unread};

/// Largest difference between nominal and measured diameter, mm: tolerance, paint and zinc together reach 0.35 mm.
const FAR: f64 = 0.4;

/// A measured diameter this near to the nominal one is never doubted, mm: the tolerance of drawn tube.
const NEAR: f64 = 0.08;

/// Two diameters in the tables are the same when they are this close, mm.
const SAME: f64 = 0.03;

/// A size that is sold, called as it is there or as the user writes it.
fn sold(size: &Size, name: String) -> TubeSize {
    TubeSize { name, outside: size.outside, wall: size.wall }
}

impl TubeSize {
    /// A tube by its designation, such as `16 x 1.5 mm` or `1/2 EMT`; none where it is not accepted.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        designation(text).ok().filter(is_accepted)
    }

    /// The usual metal of such a tube.
    fn metal(&self) -> &'static str {
        if self.name.ends_with("EMT") { "EMT steel" } else { "steel S235" }
    }
}

/// Stands for a tube that could not be read.
fn unread() -> TubeSize {
    TubeSize { name: String::new(), outside: 25.0, wall: 2.0 }
}

/// Reads the tube of a key; none where the file has no such key.
pub(super) fn tube(r: &mut Reader, group: &Group<'_>, accept: &Accept) -> Option<Tube> {
    let found = r.value(group, accept)?;
    match found.value {
        Value::Tube(size) => Some(by_size(r, group, accept, size.clone())),
        Value::Group(_) => {
            let inner = r.open(&found);
            Some(by_parts(r, &inner))
        }
        _ => None,
    }
}

/// A tube that stands for one that is missing; the missing key is a problem already.
pub(super) fn stand_in() -> Tube {
    let TubeSize { name, outside, wall } = unread();
    Tube { name, outside, wall, metal: tubes::METALS[0], measured: outside }
}

fn by_size(r: &mut Reader, group: &Group<'_>, accept: &Accept, shape: TubeSize) -> Tube {
    let inner = group.below(accept);
    r.assume(&inner, &accept::TUBE_METAL, shape.metal());
    let metal = METALS.row(shape.metal());
    let measured = nominal(r, &inner, shape.outside);
    finish(shape, metal, measured)
}

fn by_parts(r: &mut Reader, g: &Group<'_>) -> Tube {
    let shape = match r.value(g, &accept::TUBE_SIZE) {
        Some(found) => by_key(r, g, &found),
        None => by_figures(r, g),
    };
    let metal = METALS.read(r, g, &accept::TUBE_METAL, shape.metal());
    let measured = measured(r, g, &shape);
    finish(shape, metal, measured)
}

fn finish(shape: TubeSize, metal: Metal, measured: f64) -> Tube {
    Tube { name: shape.name, outside: shape.outside, wall: shape.wall, metal, measured }
}

fn by_key(r: &mut Reader, g: &Group<'_>, found: &Found<'_>) -> TubeSize {
    for other in [accept::TUBE_OUTSIDE, accept::TUBE_WALL] {
        if g.has(&other)
            && let Some(twice) = r.value(g, &other)
        {
            r.wrong(&twice.path, "is given twice: \"size\" says it too").hint = Some("keep one of the two".into());
        }
    }
    if let Value::Tube(size) = found.value { size.clone() } else { unread() }
}

fn by_figures(r: &mut Reader, g: &Group<'_>) -> TubeSize {
    let outside = r.quantity(g, &accept::TUBE_OUTSIDE);
    let wall = r.quantity(g, &accept::TUBE_WALL);
    if [accept::TUBE_OUTSIDE, accept::TUBE_WALL].iter().any(|key| !r.is_sound(&g.path(key))) {
        return unread();
    }
    if let Some(found) = r.value(g, &accept::TUBE_WALL).filter(|_| wall >= outside / 2.0) {
        let written = r.quoted(&found.path);
        let message = format!("{written} is not less than half the outside diameter of {}", r.length(outside));
        r.wrong(&found.path, message).hint =
            Some("is it the bore, or the diameter, that was written as the wall?".into());
    }
    let sold = tubes::sizes().find(|size| (size.outside - outside).abs() < SAME && (size.wall - wall).abs() < SAME);
    let name = format!("{} x {}", units::plain(outside), mm(wall));
    match sold {
        Some(size) if size.system != System::Emt => TubeSize { name: size.designation(), outside, wall },
        _ => TubeSize { name, outside, wall },
    }
}

fn mm(value: f64) -> String {
    units::show(Kind::Length, value, units::System::Metric)
}

/// Types a designation; a wrong one leaves a problem.
pub(super) fn size_in(r: &mut Reader, found: &Written<'_>, text: &str) -> Value {
    match designation(text) {
        Ok(shape) => {
            check_shape(r, found, text, &shape);
            Value::Tube(shape)
        }
        Err(unread) => {
            let message =
                if text.trim().is_empty() { "is empty".into() } else { format!("{} {}", quoted(text), unread.message) };
            let accepted = Shape::TubeSize.describe(r.units());
            let problem = r.wrong(&found.path, message);
            problem.accepted = Some(accepted);
            problem.hint = unread.describe(sound);
            Value::Unread
        }
    }
}

/// Whether a text is a tube that is accepted.
fn sound(text: &str) -> bool {
    TubeSize::read(text).is_some()
}

fn is_accepted(size: &TubeSize) -> bool {
    let within = |key: Accept, value: f64| key.what.range().is_some_and(|range| range.holds(value));
    within(accept::TUBE_OUTSIDE, size.outside) && within(accept::TUBE_WALL, size.wall) && size.wall < size.outside / 2.0
}

fn check_shape(r: &mut Reader, found: &Written<'_>, text: &str, shape: &TubeSize) {
    let sizes = [("outside diameter", shape.outside, accept::TUBE_OUTSIDE), ("wall", shape.wall, accept::TUBE_WALL)];
    for (name, value, key) in sizes {
        let Some(range) = key.what.range() else { continue };
        if value < range.least || value > range.most {
            let message = format!(
                "{} has {} {name} of {}",
                quoted(text),
                if name == "wall" { "a" } else { "an" },
                r.length(value)
            );
            let accepted = range.describe(r.units());
            r.wrong(&found.path, message).accepted = Some(accepted);
        }
    }
    if shape.wall >= shape.outside / 2.0 {
        r.wrong(&found.path, format!("{} has a wall that is not less than half its diameter", quoted(text)));
    }
}

/// Reads `16 x 1.5 mm`, `1 in x 0.065 in`, `1 in x 16 ga`, `1/2 EMT`.
fn designation(text: &str) -> Result<TubeSize, Unread> {
    if text.contains(',') {
        return Err(units::comma(text, |text| designation(text).map(|_| ())));
    }
    if text.to_lowercase().contains("emt") {
        return tubes::find_size(text).map(|size| sold(&size, size.designation())).ok_or_else(|| no_emt(text));
    }
    let Some((left, right)) = text.split_once(['x', 'X', '×', '*']) else { return Err(no_wall(text)) };
    let (outside, wall) = (units::read(Kind::Length, left), units::read(Kind::Wall, right));
    let (outside, wall) = match (outside, wall) {
        (Ok(outside), Ok(wall)) => (outside, wall),
        (Err(_), Ok(wall)) => (units::read(Kind::Length, &borrow(left, right)?)?, wall),
        (Ok(outside), Err(_)) => (outside, units::read(Kind::Wall, &borrow(right, left)?)?),
        (Err(unread), Err(_)) if unread.message != "has no unit" => return Err(unread),
        (Err(_), Err(_)) => return Err(Unread::new("has no unit").meant(Kind::Length.readings(text.trim()))),
    };
    let [outside, wall] = [outside, wall].map(|Quantity { value, .. }| value);
    Ok(TubeSize { name: text.split_whitespace().collect::<Vec<_>>().join(" "), outside, wall })
}

/// How a tube is written.
const WRITE: &str = "write outside diameter x wall, such as \"25 x 2 mm\"";

/// A diameter alone: the walls that it is sold with, else the diameters on either side.
fn no_wall(text: &str) -> Unread {
    let unread = Unread::new("is not the size of a tube").hint(WRITE);
    let Ok(outside) = units::read(Kind::Length, text) else { return unread };
    let off = |size: &Size| (size.outside - outside.value).abs();
    let mut sold: Vec<Size> = tubes::sizes().filter(|size| size.system != System::Emt && off(size) < SAME).collect();
    sold.truncate(MOST_MEANT);
    Unread::new("has no wall").hint(WRITE).meant(sold.iter().map(Size::designation).collect())
}

/// Most sizes that a message lists.
const MOST_MEANT: usize = 6;

/// A size of EMT that there is not: the nearest one, by its trade size or by its diameter where that is nearer.
fn no_emt(text: &str) -> Unread {
    let all = || tubes::sizes().filter(|size| size.system == System::Emt);
    let sizes = accept::either(all().map(|size| format!("\"{}\"", size.designation())));
    let unread = Unread::new("is not a size of EMT");
    let bare = text.to_lowercase().replace("emt", " ");
    let inches = || units::read(Kind::Length, &format!("{} in", bare.trim()));
    let Ok(size) = units::read(Kind::Length, &bare).or_else(|_| inches()) else {
        return unread.hint(format!("sizes: {sizes}"));
    };
    let trade =
        |row: &Size| units::read(Kind::Length, &format!("{} in", row.trade)).map_or(f64::MAX, |read| read.value);
    let off = |row: &Size| (trade(row) - size.value).abs().min((row.outside - size.value).abs());
    match all().min_by(|a, b| off(a).total_cmp(&off(b))) {
        Some(row) => unread.hint(format!("did you mean \"{}\"? Sizes: {sizes}", row.designation())),
        None => unread,
    }
}

/// A number without unit takes the unit of the other half; a gauge cannot be borrowed.
fn borrow(bare: &str, other: &str) -> Result<String, Unread> {
    let unit = other.trim_start_matches(|c: char| !c.is_alphabetic() && !matches!(c, '"' | '\'' | '″' | '”'));
    if units::read(Kind::Length, &format!("1 {unit}")).is_err() {
        let meant = vec![format!("{} in x {}", bare.trim(), other.trim())];
        return Err(Unread::new("has no unit for the outside diameter").hint(WRITE).meant(meant));
    }
    Ok(if bare.trim().ends_with(|c: char| c.is_alphabetic()) { bare.into() } else { format!("{bare} {unit}") })
}

/// The nominal diameter where nobody measured.
fn nominal(r: &mut Reader, g: &Group<'_>, outside: f64) -> f64 {
    r.assume(g, &accept::TUBE_MEASURED, mm(outside));
    outside
}

fn measured(r: &mut Reader, g: &Group<'_>, shape: &TubeSize) -> f64 {
    let Some(found) = r.value(g, &accept::TUBE_MEASURED) else { return nominal(r, g, shape.outside) };
    let Value::Quantity(_, measured) = *found.value else { return shape.outside };
    if r.is_sound(&found.path) && !shape.name.is_empty() {
        check_measured(r, &found, shape.outside, measured);
    }
    measured
}

/// A diameter far from the nominal one, or nearer to another size sold, is most likely another tube.
fn check_measured(r: &mut Reader, found: &Found<'_>, outside: f64, measured: f64) {
    let off = (measured - outside).abs();
    let other = tubes::systems_near(measured).into_iter().find(|size| (size.outside - outside).abs() > SAME);
    let nearer = other.filter(|size| (size.outside - measured).abs() < off);
    if off <= NEAR || (off <= FAR && nearer.is_none()) {
        return;
    }
    let written = r.quoted(&found.path);
    let message = format!("{written} is {} from the outside diameter of {}", r.length(off), r.length(outside));
    let looks = nearer.map(|size| looks_like(r, &size));
    let hint = format!("{}write the size that you have, or measure again", looks.unwrap_or_default());
    let range = format!("{} to {}", r.length(outside - FAR), r.length(outside + FAR));
    let problem = r.wrong(&found.path, message);
    problem.accepted = Some(range).filter(|_| off > FAR);
    problem.hint = Some(hint);
}

/// `it looks like 1/2 EMT (17.93 mm): `.
fn looks_like(r: &Reader, size: &Size) -> String {
    let (name, diameter) = (trade(size), r.length(size.outside));
    if name == diameter { format!("it looks like {name}: ") } else { format!("it looks like {name} ({diameter}): ") }
}

/// A size without its wall.
fn trade(size: &Size) -> String {
    match size.system {
        System::Emt => size.designation(),
        System::Inch => format!("{} in", size.trade),
        System::Precision | System::Structural => format!("{} mm", size.trade),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn designations_are_read_as_people_write_them() {
        let cases = [
            ("16 x 1.5 mm", 16.0, 1.5),
            ("16x1.5mm", 16.0, 1.5),
            ("25 mm × 2 mm", 25.0, 2.0),
            ("25mm x 2", 25.0, 2.0),
            ("1 in x 0.065 in", 25.4, 1.651),
            ("1 x 0.065 in", 25.4, 1.651),
            ("1\" x .065\"", 25.4, 1.651),
            ("1-1/4\" x 16 ga", 31.75, 1.651),
            ("1 in x 1.5 mm", 25.4, 1.5),
            ("1/2 EMT", 17.9324, 1.0668),
            ("emt 3/4", 23.4188, 1.2446),
        ];
        for (text, outside, wall) in cases {
            let shape = designation(text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
            assert!((shape.outside - outside).abs() < 1e-9 && (shape.wall - wall).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn unclear_designations_are_refused() {
        for text in ["25", "25 x 2", "1 x 16 ga", "25 mm", "5/8 EMT", "x", "a x b", "", "25 x 2 kg", "mm x mm"] {
            assert!(designation(text).is_err(), "{text}");
        }
    }
}

//! Texts read as quantities of one kind.

use super::digits::{decimal, fraction, glyph, over};
use super::table::{GAUGE_NAMES, GAUGES, LENGTHS, Unit};
use super::{INCH, Kind, Quantity, System, Unread};

/// Longest text that is read as a quantity, characters: the longest sensible one,
/// `10 feet 11 15/16 inches`, is a third of it.
const LONGEST: usize = 80;

/// Reads a quantity of one kind.
///
/// # Errors
/// [`Unread`] says what is wrong with the text and what to write instead.
pub fn read(kind: Kind, text: &str) -> Result<Quantity, Unread> {
    if text.chars().count() > LONGEST {
        return Err(Unread::new("is too long for a quantity"));
    }
    let text = text.trim();
    match quantity(kind, text) {
        Err(_) if text.contains(',') => Err(comma(text, |text| quantity(kind, text).map(|_| ()))),
        read => read,
    }
}

fn quantity(kind: Kind, text: &str) -> Result<Quantity, Unread> {
    if text.is_empty() {
        return Err(Unread::new("is empty").hint(format!("write {} with its unit: {}", kind.noun(), kind.unit_list())));
    }
    let (sign, unsigned) = sign(text);
    let mut sum = part(kind, unsigned)?;
    while !sum.rest.is_empty() {
        let next = part(kind, sum.rest)?;
        if next.unit.factor >= sum.unit.factor {
            return Err(Unread::new("has two quantities where one is meant"));
        }
        sum = Part { value: sum.value + next.value, system: sum.system, ..next };
    }
    let value = (sign * sum.value + sum.unit.offset) * if sum.unit.offset == 0.0 { 1.0 } else { sum.unit.factor };
    if !value.is_finite() {
        return Err(Unread::new("is too large to be read as a number"));
    }
    Ok(Quantity { value, system: sum.system })
}

/// One number with its unit; `value` is in the unit of the kind except where the unit has an offset.
#[derive(Clone, Copy)]
struct Part<'a> {
    value: f64,
    unit: &'static Unit,
    system: System,
    rest: &'a str,
}

fn sign(text: &str) -> (f64, &str) {
    if let Some(rest) = text.strip_prefix(['-', '\u{2212}']) {
        return (-1.0, rest.trim_start());
    }
    (1.0, text.strip_prefix('+').map_or(text, str::trim_start))
}

fn part(kind: Kind, text: &str) -> Result<Part<'_>, Unread> {
    let (number, rest) = number(text, kind)?;
    let (name, rest) = if kind.is_compound() { split_unit(rest)? } else { (rest, "") };
    let written = text[..text.len() - name.len() - rest.len()].trim().trim_end_matches('-').trim_end();
    let folded = fold(name);
    if folded.is_empty() {
        return Err(no_unit(kind, number, written, rest));
    }
    if GAUGE_NAMES.contains(&folded.as_str()) {
        return gauge(kind, number, rest);
    }
    let Some(unit) = find(kind, &folded) else { return Err(unknown_unit(kind, name.trim(), &folded, written)) };
    let value = if unit.offset == 0.0 { unit.inner(number) } else { number };
    Ok(Part { value, unit, system: unit.system, rest })
}

fn find(kind: Kind, folded: &str) -> Option<&'static Unit> {
    kind.units().iter().find(|unit| unit.names.contains(&folded))
}

/// Lower case without spaces and the marks people put between the letters of a unit; typographic quotes made plain.
pub(crate) fn fold(unit: &str) -> String {
    let mut folded = String::new();
    for c in unit.chars() {
        match c {
            ' ' | '.' | '·' | '⋅' | '*' | '^' | '-' => {}
            '″' | '”' | '“' => folded.push('"'),
            '′' | '’' | '‘' => folded.push('\''),
            '²' => folded.push('2'),
            '³' => folded.push('3'),
            _ if c.is_whitespace() => {}
            _ => folded.extend(c.to_lowercase()),
        }
    }
    folded
}

/// Splits behind the unit, before the next number; a dash between the two belongs to neither.
fn split_unit(text: &str) -> Result<(&str, &str), Unread> {
    let Some(mut end) = text.find(|c: char| c.is_ascii_digit() || glyph(c).is_some()) else { return Ok((text, "")) };
    if text[..end].ends_with('.') {
        end -= 1;
        if !text[..end].ends_with(char::is_whitespace) {
            return Err(Unread::new("has a point that may belong to the unit or to the number"));
        }
    }
    Ok((&text[..end], &text[end..]))
}

fn no_unit(kind: Kind, number: f64, written: &str, rest: &str) -> Unread {
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    if rest.is_empty() {
        return Unread::new("has no unit").meant(kind.readings(written));
    }
    let unread = Unread::new("has two numbers without a unit between them");
    if digits == 3 && number.fract() == 0.0 {
        let joined = format!("{written}{rest}");
        let meant = if quantity(kind, &joined).is_ok() { vec![joined] } else { Vec::new() };
        return unread.hint("write thousands without a gap").meant(meant);
    }
    unread
}

fn unknown_unit(kind: Kind, name: &str, folded: &str, written: &str) -> Unread {
    let accepted = format!("units accepted here: {}", kind.unit_list());
    if kind == Kind::Force && find(Kind::Mass, folded).is_some() {
        let unit = if folded.starts_with('k') { "kgf" } else { "lbf" };
        return Unread::new("is a mass, not a force")
            .hint(format!("write \"{written} {unit}\", or use the key \"mass\""));
    }
    match Kind::ALL.iter().find(|other| find(**other, folded).is_some()) {
        Some(other) => Unread::new(format!("is {}, not {}", other.noun(), kind.noun())).hint(accepted),
        None => Unread::new(format!("has the unit \"{name}\", which is not known here")).hint(accepted),
    }
}

fn gauge(kind: Kind, number: f64, rest: &str) -> Result<Part<'_>, Unread> {
    if kind != Kind::Wall {
        return Err(Unread::new("is a wall gauge; only the wall of a tube can be given so")
            .hint(format!("units accepted here: {}", kind.unit_list())));
    }
    match gauge_wall(number) {
        Some(wall) => Ok(Part { value: wall, unit: &LENGTHS[0], system: System::Inch, rest }),
        None => Err(Unread::new("is not a wall gauge of the table")
            .hint("write 10 ga to 24 ga, or the wall itself in mm or in")),
    }
}

/// Wall of a tube by its Birmingham gauge, mm; 10 to 24 only.
#[must_use]
pub fn gauge_wall(gauge: f64) -> Option<f64> {
    GAUGES.iter().find(|(name, _)| f64::from(*name) == gauge).map(|(_, wall)| wall * INCH)
}

/// Reads `38`, `0.065`, `.5`, `1e3`, `1/2`, `1 1/2`, `1-1/2`, `1½`; gives the value and what follows.
fn number(text: &str, kind: Kind) -> Result<(f64, &str), Unread> {
    let (whole, rest) = decimal(text);
    let Some(whole) = whole else {
        return fraction(rest)?.ok_or_else(|| {
            let noun = kind.noun();
            Unread::new(format!("is not {noun}")).hint(format!("{noun} looks like {}", kind.example()))
        });
    };
    let written = &text[..text.len() - rest.len()];
    if !written.bytes().all(|b| b.is_ascii_digit()) {
        return Ok((whole, rest));
    }
    if let Some(fraction) = over(whole, rest)? {
        return Ok(fraction);
    }
    let gap = rest.trim_start();
    let gap = gap.strip_prefix('-').map_or(gap, str::trim_start);
    match fraction(gap)? {
        Some((part, _)) if part >= 1.0 => {
            Err(Unread::new("has a fraction that is not smaller than 1 behind a whole number"))
        }
        Some((part, rest)) => Ok((whole + part, rest)),
        None => Ok((whole, rest)),
    }
}

/// What a text with a comma may mean, each reading tried with `read`: a decimal point in its place; without it, where
/// it stands between thousands or between two quantities.
pub(crate) fn comma(text: &str, read: impl Fn(&str) -> Result<(), Unread>) -> Unread {
    let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let thousands = text.split(',').skip(1).all(|after| digits(after) == 3);
    let decimals = text.split(',').skip(1).all(|after| digits(after) > 0);
    let mut meant = Vec::new();
    let ways = [(decimals, "."), (thousands, ""), (!decimals, " ")];
    for written in ways.into_iter().filter(|way| way.0).map(|way| text.replace(',', way.1)) {
        match read(&written) {
            Ok(()) => meant.push(written.split_whitespace().collect::<Vec<_>>().join(" ")),
            Err(unread) => meant.extend(unread.meant),
        }
    }
    meant.dedup();
    Unread::new("has a comma; decimals are written with a point").hint("leave commas out").meant(meant)
}

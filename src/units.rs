//! Quantities as people write them, `"38 mm"`, `"1 1/2 in"`, `"16 ga"`, and back.
//!
//! Inside the program lengths are mm, forces N, stresses MPa, masses kg, angles radians,
//! temperatures degrees Celsius, shares 0 to 1, times years, turning stiffness N mm/rad.

use std::f64::consts::PI;

/// Standard acceleration of free fall, m/s2, by definition.
/// Source: The International System of Units (SI), 9th edition, unit conversions in NIST SP 811 B.8.
pub const GRAVITY: f64 = 9.80665;

/// Millimetres in an inch, by definition.
pub const INCH: f64 = 25.4;

/// Kilograms in a pound, by definition.
pub const POUND: f64 = 0.453_592_37;
/// One pound-force, N.
pub const LBF: f64 = POUND * GRAVITY;
/// One pound-force per square inch, MPa.
pub const PSI: f64 = LBF / (INCH * INCH);

/// Longest text that is read as a quantity, characters: the longest sensible one,
/// `10 feet 11 15/16 inches`, is a third of it.
const LONGEST: usize = 80;

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// mm.
    Length,
    /// mm; also a wall gauge.
    Wall,
    /// kg.
    Mass,
    /// N.
    Force,
    /// Radians.
    Angle,
    /// Degrees Celsius.
    Temperature,
    /// 0 to 1.
    Share,
    /// Years.
    Time,
    /// Hz.
    Frequency,
    /// Turning stiffness of a joint, N mm/rad.
    Turning,
    /// MPa.
    Stress,
    /// kg/m3.
    Density,
}

/// Which family a unit belongs to; messages answer in the family of the user.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// mm, kg, N, C and everything without a family.
    Metric,
    /// in, lb, lbf, F.
    Inch,
}

/// A quantity that was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// In the unit of its [`Kind`]; finite.
    pub value: f64,
    /// Family of the unit it was written in.
    pub system: System,
}

/// Why a text is not a quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// Continues the quoted text: `has no unit`.
    pub message: String,
    /// What to do, where no reading of the text suggests itself.
    pub hint: Option<String>,
    /// What may have been meant, as it would stand in the file, likeliest first; each is read.
    pub meant: Vec<String>,
}

impl Unread {
    pub(crate) fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, meant: Vec::new() }
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    pub(crate) fn meant(mut self, meant: Vec<String>) -> Self {
        self.meant = meant;
        self
    }

    /// What to write: the readings that `fits` lets pass; else the hint.
    #[must_use]
    pub fn told(&self, fits: impl Fn(&str) -> bool) -> Option<String> {
        let fitting: Vec<_> = self.meant.iter().filter(|text| fits(text)).map(|text| format!("\"{text}\"")).collect();
        if fitting.is_empty() { self.hint.clone() } else { Some(format!("write {}", fitting.join(" or "))) }
    }
}

/// A unit: value inside = (written + `offset`) * `factor`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unit {
    /// As we write it.
    pub shown: &'static str,
    /// As people write it, folded by [`fold`].
    pub names: &'static [&'static str],
    factor: f64,
    offset: f64,
    system: System,
}

impl Unit {
    /// A number in the inner unit; hundredths and the like by division, so that 35 % is 0.35 and nothing beside it.
    fn inner(&self, number: f64) -> f64 {
        let parts = 1.0 / self.factor;
        if parts > 1.0 && parts.fract() == 0.0 { number / parts } else { number * self.factor }
    }
}

const fn metric(shown: &'static str, names: &'static [&'static str], factor: f64) -> Unit {
    Unit { shown, names, factor, offset: 0.0, system: System::Metric }
}

const fn inch(shown: &'static str, names: &'static [&'static str], factor: f64) -> Unit {
    Unit { shown, names, factor, offset: 0.0, system: System::Inch }
}

/// The first unit of a list is the one we write; the first of [`System::Inch`] the one for users of inches.
const LENGTHS: &[Unit] = &[
    metric("mm", &["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
    metric("cm", &["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 10.0),
    metric("m", &["m", "metre", "metres", "meter", "meters"], 1000.0),
    inch("in", &["in", "inch", "inches", "\"", "''"], INCH),
    inch("ft", &["ft", "foot", "feet", "'"], 12.0 * INCH),
    inch("thou", &["thou"], 0.001 * INCH),
];
const MASSES: &[Unit] = &[
    metric("kg", &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], 1.0),
    metric("g", &["g", "gram", "grams", "gramme", "grammes"], 0.001),
    metric("t", &["t", "tonne", "tonnes"], 1000.0),
    inch("lb", &["lb", "lbs", "pound", "pounds"], POUND),
    inch("oz", &["oz", "ounce", "ounces"], POUND / 16.0),
];
const FORCES: &[Unit] = &[
    metric("N", &["n", "newton", "newtons"], 1.0),
    metric("kN", &["kn", "kilonewton", "kilonewtons"], 1000.0),
    metric("kgf", &["kgf", "kp"], GRAVITY),
    inch("lbf", &["lbf", "poundforce", "poundsforce"], LBF),
];
const ANGLES: &[Unit] = &[
    metric("deg", &["deg", "degs", "degree", "degrees", "°", "º"], PI / 180.0),
    metric("rad", &["rad", "radian", "radians"], 1.0),
];
const TEMPERATURES: &[Unit] = &[
    metric("C", &["c", "°c", "ºc", "degc", "℃", "celsius", "degreescelsius"], 1.0),
    Unit {
        shown: "F",
        names: &["f", "°f", "ºf", "degf", "℉", "fahrenheit", "degreesfahrenheit"],
        factor: 5.0 / 9.0,
        offset: -32.0,
        system: System::Inch,
    },
];
const SHARES: &[Unit] = &[metric("%", &["%", "percent"], 0.01)];
const TIMES: &[Unit] = &[
    metric("years", &["years", "year", "yr", "yrs", "y", "a"], 1.0),
    metric("months", &["months", "month", "mo"], 1.0 / 12.0),
    metric("weeks", &["weeks", "week"], 7.0 / 365.25),
    metric("days", &["days", "day", "d"], 1.0 / 365.25),
];
const FREQUENCIES: &[Unit] = &[metric("Hz", &["hz", "hertz"], 1.0), metric("rpm", &["rpm", "r/min"], 1.0 / 60.0)];
const TURNINGS: &[Unit] = &[
    metric("N m/rad", &["nm/rad"], 1000.0),
    metric("N mm/rad", &["nmm/rad"], 1.0),
    metric("kN m/rad", &["knm/rad"], 1e6),
    metric("N m/deg", &["nm/deg", "nm/°"], 1000.0 * 180.0 / PI),
    inch("lbf in/rad", &["lbfin/rad", "inlbf/rad", "inlb/rad", "lbin/rad"], LBF * INCH),
    inch("lbf ft/rad", &["lbfft/rad", "ftlbf/rad", "ftlb/rad", "lbft/rad"], LBF * INCH * 12.0),
];
const STRESSES: &[Unit] = &[
    metric("MPa", &["mpa", "n/mm2"], 1.0),
    metric("GPa", &["gpa", "kn/mm2"], 1000.0),
    metric("kPa", &["kpa", "kn/m2"], 0.001),
    inch("psi", &["psi", "lbf/in2", "lb/in2"], PSI),
    inch("ksi", &["ksi"], 1000.0 * PSI),
];
const DENSITIES: &[Unit] = &[
    metric("kg/m3", &["kg/m3"], 1.0),
    metric("g/cm3", &["g/cm3", "kg/l", "kg/dm3"], 1000.0),
    inch("lb/ft3", &["lb/ft3", "pcf"], POUND / (0.012 * INCH * 0.012 * INCH * 0.012 * INCH)),
];

/// Names of the wall gauge.
const GAUGE_NAMES: &[&str] = &["ga", "gauge", "gage", "bwg", "gabwg"];

/// Birmingham wire gauge as sold for tube walls: number and inches, thickest first.
/// Source: Birmingham wire gauge (Stubs iron wire gauge), from memory.
const GAUGES: [(u8, f64); 15] = [
    (10, 0.134),
    (11, 0.120),
    (12, 0.109),
    (13, 0.095),
    (14, 0.083),
    (15, 0.072),
    (16, 0.065),
    (17, 0.058),
    (18, 0.049),
    (19, 0.042),
    (20, 0.035),
    (21, 0.032),
    (22, 0.028),
    (23, 0.025),
    (24, 0.022),
];

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 12] = [
        Self::Length,
        Self::Wall,
        Self::Mass,
        Self::Force,
        Self::Angle,
        Self::Temperature,
        Self::Share,
        Self::Time,
        Self::Frequency,
        Self::Turning,
        Self::Stress,
        Self::Density,
    ];

    pub(crate) const fn units(self) -> &'static [Unit] {
        match self {
            Self::Length | Self::Wall => LENGTHS,
            Self::Mass => MASSES,
            Self::Force => FORCES,
            Self::Angle => ANGLES,
            Self::Temperature => TEMPERATURES,
            Self::Share => SHARES,
            Self::Time => TIMES,
            Self::Frequency => FREQUENCIES,
            Self::Turning => TURNINGS,
            Self::Stress => STRESSES,
            Self::Density => DENSITIES,
        }
    }

    /// What it is called in a sentence: `a length`.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Wall => "a wall thickness",
            Self::Mass => "a mass",
            Self::Force => "a force",
            Self::Angle => "an angle",
            Self::Temperature => "a temperature",
            Self::Share => "a share in percent",
            Self::Time => "a time",
            Self::Frequency => "a frequency",
            Self::Turning => "a turning stiffness",
            Self::Stress => "a stress",
            Self::Density => "a density",
        }
    }

    /// Whether two numbers with units may stand side by side: `3 ft 2 in`, `2 lb 3 oz`.
    const fn is_compound(self) -> bool {
        matches!(self, Self::Length | Self::Wall | Self::Mass)
    }

    /// The unit we write for a family.
    fn unit(self, system: System) -> &'static Unit {
        let units = self.units();
        units.iter().find(|unit| unit.system == system).unwrap_or(&units[0])
    }

    /// The units by their short names, the gauge too where it is meant.
    #[must_use]
    pub fn unit_list(self) -> String {
        let mut names: Vec<_> = self.units().iter().map(|unit| unit.shown).collect();
        if self == Self::Wall {
            names.push("ga");
        }
        names.join(", ")
    }

    /// The likely readings of a bare number, the likelier first: `38 mm`, `38 in`.
    #[must_use]
    pub fn readings(self, number: &str) -> Vec<String> {
        let first = self.unit(System::Metric);
        let other = self.unit(System::Inch);
        let second = if other.shown == first.shown { self.units().get(1) } else { Some(other) };
        let with = |unit: &Unit| format!("{number} {}", unit.shown);
        let mut all: Vec<_> = part_of_whole(self, number).into_iter().collect();
        all.push(with(first));
        all.extend(second.map(with));
        all
    }

    /// What a quantity of this kind looks like: `"38 mm" or "1 1/2 in"`.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Self::Length => "\"38 mm\" or \"1 1/2 in\"",
            Self::Wall => "\"1.5 mm\", \"0.065 in\" or \"16 ga\"",
            Self::Mass => "\"40 kg\" or \"90 lb\"",
            Self::Force => "\"200 N\" or \"45 lbf\"",
            Self::Angle => "\"4 deg\"",
            Self::Temperature => "\"30 C\" or \"86 F\"",
            Self::Share => "\"40 %\"",
            Self::Time => "\"5 years\" or \"18 months\"",
            Self::Frequency => "\"3 Hz\"",
            Self::Turning => "\"2000 N m/rad\" or \"18000 lbf in/rad\"",
            Self::Stress => "\"12 MPa\" or \"1700 psi\"",
            Self::Density => "\"680 kg/m3\" or \"42 lb/ft3\"",
        }
    }
}

/// A share written as a part of one, `0.4`, most likely means 40 %.
fn part_of_whole(kind: Kind, number: &str) -> Option<String> {
    let part = number.parse::<f64>().ok().filter(|part| kind == Kind::Share && *part > 0.0 && *part <= 1.0)?;
    Some(format!("{} %", plain(part * 100.0)))
}

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

/// The longest decimal number at the start.
fn decimal(text: &str) -> (Option<f64>, &str) {
    let digits = |from: usize| text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let mut end = digits(0);
    let mut any = end;
    if text[end..].starts_with('.') && (end > 0 || digits(1) > 0) {
        any += digits(end + 1);
        end += 1 + digits(end + 1);
    }
    if any == 0 {
        return (None, text);
    }
    let power = text[end..].starts_with(['e', 'E']).then(|| end + 1);
    if let Some(from) = power {
        let signed = from + usize::from(text[from..].starts_with(['+', '-']));
        if digits(signed) > 0 {
            end = signed + digits(signed);
        }
    }
    (text[..end].parse().ok(), &text[end..])
}

/// A fraction at the start: `1/2` or a single sign such as `½`.
fn fraction(text: &str) -> Result<Option<(f64, &str)>, Unread> {
    if let Some(value) = text.chars().next().and_then(glyph) {
        return Ok(Some((value, &text[text.chars().next().map_or(0, char::len_utf8)..])));
    }
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    match text[..digits].parse() {
        Ok(top) => over(top, &text[digits..]),
        Err(_) => Ok(None),
    }
}

/// The second half of a fraction: a slash and a whole number.
fn over(top: f64, text: &str) -> Result<Option<(f64, &str)>, Unread> {
    let Some(rest) = text.trim_start().strip_prefix(['/', '\u{2044}', '\u{2215}']) else { return Ok(None) };
    let rest = rest.trim_start();
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    match rest[..digits].parse::<f64>() {
        Ok(0.0) => Err(Unread::new("divides by zero")),
        Ok(bottom) => Ok(Some((top / bottom, &rest[digits..]))),
        Err(_) => Err(Unread::new("has a slash without a number behind it")),
    }
}

/// Fractions that are one character.
const GLYPHS: [(char, f64); 13] = [
    ('¼', 0.25),
    ('½', 0.5),
    ('¾', 0.75),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('⅕', 0.2),
    ('⅖', 0.4),
    ('⅗', 0.6),
    ('⅘', 0.8),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
];

fn glyph(c: char) -> Option<f64> {
    GLYPHS.iter().find(|(sign, _)| *sign == c).map(|(_, value)| *value)
}

/// Writes a quantity in the unit of a family, rounded to six significant digits.
#[must_use]
pub fn show(kind: Kind, value: f64, system: System) -> String {
    let unit = kind.unit(system);
    format!("{} {}", plain(value / unit.factor - unit.offset), unit.shown)
}

/// A length in mm as messages show it, in the unit of a family: to a hundredth of a millimetre or thousandth of an inch.
#[must_use]
pub fn show_length(mm: f64, system: System) -> String {
    let step = if system == System::Metric { 0.01 } else { 0.001 * INCH };
    show(Kind::Length, (mm / step).round() * step, system)
}

/// Divisions of an inch on a common tape.
const INCH_PARTS: i64 = 32;

/// Millimetres as inches to the nearest 1/32, fraction reduced: `812.8` gives `32 in`, `810.4` gives `31 29/32 in`.
#[must_use]
pub fn inch_32(mm: f64) -> String {
    let parts = (mm / INCH * INCH_PARTS as f64).round();
    let sign = if parts < 0.0 { "-" } else { "" };
    let parts = parts.abs() as i64;
    let (whole, rest) = (parts / INCH_PARTS, parts % INCH_PARTS);
    if rest == 0 {
        return format!("{sign}{whole} in");
    }
    let shift = rest.trailing_zeros();
    let fraction = format!("{}/{}", rest >> shift, INCH_PARTS >> shift);
    if whole == 0 { format!("{sign}{fraction} in") } else { format!("{sign}{whole} {fraction} in") }
}

/// Writes an accepted range; for users of inches in their units first, rounded to the inside.
#[must_use]
pub fn show_range(kind: Kind, least: f64, most: f64, system: System) -> String {
    let metric = format!("{} to {}", show(kind, least, System::Metric), show(kind, most, System::Metric));
    let unit = kind.unit(system);
    if system == System::Metric || unit.system == System::Metric {
        return metric;
    }
    let low = inward(least / unit.factor - unit.offset, f64::ceil);
    let high = inward(most / unit.factor - unit.offset, f64::floor);
    format!("{low} {} to {high} {} ({metric})", unit.shown, unit.shown)
}

/// Three significant digits, rounded the given way.
fn inward(value: f64, round: fn(f64) -> f64) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let step = 10f64.powi(value.abs().log10().floor() as i32 - 2);
    plain(round(value / step) * step)
}

/// Six significant digits without trailing zeros; never an exponent below a thousand million.
#[must_use]
pub fn plain(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { value.to_string() };
    }
    let decimals = (5 - value.abs().log10().floor() as i32).clamp(0, 12) as usize;
    let text = format!("{value:.decimals$}");
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').into()
}

/// A regular expression (ECMA 262) for everything [`read`] takes as this kind.
#[must_use]
pub fn pattern(kind: Kind) -> String {
    let number = number_pattern();
    let unit = unit_pattern(kind);
    let sign = "[-+\u{2212}]?\\s*";
    if kind.is_compound() {
        return format!("^\\s*{sign}{number}{unit}(\\s*-?\\s*{number}{unit})*\\s*$");
    }
    format!("^\\s*{sign}{number}{unit}\\s*$")
}

pub(crate) fn number_pattern() -> String {
    let signs: String = GLYPHS.iter().map(|(sign, _)| *sign).collect();
    let simple = "\\d+\\s*[/\u{2044}\u{2215}]\\s*\\d+";
    format!("((\\d+\\s*-?\\s*)?[{signs}]|(\\d+(\\s+|\\s*-\\s*))?{simple}|(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d+)?)")
}

/// Marks that [`fold`] leaves out.
const LOOSE: &str = "[-\\s.·⋅*^]*";

pub(crate) fn unit_pattern(kind: Kind) -> String {
    let mut names: Vec<_> = kind.units().iter().flat_map(|unit| unit.names).copied().collect();
    if kind == Kind::Wall {
        names.extend(GAUGE_NAMES);
    }
    let names: Vec<_> = names.iter().map(|name| name_pattern(name)).collect();
    format!("{LOOSE}({}){LOOSE}", names.join("|"))
}

fn name_pattern(name: &str) -> String {
    let letters: Vec<_> = name.chars().map(char_pattern).collect();
    letters.join(LOOSE)
}

/// Either case of a letter, any spelling of a mark.
fn char_pattern(c: char) -> String {
    match c {
        '"' => "[\"″”“]".into(),
        '\'' => "['′’‘]".into(),
        '2' => "[2²]".into(),
        '3' => "[3³]".into(),
        '/' | '%' | '1' => c.to_string(),
        'k' => "[kK\u{212a}]".into(),
        _ if c.is_alphabetic() && c.is_ascii() => format!("[{c}{}]", c.to_ascii_uppercase()),
        _ => c.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    /// Text, kind, value inside. Definitions of the units; gauges from the table above.
    const READ: &[(&str, Kind, f64)] = &[
        ("38 mm", Kind::Length, 38.0),
        ("38mm", Kind::Length, 38.0),
        ("38 MM", Kind::Length, 38.0),
        ("1 1/2 in", Kind::Length, 38.1),
        ("1-1/2\"", Kind::Length, 38.1),
        ("1½\"", Kind::Length, 38.1),
        ("1 ½ in.", Kind::Length, 38.1),
        ("½ in", Kind::Length, 12.7),
        ("3⁄4 in", Kind::Length, 19.05),
        ("13/16\"", Kind::Length, 20.6375),
        ("13/16″", Kind::Length, 20.6375),
        ("0.065 in", Kind::Wall, 1.651),
        (".065 in", Kind::Wall, 1.651),
        ("16 ga", Kind::Wall, 1.651),
        ("18 BWG", Kind::Wall, 1.2446),
        ("3 ft 2 in", Kind::Length, 965.2),
        ("3' 2 1/2\"", Kind::Length, 977.9),
        ("3'-2 1/2\"", Kind::Length, 977.9),
        ("3ft2in", Kind::Length, 965.2),
        ("3 ft .5 in", Kind::Length, 927.1),
        ("3''", Kind::Length, 76.2),
        ("2.4 m", Kind::Length, 2400.0),
        ("12 cm", Kind::Length, 120.0),
        ("12 thou", Kind::Length, 0.3048),
        ("1e3 mm", Kind::Length, 1000.0),
        ("-4 mm", Kind::Length, -4.0),
        ("\u{a0}38\u{202f}mm ", Kind::Length, 38.0),
        ("40 kg", Kind::Mass, 40.0),
        ("90 lb", Kind::Mass, 40.823_313_3),
        ("500 g", Kind::Mass, 0.5),
        ("2 oz", Kind::Mass, 0.056_699_046_25),
        ("2 lb 3 oz", Kind::Mass, 0.992_233_309_375),
        ("200 N", Kind::Force, 200.0),
        ("2 kN", Kind::Force, 2000.0),
        ("45 lbf", Kind::Force, 200.169_972_6),
        ("4 deg", Kind::Angle, 0.069_813_170_1),
        ("4°", Kind::Angle, 0.069_813_170_1),
        ("-4 °", Kind::Angle, -0.069_813_170_1),
        ("30 C", Kind::Temperature, 30.0),
        ("-5 °C", Kind::Temperature, -5.0),
        ("86 F", Kind::Temperature, 30.0),
        ("-4 °F", Kind::Temperature, -20.0),
        ("55 %", Kind::Share, 0.55),
        ("55%", Kind::Share, 0.55),
        ("5 years", Kind::Time, 5.0),
        ("18 months", Kind::Time, 1.5),
        ("3 Hz", Kind::Frequency, 3.0),
        ("1200 rpm", Kind::Frequency, 20.0),
        ("2000 N m/rad", Kind::Turning, 2e6),
        ("2000 Nm/rad", Kind::Turning, 2e6),
        ("2 kN·m/rad", Kind::Turning, 2e6),
        ("235 N/mm²", Kind::Stress, 235.0),
        ("210 GPa", Kind::Stress, 210_000.0),
        ("36 ksi", Kind::Stress, 248.211_262_8),
        ("680 kg/m3", Kind::Density, 680.0),
        ("42 lb/ft³", Kind::Density, 672.775_461_706),
    ];

    /// Text, kind, a part of the message or hint.
    const REFUSED: &[(&str, Kind, &str)] = &[
        ("", Kind::Length, "is empty"),
        ("38", Kind::Length, "\"38 mm\" or \"38 in\""),
        ("1 1/2", Kind::Length, "\"1 1/2 mm\" or \"1 1/2 in\""),
        ("40", Kind::Mass, "\"40 kg\" or \"40 lb\""),
        ("4", Kind::Angle, "\"4 deg\" or \"4 rad\""),
        ("0.55", Kind::Share, "\"55 %\" or \"0.55 %\""),
        ("1,5 in", Kind::Length, "\"1.5 in\""),
        ("0,8 m", Kind::Length, "\"0.8 m\""),
        ("30,5", Kind::Length, "\"30.5 mm\" or \"30.5 in\""),
        ("wide", Kind::Length, "a length looks like"),
        ("38,5 mm", Kind::Length, "\"38.5 mm\""),
        ("1,500 mm", Kind::Length, "\"1.500 mm\" or \"1500 mm\""),
        ("1 500 mm", Kind::Length, "\"1500 mm\""),
        ("38 40 mm", Kind::Length, "two numbers"),
        ("38 mm thick", Kind::Length, "\"mm thick\""),
        ("16 ga", Kind::Length, "only the wall of a tube"),
        ("9 ga", Kind::Wall, "10 ga to 24 ga"),
        ("38 kg", Kind::Length, "is a mass, not a length"),
        ("45 lb", Kind::Force, "\"45 lbf\""),
        ("1/0 in", Kind::Length, "divides by zero"),
        ("1/ in", Kind::Length, "slash"),
        ("1 3/2 in", Kind::Length, "not smaller than 1"),
        ("1e999 mm", Kind::Length, "too large"),
        ("mm", Kind::Length, "is not a length"),
        ("NaN mm", Kind::Length, "is not a length"),
        ("inf mm", Kind::Length, "is not a length"),
        ("2 in 3 ft", Kind::Length, "two quantities"),
        ("3 ft.5 in", Kind::Length, "point"),
        ("3 ft, 2 in", Kind::Length, "comma"),
    ];

    #[test]
    fn inches_are_reduced_fractions() {
        assert_eq!(inch_32(812.8), "32 in");
        assert_eq!(inch_32(25.4 * (31.0 + 29.0 / 32.0)), "31 29/32 in");
        assert_eq!(inch_32(12.7), "1/2 in");
        assert_eq!(inch_32(0.0), "0 in");
        assert_eq!(inch_32(-25.4 * 1.75), "-1 3/4 in");
        assert_eq!(inch_32(-0.1), "0 in");
    }

    #[test]
    fn inches_round_to_the_nearest_thirty_second() {
        let step = INCH / 32.0;
        assert_eq!(inch_32(INCH + 0.49 * step), "1 in");
        assert_eq!(inch_32(INCH + 0.51 * step), "1 1/32 in");
        assert_eq!(inch_32(INCH - 0.49 * step), "1 in");
    }

    #[test]
    fn quantities_are_read_as_people_write_them() {
        for (text, kind, value) in READ {
            let read = read(*kind, text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
            assert_relative_eq!(read.value, value, max_relative = 1e-9);
        }
    }

    #[test]
    fn whole_percents_and_grams_are_read_exactly() {
        for whole in 0..=100_u8 {
            let share = read(Kind::Share, &format!("{whole} %")).map(|read| read.value);
            assert_eq!(share, Ok(f64::from(whole) / 100.0));
        }
    }

    #[test]
    fn what_is_not_clear_is_refused_with_what_to_write() {
        for (text, kind, expected) in REFUSED {
            let error = read(*kind, text).expect_err(text);
            let told = format!("{} {}", error.message, error.told(|_| true).unwrap_or_default());
            assert!(told.contains(expected), "{text}: {told}");
        }
    }

    #[test]
    fn what_may_be_meant_is_read() {
        let texts =
            ["38", "0.4", "1,5", "1,500", "25,4 in", "1 500 mm", "3 ft, 2 in", "wide", "1,2,3", ",5 mm", "5, mm"];
        for (kind, text) in Kind::ALL.into_iter().flat_map(|kind| texts.map(|text| (kind, text))) {
            let meant = read(kind, text).err().map(|unread| unread.meant).unwrap_or_default();
            assert!(meant.iter().all(|meant| read(kind, meant).is_ok()), "{kind:?} {text}: {meant:?}");
        }
        assert!(
            Kind::ALL.iter().all(|kind| kind.example().split('"').skip(1).step_by(2).all(|e| read(*kind, e).is_ok()))
        );
    }

    #[test]
    fn gauges_and_names_are_in_order() {
        assert!(GAUGES.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1));
        for kind in Kind::ALL {
            for name in kind.units().iter().flat_map(|unit| unit.names) {
                assert_eq!(fold(name), *name);
            }
        }
    }

    #[test]
    fn bounds_shown_in_inches_lie_inside_the_range() {
        let range = show_range(Kind::Length, 12.0, 120.0, System::Inch);
        assert_eq!(range, "0.473 in to 4.72 in (12 mm to 120 mm)");
        assert!(read(Kind::Length, "0.473 in").is_ok_and(|low| low.value >= 12.0));
        assert!(read(Kind::Length, "4.72 in").is_ok_and(|high| high.value <= 120.0));
        assert_eq!(show_range(Kind::Share, 0.0, 1.0, System::Inch), "0 % to 100 %");
    }

    fn kinds() -> impl Strategy<Value = Kind> {
        proptest::sample::select(Kind::ALL.to_vec())
    }

    proptest! {
        #[test]
        fn no_text_makes_the_reader_panic(kind in kinds(), text in "\\PC{0,30}") {
            let _ = read(kind, &text);
        }

        #[test]
        fn nearly_right_text_is_read_or_refused(kind in kinds(), text in "[-0-9/ .,½'\"e]{0,9}(mm|in|ft|'|\"|ga|kg|N|°|%| )?[0-9 /.]{0,5}(in|\"|oz)?") {
            if let Ok(read) = read(kind, &text) {
                prop_assert!(read.value.is_finite());
            }
        }

        #[test]
        fn what_is_shown_is_read_back(kind in kinds(), value in -1e6..1e6f64, inches: bool) {
            let system = if inches { System::Inch } else { System::Metric };
            let text = show(kind, value, system);
            let back = read(kind, &text).map_err(|error| TestCaseError::fail(format!("{text}: {error:?}")))?;
            let unit = kind.unit(system);
            let tolerance = 1e-5 * value.abs() + 1e-3 * unit.factor;
            prop_assert!((back.value - value).abs() <= tolerance, "{} -> {} -> {}", value, text, back.value);
        }
    }
}

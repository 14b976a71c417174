//! The units that are read, by what they measure, and the wall gauge.

use std::f64::consts::PI;

use super::{GRAVITY, INCH, LBF, POUND, PSI, System};

/// A unit: value inside = (written + `offset`) * `factor`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unit {
    /// As we write it.
    pub shown: &'static str,
    /// As people write it, folded by [`super::read::fold`].
    pub names: &'static [&'static str],
    pub(super) factor: f64,
    pub(super) offset: f64,
    pub(super) system: System,
}

impl Unit {
    /// A number in the inner unit; hundredths and the like by division, so that 35 % is 0.35 and nothing beside it.
    pub(super) fn inner(&self, number: f64) -> f64 {
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
pub(super) const LENGTHS: &[Unit] = &[
    metric("mm", &["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
    metric("cm", &["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 10.0),
    metric("m", &["m", "metre", "metres", "meter", "meters"], 1000.0),
    inch("in", &["in", "inch", "inches", "\"", "''"], INCH),
    inch("ft", &["ft", "foot", "feet", "'"], 12.0 * INCH),
    inch("thou", &["thou"], 0.001 * INCH),
];

pub(super) const MASSES: &[Unit] = &[
    metric("kg", &["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], 1.0),
    metric("g", &["g", "gram", "grams", "gramme", "grammes"], 0.001),
    metric("t", &["t", "tonne", "tonnes"], 1000.0),
    inch("lb", &["lb", "lbs", "pound", "pounds"], POUND),
    inch("oz", &["oz", "ounce", "ounces"], POUND / 16.0),
];

pub(super) const FORCES: &[Unit] = &[
    metric("N", &["n", "newton", "newtons"], 1.0),
    metric("kN", &["kn", "kilonewton", "kilonewtons"], 1000.0),
    metric("kgf", &["kgf", "kp"], GRAVITY),
    inch("lbf", &["lbf", "poundforce", "poundsforce"], LBF),
];

pub(super) const ANGLES: &[Unit] = &[
    metric("deg", &["deg", "degs", "degree", "degrees", "°", "º"], PI / 180.0),
    metric("rad", &["rad", "radian", "radians"], 1.0),
];

pub(super) const TEMPERATURES: &[Unit] = &[
    metric("C", &["c", "°c", "ºc", "degc", "℃", "celsius", "degreescelsius"], 1.0),
    Unit {
        shown: "F",
        names: &["f", "°f", "ºf", "degf", "℉", "fahrenheit", "degreesfahrenheit"],
        factor: 5.0 / 9.0,
        offset: -32.0,
        system: System::Inch,
    },
];

pub(super) const SHARES: &[Unit] = &[metric("%", &["%", "percent"], 0.01)];

pub(super) const TIMES: &[Unit] = &[
    metric("years", &["years", "year", "yr", "yrs", "y", "a"], 1.0),
    metric("months", &["months", "month", "mo"], 1.0 / 12.0),
    metric("weeks", &["weeks", "week"], 7.0 / 365.25),
    metric("days", &["days", "day", "d"], 1.0 / 365.25),
];

pub(super) const FREQUENCIES: &[Unit] =
    &[metric("Hz", &["hz", "hertz"], 1.0), metric("rpm", &["rpm", "r/min"], 1.0 / 60.0)];

pub(super) const TURNINGS: &[Unit] = &[
    metric("N m/rad", &["nm/rad"], 1000.0),
    metric("N mm/rad", &["nmm/rad"], 1.0),
    metric("kN m/rad", &["knm/rad"], 1e6),
    metric("N m/deg", &["nm/deg", "nm/°"], 1000.0 * 180.0 / PI),
    inch("lbf in/rad", &["lbfin/rad", "inlbf/rad", "inlb/rad", "lbin/rad"], LBF * INCH),
    inch("lbf ft/rad", &["lbfft/rad", "ftlbf/rad", "ftlb/rad", "lbft/rad"], LBF * INCH * 12.0),
];

pub(super) const STRESSES: &[Unit] = &[
    metric("MPa", &["mpa", "n/mm2"], 1.0),
    metric("GPa", &["gpa", "kn/mm2"], 1000.0),
    metric("kPa", &["kpa", "kn/m2"], 0.001),
    inch("psi", &["psi", "lbf/in2", "lb/in2"], PSI),
    inch("ksi", &["ksi"], 1000.0 * PSI),
];

pub(super) const DENSITIES: &[Unit] = &[
    metric("kg/m3", &["kg/m3"], 1.0),
    metric("g/cm3", &["g/cm3", "kg/l", "kg/dm3"], 1000.0),
    inch("lb/ft3", &["lb/ft3", "pcf"], POUND / (0.012 * INCH * 0.012 * INCH * 0.012 * INCH)),
];

/// Names of the wall gauge.
pub(super) const GAUGE_NAMES: &[&str] = &["ga", "gauge", "gage", "bwg", "gabwg"];

/// Birmingham wire gauge as sold for tube walls: number and inches, thickest first.
/// Source: Birmingham wire gauge (Stubs iron wire gauge), from memory.
pub(super) const GAUGES: [(u8, f64); 15] = [
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

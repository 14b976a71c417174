//! Quantities written for the user.

use super::digits::plain;
use super::{INCH, Kind, System, read};

/// Writes a quantity in the unit of a family, rounded to six significant digits.
#[must_use]
pub fn show(kind: Kind, value: f64, system: System) -> String {
    let unit = kind.unit(system);
    format!("{} {}", plain(value / unit.factor - unit.offset), unit.shown)
}

/// Most decimals of a quantity that is written in a unit for the sake of its reader.
const DECIMALS: usize = 3;

/// Writes a quantity so that it is read back to the bit: in a unit of the family where a few decimals or, of an inch,
/// thirty-seconds say it, else in the metric one with as many decimals as it takes.
#[must_use]
pub fn exact(kind: Kind, value: f64, system: System) -> String {
    let same = |text: &String| read(kind, text).is_ok_and(|read| read.value.to_bits() == value.to_bits());
    let written = |system: System, decimals: usize| {
        let unit = kind.unit(system);
        let number = format!("{:.decimals$}", value / unit.factor - unit.offset);
        format!("{number} {}", unit.shown)
    };
    let inches = (kind == Kind::Length || kind == Kind::Wall) && system == System::Inch;
    let few = (0..=DECIMALS).map(|decimals| written(system, decimals));
    let many = (0..=MOST_DECIMALS).map(|decimals| written(System::Metric, decimals));
    let mut all = inches.then(|| inch_32(value)).into_iter().chain(few).chain(many);
    all.find(same).unwrap_or_else(|| written(System::Metric, MOST_DECIMALS))
}

/// Decimals that tell any two numbers apart that a file may have.
const MOST_DECIMALS: usize = 20;

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

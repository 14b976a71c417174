//! Numbers that both the page and `report.json` show, and how they are written for people.

use crate::formats::number::short;
use crate::mechanics::{CaseForces, Solution};
use crate::model::{Action, Case, Model, Purpose};
use crate::output::{Kit, hardware};

/// Significant digits on the page: what a tape, a spring scale and a kitchen scale can follow.
const DIGITS: i32 = 3;

/// A number for people: three significant digits, whole from a thousand on; a dash where there is none.
#[must_use]
pub fn figure(x: f64) -> String {
    if !x.is_finite() {
        return "–".into();
    }
    if x == 0.0 {
        return "0".into();
    }
    let decimals = (DIGITS - 1 - x.abs().log10().floor() as i32).clamp(0, 6) as usize;
    short(x, decimals)
}

/// Two values as `1.2 to 2.3`, or one where they read the same.
#[must_use]
pub fn band(a: f64, b: f64) -> String {
    let (low, high) = (figure(a.min(b)), figure(a.max(b)));
    if low == high { low } else { format!("{low} to {high}") }
}

/// Mass of one of each part, g, in the order of the kit.
#[must_use]
pub fn grams(kit: &Kit) -> Vec<f64> {
    hardware::filament(kit).iter().map(|row| row.grams).collect()
}

/// Values of both estimates for one case: soft first.
#[must_use]
pub fn both(kit: &Kit, case: usize, of: impl Fn(&CaseForces) -> f64) -> Option<[f64; 2]> {
    let value = |s: &Solution| s.cases.get(case).map(&of);
    let soft = kit.forces.solutions.first().and_then(value)?;
    Some([soft, kit.forces.solutions.last().and_then(value).unwrap_or(soft)])
}

/// Index of a case by its name.
#[must_use]
pub fn case(model: &Model, name: &str) -> Option<usize> {
    model.cases.iter().position(|c| c.name == name)
}

/// The case with everything that stays for years; own weight where nothing does.
#[must_use]
pub fn standing(model: &Model) -> Option<usize> {
    case(model, "everything that stays").or_else(|| case(model, "own weight"))
}

/// The cases that are for sway only, with their direction: 0 along x, 1 along y.
#[must_use]
pub fn sways(model: &Model) -> Vec<(usize, usize)> {
    let sway = model.cases.iter().enumerate().filter(|(_, c)| c.purpose == Purpose::Sway);
    let across =
        |c: &Case| c.actions.iter().any(|a| matches!(a, Action::Push { force: [x, y, _], .. } if y.abs() > x.abs()));
    sway.map(|(i, c)| (i, usize::from(across(c)))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_three_digits_that_count() {
        let written = [0.0, 1234.56, 123.456, 12.3456, 1.0, 0.012_345, -2.5, f64::NAN].map(figure);
        assert_eq!(written, ["0", "1235", "123", "12.3", "1", "0.0123", "-2.5", "–"]);
        assert_eq!((band(2.0, 1.0), band(1.0, 1.0001)), ("1 to 2".into(), "1".into()));
    }
}

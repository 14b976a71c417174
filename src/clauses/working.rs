//! Working shown in reports: formula, numbers put in, result.

/// One line of working: `formula = numbers = result unit`.
#[must_use]
pub fn step(formula: &str, numbers: &str, result: f64, unit: &str) -> String {
    format!("{formula} = {numbers} = {} {unit}", figures(result)).trim_end().to_owned()
}

/// Four significant figures without an exponent: enough to follow the working by hand.
#[must_use]
pub fn figures(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let magnitude = value.abs().log10().floor() as i32;
    let digits = usize::try_from((3 - magnitude).max(0)).unwrap_or(0);
    format!("{value:.digits$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_figures_whatever_the_size() {
        assert_eq!(figures(0.012_345), "0.01235");
        assert_eq!(figures(12_345.6), "12346");
        assert_eq!(figures(0.0), "0");
    }

    #[test]
    fn a_step_reads_from_formula_to_result() {
        assert_eq!(step("F = V/n", "16000/4", 4000.0, "N"), "F = V/n = 16000/4 = 4000 N");
    }
}

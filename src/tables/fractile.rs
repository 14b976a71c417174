//! Characteristic values: what 95 of 100 pieces reach, from the mean and the scatter of few trials.

use crate::source::{Clause, Source};

/// Clause of [`k_n`].
pub const SMALL_SAMPLE: Clause = Source::from_memory("EN 1990", "2002, Annex D")
    .at("Table D.1, 5 % value, coefficient of variation found from the trials themselves");
/// Clause of [`lognormal`].
pub const LOGNORMAL: Clause = Source::from_memory("EN 1990", "2002, Annex D")
    .at("D.7.2 (5), lognormal: X_k = mean / sqrt(1 + V^2) exp(-k_n sqrt(ln(1 + V^2)))");
/// Clause of [`normal`].
pub const NORMAL: Clause =
    Source::from_memory("EN 1990", "2002, Annex D").at("D.7.2 (5), normal: X_k = mean (1 - k_n V)");

/// Numbers of trials and their factor. [`SMALL_SAMPLE`].
const FACTORS: &[(u32, f64)] =
    &[(3, 3.37), (4, 2.63), (5, 2.33), (6, 2.18), (8, 2.00), (10, 1.92), (20, 1.76), (30, 1.73)];
/// Factor of endlessly many trials.
const ENDLESS: f64 = 1.64;

/// Factor on the scatter of `n` trials; between the lines straight in 1/n; none below three trials. [`SMALL_SAMPLE`].
#[must_use]
pub fn k_n(n: u32) -> Option<f64> {
    let (least, most) = (FACTORS[0].0, FACTORS[FACTORS.len() - 1]);
    if n < least {
        return None;
    }
    if n >= most.0 {
        return Some(ENDLESS + (most.1 - ENDLESS) * f64::from(most.0) / f64::from(n));
    }
    let above = FACTORS.iter().position(|(many, _)| *many > n)?;
    let ((a, at_a), (b, at_b)) = (FACTORS[above - 1], FACTORS[above]);
    let inverse = |n: u32| 1.0 / f64::from(n);
    Some(at_b + (at_a - at_b) * (inverse(n) - inverse(b)) / (inverse(a) - inverse(b)))
}

/// 5 % value of `n` trials whose logarithms scatter evenly; none below three trials. [`LOGNORMAL`].
#[must_use]
pub fn lognormal(mean: f64, cov: f64, n: u32) -> Option<f64> {
    let spread = cov.mul_add(cov, 1.0);
    Some(mean / spread.sqrt() * (-k_n(n)? * spread.ln().sqrt()).exp())
}

/// 5 % value of `n` trials that scatter evenly, not below zero; none below three trials. [`NORMAL`].
#[must_use]
pub fn normal(mean: f64, cov: f64, n: u32) -> Option<f64> {
    Some((mean * (1.0 - k_n(n)? * cov)).max(0.0))
}

/// Mean and coefficient of variation of trials; none below two, or where the mean is nothing.
#[must_use]
pub fn summary(trials: &[f64]) -> Option<(f64, f64)> {
    let n = trials.len() as f64;
    let mean = trials.iter().sum::<f64>() / n;
    if trials.len() < 2 || mean <= 0.0 {
        return None;
    }
    let squares: f64 = trials.iter().map(|x| (x - mean).powi(2)).sum();
    Some((mean, (squares / (n - 1.0)).sqrt() / mean))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_the_tables_and_fall_with_the_number_of_trials() {
        for (n, k) in FACTORS {
            assert!((k_n(*n).unwrap() - k).abs() < 1e-12, "{n}");
        }
        let falls = (4..500).all(|n| k_n(n) < k_n(n - 1));
        assert!(falls && k_n(2).is_none() && k_n(1_000_000).unwrap() - ENDLESS < 1e-4);
    }

    /// 432 trials of prints on home machines (github.com/joshcarter/tensile_test, BSD-3-Clause, commit 0ac91a4): mean,
    /// scatter, number, and the lognormal 5 % value worked out apart from this program, which takes 1.645 for every
    /// number of trials. The factor for few trials may only lower it: by up to 6 % from 20 trials on.
    #[test]
    fn fractiles_of_the_trials_are_found_again() {
        for (what, mean, cov, n, five) in [
            ("PETG in the layers", 49.0, 0.118, 75, 40.1),
            ("PETG across", 18.0, 0.393, 57, 9.0),
            ("PLA in the layers", 49.3, 0.298, 24, 29.3),
            ("PLA across", 18.1, 0.396, 25, 9.0),
            ("PLA Pro in the layers", 47.5, 0.176, 20, 35.1),
        ] {
            let plain = lognormal(mean, cov, u32::MAX).unwrap();
            assert!((plain / five - 1.0).abs() < 0.01, "{what}: {plain}");
            let own = lognormal(mean, cov, n).unwrap();
            assert!(own < plain && own > 0.94 * plain, "{what}: {own}");
        }
        // The plain 5 % of PETG across: 18.0 (1 - 1.69 x 0.393), lower than by any other fit.
        assert!((normal(18.0, 0.393, 57).unwrap() - 6.0).abs() < 0.1);
    }

    #[test]
    fn scatter_without_bound_gives_nothing_not_less() {
        assert_eq!(normal(15.1, 0.53, 5), Some(0.0));
        let (mean, cov) = summary(&[20.0, 22.0, 24.0]).unwrap();
        assert!((mean - 22.0).abs() < 1e-12 && (cov - 2.0 / 22.0).abs() < 1e-12);
        assert_eq!(summary(&[20.0]), None);
    }
}

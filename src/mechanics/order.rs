//! Which of two figures is the larger, so that of equal ones the first governs on every machine.

/// Figures nearer than this, relative, are equal: far above the rounding of a solved frame, far below what anyone would
/// build or buy differently for. Legs of a symmetric table differ by rounding only.
const EQUAL: f64 = 1e-6;

/// Whether `a` is larger than `b` by more than rounding.
#[must_use]
pub fn exceeds(a: f64, b: f64) -> bool {
    a > b + EQUAL * b.abs()
}

/// Whether figures of one sort differ by rounding only, measured by the largest of them.
#[must_use]
pub(super) fn alike(a: &[f64], b: &[f64]) -> bool {
    let size = a.iter().chain(b).fold(0.0_f64, |size, v| size.max(v.abs()));
    a.iter().zip(b).all(|(a, b)| (a - b).abs() <= EQUAL * size)
}

/// A step on the scale of sizes: figures that differ by rounding mostly stand on the same one. For sorting, where
/// [`exceeds`] would not do, since nearness is not handed on.
#[must_use]
pub(super) fn rank(size: f64) -> i64 {
    if size > 0.0 { (size.ln() / EQUAL).round() as i64 } else { i64::MIN }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_does_not_exceed() {
        assert!(exceeds(1.001, 1.0) && exceeds(1.0, 0.0) && exceeds(-1.0, -1.001) && exceeds(f64::INFINITY, 1.0));
        assert!(!exceeds(1.0 + 1e-9, 1.0) && !exceeds(1.0, 1.0) && !exceeds(0.999, 1.0) && !exceeds(-1.0, -1.0 - 1e-9));
        assert!(!exceeds(f64::INFINITY, f64::INFINITY));
    }

    #[test]
    fn figures_of_one_sort_are_measured_by_the_largest() {
        assert!(alike(&[1e4, 0.0], &[1e4 + 1e-3, 1e-3]) && alike(&[0.0], &[0.0]));
        assert!(!alike(&[1.0, 0.0], &[1.0, 1e-3]) && !alike(&[1e-3, 0.0], &[0.0, 1e-3]));
    }

    #[test]
    fn ranks_rise_with_the_size() {
        assert!(rank(0.0) < rank(1e-9) && rank(1.0) < rank(1.00001) && rank(2.0) == rank(2.0 + 1e-13));
    }
}

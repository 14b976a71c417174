//! Numbers as text: one way of rounding for every file that is written.

/// `x` with a fixed count of decimals; a zero never carries a minus sign.
#[must_use]
pub fn num(x: f64, digits: usize) -> String {
    let text = format!("{x:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// As [`num`], without trailing zeros: for files where size matters.
#[must_use]
pub fn short(x: f64, digits: usize) -> String {
    let text = num(x, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(num(-0.0, 0), "0");
        assert_eq!(num(-0.004, 2), "0.00");
        assert_eq!(num(-0.005_1, 2), "-0.01");
        assert_eq!(num(12.345_6, 1), "12.3");
    }

    #[test]
    fn short_drops_only_zeros_after_the_point() {
        assert_eq!(short(100.0, 0), "100");
        assert_eq!(short(100.0, 3), "100");
        assert_eq!(short(-0.000_1, 3), "0");
        assert_eq!(short(1.250, 3), "1.25");
    }
}

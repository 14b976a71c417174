//! Numbers as text: one way of rounding for every file that is written.

/// Millimetres in one inch, exact by definition.
pub const INCH: f64 = 25.4;

/// Divisions of an inch on a common tape.
const INCH_PARTS: i64 = 32;

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
}

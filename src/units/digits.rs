//! Numbers as people write them, with fractions, and as we write them.

use super::Unread;

/// The longest decimal number at the start.
pub(super) fn decimal(text: &str) -> (Option<f64>, &str) {
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
pub(super) fn fraction(text: &str) -> Result<Option<(f64, &str)>, Unread> {
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
pub(super) fn over(top: f64, text: &str) -> Result<Option<(f64, &str)>, Unread> {
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
pub(super) const GLYPHS: [(char, f64); 13] = [
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

pub(super) fn glyph(c: char) -> Option<f64> {
    GLYPHS.iter().find(|(sign, _)| *sign == c).map(|(_, value)| *value)
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

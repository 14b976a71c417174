//! Text as the papers set it: Helvetica in WinAnsi, one of the fonts every PDF reader has.
//!
//! Heights are capital heights in mm, as on a drawing; the font size follows from them.

/// Capital height over font size of Helvetica. Source: Adobe Core 14 font metrics, Helvetica, `CapHeight 718`.
const CAPITAL: f64 = 0.718;

/// Advance widths of the WinAnsi characters from 0x20 on, thousandths of the font size.
/// Source: Adobe Core 14 font metrics, Helvetica, `WX` by glyph name, in the order of ISO 32000-1 annex D
/// (WinAnsi; order from memory).
#[rustfmt::skip]
const WIDTHS: [u16; 224] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, 350,
    556, 350, 222, 556, 333, 1000, 556, 556, 333, 1000, 667, 333, 1000, 350, 611, 350,
    350, 222, 222, 333, 333, 350, 556, 1000, 333, 1000, 500, 333, 944, 350, 500, 667,
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 333,
    400, 584, 333, 333, 333, 556, 537, 278, 333, 333, 365, 556, 834, 834, 834, 611,
    667, 667, 667, 667, 667, 667, 1000, 722, 667, 667, 667, 667, 278, 278, 278, 278,
    722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667, 611,
    556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556, 500,
];

/// Characters of WinAnsi between 0x80 and 0x9F; a space where the code is unused (ISO 32000-1 annex D, from memory).
const MIDDLE: &str = "€ ‚ƒ„…†‡ˆ‰Š‹Œ Ž  ‘’“”•–—˜™š›œ žŸ";

/// Characters outside WinAnsi that have a plain way of being written.
const PLAIN: [(char, &str); 6] = [('−', "-"), ('⌀', "Ø"), ('≤', "<="), ('≥', ">="), ('′', "'"), ('″', "\"")];

/// Font size, mm, for a capital height, mm.
#[must_use]
pub fn size(height: f64) -> f64 {
    height / CAPITAL
}

/// The bytes of `text` in WinAnsi; what cannot be written becomes `?`.
#[must_use]
pub fn win_ansi(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len());
    for c in text.chars() {
        match PLAIN.iter().find(|(from, _)| *from == c) {
            Some((_, to)) => bytes.extend(to.chars().map(byte)),
            None => bytes.push(byte(c)),
        }
    }
    bytes
}

/// Width of `text`, mm, set at capital height `height`, mm.
#[must_use]
pub fn width(text: &str, height: f64) -> f64 {
    let thousandths: u32 = win_ansi(text).iter().map(|&b| u32::from(WIDTHS[usize::from(b.max(32)) - 32])).sum();
    f64::from(thousandths) / 1000.0 * size(height)
}

/// The capital height, mm, not above `height`, at which `text` is no wider than `room`, mm.
#[must_use]
pub fn fitted(text: &str, height: f64, room: f64) -> f64 {
    height * (room / width(text, height).max(f64::MIN_POSITIVE)).min(1.0)
}

/// `text` broken at spaces into lines no wider than `room`, mm; a single word may stick out.
#[must_use]
pub fn wrap(text: &str, height: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), height) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// `text` with the characters that XML and PDF cannot carry turned into spaces.
#[must_use]
pub fn clean(text: &str) -> String {
    let bad = |c: char| c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}');
    text.chars().map(|c| if bad(c) { ' ' } else { c }).collect()
}

/// The WinAnsi code of one character.
fn byte(c: char) -> u8 {
    match u32::from(c) {
        code @ (0x20..=0x7E | 0xA0..=0xFF) => code as u8,
        _ => MIDDLE.chars().position(|m| m == c).map_or(b'?', |at| 0x80 + at as u8),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_of_the_trade_have_their_codes() {
        assert_eq!(win_ansi("±°Ø·×"), [0xB1, 0xB0, 0xD8, 0xB7, 0xD7]);
        assert_eq!(win_ansi("€–Ÿ"), [0x80, 0x96, 0x9F]);
        assert_eq!(win_ansi("⌀4 ≤ 5−1"), b"\xD84 <= 5-1");
        assert_eq!(win_ansi("漢"), b"?");
    }

    #[test]
    fn the_middle_of_the_code_page_is_complete() {
        assert_eq!(MIDDLE.chars().count(), 32);
    }

    /// Adobe Core 14 metrics: H 722, e 556, l 222, l 222, o 556 = 2278 thousandths.
    #[test]
    fn width_is_the_sum_of_advances() {
        assert!((width("Hello", 0.718) - 2.278).abs() < 1e-9);
        assert!((width("é±", 7.18) - 11.4).abs() < 1e-9, "eacute 556 + plusminus 584 = 1140");
    }

    #[test]
    fn wrapped_lines_fit_and_lose_nothing() {
        let text = "measured from the front left corner of the underside, show face down";
        let lines = wrap(text, 2.5, 40.0);
        assert!(lines.len() > 2 && lines.iter().all(|l| width(l, 2.5) <= 40.0));
        assert_eq!(lines.join(" "), text);
        assert!((width(text, fitted(text, 2.5, 40.0)) - 40.0).abs() < 1e-9);
        assert_eq!(fitted("x", 2.5, 40.0), 2.5);
    }
}

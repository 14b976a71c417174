//! Regular expressions for what is read as a quantity, for the schema.

use super::Kind;
use super::digits::GLYPHS;
use super::table::GAUGE_NAMES;

/// A regular expression (ECMA 262) for everything [`super::read()`] takes as this kind.
#[must_use]
pub fn pattern(kind: Kind) -> String {
    let number = number_pattern();
    let unit = unit_pattern(kind);
    let sign = "[-+\u{2212}]?\\s*";
    if kind.is_compound() {
        return format!("^\\s*{sign}{number}{unit}(\\s*-?\\s*{number}{unit})*\\s*$");
    }
    format!("^\\s*{sign}{number}{unit}\\s*$")
}

pub(crate) fn number_pattern() -> String {
    let signs: String = GLYPHS.iter().map(|(sign, _)| *sign).collect();
    let simple = "\\d+\\s*[/\u{2044}\u{2215}]\\s*\\d+";
    format!("((\\d+\\s*-?\\s*)?[{signs}]|(\\d+(\\s+|\\s*-\\s*))?{simple}|(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d+)?)")
}

/// Marks that [`super::read::fold`] leaves out.
const LOOSE: &str = "[-\\s.·⋅*^]*";

pub(crate) fn unit_pattern(kind: Kind) -> String {
    let mut names: Vec<_> = kind.units().iter().flat_map(|unit| unit.names).copied().collect();
    if kind == Kind::Wall {
        names.extend(GAUGE_NAMES);
    }
    let names: Vec<_> = names.iter().map(|name| name_pattern(name)).collect();
    format!("{LOOSE}({}){LOOSE}", names.join("|"))
}

fn name_pattern(name: &str) -> String {
    let letters: Vec<_> = name.chars().map(char_pattern).collect();
    letters.join(LOOSE)
}

/// Either case of a letter, any spelling of a mark.
fn char_pattern(c: char) -> String {
    match c {
        '"' => "[\"″”“]".into(),
        '\'' => "['′’‘]".into(),
        '2' => "[2²]".into(),
        '3' => "[3³]".into(),
        '/' | '%' | '1' => c.to_string(),
        'k' => "[kK\u{212a}]".into(),
        _ if c.is_alphabetic() && c.is_ascii() => format!("[{c}{}]", c.to_ascii_uppercase()),
        _ => c.to_string(),
    }
}

//! Drawings as DXF release 12 in mm: one layer for each pen, one for text, one for ink. No dates, no handles.
//!
//! A file is lines in pairs, a group code and its value; a record begins with code 0. Source: DXF reference, group codes of
//! release 12, from memory; `tests/outside/papers.py` has the files read by a program of others.
//! Release 12 has no unit of its own; a comment at the start says that the numbers are millimetres.
//! Pale areas are left out: they are for the eye, and a cutter would take them for work.

use super::drawing::{Anchor, Drawing, Item, Pen, Point, Shade};

/// Layer of all words.
const TEXT_LAYER: &str = "TEXT";
/// Layer of filled arrow heads.
const INK_LAYER: &str = "INK";
/// The line type every reader knows.
const CONTINUOUS: &str = "CONTINUOUS";
/// Colours by number, as readers show them: black on white, or white on black.
const LINES: i64 = 7;
/// Green.
const WORDS: i64 = 3;
/// Grey.
const INK: i64 = 8;
/// Text styles, both of the font every reader knows.
const STYLES: [&str; 2] = ["ANNOTATIVE", "STANDARD"];
/// Decimals of the few numbers that come from sums, mm.
const GRID: f64 = 1e6;

/// The file's bytes.
#[must_use]
pub fn write(drawing: &Drawing) -> Vec<u8> {
    let mut file = File::default();
    file.text(999, "millimetres, y up");
    file.section("HEADER", |file| {
        file.text(9, "$ACADVER");
        file.text(1, "AC1009");
        file.text(9, "$EXTMIN");
        file.point(0, [0.0, 0.0]);
        file.text(9, "$EXTMAX");
        file.point(0, [drawing.width, drawing.height]);
    });
    file.section("TABLES", |file| {
        file.table("LTYPE", line_types);
        file.table("LAYER", layers);
        file.table("STYLE", |file| STYLES.iter().for_each(|name| file.style(name)));
    });
    file.section("ENTITIES", |file| drawing.items.iter().for_each(|item| file.item(item)));
    file.text(0, "EOF");
    file.0.into_bytes()
}

fn line_types(file: &mut File) {
    file.line_type(CONTINUOUS, &[]);
    for pen in Pen::ALL.iter().filter(|pen| !pen.dashes().is_empty()) {
        file.line_type(pen.name(), pen.dashes());
    }
}

fn layers(file: &mut File) {
    file.layer("0", LINES, CONTINUOUS);
    for pen in Pen::ALL {
        file.layer(pen.name(), LINES, if pen.dashes().is_empty() { CONTINUOUS } else { pen.name() });
    }
    file.layer(TEXT_LAYER, WORDS, CONTINUOUS);
    file.layer(INK_LAYER, INK, CONTINUOUS);
}

/// The text written so far.
#[derive(Default)]
struct File(String);

impl File {
    fn text(&mut self, code: u16, value: &str) {
        self.0.push_str(&format!("{code:>3}\r\n{value}\r\n"));
    }

    fn whole(&mut self, code: u16, value: i64) {
        self.text(code, &format!("{value:>6}"));
    }

    fn number(&mut self, code: u16, value: f64) {
        let digits = tidy(value).to_string();
        let point = if digits.contains('.') { "" } else { ".0" };
        self.text(code, &format!("{digits}{point}"));
    }

    /// The `n`th point of a record.
    fn point(&mut self, n: u16, [x, y]: Point) {
        for (code, value) in [(10, x), (20, y), (30, 0.0)] {
            self.number(code + n, value);
        }
    }

    fn section(&mut self, name: &str, inside: impl FnOnce(&mut Self)) {
        self.text(0, "SECTION");
        self.text(2, name);
        inside(self);
        self.text(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, inside: impl FnOnce(&mut Self)) {
        self.text(0, "TABLE");
        self.text(2, name);
        self.whole(70, 0);
        inside(self);
        self.text(0, "ENDTAB");
    }

    /// Begins an entry of a table.
    fn entry(&mut self, table: &str, name: &str) {
        self.text(0, table);
        self.text(2, name);
        self.whole(70, 0);
    }

    /// Dashes, mm; gaps are negative lengths.
    fn line_type(&mut self, name: &str, dashes: &[f64]) {
        self.entry("LTYPE", name);
        self.text(3, "");
        self.whole(72, 65);
        self.whole(73, dashes.len() as i64);
        self.number(40, dashes.iter().sum());
        for (i, dash) in dashes.iter().enumerate() {
            self.number(49, if i % 2 == 0 { *dash } else { -*dash });
        }
    }

    fn layer(&mut self, name: &str, colour: i64, line_type: &str) {
        self.entry("LAYER", name);
        self.whole(62, colour);
        self.text(6, line_type);
    }

    fn style(&mut self, name: &str) {
        self.entry("STYLE", name);
        for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
            self.number(code, value);
        }
        self.whole(71, 0);
        self.number(42, 0.2);
        self.text(3, "txt");
        self.text(4, "");
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { points, closed, pen } => self.line(points, *closed, pen.name()),
            Item::Circle { centre, radius, pen } => {
                self.entity("CIRCLE", pen.name());
                self.point(0, *centre);
                self.number(40, *radius);
            }
            Item::Text { at, text, height, anchor, angle } => self.words(*at, text, *height, *anchor, *angle),
            Item::Fill { rings, shade: Shade::Black } => match &rings[..] {
                [ring] if ring.len() == 3 || ring.len() == 4 => self.solid(ring),
                _ => {}
            },
            Item::Fill { .. } => {}
        }
    }

    fn entity(&mut self, name: &str, layer: &str) {
        self.text(0, name);
        self.text(8, layer);
    }

    fn line(&mut self, points: &[Point], closed: bool, layer: &str) {
        if let ([a, b], false) = (points, closed) {
            self.entity("LINE", layer);
            self.point(0, *a);
            self.point(1, *b);
            return;
        }
        self.entity("POLYLINE", layer);
        self.whole(66, 1);
        self.point(0, [0.0, 0.0]);
        if closed {
            self.whole(70, 1);
        }
        for p in points {
            self.entity("VERTEX", layer);
            self.point(0, *p);
            self.whole(70, 0);
            self.number(50, 0.0);
        }
        self.text(0, "SEQEND");
    }

    fn words(&mut self, at: Point, text: &str, height: f64, anchor: Anchor, angle: f64) {
        self.entity("TEXT", TEXT_LAYER);
        self.point(0, at);
        self.number(40, height);
        self.text(1, &signs(text));
        if tidy(angle.to_degrees()) != 0.0 {
            self.number(50, angle.to_degrees());
        }
        match anchor {
            Anchor::Left => {}
            Anchor::Middle => self.whole(72, 1),
            Anchor::Right => self.whole(72, 2),
        }
        self.point(1, at);
    }

    /// A filled triangle or quadrangle; the format wants its last two corners exchanged.
    fn solid(&mut self, ring: &[Point]) {
        self.entity("SOLID", INK_LAYER);
        let last = ring.get(3).unwrap_or(&ring[2]);
        for (n, p) in (0..).zip([ring[0], ring[1], *last, ring[2]]) {
            self.point(n, p);
        }
    }
}

/// Release 12 writes three signs as two percent signs and a letter, has no sign for "times", takes a caret for the begin of a
/// control character, and writes what is not ASCII by its UTF-16 numbers.
fn signs(text: &str) -> String {
    let text = text.replace('±', "%%p").replace('°', "%%d").replace(['Ø', '⌀'], "%%c").replace('×', "x");
    let number = |unit: u16| if unit < 0x80 { char::from(unit as u8).to_string() } else { format!("\\U+{unit:04X}") };
    text.replace('^', "^ ").encode_utf16().map(number).collect()
}

/// Rounded to a nanometre, without a negative zero.
fn tidy(x: f64) -> f64 {
    (x * GRID).round() / GRID + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Drawing {
        let mut d = Drawing::new("Plate", 200.0, 150.0);
        d.circle([40.0, 30.0], 2.25, Pen::Thick);
        d.line([10.0, 10.0], [110.0, 10.0], Pen::Thin);
        d.outline(vec![[0.0, 0.0], [50.0, 0.0], [50.0, 20.0]], Pen::Dashed);
        d.text([100.0, 100.0], 3.0, Anchor::Middle, "Ø4.5 × 24 ± 0.1");
        d.dimension([10.0, 10.0], [110.0, 10.0], 12.0, "100");
        d.fill_rectangle([0.0, 0.0], [5.0, 5.0], Shade::Pale);
        d
    }

    /// Name, layer, values by code.
    type Record = (String, String, Vec<(u16, String)>);

    /// The file read again.
    fn read_back() -> Vec<Record> {
        let text = String::from_utf8(write(&sample())).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let pairs: Vec<(u16, String)> =
            lines.chunks(2).map(|p| (p[0].trim().parse().unwrap(), p[1].trim().to_owned())).collect();
        let value = |record: &[(u16, String)], code| record.iter().find(|p| p.0 == code).map(|p| p.1.clone());
        let records = pairs.chunk_by(|_, next| next.0 != 0);
        records.map(|r| (r[0].1.clone(), value(r, 8).unwrap_or_default(), r[1..].to_vec())).collect()
    }

    fn numbers(values: &[(u16, String)], codes: &[u16]) -> Vec<f64> {
        let one = |code: &u16| values.iter().find(|p| p.0 == *code).map_or(f64::NAN, |p| p.1.parse().unwrap());
        codes.iter().map(one).collect()
    }

    #[test]
    fn everything_comes_back_where_it_was() {
        let all = read_back();
        let of = |name: &str| all.iter().filter(|r| r.0 == name).collect::<Vec<_>>();
        assert_eq!((of("SECTION").len(), of("ENDSEC").len(), of("EOF").len()), (3, 3, 1));
        let circles = of("CIRCLE");
        assert_eq!((circles.len(), circles[0].1.as_str()), (1, "THICK"));
        assert_eq!(numbers(&circles[0].2, &[10, 20, 40]), [40.0, 30.0, 2.25]);
        let long = |r: &&&Record| {
            let ends = numbers(&r.2, &[10, 11]);
            ends[1] - ends[0] == 100.0
        };
        assert_eq!(of("LINE").iter().filter(long).count(), 2, "the line and its dimension line");
        assert_eq!(numbers(&of("POLYLINE")[0].2, &[66, 70]), [1.0, 1.0]);
        assert_eq!(of("VERTEX").iter().filter(|r| r.1 == "DASHED").count(), 3);
        let solids = of("SOLID");
        assert_eq!(solids.iter().filter(|r| r.1 == INK_LAYER).count(), 2, "two arrow heads, no pale area");
        assert_eq!(numbers(&solids[0].2, &[12, 22]), numbers(&solids[0].2, &[13, 23]), "three corners");
    }

    #[test]
    fn numbers_have_a_point_and_no_exponent() {
        let mut file = File::default();
        for x in [1e-6, -1e-9, 3.0, 1234567.25] {
            file.number(40, x);
        }
        let values: Vec<&str> = file.0.lines().skip(1).step_by(2).collect();
        assert_eq!(values, ["0.000001", "0.0", "3.0", "1234567.25"]);
    }

    #[test]
    fn words_that_are_not_ascii_stay_readable() {
        assert_eq!(signs("bén^ch"), "b\\U+00E9n^ ch");
    }

    #[test]
    fn signs_are_written_the_old_way() {
        let text = String::from_utf8(write(&sample())).unwrap();
        assert!(text.contains("%%c4.5 x 24 %%p 0.1") && text.is_ascii());
    }

    #[test]
    fn release_twelve_without_times_or_handles() {
        let text = String::from_utf8(write(&sample())).unwrap();
        assert!(text.contains("AC1009"));
        for word in ["$TD", "GUID", "$HANDSEED", "AcDb", "VPORT", "BYLAYER", "\r\n  5\r\n"] {
            assert!(!text.contains(word), "{word}");
        }
        assert_eq!(text.as_bytes(), write(&sample()));
    }
}

//! A drawing of any size on sheets of paper: tiles that overlap, marks to join them by, bars to check the scale with.

use crate::formats::drawing::{Anchor, Drawing, Item, Pen, Point, Shade, corners};
use crate::formats::font;
use crate::formats::pdf::{Page, Paper, Window};
use crate::units::INCH;

/// Edge that a printer may leave blank, mm: judgement.
const MARGIN: f64 = 10.0;
/// Width of the strip at the left that holds the upright bars, mm: two bars with a line of text each.
const STRIP: f64 = 16.0;
/// Height of the foot that holds words, bars and the map, mm: room for 3.5 mm title, sheet, three lines, two bars.
const FOOT: f64 = 40.0;
/// What two neighbouring sheets both show, mm: common practice, no source.
pub const OVERLAP: f64 = 10.0;
/// Reach of a mark's arms, mm: inside the overlap on both sheets.
const REACH: f64 = 4.0;
/// Where marks stand along a seam, share of a window: far enough from the corners, which have their own.
const ALONG: [f64; 2] = [0.2, 0.8];
/// The map of sheets fits into this, mm.
const MAP: [f64; 2] = [36.0, 38.0];
/// Things smaller than this are left out of the map, mm on the map: below the width of its lines.
const MAP_DETAIL: f64 = 0.4;
/// Capital heights of title, sheet number and notes, mm: judgement, read at arm's length.
const CAPITALS: [f64; 3] = [3.5, 2.5, 2.0];
/// Lines of notes in the foot.
const NOTE_LINES: usize = 3;
/// The words beside each bar of 100 mm; half a millimetre is what a steel rule shows.
const BAR_WORDS: [&str; 3] = ["100 mm", "if not 100.0 ± 0.5 mm", "do not use"];
/// How sheets are joined, printed where there is more than one.
const JOIN_WORDS: &str = "Join the sheets with marks of the same number on each other.";

/// What the caller has printed on every sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes {
    /// How to lay the sheet: which way is front, which face is up.
    pub orientation: String,
    /// A warning that goes before it, such as that something is not adequate; empty for none.
    pub warning: String,
    /// The scale of what is drawn, such as `scale 1 : 10`; empty for true size.
    pub scale: String,
}

/// How a drawing is divided.
#[derive(Clone, Debug, PartialEq)]
struct Tiling {
    /// Width and height of the sheet as it lies, mm.
    page: [f64; 2],
    /// Width and height of the window, mm.
    window: [f64; 2],
    /// Sheets across and down.
    count: [usize; 2],
    /// Lower left corner of all windows together, in drawing coordinates.
    low: Point,
}

/// One sheet of a set: the drawing, its division, and which of them it is.
struct Sheet<'a> {
    drawing: &'a Drawing,
    notes: &'a Notes,
    tiling: &'a Tiling,
    /// Column from the left and row from the top.
    tile: [usize; 2],
    /// Number of the sheet from 1, and of all.
    number: [usize; 2],
}

/// The sheets of several drawings, numbered through.
#[must_use]
pub fn set(drawings: &[(&Drawing, &Notes)], paper: Paper) -> Vec<Page> {
    let tilings: Vec<Tiling> = drawings.iter().map(|(d, _)| Tiling::of(d, paper)).collect();
    let total = tilings.iter().map(|t| t.count[0] * t.count[1]).sum();
    let mut pages = Vec::with_capacity(total);
    for (&(drawing, notes), tiling) in drawings.iter().zip(&tilings) {
        for tile in tiling.tiles() {
            let number = [pages.len() + 1, total];
            pages.push(Sheet { drawing, notes, tiling, tile, number }.page());
        }
    }
    pages
}

impl Tiling {
    /// Upright, unless lying sheets need fewer.
    fn of(drawing: &Drawing, paper: Paper) -> Self {
        let [short, long] = paper.size();
        let (upright, lying) = (Self::on([short, long], drawing), Self::on([long, short], drawing));
        if lying.count[0] * lying.count[1] < upright.count[0] * upright.count[1] { lying } else { upright }
    }

    fn on(page: [f64; 2], drawing: &Drawing) -> Self {
        let window = [page[0] - 2.0 * MARGIN - STRIP, page[1] - 2.0 * MARGIN - FOOT];
        let size = [drawing.width, drawing.height];
        let count = [0, 1].map(|i| needed(size[i], window[i]));
        let low = [0, 1].map(|i| (size[i] - OVERLAP - count[i] as f64 * (window[i] - OVERLAP)) / 2.0);
        Self { page, window, count, low }
    }

    /// All tiles in reading order.
    fn tiles(&self) -> Vec<[usize; 2]> {
        (0..self.count[1]).flat_map(|row| (0..self.count[0]).map(move |column| [column, row])).collect()
    }

    /// Distance from one window to the next, mm.
    fn pitch(&self) -> [f64; 2] {
        self.window.map(|w| w - OVERLAP)
    }

    /// Lower left corner of a tile's window, in drawing coordinates.
    fn corner(&self, [column, row]: [usize; 2]) -> Point {
        let up = self.count[1] - 1 - row;
        [self.low[0] + column as f64 * self.pitch()[0], self.low[1] + up as f64 * self.pitch()[1]]
    }

    /// Middles of the overlaps along one axis (0: x, 1: y), in drawing coordinates.
    fn seams(&self, axis: usize) -> Vec<f64> {
        let middle = |k: usize| self.low[axis] + k as f64 * self.pitch()[axis] + OVERLAP / 2.0;
        (1..self.count[axis]).map(middle).collect()
    }

    /// Where the marks stand along one axis apart from the seams, in drawing coordinates.
    fn stations(&self, axis: usize) -> Vec<f64> {
        let start = |k: usize| self.low[axis] + k as f64 * self.pitch()[axis];
        (0..self.count[axis]).flat_map(|k| ALONG.map(|share| start(k) + share * self.window[axis])).collect()
    }

    /// All marks, in drawing coordinates; the order gives their numbers.
    fn marks(&self) -> Vec<Point> {
        let (xs, ys) = (self.seams(0), self.seams(1));
        let cross =
            |a: &[f64], b: &[f64]| -> Vec<Point> { b.iter().flat_map(|&y| a.iter().map(move |&x| [x, y])).collect() };
        [cross(&xs, &ys), cross(&xs, &self.stations(1)), cross(&self.stations(0), &ys)].concat()
    }
}

impl Sheet<'_> {
    fn page(&self) -> Page {
        let on_page = [MARGIN + STRIP, MARGIN + FOOT];
        let corner = self.tiling.corner(self.tile);
        let window = self.tiling.window;
        let clip = [on_page, [on_page[0] + window[0], on_page[1] + window[1]]];
        let shown = [corner, [corner[0] + window[0], corner[1] + window[1]]];
        let mut items: Vec<Item> = self.drawing.items.iter().filter(|i| touches(i, shown)).cloned().collect();
        items.extend(self.marks().items.into_iter().filter(|i| touches(i, shown)));
        let shift = [on_page[0] - corner[0], on_page[1] - corner[1]];
        Page { size: self.tiling.page, items: self.furniture(clip), window: Some(Window { clip, shift, items }) }
    }

    /// The joining marks with their numbers.
    fn marks(&self) -> Drawing {
        let mut d = Drawing::new("", 0.0, 0.0);
        for (i, at) in self.tiling.marks().into_iter().enumerate() {
            d.cross(at, REACH, Pen::Thin);
            d.circle(at, REACH / 2.0, Pen::Thin);
            d.text([at[0] + 0.6, at[1] + 2.2], 1.6, Anchor::Left, &format!("{}", i + 1));
        }
        d
    }

    /// What stands round the window.
    fn furniture(&self, clip: [Point; 2]) -> Vec<Item> {
        let mut d = Drawing::new("", self.tiling.page[0], self.tiling.page[1]);
        d.rectangle(clip[0], clip[1], Pen::Thin);
        self.words(&mut d);
        level_bars(&mut d);
        upright_bars(&mut d);
        self.map(&mut d);
        d.items
    }

    fn words(&self, d: &mut Drawing) {
        let (x, room) = (MARGIN + STRIP, self.tiling.page[0] - 2.0 * MARGIN - STRIP - MAP[0] - 4.0);
        let [title, sheet, note] = CAPITALS;
        let title_height = font::fitted(&self.drawing.title, title, room);
        d.text([x, MARGIN + 34.5], title_height, Anchor::Left, &self.drawing.title);
        let [[column, row], [number, total]] = [self.tile, self.number];
        let scale = if self.notes.scale.is_empty() { "true size" } else { &self.notes.scale };
        let place = format!("sheet {number} of {total}  ·  row {}, column {}  ·  {scale}", row + 1, column + 1);
        d.text([x, MARGIN + 29.5], sheet, Anchor::Left, &place);
        let (height, lines) = self.note_lines(note, room);
        for (i, line) in lines.iter().enumerate() {
            d.text([x, MARGIN + 25.0 - i as f64 * 3.5], height, Anchor::Left, line);
        }
    }

    /// The notes in at most the lines there are; smaller capitals when they are long.
    fn note_lines(&self, height: f64, room: f64) -> (f64, Vec<String>) {
        let join = if self.tiling.tiles().len() > 1 { JOIN_WORDS } else { "" };
        let text = format!("{} {} {join}", self.notes.warning, self.notes.orientation);
        let lines = font::wrap(&text, height, room);
        // Half the height always ends: below it the text is longer than anybody reads on a sheet.
        if lines.len() <= NOTE_LINES || height < CAPITALS[2] / 2.0 {
            return (height, lines.into_iter().take(NOTE_LINES).collect());
        }
        self.note_lines(height * 0.95, room)
    }

    /// A small map of all sheets of this drawing, this one shaded.
    fn map(&self, d: &mut Drawing) {
        let tiling = self.tiling;
        let whole = [0, 1].map(|i| tiling.count[i] as f64 * tiling.pitch()[i] + OVERLAP);
        let scale = (MAP[0] / whole[0]).min(MAP[1] / whole[1]);
        let low = [tiling.page[0] - MARGIN - whole[0] * scale, MARGIN + (FOOT - 2.0 - whole[1] * scale) / 2.0];
        let shift = [low[0] - tiling.low[0] * scale, low[1] - tiling.low[1] * scale];
        let to_map = |p: Point| [p[0] * scale + shift[0], p[1] * scale + shift[1]];
        let tile_box = |tile| {
            let a = tiling.corner(tile);
            [to_map(a), to_map([a[0] + tiling.window[0], a[1] + tiling.window[1]])]
        };
        let here = tile_box(self.tile);
        d.fill_rectangle(here[0], here[1], Shade::Light);
        d.items.extend(self.drawing.items.iter().filter(|i| on_map(i, scale)).map(|i| thin(i.moved(scale, shift))));
        for (i, tile) in tiling.tiles().into_iter().enumerate() {
            let [a, b] = tile_box(tile);
            d.outline(corners(a, b), Pen::Thin);
            let number = self.number[0] + i - (self.tile[1] * tiling.count[0] + self.tile[0]);
            let height = 2.5_f64.min((b[1] - a[1]) / 2.0);
            d.text([a[0] + 0.8, a[1] + 0.8], height, Anchor::Left, &number.to_string());
        }
    }
}

/// Windows needed to cover `size`, mm, each showing `window`, mm.
fn needed(size: f64, window: f64) -> usize {
    // A drawing made to fit exactly must not spill over by a rounding error.
    ((size - OVERLAP - 1e-6) / (window - OVERLAP)).ceil().max(1.0) as usize
}

/// Whether an item reaches into the box; half the widest pen counts.
fn touches(item: &Item, [low, high]: [Point; 2]) -> bool {
    let [a, b] = item.bounds();
    let room = Pen::Thick.width() / 2.0;
    (0..2).all(|i| a[i] <= high[i] + room && b[i] >= low[i] - room)
}

fn on_map(item: &Item, scale: f64) -> bool {
    let [a, b] = item.bounds();
    let large = (b[0] - a[0]).max(b[1] - a[1]) * scale >= MAP_DETAIL;
    large && !matches!(item, Item::Text { .. } | Item::Fill { .. })
}

fn thin(mut item: Item) -> Item {
    if let Item::Line { pen, .. } | Item::Circle { pen, .. } = &mut item {
        *pen = Pen::Thin;
    }
    item
}

/// The two bars along x: 100 mm over 4 in, with their words at the right.
fn level_bars(d: &mut Drawing) {
    let x = MARGIN + STRIP;
    for (y, length, step) in [(MARGIN + 9.0, 100.0, 10.0), (MARGIN + 2.0, 4.0 * INCH, INCH)] {
        bar(d, [x, y], [1.0, 0.0], length, step);
    }
    let words = x + 4.0 * INCH + 3.0;
    for (line, y) in BAR_WORDS.into_iter().zip([11.8, 8.6, 5.4]) {
        d.text([words, MARGIN + y], CAPITALS[2], Anchor::Left, line);
    }
    d.text([words, MARGIN + 1.5], CAPITALS[2], Anchor::Left, "4 in (101.6 mm)");
}

/// The two bars along y in the strip at the left, with their words beside them.
fn upright_bars(d: &mut Drawing) {
    let turn = std::f64::consts::FRAC_PI_2;
    let bars = [(4.0, 100.0, 10.0, BAR_WORDS.join("  ")), (12.0, 4.0 * INCH, INCH, "4 in (101.6 mm)".to_owned())];
    for (x, length, step, words) in bars {
        bar(d, [MARGIN + x, MARGIN], [0.0, 1.0], length, step);
        d.turned_text([MARGIN + x - 1.2, MARGIN + 2.0], CAPITALS[2], Anchor::Left, turn, &words);
    }
}

/// A bar from `from` along a unit vector with ticks at its ends and every `step` mm.
fn bar(d: &mut Drawing, from: Point, along: Point, length: f64, step: f64) {
    let at = |s: f64, side: f64| [from[0] + along[0] * s - along[1] * side, from[1] + along[1] * s + along[0] * side];
    d.line(at(0.0, 0.0), at(length, 0.0), Pen::Thin);
    let ticks = (length / step).round() as usize;
    for i in 0..=ticks {
        let reach = if i == 0 || i == ticks { 2.0 } else { 1.0 };
        d.line(at(i as f64 * step, 0.0), at(i as f64 * step, -reach), Pen::Thin);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::pdf::{self, reading};

    fn notes() -> Notes {
        Notes { orientation: "FRONT is the lower edge; lay on the underside.".to_owned(), ..Notes::default() }
    }

    fn tiled(drawing: &Drawing, paper: Paper, notes: &Notes) -> Vec<Page> {
        set(&[(drawing, notes)], paper)
    }

    /// Circles on a 40 mm grid over a drawing of the given size.
    fn grid(width: f64, height: f64) -> Drawing {
        let mut d = Drawing::new("Grid", width, height);
        d.rectangle([0.0, 0.0], [width, height], Pen::Thick);
        for i in 0..(width / 40.0) as usize {
            for j in 0..(height / 40.0) as usize {
                d.circle([20.0 + 40.0 * i as f64, 20.0 + 40.0 * j as f64], 3.0, Pen::Thick);
            }
        }
        d
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 0.01
    }

    /// Both lengths in both directions, measured in the written stream of every sheet; tolerance 0.01 mm.
    #[test]
    fn every_sheet_has_exact_bars_in_both_directions() {
        for paper in Paper::ALL {
            let bytes = pdf::write("t", &tiled(&grid(700.0, 300.0), paper, &notes()));
            for stream in reading::streams(&bytes) {
                let lines = reading::lines(&stream);
                for length in [100.0, 101.6] {
                    let level = |[a, b]: &&[Point; 2]| near(a[1], b[1]) && near(b[0] - a[0], length);
                    let upright = |[a, b]: &&[Point; 2]| near(a[0], b[0]) && near(b[1] - a[1], length);
                    assert_eq!(lines.iter().filter(level).count(), 1, "{paper:?} level {length}");
                    assert_eq!(lines.iter().filter(upright).count(), 1, "{paper:?} upright {length}");
                }
            }
        }
    }

    #[test]
    fn a_drawing_that_fits_needs_one_sheet() {
        assert_eq!(tiled(&grid(174.0, 237.0), Paper::A4, &notes()).len(), 1);
        assert_eq!(tiled(&grid(174.1, 160.0), Paper::A4, &notes()).len(), 2);
        let lying = tiled(&grid(250.0, 140.0), Paper::A4, &notes());
        assert_eq!((lying.len(), lying[0].size), (1, [297.0, 210.0]), "turned sideways");
    }

    /// Every circle of the drawing is found whole on some sheet, at its own place.
    #[test]
    fn the_sheets_together_show_everything() {
        let drawing = grid(1200.0, 700.0);
        let pages = tiled(&drawing, Paper::A4, &notes());
        let mut found = Vec::new();
        for (page, stream) in pages.iter().zip(reading::streams(&pdf::write("t", &pages))) {
            let Window { clip: [low, high], shift, .. } = page.window.clone().unwrap();
            for (c, diameter) in reading::circles(&stream) {
                let whole = (0..2).all(|i| c[i] - 3.0 >= low[i] && c[i] + 3.0 <= high[i]);
                if whole && near(diameter, 6.0) {
                    found.push([c[0] - shift[0], c[1] - shift[1]]);
                }
            }
        }
        for item in &drawing.items {
            if let Item::Circle { centre, .. } = item {
                assert!(found.iter().any(|f| near(f[0], centre[0]) && near(f[1], centre[1])), "{centre:?} lost");
            }
        }
    }

    /// A mark seen on two sheets has the same drawing coordinates on both, and each seam has at least two.
    #[test]
    fn joining_marks_coincide_on_neighbours() {
        let drawing = Drawing::new("Empty", 600.0, 500.0);
        let pages = tiled(&drawing, Paper::Letter, &notes());
        let mut seen: Vec<Point> = Vec::new();
        for (page, stream) in pages.iter().zip(reading::streams(&pdf::write("t", &pages))) {
            let shift = page.window.as_ref().unwrap().shift;
            let circles = reading::circles(&stream);
            seen.extend(circles.iter().map(|(c, _)| [c[0] - shift[0], c[1] - shift[1]]));
        }
        let tiling = Tiling::of(&drawing, Paper::Letter);
        let marks = tiling.marks();
        for mark in &marks {
            let count = seen.iter().filter(|s| near(s[0], mark[0]) && near(s[1], mark[1])).count();
            assert!(count == 2 || count == 4, "mark {mark:?} on {count} sheets");
        }
        assert!(marks.len() >= 2 * (pages.len() - 1));
    }

    /// The whole mark lies inside the window of every sheet that shows it.
    #[test]
    fn marks_are_whole_in_the_overlap() {
        let tiling = Tiling::of(&Drawing::new("", 600.0, 500.0), Paper::A4);
        for mark in tiling.marks() {
            let whole = |tile| {
                let c = tiling.corner(tile);
                (0..2).all(|i| mark[i] - REACH >= c[i] && mark[i] + REACH <= c[i] + tiling.window[i])
            };
            assert!(tiling.tiles().into_iter().filter(|t| whole(*t)).count() >= 2, "{mark:?}");
        }
    }

    #[test]
    fn sheets_of_a_set_are_numbered_through() {
        let (big, small) = (grid(400.0, 200.0), grid(100.0, 100.0));
        let pages = set(&[(&big, &notes()), (&small, &notes())], Paper::A4);
        let total = pages.len();
        for (i, page) in pages.iter().enumerate() {
            let words = format!("sheet {} of {total} ", i + 1);
            assert!(page.items.iter().any(|x| matches!(x, Item::Text { text, .. } if text.starts_with(&words))));
        }
    }

    #[test]
    fn long_notes_shrink_and_stay_in_the_foot() {
        let long = "word ".repeat(120);
        let n = Notes { orientation: long, warning: "NOT ADEQUATE: see the report.".to_owned(), ..Notes::default() };
        let page = &tiled(&grid(100.0, 100.0), Paper::A4, &n)[0];
        let right = page.size[0] - MARGIN;
        let words = page.items.iter().filter(|i| matches!(i, Item::Text { .. })).map(Item::bounds);
        assert!(words.clone().all(|[a, b]| a[0] >= MARGIN - 1.0 && b[0] <= right && a[1] >= MARGIN - 0.1));
    }
}

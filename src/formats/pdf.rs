//! Drawings as PDF at true size: one unit is 1/72 in, content streams are not compressed, no dates.

use super::drawing::{Item, Pen, Point, Shade};
use super::font;
use crate::units::INCH;
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

/// Units of a PDF page in one mm. Source: ISO 32000-1, 8.3.2.3 (from memory): the default unit is 1/72 in.
pub const UNIT: f64 = 72.0 / INCH;

/// The font's name on each page.
const FONT: Name<'static> = Name(b"H");

/// Angle one cubic may cover, radians: at an eighth of a turn it strays 4e-6 of the radius from the circle.
const SPAN: f64 = std::f64::consts::FRAC_PI_4;

/// A sheet size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// ISO 216 A4, 210 x 297 mm.
    A4,
    /// US letter, 8 1/2 x 11 in.
    Letter,
}

/// One page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Width and height, mm.
    pub size: [f64; 2],
    /// What stands on the page, in page coordinates: mm from its lower left corner.
    pub items: Vec<Item>,
    /// A part of a drawing shown on the page.
    pub window: Option<Window>,
}

/// A clipped view of a drawing at true size.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Opposite corners on the page, mm.
    pub clip: [Point; 2],
    /// Page coordinates of the drawing's origin, mm.
    pub shift: Point,
    /// What is shown, in drawing coordinates.
    pub items: Vec<Item>,
}

impl Paper {
    /// Both papers.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Width and height upright, mm.
    #[must_use]
    pub const fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }

    /// Its name in file names.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }
}

/// The document's bytes; `title` is shown by readers. Asks readers not to scale when printing.
#[must_use]
pub fn write(title: &str, pages: &[Page]) -> Vec<u8> {
    let [catalog, tree, info, font] = [1, 2, 3, 4].map(Ref::new);
    let page_ref = |i: usize| Ref::new(5 + 2 * i as i32);
    let mut pdf = Pdf::new();
    let mut root = pdf.catalog(catalog);
    root.pages(tree);
    root.viewer_preferences().pair(Name(b"PrintScaling"), Name(b"None"));
    root.finish();
    pdf.pages(tree).kids((0..pages.len()).map(page_ref)).count(pages.len() as i32);
    pdf.document_info(info).title(TextStr(&font::clean(title)));
    pdf.type1_font(font).base_font(Name(b"Helvetica")).encoding_predefined(Name(b"WinAnsiEncoding"));
    for (i, page) in pages.iter().enumerate() {
        let (id, content) = (page_ref(i), page_ref(i).next());
        let [width, height] = page.size.map(unit);
        let mut entry = pdf.page(id);
        entry.parent(tree).media_box(Rect::new(0.0, 0.0, width, height)).contents(content);
        entry.resources().fonts().pair(FONT, font);
        entry.finish();
        pdf.stream(content, &painted(page));
    }
    pdf.finish()
}

/// The content stream of one page: the window first, the page's own items over it.
fn painted(page: &Page) -> Vec<u8> {
    let mut painter = Painter { content: Content::new(), pen: None };
    painter.content.set_line_cap(LineCapStyle::RoundCap).set_line_join(LineJoinStyle::RoundJoin);
    if let Some(window) = &page.window {
        painter.window(window);
    }
    page.items.iter().for_each(|item| painter.item(item));
    painter.content.finish().to_vec()
}

/// A content stream being written, and the pen it was last told.
struct Painter {
    content: Content,
    pen: Option<Pen>,
}

impl Painter {
    fn window(&mut self, window: &Window) {
        let [low, high] = window.clip;
        self.content.save_state();
        self.content.rect(unit(low[0]), unit(low[1]), unit(high[0] - low[0]), unit(high[1] - low[1]));
        self.content.clip_nonzero().end_path();
        window.items.iter().for_each(|item| self.item(&item.moved(1.0, window.shift)));
        self.content.restore_state();
        self.pen = None;
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { points, closed, pen } => self.line(points, *closed, *pen),
            Item::Circle { centre, radius, pen } => {
                self.arc(*centre, *radius, [0.0, std::f64::consts::TAU], *pen);
                self.content.close_and_stroke();
            }
            Item::Text { at, text, height, anchor, angle } => {
                let back = font::width(text, *height) * anchor.share();
                self.text([at[0] - back * angle.cos(), at[1] - back * angle.sin()], text, *height, *angle);
            }
            Item::Fill { rings, shade } => self.fill(rings, *shade),
        }
    }

    fn use_pen(&mut self, pen: Pen) {
        if self.pen != Some(pen) {
            self.content.set_line_width(unit(pen.width()));
            self.content.set_dash_pattern(pen.dashes().iter().copied().map(unit), 0.0);
            self.pen = Some(pen);
        }
    }

    fn line(&mut self, points: &[Point], closed: bool, pen: Pen) {
        self.use_pen(pen);
        self.path(points);
        if closed {
            self.content.close_and_stroke();
        } else {
            self.content.stroke();
        }
    }

    fn fill(&mut self, rings: &[Vec<Point>], shade: Shade) {
        self.content.set_fill_gray(shade.grey() as f32);
        for ring in rings {
            self.path(ring);
            self.content.close_path();
        }
        self.content.fill_even_odd().set_fill_gray(0.0);
    }

    fn path(&mut self, points: &[Point]) {
        for (i, [x, y]) in points.iter().map(|p| p.map(unit)).enumerate() {
            if i == 0 {
                self.content.move_to(x, y);
            } else {
                self.content.line_to(x, y);
            }
        }
    }

    /// A path of cubics along an arc, not yet stroked.
    fn arc(&mut self, centre: Point, radius: f64, [from, to]: [f64; 2], pen: Pen) {
        self.use_pen(pen);
        let count = ((to - from) / SPAN).ceil().max(1.0);
        let turn = (to - from) / count;
        let handle = 4.0 / 3.0 * (turn / 4.0).tan();
        // The end of the handle of length `h` along the tangent at angle `a`, in units of the page.
        let point = |a: f64, h: f64| {
            let (sin, cos) = a.sin_cos();
            [centre[0] + radius * (cos - h * sin), centre[1] + radius * (sin + h * cos)].map(unit)
        };
        let [x, y] = point(from, 0.0);
        self.content.move_to(x, y);
        for i in 0..count as usize {
            let (a, b) = (from + i as f64 * turn, from + (i + 1) as f64 * turn);
            let ([x1, y1], [x2, y2], [x3, y3]) = (point(a, handle), point(b, -handle), point(b, 0.0));
            self.content.cubic_to(x1, y1, x2, y2, x3, y3);
        }
    }

    fn text(&mut self, start: Point, text: &str, height: f64, angle: f64) {
        let (sin, cos) = angle.sin_cos();
        let [x, y] = start.map(unit);
        self.content.begin_text().set_font(FONT, unit(font::size(height)));
        self.content.set_text_matrix([cos as f32, sin as f32, -sin as f32, cos as f32, x, y]);
        self.content.show(Str(&font::win_ansi(text))).end_text();
    }
}

/// Millimetres in units of the page, to 1/10,000 unit (35 nm).
fn unit(mm: f64) -> f32 {
    ((mm * UNIT * 1e4).round() / 1e4) as f32
}

/// Reading content streams back, for tests.
#[cfg(test)]
pub(crate) mod reading {
    use super::UNIT;

    /// One operation of a content stream: its numbers and its operator.
    pub(crate) type Operation = (Vec<f64>, String);

    /// The content streams of a document written here, in page order.
    pub(crate) fn streams(pdf: &[u8]) -> Vec<Vec<Operation>> {
        let text: String = pdf.iter().map(|&b| char::from(b)).collect();
        text.split("endstream").filter_map(|part| part.split_once("stream\n")).map(|(_, s)| operations(s)).collect()
    }

    /// The boxes of all pages, points.
    pub(crate) fn boxes(pdf: &[u8]) -> Vec<Vec<f64>> {
        let text: String = pdf.iter().map(|&b| char::from(b)).collect();
        let after = text.split("/MediaBox [").skip(1).filter_map(|s| s.split_once(']'));
        after.map(|(numbers, _)| numbers.split_whitespace().map(|n| n.parse().unwrap()).collect()).collect()
    }

    /// Straight lines of exactly two points, mm.
    pub(crate) fn lines(stream: &[Operation]) -> Vec<[[f64; 2]; 2]> {
        let ends = stream.windows(3).filter(|w| w[0].1 == "m" && w[1].1 == "l" && w[2].1 == "S");
        ends.map(|w| [at(&w[0].0), at(&w[1].0)]).collect()
    }

    /// Centres and diameters of full circles, mm: from the two opposite points of eight cubics.
    pub(crate) fn circles(stream: &[Operation]) -> Vec<([f64; 2], f64)> {
        let full = |w: &&[Operation]| w[0].1 == "m" && w[1..9].iter().all(|o| o.1 == "c") && w[9].1 == "s";
        let ends = stream.windows(10).filter(full).map(|w| (at(&w[0].0), at(&w[4].0[4..])));
        ends.map(|(a, b)| ([(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0], (a[0] - b[0]).hypot(a[1] - b[1]))).collect()
    }

    fn at(numbers: &[f64]) -> [f64; 2] {
        [numbers[0] / UNIT, numbers[1] / UNIT]
    }

    fn operations(stream: &str) -> Vec<Operation> {
        let (mut list, mut numbers) = (Vec::new(), Vec::new());
        for word in stream.split_whitespace() {
            match word.parse() {
                Ok(number) => numbers.push(number),
                Err(_) => list.push((std::mem::take(&mut numbers), word.to_owned())),
            }
        }
        list
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::drawing::{Anchor, Drawing};

    fn page(d: Drawing) -> Page {
        Page { size: [d.width, d.height], items: d.items, window: None }
    }

    fn sample() -> Drawing {
        let mut d = Drawing::new("A plate ± 0.1", 200.0, 150.0);
        d.circle([40.0, 30.0], 2.25, Pen::Thick);
        d.line([10.0, 10.0], [110.0, 10.0], Pen::Thin);
        d.text([100.0, 100.0], 3.0, Anchor::Middle, "a (b) \\ ±");
        d
    }

    /// ISO 216 and the inch: A4 is 595.276 x 841.890 points, letter 612 x 792.
    #[test]
    fn page_boxes_are_the_papers_in_points() {
        let pages = Paper::ALL.map(|p| Page { size: p.size(), items: Vec::new(), window: None });
        let boxes = reading::boxes(&write("t", &pages));
        let expected = [[0.0, 0.0, 595.276, 841.890], [0.0, 0.0, 612.0, 792.0]];
        for (found, wanted) in boxes.iter().zip(expected) {
            assert!(found.iter().zip(wanted).all(|(f, w)| (f - w).abs() < 0.000_5), "{found:?}");
        }
        assert_eq!(boxes.len(), 2);
    }

    #[test]
    fn lines_and_circles_are_where_they_were_drawn() {
        let streams = reading::streams(&write("t", &[page(sample())]));
        let [[a, b]] = reading::lines(&streams[0])[..] else { panic!("one line") };
        assert!((b[0] - a[0] - 100.0).abs() < 1e-3 && (a[0] - 10.0).abs() < 1e-3 && (a[1] - 10.0).abs() < 1e-3);
        let [(centre, diameter)] = reading::circles(&streams[0])[..] else { panic!("one circle") };
        assert!((centre[0] - 40.0).abs() < 1e-3 && (centre[1] - 30.0).abs() < 1e-3 && (diameter - 4.5).abs() < 1e-3);
    }

    /// Text in the middle starts half its width before its point, and stands on its point.
    #[test]
    fn centred_text_starts_half_its_width_before() {
        let mut d = Drawing::new("t", 200.0, 150.0);
        d.turned_text([100.0, 50.0], 3.0, Anchor::Middle, std::f64::consts::FRAC_PI_2, "Hello");
        let stream = &reading::streams(&write("t", &[page(d)]))[0];
        let Some((n, _)) = stream.iter().find(|(_, o)| o == "Tm") else { panic!("no text") };
        assert!((n[4] / UNIT - 100.0).abs() < 1e-3 && (n[1] - 1.0).abs() < 1e-6);
        assert!((n[5] / UNIT - (50.0 - font::width("Hello", 3.0) / 2.0)).abs() < 1e-3);
    }

    #[test]
    fn a_window_is_clipped_and_shifted() {
        let window = Window { clip: [[10.0, 10.0], [60.0, 60.0]], shift: [-20.0, 5.0], items: sample().items };
        let page = Page { size: [100.0, 100.0], items: Vec::new(), window: Some(window) };
        let stream = &reading::streams(&write("t", &[page]))[0];
        let (centre, _) = reading::circles(stream)[0];
        assert!((centre[0] - 20.0).abs() < 1e-3 && (centre[1] - 35.0).abs() < 1e-3);
        assert!(stream.iter().any(|(n, o)| o == "re" && (n[2] / UNIT - 50.0).abs() < 1e-3));
        assert!(stream.iter().any(|(_, o)| o == "W"));
    }

    #[test]
    fn the_file_has_no_date_and_asks_for_no_scaling() {
        let bytes = write("t", &[page(sample())]);
        let text: String = bytes.iter().map(|&b| char::from(b)).collect();
        assert!(!text.contains("Date") && text.contains("/PrintScaling /None") && !text.contains("/Filter"));
        assert!(text.contains("/WinAnsiEncoding"));
        assert_eq!(bytes, write("t", &[page(sample())]));
    }
}

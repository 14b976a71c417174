//! A drawing: lines and labels at true size. The writers of PDF, SVG and DXF only write it.

use super::font;

/// A point on the paper: x to the right, y up, mm.
pub type Point = [f64; 2];

/// Room between a measured point and its extension line, and past the dimension line, mm: common practice, no source.
const EXTENSION: f64 = 1.0;
/// Length and half width of an arrow head, mm. Source: ISO 129-1 shows a closed filled head (from memory); size: judgement.
const ARROW: [f64; 2] = [2.5, 0.45];
/// Capital height of dimension figures, mm. Source: ISO 3098-1 (from memory) has 2.5 mm as its second smallest.
pub const FIGURES: f64 = 2.5;
/// Tail of an arrow that points inwards because the dimension is short, mm: judgement.
const TAIL: f64 = 5.0;

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pen {
    /// Visible edges, holes, cut lines.
    Thick,
    /// Dimensions, marks, fine detail.
    Thin,
    /// Hidden or for information only.
    Dashed,
    /// Axes and centres.
    Centre,
}

/// How dark a filled area is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shade {
    /// Towards the light.
    Pale,
    /// A face in half light.
    Light,
    /// A face turned away.
    Middle,
    /// The darkest face.
    Dark,
    /// Ink.
    Black,
}

/// Which end of a text stands on its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Anchor {
    /// The text runs to the right of its point.
    Left,
    /// The text is centred on its point.
    Middle,
    /// The text ends at its point.
    Right,
}

/// One thing on the drawing. Lengths mm, angles radians counter-clockwise from +x.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A chain of straight lines, through at least two points.
    Line {
        /// The corners in order.
        points: Vec<Point>,
        /// Whether the last corner is joined to the first.
        closed: bool,
        /// How it is drawn.
        pen: Pen,
    },
    /// A full circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, mm.
        radius: f64,
        /// How it is drawn.
        pen: Pen,
    },
    /// One line of text.
    Text {
        /// Where its base line meets the anchor.
        at: Point,
        /// The words.
        text: String,
        /// Height of a capital, mm.
        height: f64,
        /// Which end stands on `at`.
        anchor: Anchor,
        /// Direction of reading; 0 is along +x.
        angle: f64,
    },
    /// An area; rings inside rings are holes (even-odd).
    Fill {
        /// Closed rings, the last point not repeated.
        rings: Vec<Vec<Point>>,
        /// How dark it is.
        shade: Shade,
    },
}

/// Items in a box from the origin to (`width`, `height`).
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it shows: title of the file and of each sheet.
    pub title: String,
    /// Width of the box, mm.
    pub width: f64,
    /// Height of the box, mm.
    pub height: f64,
    /// What is drawn, later over earlier.
    pub items: Vec<Item>,
}

impl Pen {
    /// Every pen.
    pub const ALL: [Self; 4] = [Self::Thick, Self::Thin, Self::Dashed, Self::Centre];

    /// Width of the line, mm. Source: ISO 128-2, line group 0.5 (from memory).
    #[must_use]
    pub const fn width(self) -> f64 {
        match self {
            Self::Thick => 0.5,
            Self::Thin | Self::Dashed | Self::Centre => 0.25,
        }
    }

    /// Lengths on and off in turn, mm; empty for a continuous line. Source: ISO 128-2, types 02 and 04 (from memory).
    #[must_use]
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Thick | Self::Thin => &[],
            Self::Dashed => &[3.0, 0.75],
            Self::Centre => &[6.0, 0.75, 0.25, 0.75],
        }
    }

    /// Its name as a layer.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Thick => "THICK",
            Self::Thin => "THIN",
            Self::Dashed => "DASHED",
            Self::Centre => "CENTRE",
        }
    }
}

impl Shade {
    /// From the darkest face to the lightest: what a picture is shaded with.
    pub const FACES: [Self; 4] = [Self::Dark, Self::Middle, Self::Light, Self::Pale];

    /// Lightness from 0 (ink) to 1 (paper). Judgement: pale enough for lines and figures to stay readable on it.
    #[must_use]
    pub const fn grey(self) -> f64 {
        match self {
            Self::Pale => 0.95,
            Self::Light => 0.88,
            Self::Middle => 0.80,
            Self::Dark => 0.70,
            Self::Black => 0.0,
        }
    }
}

impl Item {
    /// The item scaled by `scale` about the origin and then moved by `by`, mm.
    #[must_use]
    pub fn moved(&self, scale: f64, by: Point) -> Self {
        let to = |p: &Point| [p[0] * scale + by[0], p[1] * scale + by[1]];
        let mut item = self.clone();
        match &mut item {
            Self::Line { points, .. } => points.iter_mut().for_each(|p| *p = to(p)),
            Self::Circle { centre, radius, .. } => {
                (*centre, *radius) = (to(centre), *radius * scale);
            }
            Self::Text { at, height, .. } => (*at, *height) = (to(at), *height * scale),
            Self::Fill { rings, .. } => rings.iter_mut().flatten().for_each(|p| *p = to(p)),
        }
        item
    }

    /// Lower left and upper right corner of what it covers, without the width of the pen, mm.
    #[must_use]
    pub fn bounds(&self) -> [Point; 2] {
        match self {
            Self::Line { points, .. } => around(points),
            Self::Circle { centre, radius, .. } => disc(*centre, *radius),
            Self::Text { .. } => around(&self.text_box()),
            Self::Fill { rings, .. } => around(rings.iter().flatten()),
        }
    }

    /// Corners of the box a text stands in, capitals only; empty for other items.
    fn text_box(&self) -> Vec<Point> {
        let Self::Text { at, text, height, anchor, angle } = self else { return Vec::new() };
        let width = font::width(text, *height);
        let start = -width * anchor.share();
        let (sin, cos) = angle.sin_cos();
        [[start, 0.0], [start + width, 0.0], [start + width, *height], [start, *height]]
            .map(|[x, y]| [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos])
            .to_vec()
    }
}

impl Anchor {
    /// Share of the text's width that lies before its point.
    #[must_use]
    pub const fn share(self) -> f64 {
        match self {
            Self::Left => 0.0,
            Self::Middle => 0.5,
            Self::Right => 1.0,
        }
    }
}

impl Drawing {
    /// An empty drawing `width` by `height`, mm.
    #[must_use]
    pub fn new(title: &str, width: f64, height: f64) -> Self {
        Self { title: font::clean(title), width, height, items: Vec::new() }
    }

    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.chain(vec![from, to], pen);
    }

    /// A chain of straight lines.
    pub fn chain(&mut self, points: Vec<Point>, pen: Pen) {
        self.items.push(Item::Line { points, closed: false, pen });
    }

    /// A closed outline.
    pub fn outline(&mut self, points: Vec<Point>, pen: Pen) {
        self.items.push(Item::Line { points, closed: true, pen });
    }

    /// A rectangle between two opposite corners.
    pub fn rectangle(&mut self, low: Point, high: Point, pen: Pen) {
        self.outline(corners(low, high), pen);
    }

    /// A circle of `radius`, mm.
    pub fn circle(&mut self, centre: Point, radius: f64, pen: Pen) {
        self.items.push(Item::Circle { centre, radius, pen });
    }

    /// Words along +x with capitals `height` mm high.
    pub fn text(&mut self, at: Point, height: f64, anchor: Anchor, text: &str) {
        self.turned_text(at, height, anchor, 0.0, text);
    }

    /// Words along the direction `angle`, radians.
    pub fn turned_text(&mut self, at: Point, height: f64, anchor: Anchor, angle: f64, text: &str) {
        self.items.push(Item::Text { at, text: font::clean(text), height, anchor, angle });
    }

    /// A filled polygon.
    pub fn fill(&mut self, ring: Vec<Point>, shade: Shade) {
        self.items.push(Item::Fill { rings: vec![ring], shade });
    }

    /// A filled rectangle between two opposite corners.
    pub fn fill_rectangle(&mut self, low: Point, high: Point, shade: Shade) {
        self.fill(corners(low, high), shade);
    }

    /// A small cross of two centre lines reaching `reach` mm from the middle.
    pub fn cross(&mut self, at: Point, reach: f64, pen: Pen) {
        self.line([at[0] - reach, at[1]], [at[0] + reach, at[1]], pen);
        self.line([at[0], at[1] - reach], [at[0], at[1] + reach], pen);
    }

    /// A dimension between two points, `offset` mm to the left of the way from the first to the second.
    ///
    /// Extension lines, arrows and the figure; a short one gets its arrows from outside. Does nothing for equal points.
    pub fn dimension(&mut self, from: Point, to: Point, offset: f64, text: &str) {
        let length = (to[0] - from[0]).hypot(to[1] - from[1]);
        if length <= 0.0 {
            return;
        }
        let along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
        let side = [-along[1] * offset.signum(), along[0] * offset.signum()];
        let ends = [from, to].map(|p| step(p, side, offset.abs()));
        for (point, end) in [from, to].into_iter().zip(ends) {
            self.line(step(point, side, EXTENSION.min(offset.abs())), step(end, side, EXTENSION), Pen::Thin);
        }
        if length >= font::width(text, FIGURES) + 2.0 * ARROW[0] {
            self.long_dimension(ends, along, text);
        } else {
            self.short_dimension(ends, along, text);
        }
    }

    /// Puts another drawing's items here, scaled about its origin and then moved by `at`, mm.
    pub fn place(&mut self, other: &Self, scale: f64, at: Point) {
        self.items.extend(other.items.iter().map(|item| item.moved(scale, at)));
    }

    /// Lower left and upper right corner of all items, mm; `None` when there are none.
    #[must_use]
    pub fn bounds(&self) -> Option<[Point; 2]> {
        let boxes: Vec<Point> = self.items.iter().flat_map(Item::bounds).collect();
        if boxes.is_empty() { None } else { Some(around(&boxes)) }
    }

    fn long_dimension(&mut self, ends: [Point; 2], along: Point, text: &str) {
        self.line(ends[0], ends[1], Pen::Thin);
        self.arrow(ends[0], [-along[0], -along[1]]);
        self.arrow(ends[1], along);
        let middle = [(ends[0][0] + ends[1][0]) / 2.0, (ends[0][1] + ends[1][1]) / 2.0];
        self.figure(middle, along, Anchor::Middle, text);
    }

    fn short_dimension(&mut self, ends: [Point; 2], along: Point, text: &str) {
        let far = step(ends[1], along, TAIL);
        self.line(step(ends[0], along, -TAIL), far, Pen::Thin);
        self.arrow(ends[0], along);
        self.arrow(ends[1], [-along[0], -along[1]]);
        let anchor = if readable(along) == along { Anchor::Left } else { Anchor::Right };
        self.figure(far, along, anchor, text);
    }

    /// A figure just above a dimension line, turned so that it reads from below or from the right.
    fn figure(&mut self, at: Point, along: Point, anchor: Anchor, text: &str) {
        let along = readable(along);
        let above = step(at, [-along[1], along[0]], EXTENSION);
        self.turned_text(above, FIGURES, anchor, along[1].atan2(along[0]), text);
    }

    /// A filled arrow head whose tip is at `tip`, pointing along the unit vector `along`.
    fn arrow(&mut self, tip: Point, along: Point) {
        let base = step(tip, along, -ARROW[0]);
        let side = [-along[1], along[0]];
        self.fill(vec![tip, step(base, side, ARROW[1]), step(base, side, -ARROW[1])], Shade::Black);
    }
}

/// Counter-clockwise corners of the rectangle between two opposite corners.
#[must_use]
pub fn corners(low: Point, high: Point) -> Vec<Point> {
    vec![low, [high[0], low[1]], high, [low[0], high[1]]]
}

/// `from` moved `by` mm along the unit vector `along`.
fn step(from: Point, along: Point, by: f64) -> Point {
    [from[0] + along[0] * by, from[1] + along[1] * by]
}

/// `along` or its opposite: the one that reads to the right or upwards.
fn readable(along: Point) -> Point {
    let backwards = along[0] < -1e-9 || (along[0] < 1e-9 && along[1] < 0.0);
    if backwards { [-along[0], -along[1]] } else { along }
}

fn disc(centre: Point, radius: f64) -> [Point; 2] {
    [[centre[0] - radius, centre[1] - radius], [centre[0] + radius, centre[1] + radius]]
}

fn around<'a>(points: impl IntoIterator<Item = &'a Point>) -> [Point; 2] {
    points.into_iter().fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], p| {
        [[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn upright_text_is_bounded_by_its_width_upwards() {
        let mut d = Drawing::new("", 10.0, 10.0);
        d.turned_text([5.0, 5.0], 2.5, Anchor::Left, FRAC_PI_2, "Hello");
        let [low, high] = d.bounds().unwrap();
        assert!((high[1] - 5.0 - font::width("Hello", 2.5)).abs() < 1e-9 && (low[0] - 2.5).abs() < 1e-9);
    }

    #[test]
    fn moving_scales_then_shifts() {
        let circle = Item::Circle { centre: [1.0, 2.0], radius: 3.0, pen: Pen::Thick };
        assert_eq!(circle.moved(2.0, [10.0, 0.0]), Item::Circle { centre: [12.0, 4.0], radius: 6.0, pen: Pen::Thick });
    }

    /// The dimension line of a 100 mm dimension is 100 mm long and lies on the asked side.
    #[test]
    fn a_dimension_spans_what_it_measures() {
        let mut d = Drawing::new("", 200.0, 100.0);
        d.dimension([10.0, 20.0], [110.0, 20.0], -8.0, "100");
        let on_line = |i: &&Item| matches!(i, Item::Line { points, .. } if points.iter().all(|p| p[1] == 12.0));
        let Some(Item::Line { points, .. }) = d.items.iter().find(on_line) else { panic!("no dimension line") };
        assert_eq!(points, &[[10.0, 12.0], [110.0, 12.0]]);
        assert_eq!(d.items.iter().filter(|i| matches!(i, Item::Fill { .. })).count(), 2);
    }

    #[test]
    fn figures_never_stand_on_their_head() {
        for degrees in 0..360 {
            let a = f64::from(degrees).to_radians();
            let mut d = Drawing::new("", 200.0, 100.0);
            d.dimension([0.0, 0.0], [90.0 * a.cos(), 90.0 * a.sin()], 5.0, "90");
            d.dimension([0.0, 0.0], [2.0 * a.cos(), 2.0 * a.sin()], 5.0, "2");
            for item in &d.items {
                if let Item::Text { angle, .. } = item {
                    assert!(*angle > -FRAC_PI_2 && *angle <= FRAC_PI_2 + 1e-9, "{degrees}: {angle}");
                }
            }
        }
    }
}

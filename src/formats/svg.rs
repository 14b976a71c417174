//! Drawings as SVG at true size: width and height in mm, the view box has the same numbers.

use super::drawing::{Anchor, Drawing, Item, Pen, Point};
use super::font;
use super::number::{num, short};
use svg::node::element::{Circle, Group, Path, Text, Title};
use svg::{Document, Node};

/// Decimals of a coordinate, mm: below what any printer or cutter resolves.
const DIGITS: usize = 3;

/// Fonts with the widths the drawing was laid out with.
const FONTS: &str = "Helvetica, Arial, 'Liberation Sans', sans-serif";

/// The file's text.
#[must_use]
pub fn write(drawing: &Drawing) -> String {
    let (width, height) = (drawing.width, drawing.height);
    let mut document = Document::new()
        .set("width", format!("{}mm", short(width, DIGITS)))
        .set("height", format!("{}mm", short(height, DIGITS)))
        .set("viewBox", format!("0 0 {} {}", short(width, DIGITS), short(height, DIGITS)))
        .add(Title::new(drawing.title.clone()));
    for run in drawing.items.chunk_by(|a, b| look(a) == look(b)) {
        let mut group = styled(look(&run[0]));
        run.iter().for_each(|item| add(&mut group, item, height));
        document.append(group);
    }
    format!("{document}\n")
}

/// What items must share to stand in one group.
#[derive(Clone, Copy, PartialEq)]
enum Look {
    Stroke(Pen),
    Words,
    Area,
}

fn look(item: &Item) -> Look {
    match item {
        Item::Line { pen, .. } | Item::Circle { pen, .. } => Look::Stroke(*pen),
        Item::Text { .. } => Look::Words,
        Item::Fill { .. } => Look::Area,
    }
}

fn styled(look: Look) -> Group {
    match look {
        Look::Words => Group::new().set("font-family", FONTS).set("fill", "black"),
        Look::Area => Group::new().set("stroke", "none").set("fill-rule", "evenodd"),
        Look::Stroke(pen) => {
            let group = Group::new()
                .set("fill", "none")
                .set("stroke", "black")
                .set("stroke-width", pen.width())
                .set("stroke-linecap", "round")
                .set("stroke-linejoin", "round");
            let dashes: Vec<String> = pen.dashes().iter().map(|d| short(*d, DIGITS)).collect();
            if dashes.is_empty() { group } else { group.set("stroke-dasharray", dashes.join(" ")) }
        }
    }
}

fn add(group: &mut Group, item: &Item, height: f64) {
    match item {
        Item::Line { points, closed, .. } => group.append(Path::new().set("d", path(points, *closed, height))),
        Item::Circle { centre, radius, .. } => group.append(circle(*centre, *radius, height)),
        Item::Text { at, text, height: capital, anchor, angle } => {
            group.append(words(*at, text, *capital, *anchor, *angle, height));
        }
        Item::Fill { rings, shade } => {
            let d: String = rings.iter().map(|ring| path(ring, true, height)).collect();
            let level = (shade.grey() * 255.0).round() as u8;
            group.append(Path::new().set("d", d).set("fill", format!("#{level:02x}{level:02x}{level:02x}")));
        }
    }
}

fn path(points: &[Point], closed: bool, height: f64) -> String {
    let corners: Vec<String> = points.iter().map(|p| spot(*p, height)).collect();
    format!("M{}{}", corners.join("L"), if closed { "Z" } else { "" })
}

fn circle(centre: Point, radius: f64, height: f64) -> Circle {
    Circle::new()
        .set("cx", short(centre[0], DIGITS))
        .set("cy", short(height - centre[1], DIGITS))
        .set("r", short(radius, DIGITS))
}

fn words(at: Point, text: &str, capital: f64, anchor: Anchor, angle: f64, height: f64) -> Text {
    let words = Text::new(text).set("font-size", short(font::size(capital), DIGITS)).set("text-anchor", end(anchor));
    let [x, y] = [short(at[0], DIGITS), short(height - at[1], DIGITS)];
    if angle == 0.0 {
        return words.set("x", x).set("y", y);
    }
    words.set("transform", format!("translate({x} {y}) rotate({})", num(-angle.to_degrees(), DIGITS)))
}

const fn end(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Left => "start",
        Anchor::Middle => "middle",
        Anchor::Right => "end",
    }
}

fn spot(p: Point, height: f64) -> String {
    format!("{} {}", short(p[0], DIGITS), short(height - p[1], DIGITS))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_and_view_box_have_the_same_numbers() {
        let text = write(&Drawing::new("A & B", 210.5, 297.0));
        assert!(text.contains(r#"height="297mm""#) && text.contains(r#"width="210.5mm""#));
        assert!(text.contains(r#"viewBox="0 0 210.5 297""#) && text.contains("A &amp; B"));
    }

    #[test]
    fn y_points_down_in_the_file() {
        let mut d = Drawing::new("", 100.0, 80.0);
        d.circle([40.0, 30.0], 2.25, Pen::Thick);
        d.line([0.0, 0.0], [100.0, 10.0], Pen::Thick);
        let text = write(&d);
        assert!(text.contains(r#"<circle cx="40" cy="50" r="2.25"/>"#), "{text}");
        assert!(text.contains(r#"d="M0 80L100 70""#), "{text}");
    }

    #[test]
    fn like_items_share_a_group_and_bytes_repeat() {
        let mut d = Drawing::new("", 10.0, 10.0);
        for i in 0..5 {
            d.line([f64::from(i), 0.0], [f64::from(i), 1.0], Pen::Dashed);
        }
        d.text([1.0, 1.0], 2.5, Anchor::Middle, "5 < 6");
        let text = write(&d);
        assert_eq!(text.matches("<g").count(), 2);
        assert!(text.contains(r#"stroke-dasharray="3 0.75""#) && text.contains("5 &lt; 6"));
        assert_eq!(text, write(&d));
    }
}

//! Drawings as DXF release 12 in mm: one layer for each pen, one for text, one for ink. No dates, no handles.
//!
//! Release 12 has no unit of its own; a comment at the start says that the numbers are millimetres.
//! Pale areas are left out: they are for the eye, and a cutter would take them for work.

use super::drawing::{Anchor, Drawing, Item, Pen, Point, Shade};
use dxf::entities::{Arc, Circle, Entity, EntityType, Line, Polyline, Solid, Text, Vertex};
use dxf::enums::{AcadVersion, HorizontalTextJustification};
use dxf::tables::{Layer, LineType};
use dxf::{Color, DxfError};

/// Layer of all words.
const TEXT_LAYER: &str = "TEXT";
/// Layer of filled arrow heads.
const INK_LAYER: &str = "INK";
/// First lines of each file: group 999 is a comment. Source: DXF reference, group codes.
const COMMENT: &str = "999\r\nmillimetres, y up\r\n";
/// Variables that say something and do not change from run to run.
const VARIABLES: [&str; 3] = ["$ACADVER", "$EXTMIN", "$EXTMAX"];
/// Tables that are kept.
const TABLES: [&str; 3] = ["LTYPE", "LAYER", "STYLE"];
/// Group code of class names, which came with release 13.
const CLASS_MARK: &str = "100";
/// Decimals of the few numbers that come from sums, mm.
const GRID: f64 = 1e6;

/// The file's bytes.
///
/// # Errors
/// When the writer refuses a value; drawings of finite numbers are not refused.
pub fn write(drawing: &Drawing) -> Result<Vec<u8>, DxfError> {
    let mut file = dxf::Drawing::new();
    file.header.version = AcadVersion::R12;
    file.header.handles_enabled = false;
    file.header.minimum_drawing_extents = dxf::Point::new(0.0, 0.0, 0.0);
    file.header.maximum_drawing_extents = spot([drawing.width, drawing.height]);
    add_layers(&mut file);
    for item in &drawing.items {
        add(&mut file, item);
    }
    let mut bytes = Vec::new();
    file.save(&mut bytes)?;
    Ok(release_12(&String::from_utf8_lossy(&bytes)).into_bytes())
}

fn add_layers(file: &mut dxf::Drawing) {
    for pen in Pen::ALL {
        if !pen.dashes().is_empty() {
            file.add_line_type(line_type(pen));
        }
    }
    let pens = Pen::ALL.map(|pen| (pen.name(), line_type_name(pen), 7));
    for (name, line, colour) in pens.into_iter().chain([(TEXT_LAYER, CONTINUOUS, 3), (INK_LAYER, CONTINUOUS, 8)]) {
        let color = Color::from_index(colour);
        file.add_layer(Layer { name: name.into(), line_type_name: line.into(), color, ..Default::default() });
    }
}

/// The line type every reader knows.
const CONTINUOUS: &str = "CONTINUOUS";

const fn line_type_name(pen: Pen) -> &'static str {
    if pen.dashes().is_empty() { CONTINUOUS } else { pen.name() }
}

/// Dashes of a pen; gaps are negative lengths.
fn line_type(pen: Pen) -> LineType {
    let lengths: Vec<f64> = pen.dashes().iter().enumerate().map(|(i, d)| if i % 2 == 0 { *d } else { -*d }).collect();
    LineType {
        name: pen.name().into(),
        element_count: lengths.len() as i32,
        total_pattern_length: pen.dashes().iter().sum(),
        dash_dot_space_lengths: lengths,
        ..Default::default()
    }
}

fn add(file: &mut dxf::Drawing, item: &Item) {
    let (layer, entity) = match item {
        Item::Line { points, closed, pen } => (pen.name(), line(file, points, *closed)),
        Item::Circle { centre, radius, pen } => {
            (pen.name(), EntityType::Circle(Circle { center: spot(*centre), radius: *radius, ..Default::default() }))
        }
        Item::Arc { centre, radius, angles, pen } => {
            let [start, end] = angles.map(|a| tidy(a.to_degrees().rem_euclid(360.0)));
            (pen.name(), EntityType::Arc(Arc::new(spot(*centre), *radius, start, end)))
        }
        Item::Text { at, text, height, anchor, angle } => (TEXT_LAYER, words(*at, text, *height, *anchor, *angle)),
        Item::Fill { rings, shade: Shade::Black } => match &rings[..] {
            [ring] if ring.len() == 3 || ring.len() == 4 => (INK_LAYER, solid(ring)),
            _ => return,
        },
        Item::Fill { .. } => return,
    };
    let mut entity = Entity::new(entity);
    entity.common.layer = layer.into();
    file.add_entity(entity);
}

fn line(file: &mut dxf::Drawing, points: &[Point], closed: bool) -> EntityType {
    if let ([a, b], false) = (points, closed) {
        return EntityType::Line(Line::new(spot(*a), spot(*b)));
    }
    let mut chain = Polyline::default();
    chain.set_is_closed(closed);
    for p in points {
        chain.add_vertex(file, Vertex::new(spot(*p)));
    }
    EntityType::Polyline(chain)
}

fn words(at: Point, text: &str, height: f64, anchor: Anchor, angle: f64) -> EntityType {
    let horizontal_text_justification = match anchor {
        Anchor::Left => HorizontalTextJustification::Left,
        Anchor::Middle => HorizontalTextJustification::Center,
        Anchor::Right => HorizontalTextJustification::Right,
    };
    EntityType::Text(Text {
        location: spot(at),
        second_alignment_point: spot(at),
        text_height: height,
        value: signs(text),
        rotation: tidy(angle.to_degrees()),
        horizontal_text_justification,
        ..Default::default()
    })
}

/// Release 12 writes three signs as two percent signs and a letter, and has no sign for "times".
fn signs(text: &str) -> String {
    text.replace('±', "%%p").replace('°', "%%d").replace(['Ø', '⌀'], "%%c").replace('×', "x")
}

/// A filled triangle or quadrangle; the format wants its last two corners exchanged.
fn solid(ring: &[Point]) -> EntityType {
    let [a, b, c] = [ring[0], ring[1], ring[2]].map(spot);
    let d = ring.get(3).map_or(c.clone(), |p| spot(*p));
    let (third_corner, fourth_corner) = (d, c);
    EntityType::Solid(Solid { first_corner: a, second_corner: b, third_corner, fourth_corner, ..Default::default() })
}

fn spot(p: Point) -> dxf::Point {
    dxf::Point::new(tidy(p[0]), tidy(p[1]), 0.0)
}

/// Rounded to a nanometre, without a negative zero.
fn tidy(x: f64) -> f64 {
    (x * GRID).round() / GRID + 0.0
}

/// A group code, as written, and its value.
type Pair<'a> = (&'a str, &'a str);

/// What release 12 knows of the writer's text: it also writes times, ids, marks of classes and tables of later releases.
fn release_12(text: &str) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let pairs: Vec<Pair> = lines.chunks_exact(2).map(|p| (p[0].trim(), p[1])).collect();
    let mut kept = String::from(COMMENT);
    let (mut keep_table, mut layer) = (true, "0");
    for record in pairs.chunk_by(|_, next| next.0 != "0") {
        let name = record.iter().find(|p| p.0 == "2").map_or("", |p| p.1);
        match record[0].1 {
            "TABLE" => keep_table = TABLES.contains(&name),
            "POLYLINE" => layer = record.iter().find(|p| p.0 == "8").map_or("0", |p| p.1),
            _ => {}
        }
        // Release 12 takes BYLAYER and BYBLOCK as words, not as entries of the table.
        if keep_table && !(record[0].1 == "LTYPE" && name.starts_with("BY")) {
            write_record(&mut kept, record, layer);
        }
        keep_table |= record[0].1 == "ENDTAB";
    }
    kept
}

/// One record; a vertex goes to the layer of its chain.
fn write_record(kept: &mut String, record: &[Pair], layer: &str) {
    let mut keep_variable = true;
    for &(code, value) in record {
        if code == "9" {
            keep_variable = VARIABLES.contains(&value);
        }
        let value = if code == "8" && record[0].1 == "VERTEX" { layer } else { value };
        if keep_variable && code != CLASS_MARK {
            kept.push_str(&format!("{code:>3}\r\n{value}\r\n"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Drawing {
        let mut d = Drawing::new("Plate", 200.0, 150.0);
        d.circle([40.0, 30.0], 2.25, Pen::Thick);
        d.line([10.0, 10.0], [110.0, 10.0], Pen::Thin);
        d.outline(vec![[0.0, 0.0], [50.0, 0.0], [50.0, 20.0]], Pen::Dashed);
        d.arc([100.0, 80.0], 20.0, 0.0, 1.0, Pen::Centre);
        d.text([100.0, 100.0], 3.0, Anchor::Middle, "Ø4.5 × 24 ± 0.1");
        d.dimension([10.0, 10.0], [110.0, 10.0], 12.0, "100");
        d.fill_rectangle([0.0, 0.0], [5.0, 5.0], Shade::Pale);
        d
    }

    /// The file read again by the crate's reader.
    fn read_back() -> dxf::Drawing {
        dxf::Drawing::load(&mut &write(&sample()).unwrap()[..]).unwrap()
    }

    #[test]
    fn everything_comes_back_where_it_was() {
        let file = read_back();
        let all: Vec<&Entity> = file.entities().collect();
        let circle = all.iter().find_map(|e| match &e.specific {
            EntityType::Circle(c) => Some((c.center.x, c.center.y, c.radius, e.common.layer.as_str())),
            _ => None,
        });
        assert_eq!(circle, Some((40.0, 30.0, 2.25, "THICK")));
        let long = |e: &&&Entity| matches!(&e.specific, EntityType::Line(l) if l.p2.x - l.p1.x == 100.0);
        assert_eq!(all.iter().filter(long).count(), 2, "the line and its dimension line");
        let closed =
            |e: &&&Entity| matches!(&e.specific, EntityType::Polyline(p) if p.is_closed() && p.vertices().count() == 3);
        assert_eq!(all.iter().filter(closed).count(), 1);
        let solids = all.iter().filter(|e| matches!(e.specific, EntityType::Solid(_)) && e.common.layer == INK_LAYER);
        assert_eq!(solids.count(), 2, "two arrow heads, no pale area");
    }

    #[test]
    fn signs_are_written_the_old_way() {
        let text = String::from_utf8(write(&sample()).unwrap()).unwrap();
        assert!(text.contains("%%c4.5 x 24 %%p 0.1") && text.is_ascii());
    }

    #[test]
    fn release_twelve_without_times_or_handles() {
        let text = String::from_utf8(write(&sample()).unwrap()).unwrap();
        assert!(text.contains("AC1009"));
        for word in ["$TD", "GUID", "$HANDSEED", "AcDb", "VPORT", "BYLAYER", "\r\n  5\r\n"] {
            assert!(!text.contains(word), "{word}");
        }
        assert_eq!(text.as_bytes(), write(&sample()).unwrap());
    }
}

//! 3MF, core part only: objects and where they lie on the plate.
//!
//! Source: 3MF Core Specification 1.4.0, chapters 2 to 4.

use std::io::{Cursor, Write};

use nalgebra::Isometry3;
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use crate::geometry::Mesh;

const CORE: &str = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";
const CONTENT_TYPES: &str = "http://schemas.openxmlformats.org/package/2006/content-types";
const RELATIONSHIPS: &str = "http://schemas.openxmlformats.org/package/2006/relationships";
const START_PART: &str = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel";
const RELATIONSHIPS_TYPE: &str = "application/vnd.openxmlformats-package.relationships+xml";
const MODEL_TYPE: &str = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml";
const MODEL_PATH: &str = "/3D/3dmodel.model";

/// One shape and every place where it is printed.
#[derive(Clone, Debug)]
pub struct Object {
    /// Shown by the slicer.
    pub name: String,
    /// A closed mesh with single-precision coordinates, mm.
    pub mesh: Mesh,
    /// Placements on the plate; together they must keep every coordinate at or above zero.
    pub places: Vec<Isometry3<f64>>,
}

/// Why a plate was not written.
#[derive(Clone, Debug, PartialEq)]
pub enum Refused {
    /// An object has fewer than four triangles or no place.
    Object(String),
    /// A placed object reaches below zero by this much, mm.
    Outside(String, f64),
    /// The packing failed.
    Package(String),
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Object(name) => write!(f, "{name}: an object needs a closed mesh and a place"),
            Self::Outside(name, by) => write!(f, "{name}: lies {by:.3} mm outside the plate"),
            Self::Package(why) => write!(f, "packing failed: {why}"),
        }
    }
}

impl std::error::Error for Refused {}

/// Rounding of a placed coordinate may reach this far below zero, mm; such a coordinate is written as it is read: zero.
const BELOW_ZERO: f64 = 1e-4;

/// The bytes of a 3MF package. Same objects, same bytes. The description says how the parts are to be printed.
///
/// # Errors
/// An empty object, one that leaves the positive octant, or packing that fails.
pub fn write(title: &str, description: &str, objects: &[Object]) -> Result<Vec<u8>, Refused> {
    objects.iter().try_for_each(fits)?;
    let xml = |e: std::io::Error| Refused::Package(e.to_string());
    let parts = [
        ("[Content_Types].xml", content_types().map_err(xml)?),
        ("_rels/.rels", relationships().map_err(xml)?),
        (&MODEL_PATH[1..], model([title, description], objects).map_err(xml)?),
    ];
    pack(&parts).map_err(|e| Refused::Package(e.to_string()))
}

fn fits(o: &Object) -> Result<(), Refused> {
    if o.mesh.triangles.len() < 4 || o.places.is_empty() {
        return Err(Refused::Object(o.name.clone()));
    }
    let lowest = o.places.iter().flat_map(|at| o.mesh.transformed(at).aabb().min).fold(f64::INFINITY, f64::min);
    if lowest >= -BELOW_ZERO { Ok(()) } else { Err(Refused::Outside(o.name.clone(), -lowest)) }
}

fn pack(parts: &[(&str, Vec<u8>)]) -> zip::result::ZipResult<Vec<u8>> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default());
    for (name, bytes) in parts {
        zip.start_file(*name, options)?;
        zip.write_all(bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}

type Xml = Writer<Vec<u8>>;
type Written = std::io::Result<()>;

fn document(body: impl FnOnce(&mut Xml) -> Written) -> std::io::Result<Vec<u8>> {
    let mut w = Writer::new_with_indent(Vec::new(), b' ', 1);
    w.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    body(&mut w)?;
    Ok(w.into_inner())
}

fn content_types() -> std::io::Result<Vec<u8>> {
    document(|w| {
        w.create_element("Types").with_attribute(("xmlns", CONTENT_TYPES)).write_inner_content(|w| {
            let rels = [("Extension", "rels"), ("ContentType", RELATIONSHIPS_TYPE)];
            w.create_element("Default").with_attributes(rels).write_empty()?;
            let model = [("PartName", MODEL_PATH), ("ContentType", MODEL_TYPE)];
            w.create_element("Override").with_attributes(model).write_empty().map(|_| ())
        })?;
        Ok(())
    })
}

fn relationships() -> std::io::Result<Vec<u8>> {
    document(|w| {
        w.create_element("Relationships").with_attribute(("xmlns", RELATIONSHIPS)).write_inner_content(|w| {
            let start = [("Target", MODEL_PATH), ("Id", "rel0"), ("Type", START_PART)];
            w.create_element("Relationship").with_attributes(start).write_empty().map(|_| ())
        })?;
        Ok(())
    })
}

fn model([title, description]: [&str; 2], objects: &[Object]) -> std::io::Result<Vec<u8>> {
    let root = [("unit", "millimeter"), ("xml:lang", "en-US"), ("xmlns", CORE)];
    document(|w| {
        w.create_element("model").with_attributes(root).write_inner_content(|w| {
            for (name, text) in [("Title", title), ("Description", description)] {
                w.create_element("metadata").with_attribute(("name", name)).write_text_content(BytesText::new(text))?;
            }
            w.create_element("resources")
                .write_inner_content(|w| objects.iter().enumerate().try_for_each(|(i, o)| object(w, i + 1, o)))?;
            w.create_element("build").write_inner_content(|w| {
                objects.iter().enumerate().try_for_each(|(i, o)| o.places.iter().try_for_each(|at| item(w, i + 1, at)))
            })?;
            Ok(())
        })?;
        Ok(())
    })
}

fn object(w: &mut Xml, id: usize, o: &Object) -> Written {
    let id = id.to_string();
    let about = [("id", id.as_str()), ("type", "model"), ("name", o.name.as_str())];
    w.create_element("object").with_attributes(about).write_inner_content(|w| {
        w.create_element("mesh").write_inner_content(|w| {
            w.create_element("vertices").write_inner_content(|w| vertices(w, &o.mesh))?;
            w.create_element("triangles").write_inner_content(|w| triangles(w, &o.mesh))?;
            Ok(())
        })?;
        Ok(())
    })?;
    Ok(())
}

fn vertices(w: &mut Xml, mesh: &Mesh) -> Written {
    for p in &mesh.points {
        let [x, y, z] = p.map(|c| (c as f32).to_string());
        w.create_element("vertex").with_attributes([("x", x.as_str()), ("y", &y), ("z", &z)]).write_empty()?;
    }
    Ok(())
}

fn triangles(w: &mut Xml, mesh: &Mesh) -> Written {
    for t in &mesh.triangles {
        let [a, b, c] = t.map(|i| i.to_string());
        w.create_element("triangle").with_attributes([("v1", a.as_str()), ("v2", &b), ("v3", &c)]).write_empty()?;
    }
    Ok(())
}

fn item(w: &mut Xml, id: usize, at: &Isometry3<f64>) -> Written {
    let (id, place) = (id.to_string(), transform(at));
    w.create_element("item").with_attributes([("objectid", id.as_str()), ("transform", &place)]).write_empty()?;
    Ok(())
}

/// Twelve numbers: the images of x, y, z and the origin, row by row (points are rows, multiplied from the left).
fn transform(at: &Isometry3<f64>) -> String {
    let turn = at.rotation.to_rotation_matrix();
    let columns = (0..3).flat_map(|c| (0..3).map(move |r| (r, c))).map(|(r, c)| turn[(r, c)]);
    let all = columns.chain(at.translation.vector.iter().copied());
    all.map(|x| ((x as f32) + 0.0).to_string()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::geometry::{Feature, Solid};

    /// Names of the parts and their text, for reading back.
    ///
    /// # Errors
    /// Bytes that are not a package of UTF-8 texts.
    fn read_parts(bytes: &[u8]) -> Result<BTreeMap<String, String>, Refused> {
        let refuse = |e: String| Refused::Package(e);
        let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|e| refuse(e.to_string()))?;
        let mut parts = BTreeMap::new();
        for i in 0..zip.len() {
            let file = zip.by_index(i).map_err(|e| refuse(e.to_string()))?;
            let name = file.name().map_err(|e| refuse(e.to_string()))?.into_owned();
            let text = std::io::read_to_string(file).map_err(|e| refuse(e.to_string()))?;
            parts.insert(name, text);
        }
        Ok(parts)
    }

    fn block(places: Vec<Isometry3<f64>>) -> Object {
        let at = Isometry3::translation(5.0, 5.0, 5.0);
        Object { name: "a & b".into(), mesh: Solid::of(vec![Feature::block([10.0; 3], &at)]).mesh().unwrap(), places }
    }

    #[test]
    fn the_package_holds_its_three_parts_and_every_item() {
        let o = block(vec![Isometry3::identity(), Isometry3::translation(20.0, 0.0, 0.0)]);
        let bytes = write("Bed 1", "5 walls & 10 solid layers", &[o]).unwrap();
        let parts = read_parts(&bytes).unwrap();
        assert_eq!(parts.keys().collect::<Vec<_>>(), ["3D/3dmodel.model", "[Content_Types].xml", "_rels/.rels"]);
        let model = &parts["3D/3dmodel.model"];
        assert!(model.contains("unit=\"millimeter\"") && model.contains("a &amp; b"));
        assert!(model.contains("<metadata name=\"Description\">5 walls &amp; 10 solid layers</metadata>"));
        assert_eq!(model.matches("<item ").count(), 2);
        assert_eq!(model.matches("<vertex ").count(), 8);
        assert_eq!(model.matches("<triangle ").count(), 12);
        assert!(model.contains("transform=\"1 0 0 0 1 0 0 0 1 20 0 0\""));
        assert!(parts["[Content_Types].xml"].contains("Override PartName=\"/3D/3dmodel.model\""));
    }

    #[test]
    fn the_same_objects_give_the_same_bytes() {
        let once = || write("t", "", &[block(vec![Isometry3::identity()])]).unwrap();
        assert_eq!(once(), once());
    }

    #[test]
    fn what_leaves_the_plate_is_refused() {
        let refused = write("t", "", &[block(vec![Isometry3::translation(-1.0, 0.0, 0.0)])]);
        assert!(matches!(refused, Err(Refused::Outside(_, by)) if (by - 1.0).abs() < 1e-9));
        assert!(matches!(write("t", "", &[block(vec![])]), Err(Refused::Object(_))));
    }
}

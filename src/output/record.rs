//! `record.json`: what a kit was made from and what it holds, for `compare` and `find`.

use std::collections::BTreeMap;

use nalgebra::Isometry3;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::{Files, VerifiedMesh, stem};
use crate::model::Model;
use crate::params::Printing;
use crate::parts::{Part, PartKind};

/// Name of the file.
pub const NAME: &str = "record.json";
/// Decimals kept of lengths, mm: below a millionth nothing is meant.
const DECIMALS: f64 = 1e6;

/// A kit on record.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Record {
    /// Program and version.
    pub made_by: String,
    /// Title of the job.
    pub title: String,
    /// The parameter file as it was written.
    pub text: String,
    /// The same as data, notes left out, keys sorted.
    pub parameters: Value,
    /// Every default that was used: key and value.
    pub assumed: BTreeMap<String, String>,
    /// Printed parts, in file order.
    pub parts: Vec<PartRecord>,
    /// Tubes, legs first.
    pub tubes: Vec<TubeRecord>,
    /// Holes in the underside, spare ones left out.
    pub holes: Vec<HoleRecord>,
    /// How every part is to be printed, as a slicer is told.
    #[serde(default)]
    pub printing: Value,
    /// What the frame was solved with; null for a plan or a fit gauge alone.
    #[serde(default)]
    pub frame: Value,
    /// SHA-256 of every other file of the kit, by path.
    pub files: BTreeMap<String, String>,
}

/// A distinct printed part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartRecord {
    /// Engraved mark.
    pub mark: String,
    /// Name, such as `bracket legs 1 3`.
    pub name: String,
    /// `bracket`, `tie`, `foot`, `fit gauge` or `drill guide`.
    pub sort: String,
    /// How many to print.
    pub count: usize,
    /// Path of the mesh.
    pub file: String,
    /// `exact` or `faceted`: what the STEP file beside it is; empty where there is none.
    pub step: String,
    /// Filament and walls that its strength was judged with; empty for a tool that carries nothing.
    pub material: String,
    /// Legs it belongs to.
    pub legs: Vec<usize>,
    /// Dimensions in the printing frame.
    pub design: Value,
    /// Where it stands.
    pub places: Vec<PlaceRecord>,
}

/// A part in its place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlaceRecord {
    /// Leg number.
    pub leg: usize,
    /// Printing frame to world, rows of a 4 x 4 matrix, mm.
    pub pose: [[f64; 4]; 4],
}

/// Equal tubes of one leg, or one rail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TubeRecord {
    /// `leg tube`, `rail along length` or `rail along width`.
    pub name: String,
    /// Leg numbers.
    pub legs: Vec<usize>,
    /// Size and metal.
    pub stock: String,
    /// Length to which each is cut, mm.
    pub length_mm: f64,
    /// Two ends of each axis, world, mm.
    pub ends: Vec<[[f64; 3]; 2]>,
}

/// A hole in the underside.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HoleRecord {
    /// Leg number.
    pub leg: usize,
    /// Place along the top's length from its middle, mm.
    pub x_mm: f64,
    /// Place along the top's width from its middle, mm.
    pub y_mm: f64,
    /// Pilot diameter, mm.
    pub pilot_mm: f64,
    /// Depth, mm.
    pub depth_mm: f64,
    /// Wood left above the screw's tip, mm.
    pub left_above_tip_mm: f64,
}

impl Record {
    /// What a kit of these parts would hold, without files.
    #[must_use]
    pub fn plan(model: &Model, parts: &[Part], text: &str) -> Self {
        Self {
            made_by: format!("{} {}", env!("CARGO_PKG_NAME"), env!("CARGO_PKG_VERSION")),
            title: model.params.title.clone(),
            text: text.to_owned(),
            parameters: parameters(text),
            assumed: model.params.assumed.iter().map(|a| (a.key.clone(), a.value.clone())).collect(),
            parts: parts.iter().enumerate().map(|(i, p)| part(model, i, p)).collect(),
            tubes: tubes(model),
            holes: holes(model),
            printing: settings(&model.params.printing),
            frame: Value::Null,
            files: BTreeMap::new(),
        }
    }

    /// The record of a finished kit.
    #[must_use]
    pub fn of(model: &Model, printed: &[VerifiedMesh], text: &str, files: &Files) -> Self {
        let parts: Vec<Part> = printed.iter().map(|p| p.part.clone()).collect();
        let mut record = Self::plan(model, &parts, text);
        for (part, printed) in record.parts.iter_mut().zip(printed) {
            if files.contains_key(&part.file.replace(".stl", ".step")) {
                part.step = super::solids::kind(printed).word().to_owned();
            }
        }
        record.files = files.iter().map(|(path, bytes)| (path.clone(), sha256(bytes))).collect();
        record
    }

    /// Reads a record back.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(bytes: &[u8]) -> Result<Self, String> {
        serde_json::from_slice(bytes).map_err(|error| error.to_string())
    }

    /// Adds the record to the files it names.
    ///
    /// # Errors
    /// Never for finite numbers.
    pub fn add_to(&self, files: &mut Files) -> Result<(), String> {
        let mut bytes = serde_json::to_vec_pretty(self).map_err(|error| error.to_string())?;
        bytes.push(b'\n');
        files.insert(NAME.to_owned(), bytes);
        Ok(())
    }
}

/// SHA-256 as lower-case digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// A parameter file as data, notes left out; null where it is no JSON.
#[must_use]
pub fn parameters(text: &str) -> Value {
    let mut value = serde_json::from_str(text.trim_start_matches('\u{feff}')).unwrap_or_default();
    without_notes(&mut value);
    value
}

fn without_notes(value: &mut Value) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(without_notes),
        Value::Object(fields) => {
            fields.remove("note");
            fields.iter_mut().for_each(|(_, field)| without_notes(field));
        }
        _ => {}
    }
}

fn part(model: &Model, index: usize, part: &Part) -> PartRecord {
    let mut design = part.design.clone();
    round(&mut design);
    PartRecord {
        mark: part.mark.clone(),
        name: part.name.clone(),
        sort: part.kind.words().to_owned(),
        count: part.count,
        file: format!("{}.stl", stem(index, part)),
        step: String::new(),
        material: material(model, part.kind),
        legs: part.legs.clone(),
        design,
        places: part.places.iter().map(|(leg, pose)| PlaceRecord { leg: *leg, pose: matrix(pose) }).collect(),
    }
}

/// What besides its dimensions decides whether a printed part is the one that was judged. A gauge shows the fit of its
/// filament only; a guide may be of anything.
fn material(model: &Model, kind: PartKind) -> String {
    let p = &model.params.printing;
    let name = model.params.filament_name();
    match kind {
        PartKind::Guide => String::new(),
        PartKind::Gauge => name.to_owned(),
        _ => format!(
            "{name}, {} walls, {} solid layers of {} mm, nozzle {} mm, infill {} %",
            p.walls,
            p.solid_layers,
            p.layer,
            p.nozzle,
            (p.infill * 100.0).round()
        ),
    }
}

/// Settings of the printing sheet, in numbers that a slicer can be given.
fn settings(p: &Printing) -> Value {
    json!({
        "nozzle_mm": p.nozzle,
        "layer_mm": p.layer,
        "line_width_mm": p.line_width(),
        "walls": p.walls,
        "solid_layers": p.solid_layers,
        "infill": p.infill,
        "bed_mm": p.bed,
        "filament_mm": p.filament_diameter,
        "density_kg_per_m3": p.filament.density,
    })
}

fn matrix(pose: &Isometry3<f64>) -> [[f64; 4]; 4] {
    let m = pose.to_homogeneous();
    std::array::from_fn(|row| std::array::from_fn(|column| rounded(m[(row, column)])))
}

fn tubes(model: &Model) -> Vec<TubeRecord> {
    let point = |p: &nalgebra::Vector3<f64>| [p.x, p.y, p.z].map(rounded);
    let params = &model.params;
    let stock = |tube: &crate::params::Tube, metal: &str| format!("{}, {metal}", tube.name);
    let legs = model.legs.iter().map(|leg| TubeRecord {
        name: "leg tube".to_owned(),
        legs: vec![leg.number],
        stock: stock(&params.legs.tube, params.metal_name()),
        length_mm: tenth(leg.tube_length),
        ends: leg.tubes.iter().map(|ends| ends.each_ref().map(point)).collect(),
    });
    let rails = model.rails.iter().map(|rail| TubeRecord {
        name: rail.name().to_owned(),
        legs: rail.legs.iter().map(|i| model.legs[*i].number).collect(),
        stock: stock(&rail.tube, params.rail_metal_name(rail.from_file)),
        length_mm: tenth(rail.length),
        ends: vec![rail.ends.each_ref().map(point)],
    });
    legs.chain(rails).collect()
}

fn holes(model: &Model) -> Vec<HoleRecord> {
    let holes = model.holes();
    let record = |h: &crate::model::Hole| HoleRecord {
        leg: h.leg,
        x_mm: rounded(h.at[0]),
        y_mm: rounded(h.at[1]),
        pilot_mm: rounded(h.pilot),
        depth_mm: rounded(h.depth),
        left_above_tip_mm: rounded(h.left_above_tip),
    };
    holes.iter().filter(|h| !h.spare).map(record).collect()
}

/// As the cut list has it.
fn tenth(v: f64) -> f64 {
    (v * 10.0).round() / 10.0
}

fn rounded(v: f64) -> f64 {
    (v * DECIMALS).round() / DECIMALS + 0.0
}

fn round(value: &mut Value) {
    match value {
        Value::Number(n) if n.is_f64() => *value = n.as_f64().map_or(Value::Null, |v| Value::from(rounded(v))),
        Value::Array(items) => items.iter_mut().for_each(round),
        Value::Object(fields) => fields.iter_mut().for_each(|(_, field)| round(field)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params::{built_in, read};
    use crate::parts;

    fn bench() -> (Model, Record) {
        let params = read(built_in()).unwrap_or_else(|list| panic!("{list:?}"));
        let model = Model::new(&params).unwrap_or_else(|list| panic!("{list:?}"));
        let parts = parts::all(&model).expect("parts");
        let record = Record::plan(&model, &parts, built_in());
        (model, record)
    }

    #[test]
    fn a_record_is_read_back_as_it_was_written() {
        let (_, record) = bench();
        let mut files = Files::new();
        record.add_to(&mut files).expect("written");
        assert_eq!(Record::read(&files[NAME]).as_ref(), Ok(&record));
    }

    #[test]
    fn every_part_has_its_sort_design_and_places() {
        let (model, record) = bench();
        assert!(record.parts.iter().all(|p| !p.sort.is_empty() && p.design.is_object()), "{record:#?}");
        let standing: usize = record.parts.iter().map(|p| p.places.len()).sum();
        let wanted: usize = model.legs.iter().map(|leg| 2 + leg.ties.len()).sum();
        assert_eq!(standing, wanted);
        assert_eq!(record.tubes.len(), model.legs.len() + model.rails.len());
        assert_eq!(record.holes.len(), 8 * model.legs.len());
    }

    #[test]
    fn the_matrix_takes_the_printing_frame_to_the_world() {
        let (model, record) = bench();
        let bracket = record.parts.iter().find(|p| p.sort == "bracket").expect("a bracket");
        for place in &bracket.places {
            let head = model.legs[place.leg - 1].frame.head;
            let origin = [place.pose[0][3], place.pose[1][3], place.pose[2][3]];
            assert!((nalgebra::Vector3::from(origin) - head).norm() < 1e-5, "{origin:?} {head}");
        }
    }

    #[test]
    fn notes_are_no_parameters() {
        let value = parameters("{\"note\": \"x\", \"a\": [{\"note\": \"y\", \"b\": 1}]}");
        assert_eq!(value, serde_json::json!({ "a": [{ "b": 1 }] }));
    }

    #[test]
    fn the_digest_is_that_of_the_standard() {
        // FIPS 180-2, appendix B.1: "abc".
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}

//! What the turnable view reads: meshes in whole steps, bodies with their places, as JSON for a script element.

use data_encoding::BASE64;
use serde::Serialize;

use super::checklist::Mark;
use super::solids::{self, Table};
use crate::checks::Component;
use crate::geometry::Mesh;
use crate::output::Kit;

/// Steps of a coordinate between the lowest and the highest of its mesh: all that two bytes hold.
const STEPS: f64 = 65_535.0;

/// Everything the view needs.
#[derive(Debug, Serialize)]
pub struct Scene {
    meshes: Vec<Packed>,
    bodies: Vec<Body>,
    parts: Vec<Choice>,
}

/// A mesh: points in steps of its box, corner numbers; little endian, base 64.
#[derive(Debug, Serialize)]
struct Packed {
    low: [f32; 3],
    step: [f32; 3],
    points: String,
    triangles: String,
    /// Corner numbers take four bytes, not two.
    wide: bool,
}

#[derive(Debug, Serialize)]
struct Body {
    mesh: usize,
    sort: &'static str,
    mark: bool,
    matrix: [f32; 16],
    apart: [f32; 3],
}

/// A part that can be shown alone.
#[derive(Debug, Serialize)]
pub struct Choice {
    /// Index of its mesh.
    pub mesh: usize,
    /// What it is called.
    pub name: String,
    sort: &'static str,
}

impl Scene {
    /// The table with the marked part.
    #[must_use]
    pub fn new(kit: &Kit, table: &Table, mark: Option<Mark>) -> Self {
        let bodies = table.bodies.iter().map(|b| Body {
            mesh: b.mesh,
            sort: b.component.word(),
            mark: mark.is_some_and(|m| m.is(b.component, b.leg)),
            matrix: b.matrix().map(|x| x as f32),
            apart: b.apart.map(|x| x as f32),
        });
        let parts = kit.printed.iter().enumerate().map(|(mesh, p)| Choice {
            mesh,
            name: p.part.name.clone(),
            sort: solids::printed(p.part.kind).map_or("tool", Component::word),
        });
        Self { meshes: table.meshes.iter().map(packed).collect(), bodies: bodies.collect(), parts: parts.collect() }
    }

    /// Parts that can be shown alone.
    #[must_use]
    pub fn into_choices(self) -> Vec<Choice> {
        self.parts
    }

    /// JSON that is safe inside a script element.
    ///
    /// # Errors
    /// Never for finite numbers.
    pub fn json(&self) -> Result<String, String> {
        serde_json::to_string(self).map(|text| text.replace('<', "\\u003c")).map_err(|e| e.to_string())
    }
}

fn packed(mesh: &Mesh) -> Packed {
    let boxed = mesh.aabb();
    let size = boxed.size();
    let step = size.map(|s| (s / STEPS).max(f64::MIN_POSITIVE));
    let whole = |p: &[f64; 3]| [0, 1, 2].map(|k| (((p[k] - boxed.min[k]) / step[k]).round().clamp(0.0, STEPS)) as u16);
    let points: Vec<u8> = mesh.points.iter().flat_map(whole).flat_map(u16::to_le_bytes).collect();
    let wide = mesh.points.len() > usize::from(u16::MAX);
    let corners = mesh.triangles.iter().flatten();
    let triangles: Vec<u8> = if wide {
        corners.flat_map(|i| i.to_le_bytes()).collect()
    } else {
        corners.flat_map(|i| (*i as u16).to_le_bytes()).collect()
    };
    Packed {
        low: boxed.min.map(|x| x as f32),
        step: step.map(|x| x as f32),
        points: BASE64.encode(&points),
        triangles: BASE64.encode(&triangles),
        wide,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_come_back_to_a_hundredth_of_a_millimetre() {
        let mesh =
            Mesh { points: vec![[-10.0, 0.0, 5.0], [90.0, 33.3, 5.0], [7.0, 1.0, 9.0]], triangles: vec![[0, 1, 2]] };
        let p = packed(&mesh);
        let bytes = BASE64.decode(p.points.as_bytes()).expect("base 64");
        for (i, want) in mesh.points.iter().flatten().enumerate() {
            let step = u16::from_le_bytes([bytes[2 * i], bytes[2 * i + 1]]);
            let got = f64::from(p.low[i % 3]) + f64::from(step) * f64::from(p.step[i % 3]);
            assert!((got - want).abs() < 0.01, "{got} {want}");
        }
        assert_eq!(BASE64.decode(p.triangles.as_bytes()), Ok(vec![0, 0, 1, 0, 2, 0]));
    }
}

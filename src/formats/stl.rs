//! Binary STL.

use nalgebra::Point3;

use crate::geometry::{Mesh, doubled_area_vector};

/// The first 80 bytes; a reader takes a file beginning with "solid" for text.
const HEADER: &[u8] = b"Binary STL, millimetres, z up";
const HEADER_LENGTH: usize = 80;
const BYTES_PER_TRIANGLE: usize = 50;

/// The bytes of a binary STL file: 84 + 50 per triangle, coordinates as single-precision mm.
///
/// Normals follow from the coordinates as written, so that a reader computes the same.
#[must_use]
pub fn write(mesh: &Mesh) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(HEADER_LENGTH + 4 + BYTES_PER_TRIANGLE * mesh.triangles.len());
    bytes.extend_from_slice(HEADER);
    bytes.resize(HEADER_LENGTH, b' ');
    bytes.extend_from_slice(&(mesh.triangles.len() as u32).to_le_bytes());
    for t in &mesh.triangles {
        facet(&mut bytes, t.map(|i| mesh.points[i as usize].map(|x| x as f32)));
    }
    bytes
}

fn facet(bytes: &mut Vec<u8>, corners: [[f32; 3]; 3]) {
    let normal = doubled_area_vector(&corners.map(|p| Point3::from(p.map(f64::from))));
    let unit: [f64; 3] = normal.try_normalize(0.0).unwrap_or_default().into();
    for v in [unit.map(|x| x as f32)].iter().chain(&corners) {
        v.iter().for_each(|x| bytes.extend_from_slice(&x.to_le_bytes()));
    }
    bytes.extend_from_slice(&[0, 0]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Axis, Feature, Round, Solid};

    #[test]
    fn what_is_read_back_is_what_was_written() {
        let axis = Axis::new([1.0, 2.0, 3.0], [0.1, 0.2, 1.0]);
        let mesh =
            Solid::of(vec![Feature::revolved(&axis, &[(0.0, 8.0), (10.0, 5.0)], Round::Inside, 0.1)]).mesh().unwrap();
        let bytes = write(&mesh);
        assert_eq!(bytes.len(), 84 + 50 * mesh.triangles.len());
        assert!(!bytes.starts_with(b"solid"));
        let back = stl_io::read_stl(&mut std::io::Cursor::new(&bytes)).unwrap();
        assert_eq!((back.faces.len(), back.vertices.len()), (mesh.triangles.len(), mesh.points.len()));
        for (face, t) in back.faces.iter().zip(&mesh.triangles) {
            let n = doubled_area_vector(&mesh.corners(t)).normalize();
            for k in 0..3 {
                assert_eq!(back.vertices[face.vertices[0]].0[k], mesh.points[t[0] as usize][k] as f32);
                assert!((f64::from(face.normal.0[k]) - n[k]).abs() < 1e-6);
            }
        }
    }
}

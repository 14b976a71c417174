//! Triangle meshes of flat outlines.

use super::ground::FrameError;

/// Lines closer than this share of the mesh's size fall together: rounding of coordinates.
const SAME: f64 = 1e-9;

/// Points in the plane and the triangles between them; any outline may be given by hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Places, mm.
    pub points: Vec<[f64; 2]>,
    /// Corners, counter-clockwise.
    pub triangles: Vec<[usize; 3]>,
}

impl Mesh {
    /// A rectangle from `x[0], y[0]` to `x[1], y[1]`, with mesh lines through every one of `lines_x` and `lines_y`
    /// and through the middle, the gaps divided evenly into cells no longer than `cell` mm. Diagonals alternate
    /// outward from the middle (union jack), so a mirrored rectangle gives the mirrored mesh exactly, and one turned
    /// by 90 degrees the turned mesh.
    ///
    /// # Errors
    /// When the rectangle has no area, a line lies outside it, or `cell` is not positive.
    pub fn rectangle(
        x: [f64; 2],
        y: [f64; 2],
        lines_x: &[f64],
        lines_y: &[f64],
        cell: f64,
    ) -> Result<Self, FrameError> {
        if cell.is_nan() || cell <= 0.0 {
            return Err(FrameError::BadValue { what: "mesh size" });
        }
        let (xs, mid_x) = ticks(x, lines_x, cell)?;
        let (ys, mid_y) = ticks(y, lines_y, cell)?;
        let points = xs.iter().flat_map(|x| ys.iter().map(|y| [*x, *y])).collect();
        let mut triangles = vec![];
        for i in 0..xs.len() - 1 {
            for j in 0..ys.len() - 1 {
                let at = |di: usize, dj: usize| (i + di) * ys.len() + j + dj;
                let [a, b, c, d] = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)];
                if rising(i, mid_x) == rising(j, mid_y) {
                    triangles.extend([[a, b, c], [a, c, d]]);
                } else {
                    triangles.extend([[a, b, d], [b, c, d]]);
                }
            }
        }
        Ok(Self { points, triangles })
    }

    /// The point nearest a place; none in an empty mesh.
    #[must_use]
    pub fn nearest(&self, at: [f64; 2]) -> Option<usize> {
        let far = |i: &usize| (self.points[*i][0] - at[0]).hypot(self.points[*i][1] - at[1]);
        (0..self.points.len()).min_by(|a, b| far(a).total_cmp(&far(b)))
    }
}

/// Whether the diagonal of the cell rises along this axis, counted outward from the middle line: product of the side
/// of the middle it lies on and of the parity of its number.
fn rising(cell: usize, middle: usize) -> bool {
    if cell >= middle { (cell - middle).is_multiple_of(2) } else { !(middle - 1 - cell).is_multiple_of(2) }
}

/// Mesh lines along one axis, and the number of the middle one.
fn ticks(ends: [f64; 2], lines: &[f64], cell: f64) -> Result<(Vec<f64>, usize), FrameError> {
    let [low, high] = ends;
    let size = high - low;
    let outside = |v: &f64| !(*v >= low - SAME * size && *v <= high + SAME * size);
    if !size.is_finite() || size <= 0.0 || lines.iter().any(outside) {
        return Err(FrameError::BadValue { what: "mesh rectangle or line" });
    }
    let middle = low + 0.5 * size;
    let mut fixed = vec![low, middle, high];
    for line in lines {
        if fixed.iter().all(|v| (v - line).abs() > SAME * size) {
            fixed.push(*line);
        }
    }
    fixed.sort_by(f64::total_cmp);
    let mut all = vec![low];
    let mut middle_at = 0;
    for gap in fixed.windows(2) {
        let parts = ((gap[1] - gap[0]) / cell - SAME).ceil().max(1.0);
        all.extend((1..parts as usize).map(|i| gap[0] + (gap[1] - gap[0]) * i as f64 / parts));
        all.push(gap[1]);
        if gap[1] == middle {
            middle_at = all.len() - 1;
        }
    }
    Ok((all, middle_at))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(mesh: &Mesh, t: &[usize; 3]) -> f64 {
        let [a, b, c] = t.map(|i| mesh.points[i]);
        0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))
    }

    /// Geometry: lines are met, triangles fill the rectangle and are positive, a mirror image is the same mesh.
    #[test]
    fn rectangle_is_filled_and_mirrors() {
        let mesh = Mesh::rectangle([-100.0, 100.0], [0.0, 90.0], &[-70.0, 70.0], &[33.0, 57.0], 21.0).unwrap();
        assert!(mesh.points.contains(&[-70.0, 33.0]) && mesh.points.contains(&[0.0, 45.0]));
        assert!(mesh.triangles.iter().all(|t| area(&mesh, t) > 0.0));
        let whole: f64 = mesh.triangles.iter().map(|t| area(&mesh, t)).sum();
        assert!((whole - 18_000.0).abs() < 1e-9);
        let keys = |flip: f64| {
            let mut all: Vec<Vec<[i64; 2]>> = mesh
                .triangles
                .iter()
                .map(|t| {
                    let mut p = t
                        .map(|i| mesh.points[i])
                        .map(|p| [(flip * p[0] * 1e6).round() as i64, (p[1] * 1e6).round() as i64])
                        .to_vec();
                    p.sort();
                    p
                })
                .collect();
            all.sort();
            all
        };
        assert_eq!(keys(1.0), keys(-1.0));
    }
}

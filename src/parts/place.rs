//! Where a face has room for an engraved text.

/// Least distance of a text from holes and edges, mm (judgement: three lines of a 0.4 mm nozzle).
const MARGIN: f64 = 1.2;
/// Steps of the search, mm.
const STEP: f64 = 1.0;

/// A rounded rectangular face about the origin with round things in it.
pub(super) struct Face {
    /// Half sizes, mm.
    pub half: [f64; 2],
    /// Radius of the corners, mm.
    pub corner: f64,
    /// Middle and radius of what stands or gapes in it, mm.
    pub busy: Vec<([f64; 2], f64)>,
}

impl Face {
    /// The middle nearest to the wanted one for a text of this size, mm; none where it has no room.
    pub(super) fn place(&self, size: [f64; 2], wanted: [f64; 2]) -> Option<[f64; 2]> {
        let reach = self.half.map(|h| (2.0 * h / STEP).ceil() as i32);
        let far = |p: &[f64; 2]| (p[0] - wanted[0]).hypot(p[1] - wanted[1]);
        let grid = (-reach[0]..=reach[0]).flat_map(|i| (-reach[1]..=reach[1]).map(move |j| [i, j]));
        let all = grid.map(|[i, j]| [wanted[0] + STEP * f64::from(i), wanted[1] + STEP * f64::from(j)]);
        all.filter(|p| self.fits(size, p)).min_by(|a, b| far(a).total_cmp(&far(b)))
    }

    fn fits(&self, size: [f64; 2], at: &[f64; 2]) -> bool {
        let half = size.map(|s| s / 2.0 + MARGIN);
        let outer = [0, 1].map(|k| at[k].abs() + half[k]);
        let into_corner = [0, 1].map(|k| (outer[k] - self.half[k] + self.corner).max(0.0));
        let inside = outer[0] <= self.half[0]
            && outer[1] <= self.half[1]
            && into_corner[0].hypot(into_corner[1]) <= self.corner.max(f64::MIN_POSITIVE);
        inside && self.busy.iter().all(|(c, r)| gap(half, at, c) >= *r)
    }
}

/// Distance of a point from a rectangle with these half sizes about `at`, mm.
fn gap(half: [f64; 2], at: &[f64; 2], point: &[f64; 2]) -> f64 {
    let d = [0, 1].map(|k| ((point[k] - at[k]).abs() - half[k]).max(0.0));
    d[0].hypot(d[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_moves_out_of_the_way_of_a_hole_and_no_farther() {
        let face = Face { half: [30.0, 20.0], corner: 5.0, busy: vec![([0.0, 0.0], 4.0)] };
        let [x, y] = face.place([14.0, 4.0], [0.0, 0.0]).expect("room");
        assert!(x == 0.0 && (y.abs() - (4.0 + 2.0 + MARGIN)).abs() <= STEP, "{x} {y}");
    }

    #[test]
    fn a_text_keeps_inside_rounded_corners_or_is_left_out() {
        let face = Face { half: [10.0, 10.0], corner: 10.0, busy: Vec::new() };
        assert_eq!(face.place([10.0, 4.0], [0.0, 0.0]), Some([0.0, 0.0]));
        assert_eq!(face.place([16.0, 8.0], [0.0, 0.0]), None, "its corners lie 12 mm from the middle of a round face");
    }
}

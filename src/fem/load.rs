//! Load cases: forces at nodes, gravity, and loads on plates brought to their nodes.

use super::frame::Frame;
use super::ground::{DOF, FrameError, NodeId, PlateId};
use super::plate::{Plate, Triangle};

/// How far outside a triangle, as a barycentric coordinate, a point still belongs to it: rounding of coordinates.
const EDGE: f64 = 1e-9;

/// How much of a patch or line may miss the plate: rounding of coordinates.
const MISSED: f64 = 1e-9;

/// Loads that act together. All components are global; forces N, moments N mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Case {
    nodal: Vec<f64>,
    /// mm/s2.
    gravity: [f64; 3],
}

impl Case {
    /// No load.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn add(&mut self, dof: usize, value: f64) {
        if self.nodal.len() <= dof {
            self.nodal.resize(dof + 1, 0.0);
        }
        self.nodal[dof] += value;
    }

    /// Forces at every degree of freedom of a frame with `nodes` nodes, gravity not included.
    pub(super) fn nodal(&self, nodes: usize) -> Vec<f64> {
        let mut all = self.nodal.clone();
        all.resize(nodes * DOF, 0.0);
        all
    }

    pub(super) fn acceleration(&self) -> [f64; 3] {
        self.gravity
    }

    /// A force at a node, N.
    pub fn force(&mut self, node: NodeId, force: [f64; 3]) {
        (0..3).for_each(|d| self.add(node.0 * DOF + d, force[d]));
    }

    /// A moment at a node, N mm.
    pub fn moment(&mut self, node: NodeId, moment: [f64; 3]) {
        (0..3).for_each(|d| self.add(node.0 * DOF + 3 + d, moment[d]));
    }

    /// The weight of everything that has a density and of every lump of mass, under an acceleration in mm/s2
    /// ([0, 0, -9806.65] for the weight on Earth). Mass carried on plates is left out.
    pub fn gravity(&mut self, acceleration: [f64; 3]) {
        (0..3).for_each(|d| self.gravity[d] += acceleration[d]);
    }

    /// A force per area over a whole plate, N/mm2.
    pub fn pressure(&mut self, frame: &Frame, plate: PlateId, traction: [f64; 3]) {
        let plate = &frame.plates[plate.0];
        for (nodes, shape) in plate.triangles.iter().zip(&plate.shapes) {
            self.share(nodes, [1.0 / 3.0; 3], traction.map(|t| t * shape.area));
        }
    }

    /// A force per area over the rectangle from `low` to `high` in the plate's x and y, N/mm2: exact, whatever
    /// triangles it cuts.
    ///
    /// # Errors
    /// When part of the rectangle lies beside the plate, or it has no area.
    pub fn patch(
        &mut self,
        frame: &Frame,
        plate: PlateId,
        low: [f64; 2],
        high: [f64; 2],
        traction: [f64; 3],
    ) -> Result<(), FrameError> {
        let plate = &frame.plates[plate.0];
        let whole = (high[0] - low[0]) * (high[1] - low[1]);
        if low[0] >= high[0] || low[1] >= high[1] || !whole.is_finite() {
            return Err(FrameError::BadValue { what: "loaded rectangle" });
        }
        let pieces: Vec<_> = plate.shapes.iter().map(|shape| clip(shape, low, high)).collect();
        if pieces.iter().map(|(area, _)| area).sum::<f64>() < whole * (1.0 - MISSED) {
            return Err(FrameError::OutsidePlate { at: low });
        }
        for ((nodes, shape), (area, middle)) in plate.triangles.iter().zip(&plate.shapes).zip(pieces) {
            if area > 0.0 {
                self.share(nodes, shape.weights(middle), traction.map(|t| t * area));
            }
        }
        Ok(())
    }

    /// A force per length along the line from `from` to `to` in the plate's x and y, N/mm; along an edge or across.
    ///
    /// # Errors
    /// When part of the line lies beside the plate, or it has no length.
    pub fn line(
        &mut self,
        frame: &Frame,
        plate: PlateId,
        from: [f64; 2],
        to: [f64; 2],
        force: [f64; 3],
    ) -> Result<(), FrameError> {
        let plate = &frame.plates[plate.0];
        let length = (to[0] - from[0]).hypot(to[1] - from[1]);
        if length <= 0.0 || !length.is_finite() {
            return Err(FrameError::BadValue { what: "loaded line" });
        }
        let at = |t: f64| [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
        let pieces = cuts(plate, from, to);
        for pair in pieces.windows(2).filter(|pair| pair[1] - pair[0] > EDGE) {
            let middle = at(0.5 * (pair[0] + pair[1]));
            let holding = holding(plate, middle);
            if holding.is_empty() {
                return Err(FrameError::OutsidePlate { at: middle });
            }
            let part = length * (pair[1] - pair[0]) / holding.len() as f64;
            for index in holding {
                let weights = plate.shapes[index].weights(middle);
                self.share(&plate.triangles[index], weights, force.map(|f| f * part));
            }
        }
        Ok(())
    }

    /// A force at any place over a plate, N; `place` is global, mm. A height difference to the plate's nodes gives
    /// the moment it should.
    ///
    /// # Errors
    /// When the place lies beside the plate.
    pub fn point(&mut self, frame: &Frame, plate: PlateId, place: [f64; 3], force: [f64; 3]) -> Result<(), FrameError> {
        let plate = &frame.plates[plate.0];
        let local = plate.axes.0 * nalgebra::Vector3::from(place);
        let at = [local.x, local.y];
        let index = *holding(plate, at).first().ok_or(FrameError::OutsidePlate { at })?;
        let (nodes, weights) = (&plate.triangles[index], plate.shapes[index].weights(at));
        self.share(nodes, weights, force);
        let foot: nalgebra::Vector3<f64> = nodes.iter().zip(weights).map(|(n, w)| frame.nodes[*n] * w).sum();
        let moment = (nalgebra::Vector3::from(place) - foot).cross(&nalgebra::Vector3::from(force));
        for (node, w) in nodes.iter().zip(weights) {
            self.moment(NodeId(*node), moment.map(|m| m * w).into());
        }
        Ok(())
    }

    fn share(&mut self, nodes: &[usize; 3], weights: [f64; 3], force: [f64; 3]) {
        for (node, w) in nodes.iter().zip(weights) {
            self.force(NodeId(*node), force.map(|f| f * w));
        }
    }
}

/// The triangles that hold a point; several when it lies on an edge.
fn holding(plate: &Plate, at: [f64; 2]) -> Vec<usize> {
    let inside = |shape: &Triangle| shape.weights(at).iter().all(|w| *w >= -EDGE);
    (0..plate.shapes.len()).filter(|i| inside(&plate.shapes[*i])).collect()
}

/// Where a line enters and leaves triangles, as shares of its length, sorted, with both ends.
fn cuts(plate: &Plate, from: [f64; 2], to: [f64; 2]) -> Vec<f64> {
    let mut all = vec![0.0, 1.0];
    for shape in &plate.shapes {
        let (a, b) = (shape.weights(from), shape.weights(to));
        let crossing = a.iter().zip(b).filter(|(a, b)| (*a - b).abs() > EDGE).map(|(a, b)| a / (a - b));
        all.extend(crossing.filter(|t| *t > 0.0 && *t < 1.0));
    }
    all.sort_by(f64::total_cmp);
    all
}

/// Area and centroid of the part of a triangle inside a rectangle.
fn clip(shape: &Triangle, low: [f64; 2], high: [f64; 2]) -> (f64, [f64; 2]) {
    let mut polygon: Vec<[f64; 2]> = (0..3).map(|i| [shape.x[i], shape.y[i]]).collect();
    for axis in 0..2 {
        polygon = cut(&polygon, |p| p[axis] - low[axis]);
        polygon = cut(&polygon, |p| high[axis] - p[axis]);
    }
    let (mut area, mut first) = (0.0, [0.0; 2]);
    let Some(origin) = polygon.first().copied() else { return (0.0, [0.0; 2]) };
    for pair in polygon[1..].windows(2) {
        let [a, b] = [pair[0], pair[1]].map(|p| [p[0] - origin[0], p[1] - origin[1]]);
        let part = 0.5 * (a[0] * b[1] - b[0] * a[1]);
        area += part;
        (0..2).for_each(|d| first[d] += part * (a[d] + b[d]) / 3.0);
    }
    if area > 0.0 { (area, [origin[0] + first[0] / area, origin[1] + first[1] / area]) } else { (0.0, origin) }
}

/// The part of a convex polygon where `depth` is not negative.
fn cut(polygon: &[[f64; 2]], depth: impl Fn(&[f64; 2]) -> f64) -> Vec<[f64; 2]> {
    let mut kept = vec![];
    for (i, p) in polygon.iter().enumerate() {
        let q = &polygon[(i + 1) % polygon.len()];
        let (dp, dq) = (depth(p), depth(q));
        if dp >= 0.0 {
            kept.push(*p);
        }
        if (dp > 0.0 && dq < 0.0) || (dp < 0.0 && dq > 0.0) {
            let t = dp / (dp - dq);
            kept.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::super::{Mesh, PlateSection};
    use super::*;

    fn board() -> (Frame, PlateId) {
        let mut frame = Frame::new();
        let mesh = Mesh::rectangle([0.0, 300.0], [0.0, 200.0], &[40.0], &[], 70.0).unwrap();
        let plate = frame.level_plate(&mesh, 50.0, PlateSection::isotropic(20.0, 1e4, 0.3, 1e-9), 10.0).unwrap().0;
        (frame, plate)
    }

    /// Force and moment about the origin.
    fn sums(frame: &Frame, case: &Case) -> [f64; 6] {
        let mut out = [0.0; 6];
        for (f, p) in case.nodal(frame.nodes.len()).chunks(6).zip(&frame.nodes) {
            let m = p.cross(&nalgebra::Vector3::new(f[0], f[1], f[2]));
            (0..3).for_each(|d| out[d] += f[d]);
            (0..3).for_each(|d| out[3 + d] += f[3 + d] + m[d]);
        }
        out
    }

    /// Statics: force and moment of every kind of load on a plate are those of the load itself.
    #[test]
    fn plate_loads_keep_force_and_moment() {
        let (frame, plate) = board();
        let f = [1.0, -2.0, -5.0];
        let mut cases = [Case::new(), Case::new(), Case::new(), Case::new()];
        cases[0].pressure(&frame, plate, f);
        cases[1].patch(&frame, plate, [33.0, 11.0], [217.0, 190.0], f).unwrap();
        cases[2].line(&frame, plate, [10.0, 200.0], [290.0, 200.0], f).unwrap();
        cases[3].point(&frame, plate, [123.0, 45.0, 90.0], f).unwrap();
        let mut across = Case::new();
        across.line(&frame, plate, [0.0, 0.0], [300.0, 200.0], f).unwrap();
        let resultants = [
            (60_000.0, [150.0, 100.0, 50.0]),
            (184.0 * 179.0, [125.0, 100.5, 50.0]),
            (280.0, [150.0, 200.0, 50.0]),
            (1.0, [123.0, 45.0, 90.0]),
            (300.0_f64.hypot(200.0), [150.0, 100.0, 50.0]),
        ];
        for (case, (size, at)) in cases.iter().chain([&across]).zip(resultants) {
            let force = nalgebra::Vector3::from(f) * size;
            let moment = nalgebra::Vector3::from(at).cross(&force);
            let got = sums(&frame, case);
            for d in 0..3 {
                assert!((got[d] - force[d]).abs() < 1e-9 * size * 5.0, "{got:?}");
                assert!((got[3 + d] - moment[d]).abs() < 1e-9 * size * 1500.0, "{got:?} {moment:?}");
            }
        }
    }

    /// A load beside the plate is refused, not lost.
    #[test]
    fn loads_beside_the_plate_are_refused() {
        let (frame, plate) = board();
        let mut case = Case::new();
        let f = [0.0, 0.0, -1.0];
        assert!(case.point(&frame, plate, [301.0, 10.0, 50.0], f).is_err());
        assert!(case.patch(&frame, plate, [250.0, 10.0], [310.0, 20.0], f).is_err());
        assert!(case.line(&frame, plate, [-1.0, 10.0], [310.0, 20.0], f).is_err());
        assert_eq!(case, Case::new());
    }
}

//! A part as features that add and features that cut, and its print mesh.

use std::panic::{AssertUnwindSafe, catch_unwind};

use nalgebra::Isometry3;

use super::cavity;
use super::fault::Fault;
use super::feature::Feature;
use super::inside::Inside;
use super::kernel::{Body, Numbering};
use super::mesh::{Aabb, Mesh};
use super::primitive::Primitive;

/// Boxes nearer than this, mm, are treated as touching, so their features are not put into one operand.
const BATCH_GAP: f64 = 1e-3;

/// A part: everything in `adds` joined, everything in `cuts` taken away, then everything in `ridges` joined.
#[derive(Clone, Debug, Default)]
pub struct Solid {
    /// What is joined first; every feature must overlap the rest, not merely touch.
    pub adds: Vec<Feature>,
    /// What is taken away; cutters overshoot the faces they break through.
    pub cuts: Vec<Feature>,
    /// What is joined after the cuts: ribs in a bore.
    pub ridges: Vec<Feature>,
}

impl Solid {
    /// A solid without cuts.
    #[must_use]
    pub fn of(adds: Vec<Feature>) -> Self {
        Self { adds, ..Self::default() }
    }

    /// The solid moved and turned.
    ///
    /// Features whose faces fall together exactly should be meshed where their coordinates are plain numbers; a turn
    /// spoils the coincidence by rounding. Then turn the mesh: `mesh.transformed(&at).rounded()`.
    #[cfg(test)]
    fn placed(&self, at: &Isometry3<f64>) -> Self {
        let all = |list: &[Feature]| list.iter().map(|f| f.placed(at)).collect();
        Self { adds: all(&self.adds), cuts: all(&self.cuts), ridges: all(&self.ridges) }
    }

    /// The solid with more cuts.
    #[cfg(test)]
    pub(crate) fn minus(mut self, cuts: impl IntoIterator<Item = Feature>) -> Self {
        self.cuts.extend(cuts);
        self
    }

    /// The same with every add but the first moved sideways by at most `step` mm, each another way: faces and edges that
    /// nearly fall together, which booleans cannot tell apart, no longer do.
    #[must_use]
    pub fn nudged(&self, step: f64) -> Self {
        let moved = |(i, f): (usize, &Feature)| {
            // The golden angle never repeats a direction.
            let (angle, size) = (2.399_963 * i as f64, if i == 0 { 0.0 } else { step });
            f.placed(&Isometry3::translation(size * angle.cos(), size * angle.sin(), 0.0))
        };
        Self { adds: self.adds.iter().enumerate().map(moved).collect(), ..self.clone() }
    }

    /// The same with every cut moved as well.
    #[must_use]
    pub fn nudged_throughout(&self, step: f64) -> Self {
        let cuts = Self { adds: self.cuts.clone(), ..Self::default() }.nudged(step).adds;
        Self { cuts, ..self.nudged(step) }
    }

    /// The plate that everything else stands on: size along x and y, radius of its corners, thickness, mm; none where the first
    /// feature is none.
    #[must_use]
    pub fn plate(&self) -> Option<([f64; 2], f64, f64)> {
        match self.adds.first()?.primitive {
            Primitive::Plate { size, corner, thickness } => Some((size, corner, thickness)),
            _ => None,
        }
    }

    /// Where the solid is, exactly.
    #[must_use]
    pub fn inside(&self) -> Inside<'_> {
        Inside::of(&self.adds, &self.cuts, &self.ridges)
    }

    /// The box round everything that is added.
    #[must_use]
    pub fn aabb(&self) -> Aabb {
        let boxes = self.adds.iter().chain(&self.ridges).map(Feature::aabb);
        boxes.fold(Aabb::EMPTY, |all, b| all.including(&b.min).including(&b.max))
    }

    /// Volume without booleans, mm3, within half a per cent for brackets.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.inside().volume(&self.aabb())
    }

    /// The print mesh: one closed surface with single-precision coordinates, same features same mesh.
    ///
    /// # Errors
    /// A feature without positive volume, or a boolean or triangulation that fails.
    pub fn mesh(&self) -> Result<Mesh, Fault> {
        self.mesh_and_pockets().map(|(mesh, _)| mesh)
    }

    /// The print mesh, and the volume of small closed pockets between features that were filled up, mm3.
    ///
    /// # Errors
    /// As [`Solid::mesh`].
    pub fn mesh_and_pockets(&self) -> Result<(Mesh, f64), Fault> {
        let all = [&self.adds, &self.cuts, &self.ridges];
        all.into_iter().flatten().try_for_each(positive)?;
        let build = || {
            let numbering = &mut Numbering::default();
            let mut adds = operands(&self.adds, numbering)?.into_iter();
            let mut body = adds.next().ok_or(Fault::Empty)?;
            for more in adds {
                body = body.join(&more)?;
            }
            for tool in operands(&self.cuts, numbering)? {
                body = body.without(&tool)?;
            }
            for ridge in operands(&self.ridges, numbering)? {
                body = body.join(&ridge)?;
            }
            body.mesh().map(cavity::filled)
        };
        let caught = catch_unwind(AssertUnwindSafe(build));
        caught.unwrap_or_else(|_| Err(kernel_fault("the boolean kernel stopped")))
    }
}

fn kernel_fault(reason: &str) -> Fault {
    Fault::Kernel { doing: "meshing", reason: reason.into() }
}

fn positive(f: &Feature) -> Result<(), Fault> {
    let volume = f.mesh().volume();
    if volume.is_finite() && volume > 0.0 { Ok(()) } else { Err(Fault::Feature { kind: f.kind, volume }) }
}

/// Gathers features whose boxes keep apart into common operands, first come first served.
fn operands(features: &[Feature], numbering: &mut Numbering) -> Result<Vec<Body>, Fault> {
    let mut batches: Vec<(Vec<Aabb>, Vec<&Feature>)> = Vec::new();
    for f in features {
        let b = f.aabb();
        let free = batches.iter_mut().find(|(boxes, _)| !boxes.iter().any(|o| o.meets(&b, BATCH_GAP)));
        match free {
            Some((boxes, list)) => {
                boxes.push(b);
                list.push(f);
            }
            None => batches.push((vec![b], vec![f])),
        }
    }
    batches.into_iter().map(|(_, list)| Body::of(&list, numbering)).collect()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use nalgebra::Vector3;

    use super::*;
    use crate::formats::stl;
    use crate::geometry::{Axis, LABEL_DEPTH, Label, Outline, Round, bore_diameter, judge, samples};

    const CHORD: f64 = 0.05;

    #[test]
    fn a_hundred_random_brackets_pass_the_gate_and_their_bores_measure_true() {
        for seed in 1..=100 {
            let sample = samples::bracket(seed, CHORD);
            let mesh = sample.solid.mesh().unwrap_or_else(|f| panic!("bracket {seed}: {f}"));
            let judged = judge(&stl::write(&mesh)).unwrap_or_else(|f| panic!("bracket {seed}: {f:?}"));
            for (axis, radius) in sample.bores {
                // Below ribs, grooves and cross bolts, above the floor.
                let d = bore_diameter(&judged.mesh, &axis, 3.2, 4.6);
                assert!((0.0..=0.02).contains(&(d - 2.0 * radius)), "bracket {seed}: {d} for {}", 2.0 * radius);
            }
        }
    }

    #[test]
    fn labels_on_turned_parts_leave_no_slivers() {
        let turn = Isometry3::new(Vector3::new(13.3, -7.1, 5.5), Vector3::new(0.3, 0.7, -0.4));
        for seed in 1000..1020 {
            let mesh =
                samples::bracket(seed, CHORD).solid.placed(&turn).mesh().unwrap_or_else(|f| panic!("{seed}: {f}"));
            judge(&stl::write(&mesh)).unwrap_or_else(|f| panic!("bracket {seed}: {f:?}"));
        }
    }

    #[test]
    fn faces_that_fall_together_are_joined_or_cut_cleanly() {
        let block = |x: f64, z: f64| Feature::block([10.0; 3], &Isometry3::translation(x, 0.0, z));
        let post = |from: f64, to: f64| {
            Feature::revolved(&Axis::upright(0.0, 0.0), &[(from, 5.0), (to, 5.0)], Round::Inside, CHORD)
        };
        let circle = Outline::circle(5.0, Round::Inside, CHORD).area();
        for (solid, volume) in [
            (Solid::of(vec![block(0.0, 0.0), block(10.0, 0.0)]), 2000.0),
            (Solid::of(vec![block(0.0, 0.0), block(3.0, 10.0)]), 2000.0),
            (Solid::of(vec![post(0.0, 10.0), post(10.0, 20.0)]), 20.0 * circle),
            (Solid::of(vec![post(0.0, 10.0), post(5.0, 20.0)]), 20.0 * circle),
            (Solid::of(vec![block(0.0, 0.0), post(-5.0, 15.0)]), 1000.0 + 10.0 * circle),
            // The cut only touches the outermost corners of the post.
            (Solid::of(vec![post(-5.0, 5.0)]).minus([block(10.0, 0.0)]), 10.0 * circle),
        ] {
            let judged = judge(&stl::write(&solid.mesh().unwrap()));
            let found = judged.map(|j| j.volume).unwrap_or_default();
            assert!((found - volume).abs() < 1e-3, "{found} {volume}");
        }
    }

    #[test]
    fn the_same_features_give_the_same_bytes() {
        for seed in 1..=10 {
            let solid = samples::bracket(seed, CHORD).solid;
            let once = || stl::write(&solid.mesh().unwrap());
            assert!(once() == once(), "bracket {seed}");
        }
    }

    #[test]
    fn a_bored_plate_has_the_volume_of_the_closed_form() {
        let plate =
            Feature::prism(&Outline::rounded_rectangle(60.0, 40.0, 5.0, 1e-3), 0.0, 8.0, &Isometry3::identity());
        let bore = Feature::revolved(&Axis::upright(3.0, 2.0), &[(-1.0, 6.0), (9.0, 6.0)], Round::Outside, 1e-3);
        let volume = Solid::of(vec![plate]).minus([bore]).mesh().unwrap().volume();
        let closed = (2400.0 - (4.0 - PI) * 25.0 - PI * 36.0) * 8.0;
        // Chord error and bore allowance (0.001 mm each) over the curved walls.
        assert!((volume - closed).abs() < 2e-3 * 8.0 * (10.0 * PI + 12.0 * PI), "{volume} {closed}");
    }

    #[test]
    fn order_of_cutting_does_not_matter() {
        let block = || Feature::block([20.0; 3], &Isometry3::identity());
        let cut = |x: f64| Feature::block([4.0, 30.0, 5.0], &Isometry3::translation(x, 0.0, 10.0));
        let there = Solid::of(vec![block()]).minus([cut(-3.0), cut(0.0), cut(3.0)]).mesh().unwrap().volume();
        let back = Solid::of(vec![block()]).minus([cut(3.0), cut(0.0), cut(-3.0)]).mesh().unwrap().volume();
        assert!((there - (8000.0 - 10.0 * 20.0 * 2.5)).abs() < 1e-6 && (there - back).abs() < 1e-6);
    }

    #[test]
    fn ridges_stand_in_the_bore_that_was_cut() {
        let axis = Axis::upright(0.0, 0.0);
        let post = Feature::revolved(&axis, &[(0.0, 13.0), (40.0, 13.0)], Round::Inside, CHORD);
        let bore = Feature::revolved(&axis, &[(5.0, 8.0), (41.0, 8.0)], Round::Outside, CHORD);
        let mut solid = Solid::of(vec![post]).minus([bore]);
        solid.ridges =
            (0..3).map(|k| Feature::rib(&axis, 2.1 * f64::from(k), 8.0, [0.25, 0.6, 0.8], [10.0, 35.0])).collect();
        let judged = judge(&stl::write(&solid.mesh().unwrap())).unwrap();
        assert!((bore_diameter(&judged.mesh, &axis, 12.0, 33.0) - 15.5).abs() < 0.01);
        assert!(bore_diameter(&judged.mesh, &axis, 5.5, 9.5) >= 16.0);
    }

    #[test]
    fn a_label_on_any_face_takes_away_its_strokes() {
        let label = Label::new("I", 5.0).unwrap();
        let face = Isometry3::new(Vector3::new(0.0, -10.0, 0.0), Vector3::new(PI / 2.0, 0.0, 0.0));
        let block = || Solid::of(vec![Feature::block([20.0; 3], &Isometry3::identity())]);
        let cut = block().minus(label.cuts(&face, LABEL_DEPTH).unwrap()).mesh().unwrap();
        judge(&stl::write(&cut)).unwrap();
        let gone = 8000.0 - cut.volume();
        assert!(gone > 2.0 && gone < label.width() * label.height() * LABEL_DEPTH, "{gone}");
    }

    #[test]
    fn what_nearly_touches_is_nudged_apart_and_keeps_its_volume() {
        // A block turned by 24 microradians whose side runs along a post's outermost edge.
        let post = Feature::revolved(&Axis::upright(0.0, 0.0), &[(0.0, 19.75), (43.0, 19.75)], Round::Inside, CHORD);
        let at = Isometry3::from_parts(
            nalgebra::Translation3::new(0.0, -15.0, 21.5),
            nalgebra::UnitQuaternion::from_axis_angle(&Vector3::z_axis(), 2.4e-5),
        );
        let solid = Solid::of(vec![post, Feature::block([39.5, 69.5, 42.5], &at)]);
        let nudged = solid.nudged(0.002).mesh().map(|m| judge(&stl::write(&m)).map(|j| j.volume));
        let volume = nudged.unwrap().unwrap();
        // The post stands 0.25 mm out of the block at both ends; its chord error counts there only.
        let closed = 39.5 * 69.5 * 42.5 + PI * 19.75 * 19.75 * 0.5;
        assert!((volume - closed).abs() < 0.5 * 2.0 * PI * 19.75 * CHORD + 1.0, "{volume} {closed}");
        assert_eq!(solid.nudged(0.002).adds[0].aabb(), solid.adds[0].aabb());
    }

    #[test]
    fn contradictory_features_are_faults_and_not_panics() {
        let at = Isometry3::identity();
        let upside_down = Feature::prism(&Outline::hexagon(7.0), 5.0, 0.0, &at);
        assert!(matches!(Solid::of(vec![upside_down]).mesh(), Err(Fault::Feature { kind: "prism", .. })));
        let blind = Feature::teardrop_bore(&Axis::upright(0.0, 0.0), [0.0, 0.0, 1.0], 2.0, None, [0.0, 5.0], CHORD);
        assert!(matches!(Solid::of(vec![blind]).mesh(), Err(Fault::Feature { kind: "teardrop bore", .. })));
        assert_eq!(Solid::default().mesh(), Err(Fault::Empty));
        let all_gone = Solid::of(vec![Feature::block([1.0; 3], &at)]).minus([Feature::block([2.0; 3], &at)]);
        assert!(all_gone.mesh().is_err());
    }
}

//! Boundary representations: exact ones glued from rings, faceted ones from a print mesh.

mod described;
mod faceted;
mod glue;
mod measure;
#[cfg(test)]
mod meshed;
mod plate;
mod step;

use truck_modeling::{Curve, Point3, Surface};
use truck_topology::compress::CompressedShell;

use super::{Fault, Solid};

pub use faceted::faceted;
use plate::PlateWithBosses;

/// How a boundary representation came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// True cylinders, cones and planes.
    Exact,
    /// Planes through the facets of the print mesh.
    Faceted,
}

impl Kind {
    /// The word used in reports.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Exact => "exact",
            Self::Faceted => "faceted",
        }
    }
}

/// A closed boundary representation of one body.
#[derive(Clone, Debug)]
pub struct Brep {
    shell: CompressedShell<Point3, Curve, Surface>,
    /// How it came about.
    pub kind: Kind,
    /// Enclosed volume, mm3, integrated over the faces and not through any mesh.
    pub volume: f64,
    /// Area of the faces that are not flat, mm2. Times the chord error it bounds how far a mesh's volume may differ.
    pub curved_area: f64,
}

/// The exact solid of a part without its engraving.
///
/// # Errors
/// Features that are not those of a plate with holes and bosses, dimensions that contradict each other, a case that is not
/// covered, or a shell that does not close.
pub fn exact(solid: &Solid) -> Result<Brep, Fault> {
    let part = PlateWithBosses::of(solid).ok_or_else(|| Fault::NotGlued("not a plate with holes and bosses".into()))?;
    glue::glued(&part)
}

impl Brep {
    fn new(shell: CompressedShell<Point3, Curve, Surface>, kind: Kind) -> Self {
        let (volume, curved_area) = measure::volume_and_curved_area(&shell);
        Self { shell, kind, volume, curved_area }
    }

    /// The text of a STEP file (AP214). Same solid, same text.
    ///
    /// # Errors
    /// A surface or curve that STEP text cannot hold.
    pub fn step(&self, name: &str) -> Result<String, Fault> {
        step::text(&self.shell, name)
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use nalgebra::{Unit, Vector3};

    use super::glue::glued;
    use super::plate::{BossOnPlate, GussetRow, HoleInPlate};
    use super::*;
    use crate::formats::{step, stl};
    use crate::geometry::{Axis, Feature, judge, samples};

    const CHORD: f64 = 0.05;

    fn lean(x: f64, y: f64) -> Unit<Vector3<f64>> {
        Unit::new_normalize(Vector3::new(x, y, 1.0))
    }

    fn boss(at: [f64; 2], dir: Unit<Vector3<f64>>) -> BossOnPlate {
        let bore = vec![(-3.0, 8.15), (44.0, 8.15), (45.0, 9.15)];
        BossOnPlate { at, dir, radius: 13.0, top: 45.0, flare: 0.0, bore, gussets: None }
    }

    fn grooved() -> Vec<(f64, f64)> {
        vec![(-1.0, 8.15), (10.0, 8.15), (10.4, 8.55), (10.8, 8.55), (11.2, 8.15), (44.0, 8.15), (45.0, 9.15)]
    }

    fn row(toe: f64) -> GussetRow {
        GussetRow { toward: vec![0.3, 1.9, 3.4, 5.0], run: 16.0, rise: 24.0, toe, thickness: 5.0 }
    }

    fn plate(bosses: Vec<BossOnPlate>) -> PlateWithBosses {
        let sunk = vec![(0.0, 2.4), (5.8, 2.4), (8.0, 4.6)];
        let bored = vec![(0.0, 2.4), (5.0, 2.4), (5.0, 4.6), (8.0, 4.6)];
        let hole = |x, y, profile: &Vec<_>, slot| HoleInPlate { at: [x, y], profile: profile.clone(), slot };
        let holes = vec![
            hole(-50.0, -40.0, &sunk, None),
            hole(50.0, -40.0, &bored, None),
            hole(50.0, 40.0, &sunk, Some((4.0, 0.7))),
            hole(-50.0, 40.0, &bored, Some((5.0, -0.4))),
        ];
        PlateWithBosses { width: 130.0, depth: 110.0, corner: 9.0, thickness: 8.0, holes, bosses }
    }

    fn cases() -> Vec<(&'static str, PlateWithBosses)> {
        let skirted = |b: BossOnPlate| BossOnPlate { flare: 2.0, ..b };
        let with = |b: BossOnPlate, g| BossOnPlate { gussets: Some(g), ..b };
        let one = GussetRow { toward: vec![0.8], ..row(0.0) };
        vec![
            ("bare", plate(vec![])),
            ("upright", plate(vec![boss([0.0, 0.0], lean(0.0, 0.0))])),
            ("skirted", plate(vec![skirted(boss([0.0, 0.0], lean(0.0, 0.0)))])),
            ("leaning_skirt", plate(vec![skirted(boss([0.0, 0.0], lean(0.2, 0.1)))])),
            (
                "three",
                plate(vec![
                    boss([-28.0, -10.0], lean(-0.05, 0.0)),
                    skirted(boss([20.0, -20.0], lean(0.1, -0.1))),
                    boss([15.0, 30.0], lean(0.0, 0.15)),
                ]),
            ),
            ("gussets", plate(vec![with(boss([0.0, 0.0], lean(0.0, 0.0)), row(0.0))])),
            ("leaning_gussets", plate(vec![with(boss([0.0, 0.0], lean(0.2, 0.1)), row(0.0))])),
            ("toes", plate(vec![with(boss([0.0, 0.0], lean(0.1, -0.2)), row(3.0))])),
            (
                "through",
                plate(vec![BossOnPlate { bore: vec![(-8.0, 8.15), (45.0, 8.15)], ..boss([0.0, 0.0], lean(0.0, 0.0)) }]),
            ),
            ("grooved", plate(vec![BossOnPlate { bore: grooved(), ..boss([0.0, 0.0], lean(0.1, 0.0)) }])),
            ("one_gusset", plate(vec![with(boss([0.0, 0.0], lean(0.1, 0.1)), one)])),
        ]
    }

    #[test]
    fn glued_volume_is_the_closed_form() {
        let p = plate(vec![boss([0.0, 0.0], lean(0.0, 0.0))]);
        let frustum = |h: f64, r: f64, s: f64| PI * h / 3.0 * (r * r + r * s + s * s);
        let sunk = PI * 2.4 * 2.4 * 5.8 + frustum(2.2, 2.4, 4.6);
        let bored = PI * (2.4 * 2.4 * 5.0 + 4.6 * 4.6 * 3.0);
        let slots = 4.0 * (4.8 * 5.8 + 2.2 * 7.0) + 5.0 * (4.8 * 5.0 + 9.2 * 3.0);
        let block = (130.0 * 110.0 - (4.0 - PI) * 81.0) * 8.0;
        let post = PI * 169.0 * 45.0 - PI * 8.15 * 8.15 * 47.0 - frustum(1.0, 8.15, 9.15);
        let closed = block - 2.0 * (sunk + bored) - slots + post;
        let found = glued(&p).unwrap();
        assert!((found.volume / closed - 1.0).abs() < 1e-10, "{} {closed}", found.volume);
    }

    #[test]
    fn a_leaning_boss_keeps_its_volume_when_its_lean_changes() {
        let upright = glued(&plate(vec![boss([0.0, 0.0], lean(0.0, 0.0))])).unwrap().volume;
        let leaning = glued(&plate(vec![boss([0.0, 0.0], lean(0.2, -0.1))])).unwrap().volume;
        assert!((upright / leaning - 1.0).abs() < 1e-10, "{upright} {leaning}");
    }

    #[test]
    fn glued_and_meshed_volume_agree_within_the_chord_error() {
        for (name, part) in cases() {
            let glued = glued(&part).unwrap();
            let mesh = part.solid(CHORD).mesh().unwrap();
            judge(&stl::write(&mesh)).unwrap();
            let far = (glued.volume - mesh.volume()).abs();
            assert!(far < CHORD * glued.curved_area, "{name}: {} {}", glued.volume, mesh.volume());
            let fine = part.solid(0.001).mesh().unwrap();
            // Bores are 0.001 mm wider than named on the radius.
            let far = (glued.volume - fine.volume()).abs();
            assert!(far < 0.002 * glued.curved_area, "{name} fine: {} {}", glued.volume, fine.volume());
        }
    }

    /// Two ways: the dimensions that a part was drawn from, and those that are read off its features.
    #[test]
    fn the_exact_solid_of_features_is_that_of_what_they_were_made_from() {
        for (name, part) in cases() {
            let (drawn, read) = (glued(&part).unwrap(), exact(&part.solid(CHORD)).unwrap());
            assert!((drawn.volume / read.volume - 1.0).abs() < 1e-12, "{name}: {} {}", drawn.volume, read.volume);
        }
        let with = |more| Solid { ridges: vec![more], ..plate(vec![boss([0.0, 0.0], lean(0.0, 0.0))]).solid(CHORD) };
        let rib = Feature::rib(&Axis::upright(0.0, 0.0), 0.0, 8.15, [0.3, 0.6, 0.8], [10.0, 30.0]);
        assert!(matches!(exact(&with(rib)), Err(Fault::NotGlued(_))), "ribs are not left out");
    }

    #[test]
    fn a_faceted_solid_has_the_volume_of_its_mesh() {
        for seed in 1..6 {
            let mesh = samples::bracket(seed, CHORD).solid.mesh().unwrap();
            let b = faceted(&mesh).unwrap();
            assert!((b.volume / mesh.volume() - 1.0).abs() < 1e-8, "{seed}: {} {}", b.volume, mesh.volume());
            assert!(b.shell.faces.len() < mesh.triangles.len() && b.curved_area == 0.0);
        }
    }

    #[test]
    fn step_names_cylinders_and_cones_and_repeats_itself() {
        let (_, part) = cases().swap_remove(2);
        let once = || String::from_utf8(step::write("bracket", &glued(&part).unwrap()).unwrap()).unwrap();
        let text = once();
        assert_eq!(text, once());
        assert!(text.contains("AUTOMOTIVE_DESIGN") && text.contains("FILE_NAME('bracket', '',"));
        for word in ["CIRCLE(", "CYLINDRICAL_SURFACE(", "CONICAL_SURFACE(", "ADVANCED_FACE("] {
            assert!(text.contains(word), "{word}");
        }
        assert!(!text.contains("RATIONAL_B_SPLINE_SURFACE"), "an upright skirt is a cone");
    }

    #[test]
    fn what_meets_or_breaks_through_is_refused() {
        let refused = |p: PlateWithBosses| matches!(glued(&p), Err(Fault::NotGlued(_)));
        let b = || boss([0.0, 0.0], lean(0.0, 0.0));
        assert!(refused(plate(vec![boss([45.0, -35.0], lean(0.0, 0.0))])), "over a hole");
        assert!(refused(plate(vec![boss([55.0, 0.0], lean(0.0, 0.0))])), "over the edge");
        assert!(refused(plate(vec![b(), boss([20.0, 0.0], lean(0.0, 0.0))])), "bosses meet");
        assert!(refused(plate(vec![BossOnPlate { bore: vec![(-8.5, 8.0), (45.0, 8.0)], ..b() }])), "breaks through");
        assert!(refused(plate(vec![BossOnPlate { bore: vec![(-3.0, 13.0), (45.0, 13.0)], ..b() }])), "no wall");
        assert!(refused(plate(vec![BossOnPlate { flare: 2.0, gussets: Some(row(0.0)), ..b() }])), "skirt and gussets");
    }
}

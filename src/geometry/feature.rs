//! Closed primitives, as values: what each is exactly, and its mesh at a chord error.

use std::f64::consts::{FRAC_PI_2, TAU};

use nalgebra::{Isometry3, Point3, Unit};

use super::axis::Axis;
use super::boss::{Boss, Gusset, Web, gusset_section, skirt_top};
use super::facets;
use super::loft::loft;
use super::mesh::{Aabb, Mesh};
use super::outline::{Outline, Round, stadium_corners};
use super::primitive::{Primitive, Slot};
use super::shape::{Body, Shape, planes};

/// A closed primitive: an inside function, and a mesh within the chord error of it.
#[derive(Clone, Debug)]
pub struct Feature {
    /// The constructor's name, for messages.
    pub kind: &'static str,
    /// Its dimensions.
    pub primitive: Primitive,
    pub(super) mesh: Mesh,
    pub(super) planes: Vec<u32>,
    /// What it is exactly: all of these together.
    pub(super) bodies: Vec<Body>,
}

impl Feature {
    /// A straight prism of an outline from z0 to z1 in the outline's own frame, then placed.
    #[must_use]
    pub fn prism(outline: &Outline, z0: f64, z1: f64, at: &Isometry3<f64>) -> Self {
        let ring = |z: f64| outline.points.iter().map(|p| at * Point3::new(p[0], p[1], z)).collect();
        let shape = Shape::Prism { section: outline.curve.clone(), z: [z0, z1] };
        let meshed = loft(&[ring(z0), ring(z1)], Some(&outline.points));
        Self { primitive: Primitive::prism(&outline.curve, [z0, z1], at), ..Self::of("prism", meshed, shape, *at) }
    }

    /// The same round the outline's plane: half the thickness to each side. With `upright_plane` a web.
    #[must_use]
    pub fn plate(outline: &Outline, thickness: f64, at: &Isometry3<f64>) -> Self {
        Self { kind: "plate", ..Self::prism(outline, -thickness / 2.0, thickness / 2.0, at) }
    }

    /// A web from boss to boss.
    #[must_use]
    pub fn web(web: &Web) -> Self {
        let (outline, at) = web.section();
        Self { kind: "web", primitive: Primitive::Web(*web), ..Self::plate(&outline, web.thickness, &at) }
    }

    /// A box with sizes along x, y, z, centred on its placement.
    #[cfg(test)]
    pub(crate) fn block(size: [f64; 3], at: &Isometry3<f64>) -> Self {
        let outline = Outline::rounded_rectangle(size[0], size[1], 0.0, 1.0);
        Self { kind: "block", ..Self::plate(&outline, size[2], at) }
    }

    /// A profile of (distance along the axis, radius) pairs turned about an axis; distances must not fall.
    ///
    /// A radius of zero is allowed at the ends (a drill's point). One call makes a hole with its counterbore.
    #[must_use]
    pub fn revolved(axis: &Axis, profile: &[(f64, f64)], round: Round, chord: f64) -> Self {
        let n = round.sides(largest_radius(profile), chord);
        let rings: Vec<_> = profile.iter().map(|&(l, r)| circle(axis, l, round.corner_radius(r, n), n)).collect();
        let shape = Shape::Turned { profile: pairs(profile), slot: 0.0 };
        let primitive = Primitive::Turned { axis: *axis, profile: profile.to_vec(), slot: None };
        Self { primitive, ..Self::of("revolved", loft(&rings, None), shape, axis.frame(axis.across()[0])) }
    }

    /// The same profile drawn out to a slot: `length` mm between the two centres, along `slide`, middle on the axis.
    #[must_use]
    pub fn slotted(
        axis: &Axis,
        slide: [f64; 3],
        length: f64,
        profile: &[(f64, f64)],
        round: Round,
        chord: f64,
    ) -> Self {
        let n = round.sides(largest_radius(profile), chord);
        let at = axis.frame(slide.into());
        let (a, b) = ([-length / 2.0, 0.0], [length / 2.0, 0.0]);
        let ring = |&(l, r): &(f64, f64)| -> Vec<_> {
            let flat = stadium_corners(a, b, round.corner_radius(r, n), n, round);
            flat.iter().map(|p| at * Point3::new(p[0], p[1], l)).collect()
        };
        let shape = Shape::Turned { profile: pairs(profile), slot: length / 2.0 };
        let slot = Some(Slot { slide, length });
        let primitive = Primitive::Turned { axis: *axis, profile: profile.to_vec(), slot };
        Self { primitive, ..Self::of("slotted", loft(&profile.iter().map(ring).collect::<Vec<_>>(), None), shape, at) }
    }

    /// A frustum about a leaning axis between two heights, each end level: a pair of height and radius for each, mm.
    #[must_use]
    pub fn leaning(axis: &Axis, ends: [(f64, f64); 2], round: Round, chord: f64) -> Self {
        let n = round.sides(largest_radius(&ends), chord);
        let ring = |(z, r): (f64, f64)| -> Vec<_> {
            circle(axis, 0.0, round.corner_radius(r, n), n).iter().map(|p| axis.slide_to(*p, z)).collect()
        };
        let meshed = loft(&ends.map(ring), None);
        let shape = planes(&meshed.0);
        Self::of("leaning", meshed, shape, Isometry3::identity())
    }

    /// A boss, with its skirt, as one piece.
    #[must_use]
    pub fn boss(b: &Boss, chord: f64) -> Self {
        let foot = b.radius + b.flare;
        let n = Round::Inside.sides(foot, chord);
        let ring = |z: f64| circle(&b.axis, 0.0, foot, n).iter().map(|p| b.axis.slide_to(*p, z)).collect::<Vec<_>>();
        let mut rings = vec![ring(b.root - b.embed)];
        if b.flare > 0.0 {
            rings.push(ring(b.root));
            rings.push(circle(&b.axis, skirt_top(b), b.radius, n));
        }
        rings.push(circle(&b.axis, b.top, b.radius, n));
        let drawn = Self::of("boss", loft(&rings, None), Shape::Post(b.post()), b.axis.frame(b.axis.across()[0]));
        Self { primitive: Primitive::Boss(*b), ..drawn }
    }

    /// A gusset.
    #[must_use]
    pub fn gusset(g: &Gusset) -> Self {
        let a = g.axis.dir.into_inner();
        let [u, v] = g.axis.across();
        let out = u * g.toward.cos() + v * g.toward.sin();
        let across = a.cross(&out);
        // Sides stay parallel to the axis, both faces end on horizontal lines: the section slides along the plate.
        let slide = across - a * (across.z / a.z);
        let section: Vec<_> = gusset_section(g, out).collect();
        let side = |h: f64| section.iter().map(|p| p + slide * h).collect::<Vec<_>>();
        let flat: Vec<_> = section.iter().map(|p| [(p - g.axis.point).dot(&out), (p - g.axis.point).dot(&a)]).collect();
        let meshed = loft(&[side(g.thickness / 2.0), side(-g.thickness / 2.0)], Some(&flat));
        let shape = planes(&meshed.0);
        Self { primitive: Primitive::Gusset(*g), ..Self::of("gusset", meshed, shape, Isometry3::identity()) }
    }

    /// A bore that prints lying down: teardrop section about an axis, crown towards `up`; between two places on it.
    ///
    /// `up` must not lie along the axis (the feature then has no volume and meshing reports it).
    #[must_use]
    pub fn teardrop_bore(
        axis: &Axis,
        up: [f64; 3],
        radius: f64,
        crown: Option<f64>,
        between: [f64; 2],
        chord: f64,
    ) -> Self {
        let outline = Outline::teardrop(radius, crown, chord).moved([0.0, 0.0], -FRAC_PI_2);
        Self { kind: "teardrop bore", ..Self::prism(&outline, between[0], between[1], &axis.frame(up.into())) }
    }

    /// The mouth of a lying bore: its teardrop section from the first place on the axis, wider in all by this much at the second,
    /// where its crown is at least so high, then straight to the third.
    #[must_use]
    pub fn teardrop_mouth(
        axis: &Axis,
        up: [f64; 3],
        [radius, wider]: [f64; 2],
        [crown, least]: [f64; 2],
        places: [f64; 3],
        chord: f64,
    ) -> Self {
        let at = axis.frame(up.into());
        let section = |points: Vec<[f64; 2]>, z: f64| -> Vec<_> {
            points.iter().map(|p| at * Point3::new(p[1], -p[0], z)).collect()
        };
        let narrow = Outline::teardrop(radius, Some(crown), chord).points;
        let wide = 1.0 + wider / radius;
        let mut end: Vec<_> = narrow.iter().map(|p| p.map(|c| c * wide)).collect();
        // A crown that grew with the bore could be too wide a bridge: its corners move up along the roof.
        for p in end.iter_mut().filter(|p| p[1] >= wide * crown) {
            let rise = (least - p[1]).max(0.0).min(0.9 * p[0].abs());
            *p = [p[0] - rise * p[0].signum(), p[1] + rise];
        }
        let rings = [section(narrow, places[0]), section(end.clone(), places[1]), section(end, places[2])];
        let meshed = loft(&rings, None);
        let shape = planes(&meshed.0);
        Self::of("teardrop mouth", meshed, shape, Isometry3::identity())
    }

    /// What opens a nut's trap, a flat up, where something stands beside it: the trap's section with a roof of 45 degrees.
    #[must_use]
    pub fn nut_entry(axis: &Axis, up: [f64; 3], across_flats: f64, between: [f64; 2]) -> Self {
        let (flat, side) = (across_flats / 2.0, across_flats / 12f64.sqrt());
        let corners = [[-flat, -side], [flat, -side], [flat + side, 0.0], [flat, side], [-flat, side]];
        let mut all = corners.to_vec();
        all.insert(1, [0.0, -2.0 * side]);
        all.insert(5, [0.0, 2.0 * side]);
        let outline = Outline::polygon(all);
        Self { kind: "nut entry", ..Self::prism(&outline, between[0], between[1], &axis.frame(up.into())) }
    }

    /// A hexagonal pocket about an axis between two places on it, one corner towards `toward`.
    ///
    /// With `slide` above zero it is drawn out that far towards `toward`, flats parallel to it, so that a nut slides in.
    #[must_use]
    pub fn nut_trap(axis: &Axis, toward: [f64; 3], across_flats: f64, slide: f64, between: [f64; 2]) -> Self {
        let mut corners = Outline::hexagon(across_flats).points;
        for p in corners.iter_mut().filter(|p| p[0] > across_flats / 8.0) {
            p[0] += slide;
        }
        let outline = Outline::polygon(corners);
        Self { kind: "nut trap", ..Self::prism(&outline, between[0], between[1], &axis.frame(toward.into())) }
    }

    /// A hexagonal pocket for a nut about a rising axis, between two places on it; its ceiling rises at 45 degrees to a bolt's
    /// hole of this radius, so that it prints without support.
    #[must_use]
    pub fn nut_pocket(axis: &Axis, toward: [f64; 3], across_flats: f64, [from, to]: [f64; 2], hole: f64) -> Self {
        let at = axis.frame(toward.into());
        // The last hexagon lies within the hole, its corners on the hole's wall but for a hair.
        let last = 0.99 * 3f64.sqrt() * hole;
        let ring = |flats: f64, z: f64| -> Vec<_> {
            Outline::hexagon(flats).points.iter().map(|p| at * Point3::new(p[0], p[1], z)).collect()
        };
        let rise = (across_flats - last) / 2.0;
        let meshed = loft(&[ring(across_flats, from), ring(across_flats, to), ring(last, to + rise)], None);
        let shape = planes(&meshed.0);
        Self::of("nut pocket", meshed, shape, Isometry3::identity())
    }

    /// A thin ridge along the wall of a bore, to be put into `Solid::ridges`: `height` mm proud of the wall and `root` mm
    /// into it, `width` mm wide, at an angle about the axis; its ends slope at 45 degrees.
    #[must_use]
    pub fn rib(
        axis: &Axis,
        angle: f64,
        bore_radius: f64,
        [height, root, width]: [f64; 3],
        [from, to]: [f64; 2],
    ) -> Self {
        let [u, v] = axis.across();
        let out = u * angle.cos() + v * angle.sin();
        let lean = height + root;
        let (inner, outer) = (bore_radius - height, bore_radius + root);
        let section = vec![[inner, from + lean], [outer, from], [outer, to], [inner, to - lean]];
        let across = Axis { point: axis.point, dir: Unit::new_normalize(out.cross(&axis.dir)) };
        Self { kind: "rib", ..Self::plate(&Outline::polygon(section), width, &across.frame(out)) }
    }

    /// Features that were joined to one mesh, as one.
    pub(super) fn joined(mesh: Mesh, features: &[Self]) -> Self {
        let each = |_| (0..mesh.triangles.len() as u32).collect();
        let planes = facets::flat_patches(&mesh).unwrap_or_else(each);
        let bodies = features.iter().flat_map(|f| f.bodies.clone()).collect();
        Self { kind: "joined", primitive: Primitive::Other, mesh, planes, bodies }
    }

    /// Features that keep apart, as one.
    pub(super) fn beside(features: &[Self]) -> Self {
        let mut out = Self::joined(Mesh::default(), features);
        for f in features {
            let next = out.planes.iter().max().map_or(0, |p| p + 1);
            out.mesh.append(&f.mesh);
            out.planes.extend(f.planes.iter().map(|p| p + next));
        }
        out
    }

    /// The feature as part of an engraving, which exact solids leave out.
    #[must_use]
    pub fn engraved(self) -> Self {
        Self { kind: "label", primitive: Primitive::Engraving, ..self }
    }

    /// The feature moved and turned.
    #[must_use]
    pub fn placed(&self, at: &Isometry3<f64>) -> Self {
        let moved = |b: &Body| Body { shape: b.shape.clone(), at: at * b.at };
        let bodies = self.bodies.iter().map(moved).collect();
        let primitive = if *at == Isometry3::identity() { self.primitive.clone() } else { Primitive::Other };
        Self { kind: self.kind, primitive, mesh: self.mesh.transformed(at), planes: self.planes.clone(), bodies }
    }

    fn of(kind: &'static str, (mesh, planes): (Mesh, Vec<u32>), shape: Shape, at: Isometry3<f64>) -> Self {
        Self { kind, primitive: Primitive::Other, mesh, planes, bodies: vec![Body { shape, at }] }
    }

    /// The primitive's own surface.
    #[must_use]
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The box round it.
    #[must_use]
    pub fn aabb(&self) -> Aabb {
        self.mesh.aabb()
    }
}

fn circle(axis: &Axis, along: f64, radius: f64, n: usize) -> Vec<Point3<f64>> {
    let [u, v] = axis.across();
    let c = axis.at(along);
    (0..n).map(|i| TAU * i as f64 / n as f64).map(|a| c + u * (radius * a.cos()) + v * (radius * a.sin())).collect()
}

fn pairs(profile: &[(f64, f64)]) -> Vec<[f64; 2]> {
    profile.iter().map(|&(l, r)| [l, r]).collect()
}

fn largest_radius(profile: &[(f64, f64)]) -> f64 {
    profile.iter().map(|p| p.1).fold(f64::MIN_POSITIVE, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    const FINE: f64 = 1e-5;

    fn leaning() -> Axis {
        Axis::new([3.0, -2.0, 8.0], [0.2, 0.1, 1.0])
    }

    #[test]
    fn revolved_profiles_follow_the_closed_form() {
        let axis = Axis::new([1.0, 2.0, 3.0], [1.0, 2.0, -0.5]);
        let f = Feature::revolved(&axis, &[(-1.0, 2.5), (6.0, 2.5), (8.0, 4.5)], Round::Inside, FINE);
        let cone = PI / 3.0 * 2.0 * (2.5 * 2.5 + 2.5 * 4.5 + 4.5 * 4.5);
        assert_relative_eq!(f.mesh().volume(), PI * 6.25 * 7.0 + cone, max_relative = 1e-5);
        let tip = Feature::revolved(&axis, &[(0.0, 0.0), (2.0, 3.0)], Round::Inside, FINE);
        assert_relative_eq!(tip.mesh().volume(), PI * 9.0 * 2.0 / 3.0, max_relative = 1e-5);
    }

    #[test]
    fn a_slot_adds_its_length_times_its_width() {
        let f = Feature::slotted(
            &Axis::upright(5.0, 5.0),
            [1.0, 1.0, 0.0],
            4.0,
            &[(0.0, 2.0), (8.0, 2.0)],
            Round::Inside,
            FINE,
        );
        assert_relative_eq!(f.mesh().volume(), 8.0 * (PI * 4.0 + 16.0), max_relative = 1e-5);
    }

    #[test]
    fn a_leaning_boss_has_the_volume_of_its_axis_length() {
        let b = Boss { axis: leaning(), radius: 15.0, root: 8.0, embed: 1.0, top: 45.0, flare: 0.0 };
        let f = Feature::boss(&b, FINE);
        let along = 45.0 + 1.0 / leaning().dir.z;
        assert_relative_eq!(f.mesh().volume(), PI * 225.0 * along, max_relative = 1e-5);
        assert_relative_eq!(f.aabb().min[2], 7.0, epsilon = 1e-12);
    }

    #[test]
    fn an_upright_skirt_is_a_cone() {
        let b = Boss {
            axis: Axis::new([0.0, 0.0, 8.0], [0.0, 0.0, 1.0]),
            radius: 12.0,
            root: 8.0,
            embed: 1.0,
            top: 40.0,
            flare: 2.0,
        };
        let cone = PI / 3.0 * 2.0 * (14.0 * 14.0 + 14.0 * 12.0 + 144.0);
        let all = PI * 196.0 + cone + PI * 144.0 * 38.0;
        assert_relative_eq!(Feature::boss(&b, FINE).mesh().volume(), all, max_relative = 1e-5);
    }

    #[test]
    fn a_gusset_on_an_upright_boss_is_a_triangle_plate() {
        let axis = Axis::new([0.0, 0.0, 8.0], [0.0, 0.0, 1.0]);
        let g = Gusset {
            axis,
            toward: 0.4,
            radius: 15.0,
            inner: 13.0,
            run: 20.0,
            rise: 30.0,
            toe: 0.0,
            thickness: 5.0,
            embed: 1.0,
        };
        // Legs: from the inner edge (2 mm inside the wall) to the toe, both grown along the slope of 3 : 2.
        let (base, height) = (22.0 + 1.0 / 1.5, 30.0 + 3.0 + 1.0);
        assert_relative_eq!(Feature::gusset(&g).mesh().volume(), base * height / 2.0 * 5.0, max_relative = 1e-9);
        let blunt = Feature::gusset(&Gusset { toe: 3.0, ..g }).mesh().volume();
        let slope = 27.0 / 20.0;
        let area = 22.0 * 1.0 + 22.0 * 3.0 + 22.0 * 22.0 * slope / 2.0;
        assert_relative_eq!(blunt, area * 5.0, max_relative = 1e-9);
    }

    #[test]
    fn a_leaning_gusset_keeps_its_foot_below_the_plate() {
        let g = Gusset {
            axis: leaning(),
            toward: 2.0,
            radius: 15.0,
            inner: 13.0,
            run: 20.0,
            rise: 30.0,
            toe: 0.0,
            thickness: 5.0,
            embed: 1.0,
        };
        let f = Feature::gusset(&g);
        assert!(f.mesh().volume() > 0.0);
        assert_relative_eq!(f.aabb().min[2], 7.0, epsilon = 1e-9);
    }

    #[test]
    fn a_teardrop_points_up_and_a_nut_trap_slides_out() {
        let axis = Axis::new([0.0, 0.0, 20.0], [0.0, 1.0, 0.0]);
        let f = Feature::teardrop_bore(&axis, [0.0, 0.0, 1.0], 2.2, None, [-20.0, 20.0], FINE);
        assert_relative_eq!(f.aabb().max[2], 20.0 + 2.2 * 2f64.sqrt(), epsilon = 2e-3);
        assert_relative_eq!(f.aabb().min[2], 20.0 - 2.2, epsilon = 2e-3);
        let n = Feature::nut_trap(&axis, [1.0, 0.0, 0.0], 7.0, 10.0, [0.0, 3.2]);
        assert_relative_eq!(n.mesh().volume(), (3f64.sqrt() / 2.0 * 49.0 + 70.0) * 3.2, max_relative = 1e-9);
        assert!(n.aabb().max[0] > 13.9);
    }

    #[test]
    fn ribs_enclose_their_tapered_length() {
        let axis = leaning();
        let r = Feature::rib(&axis, 1.0, 8.0, [0.3, 0.5, 0.8], [5.0, 30.0]);
        assert_relative_eq!(r.mesh().volume(), (25.0 - 0.8) * 0.8 * 0.8, max_relative = 1e-9);
    }
}

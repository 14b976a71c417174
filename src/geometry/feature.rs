//! Closed primitives: what a solid adds and cuts.

use std::f64::consts::{FRAC_PI_2, TAU};

use nalgebra::{Isometry3, Point3, Rotation3, Translation3, Unit, UnitQuaternion, Vector3};

use super::facets;
use super::mesh::{Aabb, Mesh};
use super::outline::{Outline, Round, stadium_corners};
use super::triangulate;

/// How far a groove's cutter reaches into the open bore, mm, so that it never ends on the bore's wall. Judgement.
const GROOVE_OVERLAP: f64 = 0.5;
/// Share of a skirt's flare by which its cone runs on below the boss's wall. Judgement.
const SKIRT_OVERLAP: f64 = 0.2;

/// A directed line: a point (mm) and a unit direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Where distances along the axis are zero.
    pub point: Point3<f64>,
    /// Where distances along the axis grow.
    pub dir: Unit<Vector3<f64>>,
}

impl Axis {
    /// Through a point; `dir` need not have unit length.
    #[must_use]
    pub fn new(point: [f64; 3], dir: [f64; 3]) -> Self {
        Self { point: point.into(), dir: Unit::new_normalize(dir.into()) }
    }

    /// Upright through (x, y), zero at z = 0.
    #[must_use]
    pub fn upright(x: f64, y: f64) -> Self {
        Self::new([x, y, 0.0], [0.0, 0.0, 1.0])
    }

    /// The point at a distance along the axis, mm.
    #[must_use]
    pub fn at(&self, along: f64) -> Point3<f64> {
        self.point + self.dir.into_inner() * along
    }

    /// Two unit vectors across the axis, right-handed with it; the first lies nearest to +x (or +y for an axis along x).
    #[must_use]
    pub fn across(&self) -> [Vector3<f64>; 2] {
        let hint = if self.dir.x.abs() < 0.9 { Vector3::x() } else { Vector3::y() };
        self.across_towards(hint)
    }

    /// The same, the first nearest to `hint`.
    #[must_use]
    pub fn across_towards(&self, hint: Vector3<f64>) -> [Vector3<f64>; 2] {
        let u = (hint - self.dir.into_inner() * self.dir.dot(&hint)).normalize();
        [u, self.dir.cross(&u)]
    }

    /// Places outline x, y across the axis (x nearest to `hint`) and outline z along it.
    #[must_use]
    pub fn frame(&self, hint: Vector3<f64>) -> Isometry3<f64> {
        let [u, v] = self.across_towards(hint);
        let turn = Rotation3::from_basis_unchecked(&[u, v, self.dir.into_inner()]);
        Isometry3::from_parts(Translation3::from(self.point), UnitQuaternion::from_rotation_matrix(&turn))
    }

    /// The axis moved and turned.
    #[must_use]
    pub fn transformed(&self, at: &Isometry3<f64>) -> Self {
        Self { point: at * self.point, dir: at * self.dir }
    }
}

/// Places an outline upright: its x along the horizontal heading (radians from +x), its y along +z, at a point (mm).
#[must_use]
pub fn upright_plane(origin: [f64; 3], heading: f64) -> Isometry3<f64> {
    let turn = UnitQuaternion::from_axis_angle(&Vector3::z_axis(), heading)
        * UnitQuaternion::from_axis_angle(&Vector3::x_axis(), FRAC_PI_2);
    Isometry3::from_parts(Translation3::new(origin[0], origin[1], origin[2]), turn)
}

/// A cylinder about a leaning axis, its lower end cut by a horizontal plane, its upper end square.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boss {
    /// The point lies on the plate's surface (or anywhere on the axis); the direction has z > 0.
    pub axis: Axis,
    /// Outer radius, mm.
    pub radius: f64,
    /// z of the plate's surface, mm.
    pub root: f64,
    /// How deep the boss reaches into the plate, mm; above zero so that they join.
    pub embed: f64,
    /// Where the square upper end is, mm along the axis.
    pub top: f64,
    /// How far a conical skirt widens the root, mm; 0 for none. It rises just as far above the highest side of the root.
    pub flare: f64,
}

/// A triangular web between a boss and its plate; it runs out along the plate and its inner edge follows the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gusset {
    /// The boss's axis; its point lies on the plate's surface.
    pub axis: Axis,
    /// Which way it runs, radians about the axis from its first across vector.
    pub toward: f64,
    /// The boss's outer radius, mm.
    pub radius: f64,
    /// Where the inner edge is, mm from the axis: inside the boss's wall, outside its bore.
    pub inner: f64,
    /// How far it runs out from the boss, mm.
    pub run: f64,
    /// How high it climbs, mm along the axis.
    pub rise: f64,
    /// Height of the blunt toe, mm along the axis; 0 for an eased (sharp) toe.
    pub toe: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// How deep it reaches into the plate, mm.
    pub embed: f64,
}

/// A closed primitive surface.
#[derive(Clone, Debug)]
pub struct Feature {
    /// The constructor's name, for messages.
    pub kind: &'static str,
    pub(super) mesh: Mesh,
    pub(super) planes: Vec<u32>,
}

impl Feature {
    /// A straight prism of an outline from z0 to z1 in the outline's own frame, then placed.
    #[must_use]
    pub fn prism(outline: &Outline, z0: f64, z1: f64, at: &Isometry3<f64>) -> Self {
        let ring = |z: f64| outline.points.iter().map(|p| at * Point3::new(p[0], p[1], z)).collect();
        Self::loft("prism", &[ring(z0), ring(z1)], Some(&outline.points))
    }

    /// The same round the outline's plane: half the thickness to each side. With `upright_plane` a web.
    #[must_use]
    pub fn plate(outline: &Outline, thickness: f64, at: &Isometry3<f64>) -> Self {
        Self { kind: "plate", ..Self::prism(outline, -thickness / 2.0, thickness / 2.0, at) }
    }

    /// A box with sizes along x, y, z, centred on its placement.
    #[must_use]
    pub fn block(size: [f64; 3], at: &Isometry3<f64>) -> Self {
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
        Self::loft("revolved", &rings, None)
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
        Self::loft("slotted", &profile.iter().map(ring).collect::<Vec<_>>(), None)
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
        Self::loft("boss", &rings, None)
    }

    /// The root skirt of a boss alone: an oblique cone ring from the plate to the boss's wall and a little into it.
    #[must_use]
    pub fn skirt(b: &Boss, chord: f64) -> Self {
        let foot = b.radius + b.flare;
        let n = Round::Inside.sides(foot, chord);
        let ring = |z: f64| circle(&b.axis, 0.0, foot, n).iter().map(|p| b.axis.slide_to(*p, z)).collect::<Vec<_>>();
        let root = ring(b.root);
        let wall = circle(&b.axis, skirt_top(b), b.radius, n);
        let end = root.iter().zip(&wall).map(|(r, w)| w + (w - r) * SKIRT_OVERLAP).collect();
        Self::loft("skirt", &[ring(b.root - b.embed), root, end], None)
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
        Self::loft("gusset", &[side(g.thickness / 2.0), side(-g.thickness / 2.0)], Some(&flat))
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

    /// A hexagonal pocket about an axis between two places on it, one corner towards `toward`.
    ///
    /// With `slide` above zero it is drawn out that far towards `toward`, flats parallel to it, so that a nut slides in.
    #[must_use]
    pub fn nut_trap(axis: &Axis, toward: [f64; 3], across_flats: f64, slide: f64, between: [f64; 2]) -> Self {
        let mut outline = Outline::hexagon(across_flats);
        for p in outline.points.iter_mut().filter(|p| p[0] > across_flats / 8.0) {
            p[0] += slide;
        }
        Self { kind: "nut trap", ..Self::prism(&outline, between[0], between[1], &axis.frame(toward.into())) }
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

    /// A ring-shaped groove in the wall of a bore, `depth` mm deep, flanks at 45 degrees, between two places at the wall.
    #[must_use]
    pub fn groove(axis: &Axis, bore_radius: f64, depth: f64, [from, to]: [f64; 2], chord: f64) -> Self {
        let o = GROOVE_OVERLAP.min(bore_radius / 2.0);
        let (wall, deep) = (bore_radius - o, bore_radius + depth);
        let profile = [(from - o, wall), (from + depth, deep), (to - depth, deep), (to + o, wall)];
        Self { kind: "groove", ..Self::revolved(axis, &profile, Round::Outside, chord) }
    }

    /// Any closed mesh as a feature, for instance a finished solid.
    #[must_use]
    pub fn from_mesh(mesh: Mesh) -> Self {
        let each = |_| (0..mesh.triangles.len() as u32).collect();
        let planes = facets::flat_patches(&mesh).unwrap_or_else(each);
        Self { kind: "mesh", mesh, planes }
    }

    /// Features that keep apart, as one.
    pub(super) fn beside(features: &[Self]) -> Self {
        let mut out = Self { kind: "features", mesh: Mesh::default(), planes: Vec::new() };
        for f in features {
            let next = out.planes.iter().max().map_or(0, |p| p + 1);
            out.mesh.append(&f.mesh);
            out.planes.extend(f.planes.iter().map(|p| p + next));
        }
        out
    }

    /// The feature moved and turned.
    #[must_use]
    pub fn placed(&self, at: &Isometry3<f64>) -> Self {
        Self { mesh: self.mesh.transformed(at), ..self.clone() }
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

    /// Joins rings of equally many points, counter-clockwise about the stacking direction, and closes both ends.
    /// `flat`: the end section in its plane, when it may be concave.
    fn loft(kind: &'static str, rings: &[Vec<Point3<f64>>], flat: Option<&[[f64; 2]]>) -> Self {
        let n = rings[0].len();
        let mut out = Patches::default();
        for (k, pair) in rings.windows(2).enumerate() {
            for i in 0..n {
                let j = (i + 1) % n;
                out.quad(pair, [i, j], (k * n) as u32, n as u32);
            }
        }
        let cap = flat.map_or_else(|| fan(n), |f| triangulate::simple(f).unwrap_or_else(|| fan(n)));
        let last = ((rings.len() - 1) * n) as u32;
        out.patch(cap.iter().map(|&[a, b, c]| [a, c, b]));
        out.patch(cap.iter().map(|t| t.map(|i| i + last)));
        let points = rings.iter().flatten().map(|p| [p.x, p.y, p.z]).collect();
        out.into_feature(kind, points)
    }
}

impl Axis {
    /// The point moved along the axis' direction to a height z, mm.
    #[must_use]
    pub fn slide_to(&self, p: Point3<f64>, z: f64) -> Point3<f64> {
        let mut q = p - self.dir.into_inner() * ((p.z - z) / self.dir.z);
        q.z = z;
        q
    }
}

/// Triangles and the number of the flat patch each belongs to.
#[derive(Default)]
struct Patches {
    triangles: Vec<[u32; 3]>,
    planes: Vec<u32>,
    next: u32,
}

impl Patches {
    fn patch(&mut self, triangles: impl Iterator<Item = [u32; 3]>) {
        self.triangles.extend(triangles);
        self.planes.resize(self.triangles.len(), self.next);
        self.next += 1;
    }

    /// The side between corners i and j of two rings: one patch when flat, else two.
    fn quad(&mut self, pair: &[Vec<Point3<f64>>], [i, j]: [usize; 2], first: u32, n: u32) {
        let [a, b, c, d] = [first + i as u32, first + j as u32, first + n + j as u32, first + n + i as u32];
        let (p, q, r, s) = (pair[0][i], pair[0][j], pair[1][j], pair[1][i]);
        let bend = (q - p).cross(&(r - p)).dot(&(s - p));
        let size = (r - p).norm() * (s - q).norm() * (q - p).norm().max((r - s).norm());
        if bend.abs() <= FLAT * size {
            self.patch([[a, b, c], [a, c, d]].into_iter());
        } else {
            self.patch(std::iter::once([a, b, c]));
            self.patch(std::iter::once([a, c, d]));
        }
    }

    /// Welds equal points (the tip of a cone) and drops the triangles that lose a corner.
    fn into_feature(self, kind: &'static str, points: Vec<[f64; 3]>) -> Feature {
        let (mesh, planes) = Mesh { points, triangles: self.triangles }.welded_with(&self.planes);
        Feature { kind, mesh, planes }
    }
}

/// Relative bend below which four points count as one plane: far above rounding, far below any oblique cone.
const FLAT: f64 = 1e-12;

fn fan(n: usize) -> Vec<[u32; 3]> {
    (1..n as u32 - 1).map(|i| [0, i, i + 1]).collect()
}

fn circle(axis: &Axis, along: f64, radius: f64, n: usize) -> Vec<Point3<f64>> {
    let [u, v] = axis.across();
    let c = axis.at(along);
    (0..n).map(|i| TAU * i as f64 / n as f64).map(|a| c + u * (radius * a.cos()) + v * (radius * a.sin())).collect()
}

fn largest_radius(profile: &[(f64, f64)]) -> f64 {
    profile.iter().map(|p| p.1).fold(f64::MIN_POSITIVE, f64::max)
}

/// Where a skirt meets the boss, mm along the axis: its flare above the highest point of the root ring.
pub(super) fn skirt_top(b: &Boss) -> f64 {
    let lean = (1.0 - b.axis.dir.z.powi(2)).max(0.0).sqrt() / b.axis.dir.z;
    (b.root - b.axis.point.z) / b.axis.dir.z + b.flare + (b.radius + b.flare) * lean
}

/// Corners of the gusset's middle section, from the toe up and back down the inner edge.
fn gusset_section(g: &Gusset, out: Vector3<f64>) -> impl Iterator<Item = Point3<f64>> {
    let a = g.axis.dir.into_inner();
    let root = |r: f64| g.axis.slide_to(g.axis.point + out * r, g.axis.point.z);
    let (foot, shoulder) = (root(g.radius + g.run) + a * g.toe, g.axis.point + out * g.radius + a * g.rise);
    let slope = (shoulder - foot) / g.run;
    let below = a * (g.embed / a.z);
    let inner = shoulder + slope * (g.radius - g.inner);
    let base = root(g.inner) - below;
    let toe =
        if g.toe > 0.0 { vec![root(g.radius + g.run) - below, foot] } else { vec![foot - slope * (g.embed / slope.z)] };
    [base].into_iter().chain(toe).chain([inner])
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
        assert!(Feature::skirt(&b, FINE).mesh().volume() > cone + PI * 196.0);
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
    fn ribs_and_grooves_enclose_something() {
        let axis = leaning();
        let r = Feature::rib(&axis, 1.0, 8.0, [0.3, 0.5, 0.8], [5.0, 30.0]);
        assert_relative_eq!(r.mesh().volume(), (25.0 - 0.8) * 0.8 * 0.8, max_relative = 1e-9);
        assert!(Feature::groove(&axis, 8.0, 0.4, [5.0, 7.0], 0.05).mesh().volume() > 0.0);
    }
}

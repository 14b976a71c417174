//! A plate with holes and bosses: the description that the exact solid follows.

use nalgebra::{Point2, Unit, Vector2, Vector3};

use crate::geometry::{Axis, Fault};

/// A round or slotted hole through a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleInPlate {
    /// Middle, mm.
    pub at: [f64; 2],
    /// (z, radius) from z = 0 to the plate's thickness; z may stay (a counterbore's floor) but not fall.
    pub profile: Vec<(f64, f64)>,
    /// Distance between the two centres of a slot, mm, and its heading, radians from +x; `None` for a round hole.
    pub slot: Option<(f64, f64)>,
}

/// Equal gussets round a boss.
#[derive(Clone, Debug, PartialEq)]
pub struct GussetRow {
    /// Directions about the boss's axis, radians from its first across vector, rising within one turn.
    pub toward: Vec<f64>,
    /// How far they run out from the boss, mm.
    pub run: f64,
    /// How high they climb, mm along the axis.
    pub rise: f64,
    /// Height of the blunt toe, mm along the axis; 0 for none.
    pub toe: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// A boss with a blind bore.
#[derive(Clone, Debug, PartialEq)]
pub struct BossOnPlate {
    /// Where the axis meets the plate's upper face, mm.
    pub at: [f64; 2],
    /// Direction of the axis, z > 0.
    pub dir: Unit<Vector3<f64>>,
    /// Outer radius, mm.
    pub radius: f64,
    /// Square upper end, mm along the axis from the plate's upper face.
    pub top: f64,
    /// Root skirt, mm; 0 for none. Not together with gussets.
    pub flare: f64,
    /// (distance along the axis, radius) from the floor of the bore to `top`, with grooves and the mouth's chamfer. In an
    /// upright boss it may begin at the plate's lower face: then it goes through.
    pub bore: Vec<(f64, f64)>,
    /// Gussets.
    pub gussets: Option<GussetRow>,
}

/// A rounded rectangular plate on z = 0, centred on the origin, with holes through it and bosses on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlateWithBosses {
    /// Along x, mm.
    pub width: f64,
    /// Along y, mm.
    pub depth: f64,
    /// Corner radius, mm; above 0.
    pub corner: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// Holes.
    pub holes: Vec<HoleInPlate>,
    /// Bosses.
    pub bosses: Vec<BossOnPlate>,
}

impl BossOnPlate {
    /// The axis, distances counting from the plate's upper face.
    #[must_use]
    pub fn axis(&self, thickness: f64) -> Axis {
        Axis { point: [self.at[0], self.at[1], thickness].into(), dir: self.dir }
    }

    /// Whether the bore goes through the plate.
    #[must_use]
    pub fn through(&self, thickness: f64) -> bool {
        self.dir.z == 1.0 && self.bore.first().is_some_and(|b| b.0 == -thickness)
    }
}

impl PlateWithBosses {
    /// Whether holes, bosses, gussets and edges keep apart, bores stay blind and profiles rise.
    ///
    /// # Errors
    /// The first contradiction.
    pub fn check(&self) -> Result<(), Fault> {
        let refuse = |why: String| Err(Fault::NotGlued(why));
        if !(self.thickness > 0.0 && self.corner > 0.0 && 2.0 * self.corner < self.width.min(self.depth)) {
            return refuse("the plate needs a thickness and rounded corners that fit".into());
        }
        self.holes.iter().try_for_each(|h| self.check_hole(h))?;
        self.bosses.iter().try_for_each(|b| self.check_boss(b))?;
        let prints = self.footprints();
        for (i, (name, group, print)) in prints.iter().enumerate() {
            if print.depth_inside(self) <= 0.0 {
                return refuse(format!("{name} reaches over the plate's edge"));
            }
            let near = |(_, other, p): &&(String, usize, Capsule)| other != group && print.gap(p) <= 0.0;
            if let Some((other, ..)) = prints[i + 1..].iter().find(near) {
                return refuse(format!("{name} meets {other}"));
            }
        }
        Ok(())
    }

    fn check_hole(&self, h: &HoleInPlate) -> Result<(), Fault> {
        if rises(&h.profile) && h.profile[0].0 == 0.0 && h.profile.last().is_some_and(|p| p.0 == self.thickness) {
            return Ok(());
        }
        Err(Fault::NotGlued(format!("the profile of the hole at {:?} does not rise through the plate", h.at)))
    }

    fn check_boss(&self, b: &BossOnPlate) -> Result<(), Fault> {
        let refuse = |why: &str| Err(Fault::NotGlued(format!("the boss at {:?}: {why}", b.at)));
        if !rises(&b.bore) || b.bore.last().is_none_or(|p| p.0 != b.top) {
            return refuse("the bore does not rise from its floor to the top");
        }
        if b.bore.iter().any(|p| p.1 >= b.radius) || b.dir.z <= 0.0 {
            return refuse("no wall is left");
        }
        let lean = (1.0 - b.dir.z.powi(2)).max(0.0).sqrt();
        if !b.through(self.thickness) && self.thickness + b.bore[0].0 * b.dir.z - b.bore[0].1 * lean <= 0.0 {
            return refuse("the bore breaks through the plate");
        }
        let root = (b.radius + b.flare) * lean / b.dir.z;
        let top = b.gussets.as_ref().map_or(root + b.flare, |g| g.rise + g.thickness * lean).max(root);
        if top >= b.top {
            return refuse("the root reaches the top");
        }
        match &b.gussets {
            Some(_) if b.flare > 0.0 => refuse("a skirt and gussets together are not covered"),
            Some(g) if g.toe >= g.rise || g.thickness >= b.radius || !keep_apart(g, b.radius) => {
                refuse("gussets do not fit")
            }
            _ => Ok(()),
        }
    }

    /// Outlines on the plate, with the number of the thing they belong to.
    fn footprints(&self) -> Vec<(String, usize, Capsule)> {
        let mut out = Vec::new();
        for h in &self.holes {
            let r = h.profile.iter().map(|p| p.1).fold(0.0, f64::max);
            let (length, heading) = h.slot.unwrap_or_default();
            let half = Vector2::new(heading.cos(), heading.sin()) * (length / 2.0);
            let c = Point2::from(h.at);
            out.push((format!("the hole at {:?}", h.at), out.len(), Capsule { a: c - half, b: c + half, r }));
        }
        for b in &self.bosses {
            let (name, group, c) = (format!("the boss at {:?}", b.at), out.len(), Point2::from(b.at));
            out.push((name.clone(), group, Capsule { a: c, b: c, r: (b.radius + b.flare) / b.dir.z }));
            let axis = b.axis(self.thickness);
            let [u, v] = axis.across();
            for (toward, g) in b.gussets.iter().flat_map(|g| g.toward.iter().map(move |t| (t, g))) {
                let out_dir = u * toward.cos() + v * toward.sin();
                let tip = axis.slide_to(axis.point + out_dir * (b.radius + g.run), self.thickness).xy();
                out.push((name.clone(), group, Capsule { a: c, b: tip, r: g.thickness / 2.0 / b.dir.z }));
            }
        }
        out
    }
}

/// Whether distances do not fall, radii are positive and no step repeats itself.
fn rises(profile: &[(f64, f64)]) -> bool {
    let up = |w: &[(f64, f64)]| w[1].0 > w[0].0 || w[1].0 == w[0].0 && w[1].1 > w[0].1;
    profile.len() > 1 && profile.iter().all(|p| p.1 > 0.0) && profile.windows(2).all(up)
}

fn keep_apart(g: &GussetRow, radius: f64) -> bool {
    let half = (g.thickness / 2.0 / radius).asin();
    let turn = std::f64::consts::TAU;
    let next = g.toward.iter().skip(1).copied().chain(g.toward.first().map(|t| t + turn));
    !g.toward.is_empty() && g.toward.iter().zip(next).all(|(a, b)| b - a > 2.0 * half)
}

/// All points within `r` of a segment.
struct Capsule {
    a: Point2<f64>,
    b: Point2<f64>,
    r: f64,
}

impl Capsule {
    /// Free distance to another, mm.
    fn gap(&self, other: &Self) -> f64 {
        let ends = [
            distance(self.a, other.a, other.b),
            distance(self.b, other.a, other.b),
            distance(other.a, self.a, self.b),
            distance(other.b, self.a, self.b),
        ];
        let apart = if self.crosses(other) { 0.0 } else { ends.into_iter().fold(f64::INFINITY, f64::min) };
        apart - self.r - other.r
    }

    fn crosses(&self, other: &Self) -> bool {
        let side = |p: Point2<f64>, q: Point2<f64>, x: Point2<f64>| (q - p).perp(&(x - p));
        side(self.a, self.b, other.a) * side(self.a, self.b, other.b) < 0.0
            && side(other.a, other.b, self.a) * side(other.a, other.b, self.b) < 0.0
    }

    /// How far it stays inside the plate's outline, mm.
    fn depth_inside(&self, plate: &PlateWithBosses) -> f64 {
        let inside = |p: Point2<f64>| {
            let x = p.x.abs() - plate.width / 2.0 + plate.corner;
            let y = p.y.abs() - plate.depth / 2.0 + plate.corner;
            plate.corner - x.max(0.0).hypot(y.max(0.0)) - x.max(y).min(0.0)
        };
        inside(self.a).min(inside(self.b)) - self.r
    }
}

fn distance(p: Point2<f64>, a: Point2<f64>, b: Point2<f64>) -> f64 {
    let d = b - a;
    let t = if d.norm_squared() > 0.0 { ((p - a).dot(&d) / d.norm_squared()).clamp(0.0, 1.0) } else { 0.0 };
    (a + d * t - p).norm()
}

//! The bodies of the whole table in their places, for pictures and for the turnable view.

use nalgebra::{Isometry3, Point3, UnitQuaternion, Vector3};

use crate::checks::Component;
use crate::geometry::Mesh;
use crate::model::Model;
use crate::output::{Kit, VerifiedMesh};
use crate::parts::PartKind;

/// Sides of a tube in pictures: its outline stays within 2 % of the radius (judgement).
const TUBE_SIDES: usize = 20;
/// How far neighbouring parts move apart in the exploded view, mm, as a share of the table's height (judgement).
const APART: f64 = 0.16;

/// Place of the screws between brackets (2) and tubes (1) in the exploded view (judgement).
const SCREWS_APART: f64 = 1.6;
/// How much smaller than its sink a screw head is drawn, mm.
const HEAD_ROOM: f64 = 0.8;
/// Height of a drawn screw head as a share of the screw's diameter.
const HEAD_HEIGHT: f64 = 0.5;

/// A body in its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// What it is.
    pub component: Component,
    /// Number of its leg; 0 for the top and for rails.
    pub leg: usize,
    /// Index of its mesh in [`Table::meshes`].
    pub mesh: usize,
    /// Mesh to world; a tube's mesh is one millimetre long and is stretched by `stretch` along its z first.
    pub pose: Isometry3<f64>,
    /// Stretch along z; 1 for printed parts.
    pub stretch: f64,
    /// Movement at the end of the exploded view's slider, mm.
    pub apart: [f64; 3],
}

/// All bodies of the table.
#[derive(Clone, Debug)]
pub struct Table {
    /// Distinct meshes; the printed parts come first, in the order of the kit.
    pub meshes: Vec<Mesh>,
    /// Where they stand.
    pub bodies: Vec<Placed>,
}

/// What a printed part is; none for tools.
#[must_use]
pub const fn printed(kind: PartKind) -> Option<Component> {
    match kind {
        PartKind::Bracket => Some(Component::Bracket),
        PartKind::Tie => Some(Component::Tie),
        PartKind::Foot => Some(Component::Foot),
        PartKind::Gauge | PartKind::Guide | PartKind::Shim | PartKind::Coupon => None,
    }
}

impl Placed {
    /// The body's mesh in the world.
    #[must_use]
    pub fn in_world(&self, meshes: &[Mesh]) -> Mesh {
        let mesh = &meshes[self.mesh];
        let points = mesh.points.iter().map(|p| (self.pose * Point3::new(p[0], p[1], p[2] * self.stretch)).into());
        Mesh { points: points.collect(), triangles: mesh.triangles.clone() }
    }

    /// Mesh to world as a matrix, column by column.
    #[must_use]
    pub fn matrix(&self) -> [f64; 16] {
        let mut m = self.pose.to_homogeneous();
        m.column_mut(2).scale_mut(self.stretch);
        std::array::from_fn(|i| m[(i % 4, i / 4)])
    }
}

impl Table {
    /// Everything that stands in the room.
    #[must_use]
    pub fn new(kit: &Kit) -> Self {
        let meshes = kit.printed.iter().map(|p| p.mesh.clone()).collect();
        let mut table = Self { meshes, bodies: Vec::new() };
        let unit = kit.model.params.height * APART;
        table.add_top(kit.model, unit);
        table.add_tubes(kit.model, unit);
        for (index, part) in kit.printed.iter().enumerate() {
            table.add_part(kit.model, index, part, unit);
        }
        table.add_screws(kit.model, unit);
        table
    }

    fn add_top(&mut self, model: &Model, unit: f64) {
        let top = &model.params.top;
        self.meshes.push(block([top.length, top.width, top.thickness]));
        self.bodies.push(Placed {
            component: Component::Top,
            leg: 0,
            mesh: self.meshes.len() - 1,
            pose: Isometry3::translation(0.0, 0.0, model.params.height - top.thickness),
            stretch: 1.0,
            apart: [0.0, 0.0, 3.0 * unit],
        });
    }

    fn add_tubes(&mut self, model: &Model, unit: f64) {
        let tube = &model.params.legs.tube;
        self.meshes.push(hollow(tube.outside, tube.wall));
        let mesh = self.meshes.len() - 1;
        for leg in &model.legs {
            for ends in &leg.tubes {
                self.add_bar(Component::Tube, leg.number, mesh, *ends, unit);
            }
        }
        for rail in &model.rails {
            self.meshes.push(hollow(rail.tube.outside, rail.tube.wall));
            let mesh = self.meshes.len() - 1;
            self.add_bar(Component::Rail, 0, mesh, rail.ends, unit);
        }
    }

    fn add_bar(&mut self, component: Component, leg: usize, mesh: usize, ends: [Vector3<f64>; 2], unit: f64) {
        let along = ends[1] - ends[0];
        let turn = UnitQuaternion::rotation_between(&Vector3::z(), &along)
            .unwrap_or_else(|| UnitQuaternion::from_axis_angle(&Vector3::x_axis(), std::f64::consts::PI));
        let pose = Isometry3::from_parts(ends[0].into(), turn);
        self.bodies.push(Placed { component, leg, mesh, pose, stretch: along.norm(), apart: [0.0, 0.0, unit] });
    }

    /// The screws of every bracket, heads towards the floor.
    fn add_screws(&mut self, model: &Model, unit: f64) {
        let screws = &model.params.bracket.screws;
        let Some(first) = model.brackets.first() else { return };
        let grip = first.design.hole.grip(first.design.plate);
        self.meshes.push(screw(screws.screw.diameter, screws.length, first.design.hole.head - HEAD_ROOM));
        let mesh = self.meshes.len() - 1;
        for leg in &model.legs {
            for hole in &model.brackets[leg.bracket.kind].design.screws {
                let pose = leg.bracket.pose * Isometry3::translation(hole.at[0], hole.at[1], grip);
                let apart = [0.0, 0.0, SCREWS_APART * unit];
                self.bodies.push(Placed {
                    component: Component::Screw,
                    leg: leg.number,
                    mesh,
                    pose,
                    stretch: 1.0,
                    apart,
                });
            }
        }
    }

    fn add_part(&mut self, model: &Model, index: usize, part: &VerifiedMesh, unit: f64) {
        let Some(component) = printed(part.part.kind) else { return };
        for (leg, pose) in &part.part.places {
            let side = model.legs.get(leg - 1).map_or([0.0; 2], |l| l.side());
            let apart = match component {
                Component::Bracket => [0.0, 0.0, 2.0 * unit],
                Component::Tie => [side[0] * unit, side[1] * unit, unit],
                _ => [0.0; 3],
            };
            self.bodies.push(Placed { component, leg: *leg, mesh: index, pose: *pose, stretch: 1.0, apart });
        }
    }
}

/// A block on z = 0, centred in x and y.
fn block([length, width, height]: [f64; 3]) -> Mesh {
    let sign = |bit: usize| if bit == 0 { -0.5 } else { 0.5 };
    let corner = |i: usize| [sign(i & 1) * length, sign(i >> 1 & 1) * width, (i >> 2) as f64 * height];
    let quads = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
    let triangles = quads.iter().flat_map(|[a, b, c, d]| [[*a, *b, *c], [*a, *c, *d]]);
    Mesh { points: (0..8).map(corner).collect(), triangles: triangles.collect() }
}

/// A tube one millimetre long along z.
fn hollow(outside: f64, wall: f64) -> Mesh {
    let (outer, inner) = (outside / 2.0, outside / 2.0 - wall);
    turned(&[[outer, 0.0], [outer, 1.0], [inner, 1.0], [inner, 0.0], [outer, 0.0]])
}

/// A screw whose head's seat lies on z = 0 and whose tip points down.
fn screw(diameter: f64, length: f64, head: f64) -> Mesh {
    let (r, tip) = (diameter / 2.0, diameter * 1.5);
    let thin = r * 0.02;
    let profile =
        [[thin, -length], [r, tip - length], [r, 0.0], [head / 2.0, 0.0], [head / 2.0, diameter * HEAD_HEIGHT]];
    turned(&[&profile[..], &[[thin, diameter * HEAD_HEIGHT], [thin, -length]]].concat())
}

/// A ring profile (radius, z), closed, turned about z.
fn turned(profile: &[[f64; 2]]) -> Mesh {
    let n = TUBE_SIDES;
    let rings = profile.len() - 1;
    let ring = |[radius, z]: [f64; 2]| {
        (0..n).map(move |i| {
            let (s, c) = (std::f64::consts::TAU * i as f64 / n as f64).sin_cos();
            [radius * c, radius * s, z]
        })
    };
    let points = profile[..rings].iter().flat_map(|p| ring(*p)).collect();
    let mut triangles = Vec::with_capacity(2 * rings * n);
    for from in 0..rings {
        for i in 0..n {
            let at = |ring: usize, i: usize| (ring % rings * n + i % n) as u32;
            triangles.push([at(from, i), at(from, i + 1), at(from + 1, i + 1)]);
            triangles.push([at(from, i), at(from + 1, i + 1), at(from + 1, i)]);
        }
    }
    Mesh { points, triangles }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn blocks_and_tubes_enclose_their_volume() {
        assert_relative_eq!(block([3.0, 4.0, 5.0]).volume(), 60.0, epsilon = 1e-9);
        let n = TUBE_SIDES as f64;
        let polygon = n / 2.0 * (std::f64::consts::TAU / n).sin();
        assert_relative_eq!(hollow(20.0, 2.0).volume(), polygon * (100.0 - 64.0), epsilon = 1e-9);
    }
}

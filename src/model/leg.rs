//! Legs: where they stand, how they lean, where each tube begins and ends.

use nalgebra::{Isometry3, Matrix3, Rotation3, Translation3, UnitQuaternion, Vector3};

use crate::params::Params;

/// The frame of one leg: its axis and the places of its tubes.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Where the axis meets the underside, mm, world.
    pub head: Vector3<f64>,
    /// Unit vector down the leg, world.
    pub down: Vector3<f64>,
    /// +1 or -1: the bracket's local x in world x.
    pub turn: f64,
    /// Diameter of the circle through the tubes' axes, mm; 0 for one tube.
    pub pitch_circle: f64,
    /// Offsets of the tubes' axes from the leg's axis, across it, mm, world.
    pub offsets: Vec<Vector3<f64>>,
}

impl Frame {
    /// Angle between the leg and the vertical, radians.
    #[must_use]
    pub fn tilt(&self) -> f64 {
        (-self.down.z).clamp(-1.0, 1.0).acos()
    }

    /// Rotation from the bracket's printing frame (z up = world down) to the world.
    #[must_use]
    pub fn bracket_rotation(&self) -> Rotation3<f64> {
        rotation([Vector3::x() * self.turn, -Vector3::y() * self.turn, -Vector3::z()])
    }

    /// Rotation from the foot's printing frame (z up = world up) to the world.
    #[must_use]
    pub fn foot_rotation(&self) -> Rotation3<f64> {
        rotation([Vector3::x() * self.turn, Vector3::y() * self.turn, Vector3::z()])
    }

    /// Rotation from a tie's printing frame (z up the tubes) to the world; x points outward with the bracket's x.
    #[must_use]
    pub fn tie_rotation(&self) -> Rotation3<f64> {
        let z = -self.down;
        let along = Vector3::x() * self.turn;
        let x = (along - z * along.dot(&z)).normalize();
        rotation([x, z.cross(&x), z])
    }

    /// Direction of the leg in the bracket's frame: z > 0.
    #[must_use]
    pub fn axis_in_bracket(&self) -> [f64; 3] {
        clean(self.bracket_rotation().inverse() * self.down)
    }

    /// Direction of the leg, upwards, in the foot's frame: z > 0.
    #[must_use]
    pub fn axis_in_foot(&self) -> [f64; 3] {
        clean(self.foot_rotation().inverse() * -self.down)
    }

    /// Where each tube's axis meets the plane `below` mm under the underside, in the bracket's frame, mm: from the point
    /// where the leg's axis meets the underside, so that a leaning leg's sockets stand off the plate's middle.
    #[must_use]
    pub fn bases_below(&self, below: f64) -> Vec<[f64; 2]> {
        let centre = self.on_axis(self.head.z - below);
        let inverse = self.bracket_rotation().inverse();
        self.offsets.iter().map(|o| flat(inverse * (self.slide(centre + o, centre.z) - self.head))).collect()
    }

    /// Where each tube's axis meets a horizontal plane, relative to the leg's axis there, in the foot's frame, mm.
    #[must_use]
    pub fn bases_at(&self, z: f64) -> Vec<[f64; 2]> {
        let centre = self.on_axis(z);
        let inverse = self.foot_rotation().inverse();
        self.offsets.iter().map(|o| flat(inverse * (self.slide(centre + o, z) - centre))).collect()
    }

    /// Offsets of the tubes in a tie's frame, mm.
    #[must_use]
    pub fn offsets_in_tie(&self) -> Vec<[f64; 2]> {
        let inverse = self.tie_rotation().inverse();
        self.offsets.iter().map(|o| flat(inverse * o)).collect()
    }

    /// The point of the leg's axis at this height, world, mm.
    #[must_use]
    pub fn on_axis(&self, z: f64) -> Vector3<f64> {
        self.slide(self.head, z)
    }

    /// The point at height `z` on the line through `p` parallel to the leg.
    #[must_use]
    pub fn slide(&self, p: Vector3<f64>, z: f64) -> Vector3<f64> {
        p + self.down * ((z - p.z) / self.down.z)
    }
}

/// Rotation with these columns.
fn rotation(columns: [Vector3<f64>; 3]) -> Rotation3<f64> {
    Rotation3::from_matrix_unchecked(Matrix3::from_columns(&columns))
}

/// A rigid transform from its rotation and origin.
#[must_use]
pub fn pose(rotation: Rotation3<f64>, origin: Vector3<f64>) -> Isometry3<f64> {
    Isometry3::from_parts(Translation3::from(origin), UnitQuaternion::from_rotation_matrix(&rotation))
}

/// Drops rounding noise so that equal legs compare and hash as equal.
fn clean(v: Vector3<f64>) -> [f64; 3] {
    [v.x, v.y, v.z].map(|c| (c * 1e12).round() / 1e12 + 0.0)
}

fn flat(v: Vector3<f64>) -> [f64; 2] {
    [v.x, v.y].map(|c| (c * 1e9).round() / 1e9 + 0.0)
}

/// A leg as it is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Where its axis meets the nominal underside, world, mm.
    pub at: [f64; 2],
    /// How far it leans along x and y on its way down, radians.
    pub splay: [f64; 2],
    /// Which way it faces, radians from x.
    pub azimuth: f64,
}

/// The legs in the order of their numbers, counter-clockwise from the corner at -x -y: in the corners, six with one in the
/// middle of either side, three with one in the middle of the front.
#[must_use]
pub fn stands(params: &Params) -> Vec<Stand> {
    let sides: &[[f64; 2]] = match params.legs.count {
        3 => &[[0.0, -1.0], [1.0, 1.0], [-1.0, 1.0]],
        6 => &[[-1.0, -1.0], [0.0, -1.0], [1.0, -1.0], [1.0, 1.0], [0.0, 1.0], [-1.0, 1.0]],
        _ => &[[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]],
    };
    let (legs, top) = (&params.legs, &params.top);
    let inside = [top.length / 2.0 - legs.inset_from_ends, top.width / 2.0 - legs.inset_from_sides];
    let stand = |side: &[f64; 2]| Stand {
        at: [0, 1].map(|k| side[k] * inside[k]),
        splay: [0, 1].map(|k| side[k] * legs.splay[k]),
        azimuth: side[1].atan2(side[0]),
    };
    sides.iter().map(stand).collect()
}

/// On which side of the top's middle lines a place lies: signs of x and y, 0 on the line.
#[must_use]
pub fn side(at: [f64; 2]) -> [f64; 2] {
    at.map(|c| if c.abs() < 1e-6 { 0.0 } else { c.signum() })
}

/// The frame of a leg; `underside` is the height of the wood face there, mm.
#[must_use]
pub fn frame(params: &Params, stand: &Stand, underside: f64, pitch_circle: f64) -> Frame {
    let legs = &params.legs;
    let down = Vector3::new(stand.splay[0].tan(), stand.splay[1].tan(), -1.0).normalize();
    let [x, y] = side([stand.azimuth.cos(), stand.azimuth.sin()]);
    let turn = if x > 0.0 || (x == 0.0 && y > 0.0) { 1.0 } else { -1.0 };
    let pitch_circle = if legs.tubes == 1 { 0.0 } else { pitch_circle };
    let offsets = offsets(legs.tubes, stand.azimuth, down, pitch_circle / 2.0);
    // A leg stands in its place at the nominal underside; a thicker or thinner place only slides the head along its axis.
    let nominal = Vector3::new(stand.at[0], stand.at[1], params.height - params.top.thickness);
    let head = nominal + down * ((underside - nominal.z) / down.z);
    Frame { head, down, turn, pitch_circle, offsets }
}

/// Two tubes stand side by side along x, three point outward, four stand square to the top.
fn offsets(tubes: usize, azimuth: f64, down: Vector3<f64>, radius: f64) -> Vec<Vector3<f64>> {
    let towards = if tubes == 3 { Vector3::new(azimuth.cos(), azimuth.sin(), 0.0) } else { Vector3::x() };
    let e1 = (towards - down * towards.dot(&down)).normalize();
    let e2 = down.cross(&e1);
    let first = if tubes == 4 { std::f64::consts::FRAC_PI_4 } else { 0.0 };
    (0..tubes)
        .map(|k| first + std::f64::consts::TAU * k as f64 / tubes as f64)
        .map(|a| (e1 * a.cos() + e2 * a.sin()) * radius)
        .collect()
}

//! [`Params`] to [`Model`]: every position, axis, length and dimension, decided once.
//!
//! Parts, checks and papers read their numbers here, so that what is drawn is what is checked.
//! World axes: x along the top's length, y along its width, z up, origin on the floor under the top's middle; mm.

mod added;
mod assumed;
mod bracket;
mod cases;
mod coupon;
mod foot;
mod gauge;
mod guide;
mod layout;
mod leg;
mod mark;
mod mend;
mod named;
mod outline;
mod pattern;
mod problems;
mod rail;
mod same;
mod socket;
mod spare;
mod standing;
mod tie;

use nalgebra::{Isometry3, Vector3};

pub use added::{Added, CHILD, CHILD_CLAUSE, EDGE_LOAD_AT, NOT_TIPPED, SWAY_PUSH, TILT, TILT_CLAUSE, Test, added};
pub use bracket::{BracketDesign, DRIVER, Gusset, HoleForm, ScrewHole, Web};
pub use cases::{Action, Case, Purpose, middle, standing};
pub use coupon::{COUPON, COUPONS, CouponDesign, torn};
pub use foot::{FootDesign, Sole, face_height};
pub use gauge::{GaugeDesign, NutSample};
pub use guide::{BIT_FIT, GuideDesign};
pub(crate) use layout::free_stretch;
use layout::{frames, slack, thickness_at};
pub use leg::{Frame, Stand};
pub(crate) use mark::mark;
pub use outline::Outline;
pub use pattern::{Spacing, distance_to_segment};
pub use rail::{Rail, rail_name};
pub use socket::{CrossBolt, GROOVE, Ribs, Socket, default_wall};
pub use standing::Weighed;
pub use tie::{BEFORE_BOLT, RailSocket, TieDesign};

pub use crate::params::HOLE_FIT;
use crate::params::{Assumed, Params};
use crate::tables::moisture;

/// Everything about the job that is geometry or load.
#[derive(Clone, Debug)]
pub struct Model {
    /// What the file said.
    pub params: Params,
    /// The top seen from above.
    pub outline: Outline,
    /// Legs, counter-clockwise from the corner at -x -y.
    pub legs: Vec<Leg>,
    /// Rails, in file order.
    pub rails: Vec<Rail>,
    /// Distinct brackets.
    pub brackets: Vec<Kind<BracketDesign>>,
    /// Distinct ties.
    pub ties: Vec<Kind<TieDesign>>,
    /// Distinct feet.
    pub feet: Vec<Kind<FootDesign>>,
    /// The pieces of the fit gauge.
    pub gauges: Vec<Kind<GaugeDesign>>,
    /// Drill guides: one per distinct bracket and drilling depth.
    pub guides: Vec<Kind<GuideDesign>>,
    /// Load cases.
    pub cases: Vec<Case>,
    /// Defaults of the reader, then the dimensions that the layout chose because the file does not say.
    pub assumed: Vec<Assumed>,
}

/// A distinct part: its dimensions, mark and name, and the legs that have it.
#[derive(Clone, Debug)]
pub struct Kind<D> {
    /// Dimensions in the printing frame.
    pub design: D,
    /// Engraved mark.
    pub mark: String,
    /// Name, such as `bracket` or `bracket legs 1 3`.
    pub name: String,
    /// How many are needed.
    pub count: usize,
    /// Numbers of the legs that have it, ascending, each once.
    pub legs: Vec<usize>,
}

/// A part in its place: `pose` takes its printing frame to the world.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Index among the distinct parts of its sort.
    pub kind: usize,
    /// Printing frame to world, mm.
    pub pose: Isometry3<f64>,
}

/// A tie in its place.
#[derive(Clone, Debug)]
pub struct PlacedTie {
    /// The part and its pose.
    pub part: Placed,
    /// Height of its middle on the leg's axis above the floor, mm.
    pub height: f64,
}

/// One leg.
#[derive(Clone, Debug)]
pub struct Leg {
    /// Its number, from 1.
    pub number: usize,
    /// Its place, lean and heading.
    pub stand: Stand,
    /// Axis and tubes' offsets.
    pub frame: Frame,
    /// Thickness of the top here, mm.
    pub thickness: f64,
    /// Upper and lower end of each tube's axis, world, mm; the end play is left at the upper end.
    pub tubes: Vec<[Vector3<f64>; 2]>,
    /// Length to which each tube is cut, mm.
    pub tube_length: f64,
    /// The bracket.
    pub bracket: Placed,
    /// Ties from the floor up.
    pub ties: Vec<PlacedTie>,
    /// The foot.
    pub foot: Placed,
}

/// A tube of the cut list.
#[derive(Clone, Debug, PartialEq)]
pub struct CutTube {
    /// What it is: `leg tube, legs 1 2` or `rail along width`.
    pub name: String,
    /// As sold.
    pub designation: String,
    /// How many.
    pub count: usize,
    /// Length, mm, to a tenth.
    pub length: f64,
    /// Numbers of its legs.
    pub legs: Vec<usize>,
}

/// A hole to drill in the underside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// Leg number.
    pub leg: usize,
    /// Place, world, mm.
    pub at: [f64; 2],
    /// Pilot diameter, mm.
    pub pilot: f64,
    /// Depth, mm.
    pub depth: f64,
    /// Wood left between the screw's tip and the show face, mm.
    pub left_above_tip: f64,
    /// Spare: drilled only for a repair.
    pub spare: bool,
}

impl Leg {
    /// On which side of the top's middle lines it stands: signs of x and y, 0 on the line.
    #[must_use]
    pub fn side(&self) -> [f64; 2] {
        leg::side(self.stand.at)
    }
}

impl Model {
    /// Wood under the show face at a leg left above a screw's tip, mm; negative: it comes out.
    #[must_use]
    pub fn left_above_tip(&self, leg: &Leg) -> f64 {
        leg.thickness - self.penetration()
    }

    /// Length of screw in the wood, tip included, mm.
    #[must_use]
    pub fn penetration(&self) -> f64 {
        penetration(&self.params)
    }

    /// Thread of a screw in the wood, mm.
    #[must_use]
    pub fn thread(&self) -> f64 {
        let screws = &self.params.bracket.screws;
        screws.screw.thread(screws.length).min(self.penetration())
    }

    /// Holes of all legs, legs in order.
    #[must_use]
    pub fn holes(&self) -> Vec<Hole> {
        let pilot = pilot(&self.params);
        let mut all = Vec::new();
        for leg in &self.legs {
            let design = &self.brackets[leg.bracket.kind].design;
            let sets = [(&design.screws, false), (&design.spare, true)];
            for (hole, spare) in sets.into_iter().flat_map(|(set, spare)| set.iter().map(move |h| (h, spare))) {
                let world = leg.bracket.pose * nalgebra::Point3::new(hole.at[0], hole.at[1], 0.0);
                let left_above_tip = self.left_above_tip(leg);
                all.push(Hole {
                    leg: leg.number,
                    at: [world.x, world.y],
                    pilot,
                    depth: self.penetration(),
                    left_above_tip,
                    spare,
                });
            }
        }
        all
    }

    /// Tubes to cut, legs first, equal lengths together.
    #[must_use]
    pub fn cut_tubes(&self) -> Vec<CutTube> {
        let mut all: Vec<CutTube> = Vec::new();
        let mut add = |name: &str, designation: &str, count: usize, length: f64, legs: &[usize]| {
            let length = tenth(length);
            match all.iter_mut().find(|c| c.name == name && c.designation == designation && c.length == length) {
                Some(cut) => {
                    cut.count += count;
                    cut.legs.extend(legs.iter().filter(|l| !cut.legs.contains(l)).collect::<Vec<_>>());
                }
                None => all.push(CutTube {
                    name: name.into(),
                    designation: designation.into(),
                    count,
                    length,
                    legs: legs.to_vec(),
                }),
            }
        };
        for leg in &self.legs {
            add("leg tube", &self.params.tube_to_buy(None), leg.tubes.len(), leg.tube_length, &[leg.number]);
        }
        for rail in &self.rails {
            add(
                rail.name(),
                &self.params.tube_to_buy(Some(rail.from_file)),
                1,
                rail.length,
                &[self.legs[rail.legs[0]].number, self.legs[rail.legs[1]].number],
            );
        }
        all
    }

    /// Mass of the wooden top, kg.
    #[must_use]
    pub fn top_mass(&self) -> f64 {
        let t = &self.params.top;
        t.mass.unwrap_or(self.outline.area() * t.thickness * 1e-9 * t.wood.density)
    }
}

/// To a tenth of a millimetre, as far as a saw and a rule can follow.
fn tenth(v: f64) -> f64 {
    (v * 10.0).round() / 10.0
}

/// Length of screw in the wood, tip included, mm.
pub(crate) fn penetration(params: &Params) -> f64 {
    let screws = &params.bracket.screws;
    screws.length - screws.seat(params.bracket.plate).grip
}

/// Pilot diameter for this wood, mm.
pub(crate) fn pilot(params: &Params) -> f64 {
    params.bracket.screws.screw.pilot(params.top.wood.specific_gravity)
}

/// Driest and wettest equilibrium moisture of the wood over the year, per cent, at the middle temperature.
#[must_use]
pub fn moisture_range(params: &Params) -> [f64; 2] {
    let [cold, warm] = params.place.temperature;
    params.place.humidity.map(|h| moisture::emc((cold + warm) / 2.0, h * 100.0))
}

/// Smallest box of a plate with leaning sockets, mm.
pub(crate) fn boxed(plate: [f64; 2], thickness: f64, sockets: &[Socket]) -> [f64; 3] {
    let sin = |s: &Socket| (1.0 - s.axis[2] * s.axis[2]).max(0.0).sqrt();
    let side = |k: usize| {
        let across = |s: &Socket| s.outer / 2.0 * (1.0 - s.axis[k] * s.axis[k]).max(0.0).sqrt();
        let tops = sockets.iter().map(|s| (s.base[k] + s.axis[k] * s.height(), across(s)));
        let ends = tops.fold([-plate[k] / 2.0, plate[k] / 2.0], |e, (at, r)| [e[0].min(at - r), e[1].max(at + r)]);
        ends[1] - ends[0]
    };
    let up = sockets.iter().map(|s| s.height() * s.axis[2] + s.outer / 2.0 * sin(s)).fold(0.0, f64::max);
    [side(0), side(1), thickness + up]
}

//! [`Params`] to [`Model`]: every position, axis, length and dimension, decided once.
//!
//! Parts, checks and papers read their numbers here, so that what is drawn is what is checked.
//! World axes: x along the top's length, y along its width, z up, origin on the floor under the top's middle; mm.

mod assumed;
mod bracket;
mod cases;
mod foot;
mod gauge;
mod guide;
mod leg;
mod mark;
mod mend;
mod pattern;
mod problems;
mod rail;
mod same;
mod socket;
mod spare;
mod tie;

use nalgebra::{Isometry3, Vector3};

pub use bracket::{BracketDesign, DRIVER, Gusset, HoleForm, ScrewHole, Web};
pub use cases::{Action, Case, DRAG, PUSH, Purpose, SWAY_PUSH, middle, standing};
pub use foot::{FootDesign, Sole, face_height};
pub use gauge::{GaugeDesign, NutSample};
pub use guide::{BIT_FIT, GuideDesign};
pub use leg::Frame;
pub use pattern::{Spacing, distance_to_segment};
pub use rail::{Rail, rail_name};
pub use socket::{CrossBolt, GROOVE, Ribs, Socket, default_wall};
pub use tie::{RailSocket, TieDesign};

pub use crate::params::HOLE_FIT;
use crate::params::{Assumed, Params, Run, Sawn};
use crate::problem::Problem;
use crate::tables::moisture;

/// Rounds in which the layout chooses its own defaults anew (judgement: each mends what one stage finds, and there are
/// three stages).
const CHOICES: usize = 6;

/// Everything about the job that is geometry or load.
#[derive(Clone, Debug)]
pub struct Model {
    /// What the file said.
    pub params: Params,
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
    /// Sign of its place along x and y; 0 in the middle.
    pub side: [f64; 2],
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

impl Model {
    /// Decides everything, or says what several values of the file mean together.
    ///
    /// # Errors
    /// Every problem of meaning found, in the order of the file.
    pub fn new(params: &Params) -> Result<Self, Vec<Problem>> {
        let grown = Self::settled(params);
        if grown.is_ok() || !params.bracket.screws.spare_holes {
            return grown;
        }
        // A plate that grew for spare holes may stand over an edge or meet a rail: then it is laid out without them.
        Self::settled(&Params { plate_grows: false, ..params.clone() })
    }

    /// The layout once its own choices fit each other.
    fn settled(params: &Params) -> Result<Self, Vec<Problem>> {
        let mut params = params.clone();
        for _ in 0..CHOICES {
            match Self::tried(&params) {
                Err(found) if mend::adopt(&mut params, &found) => {}
                Err(found) => return Err(Self::foreseen(&params, found)),
                done => return done,
            }
        }
        Self::tried(&params)
    }

    fn foreseen(params: &Params, found: Vec<Problem>) -> Vec<Problem> {
        let again = |changed: &Params| Self::tried(changed).err().unwrap_or_default();
        let mut all = mend::foreseen(params, found, again);
        all.sort_by_key(|problem| problem.place);
        all
    }

    fn tried(params: &Params) -> Result<Self, Vec<Problem>> {
        let beside = problems::beside_layout(params);
        match Self::laid_out(params) {
            Ok(model) if beside.is_empty() => Ok(model),
            Ok(_) => Err(beside),
            Err(found) => {
                let mut all = [beside, found].concat();
                all.sort_by_key(|problem| problem.place);
                Err(all)
            }
        }
    }

    fn laid_out(params: &Params) -> Result<Self, Vec<Problem>> {
        let mut found = problems::before_layout(params);
        if !found.is_empty() {
            return Err(found);
        }
        let frames = frames(params);
        let designs: Vec<BracketDesign> =
            match frames.iter().map(|f| BracketDesign::new(params, f, &slack(params))).collect() {
                Ok(designs) => designs,
                Err(misfit) => return Err(vec![problems::misfit(params, &misfit)]),
            };
        let lines = rail::lines(params, &frames);
        found.extend(problems::rails(params, &frames, &lines));
        if !found.is_empty() {
            return Err(found);
        }
        let model = assemble(params, frames, designs, &lines);
        found.extend(problems::after_layout(&model));
        if found.is_empty() { Ok(model) } else { Err(found) }
    }

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
        t.mass.unwrap_or(t.length * t.width * t.thickness * 1e-9 * t.wood.density)
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

/// Thickness of the top at a leg, mm.
fn thickness_at(params: &Params, leg: usize) -> f64 {
    params.top.thickness_at_legs.get(leg).copied().unwrap_or(params.top.thickness)
}

fn frames(params: &Params) -> Vec<Frame> {
    let pitch_circle = pitch_circle(params);
    let sides = leg::sides(params.legs.count);
    let frame = |(i, side): (usize, &[f64; 2])| {
        leg::frame(params, *side, params.height - thickness_at(params, i), pitch_circle)
    };
    sides.iter().enumerate().map(frame).collect()
}

/// A bundle's default circle as a multiple of the tube (judgement: stiffness grows with its square, the studied
/// brackets reach from 45 to 70 mm).
const PITCH_SHARE: f64 = 3.6;

/// Pitch circle asked for, or the default: wide, and never so small that bosses touch; whole mm.
fn pitch_circle(params: &Params) -> f64 {
    let tube = &params.legs.tube;
    let wall = params.bracket.boss_wall.unwrap_or_else(|| default_wall(&params.printing, tube, &params.bracket.hold));
    let least = bracket::smallest_pitch_circle(params.legs.tubes, socket::boss_outer(tube, wall) + 1.0);
    params.legs.pitch_circle.unwrap_or_else(|| (PITCH_SHARE * tube.outside).max(least).ceil())
}

/// The fit gauge's pieces, numbered where there are several.
fn gauges(params: &Params, bracket: &BracketDesign) -> Vec<Kind<GaugeDesign>> {
    let pieces = GaugeDesign::pieces(params, bracket);
    let name = |i: usize| if i == 0 { "fit gauge".to_owned() } else { format!("fit gauge {}", i + 1) };
    let kind = |(i, design): (usize, GaugeDesign)| Kind {
        mark: mark::mark('G', &design),
        design,
        name: name(i),
        count: 1,
        legs: vec![],
    };
    pieces.into_iter().enumerate().map(kind).collect()
}

/// Movement of the wood under a bracket, either way from the middle of the range: half the seasonal range of moisture
/// times the species' coefficient.
fn slack(params: &Params) -> bracket::Slack {
    let coefficient = match params.top.sawn {
        Sawn::Flat => params.top.wood.c_tangential,
        Sawn::Quarter => params.top.wood.c_radial,
    };
    let [low, high] = moisture_range(params);
    bracket::Slack {
        rate: moisture::movement(1.0, coefficient, low, high) / 2.0,
        grain_along_x: params.top.grain == Run::AlongLength,
        slots: params.bracket.screws.slots,
    }
}

/// Driest and wettest equilibrium moisture of the wood over the year, per cent, at the middle temperature.
#[must_use]
pub fn moisture_range(params: &Params) -> [f64; 2] {
    let [cold, warm] = params.place.temperature;
    params.place.humidity.map(|h| moisture::emc((cold + warm) / 2.0, h * 100.0))
}

fn assemble(params: &Params, frames: Vec<Frame>, designs: Vec<BracketDesign>, lines: &[rail::Line]) -> Model {
    let sides = leg::sides(params.legs.count);
    let (mut brackets, mut ties, mut feet) = (Vec::new(), Vec::new(), Vec::new());
    let mut legs = Vec::new();
    for (i, (frame, design)) in frames.iter().zip(designs).enumerate() {
        let bracket = place(&mut brackets, design, leg::pose(frame.bracket_rotation(), frame.head), i + 1);
        let foot_z = face_height(params);
        let foot_design = FootDesign::new(params, frame);
        let ends = tube_ends(params, frame, &brackets[bracket.kind].design, &foot_design);
        let origin = frame.on_axis(foot_z + foot_design.plate) - Vector3::z() * foot_design.plate;
        let foot = place(&mut feet, foot_design, leg::pose(frame.foot_rotation(), origin), i + 1);
        let placed =
            tie_heights(params, frame, lines, i).into_iter().map(|h| place_tie(params, frame, lines, i, h, &mut ties));
        let ties: Vec<PlacedTie> = placed.collect();
        let tube_length = (ends[0][0] - ends[0][1]).norm();
        let thickness = thickness_at(params, i);
        legs.push(Leg {
            number: i + 1,
            side: sides[i],
            frame: frame.clone(),
            thickness,
            tubes: ends,
            tube_length,
            bracket,
            ties,
            foot,
        });
    }
    let mut model = Model {
        params: params.clone(),
        legs,
        rails: Vec::new(),
        gauges: gauges(params, &brackets[0].design),
        guides: Vec::new(),
        cases: cases::cases(params, params.legs.count),
        assumed: Vec::new(),
        brackets,
        ties,
        feet,
    };
    model.guides = guides(&model);
    model.rails = rail::rails(&model, lines);
    finish(&mut model.brackets, 'B', "bracket", params.legs.count);
    finish(&mut model.ties, 'T', "tie", params.legs.count);
    finish(&mut model.feet, 'F', "foot", params.legs.count);
    model.assumed = assumed::all(&model);
    model
}

/// Ends of every tube's axis: the upper one short of its socket's floor by the end play.
fn tube_ends(params: &Params, frame: &Frame, bracket: &BracketDesign, foot: &FootDesign) -> Vec<[Vector3<f64>; 2]> {
    let (top, bottom) = (frame.head.z - bracket.plate, face_height(params) + foot.plate);
    let centre = frame.on_axis(top);
    frame
        .offsets
        .iter()
        .zip(bracket.sockets.iter().zip(&foot.sockets))
        .map(|(offset, (upper, lower))| {
            let start = frame.slide(centre + offset, top) + frame.down * (upper.floor + params.cutting.end_play);
            let end = frame.slide(centre + offset, bottom) - frame.down * lower.floor;
            [start, end]
        })
        .collect()
}

/// Finds an equal part among the kinds, or adds this one.
fn place<D: same::Turned>(kinds: &mut Vec<Kind<D>>, design: D, pose: Isometry3<f64>, leg: usize) -> Placed {
    for (kind, known) in kinds.iter_mut().enumerate() {
        if let Some(angle) = same::turn_between(&design, &known.design) {
            known.count += 1;
            if known.legs.last() != Some(&leg) {
                known.legs.push(leg);
            }
            let back = nalgebra::UnitQuaternion::from_axis_angle(&Vector3::z_axis(), -angle);
            return Placed { kind, pose: pose * back };
        }
    }
    kinds.push(Kind { design, mark: String::new(), name: String::new(), count: 1, legs: vec![leg] });
    Placed { kind: kinds.len() - 1, pose }
}

fn place_tie(
    params: &Params,
    frame: &Frame,
    lines: &[rail::Line],
    leg: usize,
    height: f64,
    kinds: &mut Vec<Kind<TieDesign>>,
) -> PlacedTie {
    let design = TieDesign::new(params, frame, &rail::at_tie(lines, leg, height));
    let origin = frame.on_axis(height) + frame.down * (design.height / 2.0);
    let part = place(kinds, design, leg::pose(frame.tie_rotation(), origin), leg + 1);
    PlacedTie { part, height }
}

/// Heights of a leg's ties from the floor up: where rails are, where the file says, the rest in the widest gaps, mm.
fn tie_heights(params: &Params, frame: &Frame, lines: &[rail::Line], leg: usize) -> Vec<f64> {
    let mut heights = rail::heights(lines, leg);
    let [low, high] = free_stretch(params, frame);
    match &params.legs.ties {
        crate::params::Ties::At(given) => heights.extend(
            given.iter().filter(|g| heights.iter().all(|h| (h - **g).abs() > 1.0)).copied().collect::<Vec<_>>(),
        ),
        crate::params::Ties::Even(count) if heights.is_empty() => {
            heights.extend((1..=*count).map(|k| tenth(low + (high - low) * k as f64 / (*count + 1) as f64)));
        }
        crate::params::Ties::Even(count) => {
            while heights.len() < *count {
                heights.push(tenth(middle_of_widest_gap(&heights, low, high)));
            }
        }
    }
    heights.sort_by(f64::total_cmp);
    heights
}

fn middle_of_widest_gap(heights: &[f64], low: f64, high: f64) -> f64 {
    let mut ends = vec![low, high];
    ends.extend(heights);
    ends.sort_by(f64::total_cmp);
    let widest =
        ends.windows(2).fold([low, low], |best, w| if w[1] - w[0] > best[1] - best[0] { [w[0], w[1]] } else { best });
    (widest[0] + widest[1]) / 2.0
}

/// Heights between the foot's and the bracket's boss mouths on the leg's axis, mm.
pub(crate) fn free_stretch(params: &Params, frame: &Frame) -> [f64; 2] {
    let foot = FootDesign::new(params, frame);
    let cos = -frame.down.z;
    let sockets = |s: &Socket| s.height() * cos;
    let low = face_height(params) + foot.plate + foot.sockets.iter().map(sockets).fold(0.0, f64::max);
    let floor = socket::floor(&params.legs.tube, params.bracket.floor, frame.tilt());
    let upper = floor + params.bracket.socket_depth;
    [low, frame.head.z - params.bracket.plate - upper * cos]
}

fn guides(model: &Model) -> Vec<Kind<GuideDesign>> {
    let mut kinds = model
        .brackets
        .iter()
        .map(|b| {
            let design = GuideDesign::new(&model.params, &b.design, pilot(&model.params), model.penetration());
            Kind { mark: String::new(), design, name: String::new(), count: 1, legs: b.legs.clone() }
        })
        .fold(Vec::new(), |mut kinds: Vec<Kind<GuideDesign>>, kind| {
            match kinds.iter_mut().find(|k| k.design == kind.design) {
                Some(known) => known.legs.extend(kind.legs),
                None => kinds.push(kind),
            }
            kinds
        });
    finish(&mut kinds, 'D', "drill guide", model.params.legs.count);
    kinds
}

/// Gives each kind its mark and name.
fn finish<D: serde::Serialize>(kinds: &mut Vec<Kind<D>>, letter: char, name: &str, legs: usize) {
    let marks = mark::distinct(letter, kinds.iter().map(|kind| &kind.design));
    kinds.iter_mut().zip(marks).for_each(|(kind, mark)| kind.mark = mark);
    let named = std::mem::take(kinds).named(name, legs);
    *kinds = named;
}

/// Naming of a list of kinds.
trait Named {
    /// The plain name where there is one kind; else with the legs, and a letter where the legs are the same.
    fn named(self, name: &str, legs: usize) -> Self;
}

impl<D> Named for Vec<Kind<D>> {
    fn named(mut self, name: &str, legs: usize) -> Self {
        let several = self.len() > 1;
        let mut names: Vec<String> = Vec::new();
        for kind in &mut self {
            let numbers: Vec<String> = kind.legs.iter().map(ToString::to_string).collect();
            let whose = if !several {
                String::new()
            } else if kind.legs.len() == legs {
                " all legs".into()
            } else {
                format!(" {} {}", if numbers.len() == 1 { "leg" } else { "legs" }, numbers.join(" "))
            };
            kind.name = format!("{name}{whose}");
            let same = names.iter().filter(|n| **n == kind.name).count();
            names.push(kind.name.clone());
            if same > 0 {
                kind.name = format!("{} {}", kind.name, char::from(b'a' + same as u8));
            }
        }
        self
    }
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

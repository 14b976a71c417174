//! The layout: frames of the legs, then every part in its place, anew as long as defaults of its own do not fit.

use nalgebra::{Isometry3, Vector3};

use super::named::finish;
use super::{
    BracketDesign, FootDesign, Frame, GaugeDesign, GuideDesign, Kind, Leg, Model, Outline, Placed, PlacedTie, Socket,
    TieDesign, assumed, bracket, cases, default_wall, face_height, leg, mark, mend, moisture_range, pilot, problems,
    rail, same, socket, tenth,
};
use crate::params::{Params, Run, Sawn, Ties};
use crate::problem::Problem;
use crate::tables::moisture;

/// Rounds in which the layout chooses its own defaults anew (judgement: each mends what one stage finds, and there are
/// three stages).
const CHOICES: usize = 6;

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
    pub(super) fn settled(params: &Params) -> Result<Self, Vec<Problem>> {
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

    pub(super) fn laid_out(params: &Params) -> Result<Self, Vec<Problem>> {
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
}

/// Thickness of the top at a leg, mm.
pub(super) fn thickness_at(params: &Params, leg: usize) -> f64 {
    params.top.thickness_at_legs.get(leg).copied().unwrap_or(params.top.thickness)
}

pub(super) fn frames(params: &Params) -> Vec<Frame> {
    let pitch_circle = pitch_circle(params);
    let frame = |(i, stand): (usize, &leg::Stand)| {
        leg::frame(params, stand, params.height - thickness_at(params, i), pitch_circle)
    };
    leg::stands(params).iter().enumerate().map(frame).collect()
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

/// The bracket whose bores lean most, the hardest to print; the first of equal ones.
fn most_leaning(brackets: &[Kind<BracketDesign>]) -> &BracketDesign {
    let upright = |design: &BracketDesign| design.sockets[0].axis[2];
    let more = |a: &Kind<BracketDesign>, b: &Kind<BracketDesign>| upright(&b.design) < upright(&a.design) - 1e-9;
    let first = &brackets[0];
    &brackets.iter().fold(first, |a, b| if more(a, b) { b } else { a }).design
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
pub(super) fn slack(params: &Params) -> bracket::Slack {
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

fn assemble(params: &Params, frames: Vec<Frame>, designs: Vec<BracketDesign>, lines: &[rail::Line]) -> Model {
    let stands = leg::stands(params);
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
            stand: stands[i],
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
        outline: Outline::rectangle(params.top.length, params.top.width),
        legs,
        rails: Vec::new(),
        gauges: gauges(params, most_leaning(&brackets)),
        guides: Vec::new(),
        cases: Vec::new(),
        assumed: Vec::new(),
        brackets,
        ties,
        feet,
    };
    model.guides = guides(&model);
    model.rails = rail::rails(&model, lines);
    model.cases = cases::cases(&model);
    finish(&mut model.brackets, 'B', "bracket", stands.len());
    finish(&mut model.ties, 'T', "tie", stands.len());
    finish(&mut model.feet, 'F', "foot", stands.len());
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
        Ties::At(given) => heights.extend(
            given.iter().filter(|g| heights.iter().all(|h| (h - **g).abs() > 1.0)).copied().collect::<Vec<_>>(),
        ),
        Ties::Even(count) if heights.is_empty() => {
            heights.extend((1..=*count).map(|k| tenth(low + (high - low) * k as f64 / (*count + 1) as f64)));
        }
        Ties::Even(count) => {
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
    finish(&mut kinds, 'D', "drill guide", model.legs.len());
    kinds
}

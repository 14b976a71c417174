//! The whole table as a frame: top, brackets, tubes, ties, rails, feet.
//!
//! Idealisation: the top is an orthotropic plate whose nodes lie in the underside. A rigid arm leads from a plate node to
//! the joint of each bracket, a spring of six components below the plate's face; from there rigid arms lead to the
//! tubes' mouths. Tubes and rails are Timoshenko beams, ties and feet rigid bodies that hold each tube with springs.

use nalgebra::Vector3;

use super::Detail;
use super::estimate::Joints;
use crate::fem::{Axes, BeamId, BeamSection, Frame, FrameError, Mesh, NodeId, PlateId, PlateSection, SpringId};
use crate::model::{Leg, Model, Rail};
use crate::params::{Base, Run, Tube};
use crate::units::GRAVITY;

/// Depth of the joint's turning point below the plate's top face as a share of the plate, from the solid models.
pub const TURNING_POINT: f64 = 0.4;
/// Poisson's ratio of wood in the plane of a board, strain across under stress along. Source: Wood Handbook, Table 5-2, from memory.
pub const POISSON: f64 = 0.37;
/// kg to tonnes.
const TONNE: f64 = 1e-3;

/// What a plate point is loaded with is worked out on this.
pub(super) struct Built {
    pub frame: Frame,
    pub plate: PlateId,
    pub plate_nodes: Vec<NodeId>,
    pub legs: Vec<BuiltLeg>,
    pub rails: Vec<BuiltTube>,
}

/// Nodes and elements of a leg.
pub(super) struct BuiltLeg {
    /// In the wood face, tied to the plate.
    pub head: NodeId,
    /// Where the joint turns.
    pub pivot: [f64; 3],
    /// Spring of the bracket; its second node is the leg.
    pub joint: SpringId,
    pub joint_axes: Axes,
    pub tubes: Vec<BuiltTube>,
    /// On the floor.
    pub foot: NodeId,
    /// Tie bodies, from the floor up.
    pub ties: Vec<NodeId>,
}

/// Elements of a tube from its first end to its second, and the springs of the parts that hold it between.
pub(super) struct BuiltTube {
    pub beams: Vec<BeamId>,
    pub nodes: Vec<NodeId>,
    pub grips: Vec<SpringId>,
}

/// The frame under every load case.
pub(super) fn build(model: &Model, joints: &Joints, detail: Detail) -> Result<Built, FrameError> {
    let mut frame = Frame::new();
    let (plate, plate_nodes, mesh) = top(model, joints, detail, &mut frame)?;
    let mut legs = Vec::new();
    for (i, leg) in model.legs.iter().enumerate() {
        let at = mesh
            .nearest(head_in_plate(model, leg))
            .map(|n| plate_nodes[n])
            .ok_or(FrameError::BadValue { what: "mesh" })?;
        legs.push(built_leg(model, joints, detail, &mut frame, i, at)?);
    }
    let rails =
        model.rails.iter().enumerate().map(|(i, rail)| built_rail(joints, detail, &mut frame, &legs, (i, rail)));
    let rails = rails.collect::<Result<_, _>>()?;
    Ok(Built { frame, plate, plate_nodes, legs, rails })
}

/// Section of a tube.
pub(super) fn section(tube: &Tube) -> BeamSection {
    BeamSection::tube(tube.outside, tube.wall, tube.metal.e, tube.metal.g, tube.metal.density * 1e-12)
}

fn head_in_plate(model: &Model, leg: &Leg) -> [f64; 2] {
    let nominal = leg.frame.on_axis(underside(model));
    [nominal.x, nominal.y]
}

/// Height of the nominal underside, mm.
pub(super) fn underside(model: &Model) -> f64 {
    model.params.height - model.params.top.thickness
}

/// The plate: orthotropic, its nodes in the underside, its middle plane half a thickness above.
fn top(
    model: &Model,
    joints: &Joints,
    detail: Detail,
    frame: &mut Frame,
) -> Result<(PlateId, Vec<NodeId>, Mesh), FrameError> {
    let t = &model.params.top;
    let half = [t.length / 2.0, t.width / 2.0];
    let cell = t.length.max(t.width).max(t.length.min(t.width) * 1.5) / detail.cells();
    let heads: Vec<[f64; 2]> = model.legs.iter().map(|l| head_in_plate(model, l)).collect();
    let xs: Vec<f64> = heads.iter().map(|h| h[0]).collect();
    let ys: Vec<f64> = heads.iter().map(|h| h[1]).collect();
    let mesh = Mesh::rectangle([-half[0], half[0]], [-half[1], half[1]], &xs, &ys, cell)?;
    let volume = t.length * t.width * t.thickness;
    let carried =
        model.params.loads.iter().filter(|l| l.lasts == crate::params::Duration::Years).map(|l| l.mass).sum::<f64>();
    let section = PlateSection {
        thickness: t.thickness,
        young_along: t.wood.e_along / joints.wood_creep,
        young_across: t.wood.e_across / joints.wood_creep,
        poisson: POISSON,
        shear: t.wood.shear_modulus / joints.wood_creep,
        grain: if t.grain == Run::AlongLength { 0.0 } else { std::f64::consts::FRAC_PI_2 },
        density: model.top_mass() * TONNE / volume,
        carried: carried * TONNE / (t.length * t.width),
    };
    let (plate, nodes) = frame.level_plate(&mesh, underside(model), section, t.thickness / 2.0)?;
    Ok((plate, nodes, mesh))
}

fn built_leg(
    model: &Model,
    joints: &Joints,
    detail: Detail,
    frame: &mut Frame,
    i: usize,
    plate_node: NodeId,
) -> Result<BuiltLeg, FrameError> {
    let leg = &model.legs[i];
    let design = &model.brackets[leg.bracket.kind].design;
    let head = frame.node(leg.frame.head.into());
    frame.rigid_link(plate_node, head);
    frame.mass(head, design_mass(model, &design.sockets, design.length * design.width * design.plate), [0.0; 3]);
    let pivot: [f64; 3] = leg.frame.on_axis(leg.frame.head.z - design.plate * (1.0 - TURNING_POINT)).into();
    let (above, below) = (frame.node(pivot), frame.node(pivot));
    frame.rigid_link(head, above);
    let along: Vector3<f64> = leg.bracket.pose.rotation * Vector3::x();
    let axes = Axes::along(along.into(), [0.0, 0.0, -1.0]);
    let [kx, ky, kz] = joints.rotational[i];
    let joint =
        frame.spring(above, below, axes, [joints.lateral[i], joints.lateral[i], joints.axial[i], kx, ky, kz])?;
    let foot = foot_node(model, joints, frame, leg);
    let ties: Vec<NodeId> = leg.ties.iter().map(|t| tie_node(model, frame, leg, t)).collect();
    let bodies = Bodies { bracket: below, ties: &ties, foot };
    let tubes = (0..leg.tubes.len()).map(|k| built_tube(model, joints, detail, frame, i, k, &bodies));
    let tubes = tubes.collect::<Result<_, _>>()?;
    Ok(BuiltLeg { head, pivot, joint, joint_axes: axes, tubes, foot, ties })
}

/// Rigid bodies that hold a leg's tubes.
struct Bodies<'a> {
    bracket: NodeId,
    ties: &'a [NodeId],
    foot: NodeId,
}

/// Mass of a printed plate with bosses, tonnes: solid plastic.
fn design_mass(model: &Model, sockets: &[crate::model::Socket], plate: f64) -> f64 {
    let bosses: f64 = sockets
        .iter()
        .map(|s| std::f64::consts::FRAC_PI_4 * (s.outer * s.outer * s.height() - s.bore * s.bore * s.depth))
        .sum();
    (plate + bosses) * model.params.printing.filament.density * 1e-12
}

fn foot_node(model: &Model, joints: &Joints, frame: &mut Frame, leg: &Leg) -> NodeId {
    let design = &model.feet[leg.foot.kind].design;
    let at = leg.frame.on_axis(0.0);
    let foot = frame.node([at.x, at.y, 0.0]);
    let turns = joints.base == Base::Pinned;
    frame.fix(foot, [true, true, true, !turns, !turns, true]);
    frame.mass(foot, design_mass(model, &design.sockets, design.length * design.width * design.plate), [0.0; 3]);
    foot
}

fn tie_node(model: &Model, frame: &mut Frame, leg: &Leg, tie: &crate::model::PlacedTie) -> NodeId {
    let design = &model.ties[tie.part.kind].design;
    let node = frame.node(leg.frame.on_axis(tie.height).into());
    let ring = std::f64::consts::FRAC_PI_4 * (design.outer * design.outer - design.bore * design.bore);
    let volume = design.bores.len() as f64 * ring * design.height;
    frame.mass(node, volume * model.params.printing.filament.density * 1e-12, [1e-9; 3]);
    node
}

/// A tube from the bracket's mouth to the foot's, gripped by each tie.
fn built_tube(
    model: &Model,
    joints: &Joints,
    detail: Detail,
    frame: &mut Frame,
    i: usize,
    k: usize,
    bodies: &Bodies,
) -> Result<BuiltTube, FrameError> {
    let leg = &model.legs[i];
    let (bracket, foot) = (&model.brackets[leg.bracket.kind].design, &model.feet[leg.foot.kind].design);
    let [top, bottom] = leg.tubes[k];
    let down = leg.frame.down;
    let upper = top + down * (bracket.sockets[0].depth - model.params.cutting.end_play);
    let lower = bottom - down * foot.sockets[0].depth;
    let mut stations = vec![(upper, bodies.bracket, joints.in_bracket(i))];
    for (t, (tie, body)) in leg.ties.iter().zip(bodies.ties).enumerate().rev() {
        let centre = leg.frame.on_axis(tie.height);
        stations.push((centre + leg.frame.offsets[k], *body, joints.in_tie(i, t)));
    }
    stations.push((lower, bodies.foot, joints.in_foot(i)));
    let parts = if stations.len() == 2 { detail.parts_alone() } else { detail.parts() };
    let mut built = BuiltTube { beams: Vec::new(), nodes: Vec::new(), grips: Vec::new() };
    let section = section(&model.params.legs.tube);
    let axes = Axes::along(down.into(), side(down));
    let mut last: Option<NodeId> = None;
    for (place, body, stiffness) in stations {
        let node = frame.node(place.into());
        built.grips.push(frame.spring(body, node, axes, stiffness)?);
        if let Some(from) = last {
            let member = frame.member(from, node, section, side(down), parts)?;
            built.beams.extend(member.beams);
            built.nodes.extend(&member.nodes[1..]);
        } else {
            built.nodes.push(node);
        }
        last = Some(node);
    }
    Ok(built)
}

/// A direction across a nearly upright or a level line.
fn side(along: Vector3<f64>) -> [f64; 3] {
    if along.x.abs() < 0.9 { [1.0, 0.0, 0.0] } else { [0.0, 1.0, 0.0] }
}

fn built_rail(
    joints: &Joints,
    detail: Detail,
    frame: &mut Frame,
    legs: &[BuiltLeg],
    (i, rail): (usize, &Rail),
) -> Result<BuiltTube, FrameError> {
    let [a, b] = rail.ends;
    let along = (b - a).normalize();
    let depth = joints.rail_depth;
    let mouths = [a + along * depth, b - along * depth];
    let axes = Axes::along(along.into(), [0.0, 0.0, 1.0]);
    let ends = [0, 1].map(|e| frame.node(mouths[e].into()));
    let mut grips = Vec::new();
    for e in 0..2 {
        let tie = legs[rail.legs[e]].ties[rail.ties[e]];
        grips.push(frame.spring(tie, ends[e], axes, joints.at_rail(i, e))?);
    }
    let member = frame.member(ends[0], ends[1], section(&rail.tube), [0.0, 0.0, 1.0], detail.parts_alone())?;
    Ok(BuiltTube { beams: member.beams, nodes: member.nodes, grips })
}

/// Weight of everything, mm/s2.
pub(super) const DOWN: [f64; 3] = [0.0, 0.0, -1000.0 * GRAVITY];

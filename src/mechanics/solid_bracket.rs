//! Brackets analysed as the solids that are drawn: screws held under their heads, tubes tied in their bores.

use std::f64::consts::TAU;

use faer::Mat;
use faer::linalg::matmul::matmul;
use faer::{Accum, MatRef, Par};
use nalgebra::{Matrix6, Point3, Vector6};

use crate::fem::solid::{Condensed, Grid, Material, Model as Bricks, Patch, complementarity};
use crate::geometry::{Aabb, Inside};
use crate::params::HEAD_FIT;
use crate::parts::{Bore, Part, ScrewSeat};
use crate::tables::filament::Filament;

/// Unknowns a grid is chosen for: 80 to 110 thousand move the stiffness by under 1 % on the largest part.
const UNKNOWNS: f64 = 95_000.0;
/// Above this many a part is not solved: 2.6 GB at 242 thousand.
const MOST: usize = 200_000;
/// Edge of the first grid, from which the number of unknowns of a finer one is told, mm.
const FIRST: f64 = 5.0;
/// Stiffness of the film between plastic and what holds it, in moduli over a cell's edge. Cells are too stiff at the rims
/// of what is held, in proportion to their edge; a film gives in the same proportion. With this one the bench's bracket has
/// the same stiffness at cells of 3.8, 2.5 and 1.9 mm within 1.6 %; with 1 it rises by 3 % as cells shrink, with 4 it falls
/// by 4 %.
const FILM: f64 = 2.0;
/// Edge of the pads by which the wood presses, mm: 10, 5 and 4 mm give the same stiffness within 0.2 %.
const PAD: f64 = 5.0;
/// Edge of the patches of heads, bores and pads, mm. Judgement: well below a cell.
const PATCH: f64 = 0.6;
/// Depth at which a surface must have plastic under it to count, mm.
const UNDER: f64 = 0.15;

/// Rotational stiffness of a bracket as a solid, N mm/rad, every tube tied, moments about the bracket's x and y.
#[derive(Clone, Debug, PartialEq)]
pub struct RotationalStiffness {
    /// Held under the screws' heads alone, about x and y.
    pub held: [f64; 2],
    /// The same on rigid wood: about x one way and the other, about y one way and the other.
    pub on_wood: [[f64; 2]; 2],
    /// Greatest tension across layers above the plate on rigid wood under 100 N m, mean over a ball of 3 mm, MPa, in the order
    /// of `on_wood`, and where, mm.
    pub tension: [(f64, [f64; 3]); 4],
}

/// A bracket as a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct SolidBracket {
    /// Name of the part.
    pub name: String,
    /// Plastic that is alike in every direction.
    pub even: RotationalStiffness,
    /// Plastic that gives more across its layers, as its row says.
    pub layered: RotationalStiffness,
    /// Edges of a cell, mm.
    pub step: [f64; 3],
    /// Unknowns.
    pub unknowns: usize,
}

/// Analyses a bracket that is printed solid in a filament.
///
/// # Errors
/// A part that is no bracket, is too large or is held by nothing, in words.
pub fn bracket(part: &Part, filament: &Filament) -> Result<SolidBracket, String> {
    let named = |why: String| format!("{}: {why}", part.name);
    let (_, _, plate) = part.solid.plate().ok_or_else(|| named("no plate lies on the wood".into()))?;
    let inside = part.solid.inside();
    let drawn = Drawn { part, inside: &inside, plate };
    let grid = grid(&drawn, &part.solid.aabb(), part.solid.volume()).map_err(named)?;
    let (step, unknowns) = (grid.step, grid.unknowns());
    let of = |material: &Material| rotational(&drawn, grid.clone(), material).map_err(|why| named(why.into()));
    let even = of(&Material::even(filament.e, filament.poisson))?;
    let layered = of(&layers(filament.e, filament.e_z, filament.poisson))?;
    Ok(SolidBracket { name: part.name.clone(), even, layered, step, unknowns })
}

/// A bracket, where it is, and the thickness of its plate, mm.
struct Drawn<'a> {
    part: &'a Part,
    inside: &'a Inside<'a>,
    plate: f64,
}

/// Layers of which only the moduli along and across are known: Poisson's ratio falls with the modulus across, the shear
/// modulus between layers with its root. Judgement.
fn layers(e: f64, e_z: f64, nu: f64) -> Material {
    let shear = e / (2.0 * (1.0 + nu));
    Material { e, e_z, nu, nu_z: nu * e_z / e, g_z: shear * (e_z / e).sqrt() }
}

fn rotational(d: &Drawn, grid: Grid, material: &Material) -> Result<RotationalStiffness, &'static str> {
    let film = FILM * material.e / grid.step[0];
    let mut bricks = Bricks::new(grid, material);
    let under = |all: Vec<Patch>| -> Vec<Patch> { all.into_iter().filter(|p| backed(d.inside, p)).collect() };
    for screw in d.part.screws() {
        let [x, y] = screw.hole.at;
        bricks.body(&under(seat(screw)), [x, y, screw.face], film);
    }
    let walls = d.part.bores().flat_map(wall).collect();
    let tubes = bricks.body(&under(walls), [0.0, 0.0, d.plate], film);
    let pads = pads(d.part.wood_face().ok_or("no face lies on the wood")?)
        .into_iter()
        .filter_map(|pad| bricks.pad(&under(pad), |p| p.inward))
        .map(|(kept, _)| kept);
    let pads: Vec<usize> = pads.collect();
    let condensed = bricks.condense().ok_or("a part of it is held by nothing")?;
    let held = Held::new(&condensed, tubes, &pads).ok_or("the tubes are held by nothing")?;
    let mut kept = Mat::<f64>::zeros(condensed.stiffness().nrows(), TURNS.len());
    let mut turned = [0.0; 4];
    for (c, (k, sense)) in TURNS.into_iter().enumerate() {
        let mut load = Vector6::zeros();
        load[3 + k] = sense * UNIT;
        let (motion, forces) = held.pressed(&load).ok_or("contact with the wood is not found")?;
        turned[c] = UNIT / (sense * motion[3 + k]);
        (0..6).for_each(|j| kept[(tubes + j, c)] = motion[j]);
        pads.iter().zip(forces).for_each(|(p, force)| kept[(*p, c)] = -force);
    }
    let alone = [3, 4].map(|k| 1.0 / held.give[(k, k)]);
    let on_wood = [[turned[0], turned[1]], [turned[2], turned[3]]];
    let tension = tension(&condensed, kept.as_ref(), d.plate).ok_or("nothing stands on its plate")?;
    Ok(RotationalStiffness { held: alone, on_wood, tension })
}

/// Moments that are asked for: about x or y, and the sense.
const TURNS: [(usize, f64); 4] = [(0, 1.0), (0, -1.0), (1, 1.0), (1, -1.0)];
/// A moment, N mm; all answers are in proportion to it.
const UNIT: f64 = 1e5;

/// Greatest mean tension across layers above the plate for each column of kept unknowns.
fn tension(condensed: &Condensed, kept: MatRef<'_, f64>, plate: f64) -> Option<[(f64, [f64; 3]); 4]> {
    let motions = condensed.motions(kept);
    let mut greatest = [(0.0, [0.0; 3]); 4];
    for (c, found) in greatest.iter_mut().enumerate() {
        let column: Vec<f64> = (0..motions.nrows()).map(|i| motions[(i, c)]).collect();
        *found = condensed.greatest(&condensed.across_layers(&column), |p| p[2] > plate)?;
    }
    Some(greatest)
}

/// The grid for [`UNKNOWNS`], a cell's face on the plate's top and the middle of the plate on a corner.
fn grid(d: &Drawn, bounds: &Aabb, volume: f64) -> Result<Grid, String> {
    let of = |h: f64| {
        let step = [h, h, d.plate / (d.plate / h).round().max(2.0)];
        let low = [0, 1].map(|k| -(bounds.min[k].abs().max(bounds.max[k]) / h - 1e-6).ceil() * h);
        Grid::new(d.inside, [low[0], low[1], 0.0], [-low[0], -low[1], bounds.max[2]], step)
    };
    // Corners are the volume's share and, for the rest, the surface's: n = 3 V / h^3 + b / h^2.
    let of_volume = |h: f64| 3.0 * volume / h.powi(3);
    let surface = (of(FIRST).unknowns() as f64 - of_volume(FIRST)) * FIRST * FIRST;
    let unknowns = |h: f64| of_volume(h) + surface / h / h;
    let (mut low, mut high) = (0.5, FIRST);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if unknowns(middle) > UNKNOWNS { low = middle } else { high = middle }
    }
    let grid = of(high);
    if grid.unknowns() > MOST { Err(format!("{} unknowns are too many", grid.unknowns())) } else { Ok(grid) }
}

fn backed(inside: &Inside, p: &Patch) -> bool {
    inside.at(&Point3::from([0, 1, 2].map(|k| p.at[k] + UNDER * p.inward[k]))) < 0.0
}

/// The face under a screw's head: flat in a sink, a cone where it is countersunk.
fn seat(screw: &ScrewSeat) -> Vec<Patch> {
    let (form, [x, y]) = (&screw.form, screw.hole.at);
    let (inner, outer) = (form.clear / 2.0, form.head / 2.0 - HEAD_FIT / 2.0);
    let steepness = if form.cone { form.sink / (form.head - form.clear) * 2.0 } else { 0.0 };
    let slant = steepness.hypot(1.0);
    let rings = ((outer - inner) / PATCH).ceil().max(2.0) as usize;
    let width = (outer - inner) / rings as f64;
    let ring = |i: usize| {
        let r = inner + (i as f64 + 0.5) * width;
        let count = (TAU * r / PATCH).ceil() as usize / 8 * 8 + 8;
        let z = screw.face - form.sink + steepness * (r - inner);
        (0..count).map(move |j| {
            let (s, c) = (TAU * (j as f64 + 0.5) / count as f64).sin_cos();
            let inward = [steepness / slant * c, steepness / slant * s, -1.0 / slant];
            Patch { at: [x + r * c, y + r * s, z], inward, area: TAU * r * width * slant / count as f64 }
        })
    };
    (0..rings).flat_map(ring).collect()
}

/// The wall of a bore, from its floor to the mouth's chamfer.
fn wall(bore: &Bore) -> Vec<Patch> {
    let (axis, r, [from, to]) = (bore.axis, bore.diameter / 2.0, bore.held);
    let [u, v] = axis.across();
    let around = (TAU * r / PATCH).ceil() as usize / 8 * 8 + 8;
    let along = ((to - from) / PATCH).ceil() as usize;
    let patch = |i: usize| {
        let (sin, cos) = (TAU * ((i % around) as f64 + 0.5) / around as f64).sin_cos();
        let out = u * cos + v * sin;
        let at = axis.at(from + (to - from) * ((i / around) as f64 + 0.5) / along as f64) + out * r;
        Patch { at: at.into(), inward: out.into(), area: TAU * r * (to - from) / (around * along) as f64 }
    };
    (0..around * along).map(patch).collect()
}

/// The wood face in squares of about [`PAD`].
fn pads(size: [f64; 2]) -> Vec<Vec<Patch>> {
    let count = size.map(|l| (l / PAD).round().max(1.0) as usize);
    let edge = [size[0] / count[0] as f64, size[1] / count[1] as f64];
    let fine = (PAD / PATCH).ceil() as usize;
    let pad = |i: usize| {
        let corner = [i % count[0], i / count[0]];
        let patch = |q: usize| {
            let part = [q % fine, q / fine].map(|x| (x as f64 + 0.5) / fine as f64);
            let [x, y] = [0, 1].map(|k| (corner[k] as f64 + part[k]) * edge[k] - size[k] / 2.0);
            Patch { at: [x, y, 0.0], inward: [0.0, 0.0, 1.0], area: edge[0] * edge[1] / (fine * fine) as f64 }
        };
        (0..fine * fine).map(patch).collect()
    };
    (0..count[0] * count[1]).map(pad).collect()
}

/// The tubes' motion with every screw's head held; the wood presses on pads.
struct Held {
    /// Motion by force of the tubes off the wood.
    give: Matrix6<f64>,
    /// Lift of each pad by force of the tubes; turned over, motion of the tubes by force of each pad.
    lifts: Mat<f64>,
    /// Lift of each pad by force of each.
    compliance: Mat<f64>,
}

impl Held {
    fn new(condensed: &Condensed, tubes: usize, pads: &[usize]) -> Option<Self> {
        let s: MatRef<'_, f64> = condensed.stiffness();
        let give = Matrix6::from_fn(|i, j| s[(tubes + i, tubes + j)]).try_inverse()?;
        let follow = Mat::from_fn(pads.len(), 6, |p, j| s[(pads[p], tubes + j)]);
        let inverse = Mat::from_fn(6, 6, |i, j| give[(i, j)]);
        let lifts = &follow * &inverse;
        let mut compliance = Mat::from_fn(pads.len(), pads.len(), |i, j| -s[(pads[i], pads[j])]);
        matmul(compliance.as_mut(), Accum::Add, lifts.as_ref(), follow.transpose(), 1.0, Par::Seq);
        Some(Self { give, lifts, compliance })
    }

    /// Motion of the tubes under a load on them, rigid wood below, and the force of each pad.
    fn pressed(&self, load: &Vector6<f64>) -> Option<(Vector6<f64>, Vec<f64>)> {
        let count = self.lifts.nrows();
        let lift = |p: usize| (0..6).map(|j| self.lifts[(p, j)] * load[j]).sum::<f64>();
        let gaps: Vec<f64> = (0..count).map(lift).collect();
        let start = gaps.iter().map(|g| *g < 0.0).collect();
        let contact = complementarity(&self.compliance.as_ref(), &gaps, start)?;
        let pushed = |j: usize| (0..count).map(|p| self.lifts[(p, j)] * contact.forces[p]).sum::<f64>();
        Some((self.give * load + Vector6::from_fn(|j, _| pushed(j)), contact.forces))
    }
}

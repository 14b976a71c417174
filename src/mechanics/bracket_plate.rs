//! The plate of a bracket as a bending plate on screws and wood: small finite elements of a few millimetres.
//!
//! Frame: x, y in the plate, z away from the wood. Bosses are stiff discs, gussets and webs are ribs with a part of the
//! plate as flange, screws are elastic discs under their heads, the wood can only press, and the tubes are one stiff
//! body on the walls of all bosses. What the plate cannot know (how a wall or a screw head sinks into solid plastic) is in
//! [`Softness`], fitted to solid finite elements.
//!
//! While the wood presses at the same nodes, answers are in proportion to the load. So answers to unit loads are kept for
//! each set of pressed nodes met, and another load is first tried as that blend of known answers which has the least
//! energy ([`super::blend`]); it serves when next to no force is out of place ([`RESIDUE`]), else the plate is solved
//! from there, or from where a coarser plate presses.

use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

use super::blend::{self, Part, Tangent, least_energy};
use super::fill::Fill;
use super::turn::Turn;
use crate::fem::sparse::{Factor, Gather, Order, Symmetric};

/// The plate and what stands on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Size along x and y, mm, with the origin in the middle.
    pub size: [f64; 2],
    /// Thickness, mm.
    pub thickness: f64,
    /// Modulus of elasticity, MPa.
    pub modulus: f64,
    /// Poisson's ratio.
    pub poisson: f64,
    /// Walls, solid layers and infill.
    pub fill: Fill,
    /// Middles of the bosses, mm.
    pub bosses: Vec<[f64; 2]>,
    /// Outside diameter of the bosses, mm.
    pub boss: f64,
    /// Bore of the bosses, mm.
    pub bore: f64,
    /// Ribs on the plate.
    pub ribs: Vec<Rib>,
    /// Middles of the screws, mm.
    pub screws: Vec<[f64; 2]>,
    /// How much stiffer gussets make the hold of the tube in the boss root, 1 without.
    pub root_gain: f64,
}

/// A rib from `from` along `angle`, with a height that changes evenly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rib {
    /// Start, mm.
    pub from: [f64; 2],
    /// Direction, radians.
    pub angle: f64,
    /// Length, mm.
    pub length: f64,
    /// Where it leaves its boss, mm.
    pub root: [f64; 2],
    /// Height above the plate at the start and at the end, mm.
    pub height: [f64; 2],
    /// Thickness, mm.
    pub thickness: f64,
}

/// Softness of what is solid: fitted on the 26 solid finite-element brackets of `tests/data`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Softness {
    /// Stiffness of a screw head's disc, in modulus / plate thickness.
    pub screw: f64,
    /// Stiffness of the plate against the wood, in modulus / plate thickness.
    pub wood: f64,
    /// Depth of boss wall that gives way under the tube, in wall thicknesses.
    pub root: f64,
    /// Plate that works as flange of a rib, in rib lengths.
    pub flange: f64,
    /// Part of a rib's shear stiffness that counts.
    pub rib_shear: f64,
    /// Ring of the boss that bends with the plate, mm.
    pub boss_edge: f64,
    /// Steepness, rise over run, beyond which the upper part of a gusset is idle.
    pub steep: f64,
    /// Gain of the hold in the boss root by four gussets.
    pub root_gain: f64,
}

/// Size of an element, mm. The fit was made at this size.
const ELEMENT: f64 = 3.5;
/// Size of an element of the plate on which it is first found where the wood presses, mm: a fifth of the work.
const COARSE: f64 = 2.0 * ELEMENT;
/// Samples along each side of an element to find what stands on it.
const SAMPLES: usize = 5;
/// Radius of the disc under a screw head, mm: the solid models held 8 mm discs.
const HEAD: f64 = 4.0;
/// Shear correction of a plate.
const SHEAR: f64 = 5.0 / 6.0;
/// A stiff element is at most this much stiffer than the plate.
const STIFFEST: f64 = 1e3;
/// Most gain of a rib where it meets a boss within an element.
const RIB_GAIN: f64 = 30.0;
/// Most changes of the pressed area; the plates tried settle in under 20.
const CONTACT_STEPS: usize = 60;
/// Most of [`PlateModel::residue`] that still serves. On four brackets under 24 loads each the worst screw, the motion and the
/// bearing stay within 0.5 % of exact answers (`tests/joint.rs`); at twice this one bearing was off by 0.9 %.
const RESIDUE: f64 = 0.002;
/// The same where only the work of the load is asked: it errs by the square of what forces err, less than 0.5 % on every
/// bracket studied (`tests/joint.rs`).
const STIFFNESS_RESIDUE: f64 = 0.03;
/// [`RESIDUE`] of a coarse plate from whose pressed nodes a fine one starts. Measured: less and more cost more in all.
const COARSE_RESIDUE: f64 = 0.03;
/// [`RESIDUE`] of a coarse plate that is a sketch: its elements alone cost more.
const SKETCH_RESIDUE: f64 = 0.06;
/// A blend that leaves less than this is a nearer guess of where the wood presses than the coarse plate's. Measured.
const NEAR: f64 = 0.05;
/// Known answers blended for a new load.
const BLENDED: usize = 6;
/// Arm that turns a pull into a moment of like effect, in plate sides: halfway between the middle and an edge. Judgement.
const ARM: f64 = 0.25;
/// Answers this near to each other, relative, are the same, so the plate is symmetric: far below any effect, far above
/// rounding.
const SAME: f64 = 1e-6;
/// Places this near to each other, mm, are the same.
const SAME_PLACE: f64 = 1e-6;

type Element = [[f64; 12]; 12];
/// Weights of nodes.
type Weights = Vec<(usize, f64)>;

/// A plate ready to be loaded. A clone goes on learning for itself.
#[derive(Clone)]
pub struct PlateModel {
    grid: Grid,
    matrix: Symmetric,
    order: Order,
    contact: Vec<f64>,
    screws: Vec<Screw>,
    bosses: Vec<Boss>,
    poisson: f64,
    /// Modulus of a solid plate that bends as this one, MPa.
    bending_modulus: f64,
    thickness: f64,
    /// Elements beside the bosses, and whether a rib stands there.
    beside: Vec<([usize; 2], bool)>,
    feet: Vec<RibFoot>,
    /// Arm that makes a pull weigh as much as a moment, mm.
    arm: f64,
    /// Answers off the wood.
    held: OnceLock<Option<Arc<Tangent>>>,
    foldings: OnceLock<Vec<Folding>>,
    /// Answers on wood met so far.
    known: Known,
    /// Residue that serves.
    enough: f64,
    /// The same plate in larger elements; a coarse one has none.
    coarse: Option<Box<PlateModel>>,
}

/// Answers on wood met so far, in the order they were learnt.
#[derive(Default)]
struct Known(Mutex<Vec<Arc<Tangent>>>);

impl Known {
    fn all(&self) -> MutexGuard<'_, Vec<Arc<Tangent>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Clone for Known {
    fn clone(&self) -> Self {
        Self(Mutex::new(self.all().clone()))
    }
}

/// A blend of answers for one load.
struct Blend {
    answer: Vec<f64>,
    lifts: Vec<f64>,
}

impl Blend {
    /// Nodes that sink.
    fn sunk(&self) -> Vec<bool> {
        self.lifts.iter().map(|lift| *lift < 0.0).collect()
    }
}

/// A turn that brings the plate onto itself, and where each thing then finds its like.
#[derive(Clone)]
struct Folding {
    turn: Turn,
    screws: Vec<usize>,
    bosses: Vec<usize>,
    ribs: Vec<usize>,
    beside: Vec<usize>,
}

/// Disc of a screw.
#[derive(Clone)]
struct Screw {
    at: [f64; 2],
    /// Its force as weights of the lifts.
    weights: Weights,
    /// Its part of the stiffness.
    entries: Vec<(usize, usize, f64)>,
}

/// A rib's own stiffness, to find what goes through it.
#[derive(Clone)]
struct RibFoot {
    end: [f64; 2],
    cells: Vec<([usize; 4], Element)>,
    root: [f64; 2],
    direction: [f64; 2],
}

/// Springs between a boss's wall and the stiff tubes.
#[derive(Clone)]
struct Boss {
    nodes: Vec<(usize, [f64; 3])>,
    own: [[f64; 3]; 3],
    at: [f64; 2],
}

/// How the plate stands under a load.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateState {
    /// Lift of the tubes at the origin, mm, and their turn about x and y.
    pub motion: [f64; 3],
    /// Pull of each screw, N; negative where the plate presses it down.
    pub screws: Vec<f64>,
    /// Pull and moments about its own middle of each boss: (N, Mx, My) in N and N mm.
    pub bosses: Vec<[f64; 3]>,
    /// What each rib hands to the plate beyond its start: (force N along z, moment N mm about its start).
    pub ribs: Vec<[f64; 2]>,
    /// Sum of the pressure on the wood, N.
    pub bearing: f64,
    /// Stress of the wood face in each element beside the bosses.
    pub face: Vec<Face>,
}

/// Stress of the wood face in one element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Middle of the element, mm.
    pub at: [f64; 2],
    /// Lowest principal stress, MPa.
    pub low: f64,
    /// Highest principal stress, MPa.
    pub high: f64,
    /// A rib stands on it.
    pub ribbed: bool,
}

#[derive(Clone)]
struct Grid {
    cells: [usize; 2],
    step: [f64; 2],
    origin: [f64; 2],
}

impl Grid {
    fn new(size: [f64; 2], element: f64) -> Self {
        let cells = size.map(|l| ((l / element).round() as usize).max(4));
        let step = [size[0] / cells[0] as f64, size[1] / cells[1] as f64];
        Self { cells, step, origin: [-size[0] / 2.0, -size[1] / 2.0] }
    }

    const fn nodes(&self) -> usize {
        (self.cells[0] + 1) * (self.cells[1] + 1)
    }

    fn elements(&self) -> impl Iterator<Item = [usize; 2]> + use<> {
        let [nx, ny] = self.cells;
        (0..ny).flat_map(move |j| (0..nx).map(move |i| [i, j]))
    }

    /// Nodes of an element, counter-clockwise.
    const fn corners(&self, [i, j]: [usize; 2]) -> [usize; 4] {
        let row = self.cells[0] + 1;
        let first = j * row + i;
        [first, first + 1, first + row + 1, first + row]
    }

    /// Sample points of an element with the shape functions there.
    fn samples(&self, [i, j]: [usize; 2]) -> impl Iterator<Item = ([f64; 2], [f64; 4])> + '_ {
        (0..SAMPLES * SAMPLES).map(move |k| {
            let part = |k: usize| (k as f64 + 0.5) / SAMPLES as f64;
            let (u, v) = (part(k % SAMPLES), part(k / SAMPLES));
            let x = self.origin[0] + (i as f64 + u) * self.step[0];
            let y = self.origin[1] + (j as f64 + v) * self.step[1];
            ([x, y], [(1.0 - u) * (1.0 - v), u * (1.0 - v), u * v, (1.0 - u) * v])
        })
    }

    fn node(&self, n: usize) -> [f64; 2] {
        let row = self.cells[0] + 1;
        [self.origin[0] + (n % row) as f64 * self.step[0], self.origin[1] + (n / row) as f64 * self.step[1]]
    }

    /// A figure of the nodes at a place between them.
    fn between(&self, figures: &[f64], at: [f64; 2]) -> f64 {
        let place = |k: usize| ((at[k] - self.origin[k]) / self.step[k]).clamp(0.0, self.cells[k] as f64);
        let cell = [0, 1].map(|k| (place(k) as usize).min(self.cells[k] - 1));
        let [u, v] = [0, 1].map(|k| place(k) - cell[k] as f64);
        let weights = [(1.0 - u) * (1.0 - v), u * (1.0 - v), u * v, (1.0 - u) * v];
        self.corners(cell).iter().zip(weights).map(|(n, w)| w * figures[*n]).sum()
    }

    /// Elements that a disc may touch.
    fn near(&self, at: [f64; 2], radius: f64) -> impl Iterator<Item = [usize; 2]> + use<'_> {
        let reach = radius + self.half_diagonal();
        self.elements().filter(move |cell| {
            let [x, y] = self.middle(*cell);
            (x - at[0]).hypot(y - at[1]) < reach
        })
    }

    fn half_diagonal(&self) -> f64 {
        self.step[0].hypot(self.step[1]) / 2.0
    }

    fn middle(&self, [i, j]: [usize; 2]) -> [f64; 2] {
        [self.origin[0] + (i as f64 + 0.5) * self.step[0], self.origin[1] + (j as f64 + 0.5) * self.step[1]]
    }
}

/// Bending and shear stiffness of one element.
#[derive(Clone, Copy, Default)]
struct Section {
    bending: [[f64; 3]; 3],
    shear: [[f64; 2]; 2],
}

impl Section {
    fn is_empty(&self) -> bool {
        self.bending[0][0] == 0.0 && self.bending[1][1] == 0.0
    }
}

impl Plate {
    fn in_boss(&self, [x, y]: [f64; 2], radius: f64) -> bool {
        self.bosses.iter().any(|b| (x - b[0]).hypot(y - b[1]) < radius)
    }

    fn shear_modulus(&self) -> f64 {
        self.modulus / 2.0 / (1.0 + self.poisson)
    }

    fn bending_modulus(&self) -> f64 {
        self.modulus * self.fill.bending(self.thickness)
    }

    /// Stiffness of the plastic pressed between wood and screw head, N/mm3, and what a head's ring of walls makes of it.
    fn pressed(&self) -> [f64; 2] {
        let solid = self.modulus / self.thickness;
        [solid * self.fill.through(self.thickness), solid * self.fill.round_hole(self.thickness, HEAD / 2.0)]
    }

    /// Modulus of a boss's wall, MPa.
    fn wall_modulus(&self) -> f64 {
        self.modulus * self.fill.upright((self.boss - self.bore) / 2.0)
    }

    /// Plain plate, made stiff where a boss stands.
    fn base_section(&self, boss_share: f64) -> Section {
        let gain = (1.0 / (1.0 - boss_share).max(1.0 / STIFFEST)).min(STIFFEST);
        let nu = self.poisson;
        let d = gain * self.bending_modulus() * self.thickness.powi(3) / 12.0 / (1.0 - nu * nu);
        let s = gain * SHEAR * self.fill.shear(self.thickness) * self.shear_modulus() * self.thickness;
        Section {
            bending: [[d, nu * d, 0.0], [nu * d, d, 0.0], [0.0, 0.0, (1.0 - nu) / 2.0 * d]],
            shear: [[s, 0.0], [0.0, s]],
        }
    }

    fn boss_share(&self, grid: &Grid, cell: [usize; 2], soft: &Softness) -> f64 {
        let radius = self.boss / 2.0 - soft.boss_edge;
        if !self.in_boss(grid.middle(cell), radius + grid.half_diagonal()) {
            return 0.0;
        }
        grid.samples(cell).filter(|(p, _)| self.in_boss(*p, radius)).count() as f64 / (SAMPLES * SAMPLES) as f64
    }

    /// Where a boss stands in a part of an element, the ribs bridge the rest in full.
    fn rib_section(&self, grid: &Grid, cell: [usize; 2], rib: &Rib, soft: &Softness) -> Section {
        let mut section = Section::default();
        if !rib.reaches(grid.middle(cell), grid.half_diagonal()) {
            return section;
        }
        let radius = self.boss / 2.0 - soft.boss_edge;
        let gain = (1.0 / (1.0 - self.boss_share(grid, cell, soft))).min(RIB_GAIN).powi(2);
        let part = gain / (SAMPLES * SAMPLES) as f64;
        for (p, _) in grid.samples(cell).filter(|(p, _)| !self.in_boss(*p, radius)) {
            self.add_rib(&mut section, rib, p, soft, part);
        }
        section
    }

    /// Ribs and their sections on an element.
    fn ribs_on(&self, grid: &Grid, cell: [usize; 2], soft: &Softness) -> Vec<(usize, Section)> {
        let sections = self.ribs.iter().map(|rib| self.rib_section(grid, cell, rib, soft)).enumerate();
        sections.filter(|(_, section)| !section.is_empty()).collect()
    }

    fn add_rib(&self, section: &mut Section, rib: &Rib, p: [f64; 2], soft: &Softness, part: f64) {
        let Some(h) = rib.height_at(p) else { return };
        let (t, w) = (self.thickness, rib.thickness);
        let (upright, level) = (self.fill.upright(w), self.fill.level(t));
        let g = upright * self.shear_modulus();
        let (stem, flange) = (upright * h * w, level * (w + soft.flange * rib.length) * t);
        let lever = f64::midpoint(h, t);
        let inertia = upright * w * h.powi(3) / 12.0 + stem * flange / (stem + flange) * lever * lever;
        let along = part * self.modulus * inertia / w;
        let twist = part * g * h.min(w).powi(3) * h.max(w) / 12.0 / w;
        let shear = part * soft.rib_shear * SHEAR * g * h;
        let (s, c) = rib.angle.sin_cos();
        let (bend, turn, dir) = ([c * c, s * s, c * s], [-2.0 * c * s, 2.0 * c * s, c * c - s * s], [c, s]);
        for i in 0..3 {
            for j in 0..3 {
                section.bending[i][j] += along * bend[i] * bend[j] + twist * turn[i] * turn[j];
            }
        }
        for i in 0..2 {
            for j in 0..2 {
                section.shear[i][j] += shear * dir[i] * dir[j];
            }
        }
    }
}

impl Rib {
    /// May stand within a distance of a place.
    fn reaches(&self, [x, y]: [f64; 2], distance: f64) -> bool {
        let (s, c) = self.angle.sin_cos();
        let (dx, dy) = (x - self.from[0], y - self.from[1]);
        let (u, v) = (dx * c + dy * s, dy * c - dx * s);
        u > -distance && u < self.length + distance && v.abs() < self.thickness / 2.0 + distance
    }

    fn foot(&self) -> RibFoot {
        let (s, c) = self.angle.sin_cos();
        let end = [self.from[0] + self.length * c, self.from[1] + self.length * s];
        RibFoot { end, cells: vec![], root: self.root, direction: [c, s] }
    }

    fn height_at(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let (s, c) = self.angle.sin_cos();
        let (dx, dy) = (x - self.from[0], y - self.from[1]);
        let (u, v) = (dx * c + dy * s, dy * c - dx * s);
        let inside = u > 0.0 && u < self.length && v.abs() < self.thickness / 2.0;
        inside.then(|| self.height[0] + (self.height[1] - self.height[0]) * u / self.length)
    }
}

impl PlateModel {
    /// Builds the plate; `None` when the plate is not held.
    #[must_use]
    pub fn new(plate: &Plate, soft: &Softness) -> Option<Self> {
        let coarse = Self::of_elements(plate, soft, COARSE, COARSE_RESIDUE)?;
        let fine = Self::of_elements(plate, soft, ELEMENT, RESIDUE)?;
        Some(Self { coarse: Some(Box::new(coarse)), ..fine })
    }

    /// The same in elements twice as large, which the softness was not fitted to.
    #[must_use]
    pub fn sketched(plate: &Plate, soft: &Softness) -> Option<Self> {
        Self::of_elements(plate, soft, COARSE, SKETCH_RESIDUE)
    }

    fn of_elements(plate: &Plate, soft: &Softness, element: f64, enough: f64) -> Option<Self> {
        let grid = Grid::new(plate.size, element);
        let mut entries = Gather::new(3 * grid.nodes() + 3);
        let (feet, beside) = elements(&grid, &mut entries, plate, soft);
        let [level, head] = plate.pressed();
        let screws: Vec<_> = plate.screws.iter().map(|&at| disc(&grid, at, soft.screw * head)).collect();
        for (i, j, value) in screws.iter().flat_map(|s| &s.entries) {
            entries.add(*i, *j, *value);
        }
        let wall = (plate.boss - plate.bore) / 2.0;
        let root = plate.wall_modulus() / (soft.root * wall) * plate.root_gain;
        let bosses = plate.bosses.iter().map(|&at| hold(&grid, &mut entries, plate, at, root)).collect();
        let contact = contact(&grid, soft.wood * level);
        let matrix = entries.finish();
        let order = Order::new(&matrix)?;
        let Plate { poisson, thickness, size, .. } = *plate;
        let (held, foldings, known) = (OnceLock::new(), OnceLock::new(), Known::default());
        let arm = ARM * f64::midpoint(size[0], size[1]);
        let own = Self {
            grid,
            matrix,
            order,
            contact,
            screws,
            bosses,
            poisson,
            bending_modulus: plate.bending_modulus(),
            thickness,
            beside,
            feet,
            arm,
            held,
            foldings,
            known,
            enough,
            coarse: None,
        };
        // Clones then share what every load needs.
        own.fold([0.0; 3])?;
        Some(own)
    }

    /// Takes over what a clone has learnt since.
    pub fn learn_from(&self, twin: &Self) {
        let mut own = self.known.all();
        let new: Vec<_> = twin.known.all().iter().filter(|t| own.iter().all(|o| !Arc::ptr_eq(o, t))).cloned().collect();
        own.extend(new);
        if let (Some(own), Some(twin)) = (&self.coarse, &twin.coarse) {
            own.learn_from(twin);
        }
    }

    /// Stands under a pull N along z and moments N mm about x and y at the origin; `wood` lets the wood press.
    ///
    /// On wood the figures are within a fraction of a percent of [`Self::load_exactly`]; that fraction hangs on the loads
    /// asked before. For the same bytes ask in a fixed order, and give each thread a clone.
    #[must_use]
    pub fn load(&self, pull: f64, mx: f64, my: f64, wood: bool) -> Option<PlateState> {
        self.loaded([pull, mx, my], wood, self.enough)
    }

    /// What the plate gives way to a load: the load times its motion, N mm; found with less effort than [`Self::load`].
    #[must_use]
    pub fn work(&self, load: [f64; 3], wood: bool) -> Option<f64> {
        let motion = self.loaded(load, wood, self.enough.max(STIFFNESS_RESIDUE))?.motion;
        Some((0..3).map(|k| load[k] * motion[k]).sum())
    }

    fn loaded(&self, load: [f64; 3], wood: bool, residue: f64) -> Option<PlateState> {
        if wood { self.on_wood(load, residue) } else { Some(self.state(&self.held()?.answer(load))) }
    }

    /// Stands on wood under a load when one screw has let go; the others keep their order.
    #[must_use]
    pub fn load_without(&self, screw: usize, load: [f64; 3]) -> Option<PlateState> {
        let mut matrix = self.matrix.clone();
        let own = self.screws[screw].entries.iter().filter(|(i, j, _)| i >= j);
        if !own.map(|(i, j, value)| matrix.add(*i, *j, -value)).fold(true, std::ops::BitAnd::bitand) {
            return None;
        }
        let (_, start) = self.blend(load)?;
        let tangent = self.settle(&matrix, load, start.sunk(), self.enough)?;
        let mut state = self.state(&tangent.answer(load));
        state.screws.remove(screw);
        Some(state)
    }

    /// Stands on wood under a load, solved for this load alone with each pressed node found.
    #[must_use]
    pub fn load_exactly(&self, load: [f64; 3]) -> Option<PlateState> {
        let tangent = self.settle(&self.matrix, load, self.held()?.sunk(load), 0.0)?;
        Some(self.state(&tangent.answer(load)))
    }

    /// Answers without wood.
    fn held(&self) -> Option<Arc<Tangent>> {
        let solve = || Some(Arc::new(self.solve(&self.matrix, &vec![false; self.grid.nodes()])?));
        self.held.get_or_init(solve).clone()
    }

    /// Blends what is known; where that does not serve, finds the answers and learns them.
    fn on_wood(&self, load: [f64; 3], enough: f64) -> Option<PlateState> {
        let (folding, folded) = self.fold(load)?;
        let (residue, blend) = self.blend(folded)?;
        if residue <= enough {
            return Some(folding.unfold(self.state(&blend.answer)));
        }
        let coarse = self
            .coarse
            .as_ref()
            .filter(|_| residue.is_nan() || residue > NEAR)
            .and_then(|coarse| coarse.sunk_at(folded, &self.grid));
        let tangent = self.learn(folded, coarse.unwrap_or_else(|| blend.sunk()), enough)?;
        Some(folding.unfold(self.state(&tangent.answer(folded))))
    }

    /// Answers for a load that leave no more than `residue`, from a guess of the pressed nodes.
    fn learn(&self, load: [f64; 3], start: Vec<bool>, residue: f64) -> Option<Arc<Tangent>> {
        let tangent = self.settle(&self.matrix, load, start, residue)?;
        let tangent = Arc::new(Tangent { direction: self.direction(load), ..tangent });
        self.known.all().push(Arc::clone(&tangent));
        Some(tangent)
    }

    /// Which nodes of a finer grid sink under a load.
    fn sunk_at(&self, load: [f64; 3], fine: &Grid) -> Option<Vec<bool>> {
        let (residue, blend) = self.blend(load)?;
        let lifts = if residue <= self.enough {
            blend.lifts
        } else {
            self.learn(load, blend.sunk(), self.enough)?.lifts_under(load).collect()
        };
        Some((0..fine.nodes()).map(|n| self.grid.between(&lifts, fine.node(n)) < 0.0).collect())
    }

    /// The best blend of what is known for loads near this one, and what it leaves.
    fn blend(&self, load: [f64; 3]) -> Option<(f64, Blend)> {
        let mut known = self.nearest(load);
        if known.is_empty() {
            known.push(self.held()?);
        }
        let tangents: Vec<&Tangent> = known.iter().map(AsRef::as_ref).collect();
        let parts = least_energy(&tangents, &self.contact, load);
        let mut answer = vec![0.0; known[0].answers[0].len()];
        for part in &parts {
            answer.iter_mut().zip(part.tangent.answer(part.load)).for_each(|(sum, a)| *sum += a);
        }
        Some((self.residue(&parts), Blend { answer, lifts: blend::lifts(&parts) }))
    }

    /// What is known for the nearest loads, the nearest first.
    fn nearest(&self, load: [f64; 3]) -> Vec<Arc<Tangent>> {
        let known = self.known.all();
        let direction = self.direction(load);
        let mut near: Vec<_> = known.iter().map(|t| (apart(t.direction, direction), t)).collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        near.into_iter().take(BLENDED).map(|(_, t)| Arc::clone(t)).collect()
    }

    fn direction(&self, load: [f64; 3]) -> [f64; 3] {
        let load = [self.arm * load[0], load[1], load[2]];
        let size = apart(load, [0.0; 3]).sqrt();
        if size > 0.0 { load.map(|l| l / size) } else { load }
    }

    /// Root of the work of forces between plate and wood that are out of place, over the work of the load: bounds the
    /// relative error of the answers in the sense of energy.
    fn residue(&self, parts: &[Part<'_>]) -> f64 {
        let taken = blend::pressures(parts, &self.contact);
        let each = blend::lifts(parts).into_iter().zip(taken).zip(&self.contact);
        let wrong: f64 = each.map(|((lift, taken), c)| (taken - c * (-lift).max(0.0)).powi(2) / c).sum();
        let total: [f64; 3] = std::array::from_fn(|k| parts.iter().map(|p| p.load[k]).sum());
        let under = |p: &Part<'_>, l: usize| (0..3).map(|k| p.load[k] * p.tangent.answers[k][l]).sum::<f64>();
        let work: f64 = (0..3).map(|l| total[l] * parts.iter().map(|p| under(p, l)).sum::<f64>()).sum();
        if wrong == 0.0 { 0.0 } else { (wrong / work).sqrt() }
    }

    /// The image of a load that the plate's symmetries put first, and how to come back.
    fn fold(&self, load: [f64; 3]) -> Option<(&Folding, [f64; 3])> {
        self.held()?;
        let foldings = self.foldings.get_or_init(|| self.foldings());
        let mut best: Option<(&Folding, [f64; 3])> = None;
        let slack = SAME * (load[1].abs() + load[2].abs());
        let first = |a: [f64; 3], b: [f64; 3]| {
            let [x, y] = [a[1] - b[1], a[2] - b[2]];
            x > slack || (x > -slack && y > slack)
        };
        for folding in foldings {
            let image = folding.turn.load(load);
            if best.is_none_or(|(_, found)| first(image, found)) {
                best = Some((folding, image));
            }
        }
        best
    }

    /// Turns that bring everything onto its like and change no answer off the wood.
    fn foldings(&self) -> Vec<Folding> {
        let Some(held) = self.held() else { return vec![] };
        let folding = |turn| self.folding(turn).filter(|f| turn == Turn::NONE || self.is_alike(f, &held));
        Turn::all().filter_map(folding).collect()
    }

    fn folding(&self, turn: Turn) -> Option<Folding> {
        let ends = |f: &RibFoot| [f.root[0], f.root[1], f.end[0], f.end[1]];
        let moved = |[x, y, z, w]: [f64; 4]| {
            let ([x, y], [z, w]) = (turn.place([x, y]), turn.place([z, w]));
            [x, y, z, w]
        };
        let place = |at: [f64; 2]| [at[0], at[1], 0.0, 0.0];
        let find = |all: Vec<[f64; 4]>| -> Option<Vec<usize>> {
            let near = |a: [f64; 4], b: &[f64; 4]| (0..4).all(|k| (a[k] - b[k]).abs() < SAME_PLACE);
            all.iter().map(|&a| all.iter().position(|b| near(moved(a), b))).collect()
        };
        Some(Folding {
            turn,
            screws: find(self.screws.iter().map(|s| place(s.at)).collect())?,
            bosses: find(self.bosses.iter().map(|b| place(b.at)).collect())?,
            ribs: find(self.feet.iter().map(ends).collect())?,
            beside: find(self.beside.iter().map(|b| place(self.grid.middle(b.0))).collect())?,
        })
    }

    /// Whether the answers off the wood follow a turn.
    fn is_alike(&self, folding: &Folding, held: &Tangent) -> bool {
        let loads = [[1.0 / self.arm, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
        loads.into_iter().all(|load| {
            let (was, image) = (held.answer(load), held.answer(folding.turn.load(load)));
            self.state(&was).is_like(&folding.unfold(self.state(&image)), self.arm)
        })
    }

    /// Newton's method on where the wood presses, until the forces at wrong nodes are small.
    fn settle(&self, matrix: &Symmetric, load: [f64; 3], start: Vec<bool>, residue: f64) -> Option<Tangent> {
        let mut pressed = start;
        for _ in 0..CONTACT_STEPS {
            let tangent = self.solve(matrix, &pressed)?;
            if self.residue(&[Part { tangent: &tangent, load }]) <= residue {
                return Some(tangent);
            }
            pressed = tangent.sunk(load);
        }
        None
    }

    /// Answers while the wood presses at these nodes.
    fn solve(&self, matrix: &Symmetric, pressed: &[bool]) -> Option<Tangent> {
        let mut matrix = matrix.clone();
        for node in (0..pressed.len()).filter(|node| pressed[*node]) {
            matrix.add_diagonal(3 * node, self.contact[node]);
        }
        let n = matrix.size();
        let factor = Factor::ordered(matrix, self.order.clone()).ok()?;
        let one = |k: usize| (0..n).map(|i| if i == n - 3 + k { 1.0 } else { 0.0 }).collect();
        let unit: [Vec<f64>; 3] = factor.solve(&[one(0), one(1), one(2)]).try_into().ok()?;
        let lifts = unit.each_ref().map(|u| u[..n - 3].iter().step_by(3).copied().collect());
        let answers = unit.each_ref().map(|u| self.answer(u, pressed));
        Some(Tangent { answers, lifts, pressed: pressed.to_vec(), direction: [0.0; 3] })
    }

    /// What [`Self::state`] reads: in proportion to the displacements while the same nodes are pressed.
    fn answer(&self, u: &[f64], pressed: &[bool]) -> Vec<f64> {
        let n = u.len();
        let motion = [u[n - 3], u[n - 2], u[n - 1]];
        let mut out = motion.to_vec();
        out.extend(self.screws.iter().map(|s| s.weights.iter().map(|(node, k)| k * u[3 * node]).sum::<f64>()));
        out.extend(self.bosses.iter().flat_map(|b| b.forces(u, motion)));
        out.extend(self.feet.iter().flat_map(|f| f.forces(&self.grid, u)));
        out.push((0..pressed.len()).filter(|n| pressed[*n]).map(|n| -self.contact[n] * u[3 * n]).sum());
        out.extend(self.beside.iter().flat_map(|(cell, _)| self.curvature(*cell, u)));
        out
    }

    fn state(&self, answer: &[f64]) -> PlateState {
        let (motion, rest) = answer.split_at(3);
        let (screws, rest) = rest.split_at(self.screws.len());
        let (bosses, rest) = rest.split_at(3 * self.bosses.len());
        let (ribs, rest) = rest.split_at(2 * self.feet.len());
        let (bearing, curvatures) = rest.split_at(1);
        let bent = curvatures.chunks_exact(3).zip(&self.beside);
        PlateState {
            motion: [motion[0], motion[1], motion[2]],
            screws: screws.to_vec(),
            bosses: bosses.chunks_exact(3).map(|b| [b[0], b[1], b[2]]).collect(),
            ribs: ribs.chunks_exact(2).map(|r| [r[0], r[1]]).collect(),
            bearing: bearing[0],
            face: bent.map(|(c, (cell, ribbed))| self.face_stress(*cell, *ribbed, [c[0], c[1], c[2]])).collect(),
        }
    }

    /// Change of the turns along x, along y and across, in the middle of an element.
    fn curvature(&self, cell: [usize; 2], u: &[f64]) -> [f64; 3] {
        let [n0, n1, n2, n3] = self.grid.corners(cell);
        let [hx, hy] = self.grid.step;
        let across = |k: usize| (u[3 * n1 + k] + u[3 * n2 + k] - u[3 * n0 + k] - u[3 * n3 + k]) / (2.0 * hx);
        let up = |k: usize| (u[3 * n2 + k] + u[3 * n3 + k] - u[3 * n0 + k] - u[3 * n1 + k]) / (2.0 * hy);
        [across(1), up(2), up(1) + across(2)]
    }

    /// Stress as if the section were solid; what its core cannot bear is taken off the strength.
    fn face_stress(&self, cell: [usize; 2], ribbed: bool, [kx, ky, kxy]: [f64; 3]) -> Face {
        let nu = self.poisson;
        let scale = self.bending_modulus / (1.0 - nu * nu) * self.thickness / 2.0;
        // The wood face is at z = -t/2 of the plate's middle: u = z beta with beta = -dw/dx turned twice.
        let (sx, sy, txy) = (scale * (kx + nu * ky), scale * (ky + nu * kx), scale * (1.0 - nu) / 2.0 * kxy);
        let (mean, radius) = (f64::midpoint(sx, sy), ((sx - sy) / 2.0).hypot(txy));
        Face { at: self.grid.middle(cell), low: -(mean + radius), high: -(mean - radius), ribbed }
    }
}

/// Assembles plate and ribs; gives the ribs' feet and the elements beside the bosses.
fn elements(
    grid: &Grid,
    entries: &mut Gather,
    plate: &Plate,
    soft: &Softness,
) -> (Vec<RibFoot>, Vec<([usize; 2], bool)>) {
    let basis = Basis::new(grid.step);
    let plain = basis.stiffness(&plate.base_section(0.0));
    let mut feet: Vec<_> = plate.ribs.iter().map(Rib::foot).collect();
    let mut beside = vec![];
    for cell in grid.elements() {
        let (corners, ribs, share) =
            (grid.corners(cell), plate.ribs_on(grid, cell, soft), plate.boss_share(grid, cell, soft));
        let base = if share == 0.0 { plain } else { basis.stiffness(&plate.base_section(share)) };
        add_element(entries, &corners, &base);
        if !plate.in_boss(grid.middle(cell), plate.boss / 2.0) {
            beside.push((cell, !ribs.is_empty()));
        }
        for (rib, section) in ribs {
            let stiffness = basis.stiffness(&section);
            add_element(entries, &corners, &stiffness);
            feet[rib].cells.push((corners, stiffness));
        }
    }
    (feet, beside)
}

fn add_element(entries: &mut Gather, corners: &[usize; 4], stiffness: &Element) {
    for (i, row) in stiffness.iter().enumerate() {
        for (j, value) in row.iter().enumerate() {
            entries.add(3 * corners[i / 3] + i % 3, 3 * corners[j / 3] + j % 3, *value);
        }
    }
}

impl Tangent {
    fn answer(&self, load: [f64; 3]) -> Vec<f64> {
        combined(&self.answers, load).collect()
    }

    pub(super) fn lifts_under(&self, load: [f64; 3]) -> impl Iterator<Item = f64> {
        combined(&self.lifts, load)
    }

    /// Nodes that sink under a load.
    fn sunk(&self, load: [f64; 3]) -> Vec<bool> {
        self.lifts_under(load).map(|lift| lift < 0.0).collect()
    }
}

/// Square of the distance.
fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    (0..3).map(|k| (a[k] - b[k]).powi(2)).sum()
}

fn combined([z, x, y]: &[Vec<f64>; 3], load: [f64; 3]) -> impl Iterator<Item = f64> {
    z.iter().zip(x).zip(y).map(move |((z, x), y)| load[0] * z + load[1] * x + load[2] * y)
}

impl Folding {
    /// The plate's own state from that of its image.
    fn unfold(&self, image: PlateState) -> PlateState {
        let back = |face: (usize, &usize)| Face { at: image.face[face.0].at, ..image.face[*face.1] };
        PlateState {
            motion: self.turn.back(image.motion),
            screws: self.screws.iter().map(|i| image.screws[*i]).collect(),
            bosses: self.bosses.iter().map(|i| self.turn.back(image.bosses[*i])).collect(),
            ribs: self.ribs.iter().map(|i| image.ribs[*i]).collect(),
            bearing: image.bearing,
            face: self.beside.iter().enumerate().map(back).collect(),
        }
    }
}

impl PlateState {
    /// Equal to [`SAME`] of the largest of its kind, moments over `arm` counted as forces and faces aside.
    fn is_like(&self, other: &Self, arm: f64) -> bool {
        let motion = |s: &Self| vec![s.motion[0], arm * s.motion[1], arm * s.motion[2]];
        let bosses = |s: &Self| s.bosses.iter().flat_map(|b| [b[0], b[1] / arm, b[2] / arm]).collect::<Vec<_>>();
        let ribs = |s: &Self| s.ribs.iter().flat_map(|r| [r[0], r[1] / arm]).collect::<Vec<_>>();
        near(&motion(self), &motion(other))
            && near(&self.screws, &other.screws)
            && near(&bosses(self), &bosses(other))
            && near(&ribs(self), &ribs(other))
    }
}

fn near(a: &[f64], b: &[f64]) -> bool {
    let size = a.iter().map(|v| v.abs()).fold(0.0, f64::max);
    a.iter().zip(b).all(|(a, b)| (a - b).abs() <= SAME * size)
}

impl RibFoot {
    /// Sum of the rib's nodal forces beyond its root.
    fn forces(&self, grid: &Grid, u: &[f64]) -> [f64; 2] {
        let [c, s] = self.direction;
        let mut sum = [0.0; 2];
        for (corners, stiffness) in &self.cells {
            for (a, node) in corners.iter().enumerate() {
                let [x, y] = grid.node(*node);
                let along = (x - self.root[0]) * c + (y - self.root[1]) * s;
                if along <= 0.0 {
                    continue;
                }
                let force =
                    |k: usize| (0..12).map(|b| stiffness[3 * a + k][b] * u[3 * corners[b / 3] + b % 3]).sum::<f64>();
                let lift = force(0);
                sum[0] += lift;
                sum[1] += lift * along - (force(1) * c + force(2) * s);
            }
        }
        sum
    }
}

impl Boss {
    fn forces(&self, u: &[f64], motion: [f64; 3]) -> [f64; 3] {
        let mut force = [0.0; 3];
        for (k, f) in force.iter_mut().enumerate() {
            *f = (0..3).map(|l| self.own[k][l] * motion[l]).sum::<f64>();
            *f -= self.nodes.iter().map(|(node, c)| c[k] * u[3 * node]).sum::<f64>();
        }
        let [n, mx, my] = force;
        [n, mx - n * self.at[1], my + n * self.at[0]]
    }
}

/// Elastic disc that holds the plate at a screw.
fn disc(grid: &Grid, at: [f64; 2], stiffness: f64) -> Screw {
    let hits = touched(grid, at, HEAD);
    let each = share(&hits, std::f64::consts::PI * HEAD * HEAD) * stiffness;
    let (mut weights, mut entries) = (vec![], vec![]);
    for (corners, shape) in &hits {
        for a in 0..4 {
            weights.push((corners[a], each * shape[a]));
            entries.extend((0..4).map(|b| (3 * corners[a], 3 * corners[b], each * shape[a] * shape[b])));
        }
    }
    Screw { at, weights: gather(weights), entries }
}

/// Springs from the wall of a boss to the stiff tubes.
fn hold(grid: &Grid, entries: &mut Gather, plate: &Plate, at: [f64; 2], stiffness: f64) -> Boss {
    let (outer, inner) = (plate.boss / 2.0, plate.bore / 2.0);
    let n = 3 * grid.nodes();
    let wall = |p: [f64; 2]| (inner..outer).contains(&(p[0] - at[0]).hypot(p[1] - at[1]));
    let hits: Vec<_> =
        grid.near(at, outer).flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s))).filter(|h| wall(h.1)).collect();
    let each = std::f64::consts::PI * (outer * outer - inner * inner) / hits.len().max(1) as f64 * stiffness;
    let (mut own, mut nodes) = ([[0.0; 3]; 3], vec![]);
    for (cell, [x, y], shape) in hits {
        let (corners, lift) = (grid.corners(cell), [1.0, y, -x]);
        for a in 0..4 {
            for b in 0..4 {
                entries.add(3 * corners[a], 3 * corners[b], each * shape[a] * shape[b]);
            }
            let pull = lift.map(|l| each * shape[a] * l);
            nodes.push((corners[a], pull));
            for (k, value) in pull.into_iter().enumerate() {
                entries.add(n + k, 3 * corners[a], -value);
            }
        }
        for k in 0..3 {
            for l in 0..3 {
                own[k][l] += each * lift[k] * lift[l];
                entries.add(n + k, n + l, each * lift[k] * lift[l]);
            }
        }
    }
    Boss { nodes, own, at }
}

type Hit = ([usize; 4], [f64; 4]);

fn touched(grid: &Grid, at: [f64; 2], radius: f64) -> Vec<Hit> {
    let all = grid.near(at, radius).flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s)));
    let inside = |p: &[f64; 2]| (p[0] - at[0]).hypot(p[1] - at[1]) < radius;
    all.filter(|(_, p, _)| inside(p)).map(|(c, _, s)| (grid.corners(c), s)).collect()
}

/// Area of one hit so that all of them make up `area`.
fn share(hits: &[Hit], area: f64) -> f64 {
    area / hits.len().max(1) as f64
}

fn gather(mut weights: Weights) -> Weights {
    weights.sort_by_key(|w| w.0);
    weights.dedup_by(|later, first| {
        let same = later.0 == first.0;
        if same {
            first.1 += later.1;
        }
        same
    });
    weights
}

fn contact(grid: &Grid, stiffness: f64) -> Vec<f64> {
    let quarter = grid.step[0] * grid.step[1] / 4.0 * stiffness;
    let mut weights = vec![0.0; grid.nodes()];
    for cell in grid.elements() {
        for node in grid.corners(cell) {
            weights[node] += quarter;
        }
    }
    weights
}

/// Products of the strain rows of a rectangular element with mixed interpolation of the shear, integrated.
struct Basis {
    bending: [[Element; 3]; 3],
    shear: [[Element; 2]; 2],
}

const CORNER_X: [f64; 4] = [-1.0, 1.0, 1.0, -1.0];
const CORNER_Y: [f64; 4] = [-1.0, -1.0, 1.0, 1.0];

impl Basis {
    fn new(step: [f64; 2]) -> Self {
        let gauss = 1.0 / 3.0_f64.sqrt();
        let mut basis = Self { bending: [[[[0.0; 12]; 12]; 3]; 3], shear: [[[[0.0; 12]; 12]; 2]; 2] };
        let weight = step[0] * step[1] / 4.0;
        for (a, b) in [(-gauss, -gauss), (gauss, -gauss), (gauss, gauss), (-gauss, gauss)] {
            add_products(&mut basis.bending, &bending_rows(step, a, b), weight);
            add_products(&mut basis.shear, &shear_rows(step, a, b), weight);
        }
        basis
    }

    fn stiffness(&self, section: &Section) -> Element {
        let mut sum = [[0.0; 12]; 12];
        add_scaled(&mut sum, &self.bending, &section.bending);
        add_scaled(&mut sum, &self.shear, &section.shear);
        sum
    }
}

fn add_products<const N: usize>(sums: &mut [[Element; N]; N], rows: &[[f64; 12]; N], weight: f64) {
    for i in 0..N {
        for j in 0..N {
            for a in 0..12 {
                for b in 0..12 {
                    sums[i][j][a][b] += weight * rows[i][a] * rows[j][b];
                }
            }
        }
    }
}

fn add_scaled<const N: usize>(sum: &mut Element, products: &[[Element; N]; N], factors: &[[f64; N]; N]) {
    for (products, factors) in products.iter().flatten().zip(factors.iter().flatten()).filter(|(_, f)| **f != 0.0) {
        for (row, values) in sum.iter_mut().zip(products) {
            for (s, v) in row.iter_mut().zip(values) {
                *s += factors * v;
            }
        }
    }
}

/// Shape functions and their slopes along x and y.
fn shape(step: [f64; 2], k: usize, a: f64, b: f64) -> (f64, f64, f64) {
    let (x, y) = (1.0 + CORNER_X[k] * a, 1.0 + CORNER_Y[k] * b);
    (x * y / 4.0, CORNER_X[k] * y / 2.0 / step[0], x * CORNER_Y[k] / 2.0 / step[1])
}

fn bending_rows(step: [f64; 2], a: f64, b: f64) -> [[f64; 12]; 3] {
    let mut rows = [[0.0; 12]; 3];
    for k in 0..4 {
        let (_, dx, dy) = shape(step, k, a, b);
        rows[0][3 * k + 1] = dx;
        rows[1][3 * k + 2] = dy;
        rows[2][3 * k + 1] = dy;
        rows[2][3 * k + 2] = dx;
    }
    rows
}

/// Shear along x taken from the middles of the lower and upper side, along y from the left and right side.
fn shear_rows(step: [f64; 2], a: f64, b: f64) -> [[f64; 12]; 2] {
    let mut rows = [[0.0; 12]; 2];
    for k in 0..4 {
        for side in [-1.0, 1.0] {
            let (n, dx, _) = shape(step, k, 0.0, side);
            let part = (1.0 + side * b) / 2.0;
            rows[0][3 * k] += part * dx;
            rows[0][3 * k + 1] += part * n;
            let (n, _, dy) = shape(step, k, side, 0.0);
            let part = (1.0 + side * a) / 2.0;
            rows[1][3 * k] += part * dy;
            rows[1][3 * k + 2] += part * n;
        }
    }
    rows
}

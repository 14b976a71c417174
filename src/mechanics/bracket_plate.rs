//! The plate of a bracket as a bending plate on screws and wood: small finite elements of a few millimetres.
//!
//! Frame: x, y in the plate, z away from the wood. Bosses are stiff discs, gussets and webs are ribs with a part of the
//! plate as flange, screws are elastic discs under their heads, the wood can only press, and the tubes are one stiff
//! body on the walls of all bosses. What the plate cannot know (how a wall or a screw head sinks into solid plastic) is in
//! [`Softness`], fitted to solid finite elements.

use faer::Side;
use faer::prelude::Solve;
use faer::sparse::linalg::solvers::{Llt, SymbolicLlt};
use faer::sparse::{SparseColMat, Triplet};

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

type Element = [[f64; 12]; 12];
/// Weights of nodes.
type Weights = Vec<(usize, f64)>;

/// A plate ready to be loaded.
pub struct PlateModel {
    grid: Grid,
    matrix: SparseColMat<usize, f64>,
    symbolic: SymbolicLlt<usize>,
    contact: Vec<f64>,
    screws: Vec<Weights>,
    bosses: Vec<Boss>,
    poisson: f64,
    modulus: f64,
    thickness: f64,
    /// Elements beside the bosses, and whether a rib stands there.
    beside: Vec<([usize; 2], bool)>,
    feet: Vec<RibFoot>,
}

/// A rib's own stiffness, to find what goes through it.
struct RibFoot {
    cells: Vec<([usize; 4], Element)>,
    root: [f64; 2],
    direction: [f64; 2],
}

/// Springs between a boss's wall and the stiff tubes.
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

struct Grid {
    cells: [usize; 2],
    step: [f64; 2],
    origin: [f64; 2],
}

impl Grid {
    fn new(size: [f64; 2]) -> Self {
        let cells = size.map(|l| ((l / ELEMENT).round() as usize).max(4));
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
    fn add(&mut self, other: &Self) {
        for i in 0..3 {
            for j in 0..3 {
                self.bending[i][j] += other.bending[i][j];
            }
        }
        for i in 0..2 {
            for j in 0..2 {
                self.shear[i][j] += other.shear[i][j];
            }
        }
    }

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

    /// Plain plate, made stiff where a boss stands.
    fn base_section(&self, boss_share: f64) -> Section {
        let gain = (1.0 / (1.0 - boss_share).max(1.0 / STIFFEST)).min(STIFFEST);
        let nu = self.poisson;
        let d = gain * self.modulus * self.thickness.powi(3) / 12.0 / (1.0 - nu * nu);
        let s = gain * SHEAR * self.shear_modulus() * self.thickness;
        Section {
            bending: [[d, nu * d, 0.0], [nu * d, d, 0.0], [0.0, 0.0, (1.0 - nu) / 2.0 * d]],
            shear: [[s, 0.0], [0.0, s]],
        }
    }

    /// Plate and ribs of an element. Where a boss stands in a part of it, the ribs bridge the rest in full.
    fn section(&self, grid: &Grid, cell: [usize; 2], soft: &Softness) -> Section {
        let mut section = self.base_section(self.boss_share(grid, cell, soft));
        for rib in &self.ribs {
            section.add(&self.rib_section(grid, cell, rib, soft));
        }
        section
    }

    fn boss_share(&self, grid: &Grid, cell: [usize; 2], soft: &Softness) -> f64 {
        let radius = self.boss / 2.0 - soft.boss_edge;
        grid.samples(cell).filter(|(p, _)| self.in_boss(*p, radius)).count() as f64 / (SAMPLES * SAMPLES) as f64
    }

    fn rib_section(&self, grid: &Grid, cell: [usize; 2], rib: &Rib, soft: &Softness) -> Section {
        let radius = self.boss / 2.0 - soft.boss_edge;
        let gain = (1.0 / (1.0 - self.boss_share(grid, cell, soft))).min(RIB_GAIN).powi(2);
        let part = gain / (SAMPLES * SAMPLES) as f64;
        let mut section = Section::default();
        for (p, _) in grid.samples(cell).filter(|(p, _)| !self.in_boss(*p, radius)) {
            self.add_rib(&mut section, rib, p, soft, part);
        }
        section
    }

    fn foot(&self, grid: &Grid, basis: &Basis, rib: &Rib, soft: &Softness) -> RibFoot {
        let (s, c) = rib.angle.sin_cos();
        let sections = grid.elements().map(|cell| (cell, self.rib_section(grid, cell, rib, soft)));
        let cells = sections.filter(|(_, s)| !s.is_empty()).map(|(cell, s)| (grid.corners(cell), basis.stiffness(&s)));
        RibFoot { cells: cells.collect(), root: rib.root, direction: [c, s] }
    }

    fn add_rib(&self, section: &mut Section, rib: &Rib, p: [f64; 2], soft: &Softness, part: f64) {
        let Some(h) = rib.height_at(p) else { return };
        let (t, w, g) = (self.thickness, rib.thickness, self.shear_modulus());
        let (stem, flange) = (h * w, (w + soft.flange * rib.length) * t);
        let lever = f64::midpoint(h, t);
        let inertia = w * h.powi(3) / 12.0 + stem * flange / (stem + flange) * lever * lever;
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
        let grid = Grid::new(plate.size);
        let mut entries = Entries::default();
        let basis = Basis::new(grid.step);
        for cell in grid.elements() {
            let stiffness = basis.stiffness(&plate.section(&grid, cell, soft));
            entries.element(&grid.corners(cell), &stiffness);
        }
        let under_head = soft.screw * plate.modulus / plate.thickness;
        let screws = plate.screws.iter().map(|&at| disc(&grid, &mut entries, at, under_head)).collect();
        let wall = (plate.boss - plate.bore) / 2.0;
        let root = plate.modulus / (soft.root * wall) * plate.root_gain;
        let bosses = plate.bosses.iter().map(|&at| hold(&grid, &mut entries, plate, at, root)).collect();
        let contact = contact(&grid, soft.wood * plate.modulus / plate.thickness);
        let beside = grid.elements().filter(|c| !plate.in_boss(grid.middle(*c), plate.boss / 2.0));
        let ribbed = |cell| plate.ribs.iter().any(|rib| !plate.rib_section(&grid, cell, rib, soft).is_empty());
        let beside = beside.map(|cell| (cell, ribbed(cell))).collect();
        let feet = plate.ribs.iter().map(|rib| plate.foot(&grid, &basis, rib, soft)).collect();
        let n = 3 * grid.nodes() + 3;
        let matrix = SparseColMat::try_new_from_triplets(n, n, &entries.lower).ok()?;
        let symbolic = SymbolicLlt::try_new(matrix.symbolic(), Side::Lower).ok()?;
        let Plate { poisson, modulus, thickness, .. } = *plate;
        Some(Self { grid, matrix, symbolic, contact, screws, bosses, poisson, modulus, thickness, beside, feet })
    }

    /// Stands under a pull N along z and moments N mm about x and y at the origin; `wood` lets the wood press.
    #[must_use]
    pub fn load(&self, pull: f64, mx: f64, my: f64, wood: bool) -> Option<PlateState> {
        let nodes = self.grid.nodes();
        let mut pressed = vec![false; nodes];
        for _ in 0..CONTACT_STEPS {
            let u = self.solve([pull, mx, my], &pressed)?;
            let sunk: Vec<bool> = (0..nodes).map(|n| wood && u[3 * n] < 0.0).collect();
            if sunk == pressed {
                return Some(self.state(&u, &pressed));
            }
            pressed = sunk;
        }
        None
    }

    fn solve(&self, load: [f64; 3], pressed: &[bool]) -> Option<Vec<f64>> {
        let mut matrix = self.matrix.clone();
        let starts: Vec<usize> = (0..pressed.len()).map(|n| matrix.symbolic().col_range(3 * n).start).collect();
        // Sorted lower triangle: the first entry of a column is its diagonal.
        for (node, start) in starts.into_iter().enumerate().filter(|(node, _)| pressed[*node]) {
            matrix.val_mut()[start] += self.contact[node];
        }
        let factor = Llt::try_new_with_symbolic(self.symbolic.clone(), matrix.as_ref(), Side::Lower).ok()?;
        let n = matrix.ncols();
        let mut right = faer::Mat::<f64>::zeros(n, 1);
        for (k, value) in load.into_iter().enumerate() {
            right[(n - 3 + k, 0)] = value;
        }
        factor.solve_in_place(&mut right);
        Some((0..n).map(|i| right[(i, 0)]).collect())
    }

    fn state(&self, u: &[f64], pressed: &[bool]) -> PlateState {
        let n = u.len();
        let motion = [u[n - 3], u[n - 2], u[n - 1]];
        let screws = self.screws.iter().map(|s| s.iter().map(|(node, k)| k * u[3 * node]).sum()).collect();
        let bosses = self.bosses.iter().map(|b| b.forces(u, motion)).collect();
        let bearing = (0..pressed.len()).filter(|n| pressed[*n]).map(|n| -self.contact[n] * u[3 * n]).sum();
        let ribs = self.feet.iter().map(|f| f.forces(&self.grid, u)).collect();
        PlateState { motion, screws, bosses, ribs, bearing, face: self.face(u) }
    }

    fn face(&self, u: &[f64]) -> Vec<Face> {
        self.beside.iter().map(|&(cell, ribbed)| self.face_stress(cell, ribbed, u)).collect()
    }

    fn face_stress(&self, cell: [usize; 2], ribbed: bool, u: &[f64]) -> Face {
        let [n0, n1, n2, n3] = self.grid.corners(cell);
        let [hx, hy] = self.grid.step;
        let across = |k: usize| (u[3 * n1 + k] + u[3 * n2 + k] - u[3 * n0 + k] - u[3 * n3 + k]) / (2.0 * hx);
        let up = |k: usize| (u[3 * n2 + k] + u[3 * n3 + k] - u[3 * n0 + k] - u[3 * n1 + k]) / (2.0 * hy);
        let (kx, ky, kxy) = (across(1), up(2), up(1) + across(2));
        let nu = self.poisson;
        let scale = self.modulus / (1.0 - nu * nu) * self.thickness / 2.0;
        // The wood face is at z = -t/2 of the plate's middle: u = z beta with beta = -dw/dx turned twice.
        let (sx, sy, txy) = (scale * (kx + nu * ky), scale * (ky + nu * kx), scale * (1.0 - nu) / 2.0 * kxy);
        let (mean, radius) = (f64::midpoint(sx, sy), ((sx - sy) / 2.0).hypot(txy));
        Face { at: self.grid.middle(cell), low: -(mean + radius), high: -(mean - radius), ribbed }
    }
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
                sum[0] += force(0);
                sum[1] += force(0) * along - (force(1) * c + force(2) * s);
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

/// Lower triangle of the stiffness.
#[derive(Default)]
struct Entries {
    lower: Vec<Triplet<usize, usize, f64>>,
}

impl Entries {
    fn add(&mut self, i: usize, j: usize, value: f64) {
        if i >= j {
            self.lower.push(Triplet::new(i, j, value));
        }
    }

    fn element(&mut self, corners: &[usize; 4], stiffness: &Element) {
        for (i, row) in stiffness.iter().enumerate() {
            for (j, value) in row.iter().enumerate() {
                self.add(3 * corners[i / 3] + i % 3, 3 * corners[j / 3] + j % 3, *value);
            }
        }
    }
}

/// Elastic disc that holds the plate at a screw; returns its force as weights of the nodes' lifts.
fn disc(grid: &Grid, entries: &mut Entries, at: [f64; 2], stiffness: f64) -> Weights {
    let hits = touched(grid, |p| (p[0] - at[0]).hypot(p[1] - at[1]) < HEAD);
    let each = share(&hits, std::f64::consts::PI * HEAD * HEAD) * stiffness;
    let mut weights = vec![];
    for (corners, shape) in &hits {
        for a in 0..4 {
            weights.push((corners[a], each * shape[a]));
            for b in 0..4 {
                entries.add(3 * corners[a], 3 * corners[b], each * shape[a] * shape[b]);
            }
        }
    }
    gather(weights)
}

/// Springs from the wall of a boss to the stiff tubes.
fn hold(grid: &Grid, entries: &mut Entries, plate: &Plate, at: [f64; 2], stiffness: f64) -> Boss {
    let (outer, inner) = (plate.boss / 2.0, plate.bore / 2.0);
    let n = 3 * grid.nodes();
    let wall = |p: [f64; 2]| (inner..outer).contains(&(p[0] - at[0]).hypot(p[1] - at[1]));
    let hits: Vec<_> =
        grid.elements().flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s))).filter(|h| wall(h.1)).collect();
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

fn touched(grid: &Grid, inside: impl Fn([f64; 2]) -> bool) -> Vec<Hit> {
    let all = grid.elements().flat_map(|c| grid.samples(c).map(move |(p, s)| (c, p, s)));
    all.filter(|(_, p, _)| inside(*p)).map(|(c, _, s)| (grid.corners(c), s)).collect()
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
    for (products, factors) in products.iter().flatten().zip(factors.iter().flatten()) {
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

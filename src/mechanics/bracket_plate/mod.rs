//! The plate of a bracket as a bending plate on screws and wood: small finite elements of a few millimetres.
//!
//! Frame: x, y in the plate, z away from the wood. Bosses are stiff discs, gussets and webs are ribs with a part of the
//! plate as flange, screws are elastic discs under their heads, the wood can only press, and the tubes are one stiff
//! body on the walls of all bosses. What the plate cannot know (how a wall or a screw head sinks into solid plastic) is in
//! [`CalibratedCompliances`], fitted to solid finite elements.
//!
//! The plate is factorised once. Its compliance is kept at the tubes, which take loads, and at those pads of the wood that
//! were ever near to pressing: what presses is then found for each load on these alone ([`compliance`]), so the same question always gets the
//! same answer.

mod basis;
mod compliance;
mod grid;
mod section;
mod stands;

use std::sync::OnceLock;

use nalgebra::DMatrix;

use super::fill::Fill;
use crate::fem::sparse::{Factor, TripletBuilder};
use crate::parallel;
use compliance::{Compliance, Loss, Moved, Pushed};
use grid::{Grid, Weights};
use stands::{Boss, Pad, RibFoot, Screw, Spread, disc, elements, hold, pads};

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
    /// Radius of the disc under a screw's head, mm.
    pub head: f64,
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

/// CalibratedCompliances of what is solid: fitted on the 26 solid finite-element brackets of `tests/data`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CalibratedCompliances {
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
/// Size of an element of a sketch, mm: a fifth of the work.
const COARSE: f64 = 2.0 * ELEMENT;
/// Where pads of the wood stand. Plates of up to 140 mm, as the brackets studied, have a pad at every node; larger ones press
/// and pull up to 6 % less than with as many.
const PADS: Spread = Spread { edge: 4, inside: 32 };
/// The same for a sketch.
const SKETCH_PADS: Spread = Spread { edge: 2, inside: 6 };
/// Loads solved together.
const TOGETHER: usize = 32;

/// A plate ready to be loaded.
pub struct PlateModel {
    body: Body,
    whole: Compliance,
    /// What is lost with each screw, once it was asked.
    lost: Vec<OnceLock<Option<Loss>>>,
    /// What moves under unit loads of each screw's head, once it was asked.
    heads: OnceLock<Vec<(Vec<f64>, Moved)>>,
}

/// How firmly screws and wood hold a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Stiffness of a screw along its axis, N/mm, its head free to turn; infinite: the head is held and does not turn.
    pub screw: f64,
    /// Stiffness of the wood under the plate, N/mm3; infinite: rigid.
    pub bed: f64,
}

impl Seat {
    /// Heads held, rigid wood.
    pub const FIRM: Self = Self { screw: f64::INFINITY, bed: f64::INFINITY };
}

/// A plate on its seat.
pub struct Seated<'a> {
    model: &'a PlateModel,
    seat: Seat,
    loss: Option<Loss>,
}

/// The plate factorised, and all that stands on it.
struct Body {
    grid: Grid,
    factor: Factor,
    pads: Vec<Pad>,
    /// Pads in a row.
    row: usize,
    screws: Vec<Screw>,
    bosses: Vec<Boss>,
    poisson: f64,
    /// Modulus of a solid plate that bends as this one, MPa.
    bending_modulus: f64,
    thickness: f64,
    /// Stiffness of the plate pressed on wood that is rigid, N/mm3.
    pressed: f64,
    /// Elements beside the bosses, and whether a rib stands there.
    beside: Vec<([usize; 2], bool)>,
    feet: Vec<RibFoot>,
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
    /// Push of each place of the wood, N; none where it cannot press.
    pushed: Vec<f64>,
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

impl PlateModel {
    /// Builds the plate; `None` when the plate is not held.
    #[must_use]
    pub fn new(plate: &Plate, soft: &CalibratedCompliances) -> Option<Self> {
        Self::of_elements(plate, soft, ELEMENT, PADS)
    }

    /// The same in elements twice as large, which the softness was not fitted to.
    #[must_use]
    pub fn sketched(plate: &Plate, soft: &CalibratedCompliances) -> Option<Self> {
        Self::of_elements(plate, soft, COARSE, SKETCH_PADS)
    }

    fn of_elements(plate: &Plate, soft: &CalibratedCompliances, element: f64, spread: Spread) -> Option<Self> {
        let body = Body::new(plate, soft, element, spread)?;
        let lost = body.screws.iter().map(|_| OnceLock::new()).collect();
        Some(Self { whole: body.condensed(), lost, heads: OnceLock::new(), body })
    }

    /// The plate on a seat; `None` where the seat does not hold it.
    #[must_use]
    pub fn seated(&self, seat: Seat) -> Option<Seated<'_>> {
        let loss = if seat.screw.is_finite() {
            let heads = self.heads.get_or_init(|| self.body.moved_by_heads());
            Some(self.pushed(|whole| whole.loss(&self.body.taken(seat.screw), heads))?)
        } else {
            None
        };
        Some(Seated { model: self, seat, loss })
    }

    /// Stands under a pull N along z and moments N mm about x and y at the origin; `wood` lets the wood press. `None` where
    /// what presses is not found.
    #[must_use]
    pub fn load(&self, pull: f64, mx: f64, my: f64, wood: bool) -> Option<PlateState> {
        let load = [pull, mx, my];
        let pressed = if wood { self.pushed(|whole| whole.pressed(load))? } else { vec![] };
        Some(self.body.state(&self.body.moved_by(load, &pressed), pressed))
    }

    /// What the plate gives way to a load: the load times its motion, N mm.
    #[must_use]
    pub fn work(&self, load: [f64; 3], wood: bool) -> Option<f64> {
        self.pushed(|whole| whole.work(load, wood))
    }

    fn pushed<R>(&self, ask: impl FnOnce(Pushed<'_>) -> R) -> R {
        ask(self.whole.pushed(&|pads| self.body.moved_by_pads(pads)))
    }

    /// Pull of each screw left, N, in their order, on wood under a load when one is lost; `before` is how the plate stands with
    /// it. `None` where the others do not hold the plate.
    #[must_use]
    pub fn pulls_without(&self, screw: usize, load: [f64; 3], before: &PlateState) -> Option<Vec<f64>> {
        self.pushed(|whole| {
            let loss = self.lost[screw].get_or_init(|| self.body.without(screw, whole)).as_ref()?;
            let left = whole.less(loss);
            let mut pulls = left.pulls(load, &left.pressed_near(load, &before.pushed)?);
            pulls.remove(screw);
            Some(pulls)
        })
    }
}

impl Seated<'_> {
    /// As [`PlateModel::work`], on the wood.
    #[must_use]
    pub fn work(&self, load: [f64; 3]) -> Option<f64> {
        self.pushed(|whole| whole.work(load, true))
    }

    fn pushed<R>(&self, ask: impl FnOnce(Pushed<'_>) -> R) -> R {
        let sinking = 1.0 + self.model.body.pressed / self.seat.bed;
        self.model.pushed(|whole| {
            let whole = whole.sinking(sinking);
            ask(self.loss.as_ref().map_or(whole, |loss| whole.less(loss)))
        })
    }
}

impl Body {
    fn new(plate: &Plate, soft: &CalibratedCompliances, element: f64, spread: Spread) -> Option<Self> {
        let grid = Grid::new(plate.size, element);
        let mut entries = TripletBuilder::new(3 * grid.nodes() + 3);
        let (feet, beside) = elements(&grid, &mut entries, plate, soft);
        let [level, head] = plate.pressed();
        let screws: Vec<_> = plate.screws.iter().map(|&at| disc(&grid, at, plate.head, soft.screw * head)).collect();
        for (i, j, value) in screws.iter().flat_map(|s| &s.entries) {
            entries.add(*i, *j, *value);
        }
        let wall = (plate.boss - plate.bore) / 2.0;
        let root = plate.wall_modulus() / (soft.root * wall) * plate.root_gain;
        let bosses = plate.bosses.iter().map(|&at| hold(&grid, &mut entries, plate, at, root)).collect();
        let (pads, row) = pads(&grid, soft.wood * level, spread);
        let Plate { poisson, thickness, .. } = *plate;
        Some(Self {
            factor: Factor::new(entries.finish()).ok()?,
            grid,
            pads,
            row,
            screws,
            bosses,
            poisson,
            bending_modulus: plate.bending_modulus(),
            thickness,
            pressed: soft.wood * level,
            beside,
            feet,
        })
    }

    /// Movements under 1 N at each place, degrees of freedom and weights; as many at a time as the machine does best.
    fn moved<R: Send>(&self, loads: &[Weights], read: impl Fn(&[f64]) -> R + Sync) -> Vec<R> {
        let n = 3 * self.grid.nodes() + 3;
        let solve = |some: &&[Weights]| -> Vec<R> {
            let mut all = vec![0.0; n * some.len()];
            for (right, load) in all.chunks_mut(n).zip(*some) {
                load.iter().for_each(|(at, part)| right[*at] += part);
            }
            self.factor.solve_in_place(&mut all);
            all.chunks(n).map(&read).collect()
        };
        let chunks: Vec<&[Weights]> = loads.chunks(TOGETHER).collect();
        // Few are solved here, since a thread may wait for them.
        if let [some] = chunks[..] {
            return solve(&some);
        }
        parallel::map(&chunks, solve).into_iter().flatten().collect()
    }

    /// Compliance of the whole plate.
    fn condensed(&self) -> Compliance {
        let first = 3 * self.grid.nodes();
        let tubes: Vec<Weights> = (0..3).map(|k| vec![(first + k, 1.0)]).collect();
        let give = self.pads.iter().map(|pad| pad.give).collect();
        Compliance::new(self.moved(&tubes, |u| self.read(u)), give, self.row)
    }

    /// What moves under 1 N of each of some pads.
    fn moved_by_pads(&self, pads: &[usize]) -> Vec<Moved> {
        let loads: Vec<Weights> = pads.iter().map(|pad| self.pads[*pad].load()).collect();
        self.moved(&loads, |u| self.read(u))
    }

    fn read(&self, u: &[f64]) -> Moved {
        let motion = u[u.len() - 3..].iter().copied();
        Moved { asked: motion.chain(self.pulls(u)).collect(), lifts: self.pads.iter().map(|pad| pad.lift(u)).collect() }
    }

    /// Movements under a load of the tubes and the push of the pads.
    fn moved_by(&self, load: [f64; 3], pressed: &[f64]) -> Vec<f64> {
        let first = 3 * self.grid.nodes();
        let tubes = (0..3).map(|k| (first + k, load[k]));
        let pushed = self.pads.iter().zip(pressed).filter(|(_, force)| **force != 0.0);
        let pads = pushed.flat_map(|(pad, force)| pad.load().into_iter().map(move |(at, part)| (at, force * part)));
        self.moved(&[tubes.chain(pads).collect()], <[f64]>::to_vec).remove(0)
    }

    /// What moves under unit loads of each head: all heads' movements, and what else is asked.
    fn moved_by_heads(&self) -> Vec<(Vec<f64>, Moved)> {
        let loads: Vec<Weights> = self.screws.iter().flat_map(Screw::heads).collect();
        let under = |u: &[f64]| loads.iter().map(|load| load.iter().map(|(at, part)| part * u[*at]).sum()).collect();
        self.moved(&loads, |u| (under(u), self.read(u)))
    }

    /// Stiffness lost when every head is free to turn and hangs on a spring, N/mm.
    fn taken(&self, axial: f64) -> DMatrix<f64> {
        let n = 3 * self.screws.len();
        let mut taken = DMatrix::zeros(n, n);
        for (k, screw) in self.screws.iter().enumerate() {
            taken.view_mut((3 * k, 3 * k), (3, 3)).copy_from(&screw.taken(axial));
        }
        taken
    }

    /// The plate without a screw's disc, from that with it: a change of low rank.
    fn without(&self, screw: usize, whole: Pushed<'_>) -> Option<Loss> {
        let (places, disc) = self.screws[screw].matrix();
        let loads: Vec<Weights> = places.iter().map(|at| vec![(*at, 1.0)]).collect();
        let read = |u: &[f64]| (places.iter().map(|at| u[*at]).collect(), self.read(u));
        whole.loss(&disc, &self.moved(&loads, read))
    }

    fn pulls(&self, u: &[f64]) -> Vec<f64> {
        self.screws.iter().map(|s| s.weights.iter().map(|(node, k)| k * u[3 * node]).sum()).collect()
    }

    fn state(&self, u: &[f64], pushed: Vec<f64>) -> PlateState {
        let n = u.len();
        let motion = [u[n - 3], u[n - 2], u[n - 1]];
        let face = |(cell, ribbed): &([usize; 2], bool)| self.face_stress(*cell, *ribbed, self.curvature(*cell, u));
        PlateState {
            motion,
            screws: self.pulls(u),
            bosses: self.bosses.iter().map(|b| b.forces(u, motion)).collect(),
            ribs: self.feet.iter().map(|f| f.forces(&self.grid, u)).collect(),
            bearing: pushed.iter().sum(),
            face: self.beside.iter().map(face).collect(),
            pushed,
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Two bosses on a plate that is not square, screws and ribs without symmetry.
    fn plate() -> Plate {
        let rib = |from: [f64; 2], angle: f64| Rib {
            from,
            angle,
            length: 20.0,
            root: from,
            height: [30.0, 0.0],
            thickness: 5.0,
        };
        Plate {
            size: [130.0, 104.0],
            thickness: 8.0,
            modulus: 1900.0,
            poisson: 0.38,
            fill: Fill::SOLID,
            bosses: vec![[-22.0, 3.0], [24.0, -4.0]],
            boss: 33.0,
            bore: 25.0,
            ribs: vec![rib([-36.0, 3.0], 3.0), rib([38.0, -4.0], 0.3)],
            screws: vec![[-55.0, -42.0], [55.0, -40.0], [56.0, 43.0], [-54.0, 41.0], [2.0, 44.0]],
            head: 4.0,
            root_gain: 1.1,
        }
    }

    const LOADS: [[f64; 3]; 4] = [[0.0, 3e4, 0.0], [-400.0, 1e4, 2e4], [200.0, 0.0, -3e4], [-800.0, -2e4, 1e4]];

    fn near(is: f64, should: f64, within: f64) {
        assert!((is / should - 1.0).abs() < within, "{is} is not {should}");
    }

    fn highest(values: &[f64]) -> f64 {
        values.iter().copied().fold(0.0, f64::max)
    }

    /// Two ways: a pad at every node of the grid, for a plate that has fewer.
    #[test]
    fn more_pads_of_the_wood_change_little() {
        let soft = super::super::joint::SOFTNESS;
        let large = Plate { size: [175.0, 104.0], ..plate() };
        let usual = PlateModel::new(&large, &soft).expect("held");
        let every =
            PlateModel::of_elements(&large, &soft, ELEMENT, Spread { inside: usize::MAX, ..PADS }).expect("held");
        for [pull, mx, my] in LOADS {
            let [is, should] = [&usual, &every].map(|m| m.load(pull, mx, my, true).expect("stands"));
            near(highest(&is.screws), highest(&should.screws), 0.06);
            near(is.bearing, should.bearing, 0.06);
            let along = |s: &PlateState| mx * s.motion[1] + my * s.motion[2] + pull * s.motion[0];
            near(along(&is), along(&should), 0.01);
        }
    }

    /// The wood's springs pull nowhere: what the plate presses and what the screws pull balance the load.
    #[test]
    fn pads_only_press_and_balance_the_load() {
        let model = PlateModel::new(&plate(), &super::super::joint::SOFTNESS).expect("held");
        for load in LOADS {
            let pressed = model.pushed(|whole| whole.pressed(load)).expect("found");
            assert!(pressed.iter().all(|p| *p >= 0.0) && pressed.contains(&0.0));
            let state = model.load(load[0], load[1], load[2], true).expect("stands");
            let balance = state.screws.iter().sum::<f64>() - state.bearing;
            assert!((balance - load[0]).abs() < 1e-6 * state.bearing, "{balance} is not {}", load[0]);
        }
    }
}

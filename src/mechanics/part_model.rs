//! Printed parts as the frame sees them: how stiff they hold the tubes, and what they bear under given loads.

use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use super::bracket_plate::Seat;
use super::bracket_shape::BracketShape;
use super::cache::Cache;
use super::fill::Fill;
use super::image::{Image, images, same_load};
use super::joint::{Bracket, BracketDemand, Hold};
use super::studied::Unstudied;
use super::wood::wood_creep;
use super::{Detail, Ends, Origin};
use crate::clauses::screw_group::Loads;
use crate::clauses::screw_slip;
use crate::fem::{Orders, RIGID};
use crate::model::{Model, SWAY_PUSH};
use crate::parallel;
use crate::params::JointStiffness;
use crate::parts;
use crate::source::{Clause, Source};

/// How firmly screws and wood hold a bracket, soft and stiff.
pub const SEAT: Clause = Source::JUDGEMENT.at(
    "soft: screws as springs by the smaller of two published formulas, heads free to turn, on an elastic bed of the wood across \
     its grain; stiff: heads held on rigid wood, as screws drawn tight hold it when new; drying, swelling and years leave the soft end",
);
/// Stiffness of a bracket whose modulus across the layers is the least it may be, over one alike in all directions. Judgement:
/// solids of a bench's bracket lost 12 % with 0.85 of the modulus across the layers; the other end is 1.
const LAYERS: [f64; 2] = [0.88, 1.0];
/// Depth of wood that gives under a bracket, as a share of the shorter side of its plate (judgement: the bench's pressed zone of
/// 25 to 37 mm gave 30 N/mm3 in solids; a thinner top gives over its thickness).
const BED_DEPTH: f64 = 0.3;
/// Modulus of wood through the thickness of a top over that along, at most: sheets are stiff across in their plane, not through it
/// (judgement: between a fifteenth, hardwoods, and a thirtieth, softwoods, and plywood's eighth from memory).
const THROUGH: f64 = 0.1;

/// A bracket, condensed to its tubes. What its plate, screws and bosses bear is worked out on the bending plate in every case.
#[derive(Clone)]
pub enum PartModel {
    /// A bending plate on screws and wood, with closed forms for what is solid.
    Plate(Arc<Bracket>),
    /// Rotational stiffness of the part as a solid; what screws, wood and bores take from it is told by the plate.
    Solid {
        /// About x and y on rigid wood, heads held and tubes tied: soft and stiff, N mm/rad, new plastic.
        about: [[f64; 2]; 2],
        /// What is not taken from the solid.
        plate: Arc<Bracket>,
    },
    /// Rotational stiffness that somebody measured, which holds after years as well.
    Measured {
        /// About x and y, N mm/rad; [`RIGID`]: nothing gives, along the tube neither.
        about: f64,
        /// What was not measured.
        plate: Arc<Bracket>,
    },
}

/// Stiffness at the tubes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct TubeStiffness {
    /// About x, y and the leg, N mm/rad.
    pub about: [f64; 3],
    /// Along the leg, N/mm.
    pub along: f64,
    /// Across the leg, N/mm.
    pub across: f64,
}

/// Rotational stiffness of tied tubes, N mm/rad, about x and y: on the soft seat in the softer sense, on the firm one in the
/// stiffer.
type Tied = [[f64; 2]; 2];

/// What a bracket with tied tubes is on rigid wood, its screws' heads held.
#[derive(Clone, Copy)]
struct Firm {
    /// Turning about x and about y, one way and the other, N mm/rad.
    turning: [[f64; 2]; 2],
    /// Along the leg, soft and stiff, N/mm.
    along: [f64; 2],
}

/// How tubes are held, the moment at which the stiffness of loose ones is taken, N mm, and the screws in the wood.
#[derive(Clone, Copy)]
struct Held {
    hold: Hold,
    moment: f64,
    /// Stiffness of a screw along its axis, the softer figure, and against slip sideways, N/mm.
    screw: [f64; 2],
    /// Modulus of the wood through the top, MPa, and the top's thickness, mm.
    wood: [f64; 2],
    /// Final over first deflection of the wood under what stays.
    wood_creep: f64,
}

impl Held {
    /// The moment is the hand's push, shared by the legs.
    fn of(model: &Model) -> Self {
        let (top, screw) = (&model.params.top, &model.params.bracket.screws.screw);
        let [axial, _] = screw_slip::axial(screw.diameter, model.thread());
        Self {
            hold: hold(model),
            moment: SWAY_PUSH * model.params.height / model.legs.len() as f64,
            screw: [axial, screw_slip::lateral(top.wood.density, screw.diameter)],
            wood: [top.wood.e_across.min(THROUGH * top.wood.e_along), top.thickness],
            wood_creep: wood_creep(model),
        }
    }

    /// The soft seat of a bracket.
    fn soft(&self, shape: &BracketShape) -> Seat {
        let depth = (BED_DEPTH * shape.plate_length.min(shape.plate_width)).min(self.wood[1]);
        Seat { screw: self.screw[0], bed: self.wood[0] / depth }
    }

    /// After years, of plastic `by` times softer, in which everything is in proportion to that modulus: wood and screws count as if
    /// they were as much stiffer, less what the wood creeps.
    fn aged(&self, by: f64) -> Self {
        let rest = by / self.wood_creep;
        let (screw, [modulus, thickness]) = (self.screw.map(|k| rest * k), self.wood);
        Self { moment: by * self.moment, screw, wood: [rest * modulus, thickness], ..*self }
    }
}

impl PartModel {
    fn plate(&self) -> &Arc<Bracket> {
        match self {
            Self::Plate(plate) | Self::Solid { plate, .. } | Self::Measured { plate, .. } => plate,
        }
    }

    /// What it is on its firm seat.
    fn firm(&self) -> Firm {
        let plate = self.plate();
        Firm {
            turning: AXES.map(|way| plate.turning(way, Seat::FIRM)),
            along: [plate.axial_pull().soft, plate.axial_push().stiff],
        }
    }

    /// As tied tubes, the plastic new or as it is after years.
    fn tied(&self, held: &Held, firm: &Firm) -> Tied {
        let plate = self.plate();
        let seat = held.soft(plate.shape());
        let soft = AXES.map(|way| plate.turning(way, seat)).map(|[a, b]| a.min(b));
        let stiff = firm.turning.map(|[a, b]| a.max(b));
        match self {
            Self::Solid { about, .. } => {
                let softer = [0, 1].map(|k| about[0][k] * soft[k] / firm.turning[k][0].min(firm.turning[k][1]));
                [softer, about[1]]
            }
            _ => [soft, stiff],
        }
    }

    /// Stiffness with the origins of its band at some ends; of plastic whose modulus is divided by `by`, by which `tied` and `held`
    /// count as multiplied.
    fn stiffness(&self, held: &Held, (firm, tied): (&Firm, &Tied), ends: Ends, by: f64) -> TubeStiffness {
        let plate = self.plate();
        let turns = |k: usize| {
            let tied = ends.pick(Origin::Screws, [tied[0][k], tied[1][k]]);
            let [below, above] = plate.error(held.hold);
            let error = if matches!(self, Self::Solid { .. }) { [1.0; 2] } else { [1.0 / below, above] };
            let factors = [ends.pick(Origin::Layers, LAYERS), ends.pick(Origin::Plate, error)];
            plate.in_bore(held.hold, tied, held.moment, ends.of(Origin::Bores)) * together(factors)
        };
        let torsion = plate.torsional(held.screw[1]);
        let mut known = TubeStiffness {
            about: [turns(0), turns(1), ends.pick(Origin::Screws, [torsion.soft, torsion.stiff])].map(|k| k / by),
            along: ends.pick(Origin::Plate, firm.along) / by,
            across: ends.pick(Origin::Screws, [plate.lateral(held.screw[1]), RIGID]) / by,
        };
        if let Self::Measured { about, .. } = self {
            let whole = *about == RIGID;
            (known.about[0], known.about[1], known.across) = (*about, *about, RIGID);
            if whole {
                (known.about[2], known.along) = (RIGID, RIGID);
            }
        }
        known
    }
}

/// Factors that have nothing to do with one another as one: their errors as the root of the sum of their squares, below and above
/// each for itself, since both are not at their worst at once.
fn together(factors: [f64; 2]) -> f64 {
    let side = |sign: f64| factors.map(|f| (sign * (f - 1.0)).max(0.0)).into_iter().map(|e| e * e).sum::<f64>().sqrt();
    1.0 + side(1.0) - side(-1.0)
}

/// Directions of the axes x and y, radians.
const AXES: [f64; 2] = [0.0, FRAC_PI_2];

/// How the joint formulas see the file's hold: of a bundle no tube slides when every one is bonded or bolted; a single tube
/// presses without play on ribs, and with play without them.
#[must_use]
pub fn hold(model: &Model) -> Hold {
    let h = &model.params.bracket.hold;
    let bundle_fixed = model.params.legs.tubes > 1 && h.cross_bolt.is_some();
    if h.bonded {
        Hold::Bonded
    } else if bundle_fixed {
        Hold::Bolted
    } else if h.ribs {
        Hold::Ribs
    } else {
        Hold::Loose(model.params.printing.clearance)
    }
}

/// Models of a table's brackets. Brackets that are mirror images of one another share one.
pub struct PartModels {
    detail: Detail,
    /// Of the cache that they came from.
    pub(super) orders: Arc<Orders>,
    /// Modulus now over that after years of load.
    softening: f64,
    held: Held,
    own: Vec<PartModel>,
    /// One per distinct bracket of the model.
    views: Vec<View>,
    /// Stiffness of each with tied tubes: on its firm seat, and new and after years of load.
    tied: Vec<(Firm, [Tied; 2])>,
}

/// A bracket seen as one that was built.
#[derive(Clone)]
struct View {
    /// Index among those built.
    own: usize,
    /// All images of the built bracket that it is, at least one.
    images: Vec<Image>,
}

impl View {
    /// None where it is no image.
    fn of(own: usize, images: Vec<Image>) -> Option<Self> {
        (!images.is_empty()).then_some(Self { own, images })
    }
}

impl PartModels {
    /// Takes from the cache what is needed, as finely divided as is asked, and asks each bracket how stiff it is; the frame that
    /// is solved on them is divided alike.
    ///
    /// # Errors
    /// A part that the plate model does not know, in words.
    pub fn new(model: &Model, detail: Detail, cache: &Cache) -> Result<Self, String> {
        let filament = &model.params.printing.filament;
        let fill = Fill::of(&model.params.printing);
        let (mut shapes, mut own, mut views): (Vec<BracketShape>, Vec<PartModel>, Vec<View>) = Default::default();
        for kind in 0..model.brackets.len() {
            let part = parts::blank_bracket(model, kind);
            let shape = BracketShape::of(&part, filament, fill).map_err(|bad| bad.to_string())?;
            let known = shapes.iter().enumerate().find_map(|(own, known)| View::of(own, images(known, &shape)));
            let view = match known {
                Some(view) => view,
                None => {
                    let plate = cache.bracket(&shape, detail).map_err(|bad| bad.to_string())?;
                    own.push(match model.params.joints {
                        JointStiffness::Estimated => PartModel::Plate(plate),
                        JointStiffness::Given(about) => PartModel::Measured { about, plate },
                        JointStiffness::Rigid => PartModel::Measured { about: RIGID, plate },
                    });
                    let images = images(&shape, &shape);
                    shapes.push(shape);
                    View { own: shapes.len() - 1, images }
                }
            };
            views.push(view);
        }
        let (held, softening) = (Held::of(model), filament.e / filament.e_sustained());
        let tied = own.iter().map(|part| Self::asked(part, &held, softening)).collect();
        Ok(Self { detail, orders: Arc::clone(&cache.orders), softening, held, own, views, tied })
    }

    /// What a bracket is asked once.
    fn asked(part: &PartModel, held: &Held, softening: f64) -> (Firm, [Tied; 2]) {
        let firm = part.firm();
        (firm, [*held, held.aged(softening)].map(|held| part.tied(&held, &firm)))
    }

    /// One of the model's brackets for each that was built: the others are mirror images.
    #[must_use]
    pub fn distinct(&self) -> Vec<usize> {
        let first = |own: usize| self.views.iter().position(|v| v.own == own);
        (0..self.own.len()).filter_map(first).collect()
    }

    /// Takes a bracket as a solid: its stiffness about x and y on rigid wood, heads held and tubes tied, soft and stiff, N mm/rad.
    pub fn take_solid(&mut self, kind: usize, about: [[f64; 2]; 2]) {
        let own = self.views[kind].own;
        let part = PartModel::Solid { about, plate: Arc::clone(self.own[own].plate()) };
        self.tied[own] = Self::asked(&part, &self.held, self.softening);
        self.own[own] = part;
    }

    /// Stiffness about x and y of a bracket's plate off the wood and on it, tubes bonded: soft, middle and stiff each, N mm/rad.
    #[must_use]
    pub fn bonded(&self, kind: usize) -> [[[f64; 3]; 2]; 2] {
        let bracket = self.own[self.views[kind].own].plate();
        let of = |k: super::joint::Stiffness| [k.soft, k.middle, k.stiff];
        [AXES.map(|a| of(bracket.at_screws(a))), AXES.map(|a| of(bracket.on_wood(a)))]
    }

    /// How finely they are divided.
    pub(super) const fn detail(&self) -> Detail {
        self.detail
    }

    /// Stiffness of each of the model's brackets, new or after years of load, with the origins of its band at some ends.
    pub(super) fn stiffness(&self, ends: Ends, aged: bool) -> Vec<TubeStiffness> {
        let (held, by) = if aged { (self.held.aged(self.softening), self.softening) } else { (self.held, 1.0) };
        let each = self.own.iter().zip(&self.tied);
        let age = usize::from(aged);
        let own: Vec<_> =
            each.map(|(part, (firm, tied))| part.stiffness(&held, (firm, &tied[age]), ends, by)).collect();
        self.views.iter().map(|view| own[view.own]).collect()
    }

    /// In what the brackets lie outside those studied, each reason once.
    pub(super) fn outside(&self) -> Vec<Unstudied> {
        let mut all: Vec<Unstudied> = Vec::new();
        for why in self.own.iter().flat_map(|part| part.plate().outside()) {
            if !all.contains(why) {
                all.push(*why);
            }
        }
        all
    }

    /// What brackets bear under loads at their bores' mouths, each bracket by its index among the model's. Loads that are images of
    /// one another, as those of the legs of a symmetric table are, are worked out once.
    #[must_use]
    pub fn demands(&self, asked: &[(usize, Loads)]) -> Vec<BracketDemand> {
        let mut distinct: Vec<(usize, Loads)> = Vec::new();
        let mut place = |(kind, load): &(usize, Loads)| {
            let View { own, images } = &self.views[*kind];
            let known = |(of, known): &(usize, Loads)| {
                images.iter().find(|image| of == own && same_load(&image.seen(load), known))
            };
            distinct.iter().enumerate().find_map(|(i, one)| Some((i, known(one)?))).unwrap_or_else(|| {
                distinct.push((*own, images[0].seen(load)));
                (distinct.len() - 1, &images[0])
            })
        };
        let places: Vec<(usize, &Image)> = asked.iter().map(&mut place).collect();
        let borne = parallel::map(&distinct, |(own, load)| self.own[*own].plate().demands(load));
        places.into_iter().map(|(i, image)| image.borne(&borne[i])).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(m: &Model, kind: usize) -> BracketShape {
        let part = parts::blank_bracket(m, kind);
        BracketShape::of(&part, &m.params.printing.filament, Fill::of(&m.params.printing)).expect("a bracket")
    }

    fn model(hold: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "bracket": {{"hold": "{hold}"}}}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    /// Two ways: the mirror image's own plate model.
    #[test]
    fn a_mirrored_bracket_bears_the_mirrored_load() {
        let text = crate::params::built_in();
        let m = Model::new(&crate::params::read(text).expect("read")).expect("a model");
        let plates = PartModels::new(&m, Detail::Full, &Cache::default()).expect("plates");
        assert!(m.brackets.len() == 2 && plates.own.len() == 1, "legs splayed both ways have mirrored brackets");
        let own = Bracket::new(&shape(&m, 1)).expect("a bracket");
        let load = Loads { fx: 30.0, fy: -70.0, fz: -120.0, mx: 4e4, my: 2.5e4, mz: 0.0 };
        let (got, want) = (plates.demands(&[(1, load)]).remove(0), own.demands(&load));
        let figures = |b: &BracketDemand| [b.worst_screw.upper, b.plate.upper, b.boss_root.upper, b.bearing];
        let pairs = got.screws.iter().zip(&want.screws).map(|(a, b)| (*a, *b));
        for (a, b) in figures(&got).into_iter().zip(figures(&want)).chain(pairs) {
            assert!((a - b).abs() < 1e-9 * want.worst_screw.upper.max(b.abs()), "{a} is not {b}");
        }
    }

    /// Two ways: the bracket built anew with the creep modulus.
    #[test]
    fn a_softened_bracket_is_one_of_softer_plastic() {
        for hold in ["bonded", "ribs", "none"] {
            let m = model(hold);
            let (new, by, held) = (shape(&m, 0), 4.0, Held::of(&m));
            let soft = BracketShape { modulus: new.modulus / by, ..new.clone() };
            let [new, soft] = [new, soft].map(|s| PartModel::Plate(Arc::new(Bracket::new(&s).expect("a bracket"))));
            let (creep, [modulus, thickness]) = (held.wood_creep, held.wood);
            let crept = Held { screw: held.screw.map(|k| k / creep), wood: [modulus / creep, thickness], ..held };
            let aged = held.aged(by);
            for ends in [Ends::SOFT, Ends::STIFF] {
                let [of_new, of_soft] = [new.firm(), soft.firm()];
                let got = new.stiffness(&aged, (&of_new, &new.tied(&aged, &of_new)), ends, by);
                let want = soft.stiffness(&crept, (&of_soft, &soft.tied(&crept, &of_soft)), ends, 1.0);
                let all = |s: &TubeStiffness| [s.about[0], s.about[1], s.about[2], s.along];
                for (a, b) in all(&got).into_iter().zip(all(&want)) {
                    assert!((a / b - 1.0).abs() < 1e-6, "{hold}: {a} is not {b}");
                }
            }
        }
    }
}

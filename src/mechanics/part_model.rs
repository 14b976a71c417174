//! Printed parts as the frame sees them: how stiff they hold the tubes, and what they bear under given loads.

use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use super::Detail;
use super::bracket_shape::BracketShape;
use super::cache::Cache;
use super::fill::Fill;
use super::image::{Image, images, same_load};
use super::joint::{Bracket, BracketDemand, Hold};
use super::studied::Unstudied;
use crate::clauses::screw_group::Loads;
use crate::fem::{Orders, RIGID};
use crate::model::{Model, SWAY_PUSH};
use crate::parallel;
use crate::params::JointStiffness;
use crate::parts;

/// Stiffness of a screw in shear between plastic and wood, N/mm (judgement: slip of a few tenths of a millimetre at its
/// allowable load).
const SCREW_SLIP: f64 = 1000.0;

/// A bracket, condensed to its tubes. What its plate, screws and bosses bear is worked out on the bending plate in every case.
#[derive(Clone)]
pub enum PartModel {
    /// A bending plate on screws and wood, with closed forms for what is solid.
    Plate(Arc<Bracket>),
    /// Rotational stiffness of the part as a solid.
    Solid {
        /// About x and y, soft and stiff, N mm/rad, new plastic.
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

/// Stiffness at the tubes, soft and stiff.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct TubeStiffness {
    /// About x, y and the leg, N mm/rad.
    pub about: [[f64; 3]; 2],
    /// Along the leg, N/mm.
    pub along: [f64; 2],
}

/// How tubes are held, and the moment at which the stiffness of loose ones is taken, N mm.
#[derive(Clone, Copy)]
struct Held {
    hold: Hold,
    moment: f64,
}

impl Held {
    /// The moment is the hand's push, shared by the legs.
    fn of(model: &Model) -> Self {
        Self { hold: hold(model), moment: SWAY_PUSH * model.params.height / model.legs.len() as f64 }
    }
}

impl PartModel {
    fn plate(&self) -> &Arc<Bracket> {
        match self {
            Self::Plate(plate) | Self::Solid { plate, .. } | Self::Measured { plate, .. } => plate,
        }
    }

    fn stiffness(&self, held: Held) -> TubeStiffness {
        let plate = self.plate();
        let [x, y] = about(plate, held.hold, held.moment);
        let torsion = plate.torsional(SCREW_SLIP);
        let (pull, push) = (plate.axial_pull(), plate.axial_push());
        let about = [[x[0], y[0], torsion.soft], [x[1], y[1], torsion.stiff]];
        self.instead(TubeStiffness { about, along: [pull.soft, push.stiff] }, 1.0)
    }

    /// With the plastic's modulus divided by `by`. Everything is in proportion to the modulus but the play of a loose tube and
    /// the slip of the screws in the wood, which count as if moment or slip were `by` times as large.
    fn softened(&self, held: Held, fresh: &TubeStiffness, by: f64) -> TubeStiffness {
        let mut old =
            TubeStiffness { about: fresh.about.map(|a| a.map(|k| k / by)), along: fresh.along.map(|k| k / by) };
        if matches!(held.hold, Hold::Loose(_)) {
            let [x, y] = about(self.plate(), held.hold, by * held.moment);
            for (set, (x, y)) in old.about.iter_mut().zip(x.into_iter().zip(y)) {
                (set[0], set[1]) = (x / by, y / by);
            }
        }
        let torsion = self.plate().torsional(by * SCREW_SLIP);
        (old.about[0][2], old.about[1][2]) = (torsion.soft / by, torsion.stiff / by);
        self.instead(old, by)
    }

    /// What is known better than from the plate, put in its place.
    fn instead(&self, mut known: TubeStiffness, by: f64) -> TubeStiffness {
        match *self {
            Self::Plate(_) => {}
            Self::Solid { about, .. } => {
                for (set, [x, y]) in known.about.iter_mut().zip(about) {
                    (set[0], set[1]) = (x / by, y / by);
                }
            }
            Self::Measured { about: RIGID, .. } => known = TubeStiffness { about: [[RIGID; 3]; 2], along: [RIGID; 2] },
            Self::Measured { about, .. } => known.about.iter_mut().for_each(|set| (set[0], set[1]) = (about, about)),
        }
        known
    }
}

fn about(plate: &Bracket, hold: Hold, moment: f64) -> [[f64; 2]; 2] {
    [0.0, FRAC_PI_2].map(|direction| plate.range(hold, direction, moment)).map(|r| [r.soft, r.stiff])
}

/// How the joint formulas see the file's hold: a bundle works as bonded when every tube is bonded or bolted, so that
/// none slides; a single tube presses without play on ribs, and with play without them.
#[must_use]
pub fn hold(model: &Model) -> Hold {
    let h = &model.params.bracket.hold;
    let bundle_fixed = model.params.legs.tubes > 1 && h.cross_bolt.is_some();
    if h.bonded || bundle_fixed {
        Hold::Bonded
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
    /// Stiffness of each, new.
    fresh: Vec<TubeStiffness>,
    /// The same after years of load.
    aged: Vec<TubeStiffness>,
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
        let fresh: Vec<TubeStiffness> = own.iter().map(|part| part.stiffness(held)).collect();
        let aged = own.iter().zip(&fresh).map(|(part, fresh)| part.softened(held, fresh, softening)).collect();
        Ok(Self { detail, orders: Arc::clone(&cache.orders), softening, held, own, views, fresh, aged })
    }

    /// One of the model's brackets for each that was built: the others are mirror images.
    #[must_use]
    pub fn distinct(&self) -> Vec<usize> {
        let first = |own: usize| self.views.iter().position(|v| v.own == own);
        (0..self.own.len()).filter_map(first).collect()
    }

    /// Takes a bracket as a solid: its stiffness about x and y, soft and stiff, N mm/rad.
    pub fn take_solid(&mut self, kind: usize, about: [[f64; 2]; 2]) {
        let own = self.views[kind].own;
        let part = PartModel::Solid { about, plate: Arc::clone(self.own[own].plate()) };
        self.fresh[own] = part.stiffness(self.held);
        self.aged[own] = part.softened(self.held, &self.fresh[own], self.softening);
        self.own[own] = part;
    }

    /// Stiffness about x and y of a bracket's plate off the wood and on it, tubes bonded: soft, middle and stiff each, N mm/rad.
    #[must_use]
    pub fn bonded(&self, kind: usize) -> [[[f64; 3]; 2]; 2] {
        let bracket = self.own[self.views[kind].own].plate();
        let of = |k: super::joint::Stiffness| [k.soft, k.middle, k.stiff];
        let axes = [0.0, FRAC_PI_2];
        [axes.map(|a| of(bracket.at_screws(a))), axes.map(|a| of(bracket.on_wood(a)))]
    }

    /// How finely they are divided.
    pub(super) const fn detail(&self) -> Detail {
        self.detail
    }

    /// Stiffness of each of the model's brackets, new or after years of load.
    pub(super) fn stiffness(&self, aged: bool) -> Vec<TubeStiffness> {
        let sets = if aged { &self.aged } else { &self.fresh };
        self.views.iter().map(|view| sets[view.own]).collect()
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
            let (got, want) = (new.softened(held, &new.stiffness(held), by), soft.stiffness(held));
            let pairs = got.about.iter().flatten().zip(want.about.iter().flatten());
            for (a, b) in pairs.chain(got.along.iter().zip(&want.along)) {
                assert!((a / b - 1.0).abs() < 1e-6, "{hold}: {a} is not {b}");
            }
        }
    }
}

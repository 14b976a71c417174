//! What the printed plastic bears: the characteristic strength times factors for time, heat, age and walls, over a
//! safety factor.

use super::{Step, StrengthFact, When};
use crate::clauses::creep::{self, Effect, Factor};
use crate::clauses::working::equation;
use crate::model::{self, COUPON, COUPONS, Model};
use crate::params::{Coupons, Duration};
use crate::source::{Clause, Source};
use crate::tables::filament::{self, Basis, Filament, Strength, Structure};
use crate::tables::fractile;

/// Safety factor on printed plastic.
const SAFETY: f64 = 1.5;
/// Why.
pub const SAFETY_CLAUSE: Clause = Source::JUDGEMENT.at(
    "1.5 between characteristic strength and stress under the stated load: about 1.2 on loads times 1.25 on plastic",
);
/// Share left after ageing in air at room temperature, in tension and shear.
const AGED: f64 = 0.85;
/// Why.
pub const AGE_CLAUSE: Clause = Source::JUDGEMENT.at(
    "printed plastics grow brittle within years in air: a seventh is taken off tension and shear after the stated \
        life; not off compression (arXiv 2606.00068, abstract: 7,744 h of UV change less than 10 um)",
);
/// Hours in a year.
const YEAR: f64 = 8766.0;
/// Longest time under load that counts as now, hours: a day.
const NOW: f64 = 24.0;
/// Share of a long load's time at the hottest temperature.
const HOT_SHARE: f64 = 0.1;
/// Why.
const HOT_CLAUSE: Clause = Source::JUDGEMENT
    .at("a load that stays is judged by the worse of its whole time at the mean temperature and a tenth of it at the \
        hottest, as damage adds up over time");

/// Which strength.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Tension or bending within the layers.
    InLayers,
    /// Tension across the layers.
    AcrossLayers,
    /// Compression on a small area.
    Bearing,
    /// Shear across the wall round a head, within the layers' plane turned upright.
    Shear,
}

impl Kind {
    /// The row's strength.
    const fn of(self, f: &Filament) -> &Strength {
        match self {
            Self::InLayers => &f.in_layers,
            Self::AcrossLayers | Self::Shear => &f.across,
            Self::Bearing => &f.bearing,
        }
    }

    /// Share left after five years under load, and why.
    fn lasting(self, f: &Filament) -> (f64, Clause) {
        let (left, clause) = match self {
            Self::InLayers => (f.lasting.in_layers, filament::LASTING_IN_LAYERS),
            Self::AcrossLayers | Self::Shear => (f.lasting.across, filament::LASTING_ACROSS),
            Self::Bearing => (f.lasting.bearing, filament::LASTING_BEARING),
        };
        (left, f.lasting_source.unwrap_or(clause))
    }
}

/// A characteristic strength with its working.
#[derive(Clone, Debug, PartialEq)]
pub struct Characteristic {
    /// MPa.
    pub value: f64,
    /// Working.
    pub working: Vec<Step>,
    /// Sources.
    pub sources: Vec<Clause>,
}

/// Characteristic strength of the file's filament: from its row, across the layers from own coupons where there are any.
#[must_use]
pub fn characteristic(model: &Model, kind: Kind) -> Characteristic {
    let p = &model.params.printing;
    let own = matches!(kind, Kind::AcrossLayers | Kind::Shear).then(|| of_coupons(&p.coupons, p.filament.coupon_cap));
    let mut all = own.flatten().unwrap_or_else(|| of_row(kind, &p.filament, model.params.filament_name()));
    if kind == Kind::Shear {
        let with = [("strength", all.value, "MPa")];
        all.value *= SHEAR;
        all.working.push(equation("shear strength = 0.577 strength", with, all.value, "MPa").into());
        all.sources.push(SHEAR_CLAUSE);
    }
    all
}

/// Least variation that a few coupons count with: the next spool differs more than five prints in a row (judgement; home
/// batches of five lie between 0.04 and 0.53).
const LEAST_COV: f64 = 0.10;

/// min(cap, mean (1 - k_n V)) of torn coupons, V at least [`LEAST_COV`]; none without coupons.
fn of_coupons(coupons: &Coupons, cap: f64) -> Option<Characteristic> {
    let torn = model::torn(coupons);
    let (mean, found) = fractile::summary(&torn)?;
    let (n, cov) = (u32::try_from(torn.len()).ok()?, found.max(LEAST_COV));
    let (k, fractile) = (fractile::k_n(n)?, fractile::normal(mean, cov, n)?);
    let value = fractile.min(cap);
    let with = [("mean", mean, "MPa"), ("k_n", k, ""), ("V", cov, "")];
    let by_load = matches!(coupons, Coupons::Loads(_)).then(|| {
        let with = [("mean load", mean * COUPON.area(), "N"), ("A", COUPON.area(), "mm2")];
        equation("mean = mean load / A", with, mean, "MPa").into()
    });
    let working = by_load.into_iter().chain([
        StrengthFact::Coupons { count: n, mean, variation: found, least: LEAST_COV }.into(),
        equation("5 % value = mean (1 - k_n V)", with, fractile, "MPa").into(),
        StrengthFact::FromCoupons { cap, value }.into(),
    ]);
    Some(Characteristic {
        value,
        working: working.collect(),
        sources: vec![fractile::NORMAL, fractile::SMALL_SAMPLE, filament::COUPON_CAP],
    })
}

/// Coupons that would give this strength across the layers, MPa: five alike, so that the least variation counts.
#[must_use]
pub fn of_equal_coupons(strength: f64) -> Coupons {
    let each = strength / (1.0 - fractile::k_n(COUPONS as u32).unwrap_or_default() * LEAST_COV);
    Coupons::Strengths(vec![each; COUPONS])
}

/// From a row of the table, or the user's own, called `called`.
fn of_row(kind: Kind, f: &Filament, called: &str) -> Characteristic {
    let (s, filament) = (kind.of(f), || called.to_owned());
    let mut sources = vec![s.source, s.why];
    let counted = (s.trials > 0).then_some([s.trials, s.batches]);
    let trials = StrengthFact::Trials { filament: filament(), counted, mean: s.mean, variation: s.cov, grade: s.grade };
    let mut working = Vec::new();
    working.extend((counted.is_some() || s.cov > 0.0).then(|| trials.into()));
    let value = s.characteristic();
    working.push(match (s.basis, s.fractile()) {
        (Basis::Trials(most), Some(found)) => {
            sources.extend([fractile::LOGNORMAL, fractile::SMALL_SAMPLE]);
            let k = fractile::k_n(s.trials).unwrap_or(f64::NAN);
            StrengthFact::Fractile { strength: kind, k, found, most, grade: s.why_grade, value }.into()
        }
        _ => StrengthFact::Characteristic { strength: kind, filament: filament(), value, grade: s.why_grade }.into(),
    });
    Characteristic { value, working, sources }
}

/// An allowable stress and what it came about from.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowable {
    /// MPa.
    pub stress: f64,
    strength: Characteristic,
    factors: Vec<Factor>,
    /// The filament's limit under a load that stays, MPa, where it governs.
    sustained: Option<f64>,
}

impl Allowable {
    /// Characteristic strength times the factors over the safety factor, MPa.
    fn reduced(&self) -> f64 {
        self.strength.value * creep::product(&self.factors) / SAFETY
    }

    /// Working.
    #[must_use]
    pub fn working(&self) -> Vec<Step> {
        let mut working = self.strength.working.clone();
        working.extend(self.factors.iter().map(|f| StrengthFact::Factor { effect: f.effect, value: f.value }.into()));
        let factors = ("factors", creep::product(&self.factors), "");
        let with = [("strength", self.strength.value, "MPa"), factors, ("safety", SAFETY, "")];
        working.push(equation("allowable = strength x factors / safety", with, self.reduced(), "MPa").into());
        working.extend(self.sustained.map(|limit| StrengthFact::Sustained(limit).into()));
        working
    }

    /// Sources.
    #[must_use]
    pub fn sources(&self) -> Vec<Clause> {
        let stays = [Effect::MeanTemperature, Effect::HottestTemperature];
        let mut sources = self.strength.sources.clone();
        sources.push(SAFETY_CLAUSE);
        sources.extend(self.factors.iter().map(|f| f.clause));
        sources.extend(self.factors.iter().any(|f| stays.contains(&f.effect)).then_some(HOT_CLAUSE));
        sources.extend(self.sustained.map(|_| filament::SUSTAINED_Z));
        sources
    }
}

/// Hours a load of this duration acts until the given time.
#[must_use]
pub fn hours(model: &Model, lasts: Duration, when: When) -> f64 {
    let all = match lasts {
        Duration::Seconds => 0.01,
        Duration::Minutes | Duration::Repeated => 0.5,
        Duration::Hours => 24.0,
        Duration::Days => 168.0,
        Duration::Months => 4.0 * 730.0,
        Duration::Years => YEAR * model.params.life.max(1.0),
    };
    if when == When::Now { all.min(NOW) } else { all }
}

/// The printed section that carries, which decides how much of it is solid and how much infill. Behind every upright face
/// stand as many lines as there are walls, behind every level face as many solid layers as are printed; infill fills what
/// they enclose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// A wall of this thickness under even stress, mm.
    Wall(f64),
    /// A plate of this thickness that lies as it is printed and bends, mm: its solid layers count by the third power.
    Bent(f64),
    /// A solid round of this diameter that bends, mm: its rim counts by the fourth power.
    Round(f64),
    /// A ring of this width round a hole, mm: the hole's own walls.
    Ring(f64),
    /// A level floor under the end of a tube: its solid layers spread the pressure over the infill below.
    Floor {
        /// Thickness, mm.
        thickness: f64,
        /// Width of the ring that presses, mm.
        ring: f64,
    },
}

impl Section {
    /// Share of the full section's strength that the solid shell has.
    fn shell(self, model: &Model) -> f64 {
        let (wall, skin) = (model.params.printing.wall(), model.params.printing.skin());
        match self {
            Self::Wall(t) => 1.0 - hollow(t, wall),
            Self::Bent(t) => 1.0 - hollow(t, skin).powi(3),
            Self::Round(d) => 1.0 - hollow(d, wall).powi(4),
            Self::Ring(w) => (wall / w).min(1.0),
            Self::Floor { thickness, .. } => 1.0 - hollow(thickness, skin).ceil(),
        }
    }

    /// Area of infill that bears under this section, over the section itself: below a floor's solid layers, through which
    /// pressure spreads at 45 degrees (judgement, as under a washer); elsewhere it has no more.
    fn spread(self, model: &Model) -> f64 {
        match self {
            Self::Floor { ring, .. } => 1.0 + 2.0 * model.params.printing.skin() / ring,
            _ => 1.0,
        }
    }

    /// Solid share with what infill adds.
    fn factor(self, model: &Model) -> Factor {
        let shell = self.shell(model);
        let infill = model.params.printing.infill.powi(INFILL_POWER) * self.spread(model);
        let value = shell + (1.0 - shell) * infill.min(1.0);
        Factor { effect: Effect::Infill, value, clause: SOLID }
    }
}

/// Share of a thickness that solid plastic on both sides leaves to the infill.
fn hollow(size: f64, solid: f64) -> f64 {
    (1.0 - 2.0 * solid / size).max(0.0)
}

/// Where the share comes from.
const SOLID: Clause = Source::JUDGEMENT.at(
    "walls and solid layers solid, their share by section modulus where it bends; infill counts by the square of its density, as cellular solids do",
);
/// Strength of a cellular solid goes with its density to a power between 1.5 and 2 (Gibson and Ashby, Cellular Solids,
/// from memory); the larger is the safer one.
const INFILL_POWER: i32 = 2;

/// Allowable stress of the file's filament in a printed section.
#[must_use]
pub fn allowable(model: &Model, kind: Kind, lasts: Duration, when: When, section: Section) -> Allowable {
    let f = &model.params.printing.filament;
    let factors = factors(model, kind, lasts, when, section);
    let mut own = Allowable { stress: 0.0, strength: characteristic(model, kind), factors, sustained: None };
    let (reduced, limit) = (own.reduced(), f.sustained_z_limit);
    let stays = kind == Kind::AcrossLayers && lasts >= Duration::Months && when == When::AfterLife;
    own.sustained = (stays && limit < reduced).then_some(limit);
    own.stress = own.sustained.unwrap_or(reduced).max(LEAST);
    own
}

/// Shear strength over tensile strength (von Mises).
const SHEAR: f64 = 0.577;
/// Why.
const SHEAR_CLAUSE: Clause = Source::JUDGEMENT.at("von Mises' 0.577 of the tensile strength, taken across the layers");
/// Allowable stress never counts below this, MPa, so that a filament without strength gives a finite utilisation.
const LEAST: f64 = 1e-3;

fn factors(model: &Model, kind: Kind, lasts: Duration, when: When, section: Section) -> Vec<Factor> {
    let f = &model.params.printing.filament;
    let mut all = time_and_heat(model, kind, lasts, when).to_vec();
    all.push(section.factor(model));
    if f.wet < 1.0 {
        all.push(Factor { effect: Effect::Water, value: f.wet, clause: filament::WET });
    }
    if lasts == Duration::Repeated && when == When::AfterLife {
        all.push(creep::plastic_repeated());
    }
    if when == When::AfterLife && kind != Kind::Bearing {
        all.push(Factor { effect: Effect::Age, value: AGED, clause: AGE_CLAUSE });
    }
    all
}

/// Factors for time and temperature: of a load that stays after the stated life the worse of two pairs. Above the service
/// limit the plastic counts as at the limit, since a check of its own then refuses it.
fn time_and_heat(model: &Model, kind: Kind, lasts: Duration, when: When) -> [Factor; 2] {
    let f = &model.params.printing.filament;
    let [cold, warm] = model.params.place.temperature;
    let (mean, hours) = ((cold + warm) / 2.0, hours(model, lasts, when));
    let (left, clause) = kind.lasting(f);
    let time = |hours| creep::plastic_time(hours, left, clause);
    if lasts < Duration::Months || when == When::Now {
        return [time(hours), heat(f, if when == When::Now { mean } else { warm }, false)];
    }
    let at = |effect, factor| Factor { effect, ..factor };
    let whole = [time(hours), at(Effect::MeanTemperature, heat(f, mean, true))];
    let tenth = [time(HOT_SHARE * hours), at(Effect::HottestTemperature, heat(f, warm, true))];
    if creep::product(&tenth) < creep::product(&whole) { tenth } else { whole }
}

fn heat(f: &Filament, celsius: f64, long: bool) -> Factor {
    let limit = f.service_temperature();
    let at = celsius.min(limit);
    match f.structure {
        Structure::Amorphous if long => creep::plastic_warm_long(at, f.tg),
        Structure::Amorphous => creep::plastic_warm_short(at, f.tg),
        Structure::SemiCrystalline | Structure::Elastomer => creep::plastic_warm_line(at, limit),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model(printing: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm"}}, "loads": [{{"mass": "40 kg"}}], "printing": {printing}}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    #[test]
    fn full_infill_is_solid_everywhere() {
        let full = model(r#"{"infill": "100 %", "walls": 2}"#);
        let floor = Section::Floor { thickness: 20.0, ring: 2.0 };
        for section in [Section::Wall(20.0), Section::Bent(20.0), Section::Round(40.0), Section::Ring(9.0), floor] {
            assert!((section.factor(&full).value - 1.0).abs() < 1e-12, "{section:?}");
        }
    }

    #[test]
    fn shells_count_by_section_modulus() {
        // Five walls of 0.4 mm: 2 mm; infill 0.4 squared.
        let usual = model("{}");
        let with = |shell: f64| shell + (1.0 - shell) * 0.16;
        assert!((Section::Wall(5.0).factor(&usual).value - with(0.8)).abs() < 1e-12);
        assert!((Section::Bent(8.0).factor(&usual).value - with(1.0 - 0.5_f64.powi(3))).abs() < 1e-12);
        assert!((Section::Round(40.0).factor(&usual).value - with(1.0 - 0.9_f64.powi(4))).abs() < 1e-12);
        assert!((Section::Ring(2.0).factor(&usual).value - 1.0).abs() < 1e-12);
    }

    /// Walls stand behind upright faces only: what lies level is as solid as its layers make it.
    #[test]
    fn walls_do_not_make_a_plate_solid_that_has_few_solid_layers() {
        let thin = model(r#"{"walls": 10, "solid_layers": 3, "layer": "0.2 mm", "infill": "20 %"}"#);
        let with = |shell: f64| shell + (1.0 - shell) * 0.04;
        assert!((Section::Bent(8.0).factor(&thin).value - with(1.0 - 0.85_f64.powi(3))).abs() < 1e-12);
        assert!((Section::Wall(8.0).factor(&thin).value - 1.0).abs() < 1e-12);
        // Under a tube's end of 2 mm wall 0.6 mm of solid layers spread the pressure over 3.2 mm of infill.
        let floor = |thickness| Section::Floor { thickness, ring: 2.0 }.factor(&thin).value;
        assert!((floor(8.0) - 0.04 * 1.6).abs() < 1e-12);
        assert!((floor(1.2) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn time_heat_and_age_only_take() {
        let m = model("{}");
        for kind in [Kind::InLayers, Kind::AcrossLayers, Kind::Bearing, Kind::Shear] {
            let of = |lasts, when| allowable(&m, kind, lasts, when, Section::Wall(5.0)).stress;
            let (short, long) = (of(Duration::Minutes, When::Now), of(Duration::Years, When::AfterLife));
            assert!(of(Duration::Minutes, When::AfterLife) < short && long < 0.6 * short && long > 0.0, "{kind:?}");
            assert!(of(Duration::Repeated, When::AfterLife) < 0.3 * short, "{kind:?}");
        }
    }

    /// Worked by hand for PETG, solid, Tg 70 C, five years, air 2 to 38 C (mean 20): a tenth of the life at 38 C governs,
    /// (4383 h)^(ln 0.5 / ln 43830) = 0.581, (1 - 15/47)^1.6 = 0.541; bearing 36 x 0.581 x 0.541 / 1.5 = 7.54 MPa, across
    /// the layers 10 x 0.337 x 0.541 x 0.85 / 1.5 = 1.03 MPa.
    #[test]
    fn petg_for_five_years_by_hand() {
        let mut m = model(r#"{"infill": "100 %"}"#);
        (m.params.life, m.params.place.temperature) = (5.0, [2.0, 38.0]);
        let of = |kind| allowable(&m, kind, Duration::Years, When::AfterLife, Section::Wall(5.0));
        assert!((of(Kind::Bearing).stress - 7.54).abs() < 0.02, "{:?}", of(Kind::Bearing));
        assert!((of(Kind::AcrossLayers).stress - 1.03).abs() < 0.01, "{:?}", of(Kind::AcrossLayers));
        assert!(of(Kind::Bearing).sources().contains(&HOT_CLAUSE));
    }

    #[test]
    fn damp_nylon_keeps_less_than_a_fifth_for_five_years() {
        let mut m = model(r#"{"infill": "100 %", "filament": "PA-CF"}"#);
        (m.params.life, m.params.place.temperature) = (5.0, [10.0, 23.0]);
        let long = allowable(&m, Kind::InLayers, Duration::Years, When::AfterLife, Section::Wall(5.0));
        // 50 MPa x 0.40 x 0.45 x 0.85 / 1.5.
        assert!((long.stress - 50.0 * 0.18 * 0.85 / 1.5).abs() < 0.01, "{}", long.stress);
    }

    /// Batches of PETG torn on home printers (joshcarter/tensile_test, mean, V and what 5 of them allow); coupons that
    /// scatter allow less than none would.
    #[test]
    fn coupons_are_believed_as_far_as_they_agree() {
        let batch = |mean: f64, cov: f64| {
            // Five values of that mean and that variation.
            let s = mean * cov / 2.5_f64.sqrt() * 1.0;
            Coupons::Strengths([-2.0, -1.0, 0.0, 1.0, 2.0].map(|k| mean + k * s).to_vec())
        };
        for (mean, cov, allowed) in [(23.3, 0.12, 16.7), (21.2, 0.15, 13.9), (6.9, 0.28, 2.4), (25.1, 0.04, 19.3)] {
            let found = of_coupons(&batch(mean, cov), 100.0).unwrap().value;
            assert!((found - allowed).abs() < 0.25, "{mean} MPa, {cov}: {found}");
        }
        assert_eq!(of_coupons(&batch(25.1, 0.04), 17.6).unwrap().value, 17.6, "the row's cap");
        assert_eq!(of_coupons(&Coupons::Strengths(vec![]), 17.6), None);
        let torn = model(r#"{"coupons": ["6 MPa", "7 MPa", "8 MPa"]}"#);
        assert!(characteristic(&torn, Kind::AcrossLayers).value < 6.0, "worse than none");
        assert_eq!(characteristic(&torn, Kind::InLayers).value, 36.0);
        assert_eq!(characteristic(&model("{}"), Kind::AcrossLayers).value, 10.0);
        // 150 N on 10.18 mm2 is 14.74 MPa.
        let loads =
            characteristic(&model(r#"{"coupons": ["150 N", "150 N", "150 N", "150 N", "150 N"]}"#), Kind::AcrossLayers);
        assert!((loads.value - 14.74 * (1.0 - 2.33 * 0.10)).abs() < 0.01, "{}", loads.value);
    }
}

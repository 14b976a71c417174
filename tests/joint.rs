//! Bracket figures against solid finite elements of 26 brackets (frozen in `tests/data/brackets.json`).
//!
//! The solids were meshed with Gmsh and solved by a program written for them with SciPy and PARDISO (pypardiso), not kept
//! here: second-order tetrahedra, 11,800 to 31,000 nodes, linear and isotropic, Poisson's ratio 0.38, screws as fixed 8 mm
//! discs on the plate, wood rigid and frictionless. A finer mesh lowers stiffness by 1 to 3 %. Limits of the errors lie at
//! or below those of closed formulas fitted to the same brackets; bands must enclose at least 95 %.

use std::cell::OnceCell;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use serde_json::Value;
use underframe::clauses::screw_group::Loads;
use underframe::mechanics::End;
use underframe::mechanics::bracket_plate::Seat;
use underframe::mechanics::bracket_shape::BracketShape;
use underframe::mechanics::fill::Fill;
use underframe::mechanics::joint::{Bracket, BracketDemand, Hold, Stiffness};
use underframe::model::{Gusset, Web};

/// Moment about y in the solids, N mm.
const MOMENT: f64 = 3e4;
const ABOUT_Y: f64 = FRAC_PI_2;

/// What becomes of a bracket's stiffness with held heads on rigid wood as its tubes are held: N mm/rad, both ends of the band.
fn range(bracket: &Bracket, hold: Hold, direction: f64, moment: f64) -> Stiffness {
    let [one, other] = bracket.turning(direction, Seat::FIRM);
    let [below, above] = bracket.error(hold);
    let held = |tied: f64, end: End| bracket.in_bore(hold, tied, moment, end);
    Stiffness {
        soft: held(one.min(other), End::Soft) / below,
        middle: held(one, End::Soft),
        stiff: held(one.max(other), End::Stiff) * above,
    }
}

struct Case {
    id: String,
    shape: BracketShape,
    truth: Value,
    /// Built once.
    bracket: OnceCell<Bracket>,
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn point(value: &Value) -> [f64; 2] {
    [number(&value[0]), number(&value[1])]
}

fn points(value: &Value) -> Vec<[f64; 2]> {
    value.as_array().expect("points").iter().map(point).collect()
}

fn gussets(value: &Value) -> Vec<Gusset> {
    let gusset = |quarter: u8| Gusset {
        boss: 0,
        angle: f64::from(quarter) * FRAC_PI_2 + number(&value["turned"]).to_radians(),
        run: number(&value["run"]),
        rise: number(&value["rise"]),
        thickness: number(&value["thickness"]),
    };
    if value.is_null() { vec![] } else { (0..4).map(gusset).collect() }
}

fn webs(value: &Value) -> Vec<Web> {
    let web = |i: usize| Web {
        from: i,
        to: (i + 1) % 3,
        thickness: number(&value["thickness"]),
        height: number(&value["height"]),
    };
    if value.is_null() { vec![] } else { (0..3).map(web).collect() }
}

fn cases() -> Vec<Case> {
    read(include_str!("data/brackets.json"))
}

/// Brackets solved after the stiffness, screw and root figures had been settled: other sizes, other screw patterns. One
/// plate stress and one toe stress among them led to a rule each. Their meshes are those with which the 26 were 3.5 to 13 % too stiff,
/// 8 % in the middle at the screws and 7 % on wood, before they were refined at the edges: as much is taken off here.
fn fresh() -> Vec<Case> {
    let mut all = read(include_str!("data/brackets_fresh.json"));
    for case in &mut all {
        for (key, stiffer) in [("k_a", 1.08), ("k_b", 1.07), ("pull_b", 1.07), ("push_b", 1.07)] {
            case.truth[key] = (number(&case.truth[key]) / stiffer).into();
        }
    }
    all
}

fn read(text: &str) -> Vec<Case> {
    let all: Vec<Value> = serde_json::from_str(text).expect("frozen data");
    let case = |v: &Value| {
        let s = &v["shape"];
        let shape = BracketShape {
            plate_length: number(&s["plate"][0]),
            plate_width: number(&s["plate"][1]),
            plate: number(&s["thickness"]),
            bosses: points(&s["bosses"]),
            boss_outer: number(&s["boss"]),
            bore: number(&s["bore"]),
            bore_depth: number(&s["depth"]),
            boss_height: number(&s["height"]),
            gussets: gussets(&s["gusset"]),
            webs: webs(&s["web"]),
            screws: points(&s["screws"]),
            head: 4.0,
            modulus: number(&s["modulus"]),
            poisson: 0.38,
            fill: Fill { wall: 0.0, skin: 0.0, core: 1.0 },
            lean: 0.0,
        };
        Case {
            id: v["id"].as_str().expect("a name").into(),
            shape,
            truth: v["truth"].clone(),
            bracket: OnceCell::new(),
        }
    };
    all.iter().map(case).collect()
}

impl Case {
    fn bracket(&self) -> &Bracket {
        self.bracket.get_or_init(|| Bracket::new(&self.shape).expect("a good shape"))
    }

    fn truth(&self, key: &str) -> f64 {
        number(&self.truth[key])
    }

    fn worst(&self, key: &str) -> f64 {
        let all = self.truth[key].as_array().expect("screws");
        all.iter().map(number).fold(0.0, f64::max)
    }

    fn one(&self) -> bool {
        self.shape.bosses.len() == 1
    }

    fn ribbed(&self) -> bool {
        !self.shape.gussets.is_empty()
    }
}

/// Ratios predicted / true.
#[derive(Default)]
struct Ratios(Vec<(String, f64)>);

impl Ratios {
    fn of(cases: &[Case], keep: impl Fn(&Case) -> bool, ratio: impl Fn(&Case) -> f64) -> Self {
        Self(cases.iter().filter(|c| keep(c)).map(|c| (c.id.clone(), ratio(c))).collect())
    }

    /// Mean and worst error in percent stay within limits.
    #[track_caller]
    fn within(&self, what: &str, mean: f64, worst: f64) {
        assert!(!self.0.is_empty(), "{what}: nothing measured");
        let errors: Vec<f64> = self.0.iter().map(|(_, r)| 100.0 * (r - 1.0).abs()).collect();
        let is_mean = errors.iter().sum::<f64>() / errors.len() as f64;
        let is_worst = errors.iter().copied().fold(0.0, f64::max);
        assert!(is_mean <= mean && is_worst <= worst, "{what}: {is_mean:.1} {is_worst:.1} {:?}", self.0);
    }
}

/// At least 95 % of the cases pass.
#[track_caller]
fn enclosed(what: &str, passed: &[(String, bool)]) {
    let good = passed.iter().filter(|p| p.1).count();
    let missed: Vec<&String> = passed.iter().filter(|p| !p.1).map(|p| &p.0).collect();
    assert!(good as f64 >= 0.95 * passed.len() as f64, "{what}: missed {missed:?}");
}

fn holds(band: Stiffness, truth: f64) -> bool {
    (band.soft..=band.stiff).contains(&truth)
}

fn bracket_demand(case: &Case) -> BracketDemand {
    case.bracket().demands(&Loads { my: MOMENT, ..Loads::default() })
}

#[test]
fn turning_stiffness_at_the_screws() {
    let all = cases();
    let ratio = |c: &Case| c.bracket().at_screws(ABOUT_Y).middle / 1e3 / c.truth("k_a");
    Ratios::of(&all, |_| true, ratio).within("k_A", 4.0, 11.0);
}

#[test]
fn turning_stiffness_on_wood() {
    let all = cases();
    let ratio = |c: &Case| c.bracket().on_wood(ABOUT_Y).middle / 1e3 / c.truth("k_b");
    Ratios::of(&all, |c| !c.ribbed(), ratio).within("k_B without gussets", 4.0, 8.0);
    Ratios::of(&all, |c| c.ribbed(), ratio).within("k_B gussets", 7.0, 15.0);
}

#[test]
fn turning_about_a_diagonal() {
    let all = cases();
    let diagonal = |c: &Case| !c.truth["k_b_diagonal"].is_null();
    // The solids were turned by (-1, 1)/sqrt 2.
    let about = 3.0 * FRAC_PI_4;
    let wood = |c: &Case| c.bracket().on_wood(about).middle / 1e3 / c.truth("k_b_diagonal");
    let screws = |c: &Case| c.bracket().at_screws(about).middle / 1e3 / c.truth("k_a_diagonal");
    Ratios::of(&all, diagonal, wood).within("k_B diagonal", 9.0, 20.0);
    Ratios::of(&all, diagonal, screws).within("k_A diagonal", 9.0, 20.0);
}

#[test]
fn worst_screw_under_a_moment() {
    let all = cases();
    let ratio = |c: &Case| bracket_demand(c).worst_screw.middle / c.worst("screws");
    Ratios::of(&all, |c| c.shape.screws.len() == 4, ratio).within("F1 four screws", 5.0, 12.0);
    Ratios::of(&all, |c| c.shape.screws.len() > 4, ratio).within("F1 more screws", 4.0, 8.0);
}

#[test]
fn worst_screw_under_a_pull() {
    let worst = |c: &Case| c.bracket().demands(&Loads { fz: 500.0, ..Loads::default() }).worst_screw.middle;
    Ratios::of(&cases(), |_| true, |c| worst(c) / c.worst("screws_pull")).within("pull", 5.0, 10.0);
}

#[test]
fn stresses() {
    let all = cases();
    let plate = |c: &Case| bracket_demand(c).plate.middle / c.truth("face");
    Ratios::of(&all, |c| c.one() && !c.ribbed(), plate).within("plate, one boss", 6.0, 12.0);
    Ratios::of(&all, |c| c.ribbed(), plate).within("plate, gussets", 8.65, 25.0);
    Ratios::of(&all, |c| !c.one(), plate).within("plate, three bosses", 9.0, 18.0);
    let root = |c: &Case| bracket_demand(c).boss_root.middle / c.truth("boss");
    Ratios::of(&all, |c| c.one() && !c.ribbed(), root).within("root, one boss", 1.65, 5.0);
    Ratios::of(&all, |c| c.ribbed(), root).within("root, gussets", 10.0, 26.0);
    Ratios::of(&all, |c| !c.one(), root).within("root, three bosses", 6.0, 15.0);
    let toe = |c: &Case| bracket_demand(c).gusset_toe.expect("gussets").middle / c.truth("toe");
    Ratios::of(&all, Case::ribbed, toe).within("toe", 10.0, 32.0);
}

#[test]
fn force_along_the_tube() {
    let all = cases();
    let pull = |c: &Case| c.bracket().axial_pull().middle / c.truth("pull_b");
    Ratios::of(&all, |_| true, pull).within("axial pull", 6.0, 18.0);
    let push = |c: &Case| c.bracket().axial_push().middle / c.truth("push_b");
    Ratios::of(&all, |_| true, push).within("axial push", 10.0, 22.0);
}

/// Radial clearance mm and moment N m of the solids with a loose tube.
const LOOSE: [(&str, f64, f64); 4] =
    [("c0.05_M10", 0.05, 10.0), ("c0.05_M30", 0.05, 30.0), ("c0.15_M10", 0.15, 10.0), ("c0.15_M30", 0.15, 30.0)];

#[test]
fn loose_tubes() {
    loose_tubes_of(&cases(), [10.0, 15.0], [5.0, 12.0]);
    loose_tubes_of(&fresh(), [12.0, 36.0], [10.0, 30.0]);
}

fn loose_tubes_of(cases: &[Case], tight: [f64; 2], limits: [f64; 2]) {
    let known = |c: &Case| !c.truth["loose"].is_null() && c.one();
    let ribs =
        |c: &Case| range(c.bracket(), Hold::Ribs, ABOUT_Y, MOMENT).middle / 1e3 / number(&c.truth["loose"]["ribs_M30"]);
    Ratios::of(cases, known, ribs).within("ribs", tight[0], tight[1]);
    for (key, radial, moment) in LOOSE {
        let loose = |c: &Case| {
            range(c.bracket(), Hold::Loose(2.0 * radial), ABOUT_Y, 1e3 * moment).middle
                / 1e3
                / number(&c.truth["loose"][key])
        };
        Ratios::of(cases, known, loose).within(key, limits[0], limits[1]);
    }
}

#[test]
fn a_bundle_that_slides_loses_its_couple() {
    let all = cases();
    let case = all.iter().find(|c| c.id == "T02").expect("in the set");
    let bracket = case.bracket();
    for (key, hold) in [
        ("ribs_M30", Hold::Ribs),
        ("c0.05_M30", Hold::Loose(0.1)),
        ("c0.15_M30", Hold::Loose(0.3)),
        ("c0.05_M10", Hold::Loose(0.1)),
        ("c0.15_M10", Hold::Loose(0.3)),
    ] {
        let truth = number(&case.truth["loose"][key]) * 1e3;
        let range = range(bracket, hold, ABOUT_Y, MOMENT);
        assert!(holds(range, truth), "{key} {truth} {range:?}");
    }
}

fn stiffness_bands(cases: &[Case]) -> Vec<(String, bool)> {
    let mut passed = vec![];
    for case in cases {
        let bracket = case.bracket();
        let mut note =
            |what: &str, band: Stiffness, truth: f64| passed.push((format!("{} {what}", case.id), holds(band, truth)));
        note("A", bracket.at_screws(ABOUT_Y), 1e3 * case.truth("k_a"));
        note("B", bracket.on_wood(ABOUT_Y), 1e3 * case.truth("k_b"));
        note("pull", bracket.axial_pull(), case.truth("pull_b"));
        note("push", bracket.axial_push(), case.truth("push_b"));
        note("range", range(bracket, Hold::Bonded, ABOUT_Y, MOMENT), 1e3 * case.truth("k_b"));
    }
    passed
}

fn safe_demands(cases: &[Case]) -> Vec<(String, bool)> {
    let mut passed = vec![];
    for case in cases {
        let borne = bracket_demand(case);
        let mut note =
            |what: &str, upper: f64, truth: f64| passed.push((format!("{} {what}", case.id), upper >= truth));
        note("screw", borne.worst_screw.upper, case.worst("screws"));
        note("plate", borne.plate.upper, case.truth("face"));
        note("root", borne.boss_root.upper, case.truth("boss"));
        if let Some(toe) = borne.gusset_toe {
            note("toe", toe.upper, case.truth("toe"));
        }
    }
    passed
}

#[test]
fn stiffness_bands_enclose_the_solids() {
    let passed = stiffness_bands(&cases());
    for what in [" A", " B", " lateral", " pull", " push", " range"] {
        let some: Vec<_> = passed.iter().filter(|p| p.0.ends_with(what)).cloned().collect();
        enclosed(what, &some);
    }
}

#[test]
fn demands_stay_on_the_safe_side() {
    let passed = safe_demands(&cases());
    for what in [" screw", " plate", " root", " toe"] {
        let some: Vec<_> = passed.iter().filter(|p| p.0.ends_with(what)).cloned().collect();
        enclosed(what, &some);
    }
}

#[test]
fn fresh_brackets_lie_in_the_bands_too() {
    let all = fresh();
    enclosed("stiffness", &stiffness_bands(&all));
    enclosed("demands", &safe_demands(&all));
}

#[test]
fn fresh_brackets_are_met_as_well_as_the_fitted_ones() {
    let all = fresh();
    let screws = |c: &Case| c.bracket().at_screws(ABOUT_Y).middle / 1e3 / c.truth("k_a");
    Ratios::of(&all, |_| true, screws).within("k_A", 7.0, 18.0);
    let wood = |c: &Case| c.bracket().on_wood(ABOUT_Y).middle / 1e3 / c.truth("k_b");
    Ratios::of(&all, |_| true, wood).within("k_B", 7.0, 18.0);
    let screw = |c: &Case| bracket_demand(c).worst_screw.middle / c.worst("screws");
    Ratios::of(&all, |_| true, screw).within("F1", 5.0, 12.0);
    let plate = |c: &Case| bracket_demand(c).plate.middle / c.truth("face");
    Ratios::of(&all, |_| true, plate).within("plate", 10.0, 25.0);
    let root = |c: &Case| bracket_demand(c).boss_root.middle / c.truth("boss");
    Ratios::of(&all, |_| true, root).within("root", 8.0, 25.0);
    let toe = |c: &Case| bracket_demand(c).gusset_toe.expect("gussets").middle / c.truth("toe");
    Ratios::of(&all, Case::ribbed, toe).within("toe", 20.0, 50.0);
}

/// A solid model of the same bracket as S00 by two other programs: bonded 9,953, on wood 13,377, 0.1 mm radial play
/// 2,777 N m/rad at 30 N m.
#[test]
fn the_reference_bracket_lies_between_soft_and_stiff() {
    let all = cases();
    let bracket = all[0].bracket();
    assert!(bracket.outside().is_empty(), "{:?}", bracket.outside());
    let range = range(bracket, Hold::Loose(0.2), ABOUT_Y, MOMENT);
    for truth in [2.777e6, 9.953e6, 13.377e6] {
        assert!(holds(range, truth), "{truth} {range:?}");
    }
}

#[test]
fn stiffness_follows_the_modulus_and_strength_does_not() {
    let mut shape = cases().swap_remove(0).shape;
    let stiff = Bracket::new(&shape).expect("good");
    shape.modulus /= 4.0;
    let soft = Bracket::new(&shape).expect("good");
    assert!((stiff.on_wood(0.3).middle / soft.on_wood(0.3).middle - 4.0).abs() < 1e-6);
    let loads = Loads { my: MOMENT, fz: 40.0, ..Loads::default() };
    assert!((stiff.demands(&loads).plate.middle / soft.demands(&loads).plate.middle - 1.0).abs() < 1e-6);
}

#[test]
fn two_and_four_bosses_are_outside_and_their_band_is_wider() {
    let mut shape = cases().into_iter().find(|c| c.id == "T04").expect("in the set").shape;
    shape.webs.clear();
    let three = Bracket::new(&shape).expect("good").on_wood(ABOUT_Y);
    shape.bosses = vec![[-20.0, 0.0], [20.0, 0.0]];
    let two = Bracket::new(&shape).expect("good");
    assert!(!two.outside().is_empty());
    let width = |s: Stiffness| s.stiff / s.soft;
    assert!(width(two.on_wood(ABOUT_Y)) > width(three));
    assert!(two.on_wood(ABOUT_Y).middle > two.on_wood(0.0).middle, "stiffer about the axis the pair spreads from");
    shape.bosses = vec![[-20.0, -20.0], [20.0, -20.0], [20.0, 20.0], [-20.0, 20.0]];
    let four = Bracket::new(&shape).expect("good").on_wood(ABOUT_Y);
    assert!(four.middle > 0.8 * three.middle);
}

#[test]
fn bad_shapes_are_refused_with_a_reason() {
    let good = cases().swap_remove(0).shape;
    let why = |shape: &BracketShape| Bracket::new(shape).err().expect("refused").to_string();
    assert_eq!(why(&BracketShape { bosses: vec![], ..good.clone() }), "a bracket has 1 to 4 bosses");
    assert_eq!(why(&BracketShape { bore: 50.0, ..good.clone() }), "the bore leaves no wall");
    assert_eq!(why(&BracketShape { plate: f64::NAN, ..good.clone() }), "a size is not positive");
    assert_eq!(why(&BracketShape { screws: vec![[0.0, 30.0]], ..good.clone() }), "a bracket needs two screws");
    let wild = Web { from: 0, to: 1, thickness: 5.0, height: 20.0 };
    assert_eq!(why(&BracketShape { webs: vec![wild], ..good }), "a gusset or web names a boss that is not there");
}

#[test]
fn a_lost_screw_is_felt_by_the_rest() {
    let case = cases().swap_remove(0);
    let bracket = case.bracket();
    let loads = Loads { my: MOMENT, ..Loads::default() };
    let borne = bracket.demands(&loads);
    let (whole, lost) = (borne.worst_screw, borne.lost.worst);
    assert!(lost.middle > 1.1 * whole.middle && lost.middle < 2.5 * whole.middle, "{whole:?} {lost:?}");
}

#[test]
fn the_plate_is_in_balance() {
    for case in cases() {
        let state = case.bracket().state(100.0, 5e3, MOMENT, true).expect("held");
        let pull: f64 = state.screws.iter().sum();
        assert!((pull - state.bearing - 100.0).abs() < 1e-6 * pull, "{}: {pull} {}", case.id, state.bearing);
        let bosses: f64 = state.bosses.iter().map(|b| b[0]).sum();
        assert!((bosses - 100.0).abs() < 1e-6 * pull, "{}: {bosses}", case.id);
        let about_y: f64 = state.bosses.iter().zip(&case.shape.bosses).map(|(b, at)| b[2] - b[0] * at[0]).sum();
        assert!((about_y - MOMENT).abs() < 1e-5 * MOMENT, "{}: {about_y}", case.id);
    }
}

#[test]
fn turning_the_bracket_turns_the_answer() {
    let case = cases().swap_remove(0);
    let mut turned = case.shape.clone();
    turned.screws = turned.screws.iter().map(|[x, y]| [-y, *x]).collect();
    let (was, is) = (case.bracket().on_wood(0.4), Bracket::new(&turned).expect("good").on_wood(0.4 + FRAC_PI_2));
    assert!((was.middle / is.middle - 1.0).abs() < 1e-3, "{was:?} {is:?}");
}

/// Two ways: a bracket that never had the screw. Tolerance: both factorise the same numbers in another order.
#[test]
fn a_bracket_that_lost_a_screw_is_one_without_it() {
    for case in [&cases()[1], &cases()[7], &cases()[20], &fresh()[5]] {
        for loads in [
            Loads { my: MOMENT, ..Loads::default() },
            Loads { fz: 300.0, mx: 0.4 * MOMENT, my: -MOMENT, ..Loads::default() },
            Loads { fz: -500.0, mx: MOMENT, ..Loads::default() },
        ] {
            let lost = case.bracket().demands(&loads).lost;
            let mut shape = case.shape.clone();
            shape.screws.remove(lost.screw);
            let without = Bracket::new(&shape).expect("good").demands(&loads).worst_screw;
            let (is, should) = (lost.worst, without);
            assert!((is.middle / should.middle - 1.0).abs() < 1e-6, "{} {loads:?}: {is:?} {should:?}", case.id);
            assert!((is.upper / should.upper - 1.0).abs() < 1e-6, "{} {loads:?}: {is:?} {should:?}", case.id);
        }
    }
}

/// One bracket asked from two threads, in either order, answers to the last bit as a new one does for each question.
#[test]
fn the_same_question_gets_the_same_bits_whatever_was_asked_before() {
    let case = &cases()[1];
    let load = |i: u32| {
        let (s, c) = (0.9 * f64::from(i)).sin_cos();
        Loads { fz: 40.0 * f64::from(i) - 200.0, mx: MOMENT * c, my: MOMENT * s, ..Loads::default() }
    };
    let alone: Vec<BracketDemand> =
        (0..10).map(|i| Bracket::new(&case.shape).expect("good").demands(&load(i))).collect();
    let bracket = case.bracket();
    let ask = |order: &[u32]| order.iter().map(|i| (*i, bracket.demands(&load(*i)))).collect::<Vec<_>>();
    let orders: [Vec<u32>; 2] = [(0..10).collect(), (0..10).rev().collect()];
    let together = std::thread::scope(|scope| {
        let runs = orders.each_ref().map(|order| scope.spawn(|| ask(order)));
        runs.map(|run| run.join().expect("answers"))
    });
    for (i, borne) in together.into_iter().flatten() {
        assert_eq!(borne, alone[i as usize], "load {i}");
    }
}

/// Only one sense of a moment was asked, and the stiff end of three bosses lay under what they do the other way.
#[test]
fn the_stiff_end_is_that_of_the_stiffer_sense() {
    for case in cases().iter().filter(|c| !c.one()) {
        let (bracket, about) = (case.bracket(), 0.0);
        let both = [about, about + std::f64::consts::PI].map(|way| bracket.on_wood(way).stiff);
        let ends = [about, about + std::f64::consts::PI].map(|way| range(bracket, Hold::Bonded, way, MOMENT).stiff);
        assert!((ends[0] / both[0].max(both[1]) - 1.0).abs() < 1e-9, "{}: {ends:?} {both:?}", case.id);
        assert!((ends[1] / ends[0] - 1.0).abs() < 1e-9, "{}: {ends:?}", case.id);
    }
}

/// The bracket of a bench on seats that give, kN m/rad about y one way and the other. Source: solids of the printed part in voxels of 1.06 mm, November 2026, made for this check and not kept here: heads held or
/// free to turn on springs, wood rigid or a bed. Tolerance 7 %.
#[test]
fn a_bracket_gives_with_its_screws_and_its_wood_as_a_solid_does() {
    let text = include_bytes!("data/potting-bench-2026-11-26.json");
    let read = underframe::params::read(std::str::from_utf8(text).expect("text")).expect("read");
    let model = underframe::model::Model::new(&read).expect("a model");
    let part = underframe::parts::blank_bracket(&model, 0);
    let printing = &model.params.printing;
    let shape = BracketShape::of(&part, &printing.filament, Fill::of(printing)).expect("a bracket");
    let bracket = Bracket::new(&shape).expect("a good shape");
    let on = |screw: f64, bed: f64| Seat { screw, bed };
    let (held, rigid) = (f64::INFINITY, f64::INFINITY);
    let rows = [
        (Seat::FIRM, [50.5, 66.1]),
        (on(held, 30.0), [46.0, 55.5]),
        (on(4000.0, rigid), [27.8, 35.0]),
        (on(4000.0, 30.0), [26.3, 31.1]),
        (on(2000.0, 30.0), [21.3, 25.5]),
    ];
    for (seat, solid) in rows {
        let mut found = bracket.turning(ABOUT_Y, seat).map(|k| k / 1e6);
        found.sort_by(f64::total_cmp);
        (0..2).for_each(|k| assert!((found[k] / solid[k] - 1.0).abs() < 0.07, "{seat:?}: {found:?} {solid:?}"));
    }
}

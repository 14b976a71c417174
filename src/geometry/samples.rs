//! Parts for the tests of this folder: brackets drawn at random from a seed.

use nalgebra::Isometry3;

use super::*;

/// Numbers by chance, the same for the same seed.
pub struct Dice(fastrand::Rng);

impl Dice {
    pub fn of(seed: u64) -> Self {
        Self(fastrand::Rng::with_seed(seed))
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.0.f64()
    }

    pub fn below(&mut self, n: u64) -> u64 {
        self.0.u64(..n)
    }
}

/// A bracket, and the axis and radius of every bore in it.
pub struct Sample {
    pub solid: Solid,
    pub bores: Vec<(Axis, f64)>,
}

/// A bracket with everything the features offer.
pub fn bracket(seed: u64, chord: f64) -> Sample {
    let d = &mut Dice::of(seed);
    let (w, t) = (d.between(110.0, 140.0), d.between(6.0, 10.0));
    let bosses = 1 + d.below(4);
    let lean = d.between(0.0, 15.0).to_radians() * d.between(-0.3, 1.0).max(0.0);
    let outline = Outline::rounded_rectangle(w, w, 10.0, chord);
    let solid = Solid::of(vec![Feature::prism(&outline, 0.0, t, &Isometry3::identity())]);
    let mut s = Sample { solid, bores: Vec::new() };
    holes(&mut s.solid, d, w, t, chord);
    for k in 0..bosses {
        let place = if bosses == 1 { [0.0, 0.0] } else { at_corner(k, w / 4.6) };
        boss(&mut s, d, place, t, lean, bosses, chord);
    }
    let text = Label::new("A407 Q", 4.5).unwrap();
    let at = Isometry3::translation(-text.width() / 2.0, -w / 2.0 + 2.0, t);
    s.solid.cuts.extend(text.cuts(&at, LABEL_DEPTH).unwrap());
    s
}

fn at_corner(k: u64, r: f64) -> [f64; 2] {
    [if k == 0 || k == 3 { r } else { -r }, if k < 2 { r } else { -r }]
}

fn holes(s: &mut Solid, d: &mut Dice, w: f64, t: f64, chord: f64) {
    let o = w / 2.0 - 12.0;
    for (i, [x, y]) in
        [[-o, -o], [0.0, -o + 2.0], [o, -o], [-o, 0.0], [o, 0.0], [-o, o], [0.0, o], [o, o]].iter().enumerate()
    {
        let axis = Axis::upright(*x, *y);
        let r = d.between(2.0, 2.6);
        let profile = if i % 2 == 0 {
            vec![(-1.0, r), (t - 2.0, r), (t, r + 2.0), (t + 1.0, r + 3.0)]
        } else {
            vec![(-1.0, r), (t - 2.0, r), (t - 2.0, r + 2.0), (t + 1.0, r + 2.0)]
        };
        s.cuts.push(match i % 3 {
            1 => Feature::slotted(&axis, [1.0, 0.0, 0.0], 5.0, &profile, Round::Outside, chord),
            _ => Feature::revolved(&axis, &profile, Round::Outside, chord),
        });
    }
}

fn boss(sample: &mut Sample, d: &mut Dice, [x, y]: [f64; 2], t: f64, lean: f64, bosses: u64, chord: f64) {
    let way = d.between(0.0, 6.0);
    let axis = Axis::new([x, y, t], [lean.sin() * way.cos(), lean.sin() * way.sin(), lean.cos()]);
    let bore = if bosses == 1 { d.between(8.0, 12.6) } else { d.between(5.0, 8.2) };
    sample.bores.push((axis, bore));
    let s = &mut sample.solid;
    let radius = bore + d.between(4.0, 5.0);
    let top = d.between(40.0, 50.0);
    let flare = if d.below(2) == 0 { 0.0 } else { 1.5 };
    s.adds.push(Feature::boss(&Boss { axis, radius, root: t, embed: 1.0, top, flare }, chord));
    for k in 0..d.below(6) {
        let toward = way + 0.4 + k as f64 * 1.2;
        let toe = d.between(-2.0, 2.0).max(0.0);
        let (run, rise) = (d.between(8.0, 14.0), d.between(15.0, 25.0));
        s.adds.push(Feature::gusset(&Gusset {
            axis,
            toward,
            radius,
            inner: bore + 1.5,
            run,
            rise,
            toe,
            thickness: 4.0,
            embed: 0.8,
        }));
    }
    s.cuts.push(Feature::revolved(
        &axis,
        &[(3.0, bore), (top - 1.0, bore), (top, bore + 1.0), (top + 1.0, bore + 2.0)],
        Round::Outside,
        chord,
    ));
    match d.below(3) {
        0 => (0..3).for_each(|k| {
            s.ridges.push(Feature::rib(&axis, 1.0 + f64::from(k) * 2.1, bore, [0.25, 0.6, 0.8], [5.0, top - 4.0]));
        }),
        1 => (0..3).for_each(|k| {
            let from = 8.0 + 6.0 * f64::from(k);
            s.cuts.push(groove(&axis, bore, 0.4, [from, from + 2.0], chord));
        }),
        _ => cross_bolt(s, &axis, radius, top, chord),
    }
}

/// A ring-shaped groove in the wall of a bore, `deep` mm, flanks at 45 degrees; its cutter reaches half a millimetre inward.
fn groove(axis: &Axis, bore: f64, deep: f64, [from, to]: [f64; 2], chord: f64) -> Feature {
    let (wall, floor) = (bore - 0.5, bore + deep);
    let profile = [(from - 0.5, wall), (from + deep, floor), (to - deep, floor), (to + 0.5, wall)];
    Feature::revolved(axis, &profile, Round::Outside, chord)
}

fn cross_bolt(s: &mut Solid, axis: &Axis, radius: f64, top: f64, chord: f64) {
    let [across, other] = axis.across();
    let bolt = Axis { point: axis.at(top - 12.0), dir: nalgebra::Unit::new_normalize(other) };
    let up = [0.0, 0.0, 1.0];
    s.cuts.push(Feature::teardrop_bore(&bolt, up, 2.2, Some(2.5), [-radius - 2.0, radius + 2.0], chord));
    s.cuts.push(Feature::nut_trap(&bolt, across.into(), 7.0, 0.0, [radius - 1.5, radius + 2.0]));
}

//! The top under loads that shake, at any frequency they run through and with joints of any stiffness between the estimates.

use super::loading::add_load;
use super::table::Built;
use super::{Shaken, Solution, exceeds};
use crate::fem::{Case, FrameError, Mode, NodeId, Shaken as Response, Solver};
use crate::model::Model;

/// Natural frequencies that are told.
pub(super) const MODES: usize = 4;
/// Most that are looked for where something shakes. Above the highest of so many it stands for those that follow (judgement:
/// the same force moves a higher mode less).
const MOST_MODES: usize = 64;
/// Modes are looked for up to this many times the highest frequency that shakes (judgement: at half as fast again a mode
/// answers with less than twice what it does at rest, which is counted).
const BEYOND: f64 = 1.5;
/// Damping ratio of a wooden top on metal legs in plastic sockets (judgement: dry joints give two per cent).
const DAMPING: f64 = 0.02;

/// How one estimate of the frame swings.
pub(super) struct Swing {
    modes: Vec<Mode>,
    /// Answers to the loads that shake, by their index in the file.
    loads: Vec<(usize, Response)>,
    top: Vec<NodeId>,
}

impl Swing {
    /// Modes up to beyond what shakes.
    pub(super) fn new(model: &Model, built: &Built, solver: &Solver) -> Result<Self, FrameError> {
        let shaking = model.params.loads.iter().filter_map(|load| load.shaking.as_ref());
        let wanted = BEYOND * shaking.map(|shaking| shaking.frequency[1]).fold(0.0, f64::max);
        let mut count = MODES;
        let mut modes = solver.modes(count)?;
        while count < MOST_MODES && modes.len() == count && modes[count - 1].frequency < wanted {
            count *= 2;
            modes = solver.modes(count)?;
        }
        let mut loads = Vec::new();
        for (i, load) in model.params.loads.iter().enumerate().filter(|(_, load)| load.shaking.is_some()) {
            let mut case = Case::new();
            add_load(model, built, load, &mut case)?;
            loads.push((i, solver.shaken(&modes, &case)));
        }
        Ok(Self { modes, loads, top: built.plate_nodes.clone() })
    }

    pub(super) fn modes(&self) -> &[Mode] {
        &self.modes
    }
}

/// Works out every load that shakes, for each estimate, with each mode swinging at whichever frequency of its band is nearest.
pub(super) fn shake(model: &Model, swings: &[Swing], solutions: &mut [Solution]) {
    let bands = bands(swings);
    for (swing, solution) in swings.iter().zip(solutions) {
        solution.shaking = swing.loads.iter().map(|(i, response)| worst(model, *i, response, swing, &bands)).collect();
    }
}

/// Lowest and highest frequency of each mode with joints between the estimates: stiffening a frame lowers none of its
/// frequencies, counted from the lowest (Courant and Fischer's theorem).
fn bands(swings: &[Swing]) -> Vec<[f64; 2]> {
    let count = swings.iter().map(|swing| swing.modes.len()).max().unwrap_or(0);
    let of = |i: usize| {
        let each = || swings.iter().map(|swing| swing.modes.get(i).map_or(f64::INFINITY, |mode| mode.frequency));
        [each().fold(f64::INFINITY, f64::min), each().fold(0.0, f64::max)]
    };
    (0..count).map(of).collect()
}

fn worst(model: &Model, index: usize, response: &Response, swing: &Swing, bands: &[[f64; 2]]) -> Shaken {
    let load = &model.params.loads[index];
    let at = |hertz: f64| {
        let force = load.shaking.as_ref().map_or(load.force, |shaking| shaking.force(load.force, hertz));
        let known = if bands.len() < MOST_MODES { hertz } else { hertz.min(bands[bands.len() - 1][0]) };
        let tuned = |i: usize, own: f64| bands.get(i).map_or(own, |[soft, stiff]| known.clamp(*soft, *stiff));
        let answer = response.response(known, DAMPING, tuned);
        let size = |n: &NodeId| answer.amplitude(*n)[..3].iter().map(|a| a * a).sum::<f64>().sqrt();
        let amplitude = force / load.force * swing.top.iter().map(size).fold(0.0, f64::max);
        let resonates = bands.iter().find(|[soft, stiff]| (*soft..=*stiff).contains(&known)).copied();
        Shaken { load: index, hertz, force, amplitude, resonates }
    };
    let range = load.shaking.as_ref().map_or([0.0; 2], |shaking| shaking.frequency);
    let all = tried(range, bands).into_iter().map(at);
    all.reduce(|a, b| if exceeds(b.amplitude, a.amplitude) { b } else { a }).unwrap_or_else(|| at(range[1]))
}

/// Frequencies of a range at which an amplitude is largest: its ends, and the ends of the modes' bands inside it.
fn tried([least, most]: [f64; 2], bands: &[[f64; 2]]) -> Vec<f64> {
    let inside = bands.iter().flatten().copied().filter(|f| (least..=most).contains(f));
    [least, most].into_iter().chain(inside).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model(load: &str) -> Model {
        let text = format!(
            r#"{{"top": {{"length": "1200 mm", "width": "600 mm", "thickness": "30 mm"}}, "height": "740 mm",
                "legs": {{"tube": "25 x 2 mm", "tubes": 1}}, "bracket": {{"hold": "bonded"}},
                "loads": [{{"mass": "20 kg"}}, {{"name": "it shakes", "direction": "+x", "at": ["50 %", "50 %"], {load}}}]}}"#
        );
        Model::new(&crate::params::read(&text).expect("read")).expect("a model")
    }

    fn shaken(load: &str) -> Vec<(Vec<f64>, Shaken)> {
        let forces =
            crate::mechanics::solve(&model(load), crate::mechanics::Detail::Full, &crate::mechanics::Cache::default())
                .expect("solved");
        forces.solutions.iter().map(|s| (s.modes.iter().map(|m| m.hertz).collect(), s.shaking[0])).collect()
    }

    /// The frequency lies halfway between the lowest mode's with soft and with stiff joints; far from both, each alone gives
    /// little. At resonance the mode alone gives 1 / (2 damping) times what it gives at rest.
    #[test]
    fn a_resonance_between_soft_and_stiff_is_found() {
        let ends = shaken(r#""force": "10 N", "shaking": "0.1 Hz""#);
        let [soft, stiff] = [&ends[0], &ends[1]].map(|(modes, _)| modes[0]);
        let at_rest = ends.iter().map(|(_, s)| s.amplitude).fold(0.0, f64::max);
        let between = f64::midpoint(soft, stiff);
        assert!(between > 1.05 * soft && between < 0.95 * stiff, "{soft} {stiff}");
        let found = shaken(&format!(r#""force": "10 N", "shaking": "{between:.3} Hz""#));
        let worst = found.iter().map(|(_, s)| s.amplitude).fold(0.0, f64::max);
        assert!(worst > 5.0 * at_rest, "{worst} {at_rest}");
        assert!(found.iter().all(|(_, s)| s.resonates == Some([soft, stiff])), "{found:?}");
    }

    /// A range is worst at its lowest resonance for a force of one size; above and below all modes it is quiet.
    #[test]
    fn a_range_of_frequencies_is_as_bad_as_its_worst() {
        let amplitude = |shaking: &str| {
            let all = shaken(&format!(r#""force": "10 N", "shaking": "{shaking}""#));
            all.iter().map(|(_, s)| s.amplitude).fold(0.0, f64::max)
        };
        let range = amplitude("1 Hz to 30 Hz");
        for single in ["1 Hz", "3 Hz", "6 Hz", "12 Hz", "20 Hz", "30 Hz"] {
            assert!(amplitude(single) <= range * (1.0 + 1e-9), "{single}");
        }
        assert!(range > 3.0 * amplitude("0.2 Hz to 0.4 Hz"));
    }

    /// Sixty-four modes of this table end below 500 Hz.
    #[test]
    fn shaking_faster_than_every_mode_known_is_no_less_than_at_the_last_of_them() {
        let fast = shaken(r#""force": "10 N", "shaking": "500 Hz""#);
        assert!(fast.iter().all(|(_, s)| s.hertz == 500.0 && s.resonates.is_some()), "{fast:?}");
    }

    /// By hand: 0.5 kg over 60 mm at 3 Hz: 0.5 (6 pi)^2 0.03 = 5.3296 N.
    #[test]
    fn a_moving_mass_shakes_as_its_force_does() {
        let moving = shaken(r#""moving": "0.5 kg", "stroke": "60 mm", "shaking": "3 Hz""#);
        let force = shaken(r#""force": "5.3296 N", "shaking": "3 Hz""#);
        for ((_, a), (_, b)) in moving.iter().zip(&force) {
            assert!((a.force - 5.3296).abs() < 1e-4 && (a.amplitude / b.amplitude - 1.0).abs() < 1e-4, "{a:?} {b:?}");
        }
    }
}

//! Where the screws of a bracket go: spread evenly, after the wood's distances, with room for a straight driver.

use std::f64::consts::TAU;

/// A capsule that no screw may touch: a segment and a radius, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keepout {
    /// One end.
    pub from: [f64; 2],
    /// The other end.
    pub to: [f64; 2],
    /// Distance to keep from the segment.
    pub radius: f64,
}

impl Keepout {
    /// Whether a point keeps its distance.
    #[must_use]
    pub fn clears(&self, p: [f64; 2]) -> bool {
        distance_to_segment(p, self.from, self.to) >= self.radius
    }
}

/// Distances between screws, mm: NDS 2018 commentary Table C12.1.5.7, bored holes, wood side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Between screws in a row along the grain.
    pub along: f64,
    /// Between rows, across the grain.
    pub across: f64,
    /// Between staggered rows, across the grain.
    pub staggered: f64,
}

/// Multiples of the screw's diameter for bored holes: along the grain 10, across 5, staggered rows 2.5.
/// Source: NDS 2018, commentary C12.1.5.7.
impl Spacing {
    /// For a screw of this diameter, mm.
    #[must_use]
    pub fn of(diameter: f64) -> Self {
        Self { along: 10.0 * diameter, across: 5.0 * diameter, staggered: 2.5 * diameter }
    }

    /// Whether two screws keep their distances; `v` is the offset, along the grain first.
    #[must_use]
    pub fn holds(&self, v: [f64; 2]) -> bool {
        let (along, across) = (v[0].abs() + 1e-6, v[1].abs() + 1e-6);
        along >= self.along || across >= self.across || (along >= self.along / 2.0 && across >= self.staggered)
    }
}

/// What a pattern has to keep to.
#[derive(Clone, Debug)]
pub struct Request<'a> {
    /// How many screws.
    pub count: usize,
    /// Bosses, webs, other holes.
    pub keepouts: &'a [Keepout],
    /// Distances in the wood.
    pub spacing: Spacing,
    /// The grain runs along local x (else y).
    pub grain_along_x: bool,
    /// Half sizes of the plate that bosses and webs need anyway, mm.
    pub least_half: [f64; 2],
    /// Half sizes that the plate may not exceed, mm.
    pub most_half: [f64; 2],
    /// From a screw's axis to the plate's edge, mm.
    pub edge: f64,
}

/// Screw positions and the half sizes of the plate they need.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// Positions, mm, counter-clockwise.
    pub screws: Vec<[f64; 2]>,
    /// Half sizes of the plate, mm.
    pub half: [f64; 2],
}

/// Steps in which a corner's radius shrinks, mm.
const CORNER_STEP: f64 = 0.5;

/// Largest radius, up to `most`, of the corners of a plate of these half sizes that hold all of these circles, mm.
#[must_use]
pub fn largest_corner(half: [f64; 2], most: f64, circles: &[([f64; 2], f64)]) -> f64 {
    let fits = |r: f64| {
        circles.iter().all(|(at, radius)| {
            let d = [0, 1].map(|k| half[k] - at[k].abs() - r);
            let inside_corner = d[0] < 0.0 && d[1] < 0.0;
            !inside_corner || r - d[0].hypot(d[1]) >= *radius
        })
    };
    let steps = (most / CORNER_STEP) as u32;
    let smaller = (1..=steps).rev().map(|i| f64::from(i) * CORNER_STEP);
    std::iter::once(most).chain(smaller).find(|r| fits(*r)).unwrap_or(CORNER_STEP.min(most))
}

/// Steps in which the common radius grows, mm.
const RADIUS_STEP: f64 = 1.0;
/// Phases tried within one pitch of the ring: mirror symmetry first, the others only when neither fits.
const PHASES: [&[f64]; 2] = [&[0.5, 0.0], &[0.25, 0.75, 1.0 / 3.0, 2.0 / 3.0]];

/// The ring of screws that needs the smallest plate; `None` when none fits into `most_half`.
#[must_use]
pub fn ring(request: &Request) -> Option<Pattern> {
    PHASES.iter().find_map(|phases| smallest(request, phases))
}

fn smallest(request: &Request, phases: &[f64]) -> Option<Pattern> {
    let area = |p: &Pattern| p.half[0] * p.half[1];
    let found = phases.iter().filter_map(|phase| ring_at(request, *phase));
    found.reduce(|best, next| if area(&next) < area(&best) * 0.98 { next } else { best })
}

fn ring_at(request: &Request, phase: f64) -> Option<Pattern> {
    let limit = request.most_half[0].hypot(request.most_half[1]);
    let least: Vec<f64> =
        (0..request.count).map(|i| least_radius(request, angle(request, phase, i), limit)).collect::<Option<_>>()?;
    let mut radius = 5.0;
    while radius < limit {
        let screws: Vec<[f64; 2]> =
            (0..request.count).map(|i| at(angle(request, phase, i), least[i].max(radius))).collect();
        if let Some(pattern) = accept(request, screws) {
            return Some(pattern);
        }
        radius += RADIUS_STEP;
    }
    None
}

fn angle(request: &Request, phase: f64, i: usize) -> f64 {
    TAU * (i as f64 + phase) / request.count as f64
}

/// Position rounded to a tenth of a millimetre, so that a mark-up with a rule can follow it.
fn at(angle: f64, radius: f64) -> [f64; 2] {
    [radius * angle.cos(), radius * angle.sin()].map(|v| (v * 10.0).round() / 10.0 + 0.0)
}

fn least_radius(request: &Request, angle: f64, limit: f64) -> Option<f64> {
    let mut radius = 5.0;
    while radius < limit {
        // Beyond this radius the ray never comes back into a capsule only if the whole capsule lies nearer: test on.
        if clear(request, at(angle, radius)) {
            return Some(radius);
        }
        radius += RADIUS_STEP;
    }
    None
}

fn clear(request: &Request, p: [f64; 2]) -> bool {
    request.keepouts.iter().all(|k| k.clears(p))
}

fn accept(request: &Request, screws: Vec<[f64; 2]>) -> Option<Pattern> {
    let half = [0, 1].map(|k| {
        let reach = screws.iter().map(|s| s[k].abs()).fold(0.0, f64::max) + request.edge;
        reach.max(request.least_half[k]).ceil()
    });
    let fits = half[0] <= request.most_half[0] && half[1] <= request.most_half[1];
    let apart = screws.iter().enumerate().all(|(i, a)| {
        screws[..i].iter().all(|b| {
            let d = [a[0] - b[0], a[1] - b[1]];
            request.spacing.holds(if request.grain_along_x { d } else { [d[1], d[0]] })
        })
    });
    (fits && apart && screws.iter().all(|s| clear(request, *s))).then_some(Pattern { screws, half })
}

/// Distance of a point from a segment, mm.
#[must_use]
pub fn distance_to_segment(p: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (d, w) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
    let length2 = d[0] * d[0] + d[1] * d[1];
    let t = if length2 > 0.0 { ((w[0] * d[0] + w[1] * d[1]) / length2).clamp(0.0, 1.0) } else { 0.0 };
    (w[0] - t * d[0]).hypot(w[1] - t * d[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn request(keepouts: &[Keepout], count: usize) -> Request<'_> {
        Request {
            count,
            keepouts,
            spacing: Spacing::of(4.5),
            grain_along_x: true,
            least_half: [30.0, 30.0],
            most_half: [110.0, 110.0],
            edge: 8.0,
        }
    }

    #[test]
    fn every_count_finds_a_ring_round_one_boss() {
        let boss = [Keepout { from: [0.0; 2], to: [0.0; 2], radius: 25.0 }];
        for count in 4..=12 {
            let pattern = ring(&request(&boss, count)).expect("a ring");
            assert_eq!(pattern.screws.len(), count);
            assert!(pattern.screws.iter().all(|s| s[0].hypot(s[1]) > 24.9), "{count}: {pattern:?}");
        }
    }

    #[test]
    fn rows_along_the_grain_keep_ten_diameters() {
        let spacing = Spacing::of(4.0);
        assert!(spacing.holds([40.0, 0.0]) && !spacing.holds([39.0, 0.0]));
        assert!(spacing.holds([0.0, 20.0]) && !spacing.holds([0.0, 19.0]));
        assert!(spacing.holds([20.0, 10.0]) && !spacing.holds([19.0, 10.0]));
    }

    #[test]
    fn no_room_is_told() {
        let wall = [Keepout { from: [0.0; 2], to: [0.0; 2], radius: 300.0 }];
        assert_eq!(ring(&request(&wall, 8)), None);
    }
}

//! What time, heat and print settings leave of strength and stiffness.

use crate::source::{Clause, Source};

/// Plastic that is warm for months and years.
pub const PLASTIC_WARM_LONG: Clause = Source::read("GF Harvel, temperature derating of PVC pipe", "").at(
    "0.75, 0.62, 0.51, 0.40, 0.22 at 32, 38, 43, 49, 60 C, fitted within 0.02 by (1 - theta)^1.6, theta = (T - 23) / \
        (Tg - 23); below CPVC's; grade A for bulk pipe, used for prints",
);
/// Plastic that is warm for minutes to days.
pub const PLASTIC_WARM_SHORT: Clause =
    Source::from_memory("CEN/TS 19101", "2022").at("matrix-governed strength: 1 - 0.8 theta, grade C");
/// Plastic that does not soften at its glass transition.
pub const PLASTIC_WARM_LINE: Clause = Source::JUDGEMENT
    .at("partly crystalline plastics and elastomers: linear from full strength at 23 C to half at the service limit");
/// A load that comes again and again.
pub const PLASTIC_FATIGUE: Clause =
    Source::read("Ezeh and Susmel, fatigue of additively made PLA (at second hand)", "").at(
        "10 % of the strength at 2,000,000 times, exponent 5.5: 0.10 x (2e6 / 1e4)^(1 / 5.5) = 0.26 at 10,000 times, \
        grade B",
    );

/// What takes strength from plastic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Time under load.
    Time,
    /// Temperature while the load is there.
    Temperature,
    /// The mean temperature all the time.
    MeanTemperature,
    /// The hottest temperature for a tenth of the time.
    HottestTemperature,
    /// A load that comes 10,000 times.
    Repeated,
    /// Infill in place of solid plastic.
    Infill,
    /// Water taken up from the air.
    Water,
    /// Age.
    Age,
}

/// One factor with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// What it is for.
    pub effect: Effect,
    /// The factor.
    pub value: f64,
    /// Where it comes from.
    pub clause: Clause,
}

impl Factor {
    const fn new(effect: Effect, value: f64, clause: Clause) -> Self {
        Self { effect, value, clause }
    }
}

/// Product of factors.
#[must_use]
pub fn product(factors: &[Factor]) -> f64 {
    factors.iter().map(|f| f.value).product()
}

/// Time up to which plastic keeps its whole strength, hours.
const SHORT_HOURS: f64 = 1.0;
/// Time at which the long-term shares of the filament tables hold, hours: five years.
const LONG_HOURS: f64 = 5.0 * 8766.0;

/// Strength of plastic under a load that stays `hours`: straight over log-log from 1 at an hour to `left` at five years,
/// and on. `clause` is where `left` comes from.
#[must_use]
pub fn plastic_time(hours: f64, left: f64, clause: Clause) -> Factor {
    let part = (hours.max(SHORT_HOURS) / SHORT_HOURS).ln() / (LONG_HOURS / SHORT_HOURS).ln();
    Factor::new(Effect::Time, left.powf(part), clause)
}

/// How far from room temperature to the glass transition `tg`, C: 0 to 1.
fn theta(celsius: f64, tg: f64) -> f64 {
    ((celsius - ROOM) / (tg - ROOM).max(1.0)).clamp(0.0, 1.0)
}

/// Strength of amorphous plastic that is this warm, C, for months and years. [`PLASTIC_WARM_LONG`].
#[must_use]
pub fn plastic_warm_long(celsius: f64, tg: f64) -> Factor {
    Factor::new(Effect::Temperature, (1.0 - theta(celsius, tg)).powf(1.6), PLASTIC_WARM_LONG)
}

/// Strength of amorphous plastic that is this warm, C, for minutes to days. [`PLASTIC_WARM_SHORT`].
#[must_use]
pub fn plastic_warm_short(celsius: f64, tg: f64) -> Factor {
    Factor::new(Effect::Temperature, 1.0 - 0.8 * theta(celsius, tg), PLASTIC_WARM_SHORT)
}

/// Strength of other plastic at a temperature, C; `limit` is its highest service temperature, C.
/// [`PLASTIC_WARM_LINE`].
#[must_use]
pub fn plastic_warm_line(celsius: f64, limit: f64) -> Factor {
    Factor::new(Effect::Temperature, 1.0 - 0.5 * theta(celsius, limit), PLASTIC_WARM_LINE)
}

/// Strength of plastic under a load that comes 10,000 times. [`PLASTIC_FATIGUE`].
#[must_use]
pub fn plastic_repeated() -> Factor {
    Factor::new(Effect::Repeated, 0.26, PLASTIC_FATIGUE)
}

/// Temperature of short-term tests, C.
const ROOM: f64 = 23.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_runs_straight_over_both_logarithms() {
        let at = |hours: f64| plastic_time(hours, 0.5, PLASTIC_WARM_LINE).value;
        assert_eq!([at(0.0), at(1.0)], [1.0, 1.0]);
        assert!((at(LONG_HOURS) - 0.5).abs() < 1e-12 && (at(LONG_HOURS.sqrt()) - 0.5_f64.sqrt()).abs() < 1e-12);
        // A tenth of five years leaves 0.58, twenty years less than five.
        assert!((at(LONG_HOURS / 10.0) - 0.58).abs() < 0.002 && at(4.0 * LONG_HOURS) < 0.5);
    }

    /// GF Harvel, temperature derating of PVC-U pipe (Tg 82 C): C and share of the strength at 22.8 C, as printed; within
    /// 0.02, both in hundredths as the table is. The CPVC table (Tg 112 C) lies above the formula everywhere: it errs to the safe side there.
    #[test]
    fn warm_pipes_lose_what_their_makers_say() {
        let pvc = [(22.8, 1.0), (26.7, 0.88), (32.2, 0.75), (37.8, 0.62), (43.3, 0.51), (48.9, 0.40), (54.4, 0.31)];
        for (celsius, read) in pvc.into_iter().chain([(60.0, 0.22)]) {
            let found = plastic_warm_long(celsius, 82.0).value;
            let apart = ((found * 100.0).round() - (read * 100.0_f64).round()).abs();
            assert!(apart <= 2.0, "{celsius} C: {found} for {read}");
        }
        for (celsius, read) in [(37.8, 0.82), (48.9, 0.65), (60.0, 0.50), (71.1, 0.40), (82.2, 0.25), (93.3, 0.20)] {
            let found = plastic_warm_long(celsius, 112.0).value;
            assert!(found <= read && found > read - 0.13, "{celsius} C: {found} for {read}");
        }
    }

    #[test]
    fn heat_only_takes_and_long_takes_more() {
        assert_eq!([10.0, 23.0, 46.5].map(|c| plastic_warm_short(c, 70.0).value), [1.0, 1.0, 0.6]);
        assert!(plastic_warm_long(40.0, 70.0).value < plastic_warm_short(40.0, 70.0).value);
        assert_eq!([10.0, 23.0, 55.0, 99.0].map(|c| plastic_warm_line(c, 55.0).value), [1.0, 1.0, 0.5, 0.5]);
    }

    #[test]
    fn ten_thousand_times_follow_the_fatigue_line() {
        assert!((plastic_repeated().value - 0.10 * (2e6_f64 / 1e4).powf(1.0 / 5.5)).abs() < 0.003);
    }

    #[test]
    fn factors_multiply_and_say_where_they_come_from() {
        let factors = [plastic_warm_line(55.0, 55.0), plastic_warm_short(46.5, 70.0)];
        assert!((product(&factors) - 0.3).abs() < 1e-12);
        assert!(factors[1].clause.to_string().contains("from memory"), "{}", factors[1].clause);
    }
}

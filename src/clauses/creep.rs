//! What time, heat and print settings leave of strength and stiffness.

use crate::source::{Clause, Source};

const EN_1995: Source = Source::EN_1995;

/// Final deflection of wood.
pub const K_DEF: Clause = EN_1995.at("3.1.4, Table 3.2, with 2.3.2.2");
/// Sustained strength of plastic.
pub const PLASTIC_TIME: Clause = Source::JUDGEMENT
    .at("log-linear between the short-term strength and the filament's long-term share at five years; practice keeps sustained stress at a fifth to a quarter of yield");
/// Plastic near its heat limit.
pub const PLASTIC_HEAT: Clause = Source::JUDGEMENT
    .at("linear from full strength at 23 C to half at the service limit (heat deflection or glass transition less 15 K); nothing above");
/// Hollow sections.
pub const PLASTIC_SOLID: Clause =
    Source::JUDGEMENT.at("strength follows the solid share of the section; infill counts for nothing");
/// Sustained modulus of plastic.
pub const PLASTIC_MODULUS: Clause = Source::JUDGEMENT
    .at("creep modulus log-linear in time, a third to a fifth of the short-term modulus after five years");
/// Steel and aluminium at room temperature.
pub const METAL: Clause =
    Source::JUDGEMENT.at("steel and aluminium do not creep at room temperature and working stress");

/// One factor with its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// What it is for.
    pub name: &'static str,
    /// The factor.
    pub value: f64,
    /// Where it comes from.
    pub clause: Clause,
}

impl Factor {
    const fn new(name: &'static str, value: f64, clause: Clause) -> Self {
        Self { name, value, clause }
    }
}

/// Product of factors.
#[must_use]
pub fn product(factors: &[Factor]) -> f64 {
    factors.iter().map(|f| f.value).product()
}

/// Time of a short-term test, hours: a few minutes.
const TEST_HOURS: f64 = 0.1;
/// Time at which the long-term shares of the filament tables hold, hours: five years.
const LONG_HOURS: f64 = 5.0 * 8766.0;

/// Share left after `hours`, straight in the logarithm of time from 1 at the test to `long` at five years, and on.
fn log_time(hours: f64, long: f64) -> f64 {
    let part = (hours.max(TEST_HOURS) / TEST_HOURS).ln() / (LONG_HOURS / TEST_HOURS).ln();
    (1.0 - (1.0 - long) * part).max(long / 2.0)
}

/// Strength of plastic under a load that stays `hours`; `long_share` is the filament's share after years, such as
/// 0.25. [`PLASTIC_TIME`].
#[must_use]
pub fn plastic_time(hours: f64, long_share: f64) -> Factor {
    Factor::new("time under load", log_time(hours, long_share), PLASTIC_TIME)
}

/// Strength of plastic at a temperature, C; `limit` is the filament's highest service temperature, C.
/// [`PLASTIC_HEAT`].
#[must_use]
pub fn plastic_heat(celsius: f64, limit: f64) -> Factor {
    let part = (celsius - ROOM) / (limit - ROOM).max(1.0);
    let value = if celsius > limit { 0.0 } else { 1.0 - 0.5 * part.clamp(0.0, 1.0) };
    Factor::new("temperature", value, PLASTIC_HEAT)
}

/// Temperature of short-term tests, C.
const ROOM: f64 = 23.0;

/// Solid share of a wall `thickness` mm thick printed with `walls` lines `line` mm wide from each face; `infill` lies
/// between and does not count. [`PLASTIC_SOLID`].
#[must_use]
pub fn plastic_solid(thickness: f64, walls: u32, line: f64) -> Factor {
    let solid = 2.0 * f64::from(walls) * line;
    Factor::new("solid share of the section", (solid / thickness).min(1.0), PLASTIC_SOLID)
}

/// Modulus of plastic under a load that stays `hours`; `long_share` is the share after years, such as 1/4.
/// [`PLASTIC_MODULUS`].
#[must_use]
pub fn plastic_modulus(hours: f64, long_share: f64) -> Factor {
    Factor::new("creep modulus", log_time(hours, long_share), PLASTIC_MODULUS)
}

/// Climate of the wood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ServiceClass {
    /// Heated room.
    One,
    /// Under a roof, unheated.
    Two,
    /// Outdoors, wet.
    Three,
}

/// Final over first deflection of solid or glued wood under a load that stays: 1 + k_def. [`K_DEF`].
#[must_use]
pub fn wood_creep(class: ServiceClass) -> Factor {
    let k_def = match class {
        ServiceClass::One => 0.6,
        ServiceClass::Two => 0.8,
        ServiceClass::Three => 2.0,
    };
    Factor::new("1 + k_def", 1.0 + k_def, K_DEF)
}

/// Metal tube: no creep. [`METAL`].
#[must_use]
pub const fn metal_creep() -> Factor {
    Factor::new("metal", 1.0, METAL)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_takes_strength_and_keeps_a_floor() {
        assert_eq!(plastic_time(0.01, 0.25).value, 1.0);
        assert!((plastic_time(LONG_HOURS, 0.25).value - 0.25).abs() < 1e-12);
        assert!(plastic_time(10.0, 0.25).value < plastic_time(1.0, 0.25).value);
        assert!(plastic_time(1e12, 0.25).value >= 0.125);
    }

    #[test]
    fn heat_halves_strength_at_the_limit_and_then_takes_all() {
        assert_eq!([10.0, 23.0, 55.0, 56.0].map(|c| plastic_heat(c, 55.0).value), [1.0, 1.0, 0.5, 0.0]);
    }

    #[test]
    fn five_walls_fill_a_four_millimetre_wall() {
        assert_eq!(plastic_solid(4.0, 5, 0.45).value, 1.0);
        assert!((plastic_solid(9.0, 5, 0.45).value - 0.5).abs() < 1e-12);
    }

    #[test]
    fn factors_multiply_and_say_where_they_come_from() {
        let factors = [plastic_heat(55.0, 55.0), wood_creep(ServiceClass::One), metal_creep()];
        assert!((product(&factors) - 0.8).abs() < 1e-12);
        assert!(factors[1].clause.to_string().ends_with("from memory"));
    }
}

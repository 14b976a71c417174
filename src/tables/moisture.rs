//! Moisture in wood: equilibrium moisture content of the air, and movement across the grain.

use super::text::{Page, num};
use crate::source::{Clause, Source};

const HANDBOOK: Source = Source::WOOD_HANDBOOK;
/// Where the equilibrium moisture content comes from.
pub const EMC_SOURCE: Clause = HANDBOOK.at("eq. 4-5 (Hailwood and Horrobin, one hydrate)");
/// Where the movement formula comes from.
pub const MOVEMENT_SOURCE: Clause = HANDBOOK.at("eq. 13-2, valid from 6 to 14 % moisture content");

/// Equilibrium moisture content of wood, percent of its oven-dry mass, in air of `celsius` and `humidity` percent.
/// Humidity outside 0 to 100 counts as the nearer bound. The formula's fit is within 0.13 % moisture on average,
/// 0.9 % at worst.
///
/// The constants are those for degrees Fahrenheit, in which the formula was fitted.
#[must_use]
pub fn emc(celsius: f64, humidity: f64) -> f64 {
    let t = celsius * 1.8 + 32.0;
    let w = 330.0 + 0.452 * t + 0.00415 * t * t;
    let k = 0.791 + 0.000_463 * t - 0.000_000_844 * t * t;
    let k1 = 6.34 + 0.000_775 * t - 0.000_093_5 * t * t;
    let k2 = 1.09 + 0.0284 * t - 0.000_090_4 * t * t;
    let x = k * humidity.clamp(0.0, 100.0) / 100.0;
    let bound = k1 * x + k1 * k2 * x * x;
    1800.0 / w * (x / (1.0 - x) + (bound + k1 * k2 * x * x) / (1.0 + bound))
}

/// Change of a width of `width` mm when the moisture content goes from `from` to `to` percent, mm, positive for
/// swelling. `coefficient` is the change per 1 % moisture of the width's direction to the rings: see
/// [`super::wood::Wood`].
#[must_use]
pub fn movement(width: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    width * coefficient * (to - from)
}

/// The table for reading: equilibrium moisture content by temperature and humidity.
pub(super) fn text() -> String {
    const HUMIDITY: [f64; 9] = [20.0, 30.0, 40.0, 50.0, 60.0, 65.0, 70.0, 80.0, 90.0];
    let heads: Vec<String> = HUMIDITY.iter().map(|h| format!("{h}\n% RH")).collect();
    let heads: Vec<&str> = std::iter::once("air").chain(heads.iter().map(String::as_str)).collect();
    let mut page = Page::new("Moisture content of wood at rest, percent of its oven-dry mass", &heads);
    for celsius in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0] {
        let cells = HUMIDITY.iter().map(|&humidity| num(emc(celsius, humidity), 1));
        page.row(std::iter::once(format!("{celsius} C")).chain(cells).collect());
    }
    page.note("Movement = width x coefficient x change of moisture content; coefficients stand in the table of woods.");
    page.cite(&[EMC_SOURCE, MOVEMENT_SOURCE]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::super::{inch, wood};
    use super::*;

    fn fahrenheit(t: f64, humidity: f64) -> f64 {
        emc((t - 32.0) / 1.8, humidity)
    }

    #[test]
    fn emc_gives_the_handbook_rows() {
        // Wood Handbook Table 4-2 row at 70 F as printed (from memory); the other rows evaluated from eq. 4-5 by a
        // separate script. Half of the last printed digit.
        let humidity = [20.0, 30.0, 40.0, 50.0, 60.0, 65.0, 70.0, 80.0, 90.0];
        let rows = [
            (30.0, [4.6, 6.3, 7.9, 9.5, 11.3, 12.4, 13.6, 16.5, 21.0]),
            (50.0, [4.6, 6.3, 7.9, 9.5, 11.2, 12.3, 13.4, 16.4, 20.9]),
            (70.0, [4.5, 6.2, 7.7, 9.2, 11.0, 12.0, 13.1, 16.0, 20.5]),
            (90.0, [4.3, 5.9, 7.4, 8.9, 10.6, 11.5, 12.6, 15.4, 19.9]),
        ];
        for (t, row) in rows {
            for (h, printed) in humidity.iter().zip(row) {
                let got = fahrenheit(t, *h);
                assert!((got - printed).abs() <= 0.05 + 1e-9, "{t} F {h} %: {got} is not {printed}");
            }
        }
    }

    #[test]
    fn emc_of_the_reference_climate_is_twelve_percent() {
        // EN 1995-1-1 reference climate 20 C and 65 %; half of the last digit of 12.0.
        assert!((emc(20.0, 65.0) - 12.0).abs() <= 0.05);
        // 140 F and 55 %: 8.38 by a separate script.
        assert!((fahrenheit(140.0, 55.0) - 8.38).abs() <= 0.005);
    }

    #[test]
    fn emc_is_zero_in_dry_air_and_rises_with_humidity() {
        assert_eq!(emc(20.0, 0.0), 0.0);
        assert!((1..100).all(|h| emc(20.0, f64::from(h)) < emc(20.0, f64::from(h + 1))));
        assert_eq!(emc(20.0, 100.0), emc(20.0, 130.0));
    }

    #[test]
    fn movement_of_flat_sawn_red_alder_and_red_oak() {
        // Published examples: red alder 8 in, 6 %, 0.0026: 0.1248 in; red oak 11.25 in, 4 %, 0.00369: 0.166 in.
        assert!((movement(8.0, 0.0026, 6.0, 12.0) - 0.1248).abs() <= 0.000_05);
        assert!((movement(11.25, 0.003_69, 6.0, 10.0) - 0.166).abs() <= 0.000_5);
        assert!((movement(inch(11.25), 0.003_69, 6.0, 10.0) - 4.22).abs() <= 0.005);
    }

    #[test]
    fn movement_of_white_oak_from_winter_to_summer() {
        // 800 mm flat-sawn at 70 F from 30 to 60 % humidity: 14.0 mm by a separate script; half of the last digit.
        let oak = wood::find("white oak").expect("white oak is in the table");
        let (dry, damp) = (fahrenheit(70.0, 30.0), fahrenheit(70.0, 60.0));
        assert!((movement(800.0, oak.c_tangential, dry, damp) - 14.0).abs() <= 0.05);
        assert!(movement(800.0, oak.c_tangential, damp, dry) < 0.0, "drying shrinks");
    }
}

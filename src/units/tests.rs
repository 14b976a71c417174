use super::read::fold;
use super::table::GAUGES;
use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// Text, kind, value inside. Definitions of the units; gauges from the table above.
const READ: &[(&str, Kind, f64)] = &[
    ("38 mm", Kind::Length, 38.0),
    ("38mm", Kind::Length, 38.0),
    ("38 MM", Kind::Length, 38.0),
    ("1 1/2 in", Kind::Length, 38.1),
    ("1-1/2\"", Kind::Length, 38.1),
    ("1½\"", Kind::Length, 38.1),
    ("1 ½ in.", Kind::Length, 38.1),
    ("½ in", Kind::Length, 12.7),
    ("3⁄4 in", Kind::Length, 19.05),
    ("13/16\"", Kind::Length, 20.6375),
    ("13/16″", Kind::Length, 20.6375),
    ("0.065 in", Kind::Wall, 1.651),
    (".065 in", Kind::Wall, 1.651),
    ("16 ga", Kind::Wall, 1.651),
    ("18 BWG", Kind::Wall, 1.2446),
    ("3 ft 2 in", Kind::Length, 965.2),
    ("3' 2 1/2\"", Kind::Length, 977.9),
    ("3'-2 1/2\"", Kind::Length, 977.9),
    ("3ft2in", Kind::Length, 965.2),
    ("3 ft .5 in", Kind::Length, 927.1),
    ("3''", Kind::Length, 76.2),
    ("2.4 m", Kind::Length, 2400.0),
    ("12 cm", Kind::Length, 120.0),
    ("12 thou", Kind::Length, 0.3048),
    ("1e3 mm", Kind::Length, 1000.0),
    ("-4 mm", Kind::Length, -4.0),
    ("\u{a0}38\u{202f}mm ", Kind::Length, 38.0),
    ("40 kg", Kind::Mass, 40.0),
    ("90 lb", Kind::Mass, 40.823_313_3),
    ("500 g", Kind::Mass, 0.5),
    ("2 oz", Kind::Mass, 0.056_699_046_25),
    ("2 lb 3 oz", Kind::Mass, 0.992_233_309_375),
    ("200 N", Kind::Force, 200.0),
    ("2 kN", Kind::Force, 2000.0),
    ("45 lbf", Kind::Force, 200.169_972_6),
    ("4 deg", Kind::Angle, 0.069_813_170_1),
    ("4°", Kind::Angle, 0.069_813_170_1),
    ("-4 °", Kind::Angle, -0.069_813_170_1),
    ("30 C", Kind::Temperature, 30.0),
    ("-5 °C", Kind::Temperature, -5.0),
    ("86 F", Kind::Temperature, 30.0),
    ("-4 °F", Kind::Temperature, -20.0),
    ("55 %", Kind::Share, 0.55),
    ("55%", Kind::Share, 0.55),
    ("5 years", Kind::Time, 5.0),
    ("18 months", Kind::Time, 1.5),
    ("3 Hz", Kind::Frequency, 3.0),
    ("1200 rpm", Kind::Frequency, 20.0),
    ("2000 N m/rad", Kind::RotationalStiffness, 2e6),
    ("2000 Nm/rad", Kind::RotationalStiffness, 2e6),
    ("2 kN·m/rad", Kind::RotationalStiffness, 2e6),
    ("235 N/mm²", Kind::Stress, 235.0),
    ("210 GPa", Kind::Stress, 210_000.0),
    ("36 ksi", Kind::Stress, 248.211_262_8),
    ("680 kg/m3", Kind::Density, 680.0),
    ("42 lb/ft³", Kind::Density, 672.775_461_706),
];

/// Text, kind, a part of the message or hint.
const REFUSED: &[(&str, Kind, &str)] = &[
    ("", Kind::Length, "is empty"),
    ("38", Kind::Length, "\"38 mm\" or \"38 in\""),
    ("1 1/2", Kind::Length, "\"1 1/2 mm\" or \"1 1/2 in\""),
    ("40", Kind::Mass, "\"40 kg\" or \"40 lb\""),
    ("4", Kind::Angle, "\"4 deg\" or \"4 rad\""),
    ("0.55", Kind::Share, "\"55 %\" or \"0.55 %\""),
    ("1,5 in", Kind::Length, "\"1.5 in\""),
    ("0,8 m", Kind::Length, "\"0.8 m\""),
    ("30,5", Kind::Length, "\"30.5 mm\" or \"30.5 in\""),
    ("wide", Kind::Length, "a length looks like"),
    ("38,5 mm", Kind::Length, "\"38.5 mm\""),
    ("1,500 mm", Kind::Length, "\"1.500 mm\" or \"1500 mm\""),
    ("1 500 mm", Kind::Length, "\"1500 mm\""),
    ("38 40 mm", Kind::Length, "two numbers"),
    ("38 mm thick", Kind::Length, "\"mm thick\""),
    ("16 ga", Kind::Length, "only the wall of a tube"),
    ("9 ga", Kind::Wall, "10 ga to 24 ga"),
    ("38 kg", Kind::Length, "is a mass, not a length"),
    ("45 lb", Kind::Force, "\"45 lbf\""),
    ("1/0 in", Kind::Length, "divides by zero"),
    ("1/ in", Kind::Length, "slash"),
    ("1 3/2 in", Kind::Length, "not smaller than 1"),
    ("1e999 mm", Kind::Length, "too large"),
    ("mm", Kind::Length, "is not a length"),
    ("NaN mm", Kind::Length, "is not a length"),
    ("inf mm", Kind::Length, "is not a length"),
    ("2 in 3 ft", Kind::Length, "two quantities"),
    ("3 ft.5 in", Kind::Length, "point"),
    ("3 ft, 2 in", Kind::Length, "comma"),
];

#[test]
fn inches_are_reduced_fractions() {
    assert_eq!(inch_32(812.8), "32 in");
    assert_eq!(inch_32(25.4 * (31.0 + 29.0 / 32.0)), "31 29/32 in");
    assert_eq!(inch_32(12.7), "1/2 in");
    assert_eq!(inch_32(0.0), "0 in");
    assert_eq!(inch_32(-25.4 * 1.75), "-1 3/4 in");
    assert_eq!(inch_32(-0.1), "0 in");
}

#[test]
fn inches_round_to_the_nearest_thirty_second() {
    let step = INCH / 32.0;
    assert_eq!(inch_32(INCH + 0.49 * step), "1 in");
    assert_eq!(inch_32(INCH + 0.51 * step), "1 1/32 in");
    assert_eq!(inch_32(INCH - 0.49 * step), "1 in");
}

#[test]
fn quantities_are_read_as_people_write_them() {
    for (text, kind, value) in READ {
        let read = read(*kind, text).unwrap_or_else(|error| panic!("{text}: {error:?}"));
        assert_relative_eq!(read.value, value, max_relative = 1e-9);
    }
}

#[test]
fn whole_percents_and_grams_are_read_exactly() {
    for whole in 0..=100_u8 {
        let share = read(Kind::Share, &format!("{whole} %")).map(|read| read.value);
        assert_eq!(share, Ok(f64::from(whole) / 100.0));
    }
}

#[test]
fn what_is_not_clear_is_refused_with_what_to_write() {
    for (text, kind, expected) in REFUSED {
        let error = read(*kind, text).expect_err(text);
        let told = format!("{} {}", error.message, error.describe(|_| true).unwrap_or_default());
        assert!(told.contains(expected), "{text}: {told}");
    }
}

#[test]
fn what_may_be_meant_is_read() {
    let texts = ["38", "0.4", "1,5", "1,500", "25,4 in", "1 500 mm", "3 ft, 2 in", "wide", "1,2,3", ",5 mm", "5, mm"];
    for (kind, text) in Kind::ALL.into_iter().flat_map(|kind| texts.map(|text| (kind, text))) {
        let meant = read(kind, text).err().map(|unread| unread.meant).unwrap_or_default();
        assert!(meant.iter().all(|meant| read(kind, meant).is_ok()), "{kind:?} {text}: {meant:?}");
    }
    assert!(Kind::ALL.iter().all(|kind| kind.example().split('"').skip(1).step_by(2).all(|e| read(*kind, e).is_ok())));
}

#[test]
fn gauges_and_names_are_in_order() {
    assert!(GAUGES.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1));
    for kind in Kind::ALL {
        for name in kind.units().iter().flat_map(|unit| unit.names) {
            assert_eq!(fold(name), *name);
        }
    }
}

#[test]
fn bounds_shown_in_inches_lie_inside_the_range() {
    let range = show_range(Kind::Length, 12.0, 120.0, System::Inch);
    assert_eq!(range, "0.473 in to 4.72 in (12 mm to 120 mm)");
    assert!(read(Kind::Length, "0.473 in").is_ok_and(|low| low.value >= 12.0));
    assert!(read(Kind::Length, "4.72 in").is_ok_and(|high| high.value <= 120.0));
    assert_eq!(show_range(Kind::Share, 0.0, 1.0, System::Inch), "0 % to 100 %");
}

fn kinds() -> impl Strategy<Value = Kind> {
    proptest::sample::select(Kind::ALL.to_vec())
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(kind in kinds(), text in "\\PC{0,30}") {
        let _ = read(kind, &text);
    }

    #[test]
    fn nearly_right_text_is_read_or_refused(kind in kinds(), text in "[-0-9/ .,½'\"e]{0,9}(mm|in|ft|'|\"|ga|kg|N|°|%| )?[0-9 /.]{0,5}(in|\"|oz)?") {
        if let Ok(read) = read(kind, &text) {
            prop_assert!(read.value.is_finite());
        }
    }

    #[test]
    fn what_is_shown_is_read_back(kind in kinds(), value in -1e6..1e6f64, inches: bool) {
        let system = if inches { System::Inch } else { System::Metric };
        let text = show(kind, value, system);
        let back = read(kind, &text).map_err(|error| TestCaseError::fail(format!("{text}: {error:?}")))?;
        let unit = kind.unit(system);
        let tolerance = 1e-5 * value.abs() + 1e-3 * unit.factor;
        prop_assert!((back.value - value).abs() <= tolerance, "{} -> {} -> {}", value, text, back.value);
    }
}

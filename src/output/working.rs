//! Workings in words: the one place where the steps of a check become text.

use serde_json::{Value, json};

use crate::checks::{Fact, FrameFact, Kind, ScrewFact, Step, StrengthFact};
use crate::clauses::creep::Effect;
use crate::clauses::working::{Equation, Quantity};

/// Four significant figures without an exponent: enough to follow the working by hand.
#[must_use]
pub fn figures(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let magnitude = value.abs().log10().floor() as i32;
    let digits = usize::try_from((3 - magnitude).max(0)).unwrap_or(0);
    format!("{value:.digits$}")
}

/// The same without zeros at the end, for what is put into a formula.
fn short(value: f64) -> String {
    let text = figures(value);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

impl Step {
    /// One line: `formula = numbers put in = result`, or what was found.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Equation(equation) => equation.text(),
            Self::Fact(fact) => fact.text(),
            Self::Frame(fact) => fact.text(),
            Self::Screw(fact) => fact.text(),
            Self::Strength(fact) => fact.text(),
            Self::Utilisation { demand, capacity, unit } => {
                let [used, of, with] = [demand / capacity, *capacity, *demand].map(figures);
                let unit = if matches!(*unit, "" | "-") { String::new() } else { format!(" {unit}") };
                format!("utilisation = demand / capacity = {with}{unit} / {of}{unit} = {used}")
            }
        }
    }

    /// For programs: the line, and of an equation what was put in with its units.
    #[must_use]
    pub fn data(&self) -> Value {
        let mut data = json!({ "text": self.text() });
        if let Self::Equation(e) = self {
            let quantity = |q: &Quantity| json!({ "name": q.name, "value": q.value, "unit": q.unit });
            data["formula"] = e.formula.into();
            data["with"] = e.with.iter().map(quantity).collect();
            data["result"] = e.result.into();
            data["unit"] = e.unit.into();
        }
        data
    }
}

impl Equation {
    /// `formula = numbers put in = result unit`.
    #[must_use]
    pub fn text(&self) -> String {
        let (_, right) = self.formula.split_once(" = ").unwrap_or(("", self.formula));
        let numbers = put_in(right, &self.with);
        format!("{} = {numbers} = {} {}", self.formula, figures(self.result), self.unit).trim_end().to_owned()
    }
}

/// A piece of a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Token<'a> {
    Blank,
    /// A quantity that is put in.
    Quantity(&'a Quantity),
    /// A number or `pi`.
    Number(&'a str),
    /// A function's name, before its bracket.
    Function(&'a str),
    /// `+ - / ^ x`, a bracket or a comma.
    Sign(&'a str),
}

/// The first piece of a formula and what follows it.
fn token<'a>(text: &'a str, with: &'a [Quantity]) -> (Token<'a>, &'a str) {
    let in_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '\'');
    let ends = |rest: &str| !rest.starts_with(in_word);
    let named = with.iter().filter(|q| text.strip_prefix(q.name).is_some_and(ends));
    if let Some(q) = named.max_by_key(|q| q.name.len()) {
        return (Token::Quantity(q), &text[q.name.len()..]);
    }
    let word = text.find(|c: char| !in_word(c) && c != '.').unwrap_or(text.len());
    let first = text.chars().next().map_or(0, char::len_utf8);
    let (own, rest) = text.split_at(word.max(first));
    let token = match own {
        " " => Token::Blank,
        "x" => Token::Sign(own),
        _ if word == 0 => Token::Sign(own),
        _ if rest.starts_with('(') && own.starts_with(char::is_alphabetic) => Token::Function(own),
        _ => Token::Number(own),
    };
    (token, rest)
}

/// The right side of a formula with numbers for its names, and a sign between factors that stood beside each other.
fn put_in(formula: &str, with: &[Quantity]) -> String {
    let (mut out, mut rest) = (String::new(), formula);
    // Whether a factor has just ended, and whether a blank followed it.
    let (mut ended, mut blank) = (false, false);
    while !rest.is_empty() {
        let (token, after) = token(rest, with);
        rest = after;
        if token == Token::Blank {
            blank = true;
            continue;
        }
        let starts = !matches!(token, Token::Sign(sign) if sign != "(");
        match (ended && starts, blank) {
            (true, _) => out.push_str(" x "),
            (false, true) => out.push(' '),
            (false, false) => {}
        }
        match token {
            Token::Quantity(q) if q.value < 0.0 && !out.ends_with('(') => {
                out.push_str(&format!("({})", short(q.value)));
            }
            Token::Quantity(q) => out.push_str(&short(q.value)),
            Token::Number(text) | Token::Function(text) | Token::Sign(text) => out.push_str(text),
            Token::Blank => {}
        }
        ended = matches!(token, Token::Quantity(_) | Token::Number(_) | Token::Sign(")"));
        blank = false;
    }
    out
}

/// [`figures`] of a field.
fn n(x: &f64) -> String {
    figures(*x)
}

impl Fact {
    /// One sentence.
    fn text(&self) -> String {
        match self {
            Self::Tension(force) => {
                format!("tension in the tube, at least its share of a lifted leg's weight = {} N", n(force))
            }
            Self::Unheld => "nothing but the weight and friction holds it".to_owned(),
            Self::CrossBolt { size, plastic, tube, tear_out } => {
                let [plastic, tube, tear_out] = [plastic, tube, tear_out].map(n);
                format!("cross bolt M{size}: plastic {plastic} N, tube {tube} N, tear-out {tear_out} N")
            }
            Self::EpoxyBond { area, pull } => format!("epoxy bond on {} mm2 = {} N", n(area), n(pull)),
            Self::NoPlay => "ribs or epoxy take the play out of the sockets".to_owned(),
            Self::Play { clearance, travel } => {
                let [clearance, travel] = [clearance, travel].map(n);
                format!("clearance {clearance} mm over the engaged length, times the leg's length = {travel} mm")
            }
            Self::PlatePressure(stress) => {
                format!("largest pressure of the plate on the wood, neutral axis found = {} MPa", n(stress))
            }
            Self::TieBolt { force, plastic, tube } => {
                let [force, plastic, tube] = [force, plastic, tube].map(n);
                format!("force along the tube = {force} N; plastic holds {plastic} N, tube {tube} N")
            }
            Self::Weight { weight, inside } => {
                format!("weight {} N, its centre {} mm inside the edge", n(weight), n(inside))
            }
            Self::LoadOutside { at: [x, y], outside } => {
                format!("load at ({x:.0}, {y:.0}) mm from the middle stands {} mm outside the edge", n(outside))
            }
            Self::ServiceLimit { filament, tg, hdt, limit } => {
                let limit = n(limit);
                format!("{filament}: glass transition {tg} C, heat deflection {hdt} C, less the margin = {limit} C")
            }
            Self::MoistureChange(percent) => format!("equilibrium moisture changes by {} %", n(percent)),
            Self::RoomInHole(room) => format!("room in the hole either way = {} mm", n(room)),
            Self::Bed { size, bed } => {
                format!("{} mm of {} mm, counted at 0.8 because a full bed is no weakness", n(size), n(bed))
            }
            Self::Perimeters(walls) => format!("{walls} perimeters from each side fill {} lines", 2 * walls),
            Self::Lean(angle) => format!("bosses lean by {} deg", n(angle)),
            Self::DriverRoom { room, needed } => {
                format!("{} mm from axis to boss, {needed} mm needed, counted at 0.8", n(room))
            }
        }
    }
}

impl FrameFact {
    /// One sentence.
    fn text(&self) -> String {
        match self {
            Self::CriticalFactor(factor) => {
                format!("lowest eigenvalue of K + lambda K_g over the whole frame = {}", n(factor))
            }
            Self::Sway { push, first_order, second_order } => {
                let [first, second] = [first_order, second_order].map(n);
                format!("whole frame under {push} N: first order {first} mm, with the weight's own effect {second} mm")
            }
            Self::StiffSway(sway) => format!("with stiff joints: {} mm", n(sway)),
            Self::Frequency(hertz) => {
                format!("lowest eigenvalue of K and M over the whole frame = {} Hz", n(hertz))
            }
            Self::Shaking { hertz, force } => {
                format!("worst frequency {} Hz, amplitude of the force {} N", n(hertz), n(force))
            }
            Self::Resonance([soft, stiff]) => format!(
                "a natural frequency lies between {} Hz with soft joints and {} Hz with stiff ones: taken as this one",
                n(soft),
                n(stiff)
            ),
            Self::SteadyResponse(amplitude) => {
                format!("steady response by modes, damping 0.02: amplitude {} mm", n(amplitude))
            }
        }
    }
}

impl ScrewFact {
    /// One sentence.
    fn text(&self) -> String {
        match self {
            Self::Pull(force) => {
                format!("pull on the worst screw with prying, upper end of the band = {} N", n(force))
            }
            Self::PullOnOthers(force) => {
                format!("largest pull with prying on the screws left, upper end of the band = {} N", n(force))
            }
            Self::PerMillimetre(value) => format!("W = {} N/mm", n(value)),
            Self::Shear(force) => format!("shear on the worst screw from force and twist = {} N", n(force)),
            Self::YieldMode { mode, value } => format!("weakest yield mode {mode:?}: Z = {} N", n(value)),
            Self::PullAndShear { pull, shear, angle } => {
                format!("pull {} N and shear {} N: {angle:.0} deg from the wood's face", n(pull), n(shear))
            }
        }
    }
}

impl StrengthFact {
    /// One sentence.
    fn text(&self) -> String {
        match self {
            Self::Factor { effect, value } => format!("factor for {} = {}", effect.words(), n(value)),
            Self::Sustained(limit) => {
                format!("no more than {} MPa across the layers under a load that stays", n(limit))
            }
            Self::Coupons { count, mean, variation, least } => {
                let [mean, variation] = [mean, variation].map(n);
                format!(
                    "{count} coupons torn across the layers: mean {mean} MPa, variation V = {variation}, no less than {least} counted"
                )
            }
            Self::FromCoupons { cap, value } => {
                let [cap, value] = [cap, value].map(n);
                format!("strength across the layers, no more than {cap} MPa from coupons = {value} MPa")
            }
            Self::Trials { filament, counted, mean, variation, grade } => {
                let [mean, variation] = [mean, variation].map(n);
                let of = match counted {
                    Some([trials, batches]) => format!("{trials} trials in {batches} batches, mean"),
                    None => "about".to_owned(),
                };
                format!("{filament}: {of} {mean} MPa, variation {variation} ({})", grade.words())
            }
            Self::Fractile { strength, k, found, most, grade, value } => {
                let [k, found, most, value] = [k, found, most, value].map(n);
                let (name, grade) = (strength.words(), grade.words());
                format!("{name} = 5 % value, k_n {k}: {found} MPa, no more than {most} ({grade}) = {value} MPa")
            }
            Self::Characteristic { strength, filament, value, grade } => {
                let (name, grade) = (strength.words(), grade.words());
                format!("{name} of {filament}, characteristic = {} MPa ({grade})", n(value))
            }
        }
    }
}

impl Kind {
    /// The strength that counts.
    const fn words(self) -> &'static str {
        match self {
            Self::InLayers => "strength within the layers",
            Self::AcrossLayers | Self::Shear => "strength across the layers",
            Self::Bearing => "bearing strength",
        }
    }
}

impl Effect {
    /// What takes the strength.
    const fn words(self) -> &'static str {
        match self {
            Self::Time => "time under load",
            Self::Temperature => "temperature",
            Self::MeanTemperature => "temperature, the mean all the time",
            Self::HottestTemperature => "temperature, the hottest for a tenth of the time",
            Self::Repeated => "10,000 times",
            Self::Infill => "solid share of the section",
            Self::Water => "water taken up from the air",
            Self::Age => "age",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clauses::working::equation;
    use crate::evaluate::evaluate;
    use crate::mechanics::{Cache, Detail};

    #[test]
    fn four_figures_whatever_the_size() {
        assert_eq!(figures(0.012_345), "0.01235");
        assert_eq!(figures(12_345.6), "12346");
        assert_eq!(figures(0.0), "0");
        assert_eq!([40.0, 1.5, 12_340.0].map(short), ["40", "1.5", "12340"]);
    }

    #[test]
    fn numbers_stand_where_the_names_stood() {
        let text = |formula, with, result, unit| equation::<2>(formula, with, result, unit).text();
        let two = [("V", 16000.0, "N"), ("n", 4.0, "")];
        assert_eq!(text("F = V/n", two, 4000.0, "N"), "F = V/n = 16000/4 = 4000 N");
        let two = [("d", 25.0, "mm"), ("L", 40.0, "mm")];
        assert_eq!(
            text("A = pi d L (1 - 2 d^2/L)", two, 1.0, ""),
            "A = pi d L (1 - 2 d^2/L) = pi x 25 x 40 x (1 - 2 x 25^2/40) = 1.000"
        );
        let two = [("a", -2.0, "deg"), ("b", -3.0, "")];
        assert_eq!(text("y = sin(a) b", two, 0.1047, ""), "y = sin(a) b = sin(-2) x (-3) = 0.1047");
        let two = [("strength", 30.0, "MPa"), ("strength within", 2.0, "")];
        assert_eq!(
            text("s = strength within x strength", two, 60.0, "MPa"),
            "s = strength within x strength = 2 x 30 = 60.00 MPa"
        );
    }

    /// Works a formula out: sums of products of powers, from left to right.
    struct Reader<'a> {
        rest: &'a str,
        with: &'a [Quantity],
    }

    impl<'a> Reader<'a> {
        fn next(&mut self) -> Option<Token<'a>> {
            while !self.rest.is_empty() {
                let (token, rest) = token(self.rest, self.with);
                self.rest = rest;
                if token != Token::Blank {
                    return Some(token);
                }
            }
            None
        }

        fn peek(&self) -> Option<Token<'a>> {
            Self { ..*self }.next()
        }

        fn sum(&mut self) -> f64 {
            let mut sum = self.product();
            while let Some(Token::Sign(sign @ ("+" | "-"))) = self.peek() {
                self.next();
                let term = self.product();
                sum += if sign == "+" { term } else { -term };
            }
            sum
        }

        fn product(&mut self) -> f64 {
            let mut product = self.power();
            loop {
                match self.peek() {
                    None | Some(Token::Sign("+" | "-" | ")")) => return product,
                    Some(Token::Sign("/")) => {
                        self.next();
                        product /= self.power();
                    }
                    Some(Token::Sign("x")) => {
                        self.next();
                        product *= self.power();
                    }
                    _ => product *= self.power(),
                }
            }
        }

        /// What follows a bracket, and the one that closes it.
        fn inside(&mut self) -> f64 {
            let inside = self.sum();
            assert_eq!(self.next(), Some(Token::Sign(")")));
            inside
        }

        fn power(&mut self) -> f64 {
            let base = match self.next().expect("an operand") {
                Token::Quantity(q) => q.value,
                Token::Number("pi") => std::f64::consts::PI,
                Token::Number(text) => text.parse().unwrap_or_else(|_| panic!("{text} is not put in")),
                Token::Function(name) => {
                    assert_eq!(self.next(), Some(Token::Sign("(")));
                    let inside = self.inside();
                    match name {
                        "sqrt" => inside.sqrt(),
                        "sin" => inside.to_radians().sin(),
                        "cos" => inside.to_radians().cos(),
                        "atan" => inside.atan().to_degrees(),
                        _ => panic!("{name} is no function"),
                    }
                }
                Token::Sign("(") => self.inside(),
                other => panic!("{other:?} is no operand"),
            };
            if self.peek() != Some(Token::Sign("^")) {
                return base;
            }
            self.next();
            base.powf(self.power())
        }
    }

    fn worked(e: &Equation) -> f64 {
        let (_, right) = e.formula.split_once(" = ").expect("two sides");
        let mut reader = Reader { rest: right, with: &e.with };
        let value = reader.sum();
        assert_eq!(reader.next(), None, "{}", e.formula);
        value
    }

    #[test]
    fn formulas_are_worked_out_as_they_read() {
        let of = |formula, x: f64| worked(&equation(formula, [("x_1", x, "")], 0.0, ""));
        assert_eq!(of("y = 2 x_1^2 / 4 - (1 + x_1)", 4.0), 3.0);
        assert_eq!(of("y = 12/(2 x_1)", 3.0), 2.0);
        assert!((of("y = cos(x_1)^2", 60.0) - 0.25).abs() < 1e-12);
        assert!((of("y = atan(x_1) + 4/pi x_1", 1.0) - 45.0 - 4.0 / std::f64::consts::PI).abs() < 1e-12);
    }

    /// Every formula, with what is put in, gives its result.
    #[test]
    fn a_formula_said_something_else_than_was_computed() {
        let mut formulas = std::collections::BTreeSet::new();
        for text in [
            crate::params::built_in(),
            include_str!("../../tests/figures/three-legs.json"),
            include_str!("../../params/water-tank-stand.json"),
        ] {
            let params = crate::params::read(text).expect("read");
            let found = evaluate(&params, Detail::Sketch, &Cache::default()).expect("solved");
            for check in &found.checked.checks {
                for step in &check.working {
                    let Step::Equation(e) = step else { continue };
                    let value = worked(e);
                    assert!((value - e.result).abs() <= 1e-9 * e.result.abs(), "{:?}: {value}: {e:?}", check.id);
                    formulas.insert(e.formula);
                }
            }
        }
        assert!(formulas.len() > 30, "{formulas:#?}");
    }
}

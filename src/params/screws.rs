//! Wood screws of a bracket: [`Screws`] from their keys, and a choice that keeps its own rules where the file says nothing.

use super::accept;
use super::reader::{Group, Reader};
use super::rows::SCREWS;
use super::seat::{LEAST_PENETRATION, Seat};
use super::spelling::quoted;
use super::text::Written;
use super::value::{ScrewSize, Value};
use super::{Head, Params, Screws, Top};
use crate::problem::Suggestion;
use crate::tables::screw::{self, Screw, System};
use crate::units::{self, Kind, Unread};

/// Screw length we prefer, mm; inches have 1 1/4 in for it.
const LENGTH: f64 = 30.0;
/// What an inch length may be over that, mm.
const INCH_MORE: f64 = 2.0;
/// Thickness of the plate that we prefer, mm; the text in the table of keys says why.
const PLATE: f64 = 8.0;
/// Diameters we choose from where the file names none, best first (judgement: the commonest, then the next thinner ones,
/// which need less wood; thicker ones never fit where these do not).
const SIZES: [&str; 4] = ["4.5 mm", "4 mm", "3.5 mm", "3 mm"];
/// The same for hints in a file that is written in inches.
const INCH_SIZES: [&str; 3] = ["#8", "#7", "#6"];
/// Plates for hints in such a file, in sixteenths of an inch: those nearest to [`PLATES`].
const INCH_PLATES: [f64; 3] = [5.0, 6.0, 6.5];
/// Plates we choose from where the file names none, mm, best first: thicker ones keep a screw from reaching too far.
const PLATES: [f64; 5] = [PLATE, 8.5, 9.0, 9.5, 10.0];
/// Wood that a chosen screw leaves over its tip, mm, better first: what the check of it calls adequate, then its limit.
const OVER_TIP: [f64; 2] = [4.0, 3.0];
/// Tops grow by this much when no screw holds in them, mm.
const STEP: f64 = 1.0;

/// A screw, its length and the plate it goes through, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Choice {
    screw: Screw,
    length: f64,
    plate: f64,
}

/// What a choice is made from; each list best first.
#[derive(Clone)]
struct Choices {
    screws: Vec<Screw>,
    plates: Vec<f64>,
    /// The only length, where it is said.
    only: Option<f64>,
    /// Length that is preferred, mm.
    preferred: f64,
    head: Head,
    /// Wood at the thinnest leg, mm.
    thinnest: f64,
}

impl Choices {
    /// The first screw that reaches deep enough and leaves wood over its tip.
    fn best(&self) -> Option<Choice> {
        OVER_TIP.iter().find_map(|left| {
            let plates = |screw: Screw| self.plates.iter().map(move |plate| (screw, *plate));
            let all = self.screws.iter().copied().flat_map(plates);
            all.flat_map(|(screw, plate)| self.lengths(&screw).into_iter().map(move |l| (screw, plate, l)))
                .find(|(screw, plate, length)| self.fits(screw, *plate, *length, *left))
                .map(|(screw, plate, length)| Choice { screw, length, plate })
        })
    }

    fn fits(&self, screw: &Screw, plate: f64, length: f64, left: f64) -> bool {
        let in_wood = length - Seat::new(screw, self.head, length, plate).grip;
        in_wood >= LEAST_PENETRATION * screw.diameter - 1e-9 && self.thinnest - in_wood >= left - 1e-9
    }

    /// Lengths sold: those up to the preferred one, longest first, then the longer ones.
    fn lengths(&self, screw: &Screw) -> Vec<f64> {
        if let Some(only) = self.only {
            return vec![only];
        }
        let more = if screw.system == System::Metric { 0.0 } else { INCH_MORE };
        let (short, long): (Vec<f64>, Vec<f64>) = screw.lengths.iter().partition(|l| **l <= self.preferred + more);
        short.into_iter().rev().chain(long).collect()
    }
}

/// Changes of the file that give a screw which keeps the rules: another length, then another diameter of its family,
/// then another plate, at last a thicker top. A file in inches that names no screw is offered screws in inches first.
pub(crate) fn better(params: &Params) -> Vec<Suggestion> {
    let (screws, plate) = (&params.bracket.screws, params.bracket.plate);
    let inches = params.units == units::System::Inch;
    let ours = !params.places.contains_key("bracket.screws.size");
    let metric = family(&screws.screw);
    let other = INCH_SIZES.iter().map(|name| SCREWS.row(name)).collect();
    let families = if inches && ours { vec![other, metric] } else { vec![metric] };
    let choices = Choices {
        screws: Vec::new(),
        plates: vec![plate],
        only: None,
        preferred: screws.length,
        head: screws.head,
        thinnest: thinnest(&params.top),
    };
    let best =
        |screws: &[Screw], plates: Vec<f64>| Choices { screws: screws.to_vec(), plates, ..choices.clone() }.best();
    let found = families.iter().find_map(|family| {
        let first = best(&family[..1], vec![plate]).or_else(|| best(family, vec![plate]));
        first.or_else(|| best(family, [vec![plate], plates(inches)].concat()))
    });
    match found {
        Some(choice) => written(params, &choice),
        None => thicker(params, choices),
    }
}

/// Plates that are offered, mm.
fn plates(inches: bool) -> Vec<f64> {
    if inches { INCH_PLATES.map(|sixteenths| sixteenths / 16.0 * units::INCH).to_vec() } else { PLATES.to_vec() }
}

/// Sizes of the screw's system, the nearest first; the screw itself before all.
fn family(like: &Screw) -> Vec<Screw> {
    let mut all: Vec<Screw> = screw::ALL.iter().filter(|s| s.system == like.system).copied().collect();
    let off = |s: &Screw| (s.diameter - like.diameter).abs();
    all.sort_by(|a, b| off(a).total_cmp(&off(b)));
    all.retain(|screw| screw != like);
    all.insert(0, *like);
    all
}

fn written(params: &Params, choice: &Choice) -> Vec<Suggestion> {
    let (given, key) = (|key: &str| params.places.contains_key(key), "bracket.screws.length");
    let length = match system(&choice.screw) {
        units::System::Metric => units::show(Kind::Length, choice.length, units::System::Metric),
        units::System::Inch => units::inch_32(choice.length),
    };
    let own = params.bracket.screws.screw == choice.screw && given("bracket.screws.size.diameter");
    let mut all = if own {
        vec![Suggestion::text(key, length)]
    } else {
        let short = choice.screw.name.trim_end_matches(" mm");
        let size = Suggestion::text("bracket.screws.size", format!("{short} x {length}"));
        let again = given(key).then(|| Suggestion::without(key));
        std::iter::once(size).chain(again).collect()
    };
    if (choice.plate - params.bracket.plate).abs() > 1e-9 {
        all.push(Suggestion::text("bracket.plate", plate_told(params, choice.plate)));
    }
    all
}

/// A plate as it would stand in the file: exactly the chosen one.
fn plate_told(params: &Params, plate: f64) -> String {
    match params.units {
        units::System::Metric => units::show(Kind::Length, plate, units::System::Metric),
        units::System::Inch => units::inch_32(plate),
    }
}

/// A top in which a screw of our own choice holds.
fn thicker(params: &Params, choices: Choices) -> Vec<Suggestion> {
    let (inches, plates) = (params.units == units::System::Inch, PLATES.to_vec());
    let sizes = if inches { [&INCH_SIZES[..], &SIZES[..]].concat() } else { SIZES.to_vec() };
    let mut choices = Choices { screws: sizes.iter().map(|name| SCREWS.row(name)).collect(), plates, ..choices };
    while choices.best().is_none() && choices.thinnest < 200.0 {
        choices.thinnest = (choices.thinnest + STEP).floor();
    }
    let mut all = vec![Suggestion::text("top.thickness", params.length_up(choices.thinnest))];
    let more = ["top.thickness_at_legs", "bracket.screws.size", "bracket.screws.length", "bracket.plate"];
    all.extend(more.into_iter().filter(|key| params.places.contains_key(*key)).map(Suggestion::without));
    all
}

/// Wood at the thinnest leg, mm.
fn thinnest(top: &Top) -> f64 {
    top.thickness_at_legs.iter().copied().reduce(f64::min).unwrap_or(top.thickness)
}

const fn system(screw: &Screw) -> units::System {
    if matches!(screw.system, System::Metric) { units::System::Metric } else { units::System::Inch }
}

/// Reads the screws; gives the plate too, which is chosen with them where the file does not say it.
pub(super) fn screws(r: &mut Reader, bracket: &Group<'_>, top: &Top, plate: Option<f64>) -> (Screws, f64) {
    let g = r.group(bracket, &accept::SCREWS);
    let (sized, length) = size(r, &g);
    let length = match length {
        Some(length) => Some(only_once(r, &g, length)),
        None => r.quantity_if(&g, &accept::SCREW_LENGTH),
    };
    let head = r.choice(&g, &accept::SCREW_HEAD, &accept::HEADS);
    let ours = || SIZES.iter().map(|name| SCREWS.row(name)).collect();
    let choices = Choices {
        screws: sized.map_or_else(ours, |screw| vec![screw]),
        plates: plate.map_or_else(|| PLATES.to_vec(), |plate| vec![plate]),
        only: length,
        preferred: LENGTH,
        head,
        thinnest: thinnest(top),
    };
    let chosen = choices.best().unwrap_or_else(|| fallback(&choices));
    assumed(r, bracket, &g, &chosen, [sized.is_none(), length.is_none(), plate.is_none()]);
    let screws = Screws {
        screw: chosen.screw,
        length: chosen.length,
        head,
        count: r.count(&g, &accept::SCREW_COUNT),
        spare_holes: r.flag(&g, &accept::SCREW_SPARE, false),
        slots: r.flag(&g, &accept::SCREW_SLOTS, true),
    };
    (screws, chosen.plate)
}

/// What stands for a choice that nothing fits: the layout tells what is wrong with it.
fn fallback(choices: &Choices) -> Choice {
    let screw = choices.screws[0];
    let length = choices.only.or_else(|| screw.length_up_to(choices.preferred)).unwrap_or(LENGTH);
    Choice { screw, length, plate: choices.plates[0] }
}

/// Tells size, length and plate as far as they were chosen.
fn assumed(r: &mut Reader, bracket: &Group<'_>, g: &Group<'_>, chosen: &Choice, ours: [bool; 3]) {
    if ours[2] {
        r.assume(bracket, &accept::BRACKET_PLATE, units::show(Kind::Length, chosen.plate, units::System::Metric));
    }
    if ours[0] {
        r.assume(g, &accept::SCREW_SIZE, chosen.screw.name);
    }
    if ours[1] {
        r.assume(g, &accept::SCREW_LENGTH, units::show(Kind::Length, chosen.length, system(&chosen.screw)));
    }
}

/// The screw, and its length where the size says it; neither where the file has no size.
fn size(r: &mut Reader, g: &Group<'_>) -> (Option<Screw>, Option<f64>) {
    let Some(found) = r.value(g, &accept::SCREW_SIZE) else { return (None, None) };
    match found.value {
        Value::Screw(ScrewSize { row, length }) => (Some(SCREWS.row(row)), *length),
        Value::Group(_) => (Some(SCREWS.of(r, &found)), None),
        _ => (Some(screw::ALL[0]), None),
    }
}

/// Types `4.5 x 30 mm`, `#8 x 1 1/4 in`, `4.5 mm`, `#8`.
pub(super) fn size_in(r: &mut Reader, found: &Written<'_>, text: &str) -> Value {
    let (name, length) = match text.split_once(['x', 'X', '×', '*']) {
        Some((name, length)) => (name.trim(), Some(length)),
        None => (text.trim(), None),
    };
    let Some(screw) = screw::find(name) else {
        no_screw(r, found, text);
        return Value::Unread;
    };
    let length = length.map(|length| length_in(r, found, text, length));
    Value::Screw(ScrewSize { row: screw.name, length })
}

/// A size that no screw of the table has.
fn no_screw(r: &mut Reader, found: &Written<'_>, text: &str) {
    let empty = text.trim().is_empty();
    let message = format!("{} is not a screw of the table", quoted(text));
    let unread = if text.contains(',') {
        units::comma(text, |text| screw::find_with_length(text).map(|_| ()).ok_or_else(|| Unread::new("")))
    } else {
        Unread::new(message)
    };
    let comma = !unread.meant.is_empty();
    let names = accept::either(screw::names().into_iter().map(String::from));
    let message = if comma { format!("{} {}", quoted(text), unread.message) } else { unread.message.clone() };
    let problem = r.wrong(&found.path, if empty { "is empty".into() } else { message });
    problem.accepted = (!comma).then_some(names);
    let example = "write a size such as \"4.5 x 30 mm\" or \"#8 x 1 1/4 in\", or an object with its own numbers";
    problem.hint = if comma { unread.describe(|_| true) } else { Some(example.into()) };
}

fn length_in(r: &mut Reader, found: &Written<'_>, text: &str, length: &str) -> f64 {
    let Some(range) = accept::SCREW_LENGTH.what.range() else { return LENGTH };
    match units::read(Kind::Length, length) {
        Ok(read) if range.holds(read.value) => read.value,
        Ok(read) => {
            let message = format!("{} has a length that is not accepted", quoted(text));
            r.wrong(&found.path, message).accepted = Some(range.describe(read.system));
            LENGTH
        }
        Err(mut unread) => {
            let name = text[..text.len() - length.len()].trim_end();
            let fits = |text: &String| units::read(Kind::Length, text).is_ok_and(|read| range.holds(read.value));
            unread.meant = unread.meant.into_iter().filter(fits).map(|length| format!("{name} {length}")).collect();
            let problem = r.wrong(&found.path, format!("{} has a length that {}", quoted(text), unread.message));
            problem.hint = unread.describe(|_| true);
            LENGTH
        }
    }
}

/// A length said by the size must not be said again by `length`.
fn only_once(r: &mut Reader, g: &Group<'_>, length: f64) -> f64 {
    if let Some(found) = r.value(g, &accept::SCREW_LENGTH) {
        r.wrong(&found.path, "is given twice: \"size\" says it too").hint = Some("keep one of the two".into());
    }
    length
}

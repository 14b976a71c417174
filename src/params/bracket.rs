//! The bracket: [`Bracket`] with its hold, gussets and screws from their keys.

use super::accept::{self, What};
use super::legs::metric_size;
use super::reader::{Found, Group, Reader};
use super::rows::SCREWS;
use super::spelling::quoted;
use super::text::Node;
use super::{Bracket, Gussets, Head, Hold, Legs, Screws, Top};
use crate::tables::screw::{self, Screw, System};
use crate::units::{self, Kind};

/// Bore depth over the tube's diameter, and its least, mm.
const SOCKET: (f64, f64) = (1.6, 30.0);

/// Tubes thinner than this get a smaller cross bolt, mm: an M4 hole would take a third of them.
const THIN_TUBE: f64 = 12.0;

/// Screw length we prefer, mm.
const SCREW_LENGTH: f64 = 30.0;

/// Wood that a default screw leaves over its tip, mm.
const OVER_TIP: f64 = 6.0;

/// Reads the bracket.
pub(super) fn bracket(r: &mut Reader, root: &Group<'_>, top: &Top, legs: &Legs) -> Bracket {
    let g = r.group(root, &accept::BRACKET);
    let plate = r.quantity(&g, &accept::BRACKET_PLATE);
    let socket = (SOCKET.0 * legs.tube.outside).ceil().max(SOCKET.1);
    Bracket {
        plate,
        length: r.quantity_if(&g, &accept::BRACKET_LENGTH),
        width: r.quantity_if(&g, &accept::BRACKET_WIDTH),
        corner_radius: r.quantity(&g, &accept::BRACKET_CORNER),
        socket_depth: r.quantity_else(&g, &accept::BRACKET_SOCKET, socket),
        boss_wall: r.quantity_if(&g, &accept::BRACKET_WALL),
        floor: r.quantity(&g, &accept::BRACKET_FLOOR),
        chamfer: r.quantity(&g, &accept::BRACKET_CHAMFER),
        skirt: r.quantity(&g, &accept::BRACKET_SKIRT),
        relief: r.quantity(&g, &accept::BRACKET_RELIEF),
        hold: hold(r, &g, legs.tube.outside),
        gussets: gussets(r, &g, legs.tubes),
        screws: screws(r, &g, top, plate),
    }
}

fn hold(r: &mut Reader, g: &Group<'_>, outside: f64) -> Hold {
    let mut hold = match r.value(g, &accept::BRACKET_HOLD) {
        Some(found) => given_hold(r, &found),
        None => {
            let bolt = if outside < THIN_TUBE { 3.0 } else { 4.0 };
            r.assume(g, &accept::BRACKET_HOLD, format!("[\"ribs\", \"cross bolt M{bolt}\"]"));
            Hold { ribs: true, cross_bolt: Some(bolt), ..Hold::default() }
        }
    };
    if hold.ribs {
        hold.rib_interference = r.quantity(g, &accept::BRACKET_RIBS);
    } else if let Some(found) = r.value(g, &accept::BRACKET_RIBS) {
        r.wrong(&found, "is only for a socket with ribs").hint =
            Some("add \"ribs\" to \"hold\", or leave it out".into());
    }
    hold
}

fn given_hold(r: &mut Reader, found: &Found<'_>) -> Hold {
    let what = accept::BRACKET_HOLD.what;
    let Node::List(items) = &found.value.node else {
        let word = r.word_in(found, &what);
        return with(Hold::default(), word);
    };
    let mut hold = Hold::default();
    for (index, item) in items.iter().enumerate() {
        let item = r.item(found, index, item);
        let word = r.word_in(&item, &What::Words(accept::HOLDS));
        if (word == "none" && items.len() > 1) || (word.starts_with("cross bolt") && hold.cross_bolt.is_some()) {
            r.wrong(&item, format!("{} does not go with the others", quoted(word)));
        }
        hold = with(hold, word);
    }
    hold
}

/// One more way to hold the tube; a cross bolt without size is M4.
fn with(hold: Hold, word: &str) -> Hold {
    match word {
        "ribs" => Hold { ribs: true, ..hold },
        "bonded" => Hold { bonded: true, ..hold },
        "none" => hold,
        "cross bolt" => Hold { cross_bolt: Some(4.0), ..hold },
        bolt => Hold { cross_bolt: Some(metric_size(bolt)), ..hold },
    }
}

fn gussets(r: &mut Reader, bracket: &Group<'_>, tubes: usize) -> Gussets {
    let g = r.group(bracket, &accept::GUSSETS);
    Gussets {
        count: r.count_if(&g, &accept::GUSSETS_COUNT),
        run: r.quantity_if(&g, &accept::GUSSETS_RUN),
        rise: r.quantity_if(&g, &accept::GUSSETS_RISE),
        thickness: r.quantity(&g, &accept::GUSSETS_THICKNESS),
        between: r.flag(&g, &accept::GUSSETS_BETWEEN, tubes > 1),
    }
}

fn screws(r: &mut Reader, bracket: &Group<'_>, top: &Top, plate: f64) -> Screws {
    let g = r.group(bracket, &accept::SCREWS);
    let (screw, sized) = size(r, &g);
    let length = match sized {
        Some(length) => only_once(r, &g, length),
        None => length(r, &g, &screw, top, plate),
    };
    Screws {
        screw,
        length,
        head: head(r.word(&g, &accept::SCREW_HEAD)),
        count: r.count(&g, &accept::SCREW_COUNT),
        spare_holes: r.flag(&g, &accept::SCREW_SPARE, false),
        slots: r.flag(&g, &accept::SCREW_SLOTS, true),
    }
}

fn head(word: &str) -> Head {
    match word {
        "washer" => Head::Washer,
        "countersunk" => Head::Countersunk,
        _ => Head::Pan,
    }
}

/// The screw, and its length where the size says it.
fn size(r: &mut Reader, g: &Group<'_>) -> (Screw, Option<f64>) {
    let Some(found) = r.value(g, &accept::SCREW_SIZE) else {
        let name = accept::SCREW_SIZE.default_text();
        r.assume(g, &accept::SCREW_SIZE, name);
        return (SCREWS.row(name), None);
    };
    match &found.value.node {
        Node::Text(text) => size_in(r, &found, text),
        Node::Object(_) => (SCREWS.of(r, found, &accept::SCREW_SIZE), None),
        _ => {
            r.mistyped(&found, &accept::SCREW_SIZE.what);
            (screw::ALL[0], None)
        }
    }
}

/// Reads `4.5 x 30 mm`, `#8 x 1 1/4 in`, `4.5 mm`, `#8`.
fn size_in(r: &mut Reader, found: &Found<'_>, text: &str) -> (Screw, Option<f64>) {
    let (name, length) = match text.split_once(['x', 'X', '×', '*']) {
        Some((name, length)) => (name.trim(), Some(length)),
        None => (text.trim(), None),
    };
    let Some(screw) = screw::find(name) else {
        let names = accept::either(screw::names().into_iter().map(String::from));
        let problem = r.wrong(found, format!("{} is not a screw of the table", quoted(text)));
        problem.accepted = Some(names);
        problem.hint = Some("write \"4.5 x 30 mm\", \"#8 x 1 1/4 in\", or an object with its own numbers".into());
        return (screw::ALL[0], None);
    };
    let length = length.map(|length| length_in(r, found, text, length));
    (*screw, length)
}

fn length_in(r: &mut Reader, found: &Found<'_>, text: &str, length: &str) -> f64 {
    let Some(range) = accept::SCREW_LENGTH.what.range() else { return SCREW_LENGTH };
    match units::read(Kind::Length, length) {
        Ok(read) if (range.least..=range.most).contains(&read.value) => read.value,
        Ok(read) => {
            let message = format!("{} has a length that is not accepted", quoted(text));
            r.wrong(found, message).accepted = Some(range.told(read.system));
            SCREW_LENGTH
        }
        Err(unread) => {
            let problem = r.wrong(found, format!("{} has a length that {}", quoted(text), unread.message));
            problem.hint = unread.hint;
            SCREW_LENGTH
        }
    }
}

/// A length said by the size must not be said again by `length`.
fn only_once(r: &mut Reader, g: &Group<'_>, length: f64) -> f64 {
    if let Some(found) = r.value(g, &accept::SCREW_LENGTH) {
        r.wrong(&found, "is given twice: \"size\" says it too").hint = Some("keep one of the two".into());
    }
    length
}

fn length(r: &mut Reader, g: &Group<'_>, screw: &Screw, top: &Top, plate: f64) -> f64 {
    if let Some(length) = r.quantity_if(g, &accept::SCREW_LENGTH) {
        return length;
    }
    let thinnest = top.thickness_at_legs.iter().copied().fold(top.thickness, f64::min);
    let longest = SCREW_LENGTH.min(plate + thinnest - OVER_TIP);
    let shortest = screw.lengths.first().copied().unwrap_or(SCREW_LENGTH);
    let length = sold(screw, longest).unwrap_or(shortest);
    let system = if screw.system == System::Metric { units::System::Metric } else { units::System::Inch };
    r.assume(g, &accept::SCREW_LENGTH, units::show(Kind::Length, length, system));
    length
}

/// The longest length sold; for inches a little over the preferred length counts too (1 1/4 in for 30 mm).
fn sold(screw: &Screw, longest: f64) -> Option<f64> {
    let slack = if longest < SCREW_LENGTH || screw.system == System::Metric { 0.0 } else { 2.0 };
    screw.length_up_to(longest + slack)
}

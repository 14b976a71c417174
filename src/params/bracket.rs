//! The bracket: [`Bracket`] with its hold, gussets and screws from their keys.

use super::accept;
use super::legs::thread;
use super::reader::{Found, Group, Reader};
use super::spelling::quoted;
use super::value::Value;
use super::{Bracket, Gussets, Hold, Legs, Top, screws};

/// Bore depth over the tube's diameter, and its least, mm.
const SOCKET: (f64, f64) = (1.6, 30.0);

/// Tubes thinner than this get a smaller cross bolt, mm: an M4 hole would take a third of them.
const THIN_TUBE: f64 = 12.0;

/// Reads the bracket.
pub(super) fn bracket(r: &mut Reader, root: &Group<'_>, top: &Top, legs: &Legs) -> Bracket {
    let g = r.group(root, &accept::BRACKET);
    let plate = r.quantity_if(&g, &accept::BRACKET_PLATE);
    let (screws, plate) = screws::screws(r, &g, top, plate);
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
        screws,
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
        r.wrong(&found.path, "is only for a socket with ribs").hint =
            Some("add \"ribs\" to \"hold\", or leave it out".into());
    }
    hold
}

fn given_hold(r: &mut Reader, found: &Found<'_>) -> Hold {
    let Value::Words(words) = found.value else {
        return found.word().map_or(Hold::default(), |word| with(Hold::default(), word));
    };
    let mut hold = Hold::default();
    for (index, word) in words.iter().enumerate() {
        if (*word == "none" && words.len() > 1) || (word.starts_with("cross bolt") && hold.cross_bolt.is_some()) {
            let path = format!("{}[{index}]", found.path);
            r.wrong(&path, format!("{} does not go with the others", quoted(word)));
        }
        hold = with(hold, word);
    }
    hold
}

impl Hold {
    /// The hold of these words, such as `ribs` and `cross bolt M5`.
    pub(crate) fn of_words<'a>(words: impl Iterator<Item = &'a str>, rib_interference: f64) -> Self {
        Self { rib_interference, ..words.fold(Self::default(), with) }
    }

    /// The words that a file has for it.
    pub(crate) fn words(&self) -> Vec<String> {
        let bolt = self.cross_bolt.map(|size| format!("cross bolt M{size}"));
        let words = [self.ribs.then(|| "ribs".to_owned()), self.bonded.then(|| "bonded".to_owned()), bolt];
        words.into_iter().flatten().collect()
    }
}

/// One more way to hold the tube; a cross bolt without size is M4.
fn with(hold: Hold, word: &str) -> Hold {
    match word {
        "ribs" => Hold { ribs: true, ..hold },
        "bonded" => Hold { bonded: true, ..hold },
        "none" => hold,
        "cross bolt" => Hold { cross_bolt: Some(4.0), ..hold },
        bolt => Hold { cross_bolt: Some(thread(bolt).diameter), ..hold },
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

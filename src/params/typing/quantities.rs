//! Quantities, ranges of them and lists.

use crate::params::accept::{Range, Shape};
use crate::params::reader::Reader;
use crate::params::spelling::{quoted, shortened};
use crate::params::text::{self, Node, Written};
use crate::params::value::Value;
use crate::units::{self, Kind, Unread};

/// Ends of a range, `3 Hz to 8 Hz`.
fn ends(text: &str) -> Option<(&str, &str)> {
    let at = text.to_ascii_lowercase().find(" to ")?;
    Some((text[..at].trim(), text[at + " to ".len()..].trim()))
}

/// Quantities.
impl Reader {
    /// A quantity or a range of them: least and most.
    pub(super) fn band_in(&mut self, found: &Written<'_>, range: Range) -> [f64; 2] {
        let Node::Text(text) = &found.value.node else { return [self.quantity_in(found, range); 2] };
        let Some((from, to)) = ends(text) else { return [self.quantity_in(found, range); 2] };
        if from.parse::<f64>().is_ok()
            && let Some(unit) = to.find(|c: char| c.is_alphabetic())
        {
            let hint = format!("write \"{from} {} to {to}\"", to[unit..].trim());
            self.wrong(&found.path, format!("{} has no unit at its beginning", quoted(text))).hint = Some(hint);
            return [range.least; 2];
        }
        let [a, b] = [from, to].map(|end| self.quantity_of(found, end, range));
        if a > b {
            let hint = format!("write \"{to} to {from}\"");
            self.wrong(&found.path, format!("{} runs backwards", quoted(text))).hint = Some(hint);
        }
        [a.min(b), a.max(b)]
    }

    /// A value as a quantity inside a range.
    pub(in crate::params) fn quantity_in(&mut self, found: &Written<'_>, range: Range) -> f64 {
        let text = match &found.value.node {
            Node::Text(text) => text,
            Node::Number(number) => {
                let number = shortened(number);
                let unread = Unread::new("has no unit").meant(range.kind.readings(&number));
                self.unread(found, &number, unread, range);
                return range.least;
            }
            _ => {
                self.mistyped(found, &Shape::Quantity(range));
                return range.least;
            }
        };
        self.quantity_of(found, text, range)
    }

    /// A text, the whole of a value or a part of it, as a quantity inside a range.
    fn quantity_of(&mut self, found: &Written<'_>, text: &str, range: Range) -> f64 {
        match units::read(range.kind, text) {
            Ok(read) => self.bounded(found, text, read, range),
            Err(unread) => {
                self.unread(found, &quoted(text), unread, range);
                range.least
            }
        }
    }

    /// A text that is no quantity: its readings that are accepted here, or what is accepted.
    fn unread(&mut self, found: &Written<'_>, shown: &str, mut unread: Unread, range: Range) {
        let units = self.units();
        unread.meant.sort_by_key(|text| units::read(range.kind, text).is_ok_and(|read| read.system != units));
        let fits = |text: &str| units::read(range.kind, text).is_ok_and(|read| range.holds(read.value));
        let meant = unread.meant.iter().any(|text| fits(text));
        let hint = unread.describe(fits);
        let problem = self.wrong(&found.path, format!("{shown} {}", unread.message));
        problem.accepted = (!meant).then(|| range.describe(units));
        problem.hint = hint;
    }

    /// A length of any size, mm; `most` is what it is told to be. None after a problem.
    pub(in crate::params) fn length_in(&mut self, found: &Written<'_>, most: f64) -> Option<f64> {
        let range = Range { kind: Kind::Length, least: 0.0, most };
        match &found.value.node {
            Node::Text(text) if units::read(range.kind, text).is_ok() => {
                units::read(range.kind, text).ok().map(|read| read.value)
            }
            _ => {
                self.quantity_in(found, range);
                None
            }
        }
    }

    fn bounded(&mut self, found: &Written<'_>, text: &str, read: units::Quantity, range: Range) -> f64 {
        if range.holds(read.value) {
            return read.value.clamp(range.least, range.most);
        }
        let too = too(&found.path, range.kind, read.value < range.least);
        self.wrong(&found.path, format!("{} is too {too}", quoted(text))).accepted = Some(range.describe(read.system));
        range.least
    }

    /// A value as a list of quantities: fewest and most of them.
    pub(super) fn quantities_in(
        &mut self,
        found: &Written<'_>,
        items: &[text::Value],
        what: (Range, usize, usize),
    ) -> Value {
        let (range, least, most) = what;
        self.check_count(found, items.len(), least, most);
        let items = items.iter().take(most).enumerate();
        let items = items.map(|(index, item)| {
            let item = self.item(found, index, item);
            self.quantity_in(&item, range)
        });
        Value::Quantities(range.kind, items.collect())
    }
}

/// `thin` for a thickness, `cold` for a temperature, and so on.
fn too(path: &str, kind: Kind, below: bool) -> &'static str {
    let name = path.rsplit('.').next().unwrap_or(path);
    let thin = ["thickness", "wall", "plate", "floor"].iter().any(|end| name.contains(end)) && !name.contains("above");
    let pair = match kind {
        Kind::Temperature => ("cold", "hot"),
        Kind::Mass | Kind::Density => ("light", "heavy"),
        Kind::Time => ("short", "long"),
        Kind::Length | Kind::Wall if thin => ("thin", "thick"),
        Kind::Length if name.contains("length") => ("short", "long"),
        _ => ("small", "large"),
    };
    if below { pair.0 } else { pair.1 }
}

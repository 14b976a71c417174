//! Quantities, ranges of them and lists.

use super::{Found, Group, Reader};
use crate::params::accept::{Accept, Default, Range, Shape};
use crate::params::spelling::{quoted, shortened};
use crate::params::text::Node;
use crate::units::{self, Kind, System, Unread};

/// Ends of a range, `3 Hz to 8 Hz`.
fn ends(text: &str) -> Option<(&str, &str)> {
    let at = text.to_ascii_lowercase().find(" to ")?;
    Some((text[..at].trim(), text[at + " to ".len()..].trim()))
}

/// Quantities.
impl Reader {
    /// A quantity with a fixed default, or a required one.
    pub(in crate::params) fn quantity(&mut self, group: &Group<'_>, accept: &Accept) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let least = accept.what.range().map_or(0.0, |range| range.least);
        let (Default::Value(text, _), Some(range)) = (accept.without, accept.what.range()) else { return least };
        self.assume(group, accept, text);
        units::read(range.kind, text).map_or(least, |read| read.value)
    }

    /// A quantity that holds only where the file has it.
    pub(in crate::params) fn quantity_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        accept.what.range().map(|range| self.quantity_in(&found, range))
    }

    /// A quantity or a range of them, least and most; only where the file has it.
    pub(in crate::params) fn band_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<[f64; 2]> {
        let (found, Shape::Band(range)) = (self.value(group, accept)?, accept.what) else { return None };
        let Node::Text(text) = &found.value.node else { return Some([self.quantity_in(&found, range); 2]) };
        let Some((from, to)) = ends(text) else { return Some([self.quantity_in(&found, range); 2]) };
        if from.parse::<f64>().is_ok()
            && let Some(unit) = to.find(|c: char| c.is_alphabetic())
        {
            let hint = format!("write \"{from} {} to {to}\"", to[unit..].trim());
            self.wrong(&found, format!("{} has no unit at its beginning", quoted(text))).hint = Some(hint);
            return Some([range.least; 2]);
        }
        let [a, b] = [from, to].map(|end| self.quantity_of(&found, end, range));
        if a > b {
            let hint = format!("write \"{to} to {from}\"");
            self.wrong(&found, format!("{} runs backwards", quoted(text))).hint = Some(hint);
        }
        Some([a.min(b), a.max(b)])
    }

    /// A quantity whose default follows from others.
    pub(in crate::params) fn quantity_else(&mut self, group: &Group<'_>, accept: &Accept, rule: f64) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let kind = accept.what.range().map_or(Kind::Length, |range| range.kind);
        self.assume(group, accept, units::show(kind, rule, System::Metric));
        rule
    }

    /// A value as a quantity inside a range.
    pub(in crate::params) fn quantity_in(&mut self, found: &Found<'_>, range: Range) -> f64 {
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
    fn quantity_of(&mut self, found: &Found<'_>, text: &str, range: Range) -> f64 {
        match units::read(range.kind, text) {
            Ok(read) => self.bounded(found, text, read, range),
            Err(unread) => {
                self.unread(found, &quoted(text), unread, range);
                range.least
            }
        }
    }

    /// A text that is no quantity: its readings that are accepted here, or what is accepted.
    fn unread(&mut self, found: &Found<'_>, shown: &str, mut unread: Unread, range: Range) {
        let units = self.units();
        unread.meant.sort_by_key(|text| units::read(range.kind, text).is_ok_and(|read| read.system != units));
        let fits = |text: &str| units::read(range.kind, text).is_ok_and(|read| range.holds(read.value));
        let meant = unread.meant.iter().any(|text| fits(text));
        let hint = unread.describe(fits);
        let problem = self.wrong(found, format!("{shown} {}", unread.message));
        problem.accepted = (!meant).then(|| range.describe(units));
        problem.hint = hint;
    }

    fn bounded(&mut self, found: &Found<'_>, text: &str, read: units::Quantity, range: Range) -> f64 {
        if range.holds(read.value) {
            return read.value.clamp(range.least, range.most);
        }
        let too = too(&found.path, range.kind, read.value < range.least);
        self.wrong(found, format!("{} is too {too}", quoted(text))).accepted = Some(range.describe(read.system));
        range.least
    }

    /// A list of quantities; none where the file has no such key.
    pub(in crate::params) fn quantities_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<Vec<f64>> {
        let found = self.value(group, accept)?;
        Some(self.quantities_in(&found, &accept.what))
    }

    /// A value as a list of quantities; a single quantity where the shape allows one.
    pub(in crate::params) fn quantities_in(&mut self, found: &Found<'_>, what: &Shape) -> Vec<f64> {
        let (range, least, most) = match list_of(what) {
            Some(list) => list,
            None => return Vec::new(),
        };
        let single = matches!(what, Shape::Either(shapes) if matches!(shapes[0], Shape::Quantity(_)));
        let Node::List(items) = &found.value.node else {
            if single && matches!(found.value.node, Node::Text(_) | Node::Number(_)) {
                return vec![self.quantity_in(found, range)];
            }
            self.mistyped(found, what);
            return Vec::new();
        };
        self.check_count(found, items.len(), least, most);
        let items = items.iter().take(most).enumerate();
        items
            .map(|(index, item)| {
                let found = self.item(found, index, item);
                self.quantity_in(&found, range)
            })
            .collect()
    }
}

fn list_of(what: &Shape) -> Option<(Range, usize, usize)> {
    match what {
        Shape::Quantities(range, least, most) => Some((*range, *least, *most)),
        Shape::Either(shapes) => shapes.iter().find_map(list_of),
        _ => None,
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

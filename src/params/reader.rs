//! Takes values out of the tree by their [`Accept`], and keeps what is wrong, assumed and where it stood.
//!
//! A value that is wrong leaves a problem and stands for the least accepted one, so that reading goes on and every
//! problem is found at once; nothing of it is used once there is a problem.

use std::collections::{BTreeMap, BTreeSet};

use super::Assumed;
use super::accept::{Accept, Choices, KEYS, Range, What, Without, either, span};
use super::family::{self, NOTE};
use super::spelling::{nearest, plain, quoted, shortened};
use super::table::Table;
use super::text::{Entry, Node, Value};
use crate::problem::{Place, Problem, is_printable};
use crate::units::{self, Kind, System, Unread};

/// Most words a message lists.
const LISTED: usize = 12;

/// What has been found so far.
#[derive(Default)]
pub(super) struct Reader {
    pub problems: Vec<Problem>,
    pub assumed: Vec<Assumed>,
    pub places: BTreeMap<String, Place>,
    pub names: BTreeMap<String, String>,
    /// Units of most quantities of the file: messages answer in them.
    pub units: Option<System>,
}

/// An object of the file, or the place where it is missing.
#[derive(Clone)]
pub(super) struct Group<'a> {
    path: String,
    pattern: &'static str,
    place: Place,
    entries: &'a [Entry],
    /// The group itself is a problem already: what it lacks is not told again.
    broken: bool,
}

/// A value with its key path.
#[derive(Clone)]
pub(super) struct Found<'a> {
    pub path: String,
    pub value: &'a Value,
}

impl<'a> Group<'a> {
    /// Path of a key in this group.
    pub(super) fn path(&self, accept: &Accept) -> String {
        let name = accept.name();
        if self.path.is_empty() { name.into() } else { format!("{}.{name}", self.path) }
    }

    /// Path of the group itself.
    pub(super) fn own_path(&self) -> &str {
        &self.path
    }

    /// A group below that the file does not have.
    pub(super) fn below(&self, accept: &Accept, pattern: &'static str) -> Group<'static> {
        Group { path: self.path(accept), pattern, place: self.place, entries: &[], broken: true }
    }

    /// Whether the file has the key.
    pub(super) fn has(&self, accept: &Accept) -> bool {
        self.entries.iter().any(|entry| entry.name == accept.name())
    }

    fn get(&self, name: &str) -> Option<&'a Entry> {
        self.entries.iter().find(|entry| entry.name == name)
    }
}

impl Found<'_> {
    /// The text as it was written, for messages.
    pub(super) fn text(&self) -> String {
        describe(&self.value.node)
    }

    /// What a suggestion puts elsewhere to move this value there: a text without its quotes.
    pub(super) fn words(&self) -> String {
        match &self.value.node {
            Node::Text(text) => text.clone(),
            other => describe(other),
        }
    }
}

impl Reader {
    /// Units of most quantities of the file.
    pub(super) fn units(&self) -> System {
        self.units.unwrap_or(System::Metric)
    }

    /// A length in mm as messages show it, in the units of the file.
    pub(super) fn length(&self, mm: f64) -> String {
        units::show_length(mm, self.units())
    }

    /// The file itself.
    pub(super) fn root<'a>(&mut self, value: &'a Value) -> Group<'a> {
        self.units = Some(family::of(value));
        let Node::Object(entries) = &value.node else {
            self.problems.push(Problem::new(value.place, "", "the file must be one object { ... }"));
            return Group { path: String::new(), pattern: "", place: value.place, entries: &[], broken: true };
        };
        let group = Group { path: String::new(), pattern: "", place: value.place, entries, broken: false };
        self.check_keys(&group);
        group
    }

    /// The value of a key; a missing one that is required is a problem.
    pub(super) fn value<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Option<Found<'a>> {
        let path = group.path(accept);
        let Some(entry) = group.get(accept.name()) else {
            if let (Without::Missing(example), false) = (accept.without, group.broken) {
                let problem = Problem::new(group.place, path, "is missing").accepted(accept.what.told(self.units()));
                let example = family::example(example, self.units());
                self.problems.push(problem.hint(format!("add {example}")));
            }
            return None;
        };
        self.places.insert(path.clone(), entry.value.place);
        Some(Found { path, value: &entry.value })
    }

    /// Notes that a default is used.
    pub(super) fn assume(&mut self, group: &Group<'_>, accept: &Accept, value: impl Into<String>) {
        self.assumed.push(Assumed { key: group.path(accept), value: value.into(), why: accept.why().into() });
    }

    /// Adds a problem at a value.
    pub(super) fn wrong(&mut self, found: &Found<'_>, message: impl Into<String>) -> &mut Problem {
        self.problem_at(found.value.place, found.path.clone(), message)
    }

    fn problem_at(&mut self, place: Place, key: String, message: impl Into<String>) -> &mut Problem {
        self.problems.push(Problem::new(place, key, message));
        let last = self.problems.len() - 1;
        &mut self.problems[last]
    }

    /// Adds a problem of a whole group.
    pub(super) fn wrong_group(&mut self, group: &Group<'_>, message: impl Into<String>) -> &mut Problem {
        self.problem_at(group.place, group.path.clone(), message)
    }

    /// Adds a problem of a value of the wrong shape.
    pub(super) fn mistyped(&mut self, found: &Found<'_>, what: &What) {
        let shape = wanted(what);
        let node = describe(&found.value.node);
        let message = format!("must be {shape}, not {node}");
        let null = matches!(found.value.node, Node::Null);
        let accepted = what.told(self.units());
        let problem = self.wrong(found, message);
        problem.accepted = (accepted != shape).then_some(accepted);
        if null {
            problem.hint = Some("write a value; a key that has a default can be left out".into());
        }
    }
}

/// Groups.
impl Reader {
    /// The object of a key; empty where the file has none.
    pub(super) fn group<'a>(&mut self, group: &Group<'a>, accept: &Accept) -> Group<'a> {
        let broken = group.broken || matches!(accept.without, Without::Missing(_));
        let empty = Group { path: group.path(accept), pattern: accept.key, place: group.place, entries: &[], broken };
        let Some(found) = self.value(group, accept) else { return empty };
        let Node::Object(entries) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Group { place: found.value.place, broken: true, ..empty };
        };
        self.open(found, accept.key, entries)
    }

    /// The same for an object already at hand; `pattern` is the path its keys stand under in [`KEYS`].
    pub(super) fn open<'a>(&mut self, found: Found<'a>, pattern: &'static str, entries: &'a [Entry]) -> Group<'a> {
        let group = Group { path: found.path, pattern, place: found.value.place, entries, broken: false };
        self.check_keys(&group);
        group
    }

    /// The objects of a list.
    pub(super) fn groups<'a>(&mut self, group: &Group<'a>, accept: &Accept, pattern: &'static str) -> Vec<Group<'a>> {
        let Some(found) = self.value(group, accept) else { return Vec::new() };
        let What::Groups(least, most) = accept.what else { return Vec::new() };
        let Node::List(items) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Vec::new();
        };
        self.check_count(&found, items.len(), least, most);
        items.iter().take(most).enumerate().filter_map(|(i, item)| self.item_group(&found, i, item, pattern)).collect()
    }

    fn item_group<'a>(
        &mut self,
        list: &Found<'a>,
        index: usize,
        value: &'a Value,
        pattern: &'static str,
    ) -> Option<Group<'a>> {
        let found = self.item(list, index, value);
        if let Node::Object(entries) = &value.node {
            return Some(self.open(found, pattern, entries));
        }
        self.mistyped(&found, &What::Group);
        None
    }

    /// One item of a list, its place noted.
    pub(super) fn item<'a>(&mut self, list: &Found<'_>, index: usize, value: &'a Value) -> Found<'a> {
        let path = format!("{}[{index}]", list.path);
        self.places.insert(path.clone(), value.place);
        Found { path, value }
    }

    fn check_count(&mut self, found: &Found<'_>, count: usize, least: usize, most: usize) {
        if !(least..=most).contains(&count) {
            let entries = if count == 1 { "entry" } else { "entries" };
            self.wrong(found, format!("has {count} {entries}")).accepted = Some(span(least, most));
        }
    }

    /// Unknown keys of a group, with the nearest spelling.
    fn check_keys(&mut self, group: &Group<'_>) {
        let mut known: Vec<_> = KEYS.iter().filter(|key| key.parent() == group.pattern).map(Accept::name).collect();
        known.push(NOTE);
        let mut seen = BTreeSet::new();
        for entry in group.entries {
            if known.contains(&entry.name.as_str()) || !seen.insert(&entry.name) {
                continue;
            }
            let path = if group.path.is_empty() { String::new() } else { format!("{}.", group.path) };
            let problem = Problem::new(entry.place, format!("{path}{}", shortened(&entry.name)), "is not a key");
            self.problems.push(meant(problem, &entry.name, &known));
        }
    }
}

/// A problem of an unknown key with what was probably meant.
fn meant(problem: Problem, name: &str, known: &[&str]) -> Problem {
    if let Some(near) = nearest(name, known) {
        return problem.hint(format!("did you mean \"{near}\"?"));
    }
    if let Some(elsewhere) = KEYS.iter().find(|key| key.name() == name) {
        return problem.hint(format!("did you mean \"{}\"?", elsewhere.key));
    }
    let list = known.iter().map(|key| format!("\"{key}\"")).collect::<Vec<_>>().join(", ");
    problem.hint(format!("keys here: {list}"))
}

/// Ends of a range, `3 Hz to 8 Hz`.
fn ends(text: &str) -> Option<(&str, &str)> {
    let at = text.to_ascii_lowercase().find(" to ")?;
    Some((text[..at].trim(), text[at + " to ".len()..].trim()))
}

/// Quantities.
impl Reader {
    /// A quantity with a fixed default, or a required one.
    pub(super) fn quantity(&mut self, group: &Group<'_>, accept: &Accept) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let least = accept.what.range().map_or(0.0, |range| range.least);
        let (Without::Value(text, _), Some(range)) = (accept.without, accept.what.range()) else { return least };
        self.assume(group, accept, text);
        units::read(range.kind, text).map_or(least, |read| read.value)
    }

    /// A quantity that holds only where the file has it.
    pub(super) fn quantity_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        accept.what.range().map(|range| self.quantity_in(&found, range))
    }

    /// A quantity or a range of them, least and most; only where the file has it.
    pub(super) fn band_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<[f64; 2]> {
        let (found, What::Band(range)) = (self.value(group, accept)?, accept.what) else { return None };
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
    pub(super) fn quantity_else(&mut self, group: &Group<'_>, accept: &Accept, rule: f64) -> f64 {
        if let Some(value) = self.quantity_if(group, accept) {
            return value;
        }
        let kind = accept.what.range().map_or(Kind::Length, |range| range.kind);
        self.assume(group, accept, units::show(kind, rule, System::Metric));
        rule
    }

    /// A value as a quantity inside a range.
    pub(super) fn quantity_in(&mut self, found: &Found<'_>, range: Range) -> f64 {
        let text = match &found.value.node {
            Node::Text(text) => text,
            Node::Number(number) => {
                let number = shortened(number);
                let unread = Unread::new("has no unit").meant(range.kind.readings(&number));
                self.unread(found, &number, unread, range);
                return range.least;
            }
            _ => {
                self.mistyped(found, &What::Quantity(range));
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
        let hint = unread.told(fits);
        let problem = self.wrong(found, format!("{shown} {}", unread.message));
        problem.accepted = (!meant).then(|| range.told(units));
        problem.hint = hint;
    }

    fn bounded(&mut self, found: &Found<'_>, text: &str, read: units::Quantity, range: Range) -> f64 {
        if range.holds(read.value) {
            return read.value.clamp(range.least, range.most);
        }
        let too = too(&found.path, range.kind, read.value < range.least);
        self.wrong(found, format!("{} is too {too}", quoted(text))).accepted = Some(range.told(read.system));
        range.least
    }

    /// A list of quantities; none where the file has no such key.
    pub(super) fn quantities_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<Vec<f64>> {
        let found = self.value(group, accept)?;
        Some(self.quantities_in(&found, &accept.what))
    }

    /// A value as a list of quantities; a single quantity where the shape allows one.
    pub(super) fn quantities_in(&mut self, found: &Found<'_>, what: &What) -> Vec<f64> {
        let (range, least, most) = match list_of(what) {
            Some(list) => list,
            None => return Vec::new(),
        };
        let single = matches!(what, What::Either(shapes) if matches!(shapes[0], What::Quantity(_)));
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

fn list_of(what: &What) -> Option<(Range, usize, usize)> {
    match what {
        What::Quantities(range, least, most) => Some((*range, *least, *most)),
        What::Either(shapes) => shapes.iter().find_map(list_of),
        _ => None,
    }
}

/// Words, flags, numbers.
impl Reader {
    /// One of a list of words; the index of the default where the file has none.
    pub(super) fn word(&mut self, group: &Group<'_>, accept: &Accept) -> &'static str {
        let words = accept.what.words();
        let Some(found) = self.value(group, accept) else {
            let Without::Value(text, _) = accept.without else { return words[0] };
            self.assume(group, accept, text);
            return text;
        };
        self.word_in(&found, &accept.what)
    }

    /// A value as one of the words of a shape.
    pub(super) fn word_in(&mut self, found: &Found<'_>, what: &What) -> &'static str {
        let words = what.words();
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, what);
            return words[0];
        };
        if let Some(word) = words.iter().find(|word| plain(word) == plain(text)) {
            return word;
        }
        self.unknown(found, text, words, Some(what.told(self.units())));
        words[0]
    }

    /// What the word of a key stands for.
    pub(super) fn choice<T: Copy, const N: usize>(
        &mut self,
        group: &Group<'_>,
        accept: &Accept,
        choices: &Choices<T, N>,
    ) -> T {
        chosen(choices, self.word(group, accept))
    }

    fn unknown(&mut self, found: &Found<'_>, text: &str, words: &[&str], accepted: Option<String>) {
        let near = nearest(text, words).map(|word| format!("did you mean \"{word}\"?"));
        let problem = self.wrong(found, not_known(text));
        problem.accepted = accepted;
        problem.hint = near;
    }

    /// A name of a table's row; none after a problem.
    pub(super) fn row_name(&mut self, found: &Found<'_>, table: Table) -> Option<String> {
        let Node::Text(text) = &found.value.node else {
            self.mistyped(found, &What::Row(table));
            return None;
        };
        let names = table.names();
        if table.has(text) {
            return Some(text.clone());
        }
        let told = if names.len() > LISTED { What::Row(table).told(self.units()) } else { quoted_list(&names) };
        if let Some(instead) = table.unfit(text) {
            self.wrong(found, format!("{} cannot be used", quoted(text))).hint = Some(instead.into());
            return None;
        }
        let like = if text.trim().is_empty() { Vec::new() } else { table.like(text) };
        if like.is_empty() {
            let all: Vec<_> = names.into_iter().chain(table.also()).collect();
            self.unknown(found, text, &all, Some(told));
        } else {
            let problem = self.wrong(found, not_known(text));
            problem.accepted = Some(told);
            problem.hint = Some(which(&like, table));
        }
        if let Some(problem) = self.problems.last_mut() {
            problem.hint.get_or_insert_with(|| format!("\"underframe tables {}\" lists them", table.name()));
        }
        None
    }

    /// `true` or `false`; `rule` where the file does not say.
    pub(super) fn flag(&mut self, group: &Group<'_>, accept: &Accept, rule: bool) -> bool {
        let Some(found) = self.value(group, accept) else {
            self.assume(group, accept, rule.to_string());
            return rule;
        };
        let Node::Flag(flag) = found.value.node else {
            self.mistyped(&found, &accept.what);
            return rule;
        };
        flag
    }

    /// A whole number with a fixed default.
    pub(super) fn count(&mut self, group: &Group<'_>, accept: &Accept) -> usize {
        if let Some(count) = self.count_if(group, accept) {
            return count;
        }
        let Without::Value(text, _) = accept.without else { return 0 };
        self.assume(group, accept, text);
        text.parse().unwrap_or(0)
    }

    /// A whole number that holds only where the file has it.
    pub(super) fn count_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<usize> {
        let found = self.value(group, accept)?;
        Some(self.count_in(&found, &accept.what))
    }

    /// A value as a whole number of a shape.
    pub(super) fn count_in(&mut self, found: &Found<'_>, what: &What) -> usize {
        let (allowed, least) = counts(what);
        let Node::Number(text) = &found.value.node else {
            self.mistyped(found, what);
            return least;
        };
        let number: f64 = text.parse().unwrap_or(f64::NAN);
        let whole = number >= 0.0 && number.fract() == 0.0 && number <= LARGEST_COUNT;
        if whole && allowed(number as usize) {
            return number as usize;
        }
        let message =
            if number.fract() == 0.0 || number.is_infinite() { "is not accepted" } else { "is not a whole number" };
        self.wrong(found, format!("{} {message}", shortened(text))).accepted = Some(what.told(self.units()));
        least
    }

    /// A number without unit that holds only where the file has it.
    pub(super) fn number_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<f64> {
        let found = self.value(group, accept)?;
        let What::Number(least, most) = accept.what else { return None };
        let Node::Number(text) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Some(least);
        };
        let number: f64 = text.parse().unwrap_or(f64::NAN);
        if (least..=most).contains(&number) {
            return Some(number);
        }
        let size = if number < least { "small" } else { "large" };
        let accepted = accept.what.told(self.units());
        self.wrong(&found, format!("{} is too {size}", shortened(text))).accepted = Some(accepted);
        Some(least)
    }

    /// A text that is not empty; none where the file has none.
    pub(super) fn text_if(&mut self, group: &Group<'_>, accept: &Accept) -> Option<String> {
        let found = self.value(group, accept)?;
        let Node::Text(text) = &found.value.node else {
            self.mistyped(&found, &accept.what);
            return Some(String::new());
        };
        let text = text.trim();
        if text.is_empty() || text.chars().count() > LONGEST_TEXT || !text.chars().all(is_printable) {
            let accepted = format!("a text of one line, 1 to {LONGEST_TEXT} characters");
            let message =
                if text.is_empty() { "is empty".into() } else { format!("{} cannot be printed", quoted(text)) };
            self.wrong(&found, message).accepted = Some(accepted);
        }
        Some(text.into())
    }
}

/// Most rows of a table that a hint lists.
const MEANT: usize = 24;

/// Asks which of several rows is meant.
fn which(like: &[&str], table: Table) -> String {
    if let [shown @ .., _] = like
        && shown.len() >= MEANT
    {
        let (shown, more) = (quoted_list_of(&like[..MEANT]), like.len() - MEANT);
        return format!("which one? {shown} and {more} more: \"underframe tables {}\" lists them", table.name());
    }
    format!("did you mean {}?", quoted_list(like))
}

/// `"a", "b", "c"`.
fn quoted_list_of(names: &[&str]) -> String {
    names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", ")
}

/// What is wrong with a name or word that nothing is called by.
fn not_known(text: &str) -> String {
    if text.trim().is_empty() { "is empty".into() } else { format!("{} is not known", quoted(text)) }
}

/// What a word stands for; the word is one of the choices, since a key's words are taken from them.
pub(super) fn chosen<T: Copy, const N: usize>(choices: &Choices<T, N>, word: &str) -> T {
    choices.iter().find(|choice| choice.0 == word).unwrap_or(&choices[0]).1
}

/// `"a", "b" or "c"`.
fn quoted_list(names: &[&str]) -> String {
    either(names.iter().map(|name| format!("\"{name}\"")))
}

/// Largest whole number that is looked at.
const LARGEST_COUNT: f64 = 1e9;

/// Longest title or name, characters: what fits on a line of the papers.
pub(super) const LONGEST_TEXT: usize = 120;

/// Which whole numbers a shape allows, and the least of them.
fn counts(what: &What) -> (Box<dyn Fn(usize) -> bool>, usize) {
    match *what {
        What::Count(least, most) => (Box::new(move |count| (least..=most).contains(&count)), least),
        What::CountOf(list) => (Box::new(|count| list.contains(&count)), list[0]),
        What::Either(shapes) => counts(&shapes[0]),
        _ => (Box::new(|_| false), 0),
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

/// What a shape is called where something else was found.
fn wanted(what: &What) -> String {
    match what {
        What::Quantity(range) => format!("{} in quotes", range.kind.noun()),
        What::Band(range) => format!("{} or a range of them in quotes", range.kind.noun()),
        What::Quantities(range, least, most) => {
            format!("a list of {} quantities, each {}", span(*least, *most), range.kind.noun())
        }
        What::Text | What::Words(_) | What::TubeSize | What::ScrewSize | What::Span(..) => "a text in quotes".into(),
        What::WordList(_) => "a list of texts".into(),
        What::Row(_) => "a name in quotes, or an object".into(),
        What::Count(..) | What::CountOf(_) => "a whole number without quotes".into(),
        What::Number(..) => "a number without quotes".into(),
        What::Flag => "true or false, without quotes".into(),
        What::Point => "a list of two quantities".into(),
        What::Rectangle => "a list of two corners".into(),
        What::Group => "an object { ... }".into(),
        What::Groups(..) => "a list of objects [ { ... } ]".into(),
        What::Either(shapes) => either(shapes.iter().map(wanted)),
    }
}

fn describe(node: &Node) -> String {
    match node {
        Node::Text(text) => quoted(text),
        Node::Number(number) => shortened(number),
        Node::Flag(flag) => flag.to_string(),
        Node::Null => "null".into(),
        Node::List(_) => "a list".into(),
        Node::Object(_) => "an object".into(),
    }
}

//! Values of keys, taken out of [`Params`].

use super::{Accept, BOLTS, Choices, FEET, HOLDS, JOINTS, KEYS, OVERS, Shape, TUBE};
use crate::params::value::{Coordinate, ScrewSize, TubeSize, Value};
use crate::params::{Coupons, FootKind, Hold, JointStiffness, Load, Params, Screws, Spread, Ties, Tube};
use crate::tables::screw;
use crate::units::Kind;

/// Takes a key's value out; numbers stand for quantities, whose kind is that of the key.
pub(in crate::params) type Get = fn(&Params, At) -> Option<Value>;

/// Sets a key's value, or leaves it out; none where that cannot be done in place.
pub(in crate::params) type Set = fn(&mut Params, At, Option<&Value>) -> Option<()>;

/// How a key is got and set.
#[derive(Clone, Copy, Debug)]
pub(in crate::params) struct Access {
    pub get: Get,
    pub set: Set,
}

/// A group, or what the values do not keep.
pub(super) const NONE: Access = read_only(|_, _| None);

/// A key that other values follow from, or that is set in the file only.
pub(super) const fn read_only(get: Get) -> Access {
    Access { get, set: |_, _, _| None }
}

/// Which item of a list a key belongs to, and whose tube.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::params) struct At {
    /// From 0.
    pub item: usize,
    /// The tube is that of the rail, not of the legs.
    pub rail: bool,
}

impl At {
    /// The tube of the legs, or of a rail.
    pub(super) fn tube(self, p: &Params) -> Option<&Tube> {
        if self.rail { p.rails.get(self.item).map(|rail| &rail.tube) } else { Some(&p.legs.tube) }
    }

    /// Path of a key of the legs or of the rail.
    pub(super) fn below(self, key: &str) -> String {
        if self.rail { format!("rails[{}].{key}", self.item) } else { format!("legs.{key}") }
    }
}

/// The row of a key path such as `rails[0].tube.wall`, and what it belongs to.
pub(in crate::params) fn find(path: &str) -> Option<(&'static Accept, At)> {
    let (list, rest) = path.split_once('[').unwrap_or((path, ""));
    if rest.is_empty() {
        return Some((KEYS.iter().find(|key| key.key == list)?, At::default()));
    }
    let (item, rest) = rest.split_once(']')?;
    let item = item.parse().ok()?;
    if list == "rails"
        && let Some(tube) = rest.strip_prefix(".tube.")
    {
        let below = |key: &&Accept| key.key.strip_prefix(TUBE.key).and_then(|key| key.strip_prefix('.')) == Some(tube);
        let key = KEYS.iter().find(below);
        return Some((key?, At { item, rail: true }));
    }
    let key = KEYS.iter().find(|key| key.key.strip_prefix(list).and_then(|key| key.strip_prefix("[]")) == Some(rest));
    Some((key?, At { item, rail: false }))
}

impl Params {
    /// What a key such as `loads[0].mass` says or what is assumed for it; none for a group, for what the layout chooses, and
    /// for what does not hold here.
    #[must_use]
    pub fn value(&self, key: &str) -> Option<Value> {
        let (accept, at) = find(key)?;
        Some(accept.what.of_kind((accept.access.get)(self, at)?))
    }

    /// Sets a key in place, or leaves it out; what follows from it stays as it is. `false` where that cannot be done.
    pub(crate) fn put(&mut self, key: &str, value: Option<&Value>) -> bool {
        find(key).is_some_and(|(accept, at)| (accept.access.set)(self, at, value).is_some())
    }
}

impl Shape {
    /// Plain numbers as quantities of this shape.
    fn of_kind(&self, value: Value) -> Value {
        match (value, self, self.range()) {
            (Value::Number(divisor), Self::Span(..), _) => Value::Span(divisor),
            (Value::Number(number), _, Some(range)) => Value::Quantity(range.kind, number),
            (Value::Quantities(_, ends), Self::Band(range), _) => Value::Band(range.kind, [ends[0], ends[1]]),
            (Value::Quantities(_, list), Self::Either([Self::Quantity(range), ..]), _)
                if list.windows(2).all(|two| two[0] == two[1]) =>
            {
                Value::Quantity(range.kind, list[0])
            }
            (Value::Quantities(kind, list), Self::Either([Self::Quantities(..), Self::Quantities(..)]), _) => {
                Value::Quantities(kind, list)
            }
            (Value::Quantities(_, list), _, Some(range)) => Value::Quantities(range.kind, list),
            (value, ..) => value,
        }
    }
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<usize> for Value {
    fn from(count: usize) -> Self {
        Self::Count(count)
    }
}

impl From<bool> for Value {
    fn from(flag: bool) -> Self {
        Self::Flag(flag)
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

impl From<Vec<f64>> for Value {
    fn from(list: Vec<f64>) -> Self {
        Self::Quantities(Kind::Length, list)
    }
}

/// A field of [`Params`] that a key is.
pub(super) trait Held {
    fn got(&self) -> Option<Value>;
    /// None where the value is of another kind, or the field cannot be empty.
    fn put(&mut self, value: Option<&Value>) -> Option<()>;
}

impl Held for f64 {
    fn got(&self) -> Option<Value> {
        Some(Value::Number(*self))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        let (Value::Quantity(_, number) | Value::Number(number) | Value::Span(number)) = value? else { return None };
        *self = *number;
        Some(())
    }
}

impl Held for usize {
    fn got(&self) -> Option<Value> {
        Some(Value::Count(*self))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        let Value::Count(count) = value? else { return None };
        *self = *count;
        Some(())
    }
}

impl Held for bool {
    fn got(&self) -> Option<Value> {
        Some(Value::Flag(*self))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        let Value::Flag(flag) = value? else { return None };
        *self = *flag;
        Some(())
    }
}

impl Held for String {
    fn got(&self) -> Option<Value> {
        Some(Value::Text(self.clone()))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        let Value::Text(text) = value? else { return None };
        self.clone_from(text);
        Some(())
    }
}

impl<T: Held + Default> Held for Option<T> {
    fn got(&self) -> Option<Value> {
        self.as_ref()?.got()
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        let Some(value) = value else {
            *self = None;
            return Some(());
        };
        let mut inner = T::default();
        inner.put(Some(value))?;
        *self = Some(inner);
        Some(())
    }
}

impl<const N: usize> Held for [f64; N] {
    fn got(&self) -> Option<Value> {
        Some(Value::Quantities(Kind::Length, self.to_vec()))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        match value? {
            Value::Quantity(_, one) => *self = [*one; N],
            Value::Quantities(_, list) => *self = list[..].try_into().ok()?,
            _ => return None,
        }
        Some(())
    }
}

/// A list that is empty where the file does not say it.
impl Held for Vec<f64> {
    fn got(&self) -> Option<Value> {
        (!self.is_empty()).then(|| Value::Quantities(Kind::Length, self.clone()))
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        *self = match value {
            None => Vec::new(),
            Some(Value::Quantities(_, list)) => list.clone(),
            Some(_) => return None,
        };
        Some(())
    }
}

impl Held for Coupons {
    fn got(&self) -> Option<Value> {
        let value = match self {
            Self::Strengths(all) => Value::Quantities(Kind::Stress, all.clone()),
            Self::Loads(all) => Value::Quantities(Kind::Force, all.clone()),
        };
        (!self.is_empty()).then_some(value)
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        *self = match value {
            None => Self::Strengths(Vec::new()),
            Some(Value::Quantities(Kind::Stress, all)) => Self::Strengths(all.clone()),
            Some(Value::Quantities(Kind::Force, all)) => Self::Loads(all.clone()),
            Some(_) => return None,
        };
        Some(())
    }
}

impl Held for Hold {
    fn got(&self) -> Option<Value> {
        Some(self.value())
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        *self = match value? {
            Value::Words(words) => Self::of_words(words.iter().copied(), self.rib_interference),
            Value::Word(word) => Self::of_words(std::iter::once(*word), self.rib_interference),
            _ => return None,
        };
        Some(())
    }
}

impl Held for Ties {
    fn got(&self) -> Option<Value> {
        Some(match self {
            Self::Even(count) => Value::Count(*count),
            Self::At(heights) => Value::Quantities(Kind::Length, heights.clone()),
        })
    }

    fn put(&mut self, value: Option<&Value>) -> Option<()> {
        *self = match value? {
            Value::Count(count) => Self::Even(*count),
            Value::Quantities(_, heights) => Self::At(heights.clone()),
            _ => return None,
        };
        Some(())
    }
}

pub(super) fn say(value: impl Into<Value>) -> Option<Value> {
    Some(value.into())
}

pub(super) fn maybe(value: Option<impl Into<Value>>) -> Option<Value> {
    value.map(Into::into)
}

pub(super) fn word<T: PartialEq, const N: usize>(choices: &Choices<T, N>, value: T) -> Option<Value> {
    choices.iter().find(|choice| choice.1 == value).map(|choice| Value::Word(choice.0))
}

/// Beginning of the names that the user's own rows have.
const OWN: &str = "own ";

/// The name of a row of a table.
pub(super) fn row(name: &'static str) -> Option<Value> {
    (!name.starts_with(OWN)).then_some(Value::Row(name))
}

/// A row where it is the user's own.
pub(super) fn own<T>(row: &T, name: fn(&T) -> &'static str) -> Option<&T> {
    name(row).starts_with(OWN).then_some(row)
}

/// What the user calls an own row.
pub(super) fn name(p: &Params, key: &str) -> Option<Value> {
    p.names.get(key).map(|name| name.as_str().into())
}

impl Hold {
    /// The words that a file has for it.
    pub(crate) fn value(&self) -> Value {
        let said = self.words();
        let words: Vec<_> = HOLDS.iter().copied().filter(|word| said.iter().any(|said| said == word)).collect();
        if words.is_empty() { Value::Word("none") } else { Value::Words(words) }
    }
}

pub(super) fn joint(stiffness: JointStiffness) -> Option<Value> {
    match stiffness {
        JointStiffness::Given(figure) => say(figure),
        other => word(&JOINTS, other),
    }
}

/// Keys of a foot, as far as its kind has them.
#[derive(Default)]
pub(super) struct Foot {
    pub kind: Option<Value>,
    pub bolt: Option<Value>,
    pub stand_off: Option<f64>,
    pub pad_diameter: Option<f64>,
    pub pad_thickness: Option<f64>,
}

pub(super) fn foot(kind: &FootKind) -> Foot {
    let [flat, levelling] = [FEET[0], FEET[1]].map(|word| Some(Value::Word(word)));
    match *kind {
        FootKind::Flat { pad_diameter, pad_thickness } => {
            Foot { kind: flat, pad_diameter: Some(pad_diameter), pad_thickness: Some(pad_thickness), ..Foot::default() }
        }
        FootKind::Levelling { bolt, stand_off } => Foot {
            kind: levelling,
            bolt: BOLTS.iter().find(|name| **name == bolt.name).map(|name| Value::Word(name)),
            stand_off: Some(stand_off),
            ..Foot::default()
        },
    }
}

pub(super) fn tube_size(tube: &Tube) -> Option<Value> {
    Some(Value::Tube(TubeSize { name: tube.name.clone(), outside: tube.outside, wall: tube.wall }))
}

pub(super) fn screw_size(screws: &Screws) -> Option<Value> {
    let row = row(screws.screw.name)?;
    let Value::Row(row) = row else { return None };
    Some(Value::Screw(ScrewSize { row, length: Some(screws.length) }))
}

/// A screw with its length.
pub(super) fn put_screw(screws: &mut Screws, value: Option<&Value>) -> Option<()> {
    let Value::Screw(ScrewSize { row, length: Some(length) }) = value? else { return None };
    (screws.screw, screws.length) = (*screw::find(row)?, *length);
    Some(())
}

/// Mass, or force where there is none; neither where a moving mass says it.
pub(super) fn weight(load: &Load) -> [Option<f64>; 2] {
    let moving = load.shaking.as_ref().is_some_and(|shaking| shaking.moving.is_some());
    let mass = load.mass > 0.0;
    [mass.then_some(load.mass), (!mass && !moving).then_some(load.force)]
}

pub(super) fn over(on: Spread) -> Option<Value> {
    match on {
        Spread::Rectangle(low, high) => {
            Some(Value::Rectangle([low, high].map(|corner| corner.map(Coordinate::Length))))
        }
        on => word(&OVERS, on),
    }
}

pub(super) fn point(on: Spread) -> Option<Value> {
    if let Spread::Point(at) = on { Some(Value::Point(at.map(Coordinate::Length))) } else { None }
}

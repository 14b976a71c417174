//! The whole file: text in, [`Params`] or every problem out.

use super::accept::{self, KEYS};
use super::reader::{Group, Reader};
use super::value::Entries;
use super::{Design, Params, bracket, legs, loads, printing, support, text, top};
use crate::problem::{Place, Problem};
use crate::units::System;

/// Reads a parameter file.
///
/// # Errors
/// Every problem of the file, in the order of the lines; a file that is no JSON has one.
pub fn read(text: &str) -> Result<Params, Vec<Problem>> {
    read_bytes(text.as_bytes())
}

/// Reads a parameter file as it lies on the disk: UTF-8, with or without byte order mark.
///
/// # Errors
/// As [`read`]; other encodings are named.
pub fn read_bytes(bytes: &[u8]) -> Result<Params, Vec<Problem>> {
    read_design(bytes).map(|(_, params)| params)
}

/// Reads a parameter file as typed values, and what follows from them.
///
/// # Errors
/// As [`read_bytes`].
pub fn read_design(bytes: &[u8]) -> Result<(Design, Params), Vec<Problem>> {
    let (file, twice) = text::tree(bytes).map_err(|problem| vec![problem])?;
    let mut reader = Reader { problems: twice, ..Reader::default() };
    let typed = reader.typed(&file);
    let design = written(&reader, typed.clone(), file.place);
    let params = resolved(reader, typed.as_ref(), file.place)?;
    Ok((design, params))
}

/// What a file says; none where it cannot be read.
pub(super) fn typed(bytes: &[u8]) -> Option<Design> {
    let (file, twice) = text::tree(bytes).ok()?;
    let mut reader = Reader { problems: twice, ..Reader::default() };
    let typed = reader.typed(&file);
    reader.problems.is_empty().then(|| written(&reader, typed, file.place))
}

fn written(reader: &Reader, typed: Option<Entries>, place: Place) -> Design {
    let (places, words) = (reader.places.clone(), reader.words.clone());
    Design { entries: typed.unwrap_or_default(), place, places, words, units: reader.units() }
}

impl Design {
    /// What follows from the values: every default in place.
    ///
    /// # Errors
    /// Every problem of values that do not go with one another, as [`read`].
    pub fn resolve(&self) -> Result<Params, Vec<Problem>> {
        let reader = Reader {
            places: self.places.clone(),
            words: self.words.clone(),
            units: Some(self.units),
            ..Reader::default()
        };
        resolved(reader, Some(&self.entries), self.place)
    }
}

fn resolved(mut reader: Reader, file: Option<&Entries>, place: Place) -> Result<Params, Vec<Problem>> {
    let root = reader.root(file, place);
    let params = params(&mut reader, &root);
    if reader.problems.is_empty() {
        return Ok(finish(params, reader));
    }
    reader.problems.sort_by_cached_key(|one| (one.place, rank(&one.key), one.clone()));
    reader.problems.dedup();
    Err(once_for_all(reader.problems))
}

/// Problems of which several entries of a list have the same, told once, at the first, with the others listed.
fn once_for_all(problems: Vec<Problem>) -> Vec<Problem> {
    let mut told: Vec<(Problem, Vec<usize>)> = Vec::new();
    for problem in problems {
        let entry = entry(&problem.key);
        let same = |old: &Problem| {
            let (one, other) = (self::entry(&old.key), entry);
            let list = one.zip(other).is_some_and(|(one, other)| one.0 == other.0);
            list && old.message == problem.message && old.accepted == problem.accepted && old.hint == problem.hint
        };
        match told.iter_mut().find(|(old, _)| same(old)) {
            Some((_, entries)) => entries.extend(entry.map(|(_, index)| index + 1)),
            None => {
                let first = entry.map(|(_, index)| index + 1);
                told.push((problem, first.into_iter().collect()));
            }
        }
    }
    told.into_iter().map(|(problem, entries)| with_entries(problem, &entries)).collect()
}

/// The list and the index of a key that is an entry, such as `top.thickness_at_legs[2]`.
fn entry(key: &str) -> Option<(&str, usize)> {
    let (list, index) = key.strip_suffix(']')?.rsplit_once('[')?;
    Some((list, index.parse().ok()?))
}

fn with_entries(problem: Problem, entries: &[usize]) -> Problem {
    let (Some((list, _)), Some((last, rest))) = (entry(&problem.key), entries.split_last()) else { return problem };
    if rest.is_empty() {
        return problem;
    }
    let noun = if list == accept::TOP_AT_LEGS.key { "legs" } else { "entries" };
    let rest: Vec<String> = rest.iter().map(ToString::to_string).collect();
    let message = format!("{} ({noun} {} and {last})", problem.message, rest.join(", "));
    Problem { key: list.into(), message, ..problem }
}

fn params(r: &mut Reader, root: &Group<'_>) -> Params {
    let title = r.text_if(root, &accept::TITLE).unwrap_or_else(|| {
        r.assume(root, &accept::TITLE, accept::TITLE.default_text());
        accept::TITLE.default_text().into()
    });
    let (legs_group, count) = legs::count(r, root);
    let top = top::top(r, root, count);
    r.top = r.is_sound(accept::TOP.key).then_some([top.length, top.width]);
    let height = r.quantity(root, &accept::HEIGHT);
    let (legs, rails) = legs::legs(r, root, &legs_group, count, &top);
    Params {
        title,
        height,
        bracket: bracket::bracket(r, root, &top, &legs),
        tie: legs::tie(r, root, &legs, &rails),
        foot: legs::foot(r, root, &legs),
        joints: support::joints(r, root),
        printing: printing::printing(r, root),
        loads: loads::loads(r, root),
        usage: r.choice(root, &accept::USE, &accept::USES),
        place: support::surroundings(r, root),
        life: r.quantity(root, &accept::LIFE),
        limits: support::limits(r, root),
        cutting: support::cutting(r, root),
        drilling: support::drilling(r, root),
        top,
        legs,
        rails,
        units: System::Metric,
        trial: false,
        plate_grows: true,
        assumed: Vec::new(),
        names: std::collections::BTreeMap::new(),
        places: std::collections::BTreeMap::new(),
    }
}

fn finish(params: Params, reader: Reader) -> Params {
    let units = reader.units();
    let Reader { mut assumed, names, places, .. } = reader;
    assumed.sort_by_cached_key(|one| rank(&one.key));
    Params { units, assumed, names, places, ..params }
}

/// Position of a key path in the table of keys; tubes of rails follow their rail.
fn rank(path: &str) -> (usize, usize) {
    let of = |key: &str| KEYS.iter().position(|accept| accept.key == key).unwrap_or(KEYS.len());
    match accept::find(path) {
        Some((key, at)) if at.rail => (of(accept::RAIL_TUBE.key), of(key.key)),
        Some((key, _)) => (of(key.key), 0),
        None => (KEYS.len(), 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params::{FootKind, Spread, built_in};

    /// Only what is required.
    const SMALL: &str = r#"{
  "top": { "length": "900 mm", "width": "500 mm", "thickness": "20 mm" },
  "height": "700 mm",
  "legs": { "tube": "25 x 2 mm" },
  "loads": [{ "mass": "30 kg" }]
}"#;

    fn problems(text: &str) -> String {
        let list = read(text).expect_err("has problems");
        list.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn the_built_in_bench_is_read_as_it_is_written() {
        let p = read(built_in()).unwrap_or_else(|list| panic!("{list:?}"));
        assert_eq!((p.top.length, p.top.thickness_at_legs.len(), p.legs.tubes), (1500.0, 4, 3));
        assert_eq!((p.legs.tube.outside, p.legs.tube.measured, p.bracket.screws.length), (16.0, 15.96, 35.0));
        assert_eq!(
            p.foot.kind,
            FootKind::Levelling { bolt: crate::tables::bolt::find("M10").expect("a row"), stand_off: 20.0 }
        );
        assert_eq!(p.loads[1].on, Spread::Point([750.0, 70.0]));
        assert_eq!(p.bracket.hold.cross_bolt, Some(5.0));
        assert!(p.bracket.hold.ribs && !p.bracket.hold.bonded);
        assert_eq!(p.place.humidity, [0.4, 0.8]);
        assert_eq!(p.place_of("top.thickness").line, 6);
    }

    #[test]
    fn what_is_not_said_is_assumed_and_told_in_the_order_of_the_keys() {
        let p = read(SMALL).unwrap_or_else(|list| panic!("{list:?}"));
        assert_eq!(p.top.wood.name, "western redcedar");
        assert_eq!((p.legs.inset_from_ends, p.legs.inset_from_sides), (120.0, 83.0));
        assert_eq!((p.bracket.socket_depth, p.bracket.screws.length), (40.0, 30.0));
        let keys: Vec<_> = p.assumed.iter().map(|one| one.key.as_str()).collect();
        assert!(keys.starts_with(&["title", "top.wood", "top.grain"]), "{keys:?}");
        assert!(keys.ends_with(&["cutting.end_play", "drilling.stick_out", "drilling.chuck"]), "{keys:?}");
        assert!(keys.windows(2).all(|pair| rank(pair[0]) <= rank(pair[1])));
        assert!(p.assumed.iter().all(|one| !one.value.is_empty() && !one.why.is_empty()));
    }

    #[test]
    fn a_default_written_into_the_file_changes_nothing() {
        let p = read(SMALL).unwrap_or_else(|list| panic!("{list:?}"));
        let given =
            SMALL.replace("\"900 mm\"", "\"900 mm\", \"wood\": \"western redcedar\", \"grain\": \"along length\"");
        let q = read(&given).unwrap_or_else(|list| panic!("{list:?}"));
        assert_eq!((p.top.wood, p.top.grain), (q.top.wood, q.top.grain));
        assert_eq!(p.assumed.len(), q.assumed.len() + 2);
    }

    #[test]
    fn all_problems_are_told_at_once_in_the_order_of_the_lines() {
        let text = SMALL.replace("900 mm", "900").replace("25 x 2 mm", "25 x 13 mm").replace("mass", "mas");
        let told = problems(&text);
        let order = [
            "top.length: \"900\" has no unit",
            "legs.tube: \"25 x 13 mm\"",
            "loads[0] has neither",
            "loads[0].mas is not",
        ];
        let places: Vec<_> =
            order.iter().map(|part| told.find(part).unwrap_or_else(|| panic!("{part}: {told}"))).collect();
        assert!(places.is_sorted(), "{told}");
    }

    #[test]
    fn ranges_are_told_in_the_unit_of_the_user() {
        let told = problems(&SMALL.replace("20 mm", "1/4 in"));
        assert!(told.contains("\"1/4 in\" is too thin\n    accepted: 0.473 in to 4.72 in (12 mm to 120 mm)"), "{told}");
    }

    #[test]
    fn a_missing_group_is_one_problem() {
        let told = problems("{}");
        assert_eq!(told.matches("is missing").count(), 4, "{told}");
    }

    #[test]
    fn an_own_material_replaces_the_numbers_that_are_given() {
        let wood = r#""wood": { "name": "barn oak", "like": "European oak", "density": "650 kg/m3" }, "width""#;
        let p = read(&SMALL.replace("\"width\"", wood)).unwrap_or_else(|list| panic!("{list:?}"));
        let oak = crate::tables::wood::find("European oak").expect("a row");
        assert_eq!((p.top.wood.name, p.top.wood.density), ("own wood", 650.0));
        assert_eq!(p.top.wood.e_along, oak.e_along);
        assert_eq!(p.wood_name(), "barn oak");
    }

    #[test]
    fn notes_are_ignored_anywhere() {
        let text = SMALL.replace("\"length\"", "\"note\": [1, {\"a\": null}], \"length\"");
        assert!(read(&text).is_ok());
    }
}

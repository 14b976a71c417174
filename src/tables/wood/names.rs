//! What woods are called in the trade: other names of one row, words that may mean several, and what is no wood.

use super::{ALL, Kind, names};
use crate::tables::{find_in, key};

/// Other names in the trade that mean one row, sorted; a name that could mean two rows stays out.
#[rustfmt::skip]
pub(super) const ALSO: &[(&str, &str)] = &[
    ("Alaska cedar", "yellow-cedar"), ("alder", "red alder"), ("American ash", "white ash"),
    ("American basswood", "basswood"), ("American beech", "beech"), ("American cherry", "black cherry"),
    ("American walnut", "black walnut"), ("Baltic birch plywood", "birch plywood"), ("bamboo", "bamboo panel"),
    ("black gum", "black tupelo"), ("cherry", "black cherry"), ("chipboard", "particleboard"),
    ("cucumber tree", "cucumbertree"), ("cypress", "baldcypress"), ("eastern larch", "tamarack"),
    ("eastern red cedar", "eastern redcedar"), ("laminated bamboo", "bamboo panel"), ("mangium", "acacia mangium"),
    ("mango wood", "mango"), ("medium density fibreboard", "MDF"), ("Oregon pine", "Douglas fir"),
    ("oriented strand board", "OSB"), ("parawood", "rubberwood"), ("pecan", "pecan hickory"),
    ("robinia", "black locust"), ("rubber wood", "rubberwood"), ("shisham", "sheesham"), ("sweet gum", "sweetgum"),
    ("tulipwood", "yellow-poplar"), ("walnut", "black walnut"), ("western red cedar", "western redcedar"),
    ("white walnut", "butternut"),
];

/// Words of the trade that mean several rows whose names do not say so, sorted.
#[rustfmt::skip]
const GROUPS: &[(&str, &[&str])] = &[
    ("acacia", &["acacia mangium", "black locust"]),
    ("gum", &["black tupelo", "sweetgum", "water tupelo"]),
    ("hard maple", &["black maple", "sugar maple"]),
    ("hem fir", &["California red fir", "grand fir", "noble fir", "Pacific silver fir", "western hemlock", "white fir"]),
    ("larch", &["European larch", "tamarack", "western larch"]),
    ("magnolia", &["cucumbertree", "southern magnolia"]),
    ("soft maple", &["bigleaf maple", "red maple", "silver maple"]),
    ("southern pine", &["loblolly pine", "longleaf pine", "shortleaf pine", "slash pine"]),
    ("southern yellow pine", &["loblolly pine", "longleaf pine", "shortleaf pine", "slash pine"]),
    ("SPF", &["balsam fir", "black spruce", "Engelmann spruce", "lodgepole pine", "red spruce", "white spruce"]),
    ("yellow pine", &["loblolly pine", "longleaf pine", "shortleaf pine", "slash pine"]),
];

/// Words for a whole kind.
const CLASSES: &[(&str, Kind)] =
    &[("conifer", Kind::Softwood), ("hardwood", Kind::Hardwood), ("softwood", Kind::Softwood)];

/// Words that names of rows are joined with: western redcedar is a cedar.
const JOINED: [&str; 2] = ["cedar", "locust"];

/// Parts of names of things that no screw holds in.
const HOLLOW: [&str; 4] = ["cardboard core", "hollow core", "hollow door", "honeycomb"];

/// What to do instead of screwing into a hollow sheet.
const INSTEAD: &str = "screws have nothing to hold in between its skins: use a solid top or a solid-core door and name what \
    its core is made of (particleboard, MDF), or glue boards of solid wood under it where the legs stand and make those \
    the top of this file";

/// The row that another name means.
pub(super) fn meant(name: &str) -> Option<&'static str> {
    find_in(ALSO, name, |(also, _)| also).map(|(_, meant)| *meant)
}

/// The other names that [`super::find`] knows, sorted.
#[must_use]
pub fn also() -> Vec<&'static str> {
    ALSO.iter().map(|(also, _)| *also).collect()
}

/// Rows that a word may mean: those whose names hold every word of `name`, those of a trade word, or a whole class such
/// as `softwood`. For hints when [`super::find`] gives nothing.
#[must_use]
pub fn like(name: &str) -> Vec<&'static str> {
    let wanted = key(name);
    if let Some((_, rows)) = find_in(GROUPS, name, |(word, _)| word) {
        return rows.to_vec();
    }
    if let Some((_, kind)) = find_in(CLASSES, wanted.trim_end_matches('s'), |(word, _)| word) {
        return ALL.iter().filter(|wood| wood.kind == *kind).map(|wood| wood.name).collect();
    }
    let is = |part: &str, word: &str| part == word || (JOINED.contains(&word) && part.ends_with(word));
    let holds = |known: &&str| wanted.split(' ').all(|word| key(known).split(' ').any(|part| is(part, word)));
    names().into_iter().filter(holds).collect()
}

/// What to do where a name means something that no screw holds in; none for woods.
#[must_use]
pub fn unfit(name: &str) -> Option<&'static str> {
    let name = key(name);
    HOLLOW.iter().any(|part| name.contains(part)).then_some(INSTEAD)
}

#[cfg(test)]
mod tests {
    use super::super::find;
    use super::*;

    #[test]
    fn trade_names_mean_one_row() {
        assert!(ALSO.is_sorted_by(|a, b| a.0.to_lowercase() < b.0.to_lowercase()));
        for (also, meant) in ALSO {
            assert!(find_in(ALL, also, |w| w.name).is_none(), "{also} is a row of its own");
            assert_eq!(find(also).map(|w| w.name), Some(*meant));
        }
    }

    #[test]
    fn bare_words_meant_one_wood_in_silence() {
        let several = [
            "acacia",
            "ash",
            "aspen",
            "birch",
            "cedar",
            "conifer",
            "cottonwood",
            "elm",
            "fir",
            "gum",
            "hard maple",
            "hardwood",
            "hemlock",
            "hickory",
            "larch",
            "locust",
            "magnolia",
            "maple",
            "oak",
            "pine",
            "poplar",
            "red oak",
            "redwood",
            "soft maple",
            "softwood",
            "Softwoods",
            "SPF",
            "spruce",
            "sycamore",
            "tupelo",
            "white pine",
        ];
        for word in several {
            assert_eq!(find(word), None, "{word}");
            let rows = like(word);
            assert!(rows.len() > 1 && rows.iter().all(|name| find(name).is_some()), "{word}: {rows:?}");
        }
        assert!(GROUPS.is_sorted_by(|a, b| a.0.to_lowercase() < b.0.to_lowercase()));
        assert!(GROUPS.iter().flat_map(|(_, rows)| *rows).all(|name| find(name).is_some_and(|w| w.name == *name)));
        assert_eq!(like("red oak"), ["northern red oak", "southern red oak"]);
        let oaks = like("Oak");
        assert!(["European oak", "northern red oak", "white oak"].iter().all(|name| oaks.contains(name)), "{oaks:?}");
        assert!(like("cedar").contains(&"western redcedar") && !like("softwood").contains(&"softwood plywood"));
        assert!(like("granite").is_empty());
    }

    #[test]
    fn a_hollow_door_was_no_word_at_all() {
        for name in ["hollow core", "Hollow-Core door", "honeycomb panel", "hollow door"] {
            assert!(unfit(name).is_some() && find(name).is_none(), "{name}");
        }
        assert!(ALL.iter().all(|wood| unfit(wood.name).is_none()));
    }
}

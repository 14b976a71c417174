//! Words that a key accepts, with what each stands for.

use crate::params::{Base, Duration, Head, JointStiffness, Run, Sawn, Side, Spread, Use};

/// Words with what each stands for.
pub(in crate::params) type Choices<T, const N: usize> = [(&'static str, T); N];

/// The words alone.
pub(super) const fn words<T: Copy, const N: usize>(choices: &Choices<T, N>) -> [&'static str; N] {
    let mut words = [""; N];
    let mut i = 0;
    while i < N {
        words[i] = choices[i].0;
        i += 1;
    }
    words
}

/// The two runs.
pub(in crate::params) const RUNS: Choices<Run, 2> =
    [("along length", Run::AlongLength), ("along width", Run::AlongWidth)];

/// How boards are sawn.
pub(in crate::params) const SAWN: Choices<Sawn, 2> = [("flat", Sawn::Flat), ("quarter", Sawn::Quarter)];

/// Ways to hold a tube.
pub(in crate::params) const HOLDS: &[&str] =
    &["ribs", "bonded", "cross bolt", "cross bolt M3", "cross bolt M4", "cross bolt M5", "cross bolt M6", "none"];

/// Head forms.
pub(in crate::params) const HEADS: Choices<Head, 3> =
    [("pan", Head::Pan), ("washer", Head::Washer), ("countersunk", Head::Countersunk)];

/// Feet.
pub(in crate::params) const FEET: &[&str] = &["flat", "levelling"];

/// Levelling bolts, each a row of the table of bolts.
pub(in crate::params) const BOLTS: &[&str] = &["M6", "M8", "M10", "M12"];

/// Supports of a foot.
pub(in crate::params) const BASES: Choices<Base, 2> = [("pinned", Base::Pinned), ("fixed", Base::Fixed)];

/// Words for the joint.
pub(in crate::params) const JOINTS: Choices<JointStiffness, 2> =
    [("estimated", JointStiffness::Estimated), ("rigid", JointStiffness::Rigid)];

/// Loads that need no numbers for their place.
pub(in crate::params) const OVERS: Choices<Spread, 5> = [
    ("whole top", Spread::Whole),
    ("front edge", Spread::Edge(Side::Front)),
    ("back edge", Spread::Edge(Side::Back)),
    ("left edge", Spread::Edge(Side::Left)),
    ("right edge", Spread::Edge(Side::Right)),
];

/// Durations, shortest first.
pub(in crate::params) const LASTS: Choices<Duration, 6> = [
    ("seconds", Duration::Seconds),
    ("minutes", Duration::Minutes),
    ("hours", Duration::Hours),
    ("days", Duration::Days),
    ("months", Duration::Months),
    ("years", Duration::Years),
];

/// How hard a table is used.
pub(in crate::params) const USES: Choices<Use, 3> =
    [("light", Use::Light), ("household", Use::Household), ("hard", Use::Hard)];

/// Directions of a force, as unit vectors.
pub(in crate::params) const DIRECTIONS: Choices<[f64; 3], 5> = [
    ("down", [0.0, 0.0, -1.0]),
    ("+x", [1.0, 0.0, 0.0]),
    ("-x", [-1.0, 0.0, 0.0]),
    ("+y", [0.0, 1.0, 0.0]),
    ("-y", [0.0, -1.0, 0.0]),
];

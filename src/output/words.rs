//! Checks and verdict in words: one place for what the terminal, the sheets and the lists say.

use crate::checks::{
    Check, CheckId, Checked, Component, Concern, Cures, Subject, Under, Undone, Verdict, When, is_full,
};
use crate::formats::number::short;
use crate::mechanics::{Estimate, Motion, Origin};
use crate::model::rail_name;
use crate::parts::PartKind;
use crate::problem::{Place, Problem};

/// Utilisations above this are told as more than it (judgement: a hundred times the limit or a thousand, nobody acts
/// otherwise).
const MOST: f64 = 100.0;

/// A utilisation for people, with two decimals.
#[must_use]
pub fn used(utilisation: f64) -> String {
    if utilisation <= MOST { format!("{utilisation:.2}") } else { format!("more than {MOST}") }
}

/// What a worst check of this utilisation leaves, where it passes and leaves little; else empty.
#[must_use]
pub fn reserve(utilisation: f64) -> &'static str {
    match Verdict::of(utilisation) {
        Verdict::Tight if is_full(utilisation) => ", nothing left in reserve",
        Verdict::Tight => ", less than a fifth in reserve",
        Verdict::Adequate | Verdict::NotAdequate => "",
    }
}

impl CheckId {
    /// What it is called, such as `screws: withdrawal`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::DriverRoom => "assembly: room for the driver",
            Self::BossRoot => "bracket: boss root across the layers",
            Self::GussetToe => "bracket: gusset toe across the layers",
            Self::PlateBending => "bracket: plate bending",
            Self::HeadPressure => "bracket: pressure under screw heads",
            Self::HeadPullThrough => "bracket: screw head pulled through",
            Self::BracketSocket => "bracket: socket pressure",
            Self::SocketSplit => "bracket: socket wall split",
            Self::TubePulledOut => "bracket: tube pulled out",
            Self::WoodAboveTips => "drilling: wood left above the tips",
            Self::LevellingBolt => "foot: levelling bolt",
            Self::FloorPressure => "foot: pressure on the floor",
            Self::FootSocket => "foot: socket pressure",
            Self::TubeEnd => "foot: tube end on its floor",
            Self::CriticalLoad => "legs: critical load of the frame",
            Self::Play => "legs: play of the top",
            Self::TubesSlide => "legs: tubes slide in their bores",
            Self::Heat => "plastic: heat",
            Self::Bed => "printing: bed",
            Self::BossWall => "printing: lines in the thinnest boss wall",
            Self::Overhang => "printing: overhang of leaning bosses",
            Self::ScrewLateral => "screws: lateral",
            Self::ScrewCombined => "screws: pull and shear together",
            Self::ScrewLost => "screws: the worst one lost",
            Self::ScrewWithdrawal => "screws: withdrawal",
            Self::Frequency => "sway: lowest frequency",
            Self::SwayLength => "sway: push along the length",
            Self::SwayWidth => "sway: push along the width",
            Self::Shaking => "sway: shaking",
            Self::TieCollar => "tie: collar pressure",
            Self::TieBolt => "tie: cross bolt",
            Self::TippingChild => "tipping: a child at the edge",
            Self::TippingLoad => "tipping: a load near the edge",
            Self::TippingEdge => "tipping: a test's load near the edge",
            Self::TippingTilt => "tipping: tilted floor",
            Self::TopAcross => "top: bending across the grain",
            Self::TopAlong => "top: bending along the grain",
            Self::TopCrushing => "top: crushing under the plate's edge",
            Self::TopSag => "top: sag",
            Self::TubeBuckling => "tubes: buckling between ties",
            Self::TubeStress => "tubes: stress",
            Self::MovementOnRail => "wood: movement between brackets on a rail",
            Self::MovementUnderBracket => "wood: movement under a bracket",
        }
    }
}

impl std::fmt::Display for Undone {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let undone: Vec<&str> = self.0.iter().map(|id| id.words()).collect();
        write!(f, "not checked: {}", undone.join(", "))
    }
}

impl Subject {
    /// Where it is, such as `leg 2, screw 5`; counted from 1.
    #[must_use]
    pub fn words(&self) -> String {
        match *self {
            Self::Table => "whole table".into(),
            Self::Printed => "all printed parts".into(),
            Self::Motion(motion) => motion.words().into(),
            Self::Edge(legs) => {
                let [a, b] = legs.map(|leg| leg.map_or(0, |leg| leg + 1));
                format!("edge between legs {a} and {b}")
            }
            Self::WorstEdge => "worst edge".into(),
            Self::Top => "top".into(),
            Self::WorstOfTop => "worst point of the top".into(),
            Self::TopAt([x, y]) => format!("top, {x:.0} mm along and {y:.0} mm across from the corner by leg 1"),
            Self::TopOver(leg) | Self::Leg(leg) => format!("leg {}", leg + 1),
            Self::Tube { leg, tube } => format!("leg {}, tube {}", leg + 1, tube + 1),
            Self::Rail { run, legs: [a, b] } => format!("{} between legs {} and {}", rail_name(run), a + 1, b + 1),
            Self::RailedBrackets => "brackets joined by a rail across the grain".into(),
            Self::AnyBracket => "bracket".into(),
            Self::Bosses => "bracket and foot".into(),
            Self::Bracket(leg) => format!("bracket of leg {}", leg + 1),
            Self::BracketSocket { leg, socket } => format!("bracket of leg {}, socket {}", leg + 1, socket + 1),
            Self::PlateEdge(leg) => format!("leg {}, plate edge", leg + 1),
            Self::Screws => "bracket screws".into(),
            Self::Screw { leg, screw } => format!("leg {}, screw {}", leg + 1, screw + 1),
            Self::LostScrew { leg, screw } => format!("leg {}, screw {} lost", leg + 1, screw + 1),
            Self::Ties(leg) => format!("ties of leg {}", leg + 1),
            Self::Foot(leg) => format!("foot of leg {}", leg + 1),
            Self::FootSocket { leg, socket } => format!("foot of leg {}, socket {}", leg + 1, socket + 1),
        }
    }
}

impl PartKind {
    /// What it is called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bracket => "bracket",
            Self::Tie => "tie",
            Self::Foot => "foot",
            Self::Gauge => "fit gauge",
            Self::Guide => "drill guide",
            Self::Shim => "shim",
            Self::Coupon => "coupon",
        }
    }

    /// How it is printed and used.
    #[must_use]
    pub const fn printed(self) -> &'static str {
        match self {
            Self::Bracket => "wood face on the bed, no supports",
            Self::Tie => "collars upright, no supports",
            Self::Foot => "floor face on the bed, no supports",
            Self::Gauge => "print this first; a tool, not a part of the table",
            Self::Guide => "plate on the bed; a tool, not a part of the table",
            Self::Coupon => "upright, all five together with the fit gauge; to be torn",
            Self::Shim => "flat on the bed; lay it under a foot that stands hollow, below its pad",
        }
    }
}

impl Component {
    /// What it is called.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Tube => "tube",
            Self::Rail => "rail",
            Self::Bracket => "bracket",
            Self::Tie => "tie",
            Self::Foot => "foot",
            Self::Screw => "screw",
        }
    }
}

impl Under {
    /// The case, such as `push 200 N along x (soft joints)`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Case { name, joints } => format!("{name} ({} joints)", joints.word()),
            Self::Load(name) => name.clone(),
            Self::Shaken { load, by, joints } => {
                format!("{load} at {} ({} joints)", by.words(), joints.word())
            }
            Self::Lasting => "own weight and what stays".into(),
            Self::LastingWith { joints } => format!("own weight and what stays ({} joints)", joints.word()),
            Self::Carried { joints } => format!("what stays on the top ({} joints)", joints.word()),
            Self::Empty => "empty table".into(),
            Self::Unloaded => "free travel, no load".into(),
            Self::RibsSlip => "a push harder than the ribs hold".into(),
            Self::Hottest => "hottest day".into(),
            Self::TooHot { filament, limit, air } => {
                let [limit, air] = [limit, air].map(|celsius| short(*celsius, 1));
                format!("too hot for {filament}: service limit {limit} C, air up to {air} C")
            }
            Self::Seasons => "driest to wettest season".into(),
            Self::ScrewsHome => "all screws driven home".into(),
            Self::AsPrinted => "lying as it prints".into(),
            Self::BothSides => "perimeters from both sides".into(),
            Self::NoSupports => "no supports".into(),
            Self::StraightDriver => "straight driver, 10 mm shank".into(),
        }
    }
}

impl Estimate {
    /// As a load case names it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Soft => "soft",
            Self::Stiff => "stiff",
            Self::Given => "given",
            Self::Aged => "aged",
        }
    }
}

impl Motion {
    /// What moves.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::SwayX => "sway along x",
            Self::SwayY => "sway along y",
            Self::Twist => "twist",
            Self::Other => "other",
        }
    }
}

impl Check {
    /// Where air is too hot for the plastic: which plastic, and its limit.
    #[must_use]
    pub fn too_hot(&self) -> Option<String> {
        self.is_too_hot().then(|| self.case.words())
    }
}

impl Undone {
    /// Each as a problem of the file: it is a table that cannot be answered for.
    #[must_use]
    pub fn problems(&self) -> Vec<Problem> {
        let problem = |id: &CheckId| {
            let message = format!("\"{}\" cannot be checked on this table", id.words());
            Problem::new(Place::default(), "", message).hint("please report it with the file")
        };
        self.0.iter().map(problem).collect()
    }
}

impl Cures {
    /// The checks by name, or `every check`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Every => "every check".to_owned(),
            Self::These(ids) => ids.iter().map(|id| id.words()).collect::<Vec<_>>().join(", "),
        }
    }
}

impl When {
    /// As the report shows it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Now => "now",
            Self::AfterLife => "after the stated life",
        }
    }
}

impl Verdict {
    /// As shown and as `report.json` has it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Adequate => "adequate",
            Self::Tight => "tight",
            Self::NotAdequate => "not adequate",
        }
    }
}

impl Concern {
    /// What it is called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Strength => "strength and stability",
            Self::Firmness => "firmness",
        }
    }

    /// A verdict on it: what holds is adequate, what feels as its user wants it to is firm.
    #[must_use]
    pub const fn verdict(self, verdict: Verdict) -> &'static str {
        match (self, verdict) {
            (Self::Strength, _) => verdict.words(),
            (Self::Firmness, Verdict::Adequate) => "firm",
            (Self::Firmness, Verdict::Tight) => "just firm",
            (Self::Firmness, Verdict::NotAdequate) => "not firm",
        }
    }
}

impl Checked {
    /// The verdict on strength and stability, and on firmness, each with what governs it:
    /// `NOT ADEQUATE in strength and stability: worst check at 1.20 of its limit: ...`.
    #[must_use]
    pub fn headlines(&self) -> [String; 2] {
        Concern::ALL.map(|concern| {
            let words = concern.verdict(self.verdict_on(concern)).to_uppercase();
            let name = concern.words();
            let Some(c) = self.governing(concern) else { return format!("{words} in {name}") };
            if let Some(why) = c.too_hot() {
                return format!("{words} in {name}: {why}");
            }
            let (used, when) = (used(c.utilisation()), c.when.word());
            let what = format!("{}, {}, {when}", c.id.words(), c.subject.words());
            match concern {
                Concern::Strength => format!("{words} in {name}: worst check at {used} of its limit: {what}"),
                Concern::Firmness => format!("{words} by the limits of the file: worst at {used} of its limit: {what}"),
            }
        })
    }

    /// What stands on every sheet and in every list of a table that is not adequate, or not firm; empty for others.
    #[must_use]
    pub fn warning(&self) -> &'static str {
        match Concern::ALL.map(|concern| self.verdict_on(concern) == Verdict::NotAdequate) {
            [true, _] => "NOT ADEQUATE: read the report before you print, cut or drill.",
            [false, true] => "NOT FIRM: it holds and feels loose. Read the report before you print, cut or drill.",
            [false, false] => "",
        }
    }

    /// The verdict as the last column of a list.
    #[must_use]
    pub fn listed(&self) -> &'static str {
        if self.warning().is_empty() { self.verdict().words() } else { self.warning() }
    }
}

impl Origin {
    /// What it is called.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bores => "tubes in their bores",
            Self::Collars => "play in collars and sockets",
            Self::Screws => "screws and wood",
            Self::Layers => "plastic across its layers",
            Self::Plate => "the plate model's error",
        }
    }

    /// What to look at under the pull, and what it rules out.
    #[must_use]
    pub const fn reading(self) -> &'static str {
        match self {
            Self::Bores => {
                "Draw a line across each tube and its bracket: if tube and bracket have not moved against each other \
                 under the pull, the table is nearer to the stiff end."
            }
            Self::Collars => {
                "Draw a line across each tube and its collar: if the tube does not tilt in the collar under the pull, \
                 the table is nearer to the stiff end; glue or a shim of tape in the collar takes the play out."
            }
            Self::Screws => {
                "Push a strip of paper under the edges of the brackets: where none goes in under the pull, screws and \
                 wood hold as at the stiff end. Drive the screws again after the first dry season."
            }
            Self::Layers | Self::Plate => {
                "Only a bracket that is loaded alone narrows it: screw it to a bench, hang a mass on a tube of known \
                 length, and put the stiffness into the file."
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_figure_is_told_that_nobody_can_read() {
        let told = [0.5, 1.234, 100.0, 100.1, 1e9, f64::INFINITY, f64::NAN].map(used);
        let most = "more than 100";
        assert_eq!(told, ["0.50", "1.23", "100.00", most, most, most, most]);
    }

    /// Lists in the order of checks are in the order of their words.
    #[test]
    fn every_check_has_a_name_of_its_own_in_order() {
        assert!(CheckId::ALL.windows(2).all(|w| w[0] < w[1] && w[0].words() < w[1].words()));
    }

    /// A table that holds and feels loose was called not adequate, as one is that breaks.
    #[test]
    fn a_loose_table_is_not_called_one_that_breaks() {
        let mut checked = crate::output::report::sample::Sample::new("x").checked;
        let heads = |checked: &Checked| {
            let [strength, firmness] = checked.headlines();
            (strength.split(" in ").next().map(str::to_owned), firmness.split(" by ").next().map(str::to_owned))
        };
        let words = |a: &str, b: &str| (Some(a.to_owned()), Some(b.to_owned()));
        assert_eq!(heads(&checked), words("TIGHT", "FIRM"));
        checked.checks.iter_mut().filter(|c| c.id == CheckId::SwayLength).for_each(|c| c.capacity = 60.0);
        assert_eq!(heads(&checked), words("TIGHT", "NOT FIRM"));
        assert_eq!(checked.verdict(), Verdict::NotAdequate, "either makes the exit status 1");
        assert!(checked.warning().starts_with("NOT FIRM"), "{}", checked.warning());
        checked.checks.iter_mut().filter(|c| c.id == CheckId::TubeStress).for_each(|c| c.capacity = 60.0);
        assert_eq!(heads(&checked), words("NOT ADEQUATE", "NOT FIRM"));
        assert!(checked.warning().starts_with("NOT ADEQUATE"), "{}", checked.warning());
    }

    #[test]
    fn a_check_that_was_not_done_is_named() {
        let undone = Undone(vec![CheckId::Heat, CheckId::Bed]);
        assert_eq!(undone.to_string(), "not checked: plastic: heat, printing: bed");
        let told: Vec<String> = undone.problems().into_iter().map(|problem| problem.message).collect();
        assert!(told.len() == 2 && told[0] == "\"plastic: heat\" cannot be checked on this table", "{told:?}");
    }

    #[test]
    fn a_cure_that_leaves_nothing_says_so() {
        assert_eq!(reserve(0.996), ", nothing left in reserve");
        assert_eq!(reserve(0.9), ", less than a fifth in reserve");
        assert_eq!((reserve(0.8), reserve(1.2)), ("", ""));
    }
}

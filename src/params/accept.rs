//! Every key of the parameter file: what it accepts, what holds without it, and why.
//!
//! The reader, its messages, the JSON Schema and the table of keys all read these constants.

use std::f64::consts::PI;

use super::table::Table;
use super::{Base, Duration, Head, JointStiffness, Run, Sawn, Side, Spread};
use crate::units::{self, Kind, System};

/// One key.
#[derive(Clone, Copy, Debug)]
pub(super) struct Accept {
    /// Path with `[]` for every list: `loads[].mass`.
    pub key: &'static str,
    /// Shape and range.
    pub what: What,
    /// What holds when the file does not say.
    pub without: Without,
    /// One sentence for people.
    pub doc: &'static str,
}

/// Shape of a value.
#[derive(Clone, Copy, Debug)]
pub(super) enum What {
    /// Any text, not empty.
    Text,
    /// `true` or `false`.
    Flag,
    /// A whole number: least and most.
    Count(usize, usize),
    /// One of these whole numbers.
    CountOf(&'static [usize]),
    /// A number without unit: least and most.
    Number(f64, f64),
    /// A quantity with its unit.
    Quantity(Range),
    /// A quantity, or a range of them: `3 Hz to 8 Hz`.
    Band(Range),
    /// A list of quantities: fewest and most of them.
    Quantities(Range, usize, usize),
    /// One of these words.
    Words(&'static [&'static str]),
    /// A list of these words.
    WordList(&'static [&'static str]),
    /// Name of a row of a table, or an object with its own numbers.
    Row(Table),
    /// Designation of a tube: `16 x 1.5 mm`, `1/2 EMT`.
    TubeSize,
    /// Size of a screw with or without its length: `4.5 x 30 mm`, `#8 x 1 1/4 in`.
    ScrewSize,
    /// `span / 300`: least and most divisor.
    Span(f64, f64),
    /// Two shares or lengths along the top's length and width.
    Point,
    /// Two opposite corners, each a point.
    Rectangle,
    /// An object with its own keys.
    Group,
    /// A list of objects: fewest and most.
    Groups(usize, usize),
    /// Any of these shapes.
    Either(&'static [What]),
}

/// Kind and bounds of a quantity, in the inner unit; both bounds are accepted.
#[derive(Clone, Copy, Debug)]
pub(super) struct Range {
    pub kind: Kind,
    pub least: f64,
    pub most: f64,
}

/// What holds when a key is missing.
#[derive(Clone, Copy, Debug)]
pub(super) enum Without {
    /// The file cannot be used; the text shows what to write.
    Missing(&'static str),
    /// This value, as written in a file, and why.
    Value(&'static str, &'static str),
    /// A value by this rule, and why.
    Rule(&'static str, &'static str),
    /// Nothing is assumed; the text says what happens instead.
    Unset(&'static str),
}

impl Accept {
    /// Last part of the path.
    pub(super) fn name(&self) -> &'static str {
        self.key.rsplit('.').next().unwrap_or(self.key)
    }

    /// Path of the group the key stands in; empty for the file itself.
    pub(super) fn parent(&self) -> &'static str {
        self.key.rfind('.').map_or("", |end| &self.key[..end])
    }

    /// The default as written in a file; empty where there is none.
    pub(super) const fn default_text(&self) -> &'static str {
        match self.without {
            Without::Value(text, _) => text,
            Without::Missing(_) | Without::Rule(..) | Without::Unset(_) => "",
        }
    }

    /// Why a default was chosen.
    pub(super) fn why(&self) -> &'static str {
        match self.without {
            Without::Value(_, why) | Without::Rule(_, why) => why,
            Without::Missing(_) | Without::Unset(_) => "",
        }
    }
}

impl Range {
    /// `12 mm to 120 mm`, for users of inches in inches first.
    pub(super) fn told(&self, system: System) -> String {
        units::show_range(self.kind, self.least, self.most, system)
    }

    /// Whether a value is accepted; what rounding may do to a bound is let pass.
    pub(super) fn holds(&self, value: f64) -> bool {
        let slack = 1e-9 * self.most.abs().max(self.least.abs());
        (self.least - slack..=self.most + slack).contains(&value)
    }
}

impl What {
    /// The range of quantities in this shape.
    pub(super) fn range(&self) -> Option<Range> {
        match self {
            Self::Quantity(range) | Self::Band(range) | Self::Quantities(range, ..) => Some(*range),
            Self::Either(shapes) => shapes.iter().find_map(Self::range),
            _ => None,
        }
    }

    /// The words this shape accepts.
    pub(super) fn words(&self) -> &'static [&'static str] {
        match self {
            Self::Words(words) | Self::WordList(words) => words,
            Self::Either(shapes) => shapes.iter().map(Self::words).find(|words| !words.is_empty()).unwrap_or(&[]),
            _ => &[],
        }
    }

    /// What is accepted, in words.
    pub(super) fn told(&self, system: System) -> String {
        match self {
            Self::Text => "a text".into(),
            Self::Flag => "true or false".into(),
            Self::Count(least, most) => format!("a whole number, {least} to {most}"),
            Self::CountOf(counts) => either(counts.iter().map(ToString::to_string)),
            Self::Number(least, most) => format!("a number, {} to {}", units::plain(*least), units::plain(*most)),
            Self::Quantity(range) => range.told(system),
            Self::Band(range) => format!("{}, or a range such as \"3 Hz to 8 Hz\"", range.told(system)),
            Self::Quantities(range, least, most) => {
                format!("a list of {}, each {}", span(*least, *most), range.told(system))
            }
            Self::Words(words) => either(words.iter().map(|word| format!("\"{word}\""))),
            Self::WordList(words) => {
                format!("a list of any of {}", either(words.iter().map(|word| format!("\"{word}\""))))
            }
            Self::Row(table) => format!("a name from the table of {}, or an object with its own numbers", table.name()),
            Self::TubeSize => "a size such as \"16 x 1.5 mm\", \"1 in x 16 ga\" or \"1/2 EMT\"".into(),
            Self::ScrewSize => "a size such as \"4.5 x 30 mm\" or \"#8 x 1 1/4 in\"".into(),
            Self::Span(least, most) => format!("\"span / {least}\" to \"span / {most}\""),
            Self::Point => {
                let example = if system == System::Inch { "4 in" } else { "100 mm" };
                format!("two shares or lengths from the front left corner, such as [\"50 %\", \"{example}\"]")
            }
            Self::Rectangle => "two opposite corners, such as [[\"0 %\", \"0 %\"], [\"50 %\", \"100 %\"]]".into(),
            Self::Group => "an object { ... }".into(),
            Self::Groups(least, most) => format!("a list of {} objects", span(*least, *most)),
            Self::Either(shapes) => shapes.iter().map(|shape| shape.told(system)).collect::<Vec<_>>().join("; or "),
        }
    }
}

/// `3, 4 or 6`.
pub(super) fn either(list: impl Iterator<Item = String>) -> String {
    let mut list: Vec<_> = list.collect();
    match list.pop() {
        Some(last) if !list.is_empty() => format!("{} or {last}", list.join(", ")),
        Some(last) => last,
        None => String::new(),
    }
}

/// `2`, or `1 to 8`.
pub(super) fn span(least: usize, most: usize) -> String {
    if least == most { most.to_string() } else { format!("{least} to {most}") }
}

const fn quantity(kind: Kind, least: f64, most: f64) -> What {
    What::Quantity(Range { kind, least, most })
}

const fn length(least: f64, most: f64) -> What {
    quantity(Kind::Length, least, most)
}

const fn lengths(least: f64, most: f64, fewest: usize, largest: usize) -> What {
    What::Quantities(Range { kind: Kind::Length, least, most }, fewest, largest)
}

const fn stress(least: f64, most: f64) -> What {
    quantity(Kind::Stress, least, most)
}

const fn share(least: f64, most: f64) -> What {
    quantity(Kind::Share, least, most)
}

/// Largest splay, radians: 20 degrees; sockets steeper than that are no longer short bosses.
const STEEPEST: f64 = 20.0 * PI / 180.0;
const SPLAY: Range = Range { kind: Kind::Angle, least: 0.0, most: STEEPEST };
/// Frequencies at which things shake.
const SHAKEN: Range = Range { kind: Kind::Frequency, least: 0.1, most: 500.0 };
const AIR: Range = Range { kind: Kind::Temperature, least: -40.0, most: 80.0 };
const DAMP: Range = Range { kind: Kind::Share, least: 0.05, most: 1.0 };

/// Words with what each stands for.
pub(super) type Choices<T, const N: usize> = [(&'static str, T); N];

/// The words alone.
const fn words<T: Copy, const N: usize>(choices: &Choices<T, N>) -> [&'static str; N] {
    let mut words = [""; N];
    let mut i = 0;
    while i < N {
        words[i] = choices[i].0;
        i += 1;
    }
    words
}

/// The two runs.
pub(super) const RUNS: Choices<Run, 2> = [("along length", Run::AlongLength), ("along width", Run::AlongWidth)];
/// How boards are sawn.
pub(super) const SAWN: Choices<Sawn, 2> = [("flat", Sawn::Flat), ("quarter", Sawn::Quarter)];
/// Ways to hold a tube.
pub(super) const HOLDS: &[&str] =
    &["ribs", "bonded", "cross bolt", "cross bolt M3", "cross bolt M4", "cross bolt M5", "cross bolt M6", "none"];
/// Head forms.
pub(super) const HEADS: Choices<Head, 3> =
    [("pan", Head::Pan), ("washer", Head::Washer), ("countersunk", Head::Countersunk)];
/// Feet.
pub(super) const FEET: &[&str] = &["flat", "levelling"];
/// Levelling bolts, each a row of the table of bolts.
pub(super) const BOLTS: &[&str] = &["M6", "M8", "M10", "M12"];
/// Supports of a foot.
pub(super) const BASES: Choices<Base, 2> = [("pinned", Base::Pinned), ("fixed", Base::Fixed)];
/// Words for the joint.
pub(super) const JOINTS: Choices<JointStiffness, 2> =
    [("estimated", JointStiffness::Estimated), ("rigid", JointStiffness::Rigid)];
/// Loads that need no numbers for their place.
pub(super) const OVERS: Choices<Spread, 5> = [
    ("whole top", Spread::Whole),
    ("front edge", Spread::Edge(Side::Front)),
    ("back edge", Spread::Edge(Side::Back)),
    ("left edge", Spread::Edge(Side::Left)),
    ("right edge", Spread::Edge(Side::Right)),
];
/// Durations, shortest first.
pub(super) const LASTS: Choices<Duration, 6> = [
    ("seconds", Duration::Seconds),
    ("minutes", Duration::Minutes),
    ("hours", Duration::Hours),
    ("days", Duration::Days),
    ("months", Duration::Months),
    ("years", Duration::Years),
];
/// Directions of a force, as unit vectors.
pub(super) const DIRECTIONS: Choices<[f64; 3], 5> = [
    ("down", [0.0, 0.0, -1.0]),
    ("+x", [1.0, 0.0, 0.0]),
    ("-x", [-1.0, 0.0, 0.0]),
    ("+y", [0.0, 1.0, 0.0]),
    ("-y", [0.0, -1.0, 0.0]),
];

const CHOSEN: Without = Without::Unset("chosen by the layout");
const FROM_LIKE: Without = Without::Unset("as in the row named by `like`");

macro_rules! keys {
    ($($name:ident: $key:literal, $what:expr, $without:expr, $doc:literal;)*) => {
        $(pub(super) const $name: Accept = Accept { key: $key, what: $what, without: $without, doc: $doc };)*
        /// All keys in the order of the file.
        pub(super) const KEYS: &[Accept] = &[$($name),*];
    };
}

keys! {
    TITLE: "title", What::Text, Without::Value("Table", "no title given"), "Title of the job, printed on every page.";

    TOP: "top", What::Group, Without::Missing("\"top\": { \"length\": \"1500 mm\", \"width\": \"700 mm\", \"thickness\": \"38 mm\" }"), "The wooden slab.";
    TOP_LENGTH: "top.length", length(200.0, 4000.0), Without::Missing("\"length\": \"1500 mm\""), "Size of the top along x; front and back edge run along it.";
    TOP_WIDTH: "top.width", length(150.0, 2000.0), Without::Missing("\"width\": \"700 mm\""), "Size of the top along y, from front to back.";
    TOP_THICKNESS: "top.thickness", length(12.0, 120.0), Without::Missing("\"thickness\": \"38 mm\""), "Nominal thickness of the top.";
    TOP_WOOD: "top.wood", What::Row(Table::Woods), Without::Value("western redcedar", "the weakest common softwood of the table, so that an unknown wood is not overrated"), "Species or sheet of the top.";
    WOOD_LIKE: "top.wood.like", What::Row(Table::Woods), Without::Value("western redcedar", "the weakest common softwood of the table stands in for numbers not given"), "Row of the table that supplies the numbers not given.";
    WOOD_NAME: "top.wood.name", What::Text, Without::Unset("\"own wood\""), "Name of your wood.";
    WOOD_DENSITY: "top.wood.density", quantity(Kind::Density, 100.0, 1400.0), FROM_LIKE, "Mean density at 12 % moisture content.";
    WOOD_E_ALONG: "top.wood.e_along", stress(1000.0, 30_000.0), FROM_LIKE, "Modulus of elasticity along the grain.";
    WOOD_E_ACROSS: "top.wood.e_across", stress(50.0, 15_000.0), FROM_LIKE, "Modulus of elasticity across the grain.";
    WOOD_SHEAR_MODULUS: "top.wood.shear_modulus", stress(50.0, 5000.0), FROM_LIKE, "Shear modulus in the plane of the top.";
    WOOD_BENDING: "top.wood.bending_strength", stress(5.0, 250.0), FROM_LIKE, "Bending strength along the grain (modulus of rupture).";
    WOOD_BENDING_ACROSS: "top.wood.bending_across", stress(0.5, 100.0), FROM_LIKE, "Bending strength across the grain.";
    WOOD_SHEAR: "top.wood.shear_strength", stress(0.5, 40.0), FROM_LIKE, "Shear strength along the grain.";
    WOOD_COMPRESSION: "top.wood.compression_across", stress(0.5, 60.0), FROM_LIKE, "Compression across the grain at the proportional limit.";
    WOOD_HARDNESS: "top.wood.hardness", quantity(Kind::Force, 200.0, 25_000.0), FROM_LIKE, "Side hardness (ball of 11.28 mm, half its diameter deep).";
    WOOD_RADIAL: "top.wood.movement_radial", share(0.0, 0.01), FROM_LIKE, "Radial movement for 1 % moisture content.";
    WOOD_TANGENTIAL: "top.wood.movement_tangential", share(0.0, 0.01), FROM_LIKE, "Tangential movement for 1 % moisture content.";
    WOOD_CREEP: "top.wood.creep", What::Number(0.0, 5.0), FROM_LIKE, "Creep factor k_def in a heated room: added deflection after years over deflection at once.";
    TOP_GRAIN: "top.grain", What::Words(&words(&RUNS)), Without::Value("along length", "boards of a glued top run along it"), "Which way the grain runs.";
    TOP_SAWN: "top.sawn", What::Words(&words(&SAWN)), Without::Value("flat", "most boards are, and it moves more"), "How the boards were cut from the log: rings lying or standing.";
    TOP_AT_LEGS: "top.thickness_at_legs", lengths(8.0, 130.0, 3, 6), Without::Rule("the nominal thickness", "not measured"), "Thickness measured at each leg, in the order of the legs.";
    TOP_MASS: "top.mass", quantity(Kind::Mass, 0.5, 500.0), Without::Unset("from volume and density"), "Mass of the top, if it was weighed.";

    HEIGHT: "height", length(150.0, 1500.0), Without::Missing("\"height\": \"860 mm\""), "From the floor to the show face.";

    LEGS: "legs", What::Group, Without::Missing("\"legs\": { \"tube\": \"25 x 2 mm\" }"), "Legs and their tubes.";
    LEGS_COUNT: "legs.count", What::CountOf(&[3, 4, 6]), Without::Value("4", "usual for a rectangular top"), "Number of legs; of three one stands in front, two at the back.";
    LEGS_ENDS: "legs.inset_from_ends", length(10.0, 1500.0), Without::Rule("120 mm, at most a sixth of the length", "judgement: room for the plate, and overhang stays short"), "From the ends of the top to the axis of the leg at the underside.";
    LEGS_SIDES: "legs.inset_from_sides", length(10.0, 800.0), Without::Rule("110 mm, at most a sixth of the width", "judgement: room for the plate, and overhang stays short"), "From the sides of the top to the axis of the leg at the underside.";
    LEGS_SPLAY: "legs.splay", What::Either(&[What::Quantity(SPLAY), What::Quantities(SPLAY, 2, 2)]), Without::Value("0 deg", "upright legs need no tilted bores"), "Outward lean along length and width; one angle for both, or two.";
    LEGS_TUBES: "legs.tubes", What::Count(1, 4), Without::Value("1", "the simplest leg"), "Tubes in each leg.";
    LEGS_PITCH: "legs.pitch_circle", length(12.0, 300.0), CHOSEN, "Diameter of the circle through the axes of a leg's tubes.";
    TUBE: "legs.tube", What::Either(&[What::TubeSize, What::Group]), Without::Missing("\"tube\": \"25 x 2 mm\""), "The tube, as one size or as an object.";
    TUBE_SIZE: "legs.tube.size", What::TubeSize, Without::Unset("`outside` and `wall` say it"), "Size as sold, instead of `outside` and `wall`.";
    TUBE_OUTSIDE: "legs.tube.outside", length(6.0, 80.0), Without::Missing("\"outside\": \"25 mm\""), "Nominal outside diameter.";
    TUBE_WALL: "legs.tube.wall", quantity(Kind::Wall, 0.4, 10.0), Without::Missing("\"wall\": \"2 mm\""), "Wall thickness, or its Birmingham gauge.";
    TUBE_METAL: "legs.tube.metal", What::Row(Table::Metals), Without::Rule("steel S235, or EMT steel for a size of EMT", "the usual grade of welded steel tube"), "Metal of the tube.";
    METAL_LIKE: "legs.tube.metal.like", What::Row(Table::Metals), Without::Value("mild steel", "tube of unknown grade stands in for numbers not given"), "Row of the table that supplies the numbers not given.";
    METAL_NAME: "legs.tube.metal.name", What::Text, Without::Unset("\"own metal\""), "Name of your metal.";
    METAL_E: "legs.tube.metal.e", stress(10_000.0, 420_000.0), FROM_LIKE, "Modulus of elasticity.";
    METAL_G: "legs.tube.metal.g", stress(4000.0, 170_000.0), FROM_LIKE, "Shear modulus.";
    METAL_DENSITY: "legs.tube.metal.density", quantity(Kind::Density, 1500.0, 12_000.0), FROM_LIKE, "Density.";
    METAL_YIELD: "legs.tube.metal.yield_strength", stress(20.0, 1500.0), FROM_LIKE, "Yield strength or 0.2 % proof strength.";
    METAL_ULTIMATE: "legs.tube.metal.ultimate", stress(40.0, 2000.0), FROM_LIKE, "Tensile strength.";
    TUBE_MEASURED: "legs.tube.measured", length(5.5, 81.0), Without::Rule("the nominal outside diameter", "not measured"), "Outside diameter measured with calipers.";
    LEGS_TIES: "legs.ties", What::Either(&[What::Count(0, 6), lengths(20.0, 1450.0, 0, 6)]), Without::Rule("none for a single tube, 2 for a bundle, and one for each height of rails", "judgement: two ties keep the tubes of a bundle from sliding past each other"), "Ties on each leg: how many, or their heights above the floor.";

    RAILS: "rails", What::Groups(0, 4), Without::Value("[]", "the frame is first tried without"), "Horizontal tubes from leg to leg.";
    RAIL_RUN: "rails[].run", What::Words(&words(&RUNS)), Without::Missing("\"run\": \"along width\""), "Direction of the rail.";
    RAIL_ABOVE: "rails[].above_floor", length(30.0, 1450.0), Without::Missing("\"above_floor\": \"180 mm\""), "Height of the rail's axis.";
    RAIL_TUBE: "rails[].tube", What::Either(&[What::TubeSize, What::Group]), Without::Rule("the tube of the legs", "one tube to buy"), "Tube of the rail; keys as in `legs.tube`.";

    BRACKET: "bracket", What::Group, Without::Unset("every key below"), "The printed plate under the top.";
    BRACKET_PLATE: "bracket.plate", length(3.0, 25.0), Without::Rule("8 mm, up to 10 mm where a screw would else reach too far", "judgement: 40 layers; a fifth more gives a quarter more stiffness"), "Thickness of the plate.";
    BRACKET_LENGTH: "bracket.length", length(30.0, 400.0), CHOSEN, "Size of the plate along the top's length.";
    BRACKET_WIDTH: "bracket.width", length(30.0, 400.0), CHOSEN, "Size of the plate along the top's width.";
    BRACKET_CORNER: "bracket.corner_radius", length(0.0, 60.0), Without::Value("10 mm", "judgement: no sharp corner to lift off the bed"), "Radius of the plate's corners.";
    BRACKET_SOCKET: "bracket.socket_depth", length(10.0, 150.0), Without::Rule("1.6 times the tube, at least 30 mm", "judgement: a deeper bore is the cheapest stiffness"), "Length of the tube inside the bore.";
    BRACKET_WALL: "bracket.boss_wall", length(2.0, 25.0), CHOSEN, "Material round the bore.";
    BRACKET_FLOOR: "bracket.floor", length(2.0, 20.0), Without::Value("5 mm", "judgement: the plate stays in one piece over the bore"), "Solid plastic between plate and bottom of the socket.";
    BRACKET_CHAMFER: "bracket.chamfer", length(0.0, 4.0), Without::Value("1 mm", "judgement: the tube finds the bore"), "Chamfer at the mouth of the bore.";
    BRACKET_SKIRT: "bracket.skirt", length(0.0, 15.0), Without::Value("2 mm", "judgement: no sharp inner corner at the root of the boss"), "Slope at the root of the boss.";
    BRACKET_RELIEF: "bracket.relief", length(0.0, 3.0), Without::Value("1 mm", "judgement: room for wood raised by the screw"), "Relief round each hole on the side of the wood.";
    BRACKET_HOLD: "bracket.hold", What::Either(&[What::Words(HOLDS), What::WordList(HOLDS)]), Without::Rule("ribs and a cross bolt M4 (M3 in tubes thinner than 12 mm)", "judgement: ribs take out the play, the bolt keeps the tube from pulling out"), "How the tube is held in its socket.";
    BRACKET_RIBS: "bracket.rib_interference", length(0.02, 1.0), Without::Value("0.2 mm", "judgement: two printed lines a tenth too close on each side still let a tube be driven in"), "How much smaller than the tube the circle inside the ribs is.";
    GUSSETS: "bracket.gussets", What::Group, Without::Unset("every key below"), "Webs from boss to plate.";
    GUSSETS_COUNT: "bracket.gussets.count", What::Count(0, 12), CHOSEN, "Webs of each boss to the plate.";
    GUSSETS_RUN: "bracket.gussets.run", length(3.0, 150.0), CHOSEN, "Length of a web on the plate.";
    GUSSETS_RISE: "bracket.gussets.rise", length(3.0, 150.0), CHOSEN, "Height of a web on the boss.";
    GUSSETS_THICKNESS: "bracket.gussets.thickness", length(1.2, 25.0), Without::Value("5 mm", "judgement: all walls, no infill"), "Thickness of a web.";
    GUSSETS_BETWEEN: "bracket.gussets.between", What::Flag, Without::Rule("true for a bundle, false for a single tube", "judgement: tied bosses lean together"), "Webs between neighbouring bosses.";
    SCREWS: "bracket.screws", What::Group, Without::Unset("every key below"), "Wood screws of one bracket.";
    SCREW_SIZE: "bracket.screws.size", What::Either(&[What::ScrewSize, What::Group]), Without::Rule("4.5 mm, thinner down to 3 mm where the top is thin", "the commonest wood screw of its length; a thin top takes 6 diameters of a thinner one only"), "Diameter and, if wished, length; or an object with its own numbers.";
    SCREW_LIKE: "bracket.screws.size.like", What::Row(Table::Screws), Without::Value("4.5 mm", "stands in for numbers not given"), "Row of the table that supplies the numbers not given.";
    SCREW_NAME: "bracket.screws.size.name", What::Text, Without::Unset("\"own screw\""), "Name of your screw.";
    SCREW_DIAMETER: "bracket.screws.size.diameter", length(2.0, 10.0), FROM_LIKE, "Outside diameter of the thread.";
    SCREW_ROOT: "bracket.screws.size.root", length(1.0, 8.0), FROM_LIKE, "Diameter at the root of the thread.";
    SCREW_HEAD_DIAMETER: "bracket.screws.size.head_diameter", length(3.0, 30.0), FROM_LIKE, "Diameter of the head.";
    SCREW_HEAD_HEIGHT: "bracket.screws.size.head_height", length(0.5, 12.0), FROM_LIKE, "Height of the head; depth of a countersunk one.";
    SCREW_LENGTH: "bracket.screws.length", length(8.0, 120.0), Without::Rule("30 mm, or the length sold that is 6 diameters in the wood and leaves 4 mm (at least 3 mm) over the tip", "judgement: many short screws, none through the show face"), "Length under the head (pan, washer) or overall (countersunk).";
    SCREW_HEAD: "bracket.screws.head", What::Words(&words(&HEADS)), Without::Value("pan", "a flat head bears on plastic without splitting it"), "Form of the head.";
    SCREW_COUNT: "bracket.screws.count", What::Count(4, 12), Without::Value("8", "judgement: eight share the pull of a plate this size"), "Screws in each bracket.";
    SCREW_SPARE: "bracket.screws.spare_holes", What::Flag, Without::Value("false", "a second pattern weakens the plate a little"), "A second pattern of holes for a later repair; a plate whose size is not given grows for it.";
    SCREW_SLOTS: "bracket.screws.slots", What::Flag, Without::Value("true", "the top can move with the seasons"), "Slots across the grain where the wood's movement asks for them.";

    TIE: "tie", What::Group, Without::Unset("every key below"), "The plates that hold a leg's tubes together.";
    TIE_HEIGHT: "tie.height", length(6.0, 120.0), Without::Rule("1.25 times the tube, at least 20 mm; with rails the rail and 5 mm above and below it", "judgement: a collar longer than its bore is wide"), "Height of a tie along the tube.";
    TIE_WALL: "tie.wall", length(2.0, 25.0), CHOSEN, "Material round the bores.";
    TIE_SOCKET: "tie.rail_socket_depth", length(8.0, 120.0), Without::Rule("1.25 times the rail, at least 20 mm", "judgement: as the brackets, with less to carry"), "Length of a rail inside its socket.";

    FOOT: "foot", What::Group, Without::Unset("every key below"), "The parts at the floor.";
    FOOT_KIND: "foot.kind", What::Words(FEET), Without::Value("flat", "nothing to buy but a pad"), "Flat with a pad, or levelling with a bolt.";
    FOOT_BOLT: "foot.bolt", What::Words(BOLTS), Without::Value("M8", "the commonest levelling bolt"), "Levelling bolt.";
    FOOT_STAND_OFF: "foot.stand_off", length(5.0, 80.0), Without::Value("20 mm", "judgement: the middle of the bolt's travel"), "From the floor to the face of a levelling foot.";
    FOOT_PAD: "foot.pad_diameter", length(6.0, 100.0), Without::Value("20 mm", "felt pads sold everywhere"), "Diameter of the pad under a flat foot.";
    FOOT_PAD_THICKNESS: "foot.pad_thickness", length(0.0, 12.0), Without::Value("3 mm", "felt pads sold everywhere"), "Thickness of the pad; 0 mm for none.";
    FOOT_PLATE: "foot.plate", length(2.0, 30.0), CHOSEN, "Plastic below the bottom of the sockets.";
    FOOT_SOCKET: "foot.socket_depth", length(6.0, 120.0), Without::Rule("1.25 times the tube, at least 20 mm", "judgement: a foot carries no moment"), "Length of the tube inside the foot.";
    FOOT_BASE: "foot.base", What::Words(&words(&BASES)), Without::Value("pinned", "a foot on a floor can tip; the safe side for sway"), "What the floor lets the foot do in the frame.";

    JOINTS_GROUP: "joints", What::Group, Without::Unset("every key below"), "Your own figure for the joint at the bracket.";
    JOINTS_STIFFNESS: "joints.stiffness", What::Either(&[What::Words(&words(&JOINTS)), quantity(Kind::Turning, 1e4, 1e9)]), Without::Value("estimated", "from the bracket's dimensions, soft and stiff"), "Turning stiffness of the joint.";

    PRINTING: "printing", What::Group, Without::Unset("every key below"), "Printer and filament.";
    FILAMENT: "printing.filament", What::Row(Table::Filaments), Without::Value("PETG", "tough, and softens later than PLA"), "Filament of the parts.";
    FILAMENT_LIKE: "printing.filament.like", What::Row(Table::Filaments), Without::Value("PETG", "stands in for numbers not given"), "Row of the table that supplies the numbers not given.";
    FILAMENT_NAME: "printing.filament.name", What::Text, Without::Unset("\"own filament\""), "Name of your filament.";
    FILAMENT_DENSITY: "printing.filament.density", quantity(Kind::Density, 500.0, 4000.0), FROM_LIKE, "Density.";
    FILAMENT_E: "printing.filament.e", stress(5.0, 20_000.0), FROM_LIKE, "Modulus of elasticity in the layer plane.";
    FILAMENT_E_Z: "printing.filament.e_z", stress(5.0, 20_000.0), FROM_LIKE, "Modulus of elasticity across the layers.";
    FILAMENT_XY: "printing.filament.strength_xy", stress(1.0, 300.0), FROM_LIKE, "Tensile strength in the layer plane that 95 of 100 prints reach.";
    FILAMENT_Z: "printing.filament.strength_z", stress(0.5, 300.0), FROM_LIKE, "Tensile strength across the layers that 95 of 100 prints reach; better, tear coupons and give `printing.coupons`.";
    FILAMENT_CRUSH: "printing.filament.compressive_yield", stress(1.0, 300.0), FROM_LIKE, "Yield strength in compression that 95 of 100 prints reach.";
    FILAMENT_TG: "printing.filament.tg", quantity(Kind::Temperature, -80.0, 350.0), FROM_LIKE, "Glass transition.";
    FILAMENT_HDT: "printing.filament.hdt_045", quantity(Kind::Temperature, 20.0, 350.0), FROM_LIKE, "Deflection temperature under 0.45 MPa.";
    FILAMENT_SUSTAINED: "printing.filament.sustained_factor", What::Number(0.02, 1.0), FROM_LIKE, "Share of the strength left after five years under load, for every kind of stress.";
    FILAMENT_SUSTAINED_Z: "printing.filament.sustained_z_limit", stress(0.1, 100.0), FROM_LIKE, "Tension across layers never counted on for years above this.";
    FILAMENT_CREEP: "printing.filament.creep_divisor", What::Number(1.0, 20.0), FROM_LIKE, "Modulus at once over the modulus that stands for years of load.";
    COUPONS: "printing.coupons", What::Quantities(Range { kind: Kind::Stress, least: 0.5, most: 100.0 }, 3, 40), Without::Unset("across the layers 10 MPa for PETG and PLA, whatever your printer does"), "Strengths at which coupons of this filament from this printer tore across the layers, one for each: load over area.";
    NOZZLE: "printing.nozzle", length(0.1, 1.4), Without::Value("0.4 mm", "the commonest nozzle"), "Diameter of the nozzle.";
    LAYER: "printing.layer", length(0.04, 1.0), Without::Value("0.2 mm", "half of the commonest nozzle"), "Height of a layer.";
    WALLS: "printing.walls", What::Count(2, 40), Without::Value("5", "judgement: 2 mm of solid wall"), "Number of perimeter walls.";
    SOLID_LAYERS: "printing.solid_layers", What::Count(2, 500), Without::Rule("as thick as the walls, rounded up, at least 4", "judgement: skins as thick as the walls, so that a section is as solid from above as from the side; fewer than 4 layers sag into the infill"), "Number of solid layers at the bottom and at the top of every part.";
    INFILL: "printing.infill", share(0.05, 1.0), Without::Value("40 %", "judgement: walls carry, infill holds them apart"), "Solid share of what the walls enclose.";
    BED: "printing.bed", lengths(80.0, 1500.0, 3, 3), Without::Value("[\"220 mm\", \"220 mm\", \"250 mm\"]", "the commonest printer"), "Bed along x and y, and the height.";
    CLEARANCE: "printing.clearance", length(0.0, 1.5), Without::Value("0.30 mm", "judgement: slides on most printers; print the fit gauge and replace it"), "Bore minus tube, on the diameter.";
    FILAMENT_DIAMETER: "printing.filament_diameter", length(1.0, 3.5), Without::Value("1.75 mm", "the commonest filament"), "Diameter of the filament.";
    PRICE: "printing.price_per_kg", What::Number(0.01, 10_000.0), Without::Unset("no price is shown"), "Price of a kilogram of filament in your own money.";

    LOADS: "loads", What::Groups(1, 60), Without::Missing("\"loads\": [ { \"name\": \"all of it\", \"mass\": \"40 kg\" } ]"), "What the table carries.";
    LOAD_NAME: "loads[].name", What::Text, Without::Rule("load 1, load 2, ...", "no name given"), "Name of the load.";
    LOAD_MASS: "loads[].mass", quantity(Kind::Mass, 0.05, 3000.0), Without::Unset("`force` says it"), "Mass that stays on the top.";
    LOAD_FORCE: "loads[].force", quantity(Kind::Force, 0.5, 30_000.0), Without::Unset("`mass` says it"), "Force, for what pushes or shakes.";
    LOAD_OVER: "loads[].over", What::Either(&[What::Words(&words(&OVERS)), What::Rectangle]), Without::Value("whole top", "no place given"), "Evenly on all of the top, along an edge or on a rectangle.";
    LOAD_AT: "loads[].at", What::Point, Without::Unset("`over` says it"), "At one point, instead of `over`.";
    LOAD_LASTS: "loads[].lasts", What::Words(&words(&LASTS)), Without::Value("years", "the worst for wood and plastic"), "How long it lasts at a time, or in all.";
    LOAD_DIRECTION: "loads[].direction", What::Words(&words(&DIRECTIONS)), Without::Value("down", "weight"), "Direction of a force.";
    LOAD_SHAKING: "loads[].shaking", What::Band(SHAKEN), Without::Unset("the load does not shake"), "Frequency of a shaking force, or the range it runs through; `force` is its amplitude.";
    LOAD_MOVING: "loads[].moving", quantity(Kind::Mass, 0.001, 300.0), Without::Unset("`force` says how hard it shakes"), "Mass that goes to and fro, with `stroke` and `shaking`, instead of `force`.";
    LOAD_STROKE: "loads[].stroke", length(0.01, 1000.0), Without::Unset("`force` says how hard it shakes"), "Whole way of the moving mass from end to end.";

    PLACE: "place", What::Group, Without::Unset("every key below"), "Where the table stands.";
    TEMPERATURE: "place.temperature", What::Quantities(AIR, 2, 2), Without::Value("[\"10 C\", \"30 C\"]", "a room lived in"), "Lowest and highest temperature of the air.";
    HUMIDITY: "place.humidity", What::Quantities(DAMP, 2, 2), Without::Value("[\"35 %\", \"70 %\"]", "a room lived in"), "Lowest and highest relative humidity of the air.";
    CHILDREN: "place.children", What::Flag, Without::Value("false", "say so if children can reach it"), "Whether children can reach it.";
    SAT_ON: "place.sat_on", What::Flag, Without::Value("false", "say so if it is a seat or a step"), "Whether people sit or stand on it.";

    LIFE: "life", quantity(Kind::Time, 0.25, 50.0), Without::Value("5 years", "judgement: until the first thorough look at it"), "How long it must last.";

    LIMITS: "limits", What::Group, Without::Unset("every key below"), "Limits that are judgement.";
    LIMIT_SWAY: "limits.sway", length(0.1, 30.0), Without::Value("2 mm", "judgement: felt as firm"), "Sway of the top under 50 N at its edge.";
    LIMIT_FREQUENCY: "limits.frequency", quantity(Kind::Frequency, 0.5, 50.0), Without::Value("3 Hz", "judgement: above what a hand can rock"), "Lowest natural frequency.";
    LIMIT_SAG: "limits.sag", What::Span(50.0, 2000.0), Without::Value("span / 300", "judgement: not seen by eye"), "Sag of the top between legs.";
    LIMIT_PLAY: "limits.play", length(0.1, 30.0), Without::Value("3 mm", "judgement: felt as wobble above it"), "Free travel of the top before the sockets bear.";

    CUTTING: "cutting", What::Group, Without::Unset("every key below"), "Stock and saw.";
    STOCK: "cutting.stock", What::Either(&[length(200.0, 8000.0), lengths(200.0, 8000.0, 1, 12)]), Without::Value("3000 mm", "half of a 6 m bar, as dealers cut it"), "Lengths the tube is sold in.";
    KERF: "cutting.kerf", length(0.0, 8.0), Without::Value("2 mm", "judgement: hacksaw and filing; a tube cutter needs less"), "Width of the cut.";
    END_PLAY: "cutting.end_play", length(0.0, 6.0), Without::Value("1 mm", "judgement: cuts are never quite square"), "Room for a tube between the bottoms of its two sockets.";

    DRILLING: "drilling", What::Group, Without::Unset("every key below"), "Drill and chuck, for the drill guide.";
    STICK_OUT: "drilling.stick_out", length(15.0, 250.0), Without::Value("45 mm", "judgement: a 3 mm drill, 61 mm long, in the chuck by 16 mm"), "From the face of the chuck to the tip of the drill.";
    CHUCK: "drilling.chuck", length(8.0, 100.0), Without::Value("40 mm", "judgement: chucks up to 13 mm are 36 to 43 mm across"), "Diameter of the face of the chuck.";
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::params::read;
    use crate::problem::Problem;
    use serde_json::{Value, json};

    /// A file that has every list and group once.
    fn file() -> Value {
        json!({
            "top": { "length": "4000 mm", "width": "2000 mm", "thickness": "38 mm" },
            "height": "860 mm",
            "legs": { "tube": { "outside": "16 mm", "wall": "1.5 mm" } },
            "rails": [{ "run": "along width", "above_floor": "180 mm" }],
            "loads": [{ "mass": "60 kg" }],
        })
    }

    /// The file with one key put in, and the path of that key.
    fn with(key: &str, value: Value) -> (String, String) {
        let mut file = file();
        let mut at = &mut file;
        let parts: Vec<_> = key.split('.').collect();
        for part in &parts[..parts.len() - 1] {
            let name = part.trim_end_matches("[]");
            let inner = at.as_object_mut().expect("an object").entry(name).or_insert(json!({}));
            at = if part.ends_with("[]") { &mut inner[0] } else { inner };
        }
        if ["foot.bolt", "foot.stand_off"].contains(&key) {
            at["kind"] = json!("levelling");
        }
        at[parts[parts.len() - 1]] = value;
        (file.to_string(), key.replace("[]", "[0]"))
    }

    fn problems_at(key: &str, value: Value) -> Vec<Problem> {
        let (text, path) = with(key, value);
        let mut list = read(&text).err().unwrap_or_default();
        list.retain(|problem| problem.key.starts_with(&path));
        list
    }

    fn quantity_as_written(range: Range, value: f64) -> String {
        units::show(range.kind, value, System::Metric)
    }

    #[test]
    fn every_key_is_read() {
        for key in KEYS {
            assert!(!problems_at(key.key, Value::Null).is_empty(), "nobody reads {}", key.key);
        }
    }

    #[test]
    fn every_range_holds_at_its_ends_and_ends_there() {
        for key in KEYS {
            let What::Quantity(range) = key.what else { continue };
            let told = Some(range.told(System::Metric));
            let refused = |value: f64| {
                let list = problems_at(key.key, json!(quantity_as_written(range, value)));
                list.iter().any(|problem| problem.accepted == told)
            };
            let step = 0.01 * (range.most - range.least);
            assert!(!refused(range.least) && !refused(range.most), "{}", key.key);
            assert!(refused(range.least - step) && refused(range.most + step), "{}", key.key);
        }
    }

    #[test]
    fn every_count_and_number_holds_at_its_ends_and_ends_there() {
        for key in KEYS {
            let (inside, outside) = match key.what {
                What::Count(least, most) => (vec![json!(least), json!(most)], vec![json!(-1), json!(most + 1)]),
                What::Number(least, most) => {
                    (vec![json!(least), json!(most)], vec![json!(least - 0.01), json!(most + 1.0)])
                }
                _ => continue,
            };
            assert!(inside.into_iter().all(|value| problems_at(key.key, value).is_empty()), "{}", key.key);
            assert!(outside.into_iter().all(|value| !problems_at(key.key, value).is_empty()), "{}", key.key);
        }
    }

    #[test]
    fn every_word_is_taken_and_no_other() {
        for key in KEYS {
            // A mass has one direction only.
            for word in key.what.words().iter().filter(|_| key.key != "loads[].direction") {
                assert_eq!(problems_at(key.key, json!(word)), [], "{}: {word}", key.key);
            }
            if !key.what.words().is_empty() {
                assert!(!problems_at(key.key, json!("something else")).is_empty(), "{}", key.key);
            }
        }
    }

    /// A word that falls through to another's meaning would be accepted and not followed.
    #[test]
    fn every_word_says_something_of_its_own() {
        for key in KEYS.iter().filter(|key| !key.what.words().is_empty()) {
            let mut said = std::collections::BTreeMap::new();
            // A cross bolt without its size is an M4.
            for word in key.what.words().iter().filter(|word| **word != "cross bolt") {
                let (mut text, _) = with(key.key, json!(word));
                if key.key == "loads[].direction" {
                    text = text.replace("\"mass\":\"60 kg\"", "\"force\":\"60 N\"");
                }
                let mut read = read(&text).unwrap_or_else(|list| panic!("{}: {word}: {list:?}", key.key));
                read.assumed.clear();
                read.places.clear();
                let other = said.insert(format!("{read:?}"), word);
                assert_eq!(other, None, "{}: {word} means the same", key.key);
            }
        }
    }

    #[test]
    fn every_bolt_is_a_row_of_the_table() {
        let named = BOLTS
            .iter()
            .chain(HOLDS)
            .filter_map(|word| word.strip_prefix("cross bolt ").or(word.strip_prefix("M").map(|_| *word)));
        let sizes: Vec<_> = named.map(|name| (name, crate::tables::bolt::find(name))).collect();
        assert_eq!(sizes.len(), BOLTS.len() + 4);
        assert!(sizes.iter().all(|(_, row)| row.is_some()), "{sizes:?}");
    }

    #[test]
    fn every_default_may_be_written_and_then_changes_nothing() {
        let plain = read(&file().to_string()).expect("a file");
        for key in KEYS {
            let Without::Value(text, why) = key.without else { continue };
            let value: Value = serde_json::from_str(text).unwrap_or_else(|_| json!(text));
            assert!(!why.is_empty() && !key.doc.is_empty());
            let (text, path) = with(key.key, value);
            if text.contains("levelling") || key.key.ends_with(".like") || key.key == "rails" {
                assert_eq!(read(&text).err(), None, "{path}");
                continue;
            }
            let mut written = read(&text).unwrap_or_else(|list| panic!("{}: {list:?}", key.key));
            assert!(written.assumed.iter().all(|one| one.key != path), "{path}");
            written.assumed.clone_from(&plain.assumed);
            written.places.clone_from(&plain.places);
            assert!(format!("{written:?}") == format!("{plain:?}"), "{path} {text} is not what is assumed");
        }
    }

    #[test]
    fn every_key_has_a_group_above_it_and_stands_once() {
        for (index, key) in KEYS.iter().enumerate() {
            let parent = key.parent();
            let known = parent.is_empty() || KEYS[..index].iter().any(|one| one.key == parent.trim_end_matches("[]"));
            assert!(known && KEYS[..index].iter().all(|one| one.key != key.key), "{}", key.key);
        }
    }
}

//! What each group of the file says, read and complete.

use super::Shaking;
use crate::tables::{Section, bolt::Bolt, filament::Filament, screw::Screw, tube::Metal, wood::Wood};

/// The slab.
#[derive(Clone, Debug)]
pub struct Top {
    /// Length along x, mm.
    pub length: f64,
    /// Width along y, mm.
    pub width: f64,
    /// Nominal thickness, mm.
    pub thickness: f64,
    /// Species or sheet good, from the table or inline.
    pub wood: Wood,
    /// Which way the grain runs.
    pub grain: Run,
    /// How the boards were sawn: which movement coefficient holds.
    pub sawn: Sawn,
    /// Thickness measured at each leg, mm; empty: `thickness` everywhere.
    pub thickness_at_legs: Vec<f64>,
    /// Weighed mass, kg; none: from the density.
    pub mass: Option<f64>,
}

/// Along the top's length (x) or its width (y).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Along x.
    AlongLength,
    /// Along y.
    AlongWidth,
}

/// How a board was cut from the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sawn {
    /// Growth rings lie flat: tangential movement across the width.
    Flat,
    /// Growth rings stand: radial movement across the width.
    Quarter,
}

/// Legs and their tubes.
#[derive(Clone, Debug)]
pub struct Legs {
    /// 3 (one in front, two at the back), 4 or 6.
    pub count: usize,
    /// From the top's ends to the leg's axis at the underside, mm.
    pub inset_from_ends: f64,
    /// From the top's sides to the leg's axis at the underside, mm.
    pub inset_from_sides: f64,
    /// Outward lean along x and along y, radians.
    pub splay: [f64; 2],
    /// Tubes per leg, 1 to 4.
    pub tubes: usize,
    /// Diameter of the circle through the tubes' axes, mm; none: chosen by the model.
    pub pitch_circle: Option<f64>,
    /// The tube.
    pub tube: Tube,
    /// Ties per leg.
    pub ties: Ties,
}

/// How many ties, or where.
#[derive(Clone, Debug, PartialEq)]
pub enum Ties {
    /// This many, the ones that carry rails first, the others at even heights.
    Even(usize),
    /// Heights of their middles above the floor, mm.
    At(Vec<f64>),
}

/// A round tube.
#[derive(Clone, Debug)]
pub struct Tube {
    /// Designation as sold, such as `16 x 1.5 mm` or `1/2 EMT`.
    pub name: String,
    /// Nominal outside diameter, mm.
    pub outside: f64,
    /// Wall thickness, mm.
    pub wall: f64,
    /// Metal, from the table or inline.
    pub metal: Metal,
    /// Outside diameter measured with calipers, mm; the nominal one where it was not measured.
    pub measured: f64,
}

impl Tube {
    /// Mass of a millimetre, kg.
    #[must_use]
    pub fn mass_per_mm(&self) -> f64 {
        let section = Section { outside: self.outside, wall: self.wall };
        section.mass_per_metre(self.metal.density) / 1000.0
    }
}

/// Horizontal tubes from leg to leg, all of one run.
#[derive(Clone, Debug)]
pub struct Rail {
    /// Direction.
    pub run: Run,
    /// Height of the axis above the floor, mm.
    pub above_floor: f64,
    /// The tube; the legs' tube unless said.
    pub tube: Tube,
}

/// The plate under the top. `None` means: the model chooses.
#[derive(Clone, Debug)]
pub struct Bracket {
    /// Plate thickness, mm.
    pub plate: f64,
    /// Plate size along x and y, mm.
    pub length: Option<f64>,
    /// See `length`.
    pub width: Option<f64>,
    /// Radius of the plate's corners, mm.
    pub corner_radius: f64,
    /// Engaged length of the tube in the bore, mm.
    pub socket_depth: f64,
    /// Material round the bore, mm.
    pub boss_wall: Option<f64>,
    /// Solid plastic between plate and socket floor, mm.
    pub floor: f64,
    /// Mouth chamfer of the bores, mm.
    pub chamfer: f64,
    /// Leg of the skirt at the boss root, mm; 0: none.
    pub skirt: f64,
    /// Relief on the wood side round every hole, depth in mm; 0: none.
    pub relief: f64,
    /// How the tube is held.
    pub hold: Hold,
    /// Webs from boss to plate.
    pub gussets: Gussets,
    /// Screws into the top.
    pub screws: Screws,
}

/// How a tube is held in its socket; any may be combined, none means by gravity only.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hold {
    /// Thin crush ribs in the bore.
    pub ribs: bool,
    /// How much smaller than the tube the ribs' inscribed circle is, mm on the diameter.
    pub rib_interference: f64,
    /// Epoxy in a grooved bore.
    pub bonded: bool,
    /// A bolt through boss and tube: metric size (4 for M4).
    pub cross_bolt: Option<f64>,
}

/// Webs from boss to plate and between bosses.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gussets {
    /// Webs of each boss to the plate; none: the model chooses (4 for one boss, 0 for more).
    pub count: Option<usize>,
    /// Length on the plate, mm.
    pub run: Option<f64>,
    /// Height on the boss, mm.
    pub rise: Option<f64>,
    /// Thickness, mm.
    pub thickness: f64,
    /// Webs between neighbouring bosses.
    pub between: bool,
}

/// Screws of one bracket.
#[derive(Clone, Debug)]
pub struct Screws {
    /// Diameters, head, pilot: a row of the table or inline.
    pub screw: Screw,
    /// Length under the head (pan, washer) or overall (countersunk), mm.
    pub length: f64,
    /// Head form.
    pub head: Head,
    /// Screws per bracket, 4 to 12.
    pub count: usize,
    /// A second pattern of holes for a later repair.
    pub spare_holes: bool,
    /// Slots across the grain where the wood's movement asks for them.
    pub slots: bool,
}

/// Head of a wood screw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Head {
    /// Flat underside, sunk from the printing-top side.
    Pan,
    /// Wide flat underside.
    Washer,
    /// 90 degree cone.
    Countersunk,
}

/// Ties.
#[derive(Clone, Debug)]
pub struct Tie {
    /// Height of the collars along the tube, mm.
    pub height: f64,
    /// Material round the bores, mm.
    pub wall: Option<f64>,
    /// Engaged length of a rail in its socket, mm.
    pub rail_socket_depth: f64,
}

/// Feet.
#[derive(Clone, Debug)]
pub struct Foot {
    /// Flat or levelling.
    pub kind: FootKind,
    /// Thickness of a shim for each foot, mm; none are printed.
    pub shims: Option<f64>,
    /// Plate thickness below the sockets' floors, mm; none: the model chooses.
    pub plate: Option<f64>,
    /// Engaged length of the tube, mm.
    pub socket_depth: f64,
    /// What the floor lets the foot do in the frame.
    pub base: Base,
    /// Friction on the floor, of what stands on the foot.
    pub friction: f64,
}

/// The two kinds of feet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FootKind {
    /// A flat foot with a pad stuck on: diameter and thickness, mm (0 thickness: none).
    Flat {
        /// Pad diameter, mm.
        pad_diameter: f64,
        /// Pad thickness, mm.
        pad_thickness: f64,
    },
    /// A bolt in a captive nut: metric size, and how far the foot stands above the floor, mm.
    Levelling {
        /// Row of the table.
        bolt: &'static Bolt,
        /// Floor to the foot's face, head of the bolt included, mm.
        stand_off: f64,
    },
}

/// Support of a foot in the frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// Turns freely.
    Pinned,
    /// Does not turn.
    Fixed,
}

/// Rotational stiffness of the joint at the bracket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JointStiffness {
    /// From the bracket's dimensions, soft and stiff.
    Estimated,
    /// The user's own figure, N mm/rad.
    Given(f64),
    /// Does not turn.
    Rigid,
}

/// Printer and filament.
#[derive(Clone, Debug)]
pub struct Printing {
    /// Filament, from the table or inline.
    pub filament: Filament,
    /// Own coupons, torn across the layers; empty where none were torn.
    pub coupons: Coupons,
    /// Nozzle, mm.
    pub nozzle: f64,
    /// Layer height, mm.
    pub layer: f64,
    /// Number of perimeter walls.
    pub walls: usize,
    /// Number of solid layers under every face that looks up and over every face that looks down.
    pub solid_layers: usize,
    /// Solid share of what walls and solid layers enclose, 0 to 1.
    pub infill: f64,
    /// Bed and height, mm.
    pub bed: [f64; 3],
    /// Bore minus tube, mm on the diameter.
    pub clearance: f64,
    /// Filament diameter, mm.
    pub filament_diameter: f64,
    /// Price per kilogram in the user's own money.
    pub price_per_kg: Option<f64>,
}

/// Coupons that were torn across the layers.
#[derive(Clone, Debug, PartialEq)]
pub enum Coupons {
    /// Load over area of each, MPa.
    Strengths(Vec<f64>),
    /// Loads at which the kit's own coupons tore, N.
    Loads(Vec<f64>),
}

impl Coupons {
    /// Whether none were torn.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        let (Self::Strengths(all) | Self::Loads(all)) = self;
        all.is_empty()
    }
}

impl Printing {
    /// Solid plastic behind every upright face, mm. Neighbouring lines stand a nozzle apart: see [`Self::line_width`].
    #[must_use]
    pub fn wall(&self) -> f64 {
        self.walls as f64 * self.nozzle
    }

    /// Solid plastic behind every level face, mm.
    #[must_use]
    pub fn skin(&self) -> f64 {
        self.solid_layers as f64 * self.layer
    }

    /// Width of a line to be set in the slicer, mm, to two places. Slicers let the rounded sides of neighbouring lines overlap
    /// by (1 - pi/4) of a layer, so that lines of this width lie a nozzle apart and fill what the walls count as.
    /// Source: the slicers' own manuals on flow, from memory.
    #[must_use]
    pub fn line_width(&self) -> f64 {
        ((self.nozzle + (1.0 - std::f64::consts::FRAC_PI_4) * self.layer) * 100.0).round() / 100.0
    }
}

/// One load of the file.
#[derive(Clone, Debug)]
pub struct Load {
    /// Its name.
    pub name: String,
    /// Force, N (a mass times 9.80665).
    pub force: f64,
    /// Mass that stays on the top and shakes with it, kg; 0 for a force.
    pub mass: f64,
    /// Where it acts.
    pub on: Spread,
    /// Unit vector of the force; (0, 0, -1) unless said.
    pub direction: [f64; 3],
    /// How long it lasts at a time or in all.
    pub lasts: Duration,
    /// How it shakes; a steady load does not.
    pub shaking: Option<Shaking>,
}

/// Where a load acts on the show face; mm from the corner at -x -y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Evenly on all of it.
    Whole,
    /// Evenly on a rectangle: two opposite corners.
    Rectangle([f64; 2], [f64; 2]),
    /// At a point.
    Point([f64; 2]),
    /// Evenly along an edge.
    Edge(Side),
}

/// Edges of the top: front is -y.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// -y.
    Front,
    /// +y.
    Back,
    /// -x.
    Left,
    /// +x.
    Right,
}

/// How long a load lasts, shortest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// A knock.
    Seconds,
    /// Somebody leans.
    Minutes,
    /// Minutes at most each time, 10,000 times; only for cases that are always added.
    Repeated,
    /// An evening.
    Hours,
    /// A week.
    Days,
    /// A season.
    Months,
    /// For the whole life.
    Years,
}

/// How hard the table is used: which loads of table tests are always added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Nobody leans on it with his weight.
    Light,
    /// As tables for homes are tested.
    Household,
    /// As tables in workshops, schools and offices are tested.
    Hard,
}

/// Where the table stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Lowest and highest air temperature, degrees Celsius.
    pub temperature: [f64; 2],
    /// Lowest and highest relative humidity, 0 to 1.
    pub humidity: [f64; 2],
    /// Children can reach it.
    pub children: bool,
    /// People sit or stand on it.
    pub sat_on: bool,
}

/// Limits that are judgement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Sway of the top under 50 N at its edge, mm.
    pub sway: f64,
    /// Lowest natural frequency, Hz.
    pub frequency: f64,
    /// Sag as a divisor of the span: 300 for span / 300.
    pub sag: f64,
    /// Free travel of the top, mm.
    pub play: f64,
    /// Travel of the top while tubes slide in their bores, each way, mm.
    pub slip: f64,
}

/// Stock and saw.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Stock lengths, mm, ascending.
    pub stock: Vec<f64>,
    /// Width of the cut, mm.
    pub kerf: f64,
    /// End play of a tube between its two socket floors, mm.
    pub end_play: f64,
}

/// Drill and chuck, for the drill guide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drilling {
    /// From the chuck's face to the bit's tip, mm.
    pub stick_out: f64,
    /// Diameter of the chuck's face, mm.
    pub chuck: f64,
}

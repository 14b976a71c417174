//! Every key of the parameter file: what it accepts, what holds without it and why, and what it is in [`Params`](super::Params).
//!
//! The reader, its messages, the JSON Schema and the table of keys all read these constants.

mod at;
mod choices;
mod shape;

use std::f64::consts::PI;

use super::table::Table;
use crate::units::Kind;
pub(super) use at::find;
use at::{Access, Held, NONE, maybe, name, own, read_only, row, say, word};
use choices::words;
pub(super) use choices::{
    BASES, BOLTS, Choices, DIRECTIONS, FEET, HEADS, HOLDS, JOINTS, LASTS, OVERS, RUNS, SAWN, USES,
};
pub(super) use shape::{Accept, Default, Range, Shape, either, span};
use shape::{length, lengths, quantities, quantity, share, stress};

/// Largest splay, radians: 20 degrees; sockets steeper than that are no longer short bosses.
const STEEPEST: f64 = 20.0 * PI / 180.0;

const SPLAY: Range = Range { kind: Kind::Angle, least: 0.0, most: STEEPEST };

/// Frequencies at which things shake.
const SHAKEN: Range = Range { kind: Kind::Frequency, least: 0.1, most: 500.0 };

const AIR: Range = Range { kind: Kind::Temperature, least: -40.0, most: 80.0 };

const DAMP: Range = Range { kind: Kind::Share, least: 0.05, most: 1.0 };

const CHOSEN: Default = Default::Unset("chosen by the layout");

const FROM_LIKE: Default = Default::Unset("as in the row named by `like`");

/// A key that is a field of `Params`.
macro_rules! held {
    ($($field:ident).+) => {
        Access { get: |p, _| p.$($field).+.got(), set: |p, _, value| p.$($field).+.put(value) }
    };
}

macro_rules! keys {
    ($($name:ident: $key:literal, $what:expr, $without:expr, $doc:literal, $access:expr;)*) => {
        $(pub(super) const $name: Accept = Accept { key: $key, what: $what, without: $without, doc: $doc, access: $access };)*
        /// All keys in the order of the file.
        pub(super) const KEYS: &[Accept] = &[$($name),*];
    };
}

keys! {
    TITLE: "title", Shape::Text, Default::Value("Table", "no title given"), "Title of the job, printed on every page.", held!(title);

    TOP: "top", Shape::Group, Default::Required("\"top\": { \"length\": \"1500 mm\", \"width\": \"700 mm\", \"thickness\": \"38 mm\" }"), "The wooden slab.", NONE;
    TOP_LENGTH: "top.length", length(200.0, 4000.0), Default::Required("\"length\": \"1500 mm\""), "Size of the top along x; front and back edge run along it.", held!(top.length);
    TOP_WIDTH: "top.width", length(150.0, 2000.0), Default::Required("\"width\": \"700 mm\""), "Size of the top along y, from front to back.", held!(top.width);
    TOP_THICKNESS: "top.thickness", length(12.0, 120.0), Default::Required("\"thickness\": \"38 mm\""), "Nominal thickness of the top.", held!(top.thickness);
    TOP_WOOD: "top.wood", Shape::Row(Table::Woods), Default::Value("western redcedar", "the weakest common softwood of the table, so that an unknown wood is not overrated"), "Species or sheet of the top.", read_only(|p, _| row(p.top.wood.name));
    WOOD_LIKE: "top.wood.like", Shape::Row(Table::Woods), Default::Value("western redcedar", "the weakest common softwood of the table stands in for numbers not given"), "Row of the table that supplies the numbers not given.", NONE;
    WOOD_NAME: "top.wood.name", Shape::Text, Default::Unset("\"own wood\""), "Name of your wood.", read_only(|p, _| name(p, "top.wood"));
    WOOD_DENSITY: "top.wood.density", quantity(Kind::Density, 100.0, 1400.0), FROM_LIKE, "Mean density at 12 % moisture content.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.density));
    WOOD_E_ALONG: "top.wood.e_along", stress(1000.0, 30_000.0), FROM_LIKE, "Modulus of elasticity along the grain.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.e_along));
    WOOD_E_ACROSS: "top.wood.e_across", stress(50.0, 15_000.0), FROM_LIKE, "Modulus of elasticity across the grain.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.e_across));
    WOOD_SHEAR_MODULUS: "top.wood.shear_modulus", stress(50.0, 5000.0), FROM_LIKE, "Shear modulus in the plane of the top.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.shear_modulus));
    WOOD_BENDING: "top.wood.bending_strength", stress(5.0, 250.0), FROM_LIKE, "Bending strength along the grain (modulus of rupture).", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.bending_strength));
    WOOD_BENDING_ACROSS: "top.wood.bending_across", stress(0.5, 100.0), FROM_LIKE, "Bending strength across the grain.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.bending_across));
    WOOD_SHEAR: "top.wood.shear_strength", stress(0.5, 40.0), FROM_LIKE, "Shear strength along the grain.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.shear_strength));
    WOOD_COMPRESSION: "top.wood.compression_across", stress(0.5, 60.0), FROM_LIKE, "Compression across the grain at the proportional limit.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.compression_across));
    WOOD_HARDNESS: "top.wood.hardness", quantity(Kind::Force, 200.0, 25_000.0), FROM_LIKE, "Side hardness (ball of 11.28 mm, half its diameter deep).", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.hardness));
    WOOD_RADIAL: "top.wood.movement_radial", share(0.0, 0.01), FROM_LIKE, "Radial movement for 1 % moisture content.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.c_radial));
    WOOD_TANGENTIAL: "top.wood.movement_tangential", share(0.0, 0.01), FROM_LIKE, "Tangential movement for 1 % moisture content.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.c_tangential));
    WOOD_CREEP: "top.wood.creep", Shape::Number(0.0, 5.0), FROM_LIKE, "Creep factor k_def in a heated room: added deflection after years over deflection at once.", read_only(|p, _| say(own(&p.top.wood, |w| w.name)?.k_def));
    TOP_GRAIN: "top.grain", Shape::Words(&words(&RUNS)), Default::Value("along length", "boards of a glued top run along it"), "Which way the grain runs.", read_only(|p, _| word(&RUNS, p.top.grain));
    TOP_SAWN: "top.sawn", Shape::Words(&words(&SAWN)), Default::Value("flat", "most boards are, and it moves more"), "How the boards were cut from the log: rings lying or standing.", read_only(|p, _| word(&SAWN, p.top.sawn));
    TOP_AT_LEGS: "top.thickness_at_legs", lengths(8.0, 130.0, 3, 6), Default::Rule("the nominal thickness", "not measured"), "Thickness measured at each leg, in the order of the legs.", held!(top.thickness_at_legs);
    TOP_MASS: "top.mass", quantity(Kind::Mass, 0.5, 500.0), Default::Unset("from volume and density"), "Mass of the top, if it was weighed.", held!(top.mass);

    HEIGHT: "height", length(150.0, 1500.0), Default::Required("\"height\": \"860 mm\""), "From the floor to the show face.", held!(height);

    LEGS: "legs", Shape::Group, Default::Required("\"legs\": { \"tube\": \"25 x 2 mm\" }"), "Legs and their tubes.", NONE;
    LEGS_COUNT: "legs.count", Shape::CountOf(&[3, 4, 6]), Default::Value("4", "usual for a rectangular top"), "Number of legs; of three one stands in front, two at the back.", held!(legs.count);
    LEGS_ENDS: "legs.inset_from_ends", length(10.0, 1500.0), Default::Rule("120 mm, at most a sixth of the length", "judgement: room for the plate, and overhang stays short"), "From the ends of the top to the axis of the leg at the underside.", held!(legs.inset_from_ends);
    LEGS_SIDES: "legs.inset_from_sides", length(10.0, 800.0), Default::Rule("110 mm, at most a sixth of the width", "judgement: room for the plate, and overhang stays short"), "From the sides of the top to the axis of the leg at the underside.", held!(legs.inset_from_sides);
    LEGS_SPLAY: "legs.splay", Shape::Either(&[Shape::Quantity(SPLAY), Shape::Quantities(SPLAY, 2, 2)]), Default::Value("0 deg", "upright legs need no tilted bores"), "Outward lean along length and width; one angle for both, or two.", held!(legs.splay);
    LEGS_TUBES: "legs.tubes", Shape::Count(1, 4), Default::Value("1", "the simplest leg"), "Tubes in each leg.", held!(legs.tubes);
    LEGS_PITCH: "legs.pitch_circle", length(12.0, 300.0), CHOSEN, "Diameter of the circle through the axes of a leg's tubes.", held!(legs.pitch_circle);
    TUBE: "legs.tube", Shape::Either(&[Shape::TubeSize, Shape::Group]), Default::Required("\"tube\": \"25 x 2 mm\""), "The tube, as one size or as an object.", NONE;
    TUBE_SIZE: "legs.tube.size", Shape::TubeSize, Default::Unset("`outside` and `wall` say it"), "Size as sold, instead of `outside` and `wall`.", read_only(|p, at| at::tube_size(at.tube(p)?));
    TUBE_OUTSIDE: "legs.tube.outside", length(6.0, 80.0), Default::Required("\"outside\": \"25 mm\""), "Nominal outside diameter.", read_only(|p, at| say(at.tube(p)?.outside));
    TUBE_WALL: "legs.tube.wall", quantity(Kind::Wall, 0.4, 10.0), Default::Required("\"wall\": \"2 mm\""), "Wall thickness, or its Birmingham gauge.", read_only(|p, at| say(at.tube(p)?.wall));
    TUBE_METAL: "legs.tube.metal", Shape::Row(Table::Metals), Default::Rule("steel S235, or EMT steel for a size of EMT", "the usual grade of welded steel tube"), "Metal of the tube.", read_only(|p, at| row(at.tube(p)?.metal.name));
    METAL_LIKE: "legs.tube.metal.like", Shape::Row(Table::Metals), Default::Value("mild steel", "tube of unknown grade stands in for numbers not given"), "Row of the table that supplies the numbers not given.", NONE;
    METAL_NAME: "legs.tube.metal.name", Shape::Text, Default::Unset("\"own metal\""), "Name of your metal.", read_only(|p, at| name(p, &at.below("tube.metal")));
    METAL_E: "legs.tube.metal.e", stress(10_000.0, 420_000.0), FROM_LIKE, "Modulus of elasticity.", read_only(|p, at| say(own(&at.tube(p)?.metal, |m| m.name)?.e));
    METAL_G: "legs.tube.metal.g", stress(4000.0, 170_000.0), FROM_LIKE, "Shear modulus.", read_only(|p, at| say(own(&at.tube(p)?.metal, |m| m.name)?.g));
    METAL_DENSITY: "legs.tube.metal.density", quantity(Kind::Density, 1500.0, 12_000.0), FROM_LIKE, "Density.", read_only(|p, at| say(own(&at.tube(p)?.metal, |m| m.name)?.density));
    METAL_YIELD: "legs.tube.metal.yield_strength", stress(20.0, 1500.0), FROM_LIKE, "Yield strength or 0.2 % proof strength.", read_only(|p, at| say(own(&at.tube(p)?.metal, |m| m.name)?.yield_strength));
    METAL_ULTIMATE: "legs.tube.metal.ultimate", stress(40.0, 2000.0), FROM_LIKE, "Tensile strength.", read_only(|p, at| say(own(&at.tube(p)?.metal, |m| m.name)?.ultimate));
    TUBE_MEASURED: "legs.tube.measured", length(5.5, 81.0), Default::Rule("the nominal outside diameter", "not measured"), "Outside diameter measured with calipers.", read_only(|p, at| say(at.tube(p)?.measured));
    LEGS_TIES: "legs.ties", Shape::Either(&[Shape::Count(0, 6), lengths(20.0, 1450.0, 0, 6)]), Default::Rule("none for a single tube, 2 for a bundle, and one for each height of rails", "judgement: two ties keep the tubes of a bundle from sliding past each other"), "Ties on each leg: how many, or their heights above the floor.", held!(legs.ties);

    RAILS: "rails", Shape::Groups(0, 4), Default::Value("[]", "the frame is first tried without"), "Horizontal tubes from leg to leg.", Access { get: |_, _| None, set: |p, _, value| value.is_none().then(|| p.rails.clear()) };
    RAIL_RUN: "rails[].run", Shape::Words(&words(&RUNS)), Default::Required("\"run\": \"along width\""), "Direction of the rail.", read_only(|p, at| word(&RUNS, p.rails.get(at.item)?.run));
    RAIL_ABOVE: "rails[].above_floor", length(30.0, 1450.0), Default::Required("\"above_floor\": \"180 mm\""), "Height of the rail's axis.", Access { get: |p, at| p.rails.get(at.item)?.above_floor.got(), set: |p, at, value| p.rails.get_mut(at.item)?.above_floor.put(value) };
    RAIL_TUBE: "rails[].tube", Shape::Either(&[Shape::TubeSize, Shape::Group]), Default::Rule("the tube of the legs", "one tube to buy"), "Tube of the rail; keys as in `legs.tube`.", NONE;

    BRACKET: "bracket", Shape::Group, Default::Unset("every key below"), "The printed plate under the top.", NONE;
    BRACKET_PLATE: "bracket.plate", length(3.0, 25.0), Default::Rule("8 mm, up to 10 mm where a screw would else reach too far", "judgement: 40 layers; a fifth more gives a quarter more stiffness"), "Thickness of the plate.", held!(bracket.plate);
    BRACKET_LENGTH: "bracket.length", length(30.0, 400.0), CHOSEN, "Size of the plate along the top's length.", held!(bracket.length);
    BRACKET_WIDTH: "bracket.width", length(30.0, 400.0), CHOSEN, "Size of the plate along the top's width.", held!(bracket.width);
    BRACKET_CORNER: "bracket.corner_radius", length(0.0, 60.0), Default::Value("10 mm", "judgement: no sharp corner to lift off the bed"), "Radius of the plate's corners.", held!(bracket.corner_radius);
    BRACKET_SOCKET: "bracket.socket_depth", length(10.0, 150.0), Default::Rule("1.6 times the tube, at least 30 mm", "judgement: a deeper bore is the cheapest stiffness"), "Length of the tube inside the bore.", held!(bracket.socket_depth);
    BRACKET_WALL: "bracket.boss_wall", length(2.0, 25.0), CHOSEN, "Material round the bore.", held!(bracket.boss_wall);
    BRACKET_FLOOR: "bracket.floor", length(2.0, 20.0), Default::Value("5 mm", "judgement: the plate stays in one piece over the bore"), "Solid plastic between plate and bottom of the socket.", held!(bracket.floor);
    BRACKET_CHAMFER: "bracket.chamfer", length(0.0, 4.0), Default::Value("1 mm", "judgement: the tube finds the bore"), "Chamfer at the mouth of the bore.", held!(bracket.chamfer);
    BRACKET_SKIRT: "bracket.skirt", length(0.0, 15.0), Default::Value("2 mm", "judgement: no sharp inner corner at the root of the boss"), "Slope at the root of the boss.", held!(bracket.skirt);
    BRACKET_RELIEF: "bracket.relief", length(0.0, 3.0), Default::Value("1 mm", "judgement: room for wood raised by the screw"), "Relief round each hole on the side of the wood.", held!(bracket.relief);
    BRACKET_HOLD: "bracket.hold", Shape::Either(&[Shape::Words(HOLDS), Shape::WordList(HOLDS)]), Default::Rule("ribs and a cross bolt M4 (M3 in tubes thinner than 12 mm)", "judgement: ribs take out the play, the bolt keeps the tube from pulling out"), "How the tube is held in its socket.", held!(bracket.hold);
    BRACKET_RIBS: "bracket.rib_interference", length(0.02, 1.0), Default::Value("0.2 mm", "judgement: two printed lines a tenth too close on each side still let a tube be driven in"), "How much smaller than the tube the circle inside the ribs is.", read_only(|p, _| maybe(p.bracket.hold.ribs.then_some(p.bracket.hold.rib_interference)));
    GUSSETS: "bracket.gussets", Shape::Group, Default::Unset("every key below"), "Webs from boss to plate.", NONE;
    GUSSETS_COUNT: "bracket.gussets.count", Shape::Count(0, 12), CHOSEN, "Webs of each boss to the plate.", held!(bracket.gussets.count);
    GUSSETS_RUN: "bracket.gussets.run", length(3.0, 150.0), CHOSEN, "Length of a web on the plate.", held!(bracket.gussets.run);
    GUSSETS_RISE: "bracket.gussets.rise", length(3.0, 150.0), CHOSEN, "Height of a web on the boss.", held!(bracket.gussets.rise);
    GUSSETS_THICKNESS: "bracket.gussets.thickness", length(1.2, 25.0), Default::Value("5 mm", "judgement: all walls, no infill"), "Thickness of a web.", held!(bracket.gussets.thickness);
    GUSSETS_BETWEEN: "bracket.gussets.between", Shape::Flag, Default::Rule("true for a bundle, false for a single tube", "judgement: tied bosses lean together"), "Webs between neighbouring bosses.", held!(bracket.gussets.between);
    SCREWS: "bracket.screws", Shape::Group, Default::Unset("every key below"), "Wood screws of one bracket.", NONE;
    SCREW_SIZE: "bracket.screws.size", Shape::Either(&[Shape::ScrewSize, Shape::Group]), Default::Rule("4.5 mm, thinner down to 3 mm where the top is thin", "the commonest wood screw of its length; a thin top takes 6 diameters of a thinner one only"), "Diameter and, if wished, length; or an object with its own numbers.", Access { get: |p, _| at::screw_size(&p.bracket.screws), set: |p, _, value| at::put_screw(&mut p.bracket.screws, value) };
    SCREW_LIKE: "bracket.screws.size.like", Shape::Row(Table::Screws), Default::Value("4.5 mm", "stands in for numbers not given"), "Row of the table that supplies the numbers not given.", NONE;
    SCREW_NAME: "bracket.screws.size.name", Shape::Text, Default::Unset("\"own screw\""), "Name of your screw.", read_only(|p, _| name(p, "bracket.screws.size"));
    SCREW_DIAMETER: "bracket.screws.size.diameter", length(2.0, 10.0), FROM_LIKE, "Outside diameter of the thread.", read_only(|p, _| say(own(&p.bracket.screws.screw, |s| s.name)?.diameter));
    SCREW_ROOT: "bracket.screws.size.root", length(1.0, 8.0), FROM_LIKE, "Diameter at the root of the thread.", read_only(|p, _| say(own(&p.bracket.screws.screw, |s| s.name)?.root));
    SCREW_HEAD_DIAMETER: "bracket.screws.size.head_diameter", length(3.0, 30.0), FROM_LIKE, "Diameter of the head.", read_only(|p, _| say(own(&p.bracket.screws.screw, |s| s.name)?.pan.diameter));
    SCREW_HEAD_HEIGHT: "bracket.screws.size.head_height", length(0.5, 12.0), FROM_LIKE, "Height of the head; depth of a countersunk one.", read_only(|p, _| say(own(&p.bracket.screws.screw, |s| s.name)?.pan.height));
    SCREW_LENGTH: "bracket.screws.length", length(8.0, 120.0), Default::Rule("30 mm, or the length sold that is 6 diameters in the wood and leaves 4 mm (at least 3 mm) over the tip", "judgement: many short screws, none through the show face"), "Length under the head (pan, washer) or overall (countersunk).", held!(bracket.screws.length);
    SCREW_HEAD: "bracket.screws.head", Shape::Words(&words(&HEADS)), Default::Value("pan", "a flat head bears on plastic without splitting it"), "Form of the head.", read_only(|p, _| word(&HEADS, p.bracket.screws.head));
    SCREW_COUNT: "bracket.screws.count", Shape::Count(4, 12), Default::Value("8", "judgement: eight share the pull of a plate this size"), "Screws in each bracket.", held!(bracket.screws.count);
    SCREW_SPARE: "bracket.screws.spare_holes", Shape::Flag, Default::Value("false", "a second pattern weakens the plate a little"), "A second pattern of holes for a later repair; a plate whose size is not given grows for it.", held!(bracket.screws.spare_holes);
    SCREW_SLOTS: "bracket.screws.slots", Shape::Flag, Default::Value("true", "the top can move with the seasons"), "Slots across the grain where the wood's movement asks for them.", held!(bracket.screws.slots);

    TIE: "tie", Shape::Group, Default::Unset("every key below"), "The plates that hold a leg's tubes together.", NONE;
    TIE_HEIGHT: "tie.height", length(6.0, 120.0), Default::Rule("1.25 times the tube, at least 20 mm; with rails the rail and 5 mm above and below it", "judgement: a collar longer than its bore is wide"), "Height of a tie along the tube.", held!(tie.height);
    TIE_WALL: "tie.wall", length(2.0, 25.0), CHOSEN, "Material round the bores.", held!(tie.wall);
    TIE_SOCKET: "tie.rail_socket_depth", length(8.0, 120.0), Default::Rule("1.25 times the rail, at least 20 mm", "judgement: as the brackets, with less to carry"), "Length of a rail inside its socket.", held!(tie.rail_socket_depth);

    FOOT: "foot", Shape::Group, Default::Unset("every key below"), "The parts at the floor.", NONE;
    FOOT_KIND: "foot.kind", Shape::Words(FEET), Default::Value("flat", "nothing to buy but a pad"), "Flat with a pad, or levelling with a bolt.", read_only(|p, _| at::foot(&p.foot.kind).kind);
    FOOT_BOLT: "foot.bolt", Shape::Words(BOLTS), Default::Value("M8", "the commonest levelling bolt"), "Levelling bolt.", read_only(|p, _| at::foot(&p.foot.kind).bolt);
    FOOT_STAND_OFF: "foot.stand_off", length(5.0, 80.0), Default::Value("20 mm", "judgement: the middle of the bolt's travel"), "From the floor to the face of a levelling foot.", read_only(|p, _| maybe(at::foot(&p.foot.kind).stand_off));
    FOOT_PAD: "foot.pad_diameter", length(6.0, 100.0), Default::Value("20 mm", "felt pads sold everywhere"), "Diameter of the pad under a flat foot.", read_only(|p, _| maybe(at::foot(&p.foot.kind).pad_diameter));
    FOOT_PAD_THICKNESS: "foot.pad_thickness", length(0.0, 12.0), Default::Value("3 mm", "felt pads sold everywhere"), "Thickness of the pad; 0 mm for none.", read_only(|p, _| maybe(at::foot(&p.foot.kind).pad_thickness));
    FOOT_SHIMS: "foot.shims", length(1.2, 8.0), Default::Unset("none are printed"), "Thickness of shims to print, one for each flat foot, for a floor that is not level.", held!(foot.shims);
    FOOT_PLATE: "foot.plate", length(2.0, 30.0), CHOSEN, "Plastic below the bottom of the sockets.", held!(foot.plate);
    FOOT_SOCKET: "foot.socket_depth", length(6.0, 120.0), Default::Rule("1.25 times the tube, at least 20 mm", "judgement: a foot carries no moment"), "Length of the tube inside the foot.", held!(foot.socket_depth);
    FOOT_BASE: "foot.base", Shape::Words(&words(&BASES)), Default::Value("pinned", "a foot on a floor can tip; the safe side for sway"), "What the floor lets the foot do in the frame.", read_only(|p, _| word(&BASES, p.foot.base));
    FOOT_FRICTION: "foot.friction", Shape::Number(0.1, 1.5), Default::Rule("0.5 for a flat foot, 0.8 for a levelling bolt", "judgement: felt on wood slides at 0.3 to 0.5, rubber and bolt heads on tiles hold up to 0.8"), "Friction on the floor: a foot is dragged with no more than this times what stands on it.", held!(foot.friction);

    JOINTS_GROUP: "joints", Shape::Group, Default::Unset("every key below"), "Your own figure for the joint at the bracket.", NONE;
    JOINTS_STIFFNESS: "joints.stiffness", Shape::Either(&[Shape::Words(&words(&JOINTS)), quantity(Kind::RotationalStiffness, 1e4, 1e9)]), Default::Value("estimated", "from the bracket's dimensions, soft and stiff"), "Rotational stiffness of the joint.", read_only(|p, _| at::joint(p.joints));

    PRINTING: "printing", Shape::Group, Default::Unset("every key below"), "Printer and filament.", NONE;
    FILAMENT: "printing.filament", Shape::Row(Table::Filaments), Default::Value("PETG", "tough, and softens later than PLA"), "Filament of the parts.", read_only(|p, _| row(p.printing.filament.name));
    FILAMENT_LIKE: "printing.filament.like", Shape::Row(Table::Filaments), Default::Value("PETG", "stands in for numbers not given"), "Row of the table that supplies the numbers not given.", NONE;
    FILAMENT_NAME: "printing.filament.name", Shape::Text, Default::Unset("\"own filament\""), "Name of your filament.", read_only(|p, _| name(p, "printing.filament"));
    FILAMENT_DENSITY: "printing.filament.density", quantity(Kind::Density, 500.0, 4000.0), FROM_LIKE, "Density.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.density));
    FILAMENT_E: "printing.filament.e", stress(5.0, 20_000.0), FROM_LIKE, "Modulus of elasticity in the layer plane.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.e));
    FILAMENT_E_Z: "printing.filament.e_z", stress(5.0, 20_000.0), FROM_LIKE, "Modulus of elasticity across the layers.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.e_z));
    FILAMENT_XY: "printing.filament.strength_xy", stress(1.0, 300.0), FROM_LIKE, "Tensile strength in the layer plane that 95 of 100 prints reach.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.in_layers.characteristic()));
    FILAMENT_Z: "printing.filament.strength_z", stress(0.5, 300.0), FROM_LIKE, "Tensile strength across the layers that 95 of 100 prints reach; better, tear coupons and give `printing.coupons`.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.across.characteristic()));
    FILAMENT_CRUSH: "printing.filament.compressive_yield", stress(1.0, 300.0), FROM_LIKE, "Yield strength in compression that 95 of 100 prints reach.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.bearing.characteristic()));
    FILAMENT_TG: "printing.filament.tg", quantity(Kind::Temperature, -80.0, 350.0), FROM_LIKE, "Glass transition.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.tg));
    FILAMENT_HDT: "printing.filament.hdt_045", quantity(Kind::Temperature, 20.0, 350.0), FROM_LIKE, "Deflection temperature under 0.45 MPa.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.hdt_045));
    FILAMENT_SUSTAINED: "printing.filament.sustained_factor", Shape::Number(0.02, 1.0), FROM_LIKE, "Share of the strength left after five years under load, for every kind of stress.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.lasting.in_layers));
    FILAMENT_SUSTAINED_Z: "printing.filament.sustained_z_limit", stress(0.1, 100.0), FROM_LIKE, "Tension across layers never counted on for years above this.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.sustained_z_limit));
    FILAMENT_CREEP: "printing.filament.creep_divisor", Shape::Number(1.0, 20.0), FROM_LIKE, "Modulus at once over the modulus that stands for years of load.", read_only(|p, _| say(own(&p.printing.filament, |f| f.name)?.creep_divisor));
    COUPONS: "printing.coupons", Shape::Either(&[quantities(Kind::Stress, 0.5, 100.0, 3, 40), quantities(Kind::Force, 5.0, 1000.0, 3, 40)]), Default::Unset("across the layers 10 MPa for PETG and PLA, whatever your printer does"), "What coupons of this filament from this printer bore when they tore across the layers: the load on each of those printed with the fit gauge, or load over area of others.", held!(printing.coupons);
    NOZZLE: "printing.nozzle", length(0.1, 1.4), Default::Value("0.4 mm", "the commonest nozzle"), "Diameter of the nozzle.", held!(printing.nozzle);
    LAYER: "printing.layer", length(0.04, 1.0), Default::Value("0.2 mm", "half of the commonest nozzle"), "Height of a layer.", held!(printing.layer);
    WALLS: "printing.walls", Shape::Count(2, 40), Default::Value("5", "judgement: 2 mm of solid wall"), "Number of perimeter walls.", held!(printing.walls);
    SOLID_LAYERS: "printing.solid_layers", Shape::Count(2, 500), Default::Rule("as thick as the walls, rounded up, at least 4", "judgement: skins as thick as the walls, so that a section is as solid from above as from the side; fewer than 4 layers sag into the infill"), "Number of solid layers at the bottom and at the top of every part.", held!(printing.solid_layers);
    INFILL: "printing.infill", share(0.05, 1.0), Default::Value("40 %", "judgement: walls carry, infill holds them apart"), "Solid share of what the walls enclose.", held!(printing.infill);
    BED: "printing.bed", lengths(80.0, 1500.0, 3, 3), Default::Value("[\"220 mm\", \"220 mm\", \"250 mm\"]", "the commonest printer"), "Bed along x and y, and the height.", held!(printing.bed);
    CLEARANCE: "printing.clearance", length(0.0, 1.5), Default::Value("0.30 mm", "judgement: slides on most printers; print the fit gauge and replace it"), "Bore minus tube, on the diameter.", held!(printing.clearance);
    FILAMENT_DIAMETER: "printing.filament_diameter", length(1.0, 3.5), Default::Value("1.75 mm", "the commonest filament"), "Diameter of the filament.", held!(printing.filament_diameter);
    PRICE: "printing.price_per_kg", Shape::Number(0.01, 10_000.0), Default::Unset("no price is shown"), "Price of a kilogram of filament in your own money.", held!(printing.price_per_kg);

    LOADS: "loads", Shape::Groups(1, 60), Default::Required("\"loads\": [ { \"name\": \"all of it\", \"mass\": \"40 kg\" } ]"), "What the table carries.", NONE;
    LOAD_NAME: "loads[].name", Shape::Text, Default::Rule("load 1, load 2, ...", "no name given"), "Name of the load.", read_only(|p, at| say(p.loads.get(at.item)?.name.as_str()));
    LOAD_MASS: "loads[].mass", quantity(Kind::Mass, 0.05, 3000.0), Default::Unset("`force` says it"), "Mass that stays on the top.", read_only(|p, at| maybe(at::weight(p.loads.get(at.item)?)[0]));
    LOAD_FORCE: "loads[].force", quantity(Kind::Force, 0.5, 30_000.0), Default::Unset("`mass` says it"), "Force, for what pushes or shakes.", read_only(|p, at| maybe(at::weight(p.loads.get(at.item)?)[1]));
    LOAD_OVER: "loads[].over", Shape::Either(&[Shape::Words(&words(&OVERS)), Shape::Rectangle]), Default::Value("whole top", "no place given"), "Evenly on all of the top, along an edge or on a rectangle.", read_only(|p, at| at::over(p.loads.get(at.item)?.on));
    LOAD_AT: "loads[].at", Shape::Point, Default::Unset("`over` says it"), "At one point, instead of `over`.", read_only(|p, at| at::point(p.loads.get(at.item)?.on));
    LOAD_LASTS: "loads[].lasts", Shape::Words(&words(&LASTS)), Default::Value("years", "the worst for wood and plastic"), "How long it lasts at a time, or in all.", read_only(|p, at| word(&LASTS, p.loads.get(at.item)?.lasts));
    LOAD_DIRECTION: "loads[].direction", Shape::Words(&words(&DIRECTIONS)), Default::Value("down", "weight"), "Direction of a force.", read_only(|p, at| word(&DIRECTIONS, p.loads.get(at.item)?.direction));
    LOAD_SHAKING: "loads[].shaking", Shape::Band(SHAKEN), Default::Unset("the load does not shake"), "Frequency of a shaking force, or the range it runs through; `force` is its amplitude.", read_only(|p, at| say(p.loads.get(at.item)?.shaking.as_ref()?.frequency.to_vec()));
    LOAD_MOVING: "loads[].moving", quantity(Kind::Mass, 0.001, 300.0), Default::Unset("`force` says how hard it shakes"), "Mass that goes to and fro, with `stroke` and `shaking`, instead of `force`.", read_only(|p, at| say(p.loads.get(at.item)?.shaking.as_ref()?.moving?[0]));
    LOAD_STROKE: "loads[].stroke", length(0.01, 1000.0), Default::Unset("`force` says how hard it shakes"), "Whole way of the moving mass from end to end.", read_only(|p, at| say(p.loads.get(at.item)?.shaking.as_ref()?.moving?[1]));

    USE: "use", Shape::Words(&words(&USES)), Default::Value("household", "as tables for homes are tested"), "How hard the table is used, which loads of table tests are added (from memory): light 500 N anywhere on the top, 150 N sideways, 75 N sideways 10,000 times, 100 N on one foot; household 1000 N, 300 N, 150 N, 100 N, and 200 N at 50 mm from the edge that must not tip it; hard 1250 N, 400 N, 150 N, 222 N on one foot, 400 N at the edge.", read_only(|p, _| word(&USES, p.usage));

    PLACE: "place", Shape::Group, Default::Unset("every key below"), "Where the table stands.", NONE;
    TEMPERATURE: "place.temperature", Shape::Quantities(AIR, 2, 2), Default::Value("[\"10 C\", \"30 C\"]", "a room lived in"), "Lowest and highest temperature of the air.", held!(place.temperature);
    HUMIDITY: "place.humidity", Shape::Quantities(DAMP, 2, 2), Default::Value("[\"35 %\", \"70 %\"]", "a room lived in"), "Lowest and highest relative humidity of the air.", held!(place.humidity);
    CHILDREN: "place.children", Shape::Flag, Default::Value("false", "say so if children can reach it"), "Whether children can reach it.", held!(place.children);
    SAT_ON: "place.sat_on", Shape::Flag, Default::Value("false", "say so if it is a seat or a step"), "Whether people sit or stand on it.", held!(place.sat_on);

    LIFE: "life", quantity(Kind::Time, 0.25, 50.0), Default::Value("5 years", "judgement: until the first thorough look at it"), "How long it must last.", held!(life);

    LIMITS: "limits", Shape::Group, Default::Unset("every key below"), "Limits that are judgement.", NONE;
    LIMIT_SWAY: "limits.sway", length(0.1, 30.0), Default::Value("2 mm", "judgement: felt as firm"), "Sway of the top under 50 N at its edge.", held!(limits.sway);
    LIMIT_FREQUENCY: "limits.frequency", quantity(Kind::Frequency, 0.5, 50.0), Default::Value("3 Hz", "judgement: above what a hand can rock"), "Lowest natural frequency.", held!(limits.frequency);
    LIMIT_SAG: "limits.sag", Shape::Span(50.0, 2000.0), Default::Value("span / 300", "judgement: not seen by eye"), "Sag of the top between legs.", held!(limits.sag);
    LIMIT_PLAY: "limits.play", length(0.1, 30.0), Default::Value("3 mm", "judgement: felt as wobble above it"), "Free travel of the top before the sockets bear.", held!(limits.play);
    LIMIT_SLIP: "limits.slip", length(0.5, 60.0), Default::Value("10 mm", "judgement: between 3 mm, felt as wobble where nothing holds it, and 20 mm, from which things slide off"), "Travel of the top, each way, under a push that makes a leg's tubes slide in their bores.", held!(limits.slip);

    CUTTING: "cutting", Shape::Group, Default::Unset("every key below"), "Stock and saw.", NONE;
    STOCK: "cutting.stock", Shape::Either(&[length(200.0, 8000.0), lengths(200.0, 8000.0, 1, 12)]), Default::Value("3000 mm", "half of a 6 m bar, as dealers cut it"), "Lengths the tube is sold in.", read_only(|p, _| say(p.cutting.stock.clone()));
    KERF: "cutting.kerf", length(0.0, 8.0), Default::Value("2 mm", "judgement: hacksaw and filing; a tube cutter needs less"), "Width of the cut.", held!(cutting.kerf);
    END_PLAY: "cutting.end_play", length(0.0, 6.0), Default::Value("1 mm", "judgement: cuts are never quite square"), "Room for a tube between the bottoms of its two sockets.", held!(cutting.end_play);

    DRILLING: "drilling", Shape::Group, Default::Unset("every key below"), "Drill and chuck, for the drill guide.", NONE;
    STICK_OUT: "drilling.stick_out", length(15.0, 250.0), Default::Value("45 mm", "judgement: a 3 mm drill, 61 mm long, in the chuck by 16 mm"), "From the face of the chuck to the tip of the drill.", held!(drilling.stick_out);
    CHUCK: "drilling.chuck", length(8.0, 100.0), Default::Value("40 mm", "judgement: chucks up to 13 mm are 36 to 43 mm across"), "Diameter of the face of the chuck.", held!(drilling.chuck);
}

#[cfg(test)]
mod tests;

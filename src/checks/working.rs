//! The working of a check: equations with what was put in, and facts. Their words stand in `output/working.rs`.

use super::plastic::Kind;
use crate::clauses::creep::Effect;
use crate::clauses::lateral::Mode;
use crate::clauses::working::Equation;
use crate::tables::filament::Grade;

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// An equation.
    Equation(Equation),
    /// Of legs, sockets, top and parts.
    Fact(Fact),
    /// Of the whole frame.
    Frame(FrameFact),
    /// Of screws.
    Screw(ScrewFact),
    /// Of the plastic's strength.
    Strength(StrengthFact),
    /// Demand over capacity, the last step of every working.
    Utilisation {
        /// In `unit`.
        demand: f64,
        /// In `unit`.
        capacity: f64,
        /// Of both.
        unit: &'static str,
    },
}

/// A step of each sort of finding.
macro_rules! found {
    ($($sort:ident: $found:ty),*) => {
        $(impl From<$found> for Step {
            fn from(found: $found) -> Self {
                Self::$sort(found)
            }
        })*
    };
}

found!(Equation: Equation, Fact: Fact, Frame: FrameFact, Screw: ScrewFact, Strength: StrengthFact);

/// What was found otherwise of legs, sockets, top and parts. Lengths in mm, forces in N, stresses in MPa, temperatures in C,
/// angles in degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// Tension in a tube, at least its share of a lifted leg's weight.
    Tension(f64),
    /// Neither bolt nor bond holds a tube in its socket.
    Unheld,
    /// What a cross bolt holds in the plastic, in the tube and before it tears out.
    CrossBolt {
        /// Diameter.
        size: f64,
        /// Of the plastic's bearing.
        plastic: f64,
        /// Of the tube's bearing.
        tube: f64,
        /// Before the plastic is torn out.
        tear_out: f64,
    },
    /// What a bond holds.
    EpoxyBond {
        /// mm2.
        area: f64,
        /// Of the whole area.
        pull: f64,
    },
    /// Ribs or epoxy leave no play.
    NoPlay,
    /// Free travel at the end of the leg.
    Play {
        /// Between tube and bore, on the diameter.
        clearance: f64,
        /// Of the top.
        travel: f64,
    },
    /// Largest pressure of a plate on the wood.
    PlatePressure(f64),
    /// What a bolt of a tie bears along the tube, and what holds it.
    TieBolt {
        /// Along the tube.
        force: f64,
        /// Of the plastic's bearing.
        plastic: f64,
        /// Of the tube's bearing.
        tube: f64,
    },
    /// Weight of the empty table, and how far its centre stands inside the edge.
    Weight {
        /// Of the empty table.
        weight: f64,
        /// From the edge.
        inside: f64,
    },
    /// Where a load stands, and how far outside the edge.
    LoadOutside {
        /// From the middle of the top.
        at: [f64; 2],
        /// From the edge.
        outside: f64,
    },
    /// Temperatures of a filament.
    ServiceLimit {
        /// As the user calls it.
        filament: String,
        /// Glass transition.
        tg: f64,
        /// Heat deflection at 0.45 MPa.
        hdt: f64,
        /// The lower of both less the margin.
        limit: f64,
    },
    /// Change of the wood's equilibrium moisture, %.
    MoistureChange(f64),
    /// Room of a screw in its hole, either way.
    RoomInHole(f64),
    /// The largest part's side and the bed's.
    Bed {
        /// Of the part.
        size: f64,
        /// Of the bed.
        bed: f64,
    },
    /// Perimeters from each side of a wall.
    Perimeters(usize),
    /// Lean of the bosses.
    Lean(f64),
    /// From a screw's axis to the nearest boss.
    DriverRoom {
        /// Least of all screws.
        room: f64,
        /// What a driver needs.
        needed: f64,
    },
}

/// What was found of the whole frame. Lengths in mm, forces in N, frequencies in Hz.
#[derive(Clone, Debug, PartialEq)]
pub enum FrameFact {
    /// Factor on the lasting loads at which the frame buckles.
    CriticalFactor(f64),
    /// Sway of the whole frame.
    Sway {
        /// What pushes.
        push: f64,
        /// Of the first order.
        first_order: f64,
        /// With the effect of the weight.
        second_order: f64,
    },
    /// The same with the stiffest joints.
    StiffSway(f64),
    /// Lowest frequency of the whole frame.
    Frequency(f64),
    /// The frequency at which shaking does most, and its force.
    Shaking {
        /// The frequency.
        hertz: f64,
        /// Amplitude.
        force: f64,
    },
    /// A natural frequency with soft and with stiff joints between which the shaking lies.
    Resonance([f64; 2]),
    /// Amplitude of the steady response.
    SteadyResponse(f64),
}

/// What was found of screws. Forces in N, angles in degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum ScrewFact {
    /// Pull on the worst screw, upper end of the band.
    Pull(f64),
    /// Pull on the worst of the screws left where one is lost, upper end of the band.
    PullOnOthers(f64),
    /// Withdrawal of a screw for each millimetre of its thread, N/mm.
    PerMillimetre(f64),
    /// Shear on the worst screw.
    Shear(f64),
    /// The weakest way to yield.
    YieldMode {
        /// Which.
        mode: Mode,
        /// Its reference lateral value.
        value: f64,
    },
    /// Both on one screw, and the angle of the two together from the wood's face.
    PullAndShear {
        /// Along the screw.
        pull: f64,
        /// Across it.
        shear: f64,
        /// From the wood's face.
        angle: f64,
    },
}

/// How a strength of the plastic came about, MPa.
#[derive(Clone, Debug, PartialEq)]
pub enum StrengthFact {
    /// A factor on strength.
    Factor {
        /// What it is for.
        effect: Effect,
        /// Share left.
        value: f64,
    },
    /// No more than this is taken under a load that stays.
    Sustained(f64),
    /// Coupons that were torn.
    Coupons {
        /// How many.
        count: u32,
        /// Of their strength.
        mean: f64,
        /// Coefficient of variation as it was found.
        variation: f64,
        /// Least that it counts with.
        least: f64,
    },
    /// Strength from coupons, and the most that they may give.
    FromCoupons {
        /// The most.
        cap: f64,
        /// What is taken.
        value: f64,
    },
    /// Trials that a table's strength comes from.
    Trials {
        /// Filament, as the user calls it.
        filament: String,
        /// Trials and batches; none where they were not counted.
        counted: Option<[u32; 2]>,
        /// Of all of them.
        mean: f64,
        /// Coefficient of variation.
        variation: f64,
        /// How it is known.
        grade: Grade,
    },
    /// 5 % value of trials, and the most that is taken of it.
    Fractile {
        /// Which strength.
        strength: Kind,
        /// Factor on the scatter.
        k: f64,
        /// The 5 % value.
        found: f64,
        /// The most that is taken.
        most: f64,
        /// How that is known.
        grade: Grade,
        /// What is taken.
        value: f64,
    },
    /// A characteristic strength as it is tabled or given.
    Characteristic {
        /// Which strength.
        strength: Kind,
        /// Filament, as the user calls it.
        filament: String,
        /// MPa.
        value: f64,
        /// How it is known.
        grade: Grade,
    },
}

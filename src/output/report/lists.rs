//! What to cut and what to buy, as the lists beside the page have it.

use serde::Serialize;

use crate::formats::number::{num, short};
use crate::model::{CutTube, Model};
use crate::output::cut_list::{self, TubePlan, leg_numbers};
use crate::output::hardware::{self, HardwareRow};
use crate::units::inch_32;

/// One line of the cut list.
#[derive(Clone, Debug, Serialize)]
pub struct Cut {
    name: String,
    designation: String,
    count: usize,
    length: String,
    inches: String,
    legs: String,
}

/// Bars of one tube.
#[derive(Clone, Debug, Serialize)]
pub struct Bars {
    designation: String,
    /// One line for each bar.
    bars: Vec<String>,
    proof: &'static str,
}

/// One line of the hardware list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Buy {
    item: String,
    size: String,
    needed: usize,
    with_spares: usize,
    note: String,
}

/// Tubes to cut.
#[must_use]
pub fn cuts(model: &Model) -> Vec<Cut> {
    let cut = |c: CutTube| Cut {
        legs: format!("{} {}", if c.legs.len() == 1 { "leg" } else { "legs" }, leg_numbers(&c.legs)),
        length: num(c.length, 1),
        inches: inch_32(c.length),
        name: c.name,
        designation: c.designation,
        count: c.count,
    };
    model.cut_tubes().into_iter().map(cut).collect()
}

/// How the pieces come out of bars as sold.
#[must_use]
pub fn bars(model: &Model) -> Vec<Bars> {
    cut_list::tube_plans(model).into_iter().map(bars_of).collect()
}

fn bars_of(TubePlan { designation, plan }: TubePlan) -> Bars {
    match plan {
        Ok(plan) => Bars { designation, bars: plan.bars.iter().map(bar).collect(), proof: plan.proof.words() },
        Err(why) => Bars { designation, bars: vec![why.to_string()], proof: "" },
    }
}

fn bar(bar: &crate::output::cut_plan::Bar) -> String {
    let (length, left) = (short(bar.length, 0), short(bar.offcut, 0));
    format!("from {length} mm: {}; {left} mm left", cut_list::pieces_words(bar))
}

/// Screws, bolts, nuts, glue and what stands on the floor.
#[must_use]
pub fn hardware(model: &Model) -> Vec<Buy> {
    let buy =
        |r: HardwareRow| Buy { item: r.item, size: r.size, needed: r.needed, with_spares: r.with_spares, note: r.note };
    hardware::bought(model).into_iter().map(buy).collect()
}

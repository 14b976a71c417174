//! What to cut and what to buy.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::model::{CrossBolt, CutTube, Model, Sole};
use crate::output::cut_plan::{self, Piece, Stock};
use crate::output::number::{inch_32, num, short};
use crate::params::{FootKind, Head};

/// Spare screws: one in ten is lost or stripped (judgement).
const SPARE_SCREWS: f64 = 1.1;

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
    /// `6000 mm: 812.3 + 812.3 + ..., 120 mm left`.
    bars: Vec<String>,
    proof: &'static str,
}

/// One line of the hardware list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Buy {
    what: String,
    count: usize,
    why: String,
}

/// Tubes to cut.
#[must_use]
pub fn cuts(model: &Model) -> Vec<Cut> {
    let numbers = |c: &CutTube| {
        let list = c.legs.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        format!("{} {list}", if c.legs.len() == 1 { "leg" } else { "legs" })
    };
    let cut = |c: CutTube| Cut {
        legs: numbers(&c),
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
    let mut by_tube: BTreeMap<String, Vec<Piece>> = BTreeMap::new();
    for c in model.cut_tubes() {
        by_tube.entry(c.designation).or_default().push(Piece { name: c.name, length: c.length, count: c.count });
    }
    let cutting = &model.params.cutting;
    let stock: Vec<Stock> = cutting.stock.iter().map(|length| Stock { length: *length, count: None }).collect();
    let plan = |(designation, pieces): (String, Vec<Piece>)| match cut_plan::plan(&pieces, &stock, cutting.kerf) {
        Ok(plan) => Bars { designation, bars: plan.bars.iter().map(bar).collect(), proof: plan.proof.words() },
        Err(why) => Bars { designation, bars: vec![why.to_string()], proof: "" },
    };
    by_tube.into_iter().map(plan).collect()
}

fn bar(bar: &cut_plan::Bar) -> String {
    let pieces: Vec<String> = bar
        .pieces
        .chunk_by(|a, b| a.1 == b.1)
        .map(|same| if same.len() > 1 { format!("{} × {}", same.len(), num(same[0].1, 1)) } else { num(same[0].1, 1) })
        .collect();
    format!("bar of {} mm: {} mm, {} mm left", short(bar.length, 0), pieces.join(" + "), short(bar.offcut, 0))
}

/// Screws, bolts, nuts and what stands on the floor.
#[must_use]
pub fn hardware(model: &Model) -> Vec<Buy> {
    let mut all = vec![wood_screws(model)];
    let mut bolts: BTreeMap<(u64, u64), (CrossBolt, usize)> = BTreeMap::new();
    let mut add = |bolt: &CrossBolt, count: usize| {
        let key = ((bolt.size * 10.0) as u64, (bolt.length * 10.0) as u64);
        bolts.entry(key).or_insert((*bolt, 0)).1 += count;
    };
    for kind in &model.brackets {
        kind.design.sockets.iter().filter_map(|s| s.bolt.as_ref()).for_each(|b| add(b, kind.count));
    }
    for kind in &model.ties {
        kind.design.bolts.iter().for_each(|b| add(b, kind.count));
    }
    for (bolt, count) in bolts.values() {
        let what =
            format!("M{} x {} mm hexagon or socket-head bolt with nut", short(bolt.size, 1), short(bolt.length, 0));
        all.push(Buy { what, count: *count, why: "through collars and bosses, across the tubes".into() });
    }
    all.extend(standing(model));
    if model.params.bracket.hold.bonded {
        all.push(Buy {
            what: "two-part epoxy, slow, for metal and plastic".into(),
            count: 1,
            why: "tubes into brackets".into(),
        });
    }
    all
}

fn wood_screws(model: &Model) -> Buy {
    let screws = &model.params.bracket.screws;
    let head = match screws.head {
        Head::Pan => "pan head",
        Head::Washer => "washer head",
        Head::Countersunk => "countersunk",
    };
    let needed = screws.count * model.legs.len();
    Buy {
        what: format!("wood screw {} x {} mm, {head}", screws.screw.name, short(screws.length, 1)),
        count: (needed as f64 * SPARE_SCREWS).ceil() as usize,
        why: format!("brackets to the top: {needed} and a few spare"),
    }
}

fn standing(model: &Model) -> Option<Buy> {
    let count = model.legs.len();
    let design = &model.feet.first()?.design;
    match (design.sole, model.params.foot.kind) {
        (Sole::Levelling { bolt, .. }, _) => Some(Buy {
            what: format!("M{} hexagon bolt and nut, for levelling", short(bolt, 1)),
            count,
            why: "one below each foot, nut pressed into its pocket".into(),
        }),
        (Sole::Pad { .. }, FootKind::Flat { pad_diameter, pad_thickness }) if pad_thickness > 0.0 => Some(Buy {
            what: format!(
                "felt or rubber pad, {} mm across, {} mm thick",
                short(pad_diameter, 1),
                short(pad_thickness, 1)
            ),
            count,
            why: "one below each foot".into(),
        }),
        _ => None,
    }
}

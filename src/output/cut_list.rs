//! Tubes to cut, and from which bars: `cut_list.csv`, `cut_plan.csv`, a picture of the bars.

use super::cut_plan::{self, Bar, CutPlan, CutProblem, Piece, Stock};
use super::{Files, Kit};
use crate::formats::csv::Table;
use crate::formats::drawing::{Anchor, Drawing, Pen, Shade};
use crate::formats::font;
use crate::formats::number::{num, short};
use crate::model::{CutTube, Model};
use crate::units::inch_32;

/// Width of the picture of the bars, mm: a column of a sheet.
const WIDTH: f64 = 174.0;
/// Height of a bar, and from bar to bar, mm.
const BAR: [f64; 2] = [6.0, 13.0];
/// Room for a heading above the bars of one tube, mm.
const HEADING: f64 = 8.0;
/// Capitals in and above the bars, mm.
const CAPITALS: [f64; 2] = [2.2, 2.5];

/// The bars of one sort of tube.
#[derive(Clone, Debug, PartialEq)]
pub struct TubePlan {
    /// The tube as sold.
    pub designation: String,
    /// The bars, or why there is no plan.
    pub plan: Result<CutPlan, CutProblem>,
}

/// Writes the cut list and the plan.
///
/// # Errors
/// When a table's rows are uneven, which is a mistake in here.
pub fn write(kit: &Kit) -> Result<Files, String> {
    files(kit.model, kit.checked.listed())
}

/// The same from the model alone; `listed` is the verdict as every row ends with it.
///
/// # Errors
/// As [`write()`].
pub fn files(model: &Model, listed: &str) -> Result<Files, String> {
    let text = |table: Table| table.ending("verdict", listed).write().map_err(|e| e.to_string());
    let mut files = Files::new();
    files.insert("cut_list.csv".to_owned(), text(list_table(model))?);
    files.insert("cut_plan.csv".to_owned(), text(plan_table(model))?);
    Ok(files)
}

/// Numbers of legs with blanks between, ascending.
#[must_use]
pub fn leg_numbers(legs: &[usize]) -> String {
    let mut legs = legs.to_vec();
    legs.sort_unstable();
    legs.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

fn list_table(model: &Model) -> Table {
    let mut table = Table::new(&["name", "legs", "tube", "count", "length_mm", "length_in_32nds"]);
    for c in model.cut_tubes() {
        let count = c.count.to_string();
        table.row([c.name, leg_numbers(&c.legs), c.designation, count, num(c.length, 1), inch_32(c.length)]);
    }
    table
}

fn plan_table(model: &Model) -> Table {
    let mut table = Table::new(&["tube", "bar", "stock_mm", "pieces", "offcut_mm", "plan"]);
    for TubePlan { designation, plan } in tube_plans(model) {
        match plan {
            Ok(plan) => {
                for (i, bar) in plan.bars.iter().enumerate() {
                    let number = (i + 1).to_string();
                    let proof = plan.proof.words().to_owned();
                    let pieces = pieces_words(bar);
                    table.row([designation.clone(), number, short(bar.length, 1), pieces, num(bar.offcut, 1), proof]);
                }
            }
            Err(why) => {
                table.row([designation, String::new(), String::new(), String::new(), String::new(), why.to_string()])
            }
        }
    }
    table
}

/// What is cut from a bar in its order, equal neighbours together: `3 x 771.4 (leg tube, legs 1)`.
#[must_use]
pub fn pieces_words(bar: &Bar) -> String {
    let runs = bar.pieces.chunk_by(|a, b| a == b);
    let words: Vec<String> = runs.map(|r| format!("{} x {} ({})", r.len(), num(r[0].1, 1), r[0].0)).collect();
    words.join("; ")
}

/// The plan for each sort of tube, in the order of the cut list.
#[must_use]
pub fn tube_plans(model: &Model) -> Vec<TubePlan> {
    let tubes = model.cut_tubes();
    let mut names: Vec<&String> = Vec::new();
    tubes.iter().map(|t| &t.designation).for_each(|n| {
        if !names.contains(&n) {
            names.push(n);
        }
    });
    let cutting = &model.params.cutting;
    let stock: Vec<Stock> = cutting.stock.iter().map(|length| Stock { length: *length, count: None }).collect();
    let plan = |name: &String| {
        let pieces: Vec<Piece> = tubes.iter().filter(|t| t.designation == *name).map(piece).collect();
        TubePlan { designation: name.clone(), plan: cut_plan::plan(&pieces, &stock, cutting.kerf) }
    };
    names.into_iter().map(plan).collect()
}

fn piece(tube: &CutTube) -> Piece {
    let word = if tube.legs.len() == 1 { "leg" } else { "legs" };
    Piece { name: format!("{}, {word} {}", tube.name, leg_numbers(&tube.legs)), length: tube.length, count: tube.count }
}

/// The bars with their pieces, one below the other.
#[must_use]
pub fn cut_plan_drawing(kit: &Kit) -> Drawing {
    bars_drawing(kit.model)
}

/// See [`cut_plan_drawing`].
#[must_use]
pub fn bars_drawing(model: &Model) -> Drawing {
    let plans = tube_plans(model);
    let rows = |p: &TubePlan| p.plan.as_ref().map_or(1, |plan| plan.bars.len());
    let height: f64 = plans.iter().map(|p| HEADING + rows(p) as f64 * BAR[1]).sum();
    let longest = model.params.cutting.stock.iter().copied().fold(1.0, f64::max);
    let mut d = Drawing::new("Cut plan", WIDTH, height);
    let mut y = height;
    for p in &plans {
        d.text([0.0, y - 4.5], CAPITALS[1], Anchor::Left, &heading(p, model.params.cutting.kerf));
        y -= HEADING;
        for (i, bar) in p.plan.iter().flat_map(|plan| plan.bars.iter().enumerate()) {
            bar_picture(&mut d, bar, i + 1, y, WIDTH / longest, model.params.cutting.kerf);
            y -= BAR[1];
        }
    }
    d
}

fn heading(p: &TubePlan, kerf: f64) -> String {
    match &p.plan {
        Ok(plan) => format!(
            "Tube {}: {} bar{}, {} m; saw cut {} mm; {}",
            p.designation,
            plan.bars.len(),
            if plan.bars.len() == 1 { "" } else { "s" },
            short(plan.total() / 1000.0, 3),
            short(kerf, 2),
            plan.proof.words()
        ),
        Err(why) => format!("Tube {}: no plan, {why}", p.designation),
    }
}

/// One bar whose upper edge is at `y`: pieces from the left, the offcut shaded, words below.
fn bar_picture(d: &mut Drawing, bar: &Bar, number: usize, y: f64, scale: f64, kerf: f64) {
    let low = y - BAR[0];
    let mut x = 0.0;
    for (_, length) in &bar.pieces {
        let width = length * scale;
        d.rectangle([x, low], [x + width, y], Pen::Thick);
        let text = num(*length, 1);
        let capital = font::fitted(&text, CAPITALS[0], width - 1.0);
        d.text([x + width / 2.0, low + (BAR[0] - capital) / 2.0], capital, Anchor::Middle, &text);
        x += width + kerf * scale;
    }
    if bar.offcut > 0.0 {
        d.fill_rectangle([x, low], [bar.length * scale, y], Shade::Light);
        d.rectangle([x, low], [bar.length * scale, y], Pen::Thin);
        let text = format!("left {}", num(bar.offcut, 0));
        let room = bar.length * scale - x - 1.0;
        let capital = font::fitted(&text, CAPITALS[0], room.max(1.0));
        d.text([f64::midpoint(x, bar.length * scale), low + (BAR[0] - capital) / 2.0], capital, Anchor::Middle, &text);
    }
    let words = format!("bar {number} of {} mm: {}", short(bar.length, 1), pieces_words(bar));
    d.text([0.0, low - 3.2], font::fitted(&words, CAPITALS[0], WIDTH), Anchor::Left, &words);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model() -> Model {
        Model::new(&crate::params::read(crate::params::built_in()).unwrap()).unwrap()
    }

    #[test]
    fn every_tube_is_cut_once() {
        let model = model();
        let wanted: usize = model.cut_tubes().iter().map(|t| t.count).sum();
        let plans = tube_plans(&model);
        let cut: usize = plans.iter().flat_map(|p| &p.plan.as_ref().unwrap().bars).map(|b| b.pieces.len()).sum();
        assert_eq!(cut, wanted);
        let text = String::from_utf8(list_table(&model).write().unwrap()).unwrap();
        assert_eq!(text.lines().count(), model.cut_tubes().len() + 1);
    }

    /// Pieces, kerfs and offcut make the bar; tolerance: rounding of sums.
    #[test]
    fn a_bar_is_as_long_as_what_is_cut_from_it() {
        let model = model();
        for bar in tube_plans(&model).iter().flat_map(|p| &p.plan.as_ref().unwrap().bars) {
            let pieces: f64 = bar.pieces.iter().map(|p| p.1).sum();
            let cuts = bar.pieces.len() as f64 - if bar.offcut > 0.0 { 0.0 } else { 1.0 };
            assert!((pieces + cuts * model.params.cutting.kerf + bar.offcut - bar.length).abs() < 1e-6, "{bar:?}");
        }
    }

    #[test]
    fn the_picture_holds_every_bar() {
        let model = model();
        let d = bars_drawing(&model);
        let [low, high] = d.bounds().unwrap();
        assert!(low[1] >= 0.0 && high[1] <= d.height && high[0] <= d.width + 0.01, "{low:?} {high:?}");
    }
}

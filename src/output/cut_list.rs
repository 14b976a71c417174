//! Tubes to cut, and from which bars: `cut_list.csv`, `cut_plan.csv`.

use super::cut_plan::{self, Bar, CutPlan, CutProblem, Piece, Stock};
use super::{Files, Kit};
use crate::formats::csv::Table;
use crate::formats::number::{num, short};
use crate::model::{CutTube, Model};
use crate::units::inch_32;

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
}

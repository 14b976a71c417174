//! What the table weighs, for those who carry it: `weights.csv`.

use super::hardware::filament;
use super::{Files, Kit};
use crate::formats::csv::Table;
use crate::formats::number::num;
use crate::model::Model;

/// Something that is carried.
#[derive(Clone, Debug, PartialEq)]
struct Item {
    name: String,
    count: usize,
    /// Mass of one, kg.
    each: f64,
}

/// Writes the list, its sum last; tools such as the fit gauge are left out. Screws, bolts, pads and glue are not counted.
///
/// # Errors
/// When a table's rows are uneven, which is a mistake in here.
pub fn write(kit: &Kit) -> Result<Files, String> {
    let rows = kit.printed.iter().zip(filament(kit)).filter(|(printed, _)| !printed.part.places.is_empty());
    let printed = rows.map(|(_, row)| Item { name: row.name, count: row.count, each: row.grams / 1000.0 });
    let bytes = table(&items(kit.model, printed)).ending("verdict", kit.checked.listed()).write();
    Ok(Files::from([("weights.csv".to_owned(), bytes.map_err(|e| e.to_string())?)]))
}

fn items(model: &Model, printed: impl Iterator<Item = Item>) -> Vec<Item> {
    let mut all = vec![Item { name: "top".to_owned(), count: 1, each: model.top_mass() }];
    let tube = &model.params.legs.tube;
    for leg in &model.legs {
        let name = format!("tube of leg {}", leg.number);
        all.push(Item { name, count: leg.tubes.len(), each: tube.mass_per_mm() * leg.tube_length });
    }
    let rail =
        |r: &crate::model::Rail| Item { name: r.name().to_owned(), count: 1, each: r.tube.mass_per_mm() * r.length };
    all.extend(model.rails.iter().map(rail));
    all.extend(printed);
    all
}

fn table(items: &[Item]) -> Table {
    let mut table = Table::new(&["item", "count", "each_kg", "together_kg"]);
    for item in items {
        let together = item.each * item.count as f64;
        table.row([item.name.clone(), item.count.to_string(), num(item.each, 3), num(together, 3)]);
    }
    let all: f64 = items.iter().map(|item| item.each * item.count as f64).sum();
    table.row(["all but screws, bolts, pads and glue".to_owned(), String::new(), String::new(), num(all, 3)]);
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: pi / 4 (25^2 - 21^2) mm2 x 7850 kg/m3 is 1.1344 kg/m; a top of 1.2 x 0.6 x 0.03 m that was weighed.
    #[test]
    fn tubes_weigh_their_section_and_the_sum_is_that_of_the_rows() {
        let text = r#"{"top": {"length": "1200 mm", "width": "600 mm", "thickness": "30 mm", "mass": "11 kg"}, "height": "740 mm",
            "legs": {"tube": "25 x 2 mm"}, "loads": [{"mass": "20 kg"}]}"#;
        let model = Model::new(&crate::params::read(text).expect("read")).expect("a model");
        let bracket = Item { name: "bracket".to_owned(), count: 4, each: 0.25 };
        let items = items(&model, std::iter::once(bracket));
        assert_eq!((items.len(), items[0].each), (6, 11.0));
        let metre = items[1].each / model.legs[0].tube_length * 1000.0;
        assert!((metre - 1.1344).abs() < 0.0002 * 1.1344, "{metre} kg/m");
        let text = String::from_utf8(table(&items).write().expect("written")).expect("text");
        let last = text.lines().last().and_then(|line| line.rsplit(',').next()).expect("a sum");
        let sum = 11.0 + 4.0 * items[1].each + 1.0;
        assert!((last.parse::<f64>().expect("a number") - sum).abs() < 0.0006, "{last} is not {sum}");
    }
}

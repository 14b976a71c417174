//! What is bought besides tube: screws, bolts, pads, glue, and the filament of every part.

use std::collections::BTreeMap;

use super::kit::VerifiedMesh;
use super::plastic::{self, FORMULA};
use super::{Files, Kit};
use crate::formats::csv::Table;
use crate::formats::number::{num, short};
use crate::model::{CrossBolt, GROOVE, Model, Sole};
use crate::parallel;
use crate::params::{FootKind, Head, Params, Printing};
use crate::tables::bolt::Bolt;
use crate::units::inch_32;

/// One more for every ten begun: common practice, no source. Small parts get lost.
const SPARE_EACH: usize = 10;
/// Epoxy mixed for epoxy that stays, volume (judgement: half remains in the cup or is squeezed out).
const GLUE_WASTE: f64 = 2.0;
/// Cubic millimetres in a millilitre.
const ML: f64 = 1000.0;

/// One thing to buy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareRow {
    /// What it is: `wood screw, pan head`.
    pub item: String,
    /// Size as sold: `4.5 x 30 mm`.
    pub size: String,
    /// How many are needed; millilitres of a liquid.
    pub needed: usize,
    /// How many to have, spares included.
    pub with_spares: usize,
    /// Where it goes.
    pub note: String,
}

/// Filament of one sort of part.
#[derive(Clone, Debug, PartialEq)]
pub struct FilamentRow {
    /// Name of the part.
    pub name: String,
    /// Engraved mark.
    pub mark: String,
    /// How many are printed.
    pub count: usize,
    /// Plastic of one, walls and infill, mm3.
    pub plastic: f64,
    /// Mass of one, g.
    pub grams: f64,
    /// Filament of one, m.
    pub metres: f64,
    /// Price of one in the user's money, when a price per kilogram is given.
    pub price: Option<f64>,
}

/// Writes `hardware.csv`.
///
/// # Errors
/// When a table's rows are uneven, which is a mistake in here.
pub fn write(kit: &Kit) -> Result<Files, String> {
    files(kit.model, kit.printed, kit.checked.listed())
}

/// The same from the parts alone; `listed` is the verdict as every row ends with it.
///
/// # Errors
/// As [`write()`].
pub fn files(model: &Model, printed: &[VerifiedMesh], listed: &str) -> Result<Files, String> {
    let head = ["item", "size", "needed", "with_spares", "total_mass_g", "total_length_m", "total_price", "note"];
    let mut table = Table::new(&head);
    for r in bought(model) {
        let none = String::new;
        table.row([r.item, r.size, r.needed.to_string(), r.with_spares.to_string(), none(), none(), none(), r.note]);
    }
    let rows = filament_of(model, printed);
    rows.iter().chain(std::iter::once(&total(&rows))).for_each(|r| table.row(filament_cells(r, model)));
    let bytes = table.ending("verdict", listed).write().map_err(|e| e.to_string())?;
    Ok(Files::from([("hardware.csv".to_owned(), bytes)]))
}

fn filament_cells(r: &FilamentRow, model: &Model) -> [String; 8] {
    let p = &model.params.printing;
    let many = r.count as f64;
    let count = r.count.to_string();
    let price = r.price.map_or_else(String::new, |price| num(price * many, 2));
    let what = format!("filament {}", model.params.filament_name());
    let note = if r.mark.is_empty() { format!("{}: {FORMULA}", r.name) } else { format!("{} {}", r.name, r.mark) };
    let size = format!("{} mm", short(p.filament_diameter, 2));
    [what, size, count.clone(), count, num(r.grams * many, 0), num(r.metres * many, 1), price, note]
}

/// Everything of all parts as one row.
#[must_use]
pub fn total(rows: &[FilamentRow]) -> FilamentRow {
    let sum = |f: fn(&FilamentRow) -> f64| rows.iter().map(|r| f(r) * r.count as f64).sum();
    FilamentRow {
        name: "all parts together".to_owned(),
        mark: String::new(),
        count: 1,
        plastic: sum(|r| r.plastic),
        grams: sum(|r| r.grams),
        metres: sum(|r| r.metres),
        price: rows.iter().map(|r| r.price.map(|p| p * r.count as f64)).sum(),
    }
}

/// What to buy, in the order of the work.
#[must_use]
pub fn bought(model: &Model) -> Vec<HardwareRow> {
    [screws(model), cross_bolts(model), feet(model), glue(model)].concat()
}

fn row(item: &str, size: String, needed: usize, note: &str) -> HardwareRow {
    let with_spares = needed + needed.div_ceil(SPARE_EACH);
    HardwareRow { item: item.to_owned(), size, needed, with_spares, note: note.to_owned() }
}

/// Without spares: what is bought by the piece and not lost.
fn exact(item: &str, size: String, needed: usize, note: &str) -> HardwareRow {
    HardwareRow { with_spares: needed, ..row(item, size, needed, note) }
}

fn screws(model: &Model) -> Vec<HardwareRow> {
    let s = &model.params.bracket.screws;
    let count = model.brackets.iter().map(|b| b.count * b.design.screws.len()).sum();
    let head = match s.head {
        Head::Pan => "pan head",
        Head::Washer => "washer head",
        Head::Countersunk => "countersunk head",
    };
    vec![row(&format!("wood screw, {head}"), screw_size(&model.params), count, "brackets to the top")]
}

/// As sold: `4.5 x 30 mm`, `#8 x 1 1/4 in`.
fn screw_size(params: &Params) -> String {
    let s = &params.bracket.screws;
    let name = params.screw_name();
    match name.strip_suffix(" mm") {
        Some(diameter) => format!("{diameter} x {} mm", short(s.length, 1)),
        None => format!("{name} x {}", inch_32(s.length)),
    }
}

/// Cross bolts of brackets and ties with a nut and a washer each, by size and length.
fn cross_bolts(model: &Model) -> Vec<HardwareRow> {
    let brackets = model
        .brackets
        .iter()
        .flat_map(|b| b.design.sockets.iter().filter_map(move |s| Some((s.bolt?, b.count, "brackets"))));
    let ties = model.ties.iter().flat_map(|t| t.design.bolts.iter().map(move |b| (*b, t.count, "ties")));
    let key = |b: &CrossBolt| [b.size, b.length].map(|v| (v * 10.0).round() as i64);
    let mut found: BTreeMap<[i64; 2], (usize, Vec<&str>)> = BTreeMap::new();
    for (bolt, count, place) in brackets.chain(ties) {
        let entry = found.entry(key(&bolt)).or_default();
        entry.0 += count;
        if !entry.1.contains(&place) {
            entry.1.push(place);
        }
    }
    let mut sizes: BTreeMap<i64, usize> = BTreeMap::new();
    let mut rows = Vec::new();
    for ([size, length], (count, places)) in &found {
        *sizes.entry(*size).or_default() += count;
        let words = format!("M{} x {} mm", tenths(*size), tenths(*length));
        rows.push(row("hexagon bolt", words, *count, &format!("across the tubes in {}", places.join(" and "))));
    }
    for (size, count) in sizes {
        let words = format!("M{}", tenths(size));
        rows.push(row("hexagon nut", words.clone(), count, "captive, on the cross bolts"));
        rows.push(row("washer", words, count, "under the heads of the cross bolts"));
    }
    rows
}

fn tenths(v: i64) -> String {
    short(v as f64 / 10.0, 1)
}

fn feet(model: &Model) -> Vec<HardwareRow> {
    let count: usize = model.feet.iter().map(|f| f.count).sum();
    match model.params.foot.kind {
        FootKind::Flat { pad_thickness, .. } if pad_thickness <= 0.0 => Vec::new(),
        FootKind::Flat { pad_diameter, pad_thickness } => {
            let size = format!("{} x {} mm", short(pad_diameter, 1), short(pad_thickness, 1));
            vec![exact(
                "pad, felt or rubber",
                size,
                count,
                "self-adhesive, on the floor face of each foot within the marks",
            )]
        }
        FootKind::Levelling { bolt, stand_off } => levelling(model, bolt, stand_off, count),
    }
}

fn levelling(model: &Model, row_of: &Bolt, stand_off: f64, count: usize) -> Vec<HardwareRow> {
    let sole = model.feet.first().map(|f| f.design.sole);
    let Some(Sole::Levelling { nut_depth, hole_depth, .. }) = sole else { return Vec::new() };
    let (length, note) = levelling_length(row_of, stand_off, nut_depth, hole_depth);
    let mut rows =
        vec![exact("hexagon bolt, full thread", format!("{} x {} mm", row_of.name, short(length, 1)), count, &note)];
    rows.push(row("hexagon nut", row_of.name.to_owned(), count, "captive in the feet"));
    if stand_off >= row_of.head_height + row_of.nut_height {
        rows.push(row("hexagon nut", row_of.name.to_owned(), count, "locks the levelling bolt against the foot"));
    }
    rows
}

/// The shortest bolt sold that reaches through its nut at the stated stand-off; where it then reaches beyond its hole,
/// the note says to how much it is cut.
fn levelling_length(row: &Bolt, stand_off: f64, nut_depth: f64, hole_depth: f64) -> (f64, String) {
    let free = stand_off - row.head_height;
    let (least, most) = (free + nut_depth, free + hole_depth);
    let length = row.length_at_least(least).unwrap_or(least.ceil());
    if length <= most + 1e-9 {
        return (length, "feet, head on the floor".to_owned());
    }
    (length, format!("feet, head on the floor; cut to {} mm", num(most.floor(), 0)))
}

/// Epoxy in the gap and the grooves of bonded sockets.
fn glue(model: &Model) -> Vec<HardwareRow> {
    if !model.params.bracket.hold.bonded {
        return Vec::new();
    }
    let tube = model.params.legs.tube.measured;
    let ring = |outer: f64, inner: f64| std::f64::consts::FRAC_PI_4 * (outer * outer - inner * inner);
    let one = |s: &crate::model::Socket| {
        let groove = ring(s.bore + 2.0 * GROOVE[0], s.bore) * GROOVE[1];
        ring(s.bore, tube) * s.depth + groove * s.grooves.len() as f64
    };
    let brackets = model.brackets.iter().map(|b| b.count as f64 * b.design.sockets.iter().map(one).sum::<f64>());
    let feet = model.feet.iter().map(|f| f.count as f64 * f.design.sockets.iter().map(one).sum::<f64>());
    let millilitres = GLUE_WASTE * brackets.chain(feet).sum::<f64>() / ML;
    let count = millilitres.ceil().max(1.0) as usize;
    vec![exact(
        "epoxy, two parts, slow",
        format!("{count} ml"),
        count,
        "gaps and grooves twice over: half is lost in mixing",
    )]
}

/// Filament of every part, in file order.
#[must_use]
pub fn filament(kit: &Kit) -> Vec<FilamentRow> {
    filament_of(kit.model, kit.printed)
}

/// See [`filament`].
#[must_use]
pub fn filament_of(model: &Model, printed: &[VerifiedMesh]) -> Vec<FilamentRow> {
    parallel::map(printed, |p| filament_row(p, &model.params.printing))
}

fn filament_row(p: &VerifiedMesh, printing: &Printing) -> FilamentRow {
    let plastic = plastic::of_part(p, printing);
    // kg/m3 is 1e-6 g/mm3.
    let grams = plastic * printing.filament.density * 1e-6;
    let section = std::f64::consts::FRAC_PI_4 * printing.filament_diameter.powi(2);
    FilamentRow {
        name: p.part.name.clone(),
        mark: p.part.mark.clone(),
        count: p.part.count,
        plastic,
        grams,
        metres: plastic / section / 1000.0,
        price: printing.price_per_kg.map(|price| price * grams / 1000.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn model() -> Model {
        Model::new(&crate::params::read(crate::params::built_in()).unwrap()).unwrap()
    }

    /// Four brackets with 8 screws and 3 bolts, eight ties with 3 bolts: 32 + 4 spare, 36 + 4 spare.
    #[test]
    fn counts_follow_from_the_parts() {
        let rows = bought(&model());
        let find = |item: &str| rows.iter().find(|r| r.item.starts_with(item)).map(|r| (r.needed, r.with_spares));
        assert_eq!(find("wood screw"), Some((32, 36)));
        assert_eq!(find("washer"), Some((36, 40)));
        let bolts: usize = rows.iter().filter(|r| r.item == "hexagon bolt").map(|r| r.needed).sum();
        assert_eq!(bolts, 36);
        assert_eq!(find("hexagon bolt, full"), Some((4, 4)));
        assert_eq!(rows[0].size, "4.5 x 35 mm");
    }

    /// M8: head 5.3 mm high, 25 mm stand-off, nut 7.8 mm deep, hole 13.8 mm: 27.5 to 33.5 mm, sold as 30.
    #[test]
    fn a_levelling_bolt_reaches_through_its_nut() {
        let m8 = crate::tables::bolt::find("M8").unwrap();
        let (length, note) = levelling_length(m8, 25.0, 7.8, 13.8);
        assert!((27.5..=33.5).contains(&length), "{length} {note}");
        assert!(!note.contains("cut"));
    }

    #[test]
    fn a_total_without_prices_has_none() {
        let row = FilamentRow {
            name: "a".into(),
            mark: "A".into(),
            count: 3,
            plastic: 10.0,
            grams: 2.0,
            metres: 1.0,
            price: None,
        };
        let all = total(&[row.clone(), FilamentRow { price: Some(2.0), ..row.clone() }]);
        assert_eq!((all.grams, all.price), (12.0, None));
        assert_eq!(total(&[FilamentRow { price: Some(2.0), ..row }]).price, Some(6.0));
    }
}

//! Drilling papers: plan, table of holes and true-size templates as PDF, the templates as SVG, the underside as DXF.

use super::below::{Reference, SEEN};
use super::sheet::{self, Notes};
use super::template::{self, Numbered};
use super::underside;
use super::{Files, Kit};
use crate::formats::drawing::{Anchor, Drawing, Pen};
use crate::formats::number::{num, short};
use crate::formats::pdf::Paper;
use crate::formats::{dxf, font, pdf, svg};
use crate::model::Model;

/// How a template is laid.
const LAY: &str = "The lower edge of this sheet points to the front edge of the top, which lies on its show face.";
/// Gap between two templates in the file for cutters, mm.
const GAP: f64 = 15.0;
/// Capitals of a warning, mm: read at arm's length.
const WARNING: f64 = 5.0;
/// Width of the table of holes, mm: an upright sheet of either paper with a little room.
const TABLE_WIDTH: f64 = 168.0;
/// Width of the column of hole numbers, mm.
const FIRST: f64 = 26.0;
/// Height of a row and of its capitals, mm.
const ROW: [f64; 2] = [5.0, 2.2];

/// Writes the drilling papers.
///
/// # Errors
/// Never.
pub fn write(kit: &Kit) -> Result<Files, String> {
    Ok(files(kit.model, kit.checked.warning()))
}

/// The same from the model alone; the warning stands on every sheet and in every file, empty for none.
pub fn files(model: &Model, warning: &str) -> Files {
    let mut files = Files::new();
    for paper in Paper::ALL {
        let pages = pages(model, paper, warning);
        let title = format!("{}: drilling", model.params.title);
        files.insert(format!("drilling_{}.pdf", paper.name()), pdf::write(&title, &pages));
    }
    files.insert("drilling.svg".to_owned(), svg::write(&side_by_side(model, warning)).into_bytes());
    files.insert("drilling.dxf".to_owned(), dxf::write(&underside::true_size(model, warning)));
    files
}

/// All sheets for one paper, numbered through.
#[must_use]
pub fn pages(model: &Model, paper: Paper, warning: &str) -> Vec<pdf::Page> {
    let note = |orientation: &str, scale: String| Notes {
        orientation: orientation.to_owned(),
        warning: warning.to_owned(),
        scale,
    };
    let mut drawings = vec![
        (underside::plan(model), note(SEEN, underside::scale_words(model))),
        (table(model), note("Distances from the edges of the top to the middles of the holes.", "table".to_owned())),
    ];
    drawings.extend(model.legs.iter().map(|leg| (template::template(model, leg), note(LAY, String::new()))));
    let list: Vec<(&Drawing, &Notes)> = drawings.iter().map(|(d, n)| (d, n)).collect();
    sheet::set(&list, paper)
}

/// The templates of all legs beside each other, the warning above them.
#[must_use]
pub fn side_by_side(model: &Model, warning: &str) -> Drawing {
    let each: Vec<Drawing> = model.legs.iter().map(|leg| template::template(model, leg)).collect();
    let width = each.iter().map(|d| d.width).sum::<f64>() + GAP * (each.len() - 1) as f64;
    let height = each.iter().map(|d| d.height).fold(0.0, f64::max);
    let above = if warning.is_empty() { 0.0 } else { GAP };
    let title = format!("{}: drilling templates, true size in mm", model.params.title);
    let mut all = Drawing::new(&title, width, height + above);
    all.text([0.0, height + above / 2.0], font::fitted(warning, WARNING, width), Anchor::Left, warning);
    let mut x = 0.0;
    for d in &each {
        all.place(d, 1.0, [x, height - d.height]);
        x += d.width + GAP;
    }
    all
}

/// The table of holes: a column pair for each leg, rows for bit, depth and every hole.
#[must_use]
pub fn table(model: &Model) -> Drawing {
    let lists: Vec<Vec<Numbered>> = model.legs.iter().map(|leg| template::numbered(model, leg)).collect();
    let most = lists.iter().map(Vec::len).max().unwrap_or(0);
    let heads = head_rows(model);
    let rows = heads.len() + most;
    let [row, _] = ROW;
    let mut d = Drawing::new("Holes of all legs", TABLE_WIDTH, (rows + 1) as f64 * row + 8.0);
    let grid = Grid { top: d.height - 2.0, column: (TABLE_WIDTH - FIRST) / model.legs.len() as f64, rows };
    grid.lines(&mut d, model.legs.len(), heads.len());
    for (r, (name, cells)) in heads.iter().enumerate() {
        grid.first(&mut d, r, name);
        cells.iter().enumerate().for_each(|(c, cell)| grid.cell(&mut d, r, c, cell));
    }
    for (c, (leg, list)) in model.legs.iter().zip(&lists).enumerate() {
        for (i, h) in list.iter().enumerate() {
            let [x, y] = Reference::of(leg).distances(model, h.hole.at);
            grid.cell(&mut d, heads.len() + i, c, &format!("{}   {}", num(x, 1), num(y, 1)));
        }
    }
    if let Some(longest) = lists.iter().max_by_key(|l| l.len()) {
        longest
            .iter()
            .enumerate()
            .for_each(|(i, h)| grid.first(&mut d, heads.len() + i, &format!("hole {}", h.number)));
    }
    let spare = if lists.iter().flatten().any(|h| h.hole.spare) { "; S: spare, not drilled now" } else { "" };
    d.text(
        [0.0, 1.5],
        ROW[1],
        Anchor::Left,
        &format!("Millimetres. The holes have the numbers of the templates{spare}."),
    );
    d
}

/// Names and cells of the rows above the holes.
fn head_rows(model: &Model) -> Vec<(String, Vec<String>)> {
    let screw = &model.params.bracket.screws.screw;
    let gravity = model.params.top.wood.specific_gravity;
    let legs = || model.legs.iter();
    let same = |text: String| vec![text; model.legs.len()];
    let name = |k: usize| legs().map(|l| Reference::of(l).names(model)[k].clone()).collect();
    vec![
        (String::new(), legs().map(|l| format!("LEG {}", l.number)).collect()),
        ("first figure from".to_owned(), name(0)),
        ("second figure from".to_owned(), name(1)),
        ("bit".to_owned(), same(format!("{} / {}", screw.pilot_mm(gravity).name, screw.pilot_inch(gravity).name))),
        ("best pilot".to_owned(), same(format!("{} mm", short(screw.pilot(gravity), 2)))),
        ("depth".to_owned(), same(template::both(model.penetration()))),
        ("top thick here".to_owned(), legs().map(|l| format!("{} mm", num(l.thickness, 1))).collect()),
        ("left above the tip".to_owned(), legs().map(|l| format!("{} mm", num(model.left_above_tip(l), 1))).collect()),
    ]
}

/// Places of the table's cells.
struct Grid {
    top: f64,
    column: f64,
    rows: usize,
}

impl Grid {
    fn base(&self, row: usize) -> f64 {
        self.top - (row + 1) as f64 * ROW[0] + 1.5
    }

    fn first(&self, d: &mut Drawing, row: usize, text: &str) {
        d.text([0.5, self.base(row)], font::fitted(text, ROW[1], FIRST - 1.0), Anchor::Left, text);
    }

    fn cell(&self, d: &mut Drawing, row: usize, column: usize, text: &str) {
        let x = FIRST + (column as f64 + 0.5) * self.column;
        d.text([x, self.base(row)], font::fitted(text, ROW[1], self.column - 1.5), Anchor::Middle, text);
    }

    fn lines(&self, d: &mut Drawing, legs: usize, heads: usize) {
        let low = self.top - self.rows as f64 * ROW[0];
        for row in 0..=self.rows {
            let y = self.top - row as f64 * ROW[0];
            let pen = if row == 0 || row == heads || row == self.rows { Pen::Thick } else { Pen::Thin };
            d.line([0.0, y], [TABLE_WIDTH, y], pen);
        }
        let columns = (0..=legs).map(|c| FIRST + c as f64 * self.column);
        for x in std::iter::once(0.0).chain(columns) {
            d.line([x, low], [x, self.top], Pen::Thin);
        }
    }
}

//! The coupons' sheet: how the five are torn, and a table to fill in.

use super::sheet::{self, Notes};
use super::{Files, Kit};
use crate::checks::Tear;
use crate::formats::drawing::{Anchor, Drawing, Pen};
use crate::formats::font;
use crate::formats::number::num;
use crate::formats::pdf::{self, Paper};
use crate::model::{COUPON, COUPONS, Model};

/// Width of the sheet's text, mm: an upright sheet of either paper with a little room.
const WIDTH: f64 = 168.0;
/// Capitals of the text and the way from line to line, mm: read at arm's length.
const LINE: [f64; 2] = [2.4, 5.0];
/// Height of a row to write in, mm.
const ROW: f64 = 9.0;

impl Tear {
    /// What to do first, and what would pass by it.
    #[must_use]
    pub fn words(&self) -> String {
        let names: Vec<&str> = self.cured.iter().map(|id| id.words()).collect();
        format!(
            "first tear the five coupons that print with the fit gauge and write their loads as printing.coupons: no coupons \
             of this print were torn. If their 5 % value is {} MPa or more (with little scatter a mean of {:.0} N), {} will pass",
            num(self.strength, 1),
            (self.mean() * COUPON.area()).ceil(),
            names.join(" and ")
        )
    }
}

/// How they are torn, a paragraph each.
#[must_use]
pub fn how(model: &Model) -> Vec<String> {
    let p = &model.params.printing;
    vec![
        format!(
            "Print the {COUPONS} coupons together with the fit gauge, upright as they lie in the file, in the filament and with \
             the settings of the brackets: {}, nozzle {} mm, layers of {} mm. Alone a coupon is printed hotter than a bracket is, \
             and tears later.",
            model.params.filament_name(),
            num(p.nozzle, 2),
            num(p.layer, 2)
        ),
        "Let them lie for a day. Push a bolt M3, or a hook of 3 mm wire, through each eye. Hang the upper one from a beam on a cord, \
         so that the coupon can turn into line with the load."
            .to_owned(),
        format!(
            "Hang a bucket on the lower eye, low above a mat, and pour in water slowly until the waist tears; weigh bucket, water \
             and cord together. Or pull down with a luggage scale that keeps its highest reading. 1 kg is 9.81 N. Expect {:.0} to \
             {:.0} N, which is 5 to 30 MPa. Wear glasses: it tears with a snap.",
            5.0 * COUPON.area(),
            30.0 * COUPON.area()
        ),
        "A coupon that tore in a head counts too, with its load: the waist would have borne more. One that was bent or fell \
         counts not. Do not leave out a low one: it is what coupons are for."
            .to_owned(),
        "Write all loads into the file, the newtons as printing.coupons: [\"118 N\", \"126 N\", \"121 N\", \"133 N\", \"115 N\"], \
         and check again. Tear five more for every new spool, printer or nozzle."
            .to_owned(),
    ]
}

/// Writes the sheets of a kit.
///
/// # Errors
/// Never.
pub fn write(kit: &Kit) -> Result<Files, String> {
    Ok(files(kit.model, kit.checked.warning()))
}

/// The sheet for both papers; the warning stands on it, empty for none.
#[must_use]
pub fn files(model: &Model, warning: &str) -> Files {
    let drawing = drawn(model);
    let notes = Notes {
        orientation: "What the coupons bear is what the layers of your brackets bear.".to_owned(),
        scale: "coupons".to_owned(),
        warning: warning.to_owned(),
    };
    let title = format!("{}: coupons", model.params.title);
    let sheet = |paper: Paper| {
        let pages = sheet::set(&[(&drawing, &notes)], paper);
        (format!("coupons_{}.pdf", paper.name()), pdf::write(&title, &pages))
    };
    Paper::ALL.into_iter().map(sheet).collect()
}

/// Text, then the table.
fn drawn(model: &Model) -> Drawing {
    let [capitals, step] = LINE;
    let mut lines: Vec<String> = Vec::new();
    for paragraph in how(model) {
        lines.extend(font::wrap(&paragraph, capitals, WIDTH - 2.0));
        lines.push(String::new());
    }
    let table = (COUPONS + 1) as f64 * ROW;
    let height = 10.0 + lines.len() as f64 * step + table;
    let mut d = Drawing::new("Coupons to tear across the layers", WIDTH, height);
    for (i, line) in lines.iter().enumerate() {
        d.text([1.0, height - 6.0 - i as f64 * step], capitals, Anchor::Left, line);
    }
    let columns = [0.0, 25.0, 70.0, 115.0, WIDTH];
    let heads = ["coupon", "load at failure, kg", "x 9.81 = N", "where it tore"];
    let top = 2.0 + table;
    for row in 0..=COUPONS + 1 {
        let y = top - row as f64 * ROW;
        d.line([0.0, y], [WIDTH, y], if row < 2 { Pen::Thick } else { Pen::Thin });
    }
    for (x, head) in columns.iter().zip(heads) {
        d.text([x + 1.5, top - ROW + 3.0], capitals, Anchor::Left, head);
    }
    columns.iter().for_each(|x| d.line([*x, 2.0], [*x, top], Pen::Thin));
    for i in 1..=COUPONS {
        d.text([1.5, top - (i + 1) as f64 * ROW + 3.0], capitals, Anchor::Left, &i.to_string());
    }
    d
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::drawing::Item;

    #[test]
    fn the_sheet_is_one_page_and_its_example_is_read() {
        let model = Model::new(&crate::params::read(crate::params::built_in()).expect("read")).expect("a model");
        for paper in Paper::ALL {
            let drawing = drawn(&model);
            let pages = sheet::set(&[(&drawing, &Notes::default())], paper);
            assert_eq!(pages.len(), 1, "{paper:?}: {} mm", drawing.height);
        }
        let inside = |i: &Item| i.bounds()[0][1] >= -0.1 && i.bounds()[1][0] <= WIDTH + 0.1;
        assert!(drawn(&model).items.iter().all(inside));
        let all = how(&model).join(" ");
        let example =
            all.split("printing.coupons: ").nth(1).and_then(|rest| rest.split_inclusive(']').next()).expect("one");
        let printing = format!("\"printing\": {{\"coupons\": {example}}}, \"height\"");
        let file = include_str!("../../params/only-required.json").replace("\"height\"", &printing);
        let read = crate::params::read(&file).expect("the example is accepted");
        assert_eq!(crate::model::torn(&read.printing.coupons).len(), COUPONS);
    }
}

//! Brackets as solids, on the terminal: their stiffness beside what the plate model says.

use serde_json::{Value, json};
use underframe::Analysed;

use super::show::paragraph;

/// N mm/rad in a kN m/rad.
const KILO: f64 = 1e6;

/// A row of the table: what is held and turned, by the solid, and the plate model's soft, middle and stiff.
struct Row {
    state: &'static str,
    axis: &'static str,
    solid: f64,
    layered: f64,
    plate: [f64; 3],
}

impl Row {
    fn inside(&self) -> bool {
        (self.plate[0]..=self.plate[2]).contains(&self.solid)
    }
}

fn rows(a: &Analysed) -> Vec<Row> {
    let axes = ["x", "y"];
    let mut rows = Vec::new();
    for (k, axis) in axes.into_iter().enumerate() {
        rows.push(Row {
            state: "held at the screws",
            axis,
            solid: a.solid.even.held[k],
            layered: a.solid.layered.held[k],
            plate: a.plate[0][k],
        });
    }
    for (k, axis) in axes.into_iter().enumerate() {
        for (sense, state) in ["on rigid wood, one way", "on rigid wood, other way"].into_iter().enumerate() {
            rows.push(Row {
                state,
                axis,
                solid: a.solid.even.on_wood[k][sense],
                layered: a.solid.layered.on_wood[k][sense],
                plate: a.plate[1][k],
            });
        }
    }
    rows
}

/// One block for each bracket.
pub fn table(found: &[Analysed], taken: bool) -> String {
    let mut text = String::from("\nBrackets as solids, tubes tied in their bores; rotational stiffness, kN m/rad\n");
    for a in found {
        let [x, _, z] = a.solid.step;
        text.push_str(&format!(
            "{}: cells of {x:.2} x {x:.2} x {z:.2} mm, {} unknowns\n",
            a.solid.name, a.solid.unknowns
        ));
        text.push_str("  state                     about   solid  in layers   plate model: soft  middle   stiff\n");
        for r in rows(a) {
            let [soft, middle, stiff] = r.plate.map(|k| k / KILO);
            let note = if r.inside() { "" } else { "   outside" };
            let [solid, layered] = [r.solid, r.layered].map(|k| k / KILO);
            text.push_str(&format!(
                "  {:<25} {:<5} {solid:>7.1} {layered:>10.1}             {soft:>7.1} {middle:>7.1} {stiff:>7.1}{note}\n",
                r.state, r.axis
            ));
        }
        let (most, [x, y, z]) =
            a.solid.layered.tension.into_iter().fold((0.0, [0.0; 3]), |a, b| if b.0 > a.0 { b } else { a });
        text.push_str(&format!(
            "  tension across layers at 100 N m on rigid wood, mean over a ball of 3 mm: {most:.2} MPa at most, at x {x:.0}, \
             y {y:.0}, z {z:.0} mm\n"
        ));
    }
    text.push_str(&paragraph("", if taken { TAKEN } else { NOT_TAKEN }));
    text
}

const TAKEN: &str = "The frame was solved with the solids: soft in layers and held at the screws alone, stiff on rigid wood. Screws, plates \
    and roots are still judged by the plate model.";
const NOT_TAKEN: &str = "The frame was not solved with these: in this table the tubes are not tied in their bores, or the \
    stiffness is given.";

/// The same for programs, N mm/rad.
pub fn data(found: &[Analysed], taken: bool) -> Value {
    let one = |a: &Analysed| {
        let rows = rows(a).into_iter().map(
            |r| json!({ "state": r.state, "about": r.axis, "solid": r.solid, "in layers": r.layered, "plate": r.plate, "inside": r.inside() }),
        );
        let rows: Vec<Value> = rows.collect();
        json!({ "part": a.solid.name, "step": a.solid.step, "unknowns": a.solid.unknowns, "stiffness": rows,
            "tension": a.solid.layered.tension.map(|(mpa, at)| json!({ "MPa at 100 N m": mpa, "at": at })) })
    };
    json!({ "brackets": found.iter().map(one).collect::<Vec<_>>(), "frame solved with them": taken })
}

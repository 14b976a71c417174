//! How the top moves under a push and under permanent loads, drawn to a stated scale.

use serde::Serialize;

use super::figures::{self, figure};
use super::stills::finished;
use crate::formats::drawing::{Anchor, Drawing, FIGURES, Pen, Point};
use crate::mechanics::CaseForces;
use crate::output::Kit;

/// Width of a picture, mm on paper.
const WIDTH: f64 = 66.0;
/// The largest movement is drawn about this long, as a share of the top's length (judgement: plain to see).
const SHOWN: f64 = 0.09;

/// A turn below this is not worth telling, mrad: less than a tenth of a millimetre at the corner of a large top.
const LEAST_TURN: f64 = 0.05;

/// One picture of movement.
#[derive(Clone, Debug, Serialize)]
pub struct Picture {
    heading: String,
    /// `movements drawn 20 times as large as the table`.
    scale: String,
    svg: String,
    caption: String,
}

/// A point of the top and its movement, world, mm.
type Moved = ([f64; 3], [f64; 3]);

/// Sway along both axes and sag under permanent loads.
#[must_use]
pub fn pictures(kit: &Kit) -> Vec<Picture> {
    let mut all: Vec<Picture> =
        figures::sways(kit.model).into_iter().filter_map(|(case, axis)| sway(kit, case, axis)).collect();
    all.extend(figures::standing(kit.model).and_then(|case| sag(kit, case)));
    all
}

/// The table seen across its movement.
fn sway(kit: &Kit, case: usize, axis: usize) -> Option<Picture> {
    let soft = kit.forces.solutions.first()?.cases.get(case)?;
    let stiff = kit.forces.solutions.last()?.cases.get(case)?;
    let name = &kit.model.cases[case].name;
    let [a, b] = figures::both(kit, case, |c| c.sway[axis].abs())?;
    let twist = figures::both(kit, case, |c| c.twist.abs())?;
    let turns = if twist[0].max(twist[1]) > LEAST_TURN {
        format!("turns by {} mrad", figures::band(twist[0], twist[1]))
    } else {
        "hardly turns".into()
    };
    let times = magnification(kit, &[soft, stiff], axis);
    Some(Picture {
        heading: name.clone(),
        scale: format!("movements drawn {} times too large", figure(times)),
        svg: side_on(kit, [soft, stiff], axis, times),
        caption: format!(
            "The middle of the top moves {} mm and {turns}. Thick: soft joints. Dashed: stiff joints. Thin: at rest. Legs \
             are drawn straight.",
            figures::band(a, b)
        ),
    })
}

/// The top seen from the front under permanent loads.
fn sag(kit: &Kit, case: usize) -> Option<Picture> {
    let soft = kit.forces.solutions.first()?.cases.get(case)?;
    let stiff = kit.forces.solutions.last()?.cases.get(case)?;
    let [a, b] = figures::both(kit, case, |c| c.sag)?;
    let times = magnification(kit, &[soft, stiff], 2);
    Some(Picture {
        heading: format!("sag: {}", kit.model.cases[case].name),
        scale: format!("movements drawn {} times too large", figure(times)),
        svg: side_on(kit, [soft, stiff], 0, times),
        caption: format!(
            "Where the top sags most it lies {} mm below the plane through the heads of the legs, when new; worst at {} mm \
             from the left end and {} mm from the front edge.",
            figures::band(a, b),
            figure(soft.sag_at[0]),
            figure(soft.sag_at[1])
        ),
    })
}

/// A round magnification at which the largest movement along `axis` shows.
fn magnification(kit: &Kit, cases: &[&CaseForces], axis: usize) -> f64 {
    let moves = cases.iter().flat_map(|c| c.shape.iter().map(|(_, d)| d[axis].abs()));
    let largest = moves.fold(0.0, f64::max);
    if !(largest.is_finite() && largest > 0.0) {
        return 1.0;
    }
    let wanted = kit.model.params.top.length * SHOWN / largest;
    let ten = 10f64.powf(wanted.log10().floor());
    [5.0, 2.0, 1.0].into_iter().map(|k| k * ten).find(|k| *k <= wanted).unwrap_or(ten).max(1.0)
}

/// Top and legs at rest and moved, seen along y (`axis` 0) or along x (`axis` 1).
fn side_on(kit: &Kit, cases: [&CaseForces; 2], axis: usize, times: f64) -> String {
    let top = &kit.model.params.top;
    let scale = WIDTH / top.length.max(kit.model.params.height);
    let seen = |p: [f64; 3], d: [f64; 3], times: f64| -> Point {
        [(p[axis] + times * d[axis]) * scale, (p[2] + times * d[2]) * scale]
    };
    let mut drawing = Drawing::new("movement", 0.0, 0.0);
    for (case, pen, times) in
        [(cases[0], Pen::Thin, 0.0), (cases[1], Pen::Dashed, times), (cases[0], Pen::Thick, times)]
    {
        let edge = near_edge(&case.shape, axis);
        if edge.len() > 1 {
            drawing.chain(edge.iter().map(|(p, d)| seen(*p, *d, times)).collect(), pen);
        }
        for leg in kit.model.legs.iter().filter(|l| l.side()[1 - axis] == if axis == 0 { -1.0 } else { 1.0 }) {
            let (head, foot) = (leg.frame.head, leg.frame.on_axis(0.0));
            let moved = nearest(&case.shape, [head.x, head.y]);
            let low = seen([foot.x, foot.y, 0.0], [0.0; 3], 0.0);
            drawing.chain(vec![low, seen([head.x, head.y, head.z], moved, times)], pen);
        }
    }
    let half = [top.length, top.width][axis] / 2.0 * scale;
    drawing.line([-half * 1.1, 0.0], [half * 1.1, 0.0], Pen::Thin);
    drawing.text([half * 1.1, -FIGURES * 1.6], FIGURES, Anchor::Right, "floor");
    finished(&drawing)
}

/// Points of the top along the edge nearest to the viewer, in order.
fn near_edge(shape: &[Moved], axis: usize) -> Vec<Moved> {
    let depth = |p: &[f64; 3]| if axis == 0 { p[1] } else { -p[0] };
    let nearest = shape.iter().map(|(p, _)| depth(p)).fold(f64::MAX, f64::min);
    let mut edge: Vec<Moved> = shape.iter().filter(|(p, _)| depth(p) < nearest + 1.0).copied().collect();
    edge.sort_by(|a, b| a.0[axis].total_cmp(&b.0[axis]));
    edge
}

/// Movement of the point of the top that lies nearest above a place.
fn nearest(shape: &[Moved], at: [f64; 2]) -> [f64; 3] {
    let far = |p: &[f64; 3]| (p[0] - at[0]).hypot(p[1] - at[1]);
    shape.iter().min_by(|a, b| far(&a.0).total_cmp(&far(&b.0))).map_or([0.0; 3], |(_, d)| *d)
}

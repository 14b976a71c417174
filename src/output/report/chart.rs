//! Charts: how the verdict changes with the load and with the tube, and what the band of sway comes from.

use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use serde::Serialize;

use crate::checks::ADEQUATE;
use crate::formats::number::num;
use crate::mechanics::{Band, Share};
use crate::output::words::used;
use crate::search::Variation;

/// Size of a chart, pixels; the page scales it.
const SIZE: (u32, u32) = (520, 300);
/// Utilisations above this are cut off (judgement: what is ten times over needs no finer figure).
const HIGHEST: f64 = 10.0;
const INK: RGBColor = RGBColor(0x24, 0x2a, 0x2e);
const GOOD: RGBColor = RGBColor(0x2c, 0x6e, 0x4f);
const NEAR: RGBColor = RGBColor(0x9a, 0x62, 0x00);
const OVER: RGBColor = RGBColor(0xa8, 0x2a, 0x22);

/// A chart on the page.
#[derive(Clone, Debug, Serialize)]
pub struct Picture {
    heading: &'static str,
    svg: String,
    /// The same figures in words, for those who cannot see it.
    rows: Vec<[String; 2]>,
    unit: &'static str,
}

/// The charts that have figures.
///
/// # Errors
/// When the drawing library refuses.
pub fn pictures(varied: &Variation) -> Result<Vec<Picture>, String> {
    let mut all = Vec::new();
    if varied.by_load.len() > 1 {
        let rows = varied.by_load.iter().map(|(f, u)| [format!("{f} times"), used(*u)]).collect();
        all.push(Picture {
            heading: "Highest utilisation against the loads of the file",
            svg: by_load(&varied.by_load).map_err(|e| e.to_string())?,
            rows,
            unit: "loads",
        });
    }
    if varied.by_tube.len() > 1 {
        let rows = varied.by_tube.iter().map(|(name, u, _)| [name.clone(), used(*u)]).collect();
        all.push(Picture {
            heading: "Highest utilisation against the tube of the legs",
            svg: by_tube(&varied.by_tube).map_err(|e| e.to_string())?,
            rows,
            unit: "tube",
        });
    }
    if let Some(band) = &varied.band {
        let row = |s: &Share| {
            let [x, y] = s.sway.map(|mm| num(mm, 2));
            [
                s.origin.words().to_owned(),
                format!("{x} mm along the length, {y} mm along the width, {} Hz", num(s.hertz, 2)),
            ]
        };
        all.push(Picture {
            heading: "What the band between soft and stiff joints comes from",
            svg: by_origin(band).map_err(|e| e.to_string())?,
            rows: band.shares.iter().map(row).collect(),
            unit: "origin, each alone from its soft end to its stiff one",
        });
    }
    Ok(all)
}

type Drawn = Result<String, Box<dyn std::error::Error>>;

fn colour(utilisation: f64) -> RGBColor {
    if utilisation <= ADEQUATE {
        GOOD
    } else if utilisation <= 1.0 {
        NEAR
    } else {
        OVER
    }
}

fn ceiling(values: impl Iterator<Item = f64>) -> f64 {
    values.filter(|v| v.is_finite()).fold(1.2, |m, v| f64::max(m, 1.1 * v)).min(HIGHEST)
}

fn by_load(points: &[(f64, f64)]) -> Drawn {
    let mut text = String::new();
    {
        let root = SVGBackend::with_string(&mut text, SIZE).into_drawing_area();
        let last = points.last().map_or(1.0, |p| p.0);
        let top = ceiling(points.iter().map(|p| p.1));
        let mut chart = ChartBuilder::on(&root)
            .margin(10)
            .x_label_area_size(44)
            .y_label_area_size(56)
            .build_cartesian_2d(0.0..last, 0.0..top)?;
        chart
            .configure_mesh()
            .disable_x_mesh()
            .light_line_style(TRANSPARENT)
            .axis_style(INK)
            .label_style(("sans-serif", 14, &INK))
            .x_desc("factor on the loads of the file")
            .y_desc("highest utilisation")
            .draw()?;
        limits(&mut chart, last)?;
        let shown = points.iter().filter(|p| p.1.is_finite()).map(|(f, u)| (*f, u.min(top)));
        chart.draw_series(LineSeries::new(shown.clone(), INK.stroke_width(2)))?;
        chart.draw_series(shown.map(|(f, u)| Circle::new((f, u), 4, colour(u).filled())))?;
        root.present()?;
    }
    Ok(text)
}

type Plain<'a, X> = ChartContext<'a, SVGBackend<'a>, Cartesian2d<X, plotters::coord::types::RangedCoordf64>>;

fn limits(
    chart: &mut Plain<'_, plotters::coord::types::RangedCoordf64>,
    last: f64,
) -> Result<(), Box<dyn std::error::Error>> {
    for (limit, colour, word) in [(ADEQUATE, NEAR, "tight"), (1.0, OVER, "not adequate")] {
        let line = PathElement::new([(0.0, limit), (last, limit)], colour.stroke_width(1));
        chart.draw_series(std::iter::once(line))?;
        let style = ("sans-serif", 13).into_font().color(&colour).pos(Pos::new(HPos::Left, VPos::Bottom));
        chart.draw_series(std::iter::once(Text::new(format!("above: {word}"), (last * 0.01, limit), style)))?;
    }
    Ok(())
}

type Bars<'a> = Plain<'a, plotters::coord::types::RangedCoordf64>;

/// The frame of a chart of horizontal bars, which keeps names readable, however many there are.
struct Rows {
    /// From the top down.
    names: Vec<String>,
    /// Height of a row, of what is round them, and width of the names, pixels.
    size: [u32; 3],
    /// Where the axis ends.
    right: f64,
    /// What it says.
    axis: &'static str,
}

impl Rows {
    /// Names and axis, and what is drawn between; a row's bottom counts from the last row's.
    fn draw(&self, bars: impl FnOnce(&mut Bars<'_>) -> Result<(), Box<dyn std::error::Error>>) -> Drawn {
        let mut text = String::new();
        {
            let [row, round, label] = self.size;
            let root =
                SVGBackend::with_string(&mut text, (SIZE.0, round + row * self.names.len() as u32)).into_drawing_area();
            let rows = self.names.len() as f64;
            let mut chart = ChartBuilder::on(&root)
                .margin(10)
                .x_label_area_size(44)
                .y_label_area_size(label)
                .build_cartesian_2d(0.0..self.right, 0.0..rows)?;
            chart
                .configure_mesh()
                .disable_mesh()
                .y_labels(0)
                .axis_style(INK)
                .label_style(("sans-serif", 14, &INK))
                .x_desc(self.axis)
                .draw()?;
            for (i, name) in self.names.iter().enumerate() {
                let style = ("sans-serif", 14).into_font().color(&INK).pos(Pos::new(HPos::Right, VPos::Center));
                let (px, py) = chart.backend_coord(&(0.0, self.bottom(i) + 0.5));
                root.draw(&Text::new(name.clone(), (px - 8, py), style))?;
            }
            bars(&mut chart)?;
            root.present()?;
        }
        Ok(text)
    }

    fn bottom(&self, row: usize) -> f64 {
        (self.names.len() - 1 - row) as f64
    }
}

/// One bar for each tube.
fn by_tube(tubes: &[(String, f64, bool)]) -> Drawn {
    let name = |(name, _, here): &(String, f64, bool)| if *here { format!("{name} (yours)") } else { name.clone() };
    let rows = Rows {
        names: tubes.iter().map(name).collect(),
        size: [26, 70, 130],
        right: ceiling(tubes.iter().map(|t| t.1)),
        axis: "highest utilisation",
    };
    rows.draw(|chart| {
        for (i, (_, used, _)) in tubes.iter().enumerate() {
            let (y, shown) = (rows.bottom(i), if used.is_finite() { used.min(rows.right) } else { rows.right });
            let bar = Rectangle::new([(0.0, y + 0.2), (shown, y + 0.8)], colour(*used).filled());
            chart.draw_series(std::iter::once(bar))?;
        }
        for (limit, colour) in [(ADEQUATE, NEAR), (1.0, OVER)] {
            let line = PathElement::new([(limit, 0.0), (limit, tubes.len() as f64)], colour.stroke_width(1));
            chart.draw_series(std::iter::once(line))?;
        }
        Ok(())
    })
}

/// Two bars for each origin: sway along the length and along the width.
fn by_origin(band: &Band) -> Drawn {
    let rows = Rows {
        names: band.shares.iter().map(|share| share.origin.words().to_owned()).collect(),
        size: [34, 90, 230],
        right: band.shares.iter().flat_map(|s| s.sway).fold(0.05, f64::max) * 1.1,
        axis: "mm of sway; above along the length, below along the width",
    };
    rows.draw(|chart| {
        for (i, share) in band.shares.iter().enumerate() {
            for (k, (low, colour)) in [(0.52, GOOD), (0.16, NEAR)].into_iter().enumerate() {
                let low = rows.bottom(i) + low;
                let bar = Rectangle::new([(0.0, low), (share.sway[k].max(0.0), low + 0.32)], colour.filled());
                chart.draw_series(std::iter::once(bar))?;
            }
        }
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::Origin;

    #[test]
    fn charts_are_drawn_where_there_are_figures_and_escape_names() {
        let charts = Variation {
            by_load: vec![(0.5, 0.5), (1.0, 0.9), (2.0, f64::INFINITY)],
            by_tube: vec![("16 x 1.5 <b>".into(), 1.2, true), ("20 x 2".into(), 0.7, false)],
            band: Some(Band {
                sway: [0.4, 0.3],
                hertz: 1.0,
                shares: vec![Share { origin: Origin::Collars, sway: [0.1, 0.25], hertz: 0.5 }],
            }),
        };
        let drawn = pictures(&charts).expect("drawn");
        assert_eq!(drawn.len(), 3);
        assert_eq!(drawn[2].rows[0][1], "0.10 mm along the length, 0.25 mm along the width, 0.50 Hz");
        assert!(drawn[1].svg.contains("16 x 1.5 &lt;b&gt;") && !drawn[1].svg.contains("<b>"));
        assert_eq!(pictures(&Variation::default()).expect("nothing to draw").len(), 0);
    }
}

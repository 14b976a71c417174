//! Light and dark areas of a picture: a small depth buffer, its areas traced into polygons.

use super::chain::simplified;
use crate::formats::drawing::{Item, Point, Shade};

/// Size of a cell, mm on paper: half the width of the thick pen, whose line covers the edge of an area.
const CELL: f64 = 0.25;

/// Cells along the longer side at most: more would cost time and show nothing.
const MOST: f64 = 1200.0;

/// How far a traced outline may be moved, cells: what turns a staircase into a straight line.
const SMOOTH: f64 = 0.8;

/// Areas smaller than this are left out, cells.
const SMALL: f64 = 12.0;

/// No tone: paper.
const NOTHING: u8 = u8::MAX;

/// A depth buffer that keeps the tone of the nearest surface.
pub(super) struct Tones {
    cell: f64,
    width: usize,
    height: usize,
    depth: Vec<f32>,
    tone: Vec<u8>,
}

impl Tones {
    /// An empty buffer for a picture of `size`, mm.
    pub(super) fn new(size: [f64; 2]) -> Self {
        let cell = CELL.max(size[0].max(size[1]) / MOST);
        let [width, height] = size.map(|s| (s / cell).ceil().max(1.0) as usize);
        let cells = width * height;
        Self { cell, width, height, depth: vec![f32::NEG_INFINITY; cells], tone: vec![NOTHING; cells] }
    }

    /// Covers what lies behind a triangle (x, y, depth towards the viewer, mm) with its tone: 0 for the darkest of [`Shade::FACES`].
    pub(super) fn cover(&mut self, corners: [[f64; 3]; 3], tone: u8) {
        let [a, b, c] = corners.map(|p| [p[0] / self.cell - 0.5, p[1] / self.cell - 0.5, p[2]]);
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        if area.abs() < f64::EPSILON {
            return;
        }
        let span = |i: usize, most: usize| {
            let (low, high) = (a[i].min(b[i]).min(c[i]), a[i].max(b[i]).max(c[i]));
            low.ceil().max(0.0) as usize..((high.floor() + 1.0).max(0.0) as usize).min(most)
        };
        for y in span(1, self.height) {
            for x in span(0, self.width) {
                let p = [x as f64, y as f64];
                let u = ((c[0] - b[0]) * (p[1] - b[1]) - (c[1] - b[1]) * (p[0] - b[0])) / area;
                let v = ((a[0] - c[0]) * (p[1] - c[1]) - (a[1] - c[1]) * (p[0] - c[0])) / area;
                if u >= 0.0 && v >= 0.0 && u + v <= 1.0 {
                    self.put(x, y, (u * a[2] + v * b[2] + (1.0 - u - v) * c[2]) as f32, tone);
                }
            }
        }
    }

    fn put(&mut self, x: usize, y: usize, depth: f32, tone: u8) {
        let i = y * self.width + x;
        if depth > self.depth[i] {
            (self.depth[i], self.tone[i]) = (depth, tone);
        }
    }

    /// The areas, lightest first: each shade also lies under the darker ones, so that no gaps show.
    pub(super) fn areas(&self) -> Vec<Item> {
        let mut items = Vec::new();
        for (tone, shade) in Shade::FACES.into_iter().enumerate().rev() {
            let rings = self.rings(tone as u8);
            if !rings.is_empty() {
                items.push(Item::Fill { rings, shade });
            }
        }
        items
    }

    /// Outlines of all cells that are this dark or darker.
    fn rings(&self, tone: u8) -> Vec<Vec<Point>> {
        let mut sides = self.sides(tone);
        let mut rings = Vec::new();
        for start in 0..sides.len() {
            while sides[start] != 0 {
                let ring = self.traced(&mut sides, start);
                if area(&ring).abs() >= SMALL {
                    let smooth = simplified(&ring, true, SMOOTH);
                    rings.push(smooth.into_iter().map(|p| p.map(|x| x * self.cell)).collect());
                }
            }
        }
        rings
    }

    /// For each corner of the grid, which sides leave it with the area on their left; bits of east, north, west, south.
    fn sides(&self, tone: u8) -> Vec<u8> {
        let row = self.width + 1;
        let mut sides = vec![0_u8; row * (self.height + 1)];
        let dark = |x: usize, y: usize| {
            let inside = x < self.width && y < self.height;
            inside && self.tone[y * self.width + x] <= tone
        };
        for y in 0..self.height {
            for x in (0..self.width).filter(|&x| dark(x, y)) {
                let corner = y * row + x;
                // Neighbours left and below of the first cell wrap round to a number outside.
                let open = [
                    (!dark(x, y.wrapping_sub(1)), corner, 0),
                    (!dark(x + 1, y), corner + 1, 1),
                    (!dark(x, y + 1), corner + row + 1, 2),
                    (!dark(x.wrapping_sub(1), y), corner + row, 3),
                ];
                open.into_iter().filter(|o| o.0).for_each(|(_, at, side)| sides[at] |= 1 << side);
            }
        }
        sides
    }

    /// One outline from a corner on, its sides taken away; only the points where it turns, in cells.
    fn traced(&self, sides: &mut [u8], start: usize) -> Vec<Point> {
        let row = self.width + 1;
        let mut ring = Vec::new();
        let (mut at, mut last) = (start, usize::MAX);
        while sides[at] != 0 {
            // Left turns first: areas that touch at a corner stay apart.
            let turn = [(last.wrapping_add(1)) % 4, last % 4, (last.wrapping_add(3)) % 4];
            let side = turn.into_iter().find(|s| sides[at] & 1 << s != 0).unwrap_or(0);
            let side = if last == usize::MAX { sides[at].trailing_zeros() as usize } else { side };
            if side != last {
                ring.push([(at % row) as f64, (at / row) as f64]);
            }
            sides[at] &= !(1 << side);
            at = [at + 1, at + row, at.wrapping_sub(1), at.wrapping_sub(row)][side];
            last = side;
            if at == start {
                break;
            }
        }
        ring
    }
}

/// Area of a ring, counter-clockwise positive.
fn area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(low: f64, high: f64, depth: f64) -> [[[f64; 3]; 3]; 2] {
        let [a, b, c, d] = [[low, low, depth], [high, low, depth], [high, high, depth], [low, high, depth]];
        [[a, b, c], [a, c, d]]
    }

    /// A near square in front of a far one: areas to within a cell along their outline.
    #[test]
    fn the_nearer_surface_wins() {
        for order in [[0, 1], [1, 0]] {
            let mut tones = Tones::new([40.0, 40.0]);
            for i in order {
                let (low, high, depth, tone) = [(5.0, 35.0, 0.0, 3), (10.0, 20.0, 5.0, 0)][i];
                square(low, high, depth).into_iter().for_each(|t| tones.cover(t, tone));
            }
            let items = tones.areas();
            let size = |i: usize| match &items[i] {
                Item::Fill { rings, .. } => rings.iter().map(|r| area(r)).sum::<f64>(),
                _ => 0.0,
            };
            assert!((size(0) - 900.0).abs() < 30.0 && (size(items.len() - 1) - 100.0).abs() < 10.0);
        }
    }

    /// A square ring: an outline and a hole, each with four corners.
    #[test]
    fn holes_are_rings_of_their_own() {
        let mut tones = Tones::new([20.0, 20.0]);
        for y in 0..tones.height {
            for x in 0..tones.width {
                let inside = |low: usize, high: usize| (low..high).contains(&x) && (low..high).contains(&y);
                if inside(10, 70) && !inside(30, 50) {
                    tones.put(x, y, 0.0, 1);
                }
            }
        }
        let rings = tones.rings(1);
        assert_eq!(rings.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
        let total: f64 = rings.iter().map(|r| area(r)).sum();
        assert!((total - (60.0 * 60.0 - 20.0 * 20.0) * CELL * CELL).abs() < 1e-9);
    }
}

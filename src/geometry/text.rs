//! Engraved labels in a stroke alphabet of our own.

use std::collections::BTreeMap;
use std::sync::Mutex;

use nalgebra::Isometry3;

use super::fault::Fault;
use super::feature::Feature;
use super::outline::stadium_round;
use super::solid::Solid;

/// Lowest capitals that a 0.4 mm nozzle draws legibly, mm. Common practice, no source.
pub const LEAST_HEIGHT: f64 = 3.5;
/// Depth of engraving, mm: three layers of 0.2 mm. Judgement.
pub const DEPTH: f64 = 0.6;
/// How far the cutters stand out of the face, mm. Judgement.
pub const OVERSHOOT: f64 = 0.5;
/// Stroke width over height: 0.6 mm, one and a half nozzle widths, at a height of 4.5 mm. Judgement.
const STROKE: f64 = 0.13;
/// Gap between the ink of neighbouring characters over height. Judgement.
const GAP: f64 = 0.30;
/// Advance of a space over height. Judgement.
const SPACE: f64 = 0.45;

/// Sides of the circle at the ends of a stroke: at 0.3 mm radius the chord error is 0.04 mm, which no nozzle shows.
const END_SIDES: usize = 6;

/// A line of text with capitals of a given height.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Characters and where their left edges are, mm.
    letters: Vec<(char, f64)>,
    width: f64,
    height: f64,
}

impl Label {
    /// Letters A to Z (small ones become capitals), digits, `.`, `-`, `+`, `/` and spaces; height of capitals in mm.
    ///
    /// # Errors
    /// A character without strokes; capitals lower than `LEAST_HEIGHT`.
    pub fn new(text: &str, height: f64) -> Result<Self, Fault> {
        if !(height >= LEAST_HEIGHT && height.is_finite()) {
            return Err(Fault::Label(format!("capitals {height} mm high, at least {LEAST_HEIGHT} mm are legible")));
        }
        let mut label = Self { letters: Vec::new(), width: 0.0, height };
        text.chars().try_for_each(|c| label.push(c.to_ascii_uppercase()))?;
        Ok(label)
    }

    /// Width of the ink from the left edge of the first to the right edge of the last character, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Height of the ink, mm: capitals from the lower to the upper edge of their strokes.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.height
    }

    /// The cutter that engraves the label; nothing for an empty one. The placement puts the lower left corner of the ink
    /// at its origin, the line along its x and the face's outward normal along its z.
    ///
    /// The strokes are joined before they are placed: their floors lie in one plane, which a turned placement would
    /// spoil by rounding.
    ///
    /// # Errors
    /// Strokes that cannot be joined.
    pub fn cuts(&self, at: &Isometry3<f64>, depth: f64) -> Result<Vec<Feature>, Fault> {
        if self.letters.is_empty() {
            return Ok(Vec::new());
        }
        let letter = |(c, left): &(char, f64)| {
            Ok(joined(*c, self.height, depth)?.placed(&Isometry3::translation(*left, 0.0, 0.0)))
        };
        let letters: Vec<Feature> = self.letters.iter().map(letter).collect::<Result<_, Fault>>()?;
        Ok(vec![Feature::beside(&letters).placed(at).engraved()])
    }

    /// What an engraving cutter takes away, mm3: the share of it below the face.
    #[must_use]
    pub fn engraved(cutter: &Feature, depth: f64) -> f64 {
        cutter.mesh().volume() * depth / (depth + OVERSHOOT)
    }

    fn push(&mut self, c: char) -> Result<(), Fault> {
        if c == ' ' {
            self.width += SPACE * self.height;
            return Ok(());
        }
        let right = segments(c, self.height)?.iter().flatten().map(|p| p[0]).fold(0.0, f64::max);
        let left = if self.width > 0.0 { self.width + GAP * self.height } else { 0.0 };
        self.letters.push((c, left));
        self.width = left + right + STROKE * self.height / 2.0;
        Ok(())
    }
}

/// Middle lines of a character's strokes, mm, its ink from 0 on in both directions.
fn segments(c: char, height: f64) -> Result<Vec<[[f64; 2]; 2]>, Fault> {
    let lines = strokes(c).ok_or_else(|| Fault::Label(format!("no strokes for {c:?}")))?;
    let ink = STROKE * height;
    let place = |p: &(u8, u8)| [p.0, p.1].map(|v| ink / 2.0 + (height - ink) * f64::from(v) / GRID);
    let mut out = Vec::new();
    for line in lines {
        out.extend(line.windows(2).map(|pair| [place(&pair[0]), place(&pair[1])]));
        if let [dot] = line {
            let [x, y] = place(dot);
            out.push([[x, y], [x + DOT_LENGTH, y]]);
        }
    }
    Ok(out)
}

/// Character, height and depth in millionths of a millimetre.
type Drawn = (char, i64, i64);

/// Characters joined so far: every kit engraves the same few again and again, and joining strokes takes longer than
/// cutting with them.
static JOINED: Mutex<BTreeMap<Drawn, Feature>> = Mutex::new(BTreeMap::new());

/// The strokes of a character as one cutter.
fn joined(c: char, height: f64, depth: f64) -> Result<Feature, Fault> {
    let drawn = (c, (height * 1e6) as i64, (depth * 1e6) as i64);
    let known = JOINED.lock().ok().and_then(|all| all.get(&drawn).cloned());
    if let Some(feature) = known {
        return Ok(feature);
    }
    let stroke = |[a, b]: &[[f64; 2]; 2]| {
        let outline = stadium_round(*a, *b, STROKE * height / 2.0, END_SIDES);
        Feature::prism(&outline, -depth, OVERSHOOT, &Isometry3::identity())
    };
    let strokes: Vec<Feature> = segments(c, height)?.iter().map(stroke).collect();
    let feature = Feature::joined(Solid::of(strokes.clone()).mesh()?, &strokes);
    if let Ok(mut all) = JOINED.lock() {
        all.insert(drawn, feature.clone());
    }
    Ok(feature)
}

/// A dot is a stroke of this length, mm: a direction without a visible extent.
const DOT_LENGTH: f64 = 0.05;
/// Characters are drawn on a grid of this height.
const GRID: f64 = 10.0;

type Line = &'static [(u8, u8)];

/// Polylines of a character on a grid ten high; x from 0. A line of one point is a dot.
fn strokes(c: char) -> Option<&'static [Line]> {
    Some(match c {
        'A' => &[&[(0, 0), (3, 10), (6, 0)], &[(1, 3), (5, 3)]],
        'B' => &[&[(0, 0), (0, 10), (4, 10), (5, 8), (4, 5), (0, 5)], &[(4, 5), (6, 3), (5, 0), (0, 0)]],
        'C' => &[&[(6, 2), (4, 0), (2, 0), (0, 2), (0, 8), (2, 10), (4, 10), (6, 8)]],
        'D' => &[&[(0, 0), (0, 10), (3, 10), (6, 7), (6, 3), (3, 0), (0, 0)]],
        'E' => &[&[(5, 0), (0, 0), (0, 10), (5, 10)], &[(0, 5), (4, 5)]],
        'F' => &[&[(0, 0), (0, 10), (5, 10)], &[(0, 5), (4, 5)]],
        'G' => &[&[(6, 8), (4, 10), (2, 10), (0, 8), (0, 2), (2, 0), (4, 0), (6, 2), (6, 5), (4, 5)]],
        'H' => &[&[(0, 0), (0, 10)], &[(6, 0), (6, 10)], &[(0, 5), (6, 5)]],
        'I' => &[&[(0, 0), (4, 0)], &[(0, 10), (4, 10)], &[(2, 0), (2, 10)]],
        'J' => &[&[(0, 2), (2, 0), (3, 0), (5, 2), (5, 10)]],
        'K' => &[&[(0, 0), (0, 10)], &[(6, 10), (0, 4)], &[(2, 6), (6, 0)]],
        'L' => &[&[(0, 10), (0, 0), (5, 0)]],
        'M' => &[&[(0, 0), (0, 10), (4, 4), (8, 10), (8, 0)]],
        'N' => &[&[(0, 0), (0, 10), (6, 0), (6, 10)]],
        'O' => &[&[(2, 0), (5, 0), (7, 2), (7, 8), (5, 10), (2, 10), (0, 8), (0, 2), (2, 0)]],
        'P' => &[&[(0, 0), (0, 10), (4, 10), (6, 8), (6, 7), (4, 5), (0, 5)]],
        'Q' => &[&[(2, 0), (5, 0), (7, 2), (7, 8), (5, 10), (2, 10), (0, 8), (0, 2), (2, 0)], &[(4, 3), (7, 0)]],
        'R' => &[&[(0, 0), (0, 10), (4, 10), (6, 8), (6, 7), (4, 5), (0, 5)], &[(3, 5), (6, 0)]],
        'S' => &[&[(0, 1), (2, 0), (4, 0), (6, 2), (6, 4), (0, 6), (0, 8), (2, 10), (4, 10), (6, 9)]],
        'T' => &[&[(0, 10), (6, 10)], &[(3, 10), (3, 0)]],
        'U' => &[&[(0, 10), (0, 2), (2, 0), (4, 0), (6, 2), (6, 10)]],
        'V' => &[&[(0, 10), (3, 0), (6, 10)]],
        'W' => &[&[(0, 10), (2, 0), (4, 7), (6, 0), (8, 10)]],
        'X' => &[&[(0, 0), (6, 10)], &[(0, 10), (6, 0)]],
        'Y' => &[&[(0, 10), (3, 5), (6, 10)], &[(3, 5), (3, 0)]],
        'Z' => &[&[(0, 10), (6, 10), (0, 0), (6, 0)]],
        // Narrower than O, and struck through.
        '0' => &[&[(2, 0), (3, 0), (5, 2), (5, 8), (3, 10), (2, 10), (0, 8), (0, 2), (2, 0)], &[(1, 2), (4, 8)]],
        '1' => &[&[(0, 7), (2, 10), (2, 0)]],
        '2' => &[&[(0, 8), (2, 10), (4, 10), (6, 8), (6, 6), (0, 0), (6, 0)]],
        '3' => &[&[(0, 10), (6, 10), (3, 6), (5, 5), (6, 3), (5, 1), (3, 0), (0, 1)]],
        '4' => &[&[(5, 0), (5, 10), (0, 3), (7, 3)]],
        '5' => &[&[(6, 10), (1, 10), (0, 6), (4, 6), (6, 4), (6, 2), (4, 0), (0, 0)]],
        '6' => &[&[(5, 10), (2, 8), (0, 4), (0, 2), (2, 0), (4, 0), (6, 2), (6, 4), (4, 6), (1, 6)]],
        '7' => &[&[(0, 10), (6, 10), (2, 0)]],
        '8' => &[&[(2, 5), (0, 7), (1, 10), (5, 10), (6, 7), (4, 5), (2, 5), (0, 3), (1, 0), (5, 0), (6, 3), (4, 5)]],
        '9' => &[&[(1, 0), (4, 2), (6, 6), (6, 8), (4, 10), (2, 10), (0, 8), (0, 6), (2, 4), (5, 4)]],
        '.' => &[&[(0, 0)]],
        '-' => &[&[(0, 5), (4, 5)]],
        '+' => &[&[(0, 5), (6, 5)], &[(3, 2), (3, 8)]],
        '/' => &[&[(0, 0), (5, 10)]],
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_character_has_strokes_within_its_height() {
        for c in ('A'..='Z').chain('0'..='9').chain(".-+/".chars()) {
            let l = Label::new(&c.to_string(), 5.0).unwrap();
            let ink = 5.0 * STROKE / 2.0;
            assert!(l.width() > 0.0 && l.width() <= 5.0, "{c}");
            let inside = |p: &[f64; 2]| p[0] >= ink - 1e-9 && p[1] >= ink - 1e-9 && p[1] <= 5.0 - ink + 1e-9;
            assert!(segments(c, 5.0).unwrap().iter().flatten().all(inside), "{c}");
        }
    }

    #[test]
    fn zero_and_o_differ() {
        assert_ne!(strokes('0'), strokes('O'));
    }

    #[test]
    fn small_letters_are_capitals_and_low_or_unknown_ones_are_refused() {
        assert_eq!(Label::new("ab", 4.0), Label::new("AB", 4.0));
        assert!(matches!(Label::new("A", 3.4), Err(Fault::Label(_))));
        assert!(matches!(Label::new("\u{e4}", 4.0), Err(Fault::Label(_))));
    }

    #[test]
    fn width_adds_up_and_the_cutters_stay_inside_it() {
        let l = Label::new("B2 L", 6.0).unwrap();
        let cuts = l.cuts(&Isometry3::identity(), DEPTH).unwrap();
        let right = cuts.iter().map(|f| f.aabb().max[0]).fold(0.0, f64::max);
        assert!((right - l.width()).abs() < 0.1, "{right} {}", l.width());
        let low = cuts.iter().map(|f| f.aabb().min[2]).fold(0.0, f64::min);
        assert!((low + DEPTH).abs() < 1e-7);
    }
}

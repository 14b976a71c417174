//! Wood screws: metric sizes and American gauges, heads, threads, pilots.

use super::drill::{self, Drill};
use super::text::{Page, num};
use super::{inch, key, number, psi};
use crate::source::{Clause, Source};
use crate::units::INCH;

/// The shape of a screw's head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HeadKind {
    /// Flat underneath, domed on top.
    Pan,
    /// Conical, flush with the face.
    Countersunk,
    /// Flat and wide, with its own washer.
    Washer,
}

impl HeadKind {
    /// All kinds, in the order of the table.
    pub const ALL: [Self; 3] = [Self::Pan, Self::Countersunk, Self::Washer];

    /// The word used in the parameter file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pan => "pan",
            Self::Countersunk => "countersunk",
            Self::Washer => "washer",
        }
    }
}

/// A screw head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// Diameter, mm.
    pub diameter: f64,
    /// Height above (pan, washer) or depth below the face (countersunk), mm.
    pub height: f64,
}

/// Which family a screw belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum System {
    /// Millimetres; threaded to the head when short.
    Metric,
    /// American gauge numbers.
    Gauge,
}

/// A size of wood screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screw {
    /// `4.5 mm` or `#8`.
    pub name: &'static str,
    /// Family.
    pub system: System,
    /// Nominal (thread) diameter, mm.
    pub diameter: f64,
    /// Diameter at the root of the thread, mm.
    pub root: f64,
    /// Domed head.
    pub pan: Head,
    /// Conical head, 90 degrees (metric) or 82 degrees (gauge).
    pub countersunk: Head,
    /// Wide flat head.
    pub washer: Head,
    /// Lengths sold, mm.
    pub lengths: &'static [f64],
    /// Where diameter and root come from.
    pub source: Clause,
    /// Where the heads come from.
    pub head_source: Clause,
}

/// Where the bending yield strength by diameter comes from.
pub const YIELD_SOURCE: Clause = Source::NDS.at("Tables 12L and 12M, footnotes: F_yb by diameter");
/// Where the length of the tip comes from.
pub const TIP_SOURCE: Clause = Source::NDS.at("Appendix L3: tapered tip 2 D; metric screws counted alike");
/// Where the length of the thread comes from.
pub const THREAD_SOURCE: Clause = Source::NDS.at("Appendix L3: T = max(4 D, 2 L / 3)");
/// Where the length of the metric thread comes from.
pub const METRIC_THREAD_SOURCE: Clause =
    Source { title: "chipboard screws", edition: "", standing: crate::source::Standing::CommonPractice }
        .at("threaded to the head up to 45 mm, then 60 % of the length");
/// Where the pilot diameter comes from.
pub const PILOT_SOURCE: Clause = Source::WOOD_HANDBOOK
    .remembered()
    .at("chapter 8: lead hole 70 % of the root in softwood, 90 % in hardwood; 0.50 specific gravity as the border is \
        judgement");

/// Specific gravity above which wood counts as hard for pilots: poplar, alder and conifers lie below, ash, maple,
/// beech and oak above.
pub const HARD_ABOVE: f64 = 0.50;
/// Tip over diameter.
const TIP: f64 = 2.0;
/// Longest metric screw with thread to the head, mm.
const FULL_THREAD: f64 = 45.0;
/// Share of longer metric screws that is threaded.
const METRIC_THREAD: f64 = 0.6;

impl Screw {
    /// The head of `kind`.
    #[must_use]
    pub const fn head(&self, kind: HeadKind) -> Head {
        match kind {
            HeadKind::Pan => self.pan,
            HeadKind::Countersunk => self.countersunk,
            HeadKind::Washer => self.washer,
        }
    }

    /// Length of the tapered tip, mm.
    #[must_use]
    pub fn tip(&self) -> f64 {
        TIP * self.diameter
    }

    /// Length of thread with its tip on a screw `length` mm long, mm.
    #[must_use]
    pub fn thread(&self, length: f64) -> f64 {
        match self.system {
            System::Gauge => (4.0 * self.diameter).max(2.0 * length / 3.0).min(length),
            System::Metric if length <= FULL_THREAD => length,
            System::Metric => METRIC_THREAD * length,
        }
    }

    /// Best pilot diameter in wood of `specific_gravity`, mm.
    #[must_use]
    pub fn pilot(&self, specific_gravity: f64) -> f64 {
        if specific_gravity > HARD_ABOVE { 0.9 * self.root } else { 0.7 * self.root }
    }

    /// The metric drill nearest to the best pilot.
    #[must_use]
    pub fn pilot_mm(&self, specific_gravity: f64) -> &'static Drill {
        drill::nearest_mm(self.pilot(specific_gravity))
    }

    /// The inch drill nearest to the best pilot.
    #[must_use]
    pub fn pilot_inch(&self, specific_gravity: f64) -> &'static Drill {
        drill::nearest_inch(self.pilot(specific_gravity))
    }

    /// Bending yield strength F_yb, MPa; falls with the diameter.
    #[must_use]
    pub fn bending_yield(&self) -> f64 {
        bending_yield(self.diameter)
    }

    /// The longest length sold that is at most `longest` mm.
    #[must_use]
    pub fn length_up_to(&self, longest: f64) -> Option<f64> {
        self.lengths.iter().copied().rev().find(|&length| length <= longest)
    }
}

/// Bending yield strength of a wood screw of `diameter` mm, MPa. Source: [`YIELD_SOURCE`].
#[must_use]
pub fn bending_yield(diameter: f64) -> f64 {
    const BANDS: [(f64, f64); 3] =
        [(inch(0.142), psi(100_000.0)), (inch(0.177), psi(90_000.0)), (inch(0.236), psi(80_000.0))];
    let band = BANDS.iter().find(|(up_to, _)| diameter <= up_to + 1e-9);
    band.map_or(psi(70_000.0), |(_, strength)| *strength)
}

/// The size called `name`: `4.5`, `4.5 mm`, `#8`, `8 ga`, `no. 8`.
#[must_use]
pub fn find(name: &str) -> Option<&'static Screw> {
    let text = key(name);
    let gauge = ["#", "no. ", "no ", "no."].iter().find_map(|lead| text.strip_prefix(lead));
    let gauge = gauge.or_else(|| text.strip_suffix("ga"));
    let wanted = match gauge {
        Some(number) => format!("#{}", number.trim()),
        None => format!("{} mm", text.trim_end_matches("mm").trim()),
    };
    ALL.iter().find(|screw| screw.name == wanted)
}

/// A size with a length, mm: `4.5 x 30 mm`, `#8 x 1 1/4 in`, `#8 x 32 mm`. The length need not be one that is sold.
#[must_use]
pub fn find_with_length(text: &str) -> Option<(&'static Screw, f64)> {
    let text = text.replace('"', " in").to_lowercase();
    let (size, length) = text.split_once('x')?;
    let screw = find(size)?;
    let inches = length.contains("in") || (screw.system == System::Gauge && !length.contains("mm"));
    if length.trim_start().starts_with('-') {
        return None;
    }
    let length = number(&key(length))? * if inches { INCH } else { 1.0 };
    (length.is_finite() && length > 0.0).then_some((screw, length))
}

/// All names: metric by diameter, then gauges by number.
#[must_use]
pub fn names() -> Vec<&'static str> {
    ALL.iter().map(|screw| screw.name).collect()
}

const GAUGE: Clause = Source::NDS.at("Appendix L3: standard wood screws");
const GAUGE_HEADS: Clause = Source::from_memory("ASME B18.6.1 and B18.6.4", "")
    .at("pan heads (largest), flat heads 82 degrees; flat head diameter NDS 2018 Appendix L3; washer heads as sold");
const METRIC: Clause = Source::from_memory("DIN 7996 and DIN 7997", "")
    .at("wood screws, and chipboard screws by what makers declare: root diameter by size, usual values");
const METRIC_HEADS: Clause = Source::from_memory("DIN 7996 and DIN 7997", "").at("head by size; washer heads as sold");

/// A printed row of American gauges, inches.
struct Printed(&'static str, f64, f64, [f64; 6]);

/// Heads in inches: pan diameter, height; countersunk diameter, height; washer diameter, height.
const fn gauge(row: Printed, lengths: &'static [f64]) -> Screw {
    let Printed(name, d, root, h) = row;
    let pan = Head { diameter: inch(h[0]), height: inch(h[1]) };
    let countersunk = Head { diameter: inch(h[2]), height: inch(h[3]) };
    let washer = Head { diameter: inch(h[4]), height: inch(h[5]) };
    let (diameter, root) = (inch(d), inch(root));
    Screw {
        name,
        system: System::Gauge,
        diameter,
        root,
        pan,
        countersunk,
        washer,
        lengths,
        source: GAUGE,
        head_source: GAUGE_HEADS,
    }
}

/// A metric row in mm, heads in the order of [`gauge`].
const fn metric(row: Printed, lengths: &'static [f64]) -> Screw {
    let Printed(name, diameter, root, h) = row;
    let pan = Head { diameter: h[0], height: h[1] };
    let countersunk = Head { diameter: h[2], height: h[3] };
    let washer = Head { diameter: h[4], height: h[5] };
    Screw {
        name,
        system: System::Metric,
        diameter,
        root,
        pan,
        countersunk,
        washer,
        lengths,
        source: METRIC,
        head_source: METRIC_HEADS,
    }
}

const L: [f64; 10] =
    [inch(0.5), inch(0.625), inch(0.75), inch(1.0), inch(1.25), inch(1.5), inch(1.75), inch(2.0), inch(2.5), inch(3.0)];

/// All sizes: metric by diameter, then gauges by number.
#[rustfmt::skip]
pub const ALL: &[Screw] = &[
    metric(Printed("3 mm", 3.0, 2.0, [6.0, 2.1, 6.0, 1.7, 7.0, 2.0]), &[12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0]),
    metric(Printed("3.5 mm", 3.5, 2.2, [7.0, 2.4, 7.0, 2.0, 8.5, 2.2]), &[12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0,
        45.0, 50.0]),
    metric(Printed("4 mm", 4.0, 2.5, [8.0, 2.8, 8.0, 2.3, 10.0, 2.4]), &[16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0,
        50.0, 60.0, 70.0]),
    metric(Printed("4.5 mm", 4.5, 2.8, [9.0, 3.1, 9.0, 2.6, 11.0, 2.6]), &[16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0,
        50.0, 60.0, 70.0, 80.0]),
    metric(Printed("5 mm", 5.0, 3.2, [10.0, 3.5, 10.0, 2.9, 12.0, 2.8]), &[20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0,
        60.0, 70.0, 80.0, 100.0]),
    metric(Printed("6 mm", 6.0, 3.9, [12.0, 4.2, 12.0, 3.4, 14.0, 3.2]), &[30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0,
        120.0]),
    gauge(Printed("#6", 0.138, 0.113, [0.270, 0.097, 0.262, 0.083, 0.340, 0.090]), &[L[0], L[1], L[2], L[3], L[4],
        L[5]]),
    gauge(Printed("#7", 0.151, 0.122, [0.296, 0.106, 0.287, 0.091, 0.370, 0.095]), &[L[2], L[3], L[4], L[5], L[7]]),
    gauge(Printed("#8", 0.164, 0.131, [0.322, 0.115, 0.312, 0.100, 0.415, 0.100]), &L),
    gauge(Printed("#9", 0.177, 0.142, [0.348, 0.124, 0.337, 0.108, 0.430, 0.105]), &[L[2], L[3], L[4], L[5], L[7],
        L[8], L[9]]),
    gauge(Printed("#10", 0.190, 0.152, [0.373, 0.133, 0.363, 0.116, 0.450, 0.110]), &[L[2], L[3], L[4], L[5], L[6],
        L[7], L[8], L[9]]),
    gauge(Printed("#12", 0.216, 0.171, [0.425, 0.151, 0.414, 0.132, 0.500, 0.120]), &[L[3], L[4], L[5], L[6], L[7],
        L[8], L[9]]),
    gauge(Printed("#14", 0.242, 0.196, [0.492, 0.175, 0.480, 0.153, 0.580, 0.135]), &[L[3], L[4], L[5], L[6], L[7],
        L[8], L[9]]),
];

/// Specific gravities for which the table shows pilots: a softwood and a hardwood.
const SHOWN: [f64; 2] = [0.42, 0.62];

/// The table for reading.
pub(super) fn text() -> String {
    let heads = [
        "screw",
        "D\nmm",
        "root\nmm",
        "pan\nmm",
        "countersunk\nmm",
        "washer\nmm",
        "F_yb\nMPa",
        "pilot\nsoft",
        "pilot\nhard",
        "lengths\nmm",
        "source",
    ];
    let mut page = Page::new("Wood screws: diameters, heads (diameter x height), pilots", &heads);
    for s in ALL {
        let sources = page.cite(&[s.source, s.head_source]);
        let head = |kind| format!("{:.1}x{:.1}", s.head(kind).diameter, s.head(kind).height);
        let bit = |g| match s.system {
            System::Metric => s.pilot_mm(g).name.to_owned(),
            System::Gauge => s.pilot_inch(g).name.to_owned(),
        };
        let lengths = s.lengths.first().zip(s.lengths.last()).map(|(a, b)| format!("{a:.0}-{b:.0}"));
        let mut cells = vec![s.name.to_owned(), num(s.diameter, 2), num(s.root, 2)];
        cells.extend(HeadKind::ALL.map(head));
        cells.push(num(s.bending_yield(), 0));
        cells.extend(SHOWN.map(bit));
        cells.extend([lengths.unwrap_or_default(), sources]);
        page.row(cells);
    }
    page.note("The countersunk height lies below the face. F_yb: bending yield strength of the shank.");
    page.cite(&[YIELD_SOURCE, TIP_SOURCE, THREAD_SOURCE, METRIC_THREAD_SOURCE, PILOT_SOURCE]);
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(name: &str) -> &'static Screw {
        find(name).unwrap_or_else(|| panic!("{name} is missing"))
    }

    #[test]
    fn rows_are_sorted_by_system_and_diameter() {
        assert!(ALL.is_sorted_by(|a, b| a.system < b.system || (a.system == b.system && a.diameter < b.diameter)));
        assert!(ALL.iter().all(|s| find(s.name) == Some(s)));
        assert_eq!(names().len(), ALL.len());
    }

    #[test]
    fn sizes_are_found_as_people_write_them() {
        assert_eq!(row("4.5"), row(" 4.5 MM "));
        assert_eq!(row("8 ga"), row("no. 8"));
        assert_eq!(row("#8").diameter, inch(0.164));
        for wrong in ["", "#", "8", "4.6", "#8 x 1"] {
            assert_eq!(find(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn sizes_with_lengths_are_read() {
        assert_eq!(find_with_length("4.5 x 30 mm"), Some((row("4.5"), 30.0)));
        assert_eq!(find_with_length("4.5x30"), Some((row("4.5"), 30.0)));
        assert_eq!(find_with_length("#8 x 1-1/4\""), Some((row("#8"), 31.75)));
        assert_eq!(find_with_length("#8 x 32 mm"), Some((row("#8"), 32.0)));
        for wrong in ["4.5", "4.5 x", "4.5 x 0 mm", "4.5 x -30 mm", "4.7 x 30 mm", "#8 x 1/0 in"] {
            assert_eq!(find_with_length(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn every_row_is_physically_sensible() {
        for s in ALL {
            assert!((0.6..0.85).contains(&(s.root / s.diameter)), "{}", s.name);
            assert!((1.6..2.3).contains(&(s.pan.diameter / s.diameter)), "{}", s.name);
            assert!(s.washer.diameter > s.pan.diameter && s.washer.diameter < 2.7 * s.diameter, "{}", s.name);
            let cone = (s.countersunk.diameter - s.diameter) / 2.0;
            assert!(s.countersunk.height >= cone && s.countersunk.height < 1.6 * cone, "{}", s.name);
            assert!(s.pilot(0.4) < s.pilot(0.7) && s.pilot(0.7) < s.root, "{}", s.name);
            assert!(s.pilot_mm(0.7).diameter < s.diameter && s.pilot_inch(0.7).diameter < s.diameter, "{}", s.name);
            assert!(s.lengths.is_sorted_by(|a, b| a < b), "{}", s.name);
            assert!(s.lengths.iter().all(|&l| s.thread(l) <= l && s.thread(l) >= 0.6 * l), "{}", s.name);
        }
    }

    #[test]
    fn gauges_follow_the_rule_of_thirteen_thousandths() {
        // D = 0.060 + 0.013 n in: NDS 2018 Appendix L3 prints it to 0.001 in.
        for s in ALL.iter().filter(|s| s.system == System::Gauge) {
            let n: f64 = s.name[1..].parse().expect("a number");
            assert!((s.diameter - inch(0.060 + 0.013 * n)).abs() <= inch(0.000_5), "{}", s.name);
        }
    }

    #[test]
    fn gauges_have_the_printed_root_and_head() {
        // NDS 2018 Appendix L3, in: D_r and D_H.
        let printed = [
            ("#6", 0.113, 0.262),
            ("#7", 0.122, 0.287),
            ("#8", 0.131, 0.312),
            ("#9", 0.142, 0.337),
            ("#10", 0.152, 0.363),
            ("#12", 0.171, 0.414),
            ("#14", 0.196, 0.480),
        ];
        for (name, root, head) in printed {
            assert_eq!((row(name).root, row(name).countersunk.diameter), (inch(root), inch(head)), "{name}");
        }
        assert!((row("#10").tip() - inch(0.38)).abs() < 1e-9);
        assert!((row("#10").thread(inch(3.0)) - inch(2.0)).abs() < 1e-9);
    }

    #[test]
    fn bending_yield_falls_with_the_diameter() {
        // NDS 2018: 100,000 psi up to 0.142 in, 90,000 up to 0.177, 80,000 up to 0.236, 70,000 up to 0.273.
        let want =
            [("#6", 100e3), ("#7", 90e3), ("#8", 90e3), ("#9", 90e3), ("#10", 80e3), ("#12", 80e3), ("#14", 70e3)];
        for (name, strength) in want {
            assert_eq!(row(name).bending_yield(), psi(strength), "{name}");
        }
        assert_eq!(row("3.5 mm").bending_yield(), psi(100e3));
    }

    #[test]
    fn lengths_are_chosen_downwards() {
        assert_eq!(row("4.5 mm").length_up_to(34.0), Some(30.0));
        assert_eq!(row("4.5 mm").length_up_to(15.0), None);
        assert_eq!(row("5 mm").thread(40.0), 40.0);
        assert_eq!(row("5 mm").thread(80.0), 48.0);
    }
}

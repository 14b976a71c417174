//! Papers read back from their bytes: places of holes in five files, page sizes, bars, beds.

use std::collections::BTreeMap;

use nalgebra::{Isometry3, Matrix3, Point3, Rotation3, Translation3, UnitQuaternion};
use quick_xml::events::{BytesStart, Event};
use underframe::formats::font;
use underframe::formats::pdf::UNIT;
use underframe::geometry::{self, Mesh};
use underframe::model::{Leg, Model};
use underframe::output::kit::{self, VerifiedMesh};
use underframe::output::{Files, beds, drilling};
use underframe::{params, parts};

/// How far the files may disagree about a hole, mm: a twentieth of what a drill can follow.
const AGREE: f64 = 0.02;

type Point = [f64; 2];

/// Every example with its model.
fn examples() -> Vec<(String, Model)> {
    let mut paths: Vec<_> = std::fs::read_dir("params").unwrap().map(|e| e.unwrap().path()).collect();
    paths.sort();
    assert!(!paths.is_empty());
    let model = |path: std::path::PathBuf| {
        let name = path.display().to_string();
        let params = params::read_bytes(&std::fs::read(&path).unwrap()).unwrap_or_else(|e| panic!("{name}: {e:?}"));
        let model = Model::new(&params).unwrap_or_else(|e| panic!("{name}: {e:?}"));
        (name, model)
    };
    paths.into_iter().filter(|p| p.extension().is_some_and(|e| e == "json")).map(model).collect()
}

fn near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

/// What a leg's holes are: places from its cross, as seen from below, from the model alone.
fn wanted(model: &Model, leg: &Leg) -> Vec<Point> {
    let head = leg.frame.head;
    let holes = model.holes();
    holes.iter().filter(|h| h.leg == leg.number).map(|h| [head.x - h.at[0], h.at[1] - head.y]).collect()
}

/// Both lists hold the same places, each once.
fn agree(what: &str, found: &[Point], wanted: &[Point]) {
    assert_eq!(found.len(), wanted.len(), "{what}: {found:?} against {wanted:?}");
    for w in wanted {
        let least = found.iter().map(|f| (f[0] - w[0]).hypot(f[1] - w[1])).fold(f64::INFINITY, f64::min);
        assert!(least <= AGREE, "{what}: {w:?} is off by {least}");
    }
}

// ---------------------------------------------------------------- PDF

/// One operation of a content stream.
struct Operation {
    numbers: Vec<f64>,
    text: String,
    name: String,
}

/// Operations of one stream; strings are kept as their bytes.
fn operations(stream: &str) -> Vec<Operation> {
    let (mut all, mut numbers, mut text) = (Vec::new(), Vec::new(), String::new());
    let mut rest = stream.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '(' => {
                let mut depth = 1;
                while let Some(c) = rest.next() {
                    match c {
                        '\\' => text.extend(rest.next()),
                        '(' => depth += 1,
                        ')' => depth -= 1,
                        _ => {}
                    }
                    if depth == 0 {
                        break;
                    }
                    if c != '\\' {
                        text.push(c);
                    }
                }
            }
            c if c.is_whitespace() || c == '[' || c == ']' => {}
            c => {
                let mut word = String::from(c);
                while let Some(next) = rest.next_if(|n| !n.is_whitespace() && !"[]()".contains(*n)) {
                    word.push(next);
                }
                match word.parse() {
                    Ok(number) => numbers.push(number),
                    Err(_) if word.starts_with('/') => {}
                    Err(_) => all.push(Operation {
                        numbers: std::mem::take(&mut numbers),
                        text: std::mem::take(&mut text),
                        name: word,
                    }),
                }
            }
        }
    }
    all
}

/// What is read from one page, page coordinates, mm.
#[derive(Default)]
struct Sheet {
    circles: Vec<(Point, f64)>,
    lines: Vec<[Point; 2]>,
    /// Lines drawn with the pen of axes.
    axes: Vec<[Point; 2]>,
    /// Where a text stands, its size in mm, its words.
    texts: Vec<(Point, f64, String)>,
    clip: Option<[Point; 2]>,
}

fn at(numbers: &[f64]) -> Point {
    [numbers[0] / UNIT, numbers[1] / UNIT]
}

fn sheet(stream: &str) -> Sheet {
    let ops = operations(stream);
    let mut sheet = Sheet::default();
    let (mut dashes, mut size, mut place) = (0, 0.0, [0.0; 2]);
    for (i, op) in ops.iter().enumerate() {
        match op.name.as_str() {
            // The last number is the phase.
            "d" => dashes = op.numbers.len() - 1,
            "Tf" => size = op.numbers[0] / UNIT,
            "Tm" => place = at(&op.numbers[4..]),
            "Tj" => sheet.texts.push((place, size, op.text.clone())),
            "re" if ops[i + 1].name == "W" => {
                let ([x, y], [w, h]) = (at(&op.numbers), at(&op.numbers[2..]));
                sheet.clip = Some([[x, y], [x + w, y + h]]);
            }
            "m" if ops[i + 1].name == "l" && ops[i + 2].name == "S" => {
                let line = [at(&op.numbers), at(&ops[i + 1].numbers)];
                if dashes == 4 { sheet.axes.push(line) } else { sheet.lines.push(line) }
            }
            "m" if ops.len() > i + 9 && ops[i + 1..i + 9].iter().all(|o| o.name == "c") && ops[i + 9].name == "s" => {
                let (a, b) = (at(&op.numbers), at(&ops[i + 4].numbers[4..]));
                let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
                sheet.circles.push((middle, (a[0] - b[0]).hypot(a[1] - b[1])));
            }
            _ => {}
        }
    }
    sheet
}

fn sheets(pdf: &[u8]) -> Vec<Sheet> {
    let text: String = pdf.iter().map(|&b| char::from(b)).collect();
    text.split("endstream").filter_map(|part| part.split_once("stream\n")).map(|(_, s)| sheet(s)).collect()
}

impl Sheet {
    /// Numbered joining marks: capitals of 1.6 mm beside them, by where the text stands.
    fn marks(&self) -> BTreeMap<usize, Point> {
        let small = |size: f64| near(size, font::size(1.6), 0.01);
        self.texts.iter().filter(|t| small(t.1)).filter_map(|t| Some((t.2.parse().ok()?, t.0))).collect()
    }

    fn shows(&self, words: &str) -> bool {
        self.texts.iter().any(|t| t.2.starts_with(words))
    }

    fn inside(&self, p: Point) -> bool {
        self.clip.is_some_and(|[low, high]| (0..2).all(|k| p[k] >= low[k] && p[k] <= high[k]))
    }
}

/// Holes of a leg from its cross, sheets of one leg joined by their marks.
fn pdf_holes(sheets: &[Sheet], leg: usize, pilot: f64) -> Vec<Point> {
    let own: Vec<&Sheet> = sheets.iter().filter(|s| s.shows(&format!("Leg {leg}: drilling template"))).collect();
    assert!(!own.is_empty(), "leg {leg} has no sheet");
    // Each sheet's shift to the first, once a neighbour with a common mark is known.
    let mut shifts: Vec<Option<Point>> = vec![None; own.len()];
    shifts[0] = Some([0.0; 2]);
    for _ in 0..own.len() {
        for i in 0..own.len() {
            for j in 0..own.len() {
                if let (None, Some(known)) = (shifts[i], shifts[j]) {
                    let theirs = own[j].marks();
                    let common = own[i].marks().into_iter().find_map(|(n, p)| Some((p, *theirs.get(&n)?)));
                    shifts[i] = common.map(|(mine, other)| [0, 1].map(|k| known[k] + other[k] - mine[k]));
                }
            }
        }
    }
    let joined = |p: Point, s: Point| [p[0] + s[0], p[1] + s[1]];
    let (mut axes, mut holes): (Vec<[Point; 2]>, Vec<Point>) = (Vec::new(), Vec::new());
    for (sheet, shift) in own.iter().zip(shifts) {
        let shift = shift.expect("every sheet has a neighbour");
        axes.extend(sheet.axes.iter().map(|l| l.map(|p| joined(p, shift))));
        let shown = sheet.circles.iter().filter(|(c, d)| near(*d, pilot, 0.005) && sheet.inside(*c));
        for hole in shown.map(|(c, _)| joined(*c, shift)) {
            if !holes.iter().any(|h| near(h[0], hole[0], 0.05) && near(h[1], hole[1], 0.05)) {
                holes.push(hole);
            }
        }
    }
    let cross = crossing(&axes);
    holes.iter().map(|h| [h[0] - cross[0], h[1] - cross[1]]).collect()
}

/// Where the upright and the level centre line meet.
fn crossing(axes: &[[Point; 2]]) -> Point {
    let upright = axes.iter().find(|[a, b]| near(a[0], b[0], 1e-3)).expect("an upright centre line");
    let level = axes.iter().find(|[a, b]| near(a[1], b[1], 1e-3)).expect("a level centre line");
    [upright[0][0], level[0][1]]
}

// ---------------------------------------------------------------- SVG

fn attribute(e: &BytesStart, name: &str) -> Option<String> {
    let found = e.attributes().flatten().find(|a| a.key.as_ref() == name)?;
    Some(found.value.into_owned())
}

/// Circles and centre lines of the file, y up.
fn svg_shapes(text: &str) -> (Vec<(Point, f64)>, Vec<[Point; 2]>) {
    let mut reader = quick_xml::Reader::from_str(text);
    let (mut circles, mut axes, mut axis) = (Vec::new(), Vec::new(), false);
    loop {
        let event = reader.read_event().unwrap();
        let (Event::Start(e) | Event::Empty(e)) = &event else {
            if event == Event::Eof {
                return (circles, axes);
            }
            continue;
        };
        let number = |name: &str| attribute(e, name).map(|v| v.parse::<f64>().unwrap());
        match e.name().as_ref() {
            "g" => axis = attribute(e, "stroke-dasharray").is_some_and(|d| d.split(' ').count() == 4),
            "circle" => {
                circles.push(([number("cx").unwrap(), -number("cy").unwrap()], 2.0 * number("r").unwrap()));
            }
            "path" if axis => {
                let d = attribute(e, "d").unwrap();
                let v: Vec<f64> = d.split(['M', 'L', ' ']).filter_map(|w| w.parse().ok()).collect();
                axes.push([[v[0], -v[1]], [v[2], -v[3]]]);
            }
            _ => {}
        }
    }
}

/// Holes of each leg from its cross: templates stand from left to right, each with a level and an upright centre line.
fn svg_holes(text: &str, pilot: f64) -> Vec<Vec<Point>> {
    assert!(text.contains("mm\""), "sizes are in mm");
    let (circles, axes) = svg_shapes(text);
    let crosses = axes.chunks(2).map(crossing).collect::<Vec<_>>();
    let mut legs = vec![Vec::new(); crosses.len()];
    for (c, d) in circles {
        assert!(near(d, pilot, 0.002), "a circle of {d}");
        let far = |k: &usize| (c[0] - crosses[*k][0]).hypot(c[1] - crosses[*k][1]);
        let leg = (0..crosses.len()).min_by(|a, b| far(a).total_cmp(&far(b))).unwrap();
        legs[leg].push([c[0] - crosses[leg][0], c[1] - crosses[leg][1]]);
    }
    legs
}

// ---------------------------------------------------------------- DXF

/// All holes, from the corner of the front edge and the end at +x.
fn dxf_holes(bytes: &[u8]) -> Vec<Point> {
    let lines: Vec<&str> = std::str::from_utf8(bytes).unwrap().lines().collect();
    let pairs: Vec<[&str; 2]> = lines.chunks(2).map(|pair| [pair[0].trim(), pair[1]]).collect();
    let circles = pairs.chunk_by(|_, next| next[0] != "0").filter(|record| record[0] == ["0", "CIRCLE"]);
    let value =
        |record: &[[&str; 2]], code| -> f64 { record.iter().find(|p| p[0] == code).unwrap()[1].parse().unwrap() };
    circles.map(|circle| ["10", "20"].map(|code| value(circle, code))).collect()
}

// ---------------------------------------------------------------- meshes

/// Middle of the box round the ring of corners on z = 0 about a place, printing frame.
fn ring_middle(mesh: &Mesh, about: Point, reach: f64) -> Point {
    let ring: Vec<Point> = mesh
        .points
        .iter()
        .filter(|p| p[2].abs() < 1e-4 && (p[0] - about[0]).hypot(p[1] - about[1]) < reach)
        .map(|p| [p[0], p[1]])
        .collect();
    assert!(ring.len() >= 8, "no hole at {about:?}");
    [0, 1].map(|k| {
        let low = ring.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min);
        let high = ring.iter().map(|p| p[k]).fold(f64::NEG_INFINITY, f64::max);
        f64::midpoint(low, high)
    })
}

/// Holes in the wood face of a part that lies under a leg, from the leg's cross, seen from below: the ring nearest to each
/// place on the paper is measured.
fn mesh_holes(mesh: &Mesh, pose: &Isometry3<f64>, paper: &[Point], reach: f64) -> Vec<Point> {
    let head = pose.translation.vector;
    let one = |p: &Point| {
        let local = pose.inverse() * Point3::new(head.x - p[0], head.y + p[1], head.z);
        let [x, y] = ring_middle(mesh, [local.x, local.y], reach);
        let world = pose * Point3::new(x, y, 0.0);
        [head.x - world.x, world.y - head.y]
    };
    paper.iter().map(one).collect()
}

fn printed(model: &Model, name: &str) -> Vec<VerifiedMesh> {
    let wanted = parts::all(model).unwrap().into_iter().filter(|p| p.name.starts_with(name)).collect();
    kit::mesh_all(wanted, &|_| ()).unwrap_or_else(|e| panic!("{e}"))
}

// ---------------------------------------------------------------- tests

/// Every hole of every example, read back from PDF (both papers), SVG, DXF, bracket mesh and drill-guide mesh.
#[test]
fn five_files_agree_about_every_hole() {
    for (name, model) in examples() {
        let files = drilling::files(&model, "");
        let pilot = model.holes()[0].pilot;
        let pdfs = ["a4", "letter"].map(|p| sheets(&files[&format!("drilling_{p}.pdf")]));
        let svg = svg_holes(std::str::from_utf8(&files["drilling.svg"]).unwrap(), pilot);
        let dxf = dxf_holes(&files["drilling.dxf"]);
        let (brackets, guides) = (printed(&model, "bracket"), printed(&model, "drill guide"));
        assert_eq!(dxf.len(), model.holes().len(), "{name}");
        for (i, leg) in model.legs.iter().enumerate() {
            let what = |file: &str| format!("{name}, leg {}, {file}", leg.number);
            let wanted = wanted(&model, leg);
            for pdf in &pdfs {
                agree(&what("PDF"), &pdf_holes(pdf, leg.number, pilot), &wanted);
            }
            agree(&what("SVG"), &svg[i], &wanted);
            agree(&what("DXF"), &dxf_of_leg(&model, leg, &dxf), &wanted);
            let design = &model.brackets[leg.bracket.kind].design;
            let bracket = geometry::read_stl(&brackets[leg.bracket.kind].stl).unwrap();
            let pose = brackets[leg.bracket.kind].part.places.iter().find(|p| p.0 == leg.number).unwrap().1;
            let slot = design.screws.iter().chain(&design.spare).map(|s| s.slot).fold(0.0, f64::max);
            let ring = design.hole.clear.max(design.hole.relief_diameter) / 2.0 + slot / 2.0;
            agree(&what("bracket"), &mesh_holes(&bracket, &pose, &wanted, ring + 0.3), &wanted);
            let k = model.guides.iter().position(|g| g.legs.contains(&leg.number)).unwrap();
            let guide = geometry::read_stl(&guides[k].stl).unwrap();
            let ring = model.guides[k].design.bore / 2.0;
            agree(&what("guide"), &mesh_holes(&guide, &pose, &wanted, ring + 0.3), &wanted);
        }
    }
}

/// The leg's share of the file's holes, from its cross.
fn dxf_of_leg(model: &Model, leg: &Leg, holes: &[Point]) -> Vec<Point> {
    let (top, head) = (&model.params.top, leg.frame.head);
    let cross = [top.length / 2.0 - head.x, top.width / 2.0 + head.y];
    let from = |h: &Point| [h[0] - cross[0], h[1] - cross[1]];
    let design = &model.brackets[leg.bracket.kind].design;
    let reach = design.length.hypot(design.width) / 2.0;
    holes.iter().map(from).filter(|p| p[0].hypot(p[1]) < reach).collect()
}

/// The hole of leg 1 that is nearest to leg 1's corner of the top lies nearest to that corner on the upturned top: laid on
/// its show face by a half turn about y, seen from above, front edge towards the maker.
#[test]
fn the_corner_of_leg_1_is_the_corner_of_leg_1_on_the_upturned_top() {
    for (name, model) in examples() {
        let over = Rotation3::from_axis_angle(&nalgebra::Vector3::y_axis(), std::f64::consts::PI);
        let (x, y) = (model.params.top.length / 2.0, model.params.top.width / 2.0);
        let turned = |p: Point| over * Point3::new(p[0], p[1], 0.0);
        let corner = turned([-x, -y]);
        let from_corner = |p: Point| (p[0] - corner.x).hypot(p[1] - corner.y);
        let files = drilling::files(&model, "");
        // The file counts from the lower left corner of the upturned top.
        let dxf: Vec<Point> = dxf_holes(&files["drilling.dxf"]).iter().map(|h| [h[0] - x, h[1] - y]).collect();
        let nearest = dxf.iter().map(|h| from_corner(*h)).fold(f64::INFINITY, f64::min);
        let own = model.holes().into_iter().filter(|h| h.leg == 1).map(|h| (h.at[0] + x).hypot(h.at[1] + y));
        assert!(near(nearest, own.fold(f64::INFINITY, f64::min), AGREE), "{name}");
        for hole in model.holes() {
            let t = turned(hole.at);
            assert!(
                dxf.iter().any(|h| near(h[0], t.x, AGREE) && near(h[1], t.y, AGREE)),
                "{name}: {hole:?} is mirrored"
            );
        }
    }
}

/// ISO 216 A4 and US letter in points, upright or lying.
#[test]
fn pages_are_the_papers() {
    for (name, model) in examples() {
        let files = drilling::files(&model, "");
        for (paper, [short, long]) in [("a4", [595.276, 841.890]), ("letter", [612.0, 792.0])] {
            let bytes = &files[&format!("drilling_{paper}.pdf")];
            let text: String = bytes.iter().map(|&b| char::from(b)).collect();
            let boxes: Vec<Vec<f64>> = text
                .split("/MediaBox [")
                .skip(1)
                .map(|s| s.split(']').next().unwrap().split_whitespace().map(|n| n.parse().unwrap()).collect())
                .collect();
            assert_eq!(boxes.len(), sheets(bytes).len(), "{name}");
            for b in boxes {
                let is = |w: f64, h: f64| near(b[2], w, 0.001) && near(b[3], h, 0.001);
                assert!(b[0] == 0.0 && b[1] == 0.0 && (is(short, long) || is(long, short)), "{name}: {b:?}");
            }
        }
    }
}

/// One bar of 100 mm in each direction on every sheet, within 0.01 mm, and the words that say so.
#[test]
fn bars_are_100_mm() {
    for (name, model) in examples() {
        let files = drilling::files(&model, "");
        for paper in ["a4", "letter"] {
            for sheet in sheets(&files[&format!("drilling_{paper}.pdf")]) {
                // Outside the window: nothing drawn can stand in for a bar.
                let outside = |l: &&[Point; 2]| !l.iter().any(|p| sheet.inside(*p));
                let level = |[a, b]: &&[Point; 2]| near(a[1], b[1], 1e-3) && near(b[0] - a[0], 100.0, 0.01);
                let upright = |[a, b]: &&[Point; 2]| near(a[0], b[0], 1e-3) && near(b[1] - a[1], 100.0, 0.01);
                assert_eq!(sheet.lines.iter().filter(outside).filter(level).count(), 1, "{name}");
                assert_eq!(sheet.lines.iter().filter(outside).filter(upright).count(), 1, "{name}");
                assert!(sheet.shows("100 mm"), "{name}");
            }
        }
    }
}

#[test]
fn a_warning_stands_on_every_sheet() {
    let (_, model) = examples().remove(0);
    let files = drilling::files(&model, "NOT ADEQUATE");
    assert!(sheets(&files["drilling_a4.pdf"]).iter().all(|s| s.shows("NOT ADEQUATE")));
}

/// Whether a section of the page says it; that of the verdict says it in its heading.
fn section_says(section: &str, words: &str) -> bool {
    section.contains(words) || (section.starts_with("<section id=\"verdict\"") && section.contains("not adequate"))
}

/// Each file that somebody works from says that the table is not adequate: on every sheet, in every row.
#[test]
fn every_file_of_a_table_that_is_not_adequate_says_so() {
    const WORDS: &str = "NOT ADEQUATE";
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/verdicts/tipping.json");
    let made = underframe::make(&std::fs::read(path).unwrap(), &|_| ()).unwrap();
    let mut said = std::collections::BTreeSet::new();
    for (path, bytes) in &made.files {
        let text = String::from_utf8_lossy(bytes);
        let kind = path.rsplit('.').next().unwrap();
        let says = match kind {
            "pdf" => sheets(bytes).iter().all(|s| s.shows(WORDS)),
            "csv" => text.lines().skip(1).all(|row| row.contains(WORDS)),
            "svg" | "dxf" => text.contains(WORDS),
            "3mf" => plates(bytes).contains(WORDS),
            "html" => {
                let sections = text.match_indices("<section id=").map(|(at, _)| &text[at..]);
                sections.map(|s| &s[..s.find("</section>").unwrap()]).all(|s| section_says(s, WORDS))
            }
            "json" => path == "record.json" || text.contains("\"verdict\": \"not adequate\""),
            // Shapes alone.
            "stl" | "step" => true,
            _ => panic!("{path}: is it a sheet or a list?"),
        };
        assert!(says, "{path}");
        said.insert(kind.to_owned());
    }
    assert_eq!(
        said.into_iter().collect::<Vec<_>>(),
        ["3mf", "csv", "dxf", "html", "json", "pdf", "step", "stl", "svg"]
    );
}

/// Each caution stands in the list at the end and once more beside the work it belongs to.
#[test]
fn each_caution_stands_where_it_belongs_and_in_the_list() {
    let text = params::built_in().as_bytes();
    let made = underframe::make(text, &|_| ()).unwrap();
    let page = String::from_utf8(made.files["report.html"].clone()).unwrap();
    let list = page.find("<section id=\"cautions\"").unwrap();
    for c in &made.checked.cautions {
        let heading = format!("</span> {}", c.heading());
        let places: Vec<usize> = page.match_indices(&heading).map(|(at, _)| at).collect();
        assert!(places.len() == 2 && places[0] < list && places[1] > list, "{}: {places:?}", c.heading());
    }
}

/// One object of a plate: its name and the corners of its box on the plate.
type Placed = (String, [[f64; 3]; 2]);

/// The model inside a 3MF file.
fn plates(bytes: &[u8]) -> String {
    let mut zip = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    std::io::read_to_string(zip.by_name("3D/3dmodel.model").unwrap()).unwrap()
}

/// Objects of a 3MF file where they lie.
fn placed(bytes: &[u8]) -> Vec<Placed> {
    let text = plates(bytes);
    let mut reader = quick_xml::Reader::from_str(&text);
    let mut objects: BTreeMap<String, (String, Vec<Point3<f64>>)> = BTreeMap::new();
    let (mut id, mut all) = (String::new(), Vec::new());
    loop {
        let event = reader.read_event().unwrap();
        let (Event::Start(e) | Event::Empty(e)) = &event else {
            if event == Event::Eof {
                return all;
            }
            continue;
        };
        match e.name().as_ref() {
            "object" => {
                id = attribute(e, "id").unwrap();
                objects.insert(id.clone(), (attribute(e, "name").unwrap(), Vec::new()));
            }
            "vertex" => {
                let p = ["x", "y", "z"].map(|k| attribute(e, k).unwrap().parse().unwrap());
                objects.get_mut(&id).unwrap().1.push(Point3::from(p));
            }
            "item" => {
                let (name, points) = &objects[&attribute(e, "objectid").unwrap()];
                let pose = pose(&attribute(e, "transform").unwrap());
                let moved: Vec<[f64; 3]> = points.iter().map(|p| (pose * p).into()).collect();
                let b = geometry::Aabb::around(&moved);
                all.push((name.clone(), [b.min, b.max]));
            }
            _ => {}
        }
    }
}

/// Twelve numbers, the images of the axes and the origin.
fn pose(text: &str) -> Isometry3<f64> {
    let n: Vec<f64> = text.split(' ').map(|w| w.parse().unwrap()).collect();
    let turn = Rotation3::from_matrix_unchecked(Matrix3::from_column_slice(&n[..9]));
    Isometry3::from_parts(Translation3::new(n[9], n[10], n[11]), UnitQuaternion::from_rotation_matrix(&turn))
}

/// Parts stand on the bed, 3 mm from its edges unless one needs them, 5 mm apart, as many as the list says; the gauge and
/// its coupons alone on the first plate.
#[test]
fn beds_hold_every_part_apart() {
    for (name, model) in examples() {
        let printed = kit::mesh_all(parts::all(&model).unwrap(), &|_| ()).unwrap_or_else(|e| panic!("{name}: {e}"));
        let files: Files = beds::files(&model, &printed, "").unwrap();
        assert_eq!(files, beds::files(&model, &printed, "").unwrap(), "same parts, same bytes");
        let beds: Vec<Vec<Placed>> = (1..=files.len()).map(|i| placed(&files[&format!("beds/bed_{i}.3mf")])).collect();
        let first = |name: &str| name.starts_with("fit gauge") || name.starts_with("coupon");
        assert!(beds[0].len() == 6 && beds[0].iter().all(|(part, _)| first(part)), "{name}");
        let size = model.params.printing.bed;
        for bed in &beds {
            let edge = if bed.len() > 1 { beds::EDGE } else { 0.0 };
            for (i, (part, [min, max])) in bed.iter().enumerate() {
                let on = |k: usize| min[k] >= edge - 1e-3 && max[k] <= size[k] - edge + 1e-3;
                assert!(
                    on(0) && on(1) && min[2].abs() < 1e-3 && max[2] <= size[2] + 1e-3,
                    "{name}: {part} {min:?} {max:?}"
                );
                for (other, [low, high]) in &bed[..i] {
                    let gap = (0..2).map(|k| (low[k] - max[k]).max(min[k] - high[k])).fold(f64::MIN, f64::max);
                    assert!(gap >= beds::GAP - 1e-3, "{name}: {part} and {other} are {gap} apart");
                }
            }
        }
        for p in &printed {
            let own = format!("{} {}", p.part.name, p.part.mark);
            let count = beds.iter().flatten().filter(|(n, _)| *n == own).count();
            assert_eq!(count, p.part.count, "{name}: {own}");
        }
    }
}

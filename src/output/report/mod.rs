//! The report for people: one HTML page that needs nothing else.
//!
//! Each file here makes one part of the page from the kit; the templates only place it. What comes from the parameter file
//! is text and is escaped by the template engine; only pictures drawn here go in as they are.

pub mod chart;
mod checklist;
pub(crate) mod figures;
mod lists;
mod movement;
mod scene;
mod sheets;
mod solids;
mod sources;
mod stills;

#[cfg(test)]
pub(crate) mod sample;

use minijinja::syntax::SyntaxConfig;
use minijinja::{AutoEscape, Environment, UndefinedBehavior};
use serde::Serialize;

use self::figures::{band, figure};
use super::cautions::ESTIMATES;
use super::{Files, Kit};
use crate::checks::{self, Caution, Check};
use crate::formats::number::short;
use crate::parallel;

/// Templates by name.
const TEMPLATES: [(&str, &str); 12] = [
    ("report.html", include_str!("templates/report.html")),
    ("verdict.html", include_str!("templates/verdict.html")),
    ("pictures.html", include_str!("templates/pictures.html")),
    ("checks.html", include_str!("templates/checks.html")),
    ("movement.html", include_str!("templates/movement.html")),
    ("lists.html", include_str!("templates/lists.html")),
    ("assembly.html", include_str!("templates/assembly.html")),
    ("proof.html", include_str!("templates/proof.html")),
    ("printing.html", include_str!("templates/printing.html")),
    ("sources.html", include_str!("templates/sources.html")),
    ("cautions.html", include_str!("templates/cautions.html")),
    ("macros.html", include_str!("templates/macros.html")),
];
/// Goes into the page as it is.
const STYLE: &str = include_str!("templates/style.css");
/// Goes into the page as it is.
const SCRIPTS: [&str; 2] = [include_str!("templates/page.js"), include_str!("templates/viewer.js")];

/// Everything the templates place.
#[derive(Serialize)]
struct Page<'a> {
    title: &'a str,
    subtitle: String,
    style: &'static str,
    scripts: [&'static str; 2],
    answer: checklist::Answer,
    facts: Vec<Fact>,
    whole: String,
    scene: String,
    choices: Vec<scene::Choice>,
    marked: String,
    views: Vec<Still>,
    parts: Vec<PartView>,
    checks: Vec<checklist::Row>,
    movement: Vec<movement::Picture>,
    charts: Vec<chart::Picture>,
    added: Vec<[String; 3]>,
    assumed: Vec<[&'a str; 3]>,
    cuts: Vec<lists::Cut>,
    bars: Vec<lists::Bars>,
    hardware: Vec<lists::Buy>,
    assembly: sheets::Assembly,
    proof: sheets::Proof,
    coupons: Vec<String>,
    printing: sheets::Printing,
    sources: sources::Sources,
    figures: &'static str,
    cautions: Vec<CautionView>,
}

/// A figure at the head of the page.
#[derive(Serialize)]
struct Fact {
    name: &'static str,
    value: String,
    unit: &'static str,
    about: String,
}

/// A still picture with its heading.
#[derive(Serialize)]
struct Still {
    heading: &'static str,
    svg: String,
}

/// A printed part.
#[derive(Serialize)]
struct PartView {
    mark: String,
    name: String,
    count: usize,
    file: String,
    size: String,
    mass: String,
    note: &'static str,
    bores: String,
    stills: Vec<Still>,
}

#[derive(Serialize)]
struct CautionView {
    step: &'static str,
    heading: &'static str,
    text: String,
}

impl CautionView {
    fn new(caution: &Caution) -> Self {
        Self { step: caution.work().word(), heading: caution.heading(), text: caution.text() }
    }
}

/// The page.
///
/// # Errors
/// A template that cannot be filled, a chart that cannot be drawn.
pub fn write(kit: &Kit) -> Result<Files, String> {
    let page = page(kit)?;
    let environment = environment()?;
    let template = environment.get_template("report.html").map_err(describe)?;
    let text = template.render(minijinja::value::Serde(&page)).map_err(describe)?;
    Ok(Files::from([("report.html".to_owned(), text.into_bytes())]))
}

fn environment() -> Result<Environment<'static>, String> {
    let mut environment = Environment::new();
    environment.set_auto_escape_callback(|_| AutoEscape::Html);
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_syntax(SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build().map_err(describe)?);
    TEMPLATES.iter().try_for_each(|(name, text)| environment.add_template(name, text)).map_err(describe)?;
    Ok(environment)
}

/// The whole chain of causes.
fn describe(error: minijinja::Error) -> String {
    format!("{error:#}")
}

fn page<'a>(kit: &Kit<'a>) -> Result<Page<'a>, String> {
    let table = solids::Table::new(kit);
    let mark = kit.checked.governing(checks::Concern::Strength);
    let bodies = mark.and_then(checklist::Mark::of);
    let scene = scene::Scene::new(kit, &table, bodies);
    let params = &kit.model.params;
    let cautions = kit.checked.cautions.iter();
    Ok(Page {
        title: &params.title,
        subtitle: subtitle(kit),
        style: STYLE,
        scripts: SCRIPTS,
        answer: checklist::Answer::new(kit.checked, kit.model.params.units),
        facts: facts(kit),
        whole: stills::whole(kit, &table),
        scene: scene.json()?,
        marked: mark.zip(bodies).map_or_else(String::new, |(check, bodies)| marked(check, bodies)),
        choices: scene.into_choices(),
        views: stills::views(kit, &table).into_iter().map(still).collect(),
        parts: parts(kit),
        checks: checklist::rows(kit.checked),
        movement: movement::pictures(kit),
        charts: chart::pictures(kit.varied)?,
        added: super::added::rows(kit.model),
        assumed: kit.model.assumed.iter().map(|a| [a.key.as_str(), a.value.as_str(), a.why.as_str()]).collect(),
        cuts: lists::cuts(kit.model),
        bars: lists::bars(kit.model),
        hardware: lists::hardware(kit.model),
        assembly: sheets::assembly(kit),
        proof: sheets::proof(kit),
        coupons: super::coupons::how(kit.model),
        printing: sheets::printing(kit),
        sources: sources::Sources::new(kit),
        figures: ESTIMATES,
        cautions: cautions.map(CautionView::new).collect(),
    })
}

fn still((heading, svg): (&'static str, String)) -> Still {
    Still { heading, svg }
}

fn marked(check: &Check, bodies: checklist::Mark) -> String {
    format!("{}: {} {}", bodies.words(), check.id.words(), super::words::used(check.utilisation()))
}

fn subtitle(kit: &Kit) -> String {
    let p = &kit.model.params;
    let size = [p.top.length, p.top.width, p.top.thickness].map(|x| short(x, 1)).join(" x ");
    let tubes = if p.legs.tubes == 1 { String::new() } else { format!("{} x ", p.legs.tubes) };
    format!(
        "{} top {size} mm on {} legs of {tubes}{} {}; {} mm high; printed in {}",
        p.wood_name(),
        p.legs.count,
        p.legs.tube.name,
        p.metal_name(),
        short(p.height, 1),
        p.filament_name()
    )
}

/// The figures people ask for first.
fn facts(kit: &Kit) -> Vec<Fact> {
    let mut all = Vec::new();
    for (case, axis) in figures::sways(kit.model) {
        if let Some([a, b]) = figures::both(kit, case, |c| c.sway[axis].abs()) {
            let name = ["sway along the length", "sway along the width"][axis];
            all.push(Fact { name, value: band(a, b), unit: "mm", about: kit.model.cases[case].name.clone() });
        }
    }
    let [x, y] = kit.forces.play;
    let name = "play: the top rocks freely";
    all.push(Fact {
        name,
        value: band(x, y),
        unit: "mm",
        about: "along length and width, from the clearance in the sockets".into(),
    });
    all.extend(frequency(kit));
    let tips = checks::tips(kit.model, kit.forces);
    let both = [("load that tips the empty table", tips.empty), ("load that tips the loaded table", tips.loaded)];
    all.extend(both.into_iter().filter_map(|(name, tip)| {
        let tip = tip?;
        Some(Fact { name, value: figure(tip.mass()), unit: "kg", about: format!("put on the {}", tip.place.words()) })
    }));
    let (empty, full) = (kit.forces.empty.0, kit.forces.mass);
    all.push(Fact {
        name: "mass",
        value: figure(empty),
        unit: "kg",
        about: format!(
            "top and tubes; {} kg with what stays on it; weights.csv counts what is printed too",
            figure(full)
        ),
    });
    all
}

fn frequency(kit: &Kit) -> Option<Fact> {
    let lowest = |s: &crate::mechanics::Solution| s.modes.first().map(|m| (m.hertz, m.motion.words()));
    let (soft, shape) = kit.forces.solutions.first().and_then(lowest)?;
    let stiff = kit.forces.solutions.last().and_then(lowest).map_or(soft, |m| m.0);
    Some(Fact { name: "lowest frequency", value: band(soft, stiff), unit: "Hz", about: shape.to_owned() })
}

fn parts(kit: &Kit) -> Vec<PartView> {
    let grams = figures::grams(kit);
    let pictures = parallel::map(kit.printed, stills::part);
    let view = |(i, ((p, pictures), grams)): (usize, ((&super::VerifiedMesh, Vec<_>), f64))| {
        let mut bores: Vec<String> = p.part.bores().map(|b| crate::formats::number::num(b.diameter, 2)).collect();
        bores.dedup();
        PartView {
            mark: p.part.mark.clone(),
            name: p.part.name.clone(),
            count: p.part.count,
            file: format!("{}.stl", kit.stem(i)),
            size: p.size.map(|s| short(s, 1)).join(" x "),
            mass: figure(grams),
            note: p.part.kind.printed(),
            bores: bores.join(", "),
            stills: pictures.into_iter().map(still).collect(),
        }
    };
    kit.printed.iter().zip(pictures).zip(grams).enumerate().map(view).collect()
}

#[cfg(test)]
mod tests {
    use super::sample::Sample;
    use super::*;

    const NASTY: &str = "Bench </title><script>alert('x')</script> & \"co\"";

    fn text(files: &Files) -> String {
        String::from_utf8_lossy(&files["report.html"]).into_owned()
    }

    #[test]
    fn titles_from_the_file_stay_text() {
        let sample = Sample::new(NASTY);
        let page = text(&write(&sample.kit()).expect("written"));
        assert!(!page.contains("<script>alert"));
        assert!(page.contains("&lt;script&gt;alert"));
        assert_eq!(page.matches("<script").count(), page.matches("</script>").count());
    }

    #[test]
    fn the_page_names_nothing_outside_itself_and_stays_small() {
        let sample = Sample::new("x");
        let page = text(&write(&sample.kit()).expect("written"));
        for outside in ["http://", "https://", "src=", "@import", "url("] {
            let found = page.replace("http://www.w3.org/2000/svg", "");
            assert!(!found.contains(outside), "{outside}");
        }
        // Far below the 10 MB that a report may have.
        assert!(page.len() < 2_000_000, "{} bytes", page.len());
    }

    #[test]
    fn same_kit_same_bytes() {
        let (a, b) = (Sample::new("x"), Sample::new("x"));
        assert!(write(&a.kit()) == write(&b.kit()));
    }

    #[test]
    fn every_section_is_there_in_order() {
        let sample = Sample::new("Potting bench for a garden room");
        let page = text(&write(&sample.kit()).expect("written"));
        let ids = [
            "verdict", "pictures", "checks", "movement", "changes", "assumed", "lists", "assembly", "proof",
            "printing", "sources", "cautions",
        ];
        let places: Vec<_> = ids.iter().map(|id| page.find(&format!("id=\"{id}\""))).collect();
        assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}");
    }
}

//! `make` and `gauge`: kits on the disk.

use std::path::Path;

use underframe::output::Files;
use underframe::{Made, Step, gauge as made_gauge, make as made_kit};

use super::input::Input;
use super::progress::Line;
use super::show::{self, counted, figure};
use super::{Refusal, Status, write};

/// Ends the folder of a kit that is only a gauge, so that it never takes the place of a whole kit.
pub const GAUGE: &str = ".gauge";
/// What follows the problems.
const NOTHING: &str = "nothing was written";

/// Writes the whole kit.
pub fn make(file: Option<&Path>, out: &Path) -> Result<Status, Refusal> {
    let input = Input::read(file)?;
    let line = Line::new();
    let made = made_kit(&input.text, &|step: Step| line.say(step));
    let made = made.map_err(|f| show::failure(&f, &input.shown, NOTHING))?;
    put(out, &input.name, &made.files)?;
    drop(line);
    show::afterwards(&describe(&made, &out.join(&input.name)));
    Ok(super::judge::status(&made.checked))
}

/// Writes only the fit gauge.
pub fn gauge(file: Option<&Path>, out: &Path) -> Result<Status, Refusal> {
    let input = Input::read(file)?;
    let files = made_gauge(&input.text, &|_| ()).map_err(|f| show::failure(&f, &input.shown, NOTHING))?;
    let name = format!("{}{GAUGE}", input.name);
    put(out, &name, &files)?;
    let mesh = files.keys().find(|path| path.ends_with(".stl")).map(|path| out.join(&name).join(path));
    let mesh = mesh.unwrap_or_default().display().to_string();
    Ok(show::afterwards(&format!("{mesh}\n{FIT}")))
}

/// What to do with the gauge.
const FIT: &str = "    Print it as the brackets will be printed. Push the tube into every slice and write the clearance\n    \
    of the slice that fits into the parameter file as printing.clearance. Tear the coupons as\n    \
    coupons_a4.pdf says and write their loads as printing.coupons.\n";

fn put(out: &Path, name: &str, files: &Files) -> Result<(), Refusal> {
    write::put(out, name, files).map_err(|trouble| format!("{trouble}\n{NOTHING}"))
}

/// What the user wants to know after `make`.
fn describe(made: &Made, folder: &Path) -> String {
    let at = |path: &str| folder.join(path).display().to_string();
    let mut text = super::judge::headline(&made.checked);
    let mut line = |place: String, what: &str| text.push_str(&format!("    {place}\n        {what}\n"));
    line(format!("{}{}", folder.display(), std::path::MAIN_SEPARATOR), &counted(made.files.len(), "file"));
    if made.files.contains_key("report.html") {
        line(at("report.html"), "read this first");
    }
    if let Some(path) = gauge_file(made) {
        line(at(path), "print this first, and write the clearance that fits as printing.clearance");
    }
    let beds = made.files.keys().filter(|path| path.starts_with("beds/")).count();
    if beds > 0 {
        line(at("beds"), &format!("then these: {}, parts laid out on the bed", counted(beds, "bed")));
    }
    text.push_str(&cautions(made));
    text.push_str(&super::judge::remedies(&made.checked));
    text
}

fn gauge_file(made: &Made) -> Option<&str> {
    let name = made.model.gauges.first()?.name.replace(' ', "_");
    made.files.keys().map(String::as_str).find(|path| path.contains(&name) && path.ends_with(".stl"))
}

fn cautions(made: &Made) -> String {
    let (cautions, assumed) = (made.checked.cautions.len(), made.model.assumed.len());
    let tightest = made.model.legs.iter().map(|leg| made.model.left_above_tip(leg)).fold(f64::MAX, f64::min);
    format!(
        "    {} to read before you begin; {} assumed; {} mm of wood stay above the screws\n",
        counted(cautions, "caution"),
        counted(assumed, "value"),
        figure(tightest)
    )
}

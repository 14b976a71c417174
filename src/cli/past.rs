//! `compare` and `find`: kits made before.

use std::fs;
use std::path::{Path, PathBuf};

use underframe::Failure;
use underframe::compare::compare as difference;
use underframe::output::record::{self, PartRecord, Record};
use underframe::problem::visible;

use super::input::Input;
use super::show::{self, counted};
use super::write_error::{shown, why};
use super::{Refusal, Status, write};

/// Compares a file with the kit made from it before.
pub fn compare(file: &Path, out: &Path) -> Result<Status, Refusal> {
    let input = Input::read(Some(file))?;
    write::repair(out, &input.name).map_err(|trouble| trouble.to_string())?;
    let folder = out.join(&input.name);
    let path = folder.join(record::NAME);
    let bytes = fs::read(&path).map_err(|e| no_kit(&input, &folder, &why(&e)))?;
    let old = Record::read(&bytes).map_err(|why| format!("{} is no record of a kit: {why}", shown(&path)))?;
    let found = difference(&old, &input.text);
    let found = found.map_err(|p| show::failure(&Failure::Problems(p), &input.shown, "nothing was compared"))?;
    show::text(&format!("{} against the kit in {}\n\n{found}", input.shown, shown(&folder)))
}

fn no_kit(input: &Input, folder: &Path, why: &str) -> Refusal {
    format!(
        "there is no kit of {} in {} to compare with: {why}\n    underframe make {} writes one",
        input.shown,
        shown(folder),
        input.shown
    )
}

/// Finds a mark in every kit.
pub fn find(mark: &str, out: &Path) -> Result<Status, Refusal> {
    let wanted = mark.trim().to_uppercase();
    if wanted.is_empty() {
        return Err("the mark is empty: write the one engraved on the part, such as BK7Q".into());
    }
    let records = records(out)?;
    let mut text = String::new();
    for kit in &records {
        for part in kit.record.parts.iter().filter(|p| p.mark == wanted) {
            text.push_str(&found(kit, part, &records));
        }
    }
    if text.is_empty() {
        show::aloud(&unknown(&wanted, out, &records));
        return Ok(Status::Fails);
    }
    show::text(&text)
}

/// A record and where it lies.
struct Kit {
    /// The kit's folder.
    folder: PathBuf,
    /// Name of the record's file.
    name: String,
    record: Record,
}

/// Every record below `out`: kits in the order of their names, the present record of each before its older ones.
fn records(out: &Path) -> Result<Vec<Kit>, Refusal> {
    let mut all = Vec::new();
    for folder in listed(out).map_err(|e| format!("could not look into {}: {}", shown(out), why(&e)))? {
        for path in listed(&folder).unwrap_or_default() {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if write::past_record(Path::new(&name)).is_none() {
                continue;
            }
            match fs::read(&path).map_err(|e| why(&e)).and_then(|bytes| Record::read(&bytes)) {
                Ok(record) => all.push(Kit { folder: folder.clone(), name, record }),
                Err(why) => show::aloud(&format!("left out {}: {}", shown(&path), visible(&why))),
            }
        }
    }
    all.sort_by_cached_key(|kit| (kit.folder.clone(), write::past_record(Path::new(&kit.name))));
    Ok(all)
}

fn listed(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut paths = fs::read_dir(folder)?.map(|e| e.map(|e| e.path())).collect::<std::io::Result<Vec<_>>>()?;
    paths.sort();
    Ok(paths)
}

fn found(kit: &Kit, part: &PartRecord, records: &[Kit]) -> String {
    let folder = shown(&kit.folder);
    let mut text = format!("{}: {} of {}\n", visible(&part.mark), visible(&part.name), visible(&kit.record.title));
    text.push_str(&format!("    named in {}\n", shown(&kit.folder.join(&kit.name))));
    text.push_str(&format!("    {} {}", counted(part.count, "piece"), legs(&part.legs)));
    if !part.material.is_empty() {
        text.push_str(&format!(", {}", visible(&part.material)));
    }
    text.push('\n');
    if kit.name == record::NAME {
        text.push_str(&format!("    in use; printed from {}\n", shown(&kit.folder.join(&part.file))));
        return text;
    }
    let present = records.iter().find(|k| k.folder == kit.folder && k.name == record::NAME);
    let present = present.map(|k| &k.record.parts);
    let still = present.is_some_and(|parts| parts.iter().any(|p| p.mark == part.mark));
    let instead = present.and_then(|parts| parts.iter().find(|p| p.sort == part.sort && p.legs == part.legs));
    text.push_str(&match (still, instead) {
        (true, _) => format!("    still in use in {folder}\n"),
        (false, Some(new)) => {
            format!(
                "    no longer used: {folder} now has {} in its place ({})\n",
                visible(&new.mark),
                visible(&new.file)
            )
        }
        (false, None) => format!("    no longer used in {folder}\n"),
    });
    text
}

fn legs(legs: &[usize]) -> String {
    let numbers: Vec<String> = legs.iter().map(ToString::to_string).collect();
    match numbers.len() {
        0 => "for all legs".to_owned(),
        1 => format!("for leg {}", numbers[0]),
        _ => format!("for legs {}", numbers.join(" ")),
    }
}

fn unknown(mark: &str, out: &Path, records: &[Kit]) -> Refusal {
    let marks = records.iter().flat_map(|kit| &kit.record.parts).map(|part| part.mark.as_str());
    let near = show::nearest(mark, marks);
    let near = near.map_or_else(String::new, |n| format!("\n    did you mean {}? It was engraved too", visible(n)));
    format!("no kit in {} has the mark {} ({} read){near}", shown(out), visible(mark), counted(records.len(), "record"))
}

//! `check` and `working`: the verdict on the terminal.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use underframe::checks::{Caution, Check, Checked, Concern, Cures, Note, Verdict};
use underframe::output::words::{reserve, used};
use underframe::units::System;
use underframe::{Analysed, Judged, Step, judge, judge_solid};

use super::input::Input;
use super::new_file::{self, NOTHING};
use super::progress::Line;
use super::show::{self, WIDTH, figure, paragraph, wrapped};
use super::write_error::shown as shown_path;
use super::{Refusal, Status, solid};

/// Widths of the columns: check, place, case, when, demand, capacity, utilisation; with two blanks between, 100 in all.
const COLUMNS: [usize; 7] = [23, 16, 21, 4, 9, 9, 6];
/// Between two columns.
const GAP: &str = "  ";

/// What is asked of `check`.
pub struct Asked {
    /// Every place, not only the worst of each check.
    pub all: bool,
    /// For programs.
    pub json: bool,
    /// Brackets as solids.
    pub solid: bool,
    /// Number of a change that would help, from 1, and the file to write with it.
    pub taken: Option<(usize, PathBuf)>,
}

/// Shows the verdict, then, after a search, what would help.
pub fn check(file: Option<&Path>, asked: Asked) -> Result<Status, Refusal> {
    if let Some((_, out)) = &asked.taken {
        new_file::free(out)?;
    }
    let line = Line::new();
    let (mut judged, solids) = if asked.solid {
        let (judged, found, taken) = analysed(file, &line)?;
        (judged, Some((found, taken)))
    } else {
        (judged(file, &line)?, None)
    };
    let of_solids = solids.as_ref().map_or(String::new(), |(found, taken)| solid::table(found, *taken));
    if !asked.json {
        show::text(&format!("{}{of_solids}", table(&judged.checked, asked.all)))?;
    }
    judged.advise(&|step: Step| line.say(step));
    drop(line);
    let checked = &judged.checked;
    let describe =
        || data(checked, judged.model.params.units, solids.as_ref().map(|(found, taken)| solid::data(found, *taken)));
    show::text(&if asked.json { describe() } else { format!("\n{}", remedies(checked)) })?;
    if let Some((number, out)) = &asked.taken {
        take(&judged, *number, out)?;
    }
    Ok(status(checked))
}

/// Writes the parameter file with a change that would help, by its number from 1.
fn take(judged: &Judged, number: usize, out: &Path) -> Result<(), Refusal> {
    let found = &judged.checked.remedies;
    let Some(remedy) = number.checked_sub(1).and_then(|index| found.get(index)) else {
        let there = if found.is_empty() {
            "no change is listed".into()
        } else {
            format!("they are numbered 1 to {}", found.len())
        };
        return Err(format!("there is no change {number}: {there}\n{NOTHING}"));
    };
    let text = judged.with(remedy).map_err(|_| format!("the change cannot be written into the file\n{NOTHING}"))?;
    new_file::write(out, &text)?;
    let shown = shown_path(out);
    show::afterwards(&format!("\n{shown}: {}\n    Then: underframe check {shown}\n", remedy.words()));
    Ok(())
}

fn analysed(file: Option<&Path>, line: &Line) -> Result<(Judged, Vec<Analysed>, bool), Refusal> {
    let input = Input::read(file)?;
    let judged = judge_solid(&input.text, &|step: Step| line.say(step));
    judged.map_err(|f| show::failure(&f, &input.shown, "nothing was checked"))
}

/// Shows the working of a check; of the one that governs, and the others' names, where none is named.
pub fn working(name: Option<&str>, file: Option<&Path>) -> Result<Status, Refusal> {
    match (name, file) {
        (Some(name), None) if is_file(name) => governing(Some(Path::new(name))),
        (Some(name), file) => named(name, file),
        (None, file) => governing(file),
    }
}

/// Whether an argument is a parameter file and no name of a check.
fn is_file(argument: &str) -> bool {
    let path = Path::new(argument);
    argument == "-" || path.exists() || path.extension().is_some_and(|end| end.eq_ignore_ascii_case("json"))
}

fn governing(file: Option<&Path>) -> Result<Status, Refusal> {
    let checks = judged(file, &Line::new())?.checked.checks;
    let names = names(&checks);
    let working = checks.first().map_or_else(String::new, shown);
    let list: String = names.iter().map(|name| format!("    {name}\n")).collect();
    show::text(&format!("This check governs; name another to see its working.\n{working}\nChecks:\n{list}"))
}

fn named(name: &str, file: Option<&Path>) -> Result<Status, Refusal> {
    let checks = judged(file, &Line::new())?.checked.checks;
    let names = names(&checks);
    let sought = name.trim().to_lowercase();
    let found = by_name(&checks, &sought);
    let rows = if found.is_empty() { by_place(&checks, &sought) } else { Vec::new() };
    if found.is_empty() && rows.is_empty() || sought.is_empty() {
        return Err(no_check(name, &names));
    }
    let mut text: String = rows.into_iter().map(shown).collect();
    let mut told = BTreeSet::new();
    for check in found {
        if told.insert(check.id) {
            text.push_str(&shown(check));
        } else {
            text.push_str(&format!("    {}, {}: {}\n", check.subject.words(), check.when.word(), figures(check)));
        }
    }
    show::text(&text)
}

/// The rows of the check of this name, or of all whose names have it in them.
fn by_name<'a>(checks: &'a [Check], sought: &str) -> Vec<&'a Check> {
    let whole = checks.iter().find(|c| c.id.words().to_lowercase() == sought).map(|c| c.id);
    let named = |c: &&Check| match whole {
        Some(id) => c.id == id,
        None => c.id.words().to_lowercase().contains(sought),
    };
    checks.iter().filter(named).collect()
}

/// The rows at a place, or of a check at a place: `leg 2, screw 5`, `screws: lateral, leg 2`.
fn by_place<'a>(checks: &'a [Check], sought: &str) -> Vec<&'a Check> {
    let headed = |c: &&Check| heading(c).to_lowercase().contains(sought);
    checks.iter().filter(headed).collect()
}

/// Check, place and time.
fn heading(c: &Check) -> String {
    format!("{}, {}, {}", c.id.words(), c.subject.words(), c.when.word())
}

/// What the checks are called, in order, each once.
fn names(checks: &[Check]) -> BTreeSet<&'static str> {
    checks.iter().map(|c| c.id.words()).collect()
}

fn judged(file: Option<&Path>, line: &Line) -> Result<Judged, Refusal> {
    let input = Input::read(file)?;
    let judged = judge(&input.text, &|step: Step| line.say(step));
    judged.map_err(|f| show::failure(&f, &input.shown, "nothing was checked"))
}

/// The exit status of a verdict.
pub fn status(checked: &Checked) -> Status {
    if checked.verdict() == Verdict::NotAdequate { Status::Fails } else { Status::Passes }
}

/// The verdict in two lines, strength before firmness, and what governs each.
pub fn headline(checked: &Checked) -> String {
    checked.headlines().iter().map(|line| paragraph("", line)).collect()
}

/// Verdict, then the checks, the worst first.
fn table(checked: &Checked, all: bool) -> String {
    let heads = ["check", "place", "case", "when", "demand", "capacity", "util."].map(str::to_owned);
    let line = format!("{}\n", "-".repeat(WIDTH));
    let mut text = format!("{}\n{}", headline(checked), row(&heads));
    let mut seen = BTreeSet::new();
    let mut hidden = 0;
    let mut concern = None;
    for check in &checked.checks {
        if concern.replace(check.id.concern()) != concern {
            text.push_str(&line);
        }
        if seen.insert(check.id) || all {
            text.push_str(&row(&cells(check)));
        } else {
            hidden += 1;
        }
    }
    if hidden > 0 {
        text.push_str(&format!("The worst place of each check; --all shows {hidden} more.\n"));
    }
    text.extend(checked.notes.iter().map(|note| paragraph("", &note.text())));
    text
}

fn cells(check: &Check) -> [String; 7] {
    let when = match check.when {
        underframe::checks::When::Now => "now",
        underframe::checks::When::AfterLife => "life",
    };
    let with_unit = |x: f64| format!("{} {}", figure(x), check.unit);
    [
        check.id.words().to_owned(),
        check.subject.words(),
        check.case.words(),
        when.to_owned(),
        with_unit(check.demand),
        with_unit(check.capacity),
        figure_of(check),
    ]
}

/// Utilisation, marked where it is above the limits.
fn figure_of(check: &Check) -> String {
    let mark = match check.verdict() {
        Verdict::Adequate => "  ",
        Verdict::Tight => " ~",
        Verdict::NotAdequate => " !",
    };
    format!("{}{mark}", used(check.utilisation()))
}

/// One row; cells that are too long go on below.
fn row(cells: &[String; 7]) -> String {
    let columns: Vec<Vec<String>> = cells.iter().zip(COLUMNS).map(|(cell, width)| wrapped(cell, width)).collect();
    let height = columns.iter().map(Vec::len).max().unwrap_or(0);
    let mut text = String::new();
    for line in 0..height {
        let pieces = columns.iter().zip(COLUMNS).enumerate().map(|(i, (column, width))| {
            let cell = column.get(line).map_or("", String::as_str);
            if i < 4 { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
        });
        text.push_str(pieces.collect::<Vec<_>>().join(GAP).trim_end());
        text.push('\n');
    }
    text
}

/// What would help, and whether that is all that was found; nothing where all is well.
pub fn remedies(checked: &Checked) -> String {
    let lines = checked.remedies.iter().enumerate().map(|(index, r)| {
        let limit = format!("worst check at {} of its limit{}", used(r.utilisation), reserve(r.utilisation));
        let cures = match r.cures {
            Cures::Every => "every check passes".to_owned(),
            Cures::These(_) => format!("cures {}", r.cures.words()),
        };
        paragraph(&format!("{:>4}. ", index + 1), &format!("{}: {cures}; then {limit}", r.words()))
    });
    let lines: String = lines.collect();
    let none = checked.cautions.iter().find(|c| matches!(c, Caution::NoCure { .. })).map(|c| paragraph("", &c.text()));
    let first = checked.tear.as_ref().map_or_else(String::new, |tear| paragraph("      ", &tear.words()));
    let what = if lines.is_empty() && first.is_empty() { lines } else { format!("What would help:\n{first}{lines}") };
    what + &none.unwrap_or_default()
}

/// Name, figures, formula, numbers, sources.
fn shown(check: &Check) -> String {
    let mut text = format!("{}, {}\n", check.id.words(), check.subject.words());
    text.push_str(&format!("    {}\n    {}, {}\n", figures(check), check.case.words(), check.when.word()));
    for step in &check.working {
        text.push_str(&paragraph("        ", &step.text()));
    }
    text.push_str(&paragraph("    rule: ", &check.clause.to_string()));
    for source in check.sources.iter().filter(|s| **s != check.clause) {
        text.push_str(&paragraph("    source: ", &source.to_string()));
    }
    text
}

fn figures(c: &Check) -> String {
    let verdict = c.verdict().words();
    format!("{} of {} {}: {}, {verdict}", figure(c.demand), figure(c.capacity), c.unit, used(c.utilisation()))
}

fn no_check(name: &str, names: &BTreeSet<&str>) -> Refusal {
    let list: String = names.iter().map(|n| format!("\n        {n}")).collect();
    if name.trim().is_empty() {
        return format!("the name of the check is empty\n    checks:{list}");
    }
    let near = show::nearest(name, names.iter().copied());
    let near = near.map_or_else(String::new, |n| format!("\n    did you mean \"{n}\"?"));
    format!("no check is called \"{name}\"{near}\n    checks:{list}")
}

/// Everything for programs.
fn data(checked: &Checked, units: System, solids: Option<Value>) -> String {
    let checks: Vec<Value> = checked.checks.iter().map(check_data).collect();
    let remedies = checked.remedies.iter().map(|r| {
        let edits = r.edits.iter().map(|edit| json!({ "at": edit.pointer(), "value": edit.json(units) }));
        let edits: Vec<Value> = edits.collect();
        json!({ "change": r.words(), "edits": edits, "cures": r.cures.words(), "utilisation": r.utilisation })
    });
    let caution = |c: &Caution| json!({ "step": c.work().word(), "heading": c.heading(), "text": c.text() });
    let cautions = checked.cautions.iter().map(caution);
    let mut all = json!({
        "verdict": checked.verdict().words(),
        "strength": answer(checked, Concern::Strength),
        "firmness": answer(checked, Concern::Firmness),
        "checks": checks,
        "coupons": checked.tear.as_ref().map(|tear| json!({ "strength_mpa": tear.strength, "advice": tear.words() })),
        "remedies": remedies.collect::<Vec<_>>(),
        "cautions": cautions.collect::<Vec<_>>(),
        "notes": checked.notes.iter().map(Note::text).collect::<Vec<_>>(),
    });
    if let Some(solids) = solids {
        all["solids"] = solids;
    }
    format!("{all:#}\n")
}

/// The verdict on one concern, and the check that governs it.
fn answer(checked: &Checked, concern: Concern) -> Value {
    let governing = checked.governing(concern);
    json!({
        "verdict": concern.verdict(checked.verdict_on(concern)),
        "check": governing.map(|c| c.id.words()),
        "utilisation": governing.map(Check::utilisation),
    })
}

fn check_data(c: &Check) -> Value {
    json!({
        "name": c.id.words(), "concern": c.id.concern().words(), "place": c.subject.words(), "case": c.case.words(), "when": c.when.word(), "demand": c.demand,
        "capacity": c.capacity, "unit": c.unit, "utilisation": c.utilisation(), "verdict": c.verdict().words(),
        "clause": c.clause.to_string(), "steps": c.working.iter().map(|step| step.text()).collect::<Vec<_>>(),
        "working": c.working.iter().map(|step| step.data()).collect::<Vec<_>>(),
        "sources": c.sources.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use underframe::checks::{CheckId, EdgePlace, Length, Measure, Remedy, Subject, Tip, Tips, Under, When};
    use underframe::mechanics::Estimate;
    use underframe::source::Source;

    fn check(leg: usize, demand: f64) -> Check {
        Check {
            id: CheckId::ScrewLost,
            subject: Subject::Screw { leg, screw: 4 },
            case: Under::Case {
                name: "somebody leans on the edge with a name that goes on".into(),
                joints: Estimate::Soft,
            },
            when: When::AfterLife,
            demand,
            capacity: 1234.5,
            unit: "N mm",
            clause: Source::JUDGEMENT.at("a test"),
            working: vec![],
            sources: vec![],
        }
    }

    #[test]
    fn the_table_fits_the_terminal_and_shows_the_worst_place_first() {
        let checks = vec![check(1, 1300.0), check(0, 900.0)];
        let tip = Tip { load: 31.0, place: EdgePlace::FrontLeft };
        let notes = vec![Note::Tips(Tips { empty: Some(tip), loaded: Some(tip) })];
        let checked = Checked { checks, tear: None, remedies: vec![], cautions: vec![], notes };
        let text = table(&checked, false);
        assert!(text.ends_with("tips it.\n"), "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
        assert!(text.starts_with("NOT ADEQUATE in strength and stability: worst check at 1.05 of its limit"), "{text}");
        assert!(text.contains("1.05 !") && text.contains("shows 1 more") && !text.contains("leg 1"), "{text}");
        assert!(table(&checked, true).contains("leg 1"));
    }

    #[test]
    fn a_row_is_found_by_its_check_and_place() {
        let checks = [check(1, 1300.0), check(0, 900.0)];
        assert_eq!(by_name(&checks, "screws").len(), 2);
        assert_eq!(by_name(&checks, "leg 2").len() + by_place(&checks, "leg 3").len(), 0);
        let rows = by_place(&checks, "lost, leg 1, screw 5");
        assert!(rows.len() == 1 && rows[0].subject == checks[1].subject, "{rows:?}");
    }

    #[test]
    fn it_is_said_where_nothing_cures_everything() {
        let none = Caution::NoCure { tried: 40, verdict: Verdict::NotAdequate, holds: false };
        let mut checked = Checked { checks: vec![], tear: None, remedies: vec![], cautions: vec![none], notes: vec![] };
        assert!(remedies(&checked).starts_with("40 changes were tried"), "{}", remedies(&checked));
        let plate = Measure::Longer { length: Length::BracketPlate, to: 10.0, now: 8.0 };
        let (measures, cures) = (vec![plate], Cures::These(vec![CheckId::PlateBending]));
        checked.remedies.push(Remedy {
            measures: measures.clone(),
            edits: vec![],
            cures: cures.clone(),
            utilisation: 1.2,
        });
        checked.remedies.push(Remedy { measures, edits: vec![], cures, utilisation: 1.0 });
        let told = remedies(&checked);
        let joined = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains("at 1.00 of its limit, nothing left in reserve"), "{told}");
        assert!(told.starts_with("What would help:") && told.contains("40 changes were tried"), "{told}");
        checked.cautions.clear();
        checked.remedies.clear();
        assert!(remedies(&checked).is_empty());
    }
}

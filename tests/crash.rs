//! The program killed, stopped by a full disk, or kept out: the kit must be whole each time.
#![cfg(unix)]

mod common;

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use common::{PROGRAM, describe, names, place, program, run, small, whole};

/// Runs that are killed.
const KILLED: u32 = 30;

/// The small table with another title, so that its record is another one.
fn titled(title: &str) -> String {
    small().replace("My table", title)
}

#[test]
fn a_killed_program_leaves_a_whole_kit() {
    let place = place("killed");
    let kit = place.join("out/table.gauge");
    fs::write(place.join("table.json"), titled("table 0")).expect("file");
    let start = Instant::now();
    assert_eq!(run(&place, &["gauge", "table.json"]).0, 0);
    let usual = start.elapsed();
    fs::write(kit.join("mine.txt"), "mine").expect("file");
    let mut finished = 0;
    for i in 1..=KILLED {
        fs::write(place.join("table.json"), titled(&format!("table {i}"))).expect("file");
        let mut child = program(&place, &["gauge", "table.json"]).stdout(Stdio::null()).spawn().expect("runs");
        // From half of the usual time, when the mesh is being made, to beyond its end.
        std::thread::sleep(usual * (KILLED / 2 + i) / KILLED);
        let _ = child.kill();
        finished += u32::from(child.wait().expect("ends").success());
        let record = whole(&kit).unwrap_or_else(|why| panic!("kill {i}: {why}"));
        assert!((0..=i).any(|n| record.title == format!("table {n}")), "{}", record.title);
        assert_eq!(fs::read(kit.join("mine.txt")).expect("kept"), b"mine", "kill {i}");
    }
    assert!(finished < KILLED, "nothing was killed in time");
    assert_eq!(run(&place, &["gauge", "table.json"]).0, 0);
    assert_eq!(whole(&kit).expect("whole").title, format!("table {KILLED}"));
    assert_eq!(names(&place.join("out")), ["table.gauge"], "the next run clears up");
}

/// Runs with a limit on the size of files, in blocks of 512 or 1024 bytes: writing fails as it does on a full disk.
fn limited(place: &Path, arguments: &str) -> (i32, String, String) {
    let script = format!("trap '' XFSZ; ulimit -f 20; exec '{PROGRAM}' {arguments}");
    describe(Command::new("sh").current_dir(place).args(["-c", &script]).output().expect("runs"))
}

#[test]
fn a_disk_that_takes_no_more_leaves_the_old_kit() {
    let place = place("limited");
    fs::write(place.join("table.json"), titled("first")).expect("file");
    let (status, _, stderr) = limited(&place, "gauge table.json");
    assert_eq!(status, 2, "{stderr}");
    assert!(stderr.contains("could not write parts/") && stderr.contains("nothing was written"), "{stderr}");
    assert_eq!(names(&place), ["table.json"]);
    assert_eq!(run(&place, &["gauge", "table.json"]).0, 0);
    fs::write(place.join("table.json"), titled("second").replace("0.30 mm", "0.35 mm")).expect("file");
    assert_eq!(limited(&place, "gauge table.json").0, 2);
    assert_eq!(whole(&place.join("out/table.gauge")).expect("whole").title, "first");
    assert_eq!(names(&place.join("out")), ["table.gauge"]);
    let flags = "--length 1200mm --width 600mm --thickness 30mm --height 750mm --tube 16x1.5mm --mass 40kg";
    assert_eq!(limited(&place, &format!("start other.json {flags}")).0, 0, "a small file fits");
}

#[test]
fn places_that_cannot_be_written_are_refused() {
    let place = place("refused");
    fs::write(place.join("table.json"), small()).expect("file");
    fs::write(place.join("file"), "x").expect("file");
    symlink("nowhere", place.join("dangling")).expect("link");
    fs::create_dir(place.join("blocked")).expect("folder");
    fs::write(place.join("blocked/table.gauge"), "x").expect("file");
    // No process may make folders in /proc, not even one of root.
    for (out, why) in [
        ("/proc/underframe", "could not make the folder"),
        ("file", "it is a file, not a folder"),
        ("file/below", "could not make the folder"),
        ("dangling", "it is a link that leads nowhere"),
        ("blocked", "a file of that name is there"),
    ] {
        let (status, stdout, stderr) = run(&place, &["gauge", "table.json", "--out", out]);
        assert_eq!((status, stdout.as_str()), (2, ""), "{out}: {stderr}");
        assert!(stderr.contains(why), "{out}: {stderr}");
    }
    assert_eq!(names(&place), ["blocked", "dangling", "file", "table.json"]);
    assert_eq!(names(&place.join("blocked")), ["table.gauge"]);
}

#[test]
fn a_linked_folder_is_followed() {
    let place = place("linked");
    fs::create_dir(place.join("real")).expect("folder");
    symlink("real", place.join("out")).expect("link");
    assert_eq!(run(&place, &["gauge"]).0, 0);
    assert!(whole(&place.join("real/potting-bench.gauge")).is_ok());
}

#[test]
fn a_kit_that_was_written_counted_as_refused_where_nothing_could_be_said() {
    let place = place("full_output");
    fs::write(place.join("table.json"), small()).expect("file");
    for (command, kit) in [("gauge", "table.gauge"), ("make", "table")] {
        let full = fs::File::options().write(true).open("/dev/full").expect("a device that takes nothing");
        let quiet = program(&place, &[command, "table.json"]).stdout(full).output().expect("runs");
        let (status, _, stderr) = describe(quiet);
        assert!(whole(&place.join("out").join(kit)).is_ok(), "{command}");
        assert_eq!(status, run(&place, &[command, "table.json"]).0, "{command}: {stderr}");
        assert!(stderr.contains("could not write to standard output") && stderr.contains("all files were written"));
    }
}

#[test]
fn waiting_for_another_run_was_silent() {
    let place = place("waiting");
    fs::create_dir(place.join("out")).expect("folder");
    let held = fs::File::open(place.join("out")).expect("folder");
    held.lock().expect("a lock");
    let mut child = program(&place, &["gauge"]).stderr(Stdio::piped()).stdout(Stdio::null()).spawn().expect("runs");
    let mut line = String::new();
    let mut stderr = std::io::BufReader::new(child.stderr.take().expect("standard error"));
    std::io::BufRead::read_line(&mut stderr, &mut line).expect("a line");
    assert!(line.starts_with("waiting for another run that writes to "), "{line}");
    assert!(child.try_wait().expect("a child").is_none() && names(&place.join("out")).is_empty());
    held.unlock().expect("unlocked");
    assert!(child.wait().expect("ends").success());
    assert!(whole(&place.join("out/potting-bench.gauge")).is_ok());
}

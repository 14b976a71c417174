//! What stands after each step that can fail, and what is kept of the old kit.

use std::cell::RefCell;
use std::io;
use std::os::unix::fs::{MetadataExt, PermissionsExt, chown, symlink};

use super::disk::below;
use super::kit_dir::two_renames;
use super::old::slashed;
use super::*;
use underframe::output::record::{Record, sha256};

/// An empty folder of its own for each test.
fn place(test: &str) -> PathBuf {
    let place = std::env::temp_dir().join(format!("underframe-{}-{test}", std::process::id()));
    let _ = fs::remove_dir_all(&place);
    fs::create_dir_all(&place).expect("a folder");
    place
}

/// A kit of these files with a record that names them.
fn kit(title: &str, files: &[(&str, &str)]) -> Files {
    let mut all: Files = files.iter().map(|(path, text)| ((*path).into(), text.as_bytes().to_vec())).collect();
    let files = all.iter().map(|(path, bytes)| (path.clone(), sha256(bytes))).collect();
    let record = Record { title: title.into(), files, ..Record::default() };
    record.add_to(&mut all).expect("a record");
    all
}

fn first() -> Files {
    kit("first", &[("report.html", "one"), ("parts/a.stl", "a"), ("beds/p.3mf", "p")])
}

fn second() -> Files {
    kit("second", &[("report.html", "two"), ("parts/b.stl", "b")])
}

/// Paths below a folder with what they hold; folders end with a slash.
fn held(folder: &Path) -> Files {
    let paths = below(folder).expect("a folder");
    let one = |path: PathBuf| {
        let at = folder.join(&path);
        let is_dir = at.is_dir() && !at.is_symlink();
        let name = format!("{}{}", slashed(&path), if is_dir { "/" } else { "" });
        (name, fs::read(at).unwrap_or_default())
    };
    paths.into_iter().map(one).collect()
}

fn only_files(folder: &Path) -> Files {
    held(folder).into_iter().filter(|(path, _)| !path.ends_with('/')).collect()
}

fn names(folder: &Path) -> Vec<String> {
    held(folder).into_keys().collect()
}

fn puts(out: &Path, files: &Files) {
    put(out, "bench", files).unwrap_or_else(|trouble| panic!("{trouble}"));
}

#[test]
fn a_new_kit_has_its_files_and_nothing_beside() {
    let out = place("new").join("a/b");
    puts(&out, &first());
    assert_eq!(only_files(&out.join("bench")), first());
    assert_eq!(fs::read_dir(&out).expect("out").count(), 1);
}

#[test]
fn the_same_kit_again_touches_nothing() {
    let out = place("again");
    puts(&out, &first());
    let before = fs::metadata(out.join("bench")).expect("kit").ino();
    puts(&out, &first());
    assert_eq!(fs::metadata(out.join("bench")).expect("kit").ino(), before);
    assert!(!out.join("bench/record_1.json").exists());
}

#[test]
fn what_is_not_ours_is_carried_over_and_old_records_count_on() {
    let out = place("carry");
    let bench = out.join("bench");
    puts(&out, &first());
    fs::create_dir_all(bench.join("photos/empty")).expect("folders");
    fs::write(bench.join("photos/leg.jpg"), "jpg").expect("photo");
    symlink("photos/leg.jpg", bench.join("link")).expect("link");
    fs::write(bench.join("beds/p.3mf"), "changed by hand").expect("plate");
    fs::write(bench.join("parts/b.stl"), "not ours, but in the way").expect("mesh");
    puts(&out, &second());
    puts(&out, &kit("third", &[("parts/b.stl", "b3")]));
    let names = names(&bench);
    let wanted = [
        "beds/",
        "beds/p_yours.3mf",
        "link",
        "parts/",
        "parts/b.stl",
        "parts/b_yours.stl",
        "photos/",
        "photos/empty/",
        "photos/leg.jpg",
        "record.json",
        "record_1.json",
        "record_2.json",
    ];
    assert_eq!(names, wanted);
    let held = held(&bench);
    assert_eq!(held["beds/p_yours.3mf"], b"changed by hand");
    assert_eq!(held["parts/b_yours.stl"], b"not ours, but in the way");
    assert_eq!((&held["record_1.json"], &held["record_2.json"]), (&second()["record.json"], &first()["record.json"]));
    assert!(bench.join("link").is_symlink());
}

#[test]
fn a_spoilt_file_of_the_same_kit_is_mended_without_a_second_record() {
    let out = place("mend");
    puts(&out, &first());
    fs::write(out.join("bench/report.html"), "spoilt").expect("report");
    puts(&out, &first());
    let held = only_files(&out.join("bench"));
    assert_eq!((held["report.html"].as_slice(), held["report_yours.html"].as_slice()), (&b"one"[..], &b"spoilt"[..]));
    assert!(!held.contains_key("record_1.json"));
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("folder");
    for path in below(from).expect("folder") {
        let (source, target) = (from.join(&path), to.join(&path));
        if source.is_dir() {
            fs::create_dir_all(target).expect("folder");
        } else {
            fs::copy(source, target).expect("copy");
        }
    }
}

/// Pictures of the disk before every step are what a crash there would leave.
fn crashes(swap: Swap, test: &str) -> Vec<(String, PathBuf)> {
    let place = place(test);
    let out = place.join("out");
    puts(&out, &first());
    fs::write(out.join("bench/mine.txt"), "mine").expect("file");
    let pictures = RefCell::new(Vec::new());
    let watch = |step: &str| {
        let picture = place.join(format!("crash{}", pictures.borrow().len()));
        copy(&out, &picture);
        pictures.borrow_mut().push((step.to_owned(), picture));
        Ok(())
    };
    put_by(Ways { swap, mount }, &out, "bench", &second(), &watch).unwrap_or_else(|trouble| panic!("{trouble}"));
    pictures.into_inner()
}

fn whole(bench: &Path, step: &str) {
    let held = only_files(bench);
    let record = Record::read(&held["record.json"]).expect("a record");
    let kit = if record.title == "first" { first() } else { second() };
    assert!(kit.iter().all(|(path, bytes)| held.get(path) == Some(bytes)), "{step}: {held:?}");
    assert_eq!(held["mine.txt"], b"mine", "{step}");
}

#[test]
fn a_crash_at_any_step_leaves_a_whole_kit() {
    let crashes = crashes(exchange, "crash");
    assert!(crashes.len() >= 7, "{crashes:?}");
    for (step, picture) in crashes {
        whole(&picture.join("bench"), &step);
        puts(&picture, &second());
        whole(&picture.join("bench"), &step);
        assert_eq!(fs::read_dir(&picture).expect("out").count(), 1, "{step} leaves something beside");
    }
}

#[test]
fn a_crash_between_two_renames_is_repaired_by_the_next_run() {
    let crashes = crashes(two_renames, "between");
    assert!(crashes.iter().any(|(step, picture)| step == "between" && !picture.join("bench").exists()));
    for (step, picture) in crashes {
        repair(&picture, "bench").unwrap_or_else(|trouble| panic!("{trouble}"));
        whole(&picture.join("bench"), &step);
        assert_eq!(fs::read_dir(&picture).expect("out").count(), 1, "{step} leaves something beside");
    }
}

#[test]
fn a_full_disk_at_any_step_leaves_the_old_kit_and_nothing_beside() {
    for swap in [exchange as Swap, two_renames] {
        let mut stop = 0;
        loop {
            let out = place("full");
            puts(&out, &first());
            fs::write(out.join("bench/mine.txt"), "mine").expect("file");
            let before = held(&out);
            let left = RefCell::new(stop);
            let watch = |step: &str| {
                let mut left = left.borrow_mut();
                if *left == 0 && !["moved", "old left"].contains(&step) {
                    return Err(io::ErrorKind::StorageFull.into());
                }
                *left -= 1;
                Ok(())
            };
            match put_by(Ways { swap, mount }, &out, "bench", &second(), &watch) {
                Ok(()) => break,
                Err(trouble) => assert!(trouble.to_string().ends_with("the disk is full"), "{trouble}"),
            }
            assert_eq!(held(&out), before, "step {stop}");
            stop += 1;
        }
        assert!(stop >= 6, "only {stop} steps");
    }
}

#[test]
fn folders_made_for_nothing_are_taken_away_again() {
    let place = place("nothing");
    let watch = |_: &str| Err(io::ErrorKind::StorageFull.into());
    assert!(put_by(Ways { swap: exchange, mount }, &place.join("a/b"), "bench", &first(), &watch).is_err());
    assert_eq!(fs::read_dir(&place).expect("place").count(), 0);
}

#[test]
fn links_are_followed_and_files_in_the_way_are_left_alone() {
    let place = place("ways");
    fs::create_dir_all(place.join("real/elsewhere")).expect("folders");
    symlink(place.join("real"), place.join("out")).expect("link");
    symlink(place.join("real/elsewhere"), place.join("real/bench")).expect("link");
    puts(&place.join("out"), &first());
    assert_eq!(only_files(&place.join("real/elsewhere")), first());
    assert!(place.join("real/bench").is_symlink());
    fs::write(place.join("file"), "x").expect("file");
    symlink("nowhere", place.join("dangling")).expect("link");
    let describe = |out: &str, name: &str| put(&place.join(out), name, &first()).expect_err(out).to_string();
    assert!(describe("file", "bench").ends_with("it is a file, not a folder"));
    assert!(describe("dangling", "bench").ends_with("it is a link that leads nowhere"));
    assert!(describe("", "file").ends_with("a file of that name is there"));
    assert!(describe("", "dangling").ends_with("it is a link that leads nowhere"));
    assert_eq!(fs::read(place.join("file")).expect("file"), b"x");
}

/// What was put once, with `change` made to the kit's folder, and put again with other files.
fn changed(test: &str, change: impl Fn(&Path)) -> PathBuf {
    let out = place(test);
    puts(&out, &first());
    change(&out.join("bench"));
    puts(&out, &second());
    assert_eq!(fs::read_dir(&out).expect("out").count(), 1, "something is left beside the kit");
    out.join("bench")
}

#[test]
fn a_disk_mounted_in_a_kit_was_emptied() {
    let out = place("mounted");
    puts(&out, &first());
    fs::create_dir(out.join("bench/photos")).expect("folder");
    fs::write(out.join("bench/photos/leg.jpg"), "jpg").expect("photo");
    // As if `photos` were another disk, wherever it stands.
    let other: Mount = |path| Ok(u64::from(path.components().any(|c| c.as_os_str() == "photos")));
    let before = held(&out);
    let ways = Ways { swap: exchange, mount: other };
    let told = put_by(ways, &out, "bench", &second(), &|_| Ok(())).expect_err("a refusal").to_string();
    assert!(told.contains("another disk is mounted there, at photos"), "{told}");
    assert_eq!(held(&out), before);
    assert!(clear(&out.join("bench"), other).is_err());
    assert!(out.join("bench/photos/leg.jpg").exists());
    puts(&out, &second());
}

#[test]
fn a_users_folder_lost_its_rights_and_owner() {
    let rights = |path: &Path| fs::metadata(path).map(|m| (m.mode() & 0o7777, m.uid(), m.gid())).expect("a folder");
    let wanted = RefCell::new(Vec::new());
    let bench = changed("rights", |bench| {
        for (path, mode) in [("photos", 0o750), ("photos/raw", 0o500), ("parts", 0o770), ("", 0o711)] {
            let folder = bench.join(path);
            fs::create_dir_all(&folder).expect("folder");
            if !path.is_empty() {
                fs::write(folder.join("mine.txt"), path).expect("file");
            }
            fs::set_permissions(&folder, fs::Permissions::from_mode(mode)).expect("rights");
            // Only root may give folders away; the rights are compared for everybody.
            let _ = chown(&folder, Some(1234), Some(4321));
            wanted.borrow_mut().push((path, rights(&folder)));
        }
    });
    for (path, wanted) in wanted.into_inner() {
        assert_eq!(rights(&bench.join(path)), wanted, "{path}");
    }
    assert_eq!(fs::read(bench.join("photos/raw/mine.txt")).expect("kept"), b"photos/raw");
}

#[test]
fn a_folder_that_nobody_may_write_in_was_left_beside_the_kit() {
    let bench = changed("shut", |bench| {
        fs::create_dir(bench.join("shut")).expect("folder");
        fs::write(bench.join("shut/mine.txt"), "mine").expect("file");
        fs::set_permissions(bench.join("shut"), fs::Permissions::from_mode(0o555)).expect("rights");
    });
    assert_eq!(fs::read(bench.join("shut/mine.txt")).expect("kept"), b"mine");
}

#[test]
fn what_could_not_be_taken_away_refused_every_later_kit() {
    let out = place("stuck");
    puts(&out, &first());
    fs::create_dir_all(out.join(".new-bench/stuck")).expect("folders");
    let other: Mount = |path| Ok(u64::from(path.ends_with("stuck")));
    let ways = Ways { swap: exchange, mount: other };
    put_by(ways, &out, "bench", &second(), &|_| Ok(())).unwrap_or_else(|trouble| panic!("{trouble}"));
    assert!(out.join("bench.left/stuck").is_dir() && !out.join(".new-bench").exists());
    puts(&out, &first());
}

#[test]
fn a_folder_named_as_the_record_blocked_the_kit() {
    let bench = changed("folders", |bench| {
        for name in ["record.json", "record_1.json", "report.html"] {
            let _ = fs::remove_file(bench.join(name));
            fs::create_dir_all(bench.join(name).join("deep")).expect("folders");
            fs::write(bench.join(name).join("deep/mine.txt"), name).expect("file");
        }
    });
    let held = held(&bench);
    assert!(second().iter().all(|(path, bytes)| held.get(path) == Some(bytes)), "{held:?}");
    for name in ["record", "record_1"] {
        assert_eq!(held[&format!("{name}_yours.json/deep/mine.txt")], format!("{name}.json").as_bytes());
    }
    assert_eq!(held["report_yours.html/deep/mine.txt"], b"report.html");
}

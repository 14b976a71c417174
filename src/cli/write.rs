//! Safe writing: a kit is built beside its place and moved there in one step, so that a crash, a full disk or a lost
//! permission leaves the old kit whole or the new one, never a mixture.
//!
//! What the old kit holds and we did not write is carried over. What we wrote and somebody changed since is kept under
//! another name. The old record stays as `record_1.json`, older ones count on.

use std::collections::BTreeSet;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use underframe::output::Files;
use underframe::output::record::{self, Record, sha256};

/// Begins the name of the folder in which a kit is built.
const NEW: &str = ".new-";
/// Begins the name of the old kit while the new one is moved into place, where the two cannot change places at once.
const OLD: &str = ".old-";
/// Ends the stem of a file of ours that somebody changed.
const YOURS: &str = "_yours";

/// What could not be done, to what, and why.
#[derive(Debug)]
pub struct Trouble {
    /// `could not write out/bench/report.html`.
    what: String,
    /// The system's answer.
    why: io::Error,
}

impl Trouble {
    fn new(what: &str, path: &Path, why: io::Error) -> Self {
        Self { what: format!("could not {what} {}", path.display()), why }
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.what, why(&self.why))
    }
}

/// A system's answer in plain words.
pub fn why(error: &io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::StorageFull => "the disk is full",
        io::ErrorKind::QuotaExceeded => "your share of the disk is used up",
        io::ErrorKind::FileTooLarge => "the system allows no larger files",
        io::ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        io::ErrorKind::PermissionDenied => "it is not allowed",
        io::ErrorKind::NotFound => "there is no such file or folder",
        io::ErrorKind::NotADirectory => "a part of the path is a file, not a folder",
        io::ErrorKind::IsADirectory => "it is a folder, not a file",
        io::ErrorKind::AlreadyExists => "it is there already",
        _ => return error.to_string(),
    };
    words.to_owned()
}

/// Where a kit stands: a folder and its parent, links resolved.
#[derive(Debug)]
pub struct Shelf {
    parent: PathBuf,
    name: OsString,
    /// Folders that were made for it, outermost first; taken away again when nothing is put.
    made: Vec<PathBuf>,
    /// Held while writing: two runs take turns.
    _lock: Option<File>,
}

impl Drop for Shelf {
    fn drop(&mut self) {
        for folder in self.made.iter().rev() {
            // Holds nothing unless the kit was put; then it stays.
            let _ = fs::remove_dir(folder);
        }
    }
}

/// A folder that is taken away again.
struct Temporary(PathBuf);

impl Drop for Temporary {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Tells of every step before it is done; a test may stop there.
type Watch<'a> = &'a dyn Fn(&str) -> io::Result<()>;

/// Moves the new folder to the place of the old one; the third path is free for a moment's use.
type Swap = fn([&Path; 3], Watch) -> io::Result<()>;

/// Writes a kit to `out/name`; nothing is touched when it stands there already, byte for byte.
///
/// # Errors
/// What could not be done; the old kit then stands as it stood.
pub fn put(out: &Path, name: &str, files: &Files) -> Result<(), Trouble> {
    put_by(exchange, out, name, files, &|_| Ok(()))
}

fn put_by(swap: Swap, out: &Path, name: &str, files: &Files, watch: Watch) -> Result<(), Trouble> {
    let shelf = Shelf::open(out, name)?;
    shelf.repair()?;
    let target = shelf.target();
    if stands(&target, files) {
        return Ok(());
    }
    let new = Temporary(shelf.beside(NEW));
    build(&new.0, files, watch)?;
    if target.is_dir() {
        Old::read(&target).carry(&target, &new.0, files, watch)?;
        let _ = fs::metadata(&target).and_then(|old| fs::set_permissions(&new.0, old.permissions()));
    }
    settle(&new.0, watch)?;
    shelf.bring(&new.0, swap, watch)
}

/// Brings back an old kit that a crash left beside its place.
///
/// # Errors
/// What could not be done.
pub fn repair(out: &Path, name: &str) -> Result<(), Trouble> {
    let left = [NEW, OLD].iter().any(|begin| fs::symlink_metadata(out.join(format!("{begin}{name}"))).is_ok());
    if left { Shelf::open(out, name)?.repair() } else { Ok(()) }
}

impl Shelf {
    /// Makes the folder `out` where it is missing and takes it for this run.
    fn open(out: &Path, name: &str) -> Result<Self, Trouble> {
        let mut shelf = Self { parent: PathBuf::new(), name: name.into(), made: Vec::new(), _lock: None };
        shelf.make(out)?;
        shelf.parent = fs::canonicalize(out).map_err(|e| Trouble::new("use the folder", out, e))?;
        if !shelf.parent.is_dir() {
            return Err(Trouble::new("use the folder", out, io::Error::other("it is a file, not a folder")));
        }
        shelf.follow_link()?;
        let target = shelf.target();
        if fs::symlink_metadata(&target).is_ok_and(|found| !found.is_dir()) {
            return Err(Trouble::new("write the kit to", &target, io::Error::other("a file of that name is there")));
        }
        shelf._lock = lock(&shelf.parent);
        Ok(shelf)
    }

    fn make(&mut self, out: &Path) -> Result<(), Trouble> {
        let missing: Vec<&Path> = out.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists()).collect();
        for folder in missing.into_iter().rev() {
            match fs::create_dir(folder) {
                Ok(()) => self.made.push(folder.to_owned()),
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
                Err(_) if folder.is_symlink() => return Err(Trouble::new("use the folder", folder, to_nothing())),
                Err(e) => return Err(Trouble::new("make the folder", folder, e)),
            }
        }
        Ok(())
    }

    /// A kit's folder may be a link to another place: that is where it is built and moved.
    fn follow_link(&mut self) -> Result<(), Trouble> {
        let target = self.target();
        if !target.is_symlink() {
            return Ok(());
        }
        let real = fs::canonicalize(&target).map_err(|_| Trouble::new("use the folder", &target, to_nothing()))?;
        if let (Some(parent), Some(name)) = (real.parent(), real.file_name()) {
            (self.parent, self.name) = (parent.to_owned(), name.to_owned());
        }
        Ok(())
    }

    fn target(&self) -> PathBuf {
        self.parent.join(&self.name)
    }

    fn beside(&self, begin: &str) -> PathBuf {
        let mut name = OsString::from(begin);
        name.push(&self.name);
        self.parent.join(name)
    }

    /// Takes away what a crashed run left, and brings back the old kit if the new one never came to its place.
    fn repair(&self) -> Result<(), Trouble> {
        let (target, old, new) = (self.target(), self.beside(OLD), self.beside(NEW));
        if old.is_dir() && fs::symlink_metadata(&target).is_err() {
            fs::rename(&old, &target).map_err(|e| Trouble::new("bring back the old kit", &old, e))?;
        }
        for left in [old, new] {
            match fs::remove_dir_all(&left) {
                Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(Trouble::new("take away", &left, e)),
                _ => {}
            }
        }
        Ok(())
    }

    /// Moves the finished folder into place.
    fn bring(&self, new: &Path, swap: Swap, watch: Watch) -> Result<(), Trouble> {
        let target = self.target();
        let moved = watch("move").and_then(|()| {
            if target.is_dir() { swap([new, &target, &self.beside(OLD)], watch) } else { fs::rename(new, &target) }
        });
        moved.map_err(|e| Trouble::new("move the kit to", &target, e))?;
        // The kit stands; a disk that cannot be flushed now cannot be helped.
        let _ = flush(&self.parent).and_then(|()| watch("moved"));
        Ok(())
    }
}

fn to_nothing() -> io::Error {
    io::Error::other("it is a link that leads nowhere")
}

/// Waits for another run that writes below the same folder. Where folders cannot be locked, nothing is waited for.
fn lock(folder: &Path) -> Option<File> {
    let folder = File::open(folder).ok()?;
    folder.lock().ok()?;
    Some(folder)
}

/// Lets two folders change places in one step where the system can; afterwards the old kit stands at `new`.
fn exchange([new, target, old]: [&Path; 3], watch: Watch) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        if renameat_with(CWD, new, CWD, target, RenameFlags::EXCHANGE).is_ok() {
            return Ok(());
        }
    }
    two_renames([new, target, old], watch)
}

/// For file systems that cannot exchange: between the two renames the kit stands at `old`, and [`Shelf::repair`] brings
/// it back.
fn two_renames([new, target, old]: [&Path; 3], watch: Watch) -> io::Result<()> {
    fs::rename(target, old)?;
    match watch("between").and_then(|()| fs::rename(new, target)) {
        Ok(()) => {
            let _ = watch("old left").and_then(|()| fs::remove_dir_all(old));
            Ok(())
        }
        Err(e) => fs::rename(old, target).and(Err(e)),
    }
}

/// Whether exactly these files stand there already.
fn stands(target: &Path, files: &Files) -> bool {
    files.iter().all(|(path, bytes)| fs::read(target.join(path)).is_ok_and(|found| found == *bytes))
}

fn build(new: &Path, files: &Files, watch: Watch) -> Result<(), Trouble> {
    let parent = new.parent().unwrap_or(new);
    fs::create_dir(new).map_err(|e| Trouble::new("make a folder in", parent, e))?;
    for (path, bytes) in files {
        let written = watch(path).and_then(|()| file(&new.join(path), bytes));
        written.map_err(|e| Trouble::new("write", Path::new(path), e))?;
    }
    Ok(())
}

fn file(place: &Path, bytes: &[u8]) -> io::Result<()> {
    if let Some(folder) = place.parent() {
        fs::create_dir_all(folder)?;
    }
    let mut file = File::create_new(place)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Makes sure that the folders themselves are on the disk.
fn settle(folder: &Path, watch: Watch) -> Result<(), Trouble> {
    let settled = watch("settle").and_then(|()| {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if entry.file_type()?.is_dir() {
                flush(&entry.path())?;
            }
        }
        flush(folder)
    });
    settled.map_err(|e| Trouble::new("write to", folder.parent().unwrap_or(folder), e))
}

/// Folders can be flushed on Unix only.
fn flush(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// What we know of the old kit.
struct Old {
    record: Option<Record>,
    bytes: Vec<u8>,
}

impl Old {
    fn read(target: &Path) -> Self {
        let bytes = fs::read(target.join(record::NAME)).unwrap_or_default();
        Self { record: Record::read(&bytes).ok(), bytes }
    }

    /// Takes over everything of the old kit that is not ours or no longer as we wrote it.
    fn carry(&self, target: &Path, new: &Path, files: &Files, watch: Watch) -> Result<(), Trouble> {
        let same = files.get(record::NAME) == Some(&self.bytes);
        let mut taken: BTreeSet<PathBuf> =
            files.keys().flat_map(|path| Path::new(path).ancestors()).map(Path::to_owned).collect();
        for path in below(target)? {
            let from = target.join(&path);
            let to = match past_record(&path) {
                Some(_) if same && path == Path::new(record::NAME) => continue,
                Some(number) if same => PathBuf::from(record_name(number)),
                Some(number) => PathBuf::from(record_name(number + 1)),
                None if holds_something(&from) => continue,
                None if self.untouched(&path, &from, files) => continue,
                None if taken.contains(&path) || self.wrote(&path) => unused(&path, &taken, target),
                None => path,
            };
            let place = new.join(&to);
            watch("carry").and_then(|()| link(&from, &place)).map_err(|e| Trouble::new("keep", &from, e))?;
            taken.insert(to);
        }
        Ok(())
    }

    fn wrote(&self, path: &Path) -> bool {
        self.digest(path).is_some()
    }

    fn digest(&self, path: &Path) -> Option<&String> {
        self.record.as_ref()?.files.get(&slashed(path))
    }

    /// Ours and as we wrote it, or just what is written again.
    fn untouched(&self, path: &Path, from: &Path, files: &Files) -> bool {
        let known = self.digest(path);
        let next = files.get(&slashed(path));
        if (known.is_none() && next.is_none()) || from.is_symlink() {
            return false;
        }
        fs::read(from).is_ok_and(|found| next == Some(&found) || known.is_some_and(|sha| *sha == sha256(&found)))
    }
}

/// A folder that is made anyway with what is kept in it.
fn holds_something(path: &Path) -> bool {
    !path.is_symlink() && fs::read_dir(path).is_ok_and(|mut list| list.next().is_some())
}

/// Everything below a folder, folders before what they hold, sorted; links are not followed.
fn below(folder: &Path) -> Result<Vec<PathBuf>, Trouble> {
    let mut all = Vec::new();
    let mut next = vec![PathBuf::new()];
    while let Some(inner) = next.pop() {
        let here = folder.join(&inner);
        let list = fs::read_dir(&here).and_then(Iterator::collect::<io::Result<Vec<_>>>);
        for entry in list.map_err(|e| Trouble::new("read the folder", &here, e))? {
            let path = inner.join(entry.file_name());
            if entry.file_type().is_ok_and(|sort| sort.is_dir()) {
                next.push(path.clone());
            }
            all.push(path);
        }
    }
    all.sort();
    Ok(all)
}

/// Makes a folder, or gives a file a second name; where the disk knows no second names, a copy.
fn link(from: &Path, to: &Path) -> io::Result<()> {
    if from.is_dir() && !from.is_symlink() {
        return fs::create_dir_all(to);
    }
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder)?;
    }
    match fs::hard_link(from, to) {
        Ok(()) => Ok(()),
        Err(_) => fs::copy(from, to).and_then(|_| File::open(to)?.sync_all()),
    }
}

/// The number of a record of the past: 0 for the present one.
pub fn past_record(path: &Path) -> Option<usize> {
    let name = path.to_str()?;
    if name == record::NAME {
        return Some(0);
    }
    let number = name.strip_prefix("record_")?.strip_suffix(".json")?.parse().ok()?;
    (number > 0 && record_name(number) == name).then_some(number)
}

fn record_name(number: usize) -> String {
    format!("record_{number}.json")
}

/// `bed_1_yours.3mf`, numbered where that is taken too.
fn unused(path: &Path, taken: &BTreeSet<PathBuf>, target: &Path) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let ending = path.extension().map(|e| format!(".{}", e.to_string_lossy())).unwrap_or_default();
    let name = |n: usize| {
        let number = if n == 1 { String::new() } else { format!("_{n}") };
        path.with_file_name(format!("{stem}{YOURS}{number}{ending}"))
    };
    let free = |p: &PathBuf| !taken.contains(p) && fs::symlink_metadata(target.join(p)).is_err();
    (1..).map(name).find(free).unwrap_or_else(|| path.to_owned())
}

/// A path as our records have it.
fn slashed(path: &Path) -> String {
    path.components().map(|c| c.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

#[cfg(all(test, unix))]
mod tests {
    use std::cell::RefCell;
    use std::os::unix::fs::{MetadataExt, symlink};

    use super::*;

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
            "link",
            "parts/",
            "parts/b.stl",
            "parts/b_yours.stl",
            "photos/",
            "photos/empty/",
            "photos/leg.jpg",
            "beds/",
            "beds/p_yours.3mf",
            "record.json",
            "record_1.json",
            "record_2.json",
        ];
        assert_eq!(names, wanted);
        let held = held(&bench);
        assert_eq!(held["beds/p_yours.3mf"], b"changed by hand");
        assert_eq!(held["parts/b_yours.stl"], b"not ours, but in the way");
        assert_eq!(
            (&held["record_1.json"], &held["record_2.json"]),
            (&second()["record.json"], &first()["record.json"])
        );
        assert!(bench.join("link").is_symlink());
    }

    #[test]
    fn a_spoilt_file_of_the_same_kit_is_mended_without_a_second_record() {
        let out = place("mend");
        puts(&out, &first());
        fs::write(out.join("bench/report.html"), "spoilt").expect("report");
        puts(&out, &first());
        let held = only_files(&out.join("bench"));
        assert_eq!(
            (held["report.html"].as_slice(), held["report_yours.html"].as_slice()),
            (&b"one"[..], &b"spoilt"[..])
        );
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
        put_by(swap, &out, "bench", &second(), &watch).unwrap_or_else(|trouble| panic!("{trouble}"));
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
                match put_by(swap, &out, "bench", &second(), &watch) {
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
        assert!(put_by(exchange, &place.join("a/b"), "bench", &first(), &watch).is_err());
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
        let told = |out: &str, name: &str| put(&place.join(out), name, &first()).expect_err(out).to_string();
        assert!(told("file", "bench").ends_with("it is a file, not a folder"));
        assert!(told("dangling", "bench").ends_with("it is a link that leads nowhere"));
        assert!(told("", "file").ends_with("a file of that name is there"));
        assert!(told("", "dangling").ends_with("it is a link that leads nowhere"));
        assert_eq!(fs::read(place.join("file")).expect("file"), b"x");
    }
}

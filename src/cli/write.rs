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

/// Writes a kit to `out/name`; nothing is touched when it stands there already, byte for byte.
///
/// # Errors
/// What could not be done; the old kit then stands as it stood.
pub fn put(out: &Path, name: &str, files: &Files) -> Result<(), Trouble> {
    put_watched(out, name, files, &|_| Ok(()))
}

fn put_watched(out: &Path, name: &str, files: &Files, watch: Watch) -> Result<(), Trouble> {
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
    shelf.swap(&new.0, watch)
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
    fn swap(&self, new: &Path, watch: Watch) -> Result<(), Trouble> {
        let target = self.target();
        let moved = watch("swap").and_then(|()| {
            if target.is_dir() { exchange(new, &target, &self.beside(OLD)) } else { fs::rename(new, &target) }
        });
        moved.map_err(|e| Trouble::new("move the kit to", &target, e))?;
        // The kit stands; a disk that cannot be flushed now cannot be helped.
        let _ = flush(&self.parent);
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

/// Lets two folders change places; afterwards the old kit stands at `new`.
fn exchange(new: &Path, target: &Path, old: &Path) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        if renameat_with(CWD, new, CWD, target, RenameFlags::EXCHANGE).is_ok() {
            return Ok(());
        }
    }
    two_renames(new, target, old)
}

/// For file systems that cannot exchange: between the two renames the kit stands at `old`, and [`Shelf::repair`] brings
/// it back.
fn two_renames(new: &Path, target: &Path, old: &Path) -> io::Result<()> {
    fs::rename(target, old)?;
    match fs::rename(new, target) {
        Ok(()) => {
            let _ = fs::remove_dir_all(old);
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
fn past_record(path: &Path) -> Option<usize> {
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

/// `plate_1_yours.3mf`, numbered where that is taken too.
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

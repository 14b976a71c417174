//! What the old kit holds, and where it goes in the new one.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use underframe::output::Files;
use underframe::output::record::{self, Record, sha256};

use super::disk::{Watch, below, is_folder, link, same_rights};
use crate::cli::write_error::WriteError;

/// Ends the stem of a file of ours that somebody changed.
const YOURS: &str = "_yours";

/// What we know of the old kit.
pub struct Old<'a> {
    /// Its folder.
    target: &'a Path,
    record: Option<Record>,
    bytes: Vec<u8>,
}

/// What is taken over.
#[derive(Default)]
struct Carried {
    /// Paths of the new kit that are in use.
    taken: BTreeSet<PathBuf>,
    /// Folders that had to make way, by their old paths.
    moved: BTreeMap<PathBuf, PathBuf>,
}

impl<'a> Old<'a> {
    /// Reads the record of the kit in this folder.
    pub fn read(target: &'a Path) -> Self {
        let bytes = fs::read(target.join(record::NAME)).unwrap_or_default();
        Self { target, record: Record::read(&bytes).ok(), bytes }
    }

    /// Takes over everything of the old kit that is not ours or no longer as we wrote it, and the rights of its folders.
    pub fn carry(&self, new: &Path, files: &Files, watch: Watch) -> Result<(), WriteError> {
        let mut carried = Carried::default();
        carried.taken.extend(files.keys().flat_map(|path| Path::new(path).ancestors()).map(Path::to_owned));
        let mut folders = vec![(PathBuf::new(), PathBuf::new())];
        for path in below(self.target)? {
            let from = self.target.join(&path);
            let Some(to) = self.goes_to(&path, files, &mut carried) else { continue };
            let done = watch("carry").and_then(|()| link(&from, &new.join(&to)));
            done.map_err(|e| WriteError::new("keep", &from, e))?;
            if is_folder(&from) {
                folders.push((path, to.clone()));
            }
            carried.taken.insert(to);
        }
        // Last, and from within: a folder that nobody may write in is filled first.
        for (path, to) in folders.iter().rev() {
            let from = self.target.join(path);
            same_rights(&from, &new.join(to)).map_err(|e| WriteError::new("keep owner and rights of", &from, e))?;
        }
        Ok(())
    }

    /// Where something of the old kit goes; nowhere when it is ours and as we wrote it.
    fn goes_to(&self, path: &Path, files: &Files, carried: &mut Carried) -> Option<PathBuf> {
        if is_folder(&self.target.join(path)) {
            return self.folder_goes_to(path, files, carried);
        }
        let same = files.get(record::NAME) == Some(&self.bytes);
        match past_record(path) {
            Some(0) if same => return None,
            Some(number) if same => return Some(PathBuf::from(record_name(number))),
            Some(number) => return Some(PathBuf::from(record_name(number + 1))),
            None if self.untouched(path, files) => return None,
            None => {}
        }
        let to = carried.follow(path);
        let aside = carried.taken.contains(&to) || self.digest(path).is_some();
        Some(if aside { unused(&to, &carried.taken, self.target) } else { to })
    }

    /// A folder makes way for a file of ours, and what it holds goes with it. One that holds only files of ours goes away
    /// unless the new kit has it too.
    fn folder_goes_to(&self, path: &Path, files: &Files, carried: &mut Carried) -> Option<PathBuf> {
        let to = carried.follow(path);
        if files.contains_key(&slashed(&to)) || past_record(&to).is_some() {
            let aside = unused(&to, &carried.taken, self.target);
            carried.moved.insert(path.to_owned(), aside.clone());
            return Some(aside);
        }
        (carried.taken.contains(&to) || !self.is_ours_alone(path, files)).then_some(to)
    }

    /// Whether a folder holds only files that we wrote, and at least one of them.
    fn is_ours_alone(&self, path: &Path, files: &Files) -> bool {
        let inside = below(&self.target.join(path)).unwrap_or_default();
        !inside.is_empty()
            && inside.iter().all(|inner| {
                let inner = path.join(inner);
                !is_folder(&self.target.join(&inner)) && self.untouched(&inner, files)
            })
    }

    fn digest(&self, path: &Path) -> Option<&String> {
        self.record.as_ref()?.files.get(&slashed(path))
    }

    /// Ours and as we wrote it, or just what is written again.
    fn untouched(&self, path: &Path, files: &Files) -> bool {
        let from = self.target.join(path);
        let known = self.digest(path);
        let next = files.get(&slashed(path));
        if (known.is_none() && next.is_none()) || from.is_symlink() {
            return false;
        }
        fs::read(from).is_ok_and(|found| next == Some(&found) || known.is_some_and(|sha| *sha == sha256(&found)))
    }
}

impl Carried {
    /// A path with the folders that made way at their new names.
    fn follow(&self, path: &Path) -> PathBuf {
        let moved = path.ancestors().find_map(|folder| Some((folder, self.moved.get(folder)?)));
        match moved.map(|(folder, to)| (path.strip_prefix(folder), to)) {
            Some((Ok(rest), to)) => to.join(rest),
            _ => path.to_owned(),
        }
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
pub fn slashed(path: &Path) -> String {
    path.components().map(|c| c.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

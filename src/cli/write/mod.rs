//! Safe writing: a kit is built beside its place and moved there in one step, so that a crash, a full disk or a lost
//! permission leaves the old kit whole or the new one, never a mixture.
//!
//! What the old kit holds and we did not write is carried over. What we wrote and somebody changed since is kept under
//! another name. The old record stays as `record_1.json`, older ones count on.

mod disk;
mod kit_dir;
mod old;
#[cfg(all(test, unix))]
mod tests;

use std::fs;
use std::path::{Path, PathBuf};

use underframe::output::Files;

use super::write_error::WriteError;
use disk::{Mount, Watch, clear, file, flush, is_folder, mount, one_mount};
use kit_dir::{KitDir, NEW, OLD, Swap, exchange};
use old::Old;
pub use old::past_record;

/// The folder in which a kit is built; taken away again unless it was moved to its place.
struct Building(PathBuf, Mount);

impl Drop for Building {
    fn drop(&mut self) {
        // What cannot be taken away is told by the next run.
        let _ = clear(&self.0, self.1);
    }
}

/// Writes a kit to `out/name`; nothing is touched when it stands there already, byte for byte.
///
/// # Errors
/// What could not be done; the old kit then stands as it stood.
pub fn put(out: &Path, name: &str, files: &Files) -> Result<(), WriteError> {
    put_by(Ways { swap: exchange, mount }, out, name, files, &|_| Ok(()))
}

/// What the system does for us; tests put others in.
#[derive(Clone, Copy)]
struct Ways {
    swap: Swap,
    mount: Mount,
}

fn put_by(ways: Ways, out: &Path, name: &str, files: &Files, watch: Watch) -> Result<(), WriteError> {
    let shelf = KitDir::open(out, name, ways.mount)?;
    shelf.repair()?;
    let target = shelf.target();
    if stands(&target, files) {
        return Ok(());
    }
    let new = Building(shelf.new_kit(), ways.mount);
    build(&new.0, files, watch)?;
    if is_folder(&target) {
        one_mount(&target, ways.mount).map_err(|e| WriteError::new("replace the kit in", &target, e))?;
        Old::read(&target).carry(&new.0, files, watch)?;
    }
    settle(&new.0, watch)?;
    shelf.bring(&new.0, ways.swap, watch)
}

/// Brings back an old kit that a crash left beside its place.
///
/// # Errors
/// What could not be done.
pub fn repair(out: &Path, name: &str) -> Result<(), WriteError> {
    let left = [NEW, OLD].iter().any(|begin| fs::symlink_metadata(out.join(format!("{begin}{name}"))).is_ok());
    if left { KitDir::open(out, name, mount)?.repair() } else { Ok(()) }
}

/// Whether exactly these files stand there already.
fn stands(target: &Path, files: &Files) -> bool {
    files.iter().all(|(path, bytes)| fs::read(target.join(path)).is_ok_and(|found| found == *bytes))
}

fn build(new: &Path, files: &Files, watch: Watch) -> Result<(), WriteError> {
    let parent = new.parent().unwrap_or(new);
    fs::create_dir(new).map_err(|e| WriteError::new("make a folder in", parent, e))?;
    for (path, bytes) in files {
        let written = watch(path).and_then(|()| file(&new.join(path), bytes));
        written.map_err(|e| WriteError::new("write", Path::new(path), e))?;
    }
    Ok(())
}

/// Makes sure that the folders themselves are on the disk.
fn settle(folder: &Path, watch: Watch) -> Result<(), WriteError> {
    let settled = watch("settle").and_then(|()| {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if entry.file_type()?.is_dir() {
                flush(&entry.path())?;
            }
        }
        flush(folder)
    });
    settled.map_err(|e| WriteError::new("write to", folder.parent().unwrap_or(folder), e))
}

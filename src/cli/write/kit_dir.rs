//! The place of a kit: a folder and its parent, taken for one run at a time.

use std::ffi::OsString;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use super::disk::{Mount, Watch, clear, flush};
use crate::cli::show;
use crate::cli::write_error::{WriteError, shown, why};

/// Begins the name of the folder in which a kit is built.
pub const NEW: &str = ".new-";
/// Begins the name of the old kit while the new one is moved into place, where the two cannot change places at once.
pub const OLD: &str = ".old-";
/// Ends the name of what could not be taken away.
const LEFT: &str = ".left";

/// Where a kit stands, links resolved.
#[derive(Debug)]
pub struct KitDir {
    parent: PathBuf,
    name: OsString,
    /// Folders that were made for it, outermost first; taken away again when nothing is put.
    made: Vec<PathBuf>,
    mount: Mount,
    /// Held while writing: two runs take turns.
    _lock: Option<File>,
}

impl Drop for KitDir {
    fn drop(&mut self) {
        for folder in self.made.iter().rev() {
            // Holds nothing unless the kit was put; then it stays.
            let _ = fs::remove_dir(folder);
        }
    }
}

/// Moves the new folder to the place of the old one; the third path is free for a moment's use.
pub type Swap = fn([&Path; 3], Watch) -> io::Result<()>;

impl KitDir {
    /// Makes the folder `out` where it is missing and takes it for this run.
    pub fn open(out: &Path, name: &str, mount: Mount) -> Result<Self, WriteError> {
        let mut shelf = Self { parent: PathBuf::new(), name: name.into(), made: Vec::new(), mount, _lock: None };
        shelf.make(out)?;
        shelf.parent = fs::canonicalize(out).map_err(|e| WriteError::new("use the folder", out, e))?;
        if !shelf.parent.is_dir() {
            return Err(WriteError::new("use the folder", out, io::Error::other("it is a file, not a folder")));
        }
        shelf.follow_link()?;
        let target = shelf.target();
        if fs::symlink_metadata(&target).is_ok_and(|found| !found.is_dir()) {
            return Err(WriteError::new("write the kit to", &target, io::Error::other("a file of that name is there")));
        }
        shelf._lock = lock(&shelf.parent);
        Ok(shelf)
    }

    fn make(&mut self, out: &Path) -> Result<(), WriteError> {
        let missing: Vec<&Path> = out.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists()).collect();
        for folder in missing.into_iter().rev() {
            match fs::create_dir(folder) {
                Ok(()) => self.made.push(folder.to_owned()),
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
                Err(_) if folder.is_symlink() => return Err(WriteError::new("use the folder", folder, to_nothing())),
                Err(e) => return Err(WriteError::new("make the folder", folder, e)),
            }
        }
        Ok(())
    }

    /// A kit's folder may be a link to another place: that is where it is built and moved.
    fn follow_link(&mut self) -> Result<(), WriteError> {
        let target = self.target();
        if !target.is_symlink() {
            return Ok(());
        }
        let real = fs::canonicalize(&target).map_err(|_| WriteError::new("use the folder", &target, to_nothing()))?;
        if let (Some(parent), Some(name)) = (real.parent(), real.file_name()) {
            (self.parent, self.name) = (parent.to_owned(), name.to_owned());
        }
        Ok(())
    }

    /// The kit's folder.
    pub fn target(&self) -> PathBuf {
        self.parent.join(&self.name)
    }

    /// The folder in which the new kit is built.
    pub fn new_kit(&self) -> PathBuf {
        self.beside(NEW)
    }

    fn beside(&self, begin: &str) -> PathBuf {
        let mut name = OsString::from(begin);
        name.push(&self.name);
        self.parent.join(name)
    }

    /// Takes away what a crashed run left, and brings back the old kit if the new one never came to its place.
    pub fn repair(&self) -> Result<(), WriteError> {
        let (target, old) = (self.target(), self.beside(OLD));
        if old.is_dir() && fs::symlink_metadata(&target).is_err() {
            fs::rename(&old, &target).map_err(|e| WriteError::new("bring back the old kit", &old, e))?;
        }
        self.tidy()
    }

    /// Takes away what stands beside the kit. What cannot be taken away gets a name of its own, so that it is seen and is
    /// in nobody's way.
    pub fn tidy(&self) -> Result<(), WriteError> {
        for left in [OLD, NEW].map(|begin| self.beside(begin)) {
            let Err(e) = clear(&left, self.mount) else { continue };
            let aside = self.unused();
            fs::rename(&left, &aside).map_err(|_| WriteError::new("take away", &left, io::Error::other(why(&e))))?;
            show::aloud(&format!(
                "could not take away what an earlier kit left: {}\n    it is now {}; delete it when you can",
                why(&e),
                shown(&aside)
            ));
        }
        Ok(())
    }

    /// `bench.left`, numbered where that is taken.
    fn unused(&self) -> PathBuf {
        let name = |n: usize| {
            let mut name = self.name.clone();
            name.push(if n == 1 { LEFT.to_owned() } else { format!("{LEFT}{n}") });
            self.parent.join(name)
        };
        (1..).map(name).find(|path| fs::symlink_metadata(path).is_err()).unwrap_or_else(|| self.beside(LEFT))
    }

    /// Moves the finished folder into place.
    pub fn bring(&self, new: &Path, swap: Swap, watch: Watch) -> Result<(), WriteError> {
        let target = self.target();
        let moved = watch("move").and_then(|()| {
            if target.is_dir() { swap([new, &target, &self.beside(OLD)], watch) } else { fs::rename(new, &target) }
        });
        moved.map_err(|e| WriteError::new("move the kit to", &target, e))?;
        // The kit stands; a disk that cannot be flushed now cannot be helped.
        let _ = flush(&self.parent).and_then(|()| watch("moved"));
        self.tidy()
    }
}

fn to_nothing() -> io::Error {
    io::Error::other("it is a link that leads nowhere")
}

/// Waits for another run that writes below the same folder, and says so. Where folders cannot be locked, nothing is
/// waited for.
fn lock(folder: &Path) -> Option<File> {
    let file = File::open(folder).ok()?;
    if matches!(file.try_lock(), Err(TryLockError::WouldBlock)) {
        show::aloud(&format!("waiting for another run that writes to {}", shown(folder)));
    }
    file.lock().ok()?;
    Some(file)
}

/// Lets two folders change places in one step where the system can; afterwards the old kit stands at `new`.
pub fn exchange([new, target, old]: [&Path; 3], watch: Watch) -> io::Result<()> {
    #[cfg(any(target_os = "linux", target_os = "macos"))]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        if renameat_with(CWD, new, CWD, target, RenameFlags::EXCHANGE).is_ok() {
            return Ok(());
        }
    }
    two_renames([new, target, old], watch)
}

/// For file systems that cannot exchange: between the two renames the kit stands at `old`, and [`KitDir::repair`] brings
/// it back.
pub fn two_renames([new, target, old]: [&Path; 3], watch: Watch) -> io::Result<()> {
    fs::rename(target, old)?;
    match watch("between").and_then(|()| fs::rename(new, target)) {
        Ok(()) => {
            let _ = watch("old left");
            Ok(())
        }
        Err(e) => fs::rename(old, target).and(Err(e)),
    }
}

//! Single files and folders: written, given a second name, listed, taken away.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::cli::write_error::WriteError;

/// Tells of every step before it is done; a test may stop there.
pub type Watch<'a> = &'a dyn Fn(&str) -> io::Result<()>;

/// The disk on which something stands, a mount within a disk being another one; links are not followed.
pub type Mount = fn(&Path) -> io::Result<u64>;

/// Writes a new file, its folder with it.
pub fn file(place: &Path, bytes: &[u8]) -> io::Result<()> {
    if let Some(folder) = place.parent() {
        fs::create_dir_all(folder)?;
    }
    let mut file = File::create_new(place)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Folders can be flushed on Unix only.
pub fn flush(folder: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// Makes a folder, or gives a file a second name; where the disk knows no second names, a copy.
pub fn link(from: &Path, to: &Path) -> io::Result<()> {
    if is_folder(from) {
        return fs::create_dir_all(to);
    }
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder)?;
    }
    match fs::hard_link(from, to) {
        Ok(()) => Ok(()),
        Err(_) => fs::copy(from, to).and_then(|_| File::open(to)?.sync_all()).and_then(|()| same_rights(from, to)),
    }
}

/// Gives `to` the owner and the rights of `from`.
pub fn same_rights(from: &Path, to: &Path) -> io::Result<()> {
    let wanted = fs::metadata(from)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, chown};
        let (old, new) = (&wanted, fs::metadata(to)?);
        if (old.uid(), old.gid()) != (new.uid(), new.gid()) {
            chown(to, Some(old.uid()), Some(old.gid()))?;
        }
    }
    fs::set_permissions(to, wanted.permissions())
}

/// A folder, not a link to one.
pub fn is_folder(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|found| found.is_dir())
}

/// Everything below a folder, folders before what they hold, sorted; links are not followed.
pub fn below(folder: &Path) -> Result<Vec<PathBuf>, WriteError> {
    let mut all = Vec::new();
    let mut next = vec![PathBuf::new()];
    while let Some(inner) = next.pop() {
        let here = folder.join(&inner);
        let list = fs::read_dir(&here).and_then(Iterator::collect::<io::Result<Vec<_>>>);
        for entry in list.map_err(|e| WriteError::new("read the folder", &here, e))? {
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

/// The mount on which something stands; the device where the system does not number its mounts.
pub fn mount(path: &Path) -> io::Result<u64> {
    #[cfg(target_os = "linux")]
    {
        use rustix::fs::{AtFlags, CWD, StatxFlags, statx};
        if let Ok(found) = statx(CWD, path, AtFlags::SYMLINK_NOFOLLOW, StatxFlags::MNT_ID)
            && found.stx_mask & StatxFlags::MNT_ID.bits() != 0
        {
            return Ok(found.stx_mnt_id);
        }
    }
    device(path)
}

#[cfg(unix)]
fn device(path: &Path) -> io::Result<u64> {
    use std::os::unix::fs::MetadataExt;
    fs::symlink_metadata(path).map(|found| found.dev())
}

#[cfg(not(unix))]
fn device(_: &Path) -> io::Result<u64> {
    Ok(0)
}

/// Refuses a folder with another disk mounted in it: what is taken away there would be lost to its owner.
pub fn one_mount(folder: &Path, mount: Mount) -> io::Result<()> {
    let own = mount(folder)?;
    let inside = below(folder).map_err(|trouble| io::Error::other(trouble.to_string()))?;
    match inside.iter().find(|path| mount(&folder.join(path)).is_ok_and(|there| there != own)) {
        Some(path) => Err(io::Error::other(format!("another disk is mounted there, at {}", path.display()))),
        None => Ok(()),
    }
}

/// Takes a folder away with all it holds, folders that nobody may write in too, but nothing of another disk.
pub fn clear(folder: &Path, mount: Mount) -> io::Result<()> {
    if !is_folder(folder) {
        return match fs::remove_file(folder) {
            Err(e) if e.kind() != io::ErrorKind::NotFound => Err(e),
            _ => Ok(()),
        };
    }
    open_up(folder)?;
    one_mount(folder, mount)?;
    fs::remove_dir_all(folder)
}

/// Gives ourselves every right on a folder and those below it.
fn open_up(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = fs::metadata(folder)?.permissions().mode();
        if mode & 0o700 != 0o700 {
            fs::set_permissions(folder, fs::Permissions::from_mode(mode | 0o700))?;
        }
    }
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            open_up(&entry.path())?;
        }
    }
    Ok(())
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn two_mounts_have_two_numbers() {
        let number = |path: &str| mount(Path::new(path)).expect("a mount");
        assert_eq!(number("/proc"), number("/proc/self"));
        assert_ne!(number("/proc"), number("/"));
    }
}

//! Files that are written whole or not at all, and are on the disk when that is said.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The start of the names of files that are not whole yet.
const UNFINISHED: &str = ".unfinished-";

/// Writes a file: into a folder on the same disk, then into its place.
pub(super) fn write(path: &Path, folder: &Path, text: &str) -> io::Result<()> {
    let beside = written_beside(path, folder, text)?;
    let placed = fs::rename(&beside, path).and_then(|()| sync_folder(path));
    if placed.is_err() {
        let _ = fs::remove_file(&beside);
    }
    placed
}

/// Writes a file where none is: into its folder, then into its place in one step. Whether it was; something may be there.
pub(super) fn write_new(path: &Path, text: &str) -> io::Result<bool> {
    let beside = written_beside(path, folder_of(path), text)?;
    let placed = tempfile::TempPath::try_from_path(&beside)?.persist_noclobber(path);
    match placed {
        Ok(()) => sync_folder(path).map(|()| true),
        Err(kept) if kept.error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
        Err(kept) => Err(kept.error),
    }
}

/// What came of putting a text in the place of another.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Swap {
    /// The text is in its place.
    Done,
    /// Somebody else wrote something else there, and there it is.
    Changed,
}

/// Puts a text in the place of one that is expected there. Where the system can exchange two files in one step, a text
/// that somebody else put there at the last moment is seen and comes back. Elsewhere there is a moment, between a last
/// look and the renaming, in which it would be lost.
pub(super) fn swap(path: &Path, folder: &Path, expected: &str, text: &str) -> io::Result<Swap> {
    let beside = written_beside(path, folder, text)?;
    let swapped = swap_with(path, &beside, expected).and_then(|swap| {
        sync_folder(path)?;
        Ok(swap)
    });
    // What was there before, or what could not be put there.
    let _ = fs::remove_file(&beside);
    swapped
}

fn swap_with(path: &Path, beside: &Path, expected: &str) -> io::Result<Swap> {
    if fs::read(path)? != expected.as_bytes() {
        return Ok(Swap::Changed);
    }
    if !exchange(beside, path)? {
        fs::rename(beside, path)?;
        return Ok(Swap::Done);
    }
    if fs::read(beside)? == expected.as_bytes() {
        return Ok(Swap::Done);
    }
    exchange(beside, path)?;
    Ok(Swap::Changed)
}

/// Exchanges two files in one step; nothing happens where the system can't.
#[cfg(target_os = "linux")]
fn exchange(one: &Path, other: &Path) -> io::Result<bool> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(true),
        Err(Errno::INVAL | Errno::NOSYS | Errno::OPNOTSUPP) => Ok(false),
        Err(error) => Err(error.into()),
    }
}

#[cfg(not(target_os = "linux"))]
fn exchange(_: &Path, _: &Path) -> io::Result<bool> {
    Ok(false)
}

/// Removes what a program that died left unfinished in a folder.
pub(super) fn clear(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let is_left = |name: &std::ffi::OsStr| name.to_string_lossy().starts_with(UNFINISHED);
    for entry in entries.filter(|entry| is_left(&entry.file_name())) {
        let _ = fs::remove_file(entry.path());
    }
}

/// Writes a text that is to take the place of a file, with the rights of that file, and to the disk.
fn written_beside(path: &Path, folder: &Path, text: &str) -> io::Result<PathBuf> {
    let mut file = tempfile::Builder::new().prefix(UNFINISHED).tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    let rights = fs::metadata(path).map(|there| there.permissions());
    match rights {
        Ok(rights) => file.as_file().set_permissions(rights)?,
        Err(_) => give_usual_rights(file.as_file())?,
    }
    file.as_file().sync_all()?;
    let (_, path) = file.keep().map_err(|kept| kept.error)?;
    Ok(path)
}

/// The rights that a new file has, where those of an unfinished one are narrower.
#[cfg(unix)]
fn give_usual_rights(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn give_usual_rights(_: &File) -> io::Result<()> {
    Ok(())
}

/// Makes sure that the names in a file's folder are on the disk.
#[cfg(unix)]
fn sync_folder(path: &Path) -> io::Result<()> {
    File::open(folder_of(path))?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}

/// The folder that a file is in.
pub(super) fn folder_of(path: &Path) -> &Path {
    let named = path.parent().filter(|folder| *folder != Path::new(""));
    named.unwrap_or(Path::new("."))
}

//! Where a command writes one whole text: a file, or standard output.
//!
//! Invariant: no file is written through a link, and no link gives way to a file that the user named. A link
//! to a pipe or a device is written to.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::{fs, io};

use anyhow::Context;

use crate::advice::WithHint;
use crate::pages::is_untouched;
use crate::tables::is_of_run;
use crate::terminal::Terminal;

/// What stands for standard output.
const STANDARD_OUTPUT: &str = "-";

/// Fails if there is no place for a file at the path; asked before what takes long.
pub(super) fn expect_place(path: &Path) -> anyhow::Result<()> {
    let (is_folder, folder) = (path.is_dir(), folder_of(path));
    anyhow::ensure!(!is_folder, "can't write `{}`: it is a folder", path.display());
    let has_folder = path == Path::new(STANDARD_OUTPUT) || folder.is_dir();
    let (place, path, folder) = (path, path.display(), folder.display());
    anyhow::ensure!(has_folder, "can't write `{path}`: there is no folder `{folder}`");
    refuse_link(place)?;
    refuse_run(place)
}

/// Fails if a file of a run would give way.
fn refuse_run(path: &Path) -> anyhow::Result<()> {
    if !is_of_run(path) {
        return Ok(());
    }
    let error = anyhow::anyhow!("can't write `{}`: it is a file of a run", path.display());
    Err(error.hint("name another place"))
}

/// Fails if there is a link at the path that leads to a file, or nowhere.
pub(super) fn refuse_link(path: &Path) -> anyhow::Result<()> {
    let is_link = fs::symlink_metadata(path).is_ok_and(|found| found.is_symlink());
    let leads_to_stream =
        || fs::metadata(path).is_ok_and(|target| !target.is_file() && !target.is_dir());
    if !is_link || is_descriptor(path) || leads_to_stream() {
        return Ok(());
    }
    let error = anyhow::anyhow!("can't write `{}`: it is a link", path.display());
    Err(error.hint("remove the link, or name another place"))
}

/// Whether the path is one of those by which a system names the open files of the program, as `/dev/stdout`
/// and `/dev/fd/3` are. On Linux they are links, to regular files where the user redirects output
/// (`proc(5)` and `fd(4)`).
fn is_descriptor(path: &Path) -> bool {
    let folders = ["/dev", "/dev/fd", "/proc/self/fd"];
    folders.iter().any(|folder| path.parent() == Some(Path::new(folder)))
}

/// Makes a folder inside another one, if it is not there.
///
/// # Errors
///
/// If there is a link or a file, or it can't be made.
pub(super) fn make_folder(base: &Path, name: &str) -> anyhow::Result<PathBuf> {
    let path = base.join(name);
    if let Ok(found) = fs::symlink_metadata(&path)
        && !found.is_dir()
    {
        let place = path.display();
        let error = anyhow::anyhow!("can't write into `{place}`: it is a link, or no folder");
        return Err(error.hint("remove it, or name another place"));
    }
    fs::create_dir_all(&path)
        .with_context(|| format!("can't create the folder `{}`", path.display()))?;
    Ok(path)
}

/// Fails if there is a page at the path that somebody edited since it was written, or that was not written
/// here; asked before what takes long.
pub(super) fn expect_untouched(path: &Path) -> anyhow::Result<()> {
    let is_own = |page: Vec<u8>| page.is_empty() || is_untouched(&page);
    let is_own = !is_file(path) || fs::read(path).is_ok_and(is_own);
    if !is_own {
        let place = path.display();
        let error = anyhow::anyhow!("`{place}` was edited, or was not written by this program");
        return Err(error.hint("name another place with -o, or write over it with --replace"));
    }
    Ok(())
}

/// Fails if there is a file at the path; asked before what takes long. Somebody may have edited it, which only
/// pages tell.
pub(super) fn expect_free(path: &Path) -> anyhow::Result<()> {
    if is_file(path) && fs::metadata(path).is_ok_and(|found| found.len() > 0) {
        let error = anyhow::anyhow!("`{}` is there already", path.display());
        return Err(error.hint("name another place with -o, or write over it with --replace"));
    }
    Ok(())
}

/// Whether a file stands at the path, which is neither standard output nor another open file of the program.
fn is_file(path: &Path) -> bool {
    path != Path::new(STANDARD_OUTPUT) && !is_descriptor(path) && path.is_file()
}

/// The folder that a file is in.
fn folder_of(path: &Path) -> &Path {
    let named = path.parent().filter(|folder| *folder != Path::new(""));
    named.unwrap_or(Path::new("."))
}

/// Writes a text to a file, whole or not at all, or to standard output if the path is `-`.
pub(super) fn write(path: &Path, text: impl AsRef<[u8]>, terminal: Terminal) -> anyhow::Result<()> {
    let text = text.as_ref();
    let is_standard_output = [STANDARD_OUTPUT, "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"];
    if is_standard_output.iter().any(|name| path == Path::new(name)) {
        return terminal.print_bytes(text);
    }
    refuse_link(path)?;
    refuse_run(path)?;
    write_file(path, text).with_context(|| format!("can't write `{}`", path.display()))
}

/// Writes a text to a file, whole or not at all; a link in its place gives way to it.
pub(super) fn write_file(path: &Path, text: impl AsRef<[u8]>) -> io::Result<()> {
    let text = text.as_ref();
    // Something that is no file, such as a pipe, can't be put in place when it is whole.
    if is_descriptor(path) || path.exists() && !path.is_file() {
        // What a redirected output already holds stays.
        return OpenOptions::new().append(true).open(path)?.write_all(text);
    }
    let Some(name) = path.file_name() else {
        return fs::write(path, text);
    };
    let mut unfinished = tempfile::Builder::new();
    let unfinished = unfinished.prefix(".unfinished-").tempdir_in(folder_of(path));
    // Nobody asked for a file of that name, so no message should mention it.
    let unfinished = unfinished.map_err(|error| io::Error::from(error.kind()))?;
    let whole = unfinished.path().join(name);
    fs::write(&whole, text)?;
    fs::rename(&whole, path)
}

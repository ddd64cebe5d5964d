//! Where a command writes one whole text: a file, or standard output.

use std::path::Path;
use std::{fs, io};

use anyhow::Context;

use crate::terminal::Terminal;

/// What stands for standard output.
const STANDARD_OUTPUT: &str = "-";

/// Writes a text to a file, whole or not at all, or to standard output if the path is `-`.
pub(super) fn write(path: &Path, text: &str, terminal: Terminal) -> anyhow::Result<()> {
    if path == Path::new(STANDARD_OUTPUT) {
        return terminal.print(text);
    }
    write_file(path, text).with_context(|| format!("can't write `{}`", path.display()))
}

/// Writes a text to a file, whole or not at all; a link in its place gives way to it.
pub(super) fn write_file(path: &Path, text: &str) -> io::Result<()> {
    // Something that is no file, such as a pipe, can't be put in place when it is whole.
    if path.exists() && !path.is_file() {
        return fs::write(path, text);
    }
    let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else {
        return fs::write(path, text);
    };
    let folder = if folder == Path::new("") { Path::new(".") } else { folder };
    let unfinished = tempfile::Builder::new().prefix(".unfinished-").tempdir_in(folder)?;
    let whole = unfinished.path().join(name);
    fs::write(&whole, text)?;
    fs::rename(&whole, path)
}

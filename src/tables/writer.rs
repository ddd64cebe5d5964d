//! What writes a table, whatever its format.

use std::fs::File;
use std::io::{self, Seek};

use super::cell::Cell;

/// Writes one table.
pub trait TableWriter {
    /// Adds a row, whose cells stand in the order of the columns.
    ///
    /// # Errors
    ///
    /// What the system says when it can't be written.
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()>;

    /// Makes the rows so far safe on disk and tells the length of the file, to which it can be cut to
    /// continue from here.
    ///
    /// # Errors
    ///
    /// What the system says when it can't; or that a table of this format can't be continued.
    fn make_safe(&mut self) -> io::Result<u64>;

    /// Writes what is still to be written and makes it safe on disk.
    ///
    /// # Errors
    ///
    /// What the system says when it can't.
    fn finish(&mut self) -> io::Result<()>;
}

/// Makes what was written to a file safe on disk, unless that was done at this length, and tells the
/// length.
pub(super) fn make_safe(mut file: &File, safe: &mut u64) -> io::Result<u64> {
    let length = file.stream_position()?;
    if length != *safe {
        file.sync_data()?;
        *safe = length;
    }
    Ok(length)
}

pub(super) fn can_not_grow() -> io::Error {
    io::Error::new(io::ErrorKind::Unsupported, "a Parquet table can't be continued")
}

//! What writes a table, whatever its format.

use std::io;

use super::cell::Cell;
use super::checksum::{Extent, SummedFile, TableRun};

/// Writes one table.
pub trait TableWriter {
    /// Adds a row, whose cells stand in the order of the columns.
    ///
    /// # Errors
    ///
    /// What the system says when it can't be written.
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()>;

    /// Makes the rows so far safe on disk and tells how far the table has grown, to which it can be cut
    /// to continue from here.
    ///
    /// # Errors
    ///
    /// What the system says when it can't; or that a table of this format can't be continued.
    fn make_safe(&mut self) -> io::Result<Extent>;

    /// Writes what is still to be written, makes it safe on disk and tells what was written.
    ///
    /// # Errors
    ///
    /// What the system says when it can't.
    fn finish(&mut self) -> io::Result<TableRun>;
}

/// Makes what was written to a file safe on disk, unless that was done at this length.
pub(super) fn make_safe(file: &SummedFile, safe: &mut u64) -> io::Result<()> {
    let length = file.length();
    if length != *safe {
        file.file().sync_data()?;
        *safe = length;
    }
    Ok(())
}

pub(super) fn can_not_grow() -> io::Error {
    io::Error::new(io::ErrorKind::Unsupported, "a Parquet table can't be continued")
}

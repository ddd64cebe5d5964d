//! A table that takes long to write and may be cut short: it grows row by row in a file beside its place, as
//! comma-separated values whatever the format of the run, and is put there when it is whole. A note beside it
//! says how far it has grown.
//!
//! Invariant: what the note says is safe on disk.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufWriter};
use std::path::{Path, PathBuf};

use super::cell::{Cell, Column};
use super::checksum::{Extent, SummedFile, TableRun};
use super::csv_table::CsvTable;
use super::places::{make_way, read_if_there};
use super::writer::TableWriter;

/// Where a table grows before it is moved to this place.
#[must_use]
pub fn unfinished_part(place: &Path) -> PathBuf {
    place.with_extension("csv.unfinished")
}

/// Where it is noted how far a table has grown that is to be moved to this place.
fn unfinished_note(place: &Path) -> PathBuf {
    place.with_extension("note.unfinished")
}

/// How many rows an earlier run left of a table that is to be moved to this place, as far as it noted; what
/// grew after that is cut.
///
/// # Errors
///
/// What the system says; or, as invalid data, that what was left was changed since.
pub fn rows_left(place: &Path) -> io::Result<usize> {
    let rows = match noted(place)? {
        Some(kept) => cut(&unfinished_part(place), kept).map(|_| kept.rows)?,
        None => 0,
    };
    usize::try_from(rows).map_err(io::Error::other)
}

/// Removes what an earlier run left of a table that is to be moved to this place.
///
/// # Errors
///
/// What the system says.
pub fn remove_left(place: &Path) -> io::Result<()> {
    make_way(&unfinished_part(place))?;
    make_way(&unfinished_note(place))
}

/// How far a table has grown that is to be moved to this place, if that was noted.
fn noted(place: &Path) -> io::Result<Option<Extent>> {
    let noted = match is_own_file(&unfinished_part(place)) {
        true => read_if_there(&unfinished_note(place))?,
        false => None,
    };
    Ok(noted.map(|text| serde_json::from_slice(&text)).transpose()?)
}

/// A growing table of comma-separated values.
pub struct GrowingTable {
    part: PathBuf,
    note: PathBuf,
    table: CsvTable,
    /// How many rows an earlier run left.
    pub kept: usize,
}

impl GrowingTable {
    /// Starts a table or, with `resume`, continues what an earlier run left of it, as far as that noted.
    ///
    /// # Errors
    ///
    /// What the system says; or, as invalid data, that what was left was changed since.
    pub fn open(place: &Path, columns: &[Column], resume: bool) -> io::Result<GrowingTable> {
        let (part, note) = (unfinished_part(place), unfinished_note(place));
        let noted = if resume { noted(place)? } else { None };
        let (kept, table) = match noted {
            Some(kept) => (kept.rows, CsvTable::go_on(cut(&part, kept)?, kept.rows)),
            None => {
                make_way(&part)?;
                make_way(&note)?;
                let file = OpenOptions::new().append(true).create_new(true).open(&part)?;
                (0, CsvTable::start(BufWriter::new(SummedFile::new(file)), columns)?)
            }
        };
        let kept = usize::try_from(kept).map_err(io::Error::other)?;
        Ok(GrowingTable { part, note, table, kept })
    }

    /// Adds rows, makes them safe on disk and notes it.
    ///
    /// # Errors
    ///
    /// What the system says when they can't be written.
    pub fn rows<'t>(&mut self, rows: impl IntoIterator<Item = Vec<Cell<'t>>>) -> io::Result<()> {
        for row in rows {
            self.table.row(&row)?;
        }
        let grown = self.table.make_safe()?;
        let whole = self.note.with_extension("part.unfinished");
        make_way(&whole)?;
        serde_json::to_writer(File::create_new(&whole)?, &grown)?;
        fs::rename(whole, &self.note)
    }

    /// Makes the whole table safe on disk and tells where and what it is.
    ///
    /// # Errors
    ///
    /// What the system says when it can't.
    pub fn finish(mut self) -> io::Result<(PathBuf, TableRun)> {
        let written = self.table.finish()?;
        make_way(&self.note)?;
        Ok((self.part, written))
    }
}

/// The file of a table, cut to how far it had grown.
fn cut(part: &Path, kept: Extent) -> io::Result<BufWriter<SummedFile>> {
    let file = OpenOptions::new().read(true).append(true).open(part)?;
    // A shorter file gets longer by this, which its checksum tells.
    file.set_len(kept.bytes)?;
    Ok(BufWriter::new(SummedFile::after(file, kept)?))
}

/// Whether there is a file here, and no link to one elsewhere.
fn is_own_file(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|found| found.is_file())
}

/// The names of the files in a folder that tables grow in, besides the finished ones.
pub(super) fn is_unfinished(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "unfinished")
}

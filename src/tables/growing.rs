//! A table that takes long to write and may be cut short: it grows row by row in a file beside its place, as
//! comma-separated values whatever the format of the run, and is put there when it is whole.

use std::fs::{self, OpenOptions};
use std::io::{self, BufWriter};
use std::path::{Path, PathBuf};

use super::cell::{Cell, Column};
use super::checksum::{SummedFile, TableRun};
use super::csv_table::CsvTable;
use super::places::make_way;
use super::writer::TableWriter;

/// Where a table grows before it is moved to this place.
#[must_use]
pub fn unfinished_part(place: &Path) -> PathBuf {
    place.with_extension("csv.unfinished")
}

/// A growing table of comma-separated values.
pub struct GrowingTable {
    part: PathBuf,
    table: CsvTable,
    /// How many rows an earlier run left.
    pub kept: usize,
}

impl GrowingTable {
    /// Starts a table or, with `resume`, continues what an earlier run left of it; an incomplete row is
    /// dropped.
    ///
    /// # Errors
    ///
    /// What the system says; or that what was left is a table with other columns.
    pub fn open(place: &Path, columns: &[Column], resume: bool) -> io::Result<GrowingTable> {
        let part = unfinished_part(place);
        let is_there = resume && is_own_file(&part);
        let (kept, length) = if is_there { whole_rows(&part, columns)? } else { (0, 0) };
        if !is_there {
            make_way(&part)?;
        }
        let file = OpenOptions::new().read(true).append(true).create_new(!is_there).open(&part)?;
        file.set_len(length)?;
        let file = BufWriter::new(SummedFile::after(file, length)?);
        let table = match length {
            0 => CsvTable::start(file, columns)?,
            _ => CsvTable::go_on(file, kept as u64),
        };
        Ok(GrowingTable { part, table, kept })
    }

    /// Adds rows and makes sure that they reach the file.
    ///
    /// # Errors
    ///
    /// What the system says when they can't be written.
    pub fn rows<'t>(&mut self, rows: impl IntoIterator<Item = Vec<Cell<'t>>>) -> io::Result<()> {
        for row in rows {
            self.table.row(&row)?;
        }
        self.table.flush()
    }

    /// Makes the whole table safe on disk and tells where and what it is.
    ///
    /// # Errors
    ///
    /// What the system says when it can't.
    pub fn finish(mut self) -> io::Result<(PathBuf, TableRun)> {
        let written = self.table.finish()?;
        Ok((self.part, written))
    }
}

/// Whether there is a file here, and no link to one elsewhere.
fn is_own_file(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|found| found.is_file())
}

/// How many whole rows a file has, and where the last one ends; nothing of a file without a whole
/// heading.
fn whole_rows(path: &Path, columns: &[Column]) -> io::Result<(usize, u64)> {
    let text = fs::read(path)?;
    let end = memchr::memrchr(b'\n', &text).map_or(0, |at| at + 1);
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(&text[..end]);
    let mut record = csv::StringRecord::new();
    if !reader.read_record(&mut record)? {
        return Ok((0, 0));
    }
    if !record.iter().eq(columns.iter().map(|column| &*column.name)) {
        let message =
            format!("`{}` has other columns; start again without --resume", path.display());
        return Err(io::Error::new(io::ErrorKind::InvalidData, message));
    }
    let mut kept = 0;
    let mut length = reader.position().byte();
    while reader.read_record(&mut record)? && record.len() == columns.len() {
        kept += 1;
        length = reader.position().byte();
    }
    Ok((kept, length))
}

/// The names of the files in a folder that tables grow in, besides the finished ones.
pub(super) fn is_unfinished(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "unfinished")
}

//! The formats a table can have.

use std::fs::{File, OpenOptions};
use std::io::{self, BufWriter, Seek, SeekFrom};
use std::path::Path;

use super::cell::Column;
use super::checksum::{Extent, SummedFile};
use super::csv_table::CsvTable;
use super::jsonl_table::JsonlTable;
use super::parquet_table::ParquetTable;
use super::writer::{TableWriter, can_not_grow};

/// The format of the tables of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
pub enum TableFormat {
    /// Comma-separated values (RFC 4180, lines end with LF).
    Csv,
    /// A JSON object on each line.
    Jsonl,
    /// Apache Parquet, every column with its own type.
    Parquet,
}

impl TableFormat {
    /// Every format.
    pub const ALL: [TableFormat; 3] = [TableFormat::Csv, TableFormat::Jsonl, TableFormat::Parquet];

    /// The ending of its files.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            TableFormat::Csv => "csv",
            TableFormat::Jsonl => "jsonl",
            TableFormat::Parquet => "parquet",
        }
    }

    /// The name of the file of a table that is called so.
    #[must_use]
    pub fn file_name(self, table: &str) -> String {
        format!("{table}.{}", self.ending())
    }

    /// Starts a table in a new file.
    ///
    /// # Errors
    ///
    /// What the system says when the file can't be made or written.
    pub fn create(self, path: &Path, columns: &[Column]) -> io::Result<Box<dyn TableWriter>> {
        let file = SummedFile::new(File::create_new(path)?);
        let file = BufWriter::with_capacity(1 << 16, file);
        Ok(match self {
            TableFormat::Csv => Box::new(CsvTable::start(file, columns)?),
            TableFormat::Jsonl => Box::new(JsonlTable::start(file, columns, 0)),
            TableFormat::Parquet => Box::new(ParquetTable::start(file, columns)?),
        })
    }

    /// Continues a table that is cut to how far it had grown.
    ///
    /// # Errors
    ///
    /// What the system says when the file can't be opened or written; that it is shorter or was changed; or
    /// that a table of this format can't be continued.
    pub fn go_on(
        self,
        path: &Path,
        columns: &[Column],
        kept: Extent,
    ) -> io::Result<Box<dyn TableWriter>> {
        let file = SummedFile::after(cut_to(path, kept.bytes)?, kept)?;
        let file = BufWriter::with_capacity(1 << 16, file);
        match self {
            TableFormat::Csv => Ok(Box::new(CsvTable::go_on(file, kept.rows))),
            TableFormat::Jsonl => Ok(Box::new(JsonlTable::start(file, columns, kept.rows))),
            TableFormat::Parquet => Err(can_not_grow()),
        }
    }

    /// Whether a table of this format can be continued.
    #[must_use]
    pub fn can_grow(self) -> bool {
        self != TableFormat::Parquet
    }
}

/// Opens a file for writing after its first `length` bytes, which are all that is kept.
pub(super) fn cut_to(path: &Path, length: u64) -> io::Result<File> {
    let mut file = OpenOptions::new().read(true).write(true).open(path)?;
    let there = file.metadata()?.len();
    if there < length {
        let message = format!("`{}` has only {there} of {length} bytes", path.display());
        return Err(io::Error::new(io::ErrorKind::UnexpectedEof, message));
    }
    file.set_len(length)?;
    file.seek(SeekFrom::End(0))?;
    Ok(file)
}

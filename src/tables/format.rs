//! The formats a table can have.

use std::fs::File;
use std::io::{self, BufWriter};
use std::path::Path;

use super::cell::{Cell, Column};
use super::csv_table::CsvTable;
use super::jsonl_table::JsonlTable;
use super::parquet_table::ParquetTable;

/// The format of the tables of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum TableFormat {
    /// Comma-separated values (RFC 4180, lines end with LF).
    Csv,
    /// A JSON object a line.
    Jsonl,
    /// Apache Parquet.
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

    /// Starts a table in a new file.
    ///
    /// # Errors
    ///
    /// What the system says when the file can't be made or written.
    pub fn create(self, path: &Path, columns: &[Column]) -> io::Result<Box<dyn TableWriter>> {
        let file = BufWriter::with_capacity(1 << 16, File::create_new(path)?);
        Ok(match self {
            TableFormat::Csv => Box::new(CsvTable::start(file, columns)?),
            TableFormat::Jsonl => Box::new(JsonlTable::start(file, columns)),
            TableFormat::Parquet => Box::new(ParquetTable::start(file, columns)?),
        })
    }
}

/// Writes one table.
pub trait TableWriter {
    /// Adds a row, whose cells stand in the order of the columns.
    ///
    /// # Errors
    ///
    /// What the system says when it can't be written.
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()>;

    /// Writes what is still to be written and makes it safe on disk.
    ///
    /// # Errors
    ///
    /// What the system says when it can't.
    fn finish(&mut self) -> io::Result<()>;
}

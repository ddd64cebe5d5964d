//! Rows of comma-separated values.

use std::fs::File;
use std::io::{Seek, SeekFrom};

use csv::StringRecord;

use super::{RowTrouble, Rows};
use crate::tables::checksum::{Checksum, SummedFile};
use crate::tables::guard::unguarded;

pub(super) struct CsvRows {
    reader: csv::Reader<SummedFile>,
    columns: Vec<String>,
    /// Where the row begins that was read last, in bytes.
    begins: Option<u64>,
}

/// The rows from one on that begins at a byte, of a table with these columns.
pub(super) fn open_at(
    mut file: File,
    begins: u64,
    columns: Vec<String>,
) -> std::io::Result<CsvRows> {
    file.seek(SeekFrom::Start(begins))?;
    let mut reader = csv::ReaderBuilder::new();
    let reader = reader.has_headers(false).from_reader(SummedFile::new(file));
    Ok(CsvRows { reader, columns, begins: None })
}

pub(super) fn open(file: SummedFile) -> Result<CsvRows, RowTrouble> {
    let mut reader = csv::ReaderBuilder::new().buffer_capacity(1 << 16).from_reader(file);
    let header = reader.headers().map_err(trouble)?;
    let columns = header.iter().map(str::to_owned).collect();
    Ok(CsvRows { reader, columns, begins: None })
}

impl Rows for CsvRows {
    fn columns(&self) -> Vec<String> {
        self.columns.clone()
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        let is_row = self.reader.read_record(record).map_err(trouble)?;
        let line = record.position().map_or(0, csv::Position::line);
        self.begins = record.position().map(csv::Position::byte);
        if record.iter().any(|cell| unguarded(cell) != cell) {
            *record = record.iter().map(unguarded).collect();
        }
        Ok(is_row.then_some(line))
    }

    fn begins(&self) -> Option<u64> {
        self.begins
    }

    fn checksum(&self) -> Option<Checksum> {
        Some(self.reader.get_ref().checksum())
    }
}

fn trouble(error: csv::Error) -> RowTrouble {
    let line = error.position().map(csv::Position::line);
    let message = match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            format!("the row has {len} cells, but the table has {expected_len} columns")
        }
        csv::ErrorKind::Utf8 { .. } => "the row is not UTF-8".to_owned(),
        _ => error.to_string(),
    };
    RowTrouble { line, message }
}

//! Rows of Parquet. Lines are rows, counted from 1.
//!
//! The file holds its columns one after another, in groups of rows; a batch of rows is read from each
//! column of a group at a time.

use std::fs::File;

use csv::StringRecord;
use parquet::column::reader::{ColumnReader, ColumnReaderImpl};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::{ParquetError, Result as ParquetResult};
use parquet::file::reader::{FileReader, SerializedFileReader};

use super::contained::contained;
use super::{RowTrouble, Rows};

/// The most rows that are read at a time.
const BATCH: usize = 1000;

pub(super) struct ParquetRows {
    file: SerializedFileReader<File>,
    names: Vec<String>,
    /// For each column whether its cells are asked for.
    is_needed: Vec<bool>,
    /// The columns of the group of rows that is being read.
    columns: Vec<Box<dyn Cells>>,
    groups_begun: usize,
    /// The rows of the group that are in no batch yet.
    rows_left: usize,
    /// The rows of the batch that were not asked for yet.
    batch_left: usize,
    line: u64,
}

pub(super) fn open(file: File) -> Result<ParquetRows, RowTrouble> {
    let file = or_damaged(|| SerializedFileReader::new(file))
        .map_err(|error| RowTrouble { line: None, message: message(error) })?;
    let schema = file.metadata().file_metadata().schema_descr();
    let names: Vec<String> = schema.columns().iter().map(|column| column.path().string()).collect();
    Ok(ParquetRows {
        file,
        is_needed: vec![true; names.len()],
        names,
        columns: Vec::new(),
        groups_begun: 0,
        rows_left: 0,
        batch_left: 0,
        line: 0,
    })
}

/// The result of a call of the library, which panics on some files.
fn or_damaged<T>(call: impl FnOnce() -> ParquetResult<T>) -> ParquetResult<T> {
    let damaged = || Err(ParquetError::General("the file is damaged".to_owned()));
    contained(call).unwrap_or_else(damaged)
}

/// What is wrong.
fn message(error: ParquetError) -> String {
    match error {
        ParquetError::General(message) => message,
        error => error.to_string(),
    }
}

impl ParquetRows {
    /// Reads the next batch of rows; false if there is none.
    fn read_batch(&mut self) -> ParquetResult<bool> {
        while self.rows_left == 0 {
            if self.groups_begun == self.file.num_row_groups() {
                return Ok(false);
            }
            self.begin_group()?;
        }
        let rows = self.rows_left.min(BATCH);
        for column in &mut self.columns {
            column.read(rows)?;
        }
        self.rows_left -= rows;
        self.batch_left = rows;
        Ok(true)
    }

    fn begin_group(&mut self) -> ParquetResult<()> {
        let group = self.file.get_row_group(self.groups_begun)?;
        self.groups_begun += 1;
        self.rows_left = usize::try_from(group.metadata().num_rows())?;
        let column = |index: usize| {
            if !self.is_needed[index] {
                return Ok(Box::new(UnreadCells) as Box<dyn Cells>);
            }
            let schema = group.metadata().column(index).column_descr();
            let is_plain = schema.max_rep_level() == 0 && schema.max_def_level() <= 1;
            let cells = cells(group.get_column_reader(index)?).filter(|_| is_plain);
            cells.ok_or_else(|| {
                let name = &self.names[index];
                let message = format!("`{name}` has a type that no table of a run has");
                ParquetError::General(message)
            })
        };
        self.columns = (0..group.num_columns()).map(column).collect::<ParquetResult<_>>()?;
        match self.columns.is_empty() && self.rows_left > 0 {
            true => Err(ParquetError::General("there are rows without columns".to_owned())),
            false => Ok(()),
        }
    }
}

impl Rows for ParquetRows {
    fn columns(&self) -> Vec<String> {
        self.names.clone()
    }

    fn need(&mut self, is_needed: &[bool]) {
        self.is_needed = is_needed.to_owned();
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        self.line += 1;
        if self.batch_left == 0 {
            let has_more = or_damaged(|| self.read_batch());
            if !has_more.map_err(|error| RowTrouble::at(self.line, message(error)))? {
                return Ok(None);
            }
        }
        self.batch_left -= 1;
        record.clear();
        for (column, name) in self.columns.iter_mut().zip(&self.names) {
            column.push_next(record).ok_or_else(|| {
                RowTrouble::at(self.line, format!("the text of `{name}` is not UTF-8"))
            })?;
        }
        Ok(Some(self.line))
    }
}

/// The cells of a column, a batch at a time.
trait Cells {
    /// Reads the next batch of `rows` rows.
    fn read(&mut self, rows: usize) -> ParquetResult<()>;

    /// Adds the next cell of the batch to a record; nothing if it is not text.
    fn push_next(&mut self, record: &mut StringRecord) -> Option<()>;
}

/// A column whose cells nobody asks for.
struct UnreadCells;

impl Cells for UnreadCells {
    fn read(&mut self, _rows: usize) -> ParquetResult<()> {
        Ok(())
    }

    fn push_next(&mut self, record: &mut StringRecord) -> Option<()> {
        record.push_field("");
        Some(())
    }
}

/// The cells of a column of a group; nothing if tables of runs have no such values.
fn cells(reader: ColumnReader) -> Option<Box<dyn Cells>> {
    match reader {
        ColumnReader::BoolColumnReader(reader) => Some(typed::<BoolType>(reader)),
        ColumnReader::Int64ColumnReader(reader) => Some(typed::<Int64Type>(reader)),
        ColumnReader::DoubleColumnReader(reader) => Some(typed::<DoubleType>(reader)),
        ColumnReader::ByteArrayColumnReader(reader) => Some(typed::<ByteArrayType>(reader)),
        _ => None,
    }
}

fn typed<T: DataType<T: CellValue>>(reader: ColumnReaderImpl<T>) -> Box<dyn Cells> {
    Box::new(TypedCells::<T> { reader, batch: Vec::new().into_iter() })
}

/// The cells of a column with values of one type.
struct TypedCells<T: DataType> {
    reader: ColumnReaderImpl<T>,
    /// The cells of the batch that were not asked for yet; `None` if blank.
    batch: std::vec::IntoIter<Option<T::T>>,
}

impl<T: DataType<T: CellValue>> Cells for TypedCells<T> {
    fn read(&mut self, rows: usize) -> ParquetResult<()> {
        // The values that are there, and for each cell 1 if it has one and 0 if it is blank.
        let (mut values, mut levels) = (Vec::new(), Vec::new());
        self.reader.read_records(rows, Some(&mut levels), None, &mut values)?;
        if levels.is_empty() {
            // A column that is never blank.
            levels.resize(values.len(), 1);
        }
        let with_value = levels.iter().filter(|level| **level == 1).count();
        if levels.len() != rows || values.len() != with_value {
            let message = "a column does not have one cell for every row";
            return Err(ParquetError::General(message.to_owned()));
        }
        let mut values = values.into_iter();
        let cells = levels.iter().map(|level| if *level == 1 { values.next() } else { None });
        self.batch = cells.collect::<Vec<_>>().into_iter();
        Ok(())
    }

    fn push_next(&mut self, record: &mut StringRecord) -> Option<()> {
        match self.batch.next().flatten() {
            Some(value) => value.push_to(record)?,
            None => record.push_field(""),
        }
        Some(())
    }
}

/// A value as the text of a cell.
trait CellValue {
    /// Adds the value to a record; nothing if it is not text.
    fn push_to(&self, record: &mut StringRecord) -> Option<()>;
}

impl CellValue for ByteArray {
    fn push_to(&self, record: &mut StringRecord) -> Option<()> {
        record.push_field(self.as_utf8().ok()?);
        Some(())
    }
}

macro_rules! written_as_cell {
    ($($value:ty),*) => {
        $(impl CellValue for $value {
            fn push_to(&self, record: &mut StringRecord) -> Option<()> {
                record.push_field(&self.to_string());
                Some(())
            }
        })*
    };
}

written_as_cell!(bool, i64, f64);

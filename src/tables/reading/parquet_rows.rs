//! Rows of Parquet. Lines are rows, counted from 1.

use std::fs::File;

use csv::StringRecord;
use parquet::file::reader::{FileReader, SerializedFileReader};
use parquet::record::reader::RowIter;
use parquet::record::{Field, Row};

use super::{RowTrouble, Rows};

pub(super) struct ParquetRows {
    rows: RowIter<'static>,
    columns: Vec<String>,
    line: u64,
}

pub(super) fn open(file: File) -> Result<ParquetRows, RowTrouble> {
    let trouble = |error: parquet::errors::ParquetError| RowTrouble {
        line: None,
        message: error.to_string(),
    };
    let reader = SerializedFileReader::new(file).map_err(trouble)?;
    let schema = reader.metadata().file_metadata().schema();
    let columns = schema.get_fields().iter().map(|field| field.name().to_owned()).collect();
    Ok(ParquetRows { rows: RowIter::from_file_into(Box::new(reader)), columns, line: 0 })
}

impl Rows for ParquetRows {
    fn columns(&self) -> Vec<String> {
        self.columns.clone()
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        self.line += 1;
        let row: Option<Row> =
            self.rows.next().transpose().map_err(|error| RowTrouble::at(self.line, error))?;
        let Some(row) = row else { return Ok(None) };
        record.clear();
        for (name, field) in row.get_column_iter() {
            match field {
                Field::Null => record.push_field(""),
                Field::Str(text) => record.push_field(text),
                Field::Bool(truth) => record.push_field(if *truth { "true" } else { "false" }),
                Field::Long(number) => record.push_field(&number.to_string()),
                Field::Double(number) => record.push_field(&number.to_string()),
                _ => {
                    let message = format!("`{name}` has a type that no table of a run has");
                    return Err(RowTrouble::at(self.line, message));
                }
            }
        }
        Ok(Some(self.line))
    }
}

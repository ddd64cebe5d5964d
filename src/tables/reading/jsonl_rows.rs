//! Rows of JSON, an object a line.

use std::fs::File;
use std::io::{BufRead, BufReader};

use csv::StringRecord;
use serde_json::{Map, Value};

use super::{RowTrouble, Rows};

/// A row; the keys stay in the order of the line.
type Object = Map<String, Value>;

pub(super) struct JsonlRows {
    file: BufReader<File>,
    columns: Vec<String>,
    /// The first row, which was read for the names of the columns.
    first: Option<Object>,
    line: u64,
    text: String,
}

pub(super) fn open(file: File) -> Result<JsonlRows, RowTrouble> {
    let file = BufReader::with_capacity(1 << 16, file);
    let (columns, text) = (Vec::new(), String::new());
    let mut rows = JsonlRows { file, columns, first: None, line: 0, text };
    rows.first = rows.read()?;
    rows.columns = rows.first.iter().flat_map(Map::keys).cloned().collect();
    Ok(rows)
}

impl JsonlRows {
    fn read(&mut self) -> Result<Option<Object>, RowTrouble> {
        self.text.clear();
        self.line += 1;
        let length = self.file.read_line(&mut self.text);
        if length.map_err(|error| RowTrouble::at(self.line, error))? == 0 {
            return Ok(None);
        }
        let object = serde_json::from_str(&self.text);
        object.map(Some).map_err(|error| RowTrouble::at(self.line, error))
    }
}

impl Rows for JsonlRows {
    fn columns(&self) -> Vec<String> {
        self.columns.clone()
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        let object = match self.first.take() {
            Some(first) => first,
            None => match self.read()? {
                Some(object) => object,
                None => return Ok(None),
            },
        };
        if !object.keys().eq(&self.columns) {
            return Err(RowTrouble::at(self.line, "the row has other keys than the first one"));
        }
        record.clear();
        for (name, value) in &object {
            match value {
                Value::Null => record.push_field(""),
                Value::String(text) => record.push_field(text),
                Value::Bool(_) | Value::Number(_) => record.push_field(&value.to_string()),
                Value::Array(_) | Value::Object(_) => {
                    return Err(RowTrouble::at(
                        self.line,
                        format!("`{name}` is not a plain value"),
                    ));
                }
            }
        }
        Ok(Some(self.line))
    }
}

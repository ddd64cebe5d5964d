//! Rows that are no table: objects of JSON from elsewhere, each with keys of its own in any order.

use std::borrow::Cow;
use std::fmt;
use std::path::PathBuf;

use csv::StringRecord;
use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, Visitor};

use super::jsonl_rows::{CellSeed, Key, explained};
use super::{Row, RowTrouble, Rows, TableReader, TableTrouble};

/// Reads rows one by one, as far as these columns go. What a row does not hold is blank, and what else it holds
/// is passed over.
pub struct LooseRows(TableReader);

impl LooseRows {
    /// Rows of such columns.
    #[must_use]
    pub fn of<'n>(columns: impl IntoIterator<Item = &'n str>) -> LooseRows {
        LooseRows(TableReader {
            path: PathBuf::new(),
            columns: columns.into_iter().map(str::to_owned).collect(),
            rows: Box::new(NoRows),
            is_needed: Vec::new(),
            record: StringRecord::new(),
            expected: None,
            rows_read: 0,
        })
    }

    /// Reads a row.
    ///
    /// # Errors
    ///
    /// If it is not a JSON object, or one of the columns holds no plain value.
    pub fn read(&mut self, text: &str) -> Result<Row<'_>, TableTrouble> {
        let columns = &self.0.columns;
        let mut cells = vec![String::new(); columns.len()];
        let mut json = serde_json::Deserializer::from_str(text);
        let seed = CellsSeed { columns, cells: &mut cells };
        let read = seed.deserialize(&mut json).and_then(|()| json.end());
        let no_file = PathBuf::new();
        read.map_err(|error| TableTrouble::of_file(&no_file, explained(&error)))?;
        self.0.record = cells.iter().collect();
        Ok(Row { table: &self.0, line: 1 })
    }
}

/// What is never asked: rows are handed over.
struct NoRows;

impl Rows for NoRows {
    fn columns(&self) -> Vec<String> {
        Vec::new()
    }

    fn next(&mut self, _record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        Ok(None)
    }
}

/// Reads some of the values of an object into the cells of their columns.
struct CellsSeed<'c> {
    columns: &'c [String],
    cells: &'c mut [String],
}

impl<'de> DeserializeSeed<'de> for CellsSeed<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for CellsSeed<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let mut value = StringRecord::new();
        while let Some(Key(key)) = map.next_key::<Key<'_>>()? {
            let key: Cow<'_, str> = key;
            let Some(place) = self.columns.iter().position(|column| *column == key) else {
                map.next_value::<IgnoredAny>()?;
                continue;
            };
            value.clear();
            map.next_value_seed(CellSeed { column: &key, record: &mut value })?;
            self.cells[place] = value.get(0).unwrap_or_default().to_owned();
        }
        Ok(())
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;

    #[test]
    fn rows_may_have_other_keys_in_any_order() {
        let mut rows = LooseRows::of(["a", "b"]);
        let row = rows.read(r#"{"x":[{"a":1}],"b":"two","a":1}"#).unwrap();
        assert_eq!((row.text(0), row.text(1)), ("1", "two"));
        let row = rows.read(r#"{"b":null}"#).unwrap();
        assert_eq!((row.text(0), row.text(1)), ("", ""));
    }

    #[test]
    fn what_is_no_row_is_told_with_its_place() {
        let mut rows = LooseRows::of(["a"]);
        for (text, told) in [
            ("", "EOF while parsing a value at byte 0"),
            ("7", "invalid type: integer `7`, expected an object"),
            (r#"{"a":[]}"#, "invalid type: sequence, expected a plain value of `a`"),
            ("{} {}", "trailing characters at byte 4"),
        ] {
            assert_eq!(rows.read(text).err().unwrap().message, told, "{text}");
        }
    }
}

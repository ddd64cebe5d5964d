//! Rows of JSON, an object on each line.

use std::borrow::Cow;
use std::fmt;
use std::io::{BufRead, BufReader};

use csv::StringRecord;
use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, Visitor};
use serde_json::error::Category;

use super::{RowTrouble, Rows};
use crate::tables::checksum::{Checksum, SummedFile};

pub(super) struct JsonlRows {
    file: BufReader<SummedFile>,
    columns: Vec<String>,
    line: u64,
    text: String,
    /// Whether the text is of a row that was read for the names of the columns alone.
    is_next: bool,
}

pub(super) fn open(file: SummedFile) -> Result<JsonlRows, RowTrouble> {
    let file = BufReader::with_capacity(1 << 16, file);
    let (columns, text) = (Vec::new(), String::new());
    let mut rows = JsonlRows { file, columns, line: 0, text, is_next: false };
    rows.is_next = rows.read_line()?;
    if rows.is_next {
        let Keys(columns) = rows.parsed(serde_json::from_str)?;
        rows.columns = columns;
    }
    Ok(rows)
}

impl JsonlRows {
    /// Reads the next line; false if there is none.
    fn read_line(&mut self) -> Result<bool, RowTrouble> {
        self.text.clear();
        self.line += 1;
        let length = self.file.read_line(&mut self.text);
        length.map(|length| length > 0).map_err(|error| RowTrouble::at(self.line, error))
    }

    fn parsed<'t, T>(
        &'t self,
        parse: impl FnOnce(&'t str) -> serde_json::Result<T>,
    ) -> Result<T, RowTrouble> {
        parse(&self.text).map_err(|error| RowTrouble::at(self.line, explained(&error)))
    }
}

/// What is wrong with a line, and at which byte if it is no JSON.
pub(super) fn explained(error: &serde_json::Error) -> String {
    let message = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let message = message.strip_suffix(&place).unwrap_or(&message);
    match error.classify() {
        Category::Data => message.to_owned(),
        _ => format!("{message} at byte {}", error.column()),
    }
}

impl Rows for JsonlRows {
    fn columns(&self) -> Vec<String> {
        self.columns.clone()
    }

    fn next(&mut self, record: &mut StringRecord) -> Result<Option<u64>, RowTrouble> {
        if !std::mem::take(&mut self.is_next) && !self.read_line()? {
            return Ok(None);
        }
        record.clear();
        self.parsed(|text| {
            let mut json = serde_json::Deserializer::from_str(text);
            RowSeed { columns: &self.columns, record }.deserialize(&mut json)?;
            json.end()
        })?;
        Ok(Some(self.line))
    }

    fn checksum(&self) -> Option<Checksum> {
        Some(self.file.get_ref().checksum())
    }
}

/// The keys of an object in their order.
struct Keys(Vec<String>);

impl<'de> Deserialize<'de> for Keys {
    fn deserialize<D: Deserializer<'de>>(json: D) -> Result<Keys, D::Error> {
        struct KeysVisitor;
        impl<'de> Visitor<'de> for KeysVisitor {
            type Value = Keys;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Keys, A::Error> {
                let mut keys = Vec::new();
                while let Some((key, IgnoredAny)) = map.next_entry::<String, IgnoredAny>()? {
                    keys.push(key);
                }
                Ok(Keys(keys))
            }
        }
        json.deserialize_map(KeysVisitor)
    }
}

/// Reads an object with these keys into the cells of a record.
struct RowSeed<'r> {
    columns: &'r [String],
    record: &'r mut StringRecord,
}

impl<'de> DeserializeSeed<'de> for RowSeed<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for RowSeed<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(), A::Error> {
        let other_keys = || A::Error::custom("the row's keys differ from those of the first row");
        for column in self.columns {
            let Key(key) = map.next_key()?.ok_or_else(other_keys)?;
            if key != *column {
                return Err(other_keys());
            }
            map.next_value_seed(CellSeed { column, record: self.record })?;
        }
        match map.next_key::<Key<'_>>()? {
            Some(_) => Err(other_keys()),
            None => Ok(()),
        }
    }
}

/// A key, borrowed where it holds no escapes.
#[derive(Deserialize)]
pub(super) struct Key<'t>(#[serde(borrow)] pub(super) Cow<'t, str>);

/// Reads a plain value into the next cell of a record.
pub(super) struct CellSeed<'r> {
    pub(super) column: &'r str,
    pub(super) record: &'r mut StringRecord,
}

impl<'de> DeserializeSeed<'de> for CellSeed<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, json: D) -> Result<(), D::Error> {
        json.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for CellSeed<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a plain value of `{}`", self.column)
    }

    fn visit_unit<E>(self) -> Result<(), E> {
        self.record.push_field("");
        Ok(())
    }

    fn visit_str<E>(self, text: &str) -> Result<(), E> {
        self.record.push_field(text);
        Ok(())
    }

    fn visit_bool<E>(self, truth: bool) -> Result<(), E> {
        self.record.push_field(if truth { "true" } else { "false" });
        Ok(())
    }

    fn visit_u64<E>(self, number: u64) -> Result<(), E> {
        self.record.push_field(&number.to_string());
        Ok(())
    }

    fn visit_i64<E>(self, number: i64) -> Result<(), E> {
        self.record.push_field(&number.to_string());
        Ok(())
    }

    fn visit_f64<E>(self, number: f64) -> Result<(), E> {
        self.record.push_field(&number.to_string());
        Ok(())
    }
}

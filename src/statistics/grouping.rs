//! Rows sorted into groups by the values of columns.

use std::collections::BTreeMap;

use super::outcome::Outcomes;
use super::tally::{Base, Counted, CountedColumns, Tally};
use crate::collection::TimeControl;
use crate::tables::{Row, TableReader, TableTrouble, hit_column};

/// What is told of a row beside its columns.
const DERIVED: [(&str, Key); 4] = [
    ("rating", Key::Band),
    ("year", Key::Year),
    ("eco-letter", Key::EcoLetter),
    ("time-category", Key::TimeCategory),
];

/// How one value of a row is found.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Key {
    /// The band of 200 points of the mean rating.
    Band,
    /// The year of the date.
    Year,
    /// The first letter of the ECO code.
    EcoLetter,
    /// The category of the time control.
    TimeCategory,
    /// Whether a follow-up came.
    Came(usize),
    /// A cell as it stands.
    Cell(usize),
}

impl Key {
    /// The column that the value is read from, unless it is one that is counted anyway.
    fn column(self) -> Option<usize> {
        match self {
            Key::Band => None,
            Key::Year => Some(hit_column("date")),
            Key::EcoLetter => Some(hit_column("eco")),
            Key::TimeCategory => Some(hit_column("time_control")),
            Key::Came(column) | Key::Cell(column) => Some(column),
        }
    }
}

/// A value by which rows are grouped; numbers are sorted as numbers, before words, and what is unknown
/// comes last.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum KeyValue {
    /// A whole number.
    Number(i64),
    /// Words.
    Text(String),
    /// The cell is blank.
    Unknown,
}

impl std::fmt::Display for KeyValue {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            KeyValue::Number(number) => write!(f, "{number}"),
            KeyValue::Text(text) => f.write_str(text),
            KeyValue::Unknown => f.write_str("?"),
        }
    }
}

/// The keys by which the rows of one table are grouped.
#[derive(Clone, Debug)]
pub struct Grouping {
    keys: Vec<Key>,
}

impl Grouping {
    /// Finds columns by name in a table: `rating`, `year`, `eco-letter`, `time-category`, the name of a
    /// column, or that of a follow-up or factor without its `f_` or `x_`.
    ///
    /// # Errors
    ///
    /// The name that the table does not know.
    pub fn new(names: &[String], table: &TableReader) -> Result<Grouping, String> {
        let key = |name: &String| key(name, table).ok_or_else(|| name.clone());
        Ok(Grouping { keys: names.iter().map(key).collect::<Result<_, _>>()? })
    }

    /// The names by which a table can be grouped.
    #[must_use]
    pub fn names(table: &TableReader) -> Vec<&str> {
        let columns = || table.columns().iter().map(String::as_str);
        let bare = |start| columns().filter_map(move |name| name.strip_prefix(start));
        let derived = DERIVED.iter().map(|&(name, _)| name);
        derived.chain(columns()).chain(bare("f_")).chain(bare("x_")).collect()
    }

    /// How the games of the collection ended for White that are in a group by year and rating band, if
    /// it is grouped by these.
    #[must_use]
    pub fn base(&self, values: &[KeyValue], base: &Base) -> Outcomes {
        let agrees = |wanted: Key, found: Option<i64>| {
            let found = found.map_or(KeyValue::Unknown, KeyValue::Number);
            let mut keys = self.keys.iter().zip(values);
            keys.all(|(&key, value)| key != wanted || *value == found)
        };
        base.white(|year, band| agrees(Key::Year, year) && agrees(Key::Band, band))
    }

    /// The columns from which the values are read, those of [`CountedColumns`] aside.
    fn columns(&self) -> impl Iterator<Item = usize> {
        self.keys.iter().filter_map(|key| key.column())
    }

    fn values(&self, row: Row<'_>, counted: &Counted) -> Vec<KeyValue> {
        self.keys.iter().map(|&key| value(key, row, counted)).collect()
    }
}

fn key(name: &str, table: &TableReader) -> Option<Key> {
    if let Some((_, key)) = DERIVED.iter().find(|(known, _)| *known == name) {
        return Some(*key);
    }
    let column = |name: &str| table.column(name);
    let follow_up = |name: &str| column(name).filter(|_| name.starts_with("f_")).map(Key::Came);
    follow_up(name)
        .or_else(|| column(name).map(Key::Cell))
        .or_else(|| follow_up(&format!("f_{name}")))
        .or_else(|| column(&format!("x_{name}")).map(Key::Cell))
}

fn value(key: Key, row: Row<'_>, counted: &Counted) -> KeyValue {
    let cell = key.column().map_or("", |column| row.text(column));
    match key {
        Key::Band => counted.band.map_or(KeyValue::Unknown, |band| KeyValue::Number(band.into())),
        Key::Year => {
            let year = cell.split('.').next().unwrap_or_default();
            year.parse().map_or(KeyValue::Unknown, KeyValue::Number)
        }
        Key::EcoLetter => text(cell.get(..1).unwrap_or_default()),
        Key::TimeCategory => {
            let category = TimeControl::of_tag(cell.as_bytes());
            category.map_or(KeyValue::Unknown, |category| text(category.word()))
        }
        Key::Came(_) => text(if cell.is_empty() { "no" } else { "yes" }),
        Key::Cell(_) => cell.parse().map_or_else(|_| text(cell), KeyValue::Number),
    }
}

fn text(text: &str) -> KeyValue {
    if text.is_empty() { KeyValue::Unknown } else { KeyValue::Text(text.to_owned()) }
}

/// A tally for each group.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Groups {
    /// By the values of the keys, in their order.
    pub tallies: BTreeMap<Vec<KeyValue>, Tally>,
}

impl Groups {
    /// Adds the rows of a table, so many as there are.
    ///
    /// # Errors
    ///
    /// If a row can't be read.
    pub fn add_table(
        &mut self,
        table: &mut TableReader,
        grouping: &Grouping,
    ) -> Result<(), TableTrouble> {
        let columns = CountedColumns::default();
        table.need(columns.all().into_iter().chain(grouping.columns()));
        while let Some(row) = table.next_row()? {
            let counted = columns.read(row)?;
            self.tallies.entry(grouping.values(row, &counted)).or_default().add(&counted);
        }
        Ok(())
    }
}

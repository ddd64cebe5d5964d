//! What each column of a run's tables means.

use std::sync::LazyLock;

use crate::tables::{Column, Kind, Meaning};

/// What a column of a follow-up starts with.
pub(super) const FOLLOW_UP: &str = "f_";
/// What a column of a factor starts with.
pub(super) const FACTOR: &str = "x_";
/// What the tables of hits are called in the dictionary.
pub(super) const HITS: &str = "hits";
/// And those of verdicts.
pub(super) const VERDICTS: &str = "verdicts";
/// What a follow-up or a factor is called in the dictionary.
pub(super) const ANY: &str = "NAME";

static DICTIONARY: LazyLock<Vec<Entry>> = LazyLock::new(|| {
    let lines = csv::Reader::from_reader(&include_bytes!("dictionary.csv")[..]);
    let lines = lines.into_deserialize::<[String; 5]>();
    // A test compares them with the columns, so that none is missing.
    lines.filter_map(Result::ok).map(entry).collect()
});

/// A line of the dictionary.
struct Entry {
    table: String,
    column: String,
    meaning: Meaning,
}

/// Reads a line of the dictionary.
fn entry([table, column, unit, meaning, blank]: [String; 5]) -> Entry {
    Entry { table, column, meaning: Meaning { unit, meaning, blank } }
}

/// A column of a table, with what it means.
pub(super) fn column(table: &str, name: &str, kind: Kind) -> Column {
    let starts = [FOLLOW_UP, FACTOR].into_iter().find(|start| name.starts_with(start));
    let known = match starts.filter(|_| table == HITS) {
        Some(start) => format!("{start}{ANY}"),
        None => name.to_owned(),
    };
    let entry = DICTIONARY.iter().find(|entry| entry.table == table && entry.column == known);
    let meaning = entry.map(|entry| entry.meaning.clone()).unwrap_or_default();
    Column { name: name.to_owned(), kind, meaning }
}

/// The columns that the dictionary has, in its order, with their tables.
#[cfg(test)]
pub(super) fn lines() -> impl Iterator<Item = (&'static str, &'static str)> {
    DICTIONARY.iter().map(|entry| (&*entry.table, &*entry.column))
}

//! The tables of a run besides those of hits: all games that were mined, counted, and the games that could
//! not be mined.

use super::field::Field;
use crate::collection::{GameResult, Reject};
use crate::mining::{BaseCount, BaseKind};
use crate::tables::{Cell, Column, Kind, TableReader, TableTrouble};

pub(super) fn columns(columns: &[(&str, Kind)]) -> Vec<Column> {
    columns.iter().map(|&(name, kind)| Column { name: name.to_owned(), kind }).collect()
}

/// The columns of the table of all games that were mined.
const COLLECTION_COLUMNS: [(&str, Kind); 6] = [
    ("source", Kind::Text),
    ("year", Kind::Integer),
    ("rating_band", Kind::Integer),
    ("result", Kind::Text),
    ("games", Kind::Integer),
    ("plies", Kind::Integer),
];

/// The columns of the table of all games that were mined.
#[must_use]
pub fn collection_columns() -> Vec<Column> {
    columns(&COLLECTION_COLUMNS)
}

/// The row of the games of one source and kind.
#[must_use]
pub fn collection_cells(source: &str, kind: BaseKind, count: BaseCount) -> Vec<Cell<'_>> {
    vec![
        source.into(),
        kind.year.into(),
        kind.band.into(),
        kind.result.as_str().into(),
        count.games.into(),
        count.plies.into(),
    ]
}

/// How many games of one kind there are in a source.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CollectionRow {
    /// The source.
    pub source: String,
    /// The kind.
    pub kind: BaseKind,
    /// How many.
    pub count: BaseCount,
}

/// The games of a run by source and kind, one row after the other.
pub struct CollectionReader {
    table: TableReader,
}

impl CollectionReader {
    pub(super) fn new(table: TableReader) -> Result<CollectionReader, TableTrouble> {
        table.expect_columns(COLLECTION_COLUMNS.iter().map(|&(name, _)| name))?;
        Ok(CollectionReader { table })
    }

    /// The next kind of games and how many there are.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for.
    pub fn next_kind(&mut self) -> Result<Option<(BaseKind, BaseCount)>, TableTrouble> {
        Ok(self.next_row()?.map(|row| (row.kind, row.count)))
    }

    /// The next row.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for.
    pub fn next_row(&mut self) -> Result<Option<CollectionRow>, TableTrouble> {
        let Some(row) = self.table.next_row()? else { return Ok(None) };
        let [year, band, result, games, plies] =
            [1, 2, 3, 4, 5].map(|column| Field::new(row, column));
        let ended = result.parsed("a result", |text| GameResult::parse(text.as_bytes()))?;
        let kind = BaseKind {
            year: year.integer()?,
            band: band.integer()?,
            result: result.needed(ended)?,
        };
        let count = BaseCount { games: games.number()?, plies: plies.number()? };
        Ok(Some(CollectionRow { source: row.text(0).to_owned(), kind, count }))
    }
}

/// The columns of the table of games that were not mined.
#[must_use]
pub fn reject_columns() -> Vec<Column> {
    columns(&[
        ("source", Kind::Text),
        ("game", Kind::Integer),
        ("offset", Kind::Integer),
        ("ply", Kind::Integer),
        ("reason", Kind::Text),
        ("text", Kind::Text),
        ("text_offset", Kind::Integer),
        ("detail", Kind::Text),
    ])
}

/// The row of a game that was not mined.
#[must_use]
pub fn reject_cells<'t>(source: &'t str, reject: &'t Reject) -> Vec<Cell<'t>> {
    vec![
        source.into(),
        reject.game.0.into(),
        reject.offset.0.into(),
        reject.ply.into(),
        Cell::Text(reject.reason.to_string().into()),
        (*reject.text).into(),
        reject.fault_offset.0.into(),
        (*reject.detail).into(),
    ]
}

//! The table of the games with hits that were left out of a run, since copies of them came before: whole, with
//! their hits, so that who joins runs can decide anew which copy is the first.
//!
//! Invariant: with these games put back in their places, a run has all games with hits that its sources have.

use super::base::columns;
use super::placed::{PlacedRow, RowShape, kept_row};
use crate::tables::{Cell, Column, DUPLICATES_TABLE, GAMES_TABLE, Kind, TableReader, TableTrouble};

/// The columns of the table of the games that were left out.
pub(super) const DUPLICATE_COLUMNS: [(&str, Kind); 4] =
    [("source", Kind::Text), ("game", Kind::Integer), ("table", Kind::Text), ("row", Kind::Text)];

/// The columns of the table of the games that were left out.
#[must_use]
pub fn duplicate_columns() -> Vec<Column> {
    columns(DUPLICATES_TABLE, &DUPLICATE_COLUMNS)
}

/// The row that stands for a row of the table that is called so.
#[must_use]
pub fn duplicate_cells<'t>(
    source: &'t str,
    game: u64,
    table: &'t str,
    row: &[Cell<'_>],
) -> Vec<Cell<'t>> {
    let texts: Vec<_> = row.iter().map(Cell::text).collect();
    let row = serde_json::to_string(&texts).expect("texts can be written as JSON");
    vec![source.into(), game.into(), table.into(), Cell::Text(row.into())]
}

/// A game that was left out, and its hits.
pub struct LeftOutGame {
    /// Its row of the table of games.
    pub game: PlacedRow,
    /// Its hits: which query found them, and their rows.
    pub hits: Vec<(usize, PlacedRow)>,
}

/// The games that were left out of a run, one after the other.
pub struct LeftOutGames {
    table: TableReader,
    /// The tables that their rows are of, and their columns: that of the games first.
    shapes: Vec<(String, RowShape)>,
    /// The first row of the next game.
    ahead: Option<PlacedRow>,
}

impl LeftOutGames {
    pub(super) fn new(
        table: TableReader,
        hits: impl IntoIterator<Item = (String, RowShape)>,
    ) -> Result<LeftOutGames, TableTrouble> {
        table.expect_columns(DUPLICATE_COLUMNS.iter().map(|&(name, _)| name))?;
        let games = (GAMES_TABLE.to_owned(), RowShape::of_games());
        let shapes = std::iter::once(games).chain(hits).collect();
        let mut games = LeftOutGames { table, shapes, ahead: None };
        games.ahead = match games.read()? {
            Some((0, game)) => Some(game),
            Some(_) => return Err(TableTrouble::of_file(games.table.path(), NO_GAME)),
            None => None,
        };
        Ok(games)
    }

    /// The row of the game that comes next, which stays.
    #[must_use]
    pub fn peek(&self) -> Option<&PlacedRow> {
        self.ahead.as_ref()
    }

    /// The next game.
    ///
    /// # Errors
    ///
    /// If a row can't be read; after the last game, if the table was changed.
    pub fn take(&mut self) -> Result<Option<LeftOutGame>, TableTrouble> {
        let Some(game) = self.ahead.take() else { return Ok(None) };
        let mut hits = Vec::new();
        loop {
            match self.read()? {
                Some((0, next)) => {
                    self.ahead = Some(next);
                    break;
                }
                Some((table, hit)) => hits.push((table - 1, hit)),
                None => break,
            }
        }
        Ok(Some(LeftOutGame { game, hits }))
    }

    /// The next row, and the table that it is of.
    fn read(&mut self) -> Result<Option<(usize, PlacedRow)>, TableTrouble> {
        let Some(row) = self.table.next_row()? else { return Ok(None) };
        let name = row.text(2);
        let Some(table) = self.shapes.iter().position(|(known, _)| known == name) else {
            return Err(row.trouble(2, format!("`{name}` is not a table of this run")));
        };
        Ok(Some((table, kept_row(&self.shapes[table].1, row, 3)?)))
    }
}

/// What is wrong with a hit that is kept without its game.
const NO_GAME: &str = "a hit stands before its game";

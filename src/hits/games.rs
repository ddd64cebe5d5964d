//! The table of the games with hits: each whole and once, so that a run needs its collection no more.

use super::base::columns;
use super::field::Field;
use crate::mining::{GameId, GameText, MinedGame};
use crate::tables::{Cell, Column, GAMES_TABLE, Kind, TableReader, TableTrouble};

/// The columns of the table of the games with hits.
const GAME_COLUMNS: [(&str, Kind); 20] = [
    ("game_id", Kind::Text),
    ("source", Kind::Text),
    ("game", Kind::Integer),
    ("offset", Kind::Integer),
    ("event", Kind::Text),
    ("site", Kind::Text),
    ("date", Kind::Text),
    ("round", Kind::Text),
    ("white", Kind::Text),
    ("black", Kind::Text),
    ("white_elo", Kind::Integer),
    ("black_elo", Kind::Integer),
    ("eco", Kind::Text),
    ("time_control", Kind::Text),
    ("result", Kind::Text),
    ("plies", Kind::Integer),
    ("start", Kind::Text),
    ("moves", Kind::Text),
    ("evaluations", Kind::Text),
    ("moves_hash", Kind::Text),
];

/// How many of them there were at first; who shows games needs no more.
const FIRST_COLUMNS: usize = 19;

/// The columns of the table of the games with hits.
#[must_use]
pub fn game_columns() -> Vec<Column> {
    columns(GAMES_TABLE, &GAME_COLUMNS)
}

/// The row of a game with hits.
#[must_use]
pub fn game_cells<'g>(source: &'g str, game: &'g MinedGame) -> Vec<Cell<'g>> {
    let (info, text) = (&game.info, &game.text);
    vec![
        Cell::Text(info.id.to_string().into()),
        source.into(),
        info.number.0.into(),
        info.offset.0.into(),
        (*info.event).into(),
        (*info.site).into(),
        (*info.date).into(),
        (*info.round).into(),
        (*info.white).into(),
        (*info.black).into(),
        info.white_elo.into(),
        info.black_elo.into(),
        (*info.eco).into(),
        (*info.time_control).into(),
        info.result.as_str().into(),
        info.plies.into(),
        (*text.start).into(),
        (*text.moves).into(),
        (*text.evaluations).into(),
        Cell::Text(game.moves.to_string().into()),
    ]
}

/// The games with hits of a run, one row after the other.
pub struct GameReader {
    table: TableReader,
}

impl GameReader {
    pub(super) fn new(table: TableReader) -> Result<GameReader, TableTrouble> {
        table.expect_columns(GAME_COLUMNS[..FIRST_COLUMNS].iter().map(|&(name, _)| name))?;
        Ok(GameReader { table })
    }

    /// The next game that is wanted: what it is known by, and its whole text.
    ///
    /// # Errors
    ///
    /// If a cell does not hold what its column is for.
    pub fn next_game(
        &mut self,
        is_wanted: impl Fn(GameId) -> bool,
    ) -> Result<Option<(GameId, GameText)>, TableTrouble> {
        while let Some(row) = self.table.next_row()? {
            let id = Field::new(row, 0);
            let known = id.parsed("the id of a game", |text| text.parse().ok())?;
            let id = id.needed(known)?;
            if is_wanted(id) {
                let [start, moves, evaluations] =
                    [16, 17, 18].map(|column| Field::new(row, column).text().to_owned());
                return Ok(Some((id, GameText { start, moves, evaluations })));
            }
        }
        Ok(None)
    }
}

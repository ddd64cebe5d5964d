//! The table of the games with hits: each whole and once, so that a run needs its collection no more.

use std::fmt::Write as _;

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

/// The tags of a game, by the place of their column.
const TAGS: [(&str, usize); 11] = [
    ("Event", 4),
    ("Site", 5),
    ("Date", 6),
    ("Round", 7),
    ("White", 8),
    ("Black", 9),
    ("WhiteElo", 10),
    ("BlackElo", 11),
    ("ECO", 12),
    ("TimeControl", 13),
    ("Result", 14),
];

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

    /// Reads nothing but what games are known by from now on.
    pub(super) fn want_ids(&mut self) {
        self.table.need([0]);
    }

    /// What the next game is known by.
    ///
    /// # Errors
    ///
    /// If the row can't be read.
    pub(super) fn next_id(&mut self) -> Result<Option<GameId>, TableTrouble> {
        let Some(row) = self.table.next_row()? else { return Ok(None) };
        let id = Field::new(row, 0);
        let known = id.parsed("the id of a game", |text| text.parse().ok())?;
        id.needed(known).map(Some)
    }

    /// Where the game begins that was read last, in bytes of the table; nothing if no reading can begin there.
    pub(super) fn begins(&self) -> Option<u64> {
        self.table.begins()
    }

    /// The next game as a text of PGN: its tags, where it starts, its moves.
    ///
    /// # Errors
    ///
    /// If the row can't be read.
    pub fn next_text(&mut self) -> Result<Option<String>, TableTrouble> {
        let Some(row) = self.table.next_row()? else { return Ok(None) };
        let mut text = String::new();
        let mut tag = |name: &str, value: &str| {
            // No tag of a game holds the end of a line (PGN standard 8.1.1).
            let value: String = value.chars().filter(|letter| !letter.is_control()).collect();
            let value = value.replace('\\', "\\\\").replace('"', "\\\"");
            let _ = writeln!(text, "[{name} \"{value}\"]");
        };
        for (name, column) in TAGS.into_iter().filter(|&(_, column)| !row.text(column).is_empty()) {
            tag(name, row.text(column));
        }
        if !row.text(16).is_empty() {
            tag("SetUp", "1");
            tag("FEN", row.text(16));
        }
        let _ = writeln!(text, "\n{} {}\n", row.text(17), row.text(14));
        Ok(Some(text))
    }
}

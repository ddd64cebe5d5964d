//! The game that a position is from, as far as its row tells.

use crate::tables::{Row, TableTrouble, hit_column};
use crate::teaching::specimen::{integer, ratings};

/// A game, by its tags and its place in a collection.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GameReference {
    /// The source.
    pub source: String,
    /// The number of the game in the source, from 1.
    pub number: i64,
    /// The Event tag; like all tags, empty if it is missing.
    pub event: String,
    /// The Site tag.
    pub site: String,
    /// The Date tag.
    pub date: String,
    /// The Round tag.
    pub round: String,
    /// White's name.
    pub white: String,
    /// Black's name.
    pub black: String,
    /// White's and Black's rating.
    pub ratings: [Option<i64>; 2],
    /// The ECO tag.
    pub eco: String,
    /// How the game ended, as in its tag.
    pub result: String,
    /// The ply of the offer.
    pub ply: i64,
}

impl GameReference {
    /// Reads a row of hits.
    ///
    /// # Errors
    ///
    /// If a number is none.
    pub fn read(row: Row<'_>) -> Result<GameReference, TableTrouble> {
        let text = |name| row.text(hit_column(name)).to_owned();
        Ok(GameReference {
            source: text("source"),
            number: integer(row, "game")?,
            event: text("event"),
            site: text("site"),
            date: text("date"),
            round: text("round"),
            white: text("white"),
            black: text("black"),
            ratings: ratings(row)?,
            eco: text("eco"),
            result: text("result"),
            ply: integer(row, "ply")?,
        })
    }

    /// Whether both are the same game of the same source.
    #[must_use]
    pub fn is_same_game(&self, other: &GameReference) -> bool {
        (&self.source, self.number) == (&other.source, other.number)
    }
}

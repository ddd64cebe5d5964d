//! What the tables say of the game of a hit.

use shakmaty::Color;

use super::expected_score::expected_score;
use crate::collection::{ByteOffset, GameNumber, GameResult, Rating, Tags, band};

/// What the tables say of the game of a hit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GameInfo {
    /// Its number in the source.
    pub number: GameNumber,
    /// Where it starts in the source.
    pub offset: ByteOffset,
    /// The Event tag; like all tags, empty if it is missing.
    pub event: String,
    /// The Site tag.
    pub site: String,
    /// The Date tag.
    pub date: String,
    /// The Round tag.
    pub round: String,
    /// The White tag.
    pub white: String,
    /// The Black tag.
    pub black: String,
    /// White's rating.
    pub white_elo: Option<Rating>,
    /// Black's rating.
    pub black_elo: Option<Rating>,
    /// The ECO tag.
    pub eco: String,
    /// The TimeControl tag.
    pub time_control: String,
    /// The result.
    pub result: GameResult,
    /// The number of plies.
    pub plies: usize,
}

impl GameInfo {
    /// Takes what the tables need from a game's tags.
    #[must_use]
    pub fn new(
        number: GameNumber,
        offset: ByteOffset,
        tags: &Tags<'_>,
        result: GameResult,
        plies: usize,
    ) -> GameInfo {
        GameInfo {
            number,
            offset,
            event: tags.text_of(b"Event"),
            site: tags.text_of(b"Site"),
            date: tags.text_of(b"Date"),
            round: tags.text_of(b"Round"),
            white: tags.text_of(b"White"),
            black: tags.text_of(b"Black"),
            white_elo: tags.white_elo(),
            black_elo: tags.black_elo(),
            eco: tags.text_of(b"ECO"),
            time_control: tags.text_of(b"TimeControl"),
            result,
            plies,
        }
    }

    /// What the ratings predict for a side, in hundredths of a point, if both are known.
    #[must_use]
    pub fn expected(&self, side: Color) -> Option<u8> {
        let (white, black) = (self.white_elo?, self.black_elo?);
        Some(side.fold_wb(expected_score(white, black), expected_score(black, white)))
    }

    /// The band of 200 points of the mean rating, if both are known.
    #[must_use]
    pub fn band(&self) -> Option<Rating> {
        band(self.white_elo, self.black_elo)
    }

    /// The rating of the weaker player; 0 unless both are known.
    #[must_use]
    pub fn weaker_rating(&self) -> Rating {
        self.white_elo.unwrap_or(0).min(self.black_elo.unwrap_or(0))
    }
}

//! What the tables say of the game of a hit.

use shakmaty::Color;

use super::doubt::Doubt;
use super::expected_score::expected_score;
use super::game_id::GameId;
use crate::collection::{ByteOffset, GameNumber, GameResult, Rating, Tags, band};

/// The most bytes of a tag's value that are kept; longer ones end in an ellipsis. It bounds the tables: a
/// value stands in every row of its game. The standard allows 255 characters (PGN standard 7).
pub const MOST_OF_VALUE: usize = 1000;

/// What the tables say of the game of a hit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GameInfo {
    /// What it is known by.
    pub id: GameId,
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
    /// What makes it doubtful, in words; most often nothing.
    pub doubts: String,
}

/// The whole of a game besides what its tags say.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct GameText {
    /// The position in which it starts, if that is not the usual one.
    pub start: String,
    /// Its moves as they are written in the collection, with blanks between.
    pub moves: String,
    /// What comments say that the position after each ply is worth, from White's side, with blanks between and `?`
    /// where they say nothing; nothing if no comment says anything.
    pub evaluations: String,
}

impl GameInfo {
    /// Takes what the tables need from a game's tags. Its id is not known without its moves.
    #[must_use]
    pub fn new(
        number: GameNumber,
        offset: ByteOffset,
        tags: &Tags<'_>,
        result: GameResult,
        plies: usize,
        known_doubts: impl IntoIterator<Item = Doubt>,
    ) -> GameInfo {
        let mut is_cut = false;
        let mut text_of = |name: &[u8]| {
            let mut value = tags.text_of(name);
            is_cut |= cut(&mut value);
            value
        };
        let mut info = GameInfo {
            id: GameId::default(),
            number,
            offset,
            event: text_of(b"Event"),
            site: text_of(b"Site"),
            date: text_of(b"Date"),
            round: text_of(b"Round"),
            white: text_of(b"White"),
            black: text_of(b"Black"),
            white_elo: tags.white_elo(),
            black_elo: tags.black_elo(),
            eco: text_of(b"ECO"),
            time_control: text_of(b"TimeControl"),
            result,
            plies,
            doubts: String::new(),
        };
        let long_tag = is_cut.then_some(Doubt::LongTag);
        for doubt in known_doubts.into_iter().chain(long_tag) {
            doubt.add_to(&mut info.doubts);
        }
        info
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

/// Cuts a value that is too long; whether it was.
fn cut(value: &mut String) -> bool {
    let is_long = value.len() > MOST_OF_VALUE;
    if is_long {
        value.truncate(value.floor_char_boundary(MOST_OF_VALUE));
        value.push('…');
    }
    is_long
}

//! How a game ended.

use serde::{Deserialize, Serialize};
use shakmaty::Color;

/// The result of a game.
#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord, Serialize, Deserialize)]
pub enum GameResult {
    /// `1-0`
    WhiteWins,
    /// `0-1`
    BlackWins,
    /// `1/2-1/2`
    Draw,
    /// `*`: not finished, or not known.
    Open,
}

impl GameResult {
    /// The result as PGN writes it (PGN standard 8.1.1.7).
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            GameResult::WhiteWins => "1-0",
            GameResult::BlackWins => "0-1",
            GameResult::Draw => "1/2-1/2",
            GameResult::Open => "*",
        }
    }

    /// A side's game points in halves, if the game has a result.
    #[must_use]
    pub fn half_points(self, side: Color) -> Option<u8> {
        match (self, side) {
            (GameResult::Open, _) => None,
            (GameResult::Draw, _) => Some(1),
            (GameResult::WhiteWins, Color::White) | (GameResult::BlackWins, Color::Black) => {
                Some(2)
            }
            _ => Some(0),
        }
    }

    /// Who won, if somebody did.
    #[must_use]
    pub fn winner(self) -> Option<Color> {
        match self {
            GameResult::WhiteWins => Some(Color::White),
            GameResult::BlackWins => Some(Color::Black),
            GameResult::Draw | GameResult::Open => None,
        }
    }

    /// Reads a result as PGN writes it.
    #[must_use]
    pub fn parse(text: &[u8]) -> Option<GameResult> {
        match text {
            b"1-0" => Some(GameResult::WhiteWins),
            b"0-1" => Some(GameResult::BlackWins),
            b"1/2-1/2" | b"1/2" => Some(GameResult::Draw),
            b"*" => Some(GameResult::Open),
            _ => None,
        }
    }
}

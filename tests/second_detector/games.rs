//! From text to moves. `pgn-reader` only cuts the text; a move is resolved by trying every legal one.

use std::ops::ControlFlow;

use cozy_chess::{Board, Move};
use pgn_reader::{RawTag, SanPlus, Visitor};

use super::rules::{Played, after, legal_moves};
use super::san::san_means;

/// The text of a game: where it starts, and its moves as they are written.
#[derive(Default)]
pub(super) struct GameText {
    pub(super) fen: Option<String>,
    pub(super) result: String,
    pub(super) sans: Vec<String>,
}

/// Collects [`GameText`]s; side lines are left out.
pub(super) struct Cutter;

impl Visitor for Cutter {
    type Tags = GameText;
    type Movetext = GameText;
    type Output = GameText;

    fn begin_tags(&mut self) -> ControlFlow<GameText, GameText> {
        ControlFlow::Continue(GameText::default())
    }

    fn tag(
        &mut self,
        text: &mut GameText,
        name: &[u8],
        value: RawTag<'_>,
    ) -> ControlFlow<GameText> {
        let value = || String::from_utf8_lossy(&value.decode()).into_owned();
        match name {
            b"FEN" => text.fen = Some(value()),
            b"Result" => text.result = value(),
            _ => {}
        }
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, text: GameText) -> ControlFlow<GameText, GameText> {
        ControlFlow::Continue(text)
    }

    fn san(&mut self, text: &mut GameText, san: SanPlus) -> ControlFlow<GameText> {
        text.sans.push(san.to_string());
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, text: GameText) -> GameText {
        text
    }
}

fn replay(text: &GameText) -> Result<Vec<Played>, String> {
    let mut board = match &text.fen {
        Some(fen) => Board::from_fen(fen, false).map_err(|error| format!("{fen}: {error}"))?,
        None => Board::default(),
    };
    let mut moves = Vec::with_capacity(text.sans.len());
    for (index, san) in text.sans.iter().enumerate() {
        let fitting: Vec<Move> =
            legal_moves(&board).into_iter().filter(|&mv| san_means(&board, mv, san)).collect();
        let [mv] = fitting[..] else {
            let count = fitting.len();
            return Err(format!("ply {}: {count} legal moves fit {san}", index + 1));
        };
        let next = after(&board, mv);
        moves.push(Played { before: board, mv });
        board = next;
    }
    Ok(moves)
}

/// The moves of a game, and its result by the tags.
pub(super) struct Course {
    pub(super) moves: Vec<Played>,
    pub(super) result: String,
}

impl Course {
    /// # Errors
    ///
    /// A move that cannot be played, with its ply.
    pub(super) fn of(text: GameText) -> Result<Self, String> {
        Ok(Self { moves: replay(&text)?, result: text.result })
    }

    /// The position after so many plies.
    pub(super) fn position(&self, plies: usize) -> Board {
        match self.moves.get(plies) {
            Some(played) => played.before.clone(),
            None => self.moves[plies - 1].after(),
        }
    }
}

/// The legal move of `fen` that `san` stands for.
pub(super) fn position(fen: &str, san: &str) -> Played {
    course(fen, san, "*").moves.remove(0)
}

/// The course of a game from `fen`.
pub(super) fn course(fen: &str, line: &str, result: &str) -> Course {
    let sans = line.split(' ').map(str::to_owned).collect();
    let text = GameText { fen: Some(fen.to_owned()), result: result.to_owned(), sans };
    Course::of(text).unwrap_or_else(|fault| panic!("{fen}: {fault}"))
}

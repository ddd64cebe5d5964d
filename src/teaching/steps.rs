//! A line of moves played out: the position after each, so that a page can show it.

use shakmaty::{Color, EnPassantMode, Position, Setup};

use crate::board::{FenFault, Replay, read_position};
use crate::drawing::Way;

/// A move of a line, and the board after it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Step {
    /// The number of the move.
    pub number: u32,
    /// Who moves.
    pub side: Color,
    /// The move as written in the table.
    pub san: String,
    /// From where to where the man goes that was moved.
    pub way: Way,
    /// Where the men stand after it, as in a FEN.
    pub placement: String,
}

/// A position and the moves from it on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Steps {
    /// The position before the first move.
    pub start: Setup,
    /// The moves; there is at least one.
    pub moves: Vec<Step>,
}

/// Why a line can't be played out.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum StepsError {
    /// The position is not one.
    #[error("it does not start from a position: {0}")]
    Position(FenFault),
    /// A move is not one, or can't be made.
    #[error("`{0}` can't be played there")]
    Move(String),
    /// There is no move.
    #[error("the line has no move")]
    Nothing,
}

impl Steps {
    /// Plays a line of SAN from a position given as FEN.
    ///
    /// # Errors
    ///
    /// If the position is none, or a move is not legal, or there is none.
    pub fn of(fen: &str, line: &str) -> Result<Steps, StepsError> {
        let position = read_position(fen).map_err(StepsError::Position)?;
        let start = position.to_setup(EnPassantMode::Always);
        let played = Replay::read(&position, line);
        let played = played.map_err(|san| StepsError::Move(san.to_owned()))?;
        let sans = line.split_ascii_whitespace().enumerate();
        let moves: Vec<Step> = sans.filter_map(|(index, san)| step(&played, index, san)).collect();
        if moves.is_empty() { Err(StepsError::Nothing) } else { Ok(Steps { start, moves }) }
    }

    /// Where the men stand at the start, as in a FEN.
    #[must_use]
    pub fn placement(&self) -> String {
        self.start.board.board_fen().to_string()
    }
}

/// The move at an index, and the board after it.
fn step(played: &Replay, index: usize, san: &str) -> Option<Step> {
    let (before, made) = (&played.positions[index], played.moves[index]);
    Some(Step {
        number: before.fullmoves().get(),
        side: before.turn(),
        san: san.to_owned(),
        way: Way::of(made)?,
        placement: played.positions[index + 1].board().board_fen().to_string(),
    })
}

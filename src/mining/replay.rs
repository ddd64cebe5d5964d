//! A game played out on the board: its moves, and the positions between them.

use shakmaty::san::{San, SanError, SanPlus, Suffix};
use shakmaty::{Chess, Color, Move, Position};

use crate::board::{balance, play_san, read_san, written};
use crate::collection::Reason;

/// The moves of a game and the positions between them: `positions[i]` is the one in which `moves[i]`
/// is played, and the last position is the end.
#[derive(Clone, Debug, Default)]
pub struct Replay {
    /// One more than there are moves.
    pub positions: Vec<Chess>,
    /// The moves in playing order.
    pub moves: Vec<Move>,
}

impl Replay {
    /// Starts a game anew; room that an earlier game took is kept.
    pub fn start(&mut self, start: &Chess) {
        self.positions.clear();
        self.moves.clear();
        self.positions.push(start.clone());
    }

    /// A game from its start and its legal moves.
    #[must_use]
    pub fn of(start: &Chess, line: &[Move]) -> Replay {
        let mut replay = Replay::default();
        replay.start(start);
        for &m in line {
            replay.play(m);
        }
        replay
    }

    /// The position after the last move.
    ///
    /// # Panics
    ///
    /// If the replay was never started.
    #[must_use]
    pub fn end(&self) -> &Chess {
        self.positions.last().expect("a replay holds its first position from the start")
    }

    /// White's material less Black's in each position, in pawns.
    #[must_use]
    pub fn balances(&self) -> Vec<i32> {
        self.positions.iter().map(|pos| balance(pos, Color::White)).collect()
    }

    /// Plays a legal move.
    pub fn play(&mut self, m: Move) {
        let mut after = self.end().clone();
        after.play_unchecked(m);
        self.positions.push(after);
        self.moves.push(m);
    }

    /// Plays a move as it stands in movetext.
    ///
    /// # Errors
    ///
    /// Why it can't be made.
    #[inline]
    pub fn play_text(&mut self, text: &[u8]) -> Result<Move, Reason> {
        let san = read_san(text).ok_or(Reason::UnreadableMove)?;
        self.play_san(san).map_err(|error| match error {
            SanError::IllegalSan => Reason::IllegalMove,
            SanError::AmbiguousSan => Reason::AmbiguousMove,
        })
    }

    /// Plays a move as written.
    ///
    /// # Errors
    ///
    /// If no man, or more than one, can legally make it; the replay is then as it was.
    pub fn play_san(&mut self, san: San) -> Result<Move, SanError> {
        let last = self.positions.len() - 1;
        // Copied and played where it stays: it is large, and this is the innermost loop of mining.
        self.positions.extend_from_within(last..);
        let (before, after) = self.positions.split_at_mut(last + 1);
        let played = play_san(&before[last], san, &mut after[0]);
        match played {
            Ok(m) => self.moves.push(m),
            Err(_) => self.positions.truncate(last + 1),
        }
        played
    }

    /// The SAN of a legal move of the position at an index.
    #[must_use]
    pub(super) fn san_of(&self, index: usize, m: Move) -> SanPlus {
        let mut after = self.positions[index].clone();
        after.play_unchecked(m);
        SanPlus { san: written(&self.positions[index], m), suffix: check_mark(&after) }
    }

    /// The SAN of the move at an index.
    #[must_use]
    pub fn san(&self, index: usize) -> SanPlus {
        let san = written(&self.positions[index], self.moves[index]);
        SanPlus { san, suffix: check_mark(&self.positions[index + 1]) }
    }
}

/// The mark for the check or mate that stands on the board. Mate is looked for only in check.
fn check_mark(pos: &Chess) -> Option<Suffix> {
    pos.is_check().then(|| if pos.is_checkmate() { Suffix::Checkmate } else { Suffix::Check })
}

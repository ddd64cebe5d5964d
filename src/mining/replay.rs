//! A game played out on the board: its moves, and the positions between them.

use std::ops::ControlFlow;

use pgn_reader::Visitor;
use shakmaty::san::{SanError, SanPlus};
use shakmaty::{Chess, Move, Position};

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
    pub fn start(&mut self, start: Chess) {
        self.positions.clear();
        self.moves.clear();
        self.positions.push(start);
    }

    /// A game from its start and its legal moves.
    #[must_use]
    pub fn of(start: &Chess, line: &[Move]) -> Replay {
        let mut replay = Replay::default();
        replay.start(start.clone());
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

    /// Plays a legal move.
    pub fn play(&mut self, m: Move) {
        let mut after = self.end().clone();
        after.play_unchecked(m);
        self.moves.push(m);
        self.positions.push(after);
    }

    /// Plays a move as written.
    ///
    /// # Errors
    ///
    /// If no man, or more than one, can legally make it.
    pub fn play_san(&mut self, san: SanPlus) -> Result<Move, SanError> {
        let m = san.san.to_move(self.end())?;
        self.play(m);
        Ok(m)
    }

    /// The SAN of the move at an index.
    #[must_use]
    pub fn san(&self, index: usize) -> SanPlus {
        SanPlus::from_move(self.positions[index].clone(), self.moves[index])
    }
}

/// How the replay of a game ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Ending {
    /// At its end.
    Whole,
    /// At a move that can't be played.
    Wrong(SanError),
}

/// Plays a game's moves on the board as a reader finds them.
pub(super) struct OnBoard<'a> {
    /// Started with the game's first position.
    pub(super) replay: &'a mut Replay,
}

impl Visitor for OnBoard<'_> {
    type Tags = ();
    type Movetext = ();
    type Output = Ending;

    fn begin_tags(&mut self) -> ControlFlow<Ending> {
        ControlFlow::Continue(())
    }

    fn begin_movetext(&mut self, (): ()) -> ControlFlow<Ending> {
        ControlFlow::Continue(())
    }

    fn san(&mut self, (): &mut (), san: SanPlus) -> ControlFlow<Ending> {
        match self.replay.play_san(san) {
            Ok(_) => ControlFlow::Continue(()),
            Err(error) => ControlFlow::Break(Ending::Wrong(error)),
        }
    }

    fn end_game(&mut self, (): ()) -> Ending {
        Ending::Whole
    }
}

//! What a program is asked: a position, as a start and the moves since.

use shakmaty::{CastlingMode, Chess, Move, Position};

/// A position to evaluate. The moves since the start tell a program what would be a repetition. All its moves
/// are searched, or all but some.
#[derive(Clone, Debug)]
pub struct Question {
    start: Chess,
    moves: Vec<Move>,
    now: Chess,
    excluded: Vec<Move>,
    /// How many times as many positions may be searched as for other questions.
    times: u32,
}

impl Question {
    /// Asks about a position without earlier moves.
    #[must_use]
    pub fn new(start: Chess) -> Question {
        Question { now: start.clone(), moves: Vec::new(), start, excluded: Vec::new(), times: 1 }
    }

    /// Asks about the position one move later; `None` if the move is illegal.
    #[must_use]
    pub fn then(mut self, m: Move) -> Option<Question> {
        self.now = self.now.play(m).ok()?;
        self.moves.push(m);
        self.excluded.clear();
        Some(self)
    }

    /// Asks about the same position if these moves could not be played; `None` if there is no other.
    #[must_use]
    pub fn without(self, excluded: &[Move]) -> Option<Question> {
        let question = Question { excluded: excluded.to_vec(), ..self };
        (!question.searched().is_empty()).then_some(question)
    }

    /// Asks for a search of so many times as many positions.
    #[must_use]
    pub fn searched_longer(self, times: u32) -> Question {
        Question { times, ..self }
    }

    /// How many times as many positions may be searched as for other questions.
    #[must_use]
    pub fn times(&self) -> u32 {
        self.times
    }

    /// The legal moves that are searched.
    #[must_use]
    pub fn searched(&self) -> Vec<Move> {
        self.now.legal_moves().into_iter().filter(|&m| self.allows(m)).collect()
    }

    /// Whether a move is not excluded.
    #[must_use]
    pub fn allows(&self, m: Move) -> bool {
        !self.excluded.contains(&m)
    }

    /// Whether a move is excluded.
    #[must_use]
    pub fn is_restricted(&self) -> bool {
        !self.excluded.is_empty()
    }

    /// The position at the start.
    #[must_use]
    pub fn start(&self) -> &Chess {
        &self.start
    }

    /// The moves since.
    #[must_use]
    pub fn moves(&self) -> &[Move] {
        &self.moves
    }

    /// The position to evaluate.
    #[must_use]
    pub fn now(&self) -> &Chess {
        &self.now
    }

    /// Whether only a program that plays Chess960 understands it: there is a castling right in a game
    /// with a shuffled back rank.
    #[must_use]
    pub fn is_shuffled(&self) -> bool {
        let castles = self.start.castles();
        castles.mode() == CastlingMode::Chess960 && castles.any()
    }
}

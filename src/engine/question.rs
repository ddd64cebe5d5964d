//! What a program is asked: a position, as a start and the moves since.

use std::time::Duration;

use shakmaty::{CastlingMode, Chess, Move, Position};

/// A position to evaluate. The moves since the start tell a program what would be a repetition. All its moves
/// are searched, or all but some.
#[derive(Clone, Debug)]
pub struct Question {
    start: Chess,
    moves: Vec<Move>,
    now: Chess,
    excluded: Vec<Move>,
    length: SearchLength,
}

/// How many positions are searched for an answer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum SearchLength {
    /// As many as the program is asked for.
    Usual,
    /// This many.
    Within(u64),
    /// This many times as many as usual.
    Times(u32),
}

impl Question {
    /// Asks about a position without earlier moves.
    #[must_use]
    pub fn new(start: Chess) -> Question {
        let (moves, excluded) = (Vec::new(), Vec::new());
        Question { now: start.clone(), moves, start, excluded, length: SearchLength::Usual }
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

    /// Asks the same, to be answered within this many positions.
    #[must_use]
    pub fn within(self, nodes: u64) -> Question {
        Question { length: SearchLength::Within(nodes), ..self }
    }

    /// Asks for a search of this many times as many positions as usual, which may take as many times as long.
    #[must_use]
    pub fn searched_longer(self, times: u32) -> Question {
        Question { length: SearchLength::Times(times), ..self }
    }

    /// Within how many positions it is to be answered, where `usual` is what the program is asked for.
    #[must_use]
    pub fn nodes(&self, usual: u64) -> u64 {
        match self.length {
            SearchLength::Usual => usual,
            SearchLength::Within(nodes) => nodes,
            SearchLength::Times(times) => usual.saturating_mul(times.into()),
        }
    }

    /// How long the program may search, where `usual` is how long it may by itself.
    #[must_use]
    pub fn patience(&self, usual: Duration) -> Duration {
        match self.length {
            SearchLength::Usual | SearchLength::Within(_) => usual,
            SearchLength::Times(times) => usual.saturating_mul(times),
        }
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

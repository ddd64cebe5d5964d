//! A game played out on the board: its moves, and the positions between them.

use std::ops::ControlFlow;

use pgn_reader::Visitor;
use shakmaty::san::{San, SanError, SanPlus, Suffix};
use shakmaty::{Chess, Move, Position};

use super::matcher::Step;
use super::rehearsal::is_offer;
use crate::board::{has_safe_king, only_move, written};
use crate::query::Pattern;

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
        self.positions.extend_from_within(self.positions.len() - 1..);
        if let Some(after) = self.positions.last_mut() {
            after.play_unchecked(m);
        }
        self.moves.push(m);
    }

    fn take_back(&mut self) {
        self.positions.pop();
        self.moves.pop();
    }

    /// Plays a move as written.
    ///
    /// # Errors
    ///
    /// If no man, or more than one, can legally make it.
    pub fn play_san(&mut self, san: San) -> Result<(), SanError> {
        if let Some(m) = only_move(self.end(), san) {
            self.play(m);
            if has_safe_king(self.end()) {
                return Ok(());
            }
            self.take_back();
        }
        let m = san.to_move(self.end())?;
        self.play(m);
        Ok(())
    }

    /// The SAN of the move at an index.
    #[must_use]
    pub fn san(&self, index: usize) -> SanPlus {
        let san = written(&self.positions[index], self.moves[index]);
        SanPlus { san, suffix: Suffix::from_position(&self.positions[index + 1]) }
    }
}

/// An offer that fits a lens as far as can be told when it is played.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Offer {
    /// The index of the pattern.
    pub(super) query: usize,
    /// The index of its lens.
    pub(super) lens: usize,
    /// The index of the move.
    pub(super) index: usize,
}

/// How the replay of a game ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Ending {
    /// At its last candidate move, none having been an offer.
    NoOffer,
    /// At its end.
    Whole,
    /// At a move that can't be played.
    Wrong(SanError),
}

/// Plays a game's moves on the board as a reader finds them, and notes the offers among its candidate
/// moves.
pub(super) struct OnBoard<'a> {
    patterns: &'a [Pattern],
    replay: &'a mut Replay,
    /// The indices of the candidate moves, in order; `None` if every move is one.
    candidates: Option<&'a [usize]>,
    /// Whether the game is replayed to its end even without an offer.
    to_the_end: bool,
    /// The offers found.
    pub(super) offers: Vec<Offer>,
}

impl<'a> OnBoard<'a> {
    /// Starts a game. If it has `candidates`, it is left behind the last of them unless there was an
    /// offer or it is to be replayed `to_the_end`.
    pub(super) fn new(
        patterns: &'a [Pattern],
        start: &Chess,
        candidates: Option<&'a [usize]>,
        to_the_end: bool,
        replay: &'a mut Replay,
    ) -> OnBoard<'a> {
        replay.start(start.clone());
        OnBoard { patterns, replay, candidates, to_the_end, offers: Vec::new() }
    }

    /// Whether the move at an index is a candidate; if so, it is crossed off.
    fn is_candidate(&mut self, index: usize) -> bool {
        match &mut self.candidates {
            None => true,
            Some(candidates) => match candidates.split_first() {
                Some((&first, later)) if first == index => {
                    *candidates = later;
                    true
                }
                _ => false,
            },
        }
    }

    fn is_over(&self) -> bool {
        self.offers.is_empty()
            && !self.to_the_end
            && self.candidates.is_some_and(<[usize]>::is_empty)
    }

    fn note_offers(&mut self, index: usize) {
        let step = Step::at(self.replay, index);
        let attacker = step.before.turn();
        for (query, pattern) in self.patterns.iter().enumerate() {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                if seen.view.attacker == attacker && is_offer(seen, step) {
                    self.offers.push(Offer { query, lens, index });
                }
            }
        }
    }
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
        let index = self.replay.moves.len();
        if let Err(error) = self.replay.play_san(san.san) {
            return ControlFlow::Break(Ending::Wrong(error));
        }
        if self.is_candidate(index) {
            self.note_offers(index);
            if self.is_over() {
                return ControlFlow::Break(Ending::NoOffer);
            }
        }
        ControlFlow::Continue(())
    }

    fn end_game(&mut self, (): ()) -> Ending {
        Ending::Whole
    }
}

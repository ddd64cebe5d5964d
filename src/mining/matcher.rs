//! Whether a move fits a sentence, whether a fact holds, and which follow-ups came.

use std::cell::OnceCell;

use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, attacks};

use super::replay::Replay;
use crate::board::{self, View};
use crate::query::{
    Act, Amount, Check, Condition, Fact, Lens, LensId, MoveSentence, Relation, Side, Squares,
    Window,
};

/// A move in its game: the positions around it and the move after it, where that is known.
pub(super) struct Step<'a> {
    pub(super) before: &'a Chess,
    pub(super) m: Move,
    pub(super) after: &'a Chess,
    pub(super) next: Option<Move>,
    cost: OnceCell<i32>,
}

impl<'a> Step<'a> {
    pub(super) fn new(before: &'a Chess, m: Move, after: &'a Chess) -> Step<'a> {
        Step { before, m, after, next: None, cost: OnceCell::new() }
    }

    pub(super) fn at(replay: &'a Replay, index: usize) -> Step<'a> {
        let (before, after) = (&replay.positions[index], &replay.positions[index + 1]);
        let next = replay.moves.get(index + 1).copied();
        Step { next, ..Step::new(before, replay.moves[index], after) }
    }

    /// What the move gives up on its square, in pawns; reckoned once.
    pub(super) fn cost(&self) -> i32 {
        *self.cost.get_or_init(|| board::cost_behind(self.m, self.after))
    }
}

/// An offer that fits a lens as far as can be told when it is played.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Offer {
    /// The pattern and the lens.
    pub(super) seen: LensId,
    /// The index of the move.
    pub(super) index: usize,
}

/// Whether a move fits a lens's offer and its conditions, as far as that can be told as soon as it is
/// played.
pub(super) fn is_offer(lens: &Lens, step: &Step<'_>) -> bool {
    is_ready(lens, step.before, step.m) && comes_off(&lens.offer, step)
}

/// The part of [`is_offer`] that is told before the move is made: who moves where, and the conditions.
pub(super) fn is_ready(lens: &Lens, before: &Chess, m: Move) -> bool {
    is_meant(&lens.offer, lens.view, before, m)
        && lens.when.iter().all(|condition| holds(condition, lens.view, before))
}

/// Whether the move at an index fits a sentence seen from `view`; its window is not looked at.
#[must_use]
pub fn fits(sentence: &MoveSentence, view: View, replay: &Replay, index: usize) -> bool {
    let step = Step::at(replay, index);
    is_meant(sentence, view, step.before, step.m)
        && comes_off(sentence, &step)
        && sentence.is_taken.is_none_or(|men| is_taken(men, &step))
}

/// Whether a sentence speaks of this move: of its side, its man and its squares.
fn is_meant(sentence: &MoveSentence, view: View, before: &Chess, m: Move) -> bool {
    before.turn() == sentence.side.color(view.attacker)
        && sentence.men.contains(m.role())
        && goes_as_said(sentence, view, before.board(), m)
}

/// Whether a move does what a sentence asks of it: the check it gives and the price it has.
pub(super) fn comes_off(sentence: &MoveSentence, step: &Step<'_>) -> bool {
    sentence.check.is_none_or(|check| gives(check, step))
        && (sentence.giving_up == 0 || step.cost() >= sentence.giving_up)
        && (sentence.uncovering == 0
            || board::uncovered(step.before, step.m) >= sentence.uncovering)
}

fn goes_as_said(sentence: &MoveSentence, view: View, board: &Board, m: Move) -> bool {
    let is_in = |squares, square| on_board(squares, board, view).contains(square);
    let aims_right = sentence
        .aim
        .is_none_or(|(act, squares)| acts(act, m) && is_in(squares, board::destination(m)));
    let starts_right =
        sentence.from.is_none_or(|squares| m.from().is_some_and(|from| is_in(squares, from)));
    aims_right && starts_right
}

fn acts(act: Act, m: Move) -> bool {
    match act {
        Act::Takes(men) => m.capture().is_some_and(|role| men.contains(role)),
        Act::MovesTo => !m.is_capture(),
        Act::To => true,
    }
}

fn gives(check: Check, step: &Step<'_>) -> bool {
    match check {
        Check::With => step.after.is_check(),
        Check::Without => !step.after.is_check(),
        Check::Mate => step.after.is_checkmate(),
        Check::Double => step.after.checkers().count() > 1,
        // A rook that castles has moved, too.
        Check::Discovered if step.m.is_castle() => false,
        Check::Discovered => {
            let others = step.after.checkers() & !Bitboard::from_square(board::destination(step.m));
            !others.is_empty()
        }
    }
}

fn is_taken(men: board::Men, step: &Step<'_>) -> bool {
    step.next.is_some_and(|next| {
        men.contains(next.role()) && board::captures_on(next, board::destination(step.m))
    })
}

/// The squares on this board, those beside the defender's king included if they are asked for.
fn on_board(squares: Squares, board: &Board, view: View) -> Bitboard {
    let beside = match board.king_of(view.defender()) {
        Some(king) if squares.beside_king => attacks::king_attacks(king),
        _ => Bitboard::EMPTY,
    };
    squares.named | beside
}

/// Whether a condition seen from `view` holds in a position.
#[must_use]
pub fn holds(condition: &Condition, view: View, pos: &Chess) -> bool {
    let mut alternatives = condition.alternatives.iter();
    alternatives.any(|facts| facts.iter().all(|fact| is_fact(fact, view, pos)))
}

fn is_fact(fact: &Fact, view: View, pos: &Chess) -> bool {
    let squares = on_board(fact.squares, pos.board(), view);
    let count = |side: Side, men| {
        let color: Color = side.color(view.attacker);
        let found = match fact.relation {
            Relation::On => men_on(pos.board(), color, men) & squares,
            Relation::PinnedOn => board::pinned(pos.board(), color, men, squares),
            Relation::Reaches => board::reaching(pos, color, men, squares),
            Relation::Guards => board::guarding(pos.board(), color, men, squares),
            Relation::BearsOn => board::bearing(pos.board(), color, men, squares),
        };
        found.count()
    };
    let found = count(fact.side, fact.men);
    match fact.amount {
        Amount::No => found == 0,
        Amount::AtLeast(least) => found >= least as usize,
        Amount::MoreThan(side, men) => found > count(side, men),
    }
}

fn men_on(board: &Board, color: Color, men: board::Men) -> Bitboard {
    men.on(board, color)
}

/// Watches the moves after an offer for a lens's follow-ups, one move at a time.
#[derive(Clone, Debug)]
pub struct Watch<'a> {
    lens: &'a Lens,
    /// The moves made since the offer, the attacker's and the defender's.
    moves_made: [u16; 2],
    found: Vec<Option<usize>>,
}

impl<'a> Watch<'a> {
    /// Starts to watch right after the offer.
    #[must_use]
    pub fn new(lens: &'a Lens) -> Watch<'a> {
        Watch { lens, moves_made: [0; 2], found: vec![None; lens.follow_ups.len()] }
    }

    /// Whether no move to come can be a follow-up: each was found, or its time has passed.
    #[must_use]
    pub fn is_over(&self) -> bool {
        let made = self.moves_made[0].min(self.moves_made[1]);
        let mut follow_ups = self.lens.follow_ups.iter().zip(&self.found);
        follow_ups.all(|(sentence, found)| {
            found.is_some() || matches!(sentence.window, Window::Within(moves) if made >= moves)
        })
    }

    /// Looks at the move at an index, the next one after those it has seen.
    pub fn see(&mut self, replay: &Replay, index: usize) {
        let is_attacker = replay.positions[index].turn() == self.lens.view.attacker;
        let made = &mut self.moves_made[usize::from(!is_attacker)];
        *made += 1;
        for (sentence, found) in self.lens.follow_ups.iter().zip(&mut self.found) {
            let is_in_time = match sentence.window {
                Window::Anytime => true,
                Window::Within(moves) => *made <= moves,
            };
            if found.is_none() && is_in_time && fits(sentence, self.lens.view, replay, index) {
                *found = Some(index);
            }
        }
    }

    /// The index of the first move that fits each follow-up, in the query's order.
    #[must_use]
    pub fn found(self) -> Vec<Option<usize>> {
        self.found
    }
}

//! Whether a move fits a sentence.

use std::cell::OnceCell;

use shakmaty::{Bitboard, Board, Chess, Move, Position};

use super::holding::{holds, on_board};
use crate::board::{self, Men, Offered, Replay, View, at_risk, may_cost_more_than};
use crate::query::{Act, Check, Lens, LensId, MoveSentence, PawnRange};

/// A move in its game: the positions around it and the move after it, where that is known.
pub(super) struct GameStep<'a> {
    pub(super) before: &'a Chess,
    pub(super) m: Move,
    pub(super) after: &'a Chess,
    pub(super) next: Option<Move>,
    at_risk: OnceCell<Bitboard>,
    offered: OnceCell<Offered>,
}

impl<'a> GameStep<'a> {
    pub(super) fn new(before: &'a Chess, m: Move, after: &'a Chess) -> GameStep<'a> {
        let (at_risk, offered) = (OnceCell::new(), OnceCell::new());
        GameStep { before, m, after, next: None, at_risk, offered }
    }

    pub(super) fn at(replay: &'a Replay, index: usize) -> GameStep<'a> {
        let (before, after) = (&replay.positions[index], &replay.positions[index + 1]);
        let next = replay.moves.get(index + 1).copied();
        GameStep { next, ..GameStep::new(before, replay.moves[index], after) }
    }

    /// What the move offers; computed once.
    pub(super) fn offered(&self) -> &Offered {
        let offered = || Offered::among(self.at_risk(), self.before, self.m, self.after);
        self.offered.get_or_init(offered)
    }

    /// Whether the move may give up this many pawns, more than none, and a man of these kinds, seen at a glance.
    /// Never wrongly no.
    pub(super) fn may_give_up(&self, least: i32, men: Men) -> bool {
        let (board, side) = (self.after.board(), self.before.turn());
        let men = men.on(board, side) & may_cost_more_than(least - 1, self.m, board, side);
        !men.is_empty() && !(men & self.at_risk()).is_empty()
    }

    /// The men that may be offered; looked for once.
    fn at_risk(&self) -> Bitboard {
        *self.at_risk.get_or_init(|| at_risk(self.before, self.m, self.after))
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
pub(super) fn is_offer(lens: &Lens, step: &GameStep<'_>) -> bool {
    is_meant(&lens.offer, lens.view, step.before, step.m)
        && may_come_off(&lens.offer, step)
        && lens.when.iter().all(|condition| holds(condition, lens.view, step.before))
        && comes_off(&lens.offer, step)
        && lens.after.iter().all(|condition| holds(condition, lens.view, step.after))
}

/// Whether the move at an index fits a sentence seen from `view`; its window is not looked at.
#[must_use]
pub fn fits(sentence: &MoveSentence, view: View, replay: &Replay, index: usize) -> bool {
    let step = GameStep::at(replay, index);
    is_meant(sentence, view, step.before, step.m)
        && comes_off(sentence, &step)
        && goes_on_as_said(sentence, &step, replay, index)
}

/// The part of [`fits`] that is told by the moves after it.
fn goes_on_as_said(
    sentence: &MoveSentence,
    step: &GameStep<'_>,
    replay: &Replay,
    index: usize,
) -> bool {
    sentence.is_taken.is_none_or(|men| is_taken(men, step))
        && sentence.not_taken_back.is_none_or(|moves| !is_made_good(replay, index, moves))
}

/// Whether an offer, as told by [`is_offer`], goes on as a lens says.
pub(super) fn offer_goes_on(lens: &Lens, replay: &Replay, index: usize) -> bool {
    goes_on_as_said(&lens.offer, &GameStep::at(replay, index), replay, index)
}

/// Whether a sentence speaks of this move: of its side, its man and its squares.
pub(super) fn is_meant(sentence: &MoveSentence, view: View, before: &Chess, m: Move) -> bool {
    before.turn() == sentence.side.color(view.attacker)
        && sentence.men.contains(m.role())
        && goes_as_said(sentence, view, before.board(), m)
        && (!sentence.was_en_prise || was_en_prise(before, m))
}

/// Whether a move does what a sentence asks of it: the check it gives and the price it has.
pub(super) fn comes_off(sentence: &MoveSentence, step: &GameStep<'_>) -> bool {
    may_come_off(sentence, step)
        && costs_as_said(sentence, step)
        && sentence
            .uncovering
            .is_none_or(|range| range.contains(board::uncovered(step.before, step.m)))
        && sentence.between.is_none_or(|men| stands_between(men, step))
}

/// The part of [`comes_off`] that is seen at a glance: the check, and whether something may be given up, which
/// most moves don't. Never wrongly no.
fn may_come_off(sentence: &MoveSentence, step: &GameStep<'_>) -> bool {
    let gives_up = |range: PawnRange| {
        range.least <= 0 || step.may_give_up(range.least, sentence.offering.unwrap_or(Men::ANY))
    };
    sentence.check.is_none_or(|check| gives(check, step)) && sentence.giving_up.is_none_or(gives_up)
}

/// Whether a move gives up as much as a sentence asks for, and a man of the kinds it asks for.
fn costs_as_said(sentence: &MoveSentence, step: &GameStep<'_>) -> bool {
    sentence.giving_up.is_none_or(|range| range.contains(step.offered().cost))
        && sentence.offering.is_none_or(|men| men.contains(step.offered().man))
}

/// Whether a man came between two men of the other side, of these kinds, that saw each other before: to a
/// square of a line along which one of them moves.
pub(super) fn stands_between((one, other): (Men, Men), step: &GameStep<'_>) -> bool {
    let (before, after) = (step.before.board(), step.after.board());
    board::sees_through(before, after, step.after.turn(), (one, other), board::destination(step.m))
}

/// Whether the mover's material is back where it was before a move, or above: after an answer to one of the
/// mover's next `moves` moves, or at the end of the game if that comes before the last such answer.
pub(super) fn is_made_good(replay: &Replay, index: usize, moves: u16) -> bool {
    let mover = replay.positions[index].turn();
    let balance = |place: usize| board::balance(&replay.positions[place], mover);
    let last = replay.positions.len() - 1;
    board::settled_after(index, last, moves.into()).any(|place| balance(place) >= balance(index))
}

fn was_en_prise(before: &Chess, m: Move) -> bool {
    let man = Bitboard::from_iter(m.from());
    !board::en_prise(before.board(), before.turn(), man).is_empty()
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

pub(super) fn gives(check: Check, step: &GameStep<'_>) -> bool {
    match check {
        Check::With => step.after.is_check(),
        Check::Without => !step.after.is_check(),
        // No move comes after it.
        Check::Mate => step.next.is_none() && step.after.is_checkmate(),
        Check::Stalemate => step.next.is_none() && step.after.is_stalemate(),
        Check::Double => step.after.checkers().count() > 1,
        // A rook that castles has moved, too.
        Check::Discovered if step.m.is_castle() => false,
        Check::Discovered => {
            let others = step.after.checkers() & !Bitboard::from_square(board::destination(step.m));
            !others.is_empty()
        }
    }
}

pub(super) fn is_taken(men: Men, step: &GameStep<'_>) -> bool {
    step.next.is_some_and(|next| {
        men.contains(next.role()) && board::captures_on(next, board::destination(step.m))
    })
}

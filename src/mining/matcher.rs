//! Whether a move fits a sentence, whether a fact holds, and which follow-ups came.

use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, attacks};

use super::replay::Replay;
use crate::board::{self, View};
use crate::query::{Act, Amount, Check, Fact, Lens, MoveSentence, Relation, Side, Squares, Window};

/// A move in its game: the positions around it and the move after it, where that is known.
#[derive(Clone, Copy)]
pub(super) struct Step<'a> {
    pub(super) before: &'a Chess,
    pub(super) m: Move,
    pub(super) after: &'a Chess,
    pub(super) next: Option<Move>,
}

impl<'a> Step<'a> {
    pub(super) fn at(replay: &'a Replay, index: usize) -> Step<'a> {
        Step {
            before: &replay.positions[index],
            m: replay.moves[index],
            after: &replay.positions[index + 1],
            next: replay.moves.get(index + 1).copied(),
        }
    }
}

/// Whether the move at an index fits a sentence seen from `view`; its window is not looked at.
#[must_use]
pub fn fits(sentence: &MoveSentence, view: View, replay: &Replay, index: usize) -> bool {
    let step = Step::at(replay, index);
    fits_on_board(sentence, view, step) && (!sentence.is_taken || is_taken(step))
}

/// [`fits`], but for what the next move must do: what can be told as soon as the move is played.
pub(super) fn fits_on_board(sentence: &MoveSentence, view: View, step: Step<'_>) -> bool {
    step.before.turn() == sentence.side.color(view.attacker)
        && sentence.men.contains(step.m.role())
        && goes_as_said(sentence, view, step)
        && sentence.check.is_none_or(|check| gives(check, step))
        && (sentence.giving_up == 0 || board::cost(step.before, step.m) >= sentence.giving_up)
        && (sentence.uncovering == 0
            || board::uncovered(step.before, step.m) >= sentence.uncovering)
}

fn goes_as_said(sentence: &MoveSentence, view: View, step: Step<'_>) -> bool {
    let is_in = |squares, square| on_board(squares, step.before.board(), view).contains(square);
    let aims_right = sentence.aim.is_none_or(|(act, squares)| {
        acts(act, step.m) && is_in(squares, board::destination(step.m))
    });
    let starts_right =
        sentence.from.is_none_or(|squares| step.m.from().is_some_and(|from| is_in(squares, from)));
    aims_right && starts_right
}

fn acts(act: Act, m: Move) -> bool {
    match act {
        Act::Takes(men) => m.capture().is_some_and(|role| men.contains(role)),
        Act::MovesTo => !m.is_capture(),
        Act::To => true,
    }
}

fn gives(check: Check, step: Step<'_>) -> bool {
    match check {
        Check::With => step.after.is_check(),
        Check::Without => !step.after.is_check(),
        Check::Mate => step.after.is_checkmate(),
        Check::Double => step.after.checkers().count() > 1,
        Check::Discovered => {
            let others = step.after.checkers() & !Bitboard::from_square(board::destination(step.m));
            !others.is_empty()
        }
    }
}

fn is_taken(step: Step<'_>) -> bool {
    step.next.is_some_and(|next| board::captures_on(next, board::destination(step.m)))
}

/// The squares on this board, those beside the defender's king included if they are asked for.
fn on_board(squares: Squares, board: &Board, view: View) -> Bitboard {
    let beside = match board.king_of(view.defender()) {
        Some(king) if squares.beside_king => attacks::king_attacks(king),
        _ => Bitboard::EMPTY,
    };
    squares.named | beside
}

/// Whether a fact seen from `view` holds in a position.
#[must_use]
pub fn holds(fact: &Fact, view: View, pos: &Chess) -> bool {
    let squares = on_board(fact.squares, pos.board(), view);
    let count = |side: Side, men| {
        let color: Color = side.color(view.attacker);
        let found = match fact.relation {
            Relation::On => men_on(pos.board(), color, men) & squares,
            Relation::PinnedOn => board::pinned(pos.board(), color, men, squares),
            Relation::Reaches => board::reaching(pos, color, men, squares),
            Relation::Guards => board::guarding(pos.board(), color, men, squares),
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

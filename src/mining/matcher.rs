//! Whether a move fits a sentence, whether a fact holds, and which follow-ups came.

use std::cell::OnceCell;

use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, attacks};

use crate::board::{self, Offered, Replay, View};
use crate::query::{
    Act, Amount, Check, Condition, Fact, Lens, LensId, MoveSentence, Relation, Side, Squares,
    Window,
};

/// A move in its game: the positions around it and the move after it, where that is known.
pub(super) struct GameStep<'a> {
    pub(super) before: &'a Chess,
    pub(super) m: Move,
    pub(super) after: &'a Chess,
    pub(super) next: Option<Move>,
    offered: OnceCell<Offered>,
}

impl<'a> GameStep<'a> {
    pub(super) fn new(before: &'a Chess, m: Move, after: &'a Chess) -> GameStep<'a> {
        GameStep { before, m, after, next: None, offered: OnceCell::new() }
    }

    pub(super) fn at(replay: &'a Replay, index: usize) -> GameStep<'a> {
        let (before, after) = (&replay.positions[index], &replay.positions[index + 1]);
        let next = replay.moves.get(index + 1).copied();
        GameStep { next, ..GameStep::new(before, replay.moves[index], after) }
    }

    /// What the move offers; computed once.
    pub(super) fn offered(&self) -> &Offered {
        self.offered.get_or_init(|| Offered::by(self.before, self.m, self.after))
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
    let step = GameStep::at(replay, index);
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
pub(super) fn comes_off(sentence: &MoveSentence, step: &GameStep<'_>) -> bool {
    sentence.check.is_none_or(|check| gives(check, step))
        && (sentence.giving_up == 0 || step.offered().cost >= sentence.giving_up)
        && sentence.offering.is_none_or(|men| men.contains(step.offered().man))
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

fn gives(check: Check, step: &GameStep<'_>) -> bool {
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

fn is_taken(men: board::Men, step: &GameStep<'_>) -> bool {
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

/// Looks for a lens's follow-ups in a game, offer after offer. No move is looked at twice for the same
/// sentence, however many offers there are.
#[derive(Clone, Debug)]
pub struct Watch<'a> {
    lens: &'a Lens,
    sights: Vec<Sight>,
}

impl<'a> Watch<'a> {
    /// Starts to watch a game.
    #[must_use]
    pub fn new(lens: &'a Lens) -> Watch<'a> {
        Watch { lens, sights: vec![Sight::default(); lens.follow_ups.len()] }
    }

    /// The index of the first move after an offer that fits each follow-up in its window, in the query's
    /// order. Offers of a game are asked about in playing order.
    pub fn after(&mut self, replay: &Replay, offer: usize) -> Vec<Option<usize>> {
        let sights = self.lens.follow_ups.iter().zip(&mut self.sights);
        let first = |(sentence, sight): (&MoveSentence, &mut Sight)| {
            let end = replay.moves.len().min(window_end(sentence, offer));
            sight.first(offer + 1, end, |&index| fits(sentence, self.lens.view, replay, index))
        };
        sights.map(first).collect()
    }
}

/// The index after the last move that a follow-up of an offer can be. The defender moves next.
fn window_end(sentence: &MoveSentence, offer: usize) -> usize {
    match (sentence.window, sentence.side) {
        (Window::Anytime, _) => usize::MAX,
        (Window::Within(moves), Side::Attacker) => offer + 2 * usize::from(moves) + 1,
        (Window::Within(moves), Side::Defender) => offer + 2 * usize::from(moves),
    }
}

/// How far a game was looked through for a sentence: of the moves before `end`, back to the last offer,
/// only `fitting` fits, if any does.
#[derive(Clone, Copy, Debug, Default)]
struct Sight {
    end: usize,
    fitting: Option<usize>,
}

impl Sight {
    /// The first index from `from` and before `end` that fits; `from` never goes back.
    fn first(
        &mut self,
        from: usize,
        end: usize,
        fits: impl FnMut(&usize) -> bool,
    ) -> Option<usize> {
        if self.fitting.is_none_or(|fitting| fitting < from) {
            self.fitting = (from.max(self.end)..end).find(fits);
            self.end = self.fitting.map_or(end.max(self.end), |fitting| fitting + 1);
        }
        self.fitting.filter(|&fitting| fitting < end)
    }
}

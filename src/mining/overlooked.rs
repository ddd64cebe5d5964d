//! Offers that could have been made and were not.
//!
//! Looks at every position of a game for legal moves that fit a query's offer and its conditions and
//! give something up. A chance is told once for each query, side and square of the offer: when it came
//! first, and how long it stayed. If the offer was made later in the game, it was not overlooked.

use std::cell::LazyCell;

use shakmaty::{Bitboard, Chess, Color, Move, Position, Role, Square, attacks};

use super::matcher::Step;
use super::rehearsal::is_offer;
use super::replay::{Offer, Replay};
use crate::board::{cost, destination, has_safe_king, pushes};
use crate::query::{Needs, Pattern};

/// An offer that could have been made.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chance {
    /// Which query and lens it fits, and the index of the position in which it came first.
    pub(super) offer: Offer,
    /// The move.
    pub(super) m: Move,
    attacker: Color,
    /// The index of the last position in a row in which it was still there.
    last: usize,
}

impl Chance {
    /// For how many plies it stayed, the first included.
    pub(super) fn stayed(&self) -> usize {
        self.last - self.offer.index + 1
    }

    fn is_of(&self, query: usize, attacker: Color, to: Square) -> bool {
        self.offer.query == query && self.attacker == attacker && destination(self.m) == to
    }
}

/// Looks for offers that were overlooked.
#[derive(Debug)]
pub(super) struct Lookout<'p> {
    patterns: &'p [Pattern],
    /// The patterns whose offers name squares.
    concrete: Vec<bool>,
    needs: Needs,
}

impl<'p> Lookout<'p> {
    pub(super) fn new(patterns: &'p [Pattern]) -> Lookout<'p> {
        let concrete: Vec<bool> = patterns.iter().map(names_squares).collect();
        let named = patterns.iter().zip(&concrete).filter(|(_, is_concrete)| **is_concrete);
        let needs = Needs::of(named.map(|(pattern, _)| pattern));
        Lookout { patterns, concrete, needs }
    }

    /// The chances of a game that were never taken, in the order in which they came.
    pub(super) fn chances(&self, replay: &Replay) -> Vec<Chance> {
        let mut chances: Vec<Chance> = Vec::new();
        let mut made: Vec<(usize, Square)> = Vec::new();
        for (index, &played) in replay.moves.iter().enumerate() {
            let pos = &replay.positions[index];
            for m in self.moves(pos) {
                self.note(pos, m, index, &mut chances, |query| {
                    let is_made = m == played;
                    if is_made {
                        made.push((query, destination(m)));
                    }
                    is_made
                });
            }
        }
        chances.retain(|chance| !made.contains(&(chance.offer.query, destination(chance.m))));
        chances
    }

    /// Notes the chances that a move is in a position, unless it is the move that was played.
    fn note(
        &self,
        before: &Chess,
        m: Move,
        index: usize,
        chances: &mut Vec<Chance>,
        mut is_made: impl FnMut(usize) -> bool,
    ) {
        let mut after = before.clone();
        after.play_unchecked(m);
        if !has_safe_king(&after) {
            return;
        }
        let step = Step { before, m, after: &after, next: None };
        let (attacker, to) = (before.turn(), destination(m));
        let gives_up = LazyCell::new(|| cost(before, m) > 0);
        for (query, pattern) in
            self.patterns.iter().enumerate().filter(|(query, _)| self.concrete[*query])
        {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                let is_chance = seen.view.attacker == attacker
                    && is_offer(seen, step)
                    && (seen.offer.uncovering > 0 || *gives_up);
                if !is_chance || is_made(query) {
                    continue;
                }
                match chances.iter_mut().find(|chance| chance.is_of(query, attacker, to)) {
                    None => {
                        let offer = Offer { query, lens, index };
                        chances.push(Chance { offer, m, attacker, last: index });
                    }
                    Some(chance) if chance.last + 2 == index => chance.last = index,
                    Some(_) => {}
                }
            }
        }
    }

    /// The moves of a position that some offer may be, the safety of the own king aside. The king
    /// himself can't be offered.
    fn moves(&self, pos: &Chess) -> Vec<Move> {
        let board = pos.board();
        let (own, other) = (board.by_color(pos.turn()), board.by_color(pos.turn().other()));
        let mut moves = Vec::new();
        for role in [Role::Bishop, Role::Knight, Role::Rook, Role::Queen, Role::Pawn] {
            let captures = self.needs.squares(pos.turn(), role, true) & other;
            let quiet = self.needs.squares(pos.turn(), role, false) & !board.occupied();
            if (captures | quiet).is_empty() {
                continue;
            }
            for from in own & board.by_role(role) {
                let reach = match role {
                    Role::Pawn => {
                        (attacks::pawn_attacks(pos.turn(), from) & captures)
                            | (pushes(board, pos.turn(), from) & quiet)
                    }
                    _ => board.attacks_from(from) & (captures | quiet),
                };
                let to_last_rank = Bitboard::BACKRANKS;
                moves.extend(reach.into_iter().map(|to| Move::Normal {
                    role,
                    from,
                    capture: board.role_at(to),
                    to,
                    promotion:
                        (role == Role::Pawn && to_last_rank.contains(to)).then_some(Role::Queen),
                }));
            }
        }
        moves
    }
}

/// Whether the offer of a pattern names squares, and not every square.
fn names_squares(pattern: &Pattern) -> bool {
    pattern.query.offer.aim.is_some_and(|(_, squares)| {
        !squares.beside_king && !squares.named.is_empty() && squares.named != Bitboard::FULL
    })
}

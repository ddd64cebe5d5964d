//! Which lenses a move of a position may be an offer for, by what is told before it is made.
//!
//! Many queries ask for the same (the queens are on, no piece hangs). So each condition is told once for a
//! position, and only when some lens asks for it.

use std::cell::Cell;

use shakmaty::{Chess, Move, Position, Square};

use super::holding::holds;
use super::matcher::is_meant;
use crate::board::{View, destination};
use crate::query::{Condition, Lens, LensId, MoveTable, Pattern};

/// The conditions of the lenses of some patterns, each one once.
#[derive(Debug, Default)]
pub(super) struct Readiness<'p> {
    /// Each with a view in which it is told.
    conditions: Vec<(&'p Condition, View)>,
    /// In the order of the patterns.
    lenses: Vec<Asking<'p>>,
    /// For each kind of move, the lenses whose offers it may be, by their indices.
    by_move: MoveTable<usize>,
}

/// A lens with what it asks.
#[derive(Debug)]
struct Asking<'p> {
    id: LensId,
    lens: &'p Lens,
    /// Its conditions, by their indices.
    conditions: Vec<usize>,
}

impl<'p> Readiness<'p> {
    /// The readiness of the patterns that are `wanted`, by their own indices.
    pub(super) fn of(patterns: &'p [Pattern], wanted: impl Fn(&Pattern) -> bool) -> Readiness<'p> {
        let mut all = Readiness::default();
        for (query, pattern) in patterns.iter().enumerate().filter(|(_, pattern)| wanted(pattern)) {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                all.add(LensId { query, lens }, seen);
            }
        }
        all
    }

    fn add(&mut self, id: LensId, lens: &'p Lens) {
        let conditions = lens.when.iter().map(|asked| self.number(asked, lens.view)).collect();
        self.by_move.add(&lens.offer, lens.view.attacker, self.lenses.len());
        self.lenses.push(Asking { id, lens, conditions });
    }

    /// The index of a condition. The wing has no part in it, since its squares are those of the board.
    fn number(&mut self, asked: &'p Condition, view: View) -> usize {
        let is_same =
            |(known, seen): &(&Condition, View)| *known == asked && seen.attacker == view.attacker;
        self.conditions.iter().position(is_same).unwrap_or_else(|| {
            self.conditions.push((asked, view));
            self.conditions.len() - 1
        })
    }

    /// What is told of a position in which the king of the side that is not to move stands on `king`.
    pub(super) fn in_position<'r>(&'r self, pos: &'r Chess, king: Square) -> Ready<'r> {
        let told = vec![Cell::new(None); self.conditions.len()];
        let are_ready = vec![Cell::new(None); self.lenses.len()];
        Ready { all: self, pos, king, told, are_ready }
    }
}

/// What is told of a position so far.
pub(super) struct Ready<'r> {
    all: &'r Readiness<'r>,
    pos: &'r Chess,
    king: Square,
    /// Of each condition, whether it holds.
    told: Vec<Cell<Option<bool>>>,
    /// Of each lens, whether all its conditions hold.
    are_ready: Vec<Cell<Option<bool>>>,
}

impl Ready<'_> {
    /// The lenses that mean a move and whose conditions hold, in the order of the patterns.
    pub(super) fn lenses(&self, m: Move) -> impl Iterator<Item = (LensId, &Lens)> {
        let by_move = &self.all.by_move;
        let numbers = by_move.of(self.pos.turn(), m.is_capture(), m.role(), destination(m)).iter();
        let asking = numbers.map(|&number| (number, &self.all.lenses[number]));
        let ready = asking.filter(move |&(number, Asking { lens, .. })| {
            lens.king_squares.contains(self.king)
                && is_meant(&lens.offer, lens.view, self.pos, m)
                && self.is_ready(number)
        });
        ready.map(|(_, asking)| (asking.id, asking.lens))
    }

    fn is_ready(&self, lens: usize) -> bool {
        let conditions = &self.all.lenses[lens].conditions;
        told_once(&self.are_ready[lens], || conditions.iter().all(|&one| self.holds(one)))
    }

    fn holds(&self, condition: usize) -> bool {
        let (asked, view) = self.all.conditions[condition];
        told_once(&self.told[condition], || holds(asked, view, self.pos))
    }
}

/// What is known, or else is found out now.
fn told_once(known: &Cell<Option<bool>>, find_out: impl FnOnce() -> bool) -> bool {
    let told = known.get().unwrap_or_else(find_out);
    known.set(Some(told));
    told
}

//! Which lenses look at a move.
//!
//! Invariant: a move that fits a lens's offer is in that lens's list; a list may hold lenses that the
//! move does not fit.

use shakmaty::{Color, Move, Role, Square};

use super::pattern::Pattern;
use super::sentence::MoveSentence;
use crate::board::destination;

/// A lens of one of the patterns of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LensId {
    /// The index of the pattern.
    pub query: usize,
    /// The index of the lens in it.
    pub lens: usize,
}

/// For each kind of move, what belongs to the sentences that may speak of it, in the order in which that was
/// added.
#[derive(Clone, Debug)]
pub struct MoveTable<T> {
    lists: Vec<Vec<T>>,
}

impl<T> Default for MoveTable<T> {
    fn default() -> MoveTable<T> {
        MoveTable { lists: (0..2 * 2 * 6 * 64).map(|_| Vec::new()).collect() }
    }
}

impl<T: Copy> MoveTable<T> {
    /// Adds what belongs to a sentence that is turned to the board.
    pub fn add(&mut self, sentence: &MoveSentence, attacker: Color, value: T) {
        let mover = sentence.side.color(attacker);
        for is_capture in [false, true] {
            for to in sentence.targets(is_capture).widest() {
                for role in sentence.men.roles() {
                    self.lists[slot(mover, is_capture, role, to)].push(value);
                }
            }
        }
    }

    /// What belongs to a move of which this is known.
    #[must_use]
    #[inline]
    pub fn of(&self, mover: Color, is_capture: bool, role: Role, to: Square) -> &[T] {
        &self.lists[slot(mover, is_capture, role, to)]
    }
}

fn slot(mover: Color, is_capture: bool, role: Role, to: Square) -> usize {
    let kind = usize::from(is_capture) + 2 * (mover as usize);
    (kind * 6 + role as usize - 1) * 64 + usize::from(to)
}

/// For each kind of move, the lenses whose offers it may be, in the order of the patterns.
#[derive(Clone, Debug, Default)]
pub struct Index(MoveTable<LensId>);

impl Index {
    /// An index of the patterns that are `wanted`, by their own indices.
    #[must_use]
    pub fn of(patterns: &[Pattern], wanted: impl Fn(&Pattern) -> bool) -> Index {
        let mut table = MoveTable::default();
        for (query, pattern) in patterns.iter().enumerate().filter(|(_, pattern)| wanted(pattern)) {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                table.add(&seen.offer, seen.view.attacker, LensId { query, lens });
            }
        }
        Index(table)
    }

    /// The lenses that look at a move of this attacker.
    #[must_use]
    #[inline]
    pub fn lenses(&self, attacker: Color, m: Move) -> &[LensId] {
        self.lenses_of(attacker, m.is_capture(), m.role(), destination(m))
    }

    /// The lenses that look at a move of this attacker of which only this is known.
    #[must_use]
    #[inline]
    pub fn lenses_of(
        &self,
        attacker: Color,
        is_capture: bool,
        role: Role,
        to: Square,
    ) -> &[LensId] {
        self.0.of(attacker, is_capture, role, to)
    }
}

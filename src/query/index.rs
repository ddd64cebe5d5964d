//! Which lenses look at a move.
//!
//! Invariant: a move that fits a lens's offer is in that lens's list; a list may hold lenses that the
//! move does not fit.

use shakmaty::{Color, Move, Role, Square};

use super::pattern::{Lens, Pattern};
use crate::board::destination;

/// A lens of one of the patterns of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LensId {
    /// The index of the pattern.
    pub query: usize,
    /// The index of the lens in it.
    pub lens: usize,
}

/// For each kind of move, the lenses whose offers it may be, in the order of the patterns.
#[derive(Clone, Debug)]
pub struct Index {
    lists: Vec<Vec<LensId>>,
}

impl Index {
    /// An index of the patterns that are `wanted`, by their own indices.
    #[must_use]
    pub fn of(patterns: &[Pattern], wanted: impl Fn(&Pattern) -> bool) -> Index {
        let mut lists = vec![Vec::new(); 2 * 2 * 6 * 64];
        for (query, pattern) in patterns.iter().enumerate().filter(|(_, pattern)| wanted(pattern)) {
            for (lens, seen) in pattern.lenses.iter().enumerate() {
                for slot in slots_of(seen) {
                    lists[slot].push(LensId { query, lens });
                }
            }
        }
        Index { lists }
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
        &self.lists[slot(attacker, is_capture, role, to)]
    }
}

fn slot(attacker: Color, is_capture: bool, role: Role, to: Square) -> usize {
    let kind = usize::from(is_capture) + 2 * (attacker as usize);
    (kind * 6 + role as usize - 1) * 64 + usize::from(to)
}

fn slots_of(lens: &Lens) -> impl Iterator<Item = usize> {
    let attacker = lens.view.attacker;
    [false, true].into_iter().flat_map(move |is_capture| {
        let squares = lens.offer.targets(is_capture).widest();
        lens.offer.men.roles().flat_map(move |role| {
            squares.into_iter().map(move |to| slot(attacker, is_capture, role, to))
        })
    })
}

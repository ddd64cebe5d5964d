//! What a material search works on: positions with their material, what it remembers, and what it may
//! leave out.

use shakmaty::{Chess, Move, Position};

use super::budget::Budget;
use super::key::PositionKey;
use super::order::{RankedMove, Refuters};
use super::table::Table;
use super::value::Weight;
use crate::board::{gain, played};

/// No line is searched further than this, in plies.
pub(super) const MOST_PLIES: usize = 100;
/// What a material search may leave out.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Haste {
    /// Nothing that could change the value.
    Plain,
    /// A position is as good as it is after a pass if that is good enough (null move), looked at less
    /// deep, and late quiet moves are looked at less deep first (late move reductions).
    Quick,
}

/// A position with the material of the side to move less that of the other.
pub(super) struct WeighedNode {
    pub(super) pos: Chess,
    pub(super) key: PositionKey,
    pub(super) balance: i32,
    pub(super) ply: usize,
}

impl WeighedNode {
    pub(super) fn child(&self, m: Move) -> WeighedNode {
        let pos = played(&self.pos, m);
        let key = self.key.after(&self.pos, m, &pos);
        WeighedNode { pos, key, balance: -(self.balance + gain(m)), ply: self.ply + 1 }
    }

    /// The same without a key, where none is needed.
    pub(super) fn child_without_key(&self, m: Move) -> WeighedNode {
        let (pos, key) = (played(&self.pos, m), PositionKey(0));
        WeighedNode { pos, key, balance: -(self.balance + gain(m)), ply: self.ply + 1 }
    }

    /// The position after a pass; `None` in check.
    pub(super) fn passed(&self) -> Option<WeighedNode> {
        const PASSED: u64 = 0x94d0_49bb_1331_11eb;
        let pos = self.pos.clone().swap_turn().ok()?;
        let key = self.key.tinted(PASSED);
        Some(WeighedNode { pos, key, balance: -self.balance, ply: self.ply + 1 })
    }
}

/// What is remembered from one search to the next.
pub(super) struct WeigherMemory {
    pub(super) table: Table<Weight>,
    pub(super) refuters: Refuters,
    pub(super) haste: Haste,
    /// The moves of all positions on the path that are still to be tried, one after the other.
    pub(super) ranked: Vec<RankedMove>,
    /// Best play from each distance from the start.
    pub(super) lines: Vec<Vec<Move>>,
}

impl WeigherMemory {
    pub(super) fn new(entries: usize, haste: Haste) -> WeigherMemory {
        WeigherMemory {
            table: Table::with_entries(entries),
            refuters: Refuters::new(MOST_PLIES + 1),
            haste,
            ranked: Vec::new(),
            lines: vec![Vec::new(); MOST_PLIES + 2],
        }
    }
}

/// One material search, with what it borrows.
pub(super) struct MaterialSearch<'a> {
    pub(super) weigher: &'a mut WeigherMemory,
    pub(super) budget: &'a mut Budget,
}

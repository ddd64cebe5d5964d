//! Positions as 64-bit numbers (Zobrist keys), for the tables of the searches.
//!
//! Two positions may share a key. The chance is about one in 10^7 for a search of a million nodes; a
//! proof of mate or of perpetual check is replayed on the board before it is reported, so it never rests
//! on a key.

use shakmaty::zobrist::Zobrist64;
use shakmaty::{Chess, EnPassantMode, Move, Position};

use crate::board::played;

/// A position as a number. Move counters do not count; a right to capture in passing does where the
/// capture is legal.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct PositionKey(pub(super) u64);

impl PositionKey {
    pub(super) fn of(pos: &Chess) -> PositionKey {
        PositionKey(pos.zobrist_hash::<Zobrist64>(EnPassantMode::Legal).0)
    }

    /// The key of `after`, which is `pos` after `m`; cheaper than from scratch.
    #[inline]
    pub(super) fn after(self, pos: &Chess, m: Move, after: &Chess) -> PositionKey {
        match pos.update_zobrist_hash(Zobrist64(self.0), m, EnPassantMode::Legal) {
            Some(key) => PositionKey(key.0),
            None => PositionKey::of(after),
        }
    }

    /// The key of the position after a move, which is played only if there is no other way.
    #[inline]
    pub(super) fn after_move(self, pos: &Chess, m: Move) -> PositionKey {
        match pos.update_zobrist_hash(Zobrist64(self.0), m, EnPassantMode::Legal) {
            Some(key) => PositionKey(key.0),
            None => PositionKey::of(&played(pos, m)),
        }
    }

    /// The key of the same position looked at in another way.
    pub(super) const fn tinted(self, tint: u64) -> PositionKey {
        PositionKey(self.0 ^ tint)
    }
}

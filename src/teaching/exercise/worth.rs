//! What a verdict is worth in an exercise, in pawns for the attacker, and what a mistake loses.

use crate::engine::Points;
use crate::hits::Verdict;

/// What makes a difference, in pawns.
pub(super) const CLEAR: i32 = 2;
/// A mistake loses at least this, by an engine.
pub(super) const MISTAKE: Points = Points::of(20);
/// More than any count.
pub(super) const MATE: i32 = 1_000;

/// What a verdict is worth to the attacker in pawns; nothing if nothing was proved.
pub(super) fn worth(verdict: Verdict) -> Option<i32> {
    match verdict {
        Verdict::Mates(_) => Some(MATE),
        Verdict::Gains(pawns) => Some(pawns),
        Verdict::Level | Verdict::Draws => Some(0),
        Verdict::Down(pawns) => Some(-pawns),
        Verdict::Mated(_) => Some(-MATE),
        Verdict::Open => None,
    }
}

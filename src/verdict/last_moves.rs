//! The end of a mate: the mating move, and the last defence before it. Most nodes of the mate search are
//! spent here, so nothing is remembered.

use shakmaty::{Chess, Move, Position};

use super::budget::{Budget, Spent};
use super::checks::{CheckMap, is_mate};
use crate::board::played;

/// A move that mates now.
pub(super) fn mate_at_once(budget: &mut Budget, pos: &Chess) -> Result<Option<Move>, Spent> {
    let map = CheckMap::of(pos);
    for &m in &pos.legal_moves() {
        if map.may_check(m) {
            budget.spend()?;
            if is_mate(&played(pos, m)) {
                return Ok(Some(m));
            }
        }
    }
    Ok(None)
}

/// Whether the side to move escapes being mated by the next move. The reply that did it last is tried
/// first, and kept.
pub(super) fn last_defence(
    budget: &mut Budget,
    refutation: &mut Option<Move>,
    pos: &Chess,
) -> Result<bool, Spent> {
    let mut replies = pos.legal_moves();
    if replies.is_empty() {
        return Ok(!pos.is_check());
    }
    if let Some(place) = replies.iter().position(|&reply| Some(reply) == *refutation) {
        replies.swap(0, place);
    }
    for &reply in &replies {
        if mate_at_once(budget, &played(pos, reply))?.is_none() {
            *refutation = Some(reply);
            return Ok(true);
        }
    }
    Ok(false)
}

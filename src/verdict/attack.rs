//! Is an attack still on? A count of material alone can't say that a sacrifice failed while the attacker
//! goes on to threaten mate.

use shakmaty::{Chess, Position};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use super::mate::Prover;
use super::question::{MateAnswer, Width};
use crate::board::{cost, played};

/// How many checks may come before the threat.
const MOST_CHECKS: u8 = 2;
/// A threat is to mate within this many moves.
const THREAT_MOVES: u8 = 2;

/// Whether the side to move can go on to threaten mate: by a move that gives up nothing on its square and
/// after which it would mate within two moves if the other side passed, or by a check after every reply
/// to which it can do so. Yes too if the budget ran out before that was known.
pub(super) fn is_on(prover: &mut Prover, pos: &Chess, budget: &mut Budget) -> bool {
    can_threaten(prover, pos, MOST_CHECKS, budget).unwrap_or(true)
}

fn can_threaten(
    prover: &mut Prover,
    pos: &Chess,
    checks_left: u8,
    budget: &mut Budget,
) -> Result<bool, Spent> {
    let map = CheckMap::of(pos);
    for &m in &pos.legal_moves() {
        budget.spend()?;
        let after = played(pos, m);
        let is_check = map.may_check(m) && after.is_check();
        let goes_on = if is_check {
            checks_left > 0 && can_threaten_after_all(prover, &after, checks_left - 1, budget)?
        } else {
            cost(pos, m) == 0 && threatens_mate(prover, after, budget)?
        };
        if goes_on {
            return Ok(true);
        }
    }
    Ok(false)
}

fn can_threaten_after_all(
    prover: &mut Prover,
    checked: &Chess,
    checks_left: u8,
    budget: &mut Budget,
) -> Result<bool, Spent> {
    for &reply in &checked.legal_moves() {
        if !can_threaten(prover, &played(checked, reply), checks_left, budget)? {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Whether the side that has just moved mates soon if the other passes.
fn threatens_mate(prover: &mut Prover, after: Chess, budget: &mut Budget) -> Result<bool, Spent> {
    let Ok(passed) = after.swap_turn() else {
        return Ok(false);
    };
    match prover.within(&passed, THREAT_MOVES, Width::All, budget) {
        MateAnswer::Proved => Ok(true),
        MateAnswer::Disproved => Ok(false),
        MateAnswer::Unknown => Err(Spent),
    }
}

//! Whether a count of material may stop at a position, or the fight is still on there.
//!
//! What was counted is settled if the side that it speaks against has nothing left, whoever moves: no
//! mate in a few moves, no string of checks, no man to be won and no pawn to queen.

use shakmaty::{Chess, Color, Move, Position, Role, Square};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use super::mate::Prover;
use super::material::{Weigher, Weighing};
use super::question::{MateAnswer, Width};
use super::value::WeighedScore;
use crate::board::{balance, cost, passed_pawns, played};
use crate::hits::Unrest;

/// A mate that unsettles a count is at most this long, in moves.
const MATE_MOVES: u8 = 2;
/// How many checks in a row unsettle a count.
const CHECKS: u8 = 3;
/// How much deeper, in plies, it is looked whether a man can be won.
const PLIES_FOR_MEN: u8 = 3;
/// A pawn this many moves from its last rank may queen.
const MOVES_TO_QUEEN: u8 = 3;

/// The searches that know whether a position is settled.
pub(super) struct Settling<'a> {
    pub(super) prover: &'a mut Prover,
    pub(super) weigher: &'a mut Weigher,
    pub(super) budget: &'a mut Budget,
}

/// What a side can still do, and best play if that wins a man.
pub(super) type Fight = (Unrest, Vec<Move>);

impl Settling<'_> {
    /// What `side` can still do in a position, whoever moves there; `None` if nothing.
    pub(super) fn fight(&mut self, pos: &Chess, side: Color) -> Option<Fight> {
        let Some(own) = with_turn(pos, side) else {
            return Some((Unrest::Check, Vec::new()));
        };
        if pos.is_check() || pos.legal_moves().is_empty() {
            return Some((Unrest::Check, Vec::new()));
        }
        self.men(pos, side).or_else(|| {
            let unrest = self.threat(&own).unwrap_or(Some(Unrest::Budget));
            unrest.map(|unrest| (unrest, Vec::new()))
        })
    }

    /// What the side to move can do that no count of men sees.
    fn threat(&mut self, own: &Chess) -> Result<Option<Unrest>, Spent> {
        let can_mate = self.prover.within(own, MATE_MOVES, Width::All, self.budget);
        Ok(match can_mate {
            MateAnswer::Proved => Some(Unrest::Mate),
            MateAnswer::Unknown => Some(Unrest::Budget),
            MateAnswer::Disproved if keeps_checking(own, CHECKS, self.budget)? => {
                Some(Unrest::Checks)
            }
            MateAnswer::Disproved if can_queen(own, self.budget)? => Some(Unrest::Pawn),
            MateAnswer::Disproved => None,
        })
    }

    /// Whether `side` wins a man within a few plies.
    fn men(&mut self, pos: &Chess, side: Color) -> Option<Fight> {
        let moves = pos.legal_moves();
        let Some(weighing) = self.weigher.weigh(pos, &moves, PLIES_FOR_MEN, self.budget) else {
            return Some((Unrest::Budget, Vec::new()));
        };
        let wins = |score: &WeighedScore| gain_of(pos, side, *score) > 0;
        let last = weighing.scores.len().saturating_sub(2);
        let has_mate = matches!(weighing.score, WeighedScore::Mates(_) | WeighedScore::Mated(_));
        let Weighing { score, scores, depth, line, .. } = weighing;
        if has_mate && wins(&score) {
            Some((Unrest::Mate, Vec::new()))
        } else if wins(&score) {
            Some((Unrest::Men, line))
        } else if scores[last..].iter().any(wins) {
            Some((Unrest::Men, Vec::new()))
        } else if depth < PLIES_FOR_MEN && !has_mate {
            Some((Unrest::Budget, Vec::new()))
        } else {
            None
        }
    }
}

/// What a score, for the side to move, adds to the balance of `side`.
fn gain_of(pos: &Chess, side: Color, score: WeighedScore) -> i32 {
    let own = match score {
        WeighedScore::Mates(_) => i32::MAX,
        WeighedScore::Mated(_) => -i32::MAX,
        WeighedScore::Pawns(pawns) => pawns - balance(pos, pos.turn()),
    };
    if pos.turn() == side { own } else { -own }
}

/// The position with this side to move; `None` if that is not legal.
fn with_turn(pos: &Chess, side: Color) -> Option<Chess> {
    if pos.turn() == side { Some(pos.clone()) } else { pos.clone().swap_turn().ok() }
}

/// Whether the side to move can give this many checks in a row that give up nothing.
fn keeps_checking(pos: &Chess, checks: u8, budget: &mut Budget) -> Result<bool, Spent> {
    let Some(left) = checks.checked_sub(1) else {
        return Ok(true);
    };
    let map = CheckMap::of(pos);
    for &m in &pos.legal_moves() {
        if !map.may_check(m) {
            continue;
        }
        budget.spend()?;
        let after = played(pos, m);
        if after.is_check() && cost(pos, m) == 0 && goes_on(&after, left, budget)? {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Whether checks go on after every reply.
fn goes_on(checked: &Chess, checks: u8, budget: &mut Budget) -> Result<bool, Spent> {
    for &reply in &checked.legal_moves() {
        budget.spend()?;
        if !keeps_checking(&played(checked, reply), checks, budget)? {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Whether the side to move queens a passed pawn by moving nothing else.
fn can_queen(pos: &Chess, budget: &mut Budget) -> Result<bool, Spent> {
    for pawn in passed_pawns(pos.board(), pos.turn()) {
        if runs_home(pos, pawn, MOVES_TO_QUEEN, budget)? {
            return Ok(true);
        }
    }
    Ok(false)
}

fn runs_home(pos: &Chess, pawn: Square, moves: u8, budget: &mut Budget) -> Result<bool, Spent> {
    let is_there = pos.board().by_color(pos.turn()).contains(pawn);
    let steps = pos.turn().fold_wb(7 - u32::from(pawn.rank()), u32::from(pawn.rank()));
    if !is_there || steps > u32::from(moves) {
        return Ok(false);
    }
    for &m in &pos.legal_moves() {
        let is_queen = m.promotion().is_none_or(|role| role == Role::Queen);
        if m.from() == Some(pawn) && is_queen && stays_safe(pos, m, moves - 1, budget)? {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Whether a pawn's move queens, or does so in the end whatever the reply, and the man is not taken.
fn stays_safe(pos: &Chess, m: Move, moves: u8, budget: &mut Budget) -> Result<bool, Spent> {
    let after = played(pos, m);
    for &reply in &after.legal_moves() {
        budget.spend()?;
        let is_taken = reply.is_capture() && reply.to() == m.to();
        let is_queen = m.promotion().is_some();
        if is_taken || !(is_queen || runs_home(&played(&after, reply), m.to(), moves, budget)?) {
            return Ok(false);
        }
    }
    Ok(true)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::read_position;

    /// What a side can still do in a position.
    fn unrest(fen: &str, side: Color) -> Option<Unrest> {
        let (mut prover, mut weigher) =
            (Prover::with_entries(1 << 10), Weigher::with_entries(1 << 10));
        let mut budget = Budget::of(100_000);
        let (prover, weigher) = (&mut prover, &mut weigher);
        let mut settling = Settling { prover, weigher, budget: &mut budget };
        let pos = read_position(fen).expect("the position is legal");
        settling.fight(&pos, side).map(|(unrest, _)| unrest)
    }

    // All positions are invented.

    #[test]
    fn nothing_is_left_where_two_kings_stand_behind_their_pawns() {
        for side in Color::ALL {
            assert_eq!(unrest("6k1/5ppp/8/8/8/8/5PPP/6K1 w - - 0 1", side), None);
        }
    }

    #[test]
    fn a_mate_on_the_back_rank_is_seen_for_either_side_and_whoever_moves() {
        let threat = "3r2k1/5ppp/8/8/8/8/B4PPP/6K1 w - - 0 1";
        assert_eq!(unrest(threat, Color::Black), Some(Unrest::Mate));
        let mate = "6k1/b4ppp/8/8/8/8/5PPP/3R2K1 w - - 0 1";
        assert_eq!(unrest(mate, Color::White), Some(Unrest::Mate));
    }

    #[test]
    fn checks_without_end_unsettle_a_count() {
        let checks = "6k1/6p1/8/7Q/8/8/1q4PP/7K b - - 0 1";
        assert_eq!(unrest(checks, Color::White), Some(Unrest::Checks));
    }

    #[test]
    fn a_pawn_that_runs_home_unsettles_a_count_and_one_that_is_caught_does_not() {
        assert_eq!(unrest("8/8/8/P6k/8/8/8/7K b - - 0 1", Color::White), Some(Unrest::Pawn));
        assert_eq!(unrest("8/8/8/P2k4/8/8/8/7K b - - 0 1", Color::White), None);
    }

    #[test]
    fn a_man_that_hangs_unsettles_a_count_for_the_side_that_can_take_it() {
        let hanging = "6k1/5ppp/8/3r4/8/1B6/5PPP/6K1 w - - 0 1";
        assert_eq!(unrest(hanging, Color::White), Some(Unrest::Men));
        assert_eq!(unrest(hanging, Color::Black), None);
    }

    #[test]
    fn a_king_in_check_unsettles_a_count() {
        let check = "3r2k1/5ppp/8/8/8/8/5PPP/3K4 w - - 0 1";
        assert_eq!(unrest(check, Color::Black), Some(Unrest::Check));
    }
}

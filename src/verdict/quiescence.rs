//! The end of a material search: captures and promotions to queens for as long as they pay.

use std::cell::LazyCell;

use shakmaty::{Bitboard, Chess, Move, MoveList, Position, Rank, Role};

use super::budget::Spent;
use super::checks::CheckMap;
use super::order::{capture_rank, next_of};
use super::value::{MATE, ValueWindow, mated_at};
use super::weighed::{MOST_PLIES, MaterialSearch, WeighedNode};
use crate::board::gain;

/// Captures after the full depth go on for at most this many plies.
pub(super) const QUIET_PLIES: u8 = 16;

impl MaterialSearch<'_> {
    /// The value after captures and promotions to queens for as long as they pay, or after the best
    /// evasion of a check.
    pub(super) fn quiet_value(
        &mut self,
        node: &WeighedNode,
        plies: u8,
        window: ValueWindow,
    ) -> Result<i32, Spent> {
        self.line(node.ply).clear();
        self.budget.spend()?;
        if plies == 0 || node.ply >= MOST_PLIES {
            return Ok(node.balance);
        }
        let is_check = node.pos.is_check();
        if !is_check && node.balance >= window.beta {
            return Ok(node.balance);
        }
        let moves = if is_check { node.pos.legal_moves() } else { forcing_moves(&node.pos) };
        match (is_check, moves.is_empty()) {
            (true, true) => return Ok(mated_at(node.ply)),
            (false, true) => return Ok(node.balance),
            _ => {}
        }
        let first = self.weigher.ranked.len();
        self.weigher.ranked.extend(moves.iter().map(|&m| (capture_rank(m), m)));
        let least = if is_check { -MATE } else { node.balance };
        let value = self.best_forcing(node, plies, window, (first, least));
        self.weigher.ranked.truncate(first);
        value
    }

    /// The best of the ranked moves from the first on, or the least value if none is better.
    fn best_forcing(
        &mut self,
        node: &WeighedNode,
        plies: u8,
        mut window: ValueWindow,
        (first, mut best): (usize, i32),
    ) -> Result<i32, Spent> {
        window.alpha = window.alpha.max(best);
        let map = LazyCell::new(|| CheckMap::of(&node.pos));
        for place in first..self.weigher.ranked.len() {
            let (_, m) = next_of(&mut self.weigher.ranked[place..]);
            let most = node.balance + gain(m);
            if most <= window.alpha && !map.may_check(m) {
                best = best.max(most);
                continue;
            }
            let child = node.child_without_key(m);
            let value = -self.quiet_value(&child, plies - 1, window.seen_by_other())?;
            best = best.max(value);
            if value > window.alpha {
                window.alpha = value;
                self.extend_line(node.ply, m);
            }
            if value >= window.beta {
                break;
            }
        }
        Ok(best)
    }
}

/// Captures and promotions, to queens only.
fn forcing_moves(pos: &Chess) -> MoveList {
    let is_queen = |m: &Move| m.promotion().is_none_or(|role| role == Role::Queen);
    let mut moves = pos.capture_moves();
    moves.retain(|m| is_queen(m));
    let last_but_one = pos.turn().fold_wb(Rank::Seventh, Rank::Second);
    let own = pos.board().pawns() & pos.board().by_color(pos.turn());
    if (own & Bitboard::from(last_but_one)).any() {
        moves.extend(pos.promotion_moves().into_iter().filter(|m| !m.is_capture() && is_queen(m)));
    }
    moves
}

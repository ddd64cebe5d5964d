//! One material search: alpha-beta with a window, deeper and deeper.

use shakmaty::{Move, Position};

use super::budget::Spent;
use super::checks::CheckMap;
use super::order::{is_by_history, next_of};
use super::quiescence::QUIET_PLIES;
use super::value::{MATE, ValueWindow, Weight, is_mate, mated_at};
use super::weighed::{Haste, MOST_PLIES, MaterialSearch, WeighedNode};
use crate::board::gain;

/// How much less deep, in plies, a position is looked at after a pass.
const PASS_REDUCTION: i32 = 2;
/// How many moves are looked at in full before late ones are reduced, and before they are reduced more.
const FIRST_LATE: usize = 3;
const FIRST_VERY_LATE: usize = 12;

/// A move to be looked at: how deep, and how much less deep at first.
#[derive(Clone, Copy)]
struct Try {
    m: Move,
    depth: i32,
    reduction: i32,
    is_first: bool,
}

impl MaterialSearch<'_> {
    /// The value of the best of some moves, the first of which is expected to be it.
    pub(super) fn best_of(
        &mut self,
        root: &WeighedNode,
        moves: &[Move],
        depth: u8,
    ) -> Result<i32, Spent> {
        let mut window = ValueWindow::FULL;
        self.line(0).clear();
        for &m in moves {
            let is_first = self.line(0).is_empty();
            let attempt = Try { m, depth: i32::from(depth), reduction: 0, is_first };
            let value = self.value_of(root, attempt, window)?;
            if value > window.alpha || is_first {
                window.alpha = value;
                self.extend_line(0, m);
            }
        }
        Ok(window.alpha)
    }

    /// The value of a move for the side that makes it. All but the first are asked first whether they
    /// are better at all.
    fn value_of(
        &mut self,
        node: &WeighedNode,
        attempt: Try,
        window: ValueWindow,
    ) -> Result<i32, Spent> {
        let Try { m, depth, reduction, is_first } = attempt;
        let child = node.child(m);
        if reduction > 0 {
            let question = window.question_to_other();
            let value = -self.value(&child, depth - 1 - reduction, question)?;
            if value <= window.alpha {
                return Ok(value);
            }
        }
        if !is_first && !window.is_question() {
            let value = -self.value(&child, depth - 1, window.question_to_other())?;
            if value <= window.alpha || value >= window.beta {
                return Ok(value);
            }
        }
        Ok(-self.value(&child, depth - 1, window.seen_by_other())?)
    }

    /// The value of a position for the side to move: exact inside the window, else a bound.
    fn value(&mut self, node: &WeighedNode, depth: i32, window: ValueWindow) -> Result<i32, Spent> {
        self.line(node.ply).clear();
        let is_check = node.pos.is_check();
        let depth = depth + i32::from(is_check);
        if depth <= 0 {
            return self.quiet_value(node, QUIET_PLIES, window);
        }
        self.budget.spend()?;
        if node.ply >= MOST_PLIES {
            return Ok(node.balance);
        }
        let known = self.weigher.table.get(node.key).copied().unwrap_or_default();
        if let Some(value) = known.answer(window, depth, node.ply) {
            return Ok(value);
        }
        if !is_check && self.holds_after_a_pass(node, depth, window)? {
            return Ok(window.beta);
        }
        let (value, best) = self.best_reply(node, depth, window, known.best)?;
        self.remember(node, depth, window, value, best);
        Ok(value)
    }

    /// Whether a position is good enough even if the side to move passes. In pawn endings, where a move
    /// may be a burden, that says nothing.
    fn holds_after_a_pass(
        &mut self,
        node: &WeighedNode,
        depth: i32,
        window: ValueWindow,
    ) -> Result<bool, Spent> {
        let is_asked = self.weigher.haste == Haste::Quick && window.is_question() && depth > 1;
        if !is_asked || node.balance < window.beta || is_mate(window.beta) || !has_pieces(node) {
            return Ok(false);
        }
        let Some(passed) = node.passed() else {
            return Ok(false);
        };
        let depth = depth - 1 - PASS_REDUCTION;
        Ok(-self.value(&passed, depth, window.seen_by_other())? >= window.beta)
    }

    fn best_reply(
        &mut self,
        node: &WeighedNode,
        depth: i32,
        window: ValueWindow,
        best_before: Option<Move>,
    ) -> Result<(i32, Option<Move>), Spent> {
        let first = self.weigher.ranked.len();
        let moves = node.pos.legal_moves();
        if moves.is_empty() {
            return Ok((if node.pos.is_check() { mated_at(node.ply) } else { 0 }, None));
        }
        let map = CheckMap::of(&node.pos);
        let mut best_value = -MATE;
        for &m in &moves {
            let most = node.balance + gain(m);
            // In the last ply a move that does not check brings no more than it takes.
            if depth == 1 && most <= window.alpha && !map.may_check(m) {
                best_value = best_value.max(most);
            } else {
                let rank = self.weigher.refuters.rank(node.pos.turn(), m, node.ply, best_before);
                self.weigher.ranked.push((rank, m));
            }
        }
        let result = self.best_ranked(node, depth, window, (first, best_value), &map);
        self.weigher.ranked.truncate(first);
        result
    }

    /// The best of the ranked moves from the first on, or the value so far if none is better.
    fn best_ranked(
        &mut self,
        node: &WeighedNode,
        depth: i32,
        mut window: ValueWindow,
        (first, mut best_value): (usize, i32),
        map: &CheckMap,
    ) -> Result<(i32, Option<Move>), Spent> {
        let turn = node.pos.turn();
        let mut best = None;
        for place in 0..self.weigher.ranked.len() - first {
            let (rank, m) = next_of(&mut self.weigher.ranked[first + place..]);
            let most = node.balance + gain(m);
            if depth == 1 && most <= window.alpha && !map.may_check(m) {
                best_value = best_value.max(most);
                continue;
            }
            let is_late = is_by_history(rank) && !map.may_check(m) && !node.pos.is_check();
            let reduction = if is_late { self.reduction(depth, place) } else { 0 };
            let attempt = Try { m, depth, reduction, is_first: place == 0 };
            let value = self.value_of(node, attempt, window)?;
            best_value = best_value.max(value);
            if value > window.alpha {
                (window.alpha, best) = (value, Some(m));
                self.extend_line(node.ply, m);
            }
            if value >= window.beta {
                self.weigher.refuters.note(turn, m, node.ply, depth);
                break;
            }
        }
        Ok((best_value, best))
    }

    /// How much less deep a quiet move that comes late is looked at first.
    fn reduction(&self, depth: i32, place: usize) -> i32 {
        match (self.weigher.haste, depth, place) {
            (Haste::Plain, ..) | (_, ..3, _) | (_, _, ..FIRST_LATE) => 0,
            (_, 5.., FIRST_VERY_LATE..) => 2,
            _ => 1,
        }
    }

    fn remember(
        &mut self,
        node: &WeighedNode,
        depth: i32,
        window: ValueWindow,
        value: i32,
        best: Option<Move>,
    ) {
        let found = Weight::new(value, window, depth, node.ply);
        let effort = u16::try_from(depth).unwrap_or(0);
        self.weigher.table.update(node.key, effort, |weight| {
            *weight = found.with_best(best.or(weight.best));
        });
    }

    pub(super) fn line(&mut self, ply: usize) -> &mut Vec<Move> {
        &mut self.weigher.lines[ply]
    }

    /// Makes a move and the line after it the line of a ply.
    pub(super) fn extend_line(&mut self, ply: usize, m: Move) {
        let (before, after) = self.weigher.lines.split_at_mut(ply + 1);
        let line = &mut before[ply];
        line.clear();
        line.push(m);
        line.extend_from_slice(&after[0]);
    }
}

/// Whether the side to move has more than its king and pawns.
fn has_pieces(node: &WeighedNode) -> bool {
    let board = node.pos.board();
    let own = board.by_color(node.pos.turn());
    (own & !board.kings() & !board.pawns()).any()
}

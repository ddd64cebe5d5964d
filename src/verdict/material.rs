//! Material after best play: alpha-beta search that counts nothing but men (pawn 1, knight and bishop 3,
//! rook 5, queen 9).
//!
//! A position in check is searched one ply deeper. At the end of the depth captures and promotions to
//! queens go on for as long as they pay (quiescence). Whatever is cut off can't change the value: the
//! result is that of plain minimax over the same tree. Repetitions do not count here.

use shakmaty::{Chess, Move, MoveList, Position, Role};

use super::budget::{Budget, Spent};
use super::checks::CheckMap;
use super::key::PositionKey;
use super::order::{Ordered, Refuters, capture_rank};
use super::table::Table;
use super::value::{MATE, ValueWindow, WeighedScore, Weight, is_mate, mated_at};
use crate::board::{balance, gain, played};

/// The outcome of a material search.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Weighing {
    /// The value of best play.
    pub score: WeighedScore,
    /// The same one ply less deep, if there was one.
    pub score_before: Option<WeighedScore>,
    /// The depth in plies that was searched in full.
    pub depth: u8,
    /// Best play, the captures after the full depth included.
    pub line: Vec<Move>,
}

/// Weighs positions. Holds the table, so keep one for many positions.
pub struct Weigher {
    table: Table<Weight>,
    refuters: Refuters,
    /// Best play from each distance from the start.
    lines: Vec<Vec<Move>>,
}

/// No line is searched further than this, in plies.
const MOST_PLIES: usize = 100;
/// Captures after the full depth go on for at most this many plies.
const QUIESCENCE_PLIES: u8 = 16;
/// The greatest depth that can be asked for, in plies.
const MOST_DEPTH: u8 = 60;

/// A position with the material of the side to move less that of the other.
struct WeighedNode {
    pos: Chess,
    key: PositionKey,
    balance: i32,
    ply: usize,
}

impl WeighedNode {
    fn child(&self, m: Move) -> WeighedNode {
        let pos = played(&self.pos, m);
        let key = self.key.after(&self.pos, m, &pos);
        WeighedNode { pos, key, balance: -(self.balance + gain(m)), ply: self.ply + 1 }
    }
}

impl Weigher {
    /// A weigher that remembers at least `entries` positions, at 24 bytes each.
    #[must_use]
    pub fn with_entries(entries: usize) -> Weigher {
        Weigher {
            table: Table::with_entries(entries),
            refuters: Refuters::new(MOST_PLIES + 1),
            lines: vec![Vec::new(); MOST_PLIES + 2],
        }
    }

    /// Forgets earlier positions, so that what a budget suffices for does not depend on them.
    pub fn forget(&mut self) {
        self.table.forget();
        self.refuters.forget();
    }

    /// The best of some legal moves, searched deeper and deeper up to `depth` plies or until the budget
    /// is spent or a mate is found. `None` if there are no moves or not even one ply was finished.
    pub fn weigh(
        &mut self,
        pos: &Chess,
        moves: &[Move],
        depth: u8,
        budget: &mut Budget,
    ) -> Option<Weighing> {
        let balance = balance(pos, pos.turn());
        let root = WeighedNode { pos: pos.clone(), key: PositionKey::of(pos), balance, ply: 0 };
        let mut moves = most_active_first(pos, moves);
        let mut weighing: Option<Weighing> = None;
        for depth in 1..=depth.min(MOST_DEPTH) {
            let mut search = MaterialSearch { weigher: self, budget };
            let Ok(value) = search.best_of(&root, &moves, depth) else {
                break;
            };
            let line = self.lines[0].clone();
            bring_to_front(&mut moves, *line.first()?);
            let score_before = weighing.map(|before| before.score);
            weighing = Some(Weighing { score: WeighedScore::of(value), score_before, depth, line });
            if is_mate(value) {
                break;
            }
        }
        weighing
    }
}

/// The moves, those first after which the mover has most moves. Among moves of equal worth the first wins,
/// and it should not look aimless.
fn most_active_first(pos: &Chess, moves: &[Move]) -> Vec<Move> {
    let mut moves = moves.to_vec();
    let replies = |m: &Move| played(pos, *m).swap_turn().map_or(0, |pos| pos.legal_moves().len());
    moves.sort_by_cached_key(|m| std::cmp::Reverse(replies(m)));
    moves
}

fn bring_to_front(moves: &mut [Move], m: Move) {
    if let Some(place) = moves.iter().position(|&other| other == m) {
        moves[..=place].rotate_right(1);
    }
}

struct MaterialSearch<'a> {
    weigher: &'a mut Weigher,
    budget: &'a mut Budget,
}

impl MaterialSearch<'_> {
    /// The value of the best of some moves, the first of which is expected to be it.
    fn best_of(&mut self, root: &WeighedNode, moves: &[Move], depth: u8) -> Result<i32, Spent> {
        let mut window = ValueWindow::FULL;
        self.line(0).clear();
        for &m in moves {
            let is_first = self.line(0).is_empty();
            let value = self.value_of(root, m, i32::from(depth), window, is_first)?;
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
        m: Move,
        depth: i32,
        window: ValueWindow,
        is_first: bool,
    ) -> Result<i32, Spent> {
        let child = node.child(m);
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
            return self.quiet_value(node, QUIESCENCE_PLIES, window);
        }
        self.budget.spend()?;
        if node.ply >= MOST_PLIES {
            return Ok(node.balance);
        }
        let known = self.weigher.table.get(node.key).copied().unwrap_or_default();
        if let Some(value) = known.answer(window, depth, node.ply) {
            return Ok(value);
        }
        let moves = node.pos.legal_moves();
        if moves.is_empty() {
            return Ok(if is_check { mated_at(node.ply) } else { 0 });
        }
        let (value, best) = self.best_reply(node, &moves, depth, window, known.best)?;
        self.remember(node, depth, window, value, best);
        Ok(value)
    }

    fn best_reply(
        &mut self,
        node: &WeighedNode,
        moves: &MoveList,
        depth: i32,
        mut window: ValueWindow,
        best_before: Option<Move>,
    ) -> Result<(i32, Option<Move>), Spent> {
        let turn = node.pos.turn();
        let map = CheckMap::of(&node.pos);
        // In the last ply a move that does not check brings no more than it takes.
        let is_last = depth == 1;
        let (mut best_value, mut best) = (-MATE, None);
        let refuters = &self.weigher.refuters;
        let ordered = Ordered::by(moves, |m| refuters.rank(turn, m, node.ply, best_before));
        for (place, m) in ordered.enumerate() {
            let most = node.balance + gain(m);
            if is_last && most <= window.alpha && !map.may_check(m) {
                best_value = best_value.max(most);
                continue;
            }
            let value = self.value_of(node, m, depth, window, place == 0)?;
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

    /// The value after captures and promotions to queens for as long as they pay, or after the best
    /// evasion of a check.
    fn quiet_value(
        &mut self,
        node: &WeighedNode,
        plies: u8,
        mut window: ValueWindow,
    ) -> Result<i32, Spent> {
        self.line(node.ply).clear();
        self.budget.spend()?;
        if plies == 0 || node.ply >= MOST_PLIES {
            return Ok(node.balance);
        }
        let is_check = node.pos.is_check();
        let moves = if is_check { node.pos.legal_moves() } else { forcing_moves(&node.pos) };
        let mut best = match (is_check, moves.is_empty()) {
            (true, true) => return Ok(mated_at(node.ply)),
            (true, false) => -MATE,
            (false, _) => node.balance,
        };
        if best >= window.beta {
            return Ok(best);
        }
        window.alpha = window.alpha.max(best);
        let map = CheckMap::of(&node.pos);
        for m in Ordered::by(&moves, capture_rank) {
            let most = node.balance + gain(m);
            if most <= window.alpha && !map.may_check(m) {
                best = best.max(most);
                continue;
            }
            let value = -self.quiet_value(&node.child(m), plies - 1, window.seen_by_other())?;
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

    fn line(&mut self, ply: usize) -> &mut Vec<Move> {
        &mut self.weigher.lines[ply]
    }

    /// Makes a move and the line after it the line of a ply.
    fn extend_line(&mut self, ply: usize, m: Move) {
        let (before, after) = self.weigher.lines.split_at_mut(ply + 1);
        let line = &mut before[ply];
        line.clear();
        line.push(m);
        line.extend_from_slice(&after[0]);
    }
}

/// Captures and promotions, to queens only.
fn forcing_moves(pos: &Chess) -> MoveList {
    let mut moves = pos.legal_moves();
    moves.retain(|m| m.promotion().map_or(m.is_capture(), |role| role == Role::Queen));
    moves
}

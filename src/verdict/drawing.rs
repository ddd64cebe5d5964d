//! Draws by force: endless checks or stalemate, at once or after one other move.

use shakmaty::{Chess, Move, Position};

use super::budget::Budget;
use super::judge::{LONGEST_MATE, OfferCase};
use super::judgement::Outcome;
use super::perpetual::{Checks, endless_in};
use super::web::Web;
use crate::board::played;
use crate::hits::DrawnBy;

/// Whether endless checks would follow if the other side passed is asked with so small a part of the nodes.
const PART_FOR_A_PASS: u64 = 16;
/// If this many replies or more are not met by a draw, no mate is looked for against them.
const MOST_TO_MATE: usize = 3;

impl OfferCase<'_> {
    /// How the side to move draws by force: its moves and the first reply to each.
    pub(super) fn draw_by_force(&mut self, pos: &Chess) -> Option<Vec<Move>> {
        let moves = pos.legal_moves();
        self.draw_by(pos, &moves)
    }

    /// The same beginning with one of some moves.
    fn draw_by(&mut self, pos: &Chess, moves: &[Move]) -> Option<Vec<Move>> {
        let mut budget = Budget::of(self.judge.effort.checks);
        let line = endless_by(&mut self.web, pos, moves, &mut budget)
            .or_else(|| draw_after_a_move(&mut self.web, pos, moves, &mut budget));
        self.nodes += budget.used();
        line
    }

    /// A draw that the defender forces by one of some replies, which a count of material does not see.
    pub(super) fn escape(&mut self, after: &Chess, replies: &[Move]) -> Option<Outcome> {
        let line = self.draw_by(after, replies)?;
        let (&reply, rest) = line.split_first()?;
        Some(Outcome::drawn(DrawnBy::Defender, reply, rest))
    }

    /// The worst outcome against some replies, which is only a draw forced by the attacker if each of them
    /// is met by a draw or by mate.
    pub(super) fn drawn_in_every_branch(
        &mut self,
        after: &Chess,
        replies: &[Move],
        worst: Outcome,
    ) -> Outcome {
        if worst.drawn_by != Some(DrawnBy::Attacker) {
            return worst;
        }
        let mut to_mate = replies.to_vec();
        to_mate.retain(|&reply| self.draw_by_force(&played(after, reply)).is_none());
        let is_met = to_mate.is_empty()
            || to_mate.len() < MOST_TO_MATE && self.mates(after, &to_mate, LONGEST_MATE).is_some();
        if is_met { worst } else { worst.half_drawn() }
    }
}

/// Endless checks that begin with one of some moves.
fn endless_by(
    web: &mut Web,
    pos: &Chess,
    moves: &[Move],
    budget: &mut Budget,
) -> Option<Vec<Move>> {
    let line = endless(web, pos, budget)?;
    line.first().is_none_or(|m| moves.contains(m)).then_some(line)
}

fn endless(web: &mut Web, pos: &Chess, budget: &mut Budget) -> Option<Vec<Move>> {
    match endless_in(web, pos, budget) {
        Checks::Endless(endless) => Some(endless.line),
        Checks::End | Checks::Unknown => None,
    }
}

/// One of some moves that give no check, captures first, after which there are endless checks or stalemate
/// whatever the reply, or by which the other side is stalemated.
fn draw_after_a_move(
    web: &mut Web,
    pos: &Chess,
    moves: &[Move],
    budget: &mut Budget,
) -> Option<Vec<Move>> {
    let (captures, others): (Vec<Move>, Vec<Move>) = moves.iter().partition(|m| m.is_capture());
    captures.into_iter().chain(others).find_map(|m| {
        let after = played(pos, m);
        let replies = after.legal_moves();
        if replies.is_empty() && !after.is_check() {
            return Some(vec![m]);
        }
        let rest = draw_after_each(web, &after, &replies, budget)?;
        Some([&[m], &rest[..]].concat())
    })
}

/// The first reply and the draw that follows, if one does after each.
fn draw_after_each(
    web: &mut Web,
    after: &Chess,
    replies: &[Move],
    budget: &mut Budget,
) -> Option<Vec<Move>> {
    // What would not work against a pass works against a reply only by chance, and is not looked for.
    let passed = after.clone().swap_turn().ok()?;
    let share = budget.left() / PART_FOR_A_PASS;
    budget.lend(share, |loan| endless(web, &passed, loan))?;
    let mut line = None;
    for &reply in replies {
        let rest = endless(web, &played(after, reply), budget)?;
        line.get_or_insert_with(|| [&[reply], &rest[..]].concat());
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::read_position;
    use crate::verdict::perpetual::perpetual;

    #[test]
    fn a_draw_after_a_capture_is_one_whatever_the_reply() {
        // Random: the queen takes the other one, and then there are checks without end.
        let pos = read_position("8/6k1/4Q1P1/p4qPr/p4P1b/7p/8/2K5 w - - 0 1").expect("legal");
        let endless_in =
            |pos: &Chess| matches!(perpetual(pos, &mut Budget::of(10_000)), Checks::Endless(_));
        assert!(!endless_in(&pos));
        let moves = pos.legal_moves();
        let mut budget = Budget::of(20_000);
        let line = draw_after_a_move(&mut Web::default(), &pos, &moves, &mut budget);
        let first = line.and_then(|line| line.first().copied()).expect("there is one");
        let after = played(&pos, first);
        assert!(!after.is_check() && !after.legal_moves().is_empty());
        for &reply in &after.legal_moves() {
            assert!(endless_in(&played(&after, reply)), "{reply}");
        }
    }
}

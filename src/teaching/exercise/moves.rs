//! Lines of moves: where their point is made.

use shakmaty::{Chess, Color, Move, Position, Role};

use super::worth::CLEAR;
use crate::board::{Replay, accepting, balance, exchange, pawns, played_out};

/// The line up to where its count of material is reached and nothing is being exchanged: what is played
/// after that proves no more. At least the first move is left.
pub(super) fn settled(start: &Chess, line: &[Move]) -> Vec<Move> {
    let replay = Replay::of(start, line);
    let balance_after = |index: usize| balance(&replay.positions[index + 1], start.turn());
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let counts = |index: usize| is_material(line[index]);
    let is_reached = |index: usize| balance_after(index) == balance_after(last);
    let is_quiet = |index: usize| index == last || !counts(index + 1);
    // An offer is not settled before it is answered.
    let mut ends = (1..last).filter(|&index| counts(index) && is_reached(index) && is_quiet(index));
    let end = ends.next().or_else(|| (0..=last).rev().find(|&index| counts(index))).unwrap_or(0);
    line[..=end].to_vec()
}

/// The line up to where the side that is proved right is clearly ahead for good and nothing is being
/// exchanged: what a pupil has to see. `lead` is what that side was ahead before, in pawns. All of the line
/// if it mates, or if there is no such place in it.
pub(super) fn decisive<'l>(start: &Chess, line: &'l [Move], right: Color, lead: i32) -> &'l [Move] {
    let replay = Replay::of(start, line);
    if replay.positions.last().is_some_and(Position::is_checkmate) {
        return line;
    }
    let is_ahead = |pos: &Chess| balance(pos, right) - lead >= CLEAR;
    let after = &replay.positions[1..];
    let from = after.iter().rposition(|pos| !is_ahead(pos)).map_or(0, |last| last + 1);
    let is_quiet = |index: usize| line.get(index + 1).is_none_or(|&m| !is_material(m));
    // An offer decides nothing before it is answered.
    let end = (from.max(1)..line.len()).find(|&index| is_quiet(index));
    end.map_or(line, |end| &line[..=end])
}

/// The move that takes what is offered: with the king if it can, else with the least man.
pub(super) fn taker(pos: &Chess, offer: Move) -> Option<Move> {
    let takers = accepting(pos, offer);
    takers.into_iter().min_by_key(|m| (m.role() != Role::King, pawns(m.role())))
}

/// Whether nothing needs to be seen to play a move after some others: it takes something worth clearly more than the man
/// that takes it, or something that is not guarded well enough, or what has just taken something.
pub(super) fn is_plain(lead: &[Move], pos: &Chess, m: Move) -> bool {
    let is_dearer = m.capture().is_some_and(|taken| pawns(taken) >= pawns(m.role()) + CLEAR);
    let is_back = lead.last().is_some_and(|last| last.is_capture() && last.to() == m.to());
    m.is_capture() && (is_dearer || is_back || exchange(pos, m) >= CLEAR)
}

/// Whether a move changes the material.
pub(super) fn is_material(m: Move) -> bool {
    m.is_capture() || m.is_promotion()
}

/// Whether a line ends in mate.
pub(super) fn is_to_mate(start: &Chess, line: &[Move]) -> bool {
    played_out(start, line).is_checkmate()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{legal_move, played, read_position};

    fn pos(fen: &str) -> Chess {
        read_position(fen).expect("the position is legal")
    }

    /// Whether the only capture of a position is plain after some moves.
    fn is_plain_after(lead: &[Move], pos: &Chess) -> bool {
        let captures = pos.capture_moves();
        assert_eq!(captures.len(), 1);
        is_plain(lead, pos, captures[0])
    }

    // All positions are invented.

    #[test]
    fn taking_back_taking_what_hangs_and_taking_what_is_dearer_is_plain() {
        assert!(is_plain_after(&[], &pos("4k3/8/8/3n4/8/8/8/3RK3 w - - 0 1")));
        assert!(!is_plain_after(&[], &pos("4k3/8/4p3/3n4/8/8/8/3RK3 w - - 0 1")));
        assert!(is_plain_after(&[], &pos("4k3/8/4p3/3r4/8/5B2/8/4K3 w - - 0 1")));
        let before = pos("4k3/8/4p3/3P4/8/8/8/3RK3 b - - 0 1");
        let takes = legal_move(&before, "exd5").expect("the move is legal");
        let after = played(&before, takes);
        assert!(!is_plain_after(&[], &after) && is_plain_after(&[takes], &after));
    }
}

//! Lines of moves: where their point is made, and how they are written.

use shakmaty::{Chess, Color, Move, Position};

use super::proof::CLEAR;
use crate::board::balance;
use crate::mining::Replay;
use crate::verdict::played_out;

/// The line up to where its count of material is reached and nothing is being exchanged: what is played
/// after that proves no more. At least the first move is left.
pub(super) fn settled(start: &Chess, line: &[Move]) -> Vec<Move> {
    let replay = Replay::of(start, line);
    let balance_after = |index: usize| balance(&replay.positions[index + 1], start.turn());
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let counts = |index: usize| counts(line[index]);
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
    let is_quiet = |index: usize| line.get(index + 1).is_none_or(|&m| !counts(m));
    // An offer decides nothing before it is answered.
    let end = (from.max(1)..line.len()).find(|&index| is_quiet(index));
    end.map_or(line, |end| &line[..=end])
}

/// Whether a move changes the material.
fn counts(m: Move) -> bool {
    m.is_capture() || m.is_promotion()
}

/// Whether a line ends in mate.
pub(super) fn is_to_mate(start: &Chess, line: &[Move]) -> bool {
    played_out(start, line).is_checkmate()
}

/// A move as it is printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Printed {
    /// The number of the move.
    pub(crate) number: u32,
    /// Who moves.
    pub(crate) side: Color,
    /// The move in SAN.
    pub(crate) san: String,
    /// Whether it is the first of its line.
    is_first: bool,
}

impl Printed {
    /// What a book puts before it: `15.` before a move of White's, `15…` before the first if it is Black's.
    pub(crate) fn number_in_print(&self) -> Option<String> {
        let is_numbered = self.is_first || self.side == Color::White;
        is_numbered.then(|| format!("{}{}", self.number, self.side.fold_wb(".", "…")))
    }
}

/// The moves of a line.
pub(crate) fn printed(start: &Chess, line: &[Move]) -> Vec<Printed> {
    let replay = Replay::of(start, line);
    let one = |index: usize| {
        let pos = &replay.positions[index];
        let san = replay.san(index).to_string();
        Printed { number: pos.fullmoves().get(), side: pos.turn(), san, is_first: index == 0 }
    };
    (0..line.len()).map(one).collect()
}

/// A line in one text, as a book has it: `15.Bxh7+ Kxh7 16.Ng5+`.
pub(crate) fn in_print(start: &Chess, line: &[Move]) -> String {
    let texts: Vec<String> = printed(start, line)
        .iter()
        .map(|one| one.number_in_print().unwrap_or_default() + &one.san)
        .collect();
    texts.join(" ")
}

//! Lines of moves: where their point is made, and how they are written.

use shakmaty::{Chess, Color, Move, Position};

use crate::board::balance;
use crate::mining::Replay;
use crate::verdict::played;

/// The line up to where its count of material is reached and nothing is being exchanged: what is played
/// after that proves no more. At least the first move is left.
pub(super) fn settled(start: &Chess, line: &[Move]) -> Vec<Move> {
    let replay = Replay::of(start, line);
    let balance_after = |index: usize| balance(&replay.positions[index + 1], start.turn());
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let counts = |index: usize| line[index].is_capture() || line[index].is_promotion();
    let is_reached = |index: usize| balance_after(index) == balance_after(last);
    let is_quiet = |index: usize| index == last || !counts(index + 1);
    // An offer is not settled before it is answered.
    let mut ends = (1..last).filter(|&index| counts(index) && is_reached(index) && is_quiet(index));
    let end = ends.next().or_else(|| (0..=last).rev().find(|&index| counts(index))).unwrap_or(0);
    line[..=end].to_vec()
}

/// The position after a line.
pub(super) fn after(start: &Chess, line: &[Move]) -> Chess {
    line.iter().fold(start.clone(), |pos, &m| played(&pos, m))
}

/// Whether a line ends in mate.
pub(super) fn is_to_mate(start: &Chess, line: &[Move]) -> bool {
    after(start, line).is_checkmate()
}

/// A move as it is printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Printed {
    /// The number of the move, if one stands before it.
    pub(super) number: Option<u32>,
    /// Who moves.
    pub(super) side: Color,
    /// The move in SAN.
    pub(super) san: String,
}

impl Printed {
    /// The same as a book has it: `15.`, `15…`.
    pub(super) fn number_in_print(&self) -> Option<String> {
        self.number.map(|number| format!("{number}{}", self.side.fold_wb(".", "…")))
    }
}

/// The moves of a line with their numbers: before every move of White's and before the first.
pub(super) fn printed(start: &Chess, line: &[Move]) -> Vec<Printed> {
    let replay = Replay::of(start, line);
    (0..line.len())
        .map(|index| {
            let pos = &replay.positions[index];
            let side = pos.turn();
            let is_numbered = index == 0 || side == Color::White;
            Printed {
                number: is_numbered.then(|| pos.fullmoves().get()),
                side,
                san: replay.san(index).to_string(),
            }
        })
        .collect()
}

/// A line in one text, as a book has it: `15.Bxh7+ Kxh7 16.Ng5+`.
pub(super) fn in_print(start: &Chess, line: &[Move]) -> String {
    let texts: Vec<String> = printed(start, line)
        .iter()
        .map(|one| one.number_in_print().unwrap_or_default() + &one.san)
        .collect();
    texts.join(" ")
}

//! Which positions are too much the same for one sheet.
//!
//! Positions are compared in the attacker's view, as they stand and mirrored left to right. Near the
//! action, which is within two king's steps of the defender's king and of the squares that the offer and
//! the solution's first move leave and reach, the same men must stand for two to be alike; elsewhere up
//! to [`MOST_ELSEWHERE`] squares may differ, which is what three moves of pawns or men change.

use shakmaty::{Bitboard, Board, Color, Move, Position, Role, Square, attacks};

use super::Exercise;
use crate::board::{View, Wing, destination};

/// How many squares away from the action may differ.
const MOST_ELSEWHERE: usize = 6;

/// What of an exercise is compared.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Likeness {
    board: Board,
    action: Bitboard,
}

impl Likeness {
    /// That of an exercise.
    #[must_use]
    pub fn of(exercise: &Exercise) -> Likeness {
        let offer = exercise.lead.moves.first();
        let moves = offer.into_iter().chain(exercise.line.first());
        Likeness::at(exercise.start.board(), exercise.attacker, moves.copied())
    }

    /// That of a board on which `attacker` attacks, and the moves it is about.
    #[must_use]
    pub fn at(board: &Board, attacker: Color, moves: impl IntoIterator<Item = Move>) -> Likeness {
        let king = board.king_of(attacker.other());
        let squares = moves.into_iter().flat_map(|m| m.from().into_iter().chain([destination(m)]));
        let action = squares.chain(king).map(around).fold(Bitboard::EMPTY, |all, near| all | near);
        Likeness { board: board.clone(), action }.seen(View { attacker, wing: Wing::Written })
    }

    fn seen(self, view: View) -> Likeness {
        Likeness { board: view.turn_board(self.board), action: view.turn_all(self.action) }
    }

    /// Whether both are too much the same.
    #[must_use]
    pub fn is_like(&self, other: &Likeness) -> bool {
        self.is_nearly(other) || self.is_nearly(&other.mirrored())
    }

    fn mirrored(&self) -> Likeness {
        self.clone().seen(View { attacker: Color::White, wing: Wing::Mirrored })
    }

    fn is_nearly(&self, other: &Likeness) -> bool {
        let different = different(&self.board, &other.board);
        (different & (self.action | other.action)).is_empty() && different.count() <= MOST_ELSEWHERE
    }
}

/// The squares within two king's steps of a square.
fn around(square: Square) -> Bitboard {
    let near = Bitboard::from_square(square) | attacks::king_attacks(square);
    near.into_iter().fold(near, |all, square| all | attacks::king_attacks(square))
}

/// The squares on which different men stand.
fn different(one: &Board, other: &Board) -> Bitboard {
    let sides = Color::ALL.map(|side| one.by_color(side) ^ other.by_color(side));
    let roles = Role::ALL.map(|role| one.by_role(role) ^ other.by_role(role));
    sides.into_iter().chain(roles).fold(Bitboard::EMPTY, |all, these| all | these)
}

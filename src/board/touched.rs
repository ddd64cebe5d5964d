//! Which men a move may have left to be taken: what tells, before any capture is tried, where nothing changed.
//!
//! A man can be won after a move and could not be before only if the move took a guard from it, opened a
//! line of the defender to it, shut a line of the attacker to it, or unpinned or pinned a man that has a
//! say. All of that happens on the lines through the two squares of the move and through the kings.
//!
//! Invariant: never leaves out a man that a move newly exposes.

use shakmaty::{Bitboard, Board, Chess, Color, Move, Position, Role, Square, attacks};

/// The squares on which a man of the side that moved may now be won and could not be won before; that
/// of the man that moved is among them.
///
/// `m` must be legal in `before`, and `after` the position after it.
pub(super) fn touched(before: &Chess, m: Move, after: &Chess) -> Bitboard {
    let Move::Normal { role, from, to, .. } = m else { return Bitboard::FULL };
    let (attacker, defender) = (before.turn(), after.turn());
    let board = after.board();
    if role == Role::King || changes_pins(before.board(), board, attacker, role, from, to) {
        return Bitboard::FULL;
    }
    let guarded = match role {
        Role::Pawn => attacks::pawn_attacks(attacker, from),
        Role::Knight => attacks::knight_attacks(from),
        Role::Bishop => attacks::bishop_attacks(from, Bitboard::EMPTY),
        Role::Rook => attacks::rook_attacks(from, Bitboard::EMPTY),
        Role::Queen | Role::King => attacks::queen_attacks(from, Bitboard::EMPTY),
    };
    let opened = lines_through(from, sliders_towards(board, defender, from));
    let shut = lines_through(to, sliders_towards(board, attacker, to).without(to));
    guarded | opened | shut | Bitboard::from_square(to)
}

/// The line pieces of a side that would reach a square on an empty board.
pub(super) fn sliders_towards(board: &Board, color: Color, square: Square) -> Bitboard {
    let straight = attacks::rook_attacks(square, Bitboard::EMPTY) & board.rooks_and_queens();
    let slanting = attacks::bishop_attacks(square, Bitboard::EMPTY) & board.bishops_and_queens();
    (straight | slanting) & board.by_color(color)
}

/// The whole lines through a square and these men.
pub(super) fn lines_through(square: Square, men: Bitboard) -> Bitboard {
    men.into_iter().fold(Bitboard::EMPTY, |all, man| all | attacks::ray(square, man))
}

/// Whether a move of a man other than the king may have freed a man of the defender from a pin, or pinned
/// one of the attacker's own. Never wrongly no.
fn changes_pins(
    before: &Board,
    after: &Board,
    attacker: Color,
    role: Role,
    from: Square,
    to: Square,
) -> bool {
    let is_line_piece = matches!(role, Role::Bishop | Role::Rook | Role::Queen);
    let frees = after.king_of(attacker.other()).is_some_and(|king| {
        let own = sliders_towards(after, attacker, king).without(to);
        let left = is_line_piece && !(attacks::between(king, from) & before.occupied()).is_empty();
        left || !(attacks::ray(king, to) & own).is_empty()
    });
    let pins = after.king_of(attacker).is_some_and(|king| {
        let line = attacks::ray(king, from);
        !(line & sliders_towards(after, attacker.other(), king)).is_empty()
    });
    frees || pins
}

//! Facts of a position: which men reach, guard or are pinned on some squares.
//!
//! Each function answers with the men for which the fact holds, so that a sentence can ask for none,
//! one, or at least a number of them.

use shakmaty::{Bitboard, Board, Chess, Color, Position, Role, Square, attacks};

use super::Men;

/// The men that attack at least one of the squares.
#[must_use]
pub fn guarding(board: &Board, color: Color, men: Men, squares: Bitboard) -> Bitboard {
    men.on(board, color)
        .into_iter()
        .filter(|&from| !(board.attacks_from(from) & squares).is_empty())
        .collect()
}

/// The men that attack at least one of the squares, also through own men that move along the same line:
/// a rook behind a rook, a queen behind a bishop.
#[must_use]
pub fn bearing(board: &Board, color: Color, men: Men, squares: Bitboard) -> Bitboard {
    let own = board.by_color(color);
    let straight = board.occupied() & !(own & board.rooks_and_queens());
    let slanting = board.occupied() & !(own & board.bishops_and_queens());
    let bears = |&from: &Square| {
        let reach = match board.role_at(from) {
            Some(Role::Rook) => attacks::rook_attacks(from, straight),
            Some(Role::Bishop) => attacks::bishop_attacks(from, slanting),
            Some(Role::Queen) => {
                attacks::rook_attacks(from, straight) | attacks::bishop_attacks(from, slanting)
            }
            _ => board.attacks_from(from),
        };
        !(reach & squares).is_empty()
    };
    men.on(board, color).into_iter().filter(bears).collect()
}

/// The men that go to at least one of the squares in one move, pins and checks aside. Own men block;
/// pawns go by push or capture.
#[must_use]
pub fn reaching(pos: &Chess, color: Color, men: Men, squares: Bitboard) -> Bitboard {
    let board = pos.board();
    let open = squares & !board.by_color(color);
    men.on(board, color)
        .into_iter()
        .filter(|&from| !(destinations(pos, color, from) & open).is_empty())
        .collect()
}

/// Where the man on `from` could go, own men not yet excluded.
fn destinations(pos: &Chess, color: Color, from: Square) -> Bitboard {
    let board = pos.board();
    if board.role_at(from) != Some(Role::Pawn) {
        return board.attacks_from(from);
    }
    let ep_square = pos.maybe_ep_square().filter(|_| color == pos.turn());
    let targets = board.by_color(color.other()) | Bitboard::from_iter(ep_square);
    pushes(board, color, from) | (attacks::pawn_attacks(color, from) & targets)
}

/// The squares a pawn on `from` can be pushed to.
#[must_use]
pub fn pushes(board: &Board, color: Color, from: Square) -> Bitboard {
    let step = color.fold_wb(8, -8);
    let is_free = |square: &Square| !board.occupied().contains(*square);
    let Some(one) = from.offset(step).filter(is_free) else {
        return Bitboard::EMPTY;
    };
    let is_home = from.rank() == color.fold_wb(shakmaty::Rank::Second, shakmaty::Rank::Seventh);
    let two = one.offset(step).filter(is_free).filter(|_| is_home);
    Bitboard::from_square(one) | Bitboard::from_iter(two)
}

/// The men among those on `squares` that are pinned to their own king.
#[must_use]
pub fn pinned(board: &Board, color: Color, men: Men, squares: Bitboard) -> Bitboard {
    let Some(king) = board.king_of(color) else {
        return Bitboard::EMPTY;
    };
    screens(board, color.other(), king) & men.on(board, color) & squares
}

/// The men of either colour that alone stand between a king and a line piece of this colour.
#[must_use]
pub fn screens(board: &Board, sniper: Color, king: Square) -> Bitboard {
    let snipers = board.by_color(sniper)
        & ((attacks::rook_attacks(king, Bitboard::EMPTY) & board.rooks_and_queens())
            | (attacks::bishop_attacks(king, Bitboard::EMPTY) & board.bishops_and_queens()));
    snipers
        .into_iter()
        .map(|sniper| attacks::between(king, sniper) & board.occupied())
        .filter(|men| men.count() == 1)
        .fold(Bitboard::EMPTY, |all, men| all | men)
}

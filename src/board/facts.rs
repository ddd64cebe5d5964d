//! Facts of a position: which men reach, guard or are pinned on some squares, which are en prise, and
//! which pawns are passed.
//!
//! Each function picks from some men of a side those for which the fact holds, so that a sentence can ask
//! for none, one, or at least a number of them.

use shakmaty::{Bitboard, Board, Chess, Color, File, Position, Role, Square, attacks};

use super::Men;
use super::exchange::can_be_won;

/// Those of some men that attack at least one of the squares.
#[must_use]
pub fn guarding(board: &Board, men: Bitboard, squares: Bitboard) -> Bitboard {
    men.into_iter().filter(|&from| !(board.attacks_from(from) & squares).is_empty()).collect()
}

/// The squares that the men of one side attack.
#[must_use]
pub fn attacked(board: &Board, color: Color) -> Bitboard {
    let (own, occupied) = (board.by_color(color), board.occupied());
    let forward = color.fold_wb(8, -8);
    let pawns = board.pawns() & own;
    let east = (pawns & !Bitboard::from_file(File::H)).shift(forward + 1);
    let west = (pawns & !Bitboard::from_file(File::A)).shift(forward - 1);
    let mut all = east | west;
    for from in board.knights() & own {
        all |= attacks::knight_attacks(from);
    }
    for from in board.bishops_and_queens() & own {
        all |= attacks::bishop_attacks(from, occupied);
    }
    for from in board.rooks_and_queens() & own {
        all |= attacks::rook_attacks(from, occupied);
    }
    for from in board.kings() & own {
        all |= attacks::king_attacks(from);
    }
    all
}

/// Those of a side's men that attack at least one of the squares, also through own men that move along the
/// same line: a rook behind a rook, a queen behind a bishop.
#[must_use]
pub fn bearing(board: &Board, color: Color, men: Bitboard, squares: Bitboard) -> Bitboard {
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
    men.into_iter().filter(bears).collect()
}

/// The square on which a side may take a pawn in passing, if it is its move.
#[must_use]
pub fn passing_square(pos: &Chess, color: Color) -> Option<Square> {
    pos.maybe_ep_square().filter(|_| color == pos.turn())
}

/// Those of a side's men that go to at least one of the squares in one move, pins and checks aside. Own men
/// block; pawns go by push or capture, in passing on `passing_square`.
#[must_use]
pub fn reaching(
    board: &Board,
    color: Color,
    men: Bitboard,
    squares: Bitboard,
    passing_square: Option<Square>,
) -> Bitboard {
    let open = squares & !board.by_color(color);
    let reaches =
        |&from: &Square| !(destinations(board, color, from, passing_square) & open).is_empty();
    men.into_iter().filter(reaches).collect()
}

/// Where the man on `from` could go, own men not yet excluded.
fn destinations(
    board: &Board,
    color: Color,
    from: Square,
    passing_square: Option<Square>,
) -> Bitboard {
    if board.role_at(from) != Some(Role::Pawn) {
        return board.attacks_from(from);
    }
    let targets = board.by_color(color.other()) | Bitboard::from_iter(passing_square);
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

/// Those of a side's men that are pinned to their own king.
#[must_use]
pub fn pinned(board: &Board, color: Color, men: Bitboard) -> Bitboard {
    let Some(king) = board.king_of(color) else {
        return Bitboard::EMPTY;
    };
    screens(board, color.other(), king) & men
}

/// Those of a side's men by whose capture the other side would win something, if it were its move: by
/// exchange on the man's square, so that capturing in passing is none. A king never is.
#[must_use]
pub fn en_prise(board: &Board, color: Color, men: Bitboard) -> Bitboard {
    let men = men & !board.kings();
    let men = if men.count() > 2 { men & attacked(board, color.other()) } else { men };
    men.into_iter().filter(|&square| can_be_won(board, color.other(), square)).collect()
}

/// A side's pawns that have no pawn of the other side ahead of them on their own file or one next to it.
#[must_use]
pub fn passed_pawns(board: &Board, color: Color) -> Bitboard {
    let [own, other] = [color, color.other()].map(|color| board.pawns() & board.by_color(color));
    let stops = |pawn: Square, other: Square| {
        let is_ahead = color.fold_wb(other.rank() > pawn.rank(), other.rank() < pawn.rank());
        is_ahead && pawn.file().distance(other.file()) <= 1
    };
    own.into_iter().filter(|&pawn| !other.into_iter().any(|other| stops(pawn, other))).collect()
}

/// Whether `square` lies strictly between two men of a colour, one of each of two sets of kinds, on a rank,
/// file or diagonal along which one of the two moves as a line piece does, and on `before` nothing stood
/// between them. The two are those that are still on `after`.
#[must_use]
pub fn sees_through(
    before: &Board,
    after: &Board,
    color: Color,
    (one, other): (Men, Men),
    square: Square,
) -> bool {
    let [ones, others] = [one, other].map(|men| men.on(before, color) & men.on(after, color));
    let is_cut = |from: Square, to: Square| {
        let between = attacks::between(from, to);
        let is_straight = from.file() == to.file() || from.rank() == to.rank();
        let movers =
            if is_straight { before.rooks_and_queens() } else { before.bishops_and_queens() };
        between.contains(square)
            && (between & before.occupied()).is_empty()
            && (movers.contains(from) || movers.contains(to))
    };
    ones.into_iter().any(|from| others.into_iter().any(|to| is_cut(from, to)))
}

/// The board without some men.
#[must_use]
pub fn without(board: &Board, men: Bitboard) -> Board {
    let mut left = board.clone();
    for square in men {
        left.discard_piece_at(square);
    }
    left
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

//! What can be won on a square, by exchange over *legal* captures.
//!
//! A swap list that knows no pins says that a pinned defender recaptures; here every capture is made on
//! a board and counts only if it leaves the own king safe, so pins, discovered checks and promotions
//! count. (A capture in passing never lands on a man's square, so it has no part in an exchange.) Values
//! are the usual pawn 1, knight 3, bishop 3, rook 5, queen 9 (common practice, no source).

use shakmaty::{Bitboard, Board, Chess, Color, Move, Piece, Position, Role, Square};

use super::played;

/// The worth of a man in pawns; a king is never given up and counts 0.
#[must_use]
pub const fn pawns(role: Role) -> i32 {
    match role {
        Role::Pawn => 1,
        Role::Knight | Role::Bishop => 3,
        Role::Rook => 5,
        Role::Queen => 9,
        Role::King => 0,
    }
}

/// What a move takes and what it adds by promotion, in pawns.
#[inline]
#[must_use]
pub fn gain(m: Move) -> i32 {
    let captured = m.capture().map_or(0, pawns);
    let promoted = m.promotion().map_or(0, |role| pawns(role) - pawns(Role::Pawn));
    captured + promoted
}

/// The balance of a move for the mover, in pawns, when both sides go on capturing on its square as
/// long as it pays them (exact minimax over legal captures).
///
/// `m` must be legal in `pos`.
#[must_use]
pub fn exchange(pos: &Chess, m: Move) -> i32 {
    let after = played(pos, m);
    gain(m) - best_capture(after.board(), after.turn(), m.to())
}

/// What `side` wins by capturing the man on `square`, in pawns; 0 if capturing does not pay.
#[must_use]
pub fn best_capture(board: &Board, side: Color, square: Square) -> i32 {
    best_capture_up_to(board, side, square, i32::MAX)
}

/// Whether `side` may win the man on `square`, seen at a glance. Never wrongly no.
///
/// A defended man that is worth no more than any man that attacks it can be won only by a second one,
/// which may stand behind the first.
#[must_use]
pub(super) fn may_be_won(board: &Board, side: Color, square: Square) -> bool {
    let Some(man) = board.role_at(square) else { return false };
    let takers = board.attacks_to(square, side, board.occupied());
    if takers.is_empty() {
        return false;
    }
    let is_defended = !board.attacks_to(square, side.other(), board.occupied()).is_empty();
    let cheaper = |role: &Role| *role != Role::King && pawns(*role) < pawns(man);
    let has_cheaper_taker = || {
        Role::ALL
            .iter()
            .filter(|role| cheaper(role))
            .any(|&role| !(takers & board.by_role(role)).is_empty())
    };
    let has_second_taker = || {
        let behind = board.attacks_to(square, side, board.occupied() & !takers) & !takers;
        takers.more_than_one() || !behind.is_empty()
    };
    !is_defended || has_cheaper_taker() || has_second_taker()
}

/// [`best_capture`], cut off as soon as the result is known to be `ceiling` or more.
fn best_capture_up_to(board: &Board, side: Color, square: Square, ceiling: i32) -> i32 {
    let Some(taken) = board.piece_at(square).filter(|man| man.color != side) else { return 0 };
    let takers = board.attacks_to(square, side, board.occupied());
    let mut best = 0;
    for role in Role::ALL {
        for from in takers & board.by_role(role) {
            for &becomes in men_after(role, square) {
                let gain = pawns(taken.role) + pawns(becomes) - pawns(role);
                if gain <= best {
                    continue;
                }
                let Some(after) = with_capture(board, side, from, square, becomes) else { break };
                let answer = best_capture_up_to(&after, side.other(), square, gain - best);
                best = best.max(gain - answer);
                if best >= ceiling {
                    return best;
                }
            }
        }
    }
    best
}

/// What a man may be once it has come to a square: a pawn on a last rank another man, the best first.
fn men_after(role: Role, square: Square) -> &'static [Role] {
    const ITSELF: [[Role; 1]; 6] =
        [[Role::Pawn], [Role::Knight], [Role::Bishop], [Role::Rook], [Role::Queen], [Role::King]];
    if role == Role::Pawn && Bitboard::BACKRANKS.contains(square) {
        &[Role::Queen, Role::Rook, Role::Bishop, Role::Knight]
    } else {
        &ITSELF[role as usize - 1]
    }
}

/// The board after a capture, if it leaves the own king safe.
fn with_capture(
    board: &Board,
    side: Color,
    from: Square,
    square: Square,
    becomes: Role,
) -> Option<Board> {
    let mut after = board.clone();
    after.discard_piece_at(from);
    after.set_piece_at(square, Piece { color: side, role: becomes });
    let is_safe = |king| after.attacks_to(king, side.other(), after.occupied()).is_empty();
    after.king_of(side).is_none_or(is_safe).then_some(after)
}

//! The legal move that a SAN means, found without generating moves where that can be done.
//!
//! Most often only one man can go where the SAN says, pins and checks aside. Then the move is legal if
//! it leaves the own king unattacked, which is cheap to see once it is played. All else (castling,
//! several men that could go there, and whatever is wrong) is left to the move generator. Writing a
//! move goes the same way back: a man that alone could go there needs no telling apart.

use shakmaty::san::{San, SanError, SanPlus};
use shakmaty::{
    Bitboard, Board, CastlingSide, Chess, Color, Move, Position, Rank, Role, Square, attacks,
};

/// Reads a move as it stands in movetext, check marks and castling with zeros included; `None` if it is
/// not a move. A null move is not one.
#[must_use]
pub fn read_san(text: &[u8]) -> Option<San> {
    if text.first() == Some(&b'0') {
        return match text.strip_suffix(b"+").or(text.strip_suffix(b"#")).unwrap_or(text) {
            b"0-0" => Some(San::Castle(CastlingSide::KingSide)),
            b"0-0-0" => Some(San::Castle(CastlingSide::QueenSide)),
            _ => None,
        };
    }
    SanPlus::from_ascii(text).ok().map(|read| read.san).filter(|&san| san != San::Null)
}

/// The legal move that a text means in SAN; `None` if it is none.
#[must_use]
pub fn legal_move(pos: &Chess, san: &str) -> Option<Move> {
    read_san(san.as_bytes())?.to_move(pos).ok()
}

/// Plays the move that `san` means in `before` and answers with it; `after`, a copy of `before`,
/// becomes the position after it.
///
/// # Errors
///
/// If no man, or more than one, can legally make it.
pub fn play_san(before: &Chess, san: San, after: &mut Chess) -> Result<Move, SanError> {
    if let Some(m) = only_move(before, san) {
        after.play_unchecked(m);
        if has_safe_king(after) {
            return Ok(m);
        }
        after.clone_from(before);
    }
    let m = san.to_move(before)?;
    after.play_unchecked(m);
    Ok(m)
}

/// Whether the side that has just moved left its king unattacked.
#[must_use]
pub fn has_safe_king(after: &Chess) -> bool {
    let (board, mover) = (after.board(), after.turn().other());
    board
        .king_of(mover)
        .is_none_or(|king| board.attacks_to(king, after.turn(), board.occupied()).is_empty())
}

/// The move that `san` means if only one man can make it, the safety of the own king aside: it is legal
/// if [`has_safe_king`] holds after it. `None` where that can't be told.
fn only_move(pos: &Chess, san: San) -> Option<Move> {
    let San::Normal { role, file, rank, capture, to, promotion } = san else {
        return None;
    };
    let board = pos.board();
    let mut from = origins(board, pos.turn(), role, capture, to);
    from &= file.map_or(Bitboard::FULL, Bitboard::from_file);
    from &= rank.map_or(Bitboard::FULL, Bitboard::from_rank);
    let from = from.single_square()?;
    if !promotes_as_it_must(pos.turn(), role, to, promotion) {
        return None;
    }
    match board.role_at(to) {
        None if !capture => Some(Move::Normal { role, from, capture: None, to, promotion }),
        None if role == Role::Pawn && pos.maybe_ep_square() == Some(to) => {
            Some(Move::EnPassant { from, to })
        }
        taken @ Some(_) if capture && !board.by_color(pos.turn()).contains(to) => {
            Some(Move::Normal { role, from, capture: taken, to, promotion })
        }
        _ => None,
    }
}

/// The SAN of a legal move, without its check mark.
#[must_use]
pub fn written(pos: &Chess, m: Move) -> San {
    match m {
        Move::Normal { role, from, capture, to, promotion } if role != Role::Pawn => {
            let origins = origins(pos.board(), pos.turn(), role, capture.is_some(), to);
            if origins == Bitboard::from_square(from) {
                let capture = capture.is_some();
                return San::Normal { role, file: None, rank: None, capture, to, promotion };
            }
            San::from_move(pos, m)
        }
        _ => San::from_move(pos, m),
    }
}

fn promotes_as_it_must(color: Color, role: Role, to: Square, promotion: Option<Role>) -> bool {
    let last_rank = color.fold_wb(Rank::Eighth, Rank::First);
    match promotion {
        None => role != Role::Pawn || to.rank() != last_rank,
        Some(Role::Pawn | Role::King) => false,
        Some(_) => role == Role::Pawn && to.rank() == last_rank,
    }
}

/// The squares of the men of one role and colour that go to a square, the own king's safety aside.
fn origins(board: &Board, color: Color, role: Role, capture: bool, to: Square) -> Bitboard {
    let reach = match role {
        Role::Pawn if capture => attacks::pawn_attacks(color.other(), to),
        Role::Pawn => push_origin(board, color, to),
        Role::Knight => attacks::knight_attacks(to),
        Role::Bishop => attacks::bishop_attacks(to, board.occupied()),
        Role::Rook => attacks::rook_attacks(to, board.occupied()),
        Role::Queen => attacks::queen_attacks(to, board.occupied()),
        Role::King => attacks::king_attacks(to),
    };
    reach & board.by_color(color) & board.by_role(role)
}

/// The square from which a pawn may be pushed to a square: the one behind it, or from its home the one
/// behind that.
fn push_origin(board: &Board, color: Color, to: Square) -> Bitboard {
    let back = color.fold_wb(-8, 8);
    let Some(one) = to.offset(back) else {
        return Bitboard::EMPTY;
    };
    if board.occupied().contains(one) {
        return Bitboard::from_square(one);
    }
    let home = color.fold_wb(Rank::Second, Rank::Seventh);
    Bitboard::from_iter(one.offset(back).filter(|two| two.rank() == home))
}

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

/// Why a text means no move.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum MoveFault {
    /// It is not SAN.
    #[error("`{0}` is not a move in SAN")]
    NotSan(String),
    /// No man can legally make it.
    #[error("`{0}` is not a legal move in this position")]
    Illegal(String),
    /// More than one man can legally make it.
    #[error("`{san}` is ambiguous: it may be {}", one_of(.choices))]
    Ambiguous {
        /// The move as written.
        san: String,
        /// The moves that it may be, in SAN.
        choices: Vec<String>,
    },
}

/// Reads the legal move that a text means in SAN.
///
/// # Errors
///
/// Why it means none.
pub fn read_move(pos: &Chess, text: &str) -> Result<Move, MoveFault> {
    let san = read_san(text.as_bytes()).ok_or_else(|| MoveFault::NotSan(text.to_owned()))?;
    san.to_move(pos).map_err(|error| move_fault(pos, san, text, &error))
}

/// Why a move in SAN, which is written so, can't be made.
#[must_use]
pub fn move_fault(pos: &Chess, san: San, written: &str, error: &SanError) -> MoveFault {
    match error {
        SanError::IllegalSan => MoveFault::Illegal(written.to_owned()),
        SanError::AmbiguousSan => {
            MoveFault::Ambiguous { san: written.to_owned(), choices: fitting(pos, san) }
        }
    }
}

/// The legal moves that a SAN fits, in SAN; several if it is ambiguous.
#[must_use]
pub fn fitting(pos: &Chess, san: San) -> Vec<String> {
    let fits = |m: &&Move| san.matches(**m);
    let legal = pos.legal_moves();
    let mut choices: Vec<String> =
        legal.iter().filter(fits).map(|&m| written(pos, m).to_string()).collect();
    choices.sort();
    choices
}

/// Names in backticks, of which one is meant.
fn one_of(names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::read_position;

    #[test]
    fn move_that_several_men_can_make_is_ambiguous_and_one_that_none_can_is_illegal() {
        // The case of the PGN standard, 8.2.3.4 (from memory): knights on c3 and g1, and a move `Ne2`. With
        // the one on c3 pinned it is the other's, and not ambiguous.
        let fen = |black: &str, white: &str| format!("4k3/8/8/8/{black}/2N5/8/{white} w - - 0 1");
        let fault = |fen: &str, text: &str| {
            let pos = read_position(fen).map_err(|fault| fault.to_string())?;
            read_move(&pos, text).map(|m| m.to_string()).map_err(|fault| fault.to_string())
        };
        let said = |fen: &str, text: &str| fault(fen, text).unwrap_or_else(|fault| fault);
        let free = fen("8", "4K1N1");
        assert_eq!(said(&free, "Ne2"), "`Ne2` is ambiguous: it may be `Nce2` or `Nge2`");
        assert_eq!(said(&free, "Nce2"), "Nc3-e2");
        assert_eq!(said(&free, "Ne3"), "`Ne3` is not a legal move in this position");
        assert_eq!(said(&free, "knight"), "`knight` is not a move in SAN");
        assert_eq!(said(&fen("1b6", "4K1N1"), "Ne2"), "Ng1-e2");
        // Three queens, which need a rank or both parts.
        let queens = "2k5/8/8/8/Q6Q/8/8/K6Q w - - 0 1";
        let choices = said(queens, "Qe4");
        assert!(choices.starts_with("`Qe4` is ambiguous: it may be `Q"), "{choices}");
        assert_eq!(choices.matches('`').count(), 2 + 2 * 3, "{choices}");
    }
}

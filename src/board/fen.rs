//! Positions as they are written: FEN, and what is wrong with one.

use std::ops::Range;

use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Position, Setup};

/// What is wrong with a FEN: which part of it, or why its position can't be.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error("{message}")]
pub struct FenFault {
    message: String,
    /// Where the part at fault stands, in bytes of the text.
    pub place: Range<usize>,
}

impl FenFault {
    fn new(message: impl Into<String>, text: &str, part: &str) -> FenFault {
        let start = (part.as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        FenFault { message: message.into(), place: start..start + part.len() }
    }
}

/// Reads a FEN, legal or not; what follows the board may be left out. Blanks and tabs in any number part its
/// parts.
///
/// # Errors
///
/// Which part of it is wrong.
pub fn read_setup(text: &str) -> Result<Setup, FenFault> {
    let parts: Vec<&str> = text.split_ascii_whitespace().collect();
    let fen = parts.join(" ").parse::<Fen>();
    let setup = fen.map(Fen::into_setup).map_err(|_| fault(text, &parts))?;
    let is_chess =
        setup.pockets.is_none() && setup.remaining_checks.is_none() && setup.promoted.is_empty();
    if is_chess { Ok(setup) } else { Err(fault_of_variant(text, &parts, &setup)) }
}

/// Reads the FEN of a legal position; castling rights decide whether it is one of Chess960.
///
/// # Errors
///
/// Which part of it is wrong, or which law of chess it breaks.
pub fn read_position(text: &str) -> Result<Chess, FenFault> {
    let setup = read_setup(text)?;
    let mode = CastlingMode::detect(&setup);
    setup.position(mode).map_err(|error| law_broken(&error, text))
}

/// What was wrong with a FEN and could be mended.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Mended {
    /// Castling rights without their king or rook in its place were dropped.
    pub castling: bool,
    /// An en passant square behind no pawn that has just moved was dropped.
    pub en_passant: bool,
}

/// Reads the FEN of a position as programs write it: rights that the position can't have are dropped.
///
/// # Errors
///
/// Which part of it is wrong, or which law of chess it breaks.
pub fn read_start(text: &str, mode: CastlingMode) -> Result<(Chess, Mended), FenFault> {
    let setup = read_setup(text)?;
    let rights = setup.castling_rights;
    let error = match setup.position::<Chess>(mode) {
        Ok(pos) => return Ok((pos, Mended::default())),
        Err(error) => error,
    };
    let (pos, en_passant) = match error.ignore_invalid_castling_rights() {
        Ok(pos) => (pos, false),
        Err(error) => match error.ignore_invalid_ep_square() {
            Ok(pos) => (pos, true),
            Err(error) => return Err(law_broken(&error, text)),
        },
    };
    let castling = pos.castles().castling_rights() != rights;
    Ok((pos, Mended { castling, en_passant }))
}

fn law_broken(error: &impl ToString, text: &str) -> FenFault {
    let error = error.to_string();
    let board = text.split_ascii_whitespace().next().unwrap_or_default();
    FenFault::new(error.trim_start_matches("illegal position: "), text, board)
}

/// What makes a FEN one of another kind of chess.
fn fault_of_variant(text: &str, parts: &[&str], setup: &Setup) -> FenFault {
    let board = parts.first().copied().unwrap_or_default();
    if board.split('/').count() != 8 {
        return board_fault(text, board);
    }
    if setup.pockets.is_some() {
        return FenFault::new("men in hand are of another kind of chess", text, board);
    }
    if setup.promoted.any() {
        return FenFault::new("marks of promoted men are of another kind of chess", text, board);
    }
    let is_counter = |part: &&&str| part.contains('+');
    let counter = parts.iter().find(is_counter).copied().unwrap_or(board);
    FenFault::new("a counter of checks is of another kind of chess", text, counter)
}

/// The parts of a FEN after the board, in order, and what each should be.
const PARTS: [&str; 5] = [
    "`w` or `b`, the side to move",
    "the castling rights, such as `KQkq` or `-`",
    "an en passant square, or `-`",
    "the number of plies since the last capture or pawn move",
    "the move number",
];

/// Which part of a FEN is wrong: the first with which it can't be read.
fn fault(text: &str, parts: &[&str]) -> FenFault {
    let readable = |count: usize| parts[..count].join(" ").parse::<Fen>().is_ok();
    match (1..=parts.len()).find(|&count| !readable(count)) {
        None => FenFault::new("a position is expected", text, text),
        Some(1) => board_fault(text, parts[0]),
        Some(count) => {
            let part = parts[count - 1];
            let message = match PARTS.get(count - 2) {
                Some(expected) => format!("`{part}` is not {expected}"),
                None => format!("`{part}` is one part too many"),
            };
            FenFault::new(message, text, part)
        }
    }
}

/// Which rank of a board is wrong.
fn board_fault(text: &str, board: &str) -> FenFault {
    let ranks: Vec<&str> = board.split('/').collect();
    if ranks.len() != 8 {
        let number = ranks.len();
        let word = if number == 1 { "rank" } else { "ranks" };
        let message = format!("`{board}` has {number} {word}, not 8");
        return FenFault::new(message, text, board);
    }
    for (rank, number) in ranks.iter().zip((1..=8).rev()) {
        if let Some(letter) = rank.chars().find(|letter| !"12345678PNBRQKpnbrqk".contains(*letter))
        {
            let message = format!(
                "`{letter}` on rank {number} (`{rank}`) is neither a man nor a number of squares"
            );
            return FenFault::new(message, text, rank);
        }
        let width: u32 = rank.chars().map(|letter| letter.to_digit(10).unwrap_or(1)).sum();
        if width != 8 {
            let message = format!("rank {number} (`{rank}`) has {width} squares, not 8");
            return FenFault::new(message, text, rank);
        }
    }
    FenFault::new(format!("`{board}` is not a board"), text, board)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_and_tabs_part_the_parts_however_many_they_are() {
        // The position before the first move, from the PGN standard, 16.1.
        let fen = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";
        let expected = read_position(fen);
        assert!(expected.is_ok());
        for blank in ["  ", "\t", " \t ", "\u{c}", "\n"] {
            let spread = format!("{blank}{}{blank}", fen.replace(' ', blank));
            assert_eq!(read_position(&spread), expected, "{spread:?}");
        }
        assert_eq!(
            read_setup("").map_err(|fault| fault.to_string()),
            Err("a position is expected".to_owned())
        );
    }
}

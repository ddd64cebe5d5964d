//! Positions as they are written: FEN, and what is wrong with one.

use shakmaty::fen::Fen;
use shakmaty::{CastlingMode, Chess, Setup};

/// What is wrong with a FEN: which part of it, or why its position can't be.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
#[error("{0}")]
pub struct FenFault(String);

/// Reads a FEN, legal or not; what follows the board may be left out. Blanks and tabs in any number part its
/// parts.
///
/// # Errors
///
/// Which part of it is wrong.
pub fn read_setup(text: &str) -> Result<Setup, FenFault> {
    let parts: Vec<&str> = text.split_ascii_whitespace().collect();
    parts.join(" ").parse::<Fen>().map(Fen::into_setup).map_err(|_| FenFault(fault(&parts)))
}

/// Reads the FEN of a legal position; castling rights decide whether it is one of Chess960.
///
/// # Errors
///
/// Which part of it is wrong, or which law of chess it breaks.
pub fn read_position(text: &str) -> Result<Chess, FenFault> {
    let setup = read_setup(text)?;
    let mode = CastlingMode::detect(&setup);
    setup.position(mode).map_err(|error| {
        let text = error.to_string();
        FenFault(text.trim_start_matches("illegal position: ").to_owned())
    })
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
fn fault(parts: &[&str]) -> String {
    let readable = |count: usize| parts[..count].join(" ").parse::<Fen>().is_ok();
    match (1..=parts.len()).find(|&count| !readable(count)) {
        None => "a position is expected".to_owned(),
        Some(1) => board_fault(parts[0]),
        Some(count) => match PARTS.get(count - 2) {
            Some(expected) => format!("`{}` is not {expected}", parts[count - 1]),
            None => format!("`{}` is one part too many", parts[count - 1]),
        },
    }
}

/// Which rank of a board is wrong.
fn board_fault(board: &str) -> String {
    let ranks: Vec<&str> = board.split('/').collect();
    if ranks.len() != 8 {
        return format!("`{board}` has {} ranks, not 8", ranks.len());
    }
    for (rank, number) in ranks.iter().zip((1..=8).rev()) {
        if let Some(letter) = rank.chars().find(|letter| !"12345678PNBRQKpnbrqk".contains(*letter))
        {
            return format!(
                "`{letter}` on rank {number} (`{rank}`) is neither a man nor a number of squares"
            );
        }
        let width: u32 = rank.chars().map(|letter| letter.to_digit(10).unwrap_or(1)).sum();
        if width != 8 {
            return format!("rank {number} (`{rank}`) has {width} squares, not 8");
        }
    }
    format!("`{board}` is not a board")
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

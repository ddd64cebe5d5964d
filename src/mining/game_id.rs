//! What a game is known by: its moves in short, and its id.

use std::fmt;
use std::str::FromStr;

use sha2::{Digest, Sha256};
use shakmaty::{Chess, Move, Position};

/// A game's moves in short: equal for equal games, and almost never else.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct MovesHash(pub(super) u64);

impl MovesHash {
    /// The hash of a game's start and moves, which never changes: it is saved in checkpoints.
    #[must_use]
    pub(super) fn of(start: &Chess, moves: &[Move]) -> MovesHash {
        let mut text =
            format!("{} {}", start.board().board_fen(), start.turn().char()).into_bytes();
        text.extend(moves.iter().flat_map(|m| bytes_of(*m)));
        MovesHash(u64::from_le_bytes(first_bytes(&text)))
    }
}

impl fmt::Display for MovesHash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

/// A text that is not a hash of moves.
#[derive(thiserror::Error, Clone, Copy, PartialEq, Eq, Debug)]
#[error("a hash of moves has 16 hexadecimal digits")]
pub struct NotAHash;

impl FromStr for MovesHash {
    type Err = NotAHash;

    fn from_str(text: &str) -> Result<MovesHash, NotAHash> {
        let is_hash = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        let hash = u64::from_str_radix(text, 16).ok().filter(|_| is_hash);
        hash.map(MovesHash).ok_or(NotAHash)
    }
}

/// What tells a move apart from the others of its position.
fn bytes_of(m: Move) -> [u8; 3] {
    let from = m.from().map_or(64, u8::from);
    [from, u8::from(m.to()), m.promotion().map_or(0, |role| role as u8)]
}

/// What a game is known by, in this run and in any other, whatever its file is called and wherever it stands there: in
/// short its moves, its players, its date and its round. Almost never the same for two games.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Debug, Default)]
pub struct GameId(u64);

/// Digits and letters that are not mistaken for each other: Crockford's base 32 (D. Crockford, "Base 32", 2002).
const DIGITS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
/// How many of them make an id: 65 bits.
const ID_LENGTH: usize = 13;

impl GameId {
    /// The id of a game of which these bytes tell all that makes it, which never changes: teachers keep it.
    pub(super) fn of(game: &[u8]) -> GameId {
        GameId(u64::from_be_bytes(first_bytes(game)))
    }
}

impl fmt::Display for GameId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digit = |place: usize| DIGITS[(self.0 >> (5 * place)) as usize % DIGITS.len()];
        let text: [u8; ID_LENGTH] = std::array::from_fn(|at| digit(ID_LENGTH - 1 - at));
        text.iter().try_for_each(|&digit| fmt::Write::write_char(f, digit.into()))
    }
}

/// A text that is not the id of a game.
#[derive(thiserror::Error, Clone, Copy, PartialEq, Eq, Debug)]
#[error("an id has {ID_LENGTH} digits and letters")]
pub struct NotAnId;

impl FromStr for GameId {
    type Err = NotAnId;

    fn from_str(text: &str) -> Result<GameId, NotAnId> {
        let value = |byte: u8| DIGITS.iter().position(|&digit| digit == byte);
        let add = |sum: u64, byte: u8| Some(sum.checked_mul(32)? | value(byte)? as u64);
        let id = text.bytes().try_fold(0, add).filter(|_| text.len() == ID_LENGTH);
        id.map(GameId).ok_or(NotAnId)
    }
}

/// The first bytes of the SHA-256 of a text.
pub(super) fn first_bytes<const N: usize>(text: &[u8]) -> [u8; N] {
    let digest = Sha256::digest(text);
    std::array::from_fn(|index| digest[index])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_of_moves_are_read_as_they_are_written() {
        for hash in [0, 1, 0xda0c_e90b, u64::MAX].map(MovesHash) {
            assert_eq!(hash.to_string().parse(), Ok(hash));
        }
        for text in ["", "0", "00000000000000000", "000000000000000g", "+00000000000000f"] {
            assert_eq!(text.parse::<MovesHash>(), Err(NotAHash), "{text}");
        }
    }

    #[test]
    fn ids_are_read_as_they_are_written() {
        for (number, text) in [
            (0, "0000000000000"),
            (31, "000000000000z"),
            (32, "0000000000010"),
            (u64::MAX, "fzzzzzzzzzzzz"),
        ] {
            assert_eq!(GameId(number).to_string(), text);
            assert_eq!(text.parse(), Ok(GameId(number)));
        }
        for text in ["", "000000000000", "00000000000000", "g000000000000", "000000000000u"] {
            assert_eq!(text.parse::<GameId>(), Err(NotAnId), "{text}");
        }
    }
}

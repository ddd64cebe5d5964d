//! The same game from two collections.
//!
//! Two records are of the same game if their moves are the same from the same start, and nothing in
//! their players, dates and rounds speaks against it: a part that one of them does not know fits all.
//!
//! Invariant: what is remembered is bounded, and depends only on the order of the collection.

use std::collections::HashMap;

use super::game_id::{GameId, MovesHash, first_bytes};
use super::game_info::GameInfo;

/// How many games with hits are remembered, and how many of them with the same moves. A copy of a game
/// that came after that is not recognised as one.
const MOST_REMEMBERED: usize = 500_000;
const MOST_OF_SAME_MOVES: usize = 1_000;

/// What tells two games with the same moves apart; 0 where it is unknown.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Identity {
    white: u32,
    black: u32,
    round: u32,
    /// Year, month, day.
    date: [u16; 3],
}

impl Identity {
    /// What a game's tags say.
    #[must_use]
    pub fn of(game: &GameInfo) -> Identity {
        Identity::of_tags([&game.white, &game.black, &game.date, &game.round])
    }

    /// What these values of the tags White, Black, Date and Round say.
    #[must_use]
    pub fn of_tags([white, black, date, round]: [&str; 4]) -> Identity {
        let mut parts = date.split('.').map(|part| part.parse().unwrap_or(0));
        Identity {
            white: short_hash(family_name(white)),
            black: short_hash(family_name(black)),
            round: short_hash(round),
            date: std::array::from_fn(|_| parts.next().unwrap_or(0)),
        }
    }

    /// Whether both can be of one game: nothing that both know speaks against it.
    #[must_use]
    pub fn is_compatible(self, other: Identity) -> bool {
        let agree = |one: u32, other: u32| one == 0 || other == 0 || one == other;
        agree(self.white, other.white)
            && agree(self.black, other.black)
            && agree(self.round, other.round)
            && self.date.iter().zip(other.date).all(|(&one, other)| agree(one.into(), other.into()))
    }
}

/// The id of a game with these moves.
#[must_use]
pub(super) fn game_id(moves: MovesHash, game: &GameInfo) -> GameId {
    GameId::of(&Remembered { moves, identity: Identity::of(game) }.to_bytes())
}

/// A name up to its comma or first blank, since given names are written in many ways.
fn family_name(name: &str) -> &str {
    name.split([',', ' ']).next().unwrap_or_default()
}

/// A hash of a text whatever its case, which never changes; 0 for what is unknown (`?`, `-` or nothing).
fn short_hash(text: &str) -> u32 {
    if matches!(text, "" | "?" | "-") {
        return 0;
    }
    u32::from_le_bytes(first_bytes(text.to_lowercase().as_bytes())) | 1
}

/// A game as it is remembered.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Remembered {
    /// Its moves in short.
    pub moves: MovesHash,
    /// What tells it from others with these moves.
    pub identity: Identity,
}

impl Remembered {
    /// The length of what [`Remembered::to_bytes`] gives.
    pub const BYTES: usize = 26;

    /// It in bytes, to be saved.
    #[must_use]
    pub fn to_bytes(self) -> [u8; Self::BYTES] {
        let Identity { white, black, round, date } = self.identity;
        let mut bytes = [0; Self::BYTES];
        bytes[..8].copy_from_slice(&self.moves.0.to_le_bytes());
        for (part, number) in bytes[8..20].chunks_exact_mut(4).zip([white, black, round]) {
            part.copy_from_slice(&number.to_le_bytes());
        }
        for (part, number) in bytes[20..].chunks_exact_mut(2).zip(date) {
            part.copy_from_slice(&number.to_le_bytes());
        }
        bytes
    }

    /// What was saved.
    #[must_use]
    pub fn from_bytes(bytes: [u8; Self::BYTES]) -> Remembered {
        let long = |at: usize| u32::from_le_bytes(std::array::from_fn(|index| bytes[at + index]));
        let short = |at: usize| u16::from_le_bytes([bytes[at], bytes[at + 1]]);
        Remembered {
            moves: MovesHash(u64::from_le_bytes(std::array::from_fn(|index| bytes[index]))),
            identity: Identity {
                white: long(8),
                black: long(12),
                round: long(16),
                date: [short(20), short(22), short(24)],
            },
        }
    }
}

/// Whether a game was seen before.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SeenBefore {
    /// It was.
    Before,
    /// It was not, and is remembered from now on.
    First(Remembered),
    /// It was not, and there is no room to remember it.
    Forgotten,
}

/// The games with hits that have been seen in a run.
#[derive(Debug, Default)]
pub struct SeenGames {
    by_moves: HashMap<MovesHash, Vec<Identity>>,
    remembered: usize,
}

impl SeenGames {
    /// Whether this game was seen before; from now on it has been.
    pub fn see(&mut self, game: Remembered) -> SeenBefore {
        let Remembered { moves, identity } = game;
        let known = self.by_moves.get(&moves).map(Vec::as_slice).unwrap_or_default();
        if known.iter().any(|&known| known.is_compatible(identity)) {
            return SeenBefore::Before;
        }
        if self.remembered == MOST_REMEMBERED || known.len() == MOST_OF_SAME_MOVES {
            return SeenBefore::Forgotten;
        }
        self.remember(game);
        SeenBefore::First(game)
    }

    /// Remembers a game that an earlier run has seen.
    pub fn remember(&mut self, game: Remembered) {
        self.by_moves.entry(game.moves).or_default().push(game.identity);
        self.remembered += 1;
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that can't go on has failed")]
mod tests {
    use super::*;
    use crate::board::{Replay, read_position};

    /// The bytes that are hashed, and Python's `hashlib.sha256` of them, its first bytes read from the
    /// lowest on.
    #[test]
    fn hashes_in_checkpoints_never_change() {
        for (fen, line, expected) in [
            (
                "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
                "e4 e5",
                0x9d1c_5bfe_4460_78cd,
            ),
            ("8/P6k/8/8/8/8/8/K7 w - - 0 1", "a8=Q", 0xf9db_67c1_5b35_79aa),
        ] {
            let start = read_position(fen).unwrap();
            let moves = Replay::read(&start, line).unwrap().moves;
            assert_eq!(MovesHash::of(&start, &moves), MovesHash(expected), "{line}");
        }
        for (name, expected) in [("Quarry", 0xda0c_e90b), ("ÖST", 0x9900_76c9), ("?", 0)] {
            assert_eq!(short_hash(name), expected, "{name}");
        }
    }
}

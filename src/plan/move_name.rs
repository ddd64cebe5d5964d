//! A move of a game as a teacher names it: with its number, `16.Bxh7+` or `16...Kxh7`.

use std::fmt;

use shakmaty::Color;

use crate::board::Replay;

/// A move as a teacher names it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MoveName {
    /// Its number.
    pub number: u32,
    /// Who moves.
    pub side: Color,
    /// The move in SAN, without marks for check and mate.
    pub san: String,
}

/// Why a game has no such move.
#[derive(thiserror::Error, Clone, PartialEq, Eq, Debug)]
pub enum MoveNotFound {
    /// Another move was made there.
    #[error("there the game goes on with {0}")]
    Other(String),
    /// The game is shorter, or starts later.
    #[error("the game has no such move; it ends with {0}")]
    Beyond(String),
}

impl MoveName {
    /// Reads a name.
    #[must_use]
    pub fn read(text: &str) -> Option<MoveName> {
        let text = text.trim();
        let digits = text.bytes().take_while(u8::is_ascii_digit).count();
        let number: u32 = text[..digits].parse().ok()?;
        let rest = &text[digits..];
        let (side, san) = match rest.strip_prefix("...").or_else(|| rest.strip_prefix('…')) {
            Some(san) => (Color::Black, san),
            None => (Color::White, rest.strip_prefix('.')?),
        };
        let san = plain(san.trim());
        (!san.is_empty()).then(|| MoveName { number, side, san: san.to_owned() })
    }

    /// The index of the move in a game.
    ///
    /// # Errors
    ///
    /// If the game has no such move.
    pub fn index_in(&self, game: &Replay) -> Result<usize, MoveNotFound> {
        let printed = game.in_print();
        let place =
            printed.iter().position(|one| one.number == self.number && one.side == self.side);
        let name = |index: usize| {
            let one = &printed[index];
            format!("{}{}{}", one.number, one.side.fold_wb(".", "..."), one.san)
        };
        match place {
            Some(index) if plain(&printed[index].san) == self.san => Ok(index),
            Some(index) => Err(MoveNotFound::Other(name(index))),
            None => Err(MoveNotFound::Beyond(match printed.len() {
                0 => "nothing".to_owned(),
                moves => name(moves - 1),
            })),
        }
    }
}

/// A move without marks for check, mate, and what somebody thought of it.
fn plain(san: &str) -> &str {
    san.trim_end_matches(['+', '#', '!', '?'])
}

impl fmt::Display for MoveName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{}", self.number, self.side.fold_wb(".", "..."), self.san)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_are_known_by_number_and_san() {
        let game = Replay::read(&shakmaty::Chess::default(), "e4 e5 Bc4 Nc6 Qh5 Nf6 Qxf7#");
        let game = game.expect("the moves are legal");
        let index = |name: &str| MoveName::read(name).expect("it is a name").index_in(&game);
        for (name, at) in [("1.e4", 0), ("1...e5", 1), ("3…Nf6", 5), ("4. Qxf7", 6), ("4.Qxf7#", 6)]
        {
            assert_eq!(index(name), Ok(at), "{name}");
        }
        assert_eq!(index("3...Ke7"), Err(MoveNotFound::Other("3...Nf6".to_owned())));
        assert_eq!(index("5.d4"), Err(MoveNotFound::Beyond("4.Qxf7#".to_owned())));
        for name in ["", "e4", "1.", "4", ".e4", "x.e4"] {
            assert_eq!(MoveName::read(name), None, "{name}");
        }
    }
}

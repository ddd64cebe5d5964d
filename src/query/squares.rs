//! Sets of squares as a sentence names them: by name, or by where the defender's king stands.

use shakmaty::{Bitboard, Color, File, Square, attacks};

use crate::board::View;

/// A set of squares, part of which may depend on where the defender's king stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Squares {
    /// Those that are named with the letter of their file.
    lettered: Bitboard,
    /// Those that are named without: by rank, by colour, or all of them.
    unlettered: Bitboard,
    /// Those that move with the defender's king.
    near_king: NearKing,
}

impl Squares {
    /// Every square.
    pub const ALL: Squares =
        Squares { lettered: Bitboard::EMPTY, unlettered: Bitboard::FULL, near_king: NearKing(0) };

    /// Squares that are named with the letter of their file.
    #[must_use]
    pub fn lettered(lettered: Bitboard) -> Squares {
        Squares { lettered, ..Squares::default() }
    }

    /// Squares that are named without the letter of a file: whole ranks, those of a colour, or all.
    #[must_use]
    pub fn unlettered(unlettered: Bitboard) -> Squares {
        Squares { unlettered, ..Squares::default() }
    }

    /// Squares that move with the defender's king.
    #[must_use]
    pub fn near(near_king: NearKing) -> Squares {
        Squares { near_king, ..Squares::default() }
    }

    /// The squares that are named.
    #[must_use]
    #[inline]
    pub fn named(self) -> Bitboard {
        self.lettered | self.unlettered
    }

    /// The files whose letters are named.
    pub(super) fn files(self) -> impl Iterator<Item = File> {
        let is_named = move |&file: &File| !(self.lettered & file).is_empty();
        File::ALL.into_iter().filter(is_named)
    }

    /// The union of two sets.
    #[must_use]
    pub fn or(self, other: Squares) -> Squares {
        Squares {
            lettered: self.lettered | other.lettered,
            unlettered: self.unlettered | other.unlettered,
            near_king: NearKing(self.near_king.0 | other.near_king.0),
        }
    }

    /// Whether the set depends on where the defender's king stands.
    #[must_use]
    pub fn move_with_king(self) -> bool {
        self.near_king != NearKing::default()
    }

    /// The set on the board while the defender's king stands on `king`.
    #[must_use]
    #[inline]
    pub fn with_king(self, king: Option<Square>, attacker: Color) -> Bitboard {
        match king {
            Some(king) if self.move_with_king() => {
                self.named() | self.near_king.squares(king, attacker)
            }
            _ => self.named(),
        }
    }

    /// Every square that may belong to the set, wherever the defender's king stands.
    #[must_use]
    pub fn widest(self) -> Bitboard {
        if self.move_with_king() { Bitboard::FULL } else { self.named() }
    }

    pub(super) fn turned(self, view: View) -> Squares {
        Squares {
            lettered: view.turn_all(self.lettered),
            unlettered: view.turn_all(self.unlettered),
            ..self
        }
    }

    /// The set with its letters moved by this many files to the right; what leaves the board is lost. By an odd
    /// number, the squares of one colour become those of the other, as those that are named do.
    #[must_use]
    pub fn shifted(self, by: i8) -> Squares {
        let moved = |square: Square| {
            let file = u32::from(square.file()).checked_add_signed(by.into())?;
            Some(Square::from_coords(File::try_from(file).ok()?, square.rank()))
        };
        let changes_colour = by % 2 != 0;
        Squares {
            lettered: self.lettered.into_iter().filter_map(moved).collect(),
            unlettered: match changes_colour {
                true => self.unlettered.flip_horizontal(),
                false => self.unlettered,
            },
            ..self
        }
    }
}

/// Squares that move with the defender's king: a union of some that have a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct NearKing(u8);

impl NearKing {
    /// The squares next to it.
    pub const BESIDE: NearKing = NearKing(1);
    /// The up to three squares next to it on the next rank towards the attacker.
    pub const IN_FRONT: NearKing = NearKing(2);
    /// Its file, its own square included.
    pub const ON_FILE: NearKing = NearKing(4);
    /// Its rank, its own square included.
    pub const ON_RANK: NearKing = NearKing(8);

    fn contains(self, part: NearKing) -> bool {
        self.0 & part.0 != 0
    }

    fn squares(self, king: Square, attacker: Color) -> Bitboard {
        let beside = attacks::king_attacks(king);
        let next_rank = king.rank().offset(attacker.fold_wb(-1, 1));
        let in_front = next_rank.map_or(Bitboard::EMPTY, |rank| beside & rank);
        let parts = [
            (NearKing::BESIDE, beside),
            (NearKing::IN_FRONT, in_front),
            (NearKing::ON_FILE, Bitboard::from_file(king.file())),
            (NearKing::ON_RANK, Bitboard::from_rank(king.rank())),
        ];
        let wanted = parts.into_iter().filter(|&(part, _)| self.contains(part));
        wanted.fold(Bitboard::EMPTY, |all, (_, squares)| all | squares)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_in_front_of_the_king_lie_towards_the_attacker() {
        let front = Squares::near(NearKing::IN_FRONT);
        let at = |king, attacker| front.with_king(Some(king), attacker);
        assert_eq!(
            at(Square::G8, Color::White),
            Bitboard::from_iter([Square::F7, Square::G7, Square::H7])
        );
        assert_eq!(at(Square::H2, Color::Black), Bitboard::from_iter([Square::G3, Square::H3]));
        assert_eq!(at(Square::E1, Color::White), Bitboard::EMPTY);
        let line = Squares::near(NearKing::ON_FILE)
            .or(Squares::lettered(Bitboard::from_square(Square::A1)));
        assert_eq!(
            line.with_king(Some(Square::G8), Color::White),
            Bitboard::from_file(shakmaty::File::G) | Square::A1
        );
        assert_eq!(line.widest(), Bitboard::FULL);
    }

    #[test]
    fn only_letters_are_shifted_and_squares_of_a_colour_keep_theirs_relative_to_them() {
        let of = |squares: &[Square]| Bitboard::from_iter(squares.iter().copied());
        let named = Squares::lettered(of(&[Square::B6, Square::H7]));
        assert_eq!(named.shifted(-1).named(), of(&[Square::A6, Square::G7]));
        assert_eq!(named.shifted(1).named(), of(&[Square::C6]), "there is no file after the last");
        let ranks = Squares::unlettered(Bitboard::from_rank(shakmaty::Rank::Sixth));
        assert_eq!(ranks.shifted(1), ranks);
        let light = Squares::unlettered(Bitboard::LIGHT_SQUARES);
        assert_eq!(light.shifted(-3).named(), Bitboard::DARK_SQUARES);
        assert_eq!(light.shifted(2), light);
    }
}

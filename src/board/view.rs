//! The attacker's view: the board turned so that the attacker plays up it as White, and, where a
//! query asks for both wings, mirrored left to right.

use shakmaty::{Bitboard, Board, Color, Move, Square};

/// Whether a motif is looked for as its query is written or mirrored left to right.
#[derive(Clone, Copy, PartialEq, Eq, Debug, PartialOrd, Ord)]
pub enum Wing {
    /// As the query is written.
    Written,
    /// With the a-file for the h-file.
    Mirrored,
}

/// One way to look at the board: who attacks, and on which wing.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct View {
    /// The side that offers.
    pub attacker: Color,
    /// The wing the motif is looked for on.
    pub wing: Wing,
}

impl View {
    /// The colour of the side that is offered to.
    #[must_use]
    pub fn defender(self) -> Color {
        self.attacker.other()
    }

    /// Turns a square between the board and the attacker's view (its own inverse).
    #[must_use]
    pub fn turn(self, square: Square) -> Square {
        let square = match self.attacker {
            Color::White => square,
            Color::Black => square.flip_vertical(),
        };
        match self.wing {
            Wing::Written => square,
            Wing::Mirrored => square.flip_horizontal(),
        }
    }

    /// Turns a set of squares between the board and the attacker's view (its own inverse).
    #[must_use]
    pub fn turn_all(self, squares: Bitboard) -> Bitboard {
        let squares = match self.attacker {
            Color::White => squares,
            Color::Black => squares.flip_vertical(),
        };
        match self.wing {
            Wing::Written => squares,
            Wing::Mirrored => squares.flip_horizontal(),
        }
    }

    /// Turns a board between itself and the attacker's view, where the attacker is White (its own inverse).
    #[must_use]
    pub fn turn_board(self, mut board: Board) -> Board {
        if self.attacker == Color::Black {
            board.flip_vertical();
            board.swap_colors();
        }
        if self.wing == Wing::Mirrored {
            board.flip_horizontal();
        }
        board
    }

    /// Turns a move in SAN between the board and the attacker's view (its own inverse).
    #[must_use]
    pub fn turn_san(self, san: &str) -> String {
        let is_mirrored = self.wing == Wing::Mirrored;
        if is_mirrored && san.starts_with("O-O") {
            let rest = san.trim_start_matches("O-O").trim_start_matches("-O");
            let castling = if san.starts_with("O-O-O") { "O-O" } else { "O-O-O" };
            return format!("{castling}{rest}");
        }
        let turned = |letter: char| match letter {
            'a'..='h' if is_mirrored => other_end(letter, 'a', 'h'),
            '1'..='8' if self.attacker == Color::Black => other_end(letter, '1', '8'),
            letter => letter,
        };
        san.chars().map(turned).collect()
    }
}

/// The letter as far from the last as this one is from the first.
fn other_end(letter: char, first: char, last: char) -> char {
    let turned = u32::from(first) + u32::from(last) - u32::from(letter);
    char::from_u32(turned).unwrap_or(letter)
}

/// The square on which the moved man stands after the move. Castling is a move of the king.
///
/// # Panics
///
/// On drops, which standard chess does not have.
#[must_use]
pub fn destination(m: Move) -> Square {
    match m {
        Move::Castle { king, rook } => {
            let file = if rook > king { shakmaty::File::G } else { shakmaty::File::C };
            Square::from_coords(file, king.rank())
        }
        _ => m.to(),
    }
}

/// Whether the move captures the man on this square, in passing included.
#[must_use]
pub fn captures_on(m: Move, square: Square) -> bool {
    match m {
        Move::EnPassant { from, to } => Square::from_coords(to.file(), from.rank()) == square,
        _ => m.is_capture() && m.to() == square,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_are_turned_into_the_attackers_view() {
        let black = View { attacker: Color::Black, wing: Wing::Written };
        let mirrored = View { attacker: Color::White, wing: Wing::Mirrored };
        let both = View { attacker: Color::Black, wing: Wing::Mirrored };
        for (view, san, turned) in [
            (black, "Bxh2+", "Bxh7+"),
            (black, "N1d2", "N8d7"),
            (black, "bxa1=Q#", "bxa8=Q#"),
            (black, "O-O", "O-O"),
            (mirrored, "Bxa7+", "Bxh7+"),
            (mirrored, "Rbxb3", "Rgxg3"),
            (mirrored, "O-O+", "O-O-O+"),
            (mirrored, "O-O-O", "O-O"),
            (both, "Bxa2+", "Bxh7+"),
        ] {
            assert_eq!(view.turn_san(san), turned, "{san}");
            assert_eq!(view.turn_san(turned), san, "{turned}");
        }
    }
}

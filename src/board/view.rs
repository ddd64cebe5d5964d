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

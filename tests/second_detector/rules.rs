//! The rules of chess: all from `cozy-chess`, but for what a man is worth.

use cozy_chess::{Board, File, Move, Piece, Square};

/// A move of the main line and the position before it.
pub(super) struct Played {
    pub(super) before: Board,
    pub(super) mv: Move,
}

impl Played {
    pub(super) fn after(&self) -> Board {
        after(&self.before, self.mv)
    }

    pub(super) fn man(&self) -> Piece {
        man_on(&self.before, self.mv.from)
    }

    /// Where the man goes. (The library writes castling as the king taking its own rook.)
    pub(super) fn target(&self) -> Square {
        match castling_file(&self.before, self.mv) {
            Some(file) => Square::new(file, self.mv.from.rank()),
            None => self.mv.to,
        }
    }
}

pub(super) fn legal_moves(board: &Board) -> Vec<Move> {
    let mut moves = Vec::new();
    board.generate_moves(|some| {
        moves.extend(some);
        false
    });
    moves
}

pub(super) fn after(board: &Board, mv: Move) -> Board {
    let mut next = board.clone();
    next.play(mv);
    next
}

pub(super) fn man_on(board: &Board, square: Square) -> Piece {
    board.piece_on(square).unwrap_or_else(|| panic!("no man on {square} in {board}"))
}

/// The file that the king comes to, if the move castles.
pub(super) fn castling_file(board: &Board, mv: Move) -> Option<File> {
    let castles = board.color_on(mv.to) == Some(board.side_to_move());
    castles.then_some(if mv.to.file() > mv.from.file() { File::G } else { File::C })
}

/// The man that a legal move captures.
pub(super) fn captured(board: &Board, mv: Move) -> Option<Piece> {
    let en_passant = man_on(board, mv.from) == Piece::Pawn
        && mv.from.file() != mv.to.file()
        && board.piece_on(mv.to).is_none();
    match castling_file(board, mv) {
        Some(_) => None,
        None if en_passant => Some(Piece::Pawn),
        None => board.piece_on(mv.to),
    }
}

/// Worth of a man in pawns: the values that the tables of the program promise.
pub(super) fn worth(piece: Piece) -> i32 {
    match piece {
        Piece::Pawn => 1,
        Piece::Knight | Piece::Bishop => 3,
        Piece::Rook => 5,
        Piece::Queen => 9,
        Piece::King => 0,
    }
}

/// What a move takes, a promotion's gain included.
pub(super) fn gain(board: &Board, mv: Move) -> i32 {
    let taken = captured(board, mv).map_or(0, worth);
    taken + mv.promotion.map_or(0, |piece| worth(piece) - worth(Piece::Pawn))
}

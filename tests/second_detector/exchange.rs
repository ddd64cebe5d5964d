//! What is won and lost on a square if both sides go on capturing there as long as it pays. In pawns.

use cozy_chess::{
    BitBoard, Board, Color, Move, Piece, Rank, Square, get_bishop_moves, get_king_moves,
    get_knight_moves, get_pawn_attacks, get_rook_moves,
};

use super::rules::{after, captured, gain, legal_moves, worth};

/// The most that the side to move wins by legal captures on `square`. Both sides may stop.
fn best_exchange(board: &Board, square: Square) -> i32 {
    legal_moves(board)
        .into_iter()
        .filter(|&mv| mv.to == square && captured(board, mv).is_some())
        .map(|mv| exchange(board, mv))
        .max()
        .map_or(0, |best| best.max(0))
}

/// What the side that plays `mv` wins or loses on the square it goes to.
pub(super) fn exchange(board: &Board, mv: Move) -> i32 {
    gain(board, mv) - best_exchange(&after(board, mv), mv.to)
}

/// The men that the side to move can win, and how much it wins by each at most. A pawn that is taken in
/// passing is won where it stands.
pub(super) fn winnable(board: &Board) -> Vec<(Square, i32)> {
    let mut won: Vec<(Square, i32)> = Vec::new();
    for mv in legal_moves(board).into_iter().filter(|&mv| captured(board, mv).is_some()) {
        let amount = exchange(board, mv);
        let square = square_of_victim(board, mv);
        match won.iter_mut().find(|(known, _)| *known == square) {
            Some((_, most)) => *most = amount.max(*most),
            None => won.push((square, amount)),
        }
    }
    won.retain(|&(_, amount)| amount > 0);
    won
}

/// Where the man stands that a capture takes.
pub(super) fn square_of_victim(board: &Board, mv: Move) -> Square {
    match board.piece_on(mv.to) {
        Some(_) => mv.to,
        None => Square::new(mv.to.file(), mv.from.rank()),
    }
}

/// The same as [`winnable`] for the side that has just moved, as if the other passed.
pub(super) fn winnable_by_waiting(board: &Board) -> Vec<(Square, i32)> {
    let men = Men::of(board);
    let taker = !board.side_to_move();
    let prey = board.colors(!taker) & !board.pieces(Piece::King);
    prey.into_iter()
        .map(|square| (square, men.best_taking(taker, square)))
        .filter(|&(_, amount)| amount > 0)
        .collect()
}

/// Whether the other side would win something by taking the man on the square, if it were to move.
pub(super) fn is_en_prise(board: &Board, square: Square) -> bool {
    let owner = board.color_on(square);
    board.piece_on(square) != Some(Piece::King)
        && owner.is_some_and(|color| Men::of(board).best_taking(!color, square) > 0)
}

/// The men of a board and how they take. The library does not set up a position in which the side that
/// just passed stands in check; this does.
#[derive(Clone)]
struct Men([Option<(Color, Piece)>; 64]);

impl Men {
    fn of(board: &Board) -> Self {
        Self(Square::ALL.map(|square| board.color_on(square).zip(board.piece_on(square))))
    }

    fn occupied(&self) -> BitBoard {
        Square::ALL.into_iter().filter(|&square| self.0[square as usize].is_some()).collect()
    }

    fn attacks(&self, from: Square, target: Square) -> bool {
        let Some((color, piece)) = self.0[from as usize] else { return false };
        let reached = match piece {
            Piece::Pawn => get_pawn_attacks(from, color),
            Piece::Knight => get_knight_moves(from),
            Piece::Bishop => get_bishop_moves(from, self.occupied()),
            Piece::Rook => get_rook_moves(from, self.occupied()),
            Piece::Queen => {
                get_bishop_moves(from, self.occupied()) | get_rook_moves(from, self.occupied())
            }
            Piece::King => get_king_moves(from),
        };
        reached.has(target)
    }

    fn attackers(&self, color: Color, target: Square) -> Vec<Square> {
        let ours = |from: Square| self.0[from as usize].is_some_and(|(whose, _)| whose == color);
        Square::ALL.into_iter().filter(|&from| ours(from) && self.attacks(from, target)).collect()
    }

    fn is_safe(&self, color: Color) -> bool {
        let king = Some((color, Piece::King));
        Square::ALL
            .into_iter()
            .filter(|&square| self.0[square as usize] == king)
            .all(|square| self.attackers(!color, square).is_empty())
    }

    /// The most that `color`, to move, wins by captures on `square` that leave its king safe.
    fn best_taking(&self, color: Color, square: Square) -> i32 {
        let Some((_, victim)) = self.0[square as usize] else { return 0 };
        let mut best = 0;
        for from in self.attackers(color, square) {
            for (next, added) in self.captures(color, from, square) {
                if next.is_safe(color) {
                    best = best.max(worth(victim) + added - next.best_taking(!color, square));
                }
            }
        }
        best
    }

    /// The man on `from` takes on `square`; with what is won by promoting, if it does.
    fn captures(&self, color: Color, from: Square, square: Square) -> Vec<(Self, i32)> {
        let is_pawn = self.0[from as usize] == Some((color, Piece::Pawn));
        let promoted: &[Piece] = if is_pawn && matches!(square.rank(), Rank::First | Rank::Eighth) {
            &[Piece::Knight, Piece::Bishop, Piece::Rook, Piece::Queen]
        } else {
            &[]
        };
        let mut next = self.clone();
        next.0[square as usize] = next.0[from as usize].take();
        if promoted.is_empty() {
            return vec![(next, 0)];
        }
        let promote = |&piece: &Piece| {
            let mut next = next.clone();
            next.0[square as usize] = Some((color, piece));
            (next, worth(piece) - worth(Piece::Pawn))
        };
        promoted.iter().map(promote).collect()
    }
}

/// The positions and their values are those that the program itself is held to.
#[test]
fn exchanges_are_counted_over_legal_captures() {
    for (fen, san, value) in crate::exchange::EXCHANGES {
        let offer = super::games::position(fen, san);
        assert_eq!(exchange(&offer.before, offer.mv), value, "{san} in {fen}");
    }
}

/// Both ways of counting agree wherever the library can pass.
#[test]
fn waiting_wins_what_a_null_move_wins() {
    let mut compared = 0;
    for (fen, san, _) in crate::exchange::EXCHANGES {
        let offer = super::games::position(fen, san);
        for mv in legal_moves(&offer.before) {
            let board = after(&offer.before, mv);
            let Some(waiting) = board.null_move() else { continue };
            let mut expected = winnable(&waiting);
            expected.sort_unstable();
            assert_eq!(winnable_by_waiting(&board), expected, "{board}");
            compared += expected.len();
        }
    }
    assert!(compared > 30, "only {compared} men can be won");
}

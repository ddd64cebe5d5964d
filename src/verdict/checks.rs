//! Which moves may give check, seen without playing them.

use shakmaty::{Bitboard, ByRole, Chess, Move, Position, Role, Square, attacks};

/// From where the men of the side to move attack the other king.
pub(super) struct CheckMap {
    /// The squares from which a man of each role would give check.
    from: ByRole<Bitboard>,
    /// Own men that stand between an own line piece and the other king.
    screens: Bitboard,
}

impl CheckMap {
    pub(super) fn of(pos: &Chess) -> CheckMap {
        let Some(king) = pos.board().king_of(pos.turn().other()) else {
            return CheckMap { from: ByRole::default(), screens: Bitboard::EMPTY };
        };
        let occupied = pos.board().occupied();
        let diagonal = attacks::bishop_attacks(king, occupied);
        let straight = attacks::rook_attacks(king, occupied);
        let from = ByRole {
            pawn: attacks::pawn_attacks(pos.turn().other(), king),
            knight: attacks::knight_attacks(king),
            bishop: diagonal,
            rook: straight,
            queen: diagonal | straight,
            king: Bitboard::EMPTY,
        };
        CheckMap { from, screens: screens(pos, king) }
    }

    /// Whether the move may give check; a no is certain, a yes is not.
    #[inline]
    pub(super) fn may_check(&self, m: Move) -> bool {
        match m {
            Move::Normal { role, from, to, promotion: None, .. } => {
                self.from.get(role).contains(to) || self.screens.contains(from)
            }
            // A promoted man may look through the square it came from; castling and captures in
            // passing open lines of their own.
            _ => true,
        }
    }
}

fn screens(pos: &Chess, king: Square) -> Bitboard {
    let board = pos.board();
    let own = board.by_color(pos.turn());
    let snipers = own
        & ((attacks::rook_attacks(king, Bitboard::EMPTY) & board.rooks_and_queens())
            | (attacks::bishop_attacks(king, Bitboard::EMPTY) & board.bishops_and_queens()));
    snipers
        .into_iter()
        .map(|sniper| attacks::between(king, sniper) & board.occupied())
        .filter(|men| men.count() == 1)
        .fold(Bitboard::EMPTY, |all, men| all | (men & own))
}

/// Whether the side to move is mated.
pub(super) fn is_mate(pos: &Chess) -> bool {
    pos.is_check() && pos.legal_moves().is_empty()
}

/// The position after a legal move.
#[inline]
#[must_use]
pub fn played(pos: &Chess, m: Move) -> Chess {
    let mut after = pos.clone();
    after.play_unchecked(m);
    after
}

/// The position after a line of legal moves.
#[must_use]
pub fn played_out(start: &Chess, line: &[Move]) -> Chess {
    line.iter().fold(start.clone(), |pos, &m| played(&pos, m))
}

/// What a move takes and what it adds by promotion, in pawns.
#[inline]
pub(super) fn gain(m: Move) -> i32 {
    use crate::board::pawns;
    let promoted = m.promotion().map_or(0, |role| pawns(role) - pawns(Role::Pawn));
    m.capture().map_or(0, pawns) + promoted
}

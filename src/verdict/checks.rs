//! Which moves may give check, seen without playing them.

use shakmaty::{Bitboard, ByRole, Chess, Move, Position, attacks};

use crate::board::screens;

/// From where the men of the side to move attack the other king.
#[derive(Clone, Copy)]
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
        let own = pos.board().by_color(pos.turn());
        let screens = own & screens(pos.board(), pos.turn(), king);
        CheckMap { from, screens }
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

/// Whether the side to move is mated.
pub(super) fn is_mate(pos: &Chess) -> bool {
    pos.is_check() && pos.legal_moves().is_empty()
}

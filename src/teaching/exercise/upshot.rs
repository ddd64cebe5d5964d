//! What the moves of an exercise come to.

use shakmaty::{Bitboard, Square};

use crate::engine::Points;
use crate::hits::Verdict;

/// What moves come to for the attacker, and who says so.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Upshot {
    /// What our searches found: it is proved, or counted on the position before the offer.
    Found(Verdict),
    /// The points that an engine expects for the attacker.
    Judged(Points),
    /// There is no mate within this many moves; everything was tried.
    Unmated(u8),
    /// A check that is no mate.
    Answered,
    /// Who attacks a square, and who guards it.
    Counted {
        /// The square.
        square: Square,
        /// The attacker's men that attack it.
        attackers: Bitboard,
        /// The defender's men that guard it.
        guards: Bitboard,
    },
}

impl Upshot {
    /// Whether it is a mate of either side, by proof.
    #[must_use]
    pub fn is_mate(self) -> bool {
        matches!(self, Upshot::Found(Verdict::Mates(_) | Verdict::Mated(_)))
    }
}

impl From<Verdict> for Upshot {
    fn from(verdict: Verdict) -> Upshot {
        Upshot::Found(verdict)
    }
}

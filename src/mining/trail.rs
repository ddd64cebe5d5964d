//! What the movetext alone tells of the board: where each king stands, and where each kind of man has
//! ever stood.
//!
//! Invariant: a man stands only where the trail says that one of its kind has stood.

use shakmaty::{Bitboard, ByColor, Chess, Color, File, Position, Role, Square};

use crate::board::Men;
use crate::collection::MoveKind;
use crate::query::{Act, Lens};

/// The trail of a game's men up to a move.
#[derive(Clone, Debug)]
pub(super) struct Trail {
    kings: ByColor<Option<Square>>,
    /// For each colour and role the squares on which such a man has stood.
    stood: ByColor<[Bitboard; 6]>,
}

impl Trail {
    /// The trail at the start of a game.
    pub(super) fn of(start: &Chess) -> Trail {
        let board = start.board();
        let stood = |color| Role::ALL.map(|role| board.by_role(role) & board.by_color(color));
        Trail {
            kings: ByColor::new_with(|color| board.king_of(color)),
            stood: ByColor::new_with(stood),
        }
    }

    /// Follows a move of one side.
    #[inline]
    pub(super) fn follow(&mut self, mover: Color, kind: MoveKind, san: &[u8]) {
        let MoveKind { role, to, .. } = kind;
        let stood = &mut self.stood[mover];
        stood[role as usize - 1] |= to;
        if role == Role::King {
            self.kings[mover] = Some(to);
            if matches!(san.first(), Some(b'O' | b'0')) {
                let file = if to.file() == File::G { File::F } else { File::D };
                stood[Role::Rook as usize - 1] |= Square::from_coords(file, to.rank());
            }
        } else if role == Role::Pawn && Bitboard::BACKRANKS.contains(to) {
            for role in [Role::Knight, Role::Bishop, Role::Rook, Role::Queen] {
                stood[role as usize - 1] |= to;
            }
        }
    }

    /// Where a side's king stands.
    #[inline]
    pub(super) fn king(&self, color: Color) -> Option<Square> {
        self.kings[color]
    }

    /// Whether the men's trails let a move of this kind be the offer of a lens whose king may stand where it
    /// stands. Never wrongly no.
    pub(super) fn allows(&self, lens: &Lens, kind: MoveKind) -> bool {
        let attacker = lens.view.attacker;
        let may_stand = |&(color, men, squares)| !(self.men(color, men) & squares).is_empty();
        let may_take = |men| self.men(attacker.other(), men).contains(kind.to);
        let targets = lens.offer.targets(kind.is_capture);
        targets.with_king(self.kings[attacker.other()], attacker).contains(kind.to)
            && lens.stand.iter().all(may_stand)
            && match lens.offer.aim {
                // A pawn may take in passing, where no man stands.
                Some((Act::Takes(men), _)) => kind.role == Role::Pawn || may_take(men),
                _ => true,
            }
    }

    fn men(&self, color: Color, men: Men) -> Bitboard {
        let stood = &self.stood[color];
        men.roles().fold(Bitboard::EMPTY, |all, role| all | stood[role as usize - 1])
    }
}

//! Sets of kinds of men, as a sentence names them: "bishop", "minor piece", "any man".

use shakmaty::{Bitboard, Board, Color, Role};

/// The word for a kind of man.
#[must_use]
pub const fn word_of(role: Role) -> &'static str {
    match role {
        Role::Pawn => "pawn",
        Role::Knight => "knight",
        Role::Bishop => "bishop",
        Role::Rook => "rook",
        Role::Queen => "queen",
        Role::King => "king",
    }
}

/// A set of roles.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Men(u8);

impl Men {
    /// No man at all; the neutral element of [`Men::or`].
    pub const NONE: Men = Men(0);
    /// Knight or bishop.
    pub const MINOR_PIECE: Men = Men::of(Role::Knight).or(Men::of(Role::Bishop));
    /// Everything but pawns and kings.
    pub const PIECE: Men = Men::MINOR_PIECE.or(Men::of(Role::Rook)).or(Men::of(Role::Queen));
    /// Every man of a side.
    pub const ANY: Men = Men::PIECE.or(Men::of(Role::Pawn)).or(Men::of(Role::King));

    /// The set with one role.
    #[must_use]
    pub const fn of(role: Role) -> Men {
        Men(1 << role as u8)
    }

    /// The union of two sets.
    #[must_use]
    pub const fn or(self, other: Men) -> Men {
        Men(self.0 | other.0)
    }

    /// Whether the role is in the set.
    #[must_use]
    pub const fn contains(self, role: Role) -> bool {
        self.0 & (1 << role as u8) != 0
    }

    /// The roles of the set, pawn first.
    pub fn roles(self) -> impl Iterator<Item = Role> {
        Role::ALL.into_iter().filter(move |&role| self.contains(role))
    }

    /// Where men of these kinds and this colour stand.
    #[must_use]
    pub fn on(self, board: &Board, color: Color) -> Bitboard {
        self.roles().fold(Bitboard::EMPTY, |found, role| found | board.by_role(role))
            & board.by_color(color)
    }
}

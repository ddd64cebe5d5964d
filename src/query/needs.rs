//! The text that any hit must contain.
//!
//! An offer names the men that may move, whether they capture, and the squares they go to. All three
//! stand in the SAN of the move, so a game in whose movetext no such move is written holds no hit.
//! What SAN need not say (check, the man that is taken) is not asked for.
//!
//! Invariant: what these needs reject holds no hit; they never say that there is one.

use shakmaty::{Bitboard, Color, Role, Square};

use super::pattern::Pattern;
use super::sentence::Act;

/// For each colour, role and kind of move, the squares to which a move of some query's offer may go.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Needs {
    captures: [[Bitboard; 6]; 2],
    quiet: [[Bitboard; 6]; 2],
}

impl Needs {
    /// The needs of several patterns together: a move that any of them could look at.
    #[must_use]
    pub fn of<'p>(patterns: impl IntoIterator<Item = &'p Pattern>) -> Needs {
        let mut needs = Needs::default();
        for lens in patterns.into_iter().flat_map(|pattern| &pattern.lenses) {
            let offer = &lens.offer;
            let (act, squares) = match offer.aim {
                Some((act, squares)) if squares.beside_king => (act, Bitboard::FULL),
                Some((act, squares)) => (act, squares.named),
                None => (Act::To, Bitboard::FULL),
            };
            for role in offer.men.roles() {
                let (color, role) = (lens.view.attacker as usize, role as usize - 1);
                if act != Act::MovesTo {
                    needs.captures[color][role] |= squares;
                }
                if !matches!(act, Act::Takes(_)) {
                    needs.quiet[color][role] |= squares;
                }
            }
        }
        needs
    }

    /// The squares to which a move of this kind that may be an offer goes.
    #[must_use]
    pub fn squares(&self, color: Color, role: Role, is_capture: bool) -> Bitboard {
        let table = if is_capture { &self.captures } else { &self.quiet };
        table[color as usize][role as usize - 1]
    }

    /// Whether a move of this kind may be an offer.
    #[must_use]
    #[inline]
    pub fn want(&self, color: Color, role: Role, is_capture: bool, to: Square) -> bool {
        self.squares(color, role, is_capture).contains(to)
    }

    /// The texts `x` and square of which one must stand in the movetext of any hit, or nothing if some
    /// offer can be written without such a text.
    #[must_use]
    pub fn capture_texts(&self) -> Option<Vec<String>> {
        let needs_no_capture = self.quiet.iter().flatten().any(|squares| !squares.is_empty());
        let squares = self.captures.iter().flatten().fold(Bitboard::EMPTY, |all, &more| all | more);
        (!needs_no_capture)
            .then(|| squares.into_iter().map(|square| format!("x{square}")).collect())
    }
}

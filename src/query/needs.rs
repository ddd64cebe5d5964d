//! Where a move must go so that some offer can be it.
//!
//! An offer names the men that may move, whether they capture, and the squares they go to. All three
//! stand in the SAN of the move, so a game in whose movetext no such move is written holds no hit.
//! Where the conditions name the square of the defender's king, the moves are looked for only while it
//! stands there: the king's way can be followed in the movetext too. What SAN need not say (check, the
//! man that is taken) is not asked for.
//!
//! Invariant: what these needs reject holds no hit; they never say that there is one.

use shakmaty::{Bitboard, Color, Role, Square};

use super::pattern::{Lens, Pattern};
use super::squares::Squares;

/// The squares to which the moves of some queries' offers may go, for each role and kind of move.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
struct Targets {
    captures: [Bitboard; 6],
    quiet: [Bitboard; 6],
}

impl Targets {
    /// Adds the targets of a lens's offer, of which `on_board` tells where on the board they are.
    fn add(&mut self, lens: &Lens, on_board: impl Fn(Squares) -> Bitboard) {
        let [quiet, captures] =
            [false, true].map(|is_capture| on_board(lens.offer.targets(is_capture)));
        for role in lens.offer.men.roles() {
            let index = role as usize - 1;
            self.captures[index] |= captures;
            self.quiet[index] |= quiet;
        }
    }

    fn of(&self, role: Role, is_capture: bool) -> Bitboard {
        let table = if is_capture { &self.captures } else { &self.quiet };
        table[role as usize - 1]
    }
}

/// The squares to which the moves of some queries' offers may go, by attacker and by the square of the
/// defender's king.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Needs {
    /// Wherever the defender's king stands.
    anywhere: [Targets; 2],
    /// While it stands on one square.
    by_king: [Box<[Targets; 64]>; 2],
}

impl Needs {
    /// The needs of several patterns together: a move that any of them could look at.
    #[must_use]
    pub fn of<'p>(patterns: impl IntoIterator<Item = &'p Pattern>) -> Needs {
        let none = || Box::new([Targets::default(); 64]);
        let mut needs = Needs { anywhere: Default::default(), by_king: [none(), none()] };
        for lens in patterns.into_iter().flat_map(|pattern| &pattern.lenses) {
            let color = lens.view.attacker;
            let attacker = color as usize;
            needs.anywhere[attacker].add(lens, Squares::widest);
            for king in lens.king_squares {
                let on_board = |squares: Squares| squares.with_king(Some(king), color);
                needs.by_king[attacker][usize::from(king)].add(lens, on_board);
            }
        }
        needs
    }

    /// The squares to which a move of this kind that may be an offer goes while the defender's king
    /// stands on `king`.
    #[must_use]
    #[inline]
    pub fn squares(&self, attacker: Color, king: Square, role: Role, is_capture: bool) -> Bitboard {
        self.by_king[attacker as usize][usize::from(king)].of(role, is_capture)
    }

    /// Whether a capture of this kind may be an offer, wherever the defender's king stands.
    #[must_use]
    pub fn want_capture(&self, role: Role, to: Square) -> bool {
        self.anywhere.iter().any(|targets| targets.of(role, true).contains(to))
    }

    /// The texts `x` and square of which one must stand in the movetext of any hit, or nothing if some
    /// offer can be written without such a text.
    #[must_use]
    pub fn capture_texts(&self) -> Option<Vec<String>> {
        let [white, black] = &self.anywhere;
        let quiet = white.quiet.iter().chain(&black.quiet);
        let captures = white.captures.iter().chain(&black.captures);
        let needs_no_capture = quiet.copied().any(|squares| !squares.is_empty());
        let squares = captures.fold(Bitboard::EMPTY, |all, &more| all | more);
        (!needs_no_capture)
            .then(|| squares.into_iter().map(|square| format!("x{square}")).collect())
    }
}

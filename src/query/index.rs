//! Which sentences may speak of a move, by what its text tells: who moves, which man, whether it captures, and
//! where it goes.
//!
//! Invariant: a move that fits a sentence has one of the sentence's slots; a slot may be a sentence's that a move
//! of it does not fit.

use shakmaty::{Color, Role, Square};

use super::sentence::MoveSentence;

/// A lens of one of the patterns of a run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LensId {
    /// The index of the pattern.
    pub query: usize,
    /// The index of the lens in it.
    pub lens: usize,
}

/// How many kinds of moves there are.
pub const MOVE_KINDS: usize = 2 * 2 * 6 * 64;

/// The number of a kind of move, below [`MOVE_KINDS`].
#[must_use]
#[inline]
pub fn move_kind(mover: Color, is_capture: bool, role: Role, to: Square) -> usize {
    let kind = usize::from(is_capture) + 2 * (mover as usize);
    (kind * 6 + role as usize - 1) * 64 + usize::from(to)
}

/// The kinds of moves that a sentence, turned to the board for this attacker, may speak of.
pub fn move_kinds(sentence: &MoveSentence, attacker: Color) -> impl Iterator<Item = usize> {
    let mover = sentence.side.color(attacker);
    [false, true].into_iter().flat_map(move |is_capture| {
        let targets = sentence.targets(is_capture).widest();
        sentence.men.roles().flat_map(move |role| {
            targets.into_iter().map(move |to| move_kind(mover, is_capture, role, to))
        })
    })
}

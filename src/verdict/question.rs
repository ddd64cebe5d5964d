//! What the mate search is asked, of which position, and what it answers.

use shakmaty::{Chess, Move};

use super::key::PositionKey;
use crate::board::played;

/// What the attacker may play.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Width {
    /// Checks only. Proves mates, never that there is none.
    Checks,
    /// Checks, and moves that threaten to mate at once; but any moves in the last two. Proves mates, never
    /// that there is none.
    Threats,
    /// Every legal move.
    All,
}

/// The answer to a question.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum MateAnswer {
    /// Yes, by force.
    Proved,
    /// No: for each try there is a defence.
    Disproved,
    /// The budget ran out.
    Unknown,
}

/// Whose move it is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum MateSide {
    Attacker,
    Defender,
}

/// A position in the search.
#[derive(Clone)]
pub(super) struct MateNode {
    pub(super) pos: Chess,
    pub(super) key: PositionKey,
    pub(super) side: MateSide,
    /// The moves that the attacker may still make.
    pub(super) moves: u8,
}

impl MateNode {
    /// A position with the attacker to move, and the moves that remain.
    pub(super) fn attacker(pos: &Chess, moves: u8) -> MateNode {
        MateNode { pos: pos.clone(), key: PositionKey::of(pos), side: MateSide::Attacker, moves }
    }

    /// A position with the defender to move, and the attacker's moves that remain after the reply.
    pub(super) fn defender(pos: &Chess, moves: u8) -> MateNode {
        MateNode { pos: pos.clone(), key: PositionKey::of(pos), side: MateSide::Defender, moves }
    }

    /// The position after a legal move.
    pub(super) fn child(&self, m: Move) -> MateNode {
        let pos = played(&self.pos, m);
        let key = self.key.after(&self.pos, m, &pos);
        match self.side {
            MateSide::Attacker => {
                MateNode { pos, key, side: MateSide::Defender, moves: self.moves - 1 }
            }
            MateSide::Defender => {
                MateNode { pos, key, side: MateSide::Attacker, moves: self.moves }
            }
        }
    }
}

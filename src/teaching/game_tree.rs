//! A game with what is said at its moves and what else could have been played: what a teacher goes through at the
//! board.

use std::collections::BTreeMap;

use shakmaty::{Chess, Move};

use super::exercise::Upshot;
use crate::board::Replay;

/// Moves with what is said at them and what could be played instead.
#[derive(Clone, Debug)]
pub struct GameTree {
    /// The moves.
    pub replay: Replay,
    /// What is said at a move, by its index.
    pub notes: BTreeMap<usize, Note>,
    /// What could be played instead of one of them.
    pub branches: Vec<Variation>,
}

/// What is said at a move.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Note {
    /// Numeric annotation glyphs (section 10 of the PGN standard).
    pub glyphs: Vec<u8>,
    /// The comment of its file, or the program's.
    pub comment: Option<String>,
    /// A teacher's words, marked up.
    pub own: Option<String>,
}

/// Moves that could be played instead.
#[derive(Clone, Debug)]
pub struct Variation {
    /// The index of the move that they stand instead of.
    pub at: usize,
    /// The moves.
    pub tree: GameTree,
    /// What the program knows of them, if they are not a teacher's.
    pub known: Option<VariationNote>,
}

/// What the program knows of a branch.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum VariationNote {
    /// It is best play, as far as it was found.
    BestPlay,
    /// What the attacker comes to against a reply that a pupil would ask about.
    WhatIf(Upshot),
}

impl GameTree {
    /// Moves about which nothing is said yet.
    #[must_use]
    pub fn of(replay: Replay) -> GameTree {
        GameTree { replay, notes: BTreeMap::new(), branches: Vec::new() }
    }

    /// Legal moves from a position.
    #[must_use]
    pub fn of_line(start: &Chess, moves: &[Move]) -> GameTree {
        GameTree::of(Replay::of(start, moves))
    }

    /// Adds moves that could be played instead of the one at an index.
    pub fn branch(&mut self, at: usize, moves: &[Move], known: VariationNote) {
        let tree = GameTree::of_line(&self.replay.positions[at], moves);
        self.branches.push(Variation { at, tree, known: Some(known) });
    }

    /// What could be played instead of the move at an index.
    pub fn branches_at(&self, at: usize) -> impl Iterator<Item = &Variation> {
        self.branches.iter().filter(move |branch| branch.at == at)
    }
}

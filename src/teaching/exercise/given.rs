//! Positions that a class has had, and that are not to be given again.

use std::collections::BTreeSet;
use std::sync::Arc;

use shakmaty::{Board, Color, Position};

use super::Exercise;
use crate::board::{View, Wing};

/// Positions that are not to be given again, neither as they stood nor mirrored left to right or with the colours
/// exchanged.
#[derive(Clone, Debug, Default)]
pub struct GivenPositions(Arc<BTreeSet<String>>);

impl GivenPositions {
    /// These: the men, and who is to move.
    #[must_use]
    pub fn of<'b>(positions: impl IntoIterator<Item = (&'b Board, Color)>) -> GivenPositions {
        GivenPositions(Arc::new(positions.into_iter().map(|(men, turn)| key(men, turn)).collect()))
    }

    /// These and others.
    #[must_use]
    pub fn and(&self, others: &GivenPositions) -> GivenPositions {
        GivenPositions(Arc::new(self.0.union(&others.0).cloned().collect()))
    }

    /// Whether the position of an exercise is among them.
    #[must_use]
    pub(super) fn have(&self, exercise: &Exercise) -> bool {
        !self.0.is_empty() && self.0.contains(&key(exercise.start.board(), exercise.side()))
    }
}

/// The same for a position and its mirror images: the men as the side to move sees them, on one wing or the other.
fn key(men: &Board, turn: Color) -> String {
    let seen = |wing| View { attacker: turn, wing }.turn_board(men.clone()).board_fen().to_string();
    seen(Wing::Written).min(seen(Wing::Mirrored))
}

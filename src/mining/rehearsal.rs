//! Tries a query on its own examples.

use super::hit::Hit;
use super::matcher::{Step, fits_on_board, holds};
use super::replay::Replay;
use crate::query::{Example, Lens, Pattern};

/// An example that a query does not bear out.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Miss {
    /// The line of the query file that holds the example's moves, from 1.
    pub file_line: usize,
    /// The moves as written.
    pub line: String,
    /// Whether an offer should have been found.
    pub expected: bool,
}

/// The examples of a pattern's query that do not come out as they say.
#[must_use]
pub fn rehearse(pattern: &Pattern) -> Vec<Miss> {
    pattern
        .query
        .examples
        .iter()
        .filter(|example| finds(pattern, example) != example.is_hit)
        .map(|example| Miss {
            file_line: example.file_line,
            line: example.line_text.clone(),
            expected: example.is_hit,
        })
        .collect()
}

fn finds(pattern: &Pattern, example: &Example) -> bool {
    let replay = Replay::of(&example.start, &example.line);
    (0..replay.moves.len()).any(|index| {
        pattern.lenses.iter().any(|lens| {
            is_offer(lens, Step::at(&replay, index))
                && Hit::judge(0, pattern, lens, &replay, index, |_| None).is_some()
        })
    })
}

/// Whether a move fits a lens's offer and its conditions, as far as that can be told as soon as it is
/// played.
pub(super) fn is_offer(lens: &Lens, step: Step<'_>) -> bool {
    fits_on_board(&lens.offer, lens.view, step)
        && lens.when.iter().all(|fact| holds(fact, lens.view, step.before))
}

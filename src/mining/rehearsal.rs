//! Tries a query on its own examples.

use std::sync::Arc;

use super::hit::Hit;
use super::matcher::{GameStep, Offer, is_offer};
use super::offer_record::OfferRecord;
use super::watch::Watch;
use crate::board::Replay;
use crate::query::{Example, LensId, Pattern};

/// An example that a query does not pass.
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
        .filter(|example| offer_in(pattern, example).is_some() != example.is_hit)
        .map(|example| Miss {
            file_line: example.file_line,
            line: example.line_text.clone(),
            expected: example.is_hit,
        })
        .collect()
}

/// The index of the first move of an example's line that is a hit.
#[must_use]
pub fn offer_in(pattern: &Pattern, example: &Example) -> Option<usize> {
    let replay = Replay::of(&example.start, &example.line);
    let balances = replay.balances();
    let record = |index| Arc::new(OfferRecord::of_played(&replay, index, &balances, |_| None));
    (0..replay.moves.len()).find(|&index| {
        let is_hit = |lens| {
            let offer = Offer { seen: LensId { query: 0, lens }, index };
            let mut watch = Watch::new(&pattern.lenses[lens]);
            Hit::judge(offer, pattern, &replay, &mut watch, || record(index)).is_some()
        };
        let lenses = pattern.lenses.iter().enumerate();
        lenses
            .filter(|(_, lens)| is_offer(lens, &GameStep::at(&replay, index)))
            .any(|(lens, _)| is_hit(lens))
    })
}

//! Tries a query on its own examples.

use std::sync::Arc;

use shakmaty::Position;

use super::hit::Hit;
use super::matcher::{GameStep, Offer, is_offer};
use super::offer_record::{GameCourse, OfferRecord, Sans};
use super::shortfall::shortfall;
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
    /// The offer that was found, or what was lacking.
    pub reason: String,
}

/// The examples of a pattern's query that do not come out as they say.
#[must_use]
pub fn rehearse(pattern: &Pattern) -> Vec<Miss> {
    let miss = |example: &Example| {
        let found = offer_in(pattern, example);
        (found.is_some() != example.is_hit).then(|| {
            let replay = Replay::of(&example.start, &example.line);
            let reason = match found {
                Some(index) => format!("`{}`", replay.san(index)),
                None => shortfall(pattern, &replay),
            };
            Miss {
                file_line: example.file_line,
                line: example.line_text.clone(),
                expected: example.is_hit,
                reason,
            }
        })
    };
    pattern.query.examples.iter().filter_map(miss).collect()
}

/// The index of the first move of an example's line that is a hit.
#[must_use]
pub fn offer_in(pattern: &Pattern, example: &Example) -> Option<usize> {
    let replay = Replay::of(&example.start, &example.line);
    let balances = replay.balances();
    let game = GameCourse { balances: &balances, winner: replay.end().outcome().winner() };
    let sans = Sans::new(&replay);
    let record = |index| Arc::new(OfferRecord::of_played(&sans, index, &game, |_| None));
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

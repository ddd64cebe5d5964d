//! What is measured of a query's offers: one list for every table that shows it.

use crate::board::SacrificeKind;
use crate::statistics::{Difference, Interval, Outcomes, SMALLEST_SAMPLE, Tally, share};
use crate::terminal::{Figure, SheetColumn};

/// What is known of offers, and how it is shown.
type Measure = (u8, &'static str, &'static str, fn(&Tally, &Outcomes) -> Figure);

/// The measures of a tally: rank in which text leaves them out, name, heading, figure. `Outcomes` are
/// those of all games for White.
const MEASURES: &[Measure] = &[
    (0, "hits", "hits", |tally, _| Figure::Count(tally.summary.hits)),
    (7, "per_10000_games", "per 10,000", |tally, all| {
        Figure::of(share(tally.summary.hits, all.games()), |share| Figure::Number(1e4 * share, 1))
    }),
    (14, "overlooked", "overlooked", |tally, _| Figure::Count(tally.summary.overlooked)),
    (0, "given_up", "given up", |tally, _| Figure::Count(tally.summary.given_up)),
    (15, "desperado", "desperado", |tally, _| of_kind(tally, SacrificeKind::Desperado)),
    (10, "sham", "sham", |tally, _| of_kind(tally, SacrificeKind::Sham)),
    (10, "real", "real", |tally, _| of_kind(tally, SacrificeKind::Real)),
    (13, "accepted", "accepted", |tally, _| Figure::Count(tally.summary.accepted)),
    (2, "accepted_share", "accepted %", |tally, _| enough_replies(tally)),
    (0, "wins", "won", |tally, _| Figure::Count(tally.outcomes().wins)),
    (0, "draws", "drawn", |tally, _| Figure::Count(tally.outcomes().draws)),
    (0, "losses", "lost", |tally, _| Figure::Count(tally.outcomes().losses)),
    (12, "undecided", "open", |tally, _| Figure::Count(tally.outcomes().open)),
    (0, "score", "score %", |tally, _| score(tally.outcomes())),
    (1, "score_lower", "from", |tally, _| end(tally.outcomes(), |ends| ends.lower)),
    (1, "score_upper", "to", |tally, _| end(tally.outcomes(), |ends| ends.upper)),
    (11, "unrated", "unrated", |tally, _| Figure::Count(tally.unrated())),
    (6, "expected", "expected %", |tally, _| Figure::of(expected(tally), Figure::Share)),
    (3, "gain", "gain", |tally, _| gain(tally, |gain| gain.value)),
    (4, "gain_lower", "from", |tally, _| gain(tally, |gain| gain.interval.lower)),
    (4, "gain_upper", "to", |tally, _| gain(tally, |gain| gain.interval.upper)),
    (5, "base", "all games %", |tally, all| {
        Figure::of(tally.outcomes().enough().and_then(|_| tally.base_score(all)), Figure::Share)
    }),
    (9, "median_moves_left", "moves left", |tally, _| {
        Figure::of(tally.outcomes().enough().and_then(|_| tally.median_moves_left()), |moves| {
            Figure::Number(moves, 1)
        })
    }),
    (8, "mate_share", "mate %", |tally, _| {
        Figure::of(tally.outcomes().enough().and_then(|_| tally.mate_share()), Figure::Share)
    }),
];

fn of_kind(tally: &Tally, kind: SacrificeKind) -> Figure {
    Figure::Count(tally.summary.of_kind(kind))
}

/// The share of offers that were accepted, if there are enough for a rate.
pub(super) fn enough_replies(tally: &Tally) -> Figure {
    let replies = tally.summary.accepted + tally.declined;
    let is_enough = replies >= SMALLEST_SAMPLE;
    Figure::of(tally.accepted_share().filter(|_| is_enough), Figure::Share)
}

/// The score, if there are games enough for a rate.
pub(super) fn score(outcomes: &Outcomes) -> Figure {
    Figure::of(outcomes.enough().and_then(Outcomes::score), Figure::Share)
}

fn end(outcomes: &Outcomes, end: fn(Interval) -> f64) -> Figure {
    Figure::of(outcomes.enough().and_then(Outcomes::interval).map(end), Figure::Share)
}

/// The score that the ratings predict, if there are games enough for a rate.
pub(super) fn expected(tally: &Tally) -> Option<f64> {
    tally.rated.outcomes().enough().and_then(|_| tally.rated.expected_score())
}

/// What was scored beyond that, if there are games enough for a rate.
pub(super) fn difference(tally: &Tally) -> Option<Difference> {
    tally.rated.outcomes().enough().and_then(|_| tally.rated.difference())
}

fn gain(tally: &Tally, part: fn(Difference) -> f64) -> Figure {
    Figure::of(difference(tally).map(part), Figure::Gain)
}

/// The columns of the measures.
pub(super) fn measure_columns() -> impl Iterator<Item = SheetColumn> {
    MEASURES.iter().map(|&(rank, name, heading, _)| SheetColumn::spared(rank, name, heading))
}

/// The measures of a tally.
pub(super) fn measures(tally: &Tally, all: &Outcomes) -> impl Iterator<Item = Figure> {
    MEASURES.iter().map(|(_, _, _, figure)| figure(tally, all))
}

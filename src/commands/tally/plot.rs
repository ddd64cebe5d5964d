//! Plots of a query: its score by rating, the worth of its factors, its frequency by year.

use crate::commands::measured;
use crate::commands::runs::Runs;
use crate::teaching::{Plot, in_one_picture};

/// An SVG with the plots of a query.
pub(super) fn picture(query: &str, runs: &Runs) -> anyhow::Result<String> {
    let bands = measured::scores_by_band(query, runs)?;
    let gains = measured::gains(&runs.factors(query)?.effects());
    let years = measured::frequency_by_year(query, runs)?;
    let plots = [
        drawn("The attacker's score in a hundred by rating", &bands, |title, bands| {
            Plot::of_scores(title, "mean rating, in bands of 200 points", bands)
        }),
        drawn("Score with a factor less the score without it", &gains, Plot::of_gains),
        drawn("Hits in 10,000 games by year", &years, |title, years| {
            Plot::of_frequencies(title, "year", years)
        }),
    ];
    Ok(in_one_picture(query, &plots))
}

fn drawn<T>(title: &str, values: &[T], draw: impl FnOnce(&str, &[T]) -> Plot) -> Plot {
    if values.is_empty() { Plot::of_nothing(title) } else { draw(title, values) }
}

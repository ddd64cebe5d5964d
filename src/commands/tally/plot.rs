//! Plots of a query: its score by rating, the worth of its factors, its frequency by year.

use crate::commands::runs::Mined;
use crate::drawing::{Plot, in_one_picture};
use crate::statistics::{Factors, Groups};
use crate::teaching::{frequency_by_year, gains, scores_by_band};
use crate::words::Words;

/// An SVG with the plots of a query.
pub(super) fn picture(query: &str, mined: &Mined) -> anyhow::Result<String> {
    let [mut bands, mut years] = ["rating", "year"].map(|name| Groups::by(&[name.to_owned()]));
    let mut factors = Factors::default();
    mined.pass(query, &mut [&mut bands, &mut years, &mut factors])?;
    let bands = scores_by_band(&bands.beside(&mined.base));
    let gains = gains(&factors.effects());
    let years = frequency_by_year(&years.beside(&mined.base), &mined.base);
    let plots = [
        drawn("The attacker's score by rating, in %", &bands, |title, bands| {
            Plot::of_scores(title, "mean rating, in bands of 200 points", bands, Words::ENGLISH)
        }),
        drawn("Score with a factor minus the score without it", &gains, Plot::of_gains),
        drawn("Hits per 10,000 games by year", &years, |title, years| {
            Plot::of_frequencies(title, "year", years, Words::ENGLISH)
        }),
    ];
    let title = match mined.short_remarks() {
        remarks if remarks.is_empty() => query.to_owned(),
        remarks => format!("{query} ({remarks})"),
    };
    Ok(in_one_picture(&title, &plots))
}

fn drawn<T>(title: &str, values: &[T], draw: impl FnOnce(&str, &[T]) -> Plot) -> Plot {
    if values.is_empty() { Plot::of_nothing(title) } else { draw(title, values) }
}

//! What plots show of a query.

use crate::drawing::Measured;
use crate::statistics::{Base, FactorEffect, Group, KeyValue, share};

/// The score by rating band, where there are enough games.
#[must_use]
pub fn scores_by_band(bands: &[Group]) -> Vec<(String, Measured)> {
    let known = bands.iter().filter_map(|group| {
        let band = number(group)?;
        Some((band.to_string(), Measured::score(group.tally.outcomes())?))
    });
    known.collect()
}

/// No frequency is given for a year with fewer games: one hit would make a tower.
const FEWEST_GAMES: u64 = 100;

/// The hits per 10,000 games of each year with enough games.
#[must_use]
pub fn frequency_by_year(years: &[Group], base: &Base) -> Vec<(String, f64)> {
    let hits = |year: u16| {
        let group = years.iter().find(|group| number(group) == Some(year.into()));
        group.map_or(0, |group| group.tally.summary.hits)
    };
    let games = base.games_by_year().into_iter().filter(|&(_, games)| games >= FEWEST_GAMES);
    let known = games.filter_map(|(year, games)| {
        let share = share(hits(year?), games)?;
        Some((year?.to_string(), 1e4 * share))
    });
    known.collect()
}

/// The factors of which enough is known.
#[must_use]
pub fn gains(effects: &[FactorEffect]) -> Vec<(String, Measured)> {
    let known = effects
        .iter()
        .filter_map(|effect| Some((effect.name.clone(), Measured::gain(effect.difference?))));
    known.collect()
}

/// The one number by which a group is made, if it is known.
fn number(group: &Group) -> Option<i64> {
    match group.values[..] {
        [KeyValue::Number(number)] => Some(number),
        _ => None,
    }
}

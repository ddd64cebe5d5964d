//! What plots show of a query.

use super::runs::{Group, Runs};
use crate::statistics::{FactorEffect, KeyValue, Outcomes, share};
use crate::teaching::Measured;
use crate::verdict::Sound;

/// The score by rating band, where there are enough games.
pub(super) fn scores_by_band(query: &str, runs: &Runs) -> anyhow::Result<Vec<(String, Measured)>> {
    let groups = runs.groups(query, &["rating".to_owned()])?;
    let known = groups.iter().filter_map(|group| {
        let band = number(group)?;
        Some((band.to_string(), Measured::score(group.tally.outcomes())?))
    });
    Ok(known.collect())
}

/// Of a year with fewer games it is not told how often a motif comes: one hit would make a tower.
const FEWEST_GAMES: u64 = 100;

/// For each year with enough games the hits in 10,000 of them.
pub(super) fn frequency_by_year(query: &str, runs: &Runs) -> anyhow::Result<Vec<(String, f64)>> {
    let groups = runs.groups(query, &["year".to_owned()])?;
    let hits = |year: i64| {
        let group = groups.iter().find(|group| number(group) == Some(year));
        group.map_or(0, |group| group.tally.summary.hits)
    };
    let years = runs.base.games_by_year().into_iter().filter(|&(_, games)| games >= FEWEST_GAMES);
    let known = years.filter_map(|(year, games)| {
        let share = share(hits(year?), games)?;
        Some((year?.to_string(), 1e4 * share))
    });
    Ok(known.collect())
}

/// How the games went by what the offers are worth; nothing if they were not verified.
pub(super) fn scores_by_worth(query: &str, runs: &Runs) -> anyhow::Result<Vec<(Sound, Outcomes)>> {
    if !runs.are_judged(query)? {
        return Ok(Vec::new());
    }
    let groups = runs.groups(query, &["sound".to_owned()])?;
    let known = groups.iter().filter_map(|group| {
        let word = group.values.first()?.to_string();
        let sound = Sound::ALL.into_iter().find(|sound| sound.word() == word)?;
        Some((sound, *group.tally.outcomes()))
    });
    Ok(known.collect())
}

/// The factors of which enough is known.
pub(super) fn gains(effects: &[FactorEffect]) -> Vec<(String, Measured)> {
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

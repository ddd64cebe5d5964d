//! How many games were mined, by year, rating band and result: what every figure is measured against.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::collection::{GameResult, Rating};

/// Games and plies.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct BaseCount {
    /// The number of games.
    pub games: u64,
    /// The number of their plies.
    pub plies: u64,
}

/// Games of one kind.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
pub struct BaseKind {
    /// The year of the date, if it is known.
    pub year: Option<u16>,
    /// The band of 200 points, by its lower end, if both ratings are known.
    pub band: Option<Rating>,
    /// The result.
    pub result: GameResult,
}

/// How many games were mined, by year, rating band and result.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct BaseRates {
    counts: BTreeMap<BaseKind, BaseCount>,
}

impl BaseRates {
    /// Counts a game of `plies` plies.
    pub fn add(&mut self, kind: BaseKind, plies: usize) {
        let count = self.counts.entry(kind).or_default();
        count.games += 1;
        count.plies += plies as u64;
    }

    /// The rates with these counts.
    #[must_use]
    pub fn of(counts: impl IntoIterator<Item = (BaseKind, BaseCount)>) -> BaseRates {
        BaseRates { counts: counts.into_iter().collect() }
    }

    /// Adds the counts of another part of the collection.
    pub fn merge(&mut self, other: &BaseRates) {
        for (&kind, more) in &other.counts {
            let count = self.counts.entry(kind).or_default();
            count.games += more.games;
            count.plies += more.plies;
        }
    }

    /// The counts by year, band (each unknown first) and result.
    pub fn iter(&self) -> impl Iterator<Item = (BaseKind, BaseCount)> {
        self.counts.iter().map(|(&kind, &count)| (kind, count))
    }
}

//! All games that were mined, to compare with.

use std::collections::BTreeMap;

use super::outcome::Outcomes;
use crate::collection::{GameResult, Rating};
use crate::hits::Runs;
use crate::tables::TableTrouble;

/// How all games that were mined ended for White, by year and rating band.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Base {
    white: BTreeMap<(Option<u16>, Option<Rating>), Outcomes>,
}

impl Base {
    /// All games of runs.
    ///
    /// # Errors
    ///
    /// If a table can't be read.
    pub fn of(runs: &Runs) -> Result<Base, TableTrouble> {
        let mut base = Base::default();
        runs.each_kind(|kind, count| {
            let white = base.white.entry((kind.year, kind.band)).or_default();
            let ended = match kind.result {
                GameResult::WhiteWins => &mut white.wins,
                GameResult::Draw => &mut white.draws,
                GameResult::BlackWins => &mut white.losses,
                GameResult::Open => &mut white.open,
            };
            *ended += count.games;
        })?;
        Ok(base)
    }

    /// How the games ended for White that `is_meant` by year and rating band.
    pub fn white(&self, is_meant: impl Fn(Option<u16>, Option<Rating>) -> bool) -> Outcomes {
        let meant = self.white.iter().filter(|((year, band), _)| is_meant(*year, *band));
        meant.fold(Outcomes::default(), |all, (_, more)| all.and(more))
    }

    /// How all games ended for White.
    #[must_use]
    pub fn all(&self) -> Outcomes {
        self.white(|_, _| true)
    }

    /// The number of games by year, unknown years first.
    #[must_use]
    pub fn games_by_year(&self) -> BTreeMap<Option<u16>, u64> {
        let mut games = BTreeMap::new();
        for ((year, _), outcomes) in &self.white {
            *games.entry(*year).or_default() += outcomes.games();
        }
        games
    }
}

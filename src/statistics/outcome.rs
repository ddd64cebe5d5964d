//! Wins, draws and losses, and the summary of a query in a run.

use serde::{Deserialize, Serialize};

use crate::board::SacrificeKind;
use crate::mining::OfferRecord;

use super::interval::{Interval, with_draws_held};

/// For fewer games than this a rate says nothing, and none is given.
pub const SMALLEST_SAMPLE: u64 = 10;

/// How games ended for the attacker.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Outcomes {
    /// Games won.
    pub wins: u64,
    /// Games drawn.
    pub draws: u64,
    /// Games lost.
    pub losses: u64,
    /// Games without a result.
    pub open: u64,
}

impl Outcomes {
    /// Adds a game by its half points; `None` if it has no result.
    pub fn add(&mut self, half_points: Option<u8>) {
        match half_points {
            None => self.open += 1,
            Some(0) => self.losses += 1,
            Some(1) => self.draws += 1,
            Some(_) => self.wins += 1,
        }
    }

    /// The games with a result.
    #[must_use]
    pub fn decided(&self) -> u64 {
        self.wins + self.draws + self.losses
    }

    /// All games, those without a result too.
    #[must_use]
    pub fn games(&self) -> u64 {
        self.decided() + self.open
    }

    /// These, if they are enough for a rate: [`SMALLEST_SAMPLE`] games with a result.
    #[must_use]
    pub fn enough(&self) -> Option<&Outcomes> {
        Some(self).filter(|outcomes| outcomes.decided() >= SMALLEST_SAMPLE)
    }

    /// These games and others together.
    #[must_use]
    pub fn and(&self, other: &Outcomes) -> Outcomes {
        Outcomes {
            wins: self.wins + other.wins,
            draws: self.draws + other.draws,
            losses: self.losses + other.losses,
            open: self.open + other.open,
        }
    }

    /// The mean score, 0 to 1; `None` without games.
    #[must_use]
    pub fn score(&self) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "counts of games are far below 2^52")]
        let score = (2 * self.wins + self.draws) as f64 / (2 * self.decided()) as f64;
        (self.decided() > 0).then_some(score)
    }

    /// The interval of the score at 95 % confidence; `None` without games.
    #[must_use]
    pub fn interval(&self) -> Option<Interval> {
        with_draws_held(self.wins, self.draws, self.decided())
    }
}

/// The summary of a query.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
pub struct Summary {
    /// The offers that were made.
    pub hits: u64,
    /// The offers that could have been made and were not, if they were looked for.
    pub overlooked: u64,
    /// The hits that gave something up.
    pub given_up: u64,
    /// Those of them that were accepted.
    pub accepted: u64,
    /// How many of them are of each kind.
    kinds: [u64; SacrificeKind::ALL.len()],
    /// How the games of those that gave something up ended for the attacker.
    pub outcomes: Outcomes,
}

impl Summary {
    /// Adds an offer that was made.
    pub fn add(&mut self, offer: &OfferRecord, half_points: Option<u8>) {
        self.hits += 1;
        if offer.cost > 0 {
            self.given_up += 1;
            self.accepted += u64::from(offer.is_accepted() == Some(true));
            self.outcomes.add(half_points);
            if let Some(kind) = offer.kind {
                self.kinds[kind as usize] += 1;
            }
        }
    }

    /// How many of the offers that gave something up are of a kind.
    #[must_use]
    pub fn of_kind(&self, kind: SacrificeKind) -> u64 {
        self.kinds[kind as usize]
    }
}

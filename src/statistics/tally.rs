//! What the hits of a query came to, counted hit by hit.

use super::counts::{Spread, real};
use super::outcome::{Outcomes, Summary};
use super::ratings::AgainstRatings;
use crate::hits::JudgedHit;

/// The tally of some hits. Everything but the number of hits is about the offers that were made and give
/// something up, called offers for short.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Tally {
    /// Hits, offers, acceptances, results, kinds.
    pub summary: Summary,
    /// The offers that were declined. Where the game ends with the offer there is no reply.
    pub declined: u64,
    /// The games that have a result and two ratings.
    pub rated: AgainstRatings,
    /// The games that the attacker ended with mate.
    pub mates: u64,
    /// The games with a result by the attacker's colour, White's first.
    decided_by_color: [u64; 2],
    /// For each offer the attacker's moves from it to the end.
    moves_left: Spread,
}

impl Tally {
    /// Adds a hit.
    pub fn add(&mut self, hit: &JudgedHit) {
        if !hit.is_played() {
            self.summary.overlooked += 1;
            return;
        }
        let half_points = hit.half_points();
        self.summary.add(&hit.offer, half_points);
        if !hit.gives_something_up() {
            return;
        }
        self.declined += u64::from(hit.is_accepted() == Some(false));
        self.moves_left.add(hit.moves_left());
        let Some(half_points) = half_points else { return };
        self.mates += u64::from(hit.gives_mate());
        self.decided_by_color[hit.view.attacker.fold_wb(0, 1)] += 1;
        if let Some(expected) = hit.expected() {
            self.rated.add(half_points, expected);
        }
    }

    /// How the games of the offers ended.
    #[must_use]
    pub fn outcomes(&self) -> &Outcomes {
        &self.summary.outcomes
    }

    /// The share of offers that were accepted, among those that got a reply.
    #[must_use]
    pub fn accepted_share(&self) -> Option<f64> {
        share(self.summary.accepted, self.summary.accepted + self.declined)
    }

    /// The games with a result of which a rating is unknown.
    #[must_use]
    pub fn unrated(&self) -> u64 {
        self.outcomes().decided() - self.rated.outcomes().decided()
    }

    /// The share of games with a result that the attacker ended with mate.
    #[must_use]
    pub fn mate_share(&self) -> Option<f64> {
        share(self.mates, self.outcomes().decided())
    }

    /// The median of the attacker's moves from the offer to the end of the game, the offer included.
    #[must_use]
    pub fn median_moves_left(&self) -> Option<f64> {
        self.moves_left.median()
    }

    /// The score that the attackers' colours have in games that ended so for White.
    #[must_use]
    pub fn base_score(&self, white: &Outcomes) -> Option<f64> {
        let white = white.score()?;
        let [by_white, by_black] = self.decided_by_color.map(real);
        let games = by_white + by_black;
        (games > 0.0).then(|| (by_white * white + by_black * (1.0 - white)) / games)
    }
}

/// A part of a whole; nothing if the whole is nothing.
#[must_use]
pub fn share(part: u64, whole: u64) -> Option<f64> {
    (whole > 0).then(|| real(part) / real(whole))
}

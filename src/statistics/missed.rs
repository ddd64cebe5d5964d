//! Chances that work and that nobody took: each position and offer once, with the queries that it fits.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::numbers::grouped;
use crate::collection::GameNumber;
use crate::engine::Points;
use crate::hits::{CellTrouble, Collector, Evidence, JudgedHit, Layout, NoColumn, Wanted};

/// How many chances are kept, at about half a kilobyte each.
pub const MOST_MISSED: usize = 50_000;

/// A position and an offer that nobody made.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct MissedChance {
    /// The queries that it fits, in the order in which they were gone through.
    pub queries: Vec<Arc<str>>,
    /// The games that had it.
    pub games: BTreeSet<(String, GameNumber)>,
    /// The players of the first of these games.
    pub players: (String, String),
    /// The move that was played in that one instead, in SAN.
    pub instead: String,
    /// What that throws away, if it is known.
    pub loss: Option<Points>,
    /// How it is known that the offer works.
    pub evidence: Option<Evidence>,
}

/// The chances that work and that nobody took.
#[derive(Debug, Default)]
pub struct MissedChances {
    /// By the position before the offer, and the offer in SAN.
    chances: BTreeMap<(String, String), MissedChance>,
    /// The hits that nobody made and nobody judged.
    pub unjudged: u64,
}

impl MissedChances {
    /// The chances with the positions before them as FENs and the offers in SAN, by their first games.
    #[must_use]
    pub fn in_order(&self) -> Vec<(&str, &str, &MissedChance)> {
        let all = self.chances.iter();
        let mut all: Vec<_> = all.map(|((fen, san), it)| (&**fen, &**san, it)).collect();
        all.sort_by_key(|(.., chance)| chance.games.first());
        all
    }
}

impl Collector for MissedChances {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        if layout.find("sound").is_none() {
            return Err(NoColumn { name: "sound".to_owned(), known: layout.names() });
        }
        Ok(Wanted::figures().with_offer().with_line().with_evidence().with_verdict())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        self.unjudged += u64::from(!hit.is_played() && hit.verdict.is_none());
        let Some(missed) = hit.offer.overlooked().filter(|_| hit.is_missed_chance()) else {
            return Ok(());
        };
        let key = (hit.offer.fen.clone(), hit.offer.san.clone());
        let chance = self.chances.entry(key).or_default();
        if !chance.queries.contains(&hit.query) {
            chance.queries.push(Arc::clone(&hit.query));
        }
        let game = (hit.source.clone(), hit.game.number);
        if chance.games.first().is_none_or(|first| game < *first) {
            chance.players = (hit.game.white.clone(), hit.game.black.clone());
            chance.instead.clone_from(&missed.instead);
            chance.loss = hit.verdict.as_ref().and_then(|verdict| hit.lost_instead(verdict));
            chance.evidence = hit.verdict.as_ref().and_then(|verdict| verdict.worth.evidence);
        }
        chance.games.insert(game);
        Ok(())
    }

    fn too_few_groups(&self) -> Option<String> {
        (self.chances.len() > MOST_MISSED).then(|| grouped(MOST_MISSED as u64))
    }
}

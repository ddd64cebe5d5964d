//! Offers that are named by their ids or those of their games.

use std::collections::BTreeSet;

use super::specimen::Specimen;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};
use crate::mining::GameId;

/// The offers that were made of those that are named.
#[derive(Debug)]
pub struct Picked {
    ids: BTreeSet<String>,
    found: Vec<Specimen>,
}

impl Picked {
    /// None found yet.
    #[must_use]
    pub fn new(ids: impl IntoIterator<Item = String>) -> Picked {
        Picked { ids: ids.into_iter().collect(), found: Vec::new() }
    }

    /// Those of this id, in the order of the tables.
    pub fn called<'p>(&'p self, id: &'p str) -> impl Iterator<Item = &'p Specimen> {
        self.found.iter().filter(move |one| is_called(&one.hit, id))
    }

    /// All that were found.
    #[must_use]
    pub fn into_found(self) -> Vec<Specimen> {
        self.found
    }
}

impl Collector for Picked {
    fn begin(&mut self, _: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::everything())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if hit.is_played() && self.ids.iter().any(|id| is_called(hit, id)) {
            self.found.push(Specimen::of_any(hit)?);
        }
        Ok(())
    }
}

/// Whether a hit or its game is called so.
#[must_use]
pub fn is_called(hit: &JudgedHit, id: &str) -> bool {
    hit.id == id || id.parse().is_ok_and(|id: GameId| hit.game.id == id)
}

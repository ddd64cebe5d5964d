//! How moves went, by the kind of sacrifice that they were.

use std::collections::BTreeMap;

use super::outcome::Outcomes;
use crate::board::SacrificeKind;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// How the games of the offers that were made ended, by the kind of these as the game went.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ByKind(BTreeMap<SacrificeKind, Outcomes>);

impl ByKind {
    /// The outcomes of a kind.
    #[must_use]
    pub fn of(&self, kind: SacrificeKind) -> Outcomes {
        self.0.get(&kind).copied().unwrap_or_default()
    }
}

impl FromIterator<(SacrificeKind, Outcomes)> for ByKind {
    fn from_iter<I: IntoIterator<Item = (SacrificeKind, Outcomes)>>(kinds: I) -> ByKind {
        ByKind(kinds.into_iter().collect())
    }
}

impl Collector for ByKind {
    fn begin(&mut self, _layout: &Layout) -> Result<Wanted, NoColumn> {
        Ok(Wanted::figures())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if let Some(kind) = hit.offer.kind.filter(|_| hit.is_played()) {
            self.0.entry(kind).or_default().add(hit.half_points());
        }
        Ok(())
    }
}

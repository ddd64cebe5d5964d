//! What each rule of thumb is worth, group by group.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use super::factors::{FactorEffect, Factors};
use super::grouping::{GroupKeys, KeyValue};
use super::numbers::grouped;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// For how many groups the factors are counted at a time. Those of one take up to 100 kilobytes.
pub const MOST_FACTOR_GROUPS: usize = 1_000;

/// Counts the factors of one query for each group apart. Without columns there is one group.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct FactorGroups {
    keys: GroupKeys,
    groups: BTreeMap<Vec<KeyValue>, Factors>,
    /// A group without hits.
    blank: Factors,
    /// Whether there were more groups than are counted.
    is_full: bool,
}

impl FactorGroups {
    /// Groups by the values of these columns, which are found as by [`Groups`](super::Groups).
    #[must_use]
    pub fn by(names: &[String]) -> FactorGroups {
        FactorGroups { keys: GroupKeys::by(names), ..FactorGroups::default() }
    }

    /// What each factor is worth in each group that has an offer that gives something up, sorted by what the
    /// groups have in common. See [`Factors::effects`].
    #[must_use]
    pub fn effects(&self) -> Vec<(Vec<KeyValue>, Vec<FactorEffect>)> {
        let groups = self.groups.iter().map(|(values, group)| (values.clone(), group.effects()));
        let mut told: Vec<_> = groups.filter(|(_, effects)| !effects.is_empty()).collect();
        if told.is_empty() && self.keys.is_empty() {
            told.push((Vec::new(), Vec::new()));
        }
        told
    }
}

impl Collector for FactorGroups {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        let by_factors = self.blank.begin(layout)?;
        for group in self.groups.values_mut() {
            group.begin(layout)?;
        }
        Ok(by_factors.and(&self.keys.begin(layout)?))
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if !hit.gives_something_up() {
            return Ok(());
        }
        let has_room = self.groups.len() < MOST_FACTOR_GROUPS;
        match self.groups.entry(self.keys.of(hit)) {
            Entry::Occupied(known) => known.into_mut().take(hit),
            Entry::Vacant(new) if has_room => new.insert(self.blank.clone()).take(hit),
            Entry::Vacant(_) => {
                self.is_full = true;
                Ok(())
            }
        }
    }

    fn too_few_groups(&self) -> Option<String> {
        self.is_full.then(|| grouped(MOST_FACTOR_GROUPS as u64))
    }
}

//! How offers went, by what they are worth.

use std::collections::BTreeMap;

use super::outcome::Outcomes;
use crate::hits::{
    CellTrouble, Collector, Evidence, JudgedHit, Layout, NoColumn, Sound, Verdicts, Wanted,
};

/// How the games of the offers that give something up ended, by what these are worth.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ByWorth {
    outcomes: BTreeMap<Sound, Outcomes>,
    /// How many of these offers are decided by each kind of evidence.
    evidence: BTreeMap<Evidence, u64>,
    /// Whether there are hits that were not verified.
    is_partial: bool,
}

impl ByWorth {
    /// The outcomes by worth; nothing unless all hits were verified.
    #[must_use]
    pub fn known(&self) -> Vec<(Sound, Outcomes)> {
        let known = self.outcomes.iter().filter(|_| !self.is_partial);
        known.map(|(&sound, &outcomes)| (sound, outcomes)).collect()
    }

    /// On what evidence that rests, the strongest first; nothing unless all hits were verified.
    #[must_use]
    pub fn evidence(&self) -> Vec<(Evidence, u64)> {
        let known = self.evidence.iter().filter(|_| !self.is_partial);
        known.map(|(&evidence, &offers)| (evidence, offers)).collect()
    }
}

impl Collector for ByWorth {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        self.is_partial |= layout.verdicts == Verdicts::Missing;
        Ok(Wanted::figures().with_verdict())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        let Some(verdict) = &hit.verdict else { return Ok(()) };
        let outcomes = self.outcomes.entry(verdict.sound()).or_default();
        if hit.gives_something_up() {
            outcomes.add(hit.half_points());
            if let Some(evidence) = verdict.worth.evidence {
                *self.evidence.entry(evidence).or_default() += 1;
            }
        }
        Ok(())
    }
}

//! What each rule of thumb is worth: the attacker's score with a factor and without it.

use std::collections::BTreeMap;

use super::multiple::adjusted;
use super::odds::{OddsRatio, Trials, TwoByTwo};
use super::outcome::{Outcomes, SMALLEST_SAMPLE};
use super::strata::pooled_odds_ratio;
use super::{Difference, difference_of_scores};
use crate::collection::Rating;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// Offers that give something up, with and without one factor.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
struct FactorCounts {
    with: Outcomes,
    without: Outcomes,
    /// Wins and all other results, by rating band.
    by_band: BTreeMap<Option<Rating>, TwoByTwo>,
}

impl FactorCounts {
    fn games(&self) -> u64 {
        self.with.games() + self.without.games()
    }

    fn add(&mut self, holds: bool, hit: &JudgedHit) {
        let outcomes = if holds { &mut self.with } else { &mut self.without };
        outcomes.add(hit.half_points());
        let Some(half_points) = hit.half_points() else { return };
        let table = self.by_band.entry(hit.band()).or_default();
        let Trials { successes, failures } =
            if holds { &mut table.with } else { &mut table.without };
        *(if half_points == 2 { successes } else { failures }) += 1;
    }
}

/// What one factor is worth.
#[derive(Clone, PartialEq, Debug)]
pub struct FactorEffect {
    /// Its name.
    pub name: String,
    /// The games with it.
    pub with: Outcomes,
    /// The games without it.
    pub without: Outcomes,
    /// The score with it less the score without it; nothing if either has fewer than
    /// [`SMALLEST_SAMPLE`] games.
    pub difference: Option<Difference>,
    /// The p-value of the difference, adjusted for the number of factors (Benjamini and Hochberg).
    pub adjusted_p: Option<f64>,
    /// How many times greater the odds of a win are with it, within rating bands (Mantel and
    /// Haenszel).
    pub odds_ratio: Option<OddsRatio>,
}

/// Counts the factors of one query.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Factors {
    counts: BTreeMap<String, FactorCounts>,
    /// The factors of the run at hand, in order.
    names: Vec<String>,
}

impl Collector for Factors {
    fn begin(&mut self, layout: &Layout) -> Result<Wanted, NoColumn> {
        self.names.clone_from(&layout.factors);
        for name in &self.names {
            self.counts.entry(name.clone()).or_default();
        }
        Ok(Wanted::figures().with_factors())
    }

    fn take(&mut self, hit: &JudgedHit) -> Result<(), CellTrouble> {
        if hit.gives_something_up() {
            for (name, &holds) in self.names.iter().zip(&hit.factors) {
                if let Some(counts) = self.counts.get_mut(name) {
                    counts.add(holds, hit);
                }
            }
        }
        Ok(())
    }
}

impl Factors {
    /// What each factor is worth, the one with the greatest difference first, those of which too little
    /// is known last. Without any offer there is nothing to tell: some formats of tables then don't
    /// even name the factors.
    #[must_use]
    pub fn effects(&self) -> Vec<FactorEffect> {
        let told = self.counts.iter().filter(|(_, counts)| counts.games() > 0);
        let mut effects: Vec<FactorEffect> =
            told.map(|(name, counts)| effect(name, counts)).collect();
        let tested: Vec<usize> =
            (0..effects.len()).filter(|&index| effects[index].difference.is_some()).collect();
        let p_values: Vec<f64> = tested
            .iter()
            .filter_map(|&index| effects[index].difference.map(|difference| difference.p))
            .collect();
        for (&index, p) in tested.iter().zip(adjusted(&p_values)) {
            effects[index].adjusted_p = Some(p);
        }
        let size = |effect: &FactorEffect| {
            effect.difference.map_or(-1.0, |difference| difference.value.abs())
        };
        effects.sort_by(|one, other| size(other).total_cmp(&size(one)));
        effects
    }
}

fn effect(name: &str, counts: &FactorCounts) -> FactorEffect {
    let FactorCounts { with, without, by_band } = counts;
    let is_enough = with.decided().min(without.decided()) >= SMALLEST_SAMPLE;
    let strata: Vec<TwoByTwo> = by_band.values().copied().collect();
    FactorEffect {
        name: name.to_owned(),
        with: *with,
        without: *without,
        difference: difference_of_scores(with, without).filter(|_| is_enough),
        adjusted_p: None,
        odds_ratio: pooled_odds_ratio(&strata).filter(|_| is_enough),
    }
}

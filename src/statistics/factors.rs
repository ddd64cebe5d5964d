//! What each rule of thumb is worth: the attacker's score with a factor and without it.

use std::collections::BTreeMap;

use super::balance::BalanceBand;
use super::multiple::adjusted;
use super::odds::{OddsRatio, Trials, TwoByTwo};
use super::outcome::Outcomes;
use super::strata::pooled_odds_ratio;
use super::within::{WithAndWithout, WithinStrata, difference_within};
use super::{Difference, difference_of_scores};
use crate::collection::Rating;
use crate::hits::{CellTrouble, Collector, JudgedHit, Layout, NoColumn, Wanted};

/// A difference that chance alone would make less often than this is called one.
const SURE: f64 = 0.05;

/// The balance before is said to explain a gain of which this share or less is left within its bands. Our
/// choice.
const LITTLE: f64 = 0.5;

/// Offers that give something up, with and without one factor, by rating band and balance before.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
struct FactorCounts(BTreeMap<(Option<Rating>, BalanceBand), WithAndWithout>);

impl FactorCounts {
    fn add(&mut self, holds: bool, hit: &JudgedHit) {
        let games = self.0.entry((hit.band(), balance_of(hit))).or_default();
        let outcomes = if holds { &mut games.with } else { &mut games.without };
        outcomes.add(hit.half_points());
    }

    fn all(&self) -> WithAndWithout {
        self.0.values().fold(WithAndWithout::default(), |all, games| all.and(games))
    }

    fn by_balance(&self) -> Vec<WithAndWithout> {
        let mut by_balance: BTreeMap<BalanceBand, WithAndWithout> = BTreeMap::new();
        for ((_, balance), games) in &self.0 {
            let known = by_balance.entry(*balance).or_default();
            *known = known.and(games);
        }
        by_balance.into_values().collect()
    }
}

fn balance_of(hit: &JudgedHit) -> BalanceBand {
    BalanceBand::of(hit.offer.balance_before)
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
    /// [`SMALLEST_SAMPLE`](super::SMALLEST_SAMPLE) games.
    pub difference: Option<Difference>,
    /// The p-value of the difference, adjusted for the number of factors (Benjamini and Hochberg).
    pub adjusted_p: Option<f64>,
    /// The same difference among offers of one band of the balance before.
    pub within_balance: Option<WithinStrata>,
    /// Its p-value, adjusted for the number of factors.
    pub within_balance_p: Option<f64>,
    /// How many times greater the odds of a win are with it, within bands of rating and of the balance
    /// before (Mantel and Haenszel).
    pub odds_ratio: Option<OddsRatio>,
}

/// What is to be believed of a factor.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Standing {
    /// It makes no difference that chance would not make.
    MayBeChance,
    /// It makes a difference, also at like balance before.
    Holds,
    /// It makes a difference, of which half or more is that of the balance before; what is left may be
    /// chance.
    Explained,
    /// It makes a difference, but at like balance before there are too few games to be sure.
    Unsettled,
    /// It makes a difference at like balance before only.
    Hidden,
}

impl FactorEffect {
    fn new(name: &str, counts: &FactorCounts) -> FactorEffect {
        let all = counts.all();
        let is_enough = all.is_enough();
        let strata: Vec<TwoByTwo> = counts.0.values().map(wins_and_others).collect();
        FactorEffect {
            name: name.to_owned(),
            with: all.with,
            without: all.without,
            difference: difference_of_scores(&all.with, &all.without).filter(|_| is_enough),
            adjusted_p: None,
            within_balance: difference_within(&counts.by_balance()),
            within_balance_p: None,
            odds_ratio: pooled_odds_ratio(&strata).filter(|_| is_enough),
        }
    }

    /// Whether chance alone would make the difference less than one time in twenty, the number of factors
    /// taken into account.
    #[must_use]
    pub fn is_sure(&self) -> bool {
        self.adjusted_p.is_some_and(|p| p < SURE)
    }

    /// Whether it held at every offer (`true`) or at none (`false`); nothing if that varies.
    #[must_use]
    pub fn always(&self) -> Option<bool> {
        match (self.with.games(), self.without.games()) {
            (_, 0) => Some(true),
            (0, _) => Some(false),
            _ => None,
        }
    }

    /// What is to be believed of it.
    #[must_use]
    pub fn standing(&self) -> Standing {
        match (self.is_sure(), self.within_balance_p.is_some_and(|p| p < SURE)) {
            (false, false) => Standing::MayBeChance,
            (false, true) => Standing::Hidden,
            (true, true) => Standing::Holds,
            (true, false) if self.little_is_left() => Standing::Explained,
            (true, false) => Standing::Unsettled,
        }
    }

    /// Whether at like balance before half of the gain or less is left, or the opposite.
    fn little_is_left(&self) -> bool {
        let left = self.within_balance.zip(self.difference);
        left.is_some_and(|(within, all)| within.value / all.value <= LITTLE)
    }
}

fn wins_and_others(games: &WithAndWithout) -> TwoByTwo {
    let trials = |outcomes: &Outcomes| Trials {
        successes: outcomes.wins,
        failures: outcomes.draws + outcomes.losses,
    };
    TwoByTwo { with: trials(&games.with), without: trials(&games.without) }
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
        Ok(Wanted::figures().with_factors().with_balance())
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
    /// even name the factors. The p-values are adjusted for the factors of this query; see
    /// [`adjust_together`].
    #[must_use]
    pub fn effects(&self) -> Vec<FactorEffect> {
        let told = self.counts.iter().filter(|(_, counts)| !counts.0.is_empty());
        let mut effects: Vec<FactorEffect> =
            told.map(|(name, counts)| FactorEffect::new(name, counts)).collect();
        let size = |effect: &FactorEffect| {
            effect.difference.map_or(-1.0, |difference| difference.value.abs())
        };
        effects.sort_by(|one, other| size(other).total_cmp(&size(one)));
        adjust_together(&mut effects);
        effects
    }
}

/// Adjusts the p-values of these factors for the number of them all: who looks at the factors of many
/// queries finds some by chance, as who looks at many factors of one.
pub fn adjust_together<'e>(effects: impl IntoIterator<Item = &'e mut FactorEffect>) {
    let mut effects: Vec<&mut FactorEffect> = effects.into_iter().collect();
    let whole = effects.iter().map(|effect| effect.difference.map(|it| it.p));
    let whole = adjusted_where_known(&whole.collect::<Vec<_>>());
    let within = effects.iter().map(|effect| effect.within_balance.map(|it| it.p));
    let within = adjusted_where_known(&within.collect::<Vec<_>>());
    for (effect, (whole, within)) in effects.iter_mut().zip(whole.into_iter().zip(within)) {
        effect.adjusted_p = whole;
        effect.within_balance_p = within;
    }
}

/// The p-values that there are, adjusted, in their places.
fn adjusted_where_known(p_values: &[Option<f64>]) -> Vec<Option<f64>> {
    let known: Vec<f64> = p_values.iter().copied().flatten().collect();
    let mut adjusted = adjusted(&known).into_iter();
    p_values.iter().map(|p| p.and_then(|_| adjusted.next())).collect()
}

//! A table of two rows and two columns, and its odds ratio.

use super::counts::real;
use super::interval::{Interval, z};
use super::outcome::Outcomes;

/// Successes and failures of one kind of game.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Trials {
    /// How often it succeeded.
    pub successes: u64,
    /// How often it failed.
    pub failures: u64,
}

impl Trials {
    /// The successes as wins and the failures as losses.
    pub(super) fn as_outcomes(self) -> Outcomes {
        Outcomes { wins: self.successes, losses: self.failures, ..Outcomes::default() }
    }
}

/// Successes and failures with a factor and without it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct TwoByTwo {
    /// The games with the factor.
    pub with: Trials,
    /// The games without it.
    pub without: Trials,
}

impl TwoByTwo {
    /// The four counts row by row: with the factor successes and failures, then without.
    pub(super) fn cells(&self) -> [f64; 4] {
        let Trials { successes: a, failures: b } = self.with;
        let Trials { successes: c, failures: d } = self.without;
        [a, b, c, d].map(real)
    }

    /// Whether a row or a column has no games, so that the table can't compare.
    pub(super) fn has_empty_margin(&self) -> bool {
        let [a, b, c, d] = self.cells();
        [a + b, c + d, a + c, b + d].contains(&0.0)
    }
}

/// An odds ratio: how many times greater the odds of success are with the factor than without it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct OddsRatio {
    /// Its natural logarithm.
    pub log: f64,
    /// The standard error of the logarithm.
    pub standard_error: f64,
}

impl OddsRatio {
    /// The ratio itself; 1 if the factor makes no difference.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.log.exp()
    }

    /// The interval of the ratio at 95 % confidence, made on the logarithm.
    #[must_use]
    pub fn interval(&self) -> Interval {
        let ends = Interval::around(self.log, z() * self.standard_error);
        Interval { lower: ends.lower.exp(), upper: ends.upper.exp() }
    }
}

/// The odds ratio `ad / bc` of a table with the cells `a, b, c, d`, row by row, with Woolf's standard
/// error of its logarithm, `sqrt(1/a + 1/b + 1/c + 1/d)`.
///
/// With an empty cell the ratio would be 0 or without bound, so then half a game is added to each of
/// the four cells (Haldane, Anscombe). With an empty row or column there is nothing to compare:
/// `None`.
///
/// Sources: B. Woolf, "On estimating the relation between blood group and disease", Annals of Human
/// Genetics 19 (1955), 251-253; J. B. S. Haldane, "The estimation and significance of the logarithm of
/// a ratio of frequencies", Annals of Human Genetics 20 (1956), 309-311; F. J. Anscombe, "On
/// estimating binomial response relations", Biometrika 43 (1956), 461-464.
#[must_use]
pub fn odds_ratio(table: &TwoByTwo) -> Option<OddsRatio> {
    if table.has_empty_margin() {
        return None;
    }
    let cells = table.cells();
    let added = if cells.contains(&0.0) { 0.5 } else { 0.0 };
    let [a, b, c, d] = cells.map(|cell| cell + added);
    let variance = 1.0 / a + 1.0 / b + 1.0 / c + 1.0 / d;
    Some(OddsRatio { log: (a / b * (d / c)).ln(), standard_error: variance.sqrt() })
}

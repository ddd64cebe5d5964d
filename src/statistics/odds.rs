//! A table of two rows and two columns, and its odds ratio.

use super::counts::real;
use super::interval::{Interval, z};

/// Successes and failures of one kind of game.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Trials {
    /// How often it succeeded.
    pub successes: u64,
    /// How often it failed.
    pub failures: u64,
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

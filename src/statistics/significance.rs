//! p-values: how often chance alone would do as much.

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

/// A chi-square test.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct ChiSquare {
    /// The sum of the squares.
    pub statistic: f64,
    /// The degrees of freedom.
    pub freedom: u32,
    /// The share of samples that chance alone takes so far or farther.
    pub p: f64,
}

impl ChiSquare {
    /// The test for a statistic of `freedom` degrees of freedom; `None` without freedom.
    pub(super) fn new(statistic: f64, freedom: u32) -> Option<ChiSquare> {
        let distribution = ChiSquared::new(f64::from(freedom)).ok()?;
        Some(ChiSquare { statistic, freedom, p: distribution.sf(statistic) })
    }
}

/// The two-sided p-value of a `value` whose mean would be 0 and whose standard error is known.
pub(super) fn two_sided(value: f64, standard_error: f64) -> f64 {
    two_sided_of(&Normal::standard(), value, standard_error)
}

/// The same for a value that follows another distribution, symmetric about 0, once divided by its
/// standard error. Without a difference it is 1, even where there is no error.
pub(super) fn two_sided_of(
    distribution: &impl ContinuousCDF<f64, f64>,
    value: f64,
    standard_error: f64,
) -> f64 {
    if value == 0.0 { 1.0 } else { 2.0 * distribution.sf(value.abs() / standard_error) }
}
